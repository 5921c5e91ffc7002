"""Small shops whose answers were worked out by hand: tests/data/shops/NAME, where worked.txt says how.

CSV files, case.txt (now=, check=, exit=), perhaps settings.txt (words after `set`), and expected.json: a part of what
`check --json` answers. Objects compare key by key; findings as a whole, by need, station and cut; of cures each one named must be there. Where several
answers are equally good: `findings_of` counts the findings of a need, `hall` tells what the left-out ones name, `station_1` is one
station alone, `cuts_dies` the dies alone, `used` the tools of a kind that the stations use, whichever. A finding's `text_has` lists
what its text must say.
"""

import json
import os
import pathlib
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
SHOPS = sorted(path for path in (TOP / "tests" / "data" / "shops").iterdir() if path.is_dir())
KINDS = ["operator", "place", "press", "job", "cylinder", "gear", "anilox", "blade", "die", "magnetic_cylinder",
         "station", "cut", "reading"]


def call(folder, now, words, lines=""):
    environment = {key: value for key, value in os.environ.items() if key != "TOOTHRACK_DB"}
    environment.update(TZ="UTC", TOOTHRACK_NOW=now, HOME=str(folder))
    return subprocess.run([PROGRAM, "--db", str(folder / "shop.db"), *words], input=lines, env=environment,
                          capture_output=True, encoding="utf-8", timeout=60, check=False)


def differences(expected, answered, where):
    """What differs of what is expected: objects key by key, all else as it is."""
    if isinstance(expected, dict) and isinstance(answered, dict):
        return [text for key in expected
                for text in differences(expected[key], answered.get(key, "nothing"), f"{where}.{key}")]
    if isinstance(expected, list) and isinstance(answered, list) and len(expected) == len(answered):
        return [text for at, one in enumerate(expected) for text in differences(one, answered[at], f"{where}[{at}]")]
    return [] if expected == answered else [f"{where}: expected {expected!r}, answered {answered!r}"]


def findings_differ(expected, answered):
    """Findings as a whole, in any order; of a text only what it must say."""
    expected = sorted(expected, key=key_of)
    answered = sorted(answered, key=key_of)
    plain = [{key: value for key, value in one.items() if key != "text_has"} for one in expected]
    found = differences(plain, answered, "findings")
    if not found:
        found += [f"finding does not say {word!r}: {is_['text']!r}" for should, is_ in zip(expected, answered)
                  for word in should.get("text_has", []) if word not in is_["text"]]
    return found


def key_of(finding):
    return (finding["need"], finding["station"] or 0, finding["cut"] or 0)


def compare(expected, answer):
    expected = dict(expected)
    found = []
    if "findings" in expected:
        found += findings_differ(expected.pop("findings"), answer["findings"])
    for kind, tags in expected.pop("used", {}).items():
        found += differences(tags, sorted(station[kind] for station in answer["stations"] if station[kind]), kind)
    for cure in expected.pop("cures", []):
        if all(differences(cure, one, "cure") for one in answer["cures"]):
            found.append(f"cure not there: {cure}")
    if "findings_of" in expected:
        needs = sorted(finding["need"] for finding in answer["findings"])
        found += differences(sorted(need for need, count in expected.pop("findings_of") for _ in range(count)), needs,
                             "needs found")
    if "hall" in expected:
        hall = expected.pop("hall")
        for finding in answer["findings"]:
            if finding["need"] == hall["need"]:
                found += differences(hall, finding, "finding")
    if "station_1" in expected:
        found += differences(expected.pop("station_1"), answer["stations"][0], "station 1")
    if "cuts_dies" in expected:
        found += differences(expected.pop("cuts_dies"), [cut["die"] for cut in answer["cuts"]], "dies")
    return found + differences(expected, answer, "answer")


@pytest.mark.parametrize("shop", SHOPS, ids=lambda path: path.name)
def test_shop(shop, tmp_path):
    assert (shop / "worked.txt").read_text(encoding="utf-8").strip()
    case = dict(line.split("=", 1) for line in (shop / "case.txt").read_text(encoding="utf-8").splitlines())
    lines = [f"import {kind} '{shop / kind}.csv'" for kind in KINDS if (shop / f"{kind}.csv").exists()]
    if (shop / "settings.txt").exists():
        lines += ["set " + line for line in (shop / "settings.txt").read_text(encoding="utf-8").splitlines()]
    # In the session that brings the shop in: the text, for people.
    told = call(tmp_path, case["now"], [], "\n".join([*lines, f"check {case['check']}"]) + "\n")
    assert told.returncode == int(case["exit"]), told.stdout + told.stderr
    done = call(tmp_path, case["now"], ["check", *case["check"].split(), "--json"])
    expected = json.loads((shop / "expected.json").read_text(encoding="utf-8"))
    assert expected
    found = compare(expected, json.loads(done.stdout))
    assert not found, "\n".join(found) + "\n" + done.stdout
    assert done.returncode == int(case["exit"])
    verdict = {"ready": ": ready", "caution": ": ready with caution: ", "short": ": short of "}[expected["verdict"]]
    first = next(line for line in told.stdout.splitlines() if line.startswith(case["check"].split()[0] + " "))
    assert first.endswith(verdict) if expected["verdict"] == "ready" else verdict in first


def test_there_are_shops():
    assert len(SHOPS) >= 70

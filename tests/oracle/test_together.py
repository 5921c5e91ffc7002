"""The program's `ahead` against every plan there is, over random small shops.

TOOTHRACK_TOGETHER_SHOPS shops (16) from seed TOOTHRACK_TOGETHER_SEED (1) on; one shop again:

    TOOTHRACK_TOGETHER_SHOPS=1 TOOTHRACK_TOGETHER_SEED=12 /usr/bin/python3 -m pytest tests/oracle/test_together.py
"""

import copy
import json
import os
import sys
import tempfile
from collections import Counter

import pytest

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import compare_together  # noqa: E402
import draft_together  # noqa: E402
import program  # noqa: E402
import together  # noqa: E402
from shop import KINDS, TOOL_KINDS, read_shop  # noqa: E402
from values import moment  # noqa: E402

SHOPS = int(os.environ.get("TOOTHRACK_TOGETHER_SHOPS", "16"))
SEED = int(os.environ.get("TOOTHRACK_TOGETHER_SEED", "1"))
PARTS = 4
SHOWN = 2
NOW = moment(program.NOW)
UNTIL = NOW + 14 * 86400


def names_of(folder):
    """The names behind the tags of a shop that was taken in."""
    kinds = [kind for kind in TOOL_KINDS if os.path.exists(os.path.join(folder, kind + ".csv"))]
    found, _ = program.typed(os.path.join(folder, "shop.db"), ["find %s" % kind for kind in kinds])
    return {tool["tag"]: tool["other_tag"] for rows in found for tool in rows}


def ahead(folder):
    """The program's answer, and the names behind its tags."""
    store = os.path.join(folder, "shop.db")
    kinds = [kind for kind in KINDS if os.path.exists(os.path.join(folder, kind + ".csv"))]
    tools = [kind for kind in kinds if kind in TOOL_KINDS]
    lines = ["import %s %s" % (kind, os.path.join(folder, kind + ".csv")) for kind in kinds]
    lines += program.lines_of(folder, "settings.txt") + ["find %s" % kind for kind in tools]
    if program.lines_of(folder, "takes.txt"):
        found, _ = program.typed(store, lines)
        program.take(folder, store)
        more, _ = program.typed(store, ["ahead"])
        found += more
    else:
        found, _ = program.typed(store, lines + ["ahead"])
    tags = {tool["tag"]: tool["other_tag"] for rows in found[-1 - len(tools):-1] for tool in rows}
    return found[-1], tags


def differences_of(seed, folder):
    """What differs in the shop of a seed, the answer, and how many cures of each kind were tried."""
    draft_together.write(seed, folder)
    try:
        found, tags = ahead(folder)
    except program.Broken as broken:
        return ["the program: %s" % broken], None, Counter()
    try:
        shop = read_shop(folder)
        shop.trends = program.trends(folder)
        answer = compare_together.compare(together.Together(shop, NOW, UNTIL), found, tags)
        tried = compare_together.compare_cures(answer, NOW, UNTIL)
    except (AttributeError, KeyError, TypeError) as error:
        return ["the answer is not of the form in the vocabulary: %r" % error], found, Counter()
    return answer.wrong, found, tried


def told(seed, folder, differences, found):
    """Everything that a person needs to look into one shop."""
    lines = ["again: TOOTHRACK_TOGETHER_SHOPS=1 TOOTHRACK_TOGETHER_SEED=%d /usr/bin/python3 -m pytest tests/oracle/test_together.py" % seed]
    lines += ["  " + text for text in differences]
    for name in sorted(os.listdir(folder)):
        if name.endswith((".csv", ".txt")):
            with open(os.path.join(folder, name), encoding="utf-8") as file:
                lines.append("--- %s\n%s" % (name, file.read()))
    lines.append("--- answered\n" + json.dumps(found, indent=1))
    return "\n".join(lines)


@pytest.mark.parametrize("part", range(PARTS))
def test_ahead_answers_as_every_plan_tried(part):
    wrong, reports, tried, seen = [], [], Counter(), Counter()
    for seed in range(SEED + part, SEED + SHOPS, PARTS):
        with tempfile.TemporaryDirectory() as folder:
            differences, found, cures = differences_of(seed, folder)
            tried += cures
            if found:
                seen["served"] += found["served"]
                seen["left out"] += found["planned"] - found["served"]
                seen["certain"] += sum(shortage["certain"] for shortage in found["shortages"])
            if differences:
                wrong.append((seed, differences[0]))
                if len(reports) < SHOWN:
                    reports.append(told(seed, folder, differences, found))
    if wrong:
        listed = "\n".join("seed %d: %s" % pair for pair in wrong)
        pytest.fail("%d shops differ\n%s\n\n%s" % (len(wrong), listed, "\n\n".join(reports)), pytrace=False)
    if SHOPS >= 60:
        # Shops in which nothing is at stake would show nothing.
        assert min(seen["served"], seen["left out"], seen["certain"]) > 0, seen
        assert tried["tool"] and tried["shift"], tried


# -- would it be seen? --------------------------------------------------------------------------

def spoil_served(found):
    found["served"] += 1


def spoil_bound(found):
    found["bound"] -= 1


def job_served(found):
    return next(job for job in found["jobs"] if job["tools"])


def shortage_of_tools(found):
    return next(shortage for shortage in found["shortages"] if shortage["certain"] and shortage["tools"])


def cure_of(found, kind):
    return next(cure for shortage in found["shortages"] for cure in shortage["cures"] if cure["kind"] == kind and cure["cured"])


def spoil_tool_left_out(found):
    job_served(found)["tools"].pop()


def spoil_tool_twice(found):
    tools = [tool for tool in job_served(found)["tools"] if tool["need"] == "anilox"]
    tools[1]["tool"] = tools[0]["tool"]


def spoil_job_left_out(found):
    job = job_served(found)
    job["tools"], job["press"], job["verdict"] = [], None, "short"


def spoil_shortage_left_out(found):
    found["shortages"].remove(shortage_of_tools(found))


def spoil_shortage_of_too_few_tools(found):
    shortage = shortage_of_tools(found)
    shortage["tools"].pop()
    shortage["have"] -= 1


def spoil_shortage_too_long(found):
    shortage_of_tools(found)["until"] = "2026-12-02T08:00:00Z"


def spoil_need_of_shortage(found):
    shortage_of_tools(found)["needs"].pop()


def spoil_shift(found):
    cure = cure_of(found, "shift")
    job = next(job for job in found["jobs"] if job["job"] == cure["job"])
    cure["from"], cure["by_s"] = job["from"], 0


def spoil_gain(found):
    cure_of(found, "tool")["cured"] += 5


SPOILS = [spoil for name, spoil in sorted(globals().items()) if name.startswith("spoil_")]


@pytest.mark.parametrize("spoil", SPOILS, ids=lambda spoil: spoil.__name__)
def test_a_spoiled_answer_is_seen(spoil):
    """The first shop in which there is such a thing to spoil."""
    for seed in range(1, 200):
        with tempfile.TemporaryDirectory() as folder:
            differences, found, _ = differences_of(seed, folder)
            assert not differences
            spoiled = copy.deepcopy(found)
            try:
                spoil(spoiled)
            except (StopIteration, IndexError):
                continue
            tags = names_of(folder)
            shop = read_shop(folder)
            shop.trends = program.trends(folder)
            answer = compare_together.compare(together.Together(shop, NOW, UNTIL), spoiled, tags)
            compare_together.compare_cures(answer, NOW, UNTIL)
            assert answer.wrong
            return
    pytest.fail("no shop to spoil")

"""The program's `ahead` against every plan there is, over random small shops.

TOOTHRACK_TOGETHER_SHOPS shops (60) from seed TOOTHRACK_TOGETHER_SEED (1) on; one shop again:

    TOOTHRACK_TOGETHER_SHOPS=1 TOOTHRACK_TOGETHER_SEED=12 /usr/bin/python3 -m pytest tests/oracle/test_together.py
"""

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

SHOPS = int(os.environ.get("TOOTHRACK_TOGETHER_SHOPS", "60"))
SEED = int(os.environ.get("TOOTHRACK_TOGETHER_SEED", "1"))
PARTS = 4
SHOWN = 2
NOW = moment(program.NOW)
UNTIL = NOW + 14 * 86400


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
        answer = compare_together.compare(together.Together(read_shop(folder), NOW, UNTIL), found, tags)
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

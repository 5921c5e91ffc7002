"""The program's check against the oracle's over random small shops.

TOOTHRACK_ORACLE_SHOPS shops (50) from seed TOOTHRACK_ORACLE_SEED (1000) on; one shop again:

    TOOTHRACK_ORACLE_SHOPS=1 TOOTHRACK_ORACLE_SEED=1234 /usr/bin/python3 -m pytest tests/oracle/test_oracle.py
"""

import json
import os
import sys
import tempfile

import pytest

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import compare  # noqa: E402
import generate  # noqa: E402
import oracle  # noqa: E402
import program  # noqa: E402
from shop import read_shop  # noqa: E402

SHOPS = int(os.environ.get("TOOTHRACK_ORACLE_SHOPS", "50"))
SEED = int(os.environ.get("TOOTHRACK_ORACLE_SEED", "1000"))
PARTS = 10
SHOWN = 2


def differences_of(seed, folder):
    """What differs in the shop of a seed, and the answers."""
    generate.write(seed, folder)
    shop = read_shop(folder)
    try:
        found, tags = program.answers(folder, by_argument=seed % 20 == 0)
    except program.Broken as broken:
        return ["the program: %s" % broken], []
    shop.trends = program.trends(folder)
    differences = []
    for words, answer in found:
        differences += ["check %s: %s" % (" ".join(words), text)
                        for text in compared(shop, words, answer, tags)]
    return differences, found


def compared(shop, words, answer, tags):
    try:
        return compare.compare(shop, words, answer, tags)
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        return ["the answer is not of the form in check.md: %r" % error]


def told(seed, folder, differences, found):
    """Everything that a person needs to look into one shop."""
    lines = ["seed %d" % seed, "again: TOOTHRACK_ORACLE_SHOPS=1 TOOTHRACK_ORACLE_SEED=%d "
             "/usr/bin/python3 -m pytest tests/oracle/test_oracle.py" % seed]
    lines += ["  " + text for text in differences]
    for name in sorted(os.listdir(folder)):
        if name.endswith((".csv", ".txt")):
            with open(os.path.join(folder, name), encoding="utf-8") as file:
                lines.append("--- %s\n%s" % (name, file.read()))
    for words, answer in found:
        lines.append("--- answered to check %s\n%s" % (" ".join(words), json.dumps(answer, indent=1)))
    shop = read_shop(folder)
    shop.trends = program.trends(folder)
    for expected in oracle.check(shop, "J1").values():
        for layout in expected.layouts[:6]:
            lines.append("--- expected\n" + json.dumps(oracle.show(layout), indent=1, default=float))
    return "\n".join(lines)


@pytest.mark.parametrize("part", range(PARTS))
def test_check_answers_as_the_oracle(part):
    assert os.path.exists(program.PROGRAM), "no program at %s" % program.PROGRAM
    wrong, reports = [], []
    for seed in range(SEED + part, SEED + SHOPS, PARTS):
        with tempfile.TemporaryDirectory() as folder:
            differences, found = differences_of(seed, folder)
            if differences:
                wrong.append((seed, differences[0]))
                if len(reports) < SHOWN:
                    reports.append(told(seed, folder, differences, found))
    if wrong:
        listed = "\n".join("seed %d: %s" % pair for pair in wrong)
        pytest.fail("%d shops differ\n%s\n\n%s" % (len(wrong), listed, "\n\n".join(reports)), pytrace=False)

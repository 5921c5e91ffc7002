"""The comparison itself: an answer that is right passes, one that is wrong in any way does not."""

import copy
import os
import random
import sys
import tempfile

import pytest

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import answered  # noqa: E402
import compare  # noqa: E402
import cures  # noqa: E402
import generate  # noqa: E402
import oracle  # noqa: E402
from plain import PLAIN, write_plain  # noqa: E402
from shop import read_shop  # noqa: E402

SHOPS = range(20)


def shops():
    for seed in SHOPS:
        with tempfile.TemporaryDirectory() as folder:
            draft = generate.write(seed, folder)
            yield seed, read_shop(folder), draft.checks


def differences(shop, words, answer):
    return compare.compare(shop, words, answer, answered.tags_of(shop))


def test_right_answers_pass():
    for seed, shop, checks in shops():
        for line in checks:
            words = line.split()[1:]
            assert differences(shop, words, answered.whole_answer(shop, words)) == [], seed


def spoiled_combinations(answer):
    listed = answer["combinations"]
    for at, one in enumerate(listed):
        for name, value in (("number_around", one["number_around"] + 1), ("waste_percent", 99.0), ("plate_area_cm2", one["plate_area_cm2"] + 1),
                            ("verdict", {"ready": "caution", "caution": "short", "short": "ready"}[one["verdict"]]),
                            ("plates", {"kept": "new", "new": "kept", "first": "kept"}[one["plates"]]), ("unmet", one["unmet"] + 1)):
            wrong = copy.deepcopy(answer)
            wrong["combinations"][at][name] = value
            yield "combination %d: %s" % (at, name), wrong
        wrong = copy.deepcopy(answer)
        del wrong["combinations"][at]
        yield "combination %d left out" % at, wrong
        wrong = copy.deepcopy(answer)
        wrong["combinations"].append(one)
        yield "combination %d twice" % at, wrong


def spoiled(rng, answer):
    """Answers that differ in one thing, each with what was done."""
    figures = ("repeat_mm", "gap_around_mm", "web_needed_mm", "printed_width_mm", "run_m", "waste_percent")
    for name, step in zip(figures, (0.01, 0.001, 0.001, 0.001, 0.1, 0.1)):
        wrong = copy.deepcopy(answer)
        wrong[name] = 1.0 if wrong[name] is None else wrong[name] + step
        yield name, wrong
    wrong = copy.deepcopy(answer)
    wrong["verdict"] = {"ready": "caution", "caution": "ready", "short": "caution"}[answer["verdict"]]
    yield "verdict", wrong
    if answer["findings"]:
        wrong = copy.deepcopy(answer)
        del wrong["findings"][rng.randrange(len(wrong["findings"]))]
        yield "finding left out", wrong
    wrong = copy.deepcopy(answer)
    wrong["findings"].append({"need": "anilox", "station": 9, "cut": None, "level": "note", "text": ""})
    yield "finding too many", wrong
    yield from spoiled_combinations(answer)
    for row in range(len(answer["stations"])):
        for need in ("cylinder", "gear", "anilox", "blade"):
            wrong = copy.deepcopy(answer)
            wrong["stations"][row][need] = None if answer["stations"][row][need] else "tag:cyl-1"
            yield "%s of row %d" % (need, row), wrong


def optional_left_out(shop, words, what):
    """A note on which check.md is silent may be left out."""
    return what == "finding left out" and shop.jobs[words[0]].quantity is None


def test_wrong_answers_do_not_pass():
    rng = random.Random(5)
    tried = 0
    for seed, shop, checks in shops():
        words = checks[0].split()[1:]
        for what, wrong in spoiled(rng, answered.whole_answer(shop, words)):
            tried += 1
            assert differences(shop, words, wrong) or optional_left_out(shop, words, what), (seed, what)
    assert tried > 300


def test_a_worse_choice_does_not_pass():
    """Two tools that both serve, exchanged for the one that scores worse."""
    refused = 0
    for seed, shop, checks in shops():
        words = checks[0].split()[1:]
        answer = answered.whole_answer(shop, words)
        spare = [name for name in shop.tools["anilox"]
                 if "tag:" + name not in [row["anilox"] for row in answer["stations"]]]
        for row in range(len(answer["stations"])):
            for name in spare:
                if answer["stations"][row]["anilox"]:
                    other = copy.deepcopy(answer)
                    other["stations"][row]["anilox"] = "tag:" + name
                    refused += bool(differences(shop, words, other))
    assert refused > 20


@pytest.mark.parametrize("place, more, cure, helps", (
    ("grinder", ",2026-12-02T10:00:00Z,", {"kind": "time", "from": "2026-12-02T10:00:00Z"}, True),
    ("grinder", ",2026-12-02T10:00:00Z,", {"kind": "time", "from": "2026-12-02T09:59:00Z"}, False),
    ("grinder", ",2026-12-02T10:00:00Z,", {"kind": "return", "tools": ["tag:die-1"]}, True),
    ("grinder", ",2026-12-02T10:00:00Z,", {"kind": "return", "tools": ["tag:roll-1"]}, False),
    ("rack", ",,hold", {"kind": "clear", "tools": ["tag:die-1"]}, True),
    ("rack", ",,hold", {"kind": "clear", "tools": ["tag:roll-1"]}, False),
    ("rack", ",,hold", {"kind": "press", "press": "P1"}, False),
    ("rack", ",,hold", {"kind": "repeat", "teeth": 95, "pitch": "1/8cp"}, False),
))
def test_a_cure_must_help(tmp_path, place, more, cure, helps):
    """The die of the plain shop is away until 10:00 on 2 December, or held."""
    die = [PLAIN["die"][0] + ",back,condition", PLAIN["die"][1].replace("rack", place) + more]
    write_plain(str(tmp_path), die=die)
    shop = read_shop(str(tmp_path))
    layout = oracle.check(shop, "J1")["P1"].best
    assert layout.verdict() == "short"
    assert (cures.judge(shop, layout, cure, answered.tags_of(shop)) is None) == helps

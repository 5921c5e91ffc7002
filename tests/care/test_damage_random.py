"""The usable face after damage, corrections by hand, engravings and undo in any order, against a model that counts millimetres.

TOOTHRACK names the program; TOOTHRACK_DAMAGE_SHOPS and TOOTHRACK_DAMAGE_SEED say how many and from where.
"""
import json
import os
import random
import subprocess

import pytest

FACE = 60
STEPS = 40
SHOPS = int(os.environ.get("TOOTHRACK_DAMAGE_SHOPS", "12"))
SEED = int(os.environ.get("TOOTHRACK_DAMAGE_SEED", "20261126"))


def widest(damaged):
    """First of the widest runs of millimetres that are not damaged; None where there is none."""
    best, start = None, 0
    for place in range(FACE + 1):
        if place == FACE or place in damaged:
            if place > start and (best is None or place - start > best[1] - best[0]):
                best = (start, place)
            start = place + 1
    return best


class Model:
    """What is damaged in the life that runs, millimetre by millimetre, and the band on record."""

    def __init__(self):
        self.damaged, self.band, self.life = frozenset(), (None, None), 1
        self.before = []

    def keep(self):
        self.before.append((self.damaged, self.band, self.life))

    def gauge(self, first, last):
        damaged = self.damaged
        if self.band != (None, None):
            low = 0 if self.band[0] is None else self.band[0]
            high = FACE if self.band[1] is None else self.band[1]
            if (low, high) != widest(damaged):
                damaged = damaged | set(range(low)) | set(range(high, FACE))
        damaged = damaged | set(range(first, last))
        left = widest(damaged)
        if left is not None:
            self.keep()
            self.damaged, self.band = frozenset(damaged), left

    def edit(self, low, high):
        if (low, high) != self.band:
            self.keep()
            self.band = (low, high)

    def regrind(self):
        self.keep()
        self.damaged, self.band, self.life = frozenset(), (None, None), self.life + 1

    def undo(self):
        if self.before:
            self.damaged, self.band, self.life = self.before.pop()


def step(chance, model, tag):
    """One line as typed; the model does the same."""
    what = chance.choices(("gauge", "edit", "regrind", "undo"), (8, 3, 1, 5))[0]
    if what == "gauge":
        first = chance.randrange(FACE)
        last = min(FACE, first + chance.randint(1, 14))
        model.gauge(first, last)
        low = "" if first == 0 and chance.random() < 0.5 else f"{first}mm"
        high = "" if last == FACE and low and chance.random() < 0.5 else f"{last}mm"
        return f"gauge {tag} damage={low}..{high}"
    if what == "edit":
        low = chance.choice((None, chance.randrange(FACE - 1)))
        high = chance.choice((None, chance.randint((low or 0) + 1, FACE)))
        model.edit(low, high)
        return f"edit {tag} face_from={'' if low is None else f'{low}mm'} face_to={'' if high is None else f'{high}mm'}"
    if what == "regrind":
        model.regrind()
        return f"regrind {tag} volume=4bcm"
    if model.before:
        model.undo()
        return "undo"
    return f"show {tag}"


def run(folder, lines):
    environment = dict(os.environ, TZ="UTC", TOOTHRACK_NOW="2026-12-01T08:00:00Z")
    done = subprocess.run(
        [os.environ["TOOTHRACK"], "--db", folder / "shop.db"],
        input="".join(f"{line}\n" for line in lines),
        capture_output=True,
        text=True,
        env=environment,
        check=False,
    )
    assert done.returncode in (0, 1), done.stderr
    return done.stdout


@pytest.mark.parametrize("seed", range(SEED, SEED + SHOPS))
def test_damage__any_order__as_counted(tmp_path, seed):
    chance = random.Random(seed)
    tag = "AN000001-R"
    model = Model()
    lines = [f"new anilox tag={tag} line_screen=200/cm volume=4bcm face={FACE}mm run=100m"]
    expected = []
    for _ in range(STEPS):
        lines += [step(chance, model, tag), f"--json show {tag}"]
        expected.append((model.band, model.life))
    said = [json.loads(line) for line in run(tmp_path, lines).splitlines() if line.startswith('{"kind": "anilox"')]
    assert len(said) == STEPS
    for number, (shown, (band, life)) in enumerate(zip(said, expected, strict=True)):
        at = lines[1 : 2 * number + 2 : 2]
        assert (shown["face_from_mm"], shown["face_to_mm"]) == band, at
        assert shown["figures"].get("lives", 1) == life, at
        assert shown["run_m"] == (100 if life == 1 else 0), at
    assert "whole" in run(tmp_path, ["verify"])

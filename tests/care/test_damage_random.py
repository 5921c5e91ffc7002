"""The usable face after damage, corrections by hand, engravings (of today, or put on record days after) and undo in any order,
against a model that counts millimetres.

TOOTHRACK names the program; TOOTHRACK_DAMAGE_SHOPS and TOOTHRACK_DAMAGE_SEED say how many and from where.
"""
import datetime
import json
import os
import random
import subprocess

import pytest

FACE = 60
STEPS = 40
SHOPS = int(os.environ.get("TOOTHRACK_DAMAGE_SHOPS", "12"))
SEED = int(os.environ.get("TOOTHRACK_DAMAGE_SEED", "20261126"))


def counted(damage):
    return {place for _, first, last in damage for place in range(first, last)}


def widest(damaged):
    """First of the widest runs of millimetres that are not damaged; None where there is none."""
    best, start = None, 0
    for place in range(FACE + 1):
        if place == FACE or place in damaged:
            if place > start and (best is None or place - start > best[1] - best[0]):
                best = (start, place)
            start = place + 1
    return best


HOUR = 8  # at which all is typed; a bare date is where its day begins


class Model:
    """Bands damaged in the life that runs, each with its hour, the band on record and when that was told last."""

    def __init__(self):
        self.hour = HOUR
        self.damage, self.band, self.life, self.began, self.told = (), (None, None), 1, 0, HOUR
        self.before = []

    def keep(self):
        self.before.append((self.damage, self.band, self.life, self.began, self.told))

    def put(self, band):
        if band != self.band:
            self.band, self.told = band, self.hour

    def sides(self):
        """What a person's usable band leaves out, and no one damage covers; None where damage makes that band."""
        low = 0 if self.band[0] is None else self.band[0]
        high = FACE if self.band[1] is None else self.band[1]
        if (low, high) == widest(counted(self.damage)):
            return None
        sides = [(0, low), (high, FACE)]
        return [s for s in sides if s[0] < s[1] and not any(d[1] <= s[0] and d[2] >= s[1] for d in self.damage)]

    def gauge(self, first, last):
        sides = (self.sides() or []) if self.band != (None, None) else []
        damage = self.damage + tuple((self.hour, *side) for side in [*sides, (first, last)])
        left = widest(counted(damage))
        if left is not None:
            self.keep()
            self.damage = damage
            self.put(left)

    def edit(self, low, high):
        if (low, high) != self.band:
            self.keep()
            self.put((low, high))

    def regrind(self, since):
        """Since an hour before today, of the day at least on which this life began; None: now."""
        self.keep()
        if since is None:
            self.damage, self.began = (), self.hour
            self.put((None, None))
        else:
            self.began = max(since, self.began)
            stays = self.told >= self.began and self.sides() is not None
            self.damage = tuple(band for band in self.damage if band[0] >= self.began)
            if not stays:
                self.put(widest(counted(self.damage)) if self.damage else (None, None))
        self.life += 1

    def undo(self):
        if self.before:
            self.damage, self.band, self.life, self.began, self.told = self.before.pop()


def step(chance, model, tag):
    """One line as typed; the model does the same."""
    what = chance.choices(("gauge", "edit", "regrind", "undo"), (8, 3, 2, 5))[0]
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
        today = model.hour // 24
        days = chance.choice((0, 0, 1, 1, 2, 3))
        if model.life > 1:
            # Before the life that runs there is none to end.
            days = min(days, today - model.began // 24)
        model.regrind(24 * (today - days) if days else None)
        return f"regrind {tag} volume=4bcm" + (f" engraved={date(today - days)}" if days else "")
    if model.before:
        model.undo()
        return "undo"
    return f"show {tag}"


def date(day):
    return (datetime.date(2026, 12, 1) + datetime.timedelta(days=day)).isoformat()


def run(folder, lines, day):
    environment = dict(os.environ, TZ="UTC", TOOTHRACK_NOW=f"{date(day)}T{HOUR:02}:00:00Z")
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
    days = [[f"new anilox tag={tag} line_screen=200/cm volume=4bcm face={FACE}mm run=100m"]]
    typed, expected = [], []
    for _ in range(STEPS):
        if chance.random() < 0.3:
            days.append([])
            model.hour += 24
        typed.append(f"{date(len(days) - 1)} {step(chance, model, tag)}")
        days[-1] += [typed[-1].split(" ", 1)[1], f"--json show {tag}"]
        expected.append((model.band, model.life))
    told = "".join(run(tmp_path, lines, day) for day, lines in enumerate(days) if lines)
    said = [json.loads(line) for line in told.splitlines() if line.startswith('{"kind": "anilox"')]
    assert len(said) == STEPS
    for number, (shown, (band, life)) in enumerate(zip(said, expected, strict=True)):
        at = typed[: number + 1]
        assert (shown["face_from_mm"], shown["face_to_mm"]) == band, at
        assert shown["figures"].get("lives", 1) == life, at
        assert shown["run_m"] == (100 if life == 1 else 0), at
    assert "whole" in run(tmp_path, ["verify"], len(days))

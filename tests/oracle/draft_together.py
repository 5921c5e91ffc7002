"""Random small shops in which several jobs want the same few tools.

    python3 draft_together.py SEED FOLDER     writes one shop

Two to five planned jobs on a coarse grid of hours, so that a turnaround between two is often exact, or one second short; one or two presses, one
or two repeats, and so few tools that not all can be served.
"""

import csv
import math
import os
import random
import sys

from draft import HOUR, NOW
from values import moment_text

PITCH = 3.175
BUILDS = {"1.702mm,0.381mm": 2.083, "1.702mm,0.4mm": 2.102, "1.14mm,0.381mm": 1.521}
WIDTHS = (80, 80, 80.02, 80.04, 80.08)
VOLUMES = (6, 6, 6.3, 6.8)
SCREENS = (120, 120, 130, 140)


class Draft:
    def __init__(self, seed):
        self.rng = rng = random.Random(seed)
        self.rows = {}
        self.takes = []
        self.teeth = rng.choice(((96,), (96,), (96, 128)))
        self.fits = rng.choice(((), (), ("j35",), ("j35", "j40")))
        self.presses = ["P1"] + (["P2"] if rng.random() < 0.6 else [])
        self.scarce = rng.choice((1, 1.4, 1.8, 2.3))
        self.starts = rng.sample(range(2, 10), 4)
        self.builds = rng.sample(sorted(BUILDS), rng.choice((1, 2, 2, 3)))
        # Of its own draws, so that a shop without wear is the same with them.
        self.of_wear = random.Random(seed * 7919)
        self.wears = self.of_wear.random() < 0.5
        self.settings = ["set life_over short"] if self.wears and self.of_wear.random() < 0.5 else []

    def quantity(self):
        """In a shop where tools wear, runs of 640 m, and of 6 and 27 km, past some lives: they ask the same but for that."""
        return self.of_wear.choice((6000, 6000, 60000, 250000)) if self.wears else 6000

    def add(self, kind, **row):
        self.rows.setdefault(kind, []).append({key: value for key, value in row.items() if value not in (None, "")})

    def chance(self, probability):
        return self.rng.random() < probability

    def time(self, hours):
        """An hour of the grid, now and then a second off."""
        return moment_text(NOW + hours * HOUR + (self.rng.choice((-1, 1)) if self.chance(0.12) else 0))


def draft_presses(draft):
    for at, code in enumerate(draft.presses):
        draft.add("press", code=code, drive="geared" if at == 0 or draft.chance(0.7) else "servo", web="250mm", repeat_min="200mm",
                  repeat_max="500mm", pitches="1/8cp", stations=3, die_stations=1,
                  fit=",".join(draft.rng.sample(draft.fits, draft.rng.randint(1, len(draft.fits)))) if draft.fits else "")
    draft.add("place", code="rack", sort="store")
    draft.add("place", code="grinder", sort="supplier")
    if draft.chance(0.08):
        draft.add("place", code="P1-1", sort="press", condition="hold", note="drive worn")


def draft_job(draft, number, state="planned", hours=None):
    rng = draft.rng
    start = hours if hours is not None else rng.choice(draft.starts)
    length = rng.choice((1, 1, 2, 3))
    teeth = rng.choice(draft.teeth)
    new = state == "planned" and draft.chance(0.12)
    width = rng.choice(WIDTHS)
    press = rng.choice(draft.presses) if draft.chance(0.6) or state == "running" else ",".join(draft.presses)
    draft.add("job", number=number, state=state, press="" if draft.chance(0.1) and state == "planned" else press, **{"from": draft.time(start)},
              until=draft.time(start + length), quantity=draft.quantity(), label_across=f"{width}mm", label_around="98.6mm", shape="rectangle",
              number_across=1, gap_around_min="2mm", gap_around_max="4mm", trim="5mm", web="110mm",
              teeth=None if new else teeth, pitch=None if new else "1/8cp", number_around=None if new else teeth // 32)
    for station in range(1, rng.choice((1, 1, 2, 2, 3)) + 1):
        plate, tape = rng.choice(draft.builds).split(",")
        screen, volume = rng.choice(SCREENS), rng.choice(VOLUMES)
        draft.add("station", job=number, station=station, process="flexo" if draft.chance(0.95) else "rotary_screen",
                  register="no" if draft.chance(0.08) else "yes", plate=plate, base="0.127mm", tape=tape,
                  plates="ready", screen_min=f"{screen - 10}/cm", screen_max=f"{screen + 20}/cm", volume=f"{volume}cm3/m2")


def draft_jobs(draft):
    for at in range(draft.rng.choice((2, 3, 3, 4, 4, 5))):
        draft_job(draft, f"J{at + 1}")
    draft.running = draft.chance(0.2)
    if draft.running:
        draft_job(draft, "J9", "running", hours=draft.rng.choice((-1, 1, 2)))


def draft_tool(draft, kind, name, **row):
    rng = draft.rng
    place, condition, back, note = "rack", "ready", "", ""
    draw = rng.random()
    if draw < 0.08:
        condition, note = "hold", "scored band"
    elif draw < 0.16:
        place, back = "grinder", rng.choice((moment_text(NOW + rng.randint(1, 9) * HOUR), "2026-12-01", ""))
    elif draw < 0.2:
        place = rng.choice(draft.presses)
    elif draw < 0.27:
        # A job that runs, or one planned for which it went out already.
        draft.takes.append(f"take {name} job={'J9' if draft.running else 'J1'}")
    fit = ",".join(rng.sample(draft.fits, rng.randint(1, len(draft.fits)))) if draft.fits else ""
    draft.add(kind, other_tag=name, fit=fit, place=place, condition=condition, back=back, note=note, **row)


def count(draft, least, most):
    return max(0, round(draft.rng.randint(least, most) * draft.scarce))


def draft_wear(draft, roll):
    """Readings along a line, which comes to some volume by now: 13 to 33 cm3/m2 less a million metres. Gives the run on record."""
    rng = draft.of_wear
    if not draft.wears or rng.random() < 0.3:
        return ""
    now, slope = rng.choice(VOLUMES + (5.45, 5.7, 7.4, 7.6)) + rng.choice((0, 0.013)), rng.choice((13, 17, 33))
    for number, run in enumerate(sorted(rng.sample((0, 20000, 50000, 70000, 90000), 4)) if rng.random() < 0.2 else (0, 30000, 60000, 90000)):
        draft.add("reading", tool=roll, moment=f"2026-1{number // 2}-0{number + 1}T10:00:00Z", after="clean", run=f"{run}m",
                  volume=f"{now + slope * (100000 - run) / 1e6:.6f}cm3/m2")
    return "100000m"


def draft_tools(draft):
    rng = draft.rng
    for at in range(count(draft, 3, 6)):
        teeth = rng.choice(draft.teeth)
        build = BUILDS[rng.choice(draft.builds)] + rng.choice((0, 0, 0.02))
        draft_tool(draft, "cylinder", f"c{at + 1}", drive=rng.choice(("geared", "demountable", "demountable")), teeth=teeth, pitch="1/8cp",
                   diameter=f"{teeth * PITCH / math.pi - 2 * build:.3f}mm", runout="0.005mm", face=rng.choice(("200mm", "200mm", "85mm")),
                   bore=rng.choice(("30mm", "35mm")))
    for at in range(count(draft, 1, 4)):
        draft_tool(draft, "gear", f"g{at + 1}", teeth=rng.choice(draft.teeth), pitch="1/8cp", bore=rng.choice(("", "30mm", "35mm")))
    for at in range(count(draft, 3, 6)):
        draft_tool(draft, "anilox", f"a{at + 1}", face=rng.choice(("200mm", "205mm", "215mm")), line_screen=f"{rng.choice(SCREENS)}/cm",
                   volume=f"{rng.choice(VOLUMES)}cm3/m2", run=draft_wear(draft, f"a{at + 1}"))
    for at in range(count(draft, 3, 6)):
        draft_tool(draft, "blade", f"b{at + 1}", length=rng.choice(("195mm", "205mm", "215mm", "222mm")), life="10000m", run="0m")
    for at in range(count(draft, 1, 3)):
        build = rng.choice(("flexible", "solid"))
        teeth = rng.choice(draft.teeth)
        draft_tool(draft, "die", f"d{at + 1}", build=build, cut="kiss", teeth=teeth, pitch="1/8cp", number_across=1, number_around=teeth // 32,
                   label_across=f"{rng.choice(WIDTHS)}mm", label_around="98.6mm", shape="rectangle", face="200mm", life="50000",
                   die_gap="0.48mm" if build == "flexible" else "")
    for at in range(count(draft, 1, 3)):
        draft_tool(draft, "magnetic_cylinder", f"m{at + 1}", teeth=rng.choice(draft.teeth), pitch="1/8cp", die_gap="0.48mm", face="200mm")


def write(seed, folder):
    """Write the shop of a seed into a folder."""
    draft = Draft(seed)
    draft_presses(draft)
    draft_jobs(draft)
    draft_tools(draft)
    for kind, rows in draft.rows.items():
        names = list(dict.fromkeys(name for row in rows for name in row))
        with open(os.path.join(folder, kind + ".csv"), "w", newline="", encoding="utf-8") as file:
            writer = csv.DictWriter(file, names)
            writer.writeheader()
            writer.writerows(rows)
    if draft.settings:
        with open(os.path.join(folder, "settings.txt"), "w", encoding="utf-8") as file:
            file.write("".join(line + "\n" for line in draft.settings))
    if draft.takes:
        with open(os.path.join(folder, "takes.txt"), "w", encoding="utf-8") as file:
            file.write("".join(line + "\n" for line in draft.takes))


if __name__ == "__main__":
    write(int(sys.argv[1]), sys.argv[2])

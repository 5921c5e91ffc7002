"""`earliest` against every moment: over random small shops with bookings, running jobs, tools away and shifts, the first start that it
names is the first at which `check` over the job's duration is not short, and the latest the last that ends by the due moment.

All that happens in a shop drawn here happens at whole ten minutes, and the job takes as many tens, so that a grid of ten minutes misses
nothing. TOOTHRACK_EARLIEST_SHOPS shops (4) from seed TOOTHRACK_EARLIEST_SEED (1) on.
"""

import json
import os
import random
import sys
import tempfile

import pytest

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import plain  # noqa: E402
import program  # noqa: E402
from hours import Hours  # noqa: E402
from values import moment, moment_text  # noqa: E402

SHOPS = int(os.environ.get("TOOTHRACK_EARLIEST_SHOPS", "4"))
SEED = int(os.environ.get("TOOTHRACK_EARLIEST_SEED", "1"))
NOW = moment(program.NOW)
MINUTE, STEP, DAY = 60, 600, 86400
WINDOW = 4 * DAY
KINDS = ("place", "press", "job", "cylinder", "gear", "anilox", "blade", "die", "magnetic_cylinder", "station", "cut", "reading")
SHIFTS = ("always", "always", "mon-fri 06:00-22:00", "mon-fri 06:00-14:00, sat 08:00-12:00", "mon-thu 22:00-06:00, fri 07:00-15:30")
# Metres a minute at which the 320.04 m of a job (plain.py) take 13, 23, 33 and 63 minutes, begun ones counted.
SPEEDS = (25, 14, 10, 5.1)
LABEL = "80mm,98.5mm,rectangle,2,3mm,2mm,4mm,5mm,6000"
REPEATS = {"J1": "96,1/8cp,3", "J64": "64,1/8cp,2", "JN": ",,"}


class Shop:
    """One shop of a seed: what is put on record, then what is typed."""

    def __init__(self, seed):
        self.rng = random.Random(seed)
        self.files = dict(plain.PLAIN)
        self.shifts, self.closed = self.rng.choice(SHIFTS), self.rng.choice(("none", "none", "2026-12-03"))
        self.hours = Hours(self.shifts, self.closed)
        self.draw_presses()
        self.draw_tools()
        self.draw_jobs()

    def when(self):
        return NOW - NOW % STEP + self.rng.randrange(-60, WINDOW // STEP) * STEP

    def draw_presses(self):
        self.files["place"] = ["code,sort", "rack,store", "grinder,supplier", "gone,lost"]
        self.files["press"] = ["code,drive,web,repeat_min,repeat_max,pitches,stations,die_stations,speed"] + [
            "%s,%s,250mm,150mm,500mm,1/8cp,4,2,%sm/min" % (code, drive, self.rng.choice(SPEEDS)) for code, drive in (("P1", "geared"), ("P2", "servo"))]

    def place(self):
        """A place, and when the tool is back where it is away."""
        if self.rng.random() < 0.15:
            back = self.when()
            return "grinder,%s" % (moment_text(back) if self.rng.random() < 0.7 else moment_text(back)[:10])
        return self.rng.choice(("rack",) * 12 + ("P1-1",) * 4 + ("P2-1",) * 4 + ("gone",)) + ","

    def draw_tools(self):
        rng, few = self.rng, self.rng.randint(1, 2)
        teeth = [96] * (few + 1) + [64] * rng.randint(1, 3)
        self.files["cylinder"] = ["other_tag,place,back,drive,teeth,pitch,diameter,runout,face"] + [
            "cyl-%d,%s,%s,%d,1/8cp,%smm,0.01mm,200mm" % (at, self.place(), rng.choice(("geared", "demountable")), one, {96: 92.855, 64: 60.515}[one])
            for at, one in enumerate(teeth)]
        self.files["gear"] = ["other_tag,place,back,teeth,pitch"] + ["gear-%d,%s,%d,1/8cp" % (at, self.place(), one) for at, one in enumerate((96, 96, 64))]
        volumes = ["6.2"] * few + ["8"] * rng.randint(1, 2)
        self.files["anilox"] = ["other_tag,place,back,face,line_screen,volume"] + [
            "roll-%d,%s,220mm,360lpi,%scm3/m2" % (at, self.place(), one) for at, one in enumerate(volumes)]
        self.files["reading"] = ["tool,moment,volume,after"] + ["roll-%d,2026-10-01T00:00:00Z,%scm3/m2,clean" % (at, one) for at, one in enumerate(volumes)]
        self.files["blade"] = ["other_tag,place,back,length,life"] + ["blade-%d,%s,220mm,10000m" % (at, self.place()) for at in range(rng.randint(2, 4))]
        self.files["die"] = ["other_tag,place,back,build,cut,teeth,pitch,number_across,number_around,label_across,label_around,gap_across,shape,face,life,die_gap"] + [
            "die-%d,%s,flexible,kiss,96,1/8cp,2,3,80mm,98.5mm,3mm,rectangle,200mm,50000,0.480mm" % (at, self.place()) for at in range(few)]
        self.files["magnetic_cylinder"] = ["other_tag,place,back,teeth,pitch,die_gap,face"] + [
            "mag-%d,%s,96,1/8cp,0.480mm,200mm" % (at, self.place()) for at in range(rng.randint(1, 2))]

    def draw_jobs(self):
        """The jobs that are asked about, then others: running, planned, booked later on."""
        rng = self.rng
        heading = "number,state,label_across,label_around,shape,number_across,gap_across,gap_around_min,gap_around_max,trim,quantity,teeth,pitch,number_around,press,from,until"
        jobs = ["%s,planned,%s,%s,,," % (number, LABEL, repeat) for number, repeat in REPEATS.items()]
        self.books, self.others = [], []
        for at in range(rng.randint(2, 7)):
            number, start = "X%d" % at, self.when()
            end = start + rng.randint(0, 60) * STEP
            state = "running" if rng.random() < 0.2 else "planned"
            if state == "running" and rng.random() < 0.2:
                end = None
            jobs.append("%s,%s,%s,%s,%s,%s,%s" % (number, state, LABEL, REPEATS[rng.choice(("J1", "J64"))], rng.choice(("P1", "P2")), moment_text(start),
                                                "" if end is None else moment_text(end)))
            self.others.append(number)
            if state == "planned" and end > start and rng.random() < 0.8:
                self.books.append("book %s" % number)
        self.files["job"] = [heading] + jobs
        stations = ["%s,%d,flexo,yes,1.702mm,0.127mm,0.381mm,ready,%scm3/m2" % (job, at, volume) for job in list(REPEATS) + self.others
                    for at, volume in ((1, "6.2"), (2, "8")) if job in REPEATS or rng.random() < 0.7]
        self.files["station"] = [plain.PLAIN["station"][0]] + stations

    def lines(self, folder):
        """What is typed to make the shop."""
        for kind in KINDS:
            with open(os.path.join(folder, kind + ".csv"), "w", encoding="utf-8") as file:
                file.write("\n".join(self.files[kind]) + "\n")
        settings = {"shifts": "'%s'" % self.shifts, "closed": self.closed, "turnaround": self.rng.choice(("0min", "30min", "1h", "2h")),
                    "make_ready": self.rng.choice(("7min", "27min", "47min"))}
        lines = ["import %s %s" % (kind, os.path.join(folder, kind + ".csv")) for kind in KINDS if len(self.files[kind]) > 1]
        return lines + ["set %s %s" % pair for pair in settings.items() if pair != ("closed", "none")] + self.books


def told(folder, lines):
    """The answers to lines, from one process: a line of JSON each."""
    done = program.call(["--db", os.path.join(folder, "shop.db"), "--json"], "".join(line + "\n" for line in lines))
    assert done.returncode in (0, 1), done.stderr
    answers = done.stdout.splitlines()
    assert len(answers) == len(lines)
    return answers


def asked(folder, lines):
    return [json.loads(line) for line in told(folder, lines)]


def is_short(folder, job, press, spans):
    """By start: is the check over that span short? Its verdict is the first in the line."""
    answers = told(folder, ["check %s press=%s from=%s until=%s" % (job, press, moment_text(a), moment_text(b)) for a, b in spans])
    return {span[0]: answer.split('"verdict": "', 1)[1].startswith("short") for span, answer in zip(spans, answers)}


def end_of(hours, start, seconds):
    """As Hours.later, which goes through all the weeks each time."""
    for a, b in hours.spans if hours.limited else [(start, start + seconds)]:
        left = b - max(a, start)
        if left >= seconds:
            return max(a, start) + seconds
        seconds -= max(left, 0)
    raise ValueError("beyond the weeks that are known")


def grid(shop, duration, due):
    """Every start in open hours on the grid, the first moment of all and the last of all among them."""
    starts = {NOW} | set(range(NOW, NOW + WINDOW, STEP)) | {shop.hours.earlier(due, duration)}
    return [(start, end_of(shop.hours, start, duration)) for start in sorted(starts) if start >= NOW and shop.hours.open_from(start) == start]


def of_press(answer, press):
    return next(one for one in answer["presses"] if one["press"] == press)


def at(text):
    return None if text is None else moment(text)


def wrong_of(shop, folder, job, press, answer, due):
    """What is wrong with the answer on one press, of a job whose repeat is on record."""
    one = of_press(answer, press)
    if one["duration_s"] is None:
        return ["duration not known"]
    duration, starts = one["duration_s"], at(one["from"])
    assert duration % STEP == 0
    spans = grid(shop, duration, due)
    short = is_short(folder, job, press, spans)
    wrong = []
    first = next((start for start, _ in spans if not short[start]), None)
    if starts != first and not (first is None and (starts is None or starts >= NOW + WINDOW)):
        wrong.append("first start %s, expected %s" % (one["from"], first and moment_text(first)))
    if (starts is None) != (one["never"] is not None):
        wrong.append("start %s, never: %s" % (one["from"], one["never"]))
    if starts is not None and at(one["until"]) != shop.hours.later(starts, duration):
        wrong.append("ends %s, expected %s" % (one["until"], moment_text(shop.hours.later(starts, duration))))
    last = max((start for start, end in spans if end <= due and not short[start]), default=None)
    if at(one["latest_from"]) != last:
        wrong.append("latest start by %s: %s, expected %s" % (moment_text(due), one["latest_from"], last and moment_text(last)))
    if starts is not None and not one["waits_for"] and starts != shop.hours.open_from(NOW):
        wrong.append("starts later than it could, and waits for nothing")
    return wrong


def best_of(answers, press, key, choose):
    return choose((at(of_press(answer, press)[key]) for answer in answers if of_press(answer, press)[key]), default=None)


@pytest.mark.parametrize("seed", range(SEED, SEED + SHOPS))
def test_earliest_is_the_first_of_all_moments(seed):
    shop = Shop(seed)
    due = NOW + shop.rng.randrange(STEP, WINDOW, STEP)
    with tempfile.TemporaryDirectory() as folder:
        made = program.call(["--db", os.path.join(folder, "shop.db")], "".join(line + "\n" for line in shop.lines(folder)))
        assert made.returncode in (0, 1), made.stderr
        new, *known = asked(folder, ["earliest %s due=%s" % (job, moment_text(due)) for job in ("JN", "J1", "J64")])
        wrong = []
        for press in ("P1", "P2"):
            for job, answer in zip(("J1", "J64"), known):
                wrong += ["%s on %s: %s" % (job, press, text) for text in wrong_of(shop, folder, job, press, answer, due)]
            # A new job can have either repeat: it starts with the first that can, and at the latest with the last.
            for key, choose in (("from", min), ("latest_from", max)):
                if at(of_press(new, press)[key]) != best_of(known, press, key, choose):
                    wrong.append("JN on %s: %s %s, expected %s" % (press, key, of_press(new, press)[key], best_of(known, press, key, choose)))
        assert not wrong, "seed %d: %s\n%s\n%s" % (seed, "\n".join(wrong), made.stdout, json.dumps([new, *known], indent=1))


def test_shops_are_of_every_sort():
    """Starts at once, later starts and presses that never fit are all met among the first shops."""
    met = set()
    for seed in range(1, 13):
        shop = Shop(seed)
        with tempfile.TemporaryDirectory() as folder:
            program.call(["--db", os.path.join(folder, "shop.db")], "".join(line + "\n" for line in shop.lines(folder)))
            for one in asked(folder, ["earliest J1"])[0]["presses"]:
                met.add("never" if one["from"] is None else "at once" if at(one["from"]) == NOW else "later")
    assert met == {"never", "at once", "later"}

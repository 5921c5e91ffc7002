"""The check worked out a second time, from the text of check.md alone.

    python3 oracle.py FOLDER JOB [press=CODE] [from=MOMENT] [until=MOMENT]

prints what is expected for the shop in FOLDER. `check()` gives an `Expected` a press, each with its
layouts (one for a repeat order, one a candidate for a new job); a `Layout` knows its figures, its
best choice, and what must be found once the tools are chosen.
"""

import json
import math
import sys
from collections import namedtuple

import choose
import rules
from shop import cuts_of, read_shop
from values import extent_of, half_up, moment, moment_text

PRINTING = ("flexo", "cold_foil")
LEVELS = ("note", "caution", "short")
VERDICTS = ("ready", "caution", "short")
NOW = "2026-12-01T08:00:00Z"

# A need that is unmet or in doubt. `optional`: check.md does not say whether it is found.
Finding = namedtuple("Finding", "level rules optional")


class Layout:
    """One job on one press at one time with one repeat (or none)."""

    def __init__(self, shop, job, press, span, repeat, number_around):
        """`repeat` is (extent, teeth, pitch) or None for a new job without a candidate."""
        self.shop, self.job, self.press = shop, job, press
        self.start, self.end, self.now = span
        self.extent, self.teeth, self.pitch = repeat or (None, None, None)
        self.number_around = number_around
        self.geared = press.drive == "geared"
        self.stations = sorted(job.station_rows, key=lambda row: row.station)
        self.printing = [row for row in self.stations if row.process in PRINTING]
        self.cuts = sorted(cuts_of(job), key=lambda row: row.cut)
        self.there_cache = {}
        self.work_out()
        self._groups = None
        self._best = None

    def work_out(self):
        """The figures of the layout, None where something they need is not known."""
        job = self.job
        self.repeat = self.extent.mm if self.extent else None
        self.web_needed = web_needed(job)
        self.printed_width = None if self.web_needed is None else self.web_needed - 2 * job.trim
        self.web = job.web if job.web is not None else self.web_needed
        self.gap_around = self.run = self.waste = None
        if self.repeat is None or self.number_around is None:
            return
        if job.label_around is not None:
            self.gap_around = self.repeat / self.number_around - job.label_around
        if job.quantity is not None and job.number_across is not None:
            labels = -(-job.quantity // (job.number_across * self.number_around))
            self.run = math.ceil((1 + self.shop.settings["overs"]) * labels) * self.repeat
        if None not in (job.label_across, job.label_around, job.number_across, self.web):
            self.waste = 1 - job.label_across * job.label_around * job.number_across \
                * self.number_around / (self.web * self.repeat)

    # -- the choice of tools --

    @property
    def groups(self):
        """{"cylinder": Group, "anilox": Group, "die": Group}."""
        if self._groups is None:
            self._groups = {"cylinder": self.cylinder_group(), "anilox": self.anilox_group(),
                            "die": self.die_group()}
        return self._groups

    def tools(self, kind):
        return list(self.shop.tools[kind].values())

    def cylinder_group(self):
        places = {row.station: row for row in self.printing} if self.extent else {}
        cylinders = self.tools("cylinder")
        judged = {(number, cylinder): rules.suits_cylinder(self, row, cylinder)
                  .add(rules.there(self, cylinder))
                  for number, row in places.items() for cylinder in cylinders}
        return choose.Group(
            list(places), cylinders, judged, self.tools("gear"),
            lambda cylinder, gear: rules.suits_gear(self, cylinder, gear).add(rules.there(self, gear)),
            lambda cylinder: self.geared and cylinder.drive == "demountable",
            lambda chosen: half_up(self.spread(chosen) * 1000))

    def anilox_group(self):
        places = {row.station: row for row in self.printing}
        rolls = self.tools("anilox")
        judged = {(number, roll): rules.suits_anilox(self, row, roll).add(rules.there(self, roll))
                  for number, row in places.items() for roll in rolls}
        deviations = {(number, roll): self.deviation(row, roll)
                      for number, row in places.items() for roll in rolls}
        return choose.Group(
            list(places), rolls, judged, self.tools("blade"),
            lambda roll, blade: rules.suits_blade(self, roll, blade).add(rules.there(self, blade)),
            lambda roll: True,
            lambda chosen: sum(deviations[number, roll] for number, roll in chosen.items() if roll))

    def die_group(self):
        places = {row.cut: row for row in self.cuts} if self.extent else {}
        dies = self.tools("die")
        judged = {(number, die): rules.suits_die(self, row, die).add(rules.there(self, die))
                  for number, row in places.items() for die in dies}
        return choose.Group(
            list(places), dies, judged, self.tools("magnetic_cylinder"),
            lambda die, magnetic: rules.suits_magnetic_cylinder(self, die, magnetic)
            .add(rules.there(self, magnetic)),
            lambda die: die.build == "flexible",
            lambda chosen: 0)

    def spread(self, chosen):
        """Largest less smallest printed diameter over the registered stations, unrounded."""
        diameters = []
        for row in self.printing:
            cylinder = chosen.get(row.station)
            if row.registered and cylinder is not None:
                key = (row, cylinder)
                if key not in self.there_cache:
                    self.there_cache[key] = rules.printed_diameter(row, cylinder)
                if self.there_cache[key] is not None:
                    diameters.append(self.there_cache[key])
        return max(diameters) - min(diameters) if diameters else 0

    def deviation(self, station, roll):
        """abs(volume at the end - asked)/asked in tenths of a percent, rounded half up."""
        if station.volume is None:
            return 0
        volume = rules.volume_at_end(self, roll)
        if volume is None:
            return 1000
        return half_up(abs(volume - station.volume) / station.volume * 1000)

    def best(self):
        """{"cylinder": (score, chosen, parts), ...}: one best choice."""
        if self._best is None:
            self._best = {name: group.best() for name, group in self.groups.items()}
        return self._best

    def best_choice(self):
        """The best choice as {need: {station or cut: tool or None}}."""
        choice = {}
        for name, part_need in (("cylinder", "gear"), ("anilox", "blade"), ("die", "magnetic_cylinder")):
            _, chosen, parts = self.best()[name]
            choice[name] = chosen
            choice[part_need] = {place: parts.get(tool) if tool else None
                                 for place, tool in chosen.items()}
        return choice

    # -- what must be found --

    def findings(self, choice):
        """{(need, station, cut): Finding} once the tools are chosen."""
        found = {}
        self.find_press(found)
        self.find_web_and_repeat(found)
        self.find_tools(found, choice)
        for row in self.printing:
            if row.plates is None:
                add(found, ("plates", row.station, None), "note", "plates.unknown")
            elif row.plates != "ready":
                add(found, ("plates", row.station, None), "caution", "plates." + row.plates)
        if not rules.within_limit("spread", self.spread(choice["cylinder"]), self.shop.settings["spread"]):
            add(found, ("cylinder", None, None), "caution", "spread")
        return found

    def taken_until(self):
        """The ends of the other jobs that run on the press asked over that time; infinity: not known."""
        ends = [rules.ends_of(job) for job in rules.running_on(self, self.press.id)]
        # One that still runs though its end has passed: nobody knows until when.
        return [math.inf if end <= self.now and end <= self.start else end for start, end in ends
                if rules.overlap(self.start, self.end, start, end) or (end <= self.now and end <= self.start)]

    def find_press(self, found):
        for end in self.taken_until():
            if end == math.inf:
                add(found, ("press", None, None), "caution", "press.end_not_known")
            else:
                add(found, ("press", None, None), "short", "press.taken")
        for row in self.stations:
            key = ("press", row.station, None)
            place = self.shop.station_place(self.press, row.station)
            if place is None:
                add(found, key, "short", "press.station_missing")
            else:
                if place.condition == "hold":
                    add(found, key, "short", "press.station_held")
                if place.processes and row.process not in place.processes:
                    add(found, key, "short", "press.process")
            if row.process not in PRINTING:
                add(found, key, "note", "press." + row.process)
        for row in self.cuts:
            key = ("press", None, row.cut)
            place = self.shop.station_place(self.press, row.cut, die=True)
            if place is None:
                add(found, key, "short", "press.die_station_missing")
            elif place.condition == "hold":
                add(found, key, "short", "press.die_station_held")

    def find_web_and_repeat(self, found):
        judgement = rules.Judgement()
        judgement.at_most("web.stock", self.web_needed, self.web)
        judgement.at_most("web.press", self.web, self.press.web)
        for rule in judgement.failures:
            add(found, ("web", None, None), "short", rule)
        judgement = rules.Judgement()
        if self.extent is None:
            judgement.require("repeat.no_candidate", False)
        else:
            self.judge_repeat(judgement)
        for rule in judgement.failures:
            add(found, ("repeat", None, None), "short", rule)

    def judge_repeat(self, judgement):
        job = self.job
        if self.number_around is None:
            judgement.require("repeat.number_around", None)
        if job.gap_around_min is not None:
            judgement.at_most("repeat.gap_min", job.gap_around_min, self.gap_around)
        if job.gap_around_max is not None:
            judgement.at_most("repeat.gap_max", self.gap_around, job.gap_around_max)
        rules.require_within_press(self, judgement, "repeat.range", self.repeat)
        if self.geared:
            judgement.require("repeat.train", rules.in_train(self, self.pitch))

    def find_tools(self, found, choice):
        for need, part_need in (("cylinder", "gear"), ("anilox", "blade"), ("die", "magnetic_cylinder")):
            group = self.groups[need]
            for place in group.places:
                where = (None, place) if need == "die" else (place, None)
                tool, part = choice[need][place], choice[part_need][place]
                if tool is None:
                    add(found, (need,) + where, "short", need + ".missing")
                    continue
                add_doubts(found, (need,) + where, group.judged[place, tool])
                if not group.needs_part(tool):
                    continue
                if part is None:
                    add(found, (part_need,) + where, "short", part_need + ".missing")
                else:
                    add_doubts(found, (part_need,) + where, group.part_judged(tool, part))

    def verdict(self, choice=None):
        return verdict_of(self.findings(choice or self.best_choice()))

    def with_die(self, quantifier=all):
        """Has every cut (or with `any`, some cut) a die that suits, there or not?"""
        return quantifier(any(rules.suits_die(self, row, die).ok for die in self.tools("die"))
                          for row in self.cuts)

    def rank(self, choice=None, quantifier=all):
        """What candidates are ranked by, before the sum of run: smaller is better."""
        area = None if self.repeat is None or self.printed_width is None \
            else len(self.printing) * self.repeat * self.printed_width
        return (VERDICTS.index(self.verdict(choice)), not self.with_die(quantifier),
                0 if self.waste is None else half_up(self.waste * 100), area or 0)


def web_needed(job):
    if None in (job.number_across, job.label_across, job.trim):
        return None
    if job.number_across > 1 and job.gap_across is None:
        return None
    return job.number_across * job.label_across \
        + (job.number_across - 1) * (job.gap_across or 0) + 2 * job.trim


def add(found, key, level, rule, optional=False):
    """A finding, or more of one: the highest level, and every rule."""
    old = found.get(key, Finding("note", (), True))
    highest = max(old.level, level, key=LEVELS.index)
    found[key] = Finding(highest, old.rules + (rule,), old.optional and optional)


def add_doubts(found, key, judgement):
    for level, doubts in (("caution", judgement.cautions), ("note", judgement.notes)):
        for rule in doubts:
            add(found, key, level, rule)
    for rule in judgement.open_notes:
        add(found, key, "note", rule, optional=True)


def verdict_of(found):
    levels = {finding.level for finding in found.values()}
    return "short" if "short" in levels else "caution" if "caution" in levels else "ready"


class Expected:
    """What is expected of one press: its layouts, best first where the job is new."""

    def __init__(self, press, layouts, new):
        self.press, self.layouts, self.new = press, layouts, new

    @property
    def best(self):
        return min(self.layouts, key=lambda layout: layout.rank()) if self.new else self.layouts[0]


def candidates(shop, job, press, span, any_around=False):
    """The lengths of the shelf's cylinders that suit some registered station (some station, where none
    is registered; in a job that prints nothing all of them), each with every number around whose gap
    is in limits. On a geared press a candidate is teeth and pitch, on a servo press a length."""
    found = {}
    for cylinder in shop.tools["cylinder"].values():
        extent = extent_of(cylinder)
        if extent is None or cylinder.condition == "scrapped":
            continue
        trial = Layout(shop, job, press, span, (extent, cylinder.teeth, cylinder.pitch), None)
        asked = [row for row in trial.printing if row.registered] or trial.printing
        if not asked or any(rules.suits_cylinder(trial, row, cylinder).ok for row in asked):
            key = (cylinder.teeth, cylinder.pitch) if trial.geared else extent
            found.setdefault(key, (extent, cylinder.teeth, cylinder.pitch))
    return [Layout(shop, job, press, span, repeat, around)
            for repeat in found.values() for around in numbers_around(job, repeat[0], any_around)]


def numbers_around(job, extent, any_around=False):
    """Every number around whose gap is in limits, `any_around` whatever the job says; labels never overlap."""
    if job.label_around is None:
        return []
    least = job.gap_around_min if job.gap_around_min is not None else 0
    most = int(extent.mm / (job.label_around + least)) if job.label_around + least > 0 else 0
    return [around for around in range(1, most + 1)
            if (any_around or job.number_around in (None, around))
            and (job.gap_around_max is None
                 or extent.mm / around - job.label_around <= job.gap_around_max)]


def span_of(job, now, start=None, end=None):
    """From: as given, else the job's, else now; until: as given, else the job's where it is not
    before from, else from."""
    start = start if start is not None else job["from"] if job["from"] is not None else now
    if end is None:
        end = job.until if job.until is not None and job.until >= start else start
    return start, end, now


def check(shop, job_number, press=None, start=None, end=None, now=None):
    """{press code: Expected} for `check JOB`."""
    job = shop.jobs[job_number]
    now = moment(NOW) if now is None else now
    span = span_of(job, now, start, end)
    codes = [press] if press else job.press or [
        code for code, record in shop.presses.items() if not record.retired]
    new = job.teeth is None and job.repeat is None
    answer = {}
    for code in codes:
        record = shop.presses[code]
        if new:
            layouts = candidates(shop, job, record, span)
            none = not layouts
            if none:
                layouts = [Layout(shop, job, record, span, None, job.number_around)]
            answer[code] = Expected(record, layouts, not none)
        else:
            repeat = (extent_of(job), job.teeth, job.pitch)
            answer[code] = Expected(
                record, [Layout(shop, job, record, span, repeat, job.number_around)], False)
    return answer


def show(layout):
    """A layout's answer in plain words for JSON, for people who look for a difference."""
    choice = layout.best_choice()
    shown = {
        "press": layout.press.id, "from": moment_text(layout.start), "until": moment_text(layout.end),
        "verdict": layout.verdict(choice), "teeth": layout.teeth, "number_around": layout.number_around,
        "scores": {name: best[0] for name, best in layout.best().items()},
        "choice": {need: {str(place): tool and tool.id for place, tool in places.items()}
                   for need, places in choice.items()},
        "findings": ["%s: %s: %s" % (key, finding.level, ", ".join(finding.rules))
                     for key, finding in sorted(layout.findings(choice).items(), key=str)],
        "kept out": kept_out(layout),
    }
    for name in ("repeat", "gap_around", "web_needed", "printed_width", "run", "waste"):
        value = getattr(layout, name)
        shown[name] = None if value is None else round(float(value), 6)
    return shown


def kept_out(layout):
    """Why each tool may not serve."""
    lines = []
    for need, group in layout.groups.items():
        for place in group.places:
            for tool in group.tools:
                failures = group.judged[place, tool].failures
                if failures:
                    lines.append("%s %s: %s" % (place, tool.id, ", ".join(failures)))
    return lines


def main(words):
    given = dict(word.split("=", 1) for word in words[2:])
    shop = read_shop(words[0])
    answer = check(shop, words[1], given.get("press"),
                   moment(given["from"]) if "from" in given else None,
                   moment(given["until"]) if "until" in given else None)
    for expected in answer.values():
        print(json.dumps([show(layout) for layout in expected.layouts], indent=1, default=float))


if __name__ == "__main__":
    main(sys.argv[1:])

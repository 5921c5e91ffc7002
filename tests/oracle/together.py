"""All planned jobs together, worked out a second time: every set of jobs, every press and repeat, every tool is tried.

    python3 together.py FOLDER [DAYS]      prints what is expected for the shop in FOLDER

A tool suits and is there by the rules of the check (rules.py); between the jobs only one thing is new: nothing serves two at a time, and a tool
is free again one turnaround after its job. The three groups of tools do not touch each other, so each is tried alone.
"""

import functools
import json
import sys
from collections import namedtuple

import oracle
from shop import read_shop
from values import moment, moment_text

PARTS = {"cylinder": "gear", "anilox": "blade", "die": "magnetic_cylinder"}
GROUP_OF = dict([(name, name) for name in PARTS] + [(part, name) for name, part in PARTS.items()] + [("press", "press")])

# `ways`: {tool: parts}, the parts None where none goes beside it.
Need = namedtuple("Need", "group number ways")
# `free`: no job that runs on the press overlaps.
Option = namedtuple("Option", "press free layout needs")


class Planned:
    """A job of the horizon: it holds its press from start to end, its tools until `free`."""

    def __init__(self, shop, job, span):
        self.job, self.id = job, job.id
        self.start, self.end, _ = span
        self.free = max(self.end + int(shop.settings["turnaround"]), self.start + 1)
        self.end = max(self.end, self.start + 1)
        self.options, self.alive = [], []

    def ways(self, group, number, alive=False):
        """{(tool, part)} that would do for a need on some press with some repeat; `alive`: on one of those."""
        return frozenset().union(*(pairs_of(need) for option in (self.alive if alive else self.options) for need in option.needs
                                   if (need.group, need.number) == (group, number)))

    def needs(self, group):
        """The numbers of its needs of a group."""
        return [need.number for need in self.options[0].needs if need.group == group] if self.options else []


class Together:
    """The jobs of a horizon, and what they come to."""

    def __init__(self, shop, now, until):
        self.shop, self.jobs = shop, []
        for job in shop.jobs.values():
            if job.state not in (None, "planned") or job["from"] is None:
                continue
            span = oracle.span_of(job, now)
            if span[0] < until and span[1] >= now:
                planned = Planned(shop, job, span)
                planned.options = list(self.options_of(job, now))
                self.jobs.append(planned)
        self.jobs.sort(key=lambda planned: (planned.start, planned.id))
        self.can_all = functools.lru_cache(maxsize=None)(self.can_all)
        self.best = functools.lru_cache(maxsize=None)(self.best)
        for at, planned in enumerate(self.jobs):
            planned.alive = self.alive(at, planned.options)

    def alive(self, at, options):
        """The options on which the job could run were it alone; else those of which every need could be met were it alone, else those of which
        every need has a tool though nothing to go with it, else all."""
        alone = [option for number, option in enumerate(options) if option.free and all(self.can_all(group, ((at, number),)) for group in PARTS)]
        met = [option for option in options if all(most_met((pairs_of(need),)) for need in option.needs)]
        return alone or met or [option for option in options if all(need.ways for need in option.needs)] or options

    def options_of(self, job, now):
        """Every press that takes the job, with every repeat it could run on."""
        for code, expected in oracle.check(self.shop, job.id, now=now).items():
            for layout in expected.layouts:
                found = {}
                layout.find_press(found)
                layout.find_web_and_repeat(found)
                taken = found.pop(("press", None, None), None)
                if not any(finding.level == "short" for finding in found.values()):
                    yield Option(code, taken is None or taken.level != "short", layout, list(needs_of(layout)))

    # -- who can be served --

    def presses_hold(self, chosen):
        spans = [(self.jobs[at].options[option].press, self.jobs[at]) for at, option in chosen]
        return not any(one[0] == other[0] and one[1].start < other[1].end and other[1].start < one[1].end
                       for at, one in enumerate(spans) for other in spans[:at])

    def can_all(self, group, chosen):
        """Can all needs of a group be met for these jobs, each on that option? `chosen`: ((job, option), ...)."""
        needs = [(self.jobs[at], need) for at, option in chosen for need in self.jobs[at].options[option].needs if need.group == group]
        uses = {}
        for moment_of_start in {planned.start for planned, _ in needs}:
            open_now = [pairs_of(need) for planned, need in needs if planned.start <= moment_of_start < planned.free]
            if most_met(tuple(open_now)) < len(open_now):
                return False

        def free(tool, planned):
            return all(planned.start >= until or planned.free <= start for start, until in uses.get(tool, ()))

        def ways(planned, need):
            return [(tool, part) for tool, parts in need.ways.items() if free(tool, planned)
                    for part in ((None,) if parts is None else parts) if part is None or free(part, planned)]

        def extend(left):
            if not left:
                return True
            found = [(ways(*one), at) for at, one in enumerate(left)]
            fewest, at = min(found, key=lambda pair: len(pair[0]))
            planned = left[at][0]
            for pair in fewest:
                for tool in pair:
                    if tool is not None:
                        uses.setdefault(tool, []).append((planned.start, planned.free))
                if extend(left[:at] + left[at + 1:]):
                    return True
                for tool in pair:
                    if tool is not None:
                        uses[tool].pop()
            return False

        return extend(needs)

    def best(self):
        """(most jobs served, one such choice {job: option})."""
        most, choice = 0, ()

        def extend(at, chosen):
            nonlocal most, choice
            if len(chosen) > most:
                most, choice = len(chosen), chosen
            if at == len(self.jobs) or len(chosen) + len(self.jobs) - at <= most:
                return
            for option in range(len(self.jobs[at].options)):
                more = chosen + ((at, option),)
                if self.jobs[at].options[option].free and self.presses_hold(more) and all(self.can_all(group, more) for group in PARTS):
                    extend(at + 1, more)
            extend(at + 1, chosen)

        extend(0, ())
        return most, {self.jobs[at].id: self.jobs[at].options[option] for at, option in choice}

    # -- what is certain to be short --

    def moments(self):
        """The spans between which nothing starts or ends."""
        edges = sorted({edge for planned in self.jobs for edge in (planned.start, planned.end, planned.free)})
        return list(zip(edges, edges[1:]))

    def open_needs(self, group, start):
        """[(job, number)] of a group, open at a moment."""
        return [(planned, number) for planned in self.jobs if planned.options and planned.start <= start
                and start < (planned.end if group == "press" else planned.free)
                for number in ((None,) if group == "press" else planned.needs(group))]

    def deficits(self, alive=False):
        """{(group, start, end): how many open needs must go without}; `alive`: a press or repeat on which the job could not run even were it
        alone leads nowhere. Otherwise what goes with a tool for one need does so for all, as where a servo press takes without a gear the cylinder
        that a geared one takes with: that much a flow through tools and parts must find."""
        found = {}
        for start, end in self.moments():
            for group in (*PARTS, "press"):
                rows = [self.row_ways(*row, group, alive) for row in self.open_needs(group, start)]
                if not alive:
                    parts = {pair for row in rows for pair in row}
                    rows = [frozenset((tool, part) for tool, part in parts if any(tool == own for own, _ in row)) for row in rows]
                short = len(rows) - most_met(tuple(rows))
                if short:
                    found[group, start, end] = short
        return found

    @staticmethod
    def row_ways(planned, number, group, alive):
        if group == "press":
            return frozenset((option.press, None) for option in (planned.alive if alive else planned.options) if option.free)
        return planned.ways(group, number, alive)


def pairs_of(need):
    """{(tool, part)} that would do for a need."""
    return frozenset((tool, part) for tool, parts in need.ways.items() for part in ((None,) if parts is None else parts))


def needs_of(layout):
    for name, group in layout.groups.items():
        for place in group.places:
            yield Need(name, place, {tool: group.part_options(tool) if group.needs_part(tool) else None for tool in group.options[place]})


def most_met(rows):
    """The most rows that can each have a way, (tool, part), of its own: each tool and part once. Tries all, remembering what is used."""
    @functools.lru_cache(maxsize=None)
    def most(at, used):
        if at == len(rows):
            return 0
        best = most(at + 1, used)
        for tool, part in rows[at]:
            if best == len(rows) - at:
                break
            if tool not in used and part not in used:
                best = max(best, 1 + most(at + 1, used | {tool} | ({part} if part is not None else set())))
        return best

    return most(0, frozenset())


def main(words):
    shop = read_shop(words[0])
    now = moment(oracle.NOW)
    together = Together(shop, now, now + int(words[1] if words[1:] else 14) * 86400)
    most, choice = together.best()
    print(json.dumps({
        "served": most, "planned": len(together.jobs), "choice": {job: option.press for job, option in choice.items()},
        "deficits": [[group, moment_text(start), moment_text(end), short] for (group, start, end), short in together.deficits().items()],
        "jobs": {planned.id: [[option.press, option.layout.teeth, [
            [need.group, need.number, {tool.id: parts and [part.id for part in parts] for tool, parts in need.ways.items()}]
            for need in option.needs]] for option in planned.options] for planned in together.jobs}}, indent=1))


if __name__ == "__main__":
    main(sys.argv[1:])

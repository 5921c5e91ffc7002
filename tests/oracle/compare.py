"""The program's answer beside the expected one: every difference, in words.

The tools that the program chose are scored by the oracle: any choice equally good in items 1-4 of
check.md passes, with a sum of `run` that is not larger; then the findings must be those that this
very choice asks for.
"""

import math

import choose
import combinations
import cures
import oracle
import rules
from values import PI, extent_of, moment, moment_text, pitch

PART = {"cylinder": "gear", "anilox": "blade", "die": "magnetic_cylinder"}


def compare(shop, words, answer, tags):
    """Differences between a `check` answer and what is expected; `words` are the check's arguments,
    `tags` maps the program's tags to the names of the CSV."""
    given = dict(word.split("=", 1) for word in words[1:])
    expected = oracle.check(shop, words[0], given.get("press"),
                            moment(given["from"]) if "from" in given else None,
                            moment(given["until"]) if "until" in given else None)
    answers = [answer] + list(answer.get("others") or [])
    codes = [one.get("press") for one in answers]
    if sorted(map(str, codes)) != sorted(expected):
        return ["presses checked: %s, expected %s" % (codes, sorted(expected))]
    differences, ranks = [], []
    for one in answers:
        press = Comparison(shop, expected[one["press"]], one, tags)
        press.run()
        differences += ["press %s: %s" % (one["press"], text) for text in press.differences]
        ranks.append(press.rank)
        if one is answer and not press.differences:
            differences += combinations.judge(shop, press.layout, answer)
    for better, worse in zip(ranks, ranks[1:]):
        if better is not None and worse is not None and out_of_order(better, worse):
            differences.append("presses out of order: %s stands before %s" % (better, worse))
    return differences


def out_of_order(better, worse):
    """Verdict first; then, where both have a die or neither has, waste, plate area, sum of run."""
    if better[0] != worse[0]:
        return better[0] > worse[0]
    if better[1] != worse[1]:
        return False
    return better > worse


class Comparison:
    """One press's answer beside what is expected of it."""

    def __init__(self, shop, expected, answer, tags):
        self.shop, self.expected, self.answer, self.tags = shop, expected, answer, tags
        self.differences = []
        self.rank = None

    def say(self, text, *values):
        self.differences.append(text % values if values else text)

    def equal(self, name, got, wanted):
        if got != wanted:
            self.say("%s: %s, expected %s", name, got, wanted)

    def close(self, name, got, exact, places):
        """A figure rounded to so many decimals (the last one may fall either way at a half)."""
        if exact is None or got is None:
            self.equal(name, got, None if exact is None else round(float(exact), places + 2))
        elif abs(got - float(exact)) > 0.5000001 * 10 ** -places + 1e-9:
            self.say("%s: %s, expected %s", name, got, round(float(exact), places + 2))

    def run(self):
        layout = self.layout = self.find_layout()
        if layout is None:
            return
        self.compare_figures(layout)
        choice = self.read_choice(layout)
        if choice is None:
            return
        if not self.compare_choice(layout, choice):
            return
        self.compare_stations(layout, choice)
        self.compare_findings(layout, choice)
        self.compare_rank(layout, choice)
        if not any(cure["kind"] == "time" for cure in self.answer.get("cures") or []) \
                and cures.free_press_helps(self.shop, layout):
            self.say("no cure of a later time, though the press is then free")
        if not self.differences:
            for cure in self.answer.get("cures") or []:
                wrong = cures.judge(self.shop, layout, cure, self.tags)
                if wrong:
                    self.say("%s", wrong)

    # -- figures --

    def find_layout(self):
        """The layout that was answered: for a new job, the candidate chosen."""
        if not self.expected.new:
            return self.expected.layouts[0]
        matching = [layout for layout in self.expected.layouts if self.is_answered(layout)]
        if matching:
            # Two lengths may read the same when rounded: the better is meant.
            return min(matching, key=lambda layout: candidate_rank(layout, all))
        self.say("repeat: teeth %s, %s mm, %s around is no candidate; expected one of %s",
                 self.answer.get("teeth"), self.answer.get("repeat_mm"), self.answer.get("number_around"),
                 [(layout.teeth, round(float(layout.repeat), 3), layout.number_around)
                  for layout in self.expected.layouts])
        return None

    def is_answered(self, layout):
        repeat = self.answer.get("repeat_mm")
        if self.answer.get("number_around") != layout.number_around or repeat is None:
            return False
        if layout.geared and (self.answer.get("teeth"), self.pitch()) != (layout.teeth, layout.pitch):
            return False
        return abs(repeat - float(layout.repeat)) <= 0.00051

    def pitch(self):
        text = self.answer.get("pitch")
        return None if text is None else pitch(text)

    def compare_figures(self, layout):
        answer = self.answer
        self.equal("job", answer.get("job"), layout.job.id)
        self.equal("from", answer.get("from"), moment_text(layout.start))
        self.equal("until", answer.get("until"), moment_text(layout.end))
        self.equal("number_across", answer.get("number_across"), layout.job.number_across)
        if not self.expected.new:
            self.equal("teeth", answer.get("teeth"), layout.teeth)
            self.equal("pitch", self.pitch(), layout.pitch)
        if layout.extent is not None:
            self.equal("number_around", answer.get("number_around"), layout.number_around)
        self.close("repeat_mm", answer.get("repeat_mm"), layout.repeat, 3)
        self.close("gap_around_mm", answer.get("gap_around_mm"), layout.gap_around, 3)
        self.close("web_needed_mm", answer.get("web_needed_mm"), layout.web_needed, 3)
        self.close("printed_width_mm", answer.get("printed_width_mm"), layout.printed_width, 3)
        self.close("run_m", answer.get("run_m"), None if layout.run is None else layout.run / 1000, 1)
        self.close("waste_percent", answer.get("waste_percent"),
                   None if layout.waste is None else layout.waste * 100, 1)

    # -- the choice --

    def tool(self, kind, tag):
        """The record of a tag that the program names; None for none."""
        if tag is None:
            return None
        return self.shop.tools[kind].get(self.tags.get(tag))

    def read_choice(self, layout):
        """{need: {place: tool or None}} as the program answered; None where it cannot be read."""
        rows = {row.get("station"): row for row in self.answer.get("stations") or []}
        cuts = {row.get("cut"): row for row in self.answer.get("cuts") or []}
        self.equal("stations", sorted(rows, key=str), [row.station for row in layout.stations])
        self.equal("cuts", sorted(cuts, key=str), [row.cut for row in layout.cuts])
        if self.differences and (len(rows) != len(layout.stations) or len(cuts) != len(layout.cuts)):
            return None
        choice = {need: {} for pair in PART.items() for need in pair}
        printing = {row.station for row in layout.printing}
        for need in ("cylinder", "gear", "anilox", "blade"):
            for number, row in rows.items():
                if number in printing and (layout.extent or need in ("anilox", "blade")):
                    choice[need][number] = self.chosen(need, row, "station %s" % number)
                else:
                    self.equal("station %s %s" % (number, need), row.get(need), None)
        for number, row in cuts.items():
            if layout.extent is None:
                self.equal("cut %s die" % number, row.get("die"), None)
                continue
            for need in ("die", "magnetic_cylinder"):
                choice[need][number] = self.chosen(need, row, "cut %s" % number)
        self.forgive_named(layout, choice)
        return choice

    def chosen(self, need, row, where):
        tag = row.get(need)
        tool = self.tool(need, tag)
        if tag is not None and tool is None:
            self.say("%s: %s is no %s", where, tag, need)
        return tool

    def forgive_named(self, layout, choice):
        """A named die that breaks a rule may still stand in `cuts`; it counts as none."""
        for row in layout.cuts:
            die = choice["die"].get(row.cut)
            if die is not None and die.id == row.die and not layout.groups["die"].judged[row.cut, die].ok:
                choice["die"][row.cut] = None

    def compare_choice(self, layout, choice):
        """Is the choice valid, and as good as the best in items 1-4, and no longer run?"""
        good = True
        for need, part_need in PART.items():
            group = layout.groups[need]
            best = layout.best()[need][0]
            try:
                score = group.score(choice[need], choice[part_need])
            except choose.Refused as refused:
                self.say("%s: %s", need, refused)
                good = False
                continue
            if score != best:
                self.say("%s and %s: chosen %s scores (missing, unmet, cautions, %s, run) %s, best %s with %s",
                         need, part_need, named(choice[need], choice[part_need]),
                         {"cylinder": "spread", "anilox": "deviation", "die": "-"}[need],
                         plain(score), plain(best), named_best(layout.best()[need]))
        return good

    # -- what follows from the choice --

    def compare_stations(self, layout, choice):
        rows = {row.get("station"): row for row in self.answer["stations"]}
        for row in layout.printing:
            got, where = rows[row.station], "station %d " % row.station
            roll = choice["anilox"][row.station]
            self.close(where + "volume_cm3_m2", got.get("volume_cm3_m2"),
                       rules.volume_at_end(layout, roll) if roll else None, 2)
            self.equal(where + "plates", got.get("plates"), row.plates)
            self.equal(where + "process", got.get("process"), row.process)
            stretch = None
            if None not in (row.plate, row.base, layout.repeat):
                stretch = 2 * PI * (row.plate - row.base)
            self.close(where + "factor_percent", got.get("factor_percent"),
                       None if stretch is None else 100 * (1 - stretch / layout.repeat), 2)
            self.close(where + "flat_length_mm", got.get("flat_length_mm"),
                       None if stretch is None else layout.repeat - stretch, 3)
            cylinder = choice["cylinder"].get(row.station)
            printed = rules.printed_diameter(row, cylinder) if cylinder else None
            self.close(where + "buildup_error_mm", got.get("buildup_error_mm"),
                       None if printed is None else PI * printed - extent_of(cylinder).mm, 3)

    def compare_findings(self, layout, choice):
        wanted = layout.findings(choice)
        got = {}
        for finding in self.answer.get("findings") or []:
            key = (finding.get("need"), finding.get("station"), finding.get("cut"))
            if key in got:
                self.say("finding twice: %s", key)
            got[key] = finding
        for key in sorted(set(got) | set(wanted), key=str):
            if key not in got:
                if not wanted[key].optional:
                    self.say("finding missing: %s %s: %s", wanted[key].level, key, ", ".join(wanted[key].rules))
            elif key not in wanted:
                # That a press asked for by name is retired is said beside the rules.
                if key == ("press", None, None) and got[key].get("level") == "note":
                    continue
                self.say("finding not expected: %s %s: %s", got[key].get("level"), key, got[key].get("text"))
            elif got[key].get("level") != wanted[key].level:
                self.say("finding %s: %s, expected %s (%s)", key, got[key].get("level"),
                         wanted[key].level, ", ".join(wanted[key].rules))
            else:
                self.compare_evidence(layout, choice, key, got[key])
                self.compare_until(layout, key, got[key])
        self.equal("verdict", self.answer.get("verdict"), oracle.verdict_of(wanted))

    def compare_until(self, layout, key, finding):
        """Of a press that is taken: until when, and so what would cure it."""
        ends = [end for end in layout.taken_until() if end != math.inf]
        if key != ("press", None, None) or not ends:
            return
        self.equal("finding %s until" % (key,), finding.get("until"), moment_text(max(ends)))

    def compare_evidence(self, layout, choice, key, finding):
        """The tools and stations of a lack: a Hall set, or near misses."""
        need, station, cut = key
        if finding["level"] != "short" or need not in choice:
            return
        where = "finding %s" % (key,)
        tools = finding.get("tools") or []
        for tag in tools:
            if tag not in self.tags:
                self.say("%s: tag not known: %s", where, tag)
            elif tag not in (finding.get("text") or ""):
                self.say("%s: text does not name %s", where, tag)
        wanted, have = finding.get("wanted"), finding.get("have")
        if wanted is None or have is None or have >= wanted:
            self.say("%s: wanted %s, have %s", where, wanted, have)
        if need in ("die", "magnetic_cylinder"):
            return
        competing = set(finding.get("stations") or []) | {station}
        shared = set()
        for place in competing:
            options = self.options(layout, choice, need, place)
            if options is None:
                self.say("%s: station %s does not compete", where, place)
                return
            shared.update(tool.id for tool in options)
        for place, other in choice[need].items():
            options = self.options(layout, choice, need, place) if other is None else None
            if options and shared & {tool.id for tool in options} and place not in competing:
                self.say("%s: station %s is left out too, and competes for the same", where, place)
        if not shared:
            if len(tools) > 5:
                self.say("%s: %d near misses, at most 5", where, len(tools))
        elif {self.tags.get(tag) for tag in tools} != shared or len(competing) <= len(shared):
            self.say("%s: no Hall set: stations %s could use %s, named are %s", where, sorted(competing),
                     sorted(shared), sorted(str(self.tags.get(tag)) for tag in tools))

    @staticmethod
    def options(layout, choice, need, place):
        """The tools that a station could use; None where it has no such need."""
        if need in ("cylinder", "anilox"):
            return layout.groups[need].options.get(place)
        main = "cylinder" if need == "gear" else "anilox"
        tool = choice[main].get(place)
        if tool is None or not layout.groups[main].needs_part(tool):
            return None
        return layout.groups[main].part_options(tool)

    def compare_rank(self, layout, choice):
        """The candidate chosen for a new job is best; and what the presses are ranked by."""
        run = sum(choose.run_sum(places) for places in choice.values())
        rank = layout.rank(choice)
        if layout.repeat is not None and layout.printed_width is not None and layout.waste is not None:
            self.rank = (rank[0], rank[1] if self.expected.new else False) + rank[2:] + (run,)
        if not self.expected.new:
            return
        ranked = {}
        for quantifier in (all, any):
            ranks = [candidate_rank(one, quantifier) for one in self.expected.layouts]
            if candidate_rank(layout, quantifier) == min(ranks):
                return
            ranked[quantifier] = min(ranks)
        best = self.expected.best
        self.say("candidate: %s around at %s mm ranks %s, expected %s around at %s mm ranking %s",
                 layout.number_around, round(float(layout.repeat), 3), plain(candidate_rank(layout, all)),
                 best.number_around, round(float(best.repeat), 3), plain(ranked[all]))


def candidate_rank(layout, quantifier):
    """Verdict, a die that suits, waste, plate area, sum of run."""
    return layout.rank(None, quantifier) + (sum(best[0][4] for best in layout.best().values()),)


def plain(score):
    return tuple(value if isinstance(value, (int, bool)) else round(float(value), 3) for value in score)


def named(chosen, parts):
    return {place: (tool and tool.id, parts.get(place) and parts[place].id)
            for place, tool in chosen.items()}


def named_best(best):
    _, chosen, parts = best
    return {place: (tool and tool.id, parts[tool].id if parts.get(tool) else None)
            for place, tool in chosen.items()}

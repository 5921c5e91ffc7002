"""Which tools, when several would do: every choice is tried.

A `Group` is one kind of tool for the places of a job, with the part that goes beside it: cylinders
with loose gears, rolls with blades, dies with magnetic cylinders. The groups do not touch each
other, so each is chosen alone and the counts are summed.

A score compares as check.md ranks: (places without a tool, needs unmet, needs at caution, the
group's own figure, sum of run). The first two are one item of check.md: a choice with the fewest
needs unmet can always keep the most places filled, since a loose part goes with the tool and not
with its place; and filled places are kept first.
"""


class Refused(Exception):
    """A choice that breaks a rule; says which."""


class Group:
    """`judged[place, tool]` and `judge_part(tool, part)` give Judgements with `there` counted in;
    `needs_part(tool)` says whether a part goes beside it; `figure(chosen)` is the group's own figure
    of a choice {place: tool}."""

    def __init__(self, places, tools, judged, parts, judge_part, needs_part, figure):
        self.places, self.tools, self.judged = places, tools, judged
        self.parts, self.needs_part, self.figure = parts, needs_part, figure
        self._judge_part = judge_part
        self._part_judged = {}
        self._part_best = {}
        self.options = {place: [tool for tool in tools if judged[place, tool].ok] for place in places}
        self.most = most_filled(places, self.options)

    def part_judged(self, tool, part):
        key = (tool, part)
        if key not in self._part_judged:
            self._part_judged[key] = self._judge_part(tool, part)
        return self._part_judged[key]

    def parts_judged(self):
        """The judgements of parts made so far."""
        return list(self._part_judged.values())

    def part_options(self, tool):
        return [part for part in self.parts if self.part_judged(tool, part).ok]

    def best_parts(self, tools):
        """The best parts for these tools: ((unmet, cautions, run), {tool: part})."""
        key = frozenset(tools)
        if key not in self._part_best:
            best = None
            for parts in every_choice(sorted(tools, key=order), self.part_options):
                score = self.part_score(parts)
                if best is None or score < best[0]:
                    best = (score, parts)
            self._part_best[key] = best
        return self._part_best[key]

    def part_score(self, parts):
        cautions = sum(bool(self.part_judged(tool, part).cautions)
                       for tool, part in parts.items() if part is not None)
        return (sum(part is None for part in parts.values()), cautions,
                sum(run_of(part) for part in parts.values()))

    def best(self):
        """(score, {place: tool or None}, {tool: part or None}) of a best choice."""
        best = None
        for chosen in every_choice(self.places, self.options.get, self.most):
            tools = [tool for tool in chosen.values() if tool is not None and self.needs_part(tool)]
            part_score, parts = self.best_parts(tools)
            head = self.head(chosen, part_score)
            if best is not None and head > best[0][:3]:
                continue
            score = head + (self.figure(chosen), run_sum(chosen) + part_score[2])
            if best is None or score < best[0]:
                best = (score, chosen, parts)
        return best

    def head(self, chosen, part_score):
        missing = sum(tool is None for tool in chosen.values())
        cautions = sum(bool(self.judged[place, tool].cautions)
                       for place, tool in chosen.items() if tool is not None)
        return (missing, missing + part_score[0], cautions + part_score[1])

    def score(self, chosen, parts):
        """The score of a given choice {place: tool or None}, {place: part or None}."""
        refuse_twice(chosen, parts)
        by_tool = {}
        for place in self.places:
            tool, part = chosen[place], parts[place]
            if tool is None:
                if part is not None:
                    raise Refused("%s: %s beside nothing" % (place, part.id))
                continue
            refuse_unfit(place, tool, self.judged[place, tool])
            if not self.needs_part(tool):
                if part is not None:
                    raise Refused("%s: %s is not needed beside %s" % (place, part.id, tool.id))
                continue
            by_tool[tool] = part
            if part is not None:
                refuse_unfit(tool.id, part, self.part_judged(tool, part))
        part_score = self.part_score(by_tool)
        return self.head(chosen, part_score) + (self.figure(chosen), run_sum(chosen) + part_score[2])


def order(tool):
    return tool.order


def run_of(tool):
    return 0 if tool is None else (tool.run or 0)


def run_sum(chosen):
    return sum(run_of(tool) for tool in chosen.values())


def refuse_unfit(place, tool, judgement):
    if not judgement.ok:
        raise Refused("%s: %s may not serve: %s" % (place, tool.id, ", ".join(judgement.failures)))


def refuse_twice(chosen, parts):
    for used in (chosen, parts):
        ids = [tool.id for tool in used.values() if tool is not None]
        if len(ids) != len(set(ids)):
            raise Refused("one tool in two places: %s" % ids)


def most_filled(places, options):
    """The most places that can have a tool of their own (augmenting paths)."""
    holder = {}

    def fill(place, seen):
        for tool in options[place]:
            if tool in seen:
                continue
            seen.add(tool)
            if tool not in holder or fill(holder[tool], seen):
                holder[tool] = place
                return True
        return False

    return sum(fill(place, set()) for place in places)


def every_choice(places, options, most=None):
    """Every {place: tool or None} in which no tool stands twice; with `most`, only those with as
    many places filled (others cannot be best)."""
    places = list(places)
    least = most if most is not None else most_filled(places, {p: options(p) for p in places})
    spare = len(places) - least

    def extend(at, chosen, used, left_out):
        if at == len(places):
            yield dict(chosen)
            return
        place = places[at]
        for tool in options(place):
            if tool not in used:
                chosen[place] = tool
                yield from extend(at + 1, chosen, used | {tool}, left_out)
        if left_out < spare:
            chosen[place] = None
            yield from extend(at + 1, chosen, used, left_out + 1)

    return extend(0, {}, frozenset(), 0)

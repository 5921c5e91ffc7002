"""How often each rule decided something over many random shops (`generate.py --count`).

Four figures a rule: shops whose answer changes when the rule is left out; shops whose answer changes
when its limit is taken as exclusive; tools that it alone kept out, or put in doubt; shops with a value
exactly at its limit.
"""

import tempfile
from collections import Counter

import generate
import oracle
import rules
from shop import read_shop

# Findings that come from the job and the press, not from a tool: each is decisive by itself.
OF_THE_JOB = ("press", "web", "repeat", "plates", "spread")


def answer_of(shop):
    """All that is compared: scores, findings."""
    parts = []
    for code, expected in oracle.check(shop, "J1").items():
        for layout in expected.layouts:
            scores = [best[0][:4] for best in layout.best().values()]
            found = layout.findings(layout.best_choice())
            parts.append((code, layout.repeat, layout.number_around, scores,
                          sorted((str(key), finding.level) for key, finding in found.items())))
    return parts


def kept_out_alone(shop):
    """Rules that alone kept a tool out of a place, or put it in doubt."""
    alone = Counter()
    for expected in oracle.check(shop, "J1").values():
        for layout in expected.layouts:
            for group in layout.groups.values():
                group.best()
                for judgement in list(group.judged.values()) + group.parts_judged():
                    if len(judgement.failures) == 1:
                        alone[judgement.failures[0]] += 1
                    alone.update(set(judgement.cautions + judgement.notes))
    return alone


def changed_by(shop, before, rules_tried, switch):
    """The rules whose answer changes when they are put into a switch of `rules`."""
    changed = []
    for rule in rules_tried:
        switch.add(rule)
        if answer_of(shop) != before:
            changed.append(rule)
        switch.clear()
    return changed


class Tally:
    """What was counted so far."""

    def __init__(self):
        self.left_out, self.exclusive, self.alone = Counter(), Counter(), Counter()
        self.at_limit, self.found, self.verdicts = Counter(), Counter(), Counter()

    def add(self, shop):
        rules.AT_LIMIT.clear()
        alone = kept_out_alone(shop)
        before = answer_of(shop)
        at_limit = list(rules.AT_LIMIT)
        self.alone.update(alone)
        self.at_limit.update(at_limit)
        self.left_out.update(changed_by(shop, before, alone, rules.IGNORED))
        self.exclusive.update(changed_by(shop, before, at_limit, rules.EXCLUSIVE))
        for expected in oracle.check(shop, "J1").values():
            self.add_findings(expected)

    def add_findings(self, expected):
        best = expected.best
        kind = "candidate" if expected.new else "none" if best.extent is None else "repeat order"
        self.verdicts["%s, %d printing stations, %s" % (best.verdict(), len(best.printing), kind)] += 1
        for key, finding in best.findings(best.best_choice()).items():
            self.found[key[0] + " " + finding.level] += 1
            self.left_out.update(rule for rule in finding.rules if rule.split(".")[0] in OF_THE_JOB)

    def show(self):
        counters = (self.left_out, self.exclusive, self.alone, self.at_limit)
        print("%-36s %10s %10s %10s %10s" % ("rule", "left out", "exclusive", "alone", "at limit"))
        for rule in sorted(set().union(*counters)):
            print("%-36s %10d %10d %10d %10d" % ((rule,) + tuple(counter[rule] for counter in counters)))
        for counter in (self.found, self.verdicts):
            print()
            for key, count in sorted(counter.items()):
                print("%-44s %6d" % (key, count))


def main(shops):
    tally = Tally()
    for seed in range(1000, 1000 + shops):
        with tempfile.TemporaryDirectory() as folder:
            generate.write(seed, folder)
            shop = read_shop(folder)
        tally.add(shop)
    tally.show()

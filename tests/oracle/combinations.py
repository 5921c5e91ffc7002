"""What else a job could be run on where it is short: every press in use, repeat of the shelf and number around, worked out here."""

import compare
import cures
import oracle
import rules
from values import extent_of, pitch

LISTED = 3


def better_of(shop, asked):
    """What stands better than what was asked, where that is short; best first."""
    before = cures.worth(asked)[:2]
    if before[0] != oracle.VERDICTS.index("short"):
        return []
    return sorted((layout for layout in all_of(shop, asked) if cures.worth(layout)[:2] < before), key=rank_of)


def best(shop, asked):
    return better_of(shop, asked)[:LISTED]


def judge(shop, asked, answer):
    """What is wrong with the combinations of an answer; `asked`: the layout that it answers on its best press."""
    listed = answer.get("combinations")
    if listed is None:
        return ["combinations are not told"]
    better = better_of(shop, asked)
    ranks = [rank_of(layout) for layout in better[:LISTED]]
    wrong, told = [], []
    for one in listed:
        meant = next((layout for layout in better if is_meant(layout, one)), None)
        if meant is None:
            wrong.append("combination is none, or no better, or twice: %s" % one)
            continue
        better.remove(meant)
        told.append(rank_of(meant))
        wrong += figures_differ(meant, one)
    if not wrong and told != ranks:
        wrong.append("combinations rank %s, expected %s" % ([compare.plain(rank) for rank in told], [compare.plain(rank) for rank in ranks]))
    return wrong


def rank_of(layout):
    return compare.candidate_rank(layout, all)


def all_of(shop, asked):
    """Every layout that the job could have, each repeat and number around once a press: of a repeat order its own on each, too."""
    job, span = asked.job, (asked.start, asked.end, asked.now)
    new = job.teeth is None and job.repeat is None
    layouts = {}
    for press in shop.presses.values():
        if press.retired:
            continue
        # Of lengths that are the same one with teeth counts; before all, the job as it is on record.
        on_press = sorted(oracle.candidates(shop, job, press, span, any_around=not new), key=lambda layout: layout.teeth is None)
        if not new and job.number_around is not None:
            on_press.insert(0, oracle.Layout(shop, job, press, span, (extent_of(job), job.teeth, job.pitch), job.number_around))
        for layout in on_press:
            layouts.setdefault(key_of(layout), layout)
    return list(layouts.values())


def key_of(layout):
    """The same repeat and number around: on a geared press by teeth and pitch, else by length to the nanometre."""
    toothed = layout.geared and layout.teeth is not None
    repeat = (layout.teeth, layout.pitch) if toothed else (layout.geared, round(float(layout.repeat), 6))
    return (layout.press.id, layout.number_around, repeat)


def is_meant(layout, one):
    if (one["press"], one["number_around"]) != (layout.press.id, layout.number_around):
        return False
    if layout.geared and (one["teeth"], one["pitch"] and pitch(one["pitch"])) != (layout.teeth, layout.pitch):
        return False
    return one["repeat_mm"] is not None and abs(one["repeat_mm"] - float(layout.repeat)) <= 0.00051


def figures_differ(layout, one):
    verdict, unmet = cures.worth(layout)[:2]
    area = len(layout.printing) * layout.repeat * layout.printed_width / 100 if layout.printed_width is not None else 0
    wanted = {"verdict": oracle.VERDICTS[verdict], "unmet": unmet, "plates": plates_of(layout), "plate_count": len(layout.printing)}
    wrong = ["combination %s: %s, expected %s" % (key, one[key], value) for key, value in wanted.items() if one[key] != value]
    for key, value, step in (("waste_percent", None if layout.waste is None else layout.waste * 100, 0.05), ("plate_area_cm2", area, 0.05)):
        if (one[key] is None) != (value is None) or (value is not None and abs(one[key] - float(value)) > step * 1.0000001 + 1e-9):
            wrong.append("combination %s: %s, expected %s" % (key, one[key], value and float(value)))
    return wrong


def plates_of(layout):
    """Made for a length around and for so many labels in it: of a repeat order they stay where both are the same."""
    own = extent_of(layout.job)
    if own is None:
        return "first"
    same = rules.same_length(layout, own, layout.extent)
    return "kept" if same and layout.job.number_around in (None, layout.number_around) else "new"

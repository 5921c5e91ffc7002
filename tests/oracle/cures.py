"""Cures: each is tried by solving again, and must come out better."""

import math

import oracle
from shop import Record
from values import extent_of, moment, pitch

RETURNED = Record(id="returned", code="returned", sort="store")


def worth(layout):
    """(verdict, needs short, needs at caution): smaller is better."""
    found = layout.findings(layout.best_choice())
    levels = [finding.level for finding in found.values()]
    return (oracle.VERDICTS.index(oracle.verdict_of(found)), levels.count("short"), levels.count("caution"))


def judge(shop, layout, cure, tags):
    """None where the cure came out better, or says too little to be tried; else what is wrong."""
    before = worth(layout)
    changes = changes_of(shop, layout, cure, tags)
    if changes is None:
        return None
    kept = [(record, key, record[key]) for record, key, _ in changes]
    shop.places["returned"] = RETURNED
    try:
        for record, key, value in changes:
            record[key] = value
        after = min(worth(one) for one in layouts_with(shop, layout, cure))
    finally:
        for record, key, value in kept:
            record[key] = value
        del shop.places["returned"]
    # Better as a whole, or at least fewer needs short.
    if after < before or after[1] < before[1]:
        return None
    return "cure %s (%s) does not help: (verdict, short, caution) %s before, %s with it" \
        % (cure["kind"], cure.get("text"), before, after)


def changes_of(shop, layout, cure, tags):
    """What the cure changes on record, [(record, attribute, value)]; None where it cannot be tried."""
    kind = cure["kind"]
    names = {tags.get(tag) for tag in cure.get("tools") or []}
    tools = [tool for tools in shop.tools.values() for tool in tools.values() if tool.id in names]
    if kind in ("return", "clear", "die") and not tools:
        return None
    if kind == "return":
        return [change for tool in tools for change in ((tool, "place", "returned"), (tool, "back", None))]
    if kind == "clear":
        return [(tool, "condition", "ready") for tool in tools]
    if kind == "die":
        unfit = [row for row in layout.cuts if row.die is not None and row.kind == tools[0].cut
                 and layout.best_choice()["die"].get(row.cut) is None]
        return [(unfit[0], "die", tools[0].id)] if unfit else None
    if kind == "press":
        return [] if cure.get("press") in shop.presses else None
    if kind == "repeat":
        return [] if cure.get("teeth") is not None and cure.get("pitch") is not None else None
    return [] if cure.get("from") is not None else None


def moved(shop, layout, start):
    """The time of a layout from another beginning: what of it lay in open hours does so then."""
    end = shop.hours.later(start, shop.hours.between(layout.start, layout.end))
    return start, end if end > start else start + layout.end - layout.start


def free_press_helps(shop, layout):
    """When the press asked is free of all that runs there, where the same job would then come out better: a cure must name a time.
    None where it would not, or where it is free already, or the end is not known of all."""
    ends = layout.taken_until()
    if not ends or max(ends) == math.inf:
        return None
    start = shop.hours.open_from(max(ends))
    later = oracle.Layout(shop, layout.job, layout.press, (*moved(shop, layout, start), layout.now),
                          layout.extent and (layout.extent, layout.teeth, layout.pitch), layout.number_around)
    return start if worth(later)[:2] < worth(layout)[:2] else None


def layouts_with(shop, layout, cure):
    """The job solved again with the cure."""
    job, press = layout.job, layout.press.id
    start, end = layout.start, layout.end
    if cure["kind"] == "press":
        press = cure["press"]
    elif cure["kind"] == "time":
        start = moment(cure["from"])
        start, end = moved(shop, layout, start)
    elif cure["kind"] == "repeat":
        record = {"teeth": cure["teeth"], "pitch": pitch(cure["pitch"])}
        repeat = (extent_of(record), record["teeth"], record["pitch"])
        return [oracle.Layout(shop, job, layout.press, (start, end, layout.now), repeat,
                              cure.get("number_around") or layout.number_around)]
    return oracle.check(shop, job.id, press, start, end)[press].layouts

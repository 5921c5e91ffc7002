"""The tools of a random shop: each drafted for some station or cut of the job, then laid at limits."""

from fractions import Fraction

import cells
from draft import NEAR, PITCHES, RELATED
from values import PI, moment, moment_text, pitch, volume

UM = Fraction(1, 1000)
HOUR, DAY = 3600, 86400


def how_many(draft, wanted, most=6):
    """Usually enough, sometimes one too few."""
    spare = draft.rng.choice((0, 1, 1, 2, 2, 3))
    return max(0, min(most, wanted + spare - (1 if draft.bad(0.25) else 0)))


def draft_tools(draft):
    if draft.bad(0.04):
        return
    draft_cylinders(draft)
    draft_gears(draft)
    draft_rolls(draft)
    draft_blades(draft)
    draft_dies_and_cuts(draft)
    draft_magnetic_cylinders(draft)
    draft_takes(draft)


def whereabouts(draft, row):
    """Where a tool is and in what condition; mostly on a shelf, ready."""
    rng = draft.rng
    row["place"] = rng.choice(("rack", "rack", "shelf", "cart-1", "bath"))
    if draft.bad(0.05):
        row.update(condition="hold", note="scored band")
    elif draft.bad(0.02):
        row["condition"] = "scrapped"
    elif draft.chance(0.1):
        row["condition"] = "ready"
    draw = rng.random()
    if draw < 0.04:
        row["place"] = rng.choice(("P1", "P1-1"))
    elif draw < 0.09:
        row["place"] = rng.choice([code + ending for code in draft.presses for ending in ("", "-1")])
    elif draw < 0.13:
        row["place"] = "engraver"
        row["back"] = back_date(draft)
    elif draw < 0.13 + 0.02 * draft.ill:
        row["place"] = "gone"
    elif draw < 0.13 + 0.03 * draft.ill:
        del row["place"]
    if draft.chance(0.85):
        row["run"] = Fraction(rng.randint(0, 5000) * 1000)


def back_date(draft):
    """Back before, at or after the job's start; a bare date is the end of that day."""
    rng = draft.rng
    start = draft.start
    return rng.choice((moment_text(start), moment_text(start - 60), moment_text(start + 60),
                       moment_text(start)[:10], moment_text(start - DAY)[:10], "2026-11-28",
                       "2026-12-01T07:59:00Z", None))


def fit(draft, row):
    """A word that the press takes, or another, or none on record."""
    if draft.fits is None and draft.chance(0.7):
        return
    words = draft.fits or "narrow"
    row["fit"] = draft.rng.choice(words.split(",")) if not draft.bad(0.06) else "broad"
    if draft.chance(0.2):
        row["fit"] += ",offline"
    draft.blank(row, 0.04, "fit")


def face(draft, row, wanted):
    """A face at the edge of what is wanted; some are damaged, and only a band is usable."""
    easy = draft.millimetres(5, 40)
    row["face"] = draft.edge(wanted, UM, 1, easy, 0.06)
    if draft.chance(0.1):
        row["face"] = wanted + draft.millimetres(30, 60)
        row["face_from"] = draft.millimetres(5, 20)
        row["face_to"] = row["face_from"] + draft.edge(wanted, UM, 1, Fraction(3), 0.2)
    draft.blank(row, 0.02, "face")


def teeth_and_pitch(draft, row, teeth=None):
    """The job's own, or the same length in a related pitch, or a tooth more or less."""
    teeth, text = teeth or draft.teeth, draft.pitch_text
    if draft.bad(0.06):
        teeth += draft.rng.choice((-1, 1))
    elif draft.chance(0.06):
        other, factor = RELATED[text]
        if (teeth * factor) == int(teeth * factor):
            teeth, text = int(teeth * factor), other
    elif draft.bad(0.04):
        text = draft.rng.choice(PITCHES)
    row["teeth"], row["pitch"] = str(teeth), text
    draft.blank(row, 0.012, "teeth", "pitch")
    if "teeth" not in row or "pitch" not in row:
        row.pop("teeth", None)
        row.pop("pitch", None)


def draft_cylinders(draft):
    rng = draft.rng
    draft.uneven = draft.chance(0.4)
    wanted = len(draft.stations) * (1 if draft.other_teeth is None else 2)
    for number in range(1, how_many(draft, wanted) + 1):
        station = draft.stations[(number - 1) % len(draft.stations)] if draft.stations else {}
        row = {"other_tag": "cyl-%d" % number}
        row["drive"] = rng.choice(("geared",) + ("demountable",) * 3) if draft.drive == "geared" \
            else rng.choice(("geared", "demountable", "gearless"))
        if draft.bad(0.03):
            row["drive"] = "gearless"
        if row["drive"] == "gearless":
            limit = draft.limits.settings["repeat_match"]
            row["repeat"] = cells.snap(draft.beside(cells.snap(draft.extent.mm), limit, UM, 0.06))
        else:
            teeth_and_pitch(draft, row, draft.other_teeth if draft.chance(0.5) else None)
        cylinder_geometry(draft, row, station)
        fit(draft, row)
        face(draft, row, draft.printed_width)
        row["runout"] = draft.edge(draft.limits.settings["runout"], UM / 10, -1,
                                   Fraction(rng.randint(0, 60), 10000))
        if draft.chance(0.06):
            row["carries"] = rng.choice(("J1", "J3", "J4"))
        draft.blank(row, 0.05, "runout")
        draft.blank(row, 0.03, "drive")
        whereabouts(draft, row)
        draft.rows["cylinder"].append(row)


def cylinder_geometry(draft, row, station):
    """Bare diameter or undercut near what the station's plate and tape ask; angles and bore."""
    rng = draft.rng
    build = station.get("plate", Fraction("1.702")) + station.get("tape", Fraction("0.381"))
    length = draft.extent.mm
    if "teeth" in row:
        length = int(row["teeth"]) * pitch(row["pitch"]).size \
            * (PI if pitch(row["pitch"]).length_class == "pi" else 1)
    limit = draft.limits.settings["buildup"]
    if draft.chance(0.7):
        ideal = cells.snap(length / PI - 2 * build)
        offs = (20, 24, 25, 25, 25, 26, 40) if draft.uneven else (0, 0, 2, 5, 5, 8, 10, 15, 20, 24, 25, 26)
        off = rng.choice(offs) * UM
        row["diameter"] = ideal + rng.choice((-1, 1)) * off
        if draft.chance(0.12):
            row["diameter"] = draft.beside(ideal, 2 * limit, UM, 0.1)
    if draft.chance(0.4 if "diameter" in row else 0.8):
        row["undercut"] = draft.beside(build, limit, UM / 10, 0.05) if draft.chance(0.4) \
            else build + rng.choice((0, 0, 2, -3, 10)) * UM
    for name, texts in (("pressure_angle", ("20deg", "14.5deg")), ("helix", ("0deg", "15deg"))):
        if draft.chance(0.6):
            row[name] = texts[draft.bad(0.08)]
    if draft.chance(0.4):
        row["bore"] = Fraction(40)


def draft_gears(draft):
    wanted = sum(row.get("drive") == "demountable" for row in draft.rows["cylinder"])
    wanted = min(wanted, len(draft.stations))
    count = how_many(draft, wanted) - (1 if draft.chance(0.5) else 0) if wanted else 1
    for number in range(1, min(6, max(0, count)) + 1):
        row = {"other_tag": "gear-%d" % number}
        teeth_and_pitch(draft, row, draft.other_teeth if draft.chance(0.4) else None)
        if "pitch" in row and draft.bad(0.06):
            row["pitch"] = NEAR.get(row["pitch"], "m1")
        for name, texts in (("pressure_angle", ("20deg", "14.5deg")), ("helix", ("0deg", "15deg"))):
            if draft.chance(0.8):
                row[name] = texts[draft.chance(0.15)]
        if draft.chance(0.6):
            row["bore"] = Fraction(40) if not draft.chance(0.15) else Fraction("38.1")
        whereabouts(draft, row)
        draft.rows["gear"].append(row)


def draft_rolls(draft):
    rng = draft.rng
    standard = draft.printed_width + draft.millimetres(0, 30) if draft.chance(0.6) else None
    for number in range(1, how_many(draft, len(draft.stations)) + 1):
        station = draft.stations[(number - 1) % len(draft.stations)] if draft.stations else {}
        row = {"other_tag": "roll-%d" % number, "surface": rng.choice(("ceramic", "chrome"))}
        fit(draft, row)
        face(draft, row, draft.printed_width)
        if standard and "face" in row and draft.chance(0.8):
            row["face"] = standard
        roll_screen(draft, row, station)
        whereabouts(draft, row)
        roll_volume(draft, row, station)
        draft.blank(row, 0.06, "line_screen", "volume")
        draft.rows["anilox"].append(row)


def roll_screen(draft, row, station):
    """At, in or out of the range of screens, or of the ratio to the plate's screen."""
    low = int(station.get("screen_min", "160lpi")[:-3])
    high = int(station.get("screen_max", "540lpi")[:-3])
    draw = draft.rng.random()
    screen = (low + high) // 2
    if draw < 0.2:
        screen = draft.edge(low, 1, 1, 20, 0.1)
    elif draw < 0.4:
        screen = draft.edge(high, 1, -1, 20, 0.1)
    elif draw < 0.6 and "plate_screen" in station:
        ratio = draft.limits.settings["screen_ratio"]
        screen = draft.edge(int(station["plate_screen"][:-3]) * ratio, 1, 1, 10, 0.2)
    screen = Fraction(screen)
    if draft.chance(0.2) and screen not in (low, high):
        row["line_screen"] = "%s/cm" % cells.decimal(Fraction(round(screen * 1000 / cells.INCH * 10), 1000), 3)
    else:
        row["line_screen"] = cells.decimal(screen, 3) + "lpi"


def volume_text(value):
    return cells.decimal(value, 6) + "cm3/m2"


def roll_volume(draft, row, station):
    """Volume when new and the readings since: the one that counts is laid at a limit."""
    rng = draft.rng
    asked = volume(station["volume"]) if "volume" in station else Fraction(6)
    tolerance = draft.limits.settings["volume_tolerance"]
    if "volume_tolerance" in station:
        tolerance = Fraction(station["volume_tolerance"][:-1]) / 100
    step = Fraction(1, 10 ** 4)
    off = Fraction(rng.randint(0, 90), 100) * asked * tolerance
    now = draft.beside(asked, asked * tolerance, step, 0.06) if draft.chance(0.4) \
        else asked + rng.choice((-1, 1)) * off
    now = tidy(now)
    loss = draft.limits.settings["volume_loss"]
    new = tidy(now / (1 - loss)) if draft.chance(0.2) else now + Fraction(rng.randint(0, 10), 100)
    new += rng.choice((0, 0, step, -step, 2 * step))
    draw = rng.random()
    engraved = "2026-03-10"
    if draft.chance(0.6):
        row["engraved"] = engraved
    row["volume"] = volume_text(new)
    if draw < 0.25:
        row["volume"] = volume_text(now)
        rest = (draw * 4, "run" if draft.chance(0.5) else None)
        if draft.chance(0.6):
            reading(draft, row, rest[1], "2026-09-0%dT10:00:00Z" % rng.randint(1, 9), now * Fraction(7, 10))
        if draft.chance(0.3):
            reading(draft, row, "clean", "2026-03-09T23:59:00Z", now * Fraction(8, 10))
        return
    if draft.chance(0.4):
        trend_readings(draft, row, now)
        return
    when = rng.choice(("2026-03-10T00:00:00Z", "2026-05-02T10:00:00Z", "2026-10-02T10:00:00Z"))
    reading(draft, row, "clean", when, now)
    if draft.chance(0.3):
        reading(draft, row, "clean", "2026-03-01T10:00:00Z", new)
    if draft.chance(0.3):
        reading(draft, row, rng.choice(("run", None)), "2026-11-0%dT10:00:00Z" % rng.randint(1, 9),
                now * Fraction(8, 10))
    if draft.bad(0.1):
        reading(draft, row, "clean", "2026-11-2%dT10:00:00Z" % rng.randint(1, 9), now * Fraction(7, 10))
    if draft.bad(0.05):
        del row["volume"]


def trend_readings(draft, row, at_end):
    """Readings along a line that comes to a volume at the end of the job's run; some scatter about it."""
    rng = draft.rng
    if draft.chance(0.9):
        row["run"] = Fraction(rng.randint(1000, 5000) * 1000)
    run = int(row.get("run", 0) / 1000)
    if draft.bad(0.1):
        # On record it has run less than when it was read, or nobody knows.
        run += rng.randint(1, 2000)
        draft.blank(row, 0.3, "run")
    end = run + draft.run / 1000
    slope = slope_without_halves(draft, end)
    at_zero = round(at_end * 10 ** 6 + slope * end)
    scatter = rng.choice((0, 0, 0, 0.002, 0.01))
    method = rng.choice(("surface", "drawdown"))
    count = min(rng.choice((3, 4, 4, 4, 5, 5, 6, 8)), run + 1)
    for number, at in enumerate(sorted(rng.sample(range(run + 1), count))):
        value = (at_zero - slope * at) * (1 + Fraction(round(rng.gauss(0, scatter) * 10 ** 6), 10 ** 6))
        when = moment_text(moment("2026-03-11T10:00:00Z") + number * 20 * DAY)
        reading(draft, row, "clean", when, value / 10 ** 6, method, Fraction(at * 1000))
        if draft.bad(0.03):
            draft.rows["reading"][-1]["method"] = "drawdown" if method == "surface" else "surface"
        if draft.bad(0.03):
            del draft.rows["reading"][-1]["run"]
        if draft.chance(0.15):
            reading(draft, row, rng.choice(("run", None)), when.replace("T10", "T09"), value * Fraction(8, 10 ** 7),
                    method, Fraction(at * 1000))


def slope_without_halves(draft, end):
    """1e-6 cm3/m2 lost a metre: at the end of the run no half of a step is left to rounding."""
    while True:
        slope = draft.rng.choice((-20, 0, 15, 15, 40, 40, 110)) + draft.rng.randint(1, 9)
        if abs(slope * end % 1 - Fraction(1, 2)) > Fraction(1, 100):
            return slope


def tidy(value):
    """A volume in whole millionths (an exact one stays)."""
    return Fraction(round(value * 10 ** 6), 10 ** 6)


def reading(draft, roll, after, when, value, method=None, run=None):
    """A reading, now and then as left/centre/right in BCM."""
    row = {"tool": roll["other_tag"], "moment": when, "method": method or draft.rng.choice(("surface", "drawdown"))}
    if run is not None:
        row["run"] = run
    if after:
        row["after"] = after
    if draft.chance(0.15):
        centre = Fraction(round(value / Fraction("1.5500031") * 100), 100)
        sides = (centre - Fraction(draft.rng.randint(0, 9), 100), centre,
                 centre + Fraction(draft.rng.randint(0, 9), 100))
        row["across"] = "/".join(cells.decimal(side, 2) + "bcm" for side in sides)
    else:
        row["volume"] = volume_text(tidy(value))
    draft.rows["reading"].append(row)


def draft_blades(draft):
    rng = draft.rng
    faces = [row["face"] for row in draft.rows["anilox"] if "face" in row] or [draft.printed_width]
    match = draft.limits.settings["blade_length_match"]
    for number in range(1, how_many(draft, len(draft.stations)) + 1):
        row = {"other_tag": "blade-%d" % number, "material": rng.choice(("steel", "coated", "polymer"))}
        fit(draft, row)
        row["length"] = faces[(number - 1) % len(faces)]
        if draft.chance(0.5):
            row["length"] = draft.beside(row["length"], match, UM, 0.06)
        whereabouts(draft, row)
        left = draft.edge(draft.run, Fraction(1), 1, Fraction(rng.randint(1, 20) * 100000), 0.08)
        row["life"] = left + row.get("run", 0)
        draft.blank(row, 0.05, "life")
        draft.blank(row, 0.01, "length")
        draft.rows["blade"].append(row)


def draft_dies_and_cuts(draft):
    rng = draft.rng
    kinds = [rng.choice(("kiss", "kiss", "kiss", "through"))]
    if draft.chance(0.35):
        kinds.append(rng.choice(("kiss", "back", "perforation", kinds[0])))
    if kinds == ["kiss"] and draft.chance(0.4):
        rows = []
    else:
        numbers = [1, 2, 3] if draft.bad(0.1) else [1, 2]
        rows = [{"job": "J1", "cut": str(numbers[at]), "kind": kind} for at, kind in enumerate(kinds)]
        if len(rows) == 1 and draft.chance(0.2):
            rows[0]["cut"] = "2"
    count = how_many(draft, len(kinds) + 1, 6)
    for number in range(1, count + 1):
        draft_die(draft, number, kinds[(number - 1) % len(kinds)])
    for at, row in enumerate(rows):
        if count and draft.chance(0.95 if draft.shape == "special" else 0.2):
            row["die"] = "die-%d" % (at % count + 1 if not draft.bad(0.3) else rng.randint(1, count))
    draft.rows["cut"] = rows


def draft_die(draft, number, kind):
    rng = draft.rng
    match = draft.limits.settings["die_match"]
    around = draft.around
    row = {"other_tag": "die-%d" % number, "build": rng.choice(("flexible", "flexible", "flexible", "solid")),
           "cut": kind if not draft.bad(0.06) else "back"}
    teeth = draft.teeth
    if draft.teeth % draft.around == 0 and draft.chance(0.3):
        around = rng.choice([n for n in range(1, 8) if 140 <= n * draft.per_label <= 560] or [around])
        teeth = draft.teeth // draft.around * around
    if draft.other_teeth and draft.chance(0.5):
        around, teeth = draft.other_around, draft.other_teeth
    teeth_and_pitch(draft, row, teeth)
    row["number_around"] = str(around + draft.bad(0.04))
    row["number_across"] = str(draft.across + draft.bad(0.06))

    def near(value):
        return draft.beside(value, match, UM, 0.2) if draft.chance(0.3) else value

    row.update(label_across=near(draft.label_across), label_around=near(draft.label_around))
    if draft.across > 1 or draft.chance(0.5):
        row["gap_across"] = near(draft.gap_across)
    if getattr(draft, "corner", None) is not None or draft.chance(0.3):
        row["corner"] = near(getattr(draft, "corner", Fraction(2)))
        if draft.shape == "circle" and draft.chance(0.5):
            row["corner"] += 1
    row["shape"] = draft.shape if not draft.bad(0.06) else rng.choice(("rectangle", "oval", "special"))
    row["liner_caliper"] = draft.beside(draft.liner, draft.limits.settings["liner_match"], UM / 10, 0.15) \
        if draft.chance(0.5) else draft.liner
    row["die_gap"] = rng.choice((Fraction("0.480"), Fraction("0.480"), Fraction("0.483")))
    fit(draft, row)
    face(draft, row, draft.printed_width)
    whereabouts(draft, row)
    die_life(draft, row)
    draft.blank(row, 0.016, "number_around", "number_across", "label_across", "label_around",
                "gap_across", "shape", "cut", "die_gap")
    draft.blank(row, 0.1, "corner", "liner_caliper", "life")
    draft.rows["die"].append(row)


def die_life(draft, row):
    """Life in revolutions: near what the run asks, exactly it where the lengths divide."""
    if "teeth" not in row:
        return
    size = pitch(row["pitch"])
    length = int(row["teeth"]) * size.size * (PI if size.length_class == "pi" else 1)
    needed = -(-(draft.run + row.get("run", 0)) // length)
    if draft.run % length == 0 and draft.chance(0.5):
        row.pop("run", None)
        needed = draft.run / length
    row["life"] = str(int(needed) + draft.rng.choice((0, 0, 1, -1 if draft.bad(0.3) else 2, 5000, 20000)))


def draft_magnetic_cylinders(draft):
    rng = draft.rng
    dies = [row for row in draft.rows["die"] if row["build"] == "flexible" and "teeth" in row]
    for number in range(1, how_many(draft, min(2, len(dies)), 4) + 1):
        row = {"other_tag": "mag-%d" % number}
        die = dies[(number - 1) % len(dies)] if dies else {}
        row["teeth"] = str(int(die.get("teeth", draft.teeth)) + draft.bad(0.06))
        row["pitch"] = die.get("pitch", draft.pitch_text)
        if draft.bad(0.1):
            row["pitch"] = rng.choice(PITCHES + (NEAR.get(row["pitch"], "m1"),) * 5)
        row["die_gap"] = die.get("die_gap", Fraction("0.480"))
        if draft.bad(0.12):
            row["die_gap"] += rng.choice((1, -1, 3)) * UM
        elif row["die_gap"] == Fraction("0.480") and draft.chance(0.2):
            row["die_gap"] = Fraction("0.0189") * cells.INCH
        fit(draft, row)
        wanted = die.get("face", draft.printed_width)
        if "face_to" in die:
            wanted = die["face_to"] - die["face_from"]
        face(draft, row, wanted)
        draft.blank(row, 0.03, "die_gap")
        whereabouts(draft, row)
        draft.rows["magnetic_cylinder"].append(row)


def draft_takes(draft):
    """Tools out for another job whose time lies near, or for this one."""
    if not draft.chance(0.3):
        return
    free = [row["other_tag"] for kind in ("cylinder", "gear", "anilox", "blade", "die", "magnetic_cylinder")
            for row in draft.rows[kind]
            if row.get("place") in ("rack", "shelf") and row.get("condition", "ready") == "ready"]
    for tag in draft.rng.sample(free, min(len(free), draft.rng.randint(1, 3))):
        draft.takes.append("take %s job=%s" % (tag, draft.rng.choice(("J1", "J3", "J3", "J4"))))

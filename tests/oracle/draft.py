"""The label, the time, the presses, the jobs and the stations of a random shop."""

import random
import re
import shlex
from fractions import Fraction

import cells
from shop import KINDS, Shop
from values import Extent, moment_text, moment, pitch

NOW = moment("2026-12-01T08:00:00Z")
DAY, HOUR, MINUTE = 86400, 3600, 60
UM = Fraction(1, 1000)
PITCHES = ("1/8cp", "1/8cp", "1/4cp", "5mmcp", "10dp", "16dp", "m1", "m1.5", "3.175mmcp")
# The same length a tooth, or half or twice it, in another spelling or gear.
RELATED = {"1/8cp": ("1/4cp", Fraction(1, 2)), "1/4cp": ("1/8cp", 2), "5mmcp": ("10mmcp", Fraction(1, 2)),
           "10dp": ("20dp", 2), "16dp": ("8dp", Fraction(1, 2)), "m1": ("m2", Fraction(1, 2)),
           "m1.5": ("m3", Fraction(1, 2)), "3.175mmcp": ("1/8cp", 1)}
# Within two percent of it, and never to be taken for it.
NEAR = {"1/8cp": "m1", "1/4cp": "m2", "5mmcp": "16dp", "10dp": "8mmcp", "16dp": "5mmcp", "m1": "1/8cp",
        "m1.5": "4.75mmcp", "3.175mmcp": "m1"}
SETTINGS = {
    "overs": ("0%", "10%", "7.5%"), "repeat_match": ("0.02mm", "0.005mm"), "turnaround": ("2h", "30min"),
    "buildup": ("0.02mm", "0.03mm"), "runout": ("0.02mm", "0.0005in"), "volume_tolerance": ("15%", "5%"),
    "volume_loss": ("25%", "10%"), "screen_ratio": ("5", "4.5"), "blade_length_match": ("12mm", "5mm"),
    "die_match": ("0.1mm", "0.02mm"), "liner_match": ("0.003mm", "0.005mm"), "spread": ("0.03mm", "0.06mm"),
}


# Shifts that end, begin or lie around the times that are drawn.
SHIFTS = ("mon-fri 06:00-22:00, sat 06:00-14:00", "mon-sun 08:00-16:00", "sun-fri 22:00-06:00", "mon-sun 21:00-08:00",
          "mon-sat 23:00-08:30",
          "mon-fri 07:00-12:00, mon-fri 12:30-16:00", "wed 00:00-24:00", "mon-sat 05:30-13:30, mon-fri 13:30-21:30")


class Draft:
    """A shop being drafted: rows a kind, with lengths as Fractions of a millimetre."""

    def __init__(self, seed):
        self.rng = random.Random(seed)
        self.rows = {kind: [] for kind in KINDS}
        self.setting_lines, self.takes, self.checks = [], [], []
        # How ill the shop is: how likely anything is out of limits, held or unknown.
        self.ill = self.rng.choice((0.03, 0.1, 0.25, 0.5, 0.5, 1))
        self.limits = Shop()

    def chance(self, probability):
        return self.rng.random() < probability

    def bad(self, probability):
        """Chance of a fault: more in a shop that is ill."""
        return self.rng.random() < probability * self.ill

    def edge(self, limit, step, inward, easy, out=0.03):
        """A value at its limit, a step in, a step out, or well within (by `easy`)."""
        draw = self.rng.random()
        exact, limit = limit, cells.snap(limit)
        if limit != exact:
            # A limit that cannot be written: the nearest micrometre on the inner side.
            step = max(step, UM)
            if (limit - exact) * inward < 0:
                limit += inward * UM
        if draw < 0.13:
            return limit
        if draw < 0.2:
            return limit + inward * step
        if draw < 0.2 + out * self.ill:
            return limit - inward * step
        return limit + inward * easy

    def beside(self, middle, limit, step, out=0.03):
        """A value within `limit` of the middle: at it, a step in, a step out on either side, or equal."""
        side = self.rng.choice((-1, 1))
        return middle + side * self.edge(limit, step, -1, limit, out)

    def millimetres(self, low, high, step="0.1"):
        step = Fraction(step)
        return step * self.rng.randint(int(low / step), int(high / step))

    def blank(self, row, probability, *names):
        """Now and then something is not known."""
        for name in names:
            if name in row and self.bad(probability):
                del row[name]


def draft_settings(draft):
    chosen = []
    if draft.chance(0.2):
        chosen = draft.rng.sample(sorted(SETTINGS), 3)
    pairs = [(key, draft.rng.choice(SETTINGS[key])) for key in chosen]
    if draft.chance(0.4):
        pairs.append(("life_over", "short"))
    if draft.chance(0.35):
        pairs.append(("shifts", draft.rng.choice(SHIFTS)))
        if draft.chance(0.3):
            pairs.append(("closed", draft.rng.choice(("2026-12-03", "2026-12-01..2026-12-02,2026-12-24"))))
    for key, text in pairs:
        draft.setting_lines.append("set %s %s" % (key, shlex.quote(text) if " " in text else text))
        draft.limits.set(key, text)


def draft_time(draft):
    """When the job runs, and whether that stands in the job, in the check or nowhere."""
    rng = draft.rng
    draft.start = NOW
    if draft.chance(0.8):
        draft.start = moment("2026-12-0%d" % rng.randint(2, 4)) + rng.choice((0, 6, 8, 13)) * HOUR
    draft.end = draft.start + rng.choice((0, 2, 4, 30)) * HOUR


def draft_label(draft):
    """The repeat and the label: number around, label, gaps, web."""
    rng = draft.rng
    draft.pitch_text = rng.choice(PITCHES)
    draft.pitch = pitch(draft.pitch_text)
    while True:
        draft.around = rng.randint(1, 5)
        per_label = rng.randint(12, 60)
        draft.teeth = draft.around * per_label + (0 if draft.chance(0.8) else rng.randint(0, 5))
        draft.extent = Extent(draft.pitch.length_class, draft.teeth * draft.pitch.size)
        if 150 <= draft.extent.mm <= 520:
            break
    draft.per_label = draft.extent.mm / draft.around
    draft.other_teeth = None
    draft.across = rng.choice((1, 2, 2, 3))
    draft.label_around = cells.snap(draft.per_label - draft.millimetres(2, 4))
    draft.label_across = draft.millimetres(30, 70)
    draft.gap_across = draft.millimetres(2, 4)
    draft.trim = draft.millimetres(1, 8)
    draft.printed_width = draft.across * draft.label_across + (draft.across - 1) * draft.gap_across
    draft.web_needed = draft.printed_width + 2 * draft.trim
    draft.kind = rng.choice(("repeat", "repeat", "repeat", "plain", "new"))
    if draft.kind == "new" and draft.chance(0.7):
        # Another repeat to choose from: of the same waste, or of a little more or less.
        draft.other_around = rng.randint(1, 5)
        draft.other_teeth = draft.teeth // draft.around * draft.other_around + rng.choice((0, 0, 1, 1, 2))
    draft.shape = rng.choice(("rectangle",) * 5 + ("circle", "oval", "special"))
    draft.quantity = draft.across * draft.around * 20 * rng.randint(5, 400)
    if draft.chance(0.4):
        draft.quantity += rng.randint(1, 40)
    labels = -(-draft.quantity // (draft.across * draft.around))
    repeats = -(-(1 + draft.limits.settings["overs"]) * labels // 1)
    draft.run = repeats * draft.extent.mm
    draft.liner = rng.choice((Fraction("0.056"), Fraction("0.063"), Fraction("0.0508")))


def draft_presses(draft):
    rng = draft.rng
    draft.presses = ["P1"] + (["P2"] if draft.chance(0.45) else [])
    draft.fits = rng.choice((None, None, "narrow", "narrow,wide"))
    draft.drive = rng.choice(("geared", "geared", "servo")) if draft.kind != "plain" \
        else "servo" if draft.chance(0.9) else "geared"
    draft.wanted_stations = rng.choice((1, 2, 2, 3, 3, 4))
    for code in draft.presses:
        drive = draft.drive if code == "P1" or draft.chance(0.7) else rng.choice(("geared", "servo"))
        web = draft.web_needed + draft.millimetres(0, 20)
        draft.stock = web if code == "P1" and draft.chance(0.6) else getattr(draft, "stock", None)
        row = {"code": code, "name": "Press " + code[1:], "drive": drive,
               "web": draft.edge(draft.stock or draft.web_needed, UM, 1, draft.millimetres(5, 60), 0.04),
               "repeat_min": draft.edge(draft.extent.mm, UM, -1, draft.millimetres(5, 250) / 2, 0.04)
               if draft.other_teeth is None else Fraction(50),
               "repeat_max": draft.edge(draft.extent.mm, UM, 1, draft.millimetres(5, 250), 0.04),
               "stations": str(draft.wanted_stations + (0 if draft.bad(0.05) else rng.randint(1, 3))),
               "die_stations": str(rng.choice((2, 2, 3)) if not draft.bad(0.1) else 1)}
        # A press whose least is more than its most is refused when it comes in.
        row["repeat_max"] = max(row["repeat_min"], row["repeat_max"])
        if drive == "geared" or draft.chance(0.3):
            row["pitches"] = draft.pitch_text if not draft.bad(0.08) \
                else rng.choice(PITCHES + (NEAR[draft.pitch_text],) * 5)
            if draft.chance(0.3):
                row["pitches"] += "," + RELATED[draft.pitch_text][0]
        for name, text in (("pressure_angle", "20deg"), ("helix", "0deg")):
            if draft.chance(0.4):
                row[name] = text
        if draft.fits:
            row["fit"] = draft.fits if draft.chance(0.92) else "wide"
        draft.blank(row, 0.015, "web", "repeat_min", "repeat_max", "pitches", "die_stations")
        if code == "P2" and draft.chance(0.06):
            row["retired"] = "yes"
        draft.rows["press"].append(row)


def draft_places(draft):
    rng = draft.rng
    rows = [{"code": "rack", "sort": "store"}, {"code": "shelf", "sort": "store", "within": "rack"},
            {"code": "cart-1", "sort": "cart"}, {"code": "bath", "sort": "wash"},
            {"code": "engraver", "sort": "supplier"}, {"code": "gone", "sort": "lost"}]
    for press in draft.rows["press"]:
        for number in range(1, int(press["stations"]) + 1):
            row = {"code": "%s-%d" % (press["code"], number), "sort": "press"}
            if draft.bad(0.03):
                row.update(condition="hold", note="bearing worn")
            if draft.chance(0.12):
                row["processes"] = rng.choice(("flexo", "flexo,cold_foil", "flexo,cold_foil,rotary_screen,"
                                               "hot_foil", "rotary_screen" if draft.bad(0.2) else "flexo"))
            if len(row) > 2:
                rows.append(row)
        if draft.bad(0.05) and press.get("die_stations"):
            rows.append({"code": press["code"] + "-D1", "sort": "press", "condition": "hold",
                         "note": "anvil scored"})
    draft.rows["place"] = rows


def draft_jobs(draft):
    """J1 is checked; J2 runs; J3 and mostly J4 are planned, and their plates may stand on cylinders."""
    rng = draft.rng
    row = {"number": "J1", "title": "Label", "state": "planned", "label_across": draft.label_across,
           "label_around": draft.label_around, "number_across": str(draft.across), "shape": draft.shape,
           "gap_across": draft.gap_across, "trim": draft.trim, "quantity": str(draft.quantity)}
    if draft.kind != "new" or draft.chance(0.15):
        row["number_around"] = str(draft.around)
    if draft.kind == "repeat":
        row.update(teeth=str(draft.teeth), pitch=draft.pitch_text)
    elif draft.kind == "plain":
        row["repeat"] = draft.plain = cells.snap(draft.extent.mm)
    gap = draft.per_label - draft.label_around
    if draft.kind == "new" or draft.chance(0.8):
        row["gap_around_min"] = max(Fraction(0), draft.edge(gap, UM, -1, Fraction(1), 0.1))
    if draft.kind == "new" or draft.chance(0.8):
        row["gap_around_max"] = draft.edge(gap, UM, 1, Fraction(rng.randint(1, 12), 4), 0.1)
    if "gap_around_min" in row and "gap_around_max" in row:
        row["gap_around_max"] = max(row["gap_around_min"], row["gap_around_max"])
    if draft.stock is not None:
        row["web"] = draft.edge(draft.web_needed, UM, 1, draft.stock - draft.web_needed, 0.1)
    if draft.shape in ("rectangle", "special") or draft.chance(0.5):
        row["corner"] = draft.corner = Fraction(rng.choice(("1.5", "3", "3.175")))
    if draft.chance(0.6):
        row["liner_caliper"] = draft.liner
    if draft.chance(0.3):
        row["press"] = ",".join(draft.presses)
    draft_span(draft, row)
    draft.running = draft.chance(0.1)
    if draft.running:
        row["state"], row["press"] = "running", "P1"
    if draft.kind != "new":
        draft.blank(row, 0.015, "number_around", "label_around")
    draft.blank(row, 0.015, "quantity", "trim", "gap_across", "number_across", "label_across", "shape")
    if "shape" not in row:
        row.pop("corner", None)
    draft.job = row
    draft.rows["job"] = [row] + other_jobs(draft)


def draft_span(draft, row):
    """The span stands in the job, or is given to the check, or is now."""
    texts = {"from": moment_text(draft.start), "until": moment_text(draft.end)}
    given = "check J1 from=%(from)s until=%(until)s" % texts
    if draft.chance(0.6):
        row.update(texts)
        draft.checks.append("check J1")
        if draft.chance(0.3):
            other = draft.start + draft.rng.choice((-1, 1, 4)) * HOUR
            draft.checks.append("check J1 from=" + moment_text(other))
    else:
        draft.checks.append(given)
        if draft.chance(0.3):
            draft.checks.append("check J1")
    if draft.chance(0.25):
        draft.checks.append("check J1 press=P1" + given[len("check J1"):])


def other_jobs(draft):
    """Running jobs whose time touches, overlaps or misses that of J1, their ends perhaps not known; planned ones likewise."""
    rng, rows = draft.rng, []
    turnaround = int(draft.limits.settings["turnaround"])
    for number, state in (("J2", "running"), ("J3", "planned"), ("J4", "planned")):
        if number == "J4" and draft.chance(0.3):
            state = "running"
        if draft.running:
            state = "planned"
        gap, hours = rng.choice((0, 0, -MINUTE, MINUTE)), draft.limits.hours
        before, after = draft.start - gap, draft.end + gap
        if state != "running":
            before = hours.earlier(draft.start, turnaround) - gap
            after = hours.later(draft.end, turnaround) + gap
        span = rng.choice(((before - 3 * HOUR, before), (after, after + 3 * HOUR),
                           (draft.start - HOUR, draft.end + rng.choice((1, 1, 3)) * HOUR)))
        rows.append({"number": number, "title": "Other", "state": state,
                     "press": rng.choice(draft.presses), "from": moment_text(span[0]),
                     "until": moment_text(span[1])})
        if state == "running":
            draft.blank(rows[-1], 0.2, "until")
            draft.blank(rows[-1], 0.1, "from")
    return rows


def draft_stations(draft):
    rng = draft.rng
    draft.stations = []
    alike = draft.chance(0.5)
    for number in range(1, draft.wanted_stations + 1):
        process = rng.choice(("flexo",) * 16 + ("cold_foil", "cold_foil", "hot_foil", "rotary_screen"))
        row = {"job": "J1", "station": str(number), "ink": rng.choice(("black", "red", "white", "varnish")),
               "process": process}
        if process in ("flexo", "cold_foil"):
            draft_printing(draft, row, draft.stations[-1] if alike and draft.stations else None)
            draft.stations.append(row)
        draft.rows["station"].append(row)


def draft_printing(draft, row, like):
    """What a flexo or cold foil station asks; `like` another where two share tools."""
    rng = draft.rng
    if draft.chance(0.2):
        row["register"] = "no"
    elif draft.chance(0.3):
        row["register"] = "yes"
    row["plate"] = Fraction(rng.choice(("1.702", "1.702", "1.143", "2.54")))
    row["tape"] = Fraction(rng.choice(("0.381", "0.381", "0.508")))
    if draft.chance(0.6):
        row["base"] = Fraction(rng.choice(("0.127", "0.1778")))
    row["plates"] = "ready" if not draft.bad(0.15) else rng.choice(("ordered", "none"))
    if like:
        for name in ("volume", "volume_tolerance", "screen_min", "screen_max", "plate_screen", "plate", "tape"):
            if name in like:
                row[name] = like[name]
        if "volume" in row and draft.chance(0.6):
            number, unit = re.fullmatch(r"([0-9.]+)(.*)", row["volume"]).groups()
            row["volume"] = cells.decimal(Fraction(number) + Fraction(rng.randint(-4, 4), 10), 1) + unit
    else:
        screen = rng.choice((200, 300, 360, 500))
        if draft.chance(0.85):
            tenths = rng.randint(30, 120)
            row["volume"] = "%s%s" % (cells.decimal(Fraction(tenths, 10), 1),
                                      "bcm" if tenths < 70 and draft.chance(0.3) else "cm3/m2")
        if draft.chance(0.15):
            row["volume_tolerance"] = rng.choice(("5%", "20%"))
        if draft.chance(0.7):
            row.update(screen_min="%dlpi" % (screen - 40), screen_max="%dlpi" % (screen + 40))
        if draft.chance(0.4):
            row["plate_screen"] = "%dlpi" % (screen // rng.choice((4, 5, 5)))
    draft.blank(row, 0.03, "plate", "tape", "plates", "screen_min", "screen_max")

"""Draws small shops whose values are awkward to write down: as CSV files that `import` takes. All figures are invented."""
import csv
import io

TEXTS = (
    'with "quotes"', "comma, and; semicolon", "two\nlines", "tab\there", "  blanks around  ", "-minus first", "=equals", "Grünspan Öl",
    "日本語", "a'b", '"', ",", ";;", "'", "name with # in it", "line\n\nblank\n", "ﬁ ½ …", "--note", "0", "no", "None", "1/8cp", "x" * 60,
)
LENGTHS = ("330mm", "13in", "1/8in", "0.067in", "480um", "12.5m", "1/3in", "12 1/2in", "0.000001mm", "999999999mm", "1nm", "7/64in")
SMALL = ("0mm", "0.001mm", "1nm", "1/64in", "3.7ft")
SCREENS = ("360lpi", "140/cm", "333.3lpi", "0.001/cm", "472.4409448/cm", "1000/3lpi")
VOLUMES = ("4.3bcm", "6.7cm3/m2", "0.000001cm3/m2", "1/3bcm", "999999cm3/m2")
PITCHES = ("1/8cp", "0.125cp", "5mmcp", "10dp", "m1", "m1.5", "m10/3", "25.4mmcp", "22/7dp", "3.175mmcp")
MOMENTS = ("2026-11-01", "2026-11-01T14:30", "2026-11-01T14:30:15Z", "2026-03-29T02:30:00+01:00", "2025-10-26T02:30:00+02:00",
           "2025-10-26T02:30:00+01:00", "1990-02-28T23:59:59Z")
WEIGHTS = ("18kg", "40lb", "0g", "1/3lb", "500g")
ANGLES = ("0deg", "60deg", "-8deg", "14.5deg", "0.000001deg")
WORDS = ("bearer13", "journal 35", "Größe,klein", "a;b", "x", "UPPER,lower")
YES_NO = ("yes", "no", "")


class Draft:
    """One shop: rows by kind, each a dictionary by attribute, blanks left out."""

    def __init__(self, rng):
        self.rng = rng
        self.rows = {}
        self.places = [self._code("R", at) for at in range(10)]
        self.presses = ["P1", "press two", "-3"]
        self.jobs = [self._code("J", at) for at in range(5)]
        self.rolls, self.dies = [], []
        self._operators()
        self._places()
        self._presses()
        self._jobs()
        self._tools()
        self._job_rows()
        self._readings()

    def _code(self, letter, at):
        return self.rng.choice(("{0}{1}", "{0} {1}", '{0}"{1}', "{0},{1}", "{0};{1}", "-{0}{1}", "Ö{0}{1}", "{0}.{1}")).format(letter, at)

    def maybe(self, values, likely=0.6):
        return self.rng.choice(values) if self.rng.random() < likely else ""

    def count(self, most=500):
        return self.maybe([str(self.rng.randint(1, most))])

    def add(self, kind, /, **cells):
        # What is on hold says why.
        if cells.get("condition") == "hold" and not cells["note"]:
            cells["note"] = "worn"
        self.rows.setdefault(kind, []).append({name.rstrip("_"): cell for name, cell in cells.items() if cell != ""})

    def _operators(self):
        for at in range(4):
            self.add("operator", badge=self._code("B", at), name=self.rng.choice(TEXTS[:15]),
                     role=self.rng.choice(("clerk", "planner", "maintenance", "supervisor")), retired=self.maybe(YES_NO))

    def _places(self):
        for at, code in enumerate(self.places):
            # Within one further on or further up, so that the order of the rows does not help.
            within = self.places[at + 1] if at % 4 == 0 else self.places[at - at % 4] if at % 4 == 3 else ""
            self.add("place", code=code, name=self.maybe(TEXTS), within=within, sort=self.rng.choice(("store", "cart", "wash", "supplier", "lost")),
                     walk=self.maybe(("0", "1", "12")), capacity=self.count(), condition=self.maybe(("ready", "hold", "")),
                     note=self.maybe(TEXTS), retired=self.maybe(YES_NO))
        self.add("place", code="P1-1", name=self.maybe(TEXTS), sort="press", processes=self.maybe(("flexo", "cold_foil,flexo", "hot_foil")),
                 condition=self.maybe(("hold", "ready")), note=self.maybe(TEXTS))
        self.add("place", code="P1-D1", sort="press", retired=self.maybe(YES_NO))
        self.add("place", code="by the press", within="P1-1", sort="press")

    def _presses(self):
        for code in self.presses:
            self.add("press", code=code, name=self.maybe(TEXTS), drive=self.rng.choice(("geared", "servo")), web=self.maybe(LENGTHS),
                     repeat_min=self.maybe(("0mm", "1nm")), repeat_max=self.maybe(("1in", "650mm")), pitches=self.maybe(("1/8cp", "m1,1/8cp", "10dp;5mmcp")),
                     pressure_angle=self.maybe(ANGLES[:2]), helix=self.maybe(ANGLES), stations=str(self.rng.randint(1, 4)),
                     die_stations=self.maybe(("0", "1", "2")), spacing=self.maybe(LENGTHS), fit=self.maybe(WORDS),
                     speed=self.maybe(("100m/min", "330ft/min", "1/3ft/min")), retired=self.maybe(YES_NO))

    def _jobs(self):
        for number in self.jobs:
            order = self.maybe((("96", "1/8cp", ""), ("", "", "300mm"), ("45", "10dp", ""), ("200", "m1.5", "")), 0.7) or ("", "", "")
            self.add("job", number=number, title=self.maybe(TEXTS), state=self.maybe(("planned", "running", "finished", "cancelled")),
                     press=self.maybe(("P1", "P1,press two", "press two;-3")), from_=self.maybe(MOMENTS[4:]), until=self.maybe(MOMENTS[:3]),
                     quantity=self.maybe(("0", "1", "1000000000000")), label_across=self.maybe(LENGTHS), label_around=self.maybe(LENGTHS),
                     corner=self.maybe(SMALL), shape=self.maybe(("rectangle", "circle", "oval", "special")), number_across=self.count(),
                     gap_across=self.maybe(SMALL), gap_around_min=self.maybe(("0mm", "1nm")), gap_around_max=self.maybe(("1mm", "1/8in")),
                     trim=self.maybe(SMALL), web=self.maybe(LENGTHS), liner_caliper=self.maybe(SMALL), teeth=order[0], pitch=order[1],
                     repeat=order[2], number_around=self.count())

    def tool(self, number):
        return {
            "maker_serial": self.maybe(TEXTS[:9]), "other_tag": number, "name": self.maybe(TEXTS), "fit": self.maybe(WORDS),
            "place": self.maybe(self.places + ["P1-1", "by the press"]), "home": self.maybe(self.places),
            "condition": self.maybe(("ready", "hold", "scrapped")), "back": self.maybe(MOMENTS), "face": self.maybe(LENGTHS),
            "face_from": self.maybe(("0mm", "1nm")), "face_to": self.maybe(("300mm", "1/8in")), "weight": self.maybe(WEIGHTS),
            "cost": self.maybe(("0", "1250.00", "0.01", "99999999.99")), "acquired": self.maybe(MOMENTS), "run": self.maybe(("0m", "12.5m", "1/3ft", "99999999m")),
            "note": self.maybe(TEXTS),
        }

    def teeth(self):
        return {"teeth": self.count(), "pitch": self.maybe(PITCHES)}

    def gear_teeth(self):
        return {"pressure_angle": self.maybe(ANGLES[:2]), "helix": self.maybe(ANGLES), "hand": self.maybe(("left", "right")), "bore": self.maybe(LENGTHS)}

    def _number(self, letter, at):
        return self._code(letter, at) if self.rng.random() < 0.7 else ""

    def _tools(self):
        for at in range(8):
            self.add("cylinder", **self.tool(self._number("K-", at)), **self.teeth(), **self.gear_teeth(),
                     drive=self.maybe(("geared", "demountable", "gearless")), undercut=self.maybe(SMALL), diameter=self.maybe(LENGTHS),
                     runout=self.maybe(SMALL), carries=self.maybe(self.jobs))
            self.add("gear", **self.tool(self._number("G-", at)), **self.teeth(), **self.gear_teeth())
            self.rolls.append(self._code("A-", at))
            self.add("anilox", **self.tool(self.rolls[-1]), line_screen=self.maybe(SCREENS), volume=self.maybe(VOLUMES), angle=self.maybe(ANGLES),
                     diameter=self.maybe(LENGTHS), surface=self.maybe(("ceramic", "chrome")), engraved=self.maybe(MOMENTS))
            self.add("blade", **self.tool(self._number("B-", at)), length=self.maybe(LENGTHS), material=self.maybe(("steel", "coated", "polymer")),
                     thickness=self.maybe(LENGTHS), edge=self.maybe(("square", "bevel")), fitted=self.maybe(MOMENTS), life=self.maybe(("0m", "500000m")))
            self.dies.append(self._code("D-", at))
            self.add("die", **self.tool(self.dies[-1]), **self.teeth(), build=self.maybe(("flexible", "solid")), cut=self.maybe(("kiss", "through")),
                     number_across=self.count(), number_around=self.count(), label_across=self.maybe(LENGTHS), label_around=self.maybe(LENGTHS),
                     gap_across=self.maybe(SMALL), gap_around=self.maybe(SMALL), corner=self.maybe(SMALL), shape=self.maybe(("circle", "special")),
                     liner_caliper=self.maybe(SMALL), die_gap=self.maybe(LENGTHS), life=self.maybe(("0", "1000000")))
            self.add("magnetic_cylinder", **self.tool(self._number("M-", at)), **self.teeth(), die_gap=self.maybe(LENGTHS))
        self.add("cylinder", other_tag="gearless", repeat=self.rng.choice(LENGTHS), drive="gearless")

    def _job_rows(self):
        for job in self.jobs:
            for station in self.rng.sample(range(1, 30), 4):
                self.add("station", job=job, station=str(station), ink=self.maybe(TEXTS), process=self.rng.choice(("flexo", "cold_foil", "rotary_screen")),
                         register=self.maybe(YES_NO), plate=self.maybe(("1.702mm", "0.067in")), base=self.maybe(("0mm", "0.127mm")),
                         tape=self.maybe(SMALL), plates=self.maybe(("none", "ordered", "ready")), screen_min=self.maybe(("0.001/cm", "1lpi")),
                         screen_max=self.maybe(SCREENS[:3]), volume=self.maybe(VOLUMES), volume_tolerance=self.maybe(("0%", "10%", "0.0001%")),
                         plate_screen=self.maybe(SCREENS))
            for cut in self.rng.sample(range(1, 12), 2):
                self.add("cut", job=job, cut=str(cut), kind=self.rng.choice(("kiss", "through", "perforation", "back")), die=self.maybe(self.dies))

    def _readings(self):
        for roll in self.rolls:
            for _ in range(self.rng.randint(0, 3)):
                across = self.maybe(("6.2/6.4/6.1cm3/m2", "4bcm/4.1bcm/0.333bcm"))
                self.add("reading", tool=roll, moment=self.rng.choice(MOMENTS), volume=self.rng.choice(VOLUMES) if across == "" else self.maybe(VOLUMES),
                         across=across, method=self.maybe(("surface", "drawdown")), after=self.maybe(("clean", "run")), run=self.maybe(("0m", "12.5m", "2388000m", "1/3m")))


def file_text(rows):
    """The rows as CSV, every cell in quotes; the columns are those of any row."""
    names = list(dict.fromkeys(name for row in rows for name in row))
    out = io.StringIO()
    writer = csv.DictWriter(out, names, restval="", quoting=csv.QUOTE_ALL, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def file_rows(text):
    """The rows of a CSV file, by heading."""
    return list(csv.DictReader(io.StringIO(text, newline="")))

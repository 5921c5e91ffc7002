"""A shop read from a folder of CSV files: records as dictionaries, None where not known."""

import csv
import os
import shlex
from fractions import Fraction

import values
from hours import Hours

TOOL_KINDS = ("cylinder", "gear", "anilox", "blade", "die", "magnetic_cylinder")
KINDS = ("operator", "place", "press", "job") + TOOL_KINDS + ("station", "cut", "reading")

# The shop's limits: common practice, no source (check.md).
DEFAULTS = {
    "overs": "5%", "repeat_match": "0.010mm", "turnaround": "1h", "buildup": "0.025mm",
    "runout": "0.0127mm", "volume_tolerance": "10%", "volume_loss": "20%", "screen_ratio": "4",
    "blade_length_match": "10mm", "life_over": "caution", "die_match": "0.05mm",
    "trend_match": "5%", "liner_match": "0.002mm", "spread": "0.050mm", "shifts": "always", "closed": "none",
}
SETTING_READERS = {
    "overs": values.percent, "volume_tolerance": values.percent, "volume_loss": values.percent, "trend_match": values.percent,
    "turnaround": values.duration, "screen_ratio": Fraction, "life_over": str,
    "shifts": str, "closed": str,
}


class Record(dict):
    """A row; an attribute that is missing or blank reads as None. `id` is its own name."""

    def __getattr__(self, name):
        return self.get(name)

    def __missing__(self, name):
        return None

    __hash__ = object.__hash__

    def __eq__(self, other):
        return self is other


class Shop:
    """All that the check may know."""

    def __init__(self):
        self.settings = {}
        self._hours = None
        for key, text in DEFAULTS.items():
            self.set(key, text)
        self.places = {}
        self.presses = {}
        self.jobs = {}
        self.tools = {kind: {} for kind in TOOL_KINDS}
        self.readings = {}
        self.lines = {}
        self.trends = {}
        self.taken = {}

    def set(self, key, text):
        self.settings[key] = SETTING_READERS.get(key, values.length)(text)
        if key in ("shifts", "closed"):
            self._hours = None

    @property
    def hours(self):
        """When the shop works."""
        if self._hours is None:
            self._hours = Hours(self.settings["shifts"], self.settings["closed"])
        return self._hours

    def press_of(self, place):
        """The press whose place, or whose part, this place is; None elsewhere."""
        while place is not None:
            if place.press_code:
                return place.press_code
            place = self.places.get(place.within)
        return None

    def station_place(self, press, number, die=False):
        """The place of a station (`P1-3`) or die station (`P1-D1`); None where there is none."""
        count = press.die_stations if die else press.stations
        if count is None or not 1 <= number <= count:
            return None
        return self.places["%s-%s%d" % (press.id, "D" if die else "", number)]


def read_rows(path):
    if not os.path.exists(path):
        return []
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def read_record(kind, row):
    record = Record()
    for heading, text in row.items():
        if kind == "cut" and heading == "cut":
            record["cut"] = int(text)
        elif kind in ("blade", "die") and heading == "life":
            record["life"] = values.life_of(kind, text.strip() or None)
        elif (kind, heading) in (("station", "job"), ("operator", "role")):
            record[heading] = text
        else:
            name, value = values.read_cell(heading, text)
            record[name] = value
    record["kind_of_record"] = kind
    return record


def add_press_places(shop, press):
    """A press makes its own place and those of its stations that are not yet on record."""
    codes = [(press.id, None)]
    codes += [("%s-%d" % (press.id, n + 1), press.id) for n in range(press.stations or 0)]
    codes += [("%s-D%d" % (press.id, n + 1), press.id) for n in range(press.die_stations or 0)]
    for code, within in codes:
        place = shop.places.setdefault(code, Record(id=code, code=code, sort="press"))
        place["within"] = within
        place["press_code"] = press.id


def read_lines(folder, name):
    path = os.path.join(folder, name)
    if not os.path.exists(path):
        return []
    with open(path, encoding="utf-8") as file:
        return [shlex.split(line) for line in file if line.strip()]


def read_shop(folder):
    """The shop of a folder: KIND.csv files, and optionally settings.txt (`set KEY VALUE`) and
    takes.txt (`take TOOL job=JOB`)."""
    shop = Shop()
    for kind in KINDS:
        for row in read_rows(os.path.join(folder, kind + ".csv")):
            add_record(shop, kind, read_record(kind, row))
    for words in read_lines(folder, "settings.txt"):
        shop.set(words[1], words[2])
    for words in read_lines(folder, "takes.txt"):
        shop.taken[words[1]] = words[2].partition("=")[2]
    return shop


def add_record(shop, kind, record):
    if kind == "place":
        record["id"] = record.code
        shop.places[record.code] = record
    elif kind == "press":
        record["id"] = record.code
        shop.presses[record.code] = record
        add_press_places(shop, record)
    elif kind == "job":
        record["id"] = record.number
        record["station_rows"], record["cut_rows"] = [], []
        shop.jobs[record.number] = record
    elif kind in TOOL_KINDS:
        record["id"] = record.other_tag
        record["order"] = len(shop.tools[kind])
        shop.tools[kind][record.id] = record
    elif kind == "station":
        record["id"] = record.station
        record["registered"] = record.register != "no"
        shop.jobs[record.job]["station_rows"].append(record)
    elif kind == "cut":
        record["id"] = record.cut
        shop.jobs[record.job]["cut_rows"].append(record)
    elif kind == "reading":
        shop.readings.setdefault(record.tool, []).append(record)


def cuts_of(job):
    """The cuts of a job; without rows one kiss cut, cut 1, is meant."""
    return job.cut_rows or [Record(id=1, cut=1, kind="kiss")]

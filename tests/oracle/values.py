"""Cells of a shop's CSV, read into exact values.

Lengths are Fractions of a millimetre (whole nanometres), volumes Fractions of a cm3/m2 (whole
millionths), line screens Fractions of lines per cm, moments and durations whole seconds (UTC),
pitches `Pitch`. A blank cell is None: not known, or not asked.
"""

import datetime
import re
from fractions import Fraction
from typing import NamedTuple

# 60 digits of pi: far finer than any limit, and never used where a class compares exactly.
PI = Fraction("3.14159265358979323846264338327950288419716939937510582097494")

MM_IN = {"mm": Fraction(1), "in": Fraction(254, 10), "um": Fraction(1, 1000), "cm": Fraction(10),
         "m": Fraction(1000), "ft": Fraction(3048, 10)}
# 1e9 um3/in2 in cm3/m2: exact, from 1 in = 25.4 mm.
BCM = Fraction(1000000, 645160)
SECONDS = {"min": 60, "h": 3600, "d": 86400, "w": 604800}


def half_up(value):
    """The nearest whole number; a half goes away from zero (all values here are positive)."""
    value = Fraction(value)
    if value < 0:
        return -half_up(-value)
    return (2 * value.numerator + value.denominator) // (2 * value.denominator)


def stored(value, parts):
    """A value as it is kept: a whole number of 1/parts."""
    return Fraction(half_up(value * parts), parts)


class Pitch(NamedTuple):
    """A pitch: `family` is cp, dp or module; `size` is millimetres, times pi for dp and module."""

    family: str
    size: Fraction

    @property
    def length_class(self):
        """Lengths in one class are compared exactly: cp is rational, dp and module times pi."""
        return "rational" if self.family == "cp" else "pi"


class Extent(NamedTuple):
    """A length around: `size` mm (times pi in class pi); class plain where it was only measured."""

    length_class: str
    size: Fraction

    @property
    def mm(self):
        return self.size * PI if self.length_class == "pi" else self.size


def extent_of(record):
    """teeth x pitch, else the plain repeat, else None."""
    if record.get("teeth") is not None and record.get("pitch") is not None:
        pitch = record["pitch"]
        return Extent(pitch.length_class, record["teeth"] * pitch.size)
    if record.get("repeat") is not None:
        return Extent("plain", record["repeat"])
    return None


def number(text):
    """12, 1.5 or 1/8 as a Fraction."""
    return Fraction(text)


def length(text):
    match = re.fullmatch(r"([0-9./]+) ?(mm|in|um|cm|m|ft)", text)
    if not match:
        raise ValueError("length: " + text)
    return stored(number(match[1]) * MM_IN[match[2]], 10 ** 6)


def volume(text):
    if text.endswith("bcm"):
        return stored(number(text[:-3]) * BCM, 10 ** 6)
    if text.endswith("cm3/m2"):
        return stored(number(text[:-6]), 10 ** 6)
    raise ValueError("volume: " + text)


def across(text):
    """left/centre/right, each in bcm: the mean of the three."""
    sides = [volume(side) for side in text.split("/")]
    return sum(sides) / len(sides)


def screen(text):
    if text.endswith("lpi"):
        return number(text[:-3]) * 10 / Fraction(254, 10)
    if text.endswith("/cm"):
        return number(text[:-3])
    raise ValueError("screen: " + text)


def pitch(text):
    if text.endswith("mmcp"):
        return Pitch("cp", number(text[:-4]))
    if text.endswith("cp"):
        return Pitch("cp", number(text[:-2]) * Fraction(254, 10))
    if text.endswith("dp"):
        return Pitch("dp", Fraction(254, 10) / number(text[:-2]))
    if text.startswith("m"):
        return Pitch("module", number(text[1:]))
    raise ValueError("pitch: " + text)


def percent(text):
    return number(text.rstrip("%")) / 100


def angle(text):
    return number(text[:-3]) if text.endswith("deg") else number(text)


def duration(text):
    match = re.fullmatch(r"([0-9.]+)(min|h|d|w)", text)
    return number(match[1]) * SECONDS[match[2]]


def moment(text):
    """Seconds since 1970 in UTC; a bare date is that day's beginning."""
    value = datetime.datetime.fromisoformat(text.replace("Z", "+00:00"))
    if value.tzinfo is None:
        value = value.replace(tzinfo=datetime.timezone.utc)
    return int(value.timestamp())


def back(text):
    """When a tool is back: a bare date means the end of that day."""
    return moment(text) + (86400 if "T" not in text else 0)


def moment_text(seconds):
    value = datetime.datetime.fromtimestamp(seconds, datetime.timezone.utc)
    return value.strftime("%Y-%m-%dT%H:%M:%SZ")


def words(text):
    return [word.strip() for word in text.split(",") if word.strip()]


def pitches(text):
    return [pitch(word) for word in words(text)]


def yes_no(text):
    return text == "yes"


READERS = {
    "face": length, "face_from": length, "face_to": length, "run": length, "undercut": length,
    "diameter": length, "runout": length, "bore": length, "repeat": length, "length": length,
    "thickness": length, "label_across": length, "label_around": length, "gap_across": length,
    "gap_around": length, "corner": length, "liner_caliper": length, "die_gap": length,
    "web": length, "repeat_min": length, "repeat_max": length, "gap_around_min": length,
    "gap_around_max": length, "trim": length, "plate": length, "base": length, "tape": length,
    "teeth": int, "number_across": int, "number_around": int, "stations": int,
    "die_stations": int, "station": int, "cut_number": int, "quantity": int,
    "pitch": pitch, "pitches": pitches, "pressure_angle": angle, "helix": angle, "angle": angle,
    "line_screen": screen, "screen_min": screen, "screen_max": screen, "plate_screen": screen,
    "volume": volume, "volume_tolerance": percent, "across": across,
    "from": moment, "until": moment, "back": back, "engraved": moment, "moment": moment,
    "fit": words, "press": words, "processes": words, "retired": yes_no,
}


def read_cell(heading, text):
    """A cell under its heading (`face`, or `face_mm` and `face_in` with the unit in the heading)."""
    text = text.strip()
    name, unit = heading, ""
    for ending in ("_mm", "_in", "_um"):
        if heading.endswith(ending):
            name, unit = heading[:-len(ending)], ending[1:]
    if text == "":
        return name, None
    reader = READERS.get(name)
    return name, reader(text + unit) if reader else text


def life_of(kind, text):
    """`life` is metres of web for a blade, revolutions for a die."""
    if text is None:
        return None
    return length(text) if kind == "blade" else number(text)

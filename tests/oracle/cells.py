"""Cells of a random shop: exact values written in the units that people use."""

import csv
import os
from fractions import Fraction

from shop import KINDS

INCH = Fraction(254, 10)


def decimal(value, places):
    """A value as an exact decimal, or None where it has more places than that."""
    value = Fraction(value)
    whole = value * 10 ** places
    if whole.denominator != 1:
        return None
    sign = "-" if whole < 0 else ""
    digits = str(abs(whole.numerator)).rjust(places + 1, "0")
    text = digits[:len(digits) - places] + "." + digits[len(digits) - places:] if places else digits
    return sign + (text.rstrip("0").rstrip(".") if places else text)


def length(rng, mm):
    """A length in one of the units that say it exactly."""
    spellings = [decimal(mm, 6) + "mm"] * 3
    inches = decimal(mm / INCH, 5)
    if inches is not None:
        spellings.append(inches + "in")
    part = mm / INCH
    if part.denominator in (2, 4, 8, 16, 32, 64) and part < 1:
        spellings.append("%d/%din" % (part.numerator, part.denominator))
    if mm < 1 and (mm * 1000).denominator == 1:
        spellings.append("%dum" % (mm * 1000))
    if mm >= 1000:
        spellings = [decimal(mm / 1000, 9) + "m"]
    return rng.choice(spellings)


def snap(value):
    """A whole micrometre near a value that is not a whole number of nanometres (and never so near
    that rounding could decide); an exact value stays."""
    value = Fraction(value)
    if (value * 10 ** 6).denominator == 1:
        return value
    near = Fraction(round(value * 1000), 1000)
    return near + Fraction(1, 1000) if abs(near - value) < Fraction(2, 10 ** 6) else near


def heading_and_cell(rng, rows, name):
    """How a column is headed, and how its lengths are written: the unit may stand in the heading."""
    cells = [row.get(name) for row in rows]
    lengths = [cell for cell in cells if isinstance(cell, Fraction)]
    if lengths and name in ("face", "corner", "label_across") and rng.random() < 0.15:
        if all(decimal(cell / INCH, 5) is not None for cell in lengths):
            return name + "_in", lambda cell: decimal(cell / INCH, 5)
        return name + "_mm", lambda cell: decimal(cell, 6)
    return name, lambda cell: length(rng, cell)


def write_csv(rng, path, rows):
    names = []
    for row in rows:
        names += [name for name in row if name not in names]
    columns = {name: heading_and_cell(rng, rows, name) for name in names}
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow([columns[name][0] for name in names])
        for row in rows:
            cells = []
            for name in names:
                cell = row.get(name)
                if isinstance(cell, Fraction):
                    cell = columns[name][1](cell)
                cells.append("" if cell is None else str(cell))
            writer.writerow(cells)


def write_shop(rng, folder, draft):
    """The rows of a draft as KIND.csv, its settings, takes and checks as lines of text."""
    for kind in KINDS:
        if draft.rows[kind]:
            write_csv(rng, os.path.join(folder, kind + ".csv"), draft.rows[kind])
    for name, lines in (("settings.txt", draft.setting_lines), ("takes.txt", draft.takes),
                        ("checks.txt", draft.checks)):
        if lines:
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write("".join(line + "\n" for line in lines))

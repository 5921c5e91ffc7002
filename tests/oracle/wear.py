"""The line of a roll's volume worked out a second time, by scipy: Theil-Sen, and whether it falls by Kendall's tau.

What counts: readings after cleaning since the roll was engraved, at a known run (as read, or 0 where the roll has run
nothing), by the method that most of them are by (of as many by the one of the latest) or by none on record. A trend forecasts where there are
three at least, they fall, and so many that fall so would come about by chance one time in ten at most (two-sided). Where
Kendall does not tell that, the program may tell it by how the shop's readings scatter, which tests/trade/test_forecast.c
measures: then its word is taken (`Shop.trends`), and the line is worked out all the same.
"""

from collections import Counter
from fractions import Fraction

from values import half_up

POINTS_LEAST = 3
CHANCE_MOST = 0.1
MICRO = 10 ** 6


def volume_of(reading):
    """As it is kept, in whole 1e-6 cm3/m2."""
    return half_up((reading.volume if reading.volume is not None else reading.across) * MICRO)


def run_of(roll, reading):
    """Web run when it was read, in m; None where nobody knows."""
    if reading.run is not None:
        return reading.run / 1000
    return None if roll.run else Fraction(0)


def clean_readings(shop, roll):
    """Oldest first; of one moment in the order in which they were put on record."""
    return sorted((reading for reading in shop.readings.get(roll.id, ())
                   if reading.after == "clean" and (roll.engraved is None or reading.moment >= roll.engraved)),
                  key=lambda reading: reading.moment)


def points_of(shop, roll):
    """[(run in m, volume in 1e-6 cm3/m2)] of the readings that speak of wear."""
    known = [reading for reading in clean_readings(shop, roll) if run_of(roll, reading) is not None]
    if not known:
        return []
    counts = Counter(reading.method for reading in known if reading.method is not None)
    most = max(counts.values(), default=0)
    method = next((reading.method for reading in reversed(known) if reading.method is not None and counts[reading.method] == most), None)
    return [(run_of(roll, reading), volume_of(reading)) for reading in known if reading.method in (None, method)]


def line_of(points, says=None):
    """(at run 0, slope a metre) of a trend that forecasts, else None; `says`: what the program tells of it."""
    runs, volumes = [float(run) for run, _ in points], [volume for _, volume in points]
    if len(points) < POINTS_LEAST or len(set(runs)) < 2 or len(set(volumes)) < 2:
        return None
    from scipy import stats  # only where there is a line to be told: it takes a second to load

    tau, chance = stats.kendalltau(runs, volumes)
    slope, at_zero, _, _ = stats.theilslopes(volumes, runs, method="joint")
    clear = chance <= CHANCE_MOST
    if says is not None and clear and (says == "falls") != (tau < 0):
        raise ValueError("trend %s, tau %g with p %g" % (says, tau, chance))
    return (at_zero, slope) if slope < 0 and ((clear and tau < 0) or says == "falls") else None


def fits(line, points, match):
    """Does the latest reading lie within that share of the line? Else it counts itself, not the line."""
    run, volume = points[-1]
    told = max(line[0] + line[1] * float(run), 0)
    return abs(volume - told) <= float(match) * told


def run_by_now(shop, roll):
    """As on record, in m; but no less than it had run when it was read."""
    read = [reading.run for reading in shop.readings.get(roll.id, ()) if reading.run is not None
            and (roll.engraved is None or reading.moment >= roll.engraved)]
    return max([roll.run or 0] + read) / 1000


def forecast(shop, roll, run):
    """Volume when the roll has run so much more (mm; None: no more), in cm3/m2; None where no trend forecasts."""
    if roll not in shop.lines:
        points = points_of(shop, roll)
        line = line_of(points, shop.trends.get(roll.id))
        shop.lines[roll] = line if line is not None and fits(line, points, shop.settings["trend_match"]) else None
    line = shop.lines[roll]
    if line is None:
        return None
    at_end = run_by_now(shop, roll) + (run or 0) / 1000
    return Fraction(max(0, half_up_float(line[0] + line[1] * float(at_end))), MICRO)


def half_up_float(value):
    return int(value + 0.5) if value > 0 else 0

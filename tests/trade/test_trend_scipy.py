"""Theil-Sen, Sen's interval and Kendall's tau against scipy's theilslopes and kendalltau, over random series with ties.

TOOTHRACK_TREND_SERIES series (600) from seed TOOTHRACK_TREND_SEED (1) on. build/tests/trade/answer_series answers them.
"""

import math
import os
import pathlib
import random
import subprocess
import warnings

import numpy
import pytest
from scipy import stats

SERIES = int(os.environ.get("TOOTHRACK_TREND_SERIES", "600"))
SEED = int(os.environ.get("TOOTHRACK_TREND_SEED", "1"))
ANSWERS = pathlib.Path(os.environ["TOOTHRACK"]).parent / "tests" / "trade" / "answer_series"
PARTS = 3
CLOSE = 1e-9
CONFIDENCES = (0.5, 0.8, 0.9, 0.9, 0.93, 0.95, 0.99)


def drawn(seed):
    """A series of a seed: readings, or few values and so many ties, or nothing but one value."""
    rng = random.Random(seed)
    count = rng.choice((1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 20, 33, 34, 50, 100, rng.randint(3, 60), rng.randint(60, 300)))
    kinds_of_x = (lambda: rng.randrange(10 ** 16), lambda: rng.randrange(4), lambda: rng.randrange(2 * count), lambda: 7)
    kinds_of_y = (lambda at: int(4e6 - 1e6 * at / 1e16 + rng.gauss(0, 5e4)), lambda at: rng.randrange(3), lambda at: rng.randrange(count + 1),
                  lambda at: 10 ** 12 - rng.randrange(10 ** 12), lambda at: rng.randrange(-50, 50) - at % 1000003 // 10, lambda at: 5)
    draw_x = rng.choices(kinds_of_x, (6, 3, 5, 1))[0]
    draw_y = rng.choices(kinds_of_y, (6, 3, 4, 2, 3, 1))[0]
    x = [draw_x() for _ in range(count)]
    if rng.random() < 0.1:
        x = sorted(x)
    y = [draw_y(at) for at in x]
    if rng.random() < 0.1:
        y = sorted(y, reverse=rng.random() < 0.5)
    return x, y, rng.choice(CONFIDENCES), rng.choice((0, 0, 1, 5, 50))


def expected(x, y, confidence):
    """What scipy makes of it, in the order of the driver's answer; S from tau is left to the driver's own."""
    with warnings.catch_warnings(), numpy.errstate(all="ignore"):
        warnings.simplefilter("ignore")
        sen = stats.theilslopes(numpy.array(y, dtype=float), numpy.array(x, dtype=float), confidence)
        tau = stats.kendalltau(numpy.array(x), numpy.array(y))
    return sen.slope, sen.low_slope, sen.high_slope, tau.statistic, tau.pvalue


def same(a, b):
    if math.isnan(a) or math.isnan(b):
        return math.isnan(a) and math.isnan(b)
    return abs(a - b) <= CLOSE * max(abs(a), abs(b)) or abs(a - b) < 1e-300


def answers(series):
    lines = ["%d %r %d %s" % (len(x), confidence, listed, " ".join("%d %d" % pair for pair in zip(x, y))) for x, y, confidence, listed in series]
    done = subprocess.run([ANSWERS], input="\n".join(lines), capture_output=True, encoding="ascii", check=True)
    return [[float(word) for word in line.split()] for line in done.stdout.splitlines()]


@pytest.mark.parametrize("part", range(PARTS))
def test_as_scipy(part):
    seeds = range(SEED + part, SEED + SERIES, PARTS)
    series = [drawn(seed) for seed in seeds]
    found = answers(series)
    assert len(found) == len(series)
    for seed, (x, y, confidence, _), (slope, least, most, _, tau, p) in zip(seeds, series, found):
        wanted = expected(x, y, confidence)
        assert all(map(same, (slope, least, most, tau, p), wanted)), (seed, x[:40], y[:40], confidence, (slope, least, most, tau, p), wanted)


def test_s_is_the_pairs_that_rise_less_those_that_fall():
    series = [drawn(seed) for seed in range(SEED, SEED + 60)]
    for (x, y, _, _), answer in zip(series, answers(series)):
        sign = numpy.sign(numpy.subtract.outer(numpy.array(x), x)) * numpy.sign(numpy.subtract.outer(numpy.array(y), y))
        assert math.isnan(answer[4]) or answer[3] == sign.sum() / 2

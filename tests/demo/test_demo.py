"""The demo shop: jobs, rolls, blades and dies come out as they were made to, at any date, and `make demo` shows it."""

import json
import os
import subprocess

import pytest

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
PROGRAM = os.path.abspath(os.environ.get("TOOTHRACK", os.path.join(TOP, "build", "toothrack")))
MOMENTS = ["2026-12-01T08:00:00Z", "2029-06-15T23:30:00Z"]

with open(os.path.join(TOP, "tests", "data", "demo_expected.json"), encoding="utf-8") as expected_file:
    EXPECTED = json.load(expected_file)


def call(words, home, now):
    environment = {key: value for key, value in os.environ.items() if key != "TOOTHRACK_DB"}
    environment.update(TZ="UTC", TOOTHRACK_NOW=now, HOME=str(home))
    return subprocess.run([PROGRAM, "--db", str(home / "shop.db")] + words, env=environment, capture_output=True,
                          encoding="utf-8", timeout=60, check=False)


@pytest.fixture(scope="module", params=MOMENTS)
def shop(request, tmp_path_factory):
    home = tmp_path_factory.mktemp("demo")
    assert call(["demo"], home, request.param).returncode == 0
    return home, request.param


@pytest.mark.parametrize("job", sorted(EXPECTED))
def test_job_comes_out_as_made(shop, job):
    done = call(["check", job, "--json"], *shop)
    answer = json.loads(done.stdout)
    found = [[finding["need"], finding["station"], finding["level"]] for finding in answer["findings"]
             if finding["level"] != "note"]
    assert (answer["verdict"], done.returncode) == (EXPECTED[job]["verdict"], EXPECTED[job]["exit"])
    assert sorted(found, key=str) == sorted(EXPECTED[job]["findings"], key=str)


def test_shop_is_as_large_as_promised(shop):
    home, now = shop
    (home / "other").mkdir()
    done = call(["--json", "demo"], home / "other", now)
    counts = json.loads(done.stdout)
    least = {"press": 2, "cylinder": 60, "gear": 20, "anilox": 40, "blade": 30, "die": 40, "magnetic_cylinder": 10,
             "place": 30, "job": 12}
    assert {kind: counts[kind] for kind in least if counts[kind] < least[kind]} == {}


def worn(shop, tag):
    return json.loads(call(["wear", tag, "--json"], *shop).stdout)


def test_roll_that_nears_its_limit__falls_with_a_range(shop):
    roll = worn(shop, "AN000005-J")
    assert (roll["trend"], roll["forecast"]) == ("falls", "range")
    assert 15 < roll["loss_percent"] < 20
    assert 0 < roll["left_least_m"] < roll["left_most_m"] < 100000


def test_roll_that_only_plugs__no_trend_and_what_cleaning_gave_back(shop):
    roll = worn(shop, "AN000022-H")
    assert (roll["trend"], roll["forecast"]) == ("none", "not_known")
    assert roll["loss_percent"] < 2 < 100 * roll["gave_back_cm3_m2"] / roll["volume_cm3_m2"]


def test_uneven_roll__more_than_the_shop_allows(shop):
    assert worn(shop, "AN000026-9")["uneven_percent"] > 10


@pytest.mark.parametrize("tag, readings", [("AN000004-L", 2), ("AN000024-D", 0)])
def test_roll_read_too_seldom_or_never__no_number(shop, tag, readings):
    roll = worn(shop, tag)
    assert (roll["trend"], roll["readings_counted"], roll["slope_cm3_m2"]) == ("too_few", readings, None)


@pytest.mark.parametrize("tag", ["DB000009-2", "DI000006-Z"])
def test_blade_and_die_near_their_end(shop, tag):
    assert 0 < worn(shop, tag)["left_least_m"] < 2000


def test_make_demo_shows_a_ready_and_a_short_job(tmp_path):
    script = os.path.join(TOP, "src", "demo", "show.sh")
    environment = dict(os.environ, TOOTHRACK=PROGRAM, TOOTHRACK_DEMO=str(tmp_path / "demo"))
    done = subprocess.run([script], env=environment, capture_output=True, encoding="utf-8", timeout=60, check=False)
    assert done.returncode == 0
    assert "J2601 on P1: ready\n" in done.stdout
    assert "J2608 on P1: short of 1 need: anilox at station 5\n" in done.stdout
    assert "overdue    decide     AN000006-H" in done.stdout
    assert "in 24900m  decide     AN000005-J" in done.stdout
    assert "AN000005-J, anilox roll" in done.stdout
    assert "Now type" in done.stdout

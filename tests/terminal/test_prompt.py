"""The prompt shows how many jobs have a booking at risk; what another console did is seen at the next prompt.

TOOTHRACK names the program (build/toothrack).
"""
import subprocess

import pytest

from person import CTRL_C, PROGRAM, Person, environment


def run(folder, line):
    return subprocess.run([PROGRAM, *line.split()], env=environment(folder), cwd=folder, check=False, capture_output=True, text=True)


@pytest.fixture(name="shop")
def made_shop(tmp_path):
    """The demo shop with two jobs booked, one after the other."""
    for line in (
        "demo",
        "book J2604 from=2026-12-02T06:00 until=2026-12-02T10:00",
        "book J2601 from=2026-12-02T12:00 until=2026-12-02T16:00",
    ):
        done = run(tmp_path, line)
        assert done.returncode == 0, done.stdout + done.stderr
    return tmp_path


def roll_of(shop, job, station):
    """The anilox roll that the job has booked for a station."""
    shown = run(shop, f"show {job}").stdout.split("\n\n")
    booking = next(part for part in shown if part.startswith("booked on")).splitlines()
    at = next(index for index, line in enumerate(booking) if line.startswith(f"station {station} "))
    return next(line for line in booking[at:] if "anilox roll" in line).split()[-1]


def test_prompt__a_booking_broken_here_and_mended__shows_and_loses_the_number(shop):
    roll = roll_of(shop, "J2604", 4)
    person = Person(shop)
    assert person.at_risk == 0
    person.line(f"hold {roll} reason=scored")
    assert person.at_risk == 1
    person.line("check J2601")
    assert person.at_risk == 1
    person.line(f"clear {roll}")
    assert person.at_risk == 0
    assert person.leave() == 0


def test_prompt__broken_by_another_console__is_seen_at_the_next(shop):
    person = Person(shop)
    for number, (job, station) in enumerate((("J2604", 4), ("J2601", 2)), 1):
        assert run(shop, f"hold {roll_of(shop, job, station)} reason=scored").returncode == 0
        person.type(CTRL_C if number == 1 else "\r")
        person.until_prompt()
        assert person.at_risk == number
    assert run(shop, "unbook J2601").returncode == 0
    assert person.line("") == ""
    assert person.at_risk == 1
    assert person.leave() == 0


def test_prompt__a_console_opened_later__shows_it_at_once(shop):
    assert run(shop, f"hold {roll_of(shop, 'J2604', 1)} reason=scored").returncode == 0
    person = Person(shop)
    assert person.at_risk == 1
    assert person.leave() == 0


def test_prompt__back_passes_while_nobody_types_anything__is_seen_at_the_next(shop):
    roll = roll_of(shop, "J2601", 2)
    sent = run(shop, f"send {roll} at=S1 back=2026-12-01T20:00 reason=relapped")
    assert sent.returncode == 0, sent.stderr
    person = Person(shop)
    assert person.at_risk == 0
    person.leave()
    person = Person(shop, TOOTHRACK_NOW="2026-12-01T20:00:00Z")
    assert person.at_risk == 1
    assert roll in person.line("at_risk")
    person.leave()


def test_prompt__no_shop_yet__is_plain(tmp_path):
    person = Person(tmp_path)
    assert person.at_risk == 0
    assert not (tmp_path / "shop.db").exists()
    assert person.leave() == 0

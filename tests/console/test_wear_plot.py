"""Plots of wear on paper: what a page that is read without the figures must tell, as the words of its SVG."""

import os
import pathlib
import re
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
NEW = "6.7cm3/m2"


def run(folder, *words, locale="C.UTF-8", now="2026-12-01T08:00:00Z"):
    """What it answers."""
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    environment = kept | {"HOME": str(folder), "LOGNAME": "clerk", "LC_ALL": locale, "TZ": "UTC", "TERM": "dumb",
                          "COLUMNS": "80", "TOOTHRACK_NOW": now}  # fmt: skip
    done = subprocess.run(
        [PROGRAM, "--db", str(folder / "shop.db"), *words], cwd=folder, env=environment, stdin=subprocess.DEVNULL,
        capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr.decode()) == (0, ""), words
    return done.stdout.decode()


def roll_read(folder, readings, volume=NEW):
    """A roll with readings after cleaning, a day apart: (metres or None, cm3/m2) each. Its tag."""
    attributes = ["line_screen=140/cm", "other_tag=R1"] + ([f"volume={volume}"] if volume else [])
    tag = run(folder, "new", "anilox", *attributes).split()[0]
    lines = ["tool,moment,volume,method,after,run"]
    for day, (metres, read) in enumerate(readings, 1):
        web = "" if metres is None else f"{metres}m"
        lines.append(f"{tag},2026-10-{day:02},{read}cm3/m2,surface,clean,{web}")
    (folder / "readings.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    run(folder, "import", "reading", "readings.csv", "update=yes")
    return tag


def words_drawn(folder, command, tag, *more, **when):
    """The lines of words on the page, in the order they are drawn."""
    run(folder, command, tag, "file=page.svg", *more, **when)
    page = (folder / "page.svg").read_text(encoding="utf-8")
    return [re.sub(r"<[^>]*>", "", line) for line in re.findall(r"<text[^>]*>.*?</text>", page, re.DOTALL)]


def joined(words):
    return " ".join(words)


WEARS = [(100000 * i, 6.7 - 0.08 * i) for i in range(8)]


@pytest.mark.parametrize("command", ["wear", "show"])
def test_page__roll_that_wears__tells_when_its_limit_comes_as_the_answer_does(tmp_path, command):
    tag = roll_read(tmp_path, WEARS)
    said = re.search(r"^limit .* nine times in ten", run(tmp_path, "wear", tag), re.MULTILINE)[0]
    assert said in joined(words_drawn(tmp_path, command, tag))


def test_page__limit_not_known__tells_why(tmp_path):
    words = words_drawn(tmp_path, "wear", roll_read(tmp_path, WEARS, volume=None))
    assert "limit: when it is reached is not known: volume when new not known" in words
    assert "limit of the shop" not in words


def test_page__readings_whose_run_is_not_known__are_counted(tmp_path):
    tag = roll_read(tmp_path, [*WEARS, (None, 5.9), (None, 5.8)])
    assert "not drawn: 2 readings whose run is not known" in words_drawn(tmp_path, "wear", tag)


def test_page__readings_that_rise__are_a_trend(tmp_path):
    words = words_drawn(tmp_path, "wear", roll_read(tmp_path, [(metres, 12.4 - read) for metres, read in WEARS]))
    assert "trend" in words and "line, no trend shown" not in words and "forecast" not in words


def test_axis__readings_far_from_new__begins_with_them(tmp_path):
    words = words_drawn(tmp_path, "wear", roll_read(tmp_path, [(2500000 + metres // 10, read - 1) for metres, read in WEARS[:4]]))
    assert "2.50" in words and "0.5" not in words
    assert "when new" not in words and "when new, left of this plot: 6.70cm3/m2" in words


@pytest.mark.parametrize(
    ("scale", "more", "name", "tick"),
    [
        (1, (), "web run since the engraving, million m", "0.2"),
        (0.01, (), "web run since the engraving, thousand m", "2"),
        (0.01, ("--units", "inch"), "web run since the engraving, thousand ft", "20"),
        (1, ("--units", "inch"), "web run since the engraving, million ft", "1"),
    ],
)
def test_axis__much_web_or_little__counts_what_is_read(tmp_path, scale, more, name, tick):
    tag = roll_read(tmp_path, [(int(metres * scale), read) for metres, read in WEARS])
    words = words_drawn(tmp_path, "wear", tag, *more)
    assert name in words and tick in words, words


def test_page__runout_below_its_limit__stands_above_nothing(tmp_path):
    run(tmp_path, "demo")
    run(tmp_path, "gauge", "PC000025-1", "runout=0.011mm")
    words = words_drawn(tmp_path, "wear", "PC000025-1")
    assert words.count("0") == 2 and "12" in words, "both axes begin at nothing"


NEAR_NEW = [(1000, 6.7), (2000, 6.5), (3000, 6.6), (4000, 6.4)]


def frame_of(folder, tag):
    """Rows of the frame in ASCII, without the axis."""
    lines = run(folder, "wear", tag, locale="C").splitlines()
    rows = [re.split(r"[|+]", line, maxsplit=1)[1] for line in lines if re.match(r" *[0-9.]*[|+]", line)]
    return rows[:-1]


def test_page__run_far_behind_the_readings__neither_band_nor_web_dwarfs_them(tmp_path):
    tag = roll_read(tmp_path, NEAR_NEW)
    run(tmp_path, "edit", tag, "run=3000000m")
    words = words_drawn(tmp_path, "wear", tag)
    assert {"web run since the engraving, thousand m", "6.4", "10"} <= set(words)
    assert "run by now, right of this plot: 3.00 million m" in words


def test_page__cleaned_far_behind_the_readings__does_not_stretch_it(tmp_path):
    run(tmp_path, "demo")
    run(tmp_path, "book", "J2601", "from=2026-12-01T08:00", "until=2026-12-01T16:00")
    run(tmp_path, "start", "J2601")
    run(tmp_path, "cleaned", "AN000021-J")
    run(tmp_path, "reading", "AN000021-J", "volume=2.6cm3/m2", "method=surface", "after=clean")
    assert "cleaned" in words_drawn(tmp_path, "wear", "AN000021-J")
    run(tmp_path, "finish", "J2601", "length=30000000m", now="2026-12-02T07:00:00Z")
    run(tmp_path, "cleaned", "AN000021-J", now="2026-12-02T08:00:00Z")
    words = words_drawn(tmp_path, "wear", "AN000021-J", now="2026-12-02T09:00:00Z")
    assert "cleaned" in words and "30" not in words, words


def test_plot__no_trend_shown__nothing_is_drawn_behind_the_last_reading(tmp_path):
    tag = roll_read(tmp_path, NEAR_NEW)
    run(tmp_path, "edit", tag, "run=3000000m")
    rows = [row for row in frame_of(tmp_path, tag) if "limit of the shop" not in row]
    assert any("*" in row for row in rows) and all(len(row) < 30 for row in rows), rows


def test_plot__roll_run_long_past_its_limit__forecast_ends_where_nothing_is_left(tmp_path):
    tag = roll_read(tmp_path, [(1000 * i, 6.7 - 0.05 * i) for i in range(1, 6)])
    run(tmp_path, "edit", tag, "run=100000m")
    words = words_drawn(tmp_path, "wear", tag)
    assert "forecast" in words and "run by now" not in joined(words)
    run(tmp_path, "edit", tag, "run=200000m")
    straight = [(row.index("."), number) for number, row in enumerate(frame_of(tmp_path, tag)) if "." in row]
    steps = [(later[0] - before[0]) / (later[1] - before[1]) for before, later in zip(straight, straight[1:])]
    assert len(straight) > 5 and max(steps) < 12, straight

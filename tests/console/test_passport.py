"""A tool's passport as it is read on paper: by pdftotext, whose words are compared without regard to lines."""
import os
import pathlib
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
ROLL = "AN000009-B"


@pytest.fixture(name="shop")
def fixture_shop(tmp_path):
    run(tmp_path, "demo")
    return tmp_path


def run(folder, *words):
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    environment = kept | {"HOME": str(folder), "LOGNAME": "clerk", "LC_ALL": "C.UTF-8", "TZ": "UTC", "TERM": "dumb", "TOOTHRACK_NOW": "2026-12-01T08:00:00Z"}
    subprocess.run([PROGRAM, "--db", str(folder / "shop.db"), *words], cwd=folder, env=environment, stdin=subprocess.DEVNULL, capture_output=True, timeout=60, check=True)


def words_of(folder, tag):
    run(folder, "show", tag, "file=page.pdf")
    said = subprocess.run(["pdftotext", "-raw", "page.pdf", "-"], cwd=folder, capture_output=True, timeout=60, check=True).stdout.decode()
    return " ".join(said.split())


def test_roll_without_a_plot__latest_readings_and_what_its_history_read(shop):
    words = words_of(shop, ROLL)
    assert "6.67cm3/m2 when new" in words and "6.665013" not in words
    assert "2026-09-23T14:40, 4.93cm3/m2, after cleaning" in words
    assert "across 5.13/5.29/5.44cm3/m2, after cleaning" in words
    assert "new reading, clerk; volume 4.93cm3/m2, after cleaning, read 2026-09-23T14:40" in words
    assert "141.732/cm" in words  # only volumes are shortened


def test_roll_with_a_plot__readings_stand_in_it_alone(shop):
    run(shop, "reading", ROLL, "volume=4.812345cm3/m2", "after=clean", "method=surface", "run=2388000m")
    words = words_of(shop, ROLL)
    assert "limit of the shop" in words and "reading 2026-09-23T14:40, " not in words
    assert "volume 4.81cm3/m2, after cleaning, read 2026-12-01T08:00" in words

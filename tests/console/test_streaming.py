"""Long answers go out row by row, in little memory: a shop of 40,000 tools, all of them found.

TOOTHRACK names the program (build/toothrack).
"""
import csv
import io
import json
import os
import pathlib
import re
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
ROWS = 40_000
MEMORY_MOST_KIB = 14 * 1024


def environment(folder):
    return {"PATH": os.environ["PATH"], "HOME": str(folder), "LC_ALL": "C.UTF-8", "TZ": "UTC"}


@pytest.fixture(name="shop", scope="module")
def large_shop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("large")
    named = json.loads(subprocess.run([PROGRAM, "help", "--json"], stdout=subprocess.PIPE, check=True).stdout)
    if "find" not in [line["name"] for line in named]:
        pytest.skip("no command has so many rows yet")
    rows = "".join(f"96,1/8cp,330mm,cylinder {number}\n" for number in range(ROWS))
    (folder / "cylinders.csv").write_text("teeth,pitch,face,name\n" + rows, encoding="utf-8")
    subprocess.run(
        [PROGRAM, "--db", "shop.db", "import", "cylinder", "cylinders.csv"],
        cwd=folder,
        env=environment(folder),
        stdout=subprocess.DEVNULL,
        check=True,
    )
    return folder


def peak_kib(process):
    """0 where it has just ended."""
    status = pathlib.Path(f"/proc/{process.pid}/status").read_text(encoding="ascii")
    told = re.search(r"VmHWM:\s*(\d+) kB", status)
    return 0 if told is None else int(told.group(1))


def found(folder, *words):
    """The whole answer, and the most memory that was resident while all but its end was read."""
    with subprocess.Popen(
        [PROGRAM, "--db", "shop.db", "find", "cylinder", *words], cwd=folder, env=environment(folder), stdout=subprocess.PIPE
    ) as process:
        answer = bytearray()
        peak = 0
        while piece := process.stdout.read(256 * 1024):
            answer += piece
            peak = max(peak, peak_kib(process))
    assert process.returncode == 0
    return answer.decode("utf-8"), peak


@pytest.mark.parametrize("form", ["text", "json", "csv"])
def test_find__40000_rows__all_there_in_little_memory(shop, form):
    answer, peak = found(shop, *([] if form == "text" else ["--" + form]))
    assert 0 < peak < MEMORY_MOST_KIB
    if form == "json":
        assert len({record["tag"] for record in json.loads(answer)}) == ROWS
    elif form == "csv":
        assert len({row["tag"] for row in csv.DictReader(io.StringIO(answer, newline=""))}) == ROWS
    else:
        assert sum(line.startswith("PC") for line in answer.split("\n")) == ROWS


def test_find__reader_leaves__no_fault(shop):
    with subprocess.Popen(
        [PROGRAM, "--db", "shop.db", "find", "cylinder", "--json"],
        cwd=shop,
        env=environment(shop),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        process.stdout.read(1000)
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 0


def test_find__disk_full__said_once(shop):
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [PROGRAM, "--db", "shop.db", "find", "cylinder"], cwd=shop, env=environment(shop), stdout=full, stderr=subprocess.PIPE, check=False
        )
    assert done.returncode == 3
    assert done.stderr.decode() == "toothrack: answer not written: No space left on device\nMake room there, or send the answer elsewhere.\n"

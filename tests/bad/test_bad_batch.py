"""Batches of a handheld that are wrong: what is said of each line, the exit, and a shop unchanged to the byte of its dump.

The table stands in cases_batch.py. TOOTHRACK names the program.
"""
import os

import cases_batch
import pytest
from bad import call, copy_shop, held, left_behind, said, unchanged


@pytest.fixture(scope="module", name="shop")
def made_shop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    assert call(folder, "demo")[0] == 0
    return folder


@pytest.fixture(scope="module", name="before")
def made_before(shop):
    return held(shop / "shop.db")


@pytest.fixture(autouse=True)
def _unchanged(shop, before):
    yield
    assert unchanged(before, shop / "shop.db")
    assert left_behind(shop, "in.csv") == []


@pytest.mark.parametrize("content, lines", list(cases_batch.LINES.values()), ids=cases_batch.LINES)
def test_lines(shop, content, lines):
    (shop / "in.csv").write_bytes(content)
    status, out, error = call(shop, "scan", "in.csv")
    assert (status, error) == (1, "")
    sums, *told = out.splitlines()
    assert sums.startswith("in.csv: ") and ", 0 applied" in sums and sums.endswith(f", {len(lines)} wrong")
    assert told == lines


@pytest.mark.parametrize("content, sentence, hint", list(cases_batch.FILES.values()), ids=cases_batch.FILES)
def test_file(shop, content, sentence, hint):
    (shop / "in.csv").write_bytes(content)
    assert call(shop, "scan", "in.csv") == (2, "", said(sentence, hint))


def test_file_that_is_none(shop, tmp_path):
    assert call(shop, "scan", "nonesuch.csv") == (2, "", said("file not found: nonesuch.csv"))
    assert call(shop, "scan", str(tmp_path)) == (2, "", said(f"file is a directory: {tmp_path}"))
    assert call(shop, "scan", "/dev/zero") == (
        2, "", said("file is no text, it holds a NUL byte: /dev/zero", "Give lines of moment,code as text in UTF-8."),
    )  # fmt: skip
    if os.geteuid() != 0:
        (tmp_path / "shut.csv").touch(mode=0)
        assert call(shop, "scan", str(tmp_path / "shut.csv"))[0] == 2


def test_many_lines_that_are_wrong__twenty_told_and_all_counted(shop):
    (shop / "in.csv").write_bytes(b"".join(b"2026-12-01T08:00:00Z,X-%d\n" % number for number in range(3000)))
    status, out, error = call(shop, "scan", "in.csv")
    lines = out.splitlines()
    assert (status, error) == (1, "") and lines[0] == "in.csv: 3000 lines, 0 applied, 3000 wrong"
    assert len(lines) == 22 and lines[-1] == "and 2980 more"


def test_wrong_lines_among_right_ones__the_right_ones_are_applied_once(shop, tmp_path):
    copy_shop(shop, tmp_path)
    (tmp_path / "in.csv").write_text(
        "moment,code\n2026-12-01T08:00:00Z,C2\n2026-12-01T08:00:00Z,PC000025-1\n2026-12-01T08:00:00Z,PC000026-9\n2026-12-01T08:00:00Z,PC000027-Y\n",
        encoding="utf-8",
    )
    status, out, error = call(tmp_path, "scan", "in.csv")
    assert (status, error) == (1, "") and out.startswith("in.csv: 4 lines, 2 applied, 1 with nothing to record of themselves, 1 wrong\n")
    once = held(tmp_path / "shop.db")
    status, out, error = call(tmp_path, "scan", "in.csv")
    assert (status, error) == (1, "") and "0 applied, 2 applied before, 1 with nothing" in out
    assert unchanged(once, tmp_path / "shop.db")

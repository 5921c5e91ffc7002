"""backup: a copy of a running shop is whole or not there.

TOOTHRACK names the program (build/toothrack); TOOTHRACK_KILLS how often it is killed halfway.
"""
import os
import random
import signal
import sqlite3
import stat
import subprocess
import threading
import time

import pexpect
import pytest
from safe import PROGRAM, answer_of, call, command, copy_shop, done, entries_of, environment, left_behind, run_sql

KILLS = int(os.environ.get("TOOTHRACK_KILLS", "12"))


@pytest.fixture(scope="module", name="demo")
def made_demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    done(folder, "demo")
    return folder


@pytest.fixture(name="shop")
def made_shop(demo, tmp_path):
    copy_shop(demo, tmp_path)
    return tmp_path


@pytest.fixture(scope="module", name="large")
def made_large(tmp_path_factory):
    """Large enough that a copy takes a while: some ten thousand gears."""
    folder = tmp_path_factory.mktemp("large")
    rows = "".join(f"{60 + at % 90},1/8cp,gear {at} of the long rack by the window\n" for at in range(12000))
    (folder / "gears.csv").write_text("teeth,pitch,note\n" + rows, encoding="utf-8")
    done(folder, "import", "gear", "gears.csv")
    return folder


def test_copy__one_file_for_owner_and_group(shop):
    done(shop, "backup", "copy.db")
    status = (shop / "copy.db").stat()
    assert stat.S_IMODE(status.st_mode) == 0o660
    assert answer_of(shop / "copy.db", "PRAGMA journal_mode") == "delete"
    assert sorted(file.name for file in shop.glob("copy.db*")) == ["copy.db"]
    assert entries_of(shop / "copy.db") == entries_of(shop / "shop.db")


def test_copy__in_the_shops_place_by_hand__is_a_shop(shop):
    done(shop, "backup", "copy.db")
    done(shop, "put", "PC000026-0", "at=C1", db="copy.db")
    assert answer_of(shop / "copy.db", "PRAGMA journal_mode") == "wal"
    assert done(shop, "verify", db="copy.db").endswith("whole\n")


def test_file_there__refused_and_untouched(shop):
    (shop / "copy.db").write_text("mine\n")
    assert call(shop, "backup", "copy.db") == (
        2,
        "",
        "toothrack: file is there already: copy.db\nName another; a copy is never written over.\n",
    )
    assert (shop / "copy.db").read_text() == "mine\n"
    assert call(shop, "backup", "shop.db")[0] == 2
    assert call(shop, "backup", ".")[0] == 2
    assert left_behind(shop) == []


def test_clock_stopped__a_copy_is_no_writing(tmp_path):
    done(tmp_path, "new", "place", "code=R1", "sort=store", now=None)
    assert done(tmp_path, "backup", "copy.db").startswith("copy.db: 1 records, 1 ledger entries, ")


@pytest.mark.parametrize("size_most", [60000, 100000, 300000])
def test_no_room__said_and_nothing_left(shop, size_most):
    status, out, error = call(shop, "backup", "copy.db", size_most=size_most)
    assert (status, out) == (3, "")
    assert error.startswith("toothrack: disk is full, no copy was made: copy.db\n")
    assert not list(shop.glob("copy.db*"))
    done(shop, "backup", "copy.db")


def test_full_device__said(shop):
    status, out, error = call(shop, "backup", "/dev/full")
    assert (status, out) == (2, "") and error.startswith("toothrack: file is there already: /dev/full\n")


def test_part_of_a_killed_one__taken_over(shop):
    (shop / "copy.db.part").write_bytes(b"half" * 100000)
    (shop / "copy.db.part-journal").write_bytes(b"half" * 1000)
    done(shop, "backup", "copy.db")
    assert left_behind(shop) == []
    assert done(shop, "verify", db="copy.db").endswith("whole\n")


def test_damaged_shop__no_copy_of_it(shop):
    done(shop, "backup", "copy.db")
    run_sql(shop / "shop.db", "UPDATE ledger SET login = 'x' WHERE number = (SELECT max(number) FROM ledger)")
    status, out, error = call(shop, "backup", "second.db")
    assert (status, out) == (3, "")
    assert error.startswith("toothrack: file is damaged, no copy was made: shop.db: entry ")
    assert not list(shop.glob("second.db*"))


def test_while_others_write__whole_and_of_one_moment(large, tmp_path):
    copy_shop(large, tmp_path)
    stop = threading.Event()
    slowest = []

    def work(name):
        at = 0
        while not stop.is_set():
            began = time.monotonic()
            done(tmp_path, "new", "place", f"code={name}{at}", "sort=store")
            slowest.append(time.monotonic() - began)
            at += 1

    writers = [threading.Thread(target=work, args=(name,)) for name in "AB"]
    for writer in writers:
        writer.start()
    try:
        for at in range(4):
            before = entries_of(tmp_path / "shop.db")
            done(tmp_path, "backup", f"copy{at}.db")
            after = entries_of(tmp_path / "shop.db")
            assert before <= entries_of(tmp_path / f"copy{at}.db") <= after
            assert done(tmp_path, "verify", db=f"copy{at}.db").endswith("whole\n")
    finally:
        stop.set()
        for writer in writers:
            writer.join()
    assert len(slowest) > 10 and max(slowest) < 10
    assert done(tmp_path, "verify").endswith("whole\n")


def test_killed_at_any_moment__whole_or_not_there(large, tmp_path):
    copy_shop(large, tmp_path)
    began = time.monotonic()
    done(tmp_path, "backup", "first.db")
    takes = time.monotonic() - began
    rng = random.Random(20261201)
    there = 0
    for at in range(KILLS):
        arguments, options = command(tmp_path, "backup", f"copy{at % 3}.db")
        (tmp_path / f"copy{at % 3}.db").unlink(missing_ok=True)
        with subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **options) as child:
            time.sleep(rng.uniform(0, 1.1 * takes))
            child.send_signal(signal.SIGKILL)
        if (tmp_path / f"copy{at % 3}.db").exists():
            there += 1
            assert done(tmp_path, "verify", db=f"copy{at % 3}.db").endswith("whole\n")
    assert there < KILLS
    for at in range(3):
        (tmp_path / f"copy{at}.db").unlink(missing_ok=True)
        done(tmp_path, "backup", f"copy{at}.db")
    assert left_behind(tmp_path) == []
    assert done(tmp_path, "verify").endswith("whole\n")


def test_two_of_the_same_at_once__one_copy(large, tmp_path):
    copy_shop(large, tmp_path)
    children = []
    for _ in range(3):
        arguments, options = command(tmp_path, "backup", "copy.db")
        children.append(subprocess.Popen(arguments, stdout=subprocess.PIPE, stderr=subprocess.PIPE, **options))
    ends = sorted(child.wait(60) for child in children)
    for child in children:
        child.stdout.close()
        child.stderr.close()
    assert ends[0] == 0 and all(end in (2, 3) for end in ends[1:])
    assert left_behind(tmp_path) == []
    assert done(tmp_path, "verify", db="copy.db").endswith("whole\n")


def test_on_a_terminal__how_far_it_is_and_then_gone(large, tmp_path):
    copy_shop(large, tmp_path)
    child = pexpect.spawn(
        PROGRAM, ["--db", "shop.db", "verify"], cwd=str(tmp_path), env=environment(tmp_path, TERM="xterm"), encoding="utf-8", timeout=60
    )
    child.expect_exact("verify: every page of the file")
    child.expect_exact("whole")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0


@pytest.mark.parametrize("order", ["verify", "backup copy.db", "show R1", "--db other.db restore shop.db"])
def test_cut_short_at_any_size__a_sentence_and_never_a_guess(shop, order):
    done(shop, "backup", "whole.db")
    whole = (shop / "whole.db").read_bytes()
    sizes = [0, 1, 15, 16, 99, 100, 101, 511, 512, 1023, 4095, 4096, 4097, 8192, 12288 + 7, len(whole) // 2, len(whole) - 4096, len(whole) - 1]
    for size in sizes:
        for file in (*shop.glob("shop.db*"), *shop.glob("copy.db*"), *shop.glob("other.db*")):
            file.unlink()
        (shop / "shop.db").write_bytes(whole[:size])
        words = order.split()
        status, out, error = call(shop, *words)
        assert status in (1, 3), (size, status, out, error)
        if status == 3:
            assert out == "" and error.startswith("toothrack: "), (size, error)
            assert "damaged" in error or "not a shop" in error or "disk failed" in error, (size, error)
        else:
            assert order == "verify" and "damage found: " in out, (size, out)
        assert left_behind(shop) == []
        assert not list(shop.glob("copy.db*"))


def test_newer_and_other_programs_files__said(shop):
    with sqlite3.connect(shop / "cook.db") as database:
        database.execute("CREATE TABLE recipe (a)")
    database.close()
    done(shop, "backup", "newer.db")
    with sqlite3.connect(shop / "newer.db") as database:
        database.execute("PRAGMA user_version = 99")
    database.close()
    for words in (("verify",), ("backup", "copy.db")):
        assert call(shop, *words, db="cook.db")[::2] == (
            3,
            "toothrack: file is not a shop of toothrack: cook.db\nName a shop file with --db FILE.\n",
        )
        status, _, error = call(shop, *words, db="newer.db")
        assert status == 3 and error.startswith("toothrack: shop file is of a newer toothrack (schema 99, ")
    assert not list(shop.glob("copy.db*"))

"""restore: a copy comes in the shop's place whole or not at all, and nothing that stood there is lost.

TOOTHRACK names the program (build/toothrack); TOOTHRACK_KILLS how often it is killed halfway.
"""
import os
import pathlib
import random
import signal
import sqlite3
import subprocess
import time

import pexpect
import pytest
from safe import PROGRAM, TOP, answer_of, call, command, copy_shop, done, entries_of, environment, left_behind, run_sql

KILLS = int(os.environ.get("TOOTHRACK_KILLS", "24"))
PROMPT = "toothrack> "
KEPT = "shop.db.before-restore-20261201T080000"


@pytest.fixture(scope="module", name="demo")
def made_demo(tmp_path_factory):
    """The demo shop and a copy of it, copy.db."""
    folder = tmp_path_factory.mktemp("demo")
    done(folder, "demo")
    done(folder, "backup", "copy.db")
    return folder


@pytest.fixture(name="shop")
def made_shop(demo, tmp_path):
    """The same, after a movement."""
    for name in ("shop.db", "copy.db"):
        (tmp_path / name).write_bytes((demo / name).read_bytes())
    done(tmp_path, "put", "PC000026-0", "at=C1")
    return tmp_path


def is_whole(folder, **more):
    return done(folder, "verify", **more).endswith("whole\n")


def place_of(folder):
    return answer_of(folder / "shop.db", "SELECT p.code FROM tool t JOIN place p ON p.id = t.place WHERE t.tag LIKE 'PC000026%'")


def test_content_back__with_an_entry_and_what_was_there_kept(shop):
    before = (shop / "copy.db").read_bytes()
    done(shop, "restore", "copy.db")
    assert place_of(shop) == "R1-3"
    assert answer_of(shop / "shop.db", "SELECT word || ' ' || subject_kind || ' ' || subject || ' ' || detail FROM ledger"
                     " ORDER BY number DESC LIMIT 1") == "restore shop 0 copy.db, 490 entries; 491 entries before"
    assert answer_of(shop / "shop.db", "PRAGMA journal_mode") == "wal"
    assert is_whole(shop) and is_whole(shop, db=KEPT)
    assert entries_of(shop / KEPT) == 491
    assert (shop / "copy.db").read_bytes() == before
    assert left_behind(shop) == []


def test_there_and_back(shop):
    done(shop, "restore", "copy.db")
    done(shop, "restore", KEPT)
    assert place_of(shop) == "C1"
    assert entries_of(shop / "shop.db") == 492
    assert sorted(file.name for file in shop.glob(f"{KEPT}*")) == [KEPT, f"{KEPT}-2"]


def test_no_shop_yet__made(shop):
    done(shop, "restore", "copy.db", db="new/shop.db")
    assert is_whole(shop, db="new/shop.db")
    assert [file.name for file in (shop / "new").iterdir() if "before" in file.name] == []


def test_tags_given_since__not_given_again(shop):
    given = done(shop, "new", "gear", "teeth=96").split()[0]
    done(shop, "restore", "copy.db")
    assert done(shop, "new", "gear", "teeth=96").split()[0] > given


def test_who_restored__by_the_copy_s_own_operators(shop):
    done(shop, "new", "operator", "badge=77", "name=Ada Gear", "role=supervisor")
    done(shop, "--as", "77", "restore", "copy.db")
    assert answer_of(shop / "shop.db", "SELECT operator IS NULL AND detail LIKE '%; by badge 77' FROM ledger ORDER BY number DESC LIMIT 1") == 1
    assert is_whole(shop)
    done(shop, "restore", KEPT)
    done(shop, "--as", "77", "backup", "second.db")
    done(shop, "--as", "77", "restore", "second.db")
    assert answer_of(shop / "shop.db", "SELECT o.badge FROM ledger l JOIN operator o ON o.id = l.operator ORDER BY number DESC LIMIT 1") == "77"


def test_older_schema__brought_up_and_the_copy_left_as_it_is(shop):
    with sqlite3.connect(shop / "old.db") as database:
        database.executescript((TOP / "tests" / "fixtures" / "0001.sql").read_text(encoding="utf-8"))
    database.close()
    before = (shop / "old.db").read_bytes()
    done(shop, "restore", "old.db", db="new.db", now=None)
    assert is_whole(shop, db="new.db", now=None)
    assert (shop / "old.db").read_bytes() == before
    assert answer_of(shop / "new.db", "PRAGMA user_version") > 1
    assert sorted(file.name for file in shop.glob("*before-0*")) == []


def test_other_page_size__fits(shop):
    with sqlite3.connect(shop / "copy.db", isolation_level=None) as database:
        database.execute("PRAGMA page_size = 1024")
        database.execute("VACUUM")
    database.close()
    assert answer_of(shop / "copy.db", "PRAGMA page_size") == 1024
    done(shop, "restore", "copy.db")
    assert answer_of(shop / "shop.db", "PRAGMA page_size") == 4096
    assert place_of(shop) == "R1-3" and is_whole(shop)


def test_copy_still_open_elsewhere__with_what_lies_beside_it(shop):
    """A shop's own file, with changes beside it, is a copy too."""
    done(shop, "restore", "shop.db", db="second.db")
    assert entries_of(shop / "second.db") == 492


@pytest.mark.parametrize(
    "planted, told",
    [
        (["UPDATE ledger SET login = 'x' WHERE number = 9"], "entry 9 is not as it was written, its hash does not agree"),
        (["DELETE FROM ledger WHERE number = 9"], "entry 9 is missing"),
    ],
)
def test_damaged_copy__refused_and_nothing_changed(shop, planted, told):
    run_sql(shop / "copy.db", *planted)
    status, out, error = call(shop, "restore", "copy.db")
    assert (status, out) == (3, "")
    assert error.startswith(f"toothrack: copy is damaged, nothing was restored: copy.db: {told}\n")
    assert place_of(shop) == "C1" and left_behind(shop) == [] and not (shop / KEPT).exists()


def test_torn_copy__refused(shop):
    torn = bytearray((shop / "copy.db").read_bytes())
    torn[40 * 4096 : 41 * 4096] = b"\x5a" * 4096
    (shop / "copy.db").write_bytes(torn)
    status, out, error = call(shop, "restore", "copy.db")
    assert (status, out) == (3, "") and error.startswith("toothrack: copy is damaged, nothing was restored: copy.db")
    assert place_of(shop) == "C1" and is_whole(shop)


def test_newer_other_missing__said(shop):
    with sqlite3.connect(shop / "cook.db") as database:
        database.execute("CREATE TABLE recipe (a)")
    database.close()
    assert call(shop, "restore", "cook.db")[::2] == (
        3,
        "toothrack: file is not a shop of toothrack, nothing was restored: cook.db\nName a copy that backup made.\n",
    )
    assert call(shop, "restore", ".")[::2] == (2, "toothrack: copy is no file: .\nName a copy that backup made.\n")
    with sqlite3.connect(shop / "copy.db") as database:
        database.execute("PRAGMA user_version = 99")
    database.close()
    status, _, error = call(shop, "restore", "copy.db")
    assert status == 3 and error.startswith("toothrack: copy is of a newer toothrack (schema 99, ")
    assert place_of(shop) == "C1" and left_behind(shop) == []


def test_damaged_shop__is_kept_as_it_is_and_cured(shop):
    run_sql(shop / "shop.db", "UPDATE ledger SET login = 'x' WHERE number = 9")
    done(shop, "restore", "copy.db")
    assert is_whole(shop)
    assert call(shop, "verify", db=KEPT)[0] == 1


def test_stopped_clock__what_was_made_under_it_and_what_was_not(shop):
    done(shop, "new", "place", "code=R1", "sort=store", db="real.db", now=None)
    done(shop, "backup", "real-copy.db", db="real.db", now=None)
    status, _, error = call(shop, "restore", "real-copy.db")
    assert (status, error.split("\n")[0]) == (
        2,
        "toothrack: clock is stopped by TOOTHRACK_NOW, and this copy was not made under it: real-copy.db",
    )
    status, _, error = call(shop, "restore", "copy.db", db="real.db", now=None)
    assert (status, error.split("\n")[0]) == (
        2,
        "toothrack: copy was made under a stopped clock, and this shop file was not: copy.db",
    )
    assert call(shop, "restore", "copy.db", db="real.db")[0] == 2
    # Into no shop it may, and is then what it was: written under a stopped clock, and under a running one.
    done(shop, "restore", "copy.db", db="new.db", now=None)
    done(shop, "put", "PC000026-0", "at=C1", db="new.db", now="2100-01-01T00:00:00Z")
    # A shop made under a stopped clock gives way to one of every day, which then refuses a stopped one.
    done(shop, "restore", "real-copy.db", db="new.db", now=None)
    assert call(shop, "put", "PC000026-0", "at=C1", db="new.db")[0] == 2
    assert left_behind(shop) == []


@pytest.mark.parametrize("size_most", [60000, 200000, 400000, 460000])
def test_no_room__said_and_the_old_stays(shop, size_most):
    status, out, error = call(shop, "restore", "copy.db", size_most=size_most)
    assert (status, out) == (3, ""), error
    assert error.startswith("toothrack: disk is full"), error
    assert place_of(shop) == "C1" and is_whole(shop)
    assert left_behind(shop) == [] and not list(shop.glob(f"{KEPT}*"))


def test_another_holds_the_lock__waits_then_a_sentence(shop):
    holder = sqlite3.connect(shop / "shop.db", isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    began = time.monotonic()
    status, out, error = call(shop, "restore", "copy.db")
    assert 9 < time.monotonic() - began < 30
    holder.execute("ROLLBACK")
    holder.close()
    assert (status, out) == (3, "")
    assert error == f"toothrack: shop file is being written by process {os.getpid()}: shop.db\nTry again when that console is done.\n"
    assert place_of(shop) == "C1" and left_behind(shop) == [] and not (shop / KEPT).exists()


def test_console_that_has_it_open__goes_on_with_the_copy(shop):
    child = pexpect.spawn(
        PROGRAM, ["--db", "shop.db"], cwd=str(shop), encoding="utf-8", timeout=20,
        env=environment(shop, TERM="xterm", TOOTHRACK_NOW="2026-12-01T08:00:00Z", INPUTRC="/dev/null"),
    )
    child.expect_exact(PROMPT)

    def line(text):
        child.send(text + "\r")
        child.expect_exact(PROMPT)
        return child.before

    assert "in cart 1 (C1)" in line("show PC000026-0")
    assert "to C2" in line("put PC000026-0 at=C2")
    done(shop, "restore", "copy.db")
    assert "(R1-3)" in line("show PC000026-0")
    assert "from R1-3 to C2" in line("put PC000026-0 at=C2")
    assert "restored from copy.db" in line("restore copy.db")
    assert "whole" in line("verify")
    child.send("quit\r")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0 and is_whole(shop)


def test_killed_at_any_moment__old_or_new_and_whole(shop):
    began = time.monotonic()
    done(shop, "restore", "copy.db")
    takes = time.monotonic() - began
    (shop / KEPT).unlink()  # else a kill may leave a part by another name, which no later restore takes up
    done(shop, "put", "PC000026-0", "at=C1")
    rng = random.Random(20261202)
    restored = 0
    for _ in range(KILLS):
        before = entries_of(shop / "shop.db")
        arguments, options = command(shop, "restore", "copy.db")
        with subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **options) as child:
            time.sleep(rng.uniform(0, 1.1 * takes))
            child.send_signal(signal.SIGKILL)
        entries = entries_of(shop / "shop.db")
        if place_of(shop) == "R1-3":
            restored += 1
            assert entries == 491
            done(shop, "put", "PC000026-0", "at=C1")
        else:
            assert entries == before
        assert is_whole(shop)
        for kept in pathlib.Path(shop).glob(f"{KEPT}*"):
            if not kept.name.endswith((".part", "-journal", "-wal", "-shm")):
                assert is_whole(shop, db=kept.name)
                kept.unlink()
    done(shop, "restore", "copy.db")
    assert left_behind(shop) == [] and restored <= KILLS


def test_others_write_meanwhile__nothing_written_is_lost(shop):
    """Every movement stands either in what was kept or behind the restore."""
    arguments, options = command(shop)
    lines = "".join(f"new place code=Z{at} sort=store\n" for at in range(150))
    with subprocess.Popen(arguments, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, **options) as writer:
        writer.stdin.write(lines.encode())
        writer.stdin.close()
        done(shop, "restore", "copy.db")
        assert writer.wait(60) == 0, writer.stderr.read()
    codes = set()
    for name in ("shop.db", KEPT):
        database = sqlite3.connect(shop / name)
        codes |= {code for code, in database.execute("SELECT code FROM place WHERE code LIKE 'Z%'")}
        database.close()
    assert len(codes) == 150
    assert is_whole(shop) and is_whole(shop, db=KEPT)

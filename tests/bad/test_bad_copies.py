"""backup, restore, undo and older shops with what is wrong: the whole of what is said, a shop as it was, nothing left beside it."""
import fcntl
import resource
import shutil
import sqlite3

import pytest
from bad import TOP, call, copy_shop, held, left_behind, said, unchanged

MADE_BY_BACKUP = "Name a copy that backup made."


@pytest.fixture(scope="module", name="demo")
def made_demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    assert call(folder, "demo")[0] == 0
    assert call(folder, "backup", "whole.db")[0] == 0
    return folder


@pytest.fixture(name="shop")
def made_shop(demo, tmp_path):
    copy_shop(demo, tmp_path)
    shutil.copy(demo / "whole.db", tmp_path)
    return tmp_path


def refused(shop, words, status, sentence, hint, *known, **more):
    """The call is refused so, and the shop and the copy are what they were."""
    before, whole = held(shop / "shop.db"), (shop / "whole.db").read_bytes()
    assert call(shop, *words, **more) == (status, "", said(sentence, hint))
    assert unchanged(before, shop / "shop.db") and (shop / "whole.db").read_bytes() == whole
    assert left_behind(shop, "whole.db", *known) == []


def run_sql(file, *statements):
    with sqlite3.connect(file) as database:
        for statement in statements:
            database.execute(statement)
    database.close()


def damage(file, number):
    """An entry of the ledger changed behind the program's back."""
    with sqlite3.connect(file) as database:
        for (name,) in database.execute("SELECT name FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = 'ledger'").fetchall():
            database.execute(f"DROP TRIGGER {name}")
        database.execute(f"UPDATE ledger SET login = 'x' WHERE number = {number}")
    database.close()


# ---------------------------------------------------------------- backup


def test_backup__made_by_another_console_now(shop):
    with open(shop / "copy.db.part", "wb") as part:
        fcntl.flock(part, fcntl.LOCK_EX)
        refused(shop, ("backup", "copy.db"), 3, "file is being made by another console: copy.db", "Wait for that one, or name another file.", "copy.db.part")


def test_backup__no_room(shop):
    def limit():
        resource.setrlimit(resource.RLIMIT_FSIZE, (100000, 100000))

    refused(shop, ("backup", "copy.db"), 3, "disk is full, no copy was made: copy.db", "Free some room on the disk, or use another.", limit=limit)


def test_backup__of_a_damaged_shop(shop):
    damage(shop / "shop.db", "(SELECT max(number) FROM ledger)")
    before = held(shop / "shop.db")
    status, out, error = call(shop, "backup", "copy.db")
    assert (status, out) == (3, "") and error.startswith("toothrack: file is damaged, no copy was made: shop.db: entry ")
    assert error.endswith("\nType toothrack --db shop.db verify for all that is wrong.\n") and error.count("\n") == 2
    assert unchanged(before, shop / "shop.db") and left_behind(shop, "whole.db") == []


@pytest.mark.parametrize("name, why", [("no/copy.db", "No such file or directory"), ("whole.db/copy.db", "Not a directory"), ("x" * 300, "File name too long")])
def test_backup__to_where_nothing_can_be(shop, name, why):
    refused(shop, ("backup", name), 2, f"file cannot be made: {name}: {why}", "Name a file in a folder that is there.")


# ---------------------------------------------------------------- restore


def test_restore__a_newer_copy(shop):
    with sqlite3.connect(shop / "whole.db") as database:
        known = database.execute("PRAGMA user_version").fetchone()[0]
        database.execute("PRAGMA user_version = 9999")
    database.close()
    refused(shop, ("restore", "whole.db"), 3, f"copy is of a newer toothrack (schema 9999, this one knows {known}): whole.db", "Use the newer toothrack.")


@pytest.mark.parametrize("size", [1, 99, 4096, 200000, -4096, -1])
def test_restore__a_copy_cut_short(shop, size):
    whole = (shop / "whole.db").read_bytes()
    (shop / "whole.db").write_bytes(whole[:size])
    before = held(shop / "shop.db")
    status, out, error = call(shop, "restore", "whole.db")
    ways = ("file is not a shop of toothrack", "copy is damaged", "copy is damaged, its end is cut off")
    assert (status, out) == (3, "") and error in [said(f"{way}, nothing was restored: whole.db", MADE_BY_BACKUP) for way in ways], error
    assert unchanged(before, shop / "shop.db") and left_behind(shop, "whole.db") == []


@pytest.mark.parametrize("content", [b"", b"teeth,pitch\n96,1/8cp\n", b"\0" * 9000], ids=["empty", "CSV", "zeros"])
def test_restore__what_is_no_copy(shop, content):
    (shop / "whole.db").write_bytes(content)
    refused(shop, ("restore", "whole.db"), 3, "file is not a shop of toothrack, nothing was restored: whole.db", MADE_BY_BACKUP)


def test_restore__a_damaged_copy(shop):
    damage(shop / "whole.db", "3")
    before = held(shop / "shop.db")
    status, out, error = call(shop, "restore", "whole.db")
    assert (status, out) == (3, "") and error.startswith("toothrack: copy is damaged, nothing was restored: whole.db: entry 3")
    assert error.endswith("\nName another copy; toothrack --db whole.db verify says what is wrong.\n") and error.count("\n") == 2
    assert unchanged(before, shop / "shop.db") and left_behind(shop, "whole.db") == []


def test_restore__by_a_stopped_clock_of_a_shop_of_every_day(shop):
    run_sql(shop / "whole.db", "DELETE FROM shop WHERE key = 'fixed_clock'")
    refused(
        shop, ("restore", "whole.db"), 2, "clock is stopped by TOOTHRACK_NOW, and this copy was not made under it: whole.db",
        "Unset TOOTHRACK_NOW to restore it.",
    )  # fmt: skip


def test_restore__of_a_stopped_clock_over_a_shop_of_every_day(shop):
    run_sql(shop / "shop.db", "DELETE FROM shop WHERE key = 'fixed_clock'")
    refused(
        shop, ("restore", "whole.db"), 2, "copy was made under a stopped clock, and this shop file was not: whole.db",
        "Name a file of its own for it with --db FILE.", TOOTHRACK_NOW=None,
    )  # fmt: skip


def test_restore__no_room(shop):
    def limit():
        resource.setrlimit(resource.RLIMIT_FSIZE, (100000, 100000))

    refused(shop, ("restore", "whole.db"), 3, "disk is full, nothing was restored: shop.db.restore", "Free some room on the disk, or use another.", limit=limit)


# ---------------------------------------------------------------- older shops, and what is taken back


@pytest.fixture(name="older")
def made_older(tmp_path):
    """A shop as the program of schema 1 left it."""
    run = sqlite3.connect(tmp_path / "shop.db")
    run.executescript((TOP / "tests" / "fixtures" / "0001.sql").read_text(encoding="utf-8"))
    run.close()
    return tmp_path


def test_older_shop__that_cannot_be_kept__is_not_brought_up(older):
    (older / "shop.db.before-0006.part").mkdir()
    before = (older / "shop.db").read_bytes()
    for words in (("show", "R1"), ("put", "PC000001-H", "at=R1")):
        assert call(older, *words, TOOTHRACK_NOW=None) == (
            3, "", said("copy of the older shop file cannot be kept: shop.db.before-0006", "Make room and give permission in that folder, then type it again."),
        )  # fmt: skip
    assert (older / "shop.db").read_bytes() == before
    assert left_behind(older, "shop.db.before-0006.part") == []


def test_undo__of_what_an_older_program_entered(older):
    status, out, error = call(older, "undo", LOGNAME="root", TOOTHRACK_NOW=None)
    assert (status, out) == (1, "") and error.startswith("toothrack: set of runout is older than what can be taken back: 2026-12-01"), error
    assert error.endswith("\nPut it right by hand: with put, hold, clear, edit or set.\n") and error.count("\n") == 2


def test_undo__of_a_station_that_is_there_anew(shop):
    assert call(shop, "remove", "J2601", "station=1")[0] == 0
    assert call(shop, "new", "station", "job=J2601", "station=1", "process=flexo", LOGNAME="other")[0] == 0
    refused(shop, ("undo",), 1, "station 1 of job J2601 has been put on record anew", "Type remove J2601 station=1 first, or edit it.")


def test_undo__of_what_has_moved_since(shop):
    assert call(shop, "put", "PC000025-1", "at=C1")[0] == 0
    assert call(shop, "put", "PC000025-1", "at=C2", LOGNAME="other")[0] == 0
    refused(
        shop, ("undo",), 1,
        "put of PC000025-1 is not taken back, it has moved since: put from C1 to C2, by other at terminal -, 2026-12-01T08:00",
        "Look with history PC000025-1, then put it right by its own command.",
    )  # fmt: skip

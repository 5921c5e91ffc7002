"""Files that are missing, unreadable, full, cut short, of another program or of a newer one: a sentence, the exit, nothing changed, nothing left.

What root may do is no test of permissions: those run as nobody (setpriv), and are skipped where that cannot be.
"""
import os
import pathlib
import resource
import shutil
import sqlite3
import subprocess
import tempfile

import pytest
from bad import PROGRAM, call, copy_shop, environment, held, left_behind, said, unchanged

OTHERS = ("file is not a shop of toothrack: shop.db", "Name a shop file with --db FILE.")
DAMAGED = ("shop file is damaged: shop.db", "Move it away with what lies beside it, then type restore FILE with a copy.")
CUT = ("file is damaged, its end is cut off: shop.db", DAMAGED[1])
NOT_ALLOWED = ("shop file may not be opened or written: shop.db", "Ask its owner for permission on it and its folder, or name another with --db FILE.")
FULL = ("disk is full, nothing was changed: shop.db", "Free some room on the disk, then type it again.")
NOT_THERE = ("shop file not found: shop.db", "Type demo for a shop to try, or put a first record on record with new or import.")
ASKS = (("show", "R1"), ("find", "place"), ("check", "J2601"), ("history", "R1"), ("export", "gear"), ("set", "units"))
WRITES = (
    ("put", "PC000025-1", "at=C1"), ("hold", "PC000025-1", "reason=x"), ("edit", "R1", "name=x"), ("set", "units", "inch"), ("undo",),
    ("remove", "J2602", "station=1"), ("new", "place", "code=R9", "sort=store"), ("import", "gear", "good.csv"),
)  # fmt: skip


@pytest.fixture(scope="module", name="demo")
def made_demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    assert call(folder, "demo")[0] == 0
    assert call(folder, "backup", "whole.db")[0] == 0
    (folder / "good.csv").write_text("teeth,pitch\n96,1/8cp\n", encoding="utf-8")
    return folder


@pytest.fixture(name="shop")
def made_shop(demo, tmp_path):
    """A shop of its own, for what may harm it."""
    copy_shop(demo, tmp_path)
    shutil.copy(demo / "good.csv", tmp_path)
    return tmp_path


# ---------------------------------------------------------------- not there


@pytest.mark.parametrize("words", [*ASKS, *WRITES[:6], ("choices", "J1"), ("verify",), ("backup", "copy.db"), ("clear", "R1"), ("scrap", "R1", "reason=x"),
                                   ("send", "R1", "at=R1", "reason=x"), ("receive", "R1")], ids=" ".join)
def test_no_shop_file(tmp_path, words):
    assert call(tmp_path, *words) == (2, "", said(*NOT_THERE))
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "words, sentence, hint",
    [
        ("new gear teeth=x", "teeth is not a whole number: x", "Type a whole number, 0 or more."),
        ("new gear place=R1", "place not known: R1", "Type find place for all on record."),
        ("import gear none.csv", "file not found: none.csv", ""),
        ("import gear .", "file is a directory: .", ""),
        ("restore none.db", "copy not found: none.db: No such file or directory", "Name a copy that backup made."),
        ("--as E1 new place code=R1 sort=store", "operator not known: E1", "Type --as with the badge or tag of an operator on record."),
    ],
)
def test_first_command_refused__leaves_no_file(tmp_path, words, sentence, hint):
    assert call(tmp_path, *words.split()) == (2, "", said(sentence, hint))
    assert not list(tmp_path.iterdir())


def test_first_line_refused__the_next_begins_anew(tmp_path):
    status, out, error = call(tmp_path, given=b"new gear teeth=x\nnew gear teeth=96\n")
    assert (status, out, error) == (2, "", said("line 1: teeth is not a whole number: x", "Type a whole number, 0 or more."))
    assert not list(tmp_path.iterdir())
    assert call(tmp_path, given=b"new gear teeth=96\n")[0] == 0
    assert call(tmp_path, "show", "GR000001-E")[0] == 0


@pytest.mark.parametrize("words", [("show", "R1"), ("new", "place", "code=R1", "sort=store")], ids=" ".join)
@pytest.mark.parametrize(
    "db, sentence, hint",
    [
        (".", "shop file is a directory: .", "Name a file in it, such as --db ./shop.db."),
        ("good.csv/shop.db", "folder of the shop file is a file: good.csv/shop.db", "Name a file in a folder with --db FILE."),
        ("/dev/null", "shop file is no plain file: /dev/null", "Name a shop file with --db FILE."),
        ("/dev/full", "shop file is no plain file: /dev/full", "Name a shop file with --db FILE."),
        ("pipe", "shop file is no plain file: pipe", "Name a shop file with --db FILE."),
        ("x" * 300, "path of the shop file is too long: " + "x" * 40 + "...", "Name a file by a shorter path with --db FILE."),
        ("x/" * 3000, "path of the shop file is too long: " + "x/" * 20 + "...", "Name a file by a shorter path with --db FILE."),
    ],
)
def test_shop_file_that_cannot_be_one(demo, tmp_path, words, db, sentence, hint):
    shutil.copy(demo / "good.csv", tmp_path)
    os.mkfifo(tmp_path / "pipe")
    assert call(tmp_path, *words, db=db) == (2, "", said(sentence, hint))
    assert left_behind(tmp_path, "good.csv", "pipe") == [] and not (tmp_path / "shop.db").exists()


def test_no_home_and_no_name(tmp_path):
    """Who has neither: nothing is guessed. (As a user without an entry among the system's.)"""
    if os.geteuid() != 0:
        pytest.skip("needs root to become somebody unknown")
    with tempfile.TemporaryDirectory() as open_to_all:
        program = shutil.copy(PROGRAM, open_to_all)
        os.chmod(open_to_all, 0o755)
        asked = ("setpriv", "--reuid=54321", "--regid=54321", "--clear-groups", program)
        assert call(open_to_all, "show", "R1", db=None, program=asked, HOME=None) == (
            2, "", said("home folder not known, nor which shop file is meant", "Type --db FILE."),
        )  # fmt: skip


def test_standard_input_that_cannot_be_read(demo):
    with open("/dev/null", "wb") as unreadable:
        done = subprocess.run([PROGRAM, "--db", "shop.db"], cwd=demo, env=environment(demo), stdin=unreadable, capture_output=True, check=False, timeout=60)
    assert (done.returncode, done.stdout, done.stderr.decode()) == (
        2, b"", said("standard input cannot be read", "Give a file or a pipe of commands, one a line."),
    )  # fmt: skip


# ---------------------------------------------------------------- another's, newer, damaged


@pytest.mark.parametrize("words", ASKS[:2] + WRITES[:2] + WRITES[6:] + (("demo",), ("verify",), ("backup", "copy.db")), ids=" ".join)
def test_another_programs_file(shop, words):
    for file in shop.glob("shop.db*"):
        file.unlink()
    with sqlite3.connect(shop / "shop.db") as database:
        database.execute("CREATE TABLE recipe (title)")
    database.close()
    before = (shop / "shop.db").read_bytes()
    assert call(shop, *words) == (3, "", said(*OTHERS))
    assert (shop / "shop.db").read_bytes() == before and left_behind(shop, "good.csv") == []


@pytest.mark.parametrize("content", [b"just a text\n" * 500, b"SQLite format 3", b"\0" * 8192, b"%PDF-1.4\n" * 900, b"x"], ids=["text", "head alone", "zeros", "PDF", "a byte"])
@pytest.mark.parametrize("words", [("show", "R1"), ("new", "place", "code=R9", "sort=store")], ids=" ".join)
def test_no_database_at_all(shop, words, content):
    for file in shop.glob("shop.db*"):
        file.unlink()
    (shop / "shop.db").write_bytes(content)
    assert call(shop, *words) == (3, "", said(*OTHERS))
    assert (shop / "shop.db").read_bytes() == content and left_behind(shop, "good.csv") == []


def test_empty_file__nothing_to_read_in_it(shop):
    (shop / "shop.db").write_bytes(b"")
    assert call(shop, "show", "R1") == (3, "", said(*OTHERS))
    assert call(shop, "put", "PC000025-1", "at=C1") == (3, "", said(*OTHERS))
    assert (shop / "shop.db").read_bytes() == b""


@pytest.mark.parametrize("words", ASKS[:2] + WRITES[:2] + WRITES[6:] + (("demo",), ("verify",), ("backup", "copy.db")), ids=" ".join)
def test_newer_store(shop, words):
    with sqlite3.connect(shop / "shop.db") as database:
        known = database.execute("PRAGMA user_version").fetchone()[0]
        database.execute("PRAGMA user_version = 9999")
    database.close()
    before = held(shop / "shop.db")
    assert call(shop, *words) == (
        3, "", said(f"shop file is of a newer toothrack (schema 9999, this one knows {known}): shop.db", "Use the newer toothrack."),
    )  # fmt: skip
    assert unchanged(before, shop / "shop.db") and left_behind(shop, "good.csv") == []


@pytest.mark.parametrize("size", [0, 1, 15, 16, 99, 100, 101, 1024, 4095, 4096, 4097, 8192, 20000, -200000, -4096, -1])
def test_truncated_store(demo, tmp_path, size):
    whole = (demo / "whole.db").read_bytes()
    cut = whole[:size] if size >= 0 else whole[: len(whole) + size]
    for words in (("show", "R1"), ("put", "PC000025-1", "at=C1")):
        (tmp_path / "shop.db").write_bytes(cut)
        status, out, error = call(tmp_path, *words)
        assert (status, out) == (3, "") and error in (said(*OTHERS), said(*DAMAGED), said(*CUT)), (size, error)
        assert (tmp_path / "shop.db").read_bytes() == cut and left_behind(tmp_path) == []


# ---------------------------------------------------------------- no room


def no_file_beyond(size):
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


@pytest.mark.parametrize("size", [0, 4096, 20000, 100000, 200000])
@pytest.mark.parametrize("words", [("new", "place", "code=R1", "sort=store"), ("demo",), ("import", "gear", "../good.csv")], ids=" ".join)
def test_no_room_for_a_new_shop__no_file_is_left(demo, tmp_path, words, size):
    shutil.copy(demo / "good.csv", tmp_path)
    folder = tmp_path / "shop"
    folder.mkdir()
    status, out, error = call(folder, *words, limit=no_file_beyond(size))
    assert (status, out) == (3, "")
    failed = [said(f"disk failed or is full while {what}: shop.db", "See that it has room, then type it again.") for what in ("committing", "beginning a change")]
    assert error == said(*FULL) or error in failed, error
    assert not list(folder.iterdir())


def test_no_room_for_a_passport__none_is_left(shop):
    """More room than SQLite takes to read, less than the picture."""
    assert call(shop, "show", "PC000025-1", "file=x.png", limit=no_file_beyond(40000)) == (
        3, "", said("disk is full, the file was not written: x.png", "Make room there, or name the file elsewhere."))  # fmt: skip
    assert left_behind(shop, "good.csv") == []


def test_passport_into_the_shop_itself__refused(shop):
    for name in ("shop.db", "shop.db-wal", "shop.db-shm"):
        if (shop / name).exists():
            (shop / name).rename(shop / name.replace("shop.db", "shop.pdf"))
    before = held(shop / "shop.pdf")
    assert call(shop, "show", "PC000025-1", "file=shop.pdf", db="shop.pdf") == (
        2, "", said("file is the shop's own: shop.pdf", "Name another, such as passport.pdf."))  # fmt: skip
    assert held(shop / "shop.pdf") == before


@pytest.mark.parametrize("words", WRITES, ids=" ".join)
def test_no_room_for_a_change__nothing_is_changed(shop, words):
    before = held(shop / "shop.db")
    assert call(shop, *words, limit=no_file_beyond(1)) == (3, "", said(*FULL))
    assert unchanged(before, shop / "shop.db") and left_behind(shop, "good.csv") == []


def mounted(folder, size):
    """A small disk of its own; False where none may be mounted."""
    if os.geteuid() != 0:
        return False
    return subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", folder], check=False, capture_output=True).returncode == 0


def test_disk_full__whatever_room_is_left(demo, tmp_path):
    disk = tmp_path / "disk"
    disk.mkdir()
    if not mounted(disk, "1200k"):
        pytest.skip("no tmpfs may be mounted here")
    try:
        for room in range(0, 200, 40):
            for file in disk.iterdir():
                file.unlink()
            copy_shop(demo, disk)
            before = held(disk / "shop.db")
            with open(disk / "rest", "wb", buffering=0) as rest:
                try:
                    while rest.write(b"x" * 4096):
                        pass
                except OSError:
                    pass
                rest.truncate(max(0, rest.tell() - room * 1024))
            for words in (("put", "PC000025-1", "at=C1"), ("export", "cylinder", "file=x.csv"), ("backup", "copy.db")):
                status, _, error = call(disk, *words)
                assert status in (0, 3) and (status == 0) == (error == ""), (room, words, error)
                assert status == 0 or "disk is full" in error or "disk failed or is full" in error, (room, words, error)
                if status == 3:
                    assert left_behind(disk, "rest", "x.csv") == [], (room, words)
                    if words[0] == "put":
                        assert unchanged(before, disk / "shop.db")
                (disk / "x.csv").unlink(missing_ok=True)
                (disk / "copy.db").unlink(missing_ok=True)
    finally:
        subprocess.run(["umount", disk], check=True)


@pytest.mark.parametrize("words", [("show", "R1"), ("find", "place"), ("--json", "check", "J2601"), ("help",), ("--version",)], ids=" ".join)
def test_answer_that_finds_no_room(demo, words):
    with open("/dev/full", "wb") as full:
        done = subprocess.run([PROGRAM, "--db", "shop.db", *words], cwd=demo, env=environment(demo), stdout=full, stderr=subprocess.PIPE, check=False)
    assert (done.returncode, done.stderr.decode()) == (
        3, said("answer not written: No space left on device", "Make room there, or send the answer elsewhere."),
    )  # fmt: skip


# ---------------------------------------------------------------- moved away


def test_file_moved_away_under_a_console__not_written_into(shop):
    """What is written into a file without a name is lost."""
    with subprocess.Popen(
        [PROGRAM, "--db", "shop.db"], cwd=shop, env=environment(shop), stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as child:
        child.stdin.write(b"put PC000025-1 at=C1\n")
        child.stdin.flush()
        assert child.stdout.readline().startswith(b"PC000025-1  from R1-3 to C1")
        (shop / "shop.db").rename(shop / "moved.db")
        before = (shop / "moved.db").read_bytes()
        out, error = child.communicate(b"put PC000026-0 at=C1\n", timeout=60)
    assert (child.returncode, out, error.decode()) == (
        3, b"", said("line 2: shop file was moved or removed meanwhile: shop.db", "See where it is, then type it again."),
    )  # fmt: skip
    assert not (shop / "shop.db").exists() and (shop / "moved.db").read_bytes() == before


# ---------------------------------------------------------------- as nobody


@pytest.fixture(scope="module", name="program")
def made_program(demo):
    """The program where nobody may run it, and how; what root may read or write is no test."""
    if os.geteuid() != 0 or shutil.which("setpriv") is None:
        pytest.skip("needs root, to become nobody")
    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o755)
        shutil.copy(PROGRAM, folder)
        yield ("setpriv", "--reuid=nobody", "--regid=nogroup", "--clear-groups", str(pathlib.Path(folder, "toothrack")))


@pytest.fixture(name="public")
def made_public(demo):
    """A folder that nobody can reach, with a shop in it and what is beside."""
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        copy_shop(demo, folder)
        shutil.copy(demo / "good.csv", folder)
        shutil.copy(demo / "whole.db", folder)
        os.chmod(folder, 0o755)
        for file in folder.iterdir():
            os.chmod(file, 0o644)
        yield folder


def modes(folder, file, mode):
    os.chmod(folder / "shop.db", file)
    os.chmod(folder, mode)


@pytest.mark.parametrize("words", WRITES[:1] + WRITES[4:5] + WRITES[6:], ids=" ".join)
@pytest.mark.parametrize("file, folder", [(0o444, 0o777), (0o644, 0o755), (0o666, 0o755), (0o600, 0o777)], ids=["file read-only", "both", "folder", "unreadable"])
def test_read_only__no_change(public, program, words, file, folder):
    before = held(public / "shop.db")
    modes(public, file, folder)
    assert call(public, *words, program=program) == (3, "", said(*NOT_ALLOWED))
    modes(public, 0o644, 0o755)
    assert unchanged(before, public / "shop.db") and left_behind(public, "good.csv", "whole.db") == []


@pytest.mark.parametrize("words", [("demo",), ("restore", "whole.db")], ids=" ".join)
@pytest.mark.parametrize("file", [0o444, 0o600], ids=["file read-only", "unreadable"])
def test_read_only__no_other_shop_in_its_place(public, program, words, file):
    before = held(public / "shop.db")
    modes(public, file, 0o777)
    assert call(public, *words, program=program) == (3, "", said(*NOT_ALLOWED))
    assert unchanged(before, public / "shop.db") and left_behind(public, "good.csv", "whole.db") == []


def test_folder_read_only__no_copy_is_put_there(public, program):
    before = held(public / "shop.db")
    modes(public, 0o666, 0o755)
    assert call(public, "restore", "whole.db", program=program) == (
        3, "", said("file cannot be made: shop.db.restore: Permission denied", "Name a file where you may write."),
    )  # fmt: skip
    assert unchanged(before, public / "shop.db") and left_behind(public, "good.csv", "whole.db") == []


@pytest.mark.parametrize("words", ASKS[:2] + (("verify",),), ids=" ".join)
def test_unreadable__no_answer(public, program, words):
    modes(public, 0o600, 0o777)
    assert call(public, *words, program=program) == (3, "", said(*NOT_ALLOWED))


@pytest.mark.parametrize("words", ASKS + (("verify",),), ids=" ".join)
def test_file_read_only_in_an_open_folder__asked_all_the_same(public, program, words):
    before = held(public / "shop.db")
    modes(public, 0o444, 0o777)
    status, out, error = call(public, *words, program=program)
    assert (status, error) == (0, "") and out
    assert unchanged(before, public / "shop.db")


def test_write_ahead_log_that_cannot_be_read(public, program, demo):
    """What another console has just written lies beside the file, and its owner alone may read it."""
    reader = sqlite3.connect(public / "shop.db")
    reader.execute("SELECT count(*) FROM ledger").fetchone()
    assert call(public, "put", "PC000025-1", "at=C1")[0] == 0
    assert (public / "shop.db-wal").stat().st_size > 0
    os.chmod(public / "shop.db-wal", 0o600)
    before = held(public / "shop.db")
    for words in (("show", "R1"), ("put", "PC000026-0", "at=C1")):
        assert call(public, *words, program=program) == (3, "", said(*NOT_ALLOWED))
    assert unchanged(before, public / "shop.db")
    reader.close()


@pytest.mark.parametrize("words", [("show", "R1"), ("put", "PC000025-1", "at=C1"), ("new", "place", "code=R9", "sort=store")], ids=" ".join)
@pytest.mark.parametrize("db", ["closed/shop.db", "closed/new.db"])
def test_folder_that_may_not_be_entered(public, program, words, db):
    (public / "closed").mkdir(mode=0o700)
    shutil.copy(public / "shop.db", public / "closed")
    assert call(public, *words, db=db, program=program) == (
        3, "", said(f"shop file may not be opened or written: {db}", "Ask for permission on its folder, or name another with --db FILE."),
    )  # fmt: skip
    assert [file.name for file in (public / "closed").iterdir()] == ["shop.db"]


def test_folder_that_may_not_be_made(public, program):
    assert call(public, "demo", db="inner/shop.db", program=program) == (
        3, "", said("directory cannot be made: inner: Permission denied", "Name a file in a folder that is there with --db FILE."),
    )  # fmt: skip


@pytest.mark.parametrize(
    "words, sentence, hint",
    [
        ("import gear closed/good.csv", "file may not be read by you: closed/good.csv", "Ask its owner, or copy it to where you may read it."),
        ("import gear secret.csv", "file may not be read by you: secret.csv", "Ask its owner, or copy it to where you may read it."),
        ("export gear file=closed/x.csv", "file may not be written by you: closed/x.csv", "Ask the owner of its folder, or name the file elsewhere."),
        ("export gear file=good.csv", "file may not be written by you: good.csv", "Ask the owner of its folder, or name the file elsewhere."),
        ("show PC000025-1 file=closed/x.pdf", "file may not be written by you: closed/x.pdf", "Ask the owner of its folder, or name the file elsewhere."),
        ("backup closed/x.db", "file cannot be made: closed/x.db: Permission denied", "Name a file where you may write."),
        ("restore closed/whole.db", "copy not found: closed/whole.db: Permission denied", "Name a copy that backup made."),
    ],
)
def test_files_of_others(public, program, words, sentence, hint):
    """The shop is nobody's own; the files named are not."""
    mine = public / "mine"
    mine.mkdir()
    for name in ("closed", "secret.csv", "good.csv"):
        os.symlink(public / name, mine / name)
    (public / "closed").mkdir(mode=0o700)
    for name in ("good.csv", "whole.db"):
        shutil.copy(public / name, public / "closed")
    shutil.copy(public / "good.csv", public / "secret.csv")
    os.chmod(public / "secret.csv", 0o600)
    shutil.copy(public / "shop.db", mine)
    for path in (mine, mine / "shop.db"):
        shutil.chown(path, "nobody", "nogroup")
    before = held(mine / "shop.db")
    status, out, error = call(mine, *words.split(), program=program)
    assert (out, error) == ("", said(sentence, hint)) and status in (2, 3)
    assert unchanged(before, mine / "shop.db") and left_behind(mine, "closed", "secret.csv", "good.csv") == []


# ---------------------------------------------------------------- several at once


def test_first_commands_at_once__the_refused_take_nothing_from_the_others(tmp_path):
    for at in range(4):
        folder = tmp_path / str(at)
        folder.mkdir()
        children = [
            subprocess.Popen([PROGRAM, "--db", "shop.db", "new", "gear", f"teeth={teeth}"], cwd=folder, env=environment(folder), stdout=subprocess.PIPE,
                             stderr=subprocess.PIPE)
            for teeth in ("96", "x") * 3
        ]  # fmt: skip
        ends = [(child.communicate(timeout=60), child.returncode) for child in children]
        assert [status for _, status in ends] == [0, 2] * 3, ends
        assert call(folder, "export", "gear")[1].count("\r\n") == 1 + 3


# ---------------------------------------------------------------- permissions of what is made


@pytest.mark.parametrize("mask", [0o022, 0o077])
def test_file_and_folder_made__for_owner_and_group_whatever_the_umask(tmp_path, mask):
    before = os.umask(mask)
    try:
        assert call(tmp_path, "new", "place", "code=R1", "sort=store", db="a/b/shop.db")[0] == 0
    finally:
        os.umask(before)
    modes = {path.name: oct(path.stat().st_mode & 0o777) for path in (tmp_path / "a", tmp_path / "a/b", tmp_path / "a/b/shop.db")}
    assert modes == {"a": "0o770", "b": "0o770", "shop.db": "0o660"}

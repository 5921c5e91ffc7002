"""What the tests of backup, restore and verify share: shops, calls, and damage planted in a file."""
import os
import pathlib
import resource
import shutil
import sqlite3
import subprocess

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
NOW = "2026-12-01T08:00:00Z"


def environment(folder, **more):
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    return kept | {"HOME": str(folder), "LOGNAME": "clerk", "LC_ALL": "C.UTF-8", "TZ": "UTC", "TERM": "dumb"} | more


def command(folder, *words, now=NOW, db="shop.db", **more):
    """The arguments of subprocess for one call."""
    more = more | ({"TOOTHRACK_NOW": now} if now else {})
    return [PROGRAM, "--db", db, *words], {"cwd": folder, "env": environment(folder, **more)}


def call(folder, *words, now=NOW, db="shop.db", size_most=None):
    """Exit, standard output, standard error. `size_most`: no file may grow beyond so many bytes."""
    arguments, options = command(folder, *words, now=now, db=db)
    limit = (lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size_most, size_most))) if size_most else None
    done = subprocess.run(arguments, capture_output=True, timeout=100, check=False, preexec_fn=limit, **options)
    return done.returncode, done.stdout.decode(), done.stderr.decode()


def done(folder, *words, **more):
    """Standard output of a call that must work."""
    status, out, error = call(folder, *words, **more)
    assert (status, error) == (0, ""), f"{words}: {status} {out} {error}"
    return out


def copy_shop(source, folder):
    for file in source.glob("shop.db*"):
        shutil.copy2(file, folder)


def run_sql(file, *statements):
    """What somebody does to the file behind the program's back; the ledger's triggers are out of the way."""
    database = sqlite3.connect(file, isolation_level=None)
    triggers = database.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = 'ledger'").fetchall()
    for name, _ in triggers:
        database.execute(f"DROP TRIGGER {name}")
    for statement in statements:
        database.execute(statement)
    for _, sql in triggers:
        database.execute(sql)
    database.close()


def answer_of(file, sql):
    database = sqlite3.connect(file)
    row = database.execute(sql).fetchone()
    database.close()
    return row[0]


def entries_of(file):
    return answer_of(file, "SELECT max(number) FROM ledger")


def left_behind(folder):
    """Files that no step should leave."""
    return sorted(file.name for file in folder.iterdir() if ".part" in file.name or ".restore" in file.name.replace(".before-restore", ""))

"""What the tests of bad input share: the demo shop, calls, and what a shop holds, to the byte."""
import os
import pathlib
import shutil
import sqlite3
import subprocess
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
NOW = "2026-12-01T08:00:00Z"
SECONDS_MOST = 60


def environment(folder, **more):
    """What the program sees; a variable set to None is not there."""
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    seen = kept | {"HOME": str(folder), "LOGNAME": "clerk", "LC_ALL": "C.UTF-8", "TZ": "UTC", "TERM": "dumb", "TOOTHRACK_NOW": NOW} | more
    return {name: value for name, value in seen.items() if value is not None}


def call(folder, *words, given=b"", db="shop.db", program=(PROGRAM,), limit=None, **more):
    """Exit, standard output, standard error. `given` is standard input, `limit` runs in the child before the program."""
    done = subprocess.run(
        [*program, *(["--db", db] if db else []), *words], cwd=folder, env=environment(folder, **more), input=given,
        capture_output=True, timeout=SECONDS_MOST, check=False, preexec_fn=limit,
    )  # fmt: skip
    return done.returncode, done.stdout.decode(errors="backslashreplace"), done.stderr.decode(errors="backslashreplace")


def copy_shop(source, folder):
    for file in source.glob("shop.db*"):
        shutil.copy2(file, folder)


def dump(file):
    """All that the shop holds, in SQL; of what is found by words the tables behind it."""
    with sqlite3.connect(f"file:{file}?mode=ro", uri=True) as database:
        rows = []
        for name, sql in database.execute("SELECT name, sql FROM sqlite_schema ORDER BY name").fetchall():
            rows.append(f"{name}: {sql}")
            if sql and sql.startswith("CREATE TABLE"):
                rows += sorted(map(repr, database.execute(f"SELECT * FROM '{name}'").fetchall()))
        rows.append(repr([database.execute(f"PRAGMA {pragma}").fetchone() for pragma in ("user_version", "application_id")]))
    database.close()
    return "\n".join(rows)


def held(file):
    """The bytes of a shop, for `unchanged`."""
    beside = file.with_name(file.name + "-wal")
    return file.read_bytes(), beside.read_bytes() if beside.exists() else b""


def unchanged(before, file):
    """The same bytes, or else the same dump."""
    now = held(file)
    if now == before or (now[0] == before[0] and not now[1] and not before[1]):
        return True
    with tempfile.TemporaryDirectory() as folder:
        earlier = pathlib.Path(folder, "shop.db")
        for name, content in (("shop.db", before[0]), ("shop.db-wal", before[1])):
            pathlib.Path(folder, name).write_bytes(content)
        return dump(earlier) == dump(file)


def left_behind(folder, *known):
    """Files that nobody asked for. `-wal` and `-shm` may lie beside a shop that was only read."""
    known = {"shop.db", "shop.db-wal", "shop.db-shm", *known}
    return sorted(file.name for file in folder.iterdir() if file.name not in known)


def said(sentence, hint=""):
    """Standard error as it must be: one sentence, and what to type."""
    return f"toothrack: {sentence}\n" + (f"{hint}\n" if hint else "")

"""`import` of 100,000 cylinders beside the sqlite3 shell's `.import` of ready CSV, one file a table, at the same `synchronous`.

The shell's store has the program's own schema: tables, indexes and triggers. Only the columns stand in another order, those that the files
fill first, because `.import` leaves the last columns of a short row NULL and knows no other way to; and the hash is text of 32 bytes, because
it knows no blobs.
"""

import re
import sqlite3
import subprocess
import time

import bench_large
import large_shop

CYLINDERS = 100000
FILLED = {
    "place": ("id", "tag", "code", "sort", "condition", "retired"),
    "tool": ("id", "kind", "tag", "name", "place", "condition", "face", "run", "life"),
    "other_tag": ("code", "tool"),
    "cylinder": ("tool", "teeth", "pitch", "drive", "diameter", "runout", "around"),
    "ledger": ("number", "word", "subject_kind", "subject", "login", "terminal", "happened", "recorded", "hash", "to_place"),
    "tag_serial": ("class", "last"),
}


def reordered(sql, filled):
    """The CREATE TABLE with the filled columns first."""
    head, body, tail = re.fullmatch(r"(?s)(CREATE TABLE \w+ \(\n)(.*)(\n\) STRICT.*)", sql).groups()
    lines = [re.sub(r"\s*--.*$", "", line).rstrip(",") for line in body.split("\n")]
    columns = [line for line in lines if re.match(r"\t[a-z_]+ ", line)]
    rules = [line for line in lines if line.strip() and not re.match(r"\t[a-z_]+ ", line)]
    by_name = {line.split()[0]: line for line in columns}
    order = [by_name.pop(name) for name in filled] + list(by_name.values())
    return head + ",\n".join(order + rules) + tail


def schema_for_shell(source):
    script = ["PRAGMA journal_mode = WAL;", "PRAGMA synchronous = FULL;", "PRAGMA foreign_keys = ON;"]
    rows = source.execute("SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'search_%'"
                          " AND name NOT LIKE 'sqlite_%' ORDER BY rowid").fetchall()
    for kind, name, sql in rows:
        if kind == "table" and name in FILLED:
            sql = reordered(sql, FILLED[name])
        if name == "ledger":
            sql = sql.replace("hash BLOB", "hash TEXT")
        script.append(sql + ";")
    return "\n".join(script)


def ready_files(source, folder):
    for table, columns in FILLED.items():
        names = ", ".join("substr(hex(hash), 1, 32)" if name == "hash" else name for name in columns)
        rows = source.execute(f"SELECT {names} FROM {table}").fetchall()
        with open(folder / f"{table}.ready.csv", "w", encoding="utf-8") as file:
            for row in rows:
                while row[-1] is None:
                    row = row[:-1]
                assert None not in row, row
                file.write(",".join(map(str, row)) + "\n")


def shell_seconds(folder):
    script = (folder / "schema.sql").read_text() + "\n.mode csv\n"
    script += "".join(f".import {folder}/{table}.ready.csv {table}\n" for table in FILLED)
    path = folder / "shell.db"
    for end in ("", "-wal", "-shm"):
        (folder / f"shell.db{end}").unlink(missing_ok=True)
    began = time.perf_counter()
    subprocess.run(["sqlite3", str(path)], input=script, encoding="utf-8", capture_output=True, check=False)
    seconds = time.perf_counter() - began
    with sqlite3.connect(path) as store:
        assert store.execute("SELECT count(*) FROM cylinder").fetchone()[0] == CYLINDERS, "the shell refused rows"
        assert store.execute("SELECT count(*) FROM ledger").fetchone()[0] >= CYLINDERS
    return seconds


def program_seconds(folder):
    """Seconds of one import, and MB of memory."""
    for end in ("", "-wal", "-shm"):
        (folder / f"shop.db{end}").unlink(missing_ok=True)
    done = large_shop.run(folder, "import", "place", folder / "place.csv")
    assert done.returncode == 0, done.stderr
    milliseconds, kilobytes, code = bench_large.taken(folder, "import cylinder @cylinder.csv", large_shop.NOW)
    assert code == 0
    return milliseconds / 1000, kilobytes / 1024


def measure(top):
    import random
    folder = top / "import"
    folder.mkdir(exist_ok=True)
    rows = []
    while len(rows) < CYLINDERS:
        rows += [row.replace("K", f"K{len(rows)}-", 1) for row in large_shop.cylinders(random.Random(len(rows)), 1)]
    heading = "other_tag,name,place,face,teeth,pitch,drive,diameter,runout,run"
    (folder / "cylinder.csv").write_text("\n".join([heading, *rows[:CYLINDERS]]) + "\n", encoding="utf-8")
    (folder / "place.csv").write_text("\n".join(["code,name,within,sort", *large_shop.places(1)]) + "\n", encoding="utf-8")
    ours, shells, memory = [], [], 0
    for turn in range(3):
        seconds, megabytes = program_seconds(folder)
        ours.append(seconds)
        memory = max(memory, megabytes)
        if turn == 0:
            with sqlite3.connect(folder / "shop.db") as source:
                (folder / "schema.sql").write_text(schema_for_shell(source))
                ready_files(source, folder)
        shells.append(shell_seconds(folder))
    ours, shell = sorted(ours)[1], sorted(shells)[1]
    print(f"import of {CYLINDERS} cylinders: {ours:.2f} s; the shell's .import of ready CSV: {shell:.2f} s; ratio {ours / shell:.2f},"
          f" 1.5 at most; {memory:.1f} MB, 64 at most")


if __name__ == "__main__":
    import pathlib
    import tempfile
    with tempfile.TemporaryDirectory() as name:
        measure(pathlib.Path(name))

"""What wear costs on a shop of 5,000 rolls with 100 readings each (wear_shop.py): medians of eleven, `over` where it is more than it may be.

    make bench
    python3 bench_wear.py FOLDER      with the shop in that folder, which is made where it is not there

`due` over all of it, the whole program, 200 ms; `wear` of one roll with 10,000 readings, 100 ms; one more reading on that roll, answer included,
20 ms more than the bare SQLite transaction that writes the same rows on the same disk.
"""

import functools
import pathlib
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time

import bench_large
import wear_shop

TIMES = 11
READINGS = 60
DUE_MOST, WEAR_MOST, READING_MOST = 200, 100, 20


def is_there(folder, command):
    done = subprocess.run([wear_shop.PROGRAM, "help", command], env=wear_shop.environment(folder), capture_output=True, check=False)
    return done.returncode == 0


def say(name, taken, most):
    median = statistics.median(taken)
    print(f"{median:8.1f} ms median, {max(taken):8.1f} ms most  {name}, of {len(taken)}, at most {most} ms{'' if median <= most else '  over'}")


def whole_program(folder, *words):
    """Milliseconds of each of some processes, the first, which finds nothing in memory, left out."""
    command = [str(bench_large.measurer()), str(wear_shop.PROGRAM), "--db", str(folder / "shop.db"), *words]
    taken = []
    for _ in range(TIMES + 1):
        done = subprocess.run(command, env=wear_shop.environment(folder), capture_output=True, encoding="utf-8", check=True)
        milliseconds, _, code = done.stdout.split()
        if int(code) > 1:
            sys.exit(f"{' '.join(words)}: exit {code}")
        taken.append(float(milliseconds))
    return taken[1:]


def of_now(at):
    return f"2026-12-01T07:{at % 60:02d}Z"


def readings_told(folder, file):
    """Milliseconds from a line to a console until its answer is read."""
    taken = []
    with subprocess.Popen([wear_shop.PROGRAM, "--db", file, "--json"], env=wear_shop.environment(folder), stdin=subprocess.PIPE,
                          stdout=subprocess.PIPE, encoding="utf-8") as console:
        for at in range(READINGS):
            began = time.perf_counter()
            console.stdin.write(f"reading {wear_shop.MOST_READ} volume={5 + at / 1000:.3f}cm3/m2 method=surface after=clean moment={of_now(at)}\n")
            console.stdin.flush()
            if not console.stdout.readline():
                sys.exit("reading: no answer")
            taken.append((time.perf_counter() - began) * 1000)
        console.stdin.close()
    return taken


def readings_bare(file):
    """Milliseconds of the same rows in a transaction of its own each, with the same safety."""
    shop = sqlite3.connect(file, isolation_level=None)
    shop.executescript("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; DROP TRIGGER wear_reading_new")
    tool = shop.execute("SELECT tool FROM other_tag WHERE code = ?", (wear_shop.MOST_READ,)).fetchone()[0]
    taken = []
    for at in range(READINGS):
        began = time.perf_counter()
        shop.execute("BEGIN IMMEDIATE")
        shop.execute("INSERT INTO reading (tool, life, moment, volume, method, after) VALUES (?, 1, ?, ?, 'surface', 'clean')",
                     (tool, wear_shop.NOW_SECONDS - 3600 + 60 * at, 5000000 + 1000 * at))
        shop.execute("INSERT INTO ledger (number, word, subject_kind, subject, login, terminal, happened, recorded, hash)"
                     " VALUES ((SELECT max(number) FROM ledger) + 1, 'reading', 'anilox', ?, 'bench', '-', ?, ?, randomblob(32))",
                     (tool, wear_shop.NOW_SECONDS, wear_shop.NOW_SECONDS))
        shop.execute("UPDATE wear SET readings = readings + 1 WHERE tool = ?", (tool,))
        shop.execute("COMMIT")
        taken.append((time.perf_counter() - began) * 1000)
    shop.close()
    return taken


def measure_reading(folder):
    copies = [folder / "told.db", folder / "bare.db"]
    for copy in copies:
        copy.unlink(missing_ok=True)
        # The program's own would ask for the entries of all runs.
        with sqlite3.connect(folder / "shop.db") as shop, sqlite3.connect(copy) as target:
            shop.backup(target)
    told, bare = readings_told(folder, copies[0]), readings_bare(copies[1])
    more = statistics.median(told) - statistics.median(bare)
    print(f"{statistics.median(told):8.1f} ms median, {statistics.median(bare):8.1f} ms bare    one more reading on a roll with 10,000, of {READINGS},"
          f" {more:.1f} ms besides the disk, at most {READING_MOST} ms{'' if more <= READING_MOST else '  over'}")


def measure(folder):
    if not (folder / "shop.db").exists():
        readings, runs = wear_shop.make(folder)
        print(f"{readings} readings and {runs} runs of rolls")
    measures = (
        ("due", lambda: say("due over 5,000 rolls with 100 readings each", whole_program(folder, "due"), DUE_MOST)),
        ("wear", lambda: say("wear of a roll with 10,000 readings", whole_program(folder, "wear", wear_shop.MOST_READ), WEAR_MOST)),
        ("reading", functools.partial(measure_reading, folder)),
    )
    for command, take in measures:
        if is_there(folder, command):
            take()
        else:
            print(f"skipped: the program has no command {command}")


def main():
    if len(sys.argv) > 1:
        measure(pathlib.Path(sys.argv[1]))
        return
    folder = pathlib.Path(tempfile.mkdtemp(dir=wear_shop.TOP / "build", prefix="bench_wear"))
    try:
        measure(folder)
    finally:
        shutil.rmtree(folder)


if __name__ == "__main__":
    main()

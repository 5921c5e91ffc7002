"""Eight consoles writing at once: none of their changes lost, none refused, and how long each waits.

    /usr/bin/python3 tests/bench/eight_consoles.py [CHANGES]

Each console is a program of its own that is given a line when it has answered the one before; 2,000 changes each by default.
"""

import os
import pathlib
import subprocess
import sys
import tempfile
import threading
import time

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
CONSOLES = 8


def environment(folder):
    return dict(os.environ, TZ="UTC", HOME=str(folder))


def prepare(folder):
    """Two places, and a gear for each console, in a shop of their own."""
    lines = ["new place code=R1 sort=store", "new place code=R2 sort=store"]
    lines += [f"new gear other_tag=G{at} teeth=96 pitch=1/8cp place=R1" for at in range(CONSOLES)]
    done = subprocess.run([PROGRAM, "--db", folder / "shop.db"], input="\n".join(lines) + "\n", env=environment(folder),
                          capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr


def console_write(folder, at, changes, waits, refusals):
    """One console: its gear goes to and fro, and the wait of every line is noted."""
    console = subprocess.Popen([PROGRAM, "--db", folder / "shop.db", "--csv"], env=environment(folder), stdin=subprocess.PIPE,
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8", bufsize=1)
    for change in range(changes):
        began = time.perf_counter()
        console.stdin.write(f"put G{at} at=R{2 - change % 2}\n")
        console.stdin.flush()
        heading = console.stdout.readline()
        console.stdout.readline()
        waits.append(time.perf_counter() - began)
        if not heading:
            break
    console.stdin.close()
    refusals.extend(console.stderr.read().splitlines())
    console.wait()


def run(folder, changes):
    """Waits in seconds, in order, and the refusals of all consoles."""
    waits, refusals = [], []
    prepare(folder)
    threads = [threading.Thread(target=console_write, args=(folder, at, changes, waits, refusals)) for at in range(CONSOLES)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return sorted(waits), refusals


def entries_of_moves(folder):
    import sqlite3
    with sqlite3.connect(folder / "shop.db") as store:
        return store.execute("SELECT count(*) FROM ledger WHERE word = 'put'").fetchone()[0]


def main():
    changes = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        began = time.monotonic()
        waits, refusals = run(folder, changes)
        took = time.monotonic() - began
        print(f"{CONSOLES} consoles, {changes} changes each: {entries_of_moves(folder)} on record, {len(refusals)} refused, {took:.1f} s")
        for share, words in ((0.5, "median"), (0.99, "99th percentile"), (1, "longest")):
            print(f"{1000 * waits[min(len(waits) - 1, int(share * len(waits)))]:8.1f} ms  {words} of the waits")
        return 1 if refusals or entries_of_moves(folder) != CONSOLES * changes else 0


if __name__ == "__main__":
    sys.exit(main())

"""What a very large shop costs beside a small one: medians of eleven whole processes, and their ratios, taken in one run.

    make bench

The shops are drawn by large_shop.py: 1,000 tools with 10,000 ledger entries, and 100,000 tools with 1,000,000. Commands of both shops take
turns, so that what else the machine does falls on both alike. Memory is the most that was resident, by the kernel's account of the process.
Behind each stand what it may take on the large shop; `over` marks what does not keep to it.
"""

import atexit
import functools
import os
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile

import large_shop

LATER = "2027-01-15T08:00:00Z"
TIMES = 11
MEMORY_MOST = 32
# Milliseconds on the large shop, and how many times those of the small one; None: not bounded.
COMMANDS = {
    "help": (20, None),
    "show K77": (20, None),
    "show A77": (20, None),
    "show P1": (20, None),
    "check J0": (30, 2),
    "check J1": (30, 2),
    "find plum 771": (30, None),
    "find cylinder teeth=96": (None, None),
    "history K77": (20, None),
    "history when=2026-12-02": (300, None),
    "history when=2026-12-02 at=R1": (300, None),
    "export gear file=@gear.csv": (None, None),
}
SHOPS = {"small": (0.01, 10000), "large": (1, 1000000)}


def taken(folder, words, now=LATER):
    """Milliseconds, KB of memory and exit status of one process."""
    command = [str(measurer()), str(large_shop.PROGRAM), "--db", str(folder / "shop.db")]
    command += [word.replace("@", f"{folder}/") for word in words.split()]
    done = subprocess.run(command, env=dict(large_shop.environment(folder), TOOTHRACK_NOW=now), capture_output=True, encoding="utf-8",
                          check=True)
    milliseconds, kilobytes, code = done.stdout.split()
    return float(milliseconds), int(kilobytes), int(code)


@functools.lru_cache
def measurer():
    """The small program that measures, built in a folder that lasts as long as this one runs."""
    folder = tempfile.mkdtemp()
    atexit.register(shutil.rmtree, folder)
    built = pathlib.Path(folder) / "measure"
    subprocess.run([os.environ.get("CC", "cc"), "-O2", "-D_GNU_SOURCE", "-o", built, pathlib.Path(__file__).with_name("measure.c")], check=True)
    return built


def line_of(words, times, memory, code):
    small, large = (statistics.median(times[shop]) for shop in SHOPS)
    most, most_ratio = COMMANDS[words]
    over = (most and large > most) or (most_ratio and large / small > most_ratio) or memory / 1024 > MEMORY_MOST
    goal = (f"{most} ms" if most else "") + (f", ratio {most_ratio}" if most_ratio else "")
    return (f"{words:34}{small:7.1f} ms{large:7.1f} ms{large / small:8.2f}{memory / 1024:9.1f} MB   {goal:16}"
            + ("over" if over else "") + ("refused" if code > 1 else ""))


def measure(top):
    print(f"{'command':34}{'small':>10}{'large':>10}{'ratio':>8}{'memory':>12}   at most ({MEMORY_MOST} MB)")
    for words in COMMANDS:
        times = {shop: [] for shop in SHOPS}
        memory, code = 0, 0
        for _ in range(TIMES):
            for shop in SHOPS:
                milliseconds, kilobytes, code = taken(top / shop, words)
                times[shop].append(milliseconds)
                memory = max(memory, kilobytes)
        print(line_of(words, times, memory, code).rstrip())


def import_beside_shell(top):
    """`import` of the cylinders into an empty shop, beside the sqlite3 shell's `.import` of ready CSV into the same schema."""
    import shell_import
    shell_import.measure(top)


def main():
    with tempfile.TemporaryDirectory() as name:
        top = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else pathlib.Path(name)
        for shop, (scale, entries) in SHOPS.items():
            if not (top / shop / "shop.db").exists():
                large_shop.make(top / shop, scale, entries)
        measure(top)
        import_beside_shell(top)


if __name__ == "__main__":
    main()

"""What a very large shop costs beside a small one: medians of eleven whole processes, and their ratios, taken in one run.

    make bench

The shops are drawn by large_shop.py: 1,000 tools with 10,000 ledger entries, and 100,000 tools with 1,000,000. Commands of both shops take
turns, so that what else the machine does falls on both alike. Memory is the most that was resident, by the kernel's account of the process.
"""

import os
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

import large_shop

LATER = "2027-01-15T08:00:00Z"
TIMES = 11
COMMANDS = ("show K77", "check J0", "check J1", "find plum 771", "history K77", "history when=2026-12-02", "export gear file=@gear.csv")
SHOPS = {"small": (0.01, 10000), "large": (1, 1000000)}


def taken(folder, words):
    """Milliseconds, and KB of memory, of one process."""
    command = [str(large_shop.PROGRAM), "--db", str(folder / "shop.db")] + [word.replace("@", f"{folder}/") for word in words.split()]
    environment = dict(large_shop.environment(folder), TOOTHRACK_NOW=LATER)
    began = time.perf_counter()
    process = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return 1000 * (time.perf_counter() - began), usage.ru_maxrss, process.returncode


def measure(top):
    print(f"{'command':34}{'small':>10}{'large':>10}{'ratio':>8}{'memory':>12}")
    for words in COMMANDS:
        times = {shop: [] for shop in SHOPS}
        memory, code = 0, 0
        for _ in range(TIMES):
            for shop in SHOPS:
                milliseconds, kilobytes, code = taken(top / shop, words)
                times[shop].append(milliseconds)
                memory = max(memory, kilobytes)
        small, large = (statistics.median(times[shop]) for shop in SHOPS)
        print(f"{words:34}{small:7.1f} ms{large:7.1f} ms{large / small:8.2f}{memory / 1024:9.1f} MB" + ("" if code < 2 else "  refused"))


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

"""What a scan at the bench costs, its answer included, beside the bare SQLite transaction that writes the same rows.

    make bench

Both take turns in one run on one disk (scan_cost.c). The bench may take at most 1.3 times as long, by the medians; `over` marks what does not
keep to it. SCANS scans each (2000). A disk that does not really sync measures nothing: on tmpfs it is refused.
"""

import os
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
SCANS = 2000
RATIO_MOST = 1.3
# A sync that takes less did not reach a disk.
SYNC_LEAST = 0.05


def built(folder):
    program = folder / "scan_cost"
    source = pathlib.Path(__file__).with_name("scan_cost.c")
    subprocess.run([os.environ.get("CC", "cc"), "-O2", "-D_GNU_SOURCE", "-o", program, source, "-lsqlite3"], check=True)
    return program


def figures(folder, scans):
    """Milliseconds of the bench's scans, and of the bare transactions."""
    environment = dict(os.environ, TZ="UTC", HOME=str(folder), LC_ALL="C.UTF-8")
    shop, bare = folder / "shop.db", folder / "bare.db"
    subprocess.run([PROGRAM, "--db", shop, "demo"], env=environment, stdout=subprocess.DEVNULL, check=True)
    subprocess.run([PROGRAM, "--db", shop, "backup", bare], env=environment, stdout=subprocess.DEVNULL, check=True)
    done = subprocess.run([built(folder), PROGRAM, shop, bare, str(scans)], env=environment, stdout=subprocess.PIPE, encoding="utf-8", check=True)
    pairs = [line.split() for line in done.stdout.splitlines()]
    return [float(bench) for bench, _ in pairs], [float(bare) for _, bare in pairs]


def main():
    scans = int(sys.argv[1]) if len(sys.argv) > 1 else SCANS
    folder = pathlib.Path(tempfile.mkdtemp(dir=TOP / "build", prefix="bench_scan"))
    try:
        sort = subprocess.run(["stat", "-f", "-c", "%T", folder], stdout=subprocess.PIPE, encoding="utf-8", check=True).stdout.strip()
        if sort in ("tmpfs", "ramfs"):
            sys.exit(f"{folder} is on {sort}, which syncs nothing: build on a disk")
        bench, bare = figures(folder, scans)
    finally:
        shutil.rmtree(folder)
    ratio = statistics.median(bench) / statistics.median(bare)
    for name, taken in (("a scan, answer included", bench), ("the bare transaction", bare)):
        print(f"{statistics.median(taken):8.3f} ms median, {sorted(taken)[int(0.99 * len(taken))]:8.3f} ms 99th percentile  {name}, of {len(taken)}")
    print(f"{ratio:8.2f} times, at most {RATIO_MOST}{'' if ratio <= RATIO_MOST else '  over'}")
    if statistics.median(bare) < SYNC_LEAST:
        print("this disk does not really sync: the figure says nothing")
    return 0


if __name__ == "__main__":
    sys.exit(main())

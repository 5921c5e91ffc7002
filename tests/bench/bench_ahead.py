"""What all jobs together cost: time and memory of `ahead days=28 --json` on scarce months (ahead_shop.py), and what others make of the same model.

    make bench                                    one month of 500 jobs, sizes up to 1000
    python3 bench_ahead.py SEED...                months of 500 jobs of these seeds
    TOOTHRACK_BENCH_LONG=1 python3 bench_ahead.py [SEED...]       all sizes, up to 5000 jobs

Each month is also written as CPLEX-LP (`ahead file=X.lp`) and solved as it stands: by scipy.optimize.milp (HiGHS), whose bound recomputes the gap,
and by glpsol, within 60 s; the last column is glpsol's time (or that limit) by ours. The table of sizes is drawn too: build/bench/ahead.svg.
`over` marks what does not keep to what it may take: 500 jobs 2 s, 5000 jobs 30 s, 500 MB, a gap of 1 %, 20 times as fast; `easy` a month in which
less than a tenth of the jobs is unserved or moved from the first, greedy plan.
"""

import json
import math
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "oracle"))

import ahead_shop  # noqa: E402

TOP = pathlib.Path(__file__).resolve().parents[2]
LIMIT = 60
SIZES, SIZES_LONG = (50, 100, 200, 500, 1000), (50, 100, 200, 500, 1000, 2000, 5000)
SECONDS_MOST = {500: 2.0, 5000: 30.0}
MEGABYTES_MOST, GAP_MOST, FASTER_LEAST = 500, 1.0, 20


# A process of its own, and a small one: what a larger one had resident before it became the program would be counted too.
MEASURE = """
import os, sys, time
out = os.open(sys.argv[1], os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
begun = time.monotonic()
child = os.posix_spawn(sys.argv[2], sys.argv[2:], os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, out, 1)])
_, status, usage = os.wait4(child, 0)
print(time.monotonic() - begun, usage.ru_maxrss, os.waitstatus_to_exitcode(status))
"""


def asked(folder, words, out):
    """(seconds, MB) of one process of the program; its answer goes into a file."""
    done = subprocess.run([sys.executable, "-I", "-S", "-c", MEASURE, str(out), str(ahead_shop.PROGRAM), "--db", str(folder / "shop.db"), *words],
                          env=ahead_shop.environment(folder), stdout=subprocess.PIPE, encoding="utf-8", check=True)
    seconds, kilobytes, code = done.stdout.split()
    assert code in ("0", "1"), f"ahead ended with {code}"
    return float(seconds), int(kilobytes) / 1024


def answered(folder, days=28):
    """Seconds, MB and the answer of `ahead`."""
    seconds, megabytes = asked(folder, ["--json", "ahead", f"days={days}"], folder / "ahead.json")
    return seconds, megabytes, json.loads((folder / "ahead.json").read_text(encoding="utf-8"))


def by_glpsol(path):
    """Seconds, and what it found: None where nothing within its limit."""
    begun = time.monotonic()
    done = subprocess.run(["glpsol", "--lp", str(path), "--tmlim", str(LIMIT), "--write", str(path) + ".sol"], capture_output=True,
                          encoding="utf-8", check=False, timeout=LIMIT * 4)
    seconds = time.monotonic() - begun
    assert done.returncode == 0, done.stdout[-500:]
    head = pathlib.Path(str(path) + ".sol").read_text(encoding="utf-8").splitlines()
    words = next(line for line in head if line.startswith("s ")).split()
    return seconds, words[4], float(words[5])


def others(folder, found, seconds, days):
    """The same model by HiGHS and by glpsol, as a line."""
    import read_lp
    path = folder / "ahead.lp"
    asked(folder, ["ahead", f"days={days}", f"file={path}"], folder / "ahead.txt")
    solved = read_lp.read(path.read_text(encoding="utf-8")).solve(LIMIT)
    # What no plan serves more than, by HiGHS: a whole number of jobs.
    bound = math.floor(solved.bound + 1e-6)
    gap = 100 * (bound - found["served"]) / bound if bound else 0
    assert found["served"] <= bound, "more served than HiGHS says can be"
    assert solved.objective is None or found["bound"] >= round(solved.objective), "our bound is less than what HiGHS serves"
    taken, status, value = by_glpsol(path)
    faster = (taken if status == "o" else min(taken, LIMIT)) / seconds
    marks = ("" if gap <= GAP_MOST else "  gap over") + ("" if faster >= FASTER_LEAST else "  not 20 times as fast")
    served = "nothing" if solved.objective is None else round(solved.objective)
    print(f"{'':8}HiGHS {solved.seconds:5.1f} s: serves {served}, bound {bound}, so our gap is {gap:.2f} %;  glpsol {taken:5.1f} s: "
          f"{'optimal' if status == 'o' else 'not ended,'} {value:g}: {faster:.0f} times our time, its limit counted where it did not end{marks}", flush=True)


def line_of(jobs, seconds, megabytes, found):
    moved = found["moved"]
    most = SECONDS_MOST.get(jobs)
    over = [name for name, is_over in (("time", most and seconds > most), ("memory", megabytes > MEGABYTES_MOST),
                                       ("gap", found["gap_percent"] > GAP_MOST)) if is_over]
    return (f"{jobs:6}{seconds:9.2f} s{megabytes:8.1f} MB{found['served']:8}{found['bound']:8}{found['gap_percent']:8.2f} %{moved:8}"
            f"{found['planned'] - found['served']:10}  {found['proof']:17}" + (f"{' and '.join(over)} over" if over else "")
            + ("" if 10 * moved >= found["planned"] else "  easy"))


HEADING = f"{'jobs':>6}{'time':>11}{'memory':>11}{'served':>8}{'bound':>8}{'gap':>10}{'moved':>8}{'unserved':>10}  proof"


def month(top, jobs, seed, compared):
    """One month: its line, and how the others fare; gives (jobs, seconds, MB, gap)."""
    folder = top / f"{jobs}-{seed}"
    ahead_shop.make(folder, ahead_shop.Month(jobs, seed))
    seconds, megabytes, found = answered(folder)
    print(line_of(jobs, seconds, megabytes, found) + f"  (seed {seed})", flush=True)
    if compared:
        others(folder, found, seconds, 28)
    shutil.rmtree(folder)
    return jobs, seconds, megabytes, found["gap_percent"]


# -- the picture --------------------------------------------------------------------------------

LEFT, TOP_OF, WIDE, HIGH, APART = 80, 50, 360, 260, 110


def place(value, low, high, length):
    return (math.log10(value) - math.log10(low)) / (math.log10(high) - math.log10(low)) * length


def ticks(low, high):
    return [step * 10 ** power for power in range(-3, 6) for step in (1, 2, 5) if low <= step * 10 ** power <= high]


def panel(at, title, unit, points, goals):
    """A panel with both axes logarithmic: a line through the points, and the most that some may take as open rings."""
    left = LEFT + at * (WIDE + APART)
    xs, ys = [x for x, _ in points + goals], [y for _, y in points + goals]
    low_x, high_x, low_y, high_y = min(xs) * 0.8, max(xs) * 1.25, min(ys) * 0.6, max(ys) * 1.6

    def spot(x, y):
        return left + place(x, low_x, high_x, WIDE), TOP_OF + HIGH - place(y, low_y, high_y, HIGH)

    parts = [f'<rect x="{left}" y="{TOP_OF}" width="{WIDE}" height="{HIGH}" fill="none" stroke="#444"/>',
             f'<text x="{left + WIDE / 2}" y="{TOP_OF - 16}" text-anchor="middle" font-weight="bold">{title}</text>',
             f'<text x="{left + WIDE / 2}" y="{TOP_OF + HIGH + 42}" text-anchor="middle">jobs</text>',
             f'<text transform="translate({left - 52},{TOP_OF + HIGH / 2}) rotate(-90)" text-anchor="middle">{unit}</text>']
    for x in [x for x, _ in points]:
        parts.append(f'<text x="{spot(x, low_y)[0]:.1f}" y="{TOP_OF + HIGH + 20}" text-anchor="middle">{x}</text>')
        parts.append(f'<path d="M{spot(x, low_y)[0]:.1f} {TOP_OF}v{HIGH}" stroke="#ddd"/>')
    for y in ticks(low_y, high_y):
        parts.append(f'<text x="{left - 8}" y="{spot(low_x, y)[1] + 4:.1f}" text-anchor="end">{y:g}</text>')
        parts.append(f'<path d="M{left} {spot(low_x, y)[1]:.1f}h{WIDE}" stroke="#ddd"/>')
    parts.append('<polyline fill="none" stroke="#1f5fa8" stroke-width="2" points="' + " ".join("%.1f,%.1f" % spot(*point) for point in points) + '"/>')
    for x, y in points:
        parts.append('<circle cx="%.1f" cy="%.1f" r="4" fill="#1f5fa8"><title>%d jobs: %.3g %s</title></circle>' % (*spot(x, y), x, y, unit))
    for x, y in goals:
        parts.append('<circle cx="%.1f" cy="%.1f" r="6" fill="none" stroke="#b03020" stroke-width="2"><title>at most %g %s</title></circle>'
                     % (*spot(x, y), y, unit))
    return "\n".join(parts)


def draw(rows, path):
    """Cost against size as SVG."""
    sizes = [row[0] for row in rows]
    panels = [panel(0, "time of ahead days=28", "s", [(jobs, seconds) for jobs, seconds, _, _ in rows],
                    [(jobs, most) for jobs, most in SECONDS_MOST.items() if jobs in sizes]),
              panel(1, "memory", "MB", [(jobs, megabytes) for jobs, _, megabytes, _ in rows],
                    [(max(sizes), MEGABYTES_MOST)])]
    width, height = LEFT + 2 * WIDE + APART + 40, TOP_OF + HIGH + 90
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}" '
                    f'font-family="sans-serif" font-size="13">\n<rect width="{width}" height="{height}" fill="white"/>\n' + "\n".join(panels)
                    + f'\n<text x="{LEFT}" y="{height - 12}">scarce months of tests/bench/ahead_shop.py, seed 1; a ring: the most it may '
                    "take</text>\n</svg>\n", encoding="utf-8")
    print(f"drawn: {path}")


def main(words):
    long = os.environ.get("TOOTHRACK_BENCH_LONG") == "1"
    seeds = [int(word) for word in words] or ([1, 2, 3] if long else [1])
    with tempfile.TemporaryDirectory() as name:
        print(HEADING)
        for seed in seeds:
            month(pathlib.Path(name), 500, seed, True)
        if words and not long:
            return
        print("\ncost against size: a shop with more jobs has more halls of six presses\n" + HEADING)
        rows = [month(pathlib.Path(name), jobs, 1, False) for jobs in (SIZES_LONG if long else SIZES)]
        draw(rows, TOP / "build" / "bench" / "ahead.svg")


if __name__ == "__main__":
    main(sys.argv[1:])

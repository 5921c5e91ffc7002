"""A shop with many rolls that were read often, drawn from a fixed seed, all figures invented.

Tools and readings come in by CSV, as a shop's own would. What the rolls have run since they came new, and who has them booked, is written by SQL:
`finish` and `book` would do it one job at a time. Of the rolls some are worn out, some will be soon, some were not cleaned or read for long; every third has a job
booked. One roll more was read as often as a device reads that never rests.
"""

import datetime
import os
import pathlib
import random
import sqlite3
import subprocess

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
NOW = "2026-12-01T08:00:00Z"
NOW_SECONDS = 1796112000
NEW = "2022-11-01T08:00:00Z"  # when the rolls were put on record, before the first of them was engraved
DAY = 86400
MOST_READ = "A-MOST-READ"
JOB_TOOLS = 5


def environment(folder, now=NOW):
    return dict(os.environ, TZ="UTC", HOME=str(folder), LC_ALL="C.UTF-8", TOOTHRACK_NOW=now)


def run(folder, now, *words):
    done = subprocess.run([PROGRAM, "--db", folder / "shop.db", *words], env=environment(folder, now), capture_output=True, encoding="utf-8", check=False)
    if done.returncode > 1:
        raise SystemExit(f"{' '.join(map(str, words))}: {done.stderr.strip() or done.stdout.strip()}")


def bring_in(folder, kind, heading, rows, now=NEW):
    file = folder / f"{kind}.csv"
    file.write_text("\n".join([heading, *rows]) + "\n", encoding="utf-8")
    run(folder, now, "import", kind, file)
    file.unlink()


def moment_text(seconds):
    return datetime.datetime.fromtimestamp(seconds, datetime.timezone.utc).strftime("%Y-%m-%dT%H:%M:%SZ")


class Roll:
    """How one roll is used, worn, cleaned and read."""

    def __init__(self, rng, name, readings, runs_between):
        self.name = name
        self.new = rng.uniform(3, 12)
        self.engraved = NOW_SECONDS - rng.randint(1000, 1400) * DAY
        # So long ago was its last reading; every tenth has been left alone.
        idle = rng.randint(100, 300) if rng.random() < 0.1 else rng.randint(1, 20)
        self.read = [round(self.engraved + (NOW_SECONDS - idle * DAY - self.engraved) * (at + 1) / readings) for at in range(readings)]
        per_run = rng.uniform(500, 8000)
        self.runs = []
        before = self.engraved
        for moment in self.read + [NOW_SECONDS - rng.randint(1, idle) * DAY // 2]:
            self.runs += [(before + (moment - before) * (at + 1) // (runs_between + 1), round(per_run * rng.uniform(0.5, 1.5) * 1e9))
                          for at in range(runs_between)]
            before = max(before, moment)
        self.run = sum(length for _, length in self.runs)
        # At the end of the readings between nothing and a third of the volume is gone.
        self.lost = rng.uniform(0, 0.33)
        self.noise = rng.uniform(0.005, 0.02)

    def volumes(self, rng):
        """Moment and volume of each reading: a line over the web run, with the scatter of readings."""
        at, done = 0, 0
        for moment in self.read:
            while at < len(self.runs) and self.runs[at][0] <= moment:
                done += self.runs[at][1]
                at += 1
            yield moment, self.new * (1 - self.lost * done / self.run) * (1 + rng.gauss(0, self.noise))


def write_runs(shop, rolls, ids):
    """Jobs of some rolls each, without their entries: the ledger is not what is measured."""
    press = shop.execute("SELECT id FROM press").fetchone()[0]
    job_run = shop.execute("SELECT COALESCE(max(id), 0) FROM job_run").fetchone()[0]
    jobs = [number for number, in shop.execute("SELECT id FROM job WHERE state = 'finished'")]
    for first in range(0, len(rolls), JOB_TOOLS):
        together = rolls[first:first + JOB_TOOLS]
        for at in range(max(len(roll.runs) for roll in together)):
            job_run += 1
            moment = max(roll.runs[at][0] for roll in together if at < len(roll.runs))
            shop.execute("INSERT INTO job_run (id, job, press, started, finished, start_entry, finish_entry, length, length_by)"
                         " VALUES (?, ?, ?, ?, ?, ?, ?, ?, 'given')",
                         (job_run, jobs[job_run % len(jobs)], press, moment - 3600, moment, -2 * job_run, -2 * job_run - 1, together[0].runs[0][1]))
            shop.executemany("INSERT INTO web_run (tool, life, job_run, length, moment, entry) VALUES (?, 1, ?, ?, ?, ?)",
                             [(ids[roll.name], job_run, roll.runs[at][1], roll.runs[at][0], job_run) for roll in together if at < len(roll.runs)])
    shop.executemany("UPDATE tool SET run = ? WHERE id = ?", [(roll.run, ids[roll.name]) for roll in rolls])


def write_bookings(rng, shop, rolls, ids):
    """A job ahead for every third roll."""
    press = shop.execute("SELECT id FROM press").fetchone()[0]
    made = shop.execute("SELECT max(number) FROM ledger").fetchone()[0]
    jobs = [number for number, in shop.execute("SELECT id FROM job WHERE state = 'planned'")]
    for at, job in enumerate(jobs):
        starts = NOW_SECONDS + rng.randint(1, 60) * DAY
        shop.execute("INSERT INTO promise (job, press, starts, ends, teeth, pitch, number_around, verdict, answer, asked, login, made)"
                     " VALUES (?, ?, ?, ?, 96, '1/8cp', 4, 'ready', '{}', ?, 'bench', ?)",
                     (job, press, starts, starts + DAY // 3, NOW_SECONDS, made))
        shop.executemany("INSERT INTO booking (tool, job, need, station, starts, ends) VALUES (?, ?, 'anilox', ?, ?, ?)",
                         [(ids[roll.name], job, station + 1, starts, starts + DAY // 3)
                          for station, roll in enumerate(rolls[3 * JOB_TOOLS * at:3 * JOB_TOOLS * at + JOB_TOOLS])])


def make(folder, count=5000, readings=100, runs_between=2, most_read=10000):
    """Makes the shop in the folder; returns how many readings and runs it holds."""
    rng = random.Random(20261201)
    folder.mkdir(parents=True, exist_ok=True)
    rolls = [Roll(rng, f"A{at}", readings, runs_between) for at in range(count)]
    often = Roll(rng, MOST_READ, most_read, 0)
    often.runs = [(moment - 60, round(rng.uniform(50, 150) * 1e9)) for moment in often.read]
    often.run = sum(length for _, length in often.runs)
    everyone = rolls + [often]
    bring_in(folder, "place", "code,sort", [f"R{at},store" for at in range(50)])
    bring_in(folder, "press", "code,drive,web,repeat_min,repeat_max,pitches,stations", ["P1,geared,340mm,150mm,600mm,1/8cp,8"])
    planned = len(rolls) // (3 * JOB_TOOLS)
    bring_in(folder, "job", "number,title,state,quantity,number_across",
             [f"F{at},birch soap,finished,100000,3" for at in range(500)] + [f"J{at},plum jam,planned,100000,3" for at in range(planned)])
    bring_in(folder, "anilox", "other_tag,place,face,line_screen,volume,engraved,run",
             [f"{roll.name},R{at % 50},330mm,{rng.choice((100, 140, 200, 315))}/cm,{roll.new:.2f}cm3/m2,{moment_text(roll.engraved)},0m"
              for at, roll in enumerate(everyone)])
    shop = sqlite3.connect(folder / "shop.db", isolation_level=None)
    ids = dict(shop.execute("SELECT code, tool FROM other_tag"))
    shop.execute("BEGIN")
    write_runs(shop, everyone, ids)
    write_bookings(rng, shop, rolls, ids)
    shop.execute("COMMIT")
    shop.close()
    bring_in(folder, "reading", "tool,moment,volume,method,after",
             [f"{roll.name},{moment_text(moment)},{max(volume, 0.1):.3f}cm3/m2,surface,clean"
              for roll in everyone for moment, volume in roll.volumes(rng)], NOW)
    return sum(len(roll.read) for roll in everyone), sum(len(roll.runs) for roll in everyone)

"""Random shops, random changes through one console: whatever happens, no tool is promised twice, the file is whole, and what is at risk
is what a judgement from the records alone says.

The judgement is made a second time here, from the tables, for the changes that are drawn: a hold of a tool or of a station of a press, a
tool sent away, a job's time changed, another job running. Beside it the program's own check says of each job that is not at risk that
nothing is short of it.

TOOTHRACK names the program; TOOTHRACK_PROMISE_SHOPS and TOOTHRACK_PROMISE_SEED say how many shops, from which seed. The shops are ours.
"""
import collections
import datetime
import json
import os
import pathlib
import random
import sqlite3
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
NOW = "2026-12-01T08:00:00Z"
SHOPS = int(os.environ.get("TOOTHRACK_PROMISE_SHOPS", "8"))
SEED = int(os.environ.get("TOOTHRACK_PROMISE_SEED", "1"))
STEPS = 60
# How often each must happen, in a shop on the average.
LEAST = {"booked": 4, "moves": 0.4, "at risk": 10, "sound": 20}
SEEN = collections.Counter()
TURNAROUND = 3600
DAY = int(datetime.datetime(2026, 12, 2, tzinfo=datetime.timezone.utc).timestamp())


def moment(hours):
    """So many half hours into the day."""
    return datetime.datetime.fromtimestamp(DAY + hours * 1800, datetime.timezone.utc).strftime("%Y-%m-%dT%H:%MZ")


def seconds(text):
    return int(datetime.datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp())


def environment(folder):
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    return kept | {"HOME": str(folder), "LOGNAME": "planner", "LC_ALL": "C.UTF-8", "TZ": "UTC", "TOOTHRACK_NOW": NOW}


# ---------------------------------------------------------------- a shop


class Shop:
    """Four presses, some jobs whose stations take rolls of overlapping screens, and hardly enough tools."""

    def __init__(self, draw, folder):
        self.draw = draw
        self.folder = folder
        self.jobs = [f"J{number}" for number in range(1, 10)]
        self.stations = {job: draw.randint(1, 2) for job in self.jobs}
        for kind, rows in self.rows().items():
            (folder / f"{kind}.csv").write_text(rows, encoding="utf-8")
            done = subprocess.run([PROGRAM, "--db", "shop.db", "import", kind, f"{kind}.csv"], cwd=folder, env=environment(folder),
                                  capture_output=True, text=True, check=False)  # fmt: skip
            assert done.returncode == 0, done.stderr

    def rows(self):
        draw = self.draw
        label = "100mm,73mm,2mm,rectangle,3,3mm,2mm,4mm,5mm,330mm,0.06mm,96,1/8cp,4"
        jobs = "\n".join(f'{job},"{draw.choice(("P1", "P2,P3", "P3,P4", "P1,P2,P3,P4"))}",{draw.choice((3000, 9000))},{label}' for job in self.jobs)
        stations = []
        for job in self.jobs:
            for station in range(1, self.stations[job] + 1):
                least = draw.choice((100, 110, 120))
                stations.append(f"{job},{station},flexo,1.702mm,0.127mm,0.381mm,ready,{least - 5}/cm,{least + 15}/cm")
        return {
            "place": "code,sort\nR1,store\nS1,supplier\n",
            "press": "code,drive,web,repeat_min,repeat_max,stations,die_stations\n"
                     + "".join(f"P{number},servo,340mm,150mm,600mm,3,1\n" for number in range(1, 5)),
            "job": "number,press,quantity,label_across,label_around,corner,shape,number_across,gap_across,gap_around_min,gap_around_max,trim,web,"
                   f"liner_caliper,teeth,pitch,number_around\n{jobs}\n",
            "cylinder": "teeth,pitch,drive,place,face,diameter,runout\n" + "96,1/8cp,geared,R1,330mm,92.855mm,0.005mm\n" * draw.randint(8, 12),
            "anilox": "place,face,line_screen\n" + "".join(f"R1,330mm,{draw.choice((100, 110, 120, 130))}/cm\n" for _ in range(draw.randint(5, 8))),
            "blade": "place,length,life\n" + "R1,330mm,100000m\n" * draw.randint(8, 12),
            "die": "place,face,build,cut,teeth,pitch,number_across,number_around,label_across,label_around,gap_across,corner,shape,liner_caliper,life\n"
                   + "R1,330mm,solid,kiss,96,1/8cp,3,4,100mm,73mm,3mm,2mm,rectangle,0.06mm,1000000\n" * draw.randint(5, 6),
            "station": "job,station,process,plate,base,tape,plates,screen_min,screen_max\n" + "\n".join(stations) + "\n",
        }  # fmt: skip


# ---------------------------------------------------------------- a console


class Console:
    """One process for all lines; after each line `at_risk` says that it is done."""

    def __init__(self, folder):
        self.process = subprocess.Popen([PROGRAM, "--db", "shop.db", "--json"], cwd=folder, env=environment(folder), stdin=subprocess.PIPE,
                                        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)  # fmt: skip

    def ask(self, line):
        """What the next command that answers in any case says."""
        self.process.stdin.write(line + "\n")
        self.process.stdin.flush()
        answer = self.process.stdout.readline()
        assert answer, f"{line}: {self.process.stderr.read()}"
        return json.loads(answer)

    def type(self, line):
        """A line that may be refused: its answer or None, and what is at risk behind it."""
        self.process.stdin.write(line + "\n")
        risks = self.ask("at_risk")
        if isinstance(risks, dict) or (risks and "need" not in risks[0]):
            return risks, json.loads(self.process.stdout.readline())
        return None, risks

    def close(self):
        self.process.stdin.close()
        assert self.process.wait() in (0, 1), self.process.stderr.read()
        self.process.stdout.close()
        self.process.stderr.close()


# ---------------------------------------------------------------- the records alone


class Records:
    def __init__(self, folder):
        self.database = sqlite3.connect(f"file:{folder / 'shop.db'}?mode=ro", uri=True)
        self.database.row_factory = sqlite3.Row

    def all(self, sql, *values):
        return self.database.execute(sql, values).fetchall()

    def held(self):
        return self.all("SELECT p.*, j.number, j.state, j.starts AS own_from, j.ends AS own_until FROM promise p JOIN job j ON j.id = p.job WHERE p.ended IS NULL")

    def check_none_twice(self):
        """Of each tool and each press the promises that hold follow one another; those of a tool with a turnaround between."""
        promised = self.all("SELECT t.tool, p.starts, p.ends FROM promise p JOIN promise_tool t ON t.promise = p.id WHERE p.ended IS NULL ORDER BY 1, 2")
        booked = self.all("SELECT tool, starts, ends FROM booking ORDER BY 1, 2")
        assert [tuple(row) for row in promised] == [tuple(row) for row in booked]
        for earlier, later in zip(booked, booked[1:]):
            assert earlier["tool"] != later["tool"] or earlier["ends"] + TURNAROUND <= later["starts"]
        presses = self.all("SELECT p.press, p.starts, p.ends FROM promise p WHERE p.ended IS NULL ORDER BY 1, 2")
        for earlier, later in zip(presses, presses[1:]):
            assert earlier["press"] != later["press"] or earlier["ends"] <= later["starts"]

    def broken(self):
        """What should be at risk by now: job, need, station, cut, and the tool's number or None."""
        found = set()
        for promise in self.held():
            found |= self.broken_tools(promise)
            found |= self.broken_press(promise)
            own = ((promise["own_from"], promise["starts"]), (promise["own_until"], promise["ends"]))
            if any(text is not None and seconds(text) != booked for text, booked in own):
                found.add((promise["number"], "job", None, None, None))
        return found

    def broken_tools(self, promise):
        found = set()
        for tool in self.all(
            "SELECT w.need, w.station, w.cut, t.tag, t.condition, t.back, l.sort FROM promise_tool w JOIN tool t ON t.id = w.tool"
            " JOIN place l ON l.id = t.place WHERE w.promise = ?", promise["id"],
        ):  # fmt: skip
            late = tool["sort"] == "supplier" and (tool["back"] is None or seconds(tool["back"]) > promise["starts"])
            if tool["condition"] != "ready" or late:
                found.add((promise["number"], tool["need"], tool["station"], tool["cut"], tool["tag"]))
        return found

    def broken_press(self, promise):
        found = set()
        for place in self.all("SELECT station, die_station FROM place WHERE press = ? AND condition = 'hold'", promise["press"]):
            asked = self.all("SELECT 1 FROM station WHERE job = ? AND station = ?", promise["job"], place["station"])
            if asked or place["die_station"] == 1:
                found.add((promise["number"], "press", place["station"], place["die_station"], None))
        for run in self.all(
            "SELECT r.started, j.ends, p.ends AS booked FROM job_run r JOIN job j ON j.id = r.job LEFT JOIN promise p ON p.job = r.job AND"
            " p.ended IS NULL WHERE r.press = ? AND r.job <> ? AND r.finished IS NULL", promise["press"], promise["job"],
        ):  # fmt: skip
            ends = seconds(run["ends"]) if run["ends"] is not None else run["booked"]
            if ends is not None and run["started"] < promise["ends"] and ends > promise["starts"]:
                found.add((promise["number"], "press", None, None, None))
        return found


def told(risks):
    return {(risk["job"], risk["need"], risk["station"], risk["cut"], risk["tool"].replace("-", "") if risk["tool"] else None) for risk in risks}


# ---------------------------------------------------------------- what happens


def tool_of(draw, records, booked):
    """A tool, mostly one that somebody has booked."""
    among = records.all("SELECT DISTINCT t.tag FROM booking b JOIN tool t ON t.id = b.tool") if booked else []
    return draw.choice(among or records.all("SELECT tag FROM tool"))["tag"]


def span(draw):
    start = draw.randrange(0, 10)
    return f"from={moment(start)} until={moment(start + draw.randint(1, 4))}"


def drawn_line(draw, shop, records):
    """One change that is refused by the state at most, never for what is typed."""
    job = draw.choice(shop.jobs)
    tool = tool_of(draw, records, draw.random() < 0.7)
    free = [row["number"] for row in records.all("SELECT number FROM job WHERE state = 'planned' AND id NOT IN (SELECT job FROM booking)")]
    lines = {
        f"book {draw.choice(free or shop.jobs)} {span(draw)}": 40,
        f"unbook {job}": 12,
        f"hold {tool} reason=scored": 7,
        f"clear {tool}": 10,
        f"hold P{draw.randint(1, 4)}-{draw.choice(('1', '2', 'D1'))} reason=bearing": 2,
        f"clear P{draw.randint(1, 4)}-{draw.choice(('1', '2', 'D1'))}": 6,
        f"send {tool} at=S1 back={moment(draw.randrange(0, 20))} reason=relapped": 3,
        f"put {tool} at=R1": 6,
        f"edit {job} {span(draw)}": 3,
        f"start {job} press=P{draw.randint(1, 4)}": 3,
        f"finish {job}": 6,
        f"edit {job} state=planned": 6,
        "undo": 4,
    }
    return draw.choices(list(lines), weights=list(lines.values()))[0]


def look(shop, console, records, risks, seen):
    records.check_none_twice()
    expected = records.broken()
    assert told(risks) == expected
    seen["at risk"] += len({risk[0] for risk in expected})
    at_risk = {risk[0] for risk in expected}
    for promise in records.held():
        if promise["number"] in at_risk or promise["state"] != "planned":
            continue
        press = records.all("SELECT code FROM press WHERE id = ?", promise["press"])[0]["code"]
        times = " ".join(f"{key}={datetime.datetime.fromtimestamp(promise[column], datetime.timezone.utc):%Y-%m-%dT%H:%MZ}"
                         for key, column in (("from", "starts"), ("until", "ends")))  # fmt: skip
        assert console.ask(f"check {promise['number']} press={press} {times}")["verdict"] != "short"
        seen["sound"] += 1


@pytest.mark.parametrize("seed", range(SEED, SEED + SHOPS))
def test_promises__whatever_happens__hold_and_are_judged(tmp_path, seed):
    draw = random.Random(seed)
    shop = Shop(draw, tmp_path)
    console = Console(tmp_path)
    records = Records(tmp_path)
    seen = collections.Counter()
    lines = []
    for step in range(STEPS):
        line = drawn_line(draw, shop, records)
        lines.append(line)
        try:
            answer, risks = console.type(line)
            if line.startswith("book ") and answer is not None:
                seen["booked"] += answer["booked"]
                seen["moves"] += len(answer["moves"])
            look(shop, console, records, risks, seen)
        except Exception:
            print("\n".join(lines))
            raise
        if step % 9 == 0:
            assert console.ask("verify")["whole"] is True
    console.close()
    SEEN.update(seen)


def test_promises__of_all_shops__enough_was_seen():
    """A test in which nothing happens proves nothing."""
    assert all(SEEN[what] >= SHOPS * each for what, each in LEAST.items()), SEEN

"""A scarce month, drawn from a seed, all figures invented: the shop on which `ahead` is measured.

    python3 ahead_shop.py FOLDER [jobs=500] [seed=1] [weeks=4] [presses=6] [at_work=12]     CSV files, and shop.db made of them by the program

Four weeks, 500 jobs of 4 to 8 stations, 6 presses, 2,000 rolls, 4,000 cylinders; a shop with more jobs a week has more such halls. Labels come in families that share a repeat, and inks in palettes; a few families are in work at a time, on several presses at
once, as when a brand brings out all its labels in one week. Two to four tools would do for a need, and what would do for one need is never quite
what would do for the next: windows of build-up, of screen and volume, and of the die's size overlap in part, a wide tool serves a narrow
label, and the presses take two sorts of bearing. Every job could run if it were alone.

Lengths are whole micrometres in here.
"""

import bisect
import dataclasses
import datetime
import math
import os
import pathlib
import random
import subprocess
import sys

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
NOW = "2026-12-07T00:00:00Z"
MONDAY = 1796601600  # the same, in seconds
HOUR, DAY = 3600, 86400
# Work from 06:00 to 22:00, six days a week.
OPENS, CLOSES, WORK_DAYS = 6 * HOUR, 22 * HOUR, 6
GRID = 900
TURNAROUND = HOUR
PITCH = 3175
PLATES = (1140, 1700, 2540, 2840)
# Limits, as check.md has them by default; the tolerance of volume stands in each station, in percent, and `set` changes the blade's.
BUILDUP, DIE_MATCH, VOLUME_TOLERANCE, BLADE_MATCH = 25, 50, 4, 2400
# To one shop of the issue: what 500 jobs in four weeks have.
FULL = {"cylinder": 4000, "anilox": 2000, "blade": 110, "family": 110, "palette": 110}
FEWEST, MOST = 2, 4


@dataclasses.dataclass(eq=False)
class Tool:
    """What matters of a tool; `size` is what its window is about: the undercut, the volume in hundredths, the width of the die's label."""
    tag: str
    fit: tuple
    face: int
    size: int = 0
    teeth: int = 0
    more: object = None  # drive and bore of a cylinder, bore of a gear, screen of a roll; around, build and family of a die
    away: tuple = ()     # ("supplier", back) or ("hold", reason)

    def there(self, start):
        return not self.away or (self.away[0] == "supplier" and self.away[1] <= start)


@dataclasses.dataclass(eq=False)
class Family:
    teeth: int
    around: int
    across: int
    label: int
    build: int
    plate: int
    palettes: tuple
    dies: list = dataclasses.field(default_factory=list)


@dataclasses.dataclass(eq=False)
class Job:
    number: str
    presses: list
    start: int
    end: int
    hall: object
    press: int  # of `presses`, the one that it was drawn for
    family: Family
    label: int = 0
    stations: list = dataclasses.field(default_factory=list)


class Hall:
    """Up to six presses and the tools made for their journals; one tool in ten fits the next hall's too."""

    def __init__(self, at, presses):
        self.at, self.presses, self.scale = at, presses, len(presses) / 6
        self.families, self.palettes, self.rolls, self.blades = [], [], [], {}
        self.by_teeth = {kind: {} for kind in ("cylinder", "gear", "magnetic_cylinder")}
        self.at_work = []

    def count(self, kind):
        return max(4, round(FULL[kind] * self.scale))

    def words(self, *sizes):
        return tuple(f"{size}h{self.at}" for size in sizes)

    def fit_of(self, press):
        return self.words(*(("j35",), ("j40",), ("j35", "j40"))[press % 3])


class Month:
    """The whole shop: halls with their families and palettes, tools by kind, jobs."""

    def __init__(self, jobs, seed, weeks=4, presses=None, at_work=12):
        self.rng = random.Random(seed)
        self.weeks, self.at_work = weeks, at_work
        self.presses = presses or max(2, round(6 * jobs * 4 / (500 * weeks)))
        self.tools = {kind: [] for kind in ("cylinder", "gear", "anilox", "blade", "die", "magnetic_cylinder")}
        self.halls = [Hall(at, range(6 * at + 1, min(6 * at + 6, self.presses) + 1)) for at in range(-(-self.presses // 6))]
        for hall in self.halls:
            self.draw_families(hall)
            self.draw_cylinders(hall)
            self.draw_rolls(hall)
            self.draw_dies(hall)
        for hall in self.halls:
            hall.rolls.sort(key=lambda roll: roll.more)
            hall.screens = [roll.more for roll in hall.rolls]
        self.jobs = []
        self.draw_jobs(jobs)

    # -- the shelf ------------------------------------------------------------------------------

    def fit(self, hall):
        """Words of a tool's fit, and the halls in which it fits."""
        fit = hall.words(*self.rng.choice((("j35",), ("j35",), ("j40",), ("j40",), ("j35", "j40"))))
        if len(self.halls) > 1 and self.rng.random() < 0.1:
            other = self.halls[(hall.at + 1) % len(self.halls)]
            return fit + other.words(self.rng.choice(("j35", "j40"))), [hall, other]
        return fit, [hall]

    def away(self):
        """A few are on hold, or away and due back within the month."""
        draw = self.rng.random()
        if draw < 0.01:
            return ("hold", "scored band")
        if draw < 0.04:
            return ("supplier", MONDAY + self.rng.randrange(self.weeks * 7) * DAY + 12 * HOUR)
        return ()

    def add(self, hall, kind, letter, **known):
        fit, halls = self.fit(hall)
        tool = Tool(tag=f"{letter}{len(self.tools[kind]) + 1}", fit=fit, away=self.away(), **known)
        self.tools[kind].append(tool)
        for one in halls:
            if kind in one.by_teeth:
                one.by_teeth[kind].setdefault(tool.teeth, []).append(tool)
            elif kind == "anilox":
                one.rolls.append(tool)
            elif kind == "blade":
                one.blades.setdefault(tool.size // 1000, []).append(tool)
        return tool

    def draw_families(self, hall):
        rng, palettes = self.rng, hall.count("palette")
        for _ in range(hall.count("family")):
            around = rng.choice((2, 3, 4))
            teeth = around * rng.randint(-(-64 // around), 128 // around)
            across = rng.choice((2, 3, 4))
            plate = rng.choice(PLATES)
            printed = rng.randrange(200, 340) * 1000
            hall.families.append(Family(teeth, around, across, (printed - (across - 1) * 3000) // across // 10 * 10,
                                        plate + rng.randrange(200, 300), plate, tuple(rng.sample(range(palettes), 2))))

    def draw_cylinders(self, hall):
        rng = self.rng
        bores = [300 + 50 * at + hall.at for at in range(3)]
        for at in range(hall.count("cylinder")):
            family = hall.families[at % len(hall.families)]
            drive, bore = rng.choice(("geared", "geared", "demountable")), rng.choice(bores)
            self.add(hall, "cylinder", "K", face=width_of(family) + rng.choice((-8, 4, 4, 10, 25)) * 1000,
                     size=family.build + rng.randrange(0, 280), teeth=family.teeth, more=(drive, bore))
        for teeth, cylinders in sorted(hall.by_teeth["cylinder"].items()):
            for bore in bores:
                loose = sum(tool.more == ("demountable", bore) for tool in cylinders)
                for _ in range(min(MOST, max(1, loose // 3))):
                    self.add(hall, "gear", "G", face=0, teeth=teeth, more=bore)

    def draw_rolls(self, hall):
        rng, palettes = self.rng, hall.count("palette")
        centres = [(rng.randrange(80, 400), rng.randrange(200, 1200)) for _ in range(palettes)]
        hall.palettes = [[] for _ in range(palettes)]
        for at in range(hall.count("anilox")):
            screen, volume = centres[at % palettes]
            hall.palettes[at % palettes].append(
                self.add(hall, "anilox", "A", face=rng.randrange(330, 450) * 1000, size=round(volume * rng.uniform(0.85, 1.15)),
                         more=round(screen * rng.uniform(0.9, 1.1))))
        for _ in range(hall.count("blade")):
            self.add(hall, "blade", "B", face=0, size=rng.randrange(327, 453) * 1000)

    def draw_dies(self, hall):
        rng, carried = self.rng, set()
        for family in hall.families:
            for _ in range(7):
                around = max(2, family.around + rng.choice((0, 0, 1)))
                build = rng.choice(("flexible", "flexible", "solid"))
                die = self.add(hall, "die", "D", face=width_of(family) + rng.choice((1, 5)) * 1000, size=family.label + rng.randrange(0, 16) * 10,
                               teeth=family.teeth // family.around * around, more=(around, build, family))
                family.dies.append(die)
                if build == "flexible":
                    carried.add(die.teeth)
        for teeth in sorted(carried):
            for _ in range(3):
                self.add(hall, "magnetic_cylinder", "M", face=rng.choice((330, 345, 400)) * 1000, teeth=teeth)

    # -- the jobs -------------------------------------------------------------------------------

    def slots(self, jobs):
        """(start, end, press) of so many jobs, press by press and day by day, in order of time."""
        rng, days = self.rng, [week * 7 + day for week in range(self.weeks) for day in range(WORK_DAYS)]
        cells, found = [(day, press) for day in days for press in range(1, self.presses + 1)], []
        for at, (day, press) in enumerate(cells):
            count = jobs * (at + 1) // len(cells) - jobs * at // len(cells)
            if count == 0:
                continue
            steps = (CLOSES - OPENS) // GRID
            cuts = sorted(rng.sample(range(5, steps - 4, 5), count - 1)) if count > 1 else []
            for low, high in zip([0] + cuts, cuts + [steps]):
                start = MONDAY + day * DAY + OPENS + low * GRID
                end = MONDAY + day * DAY + OPENS + high * GRID - rng.choice((0, 1, 1, 2)) * GRID
                found.append((start, min(end, start + 7 * HOUR), press))
        return sorted(found)

    def draw_jobs(self, count):
        """Families take turns; so many a hall of six presses are in work at a time: the fewer, the scarcer."""
        rng = self.rng
        for at, (start, end, press) in enumerate(self.slots(count)):
            hall = self.halls[(press - 1) // 6]
            while len(hall.at_work) < max(2, round(self.at_work * hall.scale)):
                hall.at_work.append([rng.choice(hall.families), rng.randint(6, 16)])
            chosen = rng.choice(hall.at_work)
            chosen[1] -= 1
            if chosen[1] == 0:
                hall.at_work.remove(chosen)
            if rng.random() < 0.01:
                start -= 2 * GRID  # two jobs on one press, now and then
            presses = [press] if rng.random() < 0.9 else sorted({press, rng.choice(hall.presses)})
            self.jobs.append(self.draw_job(Job(f"J{at + 1}", presses, start, end, hall, press, chosen[0])))

    def draw_job(self, job):
        count = self.rng.randint(4, 8)
        while True:
            job.label, job.stations = job.family.label + self.rng.randrange(0, 16) * 10, []
            dies = [die for die in job.family.dies if self.die_suits(die, job, job.press)]
            if FEWEST <= len(dies) <= MOST and self.draw_stations(job, dies, count):
                return job
            if self.rng.random() < 0.02:
                job.family = self.rng.choice(job.hall.families)

    def draw_stations(self, job, dies, count):
        """Stations, each with two to four tools that would do; false where the job could not run though alone."""
        press = job.press
        needs = [[(die, self.magnets_of(die, press, job)) for die in dies]]
        for number in range(1, count + 1):
            for _ in range(20):
                build = job.family.build + self.rng.randrange(10, 270)
                cylinders = [tool for tool in job.hall.by_teeth["cylinder"].get(job.family.teeth, ()) if self.cylinder_suits(tool, job, press, build)]
                if FEWEST <= len(cylinders) <= MOST:
                    break
            else:
                return False
            palette = job.family.palettes[self.rng.random() < 0.35]
            for _ in range(20):
                rolls, asked = self.rolls_of(palette, job, press)
                if FEWEST <= len(rolls) <= MOST:
                    break
            else:
                return False
            job.stations.append((number, build, asked))
            needs.append([(tool, self.gears_of(tool, job)) for tool in cylinders])
            needs.append([(tool, self.blades_of(tool, job, press)) for tool in rolls])
        return can_run(needs)

    # -- what would do --------------------------------------------------------------------------

    def cylinder_suits(self, tool, job, press, build):
        return (tool.there(job.start) and abs(build - tool.size) <= BUILDUP - 1 and tool.face >= printed_width(job)
                and bool(set(tool.fit) & set(job.hall.fit_of(press))))

    def gears_of(self, cylinder, job):
        if cylinder.more[0] == "geared":
            return None
        return [gear for gear in job.hall.by_teeth["gear"].get(cylinder.teeth, ()) if gear.more == cylinder.more[1] and gear.there(job.start)]

    def rolls_of(self, palette, job, press):
        """The rolls of a window around one of the palette, and the window: screens and volume asked."""
        middle = self.rng.choice(job.hall.palettes[palette])
        low, high = middle.more - self.rng.randrange(2, 12), middle.more + self.rng.randrange(2, 12)
        volume = round(middle.size * self.rng.uniform(0.92, 1.08))
        least, fits = printed_width(job), set(job.hall.fit_of(press))
        within = job.hall.rolls[bisect.bisect_left(job.hall.screens, low):bisect.bisect_right(job.hall.screens, high)]
        return [roll for roll in within if 100 * abs(roll.size - volume) <= VOLUME_TOLERANCE * volume
                and roll.face >= least and roll.there(job.start) and fits & set(roll.fit)], (low, high, volume)

    def blades_of(self, roll, job, press):
        around = range((roll.face - BLADE_MATCH) // 1000, (roll.face + BLADE_MATCH) // 1000 + 1)
        return [blade for length in around for blade in job.hall.blades.get(length, ())
                if set(blade.fit) & set(job.hall.fit_of(press)) and blade.there(job.start)]

    def die_suits(self, die, job, press):
        return (abs(die.size - job.label) <= DIE_MATCH and die.there(job.start) and die.face >= printed_width(job)
                and bool(set(die.fit) & set(job.hall.fit_of(press))))

    def magnets_of(self, die, press, job):
        if die.more[1] == "solid":
            return None
        return [tool for tool in job.hall.by_teeth["magnetic_cylinder"].get(die.teeth, ())
                if tool.face >= die.face and set(tool.fit) & set(job.hall.fit_of(press)) and tool.there(job.start)]

    # -- as CSV ---------------------------------------------------------------------------------

    def rows(self):
        """Heading and rows by kind, in the order in which they come in."""
        tools = {kind: (COMMON + "," + heading, [row(tool) for tool in self.tools[kind]]) for kind, (heading, row) in TOOL_ROWS.items()}
        return {
            "place": ("code,name,sort", ["R1,rack,store", "AWAY,grinder,supplier"]),
            "press": ("code,drive,web,repeat_min,repeat_max,pitches,stations,die_stations,fit,speed",
                      [f'P{at},geared,430mm,150mm,700mm,1/8cp,8,3,"{",".join(self.halls[(at - 1) // 6].fit_of(at))}",100m/min' for at in range(1, self.presses + 1)]),
            "job": ("number,press,from,until,quantity,label_across,label_around,corner,shape,number_across,gap_across,gap_around_min,"
                    "gap_around_max,trim,web,liner_caliper,teeth,pitch,number_around", [job_row(job) for job in self.jobs]),
            **tools,
            "station": ("job,station,ink,process,plate,base,tape,plates,screen_min,screen_max,volume,volume_tolerance",
                        [station_row(job, *station) for job in self.jobs for station in job.stations]),
        }


def width_of(family):
    return family.across * (family.label + 150) + (family.across - 1) * 3000


def printed_width(job):
    return job.family.across * job.label + (job.family.across - 1) * 3000


def can_run(needs):
    """Could every need have a tool, and what goes with it, each used once? By trying, but not for ever: false where it takes too long."""
    used, steps = set(), 0

    def extend(at):
        nonlocal steps
        steps += 1
        if at == len(order) or steps > 3000:
            return steps <= 3000
        for tool, beside in order[at]:
            if tool in used:
                continue
            used.add(tool)
            for part in (None,) if beside is None else beside:
                if part not in used:
                    used.add(part)
                    if extend(at + 1):
                        return True
                    used.discard(part)
                used.discard(None)
            used.discard(tool)
        return False

    order = sorted(needs, key=len)
    return extend(0)


def moment(seconds):
    return datetime.datetime.fromtimestamp(seconds, datetime.timezone.utc).strftime("%Y-%m-%dT%H:%MZ")


def mm(value):
    return f"{value / 1000:.3f}mm"


COMMON = "other_tag,fit,place,back,condition,note"


def common(tool):
    sort, what = tool.away or ("", "")
    place, back = ("AWAY", moment(what)) if sort == "supplier" else ("R1", "")
    condition, note = ("hold", what) if sort == "hold" else ("ready", "")
    return f'{tool.tag},"{",".join(tool.fit)}",{place},{back},{condition},{note}'


def cylinder_row(tool):
    drive, bore = tool.more
    diameter = tool.teeth * PITCH / math.pi - 2 * tool.size
    return f"{common(tool)},{mm(tool.face)},{tool.teeth},1/8cp,{drive},{diameter / 1000:.3f}mm,0.005mm,{bore / 10}mm,{tool.teeth * 1000}m"


def die_row(tool):
    around, build, family = tool.more
    gap = "0.48mm" if build == "flexible" else ""
    return (f"{common(tool)},{mm(tool.face)},{build},kiss,{tool.teeth},1/8cp,{family.across},{around},{mm(tool.size)},{mm(label_around(family))},"
            f"3mm,2mm,rectangle,0.06mm,{gap},5000000")


TOOL_ROWS = {
    "cylinder": ("face,teeth,pitch,drive,diameter,runout,bore,run", cylinder_row),
    "gear": ("teeth,pitch,bore,run", lambda tool: f"{common(tool)},{tool.teeth},1/8cp,{tool.more / 10}mm,{tool.teeth * 1000}m"),
    "anilox": ("face,line_screen,volume,engraved",
               lambda tool: f"{common(tool)},{mm(tool.face)},{tool.more}/cm,{tool.size / 100:.2f}cm3/m2,2026-01-01"),
    "blade": ("length,life,run", lambda tool: f"{common(tool)},{mm(tool.size)},500000m,0m"),
    "die": ("face,build,cut,teeth,pitch,number_across,number_around,label_across,label_around,gap_across,corner,shape,liner_caliper,die_gap,life",
            die_row),
    "magnetic_cylinder": ("face,teeth,pitch,die_gap", lambda tool: f"{common(tool)},{mm(tool.face)},{tool.teeth},1/8cp,0.48mm"),
}


def label_around(family):
    return family.teeth // family.around * PITCH - 3000


def job_row(job):
    family = job.family
    web = printed_width(job) + 10000
    presses = ",".join(f"P{at}" for at in job.presses)
    return (f'{job.number},"{presses}",{moment(job.start)},{moment(job.end)},20000,{mm(job.label)},{mm(label_around(family))},2mm,rectangle,'
            f"{family.across},3mm,2mm,4mm,5mm,{mm(web)},0.06mm,{family.teeth},1/8cp,{family.around}")


def station_row(job, number, build, asked):
    low, high, volume = asked
    plate = job.family.plate
    return (f"{job.number},{number},ink {number},flexo,{mm(plate)},0.127mm,{mm(build - plate)},ready,{low}/cm,{high}/cm,"
            f"{volume / 100:.2f}cm3/m2,{VOLUME_TOLERANCE}%")


def environment(folder):
    return dict(os.environ, TZ="UTC", TOOTHRACK_NOW=NOW, HOME=str(folder))


def run(folder, *words):
    return subprocess.run([str(PROGRAM), "--db", str(folder / "shop.db"), *map(str, words)], env=environment(folder), capture_output=True,
                          encoding="utf-8", check=False)


def make(folder, month):
    """The month as CSV in the folder, and shop.db, into which the program has taken it."""
    folder.mkdir(parents=True, exist_ok=True)
    assert not (folder / "shop.db").exists(), f"there is a shop in {folder} already"
    rows = month.rows()
    for kind, (heading, lines) in rows.items():
        (folder / f"{kind}.csv").write_text("\n".join([heading, *lines]) + "\n", encoding="utf-8")
    for words in [("import", kind, folder / f"{kind}.csv") for kind in rows] + [("set", "blade_length_match", mm(BLADE_MATCH))]:
        done = run(folder, *words)
        assert done.returncode == 0, done.stderr


def main(words):
    if not words or any("=" not in word for word in words[1:]):
        print("draws a scarce month: python3 ahead_shop.py FOLDER [jobs=500] [seed=1] [weeks=4] [presses=6] [at_work=12]")
        return
    known = {"jobs": 500, "seed": 1}
    known.update((key, int(value)) for key, value in (word.split("=") for word in words[1:]))
    make(pathlib.Path(words[0]), Month(**known))
    print(f"TOOTHRACK_NOW={NOW} {PROGRAM} --db {words[0]}/shop.db ahead days={7 * known.get('weeks', 4)}")


if __name__ == "__main__":
    main(sys.argv[1:])

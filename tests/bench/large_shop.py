"""A shop larger than any plant's, drawn from a fixed seed, all figures invented: as CSV by the vocabulary, and a long ledger.

100,000 tools, 2,000 places, 20 presses, 1,000,000 ledger entries. `scale` draws a smaller one of the same build: 0.01 is a shop of 1,000
tools. A larger shop has more repeats, more screens and volumes, more widths of labels; what it has of any one of them is the same: some
340 plate cylinders of a repeat, eight rolls of a screen and volume.
"""

import hashlib
import os
import pathlib
import random
import sqlite3
import subprocess

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
NOW = "2026-12-01T08:00:00Z"
NOW_SECONDS = 1796112000
PITCH_MM = 3.175
JOB_TEETH = 96
LEAST_TEETH, REPEATS = 48, 200
SHARES = {"cylinder": 68000, "gear": 9000, "anilox": 6400, "blade": 1000, "die": 15100, "magnetic_cylinder": 500}
FACES = (250, 330, 410, 520)
ROLLS_A_CLASS, SCREENS = 8, 40
NAMES = ("oat biscuits", "rose hip tea", "pear vinegar", "birch soap", "plum jam", "sea salt", "ginger ale", "wheat beer")


def count_of(kind, scale):
    return max(4, round(SHARES[kind] * scale))


def places(scale):
    racks = max(2, round(100 * scale))
    rows = [f"R{rack},rack R{rack},,store" for rack in range(racks)]
    rows += [f"R{rack}-{bay},bay {bay},R{rack},store" for rack in range(racks) for bay in range(1, 20)]
    return rows + ["WASH,wash,,wash", "GRIND,grinder,,supplier"]


def shelf(rng, scale):
    return f"R{rng.randrange(max(2, round(100 * scale)))}-{rng.randrange(1, 20)}"


def teeth_of(at, scale):
    """The repeats of a shop in turn, the jobs' own among them."""
    repeats = max(2, round(REPEATS * scale))
    return LEAST_TEETH + (JOB_TEETH - LEAST_TEETH + at % repeats) % REPEATS


def class_of(at, scale):
    """Screen per cm and volume of a class of rolls: every screen in turn, then the next volume."""
    classes = max(8, round(SHARES["anilox"] / ROLLS_A_CLASS * scale))
    chosen = at % classes * (SHARES["anilox"] // ROLLS_A_CLASS // classes)
    return 80 + 10 * (chosen % SCREENS), 3 + 0.6 * (chosen // SCREENS)


def cylinders(rng, scale):
    for at in range(count_of("cylinder", scale)):
        teeth = teeth_of(at, scale)
        drive = rng.choice(("geared", "demountable"))
        diameter = teeth * PITCH_MM / 3.14159265358979 - 4.166 + rng.uniform(-0.04, 0.04)
        yield (f"K{at},{rng.choice(NAMES)},{shelf(rng, scale)},{rng.choice(FACES)}mm,{teeth},1/8cp,{drive},{diameter:.4f}mm,0.005mm,"
               f"{rng.randint(0, 900000)}m")


def rolls(rng, scale):
    for at in range(count_of("anilox", scale)):
        screen, volume = class_of(at, scale)
        yield (f"A{at},{shelf(rng, scale)},{rng.choice(FACES)}mm,{screen + rng.randint(-3, 3)}/cm,"
               f"{volume * rng.uniform(0.97, 1.03):.2f}cm3/m2,2026-01-01")


def dies(rng, scale):
    widths = max(2, round(150 * scale))
    for at in range(count_of("die", scale)):
        around = rng.choice((2, 3, 4))
        teeth = JOB_TEETH // 4 * around
        yield (f"D{at},{shelf(rng, scale)},{rng.choice(FACES[1:])}mm,flexible,kiss,{teeth},1/8cp,3,{around},{100 + at % widths}mm,"
               f"{rng.choice((73, 60, 50, 36))}mm,3mm,2mm,rectangle,0.06mm,0.48mm,1000000")


def rows_of_tools(rng, scale):
    """Heading and rows by kind, tools only."""
    return {
        "cylinder": ("other_tag,name,place,face,teeth,pitch,drive,diameter,runout,run", list(cylinders(rng, scale))),
        "gear": ("other_tag,place,teeth,pitch,run",
                 [f"G{at},{shelf(rng, scale)},{teeth_of(at, scale)},1/8cp,{rng.randint(0, 900000)}m"
                  for at in range(count_of("gear", scale))]),
        "anilox": ("other_tag,place,face,line_screen,volume,engraved", list(rolls(rng, scale))),
        "blade": ("other_tag,place,length,life,run",
                  [f"B{at},{shelf(rng, scale)},{rng.choice(FACES) + rng.randint(0, 8)}mm,500000m,{rng.randint(0, 90000)}m"
                   for at in range(count_of("blade", scale))]),
        "die": ("other_tag,place,face,build,cut,teeth,pitch,number_across,number_around,label_across,label_around,gap_across,"
                "corner,shape,liner_caliper,die_gap,life", list(dies(rng, scale))),
        "magnetic_cylinder": ("other_tag,place,face,teeth,pitch,die_gap",
                              [f"M{at},{shelf(rng, scale)},{rng.choice(FACES[1:]) + 10}mm,{teeth_of(at, scale)},1/8cp,0.48mm"
                               for at in range(count_of("magnetic_cylinder", scale))]),
    }


def stations_of(job, scale):
    return [(at, class_of(8 * job + at, scale)) for at in range(1, 9)]


def rows_of_jobs(scale):
    label = "100000,100mm,73mm,2mm,rectangle,3,3mm,2mm,4mm,5mm,330mm,0.06mm"
    jobs = [f"J{at},P{1 + at % 2},{label},96,1/8cp,4" for at in range(max(2, round(1000 * scale)))]
    stations = [f"J{job},{at},ink {at},flexo,1.702mm,0.127mm,0.381mm,ready,{screen - 5}/cm,{screen + 5}/cm,{volume:.1f}cm3/m2"
                for job in range(len(jobs)) for at, (screen, volume) in stations_of(job, scale)]
    return {
        "press": ("code,drive,web,repeat_min,repeat_max,pitches,stations,die_stations",
                  [f"P{at},{'servo' if at % 2 == 0 else 'geared'},340mm,150mm,700mm,1/8cp,8,3" for at in range(1, 21)]),
        "job": ("number,press,quantity,label_across,label_around,corner,shape,number_across,gap_across,gap_around_min,"
                "gap_around_max,trim,web,liner_caliper,teeth,pitch,number_around", jobs),
        "station": ("job,station,ink,process,plate,base,tape,plates,screen_min,screen_max,volume", stations),
    }


def rows_of_shop(scale, seed=7):
    """Heading and rows by kind, in the order in which they come in."""
    rng = random.Random(seed)
    others = rows_of_jobs(scale)
    shop = {"place": ("code,name,within,sort", places(scale)), "press": others["press"], "job": others["job"]}
    shop.update(rows_of_tools(rng, scale))
    shop["station"] = others["station"]
    count = count_of("anilox", scale)
    shop["reading"] = ("tool,moment,volume,after",
                       [f"A{at},2026-{month:02}-{1 + at % 28:02}T10:00:00Z,{class_of(at, scale)[1] * (1 - 0.01 * month) * rng.uniform(0.98, 1.02):.2f}"
                        "cm3/m2,clean" for month in range(3, 7) for at in range(count)])
    return shop


def environment(folder):
    return dict(os.environ, TZ="UTC", TOOTHRACK_NOW=NOW, HOME=str(folder))


def run(folder, *words, stdin=None):
    return subprocess.run([str(PROGRAM), "--db", str(folder / "shop.db"), *map(str, words)], env=environment(folder),
                          capture_output=True, encoding="utf-8", check=False, input=stdin)


def write_files(folder, scale):
    for kind, (heading, rows) in rows_of_shop(scale).items():
        (folder / f"{kind}.csv").write_text("\n".join([heading, *rows]) + "\n", encoding="utf-8")


def field(value):
    """A field of the byte form of an entry: DEVELOPERS.md, "The ledger's hash"."""
    if value is None:
        return b"-"
    text = str(value).encode()
    return b"%d:%s," % (len(text), text)


def hash_of(before, entry):
    """SHA-256 of an entry: number, word, kind, subject, operator, login, terminal, from, to, job, happened, recorded, detail."""
    return hashlib.sha256(before + b"".join(field(value) for value in entry)).digest()


def lengthen_ledger(path, entries, seed=8):
    """Moves tools about until the ledger has so many entries, with a chain that holds and whereabouts that agree."""
    rng = random.Random(seed)
    store = sqlite3.connect(path)
    store.executescript("PRAGMA synchronous = OFF; PRAGMA cache_size = -200000;")
    number, recorded, before = store.execute("SELECT number, recorded, hash FROM ledger ORDER BY number DESC LIMIT 1").fetchone()
    tools = [[row[0], row[1], row[2]] for row in store.execute("SELECT id, kind, place FROM tool")]
    targets = [row[0] for row in store.execute("SELECT id FROM place WHERE sort = 'store' AND within IS NOT NULL")]
    rows = []
    for at in range(entries - number):
        tool = rng.choice(tools)
        target = rng.choice(targets)
        moment = recorded + at // 4
        entry = (number + at + 1, "put", tool[1], tool[0], 0, "clerk", "pts/1", tool[2] or 0, target, 0, moment, moment, None)
        before = hash_of(before, entry)
        rows.append((entry[0], "put", tool[1], tool[0], "clerk", "pts/1", tool[2], target, moment, moment, before))
        tool[2] = target
    with store:
        store.executemany("INSERT INTO ledger (number, word, subject_kind, subject, login, terminal, from_place, to_place, happened,"
                          " recorded, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", rows)
        store.executemany("UPDATE tool SET place = ? WHERE id = ?", [(place, id) for id, _, place in tools])
    store.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    store.close()


def make(folder, scale, entries):
    """The shop's file in the folder, imported by the program; the ledger then grows to so many entries."""
    folder.mkdir(parents=True, exist_ok=True)
    write_files(folder, scale)
    for kind in rows_of_shop(scale):
        done = run(folder, "import", kind, folder / f"{kind}.csv")
        assert done.returncode == 0, done.stderr
    if entries:
        lengthen_ledger(folder / "shop.db", entries)

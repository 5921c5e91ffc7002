"""A shop larger than any plant's, drawn from a fixed seed, all figures invented: as CSV by the vocabulary, and a long ledger.

100,000 tools (of any one repeat some hundreds of plate cylinders), 2,000 places, 20 presses, 1,000,000 ledger entries. `scale` draws a
smaller one of the same build: 0.01 is a shop of 1,000 tools.
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
LEAST_TEETH, MOST_TEETH = 48, 247
SHARES = {"cylinder": 64000, "gear": 8000, "anilox": 6000, "blade": 8000, "die": 12000, "magnetic_cylinder": 2000}
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


def cylinders(rng, scale):
    for at in range(count_of("cylinder", scale)):
        teeth = LEAST_TEETH + at % (MOST_TEETH - LEAST_TEETH + 1)
        drive = rng.choice(("geared", "demountable"))
        diameter = teeth * PITCH_MM / 3.14159265358979 - 4.166 + rng.uniform(-0.04, 0.04)
        face = rng.choice((250, 330, 410, 520))
        yield (f"K{at},{rng.choice(NAMES)},{shelf(rng, scale)},{face}mm,{teeth},1/8cp,{drive},{diameter:.4f}mm,0.005mm,"
               f"{rng.randint(0, 900000)}m")


def dies(rng, scale):
    for at in range(count_of("die", scale)):
        teeth = 24 * rng.randint(2, 10)
        across, around = rng.randint(20, 160), rng.choice((73, 60, 50, 36))
        yield (f"D{at},{shelf(rng, scale)},{rng.choice((330, 410, 520))}mm,flexible,kiss,{teeth},1/8cp,3,{teeth // 24},{across}mm,"
               f"{around}mm,3mm,2mm,rectangle,0.06mm,0.48mm,1000000")


def rows_of_tools(rng, scale):
    """Heading and rows by kind, tools only."""
    return {
        "cylinder": ("other_tag,name,place,face,teeth,pitch,drive,diameter,runout,run", list(cylinders(rng, scale))),
        "gear": ("other_tag,place,teeth,pitch,run",
                 [f"G{at},{shelf(rng, scale)},{rng.randint(LEAST_TEETH, MOST_TEETH)},1/8cp,{rng.randint(0, 900000)}m"
                  for at in range(count_of("gear", scale))]),
        "anilox": ("other_tag,place,face,line_screen,volume,engraved",
                   [f"A{at},{shelf(rng, scale)},{rng.choice((250, 330, 410, 520))}mm,{rng.randint(70, 470)}/cm,"
                    f"{rng.uniform(2, 16):.2f}cm3/m2,2026-01-01" for at in range(count_of("anilox", scale))]),
        "blade": ("other_tag,place,length,life,run",
                  [f"B{at},{shelf(rng, scale)},{rng.randint(240, 530)}mm,500000m,{rng.randint(0, 90000)}m"
                   for at in range(count_of("blade", scale))]),
        "die": ("other_tag,place,face,build,cut,teeth,pitch,number_across,number_around,label_across,label_around,gap_across,"
                "corner,shape,liner_caliper,die_gap,life", list(dies(rng, scale))),
        "magnetic_cylinder": ("other_tag,place,face,teeth,pitch,die_gap",
                              [f"M{at},{shelf(rng, scale)},{rng.choice((340, 420, 530))}mm,{24 * rng.randint(2, 10)},1/8cp,0.48mm"
                               for at in range(count_of("magnetic_cylinder", scale))]),
    }


def rows_of_jobs(rng, scale):
    label = "100000,100mm,73mm,2mm,rectangle,3,3mm,2mm,4mm,5mm,330mm,0.06mm"
    jobs = [f"J{at},P{1 + at % 2},{label},96,1/8cp,4" for at in range(max(2, round(1000 * scale)))]
    stations = [f"J{job},{at},ink {at},flexo,1.702mm,0.127mm,0.381mm,ready,{100 + 30 * at}/cm,{140 + 30 * at}/cm,"
                f"{rng.uniform(3, 9):.1f}cm3/m2" for job in range(len(jobs)) for at in range(1, 9)]
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
    others = rows_of_jobs(rng, scale)
    shop = {"place": ("code,name,within,sort", places(scale)), "press": others["press"], "job": others["job"]}
    shop.update(rows_of_tools(rng, scale))
    shop["station"] = others["station"]
    rolls = count_of("anilox", scale)
    shop["reading"] = ("tool,moment,volume,after",
                       [f"A{at % rolls},2026-{3 + at // rolls % 8:02}-{1 + at % 28:02}T10:00:00Z,{rng.uniform(2, 16):.2f}cm3/m2,clean"
                        for at in range(rolls * 4)])
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

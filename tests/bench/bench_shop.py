"""How long a large shop takes to come in, and its answers: the median of five, in milliseconds.

    make bench

The shop is drawn from a fixed seed, all figures invented: 5000 plate cylinders, 400 gears, 2000 anilox rolls, 20000 readings, 800 blade
assemblies, 1500 dies, 100 magnetic cylinders, two presses, a repeat order and a new job of eight stations. A program's start is in every figure.
"""

import os
import pathlib
import random
import statistics
import subprocess
import tempfile
import time

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
TIMES = 5
TEETH = range(60, 200)


def rows_of_tools(rng):
    """Heading and rows by kind, tools only."""
    cylinders, gears, dies, magnetic = [], [], [], []
    for at in range(5000):
        teeth = rng.choice(TEETH)
        drive = rng.choice(("geared", "demountable"))
        diameter = teeth * 3.175 / 3.14159265358979 - 4.166 + rng.uniform(-0.04, 0.04)
        cylinders.append(f"K{at},R{at % 50},330mm,{teeth},1/8cp,{drive},{diameter:.4f}mm,0.005mm,{rng.randint(0, 900000)}m")
    for at in range(400):
        gears.append(f"G{at},R{at % 50},{rng.choice(TEETH)},1/8cp,{rng.randint(0, 900000)}m")
    for at in range(1500):
        teeth = rng.choice((72, 96, 120, 144))
        label = rng.choice((73, 60, 50))
        dies.append(f"D{at},R{at % 50},330mm,flexible,kiss,{teeth},1/8cp,3,{teeth // 24},100mm,{label}mm,3mm,2mm,rectangle,"
                    "0.06mm,0.48mm,1000000")
    for at in range(100):
        magnetic.append(f"M{at},R{at % 50},340mm,{rng.choice((72, 96, 120, 144))},1/8cp,0.48mm")
    rolls = [f"A{at},R{at % 50},330mm,{rng.choice((100, 140, 200, 315))}/cm,{rng.uniform(2, 12):.2f}cm3/m2,2026-01-01"
             for at in range(2000)]
    blades = [f"B{at},R{at % 50},{rng.randint(322, 342)}mm,500000m,{rng.randint(0, 90000)}m" for at in range(800)]
    return {
        "cylinder": ("other_tag,place,face,teeth,pitch,drive,diameter,runout,run", cylinders),
        "gear": ("other_tag,place,teeth,pitch,run", gears),
        "anilox": ("other_tag,place,face,line_screen,volume,engraved", rolls),
        "blade": ("other_tag,place,length,life,run", blades),
        "die": ("other_tag,place,face,build,cut,teeth,pitch,number_across,number_around,label_across,label_around,gap_across,"
                "corner,shape,liner_caliper,die_gap,life", dies),
        "magnetic_cylinder": ("other_tag,place,face,teeth,pitch,die_gap", magnetic),
    }


def rows_of_shop(rng):
    """Heading and rows by kind, in the order in which they come in."""
    label = "100000,100mm,73mm,2mm,rectangle,3,3mm,2mm,4mm,5mm,330mm,0.06mm"
    shop = {
        "place": ("code,sort", [f"R{at},store" for at in range(50)]),
        "press": ("code,drive,web,repeat_min,repeat_max,pitches,stations,die_stations",
                  ["P1,geared,340mm,150mm,600mm,1/8cp,8,3", "P2,servo,340mm,150mm,600mm,,8,3"]),
        "job": ("number,quantity,label_across,label_around,corner,shape,number_across,gap_across,gap_around_min,"
                "gap_around_max,trim,web,liner_caliper,teeth,pitch,number_around",
                [f"repeat-order,{label},96,1/8cp,4", f"new-label,{label},,,"]),
    }
    shop.update(rows_of_tools(rng))
    shop["station"] = ("job,station,ink,process,plate,base,tape,plates,volume",
                       [f"{job},{at},ink {at},flexo,1.702mm,0.127mm,0.381mm,ready,{rng.uniform(3, 9):.1f}cm3/m2"
                        for job in ("repeat-order", "new-label") for at in range(1, 9)])
    shop["reading"] = ("tool,moment,volume,after",
                       [f"A{at % 2000},2026-{3 + at // 2000 % 8:02}-{1 + at % 28:02}T10:00:00Z,{rng.uniform(2, 12):.2f}cm3/m2,clean"
                        for at in range(20000)])
    return shop


def milliseconds(folder, words):
    environment = dict(os.environ, TZ="UTC", TOOTHRACK_NOW="2026-12-01T08:00:00Z", HOME=str(folder))
    began = time.monotonic()
    done = subprocess.run([PROGRAM, "--db", folder / "shop.db", *words], env=environment, capture_output=True,
                          encoding="utf-8", check=False)
    assert done.returncode in (0, 1), done.stdout + done.stderr
    return 1000 * (time.monotonic() - began)


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for kind, (heading, rows) in rows_of_shop(random.Random(7)).items():
            file = folder / f"{kind}.csv"
            file.write_text("\n".join([heading, *rows]) + "\n", encoding="utf-8")
            print(f"{milliseconds(folder, ['import', kind, file]):8.0f} ms  import {kind}, {len(rows)} rows (once)")
        for words in ("check repeat-order press=P1", "check repeat-order", "check new-label", "choices new-label", "show K77",
                      "show R7", "put K77 at=R3", "find K77", "find cylinder teeth=96 face=330mm..", "find place=R7",
                      "export cylinder",
                      "history K77", "history when=2026-12-01", "calc repeat teeth=96 pitch=1/8cp"):
            taken = statistics.median(milliseconds(folder, words.split()) for _ in range(TIMES))
            print(f"{taken:8.0f} ms  {words}")


if __name__ == "__main__":
    main()

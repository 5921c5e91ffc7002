"""The plain shop of the tests worked out by hand.

Label 80 x 98.5 mm, 2 across with 3 mm between, trim 5 mm, 3 around on 96 teeth of 1/8 in circular
pitch. By hand: R = 96 x 3.175 = 304.8 mm; gap around = 304.8/3 - 98.5 = 3.1 mm;
printed width = 2 x 80 + 3 = 163 mm; web = 163 + 2 x 5 = 173 mm; quantity 6000: 6000/6 = 1000 times
around, 5 % over = 1050, run = 1050 x 304.8 mm = 320.04 m; waste = 1 - 80 x 98.5 x 6 / (173 x 304.8)
= 1 - 47280/52730.4 = 10.336 %.
Bare diameter for plate 1.702 and tape 0.381: 304.8/pi - 2 x 2.083 = 97.0208 - 4.166 = 92.855 mm
(trade.md 3: 92.855 for 1.702, 93.973 for 1.143 at 96 teeth).
"""

import os

PLAIN = {
    "place": ["code,sort", "rack,store", "grinder,supplier"],
    "press": ["code,drive,web,repeat_min,repeat_max,pitches,stations,die_stations",
              "P1,geared,250mm,200mm,500mm,1/8cp,4,2"],
    "job": ["number,state,label_across,label_around,shape,number_across,gap_across,gap_around_min,"
            "gap_around_max,trim,quantity,teeth,pitch,number_around",
            "J1,planned,80mm,98.5mm,rectangle,2,3mm,2mm,4mm,5mm,6000,96,1/8cp,3"],
    "cylinder": ["other_tag,place,drive,teeth,pitch,diameter,runout,face,carries",
                 "cyl-1,rack,geared,96,1/8cp,92.855mm,0.01mm,200mm,",
                 "cyl-2,rack,geared,96,1/8cp,92.860mm,0.01mm,200mm,"],
    "gear": ["other_tag,place,teeth,pitch"],
    "anilox": ["other_tag,place,face,line_screen,volume",
               "roll-1,rack,220mm,360lpi,6.2cm3/m2", "roll-2,rack,220mm,360lpi,8cm3/m2"],
    "blade": ["other_tag,place,length,life,run", "blade-1,rack,220mm,10000m,0m",
              "blade-2,rack,220mm,10000m,0m"],
    "die": ["other_tag,place,build,cut,teeth,pitch,number_across,number_around,label_across,label_around,"
            "gap_across,shape,face,life,die_gap",
            "die-1,rack,flexible,kiss,96,1/8cp,2,3,80mm,98.5mm,3mm,rectangle,200mm,50000,0.480mm"],
    "magnetic_cylinder": ["other_tag,place,teeth,pitch,die_gap,face", "mag-1,rack,96,1/8cp,0.480mm,200mm"],
    "station": ["job,station,process,register,plate,base,tape,plates,volume",
                "J1,1,flexo,yes,1.702mm,0.127mm,0.381mm,ready,6.2cm3/m2",
                "J1,2,flexo,yes,1.702mm,0.127mm,0.381mm,ready,8cm3/m2"],
    "cut": ["job,cut,kind,die"],
    "reading": ["tool,moment,volume,after", "roll-1,2026-10-01T00:00:00Z,6.2cm3/m2,clean",
                "roll-2,2026-10-01T00:00:00Z,8cm3/m2,clean"],
}


def swap(kind, old, new):
    """The plain file of a kind with one piece of text exchanged."""
    lines = [line.replace(old, new) for line in PLAIN[kind]]
    assert lines != PLAIN[kind]
    return lines


def write_plain(folder, settings=(), takes=(), **changed):
    """The plain shop in a folder, with some of its files changed."""
    for kind, lines in dict(PLAIN, **changed).items():
        with open(os.path.join(folder, kind + ".csv"), "w", encoding="utf-8") as file:
            file.write("\n".join(lines) + "\n")
    for name, lines in (("settings.txt", settings), ("takes.txt", takes)):
        with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
            file.write("".join(line + "\n" for line in lines))

"""Readings of rolls that are refused: as they are typed, and in a device's list.

A row of CASES: what is typed, the exit, the sentence, what it says to type. Of FILES: kind, bytes, the lines told.
"""

USAGE = (
    "Type: reading TAG [volume=VOLUME] [across=LEFT/CENTRE/RIGHT] [liquid=LIQUID] [area=AREA] [method=surface|drawdown]"
    " [after=clean|run] [run=LENGTH] [moment=MOMENT]"
)

CASES = (
    ("reading", 2, "tag not given", USAGE),
    ("reading AN000007-F", 2, "volume is not given, nor across, nor liquid and area",
     "Type volume=4.3bcm, across=left/centre/right, or liquid=12ul area=25cm2."),
    ("reading AN000007-F AN000008-D volume=4bcm", 2, "word not expected: AN000008-D", USAGE),
    ("reading PC000025-1 volume=4bcm", 2, "tag is a plate cylinder, not an anilox roll: PC000025-1", "Type the tag of an anilox roll, or find anilox for all on record."),
    ("reading R1 volume=4bcm", 2, "code is a place, not an anilox roll: R1", "Type the tag of an anilox roll, or find anilox for all on record."),
    ("reading AN999999 volume=4bcm", 2, "tag lacks its last sign, the check character: AN999999",
     "Scan it, or type all of it as it stands on the tag."),
    ("reading E51782 volume=4bcm", 2, "anilox roll not known: E51782", "Type find anilox for all on record."),
    ("reading AN000007-F volume=4", 2, "volume without a unit: 4", "Type 4cm3/m2 or 4bcm."),
    ("reading AN000007-F volume=4,2bcm", 2, "volume with a separator inside its number: 4,2bcm",
     "Type 4.2bcm: decimals take a point, thousands take nothing."),
    ("reading AN000007-F volume=-4bcm", 2, "volume is less than nothing: -4bcm", "Type a volume such as 6.7cm3/m2 or 4.3bcm."),
    ("reading AN000007-F volume=0bcm", 2, "volume must be more than nothing: 0cm3/m2", "Type what was read: volume=4.3bcm."),
    ("reading AN000007-F across=4.1/4.2bcm", 2, "across is not three volumes: 4.1/4.2bcm",
     "Type left, centre and right: three volumes such as 6.2/6.4/6.1cm3/m2."),
    ("reading AN000007-F across=4.1/0/4.2bcm", 2, "across must be more than nothing: 6.355013/0/6.510013cm3/m2",
     "Leave it out where one was not read."),
    ("reading AN000007-F volume=4bcm across=4.4/4.4/4.4bcm", 2, "volume and across tell two volumes: 6.200012cm3/m2, 6.820014cm3/m2",
     "Leave one of them out."),
    ("reading AN000007-F volume=4bcm liquid=12ul area=25cm2", 2,
     "volume and liquid and area tell two volumes: 6.200012cm3/m2, 4.8cm3/m2", "Leave one of them out."),
    ("reading AN000007-F liquid=12ul", 2, "area is not given, a drawdown has one", "Type both: liquid=12ul area=25cm2."),
    ("reading AN000007-F area=25cm2", 2, "liquid is not given, a drawdown has some", "Type both: liquid=12ul area=25cm2."),
    ("reading AN000007-F liquid=12ul area=0cm2", 2, "liquid and area give no volume: 12ul, 0cm2",
     "Type the liquid taken up and the area it filled: liquid=12ul area=25cm2."),
    ("reading AN000007-F liquid=0ul area=25cm2", 2, "liquid and area give no volume: 0ul, 25cm2",
     "Type the liquid taken up and the area it filled: liquid=12ul area=25cm2."),
    ("reading AN000007-F liquid=12ul area=25cm2 method=surface", 2, "method of liquid and area is drawdown, not: surface",
     "Leave method= out, or type volume= as the surface was read."),
    ("reading AN000007-F liquid=12cm area=25cm2", 2, "unit of liquid not known: 12cm", "Type the number and then ul or ml."),
    ("reading AN000007-F volume=4bcm method=laser", 2, "method not known: laser", "Type surface or drawdown."),
    ("reading AN000007-F volume=4bcm after=washed", 2, "after not known: washed", "Type clean or run."),
    ("reading AN000007-F volume=4bcm run=500000", 2, "run without a unit: 500000", "Type 500000m or 500000ft."),
    ("reading AN000007-F volume=4bcm run=-5m", 2, "run is less than nothing: -5m", "Type a length of web such as 12.5m or 40ft."),
    ("reading AN000007-F volume=4bcm moment=2026-12-02", 2, "moment lies ahead: 2026-12-02, and it is 2026-12-01T08:00",
     "Type when it was taken; it cannot be put on record before."),
    ("reading AN000007-F volume=4bcm moment=yesterday", 2, "moment is no date or moment: yesterday",
     "Type a date such as 2026-12-01 or a moment such as 2026-12-01T14:30."),
    ("reading AN000007-F volume=4bcm colour=red", 2, "key not known: colour", USAGE),
    ("set volume_rise 51%", 2, "volume_rise is at most 50%: 51%",
     "Type a value from 0% to 50%, or set volume_rise default for the default, 5%."),
)

FILES = {
    "reading of a roll at a moment on record, with another volume": ("reading", b"tool,moment,volume,method,after\n"
        b"AN000001R,2025-09-02T11:00,9.5bcm,drawdown,clean\nAN000001R,2026-03-18T07:20,9.3bcm,surface,clean\n", [
        "line 3: reading of AN000001R at 2026-03-18T07:20 is on record already, with volume 14.585529cm3/m2. Give update=yes to correct what is on record.",
    ]),
    "comma that may be of thousands": ("reading", b"tool;moment;volume_bcm;run_m\nAN000007F;2026-11-01;4,1;1,500\nAN000007F;2026-11-02;4,100;0,500\n", [
        "line 2, run: run with a comma that may be of decimals or of thousands: 1,500. Type it with a point, or with neither.",
    ]),
    "point of thousands and decimal comma": ("reading", b"tool;moment;volume_bcm;run_m\nAN000007F;2026-11-01;4,1;1.500,5\n", [
        "line 2, run: run with a separator inside its number: 1.500,5. Type 1500.5: decimals take a point, thousands take nothing.",
    ]),
    "decimal comma between commas": ("reading", b'tool,moment,volume\nAN000007F,2026-11-01,"4,1bcm"\n', [
        "line 2, volume: volume with a separator inside its number: 4,1bcm. Type 4.1bcm: decimals take a point, thousands take nothing.",
    ]),
    "volume in a unit not known": ("reading", b"tool;moment;volume_ul\nAN000007F;2026-11-01;4,1\n", [
        "line 1, volume_ul: column of a reading not known: volume_ul. Type volume, volume_cm3_m2 or volume_bcm.",
    ]),
    "day before month": ("reading", b"tool;moment;volume_bcm\nAN000007F;01.11.2026 14:30;4,1\n", [
        "line 2, moment: moment is no date or moment: 01.11.2026 14:30. Type 2026-11-01T14:30.",
    ]),
    "serial of no roll": ("reading", b"tool,moment,volume\nE99999,2026-11-01,4bcm\n", [
        "line 2, tool: anilox roll not known: E99999. Type find anilox for all on record.",
    ]),
    "serial of a cylinder": ("reading", b"tool,moment,volume\n21-3091,2026-11-01,4bcm\n", [
        "line 2, tool: anilox roll not known: 21-3091. Type find anilox for all on record.",
    ]),
    "reading of a place": ("reading", b"tool,moment,volume\nR1,2026-11-01,4bcm\n", ["line 2, tool: code is a place, not an anilox roll: R1. Type the tag of an anilox roll, or find anilox for all on record."]),
}

"""Lines of standard input, and CSV: what stands there, and what is said."""

UNDERSTOOD = "Give lines of text in UTF-8."

# The bytes given, the exit, the sentence on standard error, and what it says to type.
LINES = {
    "command not known": (b"shwo R1\n", 2, "line 1: command not known: shwo", "Type show, or help for all commands."),
    "the third": (b"\n# remark\nshow R1-33\nshow R1\n", 2, "line 3: tag not known: R1-33", "Type R1-3 (place, rack 1, bottom shelf)."),
    "the last, without its end": (b"\nput PC000025-1", 2, "line 2: at not given", "Type: put TAG... at=PLACE"),
    "behind a byte order mark": (b"\xef\xbb\xbfshow R99\n", 2, "line 1: tag not known: R99", "Type find and a word of its name or number to look for it."),
    "with a DOS end": (b"show R99\r\n", 2, "line 1: tag not known: R99", "Type find and a word of its name or number to look for it."),
    "quote never closed": (b'show "R1\n', 2, 'line 1: quote not closed: "R1', "Close it, or put the word into quotes of the other sort."),
    "inch sign taken for a quote": (b'new cylinder face=13"\n', 2, 'line 1: quote not closed: face=13"', "Close it, or put the word into quotes of the other sort."),
    "apostrophe": (b"hold PC000025-1 reason=it's\n", 2, "line 1: quote not closed: reason=it's", "Close it, or put the word into quotes of the other sort."),
    "NUL alone": (b"\0\n", 2, "line 1: text holds a NUL byte", UNDERSTOOD),
    "NUL behind a command": (b"show R1\0\n", 2, "line 1: text holds a NUL byte", UNDERSTOOD),
    "UTF-16": ("show R1\n".encode("utf-16"), 2, "line 1: text holds a NUL byte", UNDERSTOOD),
    "bytes that are no UTF-8": (b"show \xff\xfe\n", 2, "line 1: tag not known: \\xff\\xfe", "Type find and a word of its name or number to look for it."),
    "half a character": (b"show R\xc3\n", 2, "line 1: tag not known: R\\xc3", "Type R1 (place, cylinder rack 1), R2 (place, cylinder rack 2) or R3 (place, cylinder rack 3)."),
    "longer than need be": (b"show \xc0\xaf\n", 2, "line 1: tag not known: \\xc0\\xaf", "Type find and a word of its name or number to look for it."),
    "an arrow key": (b"\x1b[A\n", 2, "line 1: command not known: \\x1b[A", "Type help for all commands."),
    "colours": (b"show \x1b[31mR1\x1b[0m\n", 2, "line 1: tag not known: \\x1b[31mR1\\x1b[0m", "Type find and a word of its name or number to look for it."),
    "a window's title": (b"show \x1b]0;x\x07\n", 2, "line 1: tag not known: \\x1b]0;x\\x07", "Type find and a word of its name or number to look for it."),
    "C1 control": ("show \x9b31m\n".encode(), 2, "line 1: tag not known: \\xc2\\x9b31m", "Type find and a word of its name or number to look for it."),
    "direction turned": ("show \u202eR1\n".encode(), 2, "line 1: tag not known: \\xe2\\x80\\xaeR1", "Type find and a word of its name or number to look for it."),
    "isolate": ("show R\u20671\n".encode(), 2, "line 1: tag not known: R\\xe2\\x81\\xa71", "Type find and a word of its name or number to look for it."),
    "line separator": ("show R\u20281\n".encode(), 2, "line 1: tag not known: R\\xe2\\x80\\xa81", "Type find and a word of its name or number to look for it."),
    "backspaces": (b"show R1\b\b\n", 2, "line 1: tag not known: R1\\x08\\x08", "Type find and a word of its name or number to look for it."),
    "form feed": (b"show R1\f\n", 2, "line 1: tag not known: R1\\x0c", "Type R1 (place, cylinder rack 1)."),
    "bell": (b"\a\n", 2, "line 1: command not known: \\x07", "Type help for all commands."),
    "option of the program": (b"--db other.db show R1\n", 2, "line 1: option of the program, not of a line: --db", "Leave, and type toothrack --db FILE."),
    "version": (b"--version\n", 2, "line 1: option of the program, not of a line: --version", "Leave, and type toothrack --version."),
    "option alone": (b"--json\n", 2, "line 1: command not given", "Type help for all commands."),
    "option not known": (b"--jsn show R1\n", 2, "line 1: option not known: --jsn", "Type --json, or --help for all options."),
    "a word in quotes that is blank": (b"'' R1\n", 2, "line 1: command not given", "Type help for all commands."),
    "a shell's redirection": (b"show R1 > file\n", 2, "line 1: word not expected: >", "Type: show TAG [file=FILE]"),
    "a shell's pipe": (b"show R1 | less\n", 2, "line 1: word not expected: |", "Type: show TAG [file=FILE]"),
    "SQL": (b"select * from tool;\n", 2, "line 1: command not known: select", "Type help for all commands."),
    "SQL in a word": (b"show \"R1'; DROP TABLE tool; --\"\n", 2, "line 1: tag not known: R1'; DROP TABLE tool; --", "Type find and a word of its name or number to look for it."),
    "signs of printf": (b"show %s%n%d\n", 2, "line 1: tag not known: %s%n%d", "Type find and a word of its name or number to look for it."),
    "a file's name": (b"shop.db\n", 2, "line 1: command not known: shop.db", "Type help for all commands."),
}

# The kind, what stands in the file, and every line that is said of it.
CSV = {
    "NUL in a cell": ("cylinder", b"teeth,pitch\n96,\x00\n", ["line 2: text holds a NUL byte, it is no CSV. Save it as CSV UTF-8."]),
    "NUL in the heading": ("cylinder", b"teeth\x00,pitch\n96,1/8cp\n", ["line 1: text holds a NUL byte, it is no CSV. Save it as CSV UTF-8."]),
    "UTF-16": ("cylinder", b"\xff\xfet\x00e\x00e\x00t\x00h\x00,\x00p\x00i\x00t\x00c\x00h\x00\n\x009\x006\x00,\x001\x00/\x008\x00c\x00p\x00\n\x00", [
        "line 1: text is in UTF-16, not in UTF-8. Save it as CSV UTF-8.",
    ]),
    "UTF-16 the other way": ("cylinder", b"\xfe\xff\x00t\x00e\x00e\x00t\x00h\x00,\x00p\x00i\x00t\x00c\x00h\x00\n", [
        "line 1: text is in UTF-16, not in UTF-8. Save it as CSV UTF-8.",
    ]),
    "Latin-1": ("cylinder", b"teeth,pitch,note\n96,1/8cp,gr\xfcn\n", [
        "line 2, note: note not in UTF-8: gr\\xfcn. Save the text as UTF-8, or type it anew.",
    ]),
    "cut within a character": ("cylinder", b"teeth,pitch,note\n96,1/8cp,gr\xc3\n", [
        "line 2, note: note not in UTF-8: gr\\xc3. Save the text as UTF-8, or type it anew.",
    ]),
    "escape": ("cylinder", b"teeth,pitch,note\n96,1/8cp,a\x1b[31mb\n", [
        "line 2, note: note with a control character: a\\x1b[31mb. Type it without: of these only newline and TAB are kept.",
    ]),
    "bell": ("cylinder", b"teeth,pitch,note\n96,1/8cp,a\x07b\n", [
        "line 2, note: note with a control character: a\\x07b. Type it without: of these only newline and TAB are kept.",
    ]),
    "DEL": ("cylinder", b"teeth,pitch,note\n96,1/8cp,a\x7fb\n", [
        "line 2, note: note with a control character: a\\x7fb. Type it without: of these only newline and TAB are kept.",
    ]),
    "C1 control": ("cylinder", b"teeth,pitch,note\n96,1/8cp,a\xc2\x9b31m\n", [
        "line 2, note: note with a control character: a\\xc2\\x9b31m. Type it without: of these only newline and TAB are kept.",
    ]),
    "direction turned": ("cylinder", b"teeth,pitch,note\n96,1/8cp,a\xe2\x80\xaeb\n", [
        "line 2, note: note with a control character: a\\xe2\\x80\\xaeb. Type it without: of these only newline and TAB are kept.",
    ]),
    "isolate": ("cylinder", b"teeth,pitch,note\n96,1/8cp,a\xe2\x81\xa8b\n", [
        "line 2, note: note with a control character: a\\xe2\\x81\\xa8b. Type it without: of these only newline and TAB are kept.",
    ]),
    "paragraph separator": ("cylinder", b"teeth,pitch,note\n96,1/8cp,a\xe2\x80\xa9b\n", [
        "line 2, note: note with a control character: a\\xe2\\x80\\xa9b. Type it without: of these only newline and TAB are kept.",
    ]),
    "escape in the heading": ("cylinder", b"teeth,\x1b[31m\n96,1\n", ["line 1, \\x1b[31m: column of a plate cylinder not known: \\x1b[31m"]),
    "direction turned in the heading": ("cylinder", b"teeth,\xe2\x80\xae\n96,1\n", [
        "line 1, \\xe2\\x80\\xae: column of a plate cylinder not known: \\xe2\\x80\\xae",
    ]),
    "quote never closed": ("cylinder", b'teeth,pitch,note\n96,1/8cp,"a b\n97,1/8cp,c\n', [
        "line 2, note: quote is opened and never closed. Close it, or double it where it is part of the cell.",
    ]),
    "quote never closed in the heading": ("cylinder", b'"teeth,pitch\n96,1/8cp\n', [
        "line 1: quote is opened and never closed. Close it, or double it where it is part of the cell.",
    ]),
    "half a quoted cell": ("cylinder", b'teeth,pitch,note\n96,1/8cp,"a"b\n', [
        'line 2, note: cell goes on behind its closing quote. Double each quote that is part of the cell: "13"" wide".',
    ]),
    "quote within a cell": ("cylinder", b'teeth,pitch,note\n96,1/8cp,a"b\n', [
        "line 2, note: quote within a cell that does not begin with one. Put the cell in quotes and double the one within; inches are 13in.",
    ]),
    "inches by their sign": ("cylinder", b'teeth,face\n96,13"\n', [
        "line 2, face: quote within a cell that does not begin with one. Put the cell in quotes and double the one within; inches are 13in.",
    ]),
    "quote that closes far below": ("cylinder", b'teeth,pitch,note\n96,1/8cp,"a\n97,1/8cp,"b"\n', [
        "line 2, note: quote is opened here, and the cell goes on behind the next one, in line 3. Close it where the cell ends.",
    ]),
    "column not known": ("cylinder", b"tooth,pitch\n96,1/8cp\n", ["line 1, tooth: column of a plate cylinder not known: tooth"]),
    "column nearly known": ("cylinder", b"teeth,ptich\n96,1/8cp\n", [
        "line 1, ptich: column of a plate cylinder not known: ptich. Is pitch meant?",
    ]),
    "no column known": ("cylinder", b"a,b\n96,1/8cp\n", [
        "line 1: no column of a plate cylinder is named in the first line: a. The first line names the columns, with commas, semicolons or TABs between.",
    ]),
    "no heading at all": ("cylinder", b"96,1/8cp\n97,1/8cp\n", [
        "line 1: no column of a plate cylinder is named in the first line: 96. The first line names the columns, with commas, semicolons or TABs between.",
    ]),
    "columns of another kind": ("gear", b"badge,role\nE1,clerk\n", [
        "line 1: no column of a gear is named in the first line: badge. The first line names the columns, with commas, semicolons or TABs between.",
    ]),
    "column twice": ("cylinder", b"teeth,teeth\n96,97\n", ["line 1, teeth: column stands twice in the heading"]),
    "column twice, once with a unit": ("cylinder", b"face,face_mm\n330mm,330\n", ["line 1, face_mm: column stands twice in the heading"]),
    "unit in the heading not known": ("cylinder", b"teeth,face_furlong\n96,330\n", [
        "line 1, face_furlong: column of a plate cylinder not known: face_furlong. Type face, face_mm, face_in, face_um, face_m or face_ft.",
    ]),
    "unit in the heading of what has none": ("cylinder", b"teeth_mm,pitch\n96,1/8cp\n", [
        "line 1, teeth_mm: column of a plate cylinder not known: teeth_mm",
    ]),
    "cell under no heading": ("cylinder", b"teeth,pitch\n96,1/8cp,7\n", [
        "line 2: cell stands under no heading: 7. A cell that holds the separator stands in quotes.",
    ]),
    "two wrong cells": ("cylinder", b"teeth,pitch\n96,1/8\nx,1/8cp\n", [
        "line 2, pitch: pitch without a unit: 1/8. Type 1/8cp, 1/8mmcp, 1/8dp or m1/8.",
        "line 3, teeth: teeth is not a whole number: x. Type a whole number, 0 or more.",
    ]),
    "the right line behind blank ones": ("cylinder", b"teeth,pitch\n\n\n96,1/8\n", [
        "line 4, pitch: pitch without a unit: 1/8. Type 1/8cp, 1/8mmcp, 1/8dp or m1/8.",
    ]),
    "DOS ends": ("cylinder", b"teeth,pitch\r\n96,1/8\r\n", ["line 2, pitch: pitch without a unit: 1/8. Type 1/8cp, 1/8mmcp, 1/8dp or m1/8."]),
    "ends of an old Mac": ("cylinder", b"teeth,pitch\r96,1/8\r", [
        "line 2, pitch: pitch without a unit: 1/8. Type 1/8cp, 1/8mmcp, 1/8dp or m1/8.",
    ]),
    "semicolons": ("cylinder", b"teeth;pitch\n96;1/8\n", ["line 2, pitch: pitch without a unit: 1/8. Type 1/8cp, 1/8mmcp, 1/8dp or m1/8."]),
    "TABs": ("cylinder", b"teeth\tpitch\n96\t1/8\n", ["line 2, pitch: pitch without a unit: 1/8. Type 1/8cp, 1/8mmcp, 1/8dp or m1/8."]),
    "decimal comma": ("cylinder", b"teeth;face\n96;330,5mm\n", [
        "line 2, face: face with a separator inside its number: 330,5mm. Type 330.5mm: decimals take a point, thousands take nothing.",
    ]),
    "bare number": ("cylinder", b"teeth,face\n96,330\n", ["line 2, face: face without a unit: 330. Type 330mm or 330in."]),
    "teeth that are none": ("cylinder", b"teeth\n0\n", [
        "line 2, teeth: teeth must be more than nothing: 0. Leave it blank where it is not known.",
    ]),
    "teeth less than none": ("cylinder", b"teeth\n-96\n", ["line 2, teeth: teeth is less than 0: -96. Type a whole number, 0 or more."]),
    "a formula of a spreadsheet": ("cylinder", b"teeth\n=A1+1\n", [
        "line 2, teeth: teeth is not a whole number: =A1+1. Type a whole number, 0 or more.",
    ]),
    "tag misread": ("cylinder", b"tag,teeth\nPC000200-X,96\n", [
        "line 2, tag: tag misread: PC000200-X; its check character would be 3. Compare it with the tag sign by sign.",
    ]),
    "tag of another kind": ("cylinder", b"tag,teeth\nGR000001-E,96\n", [
        "line 2, tag: tag is not that of a plate cylinder: GR000001-E. Tags of a plate cylinder begin with PC.",
    ]),
    "tag on record": ("cylinder", b"tag,teeth\nPC000025-1,96\n", [
        "line 2: tag PC000025-1 is on record already. Give update=yes to correct what is on record.",
    ]),
    "tag twice": ("cylinder", b"tag,teeth\nPC000200-3,96\nPC000200-3,97\n", ["line 3: tag PC000200-3 stands in line 2 already"]),
    "other_tag on record": ("cylinder", b"other_tag,teeth\nK-19,96\n", [
        "line 2: other_tag K-19 is on record already. Give update=yes to correct what is on record.",
    ]),
    "other_tag twice": ("cylinder", b"other_tag,teeth\nX-1,96\nx-1,97\n", ["line 3: other_tag x-1 stands in line 2 already"]),
    "two names of two records": ("cylinder", b"tag,other_tag\nPC000026-0,K-19\n", [
        "line 2, other_tag: other_tag belongs to another record: K-19. It is that of PC000025-1, plate cylinder, 96 teeth 1/8cp, face 330mm, "
        "geared; give another.",
        "line 2: tag PC000026-0 is on record already. Give update=yes to correct what is on record.",
    ]),
    "a code of ours in other_tag": ("cylinder", b"other_tag,teeth\nPC000777,96\n", [
        "line 2, other_tag: other_tag looks like a tag of ours: PC000777. Give it another, such as one with the shop's own letters.",
    ]),
    "a command in other_tag": ("cylinder", b"other_tag,teeth\nundo,96\n", [
        "line 2, other_tag: other_tag looks like a command: undo. Give it another.",
    ]),
    "place not known": ("cylinder", b"teeth,place\n96,R77\n", ["line 2, place: place not known: R77. Type find place for all on record."]),
    "job for a place": ("cylinder", b"teeth,place\n96,J2601\n", ["line 2, place: code is a job, not a place: J2601. Type the code of a place, or find place for all on record."]),
    "on hold without a reason": ("cylinder", b"teeth,condition\n96,hold\n", [
        'line 2, note: note does not say why it is on hold. Give note="scored band" or the like.',
    ]),
    "condition not known": ("cylinder", b"teeth,condition\n96,broken\n", [
        "line 2, condition: condition not known: broken. Type ready, hold or scrapped.",
    ]),
    "press without stations": ("press", b"code,drive\nP5,geared\n", [
        "line 2, stations: stations is not given, a press has one: print stations. Give stations=a whole number such as 96.",
    ]),
    "press with no station": ("press", b"code,drive,stations\nP5,geared,0\n", [
        "line 2, stations: stations must be more than nothing: 0. Give stations=a whole number such as 96.",
    ]),
    "press with too many": ("press", b"code,drive,stations\nP5,geared,65\n", ["line 2, stations: stations is at most 64: 65"]),
    "press on a shelf": ("press", b"code,drive,stations\nR1,geared,4\n", [
        "line 2: place of the press is on record as sort store: R1. Give that place the sort press, or the press another code.",
    ]),
    "press called as a job": ("press", b"code,drive,stations\nJ2601,geared,4\n", [
        "line 2, code: code names a job already: J2601. Give it another.",
    ]),
    "press twice": ("press", b"code,drive,stations\nP5,geared,4\np5,geared,4\n", ["line 3: code p5 stands in line 2 already"]),
    "place within itself": ("place", b"code,sort,within\nX1,store,X1\n", [
        "line 2, within: place not known: X1. By this file it would lie within itself.",
    ]),
    "places within each other": ("place", b"code,sort,within\nX1,store,X2\nX2,store,X1\n", [
        "line 2, within: place not known: X2. By this file it would lie within itself.",
        "line 3, within: place not known: X1. By this file it would lie within itself.",
    ]),
    "place within nothing known": ("place", b"code,sort,within\nX1,store,X9\n", ["line 2, within: place not known: X9"]),
    "place called as a job": ("place", b"code,sort\nJ2601,store\n", ["line 2, code: code names a job already: J2601. Give it another."]),
    "place twice": ("place", b"code,sort\nX1,store\nX1,cart\n", ["line 3: code X1 stands in line 2 already"]),
    "place for nothing": ("place", b"code\nX1\n", [
        "line 2, sort: sort is not given, a place has one: what it is for. Give sort=store, press, cart, wash, supplier or lost.",
    ]),
    "place on hold without a reason": ("place", b"code,sort,condition\nX1,store,hold\n", [
        'line 2, note: note does not say why it is on hold. Give note="scored band" or the like.',
    ]),
    "job that ends before it begins": ("job", b"number,from,until\nJ77,2026-12-05,2026-12-01\n", [
        "line 2, until: until lies before from: 2026-12-01, 2026-12-05. A date alone is the beginning of that day.",
    ]),
    "job on no calendar": ("job", b"number,from\nJ77,2026-02-29\n", [
        "line 2, from: from is on no calendar: 2026-02-29. Type a day from 2026-02-01 to 2026-02-28.",
    ]),
    "job called as a place": ("job", b"number\nR1\n", ["line 2, number: number names a place already: R1. Give it another."]),
    "job without a number": ("job", b"title\nfront\n", [
        "line 2, number: number is not given, a job has one: the shop's own. Give number=words.",
    ]),
    "job of a press not known": ("job", b"number,press\nJ77,P9\n", [
        "line 2, press: press not known: p9. Type P1 (press, press 1, geared, 13 in) or P2 (press, press 2, servo, 13 1/2 in).",
    ]),
    "station of no job": ("station", b"job,station,process\nJ77,1,flexo\n", ["line 2, job: job not known: J77. Type find job for all on record."]),
    "station on record": ("station", b"job,station,process\nJ2601,1,flexo\n", [
        "line 2: station 1 of job J2601 is on record already. Give update=yes to correct what is on record.",
    ]),
    "station twice": ("station", b"job,station,process\nJ2601,8,flexo\nJ2601,8,flexo\n", [
        "line 3: station 8 of job J2601 stands in line 2 already",
    ]),
    "cut of no job": ("cut", b"job,cut,kind\nJ77,1,kiss\n", ["line 2, job: job not known: J77. Type find job for all on record."]),
    "cut by a cylinder": ("cut", b"job,cut,kind,die\nJ2601,2,kiss,PC000025-1\n", [
        "line 2, die: tag is a plate cylinder, not a die: PC000025-1. Type the tag of a die, or find die for all on record.",
        "line 2: cut 2 of job J2601 is on record already. Give update=yes to correct what is on record.",
    ]),
    "reading that lies ahead": ("reading", b"tool,moment,volume\nAN000001-R,2027-01-01,4bcm\n", [
        "line 2, moment: moment lies ahead: 2027-01-01T00:00, and it is 2026-12-01T08:00. Type when it was taken; it cannot be put on record before.",
    ]),
    "reading of no roll": ("reading", b"tool,moment,volume\nV-99,2026-01-01,4bcm\n", ["line 2, tool: anilox roll not known: V-99. Type find anilox for all on record."]),
    "reading of a cylinder": ("reading", b"tool,moment,volume\nPC000025-1,2026-01-01,4bcm\n", [
        "line 2, tool: tag is a plate cylinder, not an anilox roll: PC000025-1. Type the tag of an anilox roll, or find anilox for all on record.",
    ]),
    "reading of nothing": ("reading", b"tool,moment\nAN000001-R,2026-01-01\n", [
        "line 2, volume: volume is not given, nor the volumes across. Give volume=4.3bcm, or across=left/centre/right.",
    ]),
    "operator without a role": ("operator", b"badge,name\n77,Ada Gear\n", [
        "line 2, role: role is not given, an operator has one: the work done. Give role=clerk, planner, maintenance or supervisor.",
    ]),
    "operator with a role not known": ("operator", b"badge,name,role\n77,Ada Gear,king\n", [
        "line 2, role: role not known: king. Type clerk, planner, maintenance or supervisor.",
    ]),
    "badge that is a place": ("operator", b"badge,name,role\nR1,Ada Gear,clerk\n", [
        "line 2, badge: badge names a place already: R1. Give it another.",
    ]),
}

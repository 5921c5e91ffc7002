"""Batches of a handheld: the bytes of the file, and what is said of its lines. Each changes nothing."""

AT = b"2026-12-01T08:00:00Z,"
LIKE = "A line is like 2026-12-01T14:30:15,PC000025-1."
BEHIND = "line 1 was not applied, and where this belongs hangs on that"

# The bytes; then what is printed of each line that is wrong, behind the sums.
LINES = {
    "tag of no tool": (AT + b"PC000999-V\n", ["line 1, PC000999-V: tag not known: PC000999-V. Nothing on record has it, and nothing was recorded."]),
    "code not known": (AT + b"R99\n", ["line 1, R99: tag not known: R99. Nothing on record has it, and nothing was recorded."]),
    "place misread, and what hangs on that": (
        AT + b"PL000005-Q\n" + AT + b"PC000025-1\n",
        [
            "line 1, PL000005-Q: misread, check character disagrees: PL000005-Q. "
            "Wipe the tag and the scanner's window and scan again; if it stays so, type the tag, or print it anew.",
            f"line 2, PC000025-1: {BEHIND}",
        ],
    ),
    "place of a supplier": (
        AT + b"S1\n",
        ["line 1, S1: place is a supplier: S1. What goes to a supplier is sent, with a reason and a date: type send."],
    ),
    "nothing to take back": (AT + b"UNDO\n", ["line 1, UNDO: nothing of this batch to take back"]),
    "count": (
        AT + b"COUNT\n" + AT + b"R1\n",
        ["line 2, R1: a count is not taken from a batch. Count at the bench itself."],
    ),
    "leaving": (AT + b"quit\n", ["line 1, quit: quit is no scan"]),
    "no place behind the tool": (
        AT + b"PC000025-1\n",
        ["line 1, PC000025-1: not moved, no place was scanned: PC000025-1. Scan them again, then the place where they are."],
    ),
    "moment ahead": (
        b"2026-12-01T08:00:01Z,R1\n",
        ["line 1, R1: moment is ahead of now: 2026-12-01T08:00:01. Set the clock of the handheld."],
    ),
    "moment before the shop": (
        b"2000-01-01T00:00:07Z,R1\n",
        ["line 1, R1: moment lies before all that is on record: 2000-01-01T00:00:07. Set the clock of the handheld."],
    ),
    "bare date": (b"2026-12-01,R1\n", [f"line 1, R1: moment without a time of day: 2026-12-01. {LIKE}"]),
    "no moment": (
        b"today,R1\n",
        ["line 1, R1: moment is no date or moment: today. Type a date such as 2026-12-01 or a moment such as 2026-12-01T14:30."],
    ),
    "on no calendar": (b"2026-11-31T08:00:00Z,R1\n", ["line 1, R1: moment is on no calendar: 2026-11-31T08:00:00Z. Type a day from 2026-11-01 to 2026-11-30."]),
    "code alone": (b"R1\n", [f"line 1: line has 1 cell, not a moment and a code. {LIKE}"]),
    "three cells": (AT + b"R1,PC000025-1\n", [f"line 1: line has 3 cells, not a moment and a code. {LIKE}"]),
    "no code": (AT + b"\n", ["line 1: no code stands on the line"]),
    "quote never closed": (b'"' + AT + b"R1\n", ["line 1: quote is opened and never closed. Close it, or double it where it is part of the cell."]),
    "cut off within the code": (AT + b"PC00002", ["line 1, PC00002: line has no end, it may be cut off. Where it is whole, end it with a line break."]),
    "cut off, and another place that way": (AT + b"R1", ["line 1, R1: line has no end, it may be cut off. Where it is whole, end it with a line break."]),
    "cut off within the moment": (b"2026-12-0", [f"line 1: line has 1 cell, not a moment and a code. {LIKE}"]),
    "a long line": (AT + b"x" * 2000 + b"\n", ["line 1: line is longer than 1000 characters"]),
    "controls": (AT + b"\x1b[31mR1\n", ["line 1, \\x1b[31mR1: tag not known: [31mR1. Nothing on record has it, and nothing was recorded."]),
    "no UTF-8": (AT + b"R\xff\xfe\n", ["line 1, R\\xff\\xfe: tag not known: R\\xff\\xfe. Nothing on record has it, and nothing was recorded."]),
}

# Files that are refused whole: the bytes, the sentence, the hint.
FILES = {
    "empty": (b"", "file holds no scan: in.csv", LIKE),
    "blank lines": (b"\n\r\n  \n", "file holds no scan: in.csv", LIKE),
    "heading alone": (b"moment,code\n# nothing\n", "file holds no scan: in.csv", LIKE),
    "UTF-16": ("2026-12-01T08:00:00Z,R1\n".encode("utf-16"), "file is in UTF-16, not in UTF-8: in.csv", "Give lines of moment,code as text in UTF-8."),
    "a program": (b"\x7fELF\x02\x01\x01\x00\x00", "file is no text, it holds a NUL byte: in.csv", "Give lines of moment,code as text in UTF-8."),
}

"""The command tag.

What is typed (words, or a tuple of them where a shell would want quotes), the exit, the sentence on standard error, and what it says
to type. The shop is the demo shop. What lp refuses, and where there is none, is in tests/console/test_spooler.py, faults of stocks in
tests/console/test_tag.py.
"""

USAGE = (
    "Type: tag TAG... [stock=NAME] [file=FILE] [printer=QUEUE] [cell=N] [symbol=code128|datamatrix|qr] [carrier=DIAMETER]"
)
KINDS = "Type operator, place, press, job, cylinder, gear, anilox, blade, die or magnetic_cylinder."
QUEUES = "Type printer= with a queue of this system; the command lpstat -e lists them."

CASES = (
    ("tag", 2, "tag not given", USAGE),
    ("tag ''", 2, "tag not given", USAGE),
    ("tag stock=badge", 2, "tag not given", USAGE),
    ("tag PC000321-M", 2, "tag not known: PC000321-M",
     "Type PC000021-9 (plate cylinder, 88 teeth)."),
    ("tag AC000050-S", 2, "card not known: AC000050-S", "Type tag actions for all there are."),
    ("tag PC000025-1 stok=badge", 2, "key not known: stok", "Type stock=badge."),
    ("tag PC000025-1 teeth=96", 2, "key not known: teeth", USAGE),
    ("tag PC000025-1 cell=1 cell=2", 2, "key given twice: cell", "Type cell once."),
    (("tag", '\x1b[31m'), 2, "tag not known: \\x1b[31m", "Type find and a word of its name or number to look for it."),
    # find
    ("tag find cylinder teth=96", 2, "attribute of a plate cylinder not known: teth", "Type teeth=96."),
    ("tag find cylinder teeth=100..90", 2, "range runs backwards: teeth=100..90", "Type the lesser end first."),
    ("tag find cylinder teeth=96 teeth=97", 2, "key given twice: teeth", "Type teeth once."),
    ("tag find reading", 2, "kind has no tags of its own: reading", "Type tag find with a kind that has tags, such as cylinder."),
    ("tag find '?'", 2, "word has no letter or digit: ?", "Type a word of a name, a note or a number, or its beginning."),
    # changed, unprinted, actions
    ("tag changed cylndr", 2, "kind not known: cylndr", "Type cylinder."),
    ("tag unprinted station", 2, "kind has no tags of its own: station", "Type a kind that has tags, such as cylinder."),
    ("tag unprinted PC000025-1", 2, "kind not known: PC000025-1", KINDS),
    ("tag changed cylinder gear", 2, "word not expected: gear", "Type: tag changed KIND"),
    ("tag actions HOME", 2, "word not expected: HOME", "Type: tag actions"),
    # cell
    ("tag PC000025-1 cell=0", 2, "cell is less than 1: 0", "Type a whole number from 1 to 10000."),
    ("tag PC000025-1 cell=x", 2, "cell is not a whole number: x", "Type a whole number from 1 to 10000."),
    ("tag PC000025-1 cell=2", 2, "cell is not on a page of roll-50x25: 2", "Leave cell= out: there is one tag on it."),
    # symbol
    ("tag PC000025-1 symbol=ean13", 2, "symbol not known: ean13", "Type code128, datamatrix or qr."),
    ("tag PC000025-1 symbol=code12", 2, "symbol not known: code12", "Type code128."),
    # carrier
    ("tag PC000025-1 carrier=60", 2, "carrier without a unit: 60", "Type 60mm or 60in."),
    ("tag PC000025-1 carrier=-60mm", 2, "carrier is less than nothing: -60mm", "Type a length such as 330mm, 13in or 1/8in."),
    # stock
    ("tag E011 stock=roll-50x25", 2, "stock is not for badges: roll-50x25", "Type stock=a4-badges, or write another use in the stock's file."),
    # printer
    ("tag PC000025-1 printer=-o", 2, "no printer is called so: -o", QUEUES),
    ("tag PC000025-1 printer=", 2, "printer not given", QUEUES),
    (("tag", "PC000025-1", "printer=\x1b[31m"), 2, "no printer is called so: \\x1b[31m", QUEUES),
    ("tag PC000025-1 printer=labels file=x.pdf", 2, "file and printer are both given", "Type one of them: tags are printed once."),
    # file
    ("tag unprinted file=x.pdf", 2, "tags go on several stocks: a4-badges, a4-places, roll-50x25",
     "Print kind by kind, no stock takes all: tag unprinted operator file=x.pdf"),
    ("tag E011 R1 file=x.pdf", 2, "tags go on several stocks: a4-badges, a4-places",
     "Print kind by kind, no stock takes all: tag OP000001-F file=x.pdf"),
    ("tag PC000025-1 R1 file=x.pdf", 2, "tags go on several stocks: roll-50x25, a4-places",
     "Type stock=roll-50x25, which takes all of them, or print some at a time: tag PC000025-1 file=x.pdf"),
    ("set company_prefix 123", 2, "company_prefix cannot be that: 123", "Type the 4 to 12 digits of it, or none."),
    ("set tag_content 90", 2, "tag_content not known: 90",
     "Type 91; it may be plain, giai, 91, 92, 93, 94, 95, 96, 97, 98 or 99."),
)

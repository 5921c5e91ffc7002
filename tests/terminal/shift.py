"""A shift at the scanning bench: what is scanned, and what must have come of it.

The rules are those of vocabulary.md, "The scanning bench", written down a second time; nothing of the program is used. The
shop is the demo shop, read from its CSV.
"""
import csv
import pathlib
import random

from stdnum.iso7064 import mod_37_36

DEMO = pathlib.Path(__file__).resolve().parents[2] / "src" / "demo"
KINDS = ("cylinder", "gear", "anilox", "blade", "die", "magnetic_cylinder")
BADGE = "E011"
DONE, HOME, UNDO = 9, 1, 6
# As a scanner sends a code: as it is, with an AIM identifier, in a GS1 symbol behind AI 91, FNC1 as GS.
SPELLINGS = ("{0}", "]C0{0}", "]d1{0}", "]Q1{0}", "]C191{0}", "]d291{0}\x1d", "{0}\x1d")
PLAIN = SPELLINGS[:1]


def checked(code):
    return code + mod_37_36.calc_check_digit(code)


def card(serial):
    return checked(f"AC{serial:06}")


def rows(kind):
    with open(DEMO / f"{kind}.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


class Room:
    """Where every tool is, and what stands in the ledger of its movements."""

    def __init__(self):
        tools = [row for kind in KINDS for row in rows(kind)]
        self.place = {row["tag"]: row["place"] for row in tools}
        self.home = {row["tag"]: row["home"] for row in tools}
        self.scrapped = {row["tag"] for row in tools if row.get("condition") == "scrapped"}
        places = rows("place")
        self.suppliers = {row["code"] for row in places if row["sort"] == "supplier"}
        self.presses = {row["code"] for row in places if row["sort"] == "press"} | {row["code"] for row in rows("press")}
        self.goals = [row["code"] for row in places if row["sort"] in ("store", "cart", "wash")]
        self.ledger = []  # word, tool, from, to
        self.standing = None
        self.waiting = []
        self.last = []  # moved by the last scan
        self.undoable = []  # indices of the ledger
        self.code = None  # scanned last
        self.unread = False  # a tool was refused since one was read: no card is about another

    def is_away(self, tool):
        """At a press or a station of one, whose code begins with that of the press."""
        return self.place[tool].partition("-")[0] in ("P1", "P2")

    def put(self, tools, goal=None):
        for tool in tools:
            word = "receive" if self.place[tool] in self.suppliers else "put"
            to = goal or self.home[tool]
            self.undoable.append(len(self.ledger))
            self.ledger.append((word, tool, self.place[tool], to))
            self.place[tool] = to
        self.last = list(tools)

    # Each of these is one scan; it tells whether it must be refused.

    def scan_place(self, goal):
        if goal in self.suppliers:
            self.standing = None  # the clerk stands elsewhere now
            return True
        if self.waiting:
            self.put(self.waiting, goal)
            self.waiting = []
        else:
            self.standing = goal
            self.last = []
        return False

    def scan_tool(self, tool):
        self.unread = tool in self.scrapped
        if self.unread:
            return True
        if self.standing:
            self.put([tool], self.standing)
        else:
            if tool in self.waiting:
                self.waiting.remove(tool)  # it is the one scanned last
            self.waiting.append(tool)
        return False

    def scan_nothing(self):
        """A misread, or a tag that nothing has."""
        self.unread = True
        return True

    def scan_home(self):
        if self.unread:
            return True
        tools = self.waiting or self.last
        self.put(list(tools))
        self.waiting = []
        return not tools

    def scan_done(self):
        self.last = []
        self.unread = False
        if self.waiting:
            away = [tool for tool in self.waiting if self.is_away(tool)]
            left = [tool for tool in self.waiting if tool not in away]
            self.waiting = []
            for tool in away:
                self.put([tool])
            return bool(left)
        self.standing = None
        return False

    def scan_undo(self):
        word, tool, before, after = self.ledger[self.undoable.pop()]
        assert word in ("put", "receive")
        self.ledger.append(("undo", tool, after, before))
        self.place[tool] = before
        self.last = []
        return False


class Shift:
    """So many scans drawn from a seed: `codes` as they are sent, `refused` how many of them must be."""

    def __init__(self, seed, count, tag_of_place, spellings=SPELLINGS):
        self.rng = random.Random(seed)
        self.room = Room()
        self.tag_of_place = tag_of_place
        self.spellings = spellings
        self.codes, self.refused, self.doubled, self.undone = [], 0, 0, 0
        self.add(BADGE, False, spelled=BADGE)
        while len(self.codes) < count:
            self.draw(count)
        if self.room.waiting or self.room.standing:
            # Whatever it is, what waits at the end is not left to `quit`.
            self.codes.pop()
            raise ValueError("draw again")

    def add(self, code, refused, spelled=None, read=True):
        """`read`: it is a code for the bench, whatever it names; the same at once again is the same scan."""
        self.room.code = code if read else None
        self.wrong = refused
        self.refused += refused
        self.codes.append(spelled or self.rng.choice(self.spellings).format(code))

    def draw(self, count):
        left = count - len(self.codes)
        if left <= 2:
            return self.end(left)
        if self.undone < 2 and self.room.ledger and self.room.last and len(self.codes) > count * (self.undone + 1) // 3:
            self.undone += 1
            return self.add(card(UNDO), self.room.scan_undo())
        kind = self.rng.choices(
            ("tool", "place", "done", "home", "double", "misread", "unknown", "supplier"), (60, 18, 4, 3, 6, 4, 3, 2))[0]
        return getattr(self, "draw_" + kind)()

    def end(self, left):
        """Nothing waits and nothing stands at the end, however few scans are left for that."""
        room = self.room
        if room.waiting:
            return self.fresh(self.tag_of_place["R1-3"], lambda: room.scan_place("R1-3"))
        if room.standing:
            return self.fresh(card(DONE), room.scan_done)
        return self.draw_unknown()

    def fresh(self, code, scan):
        """Not the code that was scanned last: that would be the same scan."""
        if code == self.room.code:
            return self.draw_unknown()
        return self.add(code, scan())

    def draw_tool(self):
        tool = self.rng.choice(sorted(self.room.place))
        self.fresh(tool, lambda: self.room.scan_tool(tool))

    def draw_place(self):
        goal = self.rng.choice(self.room.goals)
        code = self.rng.choice((goal, self.tag_of_place[goal], self.tag_of_place[goal]))
        if code == goal:
            if goal != self.room.code:
                self.add(goal, self.room.scan_place(goal), spelled=goal)
        else:
            self.fresh(code, lambda: self.room.scan_place(goal))

    def draw_done(self):
        if self.room.waiting or self.room.standing:
            self.fresh(card(DONE), self.room.scan_done)

    def draw_home(self):
        if self.room.waiting or self.room.last:
            self.fresh(card(HOME), self.room.scan_home)

    def draw_double(self):
        code = self.room.code
        if code is not None and code != card(UNDO) and len(code) > 6:
            self.doubled += 1
            # What was refused is refused again, and nothing counts.
            self.add(code, self.wrong)

    def draw_misread(self):
        tool = self.rng.choice(sorted(self.room.place))
        wrong = self.rng.choice([sign for sign in "0123456789ABCDEFGHJKLM" if sign != tool[-1]])
        self.add(tool[:-1] + wrong, self.room.scan_nothing(), read=False)

    def draw_unknown(self):
        self.add(checked(f"PC{self.rng.randint(1000, 999999):06}"), self.room.scan_nothing())

    def draw_supplier(self):
        code = self.tag_of_place["S1"]
        self.fresh(code, lambda: self.room.scan_place("S1"))


def shift_of(seed, count, tag_of_place, spellings=SPELLINGS):
    """The first shift from the seed on that ends with nothing waiting."""
    while True:
        try:
            return Shift(seed, count, tag_of_place, spellings)
        except ValueError:
            seed += 1

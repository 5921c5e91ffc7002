"""Taking back at two real terminals, entries older than what is kept for it, and a long history.

TOOTHRACK names the program (build/toothrack).
"""
import json
import os
import pathlib
import resource
import sqlite3
import subprocess

import pexpect
import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
PROMPT = "toothrack> "


def environment(folder, now="2026-12-01T08:00:00Z"):
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    return kept | {"HOME": str(folder), "TOOTHRACK_DB": str(folder / "shop.db"), "TOOTHRACK_NOW": now, "LOGNAME": "toolroom",
                   "LC_ALL": "C.UTF-8", "TERM": "dumb", "TZ": "UTC", "INPUTRC": "/dev/null"}


def run(folder, *words, exits=0, now="2026-12-01T08:00:00Z"):
    done = subprocess.run([PROGRAM, *words], env=environment(folder, now), stdin=subprocess.DEVNULL, capture_output=True,
                          encoding="utf-8", check=False)
    assert done.returncode == exits, done.stdout + done.stderr
    return done.stdout + done.stderr


@pytest.fixture(name="shop")
def made_shop(tmp_path):
    run(tmp_path, "demo")
    return tmp_path


class Seat:
    """A console on a terminal of its own."""

    def __init__(self, folder):
        self.child = pexpect.spawn(PROGRAM, [], env=environment(folder), dimensions=(50, 200), timeout=20, encoding="utf-8")
        self.child.delaybeforesend = 0.05
        self.child.expect_exact(PROMPT)

    def line(self, text):
        self.child.send(text + "\r")
        self.child.expect_exact(PROMPT)
        return self.child.before


def test_two_terminals_each_take_back_their_own(shop):
    one, other = Seat(shop), Seat(shop)
    assert "to C1" in one.line("put PC000025-1 at=C1")
    assert "to C1" in other.line("put PC000026-0 at=C1")
    assert "PC000025-1  put taken back: from C1 to R1-3" in one.line("undo")
    assert "nothing to take back" in one.line("undo")
    assert "PC000026-0  put taken back: from C1 to R1-3" in other.line("undo")
    terminals = {entry["terminal"] for tag in ("PC000025-1", "PC000026-0")
                 for entry in json.loads(run(shop, "--json", "history", tag)) if entry["what"] == "undo"}
    assert len(terminals) == 2
    assert all(name.startswith("pts/") for name in terminals)


@pytest.mark.parametrize("words, subject", [
    (["hold", "AN000024-D", "reason=scored"], "hold of AN000024-D"),
    (["edit", "AN000024-D", "face=320mm"], "correction of AN000024-D"),
    (["set", "overs", "7%"], "set of overs"),
])
def test_an_entry_of_which_nothing_was_kept_is_refused(shop, words, subject):
    """As an entry stands that a program of the schema before wrote."""
    run(shop, *words)
    with sqlite3.connect(shop / "shop.db") as shop_file:
        shop_file.execute("DELETE FROM entry_before")
    answer = run(shop, "undo", exits=1)
    assert answer.startswith(f"toothrack: {subject} is older than what can be taken back: 2026-12-01T08:00\n")


def test_whatever_is_taken_back_leaves_places_and_ledger_at_one(shop):
    """The place of every tool is where its last entry that tells of whereabouts took it."""
    for words in ("put PC000025-1 at=P1-3", "edit PC000026-0 place=", "undo", "undo", "send AN000009-B at=S1 reason=x", "receive AN000009-B",
                  "undo", "edit AN000008-D place=R2-1", "edit AN000008-D place="):
        run(shop, *words.split())
    with sqlite3.connect(shop / "shop.db") as shop_file:
        wrong = shop_file.execute(
            "SELECT t.tag, t.place FROM tool t WHERE t.place IS NOT (SELECT to_place FROM ledger WHERE subject = t.id"
            " AND (to_place IS NOT NULL OR from_place IS NOT NULL) ORDER BY happened DESC, number DESC LIMIT 1)").fetchall()
    assert wrong == []


def test_recorded_later_than_it_happened_is_told(shop):
    """The clock went back between two consoles: the ledger's own moments never do."""
    run(shop, "hold", "AN000024-D", "reason=scored", now="2026-12-01T07:00:00Z")
    assert "scored; recorded 2026-12-01T08:00" in run(shop, "history", "AN000024-D")


def test_memory_of_whereabouts_does_not_grow_with_the_ledger(shop):
    """A hundred thousand entries of one roll: what is asked of a moment reads one of them."""
    with sqlite3.connect(shop / "shop.db") as shop_file:
        number, recorded = shop_file.execute("SELECT max(number), max(recorded) FROM ledger").fetchone()
        roll, = shop_file.execute("SELECT id FROM tool WHERE tag = 'AN000024D'").fetchone()
        shop_file.executemany(
            "INSERT INTO ledger (number, word, subject_kind, subject, login, terminal, from_place, to_place, happened, recorded,"
            " hash) VALUES (?, 'put', 'anilox', ?, 'toolroom', 'pts/1', 1, 1, ?, ?, zeroblob(32))",
            ((number + 1 + at, roll, recorded, recorded) for at in range(100000)))
    run(shop, "history", "when=2026-12-01")
    sanitized = any(name.endswith("SAN_OPTIONS") for name in os.environ)
    assert sanitized or resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss < 32 * 1024

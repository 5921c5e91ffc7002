"""A handheld's batch, killed at any moment and done again until it is through: as if it had never been interrupted.

TOOTHRACK names the program (build/toothrack); TOOTHRACK_BATCH_KILLS how often it is killed.
"""
import os
import random
import shutil
import sqlite3
import subprocess
import time

from safe import call, command, copy_shop, done

KILLS = int(os.environ.get("TOOTHRACK_BATCH_KILLS", "12"))
LATER = "2026-12-02T08:00:00Z"
ROUNDS = 40
PLACES = ("R1-1", "R1-2", "R2-1", "C1")
TOOLS_EACH = 20


def lines_of(shop):
    """Rounds of a place and tools, then of tools and the place, with a card, an UNDO and a wrong tag now and then."""
    database = sqlite3.connect(shop / "shop.db")
    tags = [tag for tag, in database.execute("SELECT tag FROM tool WHERE kind = 'cylinder' AND condition = 'ready' ORDER BY tag")]
    database.close()
    chance = random.Random(4)
    second, lines = 9 * 3600, ["moment,code"]

    def scan(code):
        nonlocal second
        second += 3
        lines.append(f"2026-12-01T{second // 3600:02}:{second // 60 % 60:02}:{second % 60:02}Z,{code}")

    for number in range(ROUNDS):
        tools, place = chance.sample(tags, TOOLS_EACH), chance.choice(PLACES)
        for code in [place, *tools] if number % 2 == 0 else [*tools[:5], place]:
            scan(code)
        if number % 3 == 0:
            scan("UNDO")
        if number % 5 == 0:
            scan("PC000025-9")
        scan("DONE")
        second += 90
    return lines


def told(shop):
    """What the batch left in the ledger and of the tools; numbers and hashes apart."""
    database = sqlite3.connect(shop / "shop.db")
    entries = database.execute("SELECT word, subject, from_place, to_place, happened, detail FROM ledger WHERE number > 490 ORDER BY number").fetchall()
    tools = database.execute("SELECT tag, place, condition, taken_for FROM tool ORDER BY tag").fetchall()
    lines = database.execute("SELECT happened, code, nth FROM batch_line ORDER BY 1, 2, 3").fetchall()
    database.close()
    return entries, tools, lines


def scan_killed(shop, after):
    arguments, options = command(shop, "scan", "in.csv", now=LATER)
    with subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **options) as program:
        time.sleep(after)
        program.kill()
        return program.wait() != 0


def test_killed_at_any_moment_and_done_again__as_if_never_interrupted(tmp_path):
    straight, broken = tmp_path / "straight", tmp_path / "broken"
    for folder in (straight, broken):
        folder.mkdir()
    done(straight, "demo")
    copy_shop(straight, broken)
    text = "\n".join(lines_of(straight)) + "\n"
    for folder in (straight, broken):
        (folder / "in.csv").write_text(text, encoding="utf-8")
    began = time.monotonic()
    status, out, _ = call(straight, "scan", "in.csv", now=LATER)
    took = time.monotonic() - began
    assert status == 1 and " wrong\n" in out
    expected = told(straight)
    assert len(expected[0]) > ROUNDS * 10

    chance = random.Random(7)
    fresh = tmp_path / "fresh"
    shutil.copytree(broken, fresh)
    partly = 0
    for _ in range(KILLS):
        scan_killed(broken, 0.005 + chance.random() * took / 3)
        entries = told(broken)[0]
        assert entries == expected[0][: len(entries)]
        partly += 0 < len(entries) < len(expected[0])
        if len(entries) == len(expected[0]):
            assert told(broken) == expected
            shutil.rmtree(broken)
            shutil.copytree(fresh, broken)
    assert partly >= KILLS // 4
    status, out, _ = call(broken, "scan", "in.csv", now=LATER)
    assert status == 1
    assert told(broken) == expected
    assert "whole" in done(broken, "verify", now=LATER)
    assert call(broken, "scan", "in.csv", now=LATER)[0] == 1
    assert told(broken) == expected

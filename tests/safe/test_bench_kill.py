"""The scanning bench, killed at any moment: what was answered is in the store, and nothing is half there.

TOOTHRACK names the program (build/toothrack); TOOTHRACK_BENCH_KILLS how often a console is killed while others scan.
"""
import os
import random
import re
import signal
import sqlite3
import subprocess
import threading
import time

import pytest
from safe import answer_of, command, done

KILLS = int(os.environ.get("TOOTHRACK_BENCH_KILLS", "25"))
# So many of them fall inside a transaction, which the lock on the shop's file tells.
INSIDE_LEAST = KILLS // 5
OTHERS = 3
PAUSE = 0.004  # of the others between two scans: the one that is killed scans without any
PLACES = ("R1-1", "R1-2", "R2-1")
TOOLS_EACH = 12


@pytest.fixture(name="shop")
def made_shop(tmp_path):
    done(tmp_path, "demo")
    return tmp_path


def tools_of(shop):
    """Tags of tools that may be put anywhere, as many for each console."""
    database = sqlite3.connect(shop / "shop.db")
    tags = [tag for tag, in database.execute("SELECT tag FROM tool WHERE condition <> 'scrapped' ORDER BY tag")]
    database.close()
    return [tags[at : at + TOOLS_EACH] for at in range(0, TOOLS_EACH * (OTHERS + 1), TOOLS_EACH)]


def round_of(tools, place):
    """Lines of a place and the tools that go there, and what each tool's is to leave in the ledger."""
    return [place, *tools], [(tool, place) for tool in tools]


def console(shop, login):
    """A bench over a pipe; each line of its CSV is the answer to one scan."""
    arguments, options = command(shop, "--csv", "scan", LOGNAME=login)
    return subprocess.Popen(
        arguments, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, encoding="utf-8", **options
    )


def answered(lines):
    """Tags of the tools whose scans were answered as done, in order."""
    assert all(line.endswith("\n") for line in lines)
    rows = [line.split(",") for line in lines if line.startswith("done,")]
    return [re.search(r"([A-Z]{2}\d{6})-(\w)", row[1]).expand(r"\1\2") for row in rows]


def entered(shop, login):
    database = sqlite3.connect(shop / "shop.db")
    rows = database.execute(
        "SELECT t.tag, p.code FROM ledger l JOIN tool t ON t.id = l.subject JOIN place p ON p.id = l.to_place"
        " WHERE l.login = ? AND l.word = 'put' ORDER BY l.number",
        (login,),
    ).fetchall()
    database.close()
    return rows


class Other(threading.Thread):
    """A console that scans all the while, a scan when the one before is answered."""

    def __init__(self, shop, at, tools):
        super().__init__()
        self.shop, self.login, self.tools = shop, f"other{at}", tools
        self.expected, self.lines, self.over = [], [], threading.Event()

    def run(self):
        bench = console(self.shop, self.login)
        turn = 0
        while not self.over.is_set():
            lines, expected = round_of(self.tools, PLACES[turn % len(PLACES)])
            for line in lines:
                bench.stdin.write(line + "\n")
                bench.stdin.flush()
                if not self.lines:
                    self.lines.append(bench.stdout.readline())  # the heading comes with the first answer
                self.lines.append(bench.stdout.readline())
                time.sleep(PAUSE)
            self.expected += expected
            turn += 1
        bench.stdin.close()
        bench.stdout.close()
        bench.wait(60)


def state_of(process):
    with open(f"/proc/{process.pid}/stat", encoding="ascii") as file:
        return file.read().rpartition(")")[2].split()[0]


def holds_lock(process, file):
    """Whether it is its turn to write: from the beginning of a transaction to the end of its commit."""
    number = os.stat(file).st_ino
    with open("/proc/locks", encoding="ascii") as locks:
        return any(re.search(rf" FLOCK +ADVISORY +WRITE +{process.pid} [0-9a-f:]+:{number} ", line) and "->" not in line for line in locks)


def killed(shop, login, tools, wait):
    """Kills a console so long after its first answer; what it had answered, what it had been given, and whether it was writing."""
    bench = console(shop, login)
    lines, expected = [], []
    for turn in range(20):
        more = round_of(tools, PLACES[turn % len(PLACES)])
        lines, expected = lines + more[0], expected + more[1]
    bench.stdin.write("\n".join(lines) + "\n")
    bench.stdin.flush()
    first = [bench.stdout.readline(), bench.stdout.readline()]
    time.sleep(wait)
    bench.send_signal(signal.SIGSTOP)
    while state_of(bench) not in "TZ":
        time.sleep(0.0002)
    assert state_of(bench) == "T"
    inside = holds_lock(bench, shop / "shop.db")
    bench.send_signal(signal.SIGKILL)
    rest = bench.stdout.readlines()
    bench.stdout.close()
    try:
        bench.stdin.close()
    except BrokenPipeError:
        pass
    assert bench.wait(60) == -signal.SIGKILL
    return answered(first + rest), expected, inside


def test_killed_while_several_scan__what_was_answered_is_there(shop):
    victim, *others = tools_of(shop)
    threads = [Other(shop, at, tools) for at, tools in enumerate(others)]
    rng = random.Random(20261203)
    inside, at = 0, 0
    for thread in threads:
        thread.start()
    try:
        while at < KILLS or (inside < INSIDE_LEAST and at < 2 * KILLS):
            tags, expected, held = killed(shop, f"victim{at}", victim, rng.uniform(0, 0.05))
            entries = entered(shop, f"victim{at}")
            inside, at = inside + held, at + 1
            assert entries == expected[: len(entries)]
            # The last may have been committed and not yet answered.
            assert tags == [tag for tag, _ in entries[: len(tags)]] and len(entries) - len(tags) in (0, 1)
            assert done(shop, "verify").endswith("whole\n")
    finally:
        for thread in threads:
            thread.over.set()
        for thread in threads:
            thread.join()
    for thread in threads:
        assert entered(shop, thread.login) == thread.expected
        assert answered(thread.lines) == [tag for tag, _ in thread.expected]
    assert done(shop, "verify").endswith("whole\n")
    print(f"{at} kills, {inside} of them inside a transaction, {answer_of(shop / 'shop.db', 'SELECT count(*) FROM ledger')} entries")
    assert inside >= INSIDE_LEAST


def test_answer__written_after_the_sync_of_its_commit(shop, tmp_path):
    tools = tools_of(shop)[0]
    lines = [line for place in PLACES for line in round_of(tools, place)[0]]
    arguments, options = command(shop, "scan")
    trace = tmp_path / "trace"
    subprocess.run(
        ["strace", "-f", "-y", "-s", "200", "-o", trace, "-e", "trace=fdatasync,fsync,write,pwrite64", *arguments],
        input="\n".join(lines).encode() + b"\n", stdout=subprocess.PIPE, check=True, timeout=100, **options,
    )
    written, synced, answers = False, False, 0
    for event in trace.read_text(encoding="utf-8", errors="replace").splitlines():
        call = re.match(r"\d+ +(\w+)\((\d+)<([^>]*)>(.*)", event)
        if call is None:
            continue
        if call[1] in ("fdatasync", "fsync"):
            assert call[4].endswith("= 0"), event
            synced = synced or written
            written = False
        elif "shop.db" in call[3]:
            written = True
        elif call[1] == "write" and call[2] == "1" and re.match(r', "[A-Z]{2}\d{6}-\w  ', call[4]):
            assert synced and not written, "answered before the sync: " + event
            answers += 1
            synced = False
    assert answers == len(tools) * len(PLACES)

"""The scanning bench at a terminal: a scanner that types, and a person's keys, played by pexpect.

TOOTHRACK names the program (build/toothrack); TOOTHRACK_SHIFT_PACE the milliseconds between two codes of a shift.
"""
import os
import select
import signal
import sqlite3
import subprocess
import termios
import time

import pexpect
import pytest

from person import CTRL_C, CTRL_D, ESCAPE, PROGRAM, PROMPT, SECONDS, environment
from shift import BADGE, DONE, UNDO, Shift, card, shift_of

PACE = float(os.environ.get("TOOTHRACK_SHIFT_PACE", "10")) / 1000
SCANS = 400
NOBODY = "no badge> "
BELL = "\a"
USUAL = termios.ICANON | termios.ECHO | termios.ISIG


@pytest.fixture(scope="module", name="demo")
def made_demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    subprocess.run([PROGRAM, "demo"], env=environment(folder), cwd=folder, check=True, stdout=subprocess.PIPE)
    return folder


@pytest.fixture(name="shop")
def made_shop(demo, tmp_path):
    (tmp_path / "shop.db").write_bytes((demo / "shop.db").read_bytes())
    return tmp_path


def asked(shop, sql):
    database = sqlite3.connect(shop / "shop.db")
    found = database.execute(sql).fetchall()
    database.close()
    return found


class Bench:
    """A terminal with the program in it; what it shows is read all the while."""

    def __init__(self, folder, *arguments, columns=80, starts=NOBODY, program=PROGRAM, **more):
        self.child = pexpect.spawn(
            program, list(arguments), cwd=str(folder), env=environment(folder, **more), dimensions=(24, columns), timeout=SECONDS
        )
        self.child.delaybeforesend = None
        self.seen = b""
        self.until(starts)

    def look(self, seconds):
        """Reads what comes in so many seconds; False at the end."""
        end = time.monotonic() + seconds
        while True:
            ready, _, _ = select.select([self.child.child_fd], [], [], max(0, end - time.monotonic()))
            if not ready:
                return True
            try:
                some = os.read(self.child.child_fd, 65536)
            except OSError:
                some = b""
            if not some:
                return False
            self.seen += some

    def send(self, text):
        os.write(self.child.child_fd, text.encode("utf-8") if isinstance(text, str) else text)

    def shown(self):
        return ESCAPE.sub("", self.seen.decode("utf-8", "replace")).replace("\r\n", "\n")

    def until(self, text, times=1):
        end = time.monotonic() + SECONDS
        while self.shown().count(text) < times:
            assert self.look(0.02) or self.shown().count(text) >= times, f"{text!r} did not come:\n{self.shown()}"
            assert time.monotonic() < end, f"{text!r} did not come:\n{self.shown()}"

    def answer(self, text, prompt):
        """Sends it, and gives what is shown from then on up to the prompt."""
        start = len(self.seen)
        self.send(text)
        end = time.monotonic() + SECONDS
        while not ESCAPE.sub("", self.seen[start:].decode()).endswith(prompt):
            assert self.look(0.01) and time.monotonic() < end, f"no {prompt!r}:\n" + self.seen[start:].decode()
        return ESCAPE.sub("", self.seen[start:].decode()).replace("\r\n", "\n").removesuffix(prompt)

    def leave(self, text="quit\r"):
        self.send(text)
        end = time.monotonic() + SECONDS
        while self.look(0.05):
            assert time.monotonic() < end, "does not leave:\n" + self.shown()
        self.after = termios.tcgetattr(self.child.child_fd)
        self.child.close()
        return self.child.exitstatus


# ---------------------------------------------------------------- a shift


def tags_of_places(shop):
    return dict(asked(shop, "SELECT code, tag FROM place"))


def scanned(bench, code, end):
    """A code within 20 ms, in three pieces as a slow scanner sends it, the next after the pace; nobody waits for answers."""
    sent = (code + end).encode()
    for at in range(0, len(sent), len(sent) // 3 + 1):
        bench.send(sent[at : at + len(sent) // 3 + 1])
        bench.look(0.0005)
    bench.look(PACE)


def movements(shop, after):
    return asked(
        shop,
        "SELECT l.word, t.tag, f.code, p.code FROM ledger l JOIN tool t ON t.id = l.subject LEFT JOIN place f ON f.id = l.from_place"
        f" LEFT JOIN place p ON p.id = l.to_place WHERE l.number > {after} ORDER BY l.number",
    )


@pytest.mark.parametrize("seed", [20261201])
def test_shift__typed_by_a_scanner__nothing_lost_or_twice(shop, seed):
    shift = shift_of(seed, SCANS, tags_of_places(shop))
    before = asked(shop, "SELECT max(number) FROM ledger")[0][0]
    bench = Bench(shop, "scan")
    for at, code in enumerate(shift.codes):
        scanned(bench, code, "\r" if at < SCANS // 2 else "\t")
    assert bench.leave() == 0
    assert len(shift.codes) == SCANS and shift.undone == 2 and shift.doubled > 10 and shift.refused > 20
    shown = bench.shown()
    assert movements(shop, before) == shift.room.ledger
    assert dict(asked(shop, "SELECT t.tag, p.code FROM tool t JOIN place p ON p.id = t.place")) == shift.room.place
    # Each was answered: those that are wrong loudly.
    assert shown.count("\nrefused: ") + shown.count(BELL + "refused: ") == shift.refused
    assert shown.count(BELL) == shift.refused
    assert shown.count("the same scan, counted once") + shown.count("the same scan, refused before") == shift.doubled
    done = subprocess.run([PROGRAM, "verify"], env=environment(shop), cwd=shop, check=True, stdout=subprocess.PIPE)
    assert done.stdout.endswith(b"whole\n")


# ---------------------------------------------------------------- the prompt


def test_prompt__who_where_and_what_waits(shop):
    bench = Bench(shop, "scan")
    bench.answer(BADGE + "\r", "Nora Tindle> ")
    bench.answer("C1\r", "Nora Tindle, to C1> ")
    bench.answer(card(DONE) + "\r", "Nora Tindle> ")
    bench.answer("PC0000251\r", "Nora Tindle, 1 waits: PC000025-1> ")
    bench.answer("R1-3\r", "Nora Tindle> ")
    assert bench.leave() == 0


def test_prompt__too_long_for_the_line__on_lines_of_its_own(shop):
    bench = Bench(shop, "scan", columns=60)
    bench.answer(BADGE + "\rPC0000251\r", "Nora Tindle, 1 waits: PC000025-1> ")
    shown = bench.answer("PC000026-0\r", "\n> ")
    assert shown.endswith("\nNora Tindle, 2 wait: PC000025-1, PC000026-0")
    assert bench.leave() == 0


def test_prompt__plain_ascii__written_with_what_it_has(shop):
    subprocess.run(
        [PROGRAM, "new", "operator", "badge=E077", "name=Zoë Ådahl", "role=clerk"],
        env=environment(shop), cwd=shop, check=True, stdout=subprocess.PIPE,
    )
    bench = Bench(shop, "scan", LC_ALL="C")
    bench.answer("E077\r", "Zoe Adahl> ")
    assert bench.leave() == 0
    bench = Bench(shop, "scan")
    bench.answer("E077\r", "Zoë Ådahl> ")
    assert bench.leave() == 0


# ---------------------------------------------------------------- keys


def test_press__cautions_told_once(shop):
    bench = Bench(shop, "scan")
    bench.answer("OP000001F\r", "Nora Tindle> ")
    assert "lock out the press" in bench.answer("P1-5\r", "> ")
    assert "lock out" not in bench.answer("P1-6\r", "> ")
    assert bench.leave() == 0


def test_answer__a_line_and_what_is_to_be_known_below_it(shop):
    bench = Bench(shop, "scan")
    assert "follow the press maker's manual" in " ".join(bench.answer("W1\r", "no badge, to W1> ").split())
    assert "handling" not in bench.answer("A1-3\r", "no badge, to A1-3> ")
    assert bench.answer("AN0000269\r", "> ") == (
        "AN0000269\nAN000026-9  at A1-3  anilox roll, 472.441/cm, 1.674003cm3/m2 when new, face\n"
        "            330mm\n  caution: was at A1-3 already; still on hold: scored band, to be looked at\nno badge, to A1-3"
    )
    assert bench.answer("S1\r", "> ").startswith(
        "S1\n\arefused: place is a supplier: S1\n  caution: A1-3 no longer stands\n  What goes to a supplier is sent"
    )
    assert bench.leave() == 0


def test_empty_lines__do_nothing(shop):
    bench = Bench(shop, "scan")
    assert bench.answer("\r", NOBODY) == "\n"
    assert bench.answer("\t", NOBODY) == "\n"
    assert bench.answer("\r\n", NOBODY) == "\n"
    assert asked(shop, "SELECT count(*) FROM ledger") == [(490,)]
    assert bench.leave() == 0


def test_typed_by_hand__edited(shop):
    bench = Bench(shop, "scan")
    bench.answer("R1-3", "R1-3")
    bench.answer("\x7f\x7f\x7f\x7f", "\b \b" * 4)
    bench.answer("nonesuch\x15C1\x1b[D\x1b[3~\r", "no badge, to C1> ")
    assert bench.answer("PC00002é\x7f5-1\r", "> ").count("from R1-3 to C1") == 1
    assert bench.leave(CTRL_D) == 0


def test_ctrl_c__gives_up_the_line_alone(shop):
    bench = Bench(shop, "scan")
    bench.answer("C1\rPC00002", "no badge, to C1> PC00002")
    bench.answer(CTRL_C, "^C\r\nno badge, to C1> ")
    bench.answer("PC0000251\r", "no badge, to C1> ")
    assert bench.leave() == 0
    assert movements(shop, 490) == [("put", "PC0000251", "R1-3", "C1")]


def test_line_without_end__refused(shop):
    bench = Bench(shop, "scan")
    for _ in range(5):
        bench.answer("A" * 1000, "A" * 10)
    assert "refused: line is longer than 4096 bytes, it is no scan\n" in bench.answer("\r", NOBODY)
    bench.answer("C1\r", "no badge, to C1> ")
    assert bench.leave() == 0


# ---------------------------------------------------------------- leaving and coming back


def test_from_the_console__typed_ahead_of_both__nothing_lost(shop):
    bench = Bench(shop, starts=PROMPT)
    bench.send("scan\r" + BADGE + "\rC1\rPC0000251\rquit\rshow PC0000251\rscan\r\tR1-3\tPC0000260\rquit\r")
    bench.until(PROMPT, 4)
    shown = bench.shown()
    assert "PC000025-1  from R1-3 to C1  " in shown and "in cart 1 (C1)\n" in shown and "PC000026-0  at R1-3  " in shown
    assert bench.leave() == 0
    history = (shop / ".local" / "state" / "toothrack" / "history").read_text(encoding="utf-8")
    assert history == "scan\nshow PC0000251\nscan\nquit\n" or history == "scan\nquit\n"


def test_what_waits__said_on_leaving(shop):
    bench = Bench(shop, "scan")
    bench.answer("PC0000251\r", "PC000025-1> ")
    assert bench.leave() == 0
    assert "refused: not moved, no place was scanned: PC000025-1\n" in bench.shown()


def test_terminal__taken_over_and_given_back(shop):
    bench = Bench(shop, starts=PROMPT)
    of_console = termios.tcgetattr(bench.child.child_fd)
    bench.answer("scan\r", NOBODY)
    mode = termios.tcgetattr(bench.child.child_fd)
    assert mode[3] & (termios.ICANON | termios.ECHO | termios.IEXTEN) == 0 and mode[3] & termios.ISIG
    assert mode[0] & (termios.ICRNL | termios.INLCR | termios.IGNCR | termios.IXON) == 0
    bench.answer("quit\r", PROMPT)
    assert termios.tcgetattr(bench.child.child_fd) == of_console
    assert bench.leave() == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_told_to_end__ends_and_gives_the_terminal_back(shop, number):
    for words, starts in ((["scan"], NOBODY), ([], PROMPT)):
        bench = Bench(shop, *words, starts=starts)
        if not words:
            bench.answer("scan\r", NOBODY)
        bench.answer("PC00002", "PC00002")
        bench.child.kill(number)
        assert bench.leave("") == 0
        assert "PC00002\n" in bench.shown()
        assert given_back(bench)


@pytest.mark.parametrize("number", [signal.SIGSEGV, signal.SIGABRT, signal.SIGQUIT])
def test_fault__gives_the_terminal_back(shop, number):
    bench = Bench(shop, "scan")
    bench.child.kill(number)
    bench.leave("")
    assert bench.child.signalstatus == number or bench.child.exitstatus != 0
    assert given_back(bench)


def given_back(bench):
    return bench.after[3] & USUAL == USUAL


def test_ctrl_z__stops_with_the_terminal_as_it_was__and_goes_on(shop):
    """From a shell, which watches over it; without one nothing could let it go on."""
    bench = Bench(shop, "--norc", "--noediting", "-i", starts="$ ", program="bash", PS1="$ ")
    bench.answer(PROGRAM + " scan\r", NOBODY)
    bench.answer("C1\rPC00002", "no badge, to C1> PC00002")
    bench.answer("\x1a", "$ ")
    assert termios.tcgetattr(bench.child.child_fd)[3] & USUAL == USUAL
    bench.answer("fg\r", "no badge, to C1> PC00002")
    assert "from R1-3 to C1" in bench.answer("51\r", "no badge, to C1> ")
    bench.answer("quit\r", "$ ")
    assert bench.leave("exit\r") == 0


def test_ctrl_z__nobody_to_let_it_go_on__passed_over(shop):
    bench = Bench(shop, "scan")
    bench.answer("PC00002", "PC00002")
    bench.answer("\x1a", NOBODY + "PC00002")
    bench.answer("51\r", "1 waits: PC000025-1> ")
    assert bench.leave() == 0


def until_state(bench, state):
    end = time.monotonic() + SECONDS
    while time.monotonic() < end:
        bench.look(0.01)
        with open(f"/proc/{bench.child.pid}/stat", encoding="ascii") as file:
            if file.read().rpartition(")")[2].split()[0] == state:
                return
    raise AssertionError("not " + state)


def test_stopped_and_resumed__goes_on(shop):
    bench = Bench(shop, "scan")
    bench.answer("C1\rPC00002", "no badge, to C1> PC00002")
    bench.child.kill(signal.SIGSTOP)
    until_state(bench, "T")
    # Scanned while it is stopped.
    bench.send("51\r")
    bench.child.kill(signal.SIGCONT)
    bench.until("PC000025-1  from R1-3 to C1")
    assert bench.leave() == 0


# ---------------------------------------------------------------- elsewhere than on the terminal


def test_answers_to_a_file__prompt_and_refusals_stay_on_the_terminal(shop):
    bench = Bench(shop, starts="$ ", program="/bin/sh", PS1="$ ")
    bench.answer(f"{PROGRAM} scan >answers\r", NOBODY)
    bench.send("C1\rPC0000251\rnonesuch\r")
    bench.until("nothing was recorded")
    bench.answer("quit\r", "$ ")
    assert BELL in bench.shown()
    assert (shop / "answers").read_text(encoding="utf-8") == (
        "C1 (cart 1): tools scanned now go there\n"
        "PC000025-1  from R1-3 to C1  plate cylinder, 96 teeth 1/8cp, face 330mm, geared\n"
    )
    shown = bench.shown()
    assert "tag not known: nonesuch\nNothing on record has it" in shown and "from R1-3" not in shown

"""Long answers go through the user's PAGER, on a terminal only.

TOOTHRACK names the program (build/toothrack).
"""
import os
import signal
import subprocess
import time

import pexpect
import pytest

from person import CTRL_C, ESCAPE, PROGRAM, Person, environment

# Shows what it was given, marked, so that a test sees that it went through it.
MARKER = "sed s/^/PAGED:/"


def alone(folder, *arguments, rows=20, **more):
    """The answer of one command on a terminal of so many lines."""
    child = pexpect.spawn(
        PROGRAM,
        list(arguments),
        cwd=str(folder),
        env=environment(folder, **more),
        dimensions=(rows, 100),
        timeout=20,
        encoding="utf-8",
    )
    child.expect(pexpect.EOF)
    child.close()
    return child.exitstatus, ESCAPE.sub("", child.before).replace("\r", "")


def plain(folder, *arguments):
    return subprocess.run([PROGRAM, *arguments], env=environment(folder), stdout=subprocess.PIPE, text=True, check=True).stdout


def test_long_answer__paged_whole(tmp_path):
    status, answer = alone(tmp_path, "help", PAGER=MARKER)
    assert status == 0
    expected = plain(tmp_path, "help")
    paged = [line for line in answer.split("\n") if line]
    assert all(line.startswith("PAGED:") for line in paged)
    assert paged[0].removeprefix("PAGED:") == expected.split("\n", maxsplit=1)[0]
    assert sum("quit " in line for line in paged) == 1


def test_long_answer__in_the_console__paged(tmp_path):
    person = Person(tmp_path, PAGER=MARKER, LINES="20")
    assert "PAGED:toothrack [options]" in person.line("help")
    assert person.line("calc volume volume=4bcm") == "volume  6.2cm3/m2  4bcm\n"
    assert person.leave() == 0


@pytest.mark.parametrize("more", [{}, {"PAGER": ""}])
def test_no_pager__no_paging(tmp_path, more):
    status, answer = alone(tmp_path, "help", rows=5, **more)
    assert status == 0
    assert answer.startswith("toothrack [options]")


def test_answer_that_fits__not_paged(tmp_path):
    lines = plain(tmp_path, "help", "quit").count("\n")
    for rows, paged in ((lines + 1, False), (lines, True)):
        _, answer = alone(tmp_path, "help", "quit", rows=rows, PAGER=MARKER)
        assert ("PAGED:" in answer) == paged


def test_pipe__never_paged(tmp_path):
    done = subprocess.run(
        [PROGRAM, "help"], env=environment(tmp_path, PAGER=MARKER, LINES="5"), stdout=subprocess.PIPE, text=True, check=True
    )
    assert "PAGED:" not in done.stdout


def test_json_and_csv__paged_too(tmp_path):
    for form in ("--json", "--csv"):
        status, answer = alone(tmp_path, "help", form, rows=8, PAGER=MARKER)
        assert status == 0
        assert answer.startswith("PAGED:")


def test_left_early__no_fault(tmp_path):
    status, answer = alone(tmp_path, "help", PAGER="head -n 1")
    assert status == 0
    assert answer == "toothrack [options] [COMMAND [WORD | key=value]...]\n"
    person = Person(tmp_path, PAGER="true", LINES="10")
    assert person.line("help") == ""
    assert person.line("calc volume volume=4bcm") == "volume  6.2cm3/m2  4bcm\n"
    assert person.leave() == 0


@pytest.mark.parametrize("pager", ["nonesuch-pager", "nonesuch-pager -R | cat; exit 127", "/etc/passwd"])
def test_cannot_run__printed_plainly_with_a_sentence(tmp_path, pager):
    person = Person(tmp_path, PAGER=pager, LINES="10")
    answer = person.line("help")
    assert "pager cannot be run: " + pager + "\ntoothrack [options]" in answer
    assert "help COMMAND says more" in answer
    assert person.leave() == 0


def test_cannot_run__nothing_but_our_sentence(tmp_path):
    status, answer = alone(tmp_path, "help", PAGER="nonesuch-pager")
    assert status == 0
    assert answer.startswith("toothrack: pager cannot be run: nonesuch-pager\ntoothrack [options]")


def test_child__signals_as_a_shell_starts_programs(tmp_path):
    show = "grep -E '^Sig(Blk|Ign)' /proc/self/status"
    person = Person(tmp_path, PAGER=show, LINES="10")
    values = dict(line.split(":\t") for line in person.line("help").strip().split("\n"))
    assert int(values["SigBlk"], 16) == 0
    for number in (signal.SIGINT, signal.SIGQUIT, signal.SIGPIPE, signal.SIGTERM):
        assert not int(values["SigIgn"], 16) & 1 << (number - 1)
    assert person.leave() == 0


def test_ctrl_c__is_for_the_pager(tmp_path):
    person = Person(tmp_path, PAGER="trap 'echo caught; exit' INT; echo ready; while :; do sleep 0.1; done", LINES="10")
    person.type("help\r")
    person.sees("ready")
    person.type(CTRL_C)
    person.sees("caught")
    # Nothing of it reaches the console: one prompt, and the line typed there stands.
    person.until_prompt()
    person.type("calc volume")
    time.sleep(0.2)
    assert person.line(" volume=4bcm") == "volume  6.2cm3/m2  4bcm\n"
    assert person.leave() == 0


def test_less__set_for_colours_only_where_not_set(tmp_path):
    for more, expected in (({}, "R"), ({"LESS": "FX"}, "FX"), ({"LESS": ""}, "")):
        _, answer = alone(tmp_path, "help", PAGER='echo "LESS=[$LESS]"; cat >/dev/null', **more)
        assert answer == f"LESS=[{expected}]\n"


def test_colour__as_on_the_terminal(tmp_path):
    child = pexpect.spawn(PROGRAM, ["help"], env=environment(tmp_path, PAGER="cat"), dimensions=(10, 100), encoding="utf-8")
    child.expect(pexpect.EOF)
    assert "\x1b[1mtoothrack [options]" in child.before


@pytest.mark.parametrize(
    "pager, less, marked",
    [("more", None, False), ("./more -d", None, False), ("less", None, True), ("less -R", "", True), ("less", "FX", False), ("less", "FRX", True)],
)
def test_colour__left_out_where_the_pager_takes_it_for_text(tmp_path, pager, less, marked):
    for name in ("more", "less"):
        (tmp_path / name).write_text("#!/bin/sh\ncat\n", encoding="utf-8")
        (tmp_path / name).chmod(0o755)
    more = {"PAGER": pager, "PATH": f"{tmp_path}:{os.environ['PATH']}"} | ({} if less is None else {"LESS": less})
    child = pexpect.spawn(PROGRAM, ["help"], cwd=str(tmp_path), env=environment(tmp_path, **more), dimensions=(10, 100), encoding="utf-8")
    child.expect(pexpect.EOF)
    assert ("\x1b[1mtoothrack [options]" in child.before) == marked
    assert ("\x1b" in child.before) == marked


def test_real_pager__leaves_the_console_usable(tmp_path):
    if not any(os.access(os.path.join(folder, "less"), os.X_OK) for folder in os.environ["PATH"].split(":")):
        pytest.skip("less is not here")
    person = Person(tmp_path, PAGER="less", LINES="10")
    person.type("help\r")
    person.sees(":")
    person.type("q")
    person.until_prompt()
    assert person.line("calc volume volume=4bcm") == "volume  6.2cm3/m2  4bcm\n"
    assert person.leave() == 0

"""A working session of each of the three users, typed into a terminal of 80 x 24 and read screen by screen.

TOOTHRACK_UPDATE=1 writes the screens as they are now into tests/terminal/screens. Then read them, as the person would: is
each line right and clear, does the figure that matters come first, is anything missing that the person needs next?

A session is a file tests/terminal/sessions/NAME.txt: `now MOMENT WORDS` starts the program at that moment with these
options, `# …` says what the person wants, each other line is typed. One that ends with `<Tab>` is not sent but given up. Screens
are cleared before each line (Ctrl-L), so that one holds a line and its answer; a longer answer goes through $PAGER.

TOOTHRACK names the program (build/toothrack).
"""
import os
import pathlib
import re
import subprocess

import pytest

from person import PROGRAM, environment
from screen import Screen

HERE = pathlib.Path(__file__).resolve().parent
USERS = ["clerk", "planner", "maintenance"]
# Between two pages of a long answer.
RULE = "+" + "-" * 81 + "\n"
MADE = "2026-12-01T08:00:00Z"


def around(folder, now):
    """The environment of the program: a clock that stands, names of files that are the same everywhere."""
    return environment(folder, TOOTHRACK_NOW=now, TOOTHRACK_DB="shop.db", PAGER="more", LESS="", LANG="C.UTF-8")


def steps(user):
    """What is done: pairs of a word and what follows it."""
    for line in (HERE / "sessions" / (user + ".txt")).read_text(encoding="utf-8").splitlines():
        first, _, rest = line.partition(" ")
        if first in ("now", "#"):
            yield first, rest
        elif line:
            yield "line", line


def shown(typed, pages):
    """One typed line and its screens. The number of the terminal is not always the same; its columns are."""
    told = ["\n> " + typed + "\n"]
    for page in pages:
        text = re.sub(r"pts/\d+", lambda found: "pts/#".ljust(len(found.group())), "\n".join(page))
        text = re.sub(r"\n\n\n+\(END\)$", "\n\n(END)", text)
        told += [("| " + line).rstrip() + "\n" for line in text.split("\n")] + [RULE if page is not pages[-1] else ""]
    return "".join(told)


def session(user, folder, columns=80, lines=24, **more):
    """The screens of a session as one text."""
    folder = pathlib.Path(folder)
    subprocess.run([PROGRAM, "demo"], env=around(folder, MADE), cwd=folder, check=True, stdout=subprocess.PIPE)
    told, screen = [], None
    try:
        for what, text in steps(user):
            if what == "now":
                if screen is not None:
                    screen.close()
                moment, *options = text.split()
                screen = Screen([PROGRAM, *options], folder, around(folder, moment) | more, columns, lines)
                told.append("=== %s, %s\n" % (moment, " ".join(options)))
                screen.until_prompt()
            elif what == "#":
                told.append("\n# " + text + "\n")
            elif text == "quit":
                screen.leave(text)
                told.append("\n> quit\n")
            elif text.endswith("<Tab>"):
                told.append(shown(text, screen.keys(text.removesuffix("<Tab>") + "\t")))
            else:
                told.append(shown(text, screen.line(text)))
    finally:
        if screen is not None:
            screen.close()
    return "".join(told)


@pytest.mark.parametrize("user", USERS)
def test_session__screen_by_screen(tmp_path, user):
    path = HERE / "screens" / (user + ".txt")
    seen = session(user, tmp_path)
    if os.environ.get("TOOTHRACK_UPDATE"):
        path.write_text(seen, encoding="utf-8")
    assert seen == path.read_text(encoding="utf-8")

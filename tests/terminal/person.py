"""A person at a keyboard, played by pexpect."""
import os
import pathlib
import re

import pexpect

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
PROMPT = "toothrack> "
ANY_PROMPT = re.compile(r"toothrack(?:, (\d+) at risk)?> ")
SECONDS = 20
CTRL_C = "\x03"
CTRL_D = "\x04"
CTRL_R = "\x12"
UP = "\x1b[A"
ESCAPE = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")


def environment(folder, **more):
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    return kept | {
        "HOME": str(folder),
        "TOOTHRACK_DB": str(folder / "shop.db"),
        "TOOTHRACK_NOW": "2026-12-01T08:00:00Z",
        "LOGNAME": "toolroom",
        "LC_ALL": "C.UTF-8",
        "TERM": "xterm",
        "TZ": "UTC",
        "INPUTRC": "/dev/null",
    } | more


class Person:
    """Types, and reads what comes up to the next prompt."""

    def __init__(self, folder, *arguments, columns=100, **more):
        self.child = pexpect.spawn(
            PROGRAM,
            list(arguments),
            cwd=str(folder),
            env=environment(folder, **more),
            dimensions=(50, columns),
            timeout=SECONDS,
            encoding="utf-8",
        )
        self.child.delaybeforesend = 0.05
        self.at_risk = 0
        self.greeting = self.until_prompt()

    def until_prompt(self):
        """What stands before the next prompt; `at_risk` is the number that this shows, 0 for none."""
        self.child.expect(ANY_PROMPT)
        self.at_risk = int(self.child.match.group(1) or 0)
        return self.child.before

    def type(self, text):
        self.child.send(text)

    def line(self, text):
        """The answer to a line, without the line itself and what colours it."""
        self.type(text + "\r")
        raw = self.until_prompt()
        return ESCAPE.sub("", raw.partition("\n")[2]).replace("\r", "")

    def sees(self, text):
        self.child.expect_exact(text)

    def leave(self):
        self.type("quit\r")
        self.child.expect(pexpect.EOF)
        self.child.close()
        return self.child.exitstatus

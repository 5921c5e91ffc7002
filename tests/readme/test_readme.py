"""README.md tells the truth: its session and its list of commands are what the program answers.

    TOOTHRACK=build/toothrack /usr/bin/python3 tests/readme/test_readme.py --write

puts the real output in.
"""

import os
import re
import subprocess
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
README = os.path.join(TOP, "README.md")
PROGRAM = os.path.abspath(os.environ.get("TOOTHRACK", os.path.join(TOP, "build", "toothrack")))
SESSION = """\
demo
check J2603 press=P1
check J2611
choices J2603
put PC000026-0 at=C1
hold AN000020-L reason="scored band"
show an000020l
clear AN000020-L
calc repeat teeth=96 pitch=1/8cp
set buildup
""".splitlines()


def answer(arguments, line, home):
    environment = {key: value for key, value in os.environ.items() if key != "TOOTHRACK_DB"}
    environment.update(TZ="UTC", TOOTHRACK_NOW="2026-12-01T08:00:00Z", LOGNAME="clerk", HOME=home)
    done = subprocess.run([PROGRAM] + arguments, input=line, env=environment, capture_output=True,
                          encoding="utf-8", timeout=60, check=False)
    return done.stdout + done.stderr


def session():
    """The lines typed, each with its whole answer."""
    with tempfile.TemporaryDirectory() as home:
        store = os.path.join(home, "first.db")
        return "".join("toothrack> %s\n%s" % (line, answer(["--db", store], line + "\n", home)) for line in SESSION)


def commands():
    """The list of commands, as help makes it from the table."""
    with tempfile.TemporaryDirectory() as home:
        told = answer(["help"], "", home)
    return "\n".join(line[2:] for line in told.split("\n\n")[1].splitlines()) + "\n"


def block(text, name):
    return re.search(r"^```%s\n(.*?)^```$" % name, text, re.S | re.M).group(1)


def read():
    with open(README, encoding="utf-8") as file:
        return file.read()


def test_session_is_what_the_program_answers():
    assert block(read(), "session") == session()


def test_commands_are_those_of_the_table():
    assert block(read(), "commands") == commands()


def test_first_the_job_then_the_two_commands():
    text = read()
    assert text.index("make demo") < text.index("make check") < text.index("## ")


def write():
    text = read()
    for name, made in (("session", session()), ("commands", commands())):
        text = text.replace("```%s\n%s```" % (name, block(text, name)), "```%s\n%s```" % (name, made))
    with open(README, "w", encoding="utf-8") as file:
        file.write(text)


if __name__ == "__main__":
    if sys.argv[1:] != ["--write"]:
        sys.exit(__doc__)
    write()

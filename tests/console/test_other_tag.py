"""A number that the shop already had may not be a command's name: of those that are there, and of those to come."""

import os
import pathlib
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()

# The whole vocabulary, and the cards of the bench.
WORDS = """
new edit remove show find import export put take send receive hold clear scrap scan undo count history tag check choices book unbook
at_risk ahead earliest start finish kit changeover sequence reading gauge cleaned dirty reblade regrind wear due calc set backup restore
verify help quit demo HOME HOLD DIRTY CLEANED COUNT UNDO SHOW YES DONE
""".split()


def answer(folder, *words):
    environment = dict(os.environ, TZ="UTC", TOOTHRACK_NOW="2026-12-01T08:00:00Z", HOME=str(folder), LOGNAME="clerk")
    done = subprocess.run([PROGRAM, "--db", folder / "shop.db", *words], env=environment, capture_output=True, encoding="utf-8",
                          timeout=60, check=False)
    return done.returncode, done.stdout + done.stderr


def commands(folder):
    told = answer(folder, "help")[1].split("\n\n")[1]
    return [line.split()[0] for line in told.splitlines() if line.strip()]


def test_commands_are_told(tmp_path):
    assert {"show", "put", "set"} <= set(commands(tmp_path))


@pytest.mark.parametrize("kind", ["cylinder", "blade"])
def test_no_command_is_an_other_tag(tmp_path, kind):
    for word in sorted(set(WORDS) | set(commands(tmp_path))):
        code, said = answer(tmp_path, "new", kind, f"other_tag={word}")
        assert code == 2, word
        assert said.startswith(f"toothrack: other_tag looks like a command: {word}\n"), said

"""Sessions as typed, compared whole: every tests/dialogues/*.txt is one test.

A dialogue is read like this:

    # Comments stand at the head.
    # shop: demo                     the demo shop is loaded first
    file rolls.csv <<END             makes a file in the folder the session runs in
    tag,name
    END
    > import anilox rolls.csv        typed after `toothrack --db shop.db`
    > scan < morning.txt             the same with a file as standard input
    clock 2026-10-05T08:00:00Z       the clock stands at another moment from here on
    ...                              the whole answer, standard output and error as a person sees them
    [exit 2]                         where the exit is not 0

Blank lines before the next step are for the reader. The clock stands at 2026-12-01T08:00:00Z unless it is set.

TOOTHRACK names the program (build/toothrack). TOOTHRACK_UPDATE=1 writes down what the program says now.
"""
import difflib
import os
import pathlib
import re
import shlex
import shutil
import subprocess

import pytest

HERE = pathlib.Path(__file__).resolve().parent
TOP = HERE.parents[1]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
UPDATE = os.environ.get("TOOTHRACK_UPDATE") == "1"
DIALOGUES = sorted(HERE.glob("*.txt"))
SECONDS_MOST = 60

# The order in which a shop's files come: what is named stands before what names it.
KINDS = (
    "operator place press job cylinder gear anilox blade die magnetic_cylinder sleeve mandrel screen_unit station cut reading"
).split()

FILE_LINE = re.compile(r"file (\S+) <<(\S+)$")
CLOCK_LINE = re.compile(r"clock (\S+)$")
CLOCK = "2026-12-01T08:00:00Z"


def environment(folder, clock):
    """What the program sees: nothing of the person who runs the tests but the way to programs and the sanitizers."""
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    return kept | {
        "HOME": str(folder),
        "XDG_DATA_HOME": str(folder / "data"),
        "XDG_CONFIG_HOME": str(folder / "config"),
        "XDG_STATE_HOME": str(folder / "state"),
        "XDG_CACHE_HOME": str(folder / "cache"),
        "TMPDIR": str(folder),
        "LOGNAME": "toolroom",
        "USER": "toolroom",
        "LC_ALL": "C.UTF-8",
        "TERM": "dumb",
        "TZ": "UTC",
        "TOOTHRACK_NOW": clock,
        "NO_COLOR": "1",
        "COLUMNS": "80",
    }


def run(folder, words, clock=CLOCK):
    """The answer as a person sees it, lines without trailing blank ones, the exit at the end where it is not 0."""
    typed = b""
    if words[-2:-1] == ["<"]:
        typed = (folder / words[-1]).read_bytes()
        words = words[:-2]
    done = subprocess.run(
        [PROGRAM, "--db", "shop.db", *words],
        cwd=folder,
        env=environment(folder, clock),
        input=typed,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        timeout=SECONDS_MOST,
        check=False,
    )
    # A person does not see the CR that ends a line of CSV.
    answer = done.stdout.decode("utf-8", "backslashreplace").replace(str(folder), "SCRATCH").replace("\r\n", "\n")
    lines = answer.split("\n")
    while lines and lines[-1] == "":
        lines.pop()
    if done.returncode != 0:
        lines.append(f"[exit {done.returncode}]")
    return lines


def begins_step(line):
    return line.startswith("> ") or FILE_LINE.match(line) or CLOCK_LINE.match(line)


class Dialogue:
    """The head's lines, then steps: a file to make, or a line typed with its answer."""

    def __init__(self, path):
        lines = path.read_text(encoding="utf-8").split("\n")
        start = 0
        while start < len(lines) and (lines[start].startswith("#") or lines[start] == ""):
            start += 1
        self.head = lines[:start]
        self.demo = "# shop: demo" in self.head
        self.steps = []
        self._read_steps(path, lines[start:])

    def _read_steps(self, path, lines):
        at = 0
        while at < len(lines):
            line = lines[at]
            file = FILE_LINE.match(line)
            at += 1
            if file:
                end = lines.index(file[2], at)
                self.steps.append(("file", line, lines[at : end + 1]))
                at = end + 1
            elif CLOCK_LINE.match(line):
                self.steps.append(("clock", line, []))
            elif line.startswith("> "):
                answer = at
                while at < len(lines) and not begins_step(lines[at]):
                    at += 1
                self.steps.append(("line", line, stripped(lines[answer:at])))
            elif line != "":
                raise ValueError(f"{path.name}: neither `> ` nor `file NAME <<END`: {line}")
        if not any(step[0] == "line" for step in self.steps):
            raise ValueError(f"{path.name}: nothing is typed")


def stripped(lines):
    """Without the blank lines that part one step from the next."""
    lines = list(lines)
    while lines and lines[-1] == "":
        lines.pop()
    return lines


def written(head, steps):
    """The dialogue's text: a blank line between steps."""
    return "\n".join(head) + ("\n" if head else "") + "\n\n".join("\n".join([first, *rest]) for _, first, rest in steps) + "\n"


def play(dialogue, folder):
    """The steps as the program answers them now."""
    steps = []
    clock = CLOCK
    for sort, first, rest in dialogue.steps:
        if sort == "clock":
            clock = CLOCK_LINE.match(first)[1]
            steps.append((sort, first, rest))
        elif sort == "file":
            name = FILE_LINE.match(first)[1]
            path = (folder / name).resolve()
            assert path.is_relative_to(folder.resolve()), f"file outside the scratch folder: {name}"
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text("".join(line + "\n" for line in rest[:-1]), encoding="utf-8")
            steps.append((sort, first, rest))
        else:
            steps.append((sort, first, run(folder, shlex.split(first[2:]), clock)))
    return steps


@pytest.fixture(scope="session")
def demo_shop(tmp_path_factory):
    """A folder that holds the demo shop, imported once a test run."""
    folder = tmp_path_factory.mktemp("demo")
    files = {path.stem: path for path in (TOP / "src" / "demo").glob("*.csv")}
    assert files, "src/demo holds no CSV"
    assert set(files) <= set(KINDS), f"src/demo holds what is no kind: {sorted(set(files) - set(KINDS))}"
    for kind in (kind for kind in KINDS if kind in files):
        answer = run(folder, ["import", kind, str(files[kind])])
        assert not answer or not answer[-1].startswith("[exit"), f"demo {kind}:\n" + "\n".join(answer)
    return folder


def test_there_are_dialogues():
    assert DIALOGUES


@pytest.mark.parametrize("path", DIALOGUES, ids=lambda path: path.stem)
def test_dialogue(path, tmp_path, request):
    dialogue = Dialogue(path)
    if dialogue.demo:
        for file in request.getfixturevalue("demo_shop").glob("shop.db*"):
            shutil.copy2(file, tmp_path)
    head = stripped(dialogue.head) + ([""] if dialogue.head and dialogue.head[-1] == "" else [])
    expected = written(head, dialogue.steps)
    answered = written(head, play(dialogue, tmp_path))
    if answered == expected:
        return
    if UPDATE:
        path.write_text(answered, encoding="utf-8")
        return
    difference = difflib.unified_diff(
        expected.splitlines(), answered.splitlines(), f"{path.name}, expected", f"{path.name}, answered", lineterm="", n=6
    )
    pytest.fail("\n".join(difference), pytrace=False)

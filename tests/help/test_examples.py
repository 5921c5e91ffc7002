"""Every example that help shows works as it stands on the demo shop.

By the table of commands, through `help --json`: a command that is new is tried without a line here. TOOTHRACK names the
program (build/toothrack).
"""
import json
import os
import pathlib
import shlex
import shutil
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
SECONDS_MOST = 60
# On whatever day somebody reads help: before the demo's jobs run, and long after.
DAYS = ("2026-11-26T08:00:00Z", "2026-12-01T08:00:00Z", "2034-12-31T08:00:00Z")

# Files that a reader of help has when an example reads them.
FILES = {
    "cylinders.csv": "teeth,pitch,face\n96,1/8cp,330mm\n",
    "rolls.csv": "other_tag,weight\nV-11,15.5kg\n",
}


def environment(folder, now):
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    return kept | {
        "HOME": str(folder),
        "LC_ALL": "C.UTF-8",
        "LOGNAME": "toolroom",
        "TERM": "dumb",
        "TZ": "UTC",
        "TOOTHRACK_DB": "shop.db",
        "TOOTHRACK_NOW": now,
    }


def run(folder, *words, now=DAYS[0]):
    return subprocess.run(
        [PROGRAM, *words],
        cwd=folder,
        env=environment(folder, now),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=SECONDS_MOST,
        check=False,
    )


def helped(*words):
    done = run(".", "help", *words, "--json")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def all_examples():
    """Of every command, and of every topic of a command that has topics."""
    for line in helped():
        command = helped(line["name"])
        for example in command["examples"]:
            yield line["name"], example
        for topic in command.get("topics", []):
            yield f"{line['name']} {topic}", helped(topic)["example"]


@pytest.fixture(name="demo", scope="module", params=DAYS, ids=lambda now: now[:10])
def demo_shop(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    done = run(folder, "demo", now=request.param)
    assert done.returncode == 0, done.stderr
    return folder, request.param


@pytest.mark.parametrize("example", [pytest.param(line, id=f"{name}: {line}") for name, line in all_examples()])
def test_example__works_as_it_stands(demo, tmp_path, example):
    made, now = demo
    folder = shutil.copytree(made, tmp_path / "shop")
    for name, content in FILES.items():
        (folder / name).write_text(content, encoding="utf-8")
    words = shlex.split(example)
    if words[0] == "restore":
        shutil.copy(folder / "shop.db", folder / words[1])
    done = run(folder, *words, now=now)
    assert done.returncode in (0, 1), done.stderr
    # Nothing is scanned here.
    assert done.stdout or done.stderr or words in (["quit"], ["scan"])


def test_examples__every_command_has_some():
    with_examples = {name for name, _ in all_examples()}
    assert {line["name"] for line in helped()} <= with_examples

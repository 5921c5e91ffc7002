"""The program at work on one generated shop: everything in one process, a command a line."""

import contextlib
import csv
import json
import os
import sqlite3
import subprocess

from shop import KINDS, TOOL_KINDS

CHECKOUT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
PROGRAM = os.environ.get("TOOTHRACK", os.path.join(CHECKOUT, "build", "toothrack"))
NOW = "2026-12-01T08:00:00Z"


class Broken(Exception):
    """The program did not answer as a program should; says how."""


def environment():
    kept = {key: value for key, value in os.environ.items() if key != "TOOTHRACK_DB"}
    kept.update(TZ="UTC", TOOTHRACK_NOW=NOW)
    return kept


def call(words, text=""):
    return subprocess.run([PROGRAM] + words, input=text, env=environment(), capture_output=True,
                          encoding="utf-8", timeout=60, check=False)


def lines_of(folder, name):
    path = os.path.join(folder, name)
    if not os.path.exists(path):
        return []
    with open(path, encoding="utf-8") as file:
        return file.read().split("\n")[:-1]


def tools_of(folder):
    """The other tags of all tools, by which the files name them."""
    tools = []
    for kind in TOOL_KINDS:
        path = os.path.join(folder, kind + ".csv")
        if os.path.exists(path):
            with open(path, newline="", encoding="utf-8") as file:
                tools += [row["other_tag"] for row in csv.DictReader(file)]
    return tools


def commands(folder):
    """The lines typed: imports and settings, a `show` of every tool (to learn its tag), checks."""
    lines = ["import %s %s" % (kind, os.path.join(folder, kind + ".csv")) for kind in KINDS
             if os.path.exists(os.path.join(folder, kind + ".csv"))]
    lines += lines_of(folder, "settings.txt")
    shows = ["show %s" % tool for tool in tools_of(folder)]
    return lines, shows, lines_of(folder, "checks.txt")


def json_values(text):
    """The JSON values that stand one after another in a text."""
    decoder, at, found = json.JSONDecoder(), 0, []
    while text[at:].strip():
        at += len(text[at:]) - len(text[at:].lstrip())
        value, at = decoder.raw_decode(text, at)
        found.append(value)
    return found


def take(folder, store):
    """Marks tools as taken for a job in the store itself: no command of the check's own does it."""
    lines = lines_of(folder, "takes.txt")
    if not lines:
        return
    with contextlib.closing(sqlite3.connect(store)) as db, db:
        for _, tool, job in (line.split() for line in lines):
            db.execute("UPDATE tool SET taken_for = (SELECT id FROM job WHERE number = ?)"
                       " WHERE id = (SELECT tool FROM other_tag WHERE code = ?)",
                       (job.removeprefix("job="), tool))


def trends(folder):
    """What the program tells of each roll that was read: falls, rises, none, too_few; by its other tag."""
    with contextlib.closing(sqlite3.connect(os.path.join(folder, "shop.db"))) as db:
        return dict(db.execute("SELECT o.code, w.says FROM wear w JOIN other_tag o ON o.tool = w.tool"))


def typed(store, lines):
    """What the lines answer, one JSON value each, and the exit status."""
    done = call(["--db", store, "--json"], "\n".join(lines) + "\n")
    if done.stderr.strip():
        raise Broken("standard error: %s" % done.stderr.strip())
    try:
        found = json_values(done.stdout)
    except ValueError as error:
        raise Broken("not JSON (%s): %s" % (error, done.stdout[-2000:])) from error
    if len(found) != len(lines):
        raise Broken("%d answers to %d commands, status %d: %s"
                     % (len(found), len(lines), done.returncode, done.stdout[-2000:]))
    return found, done.returncode


def answers(folder, by_argument=False):
    """[(check's words, answer)] and the tags; `by_argument`: the first check also as its own call."""
    before, shows, checks = commands(folder)
    store = os.path.join(folder, "shop.db")
    found, _ = typed(store, before + shows)
    tags = {answer["tag"]: answer["other_tag"] for answer in found[len(before):]}
    take(folder, store)
    found, returned = typed(store, checks)
    status = int(any(answer.get("verdict") == "short" for answer in found))
    if returned != status:
        raise Broken("exit status %d, expected %d" % (returned, status))
    if by_argument:
        call_alone(store, checks[0], found[0])
    return [(line.split()[1:], answer) for line, answer in zip(checks, found)], tags


def call_alone(store, line, answer):
    """The same check as a call of its own: same answer, and its own exit status."""
    done = call(["--db", store, "--json"] + line.split())
    status = int(answer.get("verdict") == "short")
    if done.returncode != status:
        raise Broken("%s: exit status %d, expected %d: %s" % (line, done.returncode, status, done.stderr))
    if json.loads(done.stdout) != answer:
        raise Broken("%s: answered otherwise when called alone" % line)

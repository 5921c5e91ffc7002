"""The program at work on one generated shop: everything in one process, a command a line."""

import csv
import json
import os
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


def commands(folder):
    """The lines typed: imports, settings, takes, exports (to learn the tags), checks."""
    lines = ["import %s %s" % (kind, os.path.join(folder, kind + ".csv")) for kind in KINDS
             if os.path.exists(os.path.join(folder, kind + ".csv"))]
    lines += lines_of(folder, "settings.txt") + lines_of(folder, "takes.txt")
    lines += ["export %s file=%s" % (kind, os.path.join(folder, "out-%s.csv" % kind))
              for kind in TOOL_KINDS if os.path.exists(os.path.join(folder, kind + ".csv"))]
    return lines, lines_of(folder, "checks.txt")


def json_values(text):
    """The JSON values that stand one after another in a text."""
    decoder, at, found = json.JSONDecoder(), 0, []
    while text[at:].strip():
        at += len(text[at:]) - len(text[at:].lstrip())
        value, at = decoder.raw_decode(text, at)
        found.append(value)
    return found


def tags_of(folder):
    """{tag: other_tag} of all tools, from what was exported."""
    tags = {}
    for kind in TOOL_KINDS:
        path = os.path.join(folder, "out-%s.csv" % kind)
        if os.path.exists(path):
            with open(path, newline="", encoding="utf-8") as file:
                tags.update((row["tag"], row["other_tag"]) for row in csv.DictReader(file))
    return tags


def answers(folder, by_argument=False):
    """[(check's words, answer)] and the tags; `by_argument`: the first check also as its own call."""
    before, checks = commands(folder)
    store = os.path.join(folder, "shop.db")
    done = call(["--db", store, "--json"], "\n".join(before + checks) + "\n")
    if done.stderr.strip():
        raise Broken("standard error: %s" % done.stderr.strip())
    try:
        found = json_values(done.stdout)
    except ValueError as error:
        raise Broken("not JSON (%s): %s" % (error, done.stdout[-2000:])) from error
    if len(found) != len(before) + len(checks):
        raise Broken("%d answers to %d commands, status %d: %s"
                     % (len(found), len(before) + len(checks), done.returncode, done.stdout[-2000:]))
    found = found[len(before):]
    status = int(any(answer.get("verdict") == "short" for answer in found))
    if done.returncode != status:
        raise Broken("exit status %d, expected %d" % (done.returncode, status))
    if by_argument:
        call_alone(store, checks[0], found[0])
    return [(line.split()[1:], answer) for line, answer in zip(checks, found)], tags_of(folder)


def call_alone(store, line, answer):
    """The same check as a call of its own: same answer, and its own exit status."""
    done = call(["--db", store, "--json"] + line.split())
    status = int(answer.get("verdict") == "short")
    if done.returncode != status:
        raise Broken("%s: exit status %d, expected %d: %s" % (line, done.returncode, status, done.stderr))
    if json.loads(done.stdout) != answer:
        raise Broken("%s: answered otherwise when called alone" % line)

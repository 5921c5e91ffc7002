"""What is made from the tables and installed: the manual page, bash's completion, and where they go.

TOOTHRACK names the program (build/toothrack); the others lie in build/.
"""
import json
import os
import pathlib
import re
import shutil
import subprocess

import pexpect
import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
MANUAL = TOP / "build" / "toothrack.1"
COMPLETION = TOP / "build" / "toothrack.bash"


def make(*words):
    """As a person calls it, whatever make runs this test."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("MAKE") and name != "MFLAGS"}
    done = subprocess.run(["make", "--no-print-directory", *words], cwd=TOP, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def files(folder):
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if not path.is_dir())


def helped(*words):
    return json.loads(subprocess.run([PROGRAM, "help", *words, "--json"], stdout=subprocess.PIPE, check=True).stdout)


# ---------------------------------------------------------------- make install


@pytest.mark.parametrize("prefix", [None, "/opt/tool room"])
def test_install__three_files__and_uninstall_removes_them(tmp_path, prefix):
    words = ["DESTDIR=" + str(tmp_path)] + ([] if prefix is None else ["PREFIX=" + prefix])
    root = (prefix or "/usr/local").lstrip("/")
    other = tmp_path / root / "bin" / "other"
    other.parent.mkdir(parents=True)
    other.write_text("not ours", encoding="utf-8")
    make("install", *words)
    assert files(tmp_path) == sorted(
        [
            f"{root}/bin/other",
            f"{root}/bin/toothrack",
            f"{root}/share/bash-completion/completions/toothrack",
            f"{root}/share/man/man1/toothrack.1",
        ]
    )
    program = tmp_path / root / "bin" / "toothrack"
    assert program.stat().st_mode & 0o777 == 0o755
    assert (tmp_path / root / "share/man/man1/toothrack.1").stat().st_mode & 0o777 == 0o644
    assert subprocess.run([program, "--version"], stdout=subprocess.PIPE, check=True).stdout.startswith(b"toothrack ")
    make("uninstall", *words)
    assert files(tmp_path) == [f"{root}/bin/other"]


# ---------------------------------------------------------------- the manual page


def test_manual__macros__known_and_plain():
    page = MANUAL.read_text(encoding="ascii")
    requests = {line.split()[0] for line in page.splitlines() if line.startswith((".", "'"))}
    assert requests <= {".TH", ".SH", ".SS", ".PP", ".TP", ".br", ".nf", ".fi"}
    assert re.match(r'\.TH TOOTHRACK 1 "" "toothrack [0-9.]+"\n\.SH NAME\ntoothrack \\- ', page)
    escapes = set(re.findall(r"\\(\(..|.)", page))
    assert escapes <= {"-", "e", "&", "fB", "fI", "fR", "f", "(aq", "(ga", "(ha", "(ti", "(dq"}
    sections = re.findall(r"^\.SH (.*)$", page, re.M)
    assert sections == (
        "NAME,SYNOPSIS,DESCRIPTION,OPTIONS,COMMANDS,KINDS OF RECORD,EXIT STATUS,ENVIRONMENT,FILES,EXAMPLES,CAUTIONS".split(",")
    )


def test_manual__every_command_and_topic__with_its_examples():
    page = MANUAL.read_text(encoding="ascii")
    plain = page.replace("\\-", "-").replace("\\(aq", "'").replace("\\(dq", '"').replace("\\fB", "").replace("\\fR", "")
    for line in helped():
        assert f"\n.SS {line['name']}\n{line['usage']}\n.br\n{line['summary']}\n" in plain
        command = helped(line["name"])
        for argument in command["arguments"]:
            assert f"\n.TP\n{argument['usage']}\n{argument['meaning']}\n" in plain
        for example in command["examples"]:
            assert f"\ntoothrack {example}\n" in plain
        for topic in command.get("topics", []):
            assert f"\ntoothrack {helped(topic)['example']}\n" in plain


@pytest.mark.parametrize(
    "words",
    [
        ["man", "--warnings", "-l"],
        ["groff", "-man", "-Tutf8", "-ww", "-z"],
        ["mandoc", "-Tlint", "-Wwarning"],
    ],
    ids=lambda words: words[0],
)
def test_manual__formatters__no_warnings(words):
    if shutil.which(words[0]) is None:
        pytest.skip(words[0] + " is not here")
    environment = os.environ | {"MANPAGER": "cat", "LC_ALL": "C.UTF-8", "MANWIDTH": "80"}
    done = subprocess.run([*words, str(MANUAL)], env=environment, capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert done.returncode == 0


# ---------------------------------------------------------------- bash


def pieces(line):
    """A line as bash takes it apart for completion: at blanks, and around = and :."""
    words = []
    for word in line.split(" "):
        words += [piece for piece in re.split(r"([=:]+)", word) if piece] or [""]
    return words


def offered(line, folder=None, breaks=None):
    """What bash would offer at the end of the line."""
    words = line.split(" ") if breaks is not None else pieces(line)
    quoted = " ".join("'" + word + "'" for word in words)
    script = f"""
        source {COMPLETION}
        {'' if breaks is None else f"COMP_WORDBREAKS='{breaks}'"}
        COMP_WORDS=({quoted})
        COMP_CWORD=$((${{#COMP_WORDS[@]}} - 1))
        _toothrack toothrack "${{COMP_WORDS[COMP_CWORD]}}" ''
        printf '%s\\n' "${{COMPREPLY[@]}}"
    """
    done = subprocess.run(
        ["bash", "--norc", "-c", script],
        cwd=folder,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == ""
    return done.stdout.split("\n")[:-1] if done.stdout.strip("\n") else []


@pytest.mark.parametrize(
    "line, words",
    [
        ("toothrack rec", ["receive"]),
        ("toothrack REC", ["receive"]),
        ("toothrack --un", ["--units"]),
        ("toothrack --units ", ["metric", "inch"]),
        ("toothrack --units=i", ["inch"]),
        ("toothrack --db x.db --json put A a", ["at="]),
        ("toothrack new bl", ["blade"]),
        ("toothrack new blade mat", ["material="]),
        ("toothrack new blade material=", ["steel", "coated", "polymer"]),
        ("toothrack new blade material=co", ["coated"]),
        ("toothrack reblade A mat", ["material="]),
        ("toothrack reblade A fa", []),
        ("toothrack new place processes=flexo,cold", ["flexo,cold_foil"]),
        ("toothrack new station register=", ["yes", "no"]),
        ("toothrack calc disto", ["distortion"]),
        ("toothrack calc repeat ", ["teeth=", "pitch="]),
        ("toothrack calc repeat teeth=96 ", ["pitch="]),
        ("toothrack calc distortion sleeve=y", ["yes"]),
        ("toothrack import die x.csv update=", ["yes", "no"]),
        ("toothrack set buildu", ["buildup"]),
        ("toothrack set units ", ["metric", "inch"]),
        ("toothrack set life_over s", ["short"]),
        ("toothrack send A at=S1 back=2026-12-01T14:30 r", ["reason="]),
        ("toothrack help chec", ["check"]),
        ("toothrack nonesuch a", []),
        ("toothrack quit ", []),
        ("toothrack put A at=R", []),
    ],
)
def test_bash__lines__words(line, words):
    assert offered(line) == words


def test_bash__words_not_broken_at_equals__whole_words():
    assert offered("toothrack new blade material=co", breaks=" ") == ["material=coated"]
    assert offered("toothrack --units=i", breaks=" ") == ["--units=inch"]


def test_bash__all_commands_and_kinds__as_help_has_them():
    assert sorted(offered("toothrack ")) == sorted(line["name"] for line in helped())
    assert offered("toothrack new ") == helped("new")["kinds"]
    assert offered("toothrack calc ") == helped("calc")["topics"]
    assert offered("toothrack set ") == helped("set")["keys"]
    for kind in helped("new")["kinds"]:
        attributes = [attribute["name"] + "=" for attribute in helped(kind)["attributes"]]
        assert offered(f"toothrack new {kind} ") == attributes


def test_bash__files(tmp_path):
    (tmp_path / "rolls.csv").write_text("", encoding="utf-8")
    (tmp_path / "my dies.csv").write_text("", encoding="utf-8")
    assert offered("toothrack import anilox ro", tmp_path) == ["rolls.csv"]
    assert offered("toothrack import anilox m", tmp_path) == ["my dies.csv"]
    assert offered("toothrack --db ro", tmp_path) == ["rolls.csv"]
    assert offered("toothrack --db=ro", tmp_path) == ["rolls.csv"]


def test_bash__at_a_keyboard__completes(tmp_path):
    (tmp_path / "my dies.csv").write_text("", encoding="utf-8")
    shell = pexpect.spawn(
        "bash",
        ["--norc", "-i"],
        cwd=str(tmp_path),
        env={"PATH": os.environ["PATH"], "TERM": "dumb", "PS1": "$ ", "HOME": str(tmp_path), "INPUTRC": "/dev/null"},
        encoding="utf-8",
        timeout=20,
        dimensions=(40, 120),
    )
    shell.sendline(f"source {COMPLETION}; toothrack() {{ printf '<%s>' \"$@\"; echo; }}")
    shell.expect_exact("$ ")
    for typed, called in (
        ("rec\tA at\tR1", "<receive><A><at=R1>"),
        ("new blade material=p\tfitt\tx", "<new><blade><material=polymer><fitted=x>"),
        ("--units=m\tcalc dis\tsl\ty\t", "<--units=metric><calc><distortion><sleeve=yes>"),
        ("import die my\t", "<import><die><my dies.csv>"),
        ("new place processes=flexo,cold\t", "<new><place><processes=flexo,cold_foil>"),
    ):
        shell.send("toothrack " + typed)
        shell.send("\r")
        shell.expect_exact(called)
    shell.sendline("exit")
    shell.expect(pexpect.EOF)

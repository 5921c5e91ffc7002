"""Tab at the keyboard: what it offers, what it says where there is nothing to offer, and what the user's inputrc changes.

TOOTHRACK names the program (build/toothrack).
"""
import json
import subprocess

import pytest

from person import CTRL_C, ESCAPE, PROGRAM, PROMPT, Person, environment

BELL = "\x07"


@pytest.fixture(name="demo", scope="module")
def demo_shop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    subprocess.run([PROGRAM, "demo"], env=environment(folder), cwd=folder, check=True, stdout=subprocess.PIPE)
    return folder


def types(person, typed, *seen):
    """Types, sees these in order, gives the line up."""
    person.type(typed)
    said = ""
    for text in seen:
        person.sees(text)
        said += person.child.before + text
    person.type(CTRL_C)
    said += person.until_prompt()
    return said


# ---------------------------------------------------------------- by what is asked


@pytest.mark.parametrize(
    "typed, completed",
    [
        ("put PC000025-1 at=MR\t", "at=MR1"),
        ("send DI000001 at=\tSUP", "at="),
        ("check J26\t", "J2601"),
        ("check J2601 press=P1,P\t", "P2"),
        ("new blade edge=\tb", "bevel"),
        ("new cylinder carries=J261\t", "J2610"),
        ("new cut die=D\t", "DI000001-"),
        ("new reading tool=A\t", "AN000001-"),
        ("set life_over \ts", "short"),
        ("set buildup d\t", "default"),
        ("calc lift coupling=p\t", "poor"),
        ("calc lift ho\t", "horizontal="),
        ("show P\t", "P1-D1"),
    ],
)
def test_tab__each_argument__what_it_wants(demo, typed, completed):
    person = Person(demo)
    types(person, typed, completed)
    person.leave()


@pytest.mark.parametrize(
    "typed, words, missing",
    [
        ("remove J2601 station=\t", ["station=1", "station=2", "station=7"], ["station=8"]),
        ("remove J2601 cut=\t", ["cut=1"], ["cut=7"]),
        ("edit J2601 station=\t", ["station=1", "station=7"], []),
        ("edit J2601 \t", ["title=", "station=", "cut="], ["tag="]),
        ("edit J2601 station=1 \t", ["ink=", "volume="], ["job=", "cut=", "tag="]),
        ("edit PC000025-1 \t", ["face=", "other_tag="], ["tag="]),
        ("reblade DB000001-I \t", ["material=", "fitted=", "note="], ["face=", "run=", "tag="]),
        ("regrind DI000001-A \t", ["life=", "note="], ["volume=", "teeth=", "tag="]),
        ("regrind AN000001-R \t", ["volume=", "engraved="], ["life=", "face=", "tag="]),
        ("gauge PC000001-H \t", ["diameter=", "runout=", "damage="], ["face="]),
        ("send PC000025-1 at=\t", ["at=S1", "at=S2"], ["at=R1", "at=C1"]),
        ("put PC000025-1 at=\t", ["at=R1", "at=C1"], ["at=S1"]),
        ("receive PC000025-1 at=\t", ["at=R1", "at=C1"], ["at=S1"]),
        ("history when=2026-01-15 at=\t", ["at=R1", "at=S1"], []),
    ],
)
def test_tab__what_would_be_refused__not_offered(demo, typed, words, missing):
    person = Person(demo)
    person.type(typed)
    person.sees(typed.rstrip("\t"))  # as it is typed
    person.sees(PROMPT)
    said = person.child.before.split()
    person.type(CTRL_C)
    person.until_prompt()
    assert set(words) <= set(said)
    assert not set(missing) & set(said)
    person.leave()


def test_tab__options__those_that_a_line_may_have(tmp_path):
    person = Person(tmp_path)
    said = types(person, "--\t\t", "--units=", PROMPT)
    assert "--json" in said and "--db" not in said and "--version" not in said
    person.leave()


def test_tab__empty_line__all_commands(tmp_path):
    person = Person(tmp_path)
    said = types(person, "\t", PROMPT)
    assert sorted(commands()) == sorted(said.partition(PROMPT)[0].split())
    person.leave()


def commands():
    answer = subprocess.run([PROGRAM, "help", "--json"], stdout=subprocess.PIPE, check=True).stdout
    return [line["name"] for line in json.loads(answer)]


@pytest.mark.parametrize(
    "typed, completed",
    [
        ("edit DI000001-A bui\t", "build="),
        ("edit DI000001-A shape=c\t", "circle"),
        ("edit R1-1 sor\t", "sort="),
        ("edit J2601 titl\t", "title="),
        ("edit J2601 station=1 screen_mi\t", "screen_min="),
    ],
)
def test_tab__record_named_first__keys_of_its_kind(demo, typed, completed):
    if "edit" not in commands():
        pytest.skip("no command takes attributes of a record yet")
    person = Person(demo)
    types(person, typed, completed)
    person.leave()


# ---------------------------------------------------------------- nothing to offer


@pytest.mark.parametrize(
    "typed, hint",
    [
        ("send DI000001 back=\t", "back=MOMENT  when it is due back"),
        ("send DI000001 back=2\t", "2026-12-01T14:30"),
        ("hold DI000001 reason=\t", "reason=WORDS  why it may not run"),
        ("new cylinder teeth=\t", "teeth=  of its gear: a whole number"),
        ("set buildup \t", "a length such as 330mm"),
        ("calc repeat pitch=\t", "pitch=  of the gear"),
        ("calc lift travel=\t", "travel=  how far up or down the hands go"),
        ("import die nonesu\t", "FILE"),
        ("quit \t", "quit"),
    ],
)
def test_tab__nothing_to_offer__says_what_comes_next(demo, typed, hint):
    person = Person(demo)
    said = types(person, typed, hint, PROMPT + typed.rstrip("\t"))
    assert said.count(BELL) <= 1
    person.leave()


def test_tab__folders__one_slash_each(tmp_path):
    for name in ("e1", "e2"):
        (tmp_path / name).mkdir()
    (tmp_path / "e2" / "rolls.csv").touch()
    person = Person(tmp_path)
    said = types(person, "import anilox e\t\t", "e2/")
    assert "e1/" in said and "//" not in said
    person.type("import anilox e2\t")
    person.sees("import anilox e2/")
    person.type("\t")
    person.sees("rolls.csv ")
    person.type(CTRL_C)
    assert "//" not in person.until_prompt()
    person.leave()


def test_tab__hint__long__broken_between_words(tmp_path):
    person = Person(tmp_path, columns=80)
    person.type("history when=\t")
    person.sees("when=MOMENT  ")
    person.sees(PROMPT)
    lines = person.child.before.replace(BELL, "").splitlines()
    person.type(CTRL_C)
    person.until_prompt()
    assert len(lines) > 1
    assert all(len(line) <= 80 for line in lines)
    assert all(line.startswith(" " * len("when=MOMENT  ")) for line in lines[1:] if line)
    assert " ".join(" ".join(lines).split()) == (
        "or a moment: where every tool was; a bare date is the end of that day: "
        "a date such as 2026-12-01 or a moment such as 2026-12-01T14:30"
    )
    person.leave()


def test_tab__hint__line_goes_on_where_it_was(tmp_path):
    person = Person(tmp_path)
    person.type("calc volume volume=\t")
    person.sees("volume=  ")
    person.sees(PROMPT + "calc volume volume=")
    assert ESCAPE.sub("", person.line("4bcm")).endswith("volume  6.2cm3/m2  4bcm\n")
    person.leave()


def test_tab__hint__long_line__stands_below_it(tmp_path):
    person = Person(tmp_path, columns=40)
    line = 'hold DI000001 reason="one two three four five six" note='
    person.type(line + "\x01")  # to its start
    person.type("\x05\t")
    person.sees("hold TAG reason=WORDS")
    person.sees(PROMPT)
    person.type(CTRL_C)
    person.until_prompt()
    person.leave()


def test_tab__line_that_makes_no_sense__no_hint(tmp_path):
    person = Person(tmp_path)
    person.type("nonesuch \t")
    assert person.line("").startswith("command not known: nonesuch")
    person.leave()


# ---------------------------------------------------------------- the history


def test_history__tags_alone__not_kept(demo):
    person = Person(demo)
    tag = "PC000025-1"
    plain = tag.replace("-", "")
    for scan in (tag, plain, plain.lower(), "]C0" + plain, "]C1" + "91" + plain, "]d2" + "91" + plain + "\x1d", "PC000025-2"):
        person.line(scan)
    person.line("show " + tag)
    person.line("R1-1")
    person.leave()
    file = demo / ".local" / "state" / "toothrack" / "history"
    kept = file.read_text(encoding="utf-8").split("\n")
    assert kept[-4:] == ["show " + tag, "R1-1", "quit", ""]
    assert not [line for line in kept if line.upper().replace("-", "").endswith(plain) and not line.startswith("show")]


# ---------------------------------------------------------------- inputrc


def with_inputrc(folder, *lines):
    (folder / "inputrc").write_text("".join(line + "\n" for line in lines), encoding="utf-8")
    return Person(folder, INPUTRC=str(folder / "inputrc"))


def test_inputrc__if_toothrack__binds(tmp_path):
    person = with_inputrc(tmp_path, "$if toothrack", '"\\C-t": "calc volume volume=4bcm"', "$endif")
    assert person.line("\x14").endswith("volume  6.2cm3/m2  4bcm\n")
    person.leave()


def test_inputrc__if_another__passed_over(tmp_path):
    person = with_inputrc(tmp_path, "$if bash", '"\\C-t": "calc volume volume=4bcm"', "$endif")
    assert "6.2cm3/m2" not in person.line("\x14")
    person.leave()


def test_inputrc__home__read(tmp_path):
    (tmp_path / ".inputrc").write_text('$if toothrack\n"\\C-t": "calc volume volume=4bcm"\n$endif\n', encoding="utf-8")
    person = Person(tmp_path, INPUTRC="")
    assert person.line("\x14").endswith("volume  6.2cm3/m2  4bcm\n")
    person.leave()


def test_inputrc__settings__win_over_ours(tmp_path):
    person = with_inputrc(tmp_path, "set show-all-if-ambiguous off", "set completion-ignore-case off")
    person.type("ch\t")
    person.sees("ch" + BELL)
    person.type(CTRL_C)
    assert "choices" not in person.until_prompt()
    person.type("REC\t")
    person.type(CTRL_C)
    assert "receive" not in person.until_prompt()
    person.leave()
    person = Person(tmp_path)
    types(person, "ch\t", "choices")
    types(person, "REC\t", "receive")
    person.leave()


def test_inputrc__editing_mode_vi__scanner_s_gs_is_data(demo):
    person = with_inputrc(demo, "set editing-mode vi")
    assert person.line("]C0PC0000251\x1d") == person.line("show PC000025-1")
    person.leave()

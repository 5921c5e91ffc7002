"""The console on a terminal: a person at a keyboard, played by pexpect.

TOOTHRACK names the program (build/toothrack).
"""
import signal
import subprocess
import time

import pexpect
import pytest

from person import CTRL_C, CTRL_D, CTRL_R, PROGRAM, PROMPT, UP, Person, environment


@pytest.fixture(name="shop")
def made_shop(tmp_path):
    """A shop of two shelves and one cylinder."""
    for line in (
        "new place code=R1 sort=store",
        "new place code=R2 sort=store",
        "new cylinder teeth=96 pitch=1/8cp place=R1",
    ):
        subprocess.run([PROGRAM, *line.split()], env=environment(tmp_path), cwd=tmp_path, check=True, stdout=subprocess.PIPE)
    return tmp_path


# ---------------------------------------------------------------- opening and leaving


def test_opening__says_what_it_is_and_help(tmp_path):
    person = Person(tmp_path)
    assert "tool room" in person.greeting
    assert "help" in person.greeting
    assert person.leave() == 0


def test_ctrl_d__leaves(tmp_path):
    person = Person(tmp_path)
    person.type(CTRL_D)
    person.child.expect(pexpect.EOF)
    person.child.close()
    assert person.child.exitstatus == 0


def test_bad_lines__never_end_it(tmp_path):
    person = Person(tmp_path)
    answer = person.line("nonesuch")
    assert answer == "command not known: nonesuch\nType help for all commands.\n"
    answer = person.line('hold A reason="open')
    assert answer.startswith('quote not closed: reason="open\n')
    assert person.line("calc repeat teeth=96").startswith("pitch not given\n")
    assert person.line("show PC000001-1").startswith("shop file not found")
    assert person.line("") == ""
    assert person.line("# a remark") == ""
    assert person.line("--db other.db show X").startswith("option of the program")
    assert person.line("calc volume volume=4bcm") == "volume  6.2cm3/m2  4bcm\n"
    assert person.leave() == 0


def test_options_of_a_line__hold_for_it_alone(tmp_path):
    person = Person(tmp_path, "--units", "inch")
    assert person.line("calc volume volume=4bcm") == "volume  4bcm  6.2cm3/m2\n"
    assert person.line("calc volume volume=4bcm --units metric") == "volume  6.2cm3/m2  4bcm\n"
    assert '"bcm": 4.0' in person.line("calc volume volume=4bcm --json")
    assert person.line("calc volume volume=4bcm") == "volume  4bcm  6.2cm3/m2\n"
    person.leave()


def test_terminate__leaves_the_terminal_as_it_was(tmp_path):
    person = Person(tmp_path)
    person.type("calc vol")
    time.sleep(0.2)
    person.child.kill(signal.SIGTERM)
    person.child.expect(pexpect.EOF)
    person.child.close()
    assert person.child.signalstatus is None
    assert person.child.exitstatus == 0


def test_stopped_and_resumed__the_line_is_still_there(tmp_path):
    person = Person(tmp_path)
    person.type("calc volume ")
    person.sees("calc volume ")
    person.child.kill(signal.SIGSTOP)
    time.sleep(0.1)
    person.child.kill(signal.SIGCONT)
    person.sees(PROMPT + "calc volume ")
    assert person.line("volume=4bcm") == "volume  6.2cm3/m2  4bcm\n"
    assert person.leave() == 0


# ---------------------------------------------------------------- Ctrl-C


def test_ctrl_c__gives_up_the_line_alone(tmp_path):
    person = Person(tmp_path)
    person.type("quit and more")
    person.type(CTRL_C)
    person.until_prompt()
    assert person.line("calc volume volume=4bcm") == "volume  6.2cm3/m2  4bcm\n"
    person.type(CTRL_C)
    person.until_prompt()
    person.type(UP)
    person.sees("calc volume volume=4bcm")
    person.type(CTRL_C)
    person.until_prompt()
    assert person.leave() == 0


def test_ctrl_c__in_a_search_of_the_history(tmp_path):
    person = Person(tmp_path)
    person.line("calc volume volume=4bcm")
    person.type(CTRL_R + "vol")
    person.sees("volume")
    person.type(CTRL_C)
    person.until_prompt()
    assert person.line("calc screen screen=140/cm") == "screen  140/cm  355.6lpi\n"
    assert person.leave() == 0


# ---------------------------------------------------------------- history


def test_history__two_sessions__kept_for_its_owner(tmp_path):
    first = Person(tmp_path)
    first.line("calc volume volume=4bcm")
    first.line("calc volume volume=4bcm")
    first.line("  ")
    first.leave()
    file = tmp_path / ".local" / "state" / "toothrack" / "history"
    assert file.read_text(encoding="utf-8") == "calc volume volume=4bcm\nquit\n"
    assert file.stat().st_mode & 0o777 == 0o600
    assert file.parent.stat().st_mode & 0o777 == 0o700
    second = Person(tmp_path)
    second.type(UP)
    second.sees("quit")
    second.type(UP)
    second.sees("calc volume volume=4bcm")
    second.type("\r")
    second.sees("6.2cm3/m2")
    second.until_prompt()
    second.leave()


def test_history__long__cut_to_2000_lines(tmp_path):
    state = tmp_path / "state"
    (state / "toothrack").mkdir(parents=True)
    file = state / "toothrack" / "history"
    file.write_text("".join(f"show {number}\n" for number in range(2500)), encoding="utf-8")
    file.chmod(0o644)
    person = Person(tmp_path, XDG_STATE_HOME=str(state))
    person.leave()
    lines = file.read_text(encoding="utf-8").splitlines()
    assert len(lines) == 2000
    assert lines[-2:] == ["show 2499", "quit"]
    assert file.stat().st_mode & 0o777 == 0o600


def test_history__nowhere_to_keep__works_all_the_same(tmp_path):
    (tmp_path / "state").write_text("no folder", encoding="utf-8")
    person = Person(tmp_path, XDG_STATE_HOME=str(tmp_path / "state"))
    person.line("calc volume volume=4bcm")
    assert person.leave() == 0


# ---------------------------------------------------------------- Tab


@pytest.mark.parametrize(
    "typed, completed",
    [
        ("rec\t", "receive "),
        ("calc disto\t", "distortion "),
        ("calc repeat tee\t", "teeth="),
        ("new bl\t", "blade "),
        ("new blade mat\t", "material="),
        ("new blade material=co\t", "material=coated "),
        ("set life_over sh\t", "short "),
        ("set buildu\t", "buildup "),
        ("help quit --j\t", "--json "),
    ],
)
def test_tab__words_of_the_tables(tmp_path, typed, completed):
    person = Person(tmp_path)
    person.type(typed)
    person.sees(completed)
    person.type(CTRL_C)
    person.until_prompt()
    person.leave()


def test_tab__several__all_shown(tmp_path):
    person = Person(tmp_path)
    person.type("ch\t")
    person.sees("check")
    person.sees("choices")
    person.sees(PROMPT + "ch")
    person.type(CTRL_C)
    person.until_prompt()
    person.leave()


@pytest.mark.parametrize(
    "typed, completed",
    [
        ("show PC\t", "show PC000001-"),
        ("show pc0\t", "PC000001-"),
        ("PC0\t", "PC000001-"),
        ("put PC000001 at=R\t", "R1"),
        ("new gear place=R\t", "R2"),
    ],
)
def test_tab__tags_and_codes_of_the_shop(shop, typed, completed):
    person = Person(shop)
    person.type(typed)
    person.sees(completed)
    person.type(CTRL_C)
    person.until_prompt()
    person.leave()


def test_tab__files_and_folders(tmp_path):
    (tmp_path / "rolls.csv").write_text("tag\n", encoding="utf-8")
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "dies.csv").write_text("tag\n", encoding="utf-8")
    person = Person(tmp_path)
    person.type("import anilox ro\t")
    person.sees("rolls.csv ")
    person.type(CTRL_C)
    person.until_prompt()
    person.type("import die sh\t")
    person.sees("shelf/")
    person.type("d\t")
    person.sees("dies.csv ")
    person.type(CTRL_C)
    person.until_prompt()
    person.leave()


# ---------------------------------------------------------------- answers


def test_refusal__longer_than_the_line__broken_between_words(shop):
    person = Person(shop, columns=40)
    assert person.line("show PC000001") == (
        "tag lacks its last sign, the check\n"
        "character: PC000001\n"
        "Scan it; nearest on record: PC000001-H\n"
        "(plate cylinder, 96 teeth).\n"
    )
    person.leave()


def test_tag_alone__is_shown(shop):
    person = Person(shop)
    tag = "PC000001-" + check_character("PC000001")
    shown = person.line("show " + tag)
    assert person.line(tag) == shown
    assert person.line(tag.replace("-", "").lower()) == shown
    assert person.line("]C0" + tag.replace("-", "")) == shown
    assert person.line("]C0" + tag.replace("-", "") + "\x1d") == shown
    assert person.line("R1") == person.line("show R1")
    assert "PC000001-0" in person.line("PC000001-0") or "misread" in person.line("PC000001-0")
    person.leave()


def check_character(code):
    answer = subprocess.run([PROGRAM, "calc", "check_character", "code=" + code], stdout=subprocess.PIPE, text=True, check=True)
    return answer.stdout.strip()


def heading_is_coloured(folder, **more):
    person = Person(folder, **more)
    person.type("help\r")
    answer = person.until_prompt()
    person.leave()
    assert "receive" in answer
    return "\x1b[1mtoothrack" in answer


def test_colour__only_where_it_is_wanted(tmp_path):
    assert heading_is_coloured(tmp_path)
    assert heading_is_coloured(tmp_path, NO_COLOR="")
    assert not heading_is_coloured(tmp_path, NO_COLOR="1")
    assert not heading_is_coloured(tmp_path, TERM="dumb")


def test_colour__in_a_pipe__none(tmp_path):
    answer = subprocess.run([PROGRAM, "help"], env=environment(tmp_path), stdout=subprocess.PIPE, check=True)
    assert b"\x1b" not in answer.stdout


@pytest.mark.parametrize("columns", [60, 100])
def test_width__lines_end_before_the_terminal_does(tmp_path, columns):
    person = Person(tmp_path, columns=columns)
    lines = person.line("help").split("\n")
    assert max(map(len, lines)) <= columns
    assert max(map(len, lines)) > columns - 20
    person.leave()


def test_width__told_by_columns(tmp_path):
    person = Person(tmp_path, columns=120, COLUMNS="50")
    assert max(map(len, person.line("help calc").split("\n"))) <= 50
    person.leave()


def test_pasted_lines__one_after_the_other(tmp_path):
    person = Person(tmp_path)
    person.type("calc volume volume=4bcm\rcalc screen screen=140/cm\r")
    person.sees("6.2cm3/m2")
    person.sees("355.6lpi")
    person.until_prompt()
    person.leave()

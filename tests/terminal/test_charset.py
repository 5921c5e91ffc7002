"""Terminals that do not speak UTF-8; files and pipes always do.

TOOTHRACK names the program (build/toothrack).
"""
import shutil
import subprocess

import pexpect
import pytest

from person import CTRL_C, PROGRAM, PROMPT, Person, environment

NAME = "Zoë’s 4 €, 5 µm ½"


@pytest.fixture(name="named")
def named_shop(tmp_path):
    subprocess.run(
        [PROGRAM, "new", "place", "code=R1", "sort=store", "name=" + NAME],
        env=environment(tmp_path),
        cwd=tmp_path,
        check=True,
        stdout=subprocess.PIPE,
    )
    return tmp_path


def on_terminal(folder, *arguments, encoding="utf-8", **more):
    child = pexpect.spawn(PROGRAM, list(arguments), cwd=str(folder), env=environment(folder, **more), dimensions=(50, 100), timeout=20)
    child.expect(pexpect.EOF)
    return child.before.decode(encoding)


def latin_1(folder):
    """The environment of a Latin-1 terminal, whose locale is made here."""
    if shutil.which("localedef") is None:
        pytest.skip("localedef is not here")
    made = subprocess.run(
        ["localedef", "--no-archive", "-i", "C", "-f", "ISO-8859-1", str(folder / "latin1")], capture_output=True, check=False
    )
    if not (folder / "latin1" / "LC_CTYPE").exists():
        pytest.skip("no Latin-1 locale can be made: " + made.stderr.decode())
    return {"LOCPATH": str(folder), "LC_ALL": "latin1"}


@pytest.mark.parametrize("locale", ["C.UTF-8", "C", "POSIX"])
def test_pipe__always_utf_8(named, locale):
    done = subprocess.run([PROGRAM, "show", "R1"], env=environment(named, LC_ALL=locale), stdout=subprocess.PIPE, check=True)
    assert "(" + NAME in done.stdout.decode() or NAME in done.stdout.decode()


def test_terminal__utf_8__as_it_is(named):
    assert NAME in on_terminal(named, "show", "R1")


def test_terminal__plain_ascii__written_with_what_it_has(named):
    shown = on_terminal(named, "show", "R1", encoding="ascii", LC_ALL="C")
    assert "Zoe's 4 EUR, 5 um  1/2" in shown


def test_terminal__latin_1__its_own_bytes(named):
    shown = on_terminal(named, "show", "R1", encoding="iso-8859-1", **latin_1(named))
    assert "Zoë's 4 EUR, 5 µm ½" in shown


def test_refusal__plain_ascii__too(named):
    shown = on_terminal(named, "show", "Zoë", encoding="ascii", LC_ALL="C")
    assert "tag not known: Zoe" in shown


def test_refusal__pipe__utf_8(named):
    done = subprocess.run([PROGRAM, "show", "Zoë"], env=environment(named, LC_ALL="C"), stderr=subprocess.PIPE, check=False)
    assert "tag not known: Zoë" in done.stderr.decode()


def test_line_typed__latin_1__kept_as_utf_8(named):
    person = Person.__new__(Person)
    person.child = pexpect.spawn(
        PROGRAM, [], cwd=str(named), env=environment(named, **latin_1(named)), dimensions=(50, 100), timeout=20, encoding="iso-8859-1"
    )
    person.child.expect_exact(PROMPT)
    person.line("new place code=B1 sort=store name=Bücher")
    person.leave()
    done = subprocess.run([PROGRAM, "show", "B1"], env=environment(named), stdout=subprocess.PIPE, check=True)
    assert "Bücher" in done.stdout.decode()


def test_line_typed__utf_8_under_c__kept(named):
    person = Person(named, LC_ALL="C")
    person.line("new place code=B1 sort=store name=Bücher")
    person.leave()
    done = subprocess.run([PROGRAM, "show", "B1"], env=environment(named), stdout=subprocess.PIPE, check=True)
    assert "Bücher" in done.stdout.decode()


def test_tab__plain_ascii__still_offers(named):
    person = Person(named, LC_ALL="C")
    person.type("rec\t")
    person.sees("receive ")
    person.type(CTRL_C)
    person.until_prompt()
    assert person.leave() == 0


def test_table__c_locale__columns_measured_all_the_same(tmp_path):
    for code, name in (("R1", "版胴"), ("R2", "plain")):
        subprocess.run(
            [PROGRAM, "new", "place", f"code={code}", "sort=store", f"name={name}"],
            env=environment(tmp_path),
            check=True,
            stdout=subprocess.PIPE,
        )
    answers = {
        subprocess.run([PROGRAM, "show", "R1"], env=environment(tmp_path, LC_ALL=locale), stdout=subprocess.PIPE, check=True).stdout
        for locale in ("C", "C.UTF-8")
    }
    assert len(answers) == 1

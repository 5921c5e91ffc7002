"""Bad input as a clerk gives it: one clear sentence, what to type, the right exit, and a shop unchanged to the byte of its dump.

The tables stand in cases_*.py; what needs a set-up of its own is in test_bad_files.py. TOOTHRACK names the program.
"""
import os
import shlex
import unicodedata

import cases_files
import cases_reading
import cases_records
import cases_tag
import cases_tool_care
import cases_work
import pytest
from bad import call, copy_shop, held, left_behind, said, unchanged

# A sentence and a hint, in bytes: a screen or less, whatever was typed.
LONGEST = 1100
TURNING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


@pytest.fixture(scope="module", name="shop")
def made_shop(tmp_path_factory):
    """The demo shop and a CSV file that is right. No case may change it, so all share it."""
    folder = tmp_path_factory.mktemp("demo")
    assert call(folder, "demo")[0] == 0
    (folder / "good.csv").write_text("teeth,pitch\n96,1/8cp\n", encoding="utf-8")
    return folder


@pytest.fixture(scope="module", name="before")
def made_before(shop):
    return held(shop / "shop.db")


@pytest.fixture(autouse=True)
def _unchanged(shop, before):
    """After each case: the shop as it was, and no file that was not there."""
    yield
    assert unchanged(before, shop / "shop.db")
    assert left_behind(shop, "good.csv", "in.csv") == []


def name_of(typed):
    """How a case is called: what is typed, of bytes and long words their beginning."""
    if isinstance(typed, str):
        return typed or "nothing"
    return " ".join(os.fsdecode(word)[:40] for word in typed).encode("ascii", "backslashreplace").decode()


def plain(text):
    """Nothing that a terminal obeys, and nothing that turns the direction of writing or ends a line."""
    return not any(unicodedata.category(sign) in ("Cc", "Zl", "Zp") or sign in TURNING for sign in text.replace("\n", ""))


TYPED = cases_records.CASES + cases_work.CASES + cases_tag.CASES + cases_reading.CASES + cases_tool_care.CASES
CSV = cases_files.CSV | cases_reading.FILES


@pytest.mark.parametrize("typed, status, sentence, hint", TYPED, ids=[name_of(case[0]) for case in TYPED])
def test_typed(shop, typed, status, sentence, hint):
    words = shlex.split(typed) if isinstance(typed, str) else typed
    assert call(shop, *words) == (status, "", said(sentence, hint))


@pytest.mark.parametrize("given, status, sentence, hint", list(cases_files.LINES.values()), ids=cases_files.LINES)
def test_line_of_standard_input(shop, given, status, sentence, hint):
    done, out, error = call(shop, given=given)
    assert (done, out, error) == (status, "", said(sentence, hint))


@pytest.mark.parametrize("kind, content, lines", list(CSV.values()), ids=CSV)
def test_csv(shop, kind, content, lines):
    (shop / "in.csv").write_bytes(content)
    things = "1 thing is" if len(lines) == 1 else f"{len(lines)} things are"
    assert call(shop, "import", kind, "in.csv") == (
        2,
        "".join(f"{line}\n" for line in lines),
        said(f"{things} wrong, nothing was imported: in.csv", "Mend the file and type it again."),
    )


def test_the_tables__enough_of_them_and_plain():
    assert len(TYPED) + len(cases_files.LINES) + len(CSV) > 450
    assert len({case[0] for case in TYPED}) == len(TYPED)
    for _, status, sentence, hint in (*TYPED, *cases_files.LINES.values()):
        assert status in (1, 2, 3)
        assert sentence[0].islower() and sentence.strip() == sentence and plain(sentence + hint) and len(sentence + hint) < LONGEST


# ---------------------------------------------------------------- what is wrong in a shape of its own


@pytest.mark.parametrize("form", ["--json", "--csv"])
def test_a_refusal_in_any_form__is_the_same_sentence(shop, form):
    assert call(shop, form, "check", "J99") == (2, "", said("job not known: J99", "Type find job for all on record."))


def test_what_was_done_before_a_wrong_line__stays_done(shop, tmp_path):
    copy_shop(shop, tmp_path)
    earlier = held(tmp_path / "shop.db")
    status, out, error = call(tmp_path, given=b"put PC000025-1 at=C1\n\n# and then\nput PC000026-0 at=C7\nput PC000027-Y at=C1\n")
    assert status == 2 and out.startswith("PC000025-1  from R1-3 to C1  ") and out.count("\n") == 1
    assert error == said("line 4: place not known: C7", "Type C1 (place, cart 1) or C2 (place, cart 2).")
    assert not unchanged(earlier, tmp_path / "shop.db")
    assert call(tmp_path, given=b"undo\n")[0] == 0


def test_line_of_ten_million_letters__said_and_cut_short(shop):
    assert call(shop, given=b"show " + b"x" * 10_000_000 + b"\nshow R1\n") == (
        2, "", said("line 1: text is longer than 100000 bytes, it begins: show " + "x" * 35, "Give one command a line."),
    )  # fmt: skip
    assert call(shop, given=b"show " + b"x" * 90_000) == (2, "", said("line 1: tag not known: " + "x" * 64 + "...", "Type find and a word of its name or number to look for it."))
    status, out, error = call(shop, given=b"x" * 90_000)
    assert (status, out) == (2, "") and len(error) < LONGEST
    assert error.startswith("toothrack: line 1: command not known: xxx") and error.endswith("xxx...\nType help for all commands.\n")


def test_cell_of_ten_million_letters__said_and_cut_short(shop):
    (shop / "in.csv").write_bytes(b"teeth,note\n96," + b"x" * 10_000_000 + b"\n")
    status, out, _ = call(shop, "import", "cylinder", "in.csv")
    assert (status, out) == (
        2,
        "line 2, note: note is longer than 4000 bytes, it begins: " + "x" * 40 + ". Keep the long text in a file, and name that file here.\n",
    )


def test_binary_on_standard_input__said_whatever_it_is(shop):
    for seed in range(20):
        given = bytes((seed * 7 + at * at * 31 + at // 3) % 256 for at in range(2000))
        status, out, error = call(shop, given=given)
        assert (status, out) == (2, "") and error.startswith("toothrack: line 1: ") and plain(error), error


def test_clock_that_runs_backwards__refused_with_what_to_see(shop):
    early = "2026-11-30T08:00:00Z"
    sentence = "clock stands before the tool's last movement: PC000025-1"
    hint = "Set this computer's clock, then type it again; history PC000025-1 tells when it moved."
    for words in (("put", "PC000025-1", "at=C1"), ("send", "PC000025-1", "at=S1", "reason=x"), ("edit", "PC000025-1", "place=C1")):
        assert call(shop, *words, TOOTHRACK_NOW=early) == (1, "", said(sentence, hint))


def test_clock_stopped__a_shop_of_the_real_clock_is_not_written(tmp_path):
    assert call(tmp_path, "new", "place", "code=R1", "sort=store", TOOTHRACK_NOW=None)[0] == 0
    earlier = held(tmp_path / "shop.db")
    assert call(tmp_path, "new", "place", "code=R2", "sort=store") == (
        2, "", said("clock is stopped by TOOTHRACK_NOW, and this shop file was not made under it: shop.db", "Ask only, or unset TOOTHRACK_NOW to write."),
    )  # fmt: skip
    assert unchanged(earlier, tmp_path / "shop.db")


@pytest.mark.parametrize(
    "value, sentence, hint",
    [
        ("gestern", "TOOTHRACK_NOW: moment is no date or moment: gestern", "Type a date such as 2026-12-01 or a moment such as 2026-12-01T14:30."),
        ("2026-02-30", "TOOTHRACK_NOW: moment is on no calendar: 2026-02-30", "Type a day from 2026-02-01 to 2026-02-28."),
        ("\x1b[31m", "TOOTHRACK_NOW: moment is no date or moment: \\x1b[31m", "Type a date such as 2026-12-01 or a moment such as 2026-12-01T14:30."),
    ],
)
def test_clock_that_is_none(shop, value, sentence, hint):
    assert call(shop, "show", "R1", TOOTHRACK_NOW=value) == (2, "", said(sentence, hint))


def test_who_acts__unknown_retired_or_without_the_role(shop, tmp_path):
    copy_shop(shop, tmp_path)
    assert call(tmp_path, "edit", "E014", "retired=yes")[0] == 0
    earlier = held(tmp_path / "shop.db")
    assert call(tmp_path, "--as", "E014", "put", "PC000025-1", "at=C1") == (
        2, "", said("operator is retired: E014", "Type --as with the badge of an operator who works here."),
    )  # fmt: skip
    assert call(tmp_path, "--as", "E021", "restore", "shop.db") == (
        2, "", said("supervisor needed for restore: Mirela Ost, planner", "Type --as with the badge of a supervisor."),
    )  # fmt: skip
    assert unchanged(earlier, tmp_path / "shop.db")


def test_place_retired__nothing_goes_there(shop, tmp_path):
    copy_shop(shop, tmp_path)
    assert call(tmp_path, "edit", "C2", "retired=yes")[0] == 0
    earlier = held(tmp_path / "shop.db")
    assert call(tmp_path, "put", "PC000025-1", "at=C2")[::2] == (1, said("place is retired: C2", "Name a place that is in use."))
    for attribute in ("place", "home"):
        refused = 2, said(f"{attribute} is retired: C2", "Name a place that is in use.")
        assert call(tmp_path, "edit", "PC000025-1", f"{attribute}=C2")[::2] == refused
        assert call(tmp_path, "new", "gear", "teeth=96", "pitch=1/8cp", f"{attribute}=C2")[::2] == refused
        (tmp_path / "in.csv").write_text(f"tag,{attribute}\nPC000025-1,C2\n", encoding="utf-8")
        problem = f"line 2, {attribute}: {attribute} is retired: C2. Name a place that is in use.\n"
        assert call(tmp_path, "import", "cylinder", "in.csv", "update=yes")[:2] == (2, problem)
    assert unchanged(earlier, tmp_path / "shop.db")


def test_station_that_would_be_called_as_a_tool_is__no_press(shop, tmp_path):
    copy_shop(shop, tmp_path)
    assert call(tmp_path, "new", "gear", "other_tag=P3-2")[0] == 0
    earlier = held(tmp_path / "shop.db")
    assert call(tmp_path, "new", "press", "code=P3", "drive=servo", "stations=4") == (
        2, "", said("station of the press would be called as gear is: P3-2", "Give that another name, or the press another code."),
    )  # fmt: skip
    assert unchanged(earlier, tmp_path / "shop.db")


def test_undo__of_nothing(tmp_path):
    assert call(tmp_path, "new", "place", "code=R1", "sort=store")[0] == 0
    assert call(tmp_path, "undo", LOGNAME="other") == (
        1, "", said("nothing to take back, at terminal - by other without a badge", "An entry is taken back where it was made, by who made it: --as OPERATOR."),
    )  # fmt: skip

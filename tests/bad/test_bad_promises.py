"""What the state of a job or a press refuses of booking, starting and finishing: a sentence, what to type, nothing changed.

What needs no set-up stands in cases_work.py. TOOTHRACK names the program.
"""
import pytest
from bad import call, copy_shop, held, said, unchanged

BOOKED = "book J2604 from=2026-12-02T06:00 until=2026-12-02T10:00"

# What was typed before, what is typed, the exit, the sentence, what to type.
CASES = (
    (BOOKED, "book J2604 from=2026-12-03T06:00", 1,
     "job is booked already: J2604, on P1 from 2026-12-02T06:00 until 2026-12-02T10:00", "Type unbook J2604 first."),
    ("edit J2604 state=finished", "book J2604 from=2026-12-03T06:00", 1, "job is finished: J2604", ""),
    ("edit J2604 state=cancelled", "book J2604 from=2026-12-03T06:00", 1, "job is cancelled: J2604",
     "Type edit J2604 state=planned first, if it is to run after all."),
    ("start J2604", "book J2604 from=2026-12-03T06:00", 1, "job is running: J2604", ""),
    ("edit P2 retired=yes", "book J2605 from=2026-12-03T06:00 press=P2", 1, "press is retired: P2",
     "Type press= with one that is in use, as find press retired=no lists them."),
    ("edit P2 retired=yes", "book J2602 from=2026-12-03T06:00", 1, "press is retired: P2",
     "Type press= with one that is in use, as find press retired=no lists them."),
    ("edit J2604 quantity=", "book J2604 from=2026-12-03T06:00", 2, "until is not known: J2604",
     "Type until=, or put quantity, layout and repeat of the job and speed of the press on record: then it is worked out."),
    (f"{BOOKED}; start J2604", "unbook J2604", 1, "job is running: J2604, on P1 since 2026-12-01T08:00", "Type finish J2604 when it is done."),
    (f"{BOOKED}; start J2604; finish J2604", "unbook J2604", 1, "job is not booked: J2604", ""),
    (f"{BOOKED}; edit J2604 state=cancelled", "unbook J2604", 1, "job is not booked: J2604", ""),
    ("start J2604", "start J2604", 1, "job is running already: J2604, on P1 since 2026-12-01T08:00", "Type finish J2604 when it is done."),
    ("start J2604", "start J2601", 1, "press P1 runs job J2604", "Type finish J2604 first."),
    ("start J2604; finish J2604", "start J2604", 1, "job is finished: J2604", "Type edit J2604 state=planned first, if it is to run after all."),
    ("edit J2604 state=cancelled", "start J2604", 1, "job is cancelled: J2604", "Type edit J2604 state=planned first, if it is to run after all."),
    ("edit J2604 press=", "start J2604", 2, "press is not given, and the job names none: J2604",
     "Type start J2604 press=P1 with the press that it runs on."),
    ("edit P1 retired=yes", "start J2604", 1, "press is retired: P1", "Type press= with one that is in use."),
    ("book J2603 from=2026-12-02T06:00 press=P1", "start J2603 press=P2", 1, "job is booked on press P1: J2603, press=P2",
     "Type start J2603, or unbook J2603 and then book J2603 press=P2."),
    ("start J2604; finish J2604", "finish J2604", 1, "job is finished already: J2604", "Type show J2604 for when, and how long it ran."),
    (f"{BOOKED}; start J2604; edit GR000010-C run=9223372036m", "finish J2604 length=2m", 2, "length is more than a tool's run holds: GR000010-C", "Type length= with the web that ran, and look at the run of that tool."),
    ("edit J2604 state=cancelled", "finish J2604", 1, "job is not running: J2604, cancelled", ""),
)  # fmt: skip


@pytest.fixture(scope="module", name="demo")
def made_demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    assert call(folder, "demo")[0] == 0
    return folder


@pytest.mark.parametrize("before, typed, status, sentence, hint", CASES, ids=lambda value: str(value))
def test_bad_state(demo, tmp_path, before, typed, status, sentence, hint):
    copy_shop(demo, tmp_path)
    for line in before.split("; "):
        answer = call(tmp_path, *line.split())
        assert answer[0] == 0, answer
    shop = held(tmp_path / "shop.db")
    assert call(tmp_path, *typed.split()) == (status, "", said(sentence, hint))
    assert unchanged(shop, tmp_path / "shop.db")

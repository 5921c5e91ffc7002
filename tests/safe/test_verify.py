"""verify: every damage that is planted is found, a whole shop is whole, and nothing is written.

TOOTHRACK names the program (build/toothrack).
"""
import json
import os
import sqlite3

import pytest
from safe import answer_of, call, copy_shop, done, run_sql

NAMED = "entry_before names an entry that is not on record"
HASH = "entry {0} is not as it was written, its hash does not agree"


@pytest.fixture(scope="module", name="worked")
def made_worked(tmp_path_factory):
    """The demo shop after some work, all of it in one file."""
    folder = tmp_path_factory.mktemp("worked")
    done(folder, "demo")
    for line in (
        "put PC000026-0 at=C1",
        "hold AN000020-L reason=scored",
        "hold P1-3 reason=lamp",
        "clear P1-3",
        "put PC000026-0 at=R1-3",
        "set overs 6%",
        "hold AN000021-J reason=worn",
        "clear AN000021-J",
    ):
        done(folder, *line.split())
    database = sqlite3.connect(folder / "shop.db")
    database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    database.close()
    return folder


@pytest.fixture(name="shop")
def made_shop(worked, tmp_path):
    copy_shop(worked, tmp_path)
    return tmp_path


def damages(folder):
    """The texts of the damage found; the text and the JSON must agree."""
    status, out, error = call(folder, "verify", "--json")
    proof = json.loads(out)
    texts = [damage["text"] for damage in proof["damages"]]
    assert (status, error) == (0 if proof["whole"] else 1, "")
    assert proof["whole"] == (not texts) and proof["damage_count"] >= len(texts)
    said = call(folder, "verify")
    assert said[0] == status and said[2] == ""
    for text in texts:
        assert text + "\n" in said[1]
    return texts


def test_whole__says_so(shop):
    assert damages(shop) == []
    assert done(shop, "verify").splitlines()[-1] == "whole"


PUT = "(SELECT number FROM ledger WHERE word = 'put' ORDER BY number LIMIT 1)"


@pytest.mark.parametrize(
    "planted",
    [
        f"UPDATE ledger SET detail = 'nothing at all' WHERE number = {PUT}",
        f"UPDATE ledger SET detail = '' WHERE number = {PUT}",
        f"UPDATE ledger SET login = 'somebody' WHERE number = {PUT}",
        f"UPDATE ledger SET happened = happened - 1 WHERE number = {PUT}",
        f"UPDATE ledger SET job = 1 WHERE number = {PUT}",
        f"UPDATE ledger SET terminal = terminal || char(0) || 'x' WHERE number = {PUT}",
        f"UPDATE ledger SET hash = zeroblob(32) WHERE number = {PUT}",
    ],
)
def test_entry_changed__its_number_is_told(shop, planted):
    number = answer_of(shop / "shop.db", f"SELECT {PUT}")
    run_sql(shop / "shop.db", planted)
    assert damages(shop)[0] == HASH.format(number)


def test_first_entry_changed__told(shop):
    run_sql(shop / "shop.db", "UPDATE ledger SET terminal = 'pts/9' WHERE number = 1")
    assert damages(shop) == [HASH.format(1)]


def test_entry_removed__told_and_no_other(shop):
    number = answer_of(shop / "shop.db", "SELECT number FROM ledger WHERE word = 'set'")
    run_sql(shop / "shop.db", f"DELETE FROM ledger WHERE number = {number}")
    assert damages(shop) == [NAMED, f"entry {number} is missing"]


def test_entries_removed__told_as_a_span(shop):
    run_sql(shop / "shop.db", "DELETE FROM ledger WHERE number BETWEEN 5 AND 9")
    assert damages(shop)[0] == "entries 5 to 9 are missing"


def test_last_entry_removed__seen_by_what_it_did(shop):
    run_sql(shop / "shop.db", "DELETE FROM ledger WHERE number = (SELECT max(number) FROM ledger)")
    assert damages(shop) == [NAMED, "AN000021-J: condition is ready, the ledger says hold"]


def test_volume_read_last__told_where_the_readings_say_another(shop):
    run_sql(shop / "shop.db", "UPDATE anilox SET read_volume = 1 WHERE tool = (SELECT min(tool) FROM anilox)")
    tag = answer_of(shop / "shop.db", "SELECT tag FROM tool WHERE id = (SELECT min(tool) FROM anilox)")
    (text,) = damages(shop)
    assert text == f"{tag[:-1]}-{tag[-1]}: volume read last does not agree with its readings"


def test_two_entries_swapped__told(shop):
    run_sql(
        shop / "shop.db",
        "UPDATE ledger SET number = -1 WHERE number = 7",
        "UPDATE ledger SET number = 7 WHERE number = 8",
        "UPDATE ledger SET number = 8 WHERE number = -1",
    )
    assert HASH.format(7) in damages(shop) and HASH.format(8) in damages(shop)


def test_recorded_goes_back__told(shop):
    run_sql(shop / "shop.db", "UPDATE ledger SET recorded = recorded - 60 WHERE number = 100")
    assert damages(shop) == [HASH.format(100), "entry 100 is recorded before the one that stands before it"]


def test_entry_before_the_first__told(shop):
    run_sql(
        shop / "shop.db",
        "INSERT INTO ledger SELECT 0, word, subject_kind, subject, operator, login, terminal, from_place, to_place, job, happened,"
        " recorded, detail, hash FROM ledger WHERE number = 1",
    )
    assert "entry 0 stands before the first" in damages(shop)


def test_place_changed_behind_the_ledger__told_with_the_entry(shop):
    run_sql(shop / "shop.db", "UPDATE tool SET place = (SELECT id FROM place WHERE code = 'C2') WHERE tag LIKE 'PC000026%'")
    assert damages(shop) == ["PC000026-0: place is C2, the ledger says R1-3"]
    found = json.loads(call(shop, "verify", "--json")[1])["damages"][0]
    assert found["tag"] == "PC000026-0"
    assert answer_of(shop / "shop.db", f"SELECT word FROM ledger WHERE number = {found['entry']}") == "put"


def test_place_taken_away__told(shop):
    run_sql(shop / "shop.db", "UPDATE tool SET place = NULL WHERE tag LIKE 'PC000026%'")
    assert damages(shop) == ["PC000026-0: place is nowhere, the ledger says R1-3"]


def test_condition_changed_behind_the_ledger__told(shop):
    run_sql(shop / "shop.db", "UPDATE tool SET condition = 'ready' WHERE tag LIKE 'AN000020%'")
    assert damages(shop) == ["AN000020-L: condition is ready, the ledger says hold"]
    run_sql(shop / "shop.db", "UPDATE place SET condition = 'hold', condition_since = 1 WHERE code = 'P1-3'")
    assert damages(shop)[1].endswith(": condition is hold, the ledger says ready")


def test_condition_by_import__not_guessed(shop):
    """What a row of CSV brought is known by no entry; a correction says it where it stands first."""
    (shop / "g.csv").write_text("other_tag,condition,note\nodd-1,hold,worn\nodd-2,ready,fine\n", encoding="utf-8")
    done(shop, "import", "gear", "g.csv")
    assert damages(shop) == []
    (shop / "g.csv").write_text("other_tag,condition,note\nodd-1,ready,condition ready -> hold\nodd-2,ready,condition ready -> hold\n")
    done(shop, "import", "gear", "g.csv", "update=yes")
    assert damages(shop) == []


PROMISED = (
    "INSERT INTO promise (id, job, press, starts, ends, verdict, answer, asked, login, made)"
    " SELECT 1, id, 1, 1000, 2000, 'ready', '{}', 900, 'clerk', 1 FROM job WHERE state = 'planned' ORDER BY id LIMIT 1",
    "INSERT INTO promise_tool (promise, tool, need, station) SELECT 1, id, 'cylinder', 1 FROM tool WHERE tag LIKE 'PC000026%'",
    "INSERT INTO booking (tool, job, need, station, starts, ends) SELECT t.tool, p.job, t.need, t.station, p.starts, p.ends"
    " FROM promise p JOIN promise_tool t ON t.promise = p.id",
)
OVERLAPPING = ("DROP TRIGGER booking_overlap_insert", "DROP TRIGGER booking_overlap_update")


@pytest.mark.parametrize(
    "planted, told",
    [
        ("UPDATE promise SET ended = 2", "PC000026-0: booked for job {0} without a promise that holds"),
        ("UPDATE booking SET ends = ends + 1", "PC000026-0: booked for job {0} without a promise that holds"),
        ("UPDATE booking SET station = 2", "PC000026-0: booked for job {0} without a promise that holds"),
        ("DELETE FROM booking", "PC000026-0: promised to job {0} and not booked for it"),
        (
            "INSERT INTO job_run (job, press, started, start_entry) SELECT job, press, 1000, 1 FROM promise",
            "{1}: its run on press P1 has no end, its state is planned",
        ),
        (
            "INSERT INTO risk (job, number, need, text, since) SELECT id, 1, 'press', 'x', 1 FROM job"
            " WHERE id = (SELECT max(id) FROM job)",
            "{2}: job {3} is at risk without a promise that holds",
        ),
    ],
)
def test_promises__told_where_they_and_their_bookings_differ(shop, planted, told):
    run_sql(shop / "shop.db", *PROMISED)
    assert damages(shop) == []
    job, tag = (answer_of(shop / "shop.db", f"SELECT {column} FROM job WHERE id = (SELECT job FROM promise)") for column in ("number", "tag"))
    other, other_tag = (answer_of(shop / "shop.db", f"SELECT {column} FROM job ORDER BY id DESC LIMIT 1") for column in ("number", "tag"))
    run_sql(shop / "shop.db", planted)
    assert damages(shop) == [told.format(job, f"{tag[:-1]}-{tag[-1]}", f"{other_tag[:-1]}-{other_tag[-1]}", other)]


@pytest.mark.parametrize(
    "planted, told",
    [
        ("UPDATE web_run SET entry = 1", "PC000051-Y: ran by entry 1, which finished no run of a job"),
        ("UPDATE job_run SET finish_entry = 1", "PC000051-Y: ran by entry {0}, which finished no run of a job"),
        ("INSERT INTO taken_back (entry, by_entry) VALUES ({0}, {0})", "PC000051-Y: ran by entry {0}, which finished no run of a job"),
        ("UPDATE job_run SET length = length + 1000000000", "PC000051-Y: ran 1000m in a run of 1001m"),
        ("UPDATE web_run SET life = 2", "PC000051-Y: ran in life 2, it is in life 1"),
        ("UPDATE tool SET run = 999 * 1000000000 WHERE id = (SELECT tool FROM web_run)", "PC000051-Y: run is 999m, its jobs ran 1000m"),
        ("UPDATE tool SET run = NULL WHERE id = (SELECT tool FROM web_run)", "PC000051-Y: run is 0m, its jobs ran 1000m"),
    ],
)
def test_run_of_a_tool__told_where_it_and_the_runs_of_jobs_differ(shop, planted, told):
    for line in ("take PC000051-Y job=J2604", "start J2604", "finish J2604 length=1000m"):
        done(shop, *line.split())
    assert damages(shop) == []
    entry = answer_of(shop / "shop.db", "SELECT entry FROM web_run")
    run_sql(shop / "shop.db", planted.format(entry))
    assert damages(shop) == [told.format(entry)]


@pytest.mark.parametrize(
    "planted, told",
    [
        ("UPDATE wear SET slope = slope - 1 WHERE tool = {0}", "{1}: the trend kept is not what its readings tell"),
        ("UPDATE reading SET volume = volume - 500000 WHERE id = (SELECT max(id) FROM reading WHERE tool = {0}); DELETE FROM wear_stale",
         "{1}: the trend kept is not what its readings tell"),
        ("DELETE FROM wear WHERE tool = {0}", "{1}: the trend kept is not what its readings tell"),
        ("UPDATE anilox SET forecast = forecast + 1 WHERE tool = {0}", "{1}: the forecast kept is not what its trend tells"),
        ("UPDATE anilox SET forecast = NULL WHERE tool = {0}", "{1}: the forecast kept is not what its trend tells"),
        ("INSERT INTO wear_stale VALUES ({0})", "{1}: its trend was not worked out anew"),
    ],
)
def test_trend_kept__told_where_it_is_not_what_the_readings_tell(shop, planted, told):
    roll, tag = (answer_of(shop / "shop.db", f"SELECT {column} FROM anilox k JOIN tool t ON t.id = k.tool WHERE forecast IS NOT NULL ORDER BY t.id LIMIT 1")
                 for column in ("t.id", "t.tag"))
    run_sql(shop / "shop.db", *planted.format(roll).split("; "))
    assert damages(shop) == [told.format(roll, f"{tag[:-1]}-{tag[-1]}")]


def test_run_of_a_tool_put_right_by_hand__no_damage(shop):
    for line in ("take PC000051-Y job=J2604", "start J2604", "finish J2604 length=1000m", "edit PC000051-Y run=10m"):
        done(shop, *line.split())
    assert damages(shop) == []
    done(shop, "edit", "J2604", "state=running")
    done(shop, "finish", "J2604", "length=500m")
    assert damages(shop) == []
    run_sql(shop / "shop.db", "UPDATE tool SET run = 499 * 1000000000 WHERE tag LIKE 'PC000051%'")
    assert damages(shop) == ["PC000051-Y: run is 499m, its jobs ran 500m"]


def test_tool_booked_twice__told(shop):
    one, two = (answer_of(shop / "shop.db", f"SELECT number FROM job WHERE state = 'planned' ORDER BY id LIMIT 1 OFFSET {i}") for i in (0, 1))
    run_sql(
        shop / "shop.db", *PROMISED, *OVERLAPPING,
        f"INSERT INTO promise SELECT 2, (SELECT id FROM job WHERE number = '{two}'), press, starts, ends + 5, teeth, pitch, repeat,"
        " number_around, verdict, answer, asked, operator, login, made, ended FROM promise",
        "INSERT INTO promise_tool SELECT 2, tool, need, station, cut FROM promise_tool",
        "INSERT INTO booking (tool, job, need, station, starts, ends) SELECT t.tool, p.job, t.need, t.station, p.starts, p.ends"
        " FROM promise p JOIN promise_tool t ON t.promise = p.id WHERE p.id = 2",
    )  # fmt: skip
    assert damages(shop) == [f"PC000026-0: booked for jobs {one} and {two} at one time"]


def test_promise_to_a_job_that_is_over__told(shop):
    run_sql(shop / "shop.db", *PROMISED, "UPDATE job SET state = 'cancelled' WHERE id = (SELECT job FROM promise)")
    (text,) = damages(shop)
    assert ": a promise to job " in text and text.endswith(" holds, which is cancelled")


def test_state_of_a_job_changed_behind_the_ledger__told(shop):
    number = answer_of(shop / "shop.db", "SELECT number FROM job WHERE state = 'planned' ORDER BY id LIMIT 1")
    tag = answer_of(shop / "shop.db", f"SELECT tag FROM job WHERE number = '{number}'")
    done(shop, "edit", number, "state=cancelled")
    assert damages(shop) == []
    run_sql(shop / "shop.db", f"UPDATE job SET state = 'planned' WHERE number = '{number}'")
    assert damages(shop) == [f"{tag[:-1]}-{tag[-1]}: state is planned, the ledger says cancelled"]
    # What is taken back, or stands behind words of anybody's own, is not guessed.
    run_sql(shop / "shop.db", f"UPDATE job SET state = 'cancelled' WHERE number = '{number}'")
    done(shop, "undo")
    done(shop, "edit", number, "title=state a -> running", "state=finished")
    assert damages(shop) == []


def test_record_without_entry__told(shop):
    run_sql(shop / "shop.db", "INSERT INTO job (id, tag, number, state) VALUES (900, 'JB000900X', 'J900', 'planned')")
    assert damages(shop)[0].endswith(": on record without an entry in the ledger")


def test_record_gone__told(shop):
    run_sql(shop / "shop.db", "DELETE FROM reading WHERE id = 3", "DELETE FROM wear_stale")
    assert damages(shop) == ["reading number 3 is in the ledger and not on record"]


def test_reference_to_nothing__told(shop):
    run_sql(shop / "shop.db", "UPDATE tool SET home = 12345 WHERE tag LIKE 'PC000026%'")
    assert damages(shop)[0].startswith("tool number ") and damages(shop)[0].endswith(" names a place that is not on record")


def test_words_that_find_it_gone__told(shop):
    run_sql(
        shop / "shop.db",
        "INSERT INTO search (search, rowid, words) SELECT 'delete', row, words FROM tool_words WHERE id = 5",
    )
    assert len(damages(shop)) == 1 and damages(shop)[0].endswith(": not found by its words")


def test_many_damages__twenty_shown_the_rest_counted(shop):
    run_sql(shop / "shop.db", "UPDATE ledger SET login = 'somebody'")
    _, out, _ = call(shop, "verify")
    entries = answer_of(shop / "shop.db", "SELECT max(number) FROM ledger")
    assert out.count("hash does not agree") == 20
    assert f"and {entries - 20} more\n" in out
    assert f"damage found: {entries}; " in out


def test_clock_set_back__no_damage(shop):
    """A hold says nothing of whereabouts, so that it may happen before the tool's last movement."""
    done(shop, "hold", "PC000026-0", "reason=x", now="2026-11-29T08:00:00Z")
    assert damages(shop) == []


def test_every_page_overwritten_in_turn__never_a_crash_and_found_where_it_is_used(shop):
    whole = (shop / "shop.db").read_bytes()
    missed = []
    for page in range(0, len(whole) // 4096):
        torn = bytearray(whole)
        torn[page * 4096 : page * 4096 + 4096] = b"\x5a" * 4096
        (shop / "shop.db").write_bytes(torn)
        for beside in ("-wal", "-shm"):
            (shop / f"shop.db{beside}").unlink(missing_ok=True)
        status, out, error = call(shop, "verify")
        assert status in (0, 1, 3) and (status != 3 or error.startswith("toothrack: ")), (page, status, error)
        if status == 0:
            missed.append(page + 1)
        else:
            assert "file: " in out or "cannot be read" in out or "damage" in error or "not a shop" in error, (page, out, error)
    assert missed == []


def test_read_only_file__works_and_is_not_written(shop):
    done(shop, "backup", "copy.db")
    os.chmod(shop / "copy.db", 0o440)
    before = (shop / "copy.db").read_bytes()
    assert done(shop, "verify", db="copy.db").splitlines()[-1] == "whole"
    assert (shop / "copy.db").read_bytes() == before
    assert not list(shop.glob("copy.db-*"))


def test_running_clock__reading_only(shop):
    assert done(shop, "verify", now=None).splitlines()[-1] == "whole"

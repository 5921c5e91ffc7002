"""The scanning bench where no terminal is: lines of standard input are scans.

TOOTHRACK names the program (build/toothrack).
"""
import json
import os
import pathlib
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
TO_C1 = "C1 (cart 1): tools scanned now go there\n"
MOVED = "PC000025-1  from R1-3 to C1  plate cylinder, 96 teeth 1/8cp, face 330mm, geared\n"
UNKNOWN = "toothrack: line {0}: tag not known: nonesuch\nNothing on record has it, and nothing was recorded.\n"


def environment(folder):
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    return kept | {
        "HOME": str(folder),
        "LC_ALL": "C.UTF-8",
        "LOGNAME": "toolroom",
        "TERM": "dumb",
        "TZ": "UTC",
        "TOOTHRACK_DB": "shop.db",
        "TOOTHRACK_NOW": "2026-12-01T08:00:00Z",
    }


def run(folder, *words, lines=b"", **more):
    streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | more
    typed = {} if "stdin" in more else {"input": lines if isinstance(lines, bytes) else lines.encode()}
    done = subprocess.run([PROGRAM, *words], cwd=folder, env=environment(folder), timeout=60, check=False, **typed, **streams)
    return done.returncode, (done.stdout or b"").decode(), (done.stderr or b"").decode()


@pytest.fixture(scope="module", name="demo")
def made_demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    assert run(folder, "demo")[0] == 0
    return folder


@pytest.fixture(name="shop")
def made_shop(demo, tmp_path):
    (tmp_path / "shop.db").write_bytes((demo / "shop.db").read_bytes())
    return tmp_path


def started(shop, *words):
    return subprocess.Popen(
        [PROGRAM, *words], cwd=shop, env=environment(shop), stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        encoding="utf-8", bufsize=1,
    )


# ---------------------------------------------------------------- lines


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\t", "\t\r\n", "\r\r\n"])
def test_each_suffix__one_scan(shop, end):
    assert run(shop, "scan", lines=f"C1{end}PC0000251{end}") == (0, TO_C1 + MOVED, "")


def test_last_line_without_end__scanned_too(shop):
    assert run(shop, "scan", lines="C1\nPC0000251") == (0, TO_C1 + MOVED, "")


def test_byte_order_mark__passed_over(shop):
    assert run(shop, "scan", lines=b"\xef\xbb\xbfC1\nPC0000251\n") == (0, TO_C1 + MOVED, "")


def test_refused__said_with_its_line_and_gone_on(shop):
    assert run(shop, "scan", lines="C1\n\nnonesuch\nPC0000251\n") == (2, TO_C1 + MOVED, UNKNOWN.format(3))


def test_refused_by_the_tools_state__exit_1(shop):
    status, _, error = run(shop, "scan", lines="C1\nPC0000331\n")
    assert (status, error) == (1, "toothrack: line 2: tool is scrapped: PC000033-1: worn gear, face undersize\nType edit PC000033-1 condition=ready where it was not.\n")


def test_quit__nothing_behind_it_is_scanned(shop):
    assert run(shop, "scan", lines="C1\nquit\nPC0000251\n") == (0, TO_C1, "")


def test_no_line_at_all__done(shop):
    assert run(shop, "scan") == (0, "", "")
    assert run(shop, "--json", "scan") == (0, "[]\n", "")


def test_longer_than_any_code__refused_and_gone_on(shop):
    status, out, error = run(shop, "scan", lines="C1\n" + "A" * 5000 + "\nPC0000251\n")
    assert (status, out) == (2, TO_C1 + MOVED)
    assert error == (
        "toothrack: line 2: line is longer than 4096 bytes, it is no scan\nScan one code after another, each with CR or TAB behind it.\n"
    )


def test_any_bytes__never_more_than_refused(shop):
    noise = bytes(range(256)) * 3 + b"\n" + b"\0PC0000251\n" + b"\xff\xfe\n"
    status, _, error = run(shop, "scan", lines=noise)
    assert status in (1, 2) and "\0" not in error


def test_standard_input_is_a_folder__said(shop):
    folder = os.open(shop, os.O_RDONLY)
    try:
        status, out, error = run(shop, "scan", stdin=folder)
    finally:
        os.close(folder)
    assert (status, out) == (2, "")
    assert error == "toothrack: standard input cannot be read\nGive a file or a pipe of scans, one a line.\n"


# ---------------------------------------------------------------- answers


def test_each_scan__answered_before_the_next_is_given(shop):
    bench = started(shop, "scan")
    for line, answer in (("C1", TO_C1), ("PC0000251", MOVED)):
        bench.stdin.write(line + "\n")
        assert bench.stdout.readline() == answer
    bench.stdin.write("nonesuch\n")
    assert bench.stderr.readline() + bench.stderr.readline() == UNKNOWN.format(3)
    assert bench.communicate() == ("", "") and bench.returncode == 2


def test_json__a_line_an_answer_and_whole(shop):
    status, out, error = run(shop, "--json", "scan", lines="C1\nnonesuch\nPC0000251\n")
    assert (status, error) == (2, UNKNOWN.format(2))
    rows = json.loads(out)
    assert len(out.splitlines()) == len(rows) + 1
    assert [(row["answer"], row["tools"]) for row in rows] == [("shown", 0), ("refused", 0), ("done", 1)]
    assert rows[1]["text"] == "tag not known: nonesuch" and rows[2]["entry"] == 491


def test_nobody_reads__nothing_more_is_scanned(shop):
    bench = started(shop, "scan")
    bench.stdout.close()
    bench.stdin.write("C1\n" * 2)
    bench.stdin.write("PC0000251\n")
    bench.stdin.close()
    assert bench.wait(60) == 0
    bench.stderr.close()
    assert "R1-3" in run(shop, "show", "PC0000251")[1]


def test_answers_cannot_be_written__said(shop):
    with open("/dev/full", "wb") as full:
        status, _, error = run(shop, "scan", lines="C1\nPC0000251\n", stdout=full)
    assert (status, error) == (3, "toothrack: answer not written: No space left on device\nMake room there, or send the answer elsewhere.\n")


def test_store_cannot_serve__stops_there(shop):
    bench = started(shop, "scan")
    bench.stdin.write("C1\n")
    assert bench.stdout.readline() == TO_C1
    (shop / "shop.db").rename(shop / "away.db")
    out, error = bench.communicate("PC0000251\nPC0000260\n")
    assert bench.returncode == 3 and out == ""
    assert error == "toothrack: line 2: shop file was moved or removed meanwhile: shop.db\nSee where it is, then type it again.\n"


# ---------------------------------------------------------------- among commands


def test_scan_among_commands__until_quit(shop):
    lines = "scan\nC1\nPC0000251\nquit\nput PC0000260 at=C2\n"
    status, out, error = run(shop, lines=lines)
    assert (status, error) == (0, "")
    assert out.startswith(TO_C1 + MOVED + "PC000026-0  from R1-3 to C2  ")


def test_scan_among_commands__lines_counted_through(shop):
    status, out, error = run(shop, lines="# morning\nscan\nC1\nPC0000331\nquit\nput PC0000331 at=C1\n")
    assert (status, out) == (1, TO_C1)
    sentence = "tool is scrapped: PC000033-1: worn gear, face undersize\nType edit PC000033-1 condition=ready where it was not.\n"
    assert error == f"toothrack: line 4: {sentence}toothrack: line 6: {sentence}"


def test_scan_among_commands__a_wrong_request_stops_what_follows(shop):
    status, out, error = run(shop, lines="scan\nnonesuch\nC1\nquit\nput PC0000260 at=C2\n")
    assert (status, out, error) == (2, TO_C1, UNKNOWN.format(2))


def test_signed_on_by_as__not_signed_off_at_once(shop):
    assert run(shop, "--as", "E011", "scan", lines="C1\n") == (0, TO_C1, "")

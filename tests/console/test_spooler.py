"""`tag ... printer=QUEUE` hands a PDF to `lp`: one of the test's own, first on PATH, which tells what it was given."""
import os
import pathlib
import signal
import stat
import subprocess
import time

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
TAG = "PC000025-1"

# Words one a line, the file's first bytes and its mode, and what stood on our standard output by then.
LP = """#!/bin/sh
printf '%s\\n' "$@" >"$LP_SAW.words"
head -c 5 "$3" >"$LP_SAW.bytes"
stat -c %a "$(dirname "$3")" >"$LP_SAW.mode"
cp "$OUTPUT" "$LP_SAW.said"
"""
WORKS = "echo 'request id is labels-7 (1 file(s))'\n"


@pytest.fixture(name="shop")
def fixture_shop(tmp_path):
    run(tmp_path, "demo")
    return tmp_path


def environment(folder, **more):
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    (folder / "tmp").mkdir(exist_ok=True)
    return kept | {
        "HOME": str(folder), "LOGNAME": "clerk", "LC_ALL": "C.UTF-8", "TZ": "UTC", "TERM": "dumb", "TMPDIR": str(folder / "tmp"),
        "LP_SAW": str(folder / "saw"), "OUTPUT": str(folder / "output"),
    } | more  # fmt: skip


def run(folder, *words, **more):
    """Exit, standard output, standard error."""
    with open(folder / "output", "wb") as output:
        done = subprocess.run(
            [PROGRAM, "--db", "shop.db", *words], cwd=folder, env=environment(folder, **more), stdin=subprocess.DEVNULL,
            stdout=output, stderr=subprocess.PIPE, timeout=60, check=False,
        )  # fmt: skip
    assert not list((folder / "tmp").iterdir()), "something was left in the scratch folder"
    return done.returncode, (folder / "output").read_text(), done.stderr.decode()


def with_lp(folder, script):
    """PATH with an lp of our own first."""
    lp = folder / "bin" / "lp"
    lp.parent.mkdir(exist_ok=True)
    lp.write_text(LP + script)
    lp.chmod(lp.stat().st_mode | stat.S_IXUSR)
    return f"{lp.parent}:{os.environ['PATH']}"


def is_due(folder):
    """Is the tag still one that was never printed?"""
    return TAG in run(folder, "--csv", "tag", "unprinted", "cylinder")[1]


def test_printed__lp_is_given_queue_and_pdf__after_it_was_said(shop):
    code, out, err = run(shop, "tag", TAG, "printer=labels", PATH=with_lp(shop, WORKS))
    assert (code, err) == (0, "")
    words = (shop / "saw.words").read_text().splitlines()
    assert words[:2] == ["-d", "labels"] and len(words) == 3 and words[2].endswith(".pdf")
    assert (shop / "saw.bytes").read_bytes() == b"%PDF-"
    assert (shop / "saw.mode").read_text() == "700\n"
    said = (shop / "saw.said").read_text()
    assert said.startswith("1 tag on ") and "never on a working face" in said
    assert out == said + "1 tag handed to printer labels; lp says: request id is labels-7 (1 file(s))\n"
    assert not is_due(shop)


def test_queue_with_blanks_and_signs__given_as_it_is(shop):
    queue = "tool room; touch here"
    code, _, err = run(shop, "tag", TAG, f"printer={queue}", PATH=with_lp(shop, WORKS))
    assert (code, err) == (0, "")
    assert (shop / "saw.words").read_text().splitlines()[1] == queue
    assert not (shop / "here").exists()


def test_json__rows_alone_on_standard_output(shop):
    code, out, err = run(shop, "--json", "tag", TAG, "printer=labels", PATH=with_lp(shop, WORKS))
    assert (code, err) == (0, "")
    assert out.startswith(f'[{{"tag": "{TAG}", "kind": "cylinder"') and '"printer": "labels"' in out


@pytest.mark.parametrize(
    ("script", "sentence"),
    [
        ("echo 'lp: The printer or class does not exist.' >&2\nexit 1\n", "lp failed, exit 1: lp: The printer or class does not exist."),
        ("exit 3\n", "lp failed, exit 3: it did not say why"),
        ("kill -9 $$\n", "lp failed, signal 9: it did not say why"),
    ],
)
def test_lp_fails__told_and_nothing_counts_as_printed(shop, script, sentence):
    code, out, err = run(shop, "tag", TAG, "printer=labels", PATH=with_lp(shop, script))
    assert code == 2
    assert err == f"toothrack: {sentence}\nNothing counts as printed; the command lpstat -e lists the printers there are.\n"
    assert out == (shop / "saw.said").read_text()
    assert is_due(shop)


def test_lp_says_much__first_line_told_and_all_read(shop):
    script = "echo; echo first; yes 'and more of it' | head -n 100000\n"
    code, out, err = run(shop, "tag", TAG, "printer=labels", PATH=with_lp(shop, script))
    assert (code, err) == (0, "")
    assert out.endswith("; lp says: first\n")


def test_no_lp__its_sentence_before_anything_is_said(shop):
    (shop / "bin").mkdir()
    code, out, err = run(shop, "tag", TAG, "printer=labels", PATH=str(shop / "bin"))
    assert (code, out) == (2, "")
    assert err == (
        "toothrack: no lp on this system, the command that prints: printer=labels\n"
        "Install the client of a print spooler (on Debian apt-get install cups-client), or type file=tags.pdf.\n"
    )
    assert is_due(shop)


@pytest.mark.parametrize("queue", ["-o", "", " ", "a\nb", "a\x7fb", "\u202ea"])
def test_no_queue_is_called_so__refused(shop, queue):
    code, out, err = run(shop, "tag", TAG, f"printer={queue}", PATH=with_lp(shop, WORKS))
    assert (code, out) == (2, "")
    assert err.endswith("Type printer= with a queue of this system; the command lpstat -e lists them.\n")
    assert not (shop / "saw.words").exists()


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_asked_to_end_while_lp_runs__nothing_left_behind_nothing_counts(shop, number):
    path = with_lp(shop, "exec sleep 30\n")
    with subprocess.Popen(
        [PROGRAM, "--db", "shop.db", "tag", TAG, "printer=labels"], cwd=shop, env=environment(shop, PATH=path, OUTPUT="/dev/null"),
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    ) as program:  # fmt: skip
        until = time.monotonic() + 20
        while not (shop / "saw.said").exists() and time.monotonic() < until:
            time.sleep(0.02)
        left = len(list((shop / "tmp").iterdir()))
        program.send_signal(number)
        _, err = program.communicate(timeout=20)
    assert (left, program.returncode, err) == (1, -number, b"")
    assert not list((shop / "tmp").iterdir())
    assert is_due(shop)

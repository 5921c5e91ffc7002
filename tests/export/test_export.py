"""What `export` writes comes in again by `import` as the same records: exported from there it is the same file, byte for byte.

TOOTHRACK names the program; TOOTHRACK_EXPORT_SHOPS says how many random shops are tried, TOOTHRACK_EXPORT_SEED from where.
"""
import json
import os
import pathlib
import random
import resource
import signal
import subprocess

import awkward
import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
KINDS = "operator place press job cylinder gear anilox blade die magnetic_cylinder station cut reading".split()
SHOPS = int(os.environ.get("TOOTHRACK_EXPORT_SHOPS", "3"))
SEED = int(os.environ.get("TOOTHRACK_EXPORT_SEED", "1"))


def call(folder, *words, shop="shop.db", code=0, zone="Europe/Berlin", limits=None):
    environment = dict(os.environ, HOME=str(folder), LC_ALL="C.UTF-8", TZ=zone, TOOTHRACK_NOW="2026-12-01T08:00:00Z")
    done = subprocess.run([PROGRAM, "--db", shop, *words], cwd=folder, env=environment, capture_output=True, check=False, preexec_fn=limits)
    assert code is None or done.returncode == code, (words, done.returncode, done.stdout.decode(), done.stderr.decode())
    return done


def export(folder, shop, into, zone="Europe/Berlin"):
    (folder / into).mkdir()
    for kind in KINDS:
        call(folder, "export", kind, f"file={into}/{kind}.csv", shop=shop, zone=zone)
    return {kind: (folder / into / f"{kind}.csv").read_bytes() for kind in KINDS}


def take_in(folder, shop, files, zone="Europe/Berlin"):
    for kind in KINDS:
        call(folder, "import", kind, f"{files}/{kind}.csv", shop=shop, zone=zone)


def records(folder, shop):
    return {kind: json.loads(call(folder, "--json", "export", kind, shop=shop).stdout) for kind in KINDS}


def without_notes(shop):
    """Of what is held or scrapped the note takes the reason in: it is not compared."""
    return {kind: [{name: value for name, value in row.items() if name != "note" or row.get("condition", "ready") == "ready"} for row in rows]
            for kind, rows in shop.items()}


def round_trip(folder, zone="Europe/Berlin"):
    first = export(folder, "shop.db", "first")
    take_in(folder, "second.db", "first", zone)
    second = export(folder, "second.db", "second", zone)
    for kind in KINDS:
        assert first[kind].decode() == second[kind].decode(), kind
    assert without_notes(records(folder, "shop.db")) == without_notes(records(folder, "second.db"))
    # What is there already is seen to be there: the same file changes nothing.
    for kind in KINDS:
        done = json.loads(call(folder, "--json", "import", kind, f"second/{kind}.csv", "update=yes", shop="second.db").stdout)
        assert (done["added"], done["changed"]) == (0, 0), (kind, done)
    # A device's list of readings is never corrected by hand first: those on record count as they were.
    done = json.loads(call(folder, "--json", "import", "reading", "second/reading.csv", shop="second.db").stdout)
    assert (done["added"], done["changed"]) == (0, 0), done
    assert export(folder, "second.db", "third") == first


def test_round_trip__demo_shop(tmp_path):
    call(tmp_path, "demo")
    call(tmp_path, "hold", "P1-3", "reason=doctor blade chamber leaks; part ordered")
    call(tmp_path, "hold", "K-17", "reason=nick, 3mm")
    round_trip(tmp_path)


@pytest.mark.parametrize("seed", range(SEED, SEED + SHOPS))
def test_round_trip__random_shop(tmp_path, seed):
    draft = awkward.Draft(random.Random(seed))
    for kind in KINDS:
        (tmp_path / f"{kind}.csv").write_text(awkward.file_text(draft.rows[kind]), encoding="utf-8")
    take_in(tmp_path, "shop.db", ".")
    for at, roll in enumerate(json.loads(call(tmp_path, "--json", "find", "anilox", "condition=ready").stdout)):
        call(tmp_path, "hold", roll["tag"], f"reason={awkward.TEXTS[at]}")
    round_trip(tmp_path, random.Random(seed).choice(("Europe/Berlin", "UTC", "America/New_York")))


def many_operators(folder, count):
    (folder / "operator.csv").write_text("badge,name,role\n" + "".join(f"B{at},somebody,clerk\n" for at in range(count)), encoding="utf-8")
    call(folder, "import", "operator", "operator.csv")


def test_file__disk_full__nothing_left_and_the_old_one_stays(tmp_path):
    def small_files():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (40000, 40000))  # SQLite's own memory of the file's pages takes 32768

    many_operators(tmp_path, 2000)
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "operator.csv").write_text("as it was\n", encoding="utf-8")
    done = call(tmp_path, "export", "operator", "file=out/operator.csv", code=3, limits=small_files)
    assert done.stderr.decode() == ("toothrack: disk is full, the file was not written: out/operator.csv\n"
                                    "Make room there, or name the file elsewhere.\n")
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["operator.csv"]
    assert (tmp_path / "out" / "operator.csv").read_text(encoding="utf-8") == "as it was\n"


def test_file__no_permission__refused(tmp_path):
    call(tmp_path, "demo")
    done = call(tmp_path, "export", "cut", "file=/sys/cut.csv", code=2)  # nobody may write there, not even root
    assert done.stderr.decode() == ("toothrack: file may not be written by you: /sys/cut.csv\n"
                                    "Ask the owner of its folder, or name the file elsewhere.\n")


def test_file__link__the_file_behind_it_is_written(tmp_path):
    call(tmp_path, "demo")
    (tmp_path / "link.csv").symlink_to("real.csv")
    (tmp_path / "real.csv").write_text("old\n", encoding="utf-8")
    call(tmp_path, "export", "cut", "file=link.csv")
    assert (tmp_path / "link.csv").is_symlink()
    assert (tmp_path / "real.csv").read_bytes() == call(tmp_path, "export", "cut").stdout


def test_standard_output__reader_gone__no_fault(tmp_path):
    many_operators(tmp_path, 20000)
    environment = dict(os.environ, TOOTHRACK_NOW="2026-12-01T08:00:00Z")
    with subprocess.Popen([PROGRAM, "--db", "shop.db", "export", "operator"], cwd=tmp_path, env=environment, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE) as program:
        assert program.stdout.readline() == b"badge,tag,name,role,retired\r\n"
        program.stdout.close()
        assert program.wait() == 0
        assert program.stderr.read() == b""


def test_memory__many_records__does_not_grow(tmp_path):
    def most(*words):
        program = subprocess.Popen([PROGRAM, "--db", "shop.db", *words], cwd=tmp_path, stdout=subprocess.DEVNULL,
                                   env=dict(os.environ, TOOTHRACK_NOW="2026-12-01T08:00:00Z"))
        _, status, used = os.wait4(program.pid, 0)
        program.returncode = os.waitstatus_to_exitcode(status)
        assert program.returncode == 0
        return used.ru_maxrss

    if "asan" in str(PROGRAM):
        pytest.skip("the sanitizers keep what was freed")
    many_operators(tmp_path, 50000)
    few = most("find", "operator", "badge=B77")
    assert most("export", "operator") < few + 4096
    assert most("export", "operator", "file=out.csv") < few + 4096

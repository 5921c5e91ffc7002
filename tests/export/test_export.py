"""What `export` writes comes in again by `import` as the same records: exported from there it is the same file, byte for byte.

TOOTHRACK names the program; TOOTHRACK_EXPORT_SHOPS says how many random shops are tried, TOOTHRACK_EXPORT_SEED from where.
"""
import json
import os
import pathlib
import random
import resource
import subprocess

import awkward
import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
KINDS = "operator place press job cylinder gear anilox blade die magnetic_cylinder station cut reading".split()
SHOPS = int(os.environ.get("TOOTHRACK_EXPORT_SHOPS", "8"))
SEED = int(os.environ.get("TOOTHRACK_EXPORT_SEED", "1"))


def call(folder, *words, shop="shop.db", code=0, zone="Europe/Berlin", limits=None):
    environment = dict(os.environ, HOME=str(folder), LC_ALL="C.UTF-8", TZ=zone, TOOTHRACK_NOW="2026-12-01T08:00:00Z")
    done = subprocess.run([PROGRAM, "--db", shop, *words], cwd=folder, env=environment, capture_output=True, check=False, preexec_fn=limits)
    assert done.returncode == code, (words, done.returncode, done.stdout.decode(), done.stderr.decode())
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
    for kind in KINDS[:-1]:  # a reading has no name: two of one moment could not be told apart
        done = json.loads(call(folder, "--json", "import", kind, f"second/{kind}.csv", "update=yes", shop="second.db").stdout)
        assert (done["added"], done["changed"]) == (0, 0), (kind, done)
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

"""Eight consoles write at once: no change is lost, none refused, and the shop is whole. `make bench` has them write more, and measures.

TOOTHRACK names the program (build/toothrack).
"""

import pathlib
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "bench"))

import eight_consoles  # noqa: E402

CHANGES = 60


def test_eight_consoles__nothing_lost_nor_refused(tmp_path):
    waits, refusals = eight_consoles.run(tmp_path, CHANGES)
    assert refusals == []
    assert len(waits) == eight_consoles.CONSOLES * CHANGES == eight_consoles.entries_of_moves(tmp_path)
    assert waits[-1] < 5
    proof = subprocess.run([eight_consoles.PROGRAM, "--db", tmp_path / "shop.db", "verify"], env=eight_consoles.environment(tmp_path),
                           capture_output=True, encoding="utf-8", check=False)
    assert (proof.returncode, proof.stdout.splitlines()[-1]) == (0, "whole")

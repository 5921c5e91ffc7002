"""Middling shops: the whole model of all jobs together as CPLEX-LP, solved by others, has the same optimum.

`ahead file=X.lp` writes it, glpsol and scipy.optimize.milp (HiGHS, by way of read_lp.py) solve it. The objective is the jobs served of the model;
jobs whose bookings stay are not in it and are counted beside (here there are none). TOOTHRACK_LP_SHOPS months (3) from seed TOOTHRACK_LP_SEED (1)
on, drawn as for the measurements (tests/bench/ahead_shop.py), with 20 to 40 jobs.
"""

import json
import os
import pathlib
import subprocess
import sys

import pytest

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))
sys.path.insert(0, str(HERE.parent / "bench"))

import ahead_shop  # noqa: E402
import read_lp  # noqa: E402

SHOPS = int(os.environ.get("TOOTHRACK_LP_SHOPS", "3"))
SEED = int(os.environ.get("TOOTHRACK_LP_SEED", "1"))
SECONDS = 60


def ask(folder, *words):
    done = ahead_shop.run(folder, *words)
    assert done.returncode in (0, 1) and not done.stderr, done.stderr
    return done.stdout


def optimum_of_glpsol(path):
    """What glpsol finds, proved optimal, within a minute; None where it does not end."""
    out = f"{path}.sol"
    done = subprocess.run(["glpsol", "--lp", path, "--tmlim", str(SECONDS), "--write", out], capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stdout
    # "s mip ROWS COLUMNS STATUS OBJECTIVE", GLPK reference manual, glp_write_mip.
    words = next(line.split() for line in pathlib.Path(out).read_text(encoding="utf-8").splitlines() if line.startswith("s "))
    return float(words[5]) if words[4] == "o" else None


@pytest.mark.parametrize("seed", range(SEED, SEED + SHOPS))
def test_ahead_serves_what_others_find_in_its_model(tmp_path, seed):
    # Fewer families at work make it scarcer.
    month = ahead_shop.Month(20 + 7 * seed % 21, seed, weeks=1, presses=2, at_work=(6, 12)[seed % 2])
    folder = tmp_path / "shop"
    ahead_shop.make(folder, month)
    path = str(tmp_path / "whole.lp")
    ask(folder, "ahead", "days=7", f"file={path}")
    found = json.loads(ask(folder, "--json", "ahead", "days=7"))
    assert found["planned"] == len(month.jobs)
    of_model = found["served"] - sum(job["booked"] for job in found["jobs"])
    solved = read_lp.read(pathlib.Path(path).read_text(encoding="utf-8")).solve(SECONDS)
    assert solved.status == 0 and round(solved.objective) == of_model, (solved.objective, found["served"], found["bound"], found["proof"])
    by_glpsol = optimum_of_glpsol(path)
    assert by_glpsol is None or round(by_glpsol) == of_model, by_glpsol
    assert found["proven"] and found["bound"] == found["served"]


def test_a_model_is_read_as_its_format_says():
    model = read_lp.read("""\\ a comment
Minimize
 cost: 2 x1 - 3.5e0 x2
  + x3
Subject To
 c1: x1 + x2 + x3 >= 2
 - x1 + 2 x2 <= 4
 c3: x3 = 1
Bounds
 -1 <= x1 <= 10
 x2 <= 6
 x3 free
Generals
 x2
Binary
 b
End
""")
    assert model.names == ["x1", "x2", "x3", "b"] and not model.maximize
    assert model.cost == {0: 2, 1: -3.5, 2: 1}
    assert model.rows == [{0: 1, 1: 1, 2: 1}, {0: -1, 1: 2}, {2: 1}]
    assert (model.low[0], model.high[1], model.low[2], model.high[2]) == (2, 4, 1, 1)
    assert (model.least[0], model.most[0], model.most[1], model.least[2]) == (-1, 10, 6, float("-inf"))
    assert model.whole == {1, 3} and model.most[3] == 1
    # By hand: x3 = 1; x2 as large as may be: 2 x2 <= 4 + x1; each more of x2 costs 2 of x1, 4 - 3.5 > 0, so x1 is least, where x1 + x2 >= 1:
    # x1 = -1, x2 <= 1.5, whole: 1, but x1 + x2 = 0 < 1; x1 = 0, x2 = 2: -7 + 1 = -6.
    assert model.solve().objective == pytest.approx(-6)


def test_what_is_no_model_is_refused():
    for text in ("Maximize\n x\nSubject To\n x <= 1\n", "Maximize\n x ? y\nSubject To\n x <= 1\nEnd\n", "x + y\nMaximize\nEnd\n",
                 "Maximize\n x\nSubject To\n x + 3 <= 1\nEnd\n"):
        with pytest.raises(ValueError):
            read_lp.read(text)

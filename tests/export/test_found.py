"""Every value that a record shows finds that record again by `find`, and every record whose value is the same; by a range likewise.

Random shops with awkward values, as for the round trip. The reference is worked out here from `export --json` alone.
"""
import json
import os
import random

import awkward
import pytest
from test_export import KINDS, call, take_in

SHOPS = int(os.environ.get("TOOTHRACK_EXPORT_SHOPS", "3")) // 4 or 1
SEED = int(os.environ.get("TOOTHRACK_EXPORT_SEED", "1"))

# As JSON names the quantities; the value typed is the one that CSV shows.
UNITS = ("_mm", "_m", "_um", "_per_cm", "_cm3_m2", "_kg", "_deg", "_m_min", "_percent")
TEXTS = ("maker_serial", "name", "note", "title", "ink")
LISTS = ("fit", "processes", "pitches", "press", "pitch")
PLACES = ("place", "home", "within")
MOMENTS = ("back", "acquired", "engraved", "fitted", "from", "until", "moment")


def plain(name):
    """The attribute's own name: `face` of `face_mm`."""
    for unit in UNITS:
        if name.endswith(unit) and name[: -len(unit)] not in ("", "volume_tolerance_"):
            return name[: -len(unit)]
    return name


class Shop:
    def __init__(self, folder):
        self.folder = folder
        self.json = {kind: json.loads(call(folder, "--json", "find", kind).stdout) if self._has(kind) else [] for kind in KINDS}
        self.within = {row["code"]: row["within"] for row in self.json["place"]}

    def _has(self, kind):
        return json.loads(call(self.folder, "--json", "export", kind).stdout) != []

    def found(self, kind, asked):
        done = call(self.folder, "--json", "find", kind, *asked, code=None)
        assert done.returncode in (0, 1), (kind, asked, done.stderr.decode())
        return json.loads(done.stdout)

    def lies_within(self, code, outer):
        while code is not None and code != outer:
            code = self.within[code]
        return code is not None

    def same(self, attribute, value, other):
        """Is a record with the value `other` found by what `value` shows?"""
        if other is None or value is None:
            return other == value
        if attribute in TEXTS:
            return value.lower() in other.lower()
        if attribute in PLACES:
            return self.lies_within(other, value)
        return value == other


def try_column(shop, kind, name, rng):
    attribute = plain(name)
    rows = shop.json[kind]
    at = rng.randrange(len(rows))
    value = rows[at][name]
    if attribute in LISTS or attribute in MOMENTS or isinstance(value, list):
        # Several ways to be found by: at least itself is.
        assert rows[at] in shop.found(kind, [f"{attribute}={shop.cells[kind][at][attribute]}"]), (kind, attribute, value)
        return
    expected = [row for row in rows if shop.same(attribute, value, row[name])]
    assert shop.found(kind, [f"{attribute}={shop.cells[kind][at][attribute]}"]) == expected, (kind, attribute, value)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        cell = shop.cells[kind][at][attribute]
        for text, inside in ((f"{cell}..", lambda v: v >= value), (f"..{cell}", lambda v: v <= value)):
            expected = [row for row in rows if row[name] is not None and inside(row[name])]
            assert shop.found(kind, [f"{attribute}={text}"]) == expected, (kind, attribute, text)


@pytest.mark.parametrize("seed", range(SEED, SEED + SHOPS))
def test_every_value_finds_its_record(tmp_path, seed):
    rng = random.Random(seed)
    draft = awkward.Draft(rng)
    for kind in KINDS:
        (tmp_path / f"{kind}.csv").write_text(awkward.file_text(draft.rows[kind]), encoding="utf-8")
    take_in(tmp_path, "shop.db", ".")
    shop = Shop(tmp_path)
    shop.cells = {kind: awkward.file_rows(call(tmp_path, "export", kind).stdout.decode()) for kind in KINDS}
    for kind in KINDS:
        for name in shop.json[kind][0] if shop.json[kind] else ():
            # Revolutions are told beside the run, and not asked for.
            if name != "revolutions" and (name != "kind" or kind == "cut"):
                try_column(shop, kind, name, rng)

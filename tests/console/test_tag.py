"""`tag` with stocks of the shop's own, what is kept of what was printed, and the file read back by a decoder of others."""
import json
import os
import pathlib
import re
import subprocess
import time

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = str(pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve())
TAG = "PC000025-1"

STOCK = """title = roll of our own
use = tool place
tag_width = 100mm
tag_height = 50mm
dots_per_inch = 203
symbol = {symbol}
line = 4mm tag
line = 2mm {attributes}
"""


@pytest.fixture(name="shop")
def fixture_shop(tmp_path):
    assert run(tmp_path, "demo")[0] == 0
    return tmp_path


def run(folder, *words, cwd=None, **more):
    """Exit, standard output, standard error."""
    kept = {name: value for name, value in os.environ.items() if name == "PATH" or name.endswith("SAN_OPTIONS")}
    environment = kept | {"HOME": str(folder), "LOGNAME": "clerk", "LC_ALL": "C.UTF-8", "TZ": "UTC", "TERM": "dumb"} | more
    done = subprocess.run(
        [PROGRAM, "--db", str(folder / "shop.db"), *words], cwd=cwd or folder, env=environment, stdin=subprocess.DEVNULL,
        capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    return done.returncode, done.stdout.decode(), done.stderr.decode()


def rows(folder, *words):
    code, out, err = run(folder, "--json", "tag", *words)
    assert (code, err) in ((0, ""), (1, ""))
    return json.loads(out)


def stock_file(file, symbol="datamatrix", attributes="teeth repeat"):
    file.parent.mkdir(exist_ok=True)
    file.write_text(STOCK.format(symbol=symbol, attributes=attributes), encoding="utf-8")
    return file


def test_stock__in_labels_beside_the_shop__before_the_programs_own(shop):
    assert rows(shop, TAG)[0]["symbol"] == "code128"
    stock_file(shop / "labels" / "roll-50x25.stock")
    row = rows(shop, TAG)[0]
    assert (row["stock"], row["symbol"], row["text"]) == ("roll-50x25", "datamatrix", f"{TAG}\n96 teeth · repeat 304.8mm")


def test_stock__a_file_by_its_path__and_found_again_from_elsewhere(shop, tmp_path):
    stock_file(shop / "own" / "wide.stock")
    assert run(shop, "tag", TAG, "stock=own/wide.stock", "file=t.pdf")[0] == 0
    assert rows(shop, "changed") == []
    assert run(shop, "edit", TAG, "teeth=97")[0] == 0
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    code, out, err = run(shop, "--csv", "tag", "changed", cwd=elsewhere)
    assert (code, err) == (0, "")
    assert f"{TAG},cylinder," in out and ",wide," in out


def test_place_or_job_that_a_tag_names__called_otherwise__changed(shop):
    stock_file(shop / "labels" / "wide.stock", attributes="place carries")
    assert run(shop, "edit", TAG, "carries=J2601")[0] == 0
    assert run(shop, "put", TAG, "at=R1-1")[0] == 0
    assert run(shop, "tag", TAG, "stock=wide", "file=t.pdf")[0] == 0
    assert run(shop, "edit", "J2601", "number=J2699")[0] == 0
    assert [row["text"] for row in rows(shop, "changed")] == [f"{TAG}\nplace R1-1 · carries J2699"]
    assert run(shop, "tag", TAG, "stock=wide", "file=t.pdf")[0] == 0
    assert rows(shop, "changed") == []
    assert run(shop, "edit", TAG, "home=R1-2")[0] == 0
    assert run(shop, "tag", TAG, "stock=wide", "file=t.pdf")[0] == 0
    assert run(shop, "edit", "R1-1", "code=R1-9")[0] == 0
    assert [row["text"] for row in rows(shop, "changed")] == [f"{TAG}\nplace R1-9 · carries J2699"]


def test_stock_that_is_gone__the_tag_is_due_on_the_shops_own(shop):
    file = stock_file(shop / "labels" / "wide.stock")
    assert run(shop, "tag", TAG, "stock=wide", "file=t.pdf")[0] == 0
    assert run(shop, "edit", TAG, "note=by the door")[0] == 0
    assert rows(shop, "changed") == []
    file.unlink()
    assert [row["stock"] for row in rows(shop, "changed")] == ["roll-50x25"]


def test_attribute_that_nothing_has__file_line_and_nearest(shop):
    stock_file(shop / "labels" / "wide.stock", attributes="theeth repeat")
    code, out, err = run(shop, "tag", TAG, "stock=wide")
    assert (code, out) == (2, "")
    assert err == f"toothrack: {shop}/labels/wide.stock, line 8: attribute not known: theeth\nWrite teeth.\n"


def test_attribute_that_nothing_has__its_line_and_no_other_that_says_the_word(shop):
    file = stock_file(shop / "labels" / "wide.stock", attributes="teeth # tool\nline = repeat tool")
    file.write_text(file.read_text(encoding="utf-8").replace("title = ", "title = tool "), encoding="utf-8")
    code, _, err = run(shop, "tag", TAG, "stock=wide")
    assert code == 2 and err.startswith(f"toothrack: {shop}/labels/wide.stock, line 9: attribute not known: tool\n"), err


def test_attribute_of_another_use__told_whose_it_is(shop):
    stock_file(shop / "labels" / "wide.stock", attributes="badge")
    code, _, err = run(shop, "tag", TAG, "stock=wide")
    assert code == 2
    assert err == (
        f"toothrack: {shop}/labels/wide.stock, line 8: attribute is not one of tools or places: badge\n"
        "Take it out: only badges have one.\n"
    )


def test_stock_as_a_habit__looked_for_first(shop):
    code, _, err = run(shop, "set", "stock_tool", "wide")
    assert code == 2 and err.startswith("toothrack: stock not known: wide\n")
    stock_file(shop / "labels" / "wide.stock")
    assert run(shop, "set", "stock_tool", "wide")[0] == 0
    assert rows(shop, TAG)[0]["stock"] == "wide"
    assert run(shop, "set", "stock_badge", "wide")[2].startswith("toothrack: stock is not for badges: wide\n")
    (shop / "labels" / "wide.stock").unlink()
    code, _, err = run(shop, "tag", TAG)
    assert code == 2 and err.startswith("toothrack: stock not known: wide (by set stock_tool)\n")


def test_inch__printed_in_inches_is_no_change(shop):
    stock_file(shop / "labels" / "wide.stock")
    assert run(shop, "--units", "inch", "tag", TAG, "stock=wide", "file=t.pdf")[0] == 0
    assert run(shop, "edit", TAG, "note=by the door")[0] == 0
    assert rows(shop, "changed") == []


def test_without_file_or_printer__nothing_is_kept_and_anybody_may_look(shop):
    before = (shop / "shop.db").read_bytes()
    assert run(shop, "tag", TAG, TOOTHRACK_NOW="2026-12-01T08:00:00Z")[0] == 0
    assert (shop / "shop.db").read_bytes() == before
    code, out, err = run(shop, "tag", TAG, "file=t.pdf", TOOTHRACK_NOW="2026-12-01T08:00:00Z")
    assert code == 2 and out == "" and "clock" in err
    assert not (shop / "t.pdf").exists()


def test_shop_file__never_written_over(shop):
    os.link(shop / "shop.db", shop / "t.pdf")
    code, out, err = run(shop, "tag", TAG, "file=t.pdf")
    assert (code, out, err) == (2, "", "toothrack: file is the shop's own: t.pdf\nName another, such as tags.pdf.\n")


@pytest.mark.parametrize(
    ("content", "read"),
    [
        ("plain", "PC0000251"),
        ("91", "91PC0000251"),
        ("giai", "80040401234PC0000251"),
    ],
)
@pytest.mark.parametrize("symbol", ["code128", "datamatrix", "qr"])
def test_read_back__from_the_pdf_at_the_stocks_own_resolution(shop, content, read, symbol):
    """ZXingReader (zxing-cpp-tools) reads what pdftoppm (poppler-utils) makes of it."""
    assert run(shop, "set", "company_prefix", "0401234")[0] == 0
    assert run(shop, "set", "tag_content", content)[0] == 0
    stock_file(shop / "labels" / "wide.stock")
    code, out, err = run(shop, "tag", TAG, "stock=wide", f"symbol={symbol}", "file=t.pdf")
    assert (code, err) == (0, ""), out
    subprocess.run(["pdftoppm", "-r", "203", "-png", "-singlefile", "t.pdf", "t"], cwd=shop, check=True)
    said = subprocess.run(["ZXingReader", "t.png"], cwd=shop, capture_output=True, encoding="utf-8", check=False).stdout
    text = re.search(r'^Text: +"(.*)"', said, re.MULTILINE)
    assert text, said
    assert re.sub(r"[()]", "", text[1]) == read
    marked = {"code128": "]C1", "datamatrix": "]d2", "qr": "]Q3"} if content != "plain" else {"code128": "]C0", "datamatrix": "]d1", "qr": "]Q1"}
    assert re.search(r"^Identifier: +(\S+)", said, re.MULTILINE)[1] == marked[symbol]


def test_half_used_sheet__goes_on_at_a_cell(shop):
    (shop / "labels").mkdir()
    (shop / "labels" / "sheet.stock").write_text(SHEET, encoding="utf-8")
    found = rows(shop, "find", "gear", "teeth=88", "stock=sheet", "cell=3")
    assert [(row["page"], row["cell"]) for row in found] == [(1, 3), (1, 4), (2, 1), (2, 2), (2, 3)]
    code, out, _ = run(shop, "tag", "find", "gear", "teeth=88", "stock=sheet", "cell=3")
    assert code == 0 and "  2 sheets of 4, from cell 3 on; 1 left free on the last\n" in out
    code, _, err = run(shop, "tag", TAG, "stock=sheet", "cell=5")
    assert (code, err) == (2, "toothrack: cell is not on a page of sheet: 5\nType a cell from 1 to 4.\n")


SHEET = """title = sheet of four
use = tool
page_width = 210mm
page_height = 297mm
margin_left = 5mm
margin_top = 5mm
tag_width = 100mm
tag_height = 140mm
pitch_across = 100mm
pitch_down = 140mm
across = 2
down = 2
dots_per_inch = 300
symbol = datamatrix
line = 4mm tag
"""


# A record of each use on the demo shop.
OF_USE = {"tool": TAG, "place": "R1-1", "press": "P1", "job": "J2601", "badge": "E011", "action": "AC000101-1"}


@pytest.mark.parametrize("stock", sorted((TOP / "labels").glob("*.stock")), ids=lambda file: file.stem)
def test_stocks_of_the_program__tell_what_there_is_and_take_each_use(shop, stock):
    uses = re.search(r"^use *= *(.*)$", stock.read_text(encoding="utf-8"), re.MULTILINE)[1].split()
    for use in uses:
        row, = rows(shop, OF_USE[use], f"stock={stock.stem}")
        assert row["stock"] == stock.stem and row["tag"] in row["text"].split("\n")


@pytest.mark.parametrize("use", OF_USE)
def test_stock_of_the_settings__is_one_of_the_programs(shop, use):
    default = json.loads(run(shop, "--json", "set", f"stock_{use}")[1])["default"]
    assert rows(shop, OF_USE[use])[0]["stock"] == default
    assert (TOP / "labels" / f"{default}.stock").exists()


def test_carrier__of_no_diameter__refused(shop):
    for nothing in ("0mm", "0in"):
        code, out, err = run(shop, "tag", TAG, f"carrier={nothing}")
        assert (code, out) == (2, "")
        assert err == (
            f"toothrack: carrier is not more than nothing: {nothing}\n"
            "Type its diameter, such as carrier=40mm, or leave it out for a flat place.\n"
        )


def test_carrier__thinner_than_the_tag_is_long_around__refused_with_what_would_do(shop):
    """By hand: pi x 12 mm = 37.69 mm, less than the 50 mm of the tag; 50 mm / pi = 15.92 mm."""
    code, out, err = run(shop, "tag", TAG, "stock=roll-100x50", "carrier=12mm")
    assert (code, out) == (1, "")
    assert err == (
        "toothrack: tag on roll-100x50 would cover its own end: it takes 50mm around, the diameter 12mm gives 37.6mm\n"
        "It needs a diameter of at least 16mm; or type stock= with a smaller tag.\n"
    )
    assert run(shop, "tag", TAG, "stock=roll-100x50", "carrier=15.9mm")[0] == 1
    assert run(shop, "tag", TAG, "stock=roll-100x50", "carrier=16mm")[0] == 0


def test_long_name__cut_in_letters_that_can_be_read__and_told(shop):
    name = "proof cylinder " * 8
    assert run(shop, "edit", TAG, f"name={name}")[0] == 0
    row, other = rows(shop, TAG, "PC000033-1")
    assert row["cut_short"].startswith("plate cylinder · fit journal35 · proof cylinder ") and row["cut_short"].endswith("…")
    assert other["cut_short"] is None
    code, out, err = run(shop, "tag", TAG, "file=t.svg")
    assert (code, err) == (0, "")
    assert f"\ncaution: the text of {TAG} is cut short: {row['cut_short']}\n" in out
    assert f">{row['cut_short']}</text>" in (shop / "t.svg").read_text(encoding="utf-8")


def test_name_of_thousands_of_letters__cut_at_once(shop):
    for name in ("x" * 4000, "\u0394 x" * 1000):
        assert run(shop, "edit", TAG, f"name={name}")[0] == 0
        before = time.monotonic()
        row, = rows(shop, TAG, "file=t.pdf")
        assert row["cut_short"].endswith("x…")
        assert time.monotonic() - before < 2


def test_json__each_tag_its_own_x(shop):
    """25.4 mm x 3 / 203 and x 2 / 203: each tag alone is as large as fits it, and so among others."""
    alone = [rows(shop, tag)[0]["x_dots"] for tag in (TAG, "GR000019-T")]
    assert alone == [3, 2]
    together = rows(shop, TAG, "GR000019-T")
    assert [row["x_dots"] for row in together] == alone
    assert [row["x_mm"] for row in together] == [0.375, 0.25]


def test_changed__in_the_form_of_the_time_before__what_is_named_outweighs_it(shop):
    assert run(shop, "tag", TAG, "symbol=datamatrix", "carrier=40mm", "file=t.pdf")[0] == 0
    assert run(shop, "tag", "GR000019-T", "file=t.pdf")[0] == 0
    for tag in (TAG, "GR000019-T"):
        assert run(shop, "edit", tag, "teeth=97")[0] == 0
    assert {row["tag"]: row["symbol"] for row in rows(shop, "changed")} == {TAG: "datamatrix", "GR000019-T": "code128"}
    code, out, _ = run(shop, "tag", "changed")
    assert code == 0 and out.count("  for a round carrier of 40mm: put the tag's long side along its axis\n") == 1
    code, out, _ = run(shop, "tag", "changed", "symbol=code128")
    assert code == 0 and "  " + TAG + " for a round carrier of 40mm: put the tag's long side along its axis\n" in out
    code, out, err = run(shop, "tag", "changed", "file=t.pdf")
    assert (code, out) == (2, "")
    assert err == (
        "toothrack: tags have several symbols: datamatrix, code128\n"
        "Type symbol=datamatrix for all of them, or print some at a time: tag changed cylinder file=t.pdf\n"
    )
    code, out, _ = run(shop, "tag", "changed", "symbol=qr", "carrier=50mm", "file=t.pdf")
    assert code == 0 and "  for a round carrier of 50mm" in out
    assert run(shop, "edit", TAG, "teeth=98")[0] == 0
    row, = rows(shop, "changed")
    assert row["symbol"] == "qr" and "carrier of 50mm" in run(shop, "tag", "changed")[1]


def test_inch__sizes_and_diameters_in_inches(shop):
    """By hand: 0.5 in x pi = 1.5708 in, less than the 1.9685 in of the tag; that / pi = 0.6266 in. 3 dots of 203 an inch: 0.01478 in."""
    code, _, err = run(shop, "--units", "inch", "tag", TAG, "stock=roll-100x50", "carrier=0.5in")
    assert code == 1
    assert err == (
        "toothrack: tag on roll-100x50 would cover its own end: it takes 1.97in around, the diameter 0.5in gives 1.57in\n"
        "It needs a diameter of at least 0.63in; or type stock= with a smaller tag.\n"
    )
    assert "X-dimension 3 dots of 203 per inch: 0.0148in\n" in run(shop, "--units", "inch", "tag", TAG)[1]

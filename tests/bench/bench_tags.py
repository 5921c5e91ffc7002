"""1000 tags to PDF, against a call of the zint command (writing SVG) for each: how many times faster, and the bytes that a symbol takes.

    make bench

A shop of 1000 tools, all figures invented. `tag find ... file=` prints them all, its start and the finding of the tools included; the file is
made lasting (fsync), and so is the record of what was printed. Both sides are run in turn, a few rounds; the median counts. Bytes a tag: the
PDF less the same PDF on the same stock without symbols, over 1000. Asked: at least 15 (code128), 10 (datamatrix), 5 (qr) times faster, and
at most 450, 600, 1100 bytes a tag.
"""

import os
import pathlib
import re
import statistics
import subprocess
import sys
import tempfile
import time

TOP = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("TOOTHRACK", TOP / "build" / "toothrack")).resolve()
TAGS = 1000
ROUNDS = 5
STOCK = "a4-24"
# Symbology, its number for zint, times faster and bytes a tag that are asked.
ASKED = (("code128", "20", 15, 450), ("datamatrix", "71", 10, 600), ("qr", "58", 5, 1100))


def run_toothrack(folder, *words):
    environment = dict(os.environ, TZ="UTC", HOME=str(folder))
    began = time.monotonic()
    done = subprocess.run([PROGRAM, "--db", folder / "shop.db", *words], env=environment, capture_output=True, encoding="utf-8",
                          check=False)
    took = 1000 * (time.monotonic() - began)
    assert done.returncode == 0, done.stdout + done.stderr
    return took, done.stdout


def make_shop(folder):
    """The tags of its tools."""
    (folder / "place.csv").write_text("code,sort\n" + "".join(f"R{at},store\n" for at in range(20)), encoding="utf-8")
    rows = "".join(f"R{at % 20},{300 + at % 50}mm,{60 + at % 140},1/8cp,geared,\"bearer {60 + at % 4}, journal {40 + at % 3}\"\n"
                   for at in range(TAGS))
    (folder / "cylinder.csv").write_text("place,face,teeth,pitch,drive,fit\n" + rows, encoding="utf-8")
    for kind in ("place", "cylinder"):
        run_toothrack(folder, "import", kind, str(folder / f"{kind}.csv"))
    _, said = run_toothrack(folder, "--csv", "find", "cylinder")
    tags = re.findall(r"\bPC\d{6}-?[0-9A-Z]\b", said)
    assert len(set(tags)) == TAGS, f"{len(set(tags))} tags in: {said[:300]}"
    return [tag.replace("-", "") for tag in sorted(set(tags))]


def make_stock(folder):
    """The stock without a symbol, but its text of the same size: by the size of the file alone."""
    text = (TOP / "labels" / f"{STOCK}.stock").read_text(encoding="utf-8")
    path = folder / "plain.stock"
    path.write_text(re.sub(r"(?m)^symbol = .*$", "symbol = none", text), encoding="utf-8")
    return path


def print_tags(folder, *words):
    """Milliseconds and bytes."""
    file = folder / "tags.pdf"
    took, _ = run_toothrack(folder, "tag", "find", "cylinder", f"file={file}", *words)
    size = file.stat().st_size
    file.unlink()
    return took, size


def call_zint(folder, number, tags):
    began = time.monotonic()
    for tag in tags:
        subprocess.run(["zint", "-b", number, "-d", tag, "--filetype=svg", "-o", folder / "tag.svg"], check=True)
    return 1000 * (time.monotonic() - began)


def main():
    missed = []
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        tags = make_shop(folder)
        _, plain = print_tags(folder, f"stock={make_stock(folder)}")
        for symbology, number, faster, most in ASKED:
            ours, theirs, size = [], [], 0
            for _ in range(ROUNDS):
                took, size = print_tags(folder, f"stock={STOCK}", f"symbol={symbology}")
                ours.append(took)
                theirs.append(call_zint(folder, number, tags))
            times = statistics.median(theirs) / statistics.median(ours)
            bytes_a_tag = (size - plain) / TAGS
            print(f"{symbology:<11} {TAGS} tags {statistics.median(ours):8.1f} ms   zint {statistics.median(theirs):8.1f} ms   "
                  f"{times:5.1f} times faster (asked {faster})   {bytes_a_tag:6.1f} bytes a tag (asked at most {most})")
            if times < faster or bytes_a_tag > most:
                missed.append(symbology)
    if missed:
        print("missed: " + ", ".join(missed))
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())

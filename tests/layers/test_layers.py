"""Plants a breach of each rule of the house in a small tree, and sees the layer check name it."""
import os
import pathlib
import shutil
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]
CHECK = TOP / "tests" / "check_layers.sh"

# A small house that keeps every rule.
HOUSE = {
    "README.md": "",
    "DEVELOPERS.md": "",
    "Makefile": "",
    "LICENSE": "",
    "labels/a4-24.stock": "",
    "migrations/RELEASED": "# none\n",
    "migrations/0001_shop.sql": "CREATE TABLE place (id INTEGER PRIMARY KEY) STRICT;\n",
    "include/toothrack/base.h": "int base_of(int number);\n",
    "include/toothrack/quantity.h": '#include "toothrack/base.h"\nint quantity_of(int number);\n',
    "include/toothrack/trade.h": '#include "toothrack/quantity.h"\nint trade_of(int number);\n',
    "include/toothrack/store.h": '#include "toothrack/trade.h"\nint store_of(int number);\n',
    "include/toothrack/room.h": '#include "toothrack/store.h"\nint room_of(int number);\n',
    "include/toothrack/plan.h": '#include "toothrack/store.h"\nint plan_of(int number);\n',
    "include/toothrack/console.h": '#include "toothrack/store.h"\nint console_main(void);\n',
    "src/main.c": '#include "toothrack/console.h"\nint main(void) { return console_main(); }\n',
    "src/base/base.c": '#include "toothrack/base.h"\nint base_of(int number) { return number; }\n',
    "src/quantity/quantity.c": '#include "toothrack/quantity.h"\n'
    "int quantity_of(int number) { return base_of(number); }\n",
    "src/trade/pi.h": "#define PI 3\n",
    "src/trade/trade.c": '#include "pi.h"\n#include "toothrack/trade.h"\n'
    "int trade_of(int number) { return quantity_of(number) * PI; }\n",
    "src/store/internal.h": '#include <sqlite3.h>\n#include "toothrack/store.h"\n',
    "src/store/store.c": '#include "internal.h"\n'
    'const char *const place_sql = "SELECT id FROM place WHERE id = :id";\n'
    "int store_of(int number) { return trade_of(number); }\n",
    "src/room/csv.c": '#include <csv.h>\n#include "toothrack/room.h"\n'
    "int room_of(int number) { return store_of(number); }\n",
    "src/plan/plan.c": '#include "toothrack/plan.h"\n/* "SELECT id FROM place" would be the store\'s. */\n'
    'const char *plan_hint = "select a press, then type check";\n'
    "int plan_of(int number) { return store_of(number); }\n",
    "src/console/answer.h": "int answer(void);\n",
    "src/console/json.c": '#include <jansson.h>\n#include "answer.h"\nint answer(void) { return 0; }\n',
    "src/console/lines.c": "#include <readline/readline.h>\n#include <readline/history.h>\n"
    '#include "toothrack/console.h"\nint console_main(void) { return 0; }\n',
    "src/console/commands/show.c": '#include "../answer.h"\n#include "toothrack/room.h"\n'
    "int show(void);\nint show(void) { return room_of(1) + answer(); }\n",
    "src/demo/place.csv": "code,sort\n",
    "tests/base/test_base.c": '#include "toothrack/base.h"\n',
    "tests/store/test_store.c": '#include "store/internal.h"\n#include "fixture.h"\n',
    "tests/store/fixture.h": "",
    "tests/layers/test_layers.py": "",
    "tests/fuzz/fuzz_store.c": '#include "store/internal.h"\n',
    "tests/dialogues/show.txt": "> show R1\nR1\n\n> show R9\ntoothrack: tag not known: R9\n[exit 2]\n",
    "tests/dialogues/test_dialogues.py": "",
}


def write(tree, name, text):
    path = tree / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)


def compile_source(tree, source):
    """An object without the libraries' headers: only calls between functions count here."""
    target = tree / "build" / "obj" / source.relative_to(tree).with_suffix(".o")
    target.parent.mkdir(parents=True, exist_ok=True)
    empty = tree / "build" / "empty"
    subprocess.run(["gcc", "-std=c11", "-w", "-Iinclude", f"-I{empty}", "-c", "-o", target, source], cwd=tree, check=True)


def check(tree, rules=""):
    """Status and output of the check; of some of the rules, by name, or of all."""
    done = subprocess.run([CHECK], cwd=tree, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                          env=dict(os.environ, RULES=rules))
    return done.returncode, done.stdout


@pytest.fixture(scope="module")
def sound_house(tmp_path_factory):
    tree = tmp_path_factory.mktemp("house")
    for name, text in HOUSE.items():
        write(tree, name, text)
    for name in ("sqlite3.h", "csv.h", "jansson.h", "readline/readline.h", "readline/history.h"):
        write(tree, f"build/empty/{name}", "")
    for source in tree.glob("src/*/**/*.c"):
        compile_source(tree, source)
    return tree


@pytest.fixture
def house(sound_house, tmp_path):
    tree = tmp_path / "house"
    shutil.copytree(sound_house, tree)
    return tree


def test_sound_house_passes(house):
    assert check(house) == (0, "")


# What is written where, and what the check must say.
BREACHES = {
    "include upward": ("src/trade/trade.c", '#include "toothrack/store.h"\n', "trade may not include toothrack/store.h"),
    "include sideways": ("src/plan/plan.c", '#include "toothrack/room.h"\n', "plan may not include toothrack/room.h"),
    "public header upward": (
        "include/toothrack/quantity.h",
        '#include "toothrack/store.h"\n',
        "quantity may not include toothrack/store.h",
    ),
    "unknown room header": ("src/plan/plan.c", '# include "toothrack/dock.h"\n', "may not include toothrack/dock.h"),
    "main below the console": ("src/main.c", '#include "toothrack/store.h"\n', "main may not include toothrack/store.h"),
    "private header by path": ("src/plan/plan.c", '#include "../store/internal.h"\n', "internal.h is another room's own"),
    "private header in a command": (
        "src/console/commands/show.c",
        '#include "../../store/internal.h"\n',
        "internal.h is another room's own",
    ),
    "private header by a fuzzer, not there": (
        "tests/fuzz/fuzz_rows.c",
        '#include "room/rows.h"\n',
        "room/rows.h is another room's own",
    ),
    "private header in another's test": (
        "tests/base/test_base.c",
        '#include "store/internal.h"\n',
        "store/internal.h is another room's own",
    ),
    "sqlite outside the store": ("src/room/csv.c", "#include <sqlite3.h>\n", "sqlite3.h belongs inside src/store"),
    "sqlite in a public header": (
        "include/toothrack/store.h",
        "#include <sqlite3.h>\n",
        "sqlite3.h belongs inside src/store",
    ),
    "json in a command": ("src/console/commands/show.c", "#include <jansson.h>\n", "jansson.h is known to more than one"),
    "readline in two files": ("src/console/json.c", "#include <readline/history.h>\n", "readline/* is known to more"),
    "csv in the console": ("src/console/json.c", "#include <csv.h>\n", "csv.h belongs inside src/room"),
    "sodium in the plan": ("src/plan/plan.c", "#include <sodium.h>\n", "sodium.h belongs inside src/store"),
    "cairo in the care": ("src/plan/plan.c", "#include <cairo.h>\n", "belongs inside src/print"),
    "heap in the trade": (
        "src/trade/trade.c",
        "#include <stdlib.h>\nvoid *trade_heap(void) { return malloc(8); }\n",
        "src/trade/trade.o: malloc",
    ),
    "clock in the trade": (
        "src/trade/trade.c",
        "#include <time.h>\nlong trade_time(void) { return time(0); }\n",
        "src/trade/trade.o: time",
    ),
    "store in the trade": (
        "src/trade/trade.c",
        "int sqlite3_step(void *);\nint trade_step(void) { return sqlite3_step(0); }\n",
        "src/trade/trade.o: sqlite3_step",
    ),
    "call upward without a header": (
        "src/quantity/quantity.c",
        "int store_of(int);\nint quantity_up(void) { return store_of(1); }\n",
        "quantity may not call store: store_of",
    ),
    "call sideways without a header": (
        "src/plan/plan.c",
        "int room_of(int);\nint plan_across(void) { return room_of(1); }\n",
        "plan may not call room: room_of",
    ),
    "source that was not built": ("src/trade/late.c", None, "no object to look into"),
    "sql in a command": (
        "src/console/commands/show.c",
        'const char *const query = "DELETE FROM place";\n',
        "SQL outside src/store",
    ),
    "sql in small letters": (
        "src/plan/plan.c",
        'const char *const query = "insert into place values (1)";\n',
        "SQL outside src/store",
    ),
    "sql after a comment": (
        "src/plan/plan.c",
        "char quote = '\"'; /* a \"quote */ const char *const query = \"SELECT id FROM place\";\n",
        "SQL outside src/store",
    ),
    "sql printed": (
        "src/store/store.c",
        'const char *const query = "SELECT id FROM place WHERE code = \'%s\'";\n',
        "SQL put together by printing",
    ),
    "command without a dialogue": ("src/console/commands/put.c", "int put(void) { return 0; }\n", "has no tests/dialogues/put.txt"),
    "folder that is no room": ("src/dock/dock.c", "int dock(void) { return 0; }\n", "src/dock is no room of the house"),
    "odd top level": ("notes.txt", "", "top level holds what it should not: notes.txt"),
    "test that is never run": ("tests/dock/test_dock.c", "", "tests/dock/test_dock.c is in no room's folder"),
    "suite that is never run": ("tests/test_dock.py", "", "tests/test_dock.py is not in a folder"),
}


# An object that is not there keeps the rules from looking into any: such a breach stands alone.
ALONE = ["source that was not built"]


def share_houses():
    """Breaches of other files with other words share a house, so that the check need not run for each."""
    houses = [[breach] for breach in ALONE]
    for breach, (name, _, said) in BREACHES.items():
        if breach in ALONE:
            continue
        for house in houses[len(ALONE):]:
            if all(BREACHES[other][0] != name and BREACHES[other][2] != said for other in house):
                house.append(breach)
                break
        else:
            houses.append([breach])
    return houses


def calls(name, text):
    """Whether a breach is more than an include, so that its object must be made."""
    return name.startswith("src/") and any(not line.startswith("#") for line in (text or "").splitlines())


@pytest.fixture(scope="module")
def said_of(sound_house, tmp_path_factory):
    """By breach: status and output of the check of the house that it was planted in."""
    answers = {}
    for breaches in share_houses():
        house = tmp_path_factory.mktemp("breached") / "house"
        shutil.copytree(sound_house, house)
        # those that need an object first, while the headers are still sound
        for breach in sorted(breaches, key=lambda breach: not calls(*BREACHES[breach][:2])):
            name, text, _ = BREACHES[breach]
            path = house / name
            write(house, name, (path.read_text() if path.exists() else "") + (text or ""))
            if calls(name, text):
                compile_source(house, path)
        answers.update(dict.fromkeys(breaches, check(house)))
    return answers


@pytest.mark.parametrize("breach", BREACHES)
def test_breach_is_named(said_of, breach):
    status, output = said_of[breach]
    assert status == 1
    assert BREACHES[breach][2] in output


@pytest.mark.parametrize(
    "text, said",
    [
        ("> show R1\nR1\n", "shows no refusal"),
        ("> show R9\ntoothrack: tag not known: R9\n[exit 2]\n", "does not show it working"),
    ],
)
def test_one_sided_dialogue_is_named(house, text, said):
    write(house, "tests/dialogues/show.txt", text)
    status, output = check(house, "every_command_has_its_dialogue")
    assert status == 1
    assert said in output


def test_missing_top_level_name_is_named(house):
    (house / "README.md").unlink()
    assert check(house, "top_level_is_tidy") == (1, "top level lacks: README.md\n")


def test_released_step(house):
    step = house / "migrations" / "0001_shop.sql"
    total = subprocess.run(["sha256sum", step], capture_output=True, text=True, check=True).stdout.split()[0]
    write(house, "migrations/RELEASED", f"# steps\n0001 {total}\n")
    assert check(house, "released_steps_are_unchanged") == (0, "")
    step.write_text(step.read_text() + "-- one more line\n")
    assert check(house, "released_steps_are_unchanged")[0] == 1
    assert "released step was changed: migrations/0001_shop.sql" in check(house, "released_steps_are_unchanged")[1]
    step.unlink()
    assert "released step is gone: 0001" in check(house, "released_steps_are_unchanged")[1]
    write(house, "migrations/RELEASED", "0001\n")
    assert check(house, "released_steps_are_unchanged")[0] == 1


def test_junit_file_tells_of_the_breach(house):
    write(house, "notes.txt", "")
    file = house / "build" / "layers.xml"
    subprocess.run([CHECK, file], cwd=house, stdout=subprocess.DEVNULL, check=False, env=dict(os.environ))
    text = file.read_text()
    assert 'failures="1"' in text
    assert "<failure" in text and "notes.txt" in text

"""The program's `ahead` held against all jobs together as worked out by together.py."""

import contextlib
import re
from collections import Counter

import together
from shop import Record
from values import half_up, length, moment, moment_text, pitch, read_cell, screen, volume

MAIN = tuple(together.PARTS)


class Answer:
    """What the program said, with its tags turned into the names of the files."""

    def __init__(self, expected, found, tags):
        self.expected, self.found, self.tags = expected, found, tags
        self.shop = expected.shop
        self.tools = {tool.id: tool for tools in self.shop.tools.values() for tool in tools.values()}
        self.planned = {planned.id: planned for planned in expected.jobs}
        self.wrong = []

    def say(self, text, *values):
        self.wrong.append(text % values)

    def tool(self, tag):
        return self.tools[self.tags[tag]]


def compare(expected, found, tags):
    """What differs, in words."""
    answer = Answer(expected, found, tags)
    compare_sums(answer)
    compare_plan(answer)
    compare_shortages(answer)
    return answer


def compare_sums(answer):
    found, most = answer.found, answer.expected.best()[0]
    if found["planned"] != len(answer.expected.jobs):
        answer.say("planned %s, expected %d", found["planned"], len(answer.expected.jobs))
    if found["served"] != most:
        answer.say("served %s, expected %d", found["served"], most)
    if found["bound"] < most or found["proven"] != (found["served"] == found["bound"]):
        answer.say("bound %s, proven %s, but %d can be served", found["bound"], found["proven"], most)
    if not found["proven"]:
        answer.say("not proven: bound %s, served %s", found["bound"], found["served"])
    gap = 100 * (found["bound"] - found["served"]) / found["bound"] if found["bound"] else 0
    if abs(found["gap_percent"] - gap) > 0.006:
        answer.say("gap_percent %s, expected %.2f", found["gap_percent"], gap)


# -- does the plan hold? ------------------------------------------------------------------------

def compare_plan(answer):
    """Every job served has a press and tools that suit and are there; nothing serves two at a time."""
    uses = []
    served = 0
    for job in answer.found["jobs"]:
        if job["job"] not in answer.planned or job["running"]:
            continue
        planned = answer.planned[job["job"]]
        if job["verdict"] == "short":
            if job["tools"] or job["press"]:
                answer.say("%s is short and yet has %s on %s", planned.id, job["tools"], job["press"])
            continue
        served += 1
        given = tools_given(answer, planned, job)
        if not any(serves(option, given) for option in planned.options if option.free and option.press == job["press"]):
            answer.say("%s cannot run on %s with %s", planned.id, job["press"], {key: tool.id for key, tool in given.items()})
        uses += [(("tool", tool), planned.start, planned.free, planned.id) for tool in given.values()]
        uses.append((("press", job["press"]), planned.start, planned.end, planned.id))
    if served != answer.found["served"]:
        answer.say("served %s, but %d jobs are", answer.found["served"], served)
    for at, (what, start, end, job) in enumerate(uses):
        for other, begins, ends, by in uses[:at]:
            if what == other and start < ends and begins < end:
                answer.say("%s %s serves %s and %s at a time", what[0], getattr(what[1], "id", what[1]), by, job)


def tools_given(answer, planned, job):
    given = {}
    for tool in job["tools"]:
        key = (tool["need"], tool["cut"] if tool["need"] in ("die", "magnetic_cylinder") else tool["station"])
        if key in given:
            answer.say("%s has two for %s", planned.id, key)
        given[key] = answer.tool(tool["tool"])
    return given


def serves(option, given):
    """Do the tools given meet the needs of the option, each and no more?"""
    left = dict(given)
    for need in option.needs:
        tool = left.pop((need.group, need.number), None)
        part = left.pop((together.PARTS[need.group], need.number), None)
        if tool not in need.ways:
            return False
        parts = need.ways[tool]
        if (part is not None) if parts is None else part not in parts:
            return False
    return not left


# -- what is short ------------------------------------------------------------------------------

def compare_shortages(answer):
    """Every certain one is a violator, and at each moment they add up to what must go without. A press or repeat on which the job could not
    run even were it alone leads nowhere, and may be left out (Together.alive), which makes more certain: told lies between that and
    what a plain flow finds."""
    told = Counter()
    for shortage in answer.found["shortages"]:
        known = [need["job"] in answer.planned and answer.planned[need["job"]].options for need in shortage["needs"]]
        if not shortage["certain"] or not all(known):
            if any(known) and shortage["certain"]:
                answer.say("shortage %s names jobs that can run nowhere", shortage["text"])
            continue
        judge_violator(answer, shortage)
        group = together.GROUP_OF[shortage["need"]]
        for start, end in answer.expected.moments():
            if moment(shortage["from"]) <= start and end <= moment(shortage["until"]):
                told[group, start, end] += shortage["wanted"] - shortage["have"]
    least, most = answer.expected.deficits(), answer.expected.deficits(alive=True)
    for key in sorted(set(told) | set(most), key=str):
        if not least.get(key, 0) <= told[key] <= most.get(key, 0):
            answer.say("%s short from %s until %s: %d told, %d to %d expected", key[0], moment_text(key[1]), moment_text(key[2]), told[key],
                       least.get(key, 0), most.get(key, 0))
    compare_left_out(answer)


def compare_left_out(answer):
    """A job that no plan serves is named by some shortage."""
    named = {job for shortage in answer.found["shortages"] for job in shortage["jobs"]}
    for job in answer.found["jobs"]:
        if job["verdict"] == "short" and job["job"] not in named:
            answer.say("%s is short, and no shortage names it", job["job"])


def judge_violator(answer, shortage):
    group = together.GROUP_OF[shortage["need"]]
    rows = {(need["job"], need["cut"] if group == "die" else need["station"]) for need in shortage["needs"]}
    shared = {answer.tool(tag) for tag in shortage["tools"]}
    start, end = moment(shortage["from"]), moment(shortage["until"])
    if len(rows) != shortage["wanted"] or shortage["wanted"] <= shortage["have"]:
        answer.say("%s: wanted %d, have %d", shortage["text"], shortage["wanted"], shortage["have"])
    if group == "press":
        presses = {option.press for job, _ in rows for option in answer.planned[job].alive if option.free}
        if len(presses) != shortage["have"]:
            answer.say("%s: %s would do", shortage["text"], presses)
    elif len(shared) != shortage["have"]:
        answer.say("%s: have %d, but %d tools", shortage["text"], shortage["have"], len(shared))
    for job, number in rows:
        planned = answer.planned[job]
        if start < planned.start or end > (planned.end if group == "press" else planned.free):
            answer.say("%s: %s is not open all that time", shortage["text"], job)
        if group == "press":
            continue
        if number not in planned.needs(group):
            answer.say("%s: %s has no need %s", shortage["text"], job, number)
        for tool, part in planned.ways(group, number, alive=True):
            if tool not in shared and part not in shared:
                answer.say("%s: %s would do for %s of %s", shortage["text"], tool.id + (" with " + part.id if part else ""), number, job)
    if sorted({job for job, _ in rows}) != sorted(set(shortage["jobs"])):
        answer.say("%s: jobs %s, needs of %s", shortage["text"], shortage["jobs"], sorted({job for job, _ in rows}))


# -- what cures ---------------------------------------------------------------------------------

def compare_cures(answer, now, until):
    """Every cure is tried by solving again: so many more jobs must be served. Gives how many of each kind were tried."""
    tried = Counter()
    cures = [cure for shortage in answer.found["shortages"] for cure in shortage["cures"]]
    if answer.found["purchase"] is not None:
        cures.append(answer.found["purchase"])
        judge_purchase(answer, cures)
    seen = set()
    for cure in cures:
        if str(cure) in seen or cure["cured"] == 0:
            continue
        seen.add(str(cure))
        tried[cure["kind"]] += 1
        with changed(answer, cure):
            most = together.Together(answer.shop, now, until).best()[0]
        if most < answer.found["served"] + cure["cured"]:
            answer.say("cure %s: %d served with it, told %d + %d", cure["text"], most, answer.found["served"], cure["cured"])
    return tried


def judge_purchase(answer, cures):
    """The one tool more that serves most: no other tool named serves more."""
    best = max((cure["cured"] for cure in cures if cure["kind"] == "tool"), default=0)
    if answer.found["purchase"]["kind"] != "tool" or answer.found["purchase"]["cured"] < best:
        answer.say("purchase %s, but a tool more serves %d", answer.found["purchase"]["text"], best)


@contextlib.contextmanager
def changed(answer, cure):
    """The shop with the cure, for as long as it is tried."""
    shop = answer.shop
    kept = []

    def change(record, **values):
        kept.extend((record, key, record[key]) for key in values)
        record.update(values)

    added = None
    if cure["kind"] == "shift":
        job = shop.jobs[cure["job"]]
        start = moment(cure["from"])
        by = start - job["from"]
        if abs(by) != cure["by_s"] or cure["earlier"] != (by < 0):
            answer.say("cure %s: %s to %s is not that", cure["text"], moment_text(job["from"]), cure["from"])
        change(job, until=job.until + by, **{"from": start})
        if cure["press"] is not None:
            change(job, press=[cure["press"]])
    elif cure["kind"] == "return":
        for tag in cure["tools"]:
            change(answer.tool(tag), back=moment(cure["from"]))
    elif cure["kind"] == "clear":
        for tag in cure["tools"]:
            change(answer.tool(tag), condition="ready")
    elif cure["kind"] == "tool":
        added = tool_of(answer, cure)
        added["place"], added["order"] = "rack", 1000
        shop.tools[cure["need"]][added.id] = added
    else:
        answer.say("cure of a kind not known: %s", cure["kind"])
    try:
        yield
    finally:
        for record, key, value in reversed(kept):
            record[key] = value
        if added is not None:
            del shop.tools[cure["need"]][added.id]


def tool_of(answer, cure):
    """The tool that a cure describes, by its data where it has any, else by its words."""
    tool = Record(id="one more", kind_of_record=cure["need"])
    if cure.get("data"):
        for name, text in cure["data"].items():
            if text is not None:
                tool.update([read_cell(name, str(text))])
        return tool
    said = cure["text"].split(": then")[0]
    tool["fit"] = sorted({word for press in answer.shop.presses.values() for word in press.fit or ()})
    for pattern, name, reader in (
            (r"(\d+) teeth", "teeth", int), (r"teeth (\S+?)[,:]? ", "pitch", pitch), (r"undercut (\S+mm)", "undercut", length),
            (r"face ([\d.]+mm)", "face", length), (r"([\d.]+/cm)", "line_screen", screen), (r"([\d.]+cm3/m2)", "volume", volume),
            (r"length ([\d.]+mm)", "length", length), (r"gap ([\d.]+mm)", "die_gap", length), (r"([\d.]+mm) x ", "label_across", length),
            (r" x ([\d.]+mm)", "label_around", length), (r"(\d+) around", "number_around", int), (r"(flexible|solid)", "build", str)):
        match = re.search(pattern, said + " ")
        if match:
            tool[name] = reader(match[1])
    if cure["need"] == "cylinder":
        tool.update(drive="geared", runout=0)
    if cure["need"] == "die":
        tool.update(cut="kiss", number_across=1, shape="rectangle", face=length("200mm"), die_gap=length("0.48mm"), life=half_up(50000))
    return tool

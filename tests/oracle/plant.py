"""Plants a fault in each rule of the check, one at a time, and sees whether the oracle turns red.

    /usr/bin/python3 tests/oracle/plant.py [WORD...]

works on a copy of the tree in a temporary folder; with words, only on the faults whose name holds one of them. A fault that no
shop of the oracle shows is told as `not seen`, and the exit status is then 1. TOOTHRACK_PLANT_SHOPS (600) shops are tried for each; it
stops at the first difference. All of them take some tens of minutes.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
TOP = os.path.dirname(os.path.dirname(HERE))
SHOPS = os.environ.get("TOOTHRACK_PLANT_SHOPS", "600")

# A rule that is passed over: the function gives its answer at once.
PASSED_OVER = [
    ("src/trade/there.c", "SUITS_YES", "tool_condition_suits rule_press rule_supplier rule_place rule_promises"
     " doubt_overdue doubt_plates"),
    ("src/trade/there.c", "false", "tool_is_overdue"),
    ("src/trade/press_free.c", "SUITS_YES", "press_free"),
    ("src/trade/rules.c", "SUITS_YES", "rule_face fit_suits rule_press_repeat_least rule_press_repeat_most"
     " rule_train_pitch rule_angle"),
    ("src/trade/rules.c", "tool->face", "usable_face"),
    ("src/trade/suits_cylinder.c", "SUITS_YES", "rule_length_is_repeat rule_pitch_is_jobs rule_length rule_drive"
     " rule_train rule_measured_buildup rule_undercut rule_runout rule_gear_is_cylinders rule_bore"),
    ("src/trade/suits_cylinder.c", "false", "cylinder_needs_gear"),
    ("src/trade/suits_anilox.c", "SUITS_YES", "rule_screen doubt_screen_ratio rule_volume note_never_read rule_loss"),
    ("src/trade/suits_anilox.c", "anilox->volume", "volume_at_end"),
    ("src/trade/suits_anilox.c", "0", "volume_deviation"),
    ("src/trade/suits_blade.c", "SUITS_YES", "rule_length rule_life"),
    ("src/trade/suits_die.c", "SUITS_YES", "rule_cut rule_shape rule_size rule_label rule_number_across"
     " rule_length_per_label rule_press rule_liner rule_life rule_teeth_of_die rule_die_gap rule_face_of_die"),
    ("src/trade/suits_job.c", "SUITS_YES", "rule_web_needed rule_web_of_press rule_gap_around repeat_suits"
     " web_suits plates_suit"),
    ("src/plan/job_needs.c", "NULL", "station_lack"),
    ("src/plan/dies.c", "false", "needs_companion"),
    ("src/plan/rolls.c", "false", "needs_companion"),
]

# A rule turned into its neighbour: (what, file, text, put in its place).
TURNED = [
    ("turnaround exclusive", "src/trade/promise.c",
     "moment_compare(promise_free(promise->until.value, limits), span.from) > 0",
     "moment_compare(promise_free(promise->until.value, limits), span.from) >= 0"),
    ("turnaround counted by day and night", "src/trade/promise.c",
     "calendar_add(&limits->calendar, until, limits->turnaround)", "moment_add(until, limits->turnaround)"),
    ("a night shift ends at midnight", "src/quantity/shifts.c", "until < from ? until + DAY_MINUTES : until",
     "until < from ? DAY_MINUTES : until"),
    ("closed days are worked on", "src/quantity/calendar.c", "return closed ? &calendar->closed[low] : NULL;",
     "return closed ? NULL : NULL;"),
    ("a press whose end is not known is free", "src/trade/press_free.c", "if (endless) {", "if (endless && false) {"),
    ("a press taken by the job that ends first", "src/trade/press_free.c", "promise_longer(last, &promises[i])", "&promises[i]"),
    ("of a moment the start of a promise is free", "src/trade/promise.c", "return together ||", "return"),
    ("back on a date is its beginning", "src/trade/there.c", "moment_of_day_end(tool->back.value)", "tool->back.value"),
    ("life over never short", "src/trade/rules.c", "? SUITS_NOT : SUITS_DOUBTFUL", "? SUITS_DOUBTFUL : SUITS_DOUBTFUL"),
    ("pitches within two percent are the same", "src/quantity/pitch.c",
     "return (circular || a.system == b.system) && ratio_compare(ratio_mm(a), ratio_mm(b)) == 0;",
     "(void)circular; double x = real_to_mm(pitch_length(a)), y = real_to_mm(pitch_length(b));"
     " return x / y < 1.02 && y / x < 1.02;"),
    ("trim counted once", "src/trade/layout.c", "length_times(trim, 2)", "length_times(trim, 1)"),
    ("overs left out", "src/trade/layout.c", "__builtin_add_overflow(million, percent_ppm(overs), &factor)",
     "__builtin_add_overflow(million, 0 * percent_ppm(overs), &factor)"),
    ("unmet needs do not count", "src/plan/group.c", "problem.without_item.part[COST_UNMET] = 1;",
     "problem.without_item.part[COST_UNMET] = 0;"),
    ("a gear or blade does not count", "src/plan/group.c", "problem.without_companion.part[COST_UNMET] = 1;",
     "problem.without_companion.part[COST_UNMET] = 0;"),
    ("cautions do not count", "src/plan/group.c", "level == SUITS_DOUBTFUL ? 1 : 0", "level == SUITS_DOUBTFUL ? 0 : 0"),
    ("spread does not count", "src/plan/cylinders.c", "if (whole_um(first) > 0) {", "if (whole_um(first) > 1e9) {"),
    ("spread as the first smallest gives it", "src/plan/cylinders.c",
     "i < search->step_count && whole_um(best) > 0", "i < 1 && whole_um(best) > 0"),
    ("deviation does not count", "src/plan/group.c", "rules->deviation != NULL ? rules->deviation(question, row, item) : 0",
     "0"),
    ("run does not count", "src/plan/group.c", "cost.part[COST_RUN] = run_mm(tool);", "cost.part[COST_RUN] = 0;"),
    ("spread limit not looked at", "src/plan/solve.c", "real_at_most(spread, real_from_length(question->limits->spread))",
     "true"),
    ("a flood coat counts in the spread", "src/plan/cylinders.c", "question->printing[row].registered &&", ""),
    ("a held station is used", "src/plan/job_needs.c", "if (station->held) {", "if (station->held && false) {"),
    ("a process is not looked at", "src/plan/job_needs.c", "!list_has(station->processes, process)", "false"),
    ("waste does not rank", "src/plan/solve.c", "order = compare_counts(a->waste_whole, b->waste_whole);", "order = 0;"),
    ("plate area does not rank", "src/plan/solve.c", "(a->plate_area > b->plate_area) - (a->plate_area < b->plate_area)",
     "0"),
    ("verdict does not rank", "src/plan/solve.c", "int order = compare_counts(a->verdict, b->verdict);", "int order = 0;"),
    ("a die by its first fit", "src/plan/dies.c", "if (cut->die_id != 0 && cut->die_id != die->tool.id) {", "if (false) {"),
    ("a roll does not wear on the run", "src/trade/suits_anilox.c", "forecast.slope * meters", "0 * meters"),
    ("a roll counts as it was read last, whatever its trend", "src/store/anilox.c", "anilox->forecast.known = anilox->reading.now.known &&",
     "anilox->forecast.known = anilox->reading.now.known && false &&"),
    ("readings by both methods make one trend", "src/store/wear.c",
     "method_index(reading->method) != method_index(kept->method)", "false"),
    ("a reading at a run that nobody knows counts in a trend", "src/store/wear.c", "if (!reading->run.known && (followed || new_then)) {",
     "if (!reading->run.known) {"),
    ("what was run before a reading is not looked at", "src/store/wear.c", "length_compare(read->value, run) > 0",
     "length_compare(read->value, run) > 0 && false"),
    ("readings before the engraving count", "src/store/anilox.c", "if (engraved.known) {", "if (engraved.known && false) {"),
    ("readings after a run count", "src/store/anilox.c", "AND after = 'clean'", ""),
    ("a job only planned holds its press", "src/store/load.c", "AND j.state = 'running'", "AND j.state <> 'finished'"),
    ("a named special die is not enough", "src/trade/suits_die.c", "&& !named", ""),
    ("gap across asked of one lane", "src/trade/suits_die.c", "if (!one_across) {", "if (true) {"),
    ("corner asked of a circle", "src/trade/suits_die.c", 'if (!words_equal(layout->shape, "circle")) {', "if (true) {"),
    ("competing stations not named", "src/plan/finding.c", "if (in_rows[i]) {", "if (in_rows[i] && i == 0) {"),
    ("cures not tried", "src/plan/solve.c", "return after->verdict < before->verdict ||",
     "return true || after->verdict < before->verdict ||"),
]


def faults():
    """(name, file, how to change its text) of every fault."""
    for path, answer, names in PASSED_OVER:
        for name in names.split():
            yield "%s: %s passed over" % (path, name), path, passing_over(name, answer)
    for what, path, old, new in TURNED:
        yield "%s: %s" % (path, what), path, replacing(old, new)


def passing_over(name, answer):
    pattern = re.compile(r"(\n(?:static )?[a-z][\w \*]*?\b%s\([^;{}]*\)\n\{\n)" % re.escape(name))

    def change(text):
        changed, count = pattern.subn(lambda match: match.group(1) + "\treturn %s;\n" % answer, text)
        return changed if count == 1 else None
    return change


def replacing(old, new):
    words = [re.escape(word) for word in old.split()]
    pattern = re.compile(r"\s+".join(words))

    def change(text):
        changed, count = pattern.subn(lambda match: new, text)
        return changed if count >= 1 else None
    return change


def seen(tree):
    """Does the oracle notice? None where the fault does not build."""
    # What a planted fault leaves unused is no fault of its own.
    made = subprocess.run(["make", "-j2", "build/toothrack", "WARNINGS=-w"], cwd=tree, capture_output=True,
                          text=True, check=False)
    if made.returncode != 0:
        print(made.stderr[-2000:])
        return None
    environment = dict(os.environ, TOOTHRACK=os.path.join(tree, "build", "toothrack"), TOOTHRACK_ORACLE_SHOPS=SHOPS)
    tried = subprocess.run(["/usr/bin/python3", "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", "--tb=no",
                            os.path.join(HERE, "test_oracle.py")], env=environment, capture_output=True, check=False)
    return tried.returncode != 0


def main(words):
    missed = 0
    with tempfile.TemporaryDirectory() as folder:
        tree = os.path.join(folder, "tree")
        shutil.copytree(TOP, tree, ignore=shutil.ignore_patterns(".git", "build", "__pycache__"))
        if seen(tree):
            print("the oracle is red without a fault")
            return 2
        for name, path, change in faults():
            if words and not any(word in name for word in words):
                continue
            where = os.path.join(tree, path)
            with open(where, encoding="utf-8") as file:
                text = file.read()
            changed = change(text)
            if changed is None:
                print("not planted, its place was not found: " + name, flush=True)
                missed += 1
                continue
            with open(where, "w", encoding="utf-8") as file:
                file.write(changed)
            told = {True: "seen", False: "not seen", None: "does not build"}[seen(tree)]
            missed += told != "seen"
            print("%s: %s" % (told, name), flush=True)
            with open(where, "w", encoding="utf-8") as file:
                file.write(text)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""The rules of check.md, one function a rule: is a tool there, and does it suit?

Every function gives a `Judgement`: the rules that failed, and the doubts (cautions, notes). A rule
that needs something not known fails, unless check.md says otherwise. All limits are inclusive.
"""

import math
from collections import Counter
from fractions import Fraction

import wear
from values import PI, extent_of, half_up, stored

# For generate.py --count: how often a value stood exactly at its limit; rules left out on purpose, and
# limits taken as exclusive on purpose, to see whether the answer would change.
AT_LIMIT = Counter()
IGNORED = set()
EXCLUSIVE = set()


def within_limit(rule, value, limit):
    """value <= limit: every limit is inclusive."""
    if value == limit:
        AT_LIMIT[rule] += 1
        return rule not in EXCLUSIVE
    return value < limit


class Judgement:
    """What speaks against a tool: `failures` keep it out; `cautions` and `notes` are doubts;
    `open_notes` are notes on which check.md does not speak (they may stand or be left out)."""

    def __init__(self):
        self.failures, self.cautions, self.notes, self.open_notes = [], [], [], []

    @property
    def ok(self):
        return not self.failures

    def require(self, rule, holds):
        """The rule holds, does not, or is not known (None: does not suit)."""
        if holds is None:
            rule += " unknown"
        if not holds and rule not in IGNORED:
            self.failures.append(rule)

    def at_most(self, rule, value, limit):
        """value <= limit, inclusive; either not known fails."""
        if value is None or limit is None:
            self.require(rule, None)
            return
        self.require(rule, within_limit(rule, value, limit))

    def caution(self, rule):
        if rule not in IGNORED:
            self.cautions.append(rule)

    def note(self, rule):
        if rule not in IGNORED:
            self.notes.append(rule)

    def add(self, other):
        self.failures += other.failures
        self.cautions += other.cautions
        self.notes += other.notes
        self.open_notes += other.open_notes
        return self


def difference(a, b):
    """abs(a - b), None where one is not known."""
    return None if a is None or b is None else abs(a - b)


def equal(a, b):
    """a == b, None where one is not known."""
    return None if a is None or b is None else a == b


def clash(a, b):
    """Both known and different."""
    return a is not None and b is not None and a != b


def overlap(a, b, c, d):
    """Do a-b and c-d overlap? Spans that touch do not; a point counts at a span's start and within."""
    if a == b and c == d:
        return a == c
    if a == b:
        return c <= a < d
    if c == d:
        return a <= c < b
    return a < d and c < b


def same_length(layout, a, b):
    """Are two lengths equal? Exactly within a class; across classes or plain, within a limit."""
    if a.length_class == b.length_class != "plain":
        return a.size == b.size
    return within_limit("cylinder.length", abs(a.mm - b.mm), layout.shop.settings["repeat_match"])


def usable_face(tool):
    if tool.face_from is not None and tool.face_to is not None:
        return tool.face_to - tool.face_from
    return tool.face


# -- is it there? -------------------------------------------------------------------------------

def there(layout, tool):
    """check.md "Is a tool there?", cached for the layout's press and time."""
    cached = layout.there_cache.get(tool)
    if cached is None:
        cached = layout.there_cache[tool] = judge_there(layout, tool)
    return cached


def judge_there(layout, tool):
    judgement = Judgement()
    judgement.require("there.condition", (tool.condition or "ready") == "ready")
    if judgement.failures:
        return judgement
    judge_place(layout, tool, judgement)
    if judgement.failures:
        return judgement
    taker = layout.shop.taken.get(tool.id)
    if taker is not None and taker != layout.job.id:
        other = layout.shop.jobs[taker]
        judgement.require("there.taken", not too_close(layout, other))
    if tool.carries is not None and tool.carries != layout.job.id:
        judgement.caution("there.carries")
    return judgement


def judge_place(layout, tool, judgement):
    """Rule 2: the sort of the place it is in."""
    place = layout.shop.places.get(tool.place)
    if place is None:
        judgement.require("there.place", None)
    elif place.sort == "lost":
        judgement.require("there.lost", False)
    elif place.sort == "press":
        press_code = layout.shop.press_of(place)
        judgement.require("there.press", press_code == layout.press.id
                          or not any(overlap(layout.start, layout.end, *ends_of(job))
                                     for job in running_on(layout, press_code)))
    elif place.sort == "supplier":
        judge_supplier(layout, tool, judgement)


def running_on(layout, press_code):
    """The other jobs that are running on a press (one merely planned does not count)."""
    return [job for job in layout.shop.jobs.values()
            if job.state == "running" and job is not layout.job and press_code in (job.press or [])]


def ends_of(job):
    """When a job runs; what is not known is since ever, or without end."""
    return (-math.inf if job["from"] is None else job["from"], math.inf if job.until is None else job.until)


def judge_supplier(layout, tool, judgement):
    """There from `back` on; already overdue: there, at caution."""
    if tool.back is None:
        judgement.require("there.supplier", None)
    elif tool.back < layout.now:
        judgement.caution("there.overdue")
    else:
        judgement.at_most("there.supplier", tool.back, layout.start)


def too_close(layout, other):
    """Less than one turnaround of open hours between two jobs on one tool (exactly that much is free)."""
    start, end = ends_of(other)
    if overlap(layout.start, layout.end, start, end):
        return True
    hours = layout.shop.hours
    gap = hours.between(end, layout.start) if layout.start >= end else hours.between(layout.end, start)
    return gap < layout.shop.settings["turnaround"]


# -- does it suit? ------------------------------------------------------------------------------

def require_fit(layout, judgement, rule, tool):
    """A press without `fit` takes everything; else the two must share a word."""
    if layout.press.fit:
        judgement.require(rule, bool(set(tool.fit) & set(layout.press.fit)) if tool.fit else None)


def require_face(layout, judgement, rule, tool):
    judgement.at_most(rule, layout.printed_width, usable_face(tool))


def in_train(layout, pitch):
    """Is the pitch among the press's? None where either is not known."""
    if pitch is None or not layout.press.pitches:
        return None
    return pitch in layout.press.pitches


def require_within_press(layout, judgement, rule, size):
    """A length within the press's repeat_min to repeat_max."""
    judgement.at_most(rule + "_min", layout.press.repeat_min, size)
    judgement.at_most(rule + "_max", size, layout.press.repeat_max)


def require_mesh(layout, judgement, kind, gear):
    """The gear that drives a cylinder meshes with the train. (No hand of the train is on record.)"""
    judgement.require(kind + ".train", in_train(layout, gear.pitch))
    for name in ("pressure_angle", "helix"):
        judgement.require(kind + ".train_" + name,
                          not clash(gear.get(name), layout.press.get(name)))


def printed_diameter(station, cylinder):
    """Diameter with plate and tape on; None where it cannot be known."""
    if station.plate is None or station.tape is None:
        return None
    build = 2 * (station.plate + station.tape)
    if cylinder.diameter is not None:
        return cylinder.diameter + build
    length = extent_of(cylinder)
    if cylinder.undercut is None or length is None:
        return None
    return length.mm / PI - 2 * cylinder.undercut + build


def judge_buildup(layout, station, cylinder, judgement):
    limit = layout.shop.settings["buildup"]
    length = extent_of(cylinder)
    known = station.plate is not None and station.tape is not None
    build = station.plate + station.tape if known else None
    if cylinder.diameter is not None:
        error = abs(cylinder.diameter / 2 + build - length.mm / (2 * PI)) if known and length else None
        judgement.at_most("cylinder.buildup_diameter", error, limit)
    elif cylinder.undercut is not None:
        judgement.at_most("cylinder.buildup_undercut", difference(build, cylinder.undercut), limit)
    else:
        judgement.caution("cylinder.buildup_unknown")


def suits_cylinder(layout, station, cylinder):
    judgement = Judgement()
    require_fit(layout, judgement, "cylinder.fit", cylinder)
    require_face(layout, judgement, "cylinder.face", cylinder)
    length = extent_of(cylinder)
    if station.registered:
        judgement.require("cylinder.length", same_length(layout, length, layout.extent)
                          if length and layout.extent else None)
        if layout.geared:
            judgement.require("cylinder.pitch", equal(cylinder.pitch, layout.pitch))
    else:
        require_within_press(layout, judgement, "cylinder.range", length.mm if length else None)
        if layout.geared:
            judgement.require("cylinder.range_pitch", in_train(layout, cylinder.pitch))
    if layout.geared:
        judgement.require("cylinder.drive", cylinder.drive in ("geared", "demountable")
                          if cylinder.drive else None)
        if cylinder.drive == "geared":
            require_mesh(layout, judgement, "cylinder", cylinder)
    judge_buildup(layout, station, cylinder, judgement)
    if cylinder.runout is None:
        judgement.note("cylinder.runout_unknown")
    else:
        judgement.at_most("cylinder.runout", cylinder.runout, layout.shop.settings["runout"])
    return judgement


def suits_gear(layout, cylinder, gear):
    judgement = Judgement()
    judgement.require("gear.teeth", equal(gear.teeth, cylinder.teeth))
    judgement.require("gear.pitch", equal(gear.pitch, cylinder.pitch))
    for name in ("pressure_angle", "helix", "bore"):
        judgement.require("gear." + name, not clash(gear.get(name), cylinder.get(name)))
    require_mesh(layout, judgement, "gear", gear)
    return judgement


def clean_volume(layout, roll):
    """The latest reading after cleaning since the roll was engraved; None where there is none."""
    clean = wear.clean_readings(layout.shop, roll)
    if not clean:
        return None
    latest = max(clean, key=lambda reading: reading.moment)
    return latest.volume if latest.volume is not None else latest.across


def volume_left(layout, roll):
    """What a trend forecasts at the end of the run, else what was read; None where there is neither."""
    told = wear.forecast(layout.shop, roll, layout.run)
    return clean_volume(layout, roll) if told is None else told


def volume_at_end(layout, roll):
    """Volume at the end of the run."""
    left = volume_left(layout, roll)
    return roll.volume if left is None else left


def rounded_screen(value):
    return None if value is None else stored(value, 1000)


def whole_steps(volume):
    """Volumes are kept to 1e-6 cm3/m2, so that 4.4bcm is 10 % over 4bcm only to that step: a share of one is
    taken up to the whole step, lest a value at its limit fall out by rounding."""
    return Fraction(math.ceil(volume * 1000000), 1000000)


def judge_volume(layout, station, roll, judgement):
    left, volume = volume_left(layout, roll), volume_at_end(layout, roll)
    if station.volume is not None:
        tolerance = station.volume_tolerance
        if tolerance is None:
            tolerance = layout.shop.settings["volume_tolerance"]
        if volume is None:
            judgement.caution("anilox.volume_unknown")
        else:
            judgement.at_most("anilox.volume", abs(volume - station.volume),
                              whole_steps(station.volume * tolerance))
            if left is None:
                judgement.note("anilox.never_read")
    if left is not None and roll.volume is not None:
        most = whole_steps(roll.volume * layout.shop.settings["volume_loss"])
        if not within_limit("anilox.loss", roll.volume - left, most):
            judgement.caution("anilox.loss")


def judge_screen(layout, station, roll, judgement):
    low, high = rounded_screen(station.screen_min), rounded_screen(station.screen_max)
    line = rounded_screen(roll.line_screen)
    if low is None and high is None and station.plate_screen is None:
        return
    if line is None:
        judgement.caution("anilox.screen_unknown")
        return
    if low is not None:
        judgement.at_most("anilox.screen_min", low, line)
    if high is not None:
        judgement.at_most("anilox.screen_max", line, high)
    if station.plate_screen is not None:
        ratio = stored(roll.line_screen / station.plate_screen, 1000)
        if not within_limit("anilox.ratio", layout.shop.settings["screen_ratio"], ratio):
            judgement.caution("anilox.ratio")


def suits_anilox(layout, station, roll):
    judgement = Judgement()
    require_fit(layout, judgement, "anilox.fit", roll)
    require_face(layout, judgement, "anilox.face", roll)
    judge_screen(layout, station, roll, judgement)
    judge_volume(layout, station, roll, judgement)
    return judgement


def judge_life(layout, kind, tool, left, judgement):
    """`left` is the web that the tool can still run, None where its life is not known."""
    if layout.run is None:
        if left is None:
            judgement.open_notes.append(kind + ".life_unknown")
    elif left is None:
        judgement.note(kind + ".life_unknown")
    elif layout.shop.settings["life_over"] == "short":
        judgement.at_most(kind + ".life", layout.run, left)
    elif not within_limit(kind + ".life_over", layout.run, left):
        judgement.caution(kind + ".life_over")


def suits_blade(layout, roll, blade):
    judgement = Judgement()
    require_fit(layout, judgement, "blade.fit", blade)
    judgement.at_most("blade.length", difference(blade.length, roll.face),
                      layout.shop.settings["blade_length_match"])
    left = None if blade.life is None else blade.life - (blade.run or 0)
    judge_life(layout, "blade", blade, left, judgement)
    return judgement


def require_asked(judgement, rule, asked, had, limit):
    """A size that the job asks, within a limit of the die's; a blank of the job is not checked."""
    if asked is not None:
        judgement.at_most(rule, difference(asked, had), limit)


def judge_die_label(layout, cut, die, judgement):
    job, limit = layout.job, layout.shop.settings["die_match"]
    judgement.require("die.cut", equal(die.cut, cut.kind))
    if job.number_across is not None:
        judgement.require("die.number_across", equal(die.number_across, job.number_across))
    require_asked(judgement, "die.label_across", job.label_across, die.label_across, limit)
    require_asked(judgement, "die.label_around", job.label_around, die.label_around, limit)
    if job.number_across != 1:
        require_asked(judgement, "die.gap_across", job.gap_across, die.gap_across, limit)
    if job.corner is not None and job.shape != "circle":
        if die.corner is None:
            judgement.note("die.corner_unknown")
        else:
            require_asked(judgement, "die.corner", job.corner, die.corner, limit)
    if job.shape is not None:
        judgement.require("die.shape", equal(die.shape, job.shape))
    if job.liner_caliper is not None:
        if die.liner_caliper is None:
            judgement.caution("die.liner_unknown")
        else:
            require_asked(judgement, "die.liner", job.liner_caliper, die.liner_caliper,
                          layout.shop.settings["liner_match"])


def same_label_length(layout, die):
    """Is the web per label of the die that of the print? None where it cannot be known."""
    length, printed = extent_of(die), layout.extent
    if None in (length, printed, die.number_around, layout.number_around):
        return None
    if length.length_class == printed.length_class != "plain":
        return length.size * layout.number_around == printed.size * die.number_around
    return within_limit("die.label_length", abs(length.mm / die.number_around
                                                - printed.mm / layout.number_around),
                        layout.shop.settings["repeat_match"])


def suits_die(layout, cut, die):
    judgement = Judgement()
    if cut.die is None and layout.job.shape == "special":
        judgement.require("die.special", False)
    elif cut.die is not None and cut.die != die.id:
        judgement.require("die.named", False)
    judge_die_label(layout, cut, die, judgement)
    judgement.require("die.label_length", same_label_length(layout, die))
    require_fit(layout, judgement, "die.fit", die)
    require_face(layout, judgement, "die.face", die)
    length = extent_of(die)
    require_within_press(layout, judgement, "die.range", length.mm if length else None)
    if layout.geared:
        judgement.require("die.train", in_train(layout, die.pitch))
    left = None if die.life is None or not length else die.life * length.mm - (die.run or 0)
    judge_life(layout, "die", die, left, judgement)
    return judgement


def micrometres(value):
    return None if value is None else half_up(value * 1000)


def suits_magnetic_cylinder(layout, die, magnetic):
    judgement = Judgement()
    judgement.require("magnetic_cylinder.teeth", equal(magnetic.teeth, die.teeth))
    judgement.require("magnetic_cylinder.pitch", equal(magnetic.pitch, die.pitch))
    judgement.require("magnetic_cylinder.die_gap", equal(micrometres(magnetic.die_gap),
                                                         micrometres(die.die_gap)))
    judgement.at_most("magnetic_cylinder.face", usable_face(die), usable_face(magnetic))
    require_fit(layout, judgement, "magnetic_cylinder.fit", magnetic)
    return judgement

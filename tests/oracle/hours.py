"""The hours in which a shop works, from their spelling alone; all in UTC.

`Hours` has the open spans of some weeks around any moment of a drawn shop as a list, and counts by going through it.
"""

import re

from values import moment

DAY, HOUR, MINUTE = 86400, 3600, 60
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
# 2026-12-07 is a Monday.
FIRST = moment("2026-12-07") - 10 * 7 * DAY
WEEKS = 20


def minutes(text):
    hour, minute = text.split(":")
    return int(hour) * 60 + int(minute)


def shifts_of(text):
    """[(day of the week, minute it begins, minute it ends)]; past midnight it ends beyond 24:00."""
    found = []
    for part in text.split(","):
        first, last, start, end = re.fullmatch(r"(\w+?)(?:-(\w+))? ([0-9:]+)-([0-9:]+)", part.strip()).groups()
        day, start, end = DAYS.index(first), minutes(start), minutes(end)
        count = (DAYS.index(last or first) - day) % 7 + 1
        found += [((day + more) % 7, start, end if end > start else end + 24 * 60) for more in range(count)]
    return found


def closed_of(text):
    """The closed days, by the moment at which each begins."""
    days = set()
    for part in () if text == "none" else text.split(","):
        first, _, last = part.strip().partition("..")
        days.update(range(moment(first), moment(last or first) + DAY, DAY))
    return days


class Hours:
    def __init__(self, shifts="always", closed="none"):
        self.limited = (shifts, closed) != ("always", "none")
        closed_days = closed_of(closed)
        self.spans = []
        for number in range(WEEKS * 7):
            day = FIRST + number * DAY
            if day not in closed_days:
                self.spans += [(day + start * MINUTE, day + end * MINUTE)
                               for weekday, start, end in shifts_of(
                                   "mon-sun 00:00-24:00" if shifts == "always" else shifts)
                               if weekday == number % 7]
        self.spans.sort()

    def between(self, start, end):
        """Open seconds from a moment to another."""
        if not self.limited:
            return max(0, end - start)
        return sum(max(0, min(b, end) - max(a, start)) for a, b in self.spans)

    def later(self, start, seconds):
        """The first moment by which so much open time has passed."""
        if not self.limited or seconds <= 0:
            return start + seconds
        for a, b in self.spans:
            if self.between(start, b) >= seconds:
                return b - (self.between(start, b) - seconds)
        raise ValueError("beyond the weeks that are known")

    def open_from(self, start):
        """The moment itself where it is open, else the next that is."""
        return start if not self.limited or any(a <= start < b for a, b in self.spans) \
            else min(a for a, _ in self.spans if a > start)

    def earlier(self, end, seconds):
        """The last moment from which so much open time passes until then."""
        if not self.limited or seconds <= 0:
            return end - seconds
        for a, b in reversed(self.spans):
            if self.between(a, end) >= seconds:
                return a + (self.between(a, end) - seconds)
        raise ValueError("beyond the weeks that are known")

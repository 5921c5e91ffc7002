"""An answer in the program's form, made from the oracle's own best choice: to try the comparison."""

import math

import choose
import combinations
import cures
import oracle
import rules
from values import PI, extent_of, moment_text


def rounded(value, places):
    return None if value is None else round(float(value), places)


def pitch_text(pitch):
    if pitch is None:
        return None
    if pitch.family == "cp":
        return "%smmcp" % pitch.size
    if pitch.family == "dp":
        return "%sdp" % (254 / (pitch.size * 10))
    return "m%s" % pitch.size


def tag_of(tool):
    return None if tool is None else "tag:" + tool.id


def tags_of(shop):
    return {"tag:" + name: name for tools in shop.tools.values() for name in tools}


def station_answer(layout, choice, row):
    number = row.station
    roll, cylinder = choice["anilox"].get(number), choice["cylinder"].get(number)
    stretch = printed = None
    if None not in (row.plate, row.base, layout.repeat) and row in layout.printing:
        stretch = 2 * PI * (row.plate - row.base)
    if cylinder:
        printed = rules.printed_diameter(row, cylinder)
    return {"station": number, "ink": row.ink, "process": row.process, "plates": row.plates,
            "cylinder": tag_of(cylinder), "gear": tag_of(choice["gear"].get(number)),
            "anilox": tag_of(roll), "blade": tag_of(choice["blade"].get(number)),
            "volume_cm3_m2": rounded(rules.volume_at_end(layout, roll), 2) if roll else None,
            "factor_percent": None if stretch is None else rounded(100 * (1 - stretch / layout.repeat), 2),
            "flat_length_mm": None if stretch is None else rounded(layout.repeat - stretch, 3),
            "buildup_error_mm": None if printed is None
            else rounded(PI * printed - extent_of(cylinder).mm, 3)}


def competing(layout, choice, need, station):
    """A Hall set: from the station left out, all stations and tools that an exchange can reach."""
    main = {"gear": "cylinder", "blade": "anilox"}.get(need, need)
    held = {tool: place for place, tool in choice[need].items() if tool is not None}

    def options(place):
        if need == main:
            return layout.groups[main].options[place]
        return layout.groups[main].part_options(choice[main][place])

    def lacks(place):
        taken = choice[main].get(place)
        return choice[need][place] is None and (need == main or (taken is not None and layout.groups[main].needs_part(taken)))

    left_out = [place for place in choice[need] if lacks(place)]
    stations, tools, open_places = {station}, set(), [station]
    while open_places:
        for tool in options(open_places.pop()):
            tools.add(tool)
            for place in [held[tool]] + [other for other in left_out if other != station and tool in options(other)]:
                if place not in stations:
                    stations.add(place)
                    open_places.append(place)
    return sorted(stations), sorted(map(tag_of, tools))


def finding_answers(layout, choice):
    answers = []
    for (need, station, cut), finding in layout.findings(choice).items():
        one = {"need": need, "station": station, "cut": cut, "level": finding.level, "wanted": 1,
               "have": 0, "tools": [], "stations": [], "until": None, "text": ", ".join(finding.rules)}
        ends = [end for end in layout.taken_until() if end != math.inf]
        if (need, station, cut) == ("press", None, None) and ends:
            one["until"] = moment_text(max(ends))
        if station is not None and finding.level == "short" and need in choice:
            one["stations"], one["tools"] = competing(layout, choice, need, station)
            one["wanted"], one["have"] = len(one["stations"]), len(one["tools"])
            one["text"] += " " + " ".join(one["tools"])
        answers.append(one)
    return answers


def cure_answers(layout):
    """Only that of a press that is free later."""
    start = cures.free_press_helps(layout.shop, layout)
    return [] if start is None else [{"kind": "time", "from": moment_text(start), "text": "start it later"}]


def answer_of(layout):
    """One press's answer with the oracle's best choice."""
    choice = layout.best_choice()
    return {
        "job": layout.job.id, "press": layout.press.id, "from": moment_text(layout.start),
        "until": moment_text(layout.end), "verdict": layout.verdict(choice), "teeth": layout.teeth,
        "pitch": pitch_text(layout.pitch), "number_around": layout.number_around,
        "number_across": layout.job.number_across, "repeat_mm": rounded(layout.repeat, 3),
        "gap_around_mm": rounded(layout.gap_around, 3), "web_needed_mm": rounded(layout.web_needed, 3),
        "printed_width_mm": rounded(layout.printed_width, 3),
        "run_m": None if layout.run is None else rounded(layout.run / 1000, 1),
        "waste_percent": None if layout.waste is None else rounded(layout.waste * 100, 1),
        "stations": [station_answer(layout, choice, row) for row in layout.stations],
        "cuts": [{"cut": row.cut, "die": tag_of(choice["die"].get(row.cut)),
                  "magnetic_cylinder": tag_of(choice["magnetic_cylinder"].get(row.cut))}
                 for row in layout.cuts],
        "findings": finding_answers(layout, choice), "cures": cure_answers(layout),
    }


def whole_answer(shop, words):
    """The answer to `check`, presses best first."""
    given = dict(word.split("=", 1) for word in words[1:])
    moments = [oracle.moment(given[name]) if name in given else None for name in ("from", "until")]
    expected = oracle.check(shop, words[0], given.get("press"), *moments)
    layouts = []
    for press in expected.values():
        layout = min(press.layouts, key=candidate_rank) if press.new else press.layouts[0]
        layouts.append(layout)
    layouts.sort(key=press_rank)
    answer = answer_of(layouts[0])
    answer["others"] = [answer_of(layout) for layout in layouts[1:]]
    answer["combinations"] = [combination_of(layout) for layout in combinations.best(shop, layouts[0])]
    return answer


def combination_of(layout):
    verdict, unmet = cures.worth(layout)[:2]
    area = len(layout.printing) * layout.repeat * layout.printed_width / 100 if layout.printed_width is not None else 0
    return {"press": layout.press.id, "teeth": layout.teeth, "pitch": pitch_text(layout.pitch), "repeat_mm": rounded(layout.repeat, 3),
            "number_around": layout.number_around, "verdict": oracle.VERDICTS[verdict], "unmet": unmet,
            "waste_percent": None if layout.waste is None else rounded(layout.waste * 100, 1), "plate_area_cm2": rounded(area, 1),
            "plates": combinations.plates_of(layout), "plate_count": len(layout.printing)}


def candidate_rank(layout):
    return layout.rank() + (sum(best[0][4] for best in layout.best().values()),)


def press_rank(layout):
    """As candidates are ranked, but whether a die suits counts only between candidates of a new job."""
    rank = layout.rank()
    new = layout.job.teeth is None and layout.job.repeat is None
    run = sum(choose.run_sum(places) for places in layout.best_choice().values())
    return (rank[0], rank[1] and new) + rank[2:] + (run,)

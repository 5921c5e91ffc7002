"""A model in CPLEX-LP, read by itself and solved by scipy.optimize.milp (HiGHS).

    python3 read_lp.py FILE [SECONDS] [relax]

Read is what such a file may hold of a linear model: objective, constraints, bounds, general and binary variables. Written from the format as GLPK's
reference manual gives it (appendix "CPLEX LP format"), from memory; glpsol reads the same files in test_lp.py.
"""

import re
import sys
import time
from collections import namedtuple

import numpy
import scipy.optimize
import scipy.sparse

SECTION = re.compile(r"(?i)^\s*(maximi[sz]e|maximum|max|minimi[sz]e|minimum|min|subject\s+to|such\s+that|st|s\.t\.|st\.|bounds?|generals?|gen|"
                     r"integers?|int|binary|binaries|bin|end)\s*:?\s*$")
TOKEN = re.compile(r"[<>]=?|=[<>]?|[-+]|(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?|[A-Za-z!\"#$%&()/,;?@_'`{}|~][^\s<>=+\-:]*|:")
Solved = namedtuple("Solved", "objective bound status seconds values")


class Model:
    """maximize or minimize cost.x, low <= rows.x <= high, least <= x <= most."""

    def __init__(self):
        self.names, self.number_of = [], {}
        self.maximize, self.cost = True, {}
        self.rows, self.low, self.high = [], [], []
        self.least, self.most, self.whole = {}, {}, set()

    def variable(self, name):
        if name not in self.number_of:
            self.number_of[name] = len(self.names)
            self.names.append(name)
        return self.number_of[name]

    def solve(self, seconds=60, relax=False):
        """The best value, and what no solution exceeds."""
        count = len(self.names)
        cost = numpy.zeros(count)
        for variable, value in self.cost.items():
            cost[variable] = -value if self.maximize else value
        lengths = [len(row) for row in self.rows]
        matrix = scipy.sparse.csr_matrix(
            (numpy.fromiter((value for row in self.rows for value in row.values()), float, sum(lengths)),
             numpy.fromiter((variable for row in self.rows for variable in row), numpy.int64, sum(lengths)),
             numpy.concatenate(([0], numpy.cumsum(lengths)))), shape=(len(self.rows), count))
        least = numpy.array([self.least.get(at, 0.0) for at in range(count)])
        most = numpy.array([self.most.get(at, numpy.inf) for at in range(count)])
        whole = numpy.array([0 if relax else int(at in self.whole) for at in range(count)])
        begun = time.monotonic()
        done = scipy.optimize.milp(cost, constraints=scipy.optimize.LinearConstraint(matrix, self.low, self.high), integrality=whole,
                                   bounds=scipy.optimize.Bounds(least, most), options={"time_limit": seconds})
        taken = time.monotonic() - begun
        sign = -1 if self.maximize else 1
        bound = done.fun if relax else done.mip_dual_bound
        return Solved(None if done.fun is None else sign * done.fun, None if bound is None else sign * bound, done.status, taken, done.x)


def sections(text):
    """(section's word, its lines)."""
    found = []
    for line in text.splitlines():
        line = line.split("\\")[0]
        match = SECTION.match(line)
        if match:
            found.append((re.sub(r"\s+", " ", match[1].lower()), []))
        elif line.strip():
            if not found:
                raise ValueError("before the objective: " + line)
            found[-1][1].append(line)
    return found


def is_number(token):
    return token[0].isdigit() or token[0] == "."


def tokens_of(lines):
    tokens = []
    for line in lines:
        rest = TOKEN.sub(" ", line).strip()
        if rest:
            raise ValueError("not understood: %r in %r" % (rest, line))
        tokens += TOKEN.findall(line)
    return tokens


def terms(model, tokens, at):
    """({variable: value}, where the terms end), from a place in the tokens on."""
    found, sign, value = {}, 1, None
    while at < len(tokens):
        token = tokens[at]
        if token in "+-":
            sign *= -1 if token == "-" else 1
        elif token[0] in "<>=" or (at + 1 < len(tokens) and tokens[at + 1] == ":"):
            break
        elif is_number(token):
            value = float(token)
        else:
            variable = model.variable(token)
            found[variable] = found.get(variable, 0) + sign * (1 if value is None else value)
            sign, value = 1, None
        at += 1
    if value is not None:
        raise ValueError("a number without a variable: %s" % value)
    return found, at


def number_at(tokens, at):
    """A number with its signs, and where it ends."""
    sign = 1
    while tokens[at] in "+-":
        sign *= -1 if tokens[at] == "-" else 1
        at += 1
    token = tokens[at].lower()
    return sign * (numpy.inf if token in ("inf", "infinity") else float(token)), at + 1


def read_constraints(model, tokens):
    at = 0
    while at < len(tokens):
        if at + 1 < len(tokens) and tokens[at + 1] == ":":
            at += 2
        row, at = terms(model, tokens, at)
        relation = tokens[at]
        value, at = number_at(tokens, at + 1)
        model.rows.append(row)
        model.low.append(-numpy.inf if "<" in relation else value)
        model.high.append(numpy.inf if ">" in relation else value)


def set_bound(model, variable, relation, value):
    if ">" in relation or relation == "=":
        model.least[variable] = value
    if "<" in relation or relation == "=":
        model.most[variable] = value


def read_bounds(model, lines):
    turned = {"<": ">", ">": "<", "=": "="}
    for line in lines:
        tokens = tokens_of([line])
        at = next(at for at, token in enumerate(tokens) if token[0] not in "<>=+-" and not is_number(token)
                  and token.lower() not in ("inf", "infinity"))
        variable = model.variable(tokens[at])
        if tokens[at + 1:at + 2] and tokens[at + 1].lower() == "free":
            model.least[variable] = -numpy.inf
            continue
        if at > 0:
            value, end = number_at(tokens, 0)
            set_bound(model, variable, turned[tokens[end][0]] if tokens[end] != "=" else "=", value)
        if at + 1 < len(tokens):
            set_bound(model, variable, tokens[at + 1], number_at(tokens, at + 2)[0])


def read(text):
    """The model of a text in CPLEX-LP."""
    model, ended = Model(), False
    for word, lines in sections(text):
        if word == "end":
            ended = True
        elif word.startswith(("max", "min")):
            model.maximize = word.startswith("max")
            tokens = tokens_of(lines)
            model.cost, at = terms(model, tokens, 2 if tokens[1:2] == [":"] else 0)
            if at != len(tokens):
                raise ValueError("objective: " + " ".join(tokens[at:]))
        elif word.startswith(("subject", "such", "st", "s.t")):
            read_constraints(model, tokens_of(lines))
        elif word.startswith("bound"):
            read_bounds(model, lines)
        else:
            for name in tokens_of(lines):
                variable = model.variable(name)
                model.whole.add(variable)
                if word.startswith("bin"):
                    model.least[variable], model.most[variable] = 0.0, 1.0
    if not ended:
        raise ValueError("no End")
    return model


def main(words):
    with open(words[0], encoding="utf-8") as file:
        model = read(file.read())
    solved = model.solve(float(words[1]) if words[1:] else 60, "relax" in words)
    print("%d variables, %d rows: objective %s, bound %s, status %d, %.2f s"
          % (len(model.names), len(model.rows), solved.objective, solved.bound, solved.status, solved.seconds))


if __name__ == "__main__":
    main(sys.argv[1:])

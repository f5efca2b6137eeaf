"""Linear programs for the coverage plan, solved by HiGHS.

Writes tests/it/checks/cover.json: random households with what a linear program says can be eaten,
is wasted, and is wasted once some of it may be preserved. Run by hand when the cases change:

    python3 tests/referees/cover.py

Needs scipy. The program is the one the coverage plan is held against: eat x[lot, day], preserve
z[lot, slot]; every lot's grams bound what is taken of it, every day the household's pace, every food
and day its cap, every slot its grams; nothing is eaten or preserved after a lot's last day. It first
eats as much as possible, then wastes as little as possible, then preserves as little as possible.
"""

import json
import pathlib
import random
import sys

import numpy
import scipy
from scipy.optimize import linprog
from scipy.sparse import lil_matrix

CASES = 240


def solve(case, preserving):
    lots, days = case["lots"], case["days"]
    slots = case["preserving"] if preserving else []
    columns = []
    for index, (food, grams, last, keeps) in enumerate(lots):
        columns += [("eat", index, day) for day in range(1, min(last, days) + 1)]
        if keeps and last <= days:
            columns += [("keep", index, s) for s, (day, _) in enumerate(slots) if day <= last]
    if not columns:
        return 0.0, 0.0
    foods = len(case["caps"])
    rows = len(lots) + days + foods * days + len(slots)
    matrix, bound = lil_matrix((rows, len(columns))), numpy.zeros(rows)
    for index, lot in enumerate(lots):
        bound[index] = lot[1]
    for day in range(days):
        bound[len(lots) + day] = case["pace"][day]
        for food in range(foods):
            bound[len(lots) + days + food * days + day] = case["caps"][food]
    for s, (_, grams) in enumerate(slots):
        bound[len(lots) + days + foods * days + s] = grams
    cost = numpy.zeros(len(columns))
    for column, (kind, index, place) in enumerate(columns):
        food, _, last, _ = lots[index]
        matrix[index, column] = 1
        if kind == "eat":
            matrix[len(lots) + place - 1, column] = 1
            matrix[len(lots) + days + food * days + place - 1, column] = 1
            # Eating what would spoil counts more than eating what keeps.
            cost[column] = -2.0 if last <= days else -1.0
        else:
            matrix[len(lots) + days + foods * days + place, column] = 1
            cost[column] = -0.5
    result = linprog(cost, A_ub=matrix.tocsr(), b_ub=bound, bounds=(0, None), method="highs")
    assert result.status == 0, result.message
    eaten = sum(x for x, c in zip(result.x, columns) if c[0] == "eat")
    taken = sum(x for x, c in zip(result.x, columns) if lots[c[1]][2] <= days)
    wasted = sum(lot[1] for lot in lots if lot[2] <= days) - taken
    return eaten, wasted


def main():
    draw = random.Random(20261125)
    cases = []
    for _ in range(CASES):
        days = draw.randint(3, 21)
        foods = draw.randint(1, 8)
        lots = [
            [draw.randrange(foods), 50 * draw.randint(1, 80), draw.randint(1, 40), draw.random() < 0.6]
            for _ in range(draw.randint(1, 14))
        ]
        mean = draw.randint(3, 30) * 50
        case = {
            "days": days,
            "lots": lots,
            "pace": [0 if draw.random() < 0.1 else mean for _ in range(days)],
            "caps": [draw.choice([150, 300, 450, 100000]) for _ in range(foods)],
            "preserving": [[d, 500] for d in range(1, days + 1) if draw.random() < 0.2],
        }
        eaten, wasted = solve(case, False)
        eaten_too, left = solve(case, True)
        case["expected"] = {
            "eaten": round(eaten, 3),
            "wasted": round(wasted, 3),
            "eaten_preserving": round(eaten_too, 3),
            "wasted_preserving": round(left, 3),
        }
        cases.append(case)
    folder = pathlib.Path(__file__).parent.parent / "it" / "checks"
    versions = {"python": sys.version.split()[0], "scipy": scipy.__version__}
    rows = ",\n".join(json.dumps(case) for case in cases)
    text = f'{{"versions": {json.dumps(versions)},\n"cases": [\n{rows}\n]}}\n'
    (folder / "cover.json").write_text(text)


main()

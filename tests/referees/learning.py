"""Random household logs, with what lifelines says of them.

Writes tests/it/checks/learning.json: right-censored Weibull logs of a food in a place, each with
lifelines' maximum-likelihood fit. The product's learner knows the shape, so it is given lifelines'
own; without a prior its multiplier must then be lifelines' scale. Run by hand when the cases change:

    python3 tests/referees/learning.py

Needs lifelines.
"""

import json
import pathlib
import sys

import lifelines
import numpy
import scipy

CASES = 60


def case(random):
    lots = int(random.integers(12, 80))
    shape, factor = random.uniform(1.8, 8.0), random.uniform(0.5, 2.0)
    lost_at = factor * random.weibull(shape, lots)
    used_at = random.uniform(0.2, 2.0 * factor, lots)
    event = lost_at <= used_at
    if event.sum() < 3:
        return case(random)
    seen = numpy.round(numpy.minimum(lost_at, used_at), 3).clip(0.001)
    fit = lifelines.WeibullFitter().fit(seen, event)
    return {
        "spent_milli": [int(round(1000 * u)) for u in seen],
        "lost": [bool(e) for e in event],
        "lambda": fit.lambda_,
        "rho": fit.rho_,
    }


def main():
    random = numpy.random.default_rng(20260301)
    file = {
        "made_by": {
            "script": "tests/referees/learning.py",
            "python": sys.version.split()[0],
            "lifelines": lifelines.__version__,
            "numpy": numpy.__version__,
            "scipy": scipy.__version__,
        },
        "cases": [case(random) for _ in range(CASES)],
    }
    path = pathlib.Path(__file__).parent.parent / "it/checks/learning.json"
    path.write_text(json.dumps(file) + "\n")


main()

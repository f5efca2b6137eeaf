"""Writes what PyPI `dateparser` makes of the day wordings of tests/it/days.rs.

    pip install dateparser==1.5.0
    python tests/referees/dateparser_days.py > tests/data/dateparser_days.tsv

One wording a line: wording, facing (past or future), the referee's day or "-". Tests read the
file; nobody needs Python to run them.
"""

import datetime
import sys

import dateparser
from dateparser.search import search_dates

TODAY = datetime.datetime(2026, 3, 11, 12, 0)  # a Wednesday

WORDINGS = [
    line.strip().split("\t")
    for line in open("tests/data/day_wordings.tsv", encoding="utf8")
    if line.strip() and not line.startswith("#")
]

print(f"# dateparser {dateparser.__version__}, today {TODAY.date()}; written by tests/referees/dateparser_days.py")
for facing, wording in WORDINGS:
    settings = {
        "RELATIVE_BASE": TODAY,
        "PREFER_DATES_FROM": facing,
        "DATE_ORDER": "DMY",
    }
    day = dateparser.parse(wording, languages=["en"], settings=settings)
    if day is None:
        found = search_dates(wording, languages=["en"], settings=settings)
        day = found[0][1] if found else None
    print(wording, facing, day.date() if day else "-", sep="\t")
    sys.stdout.flush()

"""Reads exported files with libraries of others and says what they hold, as JSON.

    export_check.py csv FILE                  the rows, read by Python's own csv module
    export_check.py calendar FILE COUNT       each event's first COUNT starts in UTC, each to-do's due
                                              moment, and what PyPI icalendar has against the file

The calendar is parsed twice: by PyPI `icalendar`, which reports components it finds broken, and its
VTIMEZONE once more by `dateutil.tz.tzical`, whose zone alone turns the local times into UTC.
"""

import csv
import datetime
import itertools
import json
import sys

import icalendar
from dateutil import rrule, tz


def rows(path):
    with open(path, encoding="utf8", newline="") as file:
        return list(csv.reader(file, strict=True))


def moment(value, zones):
    """A property's value as text: a day, or an instant in UTC by the file's own zone rules."""
    name = value.params.get("TZID")
    at = value.dt
    if not isinstance(at, datetime.datetime):
        return at.isoformat()
    local = at.replace(tzinfo=None)
    zone = zones.get(name) if name else tz.UTC
    return local.replace(tzinfo=zone).astimezone(tz.UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def calendar(path, count):
    text = open(path, "rb").read()
    lines = text.split(b"\r\n")
    faults = [f"line of {len(line)} bytes" for line in lines if len(line) > 75]
    if b"\n" in text.replace(b"\r\n", b"") or not text.endswith(b"\r\n"):
        faults.append("a line does not end in CR LF")
    parsed = icalendar.Calendar.from_ical(text)
    zones = tz.tzical(path)
    events, todos = [], []
    for component in parsed.walk():
        faults += [f"{component.name}: {error}" for error in component.errors]
        needed = {"VCALENDAR": ["VERSION", "PRODID"], "VEVENT": ["UID", "DTSTAMP", "DTSTART"],
                  "VTODO": ["UID", "DTSTAMP"], "VTIMEZONE": ["TZID"]}.get(component.name, [])
        faults += [f"{component.name} without {name}" for name in needed if name not in component]
        if component.name == "VEVENT":
            start = component["DTSTART"]
            starts = [moment(start, zones)]
            if "RRULE" in component:
                rule = component["RRULE"].to_ical().decode()
                local = start.dt.replace(tzinfo=None)
                zone = zones.get(start.params["TZID"])
                found = itertools.islice(rrule.rrulestr(rule, dtstart=local), count)
                # A time that does not exist is read with the offset before the gap.
                starts = [tz.resolve_imaginary(at.replace(tzinfo=zone)).astimezone(tz.UTC)
                          .strftime("%Y-%m-%dT%H:%M:%SZ") for at in found]
            end = component.get("DTEND")
            events.append({"uid": component["UID"], "summary": component["SUMMARY"],
                           "starts": starts, "end": moment(end, zones) if end else None})
        if component.name == "VTODO":
            todos.append({"uid": component["UID"], "summary": component["SUMMARY"],
                          "due": moment(component["DUE"], zones)})
    return {"events": events, "todos": todos, "faults": faults}


if sys.argv[1] == "csv":
    json.dump(rows(sys.argv[2]), sys.stdout)
else:
    json.dump(calendar(sys.argv[2], int(sys.argv[3])), sys.stdout)

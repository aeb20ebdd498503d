#!/usr/bin/python3
"""Reads the calendar writer's sample with an independent parser (Debian package python3-icalendar).

tests/reference/data/exchange/calendar_sample.ics is byte for byte what the writer makes (the test
program reference_exchange compares them); here another program must find in it what was meant.
Checked by hand beside the parser: CRLF line ends and at most 75 octets a line (RFC 5545, 3.1).

usage: calendar_check.py [PROGRAM]     (PROGRAM is not needed; every check here is given it)
"""
import datetime
import pathlib
import sys

import icalendar

SAMPLE = pathlib.Path(__file__).parent.parent / "data/exchange/calendar_sample.ics"

EXPECTED = [
    {
        "UID": "block-1-round-1",
        "SUMMARY": "Round 1: fractions, decimals; G1 \\ G2",
        "DESCRIPTION": "Ana Łuczak, Νίκη Παπαδοπούλου, فاطمة الزهراء, 山田太郎, 김민준 and "
                       "everybody else in the group\nBring: cards",
        "LOCATION": "Room 6, east",
        "DTSTART": datetime.datetime(2026, 12, 1, 9, 13),
        "DTEND": datetime.datetime(2026, 12, 1, 9, 25, 30),
    },
    {
        "UID": "block-1-round-2",
        "SUMMARY": "x" * 100,
        "DTSTART": datetime.datetime(2028, 2, 29, 0, 0),
        "DTEND": datetime.datetime(2028, 2, 29, 0, 1),
    },
    {
        "UID": "block-1-round-3",
        "SUMMARY": "Ends at midnight",
        "DTSTART": datetime.datetime(2026, 12, 31, 23, 0),
        "DTEND": datetime.datetime(2027, 1, 1, 0, 0),
    },
]


def found_in(event):
    out = {}
    for key, value in event.items():
        if key == "DTSTAMP":
            assert value.dt == datetime.datetime(2026, 11, 25, 8, tzinfo=value.dt.tzinfo)
            assert value.dt.utcoffset() == datetime.timedelta(0), "DTSTAMP must be in UTC"
        elif key in ("DTSTART", "DTEND"):
            assert value.dt.tzinfo is None, f"{key} must be a floating time"
            out[key] = value.dt
        else:
            out[key] = str(value)
    return out


def main():
    raw = SAMPLE.read_bytes()
    lines = raw.split(b"\r\n")
    assert lines.pop() == b"", "the file must end in CRLF"
    for line in lines:
        assert b"\r" not in line and b"\n" not in line, line
        assert len(line) <= 75, line
        line.decode("utf-8")
    calendar = icalendar.Calendar.from_ical(raw)
    assert str(calendar["VERSION"]) == "2.0" and str(calendar["PRODID"])
    events = [found_in(event) for event in calendar.walk("VEVENT")]
    assert not calendar.errors and not any(e.errors for e in calendar.walk("VEVENT"))
    for found, wanted in zip(events, EXPECTED, strict=True):
        assert found == wanted, f"\nfound  {found}\nwanted {wanted}"
    # The other writer folds the long summary at the same places: 74 and 35 octets.
    theirs = icalendar.Event()
    theirs.add("summary", "x" * 100)
    folded = [line for line in theirs.to_ical().split(b"\r\n") if b"x" in line]
    assert [len(line) for line in folded] == [74, 35], folded
    assert all(line in lines for line in folded)
    print(f"{len(events)} events read alike by icalendar {icalendar.__version__}")


if __name__ == "__main__":
    sys.exit(main())

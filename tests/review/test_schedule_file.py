"""The calendar file against RFC 5545 and over changes of the clocks."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar as CalendarFile
from review.twelve import BY_HAND, MAY, PARTS, ROOMS, STEPS, WAIT_FOR_GROUT
from review.working import plan_of

from advisor.reports.calendar import as_calendar
from advisor.review.days.timetable import Options
from advisor.review.model import Report
from advisor.review.planned_work import plan_work
from advisor.rulebase.base import load_rulebase


def _file(options: Options) -> list[Any]:
    plan = plan_of(STEPS, parts=PARTS, rooms=ROOMS)
    work = plan_work(plan, [WAIT_FOR_GROUT], load_rulebase(), options)
    report = Report(plan, [], work.order.entries(), work.schedule, [], [], [], {}, ())
    raw = as_calendar(report, work.order)
    lines = raw.split(b"\r\n")
    # RFC 5545, 3.1: lines end in CRLF and are at most 75 octets long.
    assert max(map(len, lines)) <= 75
    assert lines[-1] == b""
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert raw == as_calendar(report, work.order)
    return list(CalendarFile.from_ical(raw).walk("VEVENT"))


def test_the_calendar_file_has_an_event_for_each_step_and_wait_as_its_rfc_asks() -> None:
    """RFC 5545, 3.6.1: UID and DTSTAMP are required, DTSTAMP in UTC (3.8.7.2), DTEND not before DTSTART (3.8.2.2)."""
    events = _file(MAY)

    assert sorted(str(e["SUMMARY"]) for e in events if e["TRANSP"] == "OPAQUE") == sorted(BY_HAND)
    assert len({str(e["UID"]) for e in events}) == len(events)
    for event in events:
        assert event.errors == []
        assert event["DTSTAMP"].dt == datetime.fromisoformat("2026-05-04T00:00:00+00:00")
        assert event["DTEND"].dt >= event["DTSTART"].dt
    wait = next(e for e in events if str(e["SUMMARY"]) == "wait: second-coat")
    assert (wait["TRANSP"], wait["DTEND"].dt) == ("TRANSPARENT", datetime(2026, 5, 8, 14))


def test_a_second_import_finds_the_same_events() -> None:
    def named(events: list[Any]) -> dict[str, str]:
        return {str(e["SUMMARY"]): str(e["UID"]) for e in events}

    assert named(_file(MAY)) == named(_file(Options(start=date(2026, 9, 7), hours_per_day=6.0)))


@pytest.mark.parametrize(("zone", "start"), [("America/New_York", "2026-03-06"), ("Europe/Berlin", "2026-10-23")])
def test_over_a_change_of_the_clocks_work_starts_at_eight_on_local_working_days(zone: str, start: str) -> None:
    """US clocks change on 8 March 2026 (15 U.S.C. 260a), those of the EU on 25 October 2026 (Directive 2000/84/EC)."""
    events = [e for e in _file(Options(start=date.fromisoformat(start))) if e["TRANSP"] == "OPAQUE"]
    local = [e["DTSTART"].dt.replace(tzinfo=ZoneInfo(zone)) for e in events]

    assert {e["DTSTART"].dt.tzinfo for e in events} == {None}
    assert {(t.utcoffset(), t.weekday() < 5, 8 <= t.hour < 16) for t in local} == {
        (offset, True, True) for offset in {local[0].utcoffset(), local[-1].utcoffset()}
    }
    assert local[0].utcoffset() != local[-1].utcoffset()
    first, last = local[0], local[-1]
    assert (first.date().isoformat(), first.hour) == (start, 8)
    # From a Friday the same five working days end on the Thursday after, or later; never on the weekend.
    assert last.date() > date.fromisoformat(start) + timedelta(days=3)

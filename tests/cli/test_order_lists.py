"""Every list of the steps prints the same sequence, each hold point stands below the number of its own step, and dates
that run backwards carry a word. Read from what is printed, by expressions of their own."""

from __future__ import annotations

import json
import re
from functools import cache
from html import unescape
from pathlib import Path

import pytest
from icalendar import Calendar
from typer.testing import CliRunner

from advisor.cli.app import app

ROOT = Path(__file__).parents[2]
# Faulty plans, of which most are moved; and a careful one whose doors fill the waits of other work.
PLANS = [
    "scenarios/galley-kitchen-faulty.yaml",
    "scenarios/windows-faulty.yaml",
    "scenarios/galley-kitchen-careful.yaml",
]


@cache
def printed(*words: str) -> str:
    """What a command prints on standard output."""
    found = CliRunner().invoke(app, list(words), env={"COLUMNS": "80"})
    assert found.exit_code in (0, 1), found.output
    return found.stdout


def order_of(plan: str, *more: str) -> str:
    """`advisor order` with a first day."""
    return printed("order", str(ROOT / plan), "--start", "2026-05-04", *more)


def section(text: str, title: str) -> list[str]:
    """The lines under a title of a text, up to the next."""
    lines = text.split("\n")
    start = lines.index(title) + 2
    end = next((k for k in range(start, len(lines) - 1) if re.fullmatch("-{3,}", lines[k + 1])), len(lines))
    return lines[start:end]


def numbered(lines: list[str]) -> list[str]:
    """The steps that stand behind a number, which counts from 1 on."""
    found = [match for line in lines if (match := re.match(r" *(\d+)\. (\S+)", line))]
    assert [int(match[1]) for match in found] == list(range(1, len(found) + 1))
    return [match[2] for match in found]


def once(names: list[str]) -> list[str]:
    """Each name where it first stands."""
    return list(dict.fromkeys(names))


@pytest.mark.parametrize("plan", PLANS)
def test_report_order_and_calendar_print_the_same_sequence(plan: str) -> None:
    data = json.loads(order_of(plan, "--format", "json"))
    steps = [entry["step"] for entry in data["order"] if "step" in entry]
    text, review = order_of(plan), printed("review", str(ROOT / plan))
    calendar = [line for line in section(text, "CALENDAR")[1:] if re.match(r"[ !][ <][ *] \S.* \d\d-\d\d ", line)]
    page = order_of(plan, "--format", "html")
    rows = re.findall(r"<tr[^>]*>\s*<t[hd][^>]*>([^<]*)</t[hd]>", page)

    assert numbered(section(text, "ORDER OF WORK")) == steps
    told = " ".join(review.partition("\nSTEPS IN THE ORDER OF WORK\n")[2].split())
    places = [told.index(f"{number}. {step}") for number, step in enumerate(steps, 1)]
    assert places == sorted(places)
    labels = once([line[4:].split(" ")[0] for line in calendar if line[4] != "+"])  # `+` is asked for beside a step
    assert [step.startswith(label.rstrip("…")) for step, label in zip(steps, labels, strict=True)] == [True] * len(
        steps
    )
    listed = once([unescape(row).split(" (")[0] for row in rows])
    assert [row for row in listed if row in steps] == steps
    assert [
        row["step"] for row in json.loads(printed("review", str(ROOT / plan), "--format", "json"))["order"]
    ] == steps


@pytest.mark.parametrize("plan", PLANS[:2])
def test_each_hold_point_stands_below_the_number_of_its_own_step(plan: str) -> None:
    """Above the number they read as the step before's."""
    entries = json.loads(order_of(plan, "--format", "json"))["order"]
    wanted: dict[str, list[str]] = {}
    for entry in entries:
        if "hold" in entry:
            wanted.setdefault(entry["before"], []).append(entry["signal"].upper())
    found: dict[str, list[str]] = {}
    step = "above the first number"
    for line in section(order_of(plan), "ORDER OF WORK"):
        if match := re.match(r" *\d+\. (\S+)", line):
            step = match[1]
        elif match := re.match(r" +\[ \] ([A-Z]+):", line):
            found.setdefault(step, []).append(match[1])

    assert wanted
    assert found == wanted


@pytest.mark.parametrize("plan", PLANS)
def test_dates_that_run_backwards_carry_a_word(plan: str) -> None:
    """A row that starts before the one above it has a mark, and the mark is explained; no other row has one."""
    lines = section(order_of(plan), "CALENDAR")[1:]
    rows = [m for line in lines if (m := re.match(r" ([ <])[ *] \S.*? (\d\d-\d\d \d\d:\d\d) ", line))]
    starts = [row[2] for row in rows]
    back = [k > 0 and start < starts[k - 1] for k, start in enumerate(starts)]

    assert rows
    assert [row[1] == "<" for row in rows] == back
    assert any("< starts before the line above it" in line for line in lines) == any(back)


def test_some_dates_run_backwards() -> None:
    """Else the test above would have looked at nothing."""
    assert any("< starts before" in order_of(plan) for plan in PLANS)


def test_the_calendar_file_holds_the_same_days() -> None:
    """Each event starts when its row says."""
    events = Calendar.from_ical(order_of(PLANS[0], "--format", "ics")).walk("VEVENT")
    data = json.loads(order_of(PLANS[0], "--format", "json"))
    rows = {(row["step"], row["from"]["date"]) for row in data["schedule"]["rows"]}
    told = [(str(event["SUMMARY"]), event["DTSTART"].dt.strftime("%Y-%m-%d")) for event in events]
    days = {(name.split(" (")[0].split(": ")[0], day) for name, day in told if not name.startswith("wait: ")}

    assert days == rows

"""What is not yours to do: who does it, what the work is, and when; one line for each trade and piece of work."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from advisor.plan.said import words
from advisor.reports.arrange import Entry, arrange
from advisor.reports.begin import TRADE_NOTE
from advisor.review.finding import Finding
from advisor.review.metric import localized
from advisor.review.model import Report
from advisor.review.who import (
    LABORATORY,
    LICENSED,
    LOCAL_CODE,
    before_all,
    department,
    not_yours_words,
    plain,
    theirs_words,
    trades_touched,
    who_words,
)
from advisor.review.wording import every_sentence, listed

HEADING = "Not yours"
TODAY = "today"


class Theirs(Struct, frozen=True):
    """Work of somebody else: `licensed plumber`, `before clip-basin`, `give basin a P-trap`."""

    who: str
    when: str
    work: str
    steps: tuple[str, ...]
    days: str = ""  # until the result of a test is there

    @property
    def told_by_finding(self) -> bool:
        """Whether a finding gives it away, and not the building department or what local code asks of a trade."""
        return self.when != TRADE_NOTE and self.who != department()

    @property
    def line(self) -> str:
        """The whole line, `licensed plumber, before clip-basin: give basin a P-trap`."""
        waits = f" (result in about {self.days})" if self.days else ""
        return f"{self.who}, {self.when}: {self.work}{waits}"

    @property
    def short(self) -> str:
        """The same with no more of the work than its first clause; of what local code decides the steps alone."""
        work = listed(list(self.steps)) if self.when == TRADE_NOTE else re.split(r", |; | - ", self.work)[0]
        waits = f" ({self.days})" if self.days else ""
        return f"{self.who}, {self.when}: {work}{waits}"


def not_yours(entries: Sequence[Entry], report: Report) -> tuple[Theirs, ...]:
    """The list, what is to be done today first, then in the order of work, what local code decides last."""
    places = {row.step: place for place, row in enumerate(report.order)}
    days = {row.step: row.waits_for.days for row in report.order if row.waits_for}
    found: list[Theirs] = []
    for entry in entries:
        finding, steps = entry.finding, tuple(step for step in entry.steps if step)
        if finding.rank == 0 or not (finding.who == LABORATORY or finding.who.startswith(LICENSED)):
            continue
        when = _when(finding, steps)
        waits = sorted({days[step] for step in steps if step in days}) if when == TODAY else [""]
        found.append(Theirs(trade_name(finding.who), when, work_of(finding), steps, (waits or [""])[-1]))
    found.sort(key=lambda one: (one.when != TODAY, min((places.get(step, 0) for step in one.steps), default=-1)))
    found += _asked(entries, report, found)
    units = report.plan.units
    return tuple(
        Theirs(localized(one.who, units), localized(one.when, units), localized(one.work, units), one.steps, one.days)
        for one in dict.fromkeys(found)
    )


def ordered(tests: Sequence[Theirs]) -> str:
    """What is sent for, with who makes it: `Order the lead test of doors (laboratory); result in about 5 days.`"""
    days = {one.days for one in tests}
    alike = f"; result{'s' * (len(tests) > 1)} in about {days.pop()}" if len(days) == 1 and "" not in days else ""
    said = [f"the {one.work} ({one.who}{f', about {one.days}' if one.days and not alike else ''})" for one in tests]
    return f"Order {listed(said)}{alike}."


def trade_name(who: str, units: str = "") -> str:
    """The trade without its article."""
    return re.sub(r"^(?:an?|your) ", "", who_words(who, units))


def _when(finding: Finding, steps: Sequence[str]) -> str:
    """Today, where a test decides the rest; else before its steps, or in your place at them."""
    if finding.decides or finding.who == LABORATORY or "inspector" in finding.who:
        return TODAY
    if not steps:
        return "before you begin"
    # Sentences that give the whole step away: the trade is there in your place, and not before you.
    given = finding.what.startswith(tuple(f"{start} " for start in not_yours_words()["given_away"]))
    return f"{'instead of you at' if given else 'before'} {listed(list(steps))}"


def work_of(finding: Finding) -> str:
    """The work in words of the plan: those of `rules/report/who.yaml`, or the sentence that names the trade."""
    if said := theirs_words(finding.rule):
        return said.replace("{parts}", listed(list(finding.parts)) or "it")
    trade = plain(finding.who.removeprefix(LICENSED)).split()[-1]
    every = every_sentence(finding.what)
    text = next((one for one in every if trade in one and not one.startswith("You may")), every[0]).rstrip(".")
    called = "|".join(map(re.escape, (trade, *not_yours_words()["called"])))
    text = re.sub(rf"Have (?:an? |the )?[\w -]*?(?:{called}) ", "", text, count=1)
    return text[:1].lower() + text[1:]


def _asked(entries: Sequence[Entry], report: Report, given: Sequence[Theirs]) -> list[Theirs]:
    """What the building department decides: the permit, and whether a step is yours at all."""
    permit = before_all(report, "permit")
    local = [step for e in entries if e.finding.who == LOCAL_CODE and e.finding.rank for step in e.steps if step]
    found = []
    touched = trades_touched(report.plan)
    may = [step for step in dict.fromkeys((*permit, *local)) if step]
    if may:
        them = "it" if len(may) == 1 else "them"
        asks = f"ask about a permit, and who may do {them}" if permit else f"ask who may do {them}"
        found.append(Theirs(department(), f"before {listed(may)}", asks, tuple(may)))
    for trade, steps in touched.items():
        name = trade_name(LICENSED + trade)
        held = {step for one in given if one.who == name for step in one.steps}
        if left := [step for step in steps if step not in held]:
            found.append(Theirs(name, TRADE_NOTE, _done(report, left), tuple(left)))
    return found


def _done(report: Report, steps: Sequence[str]) -> str:
    """What the steps do, as the plan says it: `replace socket (new-socket) and install fan (fit-fan)`."""
    own = {step.id: step for step in report.plan.steps}
    said = []
    for step in steps:
        does = " ".join(", ".join(words(own[step], name)) for name in ("do", "to")).strip()
        said.append(f"{does} ({step})" if does else step)
    return listed(said)


def there_at(report: Report) -> dict[str, str]:
    """For each step who is to be asked or to be there before it begins, in words."""
    found: dict[str, list[str]] = {}
    for one in not_yours(arrange(report).entries(), report):
        name = f"{one.who} {one.when}" if one.when == TRADE_NOTE else one.who
        for step in one.steps:
            found.setdefault(step, [])
            if (said := _article(name)) not in found[step]:
                found[step].append(said)
    return {step: listed(names) for step, names in found.items()}


def _article(name: str) -> str:
    if name == department():
        return f"your {name}"
    return name if name.startswith("any ") else f"{'an' if name[0] in 'aeiou' else 'a'} {name}"

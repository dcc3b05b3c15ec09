"""One step alone, besides what is said of it: as planned, what must hold before, its time, what it takes."""

from __future__ import annotations

from advisor.plan.said import words
from advisor.reports.arrange import arrange
from advisor.reports.begin import dead_before, off_lines
from advisor.reports.calendar_chart import rows_of
from advisor.reports.not_yours import not_yours
from advisor.reports.said_short import sentence
from advisor.reports.schedule_text import hours, moment
from advisor.reports.screen_words import screen_words
from advisor.reports.supplies import amounts
from advisor.reports.view import HOLDS, step_words
from advisor.reports.waits import until_words
from advisor.review.days.activities import on_its_part
from advisor.review.days.model import Before, WorkRow
from advisor.review.days.surfaces import rooms_of
from advisor.review.finding import Finding
from advisor.review.metric import localized
from advisor.review.model import Report
from advisor.review.wording import listed
from advisor.rulebase.model import SIGNALS
from advisor.site.table import state_rows

AS_PLANNED, BEFORE, TIME, TAKES = "AS THE PLAN HAS IT", "WHAT MUST HOLD BEFORE IT", "ITS TIME", "WHAT IT TAKES"
_CAUTION = SIGNALS.index("caution")
_ASKED = "until the next step on it"  # how the hours of a wait that nobody stated are told
_STATED = "The plan says how long."
_NO_TIME = "No calendar could be made."


def about_step(report: Report, step: str) -> list[tuple[str, list[str]]]:
    """Headings with their lines, in the order in which they are read; none without a line."""
    entity = next(one for one in report.plan.steps if one.id == step)
    found = [
        (AS_PLANNED, [f"{step_words(entity)}."]),
        (BEFORE, _before(report, step)),
        (TIME, _time(report, step)),
        (TAKES, _takes(report, step)),
    ]
    return [(title, lines) for title, lines in found if lines]


def _before(report: Report, step: str) -> list[str]:
    """What is asked for in advance, what it waits for, which steps come first, and what is so by then."""
    place = next(one for one in report.order if one.step == step)
    said = [f"Not yours: {one.line}." for one in not_yours(arrange(report).entries(), report) if step in one.steps]
    said += off_lines(report, only=step)
    said += [place.waiting] if place.waiting else []
    said += _waits(report, step)
    known = screen_words()
    found = [f for f in report.findings if step in (f.step, *f.steps)]
    until = [until_words(f, do) for f in found for do in f.adds if do in known["until"]]
    until += [str(known["until_rule"][f.rule]) for f in found if f.rule in known["until_rule"]]
    if dead_before(report, step):
        shown = {known["until"][do] for do in known["dead"]}  # said already
        until = [one for one in until if one not in shown]
    if told := list(dict.fromkeys(until)):
        said.append(localized(f"Do not start until {listed(told)}.", report.plan.units))
    places = {row.step: row.place for row in report.order}
    first = {f.first for f in [*report.findings, *report.latent] if f.first and f.step == step and f.first in places}
    first |= _linked(report, step) | _last_below(report, step)
    if earlier := sorted(first, key=places.__getitem__):
        said.append(f"After {listed(earlier)}.")
    if place.why:
        said.append(place.why)
    return said + _of_others(report, step) + _states(report, step)


def _linked(report: Report, step: str) -> set[str]:
    """The steps that the calendar keeps before it: by a rule, by a need, or as they are on the same thing."""
    return {one.step for row in rows_of(report) if row.step == step for one in row.before if on_its_part(one.why)}


def _last_below(report: Report, step: str) -> set[str]:
    """On each thing that its own things stand in, on or against, and so on down, the last step before it."""
    parts = report.plan.entities.get("part", {})
    steps = {one.id: one for one in report.plan.steps}
    below = list(words(steps[step], "to"))
    for name in below:  # grows as it is gone through
        at = [b for a in ("in", "on", "against") for b in words(parts[name], a)] if name in parts else []
        below += [one for one in at if one not in below]
    found: dict[str, str] = {}
    for row in report.order:
        if row.step == step:
            break
        found |= {name: row.step for name in words(steps[row.step], "to") if name in below}
    return set(found.values())


def _waits(report: Report, step: str) -> list[str]:
    """What dries, cures or sets before it, by the calendar: `Not before day 10 09:00: 24 h after paint-door …`."""
    rows = rows_of(report)
    said = []
    for one in (before for row in rows if row.step == step for before in row.before if before.hours):
        does = step_words(next(s for s in report.plan.steps if s.id == one.step)).partition("; ")[0]
        why = " ".join(_why(report, one)) or _STATED
        said.append(f"Not before {moment(one.over)}: {hours(one.hours)} after {one.step} ({does}). {why}")
    return list(dict.fromkeys(said))


def _why(report: Report, wait: Before) -> list[str]:
    """Why a wait is kept: what its rule says, else what nobody may do meanwhile, and what was presumed of it."""
    for finding in (*report.findings, *report.latent):
        if finding.rule == wait.why and finding.first == wait.step:
            return [sentence(finding.because)]
    said = [] if on_its_part(wait.why) else [f"{wait.why[:1].upper()}{wait.why[1:]}."]
    rows = [row for row in rows_of(report) if row.step == wait.step]
    return [*said, *(f"Presumed: {text}." for row in rows for text in row.presumed if _ASKED in text)]


def _of_others(report: Report, step: str) -> list[str]:
    """What is asked for at other steps and has to be done before this one: those that come first on the same thing."""
    linked = _linked(report, step)
    entries = list(enumerate(arrange(report).entries(), 1))
    said, told = [], set[int]()
    for name in ["", *(row.step for row in report.order if row.step in linked)]:
        own = [
            (number, f"{entry.finding.signal}: {entry.finding.title} [{number}]")
            for number, entry in entries
            if number not in told
            and name in entry.steps
            and step not in entry.steps
            and entry.finding.kind in HOLDS
            and entry.finding.rank >= _CAUTION
            and (not name or _lasts(entry.finding))
        ]
        if own:
            told |= {number for number, _ in own}
            where = f"Asked at {name}" if name else "Asked before any work"
            said.append(f"{where}, to be done first: {'; '.join(text for _, text in own)}.")
    return said


def _lasts(finding: Finding) -> bool:
    """Whether what it asks for at one step counts for a later one: a test, a board behind tile; no mask, no air."""
    known = screen_words()
    if finding.adds:
        return not set(known["only_while"]).issuperset(finding.adds)
    harms = {drawn.conclusion.harm[0] for drawn in finding.drawn if drawn.conclusion.harm}
    return (
        not finding.wants and finding.rule not in known["until_rule"] and not harms.isdisjoint(known["harm_that_stays"])
    )


def _states(report: Report, step: str) -> list[str]:
    """What is so before the step if the work goes as the plan says, of all that it needs."""
    if report.site is None:
        return []
    known = {name: number for number, name in enumerate(report.site.steps)}
    order = [known[row.step] for row in report.order if row.step in known]
    found = []
    for row in state_rows(report.site, order):
        if row["step"] != step:
            continue
        if row["known"] != "unknown" and screen_words()["goes_without_saying"].get(row["state"]) == row["value"]:
            continue
        if row["since"] == "start" and _ruled_out(report, step, row["state"]):
            continue
        told = screen_words()["state_words"][row["state"]][row["value"]].replace("{of}", row["of"] or "it")
        if row["known"] == "unknown":
            told += " (presumed; the plan does not tell)"
        elif row["since"] != "start":
            told += f" since {row['since']}"
        found.append(told + " (presumed)" * (row["known"] == "presumed"))
    return [f"As the plan stands, before this step {listed(found)}."] if found else []


def _ruled_out(report: Report, step: str, state: str) -> bool:
    """Whether every room of the step says that there is nothing of the kind."""
    said = screen_words()["ruled_out_by"].get(state)
    rooms = report.plan.entities.get("room", {})
    own = [rooms.get(name) for name in rooms_of(report.plan, report.plan.entities["step"][step])] if said else []
    return bool(own) and all(room and set(words(room, said["room"])) == set(said["words"]) for room in own)


def _time(report: Report, step: str) -> list[str]:
    """When each piece of it is done, how long it takes, and what has to wait after it."""
    rows = [row for row in rows_of(report) if row.step == step]
    if not rows:
        return [_NO_TIME]
    said = [_row(row, len(rows) > 1) for row in rows]
    presumed = list(dict.fromkeys(text for row in rows for text in row.presumed))
    said += [f"Presumed: {'; '.join(presumed)}."] if presumed else []
    if any(row.holds_up for row in rows):
        said.append("A delay here delays the end of the whole work.")
    return said


def _row(row: WorkRow, several: bool) -> str:
    """A piece of the step on a line; of several each says what it is."""
    named = f"{row.task[:1].upper()}{row.task[1:]}: " if row.task else f"Coat {row.coat}: " if row.coat else ""
    named = named or "The step itself: " * several
    if not row.hours and not row.by_itself_hours:
        return f"{named}{moment(row.begins)}."
    of = "of work" if row.hours else "of waiting"
    text = f"{named}{moment(row.begins)} to {moment(row.ends)}, {hours(row.hours or row.by_itself_hours)} {of}"
    text += f" by {row.people} people" if row.people > 1 else ""
    return f"{text}; then {hours(row.wait_hours)} of waiting." if row.wait_hours else f"{text}."


def _takes(report: Report, step: str) -> list[str]:
    """Amounts and gear, to get and there; a thing that serves other steps too says so."""
    found = []
    for one in sorted(report.supplies, key=lambda s: (bool(s.against), not s.lacking)):
        if step not in one.steps:
            continue
        others = len(one.steps) - 1
        shared = f" (for {others} other step{'s' * (others != 1)} too)" if others else ""
        how = f" ({one.how})" if one.how != "buy" and one.lacking else ""
        said = f"do not get it: {one.against}" if one.against else amounts(one)
        found.append(f"{one.what}{how}: {said}{shared}.")
    return found

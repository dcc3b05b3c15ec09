"""States in a calendar, worked out from its times alone: what a step brings is there when it ends, what it spoils is
gone when it begins. Independent of the links that the schedule is made of.

    python -m tests.site.calendar_states        counts needs broken in the calendars of careful plans, hands 1 to 4
"""

from __future__ import annotations

import copy
from typing import Any

from advisor.plan import read_plan
from advisor.review.days.model import Moment, Timetable
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.model import Effect, Key, SimulatedSite
from advisor.site.simulate import failures

MINUTES = 24 * 60


def with_people(plan: dict[str, Any], people: int) -> Report:
    """The review of the plan with so many hands."""
    other = copy.deepcopy(plan)
    other.setdefault("crew", {})
    other["crew"]["people"] = str(people)
    rulebase = load_rulebase()
    return review_plan(read_plan(other, rulebase.vocabulary), rulebase)


def times(report: Report) -> dict[str, tuple[int, int]]:
    """Start and end of each step, in minutes from midnight of the first day."""
    found: dict[str, tuple[int, int]] = {}
    assert isinstance(report.schedule, Timetable)
    for row in report.schedule.rows:
        start, end = _minute(row.begins), _minute(row.ends)
        known = found.get(row.step, (start, end))
        found[row.step] = (min(known[0], start), max(known[1], end))
    return found


def _minute(at: Moment) -> int:
    hour, minute = map(int, at.time.split(":"))
    return int((at.day - 1) * MINUTES + hour * 60 + minute)


def broken(report: Report) -> list[tuple[str, str]]:
    """Step and rule of each need that holds in the list of the order of work, and not all the time in its calendar."""
    site = report.site
    assert site is not None
    number = {step: place for place, step in enumerate(site.steps)}
    order = [number[row.step] for row in report.order]
    fails = {id(f.need) for f in failures(site, order)}
    at = times(report)
    place = {step: k for k, step in enumerate(order)}
    found = []
    for step in order:
        name = site.steps[step]
        if name not in at:
            continue
        for need in site.needs[step]:
            if id(need) in fails or not _steady(site, need.keys, order):
                continue
            if not all(_so(site, need, moment, step, at, place) for moment in _moments(site, need.keys, step, at)):
                found.append((name, need.rule))
    return sorted(set(found))


def _steady(site: SimulatedSite, keys: tuple[Key, ...], order: list[int]) -> bool:
    """Whether what happens to these states hangs on nothing else, so that times alone tell it."""
    return not any(e.only_if for s in order for e in site.effects[s] if e.key in keys)


def _moments(site: SimulatedSite, keys: tuple[Key, ...], step: int, at: dict[str, tuple[int, int]]) -> list[int]:
    """The start of the step, and each moment within it at which one of the states may change."""
    start, end = at[site.steps[step]]
    changes = {
        moment
        for other, effects in enumerate(site.effects)
        for effect in effects
        if effect.key in keys and other != step and site.steps[other] in at
        for moment in at[site.steps[other]]
        if start < moment < end
    }
    return [start, *sorted(changes)]


def _so(
    site: SimulatedSite, need: Any, moment: int, step: int, at: dict[str, tuple[int, int]], place: dict[int, int]
) -> bool:
    """Whether the need holds at that moment."""

    def value(key: Key) -> str:
        done: list[tuple[int, int, Effect]] = []
        for other, effects in enumerate(site.effects):
            if other == step or site.steps[other] not in at:
                continue
            for effect in effects:
                if effect.key == key:
                    start, end = at[site.steps[other]]
                    when = end if effect.mode == "brings" else start
                    # What ends as the other begins comes first; of two at one moment the list decides.
                    if when < moment or (when == moment and (place[other] < place[step])):
                        done.append((when, place[other], effect))
        return max(done, key=lambda d: d[:2])[2].value if done else site.at_start(key)

    if any(value(key) in good for key, good in need.unless):
        return True
    if any(value(key) in bad for key, bad in need.never):
        return False
    return not need.wants or any(value(key) in good for key, good in need.wants)


def main() -> None:
    """Print the counts."""
    from tests.site.displacing import CAREFUL, read

    for people in (1, 2, 4):
        found = [(path.stem, one) for path in CAREFUL for one in broken(with_people(read(path), people))]
        print(f"{people} people: {len(found)} needs broken in the calendars of {len(CAREFUL)} plans")
        for stem, (step, rule) in found[:25]:
            print(f"  {stem}: {step} {rule}")


if __name__ == "__main__":
    main()

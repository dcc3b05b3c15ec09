"""Steps as pieces of work with links between them: what the schedule is made of.

Beyond the constraints of the order of work the schedule keeps the author's word where nobody gave a reason:
steps on one part, or on parts that sit in or on each other, stay in order, waits included; so does a step that
names no part, since it may concern any; and no dust is made in a room between a coat and the end of its wait.
Work on what is fixed in a room stays in order too, without the waits: framing, then cable, then drywall is an
order that no rule spells out. Loose pieces (doors, drawers, furniture) fill the waits; moved about they keep their
place, and put in it they stay behind dust and wet walls (`surfaces.py`). What makes safe or tests (power off, proving
dead, inspection) keeps its place among all fixed work. Waste is cleared away at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct, field

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, number, words
from advisor.review.days.asked_work import AskedOfStep, AskedWork
from advisor.review.days.held_waits import held_waits
from advisor.review.days.hours import Hours
from advisor.review.days.surfaces import by_dust, on_wet_surfaces, rooms_of
from advisor.review.order.constraints import ORDER
from advisor.review.order.lab_results import Awaited
from advisor.review.order.work_order import WorkOrder
from advisor.rulebase.vocabulary import Vocabulary

_SHORT = 60  # minutes of work that nobody begins at the end of a day and ends on the next
_WAITS, _SAME_PART = "wait of the step before", "same part: "


def on_its_part(why: str) -> bool:
    """Whether a step comes first as it is on the same part, or as a rule asks so: not for dust or the room alone."""
    return why.startswith(_SAME_PART) or why == _WAITS or " " not in why.strip("+ ")


class Activity(Struct):
    """A piece of work: a step, or one coat of it. Times in minutes."""

    step: str
    coat: int  # from 1; 0 where the step is one piece
    work: int
    people: int
    by_itself: int
    tail: int  # hands off after it
    not_before: int  # working day on which the author lets it start, from 0
    before: list[tuple[int, int, str]] = field(default_factory=list)  # activity, lag [min], why
    result: Awaited | None = None  # of a test, before which it does not start
    starts_outage: bool = False  # the house does without something from here
    waits_along: bool = False  # for the answer that what comes after it waits for
    same_day: bool = False  # not put off, and not left until the next morning
    at_a_stretch: int = 0  # minutes from its start that no night cuts, where a day holds them
    task: str = ""  # what a finding asks for before or after the step; empty for the step's own work
    along: bool = False  # starts in the wait of what comes before it on its part


def activities(
    plan: Plan,
    order: WorkOrder,
    hours: dict[str, Hours],
    vocabulary: Vocabulary,
    asked: Mapping[str, AskedOfStep] = MappingProxyType({}),
) -> list[Activity]:
    """The activities in the order of work, each with what must be over before it starts; `asked` is what findings ask
    for before and after a step, which goes with it."""
    found: list[Activity] = []
    clearing = vocabulary.members("action", "clears away")
    outs = vocabulary.members("action", "starts an outage")
    in_one_go = vocabulary.members("action", "done in one go")
    first: dict[str, int] = {}
    last: dict[str, int] = {}
    for step in order.steps:
        first[step.id] = len(found)
        _add(found, step, hours[step.id], asked.get(step.id, AskedOfStep()))
        found[-1].same_day = action_of(step) in clearing
        _uncut(found, first[step.id], action_of(step) in in_one_go)
        for piece in found[first[step.id] :]:
            piece.starts_outage = action_of(step) in outs
        last[step.id] = len(found) - 1
        found[first[step.id]].result = order.results.get(step.id)
    links: dict[tuple[int, int], tuple[int, str]] = {}

    wets = vocabulary.members("action", "takes off dirt")
    washed = {step.id: "wait" in step.values for step in order.steps if action_of(step) in wets}

    def rest_after(step: str) -> int:
        """Hands-off time after a step, and after what is asked for behind it."""
        return max(hours[step].after, found[last[step]].tail if step in last and found[last[step]].task else 0)

    def link(a: str, b: str, lag: int, why: str) -> None:
        if a not in last or b not in first:
            return
        if not washed.get(a, True) and b in washed:
            lag = 0
        key = (last[a], first[b])
        if a != b and (key not in links or links[key][0] < lag):
            links[key] = (lag, why)

    for one in order.constraints:
        # What only goes first where a plan does both waits for no coat to dry: oily rags are set out at once.
        after = 0 if one.firmness == ORDER and " " not in one.rule else rest_after(one.first)
        link(one.first, one.then, max(one.lag, after), one.rule if one.lag >= after else _WAITS)
    for kept in order.lasting.kept:
        if kept.first not in last or kept.then not in first:
            continue  # not done in this way of a test's turning out
        link(kept.first, kept.then, rest_after(kept.first) if kept.waits else 0, kept.rule)
    for a, b, why in _closed(plan, order):
        link(a, b, 0, why)
    for a, b, why in _kept(plan, order.steps, vocabulary):
        link(a, b, 0 if why in _WITHOUT_WAIT else rest_after(a), why)
    wet = {step.id: hours[step.id].wet for step in order.steps}
    surfaces = on_wet_surfaces(plan, order.steps, wet, rest_after, vocabulary)
    for kept_off in (*surfaces, *held_waits(plan, order.steps, rest_after, vocabulary)):
        link(kept_off.first, kept_off.then, kept_off.lag, kept_off.why)
    for (before, then), (lag, why) in sorted(links.items()):
        along = found[then].along and lag > 0 and on_its_part(why)
        if along:
            own = next(i for i in range(then, len(found)) if not found[i].task)
            found[own].before.append((before, lag, why))
        found[then].before.append((before, 0 if along else lag, why))
    _wait_along(found)
    return found


def _uncut(found: list[Activity], first: int, in_one_go: bool) -> None:
    """Wet work is not left off over night, and nothing short is; what is asked for right before a coat, such as taking
    off dust, goes with it."""
    then = 0  # minutes of wet work right behind
    for one in reversed(found[first:]):
        wet = in_one_go and not one.task
        if one.work <= _SHORT or wet:
            one.at_a_stretch = one.work
        if one.task and not one.tail and then:
            one.at_a_stretch = one.work + then
        then = one.at_a_stretch if wet or (then and not one.tail) else 0


def _wait_along(found: list[Activity]) -> None:
    """What begins an outage waits for the answer that all work behind it waits for: the only toilet stays till then."""
    answers = [one.result for one in found]
    after: list[list[int]] = [[] for _ in found]
    for i, one in enumerate(found):
        for before, _, _ in one.before:
            after[before].append(i)
            answers[i] = max(answers[i], answers[before], key=lambda answer: answer.time if answer else 0)
    for i in range(len(found) - 1, -1, -1):
        one = found[i]
        later = [answer for answer in (answers[then] for then in after[i]) if answer is not None]
        if answers[i] is None and one.starts_outage and later and len(later) == len(after[i]):
            one.result = answers[i] = min(later, key=lambda answer: answer.time)
            one.waits_along = True


def _add(found: list[Activity], step: Entity, hours: Hours, asked: AskedOfStep) -> None:
    day = int(number(step, "day") or 1) - 1
    begins = len(found)
    for one in asked.before if not hours.hired else ():
        _add_asked(found, step, one, hours, begins)
    lag = found[-1].tail if len(found) > begins else 0
    for coat in range(hours.coats):
        work = hours.work * (coat + 1) // hours.coats - hours.work * coat // hours.coats
        final = coat == hours.coats - 1
        tail = hours.after if final else 0
        named = coat + 1 if hours.coats > 1 else 0
        activity = Activity(step.id, named, work, hours.people, hours.by_itself, tail, day if coat == 0 else 0)
        if coat:
            activity.before.append((len(found) - 1, hours.between, "wait between coats"))
        elif len(found) > begins:
            activity.before.append((len(found) - 1, lag, found[-1].task))
        found.append(activity)
    for one in asked.after if not hours.hired else ():
        _add_asked(found, step, one, hours, begins)


def _add_asked(found: list[Activity], step: Entity, one: AskedWork, hours: Hours, begins: int) -> None:
    """A piece of work that a finding asks for, after what stands of the step so far."""
    by_itself = one.wait if not one.work else 0
    tail = one.wait if one.work else 0
    added = Activity(step.id, 0, one.work, min(hours.people, 1), by_itself, tail, 0, task=one.name, along=one.along)
    if len(found) > begins:
        last = found[-1]
        added.before.append((len(found) - 1, last.tail, last.task or "the step itself"))
    found.append(added)


def _closed(plan: Plan, order: WorkOrder) -> list[tuple[str, str, str]]:
    """Where a step had people sent away or its room closed off, nothing goes on there beside it."""
    found = []
    before: dict[str, list[str]] = {}  # steps in a room, since it was last closed off
    alone: dict[str, str] = {}  # the last step in a room that was closed off
    for step in order.steps:
        closed = order.lasting.closed.get(step.id)
        for room in rooms_of(plan, step):
            if room in alone:
                found.append((alone[room], step.id, f"{room} is closed off meanwhile"))
            if closed:
                found += [(other, step.id, f"{room} is closed off meanwhile") for other in before.pop(room, [])]
                alone[room] = step.id
            before.setdefault(room, []).append(step.id)
    return found


_WITHOUT_WAIT = ("paper", "same room", "cleared away at once", "names no part, in another room")


def _kept(plan: Plan, steps: list[Entity], vocabulary: Vocabulary) -> list[tuple[str, str, str]]:
    """Pairs of steps that stay in order without a rule: first, then, why."""
    clearing = vocabulary.members("action", "clears away")
    work = [step for step in steps if action_of(step) not in clearing]
    cleared = [
        (steps[place - 1].id, step.id, "cleared away at once")
        for place, step in enumerate(steps)
        if place and action_of(step) in clearing
    ]
    return [
        *_by_part(plan, work),
        *_without_part(plan, work, vocabulary),
        *by_dust(plan, work, vocabulary),
        *_by_room(plan, work, vocabulary),
        *cleared,
    ]


def _by_room(plan: Plan, steps: list[Entity], vocabulary: Vocabulary) -> list[tuple[str, str, str]]:
    """Fixed work in the order in which it is written, room by room; what makes safe stands in every room's row."""
    parts = plan.entities.get("part", {})
    loose, guards = vocabulary.members("part_kind", "loose pieces"), vocabulary.members("action", "guards others")
    passive = vocabulary.members("action", "keeps nothing waiting")
    moving = vocabulary.members("action", "moves things about")
    everywhere = ""
    last: dict[str, str] = {}  # room to the last fixed work there
    found = []
    for step in steps:
        if action_of(step) in passive:
            continue
        if action_of(step) in guards:
            found += [(other, step.id, "same room") for other in {everywhere, *last.values()} - {"", step.id}]
            everywhere, last = step.id, {}
            continue
        kinds = {k for p in words(step, "to") if p in parts for k in words(parts[p], "kind")}
        if not kinds or (kinds <= loose and action_of(step) not in moving):
            continue
        for room in rooms_of(plan, step):
            before = last.get(room, everywhere)
            if before:
                found.append((before, step.id, "same room"))
            last[room] = step.id
    return sorted(found)


def _by_part(plan: Plan, steps: list[Entity]) -> list[tuple[str, str, str]]:
    parts = plan.entities.get("part", {})
    direct: dict[str, str] = {}  # part to the last step on it
    beside: dict[str, list[str]] = {}  # part to the steps since then on what sits in or on it
    found = []
    for step in steps:
        own = list(dict.fromkeys(words(step, "to")))
        bases = [b for p in own if p in parts for a in ("in", "on") for b in words(parts[p], a)]
        around = [b for b in dict.fromkeys(bases) if b not in own]
        for part in (*own, *around):
            if part in direct:
                found.append((direct[part], step.id, f"{_SAME_PART}{part}"))
        for part in own:
            found += [(other, step.id, f"{_SAME_PART}{part}") for other in beside.pop(part, [])]
        direct |= dict.fromkeys(own, step.id)
        for part in around:
            beside.setdefault(part, []).append(step.id)
    return found


def _without_part(plan: Plan, steps: list[Entity], vocabulary: Vocabulary) -> list[tuple[str, str, str]]:
    found: list[tuple[str, str, str]] = []
    rooms = {step.id: set(rooms_of(plan, step)) for step in steps}
    papers = vocabulary.members("action", "paperwork")
    since: list[str] = []
    wall = ""
    for step in steps:
        if wall:
            found.append((wall, step.id, "names no part"))
        if words(step, "to"):
            since.append(step.id)
            continue
        paper = action_of(step) in papers
        for other in since:
            apart = rooms[other] and rooms[step.id] and rooms[other].isdisjoint(rooms[step.id])
            why = "paper" if paper else "names no part, in another room" if apart else "names no part"
            found.append((other, step.id, why))
        since, wall = [], step.id
    return found

"""What entries still to get or to find out answer: hold points in place of findings, each at the right step.

A finding is answered by what is to get where it is gone once that is there. It is answered by what is to be found
out where it asks for just that: to know it is what its advice comes to. Whether a finding stands is not answered by
looking later.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from advisor.engine.guards import value_of
from advisor.engine.run import Drawn
from advisor.plan.model import Plan, ToFindOut, ToGet
from advisor.plan.supposed import PEOPLE
from advisor.review.asked import OpenPractice, Question, RulesOfStep
from advisor.review.finding import Finding
from advisor.review.set_aside import Answered, HoldPoint
from advisor.rulebase.model import Var
from advisor.rulebase.split import Variant
from advisor.rulebase.vocabulary import SORTS, Vocabulary

_NAMED = ("step", "part", "product", "room", "house", "crew")


def hold_points(plan: Plan) -> list[HoldPoint]:
    """All that is to get and to find out, in the order of the file."""
    got = [HoldPoint("to_get", f"Get: {entry.told}", entry.steps, entry.line) for entry in plan.to_get]
    return got + [
        HoldPoint("to_find_out", entry.ask, (entry.by,) if entry.by else (), entry.line) for entry in plan.to_find_out
    ]


class Entries:
    """The entries of one plan, each with the place from which on it answers."""

    def __init__(self, plan: Plan, vocabulary: Vocabulary) -> None:
        self._tools = vocabulary.taxonomies.get("tool")
        self._places: Mapping[str, int] = {step.id: place for place, step in enumerate(plan.steps)}
        self._points = hold_points(plan)
        self._entries: Sequence[ToGet | ToFindOut] = [*plan.to_get, *plan.to_find_out]
        self._from = [min((self._places[s] for s in point.before), default=-1) for point in self._points]

    def answer(self, finding: Finding, there: set[str]) -> tuple[HoldPoint, ...]:
        """The hold points that answer a finding; `there` holds the ids of what speaks once all is got."""
        found: set[int] = set()
        matches = [one for one in finding.drawn if isinstance(one, Drawn)]
        if not matches:
            return ()
        for drawn in matches:
            mine = self._of(finding, drawn, there)
            if not mine:
                return ()  # one of the things that it is about is not seen to
            found |= mine
        return tuple(self._points[number] for number in sorted(found))

    def _of(self, finding: Finding, drawn: Drawn, there: set[str]) -> set[int]:
        # A finding of the whole plan, as of gear, is answered at the steps of its matches.
        step = finding.step or next((str(v) for n, v in drawn.env.items() if n == "step"), "")
        place = self._places.get(step)
        in_time = [
            number
            for number in range(len(self._entries))
            if self._from[number] < 0 or (place is not None and place >= self._from[number])
            or (place is None and finding.step is None)
        ]  # fmt: skip
        known = {n for n in in_time if isinstance(e := self._entries[n], ToFindOut) and _asks_for(e, drawn)}
        if known or finding.id in there:
            return known
        got = {n: e for n in in_time if isinstance(e := self._entries[n], ToGet) and _matters(e)}
        near = {n for n, entry in got.items() if self._touches(entry, drawn)}
        here = {n for n, entry in got.items() if step in entry.steps}
        return near or here or set(got)

    def _touches(self, entry: ToGet, drawn: Drawn) -> bool:
        """Whether the match or its advice speaks of that thing, or of a kind of it."""
        kin = {entry.what}
        if self._tools is not None and entry.sort == "tool":
            kin |= {*self._tools.below(entry.what), *self._tools.above(entry.what)}
        if not entry.values and kin.intersection(map(str, drawn.env.values())):
            return True
        names = {name for _, name, _ in entry.values} | ({"people", "works_alone"} if entry.sort == PEOPLE else set())
        for advice in drawn.conclusion.advice:
            cells = [(name, str(_value(operand, drawn))) for name, operand in advice.values]
            if any(value in kin or (name in names and advice.form == "set") for name, value in cells):
                return True
        return False

    def settle(self, practices: Iterable[OpenPractice], questions: Iterable[Question]) -> list[Answered]:
        """The open practices that are asked about, or whose unknown is to be got, in time."""
        named = {question.name: question for question in questions}
        found = []
        for practice in practices:
            place = self._places.get(practice.step or "")
            mine: set[int] = set()
            left = set(practice.asks)
            for number, entry in enumerate(self._entries):
                if place is not None and place < self._from[number]:
                    continue
                for name in practice.asks:
                    if name in named and _settles(entry, named[name]):
                        mine.add(number)
                        left -= set(practice.asks) if practice.rule in named[name].settles else {name}
                if _unknowns(practice) and _unknowns(practice) <= _keys(entry):
                    mine.add(number)
                    left.clear()
            if mine and not left:
                found.append(Answered(None, practice, tuple(self._points[n] for n in sorted(mine))))
        return found


def without_answered(
    account: list[RulesOfStep], answered: list[Answered], findings: list[Finding]
) -> list[RulesOfStep]:
    """The account of each step, what is answered there on its own: it neither speaks nor is open any more."""
    if not answered:
        return account
    speaking = {(f.rule, f.step) for f in findings}
    rests: dict[str, set[str]] = {}
    for one in answered:
        if one.about.step and (one.about.rule, one.about.step) not in speaking:
            rests.setdefault(one.about.step, set()).add(one.about.rule)
    found = []
    for step in account:
        own = rests.get(step.step, set())
        speaks, left = (tuple(r for r in rules if r not in own) for rules in (step.speaks, step.open))
        found.append(replace(step, speaks=speaks, open=left, answered=tuple(sorted(own))))
    return found


def _unknowns(practice: OpenPractice) -> set[tuple[str, str, str]]:
    return set(practice.unknown) if not practice.missing else set()


def _keys(entry: ToGet | ToFindOut) -> set[tuple[str, str, str]]:
    if isinstance(entry, ToFindOut):
        return {(entry.sort, entry.of, entry.attribute)}
    own = [(sort, entry.what, name) for sort, name, _ in entry.values if sort == entry.sort]
    return {*own, *((sort, step, name) for sort, name, _ in entry.values if sort == "step" for step in entry.steps)}


def _settles(entry: ToGet | ToFindOut, question: Question) -> bool:
    if not isinstance(entry, ToFindOut):
        return False
    same = (entry.sort, entry.of, entry.attribute) == (question.sort, question.id, question.attribute)
    return (bool(entry.attribute) and same) or entry.ask == question.ask


def _asks_for(entry: ToFindOut, drawn: Drawn) -> bool:
    """Whether the advice is to know just that."""
    if (entry.sort, entry.of, entry.attribute) in wants_to_know(drawn):
        return True
    for advice in drawn.conclusion.advice:
        if advice.form != "set":
            continue
        cells = dict(advice.values)
        sort = next((s for s in _NAMED if s in cells), "")
        if sort == entry.sort and entry.attribute in cells and str(_value(cells[sort], drawn)) == entry.of:
            return True
    return False


def wants_to_know(drawn: Drawn) -> list[tuple[str, str, str]]:
    """What a hold point without other advice asks for, as it speaks because that is unknown: sort, id, attribute."""
    conclusion = drawn.conclusion
    if conclusion.kind != "require" or conclusion.advice or conclusion.goals or conclusion.never:
        return []
    found = []
    variant: Variant = drawn.why.variant  # type: ignore[assignment]
    for pattern in variant.patterns:
        names = [t.values[0] for t in pattern.tests if t.attribute == "id" and t.op == "bind"]
        own = str(_value(names[0], drawn)) if names else pattern.kind
        found += [
            (pattern.kind, own, t.attribute) for t in pattern.tests if t.op == "unknown" and pattern.kind in SORTS
        ]
    return found


def _matters(entry: ToGet) -> bool:
    """Whether anything is otherwise once it is there: a product is in the plan already."""
    return entry.sort in ("tool", PEOPLE) or bool(entry.values)


def _value(operand: object, drawn: Drawn) -> object:
    if isinstance(operand, Var) and operand.name not in drawn.env:
        return ""
    return value_of(operand, drawn.env)  # type: ignore[arg-type]

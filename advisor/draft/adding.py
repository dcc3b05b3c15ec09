"""What further sentences add to a plan that is there: changes of its text that leave every other byte alone."""

from __future__ import annotations

from advisor.draft.board import Board, Fact, Thing
from advisor.draft.draft import Draft, draft
from advisor.draft.writing import SECTIONS
from advisor.plan import read_plan
from advisor.plan.editing import Content, PlanText
from advisor.plan.model import Plan, Value
from advisor.rulebase.base import RuleBase

_ALONE = ("house", "code", "crew", "budget")
Known = dict[int, dict[str, str | list[str]]]


def add(plan_text: str, name: str, words: str, rulebase: RuleBase) -> tuple[str, Draft]:
    """The plan's text with what the words add, read again, and the draft of the words; InputError for a bad plan."""
    plan = read_plan(plan_text, rulebase.vocabulary, name)
    board = board_of(plan, rulebase)
    known: Known = {
        id(t): {n: list(f.value) if isinstance(f.value, list) else f.value for n, f in t.facts.items()}
        for listed in board.things.values() for t in listed
    }  # fmt: skip
    heard = draft(words, rulebase, board)
    document = PlanText(plan_text)
    for sort in _ALONE:
        for thing in board.things[sort]:
            _change(document, thing, [sort], known, rulebase)
    for sort, section in SECTIONS.items():
        for thing in board.things[sort]:
            if id(thing) in known:
                _change(document, thing, [section, thing.id], known, rulebase)
            else:
                document.add_entry(section, thing.id, _cells(thing))
    _steps(document, plan, board, known, rulebase)
    read_plan(document.text, rulebase.vocabulary, name)
    return document.text, heard


def board_of(plan: Plan, rulebase: RuleBase) -> Board:
    """The things of a plan as if they had been heard, each to be spoken of by its kind or its name."""
    board = Board(rulebase.vocabulary)
    for sort, entities in plan.entities.items():
        listed = {step.id: step for step in plan.steps} if sort == "step" else entities
        for own, entity in listed.items():
            if sort in _ALONE and not entity.values:
                continue
            thing = Thing(sort, own, words=own.replace("-", " ").replace("_", " "), called=True)
            thing.facts = {name: Fact(_as_heard(value), [(0, 0)]) for name, value in entity.values.items()}
            if str(thing.facts["stays"].value if "stays" in thing.facts else "") == "no" or own.startswith("old"):
                thing.age = "old"
            board.things[sort].append(thing)
    rooms = board.things["room"]
    board.room = rooms[0] if len(rooms) == 1 else None
    return board


def _as_heard(value: Value) -> str | list[str]:
    if isinstance(value.plain, tuple):
        if value.plain and isinstance(value.plain[0], tuple):
            return "{" + value.text + "}"
        if all(isinstance(one, str) for one in value.plain):
            return [str(one) for one in value.plain]
        return value.text.split(", ")
    return str(value.plain) if isinstance(value.plain, str | int) and not isinstance(value.plain, bool) else value.text


def _cells(thing: Thing) -> dict[str, Content]:
    order = ["kind", "room", "do", "to", "using", "with", "in"]
    names = sorted(thing.facts, key=lambda n: (order.index(n) if n in order else len(order), n))
    return {name: _content(thing.facts[name].value) for name in names}


def _content(value: str | list[str]) -> Content:
    return value[0] if isinstance(value, list) and len(value) == 1 else value


def _change(document: PlanText, thing: Thing, path: list[str], known: Known, rulebase: RuleBase) -> None:
    before = known.get(id(thing), {})
    for name in sorted(thing.facts):
        value, old = thing.facts[name].value, before.get(name)
        if value == old:
            continue
        if isinstance(value, list) and isinstance(old, list):
            more = [one for one in value if one not in old]
            if more:
                document.add_to([*path, _written_name(document, path, name, rulebase, thing.sort)], more)
        elif old is None:
            document.set([*path, name], _content(value))


def _written_name(document: PlanText, path: list[str], name: str, rulebase: RuleBase, sort: str) -> str:
    """The key under which the plan's author says the attribute: it may be another name of it."""
    node = document._find(path)
    for key, _ in node.value if node is not None else ():
        attribute = rulebase.vocabulary.attribute(sort, key.value)
        if attribute is not None and attribute.name == name:
            return str(key.value)
    return name


def _steps(document: PlanText, plan: Plan, board: Board, known: Known, rulebase: RuleBase) -> None:
    """Changed steps first, then new ones, each behind the one that it follows."""
    lines = {step.id: n for n, step in enumerate(sorted(plan.entities["step"].values(), key=lambda s: (s.line, s.id)))}
    order = {step.id: lines[step.id] for step in plan.steps}
    for step in board.steps:
        if id(step) in known:
            _change(document, step, ["steps", f"#{order[step.id]}"], known, rulebase)
    place: list[str] = [own for own, _ in sorted(order.items(), key=lambda o: o[1])]
    previous = ""
    for step in board.steps:
        if id(step) not in known:
            cells = {"id": step.id, **_cells(step)}
            if previous:
                number = place.index(previous)
                document.add_step(cells, "after", previous, number)
                place.insert(number + 1, step.id)
            else:
                document.add_step(cells, "before", place[0], 0)
                place.insert(0, step.id)
        previous = step.id

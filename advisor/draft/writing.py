"""The plan of a draft: as a mapping for the reader, as YAML with its doubts as comments, as JSON."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from advisor.draft.board import Board, Fact, Thing, Unsure
from advisor.plan.editing import written

if TYPE_CHECKING:
    from advisor.draft.draft import Draft

SECTIONS = {"room": "rooms", "part": "parts", "product": "products"}
_WIDTH = 118


def plan_mapping(board: Board) -> dict[str, Any]:
    """The plan as Python's own mappings, in the order of sections of a plan."""
    plan: dict[str, Any] = {}
    for sort in ("house", "code"):
        for thing in board.things.get(sort, []):
            plan[sort] = _cells(thing)
    for sort, section in SECTIONS.items():
        if board.things[sort]:
            plan[section] = {thing.id: _cells(thing) for thing in board.things[sort]}
    for thing in board.things["crew"]:
        plan["crew"] = _cells(thing)
    if board.steps:
        plan["steps"] = [{"id": step.id, **_cells(step)} for step in board.steps]
    for thing in board.things["budget"]:
        plan["budget"] = _cells(thing)
    return plan


def _cells(thing: Thing) -> dict[str, Any]:
    order = ["kind", "room", "do", "to", "using", "with", "in"]
    names = sorted(thing.facts, key=lambda n: (order.index(n) if n in order else len(order), n))
    return {name: _value(thing.facts[name]) for name in names}


def _value(fact: Fact) -> Any:
    if isinstance(fact.value, list):
        return list(fact.value)
    if fact.value.startswith("{"):
        pairs = (part.split(": ", 1) for part in fact.value.strip("{}").split(", "))
        return {pair[0]: pair[1] for pair in pairs if len(pair) == 2}
    return fact.value


def as_yaml(draft: Draft) -> str:
    """The plan as a file: what is hedged or inferred, unsure or not understood stands beside it as comments."""
    board, lines = draft.board, ["# A draft of what was said. Read it through before you review it."]
    lines += [f"# {line}" for line in unchecked(draft)]
    for sort in ("house", "code"):
        lines += [f"{sort}: {_flow(thing)}{_notes(draft, thing)}" for thing in board.things.get(sort, [])]
    for sort, section in SECTIONS.items():
        if board.things[sort]:
            lines.append(f"{section}:")
            lines += [f"  {written(thing.id)}: {_flow(thing)}{_notes(draft, thing)}" for thing in board.things[sort]]
    lines += [f"crew: {_flow(thing)}{_notes(draft, thing)}" for thing in board.things["crew"]]
    if board.steps:
        lines.append("steps:")
        lines += [f"  - {_flow(step, own=step.id)}{_notes(draft, step)}" for step in board.steps]
    lines += [f"budget: {_flow(thing)}{_notes(draft, thing)}" for thing in board.things["budget"]]
    lines += [f"# {line}" for line in doubts(draft)]
    return "\n".join(lines) + "\n"


def unchecked(draft: Draft) -> list[str]:
    """A line for each step of which it is not known what it is done to: its practices wait for that."""
    return [
        f"Step {own}: it is not known to what. What hangs on that is not checked before you say it."
        for own in draft.board.unchecked
    ]


def _flow(thing: Thing, own: str = "") -> str:
    cells = {**({"id": own} if own else {}), **_cells(thing)}
    return "{" + ", ".join(f"{name}: {_text(value)}" for name, value in cells.items()) + "}"


def _text(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{written(k)}: {written(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list) and len(value) == 1:
        return written(value[0])
    return written(value)


def _notes(draft: Draft, thing: Thing) -> str:
    """Behind a line: which of its values were said loosely, or follow from other words."""
    found = []
    for name, fact in thing.facts.items():
        if fact.note == "hedged":
            found.append(f"{name}: unsure, from '{_clean(draft.words(fact.spans[0]))}'")
        elif fact.note == "inferred":
            found.append(f"{name}: inferred")
        elif fact.value == "unknown":
            found.append(f"{name}: {fact.note}")
    return f"  # {'; '.join(found)}" if found else ""


def doubts(draft: Draft) -> list[str]:
    """What was unsure, left unknown or not understood, a line each."""
    lines = []
    for one in draft.unsure:
        lines.append(f"unsure: '{_clean(draft.words(one.span))}'{_ways(one)}")
    lines += [f"to be asked: {question}" for question in draft.questions]
    if draft.unheard:
        lines.append("not understood: " + ", ".join(f"'{_clean(draft.words(span))}'" for span in draft.unheard))
    return lines


def _ways(one: Unsure) -> str:
    ways = [f"({n}) {c.path()}: {c.value}" for n, c in enumerate(one.candidates, 1)]
    why = f" ({one.why})" if one.why else ""
    return why + (": " + " or ".join(ways) if ways else ": nothing was written")


def _clean(words: str) -> str:
    clear = "".join(c if c.isprintable() else " " for c in words)
    return clear if len(clear) <= _WIDTH else clear[: _WIDTH - 1] + "…"


def _unsure(draft: Draft, one: Unsure) -> dict[str, Any]:
    ways = [
        {"path": c.path(), "sort": c.sort, "thing": c.id, "attribute": c.attribute, "value": c.value}
        for c in one.candidates
    ]
    start, end = one.span
    return {"text": draft.text[start:end], "from": start, "to": end, "why": one.why, "candidates": ways}


def as_json(draft: Draft) -> str:
    """The draft for programs: the plan, and each piece of the text with its place in letters."""
    data = {
        "schema": 1,
        "plan": draft.plan,
        "heard": [{"text": h.text, "from": h.span[0], "to": h.span[1], "path": h.path} for h in draft.heard],
        "unsure": [_unsure(draft, one) for one in draft.unsure],
        "unheard": [{"text": draft.text[s[0] : s[1]], "from": s[0], "to": s[1]} for s in draft.unheard],
        "questions": draft.questions,
    }  # fmt: skip
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"

"""States of `rules/site/`: what can be so and change, what steps do to it, and which of two steps comes first.

`states.yaml` names the states (`states:`) and what brings, spoils or puts them back (`effects:`); `order.yaml` says
of pairs of steps which comes first where a plan does both; `rather.yaml` how far a step goes that has to move anyway.
All become rules of the pack `site`, so that conditions,
reasons and presumptions are those of all other rules; what they conclude is read by `advisor/site/`.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.document import Node, read_file
from advisor.errors import allowed, clip, did_you_mean
from advisor.rulebase.conditions import read_conditions
from advisor.rulebase.model import Conclusion, Goal, Rule, SourceRef, State, Var
from advisor.rulebase.scope import Scope

if TYPE_CHECKING:
    from advisor.rulebase.packs import Reading

PACK = "site"
MODES = ("brings", "spoils", "puts_back", "by_the_way", "starts", "works_on")
_GOAL = re.compile(r"^\s*([a-z][a-z ]*?)(?:\s+of\s+\$(\w+))?\s*$")
_STATE_KEYS = {"of", "values", "meaning", "settles", "left"}
_EFFECT_KEYS = {"id", "title", "when", "at", "only_if", "after", *MODES}
_ORDER_KEYS = {"id", "title", "when", "same", "part", "first", "then", "because", "each", "waits", "at", "state", "not"}
_RATHER_KEYS = {"id", "title", "when", "same", "part", "first", "then", "because"}
_LISTS = (
    ("states.yaml", "effects", _EFFECT_KEYS),
    ("order.yaml", "order", _ORDER_KEYS),
    ("rather.yaml", "rather", _RATHER_KEYS),
)
_SAME = {"part": ("to", "$part"), "room": ("in", "$room"), "house": None}


def read_states(folder: Path, reading: Reading) -> None:
    """Declare the states of a `site` folder, before the packs that need them."""
    path = folder / "states.yaml"
    if not path.is_file():
        return
    reading.titles[PACK] = "Site"
    listed = read_file(path).get("states")
    for name, (key, spec) in (listed.pairs if listed else {}).items():
        for extra in sorted(set(spec.pairs) - _STATE_KEYS):
            hint = allowed(extra, sorted(_STATE_KEYS))
            reading.problems.append(key.problem(f"state '{clip(name)}' has an unknown key '{clip(extra)}'.{hint}"))
        of, values, meaning, settles, left = (spec.get(w) for w in ("of", "values", "meaning", "settles", "left"))
        if values is None or len(values.items) < 2 or meaning is None:
            reading.problems.append(key.problem(f"state '{clip(name)}' needs a meaning and two values or more."))
            continue
        reading.states[name] = State(
            name,
            of.text if of else "",
            tuple(node.text for node in values.items),
            settles is not None and settles.text == "yes",
            tuple(node.text for node in left.items) if left is not None else (),
            meaning.text,
        )


def make_state_rules(folder: Path, reading: Reading) -> None:
    """The rules of `states.yaml`, `order.yaml` and `rather.yaml`; they may read kinds that packs declare."""
    for file, word, keys in _LISTS:
        path = folder / file
        listed = read_file(path).get(word) if path.is_file() else None
        for node in listed.items if listed else []:
            _read_rule(node, word, keys, reading)


def read_goals(node: Node | None, scope: Scope) -> tuple[Goal, ...]:
    """`{power of $part: [switched off, dead]}` as goals, sorted as they stand."""
    if node is None:
        return ()
    if node.kind != "mapping":
        scope.say(node, "expected states, such as '{power of $part: dead}'.")
        return ()
    found = []
    for text, (key, value) in node.pairs.items():
        read = _GOAL.match(text)
        state = scope.states.get(read.group(1)) if read else None
        if read is None or state is None:
            near = did_you_mean(read.group(1) if read else text, scope.states)
            scope.say(key, f"'{clip(text)}' is no state. Expected one of rules/site/states.yaml.{near}")
            continue
        of = None
        if state.of:
            if read.group(2) is None:
                scope.say(key, f"'{state.name}' is a state of a {state.of}. Expected '{state.name} of $…'.")
                continue
            of = scope.variable(key, f"${read.group(2)}", f"ref:{state.of}")
        elif read.group(2) is not None:
            scope.say(key, f"'{state.name}' is a state of the house. Expected '{state.name}' alone.")
        values = tuple(n.text for n in (value.items if value.kind == "sequence" else [value]))
        for one in sorted(set(values) - set(state.values)):
            expected = ", ".join(state.values)
            scope.say(value, f"'{clip(one)}' is no value of '{state.name}'. Expected one of: {expected}.")
        found.append(Goal(state.name, of, values))
    return tuple(found)


def _read_rule(node: Node, word: str, keys: set[str], reading: Reading) -> None:
    name, title = node.get("id"), node.get("title")
    scope = Scope(
        name.text if name else "?", reading.vocabulary, reading.kinds, reading.problems, states=reading.states
    )
    for key, (at, _) in node.pairs.items():
        if key not in keys:
            scope.say(at, f"unknown key '{clip(key)}'.{allowed(key, sorted(keys))}")
    same = node.get("same")
    if same is not None and same.text not in _SAME:
        scope.say(same, f"'same' is '{clip(same.text)}'. Expected one of: {', '.join(_SAME)}.")
        return
    conditions = read_conditions(node.get("when") if same is None else _pair(node, same.text), scope)
    if name is None or not conditions:
        scope.say(node, "needs 'id' and 'when'.")
        return
    if name.text in reading.rules:
        scope.say(node, "stands twice.")
        return
    conclusions = _effects(node, scope) if word == "effects" else _orders(node, word, scope)
    reading.rules[name.text] = Rule(
        name.text, title.text if title else name.text.replace("-", " ").capitalize(), PACK, conditions, conclusions,
        (SourceRef("", ""),), "", (), node.file, node.line, dict(scope.types),
    )  # fmt: skip


def _effects(node: Node, scope: Scope) -> tuple[Conclusion, ...]:
    at = node.get("at")
    step = Var("step") if at is None else Var(at.text[1:])
    after = read_goals(node.get("after"), scope)
    only_if = (*read_goals(node.get("only_if"), scope), *after)
    found = []
    for mode in MODES:
        goals = read_goals(node.get(mode), scope)
        if not goals:
            continue
        if mode != "starts":
            scope.variable(node, f"${step.name}", "ref:step")
        if any(len(goal.values) != 1 for goal in goals):
            scope.say(node, f"'{mode}' names one value of each state.")
        found.append(
            Conclusion(
                "effect",
                node.line,
                step=None if mode == "starts" else step,
                goals=goals,
                only_if=only_if,
                after=len(after),
                mode=mode,
            )
        )
    if not found:
        scope.say(node, f"does nothing. Expected one of: {', '.join(MODES)}.")
    return tuple(found)


def _orders(node: Node, word: str, scope: Scope) -> tuple[Conclusion, ...]:
    because, each, waits = node.get("because"), node.get("each"), node.get("waits")
    first, then = (n if (n := node.get(w)) is not None and n.kind == "scalar" else None for w in ("first", "then"))
    if because is None:
        scope.say(node, "needs 'because'.")
        return ()
    at, goals, never = node.get("at"), read_goals(node.get("state"), scope), read_goals(node.get("not"), scope)
    if at is not None:
        if not goals and not never:
            scope.say(node, "needs 'state' or 'not' beside 'at'.")
        return (
            Conclusion(
                "order", node.line, step=scope.variable(at, at.text, "ref:step"), because=because.text, goals=goals,
                never=never, mode="state",
            ),
        )  # fmt: skip
    one, other = (n.text if n else f"${w}" for n, w in ((first, "first"), (then, "then")))
    mode = "rather" if word == "rather" else "all" if each is not None and each.text == "yes" else "one"
    return (
        Conclusion(
            "order", node.line, step=scope.variable(node, other, "ref:step"),
            first=scope.variable(node, one, "ref:step"), because=because.text, mode=mode,
            waits=waits is not None and waits.text == "yes",
        ),
    )  # fmt: skip


def _pair(node: Node, same: str) -> Node:
    """The short form: two steps at one part, in one room or anywhere in the house, as conditions."""
    shared = _SAME[same]
    found: list[Node] = []
    part = node.get("part")
    if part is not None:
        found.append(node.mapping({"part": (part, node.mapping({"id": node.pair("$part"), **part.pairs}))}))
    for word in ("first", "then"):
        step = node.get(word)
        cells = {"id": node.pair(f"${word}"), **({shared[0]: node.pair(shared[1])} if shared else {})}
        found.append(node.mapping({"step": (node, node.mapping({**cells, **(step.pairs if step else {})}))}))
    found += getattr(node.get("when"), "items", [])
    return Node(node.file, node.line, node.column, "sequence", items=found)

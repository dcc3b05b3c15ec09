"""Reading what a rule works out: calculators and published tables."""

from __future__ import annotations

from advisor.document import Node
from advisor.errors import allowed, clip, did_you_mean
from advisor.rulebase.model import Compute, Condition, Lookup, Operand
from advisor.rulebase.scope import Scope


def read_compute(name: str, key: Node, spec: Node, scope: Scope) -> Condition | None:
    """`$result: {calculator: {input: value}}`; None (and a mistake recorded) where there is no such calculator."""
    from advisor.calculators import find, load_all

    pick = spec.get("pick")
    calls = [(word, pair) for word, pair in spec.pairs.items() if word != "pick"]
    if spec.kind != "mapping" or len(calls) != 1:
        scope.say(key, "expected 'compute: {$result: {calculator: {input: value}}}'.")
        return None
    word, (at, inputs) = calls[0]
    try:
        calculator = find(word)
    except KeyError:
        scope.say(at, f"unknown calculator '{clip(word)}'.{did_you_mean(word, load_all())}")
        return None
    arguments = _read_arguments(calculator, at, inputs, scope)
    dimension = calculator.dimension
    if pick and pick.get("dimension"):
        dimension = pick.pairs["dimension"][1].text
    part = ""
    if pick:
        named = pick if pick.kind == "scalar" else pick.get("part")
        part = named.text if named else ""
        if not part:
            scope.say(pick, "'pick' expects the name of a part of the result, or '{part: name, dimension: d}'.")
    return Compute(scope.bind(key, name, dimension), word, arguments, part, dimension)


def _read_arguments(calculator: object, at: Node, inputs: Node, scope: Scope) -> tuple[tuple[str, Operand], ...]:
    from advisor.calculators._base import OutOfRange, check

    found: list[tuple[str, Operand]] = []
    known = {}
    for one in calculator.inputs:  # type: ignore[attr-defined]
        plain = one.name.rstrip("_")
        known[plain] = (
            one.name,
            ("list:" if one.many and one.dimension != "profile" else "") + (one.dimension or "text"),
        )
        if one.column:
            known[one.column.key] = (one.column.key, "text")
    for name, (key, node) in inputs.pairs.items():
        if name not in known:
            scope.say(key, f"'{calculator.name}' has no input '{clip(name)}'.{allowed(name, known)}")  # type: ignore[attr-defined]
            continue
        target, wanted = known[name]
        if wanted.startswith("list:"):
            found.append((target, scope.variable(node, node.text, wanted)))
        else:
            value = scope.operand(node, wanted)
            one = next((i for i in calculator.inputs if i.name == target), None)  # type: ignore[attr-defined]
            if one is not None and isinstance(value, int | float):
                try:
                    check(one, float(value))
                except OutOfRange as error:
                    scope.say(node, f"{error}.")
            found.append((target, value))
    given = {name for name, _ in found}
    for one in calculator.inputs:  # type: ignore[attr-defined]
        if one.required and one.name not in given and not (one.column and one.column.key in given):
            scope.say(at, f"'{calculator.name}' needs the input '{one.name.rstrip('_')}'.")  # type: ignore[attr-defined]
    return tuple(found)


def read_lookup(body: Node, scope: Scope) -> list[Condition]:
    """`table: {row: $key, column: $variable}`, one condition a table."""
    from advisor.tables import table

    found: list[Condition] = []
    for word, (key, spec) in body.pairs.items():
        try:
            known = table(word)
        except KeyError:
            scope.say(key, f"unknown table '{clip(word)}'.")
            continue
        row = spec.get("row")
        if row is None:
            scope.say(key, "expected 'lookup: {table: {row: $key, column: $variable}}'.")
            continue
        binds = []
        for column, (at, node) in spec.pairs.items():
            if column == "row":
                continue
            if column not in known.columns:
                scope.say(at, f"table '{word}' has no column '{clip(column)}'.{allowed(column, known.columns)}")
                continue
            binds.append((scope.bind(node, node.text, known.columns[column]), column))
        found.append(Lookup(word, scope.operand(row, "text"), tuple(binds)))
    return found

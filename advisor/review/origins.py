"""Where the inputs of a number came from: a line of the plan, a presumption, a row of a table, another number."""

from __future__ import annotations

from advisor.engine.memory import Derivation, Record
from advisor.engine.run import Drawn
from advisor.plan.model import Plan
from advisor.rulebase.model import Collect, Compute, Lookup, Operand, Var
from advisor.rulebase.split import Variant

_DEEP = 6  # facts in a row that are followed
Origins = dict[str, tuple[tuple[str, str], ...]]


def origins(drawn: Drawn, plan: Plan) -> Origins:
    """For each computed variable of a match, its inputs by name with where each came from."""
    variant: Variant = drawn.why.variant  # type: ignore[assignment]
    found: Origins = {}
    for guard in variant.guards:
        if isinstance(guard, Compute):
            found[guard.var] = tuple(
                (name.rstrip("_").replace("_", " "), _of(operand, drawn.why, plan, 0))
                for name, operand in guard.arguments
            )
    return found


def _of(operand: Operand, why: Derivation, plan: Plan, depth: int) -> str:
    """Where a value of a match came from, in words."""
    if not isinstance(operand, Var):
        return "the rule"
    variant: Variant = why.variant  # type: ignore[assignment]
    for pattern, record in why.support:
        for test in pattern.tests:
            if operand in test.values and test.op in ("bind", "is"):
                return _of_fact(record, test.attribute, plan, depth)
    for guard in variant.guards:
        if isinstance(guard, Compute) and guard.var == operand.name:
            return f"worked out ({guard.calculator.replace('_', ' ')})"
        if isinstance(guard, Lookup) and operand.name in dict(guard.binds):
            key = why.env.get(guard.key.name) if isinstance(guard.key, Var) else guard.key
            return (
                f"table {guard.table.replace('_', ' ')}, row {key}, {dict(guard.binds)[operand.name].replace('_', ' ')}"
            )
        if isinstance(guard, Collect) and guard.var == operand.name:
            lines = sorted({record.line for record in why.collected if record.line})
            where = f" of lines {', '.join(map(str, lines))}" if lines else ""
            return (
                f"{guard.how} of {guard.attribute.replace('_', ' ')}{where}"
                if guard.attribute
                else f"{guard.how}{where}"
            )
    return "the rule"


def _of_fact(record: Record, attribute: str, plan: Plan, depth: int) -> str:
    if record.derivations and depth < _DEEP:
        derived = record.derivations[0]
        variant: Variant = derived.variant  # type: ignore[assignment]
        for conclusion in variant.rule.conclusions:
            if conclusion.kind == "deduce" and conclusion.deduced == record.kind:
                values = dict(conclusion.values)
                if attribute in values:
                    return _of(values[attribute], derived, plan, depth + 1)
        return f"worked out by rule {variant.rule.id}"
    own = str(record.values.get("id", record.kind))
    word = attribute.replace("_", " ")
    whose = word if own == record.kind else f"{word} of {own}"
    if attribute in record.presumed:
        return f"presumed: {whose}"
    if record.advised:
        return f"{whose}, as advised here"
    entity = plan.entities.get(record.kind, {}).get(own) or next((s for s in plan.steps if s.id == own), None)
    value = entity.values.get(attribute) if entity is not None else None
    line = value.line if value is not None else record.line
    return f"line {line}: {whose}" if line else whose

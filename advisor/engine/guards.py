"""What is worked out when the joined part of a rule fires: times, absences, calculators, tables, collections."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from msgspec import Struct, field

from advisor.calculators import OutOfRange, Result, find
from advisor.engine.memory import Env, Memory, Record, compare
from advisor.plain import Plain
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import (
    AnyOf,
    Collect,
    Compute,
    Condition,
    Given,
    Lookup,
    Not,
    Operand,
    Pattern,
    Var,
)
from advisor.rulebase.split import Guard, Later
from advisor.tables import table

CALCULATION = 20  # what a calculator counts, in facts looked at


class PartialMatch(Struct):
    """The match so far: variables, matched facts, calculators' results, facts collected."""

    env: Env
    support: tuple[tuple[Pattern, Record], ...] = ()
    results: tuple[tuple[str, Result], ...] = ()
    collected: tuple[Record, ...] = ()


class Failure(Struct):
    """A calculator that could not work something out, and why."""

    rule: str
    message: str
    env: Env = field(default_factory=dict)


def value_of(operand: Operand, env: Env) -> Plain:
    """The operand's value under the bindings."""
    return env[operand.name] if isinstance(operand, Var) else operand


def solve(
    guards: Sequence[Guard | Condition], state: PartialMatch, memory: Memory, failures: list[Failure], rule: str
) -> Iterator[PartialMatch]:
    """Every way to satisfy the guards, in order."""
    for place, guard in enumerate(guards):
        if type(guard) not in _ASKS:
            for grown in _step(guard, state, memory, failures, rule):
                yield from solve(guards[place + 1 :], grown, memory, failures, rule)
            return
        memory.count(1)
        if not _holds(guard, state.env, memory, rule):
            return
    yield state


_ASKS = {Not, Later, Given}  # they bind nothing: they hold or not


def _holds(guard: Guard | Condition, env: Env, memory: Memory, rule: str) -> bool:
    if isinstance(guard, Not):
        inside = guard.inside
        if len(inside) == 1 and type(inside[0]) is Pattern:
            memory.count(1)
            return next(memory.match(inside[0], env), None) is None
        return next(solve(inside, PartialMatch(env), memory, [], rule), None) is None
    if isinstance(guard, Later):
        own, other = memory.places.get(env[guard.step], 0.0), memory.places.get(env[guard.than], 0.0)
        return own < other if guard.earlier else own > other
    return isinstance(guard, Given) and given(guard, env, memory)


def _step(
    guard: Guard | Condition, state: PartialMatch, memory: Memory, failures: list[Failure], rule: str
) -> Iterator[PartialMatch]:
    env = state.env
    memory.count(CALCULATION if isinstance(guard, Compute) else 1)
    if isinstance(guard, Pattern):
        for found, record in memory.match(guard, env):
            yield PartialMatch(found, (*state.support, (guard, record)), state.results, state.collected)
    elif isinstance(guard, Compute):
        yield from _compute(guard, state, memory, failures, rule)
    elif isinstance(guard, Lookup):
        yield from _lookup(guard, state)
    elif isinstance(guard, Collect):
        yield from _collect(guard, state, memory)
    elif isinstance(guard, AnyOf):  # only inside a `not`; elsewhere it became variants
        for branch in guard.branches:
            yield from solve(branch, state, memory, failures, rule)


def given(guard: Given, env: Env, memory: Memory) -> bool:
    """Whether the comparison holds for the values bound."""
    left, right = value_of(guard.left, env), [value_of(v, env) for v in guard.right]
    if guard.op == "is_a":
        known = memory.taxonomies.get(guard.of)
        return known is not None and left in known.below(str(right[0]))
    return compare(guard.op, left, right)


_MOST_KEPT = 10_000


@lru_cache(maxsize=4)
def workings(rulebase: RuleBase) -> dict[object, object]:
    """What calculators made of which figures, for all runs over a rule base, as it stands for its tables too."""
    return {}


def _compute(
    guard: Compute, state: PartialMatch, memory: Memory, failures: list[Failure], rule: str
) -> Iterator[PartialMatch]:
    """The result; the same figures are worked out once, and what is wrong with them is told each time."""
    arguments = [(name, value_of(operand, state.env)) for name, operand in guard.arguments]
    # A count of 2 is not shown as a measure of 2.0 is.
    key = (guard.calculator, guard.pick, tuple(arguments), tuple([type(value) for _, value in arguments]))
    result = memory.worked.get(key)
    if result is None:
        if len(memory.worked) >= _MOST_KEPT:
            memory.worked.clear()
        result = memory.worked[key] = _worked(guard, arguments)
    if not isinstance(result, Result):
        failures.append(Failure(rule, str(result), state.env))
        return
    value = result.value
    if guard.var in state.env and not compare("is", state.env[guard.var], [value]):
        return
    yield PartialMatch(
        {**state.env, guard.var: value}, state.support, (*state.results, (guard.var, result)), state.collected
    )


def _worked(guard: Compute, arguments: Sequence[tuple[str, Plain]]) -> Result | str:
    """What the calculator gives, or why it gives nothing."""
    calculator = find(guard.calculator)
    inputs: dict[str, object] = {}
    names = {i.name for i in calculator.inputs}
    for name, value in arguments:
        if name in names:
            inputs[name] = value
            continue
        # A key such as `solvent`: every input that the table has a column for comes from its row.
        for one in calculator.inputs:
            if one.column and one.column.key == name and one.name not in inputs:
                row = table(one.column.table).row(str(value))
                if row is not None and one.column.column in row.cells:
                    inputs[one.name] = row.cells[one.column.column]
                elif one.required:
                    return f"no published value for '{value}' was found"
    try:
        result = calculator.function(**inputs)
    except OutOfRange as error:
        return str(error)
    except (ValueError, ArithmeticError) as error:
        return f"could not be worked out ({error})"
    if guard.pick:
        try:
            part = result.part(guard.pick)
        except KeyError:
            return f"'{guard.calculator}' gives no '{guard.pick}'"
        words = part.formula or f"{part.name.replace('_', ' ')} in {result.in_words}"
        return Result(part.value, part.dimension, words, result.inputs, (), result.sources)
    return result


def _lookup(guard: Lookup, state: PartialMatch) -> Iterator[PartialMatch]:
    row = table(guard.table).row(str(value_of(guard.key, state.env)))
    if row is None:
        return
    env = dict(state.env)
    for var, column in guard.binds:
        if column not in row.cells:
            return
        cell = row.cells[column]
        if var in env and not compare("is", env[var], [cell]):
            return
        env[var] = cell
    yield PartialMatch(env, state.support, state.results, state.collected)


def _collect(guard: Collect, state: PartialMatch, memory: Memory) -> Iterator[PartialMatch]:
    """One value a thing: facts of one id count once, however many parts or products the step has."""
    seen: dict[tuple[Plain, ...], Record] = {}
    for _, record in memory.match(guard.pattern, state.env):
        value = record.values.get(guard.attribute)
        if value is None and guard.how != "count":
            continue
        own = record.values.get("id")
        key = (own, value or "") if own is not None else tuple(sorted(record.values.items(), key=str))
        seen.setdefault(key, record)
    records = sorted(seen.values(), key=lambda r: r.number)
    values = [r.values.get(guard.attribute, "") for r in records]
    if guard.how == "count":
        total: Plain = len({str(r.values.get("id", r.number)) for r in records})
    elif guard.how == "sum":
        total = float(sum(v for v in values if isinstance(v, int | float)))
    elif guard.how == "list":
        total = tuple(values)
    elif not values:
        return
    else:
        numbers = [v for v in values if isinstance(v, int | float)]
        total = max(numbers) if guard.how == "greatest" else min(numbers)
    if guard.var in state.env and not compare("is", state.env[guard.var], [total]):
        return
    env = {**state.env, guard.var: total}
    yield PartialMatch(env, state.support, state.results, (*state.collected, *records))

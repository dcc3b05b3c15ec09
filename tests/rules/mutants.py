"""Changes each rule in turn and asks whether a case of its own pack notices: `make mutants [PACKS=coatings]`.
With names of rules only those are changed.

A change drops a condition, negates one, moves a threshold by a tenth (a year or count by one), swaps the
signal word, or drops a conclusion. A mutant that no case notices survives; a file of `survivors/` (rule, mutant, why)
may explain it. Exit status 1 where a survivor is not explained.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from msgspec.structs import replace

sys.path.insert(0, str(Path(__file__).parent.parent))

import yaml
from rules.alone import Ran, comes_back
from rules.harness import HERE, OF_THE_ORDER, cases, packs_with_cases, run_case

from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.rulebase.model import (
    SIGNALS,
    AnyOf,
    Collect,
    Compute,
    Condition,
    Given,
    Lookup,
    Not,
    Pattern,
    Rule,
    Test,
    Var,
)
from advisor.rulebase.renewed import is_of_the_old
from advisor.rulebase.strata import reads, strata

_FLIP = {
    "is": "not_in",
    "in": "not_in",
    "not_in": "in",
    "above": "at_most",
    "at_most": "above",
    "below": "at_least",
    "at_least": "below",
    "unknown": "known",
    "known": "unknown",
}


def mutants(rule: Rule) -> Iterator[tuple[str, Rule]]:
    """Each change of the rule that still hangs together, with its name."""
    for index in range(len(rule.conditions)):
        kept = rule.conditions[:index] + rule.conditions[index + 1 :]
        if is_of_the_old(rule.conditions[index]):
            continue  # no rule has it written: `tests/rulebase/test_renewed.py`
        if kept and _sound(kept, rule):
            yield f"drop condition {index + 1}", replace(rule, conditions=kept)
    for index, condition in enumerate(rule.conditions):
        if is_of_the_old(condition):
            continue
        for name, changed in _changed(condition):
            conditions = (*rule.conditions[:index], changed, *rule.conditions[index + 1 :])
            if _sound(conditions, rule):
                yield f"condition {index + 1}: {name}", replace(rule, conditions=conditions)
    for index, conclusion in enumerate(rule.conclusions):
        rest = rule.conclusions[:index] + rule.conclusions[index + 1 :]
        yield f"drop conclusion {index + 1}", replace(rule, conclusions=rest)
        if conclusion.kind not in ("deduce", "effect", "order"):
            other = SIGNALS[(SIGNALS.index(conclusion.signal) + 1) % len(SIGNALS)]
            swapped = (
                *rule.conclusions[:index],
                replace(conclusion, signal=other),
                *rule.conclusions[index + 1 :],
            )
            yield f"signal {other} for {conclusion.signal}", replace(rule, conclusions=swapped)


def _changed(condition: Condition) -> Iterator[tuple[str, Condition]]:
    if isinstance(condition, Pattern):
        for at, test in enumerate(condition.tests):
            for name, changed in _changed_test(test):
                tests = condition.tests[:at] + ((changed,) if changed else ()) + condition.tests[at + 1 :]
                yield f"{condition.kind}.{test.attribute} {name}", replace(condition, tests=tests)
        if condition.earlier_than:
            yield (
                "later for earlier",
                replace(condition, earlier_than=None, later_than=condition.earlier_than),
            )
        if condition.later_than:
            yield "earlier for later", replace(condition, later_than=None, earlier_than=condition.later_than)
    elif isinstance(condition, Not):
        for at, inside in enumerate(condition.inside):
            for name, changed in _changed(inside):
                yield f"not: {name}", Not((*condition.inside[:at], changed, *condition.inside[at + 1 :]))
    elif isinstance(condition, AnyOf):
        for at in range(len(condition.branches)):
            yield f"drop branch {at + 1}", AnyOf(condition.branches[:at] + condition.branches[at + 1 :])
    elif isinstance(condition, Given):
        if condition.op in _FLIP:  # `is_a` has no word for its opposite; it is dropped like any other
            yield "negated", replace(condition, op=_FLIP[condition.op])
        for name, values in _moved(condition.op, condition.right):
            yield name, replace(condition, right=values)
    elif isinstance(condition, Collect):
        for name, changed in _changed(condition.pattern):
            yield f"collect: {name}", replace(condition, pattern=changed)


def _changed_test(test: Test) -> Iterator[tuple[str, Test | None]]:
    if test.op == "bind":
        return
    yield "dropped", None
    yield "negated", replace(test, op=_FLIP[test.op])
    for name, values in _moved(test.op, test.values):
        yield name, replace(test, values=values)


def _moved(op: str, values: tuple[Any, ...]) -> Iterator[tuple[str, tuple[Any, ...]]]:
    if op not in ("above", "at_least", "below", "at_most") or isinstance(values[0], Var | str | tuple):
        return
    value = values[0]
    for name, moved in (
        ("raised", value + 1 if isinstance(value, int) else value * 1.1),
        ("lowered", value - 1 if isinstance(value, int) else value * 0.9),
    ):
        if moved != value:
            yield f"threshold {name}", (moved,)


def _sound(conditions: tuple[Condition, ...], rule: Rule) -> bool:
    """Whether every variable that is used is still bound."""
    bound: set[str] = set()
    for condition in conditions:
        if not _uses(condition) <= bound | _binds(condition):
            return False
        bound |= _binds(condition)
    used: set[str] = set()
    for conclusion in rule.conclusions:
        used |= {v.name for v in (conclusion.step, conclusion.first, conclusion.duration) if isinstance(v, Var)}
        used |= {v.name for _, v in conclusion.values if isinstance(v, Var)} | set(conclusion.per or ())
    return used <= bound


def _binds(condition: Condition) -> set[str]:
    if isinstance(condition, Pattern):
        return {v.name for t in condition.tests if t.op == "bind" for v in t.values if isinstance(v, Var)}
    if isinstance(condition, Compute | Collect):
        return {condition.var}
    if isinstance(condition, Lookup):
        return {var for var, _ in condition.binds}
    if isinstance(condition, AnyOf):
        return set.intersection(*(set().union(*map(_binds, branch)) for branch in condition.branches))
    return set()


def _uses(condition: Condition) -> set[str]:
    if isinstance(condition, Pattern):
        times = {v.name for v in (condition.earlier_than, condition.later_than) if v}
        return times | {v.name for t in condition.tests if t.op != "bind" for v in t.values if isinstance(v, Var)}
    if isinstance(condition, Given):
        return {v.name for v in (condition.left, *condition.right) if isinstance(v, Var)}
    if isinstance(condition, Compute):
        return {v.name for _, v in condition.arguments if isinstance(v, Var)}
    if isinstance(condition, Lookup):
        return {condition.key.name} if isinstance(condition.key, Var) else set()
    if isinstance(condition, Not | AnyOf | Collect):
        return set()  # what they use from outside is checked by the reader; a mutant keeps it bound
    return set()


def needed(rulebase: RuleBase, pack: str) -> tuple[Rule, ...]:
    """The pack's rules and all that deduce what they read."""
    return _with_makers(rulebase, {r.id: r for r in rulebase.rules if r.pack == pack})


def needed_by(rulebase: RuleBase, ids: frozenset[str]) -> RuleBase:
    """The rule base with these rules alone, and all that deduce what they read."""
    rules = _with_makers(rulebase, {r.id: r for r in rulebase.rules if r.id in ids})
    return replace(rulebase, rules=rules, strata=strata(rules)[0])


def _with_makers(rulebase: RuleBase, wanted: dict[str, Rule]) -> tuple[Rule, ...]:
    makers: dict[str, list[Rule]] = {}
    for rule in rulebase.rules:
        for conclusion in rule.conclusions:
            if conclusion.kind == "deduce":
                makers.setdefault(conclusion.deduced, []).append(rule)
    # Needs hold or fail by what the site's rules say is done to states.
    effects = {r.id: r for r in rulebase.rules if any(c.kind == "effect" for c in r.conclusions)}
    found = wanted | effects
    queue = list(found.values())
    while queue:
        for kind, _ in reads(queue.pop()):
            for maker in makers.get(kind, []):
                if maker.id not in found:
                    found[maker.id] = maker
                    queue.append(maker)
    return tuple(sorted(found.values(), key=lambda r: r.id))


def survivors(
    pack: str, rulebase: RuleBase, only: frozenset[str] = frozenset(), folder: Path = HERE, whole: bool = False
) -> tuple[int, list[tuple[str, str]]]:
    """How many mutants the pack's rules have (or those `only`), and which of them no case notices.

    With `whole` each is run with all rules that it has to do with, which comes to the same and takes ten times as long.
    """
    base_rules = needed(rulebase, pack)
    base = replace(rulebase, rules=base_rules, strata=strata(base_rules)[0])
    of_order = [case for case in cases(pack, folder) if case.rules() & OF_THE_ORDER]
    ran = [Ran(case, base) for case in cases(pack, folder) if case not in of_order]
    broken = {one.case.name: one.wrong() for one in ran if one.wrong()}
    assert not broken, f"{pack}: cases that fail without any change: {broken}"
    count, found = 0, []
    for rule in (r for r in base_rules if r.pack == pack and (not only or r.id in only)):
        ran.sort(key=lambda one, rule=rule: (rule.id not in one.case.rules(), one.case.name))
        makes = any(c.kind == "deduce" for c in rule.conclusions)
        alone = not whole and not (makes and comes_back(rule, base_rules))
        ordered = [case for case in of_order if rule.id in case.rules()]
        for name, mutant in mutants(rule):
            count += 1
            rules = tuple(mutant if r.id == rule.id else r for r in base_rules)
            levels, problems = strata(rules) if makes or not alone else (base.strata, [])
            if problems:
                continue
            changed = replace(rulebase, rules=rules, strata=levels)
            if ordered:
                every = tuple(mutant if r.id == rule.id else r for r in rulebase.rules)
                noticed = any(run_case(case, replace(rulebase, rules=every)) for case in ordered)
            elif alone:
                noticed = any(one.notices(rule, mutant, changed) for one in ran)
            else:
                noticed = not all(one.holds_in(changed) for one in ran)
            if not noticed:
                found.append((rule.id, name))
                print(f"  survives: {rule.id}: {name}", flush=True)
    return count, found


@lru_cache(maxsize=1)
def explained() -> frozenset[tuple[str, str]]:
    """Mutants that no case can notice, each with its reason in `survivors/`."""
    listed = [
        one for file in sorted((HERE / "survivors").glob("*.yaml")) for one in yaml.safe_load(file.read_text()) or []
    ]
    return frozenset((one["rule"], one["mutant"]) for one in listed if one["why"])


def main(words: list[str]) -> int:
    """Run the named packs, or all; of them only rules that are named too, where some are."""
    rulebase = load_rulebase()
    rules = {rule.id: rule.pack for rule in rulebase.rules}
    only = frozenset(word for word in words if word in rules)
    packs = sorted({word for word in words if word not in rules} | {rules[word] for word in only})
    open_ones = 0
    for pack in packs or packs_with_cases():
        count, found = survivors(pack, rulebase, only)
        unexplained = [one for one in found if one not in explained()]
        open_ones += len(unexplained)
        print(f"{pack}: {count} mutants, {len(found)} survive, {len(unexplained)} without a reason", flush=True)
    return int(open_ones > 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

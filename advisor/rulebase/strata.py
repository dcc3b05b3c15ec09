"""In which order kinds of fact are complete: a rule that reads one through `not` or `collect` waits for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.errors import Problem, clip
from advisor.rulebase.model import AnyOf, Collect, Condition, Not, Pattern, Rule
from advisor.rulebase.split import Guard, variants

Reading = tuple[str, bool]  # kind, and whether it must be complete


def reads(rule: Rule) -> Iterator[Reading]:
    """The kinds that a rule reads; closed where they must be complete before it fires."""
    for variant in variants(rule):
        for pattern in variant.patterns:
            yield pattern.kind, False
        for pattern in variant.absent:
            yield pattern.kind, True
        for guard in variant.guards:
            for kind in guard_reads(guard):
                yield kind, True


def guard_reads(guard: Guard | Condition) -> Iterator[str]:
    """The kinds that a guard looks through."""
    if isinstance(guard, Pattern):
        yield guard.kind
    elif isinstance(guard, Collect):
        yield guard.pattern.kind
    elif isinstance(guard, Not):
        for inside in guard.inside:
            yield from guard_reads(inside)
    elif isinstance(guard, AnyOf):
        for branch in guard.branches:
            for inside in branch:
                yield from guard_reads(inside)


def strata(rules: Iterable[Rule]) -> tuple[dict[str, int], list[Problem]]:
    """The stratum of each rule (0 runs first), and a problem for each loop through `not`."""
    rules = list(rules)
    made_by: dict[str, list[Rule]] = {}
    for rule in rules:
        for conclusion in rule.conclusions:
            if conclusion.kind == "deduce":
                made_by.setdefault(conclusion.deduced, []).append(rule)
    kinds = dict.fromkeys(made_by, 0)
    level = {rule.id: 0 for rule in rules}
    needs = {rule.id: [(k, c) for k, c in reads(rule) if k in kinds] for rule in rules}
    # Levels only rise; more rounds than kinds can only mean a loop through `not`.
    for _ in range(len(kinds) + 2):
        changed = False
        for rule in rules:
            want = max((kinds[k] + closed for k, closed in needs[rule.id]), default=0)
            if want > level[rule.id]:
                level[rule.id], changed = want, True
            for conclusion in rule.conclusions:
                if conclusion.kind == "deduce" and kinds[conclusion.deduced] < level[rule.id]:
                    kinds[conclusion.deduced], changed = level[rule.id], True
        if not changed:
            return level, []
    return level, [_loop(rules, made_by)]


def _loop(rules: list[Rule], made_by: dict[str, list[Rule]]) -> Problem:
    """Name the members of a loop that has a `not` in it."""
    edges: dict[str, set[tuple[str, bool]]] = {}
    for rule in rules:
        for kind, closed in reads(rule):
            for maker in made_by.get(kind, []):
                edges.setdefault(rule.id, set()).add((maker.id, closed))
    for rule in rules:
        for name, closed in sorted(edges.get(rule.id, ())):
            if closed and (path := _path(edges, name, rule.id)):
                members = " <- ".join(map(clip, [rule.id, *path][:8]))
                text = f"rule '{clip(rule.id)}': a loop through 'not' or 'collect': {members}. Each awaits the other."
                return Problem(rule.file, rule.line, 0, text)
    raise AssertionError("levels rose without a loop")


def _path(edges: dict[str, set[tuple[str, bool]]], start: str, goal: str) -> list[str] | None:
    queue, seen = [[start]], {start}
    while queue:
        path = queue.pop(0)
        if path[-1] == goal:
            return path
        for maker, _ in sorted(edges.get(path[-1], ())):
            if maker not in seen:
                seen.add(maker)
                queue.append([*path, maker])
    return None

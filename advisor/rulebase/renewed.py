"""What was wrong with the old thing goes with it: no rule speaks of it once a new one is in its place.

A part of a plan is one thing from the first step to the last, also where a step puts a new one in. What the plan says
is wrong with it (`has: rot`) is so of the old one alone. `site/renewed.yaml` names the conditions, and the facts that
rules work out from them, that end so; every rule that reads one of them for a step gets the absence of an earlier step
that renewed the part (`renewed`, deduced by ordinary rules). Nothing is written for it in the rules themselves.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from advisor.document import Node, read_file
from advisor.errors import allowed, clip, did_you_mean
from advisor.rulebase.model import AnyOf, Condition, Given, Not, Pattern, Rule, Test, Var
from advisor.rulebase.packs import Reading

FILE = "renewed.yaml"
KIND = "renewed"  # a fact that a pack deduces: the step puts a new one in the place of the part
_KEYS = {"conditions", "facts"}
_MADE = "renewed by"  # a space keeps it apart from any written variable
_SPOKEN = ("warn", "require", "need", "refer")  # which step comes first (`precede`) is so of old and new alike


class Ends(Struct, frozen=True):
    """What ends with the old part: words of `has`, and facts; of these the words of an attribute that stay."""

    words: frozenset[str]
    facts: Mapping[str, tuple[str, tuple[str, ...]]]  # by kind: attribute and words; empty where all of it ends


def read_renewed(folder: Path, reading: Reading) -> Ends:
    """What a `site` folder says that ends; nothing where no rule deduces what is renewed."""
    path = folder / FILE
    if not path.is_file() or KIND not in reading.kinds:
        return Ends(frozenset(), {})
    root = read_file(path)
    for extra in sorted(set(root.pairs) - _KEYS):
        reading.problems.append(root.problem(f"unknown key '{clip(extra)}'.{allowed(extra, sorted(_KEYS))}"))
    listed, facts = root.get("conditions"), root.get("facts")
    words = _words(listed, "of", reading) - _words(listed, "but", reading)
    found: dict[str, tuple[str, tuple[str, ...]]] = {}
    for name, (key, spec) in (facts.pairs if facts else {}).items():
        if name not in reading.kinds or "part" not in reading.kinds[name].attributes:
            near = did_you_mean(name, reading.kinds)
            reading.problems.append(key.problem(f"'{clip(name)}' is no fact about a part.{near}"))
            continue
        stays = [(word, tuple(n.text for n in pair[1].items)) for word, pair in spec.pairs.items()]
        found[name] = stays[0] if stays else ("", ())
    return Ends(words, found)


def _words(spec: Node | None, key: str, reading: Reading) -> frozenset[str]:
    listed = spec.get(key) if spec is not None else None
    known = reading.vocabulary.taxonomies["condition"]
    found: set[str] = set()
    for node in listed.items if listed is not None else []:
        if node.text not in known.terms:
            problem = f"'{clip(node.text)}' is no condition of a part.{did_you_mean(node.text, known.terms)}"
            reading.problems.append(node.problem(problem))
        found |= known.below(node.text)
    return frozenset(found)


def of_the_old(rules: Iterable[Rule], ends: Ends) -> dict[str, Rule]:
    """The rules by id; those that read what ends are silent about a part that was renewed before their step."""
    if not ends.words and not ends.facts:
        return {rule.id: rule for rule in rules}
    return {rule.id: _of_the_old(rule, ends) for rule in rules}


def is_of_the_old(condition: Condition) -> bool:
    """Whether it is what this mechanism adds to a rule."""
    return isinstance(condition, Not) and any(isinstance(c, Pattern) and c.kind == KIND for c in condition.inside)


def _of_the_old(rule: Rule, ends: Ends) -> Rule:
    step = _step(rule)
    if step is None:
        return rule
    conditions = _added(rule.conditions, step, ends)
    if conditions == rule.conditions:
        return rule
    return replace(rule, conditions=conditions, types={**rule.types, _MADE: "ref:step"})


def _step(rule: Rule) -> Var | None:
    """The step that the rule speaks at, or that the fact is about which it deduces."""
    for one in rule.conclusions:
        if one.kind in _SPOKEN:
            return one.step
        if one.kind == "deduce" and one.deduced != KIND:
            steps = [v for _, v in one.values if isinstance(v, Var) and rule.types.get(v.name) == "ref:step"]
            return steps[0] if len(steps) == 1 else None
    return None


def _added(conditions: tuple[Condition, ...], step: Var, ends: Ends) -> tuple[Condition, ...]:
    kept: list[Condition] = []
    more: list[Condition] = []
    for condition in conditions:
        if isinstance(condition, AnyOf):
            condition = AnyOf(tuple(_added(branch, step, ends) for branch in condition.branches))
        elif isinstance(condition, Pattern):
            more += _absence(condition, step, ends)
        kept.append(condition)
    return (*kept, *(one for one in dict.fromkeys(more) if one not in kept))


def _absence(pattern: Pattern, step: Var, ends: Ends) -> list[Condition]:
    part, inside = "", list[Condition]()
    if pattern.kind == "part":
        part, inside = pattern.variable("id"), _of_has(pattern, ends) or []
        if not inside and not _all_end(pattern, ends):
            return []
    elif pattern.kind == "item" and _reads_has(pattern):
        part = pattern.variable("of")
        inside = [Given(Var(pattern.variable("value")), "in", tuple(sorted(ends.words)))]
    elif pattern.kind in ends.facts:
        part = pattern.variable("part")
        attribute, stays = ends.facts[pattern.kind]
        if attribute and pattern.variable(attribute):
            inside = [Given(Var(pattern.variable(attribute)), "not_in", stays)]
        elif attribute:
            again = Pattern(pattern.kind, (_bind("part", part), Test(attribute, "in", stays)), pattern.line)
            inside = [Not((again,))]
    if not part:
        return []
    made = Pattern(KIND, (_bind("part", part), _bind("step", _MADE)), pattern.line)
    earlier = Pattern("step", (_bind("id", _MADE),), pattern.line, earlier_than=step)
    return [Not((made, earlier, *inside))]


def _all_end(pattern: Pattern, ends: Ends) -> bool:
    return any(t.attribute == "has" and t.op in ("is", "in") and set(t.values) <= ends.words for t in pattern.tests)


def _of_has(pattern: Pattern, ends: Ends) -> list[Condition] | None:
    """That none of the words is there that stays, where only some of those that are asked for end."""
    for test in pattern.tests:
        if test.attribute == "has" and test.op == "in":
            stay = tuple(v for v in test.values if v not in ends.words)
            if stay and len(stay) < len(test.values):
                own = tuple(t for t in pattern.tests if t.attribute == "id")
                return [Not((Pattern("part", (*own, replace(test, values=stay)), pattern.line),))]
    return None


def _reads_has(pattern: Pattern) -> bool:
    asked = {t.attribute: t for t in pattern.tests}
    named = asked.get("attribute")
    return named is not None and named.values == ("has",) and bool(pattern.variable("value"))


def _bind(attribute: str, name: str) -> Test:
    return Test(attribute, "bind", (Var(name),))

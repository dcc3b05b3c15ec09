"""The rules as they hold where a house stands: what rests on another country's law is silent there, or told by what is
physical in it (`rules/places/elsewhere/`); years are those of the country; packs bound to other places are left out.

It is done on the rules before they are run and not by conditions in them. So a house in the country of the rules
costs nothing and hears what it heard, and no finding has to say that it presumes a country.
"""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

from msgspec.structs import replace

from advisor.document import Node, read_file
from advisor.errors import InputError, Problem, clip
from advisor.rulebase.apart import apart
from advisor.rulebase.base import RuleBase
from advisor.rulebase.carried import all_bound, carried, with_bound_advice
from advisor.rulebase.conditions import read_conditions
from advisor.rulebase.countries import FOLDER, HOME, Country, country_of
from advisor.rulebase.implied import shadows
from advisor.rulebase.model import FINDING_KINDS, SHADOW, Condition, Not, Pattern, Rule, SourceRef
from advisor.rulebase.scope import Scope
from advisor.rulebase.split import variants
from advisor.tables import rules_folder

_SLOT = re.compile(r"<(\w+)>")
_KEYS = {
    "same",
    "silent",
    "title",
    "what",
    "because",
    "guess",
    "when",
    "figures",
    "words",
    "sources",
    "numbers",
    "not_in",
}


@lru_cache(maxsize=8)
def moved_to(rulebase: RuleBase, code: str, region: str) -> RuleBase:
    """The rules as they hold in a country and region."""
    there = country_of(code, rulebase.vocabulary)
    said = {} if code == HOME else read_elsewhere()
    found: list[Rule] = []
    changed: set[str] = set()
    for rule in rulebase.rules:
        if SHADOW in rule.id:
            continue
        now = _of_place(rule, code, region) and (
            rule if code == HOME else _moved(rule, said.get(rule.id), there, rulebase)
        )
        if now is not rule:
            changed.add(rule.id)
        if now:
            found.append(now)
    found += [rule for rule in rulebase.rules if SHADOW in rule.id and rule.id.partition(SHADOW)[0] not in changed]
    found += shadows([rule for rule in found if rule.id in changed], rulebase.vocabulary)
    rules = tuple(sorted(found, key=lambda rule: rule.id))
    # Conditions are only taken away, or read what was read before: what is complete for a rule stays so.
    strata = {rule.id: rulebase.strata.get(rule.id, rulebase.strata[rule.id.partition(SHADOW)[0]]) for rule in rules}
    split = {
        rule.id: known if (known := rulebase.split.get(rule.id)) and known[0].rule is rule else variants(rule)
        for rule in rules
    }
    moved = replace(rulebase, rules=rules, strata=strata, split=split, apart={}, place=code or "elsewhere")
    return replace(moved, apart=apart(moved))


def _of_place(rule: Rule, code: str, region: str) -> bool:
    """Whether a pack that is bound to a place counts here."""
    own, part = rule.only_in
    return own in ("", code) and part.casefold() in ("", region.casefold())


def _moved(rule: Rule, spec: Node | None, there: Country, rulebase: RuleBase) -> Rule | None:
    """The rule as it holds in a country; itself where nothing of it changes, None where it is silent there."""
    if spec is not None and there.code in _listed(spec, "not_in"):
        spec = None
    elif rule.law is not None and (rule.law[0] == there.code or spec is None):
        return rule if rule.law[0] == there.code else None
    if spec is not None and spec.get("silent") is not None:
        return None
    types = dict(rule.types)
    figures = {float(old): there.rows.get(row.text) for old, (_, row) in _pairs(spec, "figures").items()}
    written = rule.conditions if spec is None or spec.get("when") is None else _written(rule, spec, types, rulebase)
    conditions = carried(written, {old: row.number if row else None for old, row in figures.items()})
    if not conditions:
        return None
    now = rule if conditions == rule.conditions else replace(rule, conditions=conditions, types=types)
    if spec is not None:
        now = _told(now, spec, there)
    if rule.law is not None and rule.law[0] != there.code:
        rests_on = tuple(word for word in rule.rests_on if word != "law")
        now = replace(now, law=None, rests_on=rests_on, sources=_sources(rule, spec))
    return with_bound_advice(now) if all_bound(now) else None


def _sources(rule: Rule, spec: Node | None) -> tuple[SourceRef, ...]:
    listed = spec.get("sources") if spec else None
    if listed is None:
        return rule.sources
    return tuple(SourceRef(_text(one, "key"), _text(one, "at")) for one in listed.items)


def _written(rule: Rule, spec: Node, types: dict[str, str], rulebase: RuleBase) -> tuple[Condition, ...]:
    problems: list[Problem] = []
    scope = Scope(rule.id, rulebase.vocabulary, rulebase.kinds, problems, states=rulebase.states, harms=rulebase.harms)
    conditions = read_conditions(spec.get("when"), scope)
    if problems:
        raise InputError(problems)
    types |= scope.types
    return conditions + tuple(one for one in rule.conditions if _exempt(one) and one not in conditions)


def _exempt(one: Condition) -> bool:
    """Whether a condition is that of `unless_done_by`, which an entry with conditions of its own need not repeat."""
    if not isinstance(one, Not) or len(one.inside) != 1 or not isinstance(one.inside[0], Pattern):
        return False
    tests = one.inside[0].tests
    return one.inside[0].kind == "step" and [(t.attribute, t.op) for t in tests] == [("id", "bind"), ("who", "in")]


def _told(rule: Rule, spec: Node, there: Country) -> Rule:
    """The rule with what is told there in place of what the law says."""
    conclusions = []
    for one in rule.conclusions:
        if one.kind in FINDING_KINDS:
            what, because = _said(spec, "what", there) or one.what, _said(spec, "because", there) or one.because
            guess = one.guess
            if guess is not None and (other := _said(spec, "guess", there)):
                guess = (guess[0], other)
            # a figure that a code's table brings is no figure there
            numbers = () if _text(spec, "numbers") == "no" else one.numbers
            one = replace(one, what=what, because=because, guess=guess, numbers=numbers)
        elif one.kind == "deduce" and (words := _said(spec, "words", there)):
            one = replace(one, values=tuple((n, words if n == "words" else v) for n, v in one.values))
        conclusions.append(one)
    return replace(rule, title=_said(spec, "title", there) or rule.title, conclusions=tuple(conclusions))


def _said(spec: Node, key: str, there: Country) -> str:
    """The first of the texts whose values are known of the country, with the values in their places."""
    node = spec.get(key)
    if node is None:
        return ""
    for one in node.items if node.kind == "sequence" else [node]:
        text = " ".join(one.text.split())
        wanted = set(_SLOT.findall(text)) - {"country"}
        if all(name in there.rows for name in wanted):
            return _SLOT.sub(lambda found: there.name if found[1] == "country" else there.rows[found[1]].value, text)
    return ""


@lru_cache(maxsize=2)
def read_elsewhere(folder: Path | None = None) -> dict[str, Node]:
    """What is told elsewhere in place of rules that rest on a law of HOME, by rule; InputError lists what is wrong."""
    found: dict[str, Node] = {}
    problems: list[Problem] = []
    for path in sorted(((folder or rules_folder()) / FOLDER / "elsewhere").glob("*.yaml")):
        for rule, (at, node) in read_file(path).pairs.items():
            if rule in found:
                problems.append(at.problem(f"rule '{clip(rule)}' stands twice."))
            problems += [
                where.problem(f"rule '{clip(rule)}': unknown key '{clip(key)}'.")
                for key, (where, _) in node.pairs.items()
                if key not in _KEYS
            ]
            found[rule] = node
    if problems:
        raise InputError(problems)
    return found


def _pairs(node: Node | None, key: str) -> dict[str, tuple[Node, Node]]:
    found = node.get(key) if node else None
    return found.pairs if found else {}


def _listed(node: Node, key: str) -> set[str]:
    found = node.get(key)
    return {one.text for one in found.items} if found else set()


def _text(node: Node, key: str) -> str:
    found = node.get(key)
    return found.text if found else ""

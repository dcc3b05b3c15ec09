"""Reading packs: the kinds of fact that they deduce, their rules, and what a pack of one's own replaces or retires."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from msgspec import Struct, field

from advisor.document import Node, read_file
from advisor.errors import InputError, Problem, allowed, clip, did_you_mean
from advisor.rulebase.conclusions import read_conclusions
from advisor.rulebase.conditions import read_conditions
from advisor.rulebase.grounds import read_grounds, read_place
from advisor.rulebase.keys import PACK_KEYS, RULE_KEYS
from advisor.rulebase.model import (
    FINDING_KINDS,
    AnyOf,
    Change,
    Citation,
    Collect,
    Compute,
    Conclusion,
    Condition,
    Kind,
    Not,
    Pattern,
    Rule,
    SourceRef,
    State,
    Test,
)
from advisor.rulebase.scope import Scope
from advisor.rulebase.split import too_wide
from advisor.rulebase.values import declared_type, expand, type_of
from advisor.rulebase.vocabulary import SORTS, Vocabulary

_NOBODY = "nobody"  # takes back what the pack says for all its rules


class Reading(Struct):
    """The state of reading a set of packs."""

    vocabulary: Vocabulary
    citations: dict[str, Citation]
    kinds: dict[str, Kind]
    rules: dict[str, Rule] = field(default_factory=dict)
    changes: list[Change] = field(default_factory=list)
    titles: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    states: dict[str, State] = field(default_factory=dict)
    harms: dict[str, Any] = field(default_factory=dict)  # see `advisor.rulebase.harm`


def plan_kinds(vocabulary: Vocabulary) -> dict[str, Kind]:
    """The kinds of fact that a plan gives rise to."""
    kinds = {}
    for sort in SORTS:
        attributes = {a.name: type_of(a) for a in vocabulary.attributes.get(sort, {}).values()}
        many = {a.name for a in vocabulary.attributes.get(sort, {}).values() if a.many}
        attributes["id"] = f"ref:{sort}"
        if sort == "step":
            attributes["place"] = "number"
            many -= {"to", "using"}  # one fact for each part and product of a step
        kinds[sort] = Kind(sort, attributes, frozenset(many), deduced=False)
    item = {"sort": "text", "of": "text", "attribute": "text", "value": "text"}
    kinds["item"] = Kind("item", item, frozenset(), deduced=False)
    return kinds


def read_sources(path: Path) -> dict[str, Citation]:
    """The bibliography; InputError lists entries that are not complete."""
    root, problems, found = read_file(path), [], {}
    for key, (at, spec) in root.pairs.items():
        cells = {name: node.text for name, (_, node) in spec.pairs.items()}
        if missing := {"cite", "edition", "authority"} - set(cells):
            problems.append(at.problem(f"source '{clip(key)}' needs '{sorted(missing)[0]}'."))
            continue
        if not re.match(r"https?://[^\s<>\"']+$", cells.get("url", "https://-")):
            problems.append(at.problem(f"source '{clip(key)}' has a 'url' that is none. Expected https://…"))
            continue
        found[key] = Citation(key, cells["cite"], cells["edition"], cells["authority"], cells.get("url", ""))
    if problems:
        raise InputError(problems)
    return found


def read_packs(files: list[tuple[Path, bool]], reading: Reading) -> None:
    """Read pack files (path, whether it is one of the user's own): all kinds first, then all rules."""
    roots = []
    for path, own in files:
        try:
            root = read_file(path)
        except InputError as error:
            reading.problems.extend(error.problems)
            continue
        if root.kind != "mapping" or not root.get("pack"):
            reading.problems.append(root.problem("is no rule pack. Expected 'pack:' and 'rules:' at its top."))
            continue
        roots.append((root, own))
        for key in root.pairs:
            if key not in PACK_KEYS:
                at = root.pairs[key][0]
                reading.problems.append(at.problem(f"unknown key '{clip(key)}' of a pack.{allowed(key, PACK_KEYS)}"))
        _read_kinds(root, reading)
    for root, own in roots:
        _read_rules(root, own, reading)


def _read_kinds(root: Node, reading: Reading) -> None:
    listed = root.get("kinds")
    for name, (key, spec) in (listed.pairs if listed else {}).items():
        if name in reading.kinds:
            reading.problems.append(key.problem(f"kind '{clip(name)}' is declared already."))
            continue
        attributes = {}
        for word, (at, node) in spec.pairs.items():
            if word == "meaning":
                continue
            kind = declared_type(node.text, reading.vocabulary)
            if kind is None:
                reading.problems.append(
                    at.problem(
                        f"kind '{clip(name)}': '{clip(node.text)}' is no type. Expected a dimension, "
                        "text, yes_no, 'ref part' or 'term material'."
                    )
                )
            else:
                attributes[word] = kind
        meaning = spec.get("meaning")
        reading.kinds[name] = Kind(name, attributes, frozenset(), True, meaning.text if meaning else "")


def _read_rules(root: Node, own: bool, reading: Reading) -> None:
    pack = root.pairs["pack"][1].text
    title = root.get("title")
    reading.titles[pack] = title.text if title else reading.titles.get(pack, pack)
    listed = root.get("rules")
    place = read_place(root.get("place"), reading)
    for node in listed.items if listed else []:
        _read_rule(node, pack, own, root.get("unless_done_by"), reading, place)
    retired = root.get("retire")
    for node in retired.items if retired else []:
        _retire(node, pack, reading)


def _read_rule(node: Node, pack: str, own: bool, trade: Node | None, reading: Reading, place: tuple[str, str]) -> None:
    name = node.get("id")
    if node.kind != "mapping" or name is None or not name.text:
        reading.problems.append(node.problem("a rule needs an 'id'."))
        return
    rule_id = name.text
    scope = Scope(
        rule_id, reading.vocabulary, reading.kinds, reading.problems, states=reading.states, harms=reading.harms
    )
    for key, (at, _) in node.pairs.items():
        if key not in RULE_KEYS:
            scope.say(at, f"unknown key '{clip(key)}'.{allowed(key, RULE_KEYS)}")
    if not _may_stand(rule_id, node, pack, own, scope, reading):
        return
    title, alarm = node.get("title"), node.get("false_alarm")
    if not title:
        scope.say(node, "needs a 'title'.")
    conditions = read_conditions(node.get("when"), scope)
    conclusions = read_conclusions(node, scope)
    conditions += _exempt(node, trade, conclusions, scope)
    if not conditions:
        scope.say(node, "needs 'when' with at least one condition.")
    if not conclusions:
        scope.say(node, f"concludes nothing. Expected one of: deduce, {', '.join(FINDING_KINDS)}.")
    serves = node.get("serves")
    reading.rules[rule_id] = rule = Rule(
        rule_id,
        title.text if title else "",
        pack,
        conditions,
        conclusions,
        _read_refs(node, scope, reading),
        " ".join(alarm.text.split()) if alarm else "",
        tuple(n.text for n in (serves.items if serves.kind == "sequence" else [serves])) if serves else (),
        node.file,
        node.line,
        dict(scope.types),
        tuple(sorted(set(scope.types) - scope.used - _computed(conditions))),
        tuple(node.pairs),
        *read_grounds(node, scope),
        place,
    )
    if wide := too_wide(rule):
        scope.say(node.get("when") or node, wide)


def _exempt(node: Node, trade: Node | None, conclusions: tuple[Conclusion, ...], scope: Scope) -> tuple[Condition, ...]:
    """No word to a step that its own trade does: `unless_done_by` of the rule, else of its pack.

    What a rule says of no step, or only deduces, is never exempt by the pack's word.
    """
    own = node.get("unless_done_by")
    named = own or trade
    steps = list(dict.fromkeys(c.step for c in conclusions if c.kind != "deduce" and c.step is not None))
    if own is not None and not steps and own.text != _NOBODY:
        scope.say(own, "'unless_done_by' needs a finding of a step: 'before', 'at' or 'then'.")
    if named is None or named.text == _NOBODY or not steps:
        return ()
    words = [scope.operand(one, "term:who") for one in (named.items if named.kind == "sequence" else [named])]
    who = tuple(
        dict.fromkeys(v for w in words if isinstance(w, str) and w for v in expand(w, "term:who", scope.vocabulary))
    )
    tests = [(Test("id", "bind", (step,)), Test("who", "in", who)) for step in steps]
    return tuple(Not((Pattern("step", one, named.line),)) for one in tests)


def _may_stand(rule_id: str, node: Node, pack: str, own: bool, scope: Scope, reading: Reading) -> bool:
    replace = node.get("replace")
    there = reading.rules.get(rule_id)
    if replace is not None and own:
        reason = replace.get("reason")
        if replace.kind != "mapping":
            scope.say(replace, "'replace' stands in the new rule as 'replace: {reason: …}', under the old rule's id.")
            return False
        if there is None:
            scope.say(node, f"replaces a rule that does not exist.{did_you_mean(rule_id, reading.rules)}")
            return False
        if not reason or not reason.text:
            scope.say(replace, "'replace' needs its 'reason'.")
        reading.changes.append(Change(rule_id, "replaced", reason.text if reason else "", pack))
    elif there is not None:
        scope.say(node, f"stands twice (first in {Path(there.file).name}, line {there.line}).")
        return False
    return True


def _retire(node: Node, pack: str, reading: Reading) -> None:
    rule, reason = node.get("rule"), node.get("reason")
    if not rule or rule.text not in reading.rules:
        word = rule.text if rule else ""
        reading.problems.append(
            node.problem(f"retires an unknown rule '{clip(word)}'.{did_you_mean(word, reading.rules)}")
        )
    elif not reason or not reason.text:
        reading.problems.append(node.problem(f"retiring '{rule.text}' needs its 'reason'."))
    else:
        del reading.rules[rule.text]
        reading.changes.append(Change(rule.text, "retired", reason.text, pack))


def _read_refs(node: Node, scope: Scope, reading: Reading) -> tuple[SourceRef, ...]:
    listed = node.get("sources")
    found = []
    for one in listed.items if listed else []:
        key, at = one.get("key"), one.get("at")
        if one.get("common_practice"):
            found.append(SourceRef("", ""))
        elif key is None or key.text not in reading.citations:
            word = key.text if key else ""
            scope.say(one, f"unknown source '{clip(word)}'.{did_you_mean(word, reading.citations)}")
        else:
            found.append(SourceRef(key.text, at.text if at else ""))
    if not found and any(kind in node.pairs for kind in FINDING_KINDS):
        scope.say(node, "needs 'sources': a key of sources.yaml with its place, or '- {common_practice: yes}'.")
    return tuple(found)


def _computed(conditions: tuple[Condition, ...]) -> set[str]:
    """The variables bound by calculators and collections: being shown is use enough."""
    found: set[str] = set()
    for condition in conditions:
        if isinstance(condition, Compute | Collect):
            found.add(condition.var)
        elif isinstance(condition, AnyOf):
            for branch in condition.branches:
                found |= _computed(branch)
    return found

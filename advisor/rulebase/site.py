"""Places and works of `rules/site/` turned into rules that deduce them, so that packs read meanings, not spellings.

A relation between two parts is a kind of fact with the attributes `a` and `b` (`holds`, `touches`, `feeds` …). The
vocabulary says which relation each way of saying where means (`in: {…, place: held by}`); `places.yaml` says what
the relations imply and how far they reach. A work is a fact `work: {step, is, to}`; `works/` lists the sentences
that amount to it. Both become ordinary rules: reasons, presumptions and strata hold for them as for all others.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from advisor.document import Node, read_file
from advisor.errors import allowed, clip, did_you_mean
from advisor.rulebase.conclusions import read_conclusions
from advisor.rulebase.conditions import read_conditions
from advisor.rulebase.model import Conclusion, Kind, Operand, Pattern, Rule, Test, Var
from advisor.rulebase.packs import Reading
from advisor.rulebase.scope import Scope
from advisor.rulebase.vocabulary import Attribute, Taxonomy, Term

PACK = "site"
WORK = "work"
_RELATION_KEYS = {"turned", "symmetric", "implies", "transitive", "meaning"}
_WORK_KEYS = {"is", "meaning", "sentences"}
_SLOTS = {"to": "part", "using": "product", "in": "room"}  # what a sentence may say more of: a thing, not its name
Pair = tuple[str, Operand, Operand]  # relation, a, b


class Relation(Struct, frozen=True):
    """What one way of being placed means: which relations follow from it, and whether it holds both ways."""

    name: str
    turned: str
    symmetric: bool
    transitive: bool
    implies: tuple[str, ...]


def read_site(folder: Path, reading: Reading) -> None:
    """Declare the relations and works of a `site` folder, before the packs that read them."""
    reading.titles[PACK] = "Site"
    places = folder / "places.yaml"
    if places.is_file():
        root = read_file(places)
        for name, relation in _relations(root, reading).items():
            meaning = root.pairs["relations"][1].pairs[name][1].get("meaning")
            ends = {"a": "ref:part", "b": "ref:part"}
            reading.kinds[name] = Kind(name, ends, frozenset(), True, meaning.text if meaning else relation.name)
    taxonomy = reading.vocabulary.taxonomies.setdefault(WORK, Taxonomy(WORK))
    for name, (key, spec) in _works(folder):
        for extra in sorted(set(spec.pairs) - _WORK_KEYS):
            reading.problems.append(
                key.problem(f"work '{name}' has an unknown key '{extra}'.{allowed(extra, sorted(_WORK_KEYS))}")
            )
        if name in taxonomy.terms:
            reading.problems.append(key.problem(f"work '{name}' stands twice."))
        parents, meaning = spec.get("is"), spec.get("meaning")
        above = () if parents is None else tuple(n.text for n in parents.items) or (parents.text,)
        taxonomy.add(Term(name, above, (), meaning.text if meaning else ""))
    for name, (key, _) in _works(folder):
        for parent in taxonomy.terms[name].parents:
            if parent not in taxonomy.terms:
                near = did_you_mean(parent, taxonomy.terms)
                reading.problems.append(key.problem(f"work '{name}' is a kind of unknown '{parent}'.{near}"))
    ends = {"step": "ref:step", "is": f"term:{WORK}", "to": "ref:part"}
    reading.kinds[WORK] = Kind(WORK, ends, frozenset(), True, "what sort of work a step is, on which part")


def _works(folder: Path) -> Iterator[tuple[str, tuple[Node, Node]]]:
    """The works of all files, by name with key and body."""
    for path in sorted((folder / "works").glob("*.yaml")):
        listed = read_file(path).get("works")
        yield from (listed.pairs if listed else {}).items()


def make_site_rules(folder: Path, reading: Reading) -> None:
    """The rules that deduce relations and works; they may read kinds that packs declare."""
    places = folder / "places.yaml"
    if places.is_file():
        root = read_file(places)
        relations = _relations(root, reading)
        for attribute in sorted(reading.vocabulary.attributes.get("part", {}).values(), key=lambda a: a.name):
            if attribute.place:
                _place_rule(attribute, relations, root, reading)
        for relation in relations.values():
            if relation.transitive:
                _transitive_rule(relation, relations, root, reading)
        reach = root.get("reach")
        for node in reach.items if reach else []:
            _reach_rule(node, relations, reading)
    for name, (key, spec) in _works(folder):
        sentences = spec.get("sentences")
        for number, node in enumerate(sentences.items if sentences else [], 1):
            _sentence_rules(name, number, key, node, reading)


# --- places -----------------------------------------------------------------------------------------------


def _relations(root: Node, reading: Reading) -> dict[str, Relation]:
    found: dict[str, Relation] = {}
    listed = root.get("relations")
    for name, (key, spec) in (listed.pairs if listed else {}).items():
        for extra in sorted(set(spec.pairs) - _RELATION_KEYS):
            hint = allowed(extra, sorted(_RELATION_KEYS))
            reading.problems.append(key.problem(f"relation '{name}' has an unknown key '{extra}'.{hint}"))
        turned, implies = spec.get("turned"), spec.get("implies")
        found[name] = Relation(
            name,
            turned.text if turned else "",
            _yes(spec, "symmetric"),
            _yes(spec, "transitive"),
            tuple(n.text for n in implies.items) if implies else (),
        )
    for name, relation in found.items():
        for other in relation.implies:
            if other not in found:
                problem = f"relation '{name}' implies an unknown '{clip(other)}'.{did_you_mean(other, found)}"
                reading.problems.append(root.problem(problem))
    return found


def _yes(spec: Node, word: str) -> bool:
    node = spec.get(word)
    return node is not None and node.text == "yes"


def _follow(pair: Pair, relations: dict[str, Relation]) -> list[Pair]:
    """The relation of a pair with all that it implies, each once."""
    found: dict[Pair, None] = {}
    queue = [pair]
    while queue:
        one = queue.pop(0)
        if one in found:
            continue
        found[one] = None
        name, a, b = one
        if relations[name].symmetric:
            queue.append((name, b, a))
        queue += [(other, a, b) for other in relations[name].implies if other in relations]
    return list(found)


def _deduced(pairs: list[Pair], line: int) -> tuple[Conclusion, ...]:
    return tuple(Conclusion("deduce", line, deduced=name, values=(("a", a), ("b", b))) for name, a, b in pairs)


def _place_rule(attribute: Attribute, relations: dict[str, Relation], root: Node, reading: Reading) -> None:
    by_word = {r.name: (r, False) for r in relations.values()} | {r.turned: (r, True) for r in relations.values()}
    by_word.pop("", None)
    if attribute.place not in by_word:
        near = did_you_mean(attribute.place, by_word)
        reading.problems.append(root.problem(f"'{attribute.name}' of a part has an unknown place, "
                                             f"'{clip(attribute.place)}'.{near}"))  # fmt: skip
        return
    relation, turned = by_word[attribute.place]
    thing, other = Var("thing"), Var("other")
    if attribute.many:
        tests = (
            Test("sort", "is", ("part",)),
            Test("attribute", "is", (attribute.name,)),
            Test("of", "bind", (thing,)),
            Test("value", "bind", (other,)),
        )
        pattern = Pattern("item", tests, 0)
    else:
        pattern = Pattern("part", (Test("id", "bind", (thing,)), Test(attribute.name, "bind", (other,))), 0)
    pair = (relation.name, other, thing) if turned else (relation.name, thing, other)
    _add(
        f"place-{attribute.name.replace('_', '-')}",
        f"What '{attribute.name}' says of the place of a part",
        (pattern,),
        _deduced(_follow(pair, relations), 0),
        root,
        reading,
        {"thing": "ref:part", "other": "ref:part"},
    )


def _transitive_rule(relation: Relation, relations: dict[str, Relation], root: Node, reading: Reading) -> None:
    first, between, last = Var("first"), Var("between"), Var("last")
    conditions = (
        Pattern(relation.name, (Test("a", "bind", (first,)), Test("b", "bind", (between,))), 0),
        Pattern(relation.name, (Test("a", "bind", (between,)), Test("b", "bind", (last,))), 0),
    )
    _add(
        f"place-{relation.name}-further",
        f"What {relation.name.replace('_', ' ')} something reaches what that one reaches",
        conditions,
        _deduced(_follow((relation.name, first, last), relations), 0),
        root,
        reading,
        dict.fromkeys(("first", "between", "last"), "ref:part"),
    )


def _reach_rule(node: Node, relations: dict[str, Relation], reading: Reading) -> None:
    name, title = node.get("id"), node.get("title")
    scope = Scope(name.text if name else "?", reading.vocabulary, reading.kinds, reading.problems)
    for key, (at, _) in node.pairs.items():
        if key not in {"id", "title", "when", "deduce"}:
            scope.say(at, f"unknown key '{clip(key)}' of a reach. Expected: id, title, when, deduce.")
    conditions = read_conditions(node.get("when"), scope)
    found: list[Conclusion] = []
    for one in read_conclusions(node, scope):
        cells = dict(one.values)
        if one.deduced in relations and {"a", "b"} <= set(cells):
            found += _deduced(_follow((one.deduced, cells["a"], cells["b"]), relations), one.line)
        else:
            found.append(one)
    if name is None or title is None or not conditions or not found:
        scope.say(node, "a reach needs 'id', 'title', 'when' and 'deduce'.")
        return
    _add(name.text, title.text, conditions, tuple(found), node, reading, dict(scope.types))


# --- works ------------------------------------------------------------------------------------------------


def _sentence_rules(name: str, number: int, key: Node, node: Node, reading: Reading) -> None:
    """One rule for a sentence that names a part; one more, without it, where the sentence asks nothing of the part."""
    rule_id = f"work-{name.replace(' ', '-')}-{number}"
    asks_part = node.get("to") is not None or node.get("when") is not None
    for named in (True, False):
        if not named and asks_part:
            continue
        scope = Scope(rule_id, reading.vocabulary, reading.kinds, reading.problems)
        conditions = read_conditions(_sentence(node, named), scope)
        if not conditions:
            return
        values: list[tuple[str, Operand]] = [("is", name), ("step", Var("step"))]
        if named and "part" in scope.types:
            values.append(("to", Var("part")))
        conclusion = Conclusion("deduce", key.line, deduced=WORK, values=tuple(values))
        own = rule_id if named else f"{rule_id}-anywhere"
        meaning = reading.vocabulary.taxonomies[WORK].terms[name].meaning or name
        title = f"{name.capitalize()} ({number}{'' if named else ', no part named'}): {meaning}"
        _add(own, title, conditions, (conclusion,), node, reading, dict(scope.types))


def _sentence(node: Node, named: bool) -> Node:
    """A sentence as the list of conditions that it stands for."""
    step = {"id": node.pair("$step")}
    things: list[Node] = []
    more: list[Node] = []
    for word, pair in node.pairs.items():
        if word == "when":
            more = pair[1].items
        elif word in _SLOTS and pair[1].kind == "mapping":
            sort = _SLOTS[word]
            step[word] = node.pair(f"${sort}")
            thing = node.mapping({"id": node.pair(f"${sort}"), **pair[1].pairs})
            things.append(node.mapping({sort: (pair[0], thing)}))
        else:
            step[word] = pair
    if "to" not in step:
        step["to"] = node.pair("$part" if named else "unknown")
    first = node.mapping({"step": (node, node.mapping(step))})
    return Node(node.file, node.line, node.column, "sequence", items=[first, *things, *more])


def _add(
    rule_id: str,
    title: str,
    conditions: tuple[object, ...],
    conclusions: tuple[Conclusion, ...],
    at: Node,
    reading: Reading,
    types: dict[str, str],
) -> None:
    if rule_id in reading.rules:
        reading.problems.append(at.problem(f"the site rule '{clip(rule_id)}' stands twice."))
        return
    rule = Rule(rule_id, title, PACK, (), conclusions, (), "", (), at.file, at.line, types)
    reading.rules[rule_id] = replace(rule, conditions=conditions)

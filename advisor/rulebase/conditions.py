"""Reading the `when:` of a rule."""

from __future__ import annotations

from advisor.document import Node
from advisor.errors import allowed, clip, did_you_mean
from advisor.plain import Plain
from advisor.rulebase.model import (
    AnyOf,
    Collect,
    Condition,
    Given,
    Kind,
    Not,
    Operand,
    Pattern,
    Test,
    Var,
)
from advisor.rulebase.scope import Scope, plain_type
from advisor.rulebase.sums import read_compute, read_lookup
from advisor.rulebase.values import expand, fits, is_number, type_of

COMPARISONS = ("above", "at_least", "below", "at_most")
COLLECTIONS = ("sum", "count", "greatest", "least", "list")
_FORMS = ("not", "any", "compute", "lookup", "given", "collect")
MAX_BRANCHES = 8


def read_conditions(node: Node | None, scope: Scope) -> tuple[Condition, ...]:
    """The conditions of a list, each seeing the variables bound before it."""
    if node is None or node.kind != "sequence" or not node.items:
        if node is not None:
            scope.say(node, "expected a list of conditions.")
        return ()
    found: list[Condition] = []
    for item in node.items:
        if item.kind != "mapping" or len(item.pairs) != 1:
            scope.say(item, "expected one condition, such as '- step: {id: $step, do: sand}'.")
            continue
        ((word, (key, body)),) = item.pairs.items()
        found.extend(_read_one(word, key, body, scope))
    return tuple(found)


def _read_one(word: str, key: Node, body: Node, scope: Scope) -> list[Condition]:
    if word == "not":
        scope = scope.inner()
        inside = read_conditions(body, scope) if body.kind == "sequence" else _single(body, scope)
        return [Not(inside)] if inside else []
    if word == "any":
        return _read_any(body, scope)
    if word == "compute":
        return _each(body, scope, read_compute)
    if word == "lookup":
        return read_lookup(body, scope)
    if word == "given":
        return _read_given(body, scope)
    if word == "collect":
        return _each(body, scope, _read_collect)
    pattern = read_pattern(word, key, body, scope)
    return [pattern] if pattern else []


def _single(body: Node, scope: Scope) -> tuple[Condition, ...]:
    if body.kind != "mapping" or len(body.pairs) != 1:
        scope.say(body, "'not' expects one condition or a list of them.")
        return ()
    ((word, (key, inner)),) = body.pairs.items()
    return tuple(_read_one(word, key, inner, scope))


def _each(body: Node, scope: Scope, reader: object) -> list[Condition]:
    if body.kind != "mapping":
        scope.say(body, "expected '$variable: {…}'.")
        return []
    return [c for name, (key, spec) in body.pairs.items() if (c := reader(name, key, spec, scope))]  # type: ignore[operator]


# --- patterns ---------------------------------------------------------------------------------------------


def read_pattern(word: str, key: Node, body: Node, scope: Scope) -> Pattern | None:
    """A fact pattern; None (and a mistake recorded) where kind or shape is wrong."""
    kind = scope.kinds.get(word)
    if kind is None:
        scope.say(
            key,
            f"unknown kind of fact or condition '{clip(word)}'.{did_you_mean(word, [*scope.kinds, *_FORMS])}"
            f" Expected {', '.join(_FORMS)}, a kind of fact of a plan ({', '.join(_plain_kinds(scope))}),"
            " or a deduced one ('advisor rules kinds').",
        )
        return None
    if body.kind != "mapping":
        scope.say(body, f"'{clip(word)}' expects attributes, such as 'step: {{id: $x}}'.")
        return None
    tests: list[Test] = []
    times: dict[str, Var] = {}
    # Constants first: `item` takes the type of `value` from its `attribute`.
    for name, (at, value) in sorted(body.pairs.items(), key=lambda p: p[1][1].text.startswith("$")):
        if name in ("earlier_than", "later_than") and word == "step":
            times[name] = scope.variable(value, value.text, "ref:step")
        else:
            tests.extend(_read_tests(kind, name, at, value, body, scope))
    return Pattern(word, tuple(tests), key.line, times.get("earlier_than"), times.get("later_than"))


def _plain_kinds(scope: Scope) -> list[str]:
    return [kind.name for kind in scope.kinds.values() if not kind.deduced]


def _attribute_type(kind: Kind, name: str, body: Node, scope: Scope) -> str | None:
    if kind.name == "item" and name == "value":
        attribute = body.get("attribute")
        sort = body.get("sort")
        sorts = [sort.text] if sort else list(scope.vocabulary.attributes)
        for one in sorts:
            found = scope.vocabulary.attributes.get(one, {}).get(attribute.text if attribute else "")
            if found and found.many:
                return type_of(found)
    return kind.attributes.get(name)


def _read_tests(kind: Kind, name: str, at: Node, value: Node, body: Node, scope: Scope) -> list[Test]:
    wanted = _attribute_type(kind, name, body, scope)
    if wanted is None:
        scope.say(at, f"'{kind.name}' has no attribute '{clip(name)}'.{scope.attributes(name, kind)}")
        return []
    many = name in kind.many
    if value.kind == "sequence":
        return [Test(name, "in", _many(value, wanted, scope), many)]
    if value.kind == "mapping":
        return [_read_op(name, op, node, wanted, many, scope) for op, (_, node) in value.pairs.items()]
    if value.text in ("unknown", "known"):
        return [Test(name, value.text, (), many)]
    if value.text.startswith("$"):
        if many:
            scope.say(value, f"'{clip(name)}' holds several words. Match each with an 'item' condition.")
        return [Test(name, "bind", (Var(scope.bind(value, value.text, wanted)),), many)]
    literal = scope.operand(value, wanted)
    values = () if isinstance(literal, Var) else expand(literal, wanted, scope.vocabulary)
    return [Test(name, "in" if len(values) > 1 else "is", values, many)]


def _many(node: Node, wanted: str, scope: Scope) -> tuple[Operand, ...]:
    found: list[Operand] = []
    for item in node.items:
        value = scope.operand(item, wanted)
        found.extend((value,) if isinstance(value, Var) else expand(value, wanted, scope.vocabulary))
    return tuple(dict.fromkeys(found))


def _read_op(name: str, op: str, node: Node, wanted: str, many: bool, scope: Scope) -> Test:
    if op in ("in", "not"):
        listed = node if node.kind == "sequence" else Node(node.file, node.line, node.column, "sequence", items=[node])
        return Test(name, "in" if op == "in" else "not_in", _many(listed, wanted, scope), many)
    if op not in COMPARISONS:
        scope.say(node, f"unknown comparison '{clip(op)}'.{allowed(op, [*COMPARISONS, 'in', 'not'])}")
    elif not is_number(wanted):
        scope.say(node, f"'{clip(name)}' is a {plain_type(wanted)} and has no size to compare.")
    return Test(name, op, (scope.operand(node, wanted),), many)


# --- the other forms --------------------------------------------------------------------------------------


def _read_any(body: Node, scope: Scope) -> list[Condition]:
    if body.kind != "sequence" or not 2 <= len(body.items) <= MAX_BRANCHES:
        scope.say(body, f"'any' expects 2 to {MAX_BRANCHES} branches, each a condition or a list of them.")
        return []
    branches, bound = [], []
    for item in body.items:
        inner = scope.inner()
        branches.append(read_conditions(item, inner) if item.kind == "sequence" else _single(item, inner))
        bound.append(inner.types)
    for name in set.intersection(*(set(b) for b in bound)) - set(scope.types):
        kinds = {b[name] for b in bound}
        if all(fits(a, b) for a in kinds for b in kinds):
            scope.types[name] = sorted(kinds)[0]
    return [AnyOf(tuple(branches))]


def _read_given(body: Node, scope: Scope) -> list[Condition]:
    found: list[Condition] = []
    for name, (key, spec) in body.pairs.items():
        left = scope.variable(key, name)
        kind = scope.types.get(left.name, "text")
        if spec.kind == "mapping":
            for op, (_, node) in spec.pairs.items():
                if op == "is_a":
                    found.append(_read_is_a(left, node, kind, scope))
                    continue
                test = _read_op(name, op, node, kind, False, scope)
                found.append(Given(left, test.op, test.values))
        elif spec.kind == "sequence":
            found.append(Given(left, "in", _many(spec, kind, scope)))
        else:
            value = scope.operand(spec, kind)
            values: tuple[Operand, ...] = (value,) if isinstance(value, Var) else expand(value, kind, scope.vocabulary)
            found.append(Given(left, "in", values))
    return found


def _read_is_a(left: Var, node: Node, kind: str, scope: Scope) -> Given:
    """`{$owned: {is_a: $gear}}`: the word is the other one or a kind of it."""
    if not kind.startswith("term:"):
        scope.say(node, f"'{clip('$' + left.name)}' is a {plain_type(kind)}. 'is_a' compares words of one list.")
    return Given(left, "is_a", (scope.operand(node, kind),), kind.partition(":")[2])


def _read_collect(name: str, key: Node, spec: Node, scope: Scope) -> Condition | None:
    hows = [word for word in spec.pairs if word in COLLECTIONS]
    over = [(word, pair) for word, pair in spec.pairs.items() if word not in COLLECTIONS]
    if len(hows) != 1 or len(over) != 1:
        scope.say(key, "expected 'collect: {$sum: {sum: attribute, kind: {pattern}}}'.")
        return None
    word, (at, body) = over[0]
    pattern = read_pattern(word, at, body, scope.inner())
    attribute = spec.pairs[hows[0]][1].text
    kind = scope.kinds.get(word)
    if pattern is None or kind is None:
        return None
    if hows[0] != "count" and attribute not in kind.attributes:
        scope.say(key, f"'{word}' has no attribute '{clip(attribute)}'.{scope.attributes(attribute, kind)}")
        return None
    wanted: Plain = "number" if hows[0] == "count" else kind.attributes[attribute]
    result = f"list:{wanted}" if hows[0] == "list" else str(wanted)
    if hows[0] in ("sum", "greatest", "least") and not is_number(result):
        scope.say(key, f"'{attribute}' is a {plain_type(result)} and cannot be summed or compared.")
    return Collect(scope.bind(key, name, result), hows[0], attribute, pattern)

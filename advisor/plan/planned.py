"""What a plan has not got or does not know yet: the entries under `to_get` and `to_find_out`.

Such an entry states no fact. What rests on it is answered by a hold point, as long as the thing is not there.
"""

from __future__ import annotations

from collections.abc import Mapping

from advisor.document import Node
from advisor.errors import clip, nearest
from advisor.plan.checking import Checker, form
from advisor.plan.facts import question
from advisor.plan.model import Entity, ToFindOut, ToGet, Value
from advisor.plan.values import is_unknown

MAX_ENTRIES = 500
GET_KEYS = ("what", "for", "as", "note")
FIND_KEYS = ("ask", "of", "attribute", "by", "note")
THINGS = ("part", "product", "room")  # named things of a plan that can be got or looked at
# Lists of words that can be got, in the order in which a word is looked up; `who` is a helper or a firm.
WORDS = ("tool", "who", "product_kind", "part_kind", "binder")
_ALONE = ("house", "code", "crew", "budget")
Entities = Mapping[str, Mapping[str, Entity]]


def read_to_get(check: Checker, root: Node, entities: Entities) -> tuple[ToGet, ...]:
    """The entries under `to_get`; mistakes are noted."""
    example = "{what: HEPA vacuum, for: [sand-doors]}"
    found = []
    for node in _entries(check, root, "to_get", GET_KEYS, example):
        what = node.get("what")
        if what is None or is_unknown(what) or what.kind != "scalar":
            check.say(what or node, f"an entry of 'to_get' needs 'what': a thing, as in '{example}'.")
            continue
        named = _thing(check, what, entities)
        if named is not None:
            sort, own = named
            found.append(
                ToGet(own, sort, _steps(check, node.get("for")), _as(check, node.get("as"), *named), node.line)
            )
    return tuple(found)


def read_to_find_out(check: Checker, root: Node, entities: Entities) -> tuple[ToFindOut, ...]:
    """The entries under `to_find_out`; mistakes are noted."""
    example = "{ask: Where is the main water valve?, of: house, attribute: water_shutoff_known, by: clip-sink}"
    found = []
    for node in _entries(check, root, "to_find_out", FIND_KEYS, example):
        named = _whose(check, node, entities, example)
        if named is None:
            continue
        sort, own = named
        ask = check.text("an entry of 'to_find_out'", "ask", node.get("ask"))
        word = node.get("attribute")
        attribute = None
        if word is not None and not is_unknown(word):
            attribute = check.attribute(sort, word.text.strip()) if word.kind == "scalar" else None
            if attribute is None:
                expected = (
                    f"Expected something that may be said of a {sort}{check.near_attribute(sort, word.text, sort)}"
                )
                check.say(word, f"'to_find_out' has an unknown attribute, '{clip(word.text)}'. {expected}")
                continue
        elif not ask:
            check.say(node, f"an entry of 'to_find_out' needs 'ask' or 'attribute', as in '{example}'.")
            continue
        ask = ask or (question(attribute, own) if attribute else "")
        by = next(iter(_steps(check, node.get("by"))), "")
        found.append(ToFindOut(ask, sort, own, attribute.name if attribute else "", by, node.line))
    return tuple(found)


def _entries(check: Checker, root: Node, section: str, keys: tuple[str, ...], example: str) -> list[Node]:
    node = root.get(section)
    if node is None or is_unknown(node):
        return []
    if node.kind != "sequence":
        check.say(node, f"'{section}' is a {form(node)}. Expected a list of entries, such as '- {example}'.")
        return []
    if len(node.items) > MAX_ENTRIES:
        check.say(node, f"'{section}' has {len(node.items):,} entries. Expected at most {MAX_ENTRIES:,}.")
        return []
    found = []
    for item in node.items:
        if item.kind != "mapping":
            shown = f"'{clip(item.text)}'" if item.kind == "scalar" else f"a {form(item)}"
            check.say(item, f"an entry of '{section}' is {shown}. Expected a mapping such as '{example}'.")
            continue
        wrong = [(word, key) for word, (key, _) in item.pairs.items() if word not in keys]
        for word, key in wrong:
            near = nearest(word[:80], keys)
            hint = f"; nearest: '{near}'" if near else ""
            check.say(key, f"an entry of '{section}' has no '{clip(word)}'. Expected one of {', '.join(keys)}{hint}.")
        if not wrong:
            found.append(item)
    return found


def _thing(check: Checker, node: Node, entities: Entities) -> tuple[str, str] | None:
    """The sort and the name of what is to be got: a thing of the plan, else a word of the vocabulary."""
    word = node.text.strip()
    for sort in THINGS:
        if word in entities[sort]:
            return sort, word
    lists = [check.vocabulary.taxonomies[name] for name in WORDS if name in check.vocabulary.taxonomies]
    for taxonomy in lists:
        term = taxonomy.said(word)
        if term is not None:
            return taxonomy.name, term
    known = [own for sort in THINGS for own in entities[sort]]
    near = nearest(word[:80], [*known, *(w for t in lists for w in t.spoken())])
    hint = f"; nearest: '{near}'" if near else ""
    check.say(
        node,
        f"'to_get' names an unknown thing, '{clip(word)}'. Expected a tool, gear, a kind of product or part,"
        f" or a name of this plan{hint}.",
    )
    return None


def _whose(check: Checker, node: Node, entities: Entities, example: str) -> tuple[str, str] | None:
    of = node.get("of")
    if of is None or is_unknown(of) or of.kind != "scalar":
        check.say(of or node, f"an entry of 'to_find_out' needs 'of': whose it is, as in '{example}'.")
        return None
    word = of.text.strip()
    if word in _ALONE:
        return word, word
    sorts = [sort for sort in (*THINGS, "step") if word in entities[sort]]
    asked = node.get("attribute")
    if asked is not None and asked.kind == "scalar":  # a name that two sorts have is the one that can have this
        sorts.sort(key=lambda sort: check.attribute(sort, asked.text.strip()) is None)
    if sorts:
        return sorts[0], word
    known = [*_ALONE, *(own for sort in (*THINGS, "step") for own in entities[sort])]
    near = nearest(word[:80], known)
    hint = f"; nearest: '{near}'" if near else ""
    check.say(
        of, f"'to_find_out' is of an unknown thing, '{clip(word)}'. Expected 'house' or a name of this plan{hint}."
    )
    return None


def _steps(check: Checker, node: Node | None) -> tuple[str, ...]:
    if node is None or is_unknown(node):
        return ()
    names = check.names.get("step", {})
    found = []
    for item in node.items if node.kind == "sequence" else [node]:
        word = item.text.strip() if item.kind == "scalar" else ""
        if word in names:
            found.append(word)
        elif "step" not in check.unsure:
            near = nearest(word[:80], list(names))
            hint = f"; nearest: '{near}'" if near else ""
            shown = f"'{clip(word)}'" if word else f"a {form(item)}"
            check.say(item, f"names an unknown step, {shown}. Expected the name of a step of this plan{hint}.")
    return tuple(dict.fromkeys(found))


def _as(check: Checker, node: Node | None, sort: str, own: str) -> tuple[tuple[str, str, Value], ...]:
    """How the thing should be: of a thing of the plan its attributes; else of the steps, the crew or the house."""
    if node is None or is_unknown(node):
        return ()
    if node.kind != "mapping":
        check.say(node, f"'as' is a {form(node)}. Expected how the thing should be, as in 'as: {{lead_free: yes}}'.")
        return ()
    sorts = (sort,) if sort in THINGS else ("step", "crew", "house")
    found = []
    for word, (key, value) in node.pairs.items():
        attribute = next((a for s in sorts if (a := check.attribute(s, word)) is not None), None)
        if attribute is None:
            expected = f"Expected something that may be said of a {sorts[0]}{check.near_attribute(sorts[0], word, '')}"
            check.say(key, f"'{clip(own)}' to get has an unknown attribute, '{clip(word)}'. {expected}")
            continue
        read = check.value(f"'{clip(own)}' to get", attribute, value)
        if read is not None:
            found.append((attribute.sort, attribute.name, read))
    return tuple(found)

"""The names of a plan, gathered before anything is read: any value may name what stands further down."""

from __future__ import annotations

from collections.abc import Callable

from advisor.document import Node
from advisor.errors import clip
from advisor.plan.checking import Checker, form
from advisor.plan.values import is_unknown
from advisor.rulebase.vocabulary import fold

MAX_ENTITIES = 2_000  # of one sort
MAX_NAME = 60
_NOT_NAMES = frozenset({"unknown", "not known", "none"})

Pair = tuple[Node, Node]  # key and value


def section_names(check: Checker, root: Node, word: str, sort: str) -> dict[str, Pair]:
    """The named things of a section; empty where the section is missing or cannot be read."""
    node = root.get(word)
    if node is None or is_unknown(node):
        return {}
    if node.kind != "mapping":
        check.say(
            node,
            f"'{word}' is a {form(node)}. Expected names, each with what is known of it,"
            f" as in 'my-{sort}: {example_of(check, sort)}'.",
        )
        check.unsure.add(sort)
        return {}
    if _too_many(check, word, len(node.pairs), root.pairs[word][0], sort):
        return {}
    names = check.names.setdefault(sort, {})
    for own, (key, _) in node.pairs.items():
        _check_name(check, sort, own, key)
        names[own] = key.line
    return dict(node.pairs)


def _too_many(check: Checker, word: str, count: int, node: Node, sort: str) -> bool:
    if count <= MAX_ENTITIES:
        return False
    check.say(node, f"'{word}' has {count:,} entries. Expected at most {MAX_ENTITIES:,}.")
    check.unsure.add(sort)
    return True


def _check_name(check: Checker, sort: str, own: str, node: Node) -> None:
    allowed = all(letter.isalnum() or letter in " -_" for letter in own)
    if not own or own != own.strip() or not allowed or len(own) > MAX_NAME:
        check.say(
            node,
            f"the {sort} name '{clip(own)}' cannot be used. Expected at most {MAX_NAME} letters,"
            " digits, spaces, '-' and '_'.",
        )
    elif fold(own) in _NOT_NAMES:
        check.say(node, f"the {sort} name '{own}' cannot be used: it says that there is none. Expected a name.")


def step_names(check: Checker, root: Node) -> dict[str, Node]:
    """Each step's mapping by its id; where the author gave no id, the action's word made unique."""
    node = root.get("steps")
    if node is None or is_unknown(node) or (node.kind == "sequence" and not node.items):
        place = root if node is None else node
        check.say(place, "the plan has no steps. Expected 'steps', a list such as '- {do: sand, to: doors}'.")
        check.unsure.add("step")
        return {}
    if node.kind != "sequence":
        check.say(node, f"'steps' is a {form(node)}. Expected a list such as '- {{do: sand, to: doors}}'.")
        check.unsure.add("step")
        return {}
    if _too_many(check, "steps", len(node.items), node, "step"):
        return {}
    steps = [item for item in node.items if _is_step(check, item)]
    written = {id(item): own for item in steps if (own := _written_id(check, item)) is not None}
    generated = _generator(set(written.values()))
    names: dict[str, Node] = {}
    for number, item in enumerate(node.items, 1):
        if item.kind == "mapping":
            names[written.get(id(item)) or generated(_action_word(check, item, number))] = item
    check.names["step"] = {own: item.line for own, item in names.items()}
    return names


def _is_step(check: Checker, item: Node) -> bool:
    if item.kind == "mapping":
        return True
    shown = f"'{clip(item.text)}'" if item.kind == "scalar" else f"a {form(item)}"
    check.say(item, f"a step is {shown}. Expected a mapping such as '{{do: sand, to: doors}}'.")
    check.unsure.add("step")
    return False


def _written_id(check: Checker, item: Node) -> str | None:
    node = item.get("id")
    if node is None or is_unknown(node):
        return None
    own = node.text.strip()
    if node.kind != "scalar":
        check.say(node, f"a step's 'id' is a {form(node)}. Expected a word, such as 'prime-doors'.")
        return None
    first = check.names.setdefault("step", {})
    if own in first:
        place = f" (first on line {first[own]})" if first[own] else ""
        check.say(node, f"step '{clip(own)}' stands twice{place}. Expected an id of its own for each step.")
        return None
    _check_name(check, "step", own, node)
    first[own] = node.line
    return own


def _action_word(check: Checker, item: Node, place: int) -> str:
    for word, (_, node) in item.pairs.items():
        attribute = check.attribute("step", word)
        if attribute and attribute.name == "do" and node.kind == "scalar":
            found = check.vocabulary.taxonomies[attribute.of].said(node.text)
            return fold(found).replace(" ", "-") if found else f"step-{place}"
    return f"step-{place}"


def _generator(taken: set[str]) -> Callable[[str], str]:
    counts: dict[str, int] = {}

    def make(word: str) -> str:
        while True:
            counts[word] = counts.get(word, 0) + 1
            own = word if counts[word] == 1 else f"{word}-{counts[word]}"
            if own not in taken:
                taken.add(own)
                return own

    return make


def example_of(check: Checker, sort: str) -> str:
    """What one thing that may be said of the sort looks like, as a mapping."""
    known = check.vocabulary.attributes.get(sort, {}).values()
    examples = [attribute.example for attribute in known if attribute.example]
    return f"{{{examples[0]}}}" if examples else "{…}"

"""The plan document checked against the vocabulary: every mistake of a plan in one go."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from advisor.document import Node
from advisor.errors import InputError, clip, nearest
from advisor.plan.checking import Checker
from advisor.plan.model import Entity, Plan, Value
from advisor.plan.ordering import cycles, order_steps
from advisor.plan.tree import read_tree
from advisor.plan.values import is_unknown
from advisor.rulebase.vocabulary import Attribute, Vocabulary, fold

MAX_ENTITIES = 2_000  # of one sort
MAX_PAIRINGS = 20_000  # step x part x product: each becomes a fact
MAX_NAME = 60
SINGLE = ("house", "code", "crew", "budget")
SECTIONS = {"rooms": "room", "parts": "part", "products": "product"}
TOP = ("title", "note", "units", "house", "code", "rooms", "parts", "products", "crew", "steps", "budget")
UNITS = ("us", "metric")
# Without these nothing can be said of the thing, not even what to presume.
_NEEDED = {"room": "kind", "part": "kind", "product": "kind", "step": "do"}
_NOT_NAMES = frozenset({"unknown", "not known", "none"})

Pair = tuple[Node, Node]  # key and value


def read_plan(
    source: Path | str | Mapping[str, Any], vocabulary: Vocabulary, name: str | None = None
) -> Plan:
    """The plan in a file, a YAML text or a mapping; `name` stands in messages (see `tree.read_tree`).

    Raises InputError, which lists every mistake with its line, what was expected and the nearest name.
    """
    root = read_tree(source, name)
    if root.kind != "mapping":
        example = "'steps: [{do: sand, to: doors}]'"
        raise InputError(
            [root.problem(f"is not a plan. Expected a mapping with 'parts' and 'steps', as in {example}.")]
        )
    reader = _Reader(root, vocabulary)
    plan = reader.plan()
    if reader.check.problems:
        raise InputError(reader.check.problems)
    return plan


class _Reader:
    """One reading of one plan. Names are gathered first, because anything may name what stands below it."""

    def __init__(self, root: Node, vocabulary: Vocabulary) -> None:
        self.root = root
        self.check = Checker(vocabulary, root.file)

    def plan(self) -> Plan:
        """The plan as far as it can be read; what is wrong is noted in `check`."""
        self._top()
        listed = {sort: self._named(word, sort) for word, sort in SECTIONS.items()}
        steps = self._step_names()
        entities = {sort: {sort: self._alone(sort)} for sort in SINGLE}
        for sort, pairs in listed.items():
            entities[sort] = {own: self._entity(sort, own, *pair) for own, pair in pairs.items()}
        entities["step"] = {own: self._entity("step", own, node, node) for own, node in steps.items()}
        ordered = self._ordered(list(entities["step"].values()))
        title = self.check.text("the plan", "title", self.root.get("title"))
        note = self.check.text("the plan", "note", self.root.get("note"))
        return Plan(self.root.file, title, self._units(), entities, ordered, self.root, note)

    def _top(self) -> None:
        for word, (key, _) in self.root.pairs.items():
            if word not in TOP:
                near = nearest(word[:80], TOP)
                hint = f"; nearest: '{near}'" if near else ""
                self.check.say(
                    key, f"'{clip(word)}' is not a section of a plan. Expected one of {', '.join(TOP)}{hint}."
                )

    def _units(self) -> str:
        node = self.root.get("units")
        if node is None or is_unknown(node):
            return UNITS[0]
        word = node.text.strip().lower()
        if word not in UNITS:
            self.check.say(node, f"'units' is '{clip(node.text)}'. Expected 'us' or 'metric'.")
            return UNITS[0]
        return word

    # names

    def _named(self, word: str, sort: str) -> dict[str, Pair]:
        """The named things of a section; empty where the section is missing or cannot be read."""
        node = self.root.get(word)
        if node is None or is_unknown(node):
            return {}
        if node.kind != "mapping":
            example = f"{{kind: {'kitchen' if sort == 'room' else '…'}}}"
            self.check.say(
                node,
                f"'{word}' is a {_form(node)}. Expected names, each with what is known of it,"
                f" as in 'my {sort}: {example}'.",
            )
            self.check.unsure.add(sort)
            return {}
        if self._too_many(word, len(node.pairs), self.root.pairs[word][0], sort):
            return {}
        names = self.check.names.setdefault(sort, {})
        for own, (key, _) in node.pairs.items():
            self._check_name(sort, own, key)
            names[own] = key.line
        return dict(node.pairs)

    def _too_many(self, word: str, count: int, node: Node, sort: str) -> bool:
        if count <= MAX_ENTITIES:
            return False
        self.check.say(node, f"'{word}' has {count:,} entries. Expected at most {MAX_ENTITIES:,}.")
        self.check.unsure.add(sort)
        return True

    def _check_name(self, sort: str, own: str, node: Node) -> None:
        allowed = all(letter.isalnum() or letter in " -_" for letter in own)
        if not own or own != own.strip() or not allowed or len(own) > MAX_NAME:
            self.check.say(
                node,
                f"the {sort} name '{clip(own)}' cannot be used. Expected at most {MAX_NAME} letters,"
                " digits, spaces, '-' and '_'.",
            )
        elif fold(own) in _NOT_NAMES:
            self.check.say(
                node, f"the {sort} name '{own}' cannot be used: it says that there is none. Expected a name."
            )

    def _step_names(self) -> dict[str, Node]:
        """Each step's mapping by its id; where the author gave no id, the action's word made unique."""
        node = self.root.get("steps")
        if node is None or is_unknown(node) or (node.kind == "sequence" and not node.items):
            place = self.root if node is None else node
            self.check.say(
                place, "the plan has no steps. Expected 'steps', a list such as '- {do: sand, to: doors}'."
            )
            self.check.unsure.add("step")
            return {}
        if node.kind != "sequence":
            self.check.say(
                node, f"'steps' is a {_form(node)}. Expected a list such as '- {{do: sand, to: doors}}'."
            )
            self.check.unsure.add("step")
            return {}
        if self._too_many("steps", len(node.items), node, "step"):
            return {}
        steps = [item for item in node.items if self._is_step(item)]
        written = {id(item): own for item in steps if (own := self._written_id(item)) is not None}
        generated = _generator(set(written.values()))
        names = {written.get(id(item)) or generated(self._action_word(item)): item for item in steps}
        self.check.names["step"] = {own: item.line for own, item in names.items()}
        return names

    def _is_step(self, item: Node) -> bool:
        if item.kind == "mapping":
            return True
        shown = f"'{clip(item.text)}'" if item.kind == "scalar" else f"a {_form(item)}"
        self.check.say(item, f"a step is {shown}. Expected a mapping such as '{{do: sand, to: doors}}'.")
        self.check.unsure.add("step")
        return False

    def _written_id(self, item: Node) -> str | None:
        node = item.get("id")
        if node is None or is_unknown(node):
            return None
        own = node.text.strip()
        if node.kind != "scalar":
            self.check.say(node, f"a step's 'id' is a {_form(node)}. Expected a word, such as 'prime-doors'.")
            return None
        first = self.check.names.setdefault("step", {})
        if own in first:
            place = f" (first on line {first[own]})" if first[own] else ""
            self.check.say(
                node, f"step '{clip(own)}' stands twice{place}. Expected an id of its own for each step."
            )
            return None
        self._check_name("step", own, node)
        first[own] = node.line
        return own

    def _action_word(self, item: Node) -> str:
        for word, (_, node) in item.pairs.items():
            attribute = self.check.attribute("step", word)
            if attribute and attribute.name == "do" and node.kind == "scalar":
                found = self.check.vocabulary.taxonomies[attribute.of].find(node.text)
                return fold(found).replace(" ", "-") if found else "step"
        return "step"

    # entities

    def _alone(self, sort: str) -> Entity:
        pair = self.root.pairs.get(sort)
        return self._entity(sort, sort, *pair) if pair else Entity(sort, sort, {}, 0)

    def _entity(self, sort: str, own: str, key: Node, node: Node) -> Entity:
        who = sort if sort in SINGLE else f"{sort} '{clip(own)}'"
        entity = Entity(sort, own, {}, key.line)
        if node.kind != "mapping" and not is_unknown(node):
            shown = f"'{clip(node.text)}'" if node.kind == "scalar" else f"a {_form(node)}"
            self.check.say(
                node, f"{who} is {shown}. Expected what is known of it, {_example(self.check, sort)}."
            )
            return entity
        said: dict[str, str] = {}
        for word, (place, value) in node.pairs.items():
            if word == "note":
                entity.note = self.check.text(who, word, value)
            elif not (sort == "step" and word == "id"):
                self._say_of(entity, who, said, word, place, value)
        needed = _NEEDED.get(sort)
        if needed and not said.get(needed):
            self._miss(who, sort, needed, key)
        return entity

    def _say_of(
        self, entity: Entity, who: str, said: dict[str, str], word: str, key: Node, node: Node
    ) -> None:
        attribute = self.check.attribute(entity.sort, word)
        if attribute is None:
            near = self.check.near(word, f"attribute:{entity.sort}")
            expected = f"Expected something that may be said of a {entity.sort}{near}."
            self.check.say(key, f"{who} has an unknown attribute, '{clip(word)}'. {expected}")
        elif attribute.name in said:
            self.check.say(
                key, f"{who} says '{attribute.name}' twice; '{clip(word)}' means the same. Expected it once."
            )
        else:
            said[attribute.name] = "" if is_unknown(node) else word
            value = self.check.value(who, attribute, node)
            if value is not None:
                entity.values[attribute.name] = value

    def _miss(self, who: str, sort: str, needed: str, node: Node) -> None:
        attribute = self.check.attribute(sort, needed)
        wanted = f"a kind of {sort}" if needed == "kind" else "an action"
        example = f", as in '{attribute.example}'" if attribute and attribute.example else ""
        self.check.say(node, f"{who} has no '{needed}'. Expected {wanted}{example}.")

    # order

    def _ordered(self, steps: list[Entity]) -> list[Entity]:
        pairings = 0
        for step in steps:
            pairings += _members(step.values.get("to")) * _members(step.values.get("using"))
            if pairings > MAX_PAIRINGS:
                place = Node(self.root.file, step.line, 1, "mapping")
                self.check.say(
                    place,
                    f"with step '{clip(step.id)}' the steps pair more than {MAX_PAIRINGS:,} parts and"
                    " products. Expected fewer: group parts that are treated alike.",
                )
                break
        rings = cycles(steps)
        lines = {step.id: step.line for step in steps}
        for ring in rings:
            place = Node(self.root.file, lines[ring[0]], 1, "mapping")
            self.check.say(place, _ring(ring))
        return steps if rings else order_steps(steps)


def _ring(ring: list[str]) -> str:
    if len(ring) == 1:
        return f"step '{clip(ring[0])}' comes 'after' itself. Expected the name of an earlier step."
    shown = [f"'{clip(own)}'" for own in ring[:10]]
    words = (
        ", ".join(shown[:-1]) + f" and {shown[-1]}" if len(ring) <= 10 else ", ".join(shown) + " and others"
    )
    return f"steps {words} wait for each other in a ring ('after'). Expected an order: take one 'after' out."


def _members(value: Value | None) -> int:
    return max(1, len(value.plain)) if value and isinstance(value.plain, tuple) else 1


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


def _example(check: Checker, sort: str) -> str:
    known: Mapping[str, Attribute] = check.vocabulary.attributes.get(sort, {})
    examples = [attribute.example for attribute in known.values() if attribute.example]
    return f"such as '{{{examples[0]}}}'" if examples else "as a mapping"


def _form(node: Node) -> str:
    return {"sequence": "list", "scalar": "single word"}.get(node.kind, node.kind)

"""The plan document checked against the vocabulary: every mistake of a plan in one go."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from advisor.document import Node
from advisor.errors import InputError, clip, nearest
from advisor.plan.checking import Checker, form
from advisor.plan.meaning import say_kind_that_is_told, say_what_is_meant, say_what_is_said_too, say_what_is_worn
from advisor.plan.model import Entity, Plan, Value
from advisor.plan.moneys import say_other_money, say_own_dollars
from advisor.plan.names import example_of, section_names, step_names
from advisor.plan.ordering import cycles, order_steps
from advisor.plan.pieces import Cut, loose_ends
from advisor.plan.place import place_of
from advisor.plan.planned import read_to_find_out, read_to_get
from advisor.plan.tree import read_tree
from advisor.plan.values import is_unknown
from advisor.rulebase.countries import HOME
from advisor.rulebase.vocabulary import Vocabulary
from advisor.showing import System

MAX_PAIRINGS = 20_000  # step x part x product: each becomes a fact
SINGLE = ("house", "code", "crew", "budget")
SECTIONS = {"rooms": "room", "parts": "part", "products": "product"}
TOP = (
    "title", "note", "units", "house", "code", "rooms", "parts", "products", "crew", "steps", "to_get", "to_find_out",
    "budget",
)  # fmt: skip
UNITS = ("us", "metric")
# Without these nothing can be said of the thing, not even what to presume.
NEEDED = {"room": "kind", "part": "kind", "product": "kind", "step": "do"}


def read_plan(source: Path | str | Mapping[str, Any], vocabulary: Vocabulary, name: str | None = None) -> Plan:
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
        listed = {sort: section_names(self.check, self.root, word, sort) for word, sort in SECTIONS.items()}
        steps = step_names(self.check, self.root)
        entities = {sort: {sort: self._alone(sort)} for sort in SINGLE}
        for sort, pairs in listed.items():
            entities[sort] = {own: self._entity(sort, own, *pair) for own, pair in pairs.items()}
        entities["step"] = {own: self._entity("step", own, node, node) for own, node in steps.items()}
        for sort in SECTIONS.values():
            for thing in entities[sort].values():
                say_kind_that_is_told(thing, self.check.vocabulary)
                say_what_is_said_too(thing, self.check.vocabulary)
        for step in entities["step"].values():
            say_what_is_worn(step, self.check.vocabulary)
            say_what_is_said_too(step, self.check.vocabulary)
            say_what_is_meant(step, entities, self.check.vocabulary)
        ordered = self._ordered(list(entities["step"].values()))
        title = self.check.text("the plan", "title", self.root.get("title"))
        note = self.check.text("the plan", "note", self.root.get("note"))
        say_own_dollars(entities, self.check.vocabulary)
        money = say_other_money(entities, self.check.vocabulary)
        got, found = read_to_get(self.check, self.root, entities), read_to_find_out(self.check, self.root, entities)
        written = self._units()
        place = place_of(entities, written, money, self.check.vocabulary, left_open=self._country_open())
        units = System(written or (UNITS[0] if place.code == HOME else UNITS[1]), money)
        return Plan(self.root.file, title, units, entities, ordered, self.root, note, got, found, place)

    def _top(self) -> None:
        for word, (key, _) in self.root.pairs.items():
            if word not in TOP:
                said = self.check.answers.section(word)
                near = "" if said else nearest(word[:80], TOP)
                hint = f"; nearest: '{near}'" if near else ""
                self.check.say(
                    key, f"'{clip(word)}' is not a section of a plan. Expected one of {', '.join(TOP)}{hint}.{said}"
                )

    def _units(self) -> str:
        """What the plan says; empty where it leaves them to the country."""
        node = self.root.get("units")
        if node is None or is_unknown(node):
            return ""
        word = node.text.strip().lower()
        if word not in UNITS:
            self.check.say(node, f"'units' is '{clip(node.text)}'. Expected 'us' or 'metric'.")
            return ""
        return word

    def _country_open(self) -> bool:
        """Whether the plan says outright that the country is not known: then none is presumed."""
        house = self.root.get("house")
        node = house.get("country") if house is not None and house.kind == "mapping" else None
        return node is not None and is_unknown(node)

    def _alone(self, sort: str) -> Entity:
        pair = self.root.pairs.get(sort)
        return self._entity(sort, sort, *pair) if pair else Entity(sort, sort, {}, 0)

    def _entity(self, sort: str, own: str, key: Node, node: Node) -> Entity:
        who = sort if sort in SINGLE else f"{sort} '{clip(own)}'"
        entity = Entity(sort, own, {}, key.line)
        if node.kind != "mapping" and not is_unknown(node):
            shown = f"'{clip(node.text)}'" if node.kind == "scalar" else f"a {form(node)}"
            self.check.say(
                node,
                f"{who} is {shown}. Expected what is known of it, such as '{example_of(self.check, sort)}'.",
            )
            return entity
        said: dict[str, str] = {}
        loose = loose_ends(node, lambda word: self._holds_words(sort, word))
        for word, (place, value) in node.pairs.items():
            if word in loose:
                if message := self._cut_text(sort, loose[word], node):
                    self.check.say(place, f"{who}: {message}")
            elif word == "note":
                entity.note = self.check.text(who, word, value)
            elif sort == "step" and word == "if":
                self._only_if(entity, who, said, place, value)
            elif not (sort == "step" and word == "id"):
                self._say_of(entity, who, said, word, place, value)
        needed = NEEDED.get(sort)
        if needed and (needed not in said or is_unknown(node.pairs[said[needed]][1])):
            self._miss(who, sort, needed, key)
        return entity

    def _say_of(self, entity: Entity, who: str, said: dict[str, str], word: str, key: Node, node: Node) -> None:
        attribute = self.check.attribute(entity.sort, word)
        if attribute is None:
            kind = entity.values.get("kind")
            near = self.check.near_attribute(entity.sort, word, str(kind.plain) if kind else "", node.text)
            expected = f"Expected something that may be said of a {entity.sort}{near}"
            self.check.say(key, f"{who} has an unknown attribute, '{clip(word)}'. {expected}")
        elif attribute.name in said:
            self.check.say(
                key,
                f"{who} says '{attribute.name}' twice, as '{clip(said[attribute.name])}'"
                f" and as '{clip(word)}'. Expected it once.",
            )
        else:
            said[attribute.name] = word
            value = self.check.value(who, attribute, node)
            if value is not None:
                entity.values[attribute.name] = value

    def _only_if(self, entity: Entity, who: str, said: dict[str, str], key: Node, node: Node) -> None:
        """`if: {result of TEST: positive}` as the two attributes that it stands for."""
        pairs = list(node.pairs.items()) if node.kind == "mapping" else []
        start = "result of "
        if len(pairs) != 1 or not pairs[0][0].startswith(start):
            self.check.say(
                key, f"{who}: 'if' expects a test and its result, as in 'if: {{result of try-lead: positive}}'."
            )
            return
        ((word, (at, value)),) = pairs
        test = at.scalar(word[len(start) :].strip())
        self._say_of(entity, who, said, "if_test", at, test)
        self._say_of(entity, who, said, "if_result", at, value)

    def _holds_words(self, sort: str, word: str) -> bool | None:
        attribute = self.check.attribute(sort, word)
        if attribute is None:
            return True if word == "note" else (False if (sort, word) == ("step", "id") else None)
        return attribute.type == "text" or attribute.many

    def _cut_text(self, sort: str, cut: Cut, node: Node) -> str:
        """What to say of words that a comma cut off a value in braces; nothing after the first piece of it."""
        attribute = self.check.attribute(sort, cut.key)
        many = attribute is not None and attribute.many
        return cut.message(node.pairs[cut.key][1].text, many=many) if cut.first else ""

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
            self.check.say(place, _ring(ring, lines))
        return steps if rings else order_steps(steps)


def _ring(ring: list[str], lines: dict[str, int]) -> str:
    if len(ring) == 1:
        return f"step '{clip(ring[0])}' comes 'after' itself. Expected the name of an earlier step."
    # The message begins with the line of the first; a plan that is no text has no lines.
    shown = [f"'{clip(own)}'" + (f" (line {lines[own]})" if lines[own] else "") for own in ring[:10]]
    words = ", ".join(shown[:-1]) + f" and {shown[-1]}" if len(ring) <= 10 else ", ".join(shown) + " and others"
    return f"steps {words} wait for each other in a ring ('after'). Expected an order: take one 'after' out."


def _members(value: Value | None) -> int:
    return max(1, len(value.plain)) if value and isinstance(value.plain, tuple) else 1

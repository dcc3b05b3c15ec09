"""What a rule being read can refer to: kinds of fact, words, tables, and the variables bound so far."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct, field

from advisor.document import Node
from advisor.errors import Problem, allowed, clip, did_you_mean
from advisor.rulebase.model import Kind, Operand, State, Var
from advisor.rulebase.values import BadValue, fits, read_literal
from advisor.rulebase.vocabulary import Vocabulary


class Scope(Struct):
    """The surroundings of one rule while it is read; mistakes are gathered in `problems`."""

    rule: str
    vocabulary: Vocabulary
    kinds: Mapping[str, Kind]
    problems: list[Problem]
    types: dict[str, str] = field(default_factory=dict)
    used: set[str] = field(default_factory=set)
    states: Mapping[str, State] = field(default_factory=dict)
    harms: Mapping[str, Any] = field(default_factory=dict)  # see `advisor.rulebase.harm`

    def say(self, node: Node, message: str) -> None:
        """Record a mistake at the node."""
        self.problems.append(node.problem(f"rule '{clip(self.rule)}': {message}"))

    def inner(self) -> Scope:
        """A scope for conditions whose variables do not come out."""
        return Scope(self.rule, self.vocabulary, self.kinds, self.problems, dict(self.types), self.used, self.states)

    def variable(self, node: Node, text: str, want: str | None = None) -> Var:
        """A variable that must be bound already, and of a type that fits."""
        name = text[1:]
        self.used.add(name)
        if name not in self.types:
            self.say(node, f"variable '{clip(text)}' is not bound by an earlier condition.{self._near(name)}")
        elif want and not fits(self.types[name], want):
            have = self.types[name]
            self.say(node, f"variable '{text}' is a {plain_type(have)}. Expected a {plain_type(want)}.")
        return Var(name)

    def operand(self, node: Node, want: str) -> Operand:
        """A variable or a literal of the wanted type."""
        if node.kind != "scalar":
            self.say(node, f"expected a {plain_type(want)}, found a {node.kind}.")
            return ""
        if node.text.startswith("$"):
            return self.variable(node, node.text, want)
        try:
            return read_literal(node.text, want, self.vocabulary)
        except BadValue as error:
            self.say(node, f"'{clip(node.text)}' does not fit. {error}")
            return ""

    def bind(self, node: Node, text: str, kind: str) -> str:
        """Bind a variable to a type (or check that it has it already); returns its name."""
        name = text[1:]
        if not name.isidentifier():
            self.say(node, f"'{clip(text)}' is no variable. Expected a name such as '$step'.")
        if name in self.types:
            self.used.add(name)
            if not fits(self.types[name], kind):
                have = plain_type(self.types[name])
                self.say(node, f"variable '{text}' is a {have} already. Expected a {plain_type(kind)}.")
        else:
            self.types[name] = kind
        return name

    def attributes(self, name: str, kind: Kind) -> str:
        """What a message adds to an attribute that a kind of fact has not: the nearest, and those that it has."""
        where = f"'advisor vocabulary {kind.name}' lists them." if not kind.deduced else ""
        return allowed(name, kind.attributes, where)

    def _near(self, name: str) -> str:
        return did_you_mean(name, self.types)


def plain_type(kind: str) -> str:
    """A type in words."""
    head, _, tail = kind.partition(":")
    names = {
        "term": tail.replace("_", " "),
        "ref": f"{tail} of the plan",
        "list": f"list of {tail}",
        "yes_no": "yes or no",
    }
    return names.get(head, head.replace("_", " "))

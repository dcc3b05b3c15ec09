"""Words that no list holds, with what to write instead: everyday names for makers' names, dangers, other keys."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from advisor.document import Node

_KEYS = frozenset({"write", "why", "find", "in"})


class Instead(Struct, frozen=True):
    """What to write for a word, why, and in which lists (or `attribute`) the answer holds; none means all."""

    write: str
    why: str
    finds: bool  # a danger: the advisor works it out, nobody writes it
    within: tuple[str, ...]

    def holds(self, where: str) -> bool:
        """Whether the answer is one for that list."""
        return not self.within or where in self.within

    def sentence(self, word: str) -> str:
        """The answer as a sentence about the word."""
        if self.finds:
            return f"'{word}' is a danger, and those the advisor works out: tell what is done, with what and where."
        return f"{self.why[:1].upper()}{self.why[1:]} write '{self.write}'." if self.why else f"Write '{self.write}'."


def read_instead(root: Node, known: dict[str, Instead], fold: Callable[[str], str], say: Callable[..., None]) -> None:
    """Add the words of an `instead:` file to `known`, by their folded spelling."""
    listed = root.get("instead")
    for word, (key, spec) in (listed.pairs if listed else {}).items():
        for extra in sorted(set(spec.pairs) - _KEYS):
            say(key.problem(f"'{word}' has an unknown key '{extra}'."))

        def text(name: str, spec: Node = spec) -> str:
            node = spec.get(name)
            return node.text if node else ""

        within = spec.get("in")
        lists = () if within is None else tuple(n.text for n in within.items) or (within.text,)
        if not text("write") and text("find") != "yes":
            say(key.problem(f"'{word}' says nothing to write instead."))
        if fold(word) in known:
            say(key.problem(f"'{word}' stands twice."))
        known[fold(word)] = Instead(text("write"), text("why"), text("find") == "yes", lists)


def read_grammar(root: Node, known: dict[str, tuple[str, ...]]) -> None:
    """Add the word lists of a `grammar:` file to `known`, by name."""
    listed = root.get("grammar")
    for name, (_, words) in (listed.pairs if listed else {}).items():
        known[name] = tuple(one.text for one in words.items)

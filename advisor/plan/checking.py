"""What is common to reading every section: the vocabulary, the names of the plan, the mistakes so far."""

from __future__ import annotations

from advisor.document import Node
from advisor.errors import InputError, Problem, clip, nearest
from advisor.plain import Plain
from advisor.plan.loose import why_presumed
from advisor.plan.model import Value
from advisor.plan.near import Near
from advisor.plan.values import FEW, BadValueError, checked_text, is_unknown, profile_value, scalar_value
from advisor.rulebase.vocabulary import Attribute, Vocabulary, fold

MAX_MISTAKES = 500
MAX_MEMBERS = 2_000  # of one list
_NOTHING = frozenset({"none", "no", "nothing", "nobody", "no one"})  # `pets: none` is a list with nothing in it


class Checker:
    """Reads values, and collects what is wrong instead of stopping at it."""

    def __init__(self, vocabulary: Vocabulary, file: str) -> None:
        self.vocabulary = vocabulary
        self.file = file
        self.problems: list[Problem] = []
        self.names: dict[str, dict[str, int]] = {}  # sort to its ids, each with its line
        self.unsure: set[str] = set()  # sorts whose names could not be read: no reference to them is judged
        self._attributes: dict[tuple[str, str], Attribute | None] = {}
        self._near: dict[tuple[str, str, str], str] = {}
        self.answers = Near(vocabulary)
        self._folded: dict[str, dict[str, list[str]]] = {}

    def say(self, node: Node, message: str) -> None:
        """Note a mistake; InputError once there are more than anyone would read."""
        if len(self.problems) >= MAX_MISTAKES:
            more = f"has more than {MAX_MISTAKES} mistakes; the first {MAX_MISTAKES} are listed."
            raise InputError([*self.problems, Problem(self.file, 0, 0, more)])
        self.problems.append(node.problem(message))

    def attribute(self, sort: str, word: str) -> Attribute | None:
        """The attribute that a word means, remembered: the vocabulary's own search is linear."""
        key = (sort, word)
        if key not in self._attributes:
            self._attributes[key] = self.vocabulary.attribute(sort, word)
        return self._attributes[key]

    def near(self, attribute: Attribute, word: str) -> str:
        """The end of a sentence on a word that is no term: what was meant, and the command that lists the words."""
        key = (word[:80], attribute.sort, attribute.name)
        if key not in self._near:
            few = len(self.vocabulary.taxonomies[attribute.of].terms) <= FEW
            other = attribute.sort == "step" and attribute.name != "do"
            named = self.answers.reference(attribute, word, self.names) if other else ""  # a thing of the plan
            self._near[key] = named or self.answers.term(attribute, word) + ("" if few else see(attribute.of))
        return self._near[key]

    def near_attribute(self, sort: str, word: str, kind: str, value: str | None = None) -> str:
        """The same for a word that may not be said of the sort; `kind` is what the thing itself is, if known."""
        key = (word[:80], sort, "=" + ("" if value is None else value[:80]))
        if key not in self._near:
            self._near[key] = self.answers.attribute(sort, word, value)
        return self._near[key] + see(kind or sort)

    def text(self, who: str, name: str, node: Node | None) -> str:
        """Free text at the key `name`, empty where there is none."""
        if node is None:
            return ""
        if node.kind != "scalar":
            self.say(node, f"{who}: '{name}' is a {form(node)}. Expected some words.")
            return ""
        try:
            return checked_text(name, node.text.strip())
        except BadValueError as error:
            self.say(node, f"{who}{error}")
            return ""

    def value(self, who: str, attribute: Attribute, node: Node) -> Value | None:
        """The value of an attribute; None where it is unknown or a mistake (which is then noted)."""
        if is_unknown(node):
            return None
        if attribute.many:
            return self._list(who, attribute, node)
        plain = self._single(who, attribute, node)
        if plain is None:
            return None
        text = _written(node)
        return Value(plain, text, node.line, node.column, why_presumed(attribute, text))

    def _list(self, who: str, attribute: Attribute, node: Node) -> Value | None:
        members = node.items if node.kind == "sequence" else [node]
        if len(members) > MAX_MEMBERS:
            count = f"{len(members):,}"
            self.say(node, f"{who}: '{attribute.name}' lists {count} things. Expected at most {MAX_MEMBERS:,}.")
            return None
        if len(members) == 1 and self._says_none(attribute, members[0]):
            members = []
        told = [member for member in members if not is_unknown(member)]
        found = [self._single(who, attribute, member) for member in told]
        if None in found or (members and not told):
            return None
        plain = tuple(dict.fromkeys(one for one in found if one is not None))
        return Value(plain, ", ".join(map(_written, members)) or node.text, node.line, node.column)

    def _says_none(self, attribute: Attribute, node: Node) -> bool:
        return node.kind == "scalar" and fold(node.text) in _NOTHING and not self._names(attribute, node.text)

    def _names(self, attribute: Attribute, text: str) -> bool:
        """Whether the word stands for something of the attribute's own, such as the term `none`."""
        if attribute.type == "term":
            return self.vocabulary.taxonomies[attribute.of].said(text) is not None
        return attribute.type == "ref" and text in self.names.get(attribute.of, {})

    def _single(self, who: str, attribute: Attribute, node: Node) -> Plain | None:
        try:
            if attribute.type == "profile":
                return profile_value(attribute, node)
            if node.kind != "scalar":
                raise BadValueError(f": '{attribute.name}' is a {form(node)}. Expected {attribute.expected}.")
            if attribute.type == "ref":
                return self._reference(attribute, node.text.strip())
            return scalar_value(attribute, node.text, self.vocabulary, self.near)
        except BadValueError as error:
            told = attribute.type in ("term", "ref")  # these end with their own hint
            self.say(node, f"{who}{error}" if told else f"{who}{error}{see(attribute.name)}")
            return None

    def _reference(self, attribute: Attribute, text: str) -> str:
        sort = attribute.of
        names = self.names.get(sort, {})
        if text in names or sort in self.unsure:
            return text
        if sort not in self._folded:
            self._folded[sort] = {}
            for name in names:
                self._folded[sort].setdefault(fold(name), []).append(name)
        same = self._folded[sort].get(fold(text), [])
        if len(same) == 1:
            return same[0]
        near = self.answers.reference(attribute, text, self.names, nearest(text[:80], list(names)))
        near = near or f"{there_are(list(names))}."
        raise BadValueError(f" names an unknown {sort}, '{clip(text)}'. Expected {attribute.expected}{near}")


def there_are(names: list[str], most: int = 8) -> str:
    """The names that there are, where none is near: `; there are 'doors' and 'walls'`."""
    if not names:
        return "; there is none"
    shown = [f"'{clip(name)}'" for name in names[:most]]
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return f"; there {'is' if len(names) == 1 else 'are'} {', '.join(shown)}{more}"


def see(word: str) -> str:
    """The command that tells more."""
    return f" See 'advisor vocabulary {word}'."


def form(node: Node) -> str:
    """What a node is, in words."""
    return {"sequence": "list", "scalar": "single word"}.get(node.kind, node.kind)


def _written(node: Node) -> str:
    if node.kind == "scalar":
        return node.text.strip()
    if node.kind == "sequence":
        return ", ".join(map(_written, node.items))
    return ", ".join(f"{word}: {_written(value)}" for word, (_, value) in node.pairs.items())

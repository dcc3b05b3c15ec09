"""What a word that is not taken may have meant: looked for by meaning first, by letters last, or not guessed at.

First what stands written for the word (`instead.yaml`), then the other lists and sorts, then the word that it
turns on (the last of a noun, the first of a verb), and only then one slip of the finger. Opposites are never offered.
"""

from __future__ import annotations

from advisor.errors import clip
from advisor.plan.phrases import Phrases
from advisor.rulebase.vocabulary import SORTS, Attribute, Taxonomy, Vocabulary, fold

_SECTION = {"room": "rooms:", "part": "parts:", "product": "products:", "step": "steps:"}


class Near:
    """Answers for words that a plan may not use, of one vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.phrases = Phrases(vocabulary.grammar)

    def term(self, attribute: Attribute, text: str) -> str:
        """The end of `Expected a material…`: `; nearest: 'pine'.`, `. Write …` or a full stop."""
        word = text.strip()[:80]
        own = self.vocabulary.taxonomies[attribute.of]
        if said := self._instead(word, attribute.of):
            return f". {said}"
        if said := self._together(attribute, own, word) or self._elsewhere(attribute, word):
            return f". {said}"
        near = self.phrases.head(own, word, verb=attribute.of == "action") or self.phrases.slip(word, own.spoken())
        if near:
            return f"; nearest: '{near}'."
        return f", such as '{attribute.example}'." if attribute.example else "."

    def attribute(self, sort: str, text: str) -> str:
        """The same for a key that may not be said of the sort."""
        word = text.strip()[:80]
        if said := self._instead(word, "attribute"):
            return f". {said}"
        owners = [other for other in SORTS if other != sort and self.vocabulary.attribute(other, word)]
        if owners:
            names = " or ".join(f"the {one}" if one not in _SECTION else f"a {one}" for one in owners[:3])
            return f". It belongs to {names}: write '{clip(word)}' under '{_SECTION.get(owners[0], owners[0] + ':')}'."
        known = self.vocabulary.attributes.get(sort, {}).values()
        spellings = [spelling for one in known for spelling in (one.name, *one.aliases)]
        if near := self.phrases.slip(word, spellings) or self.phrases.ending(word, spellings):
            return f"; nearest: '{near}'."
        for one in known:
            if one.type == "term" and one.name != "kind" and self.vocabulary.taxonomies[one.of].said(word):
                return f". '{clip(word)}' is {_a(one.of)}: write '{one.name}: {clip(word)}'."
        return "."

    def _instead(self, word: str, where: str) -> str:
        for form in (fold(word), fold(word).removesuffix("s")):
            found = self.vocabulary.instead.get(form)
            if found and found.holds(where):
                return found.sentence(clip(word))
        return ""

    def _together(self, attribute: Attribute, own: Taxonomy, word: str) -> str:
        """`latex paint` is a kind and a binder, `oak door` a kind and a material."""
        if attribute.name != "kind":
            return ""
        words = word.split()
        others = [one for one in self.vocabulary.attributes.get(attribute.sort, {}).values() if one.type == "term"]
        for cut in range(1, len(words)):
            first, last = " ".join(words[:cut]), " ".join(words[cut:])
            if not own.said(last):
                continue
            for name in self.vocabulary.grammar.get("before a kind", ()):
                for one in others:
                    if one.name == name and self.vocabulary.taxonomies[one.of].said(first):
                        return f"Write 'kind: {clip(last)}, {name}: {clip(first)}'."
        return ""

    def _elsewhere(self, attribute: Attribute, word: str) -> str:
        """The word in another list: of the same sort of thing first, then of others."""
        sorts = dict.fromkeys((attribute.sort, "house", "room", "part", "product", "step", *SORTS))
        for sort in sorts:
            for one in self.vocabulary.attributes.get(sort, {}).values():
                if one.type != "term" or one.of == attribute.of or self._idle(attribute, one):
                    continue
                if self.vocabulary.taxonomies[one.of].said(word):
                    place = "" if sort == attribute.sort else f" of {_a(sort)}"
                    return f"'{clip(word)}' is {_a(one.of)}{place}: write '{one.name}: {clip(word)}'."
        return ""

    def _idle(self, asked: Attribute, other: Attribute) -> bool:
        """Whether an answer from the other list would be idle: words of every use, or of another trade altogether."""
        if other.of in self.vocabulary.grammar.get("everyday lists", ()):
            return True
        if other.name == "kind" and other.sort == asked.sort:
            return True
        if asked.name == "wearing":
            return other.of != "tool"
        return asked.of == "who" or (asked.of == "condition" and other.of in ("action", "method"))


def _a(name: str) -> str:
    words = {"who": "kind of worker", "product_kind": "kind of product", "part_kind": "kind of part"}
    said = words.get(name, name.replace("_", " "))
    return f"{'an' if said[:1] in 'aeiou' else 'a'} {said}"

"""What a word that is not taken may have meant: looked for by meaning first, by letters last, or not guessed at.

First what stands written for the word (`instead.yaml`), then the other lists and sorts, then the word that it
turns on (the last of a noun, the first of a verb), and only then one slip of the finger. Opposites are never offered.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from advisor.errors import clip
from advisor.plan.phrases import Phrases
from advisor.plan.values import YES_NO
from advisor.rulebase.vocabulary import SORTS, Attribute, Taxonomy, Vocabulary, fold

# How a thing of one sort says a thing of another.
_NAMED = {
    ("part", "room"): "room",
    ("part", "part"): "in",
    ("step", "room"): "in",
    ("step", "part"): "to",
    ("step", "product"): "using",
    ("step", "step"): "after",
}
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
        owners = [other for other in SORTS if other != sort and self._may_own(other, sort, word)]
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

    def _may_own(self, other: str, sort: str, word: str) -> bool:
        """Whether a word that one sort may not say may belong to the other: by its own name, or among alike sorts.

        Other spellings mean many things: the state of a door is not that of the house.
        """
        found = self.vocabulary.attribute(other, word)
        if found is None or found.name == "kind":
            return False
        alike = (other in _SECTION) == (sort in _SECTION)
        return alike or (fold(found.name) == fold(word) and sort in _SECTION)

    def section(self, text: str) -> str:
        """The same for a word that is no section: another name of one, or a thing that belongs into one."""
        word = text.strip()[:80]
        if said := self._instead(word, "section"):
            return f" {said}"
        for sort in ("room", "part", "product"):
            if self.vocabulary.taxonomies[f"{sort}_kind"].said(word):
                return f" '{clip(word)}' is a kind of {sort}: write it under '{_SECTION[sort]}'."
        return ""

    def reference(
        self, attribute: Attribute, text: str, names: Mapping[str, Collection[str]], near: str | None = None
    ) -> str:
        """The same for a name that is none of the sort wanted: of another sort, or of a thing that is not listed."""
        word = text.strip()[:80]
        for sort in ("part", "room", "product", "step"):
            key = _NAMED.get((attribute.sort, sort))
            if key and sort != attribute.of and any(fold(word) == fold(one) for one in names.get(sort, ())):
                return f". '{clip(word)}' is a {sort} of this plan: write '{key}: {clip(word)}'."
        if near:
            return f"; nearest: '{near}'."
        own = f"{attribute.of}_kind"
        if own in self.vocabulary.taxonomies and self.vocabulary.taxonomies[own].said(word):
            kind = clip(word)
            return f". List it first, under '{_SECTION[attribute.of]}': '{kind.replace(' ', '-')}: {{kind: {kind}}}'."
        if attribute.sort == "step":
            if attribute.of != "product" and self.vocabulary.taxonomies["product_kind"].said(word):
                return f". '{clip(word)}' is a kind of product: list it under 'products:' and write 'using: …'."
            if self.vocabulary.taxonomies["tool"].said(word):
                return f". '{clip(word)}' is a tool: write 'with: {clip(word)}'."
        return ""

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
        if fold(word) in YES_NO:
            return ""
        sorts = dict.fromkeys((attribute.sort, "house", "room", "part", "product", "step", *SORTS))
        if attribute.name == "kind":  # a thing in the wrong section, before a word that is also a material or a verb
            for sort in ("product", "part", "room"):
                if sort != attribute.sort and self.vocabulary.taxonomies[f"{sort}_kind"].said(word):
                    return f"'{clip(word)}' is a kind of {sort}: list it under '{_SECTION[sort]}'."
            if self.vocabulary.taxonomies["tool"].said(word) and "step" in self.vocabulary.attributes:
                return f"'{clip(word)}' is a tool of a step: write 'with: {clip(word)}'."
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

"""What a word that is not taken may have meant: looked for by meaning first, by letters last, or not guessed at.

First what stands written for the word (`instead.yaml`), then the other lists and sorts, then the word that it
turns on (the last of a noun, the first of a verb), and only then one slip of the finger. Opposites are never offered.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from itertools import pairwise

from advisor.errors import clip
from advisor.plan.measured import measure_of_list
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
_WHOLE = ("house", "the house", "whole house", "home")
_OPEN = ("tool", "condition", "binder", "method")  # lists that can never hold everything
_CHANCE = 5  # letters: keys up to here are alike by chance
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
        if said := self._instead(word, attribute.of) or self._instead(self.phrases.plain(word), attribute.of):
            return f". {said}"
        if said := measure_of_list(attribute, word, self.vocabulary) or self._counted(attribute, word):
            return f". {said}"
        if said := self._together(attribute, own, word) or self._elsewhere(attribute, word):
            return f". {said}"
        bare, verb = self.phrases.without_measures(word), attribute.of == "action"
        near = bare if bare != word and own.said(bare) else self.phrases.head(own, bare, verb=verb)
        near = near or self.phrases.slip(word, own.spoken())
        if not near and attribute.of in ("condition", "binder"):
            near = self.phrases.front(own, bare)
        if near:
            return f"; nearest: '{near}'."
        if attribute.of == "tool" and attribute.sort == "step":
            goods = self.phrases.head(self.vocabulary.taxonomies["product_kind"], bare, verb=False)
            if goods:
                return f". '{goods}' is a kind of product: list it under 'products:' and write 'using: …'."
        end = f", such as '{attribute.example}'." if attribute.example else "."
        return f"{end} What no list holds may stand in 'note:'." if attribute.of in _OPEN else end

    def _counted(self, attribute: Attribute, word: str) -> str:
        """`120 grit` among the tools: the number belongs to a key of the same step."""
        words = fold(word).replace("-", " ").split()
        known = self.vocabulary.attributes.get(attribute.sort, {})
        for number, name in pairwise(words):
            if number.isdigit() and name in known and known[name].type == "count":
                return f"Write '{name}: {number}'."
        return ""

    def attribute(self, sort: str, text: str, value: str | None = None) -> str:
        """The same for a key that may not be said of the sort; `value` is what was said there, if it was a word."""
        word = text.strip()[:80]
        if said := self._instead(word, f"{sort} attribute") or self._instead(word, "attribute"):
            return f". {said}"
        if value is not None and fold(word.replace("_", " ")) in self.vocabulary.grammar.get("keys of any kind", ()):
            return f". {self._by_value(sort, value) or self._noted(word)}"
        owners = [other for other in SORTS if other != sort and self._may_own(other, sort, word)]
        if owners:
            names = " or ".join(f"the {one}" if one not in _SECTION else f"a {one}" for one in owners[:3])
            return f". It belongs to {names}: write '{clip(word)}' under '{_SECTION.get(owners[0], owners[0] + ':')}'."
        known = self.vocabulary.attributes.get(sort, {}).values()
        spellings = [spelling for one in known for spelling in (one.name, *one.aliases)]
        slip = self.phrases.slip(word, spellings)
        by_chance = len(word) <= _CHANCE and len(slip) <= len(word)  # dry and day, but not bilt and built
        if by_chance or fold(slip)[:1] != fold(word)[:1]:
            slip = ""
        if near := slip or self.phrases.ending(word, spellings):
            return f"; nearest: '{near}'."
        for one in known:
            if one.of in _OPEN or fold(word) in YES_NO:
                continue
            if one.type == "term" and one.name != "kind" and self.vocabulary.taxonomies[one.of].said(word):
                return f". '{clip(word)}' is {_a(one.of)}: write '{one.name}: {clip(word)}'."
        return "." if value is None else f". {self._noted(word)}"

    def _by_value(self, sort: str, value: str) -> str:
        """What a key that tells nothing (`type`) must have meant, by the list that its value is in."""
        for one in self.vocabulary.attributes.get(sort, {}).values():
            if one.type == "term" and self.vocabulary.taxonomies[one.of].said(value):
                return f"'{clip(value)}' is {_a(one.of)}: write '{one.name}: {clip(value)}'."
        return ""

    def _noted(self, word: str) -> str:
        return f"What no key there says may stand in 'note: {clip(word.replace('_', ' '))} …'."

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
        if attribute.of == "part" and fold(word) in _WHOLE:
            return f". Leave '{attribute.name}' out where the whole house is meant."
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
        return ". List it first, under 'products:', with its kind." if attribute.of == "product" else ""

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

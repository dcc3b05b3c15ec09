"""What a word that is not taken may have meant: looked for by meaning first, by letters last, or not guessed at.

First what stands written for the word (`instead.yaml`), then the other lists and sorts, then the word that it
turns on (the last of a noun, the first of a verb), and only then one slip of the finger. Opposites are never offered.
"""

from __future__ import annotations

from collections.abc import Iterable

from advisor.errors import clip
from advisor.rulebase.vocabulary import SORTS, Attribute, Taxonomy, Vocabulary, fold

_SECTION = {"room": "rooms:", "part": "parts:", "product": "products:", "step": "steps:"}
_BEFORE = ("un", "dis", "de", "non", "in", "re")
_OPPOSITES = tuple(
    frozenset(pair.split())
    for pair in (
        "interior exterior", "inside outside", "indoor outdoor", "on off", "in out", "open close", "open closed",
        "upper lower", "hot cold", "wet dry", "top bottom", "front back", "left right", "lift lower", "up down",
        "lock unlock", "load unload", "most least", "before after", "heat cool", "old new", "solvent solved",
        "screw unscrew", "plug unplug", "cover uncover", "male female", "min max", "minimum maximum",
    )
)  # fmt: skip
_SLIP = 4  # letters: shorter words are alike by chance
_SHORT = 5  # letters: up to here another first letter makes another word
_LONG = 8  # letters: from here on two slips are forgiven


class Near:
    """Answers for words that a plan may not use, of one vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary

    def term(self, attribute: Attribute, text: str) -> str:
        """The end of `Expected a material…`: `; nearest: 'pine'.`, `. Write …` or a full stop."""
        word = text.strip()[:80]
        own = self.vocabulary.taxonomies[attribute.of]
        if said := self._instead(word, attribute.of):
            return f". {said}"
        if said := self._together(attribute, own, word) or self._elsewhere(attribute, word):
            return f". {said}"
        near = _head(own, word, verb=attribute.of == "action") or slip(word, own.spoken())
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
        if near := slip(word, spellings) or _ending(word, spellings):
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
            for name in ("binder", "coating", "material", "carrier", "pipe", "mount", "fuel", "lamp"):
                for one in others:
                    if one.name == name and self.vocabulary.taxonomies[one.of].said(first):
                        return f"Write 'kind: {clip(last)}, {name}: {clip(first)}'."
        return ""

    def _elsewhere(self, attribute: Attribute, word: str) -> str:
        """The word in another list: of the same sort of thing first, then of others."""
        sorts = dict.fromkeys((attribute.sort, "house", "room", "part", "product", "step", *SORTS))
        for sort in sorts:
            for one in self.vocabulary.attributes.get(sort, {}).values():
                if one.type != "term" or one.of == attribute.of or _idle(attribute, one):
                    continue
                if self.vocabulary.taxonomies[one.of].said(word):
                    place = "" if sort == attribute.sort else f" of {_a(sort)}"
                    return f"'{clip(word)}' is {_a(one.of)}{place}: write '{one.name}: {clip(word)}'."
        return ""


def _idle(asked: Attribute, other: Attribute) -> bool:
    """Whether an answer from the other list would be idle: words of every use, or of another trade altogether."""
    if other.of in _EVERYDAY or (other.name == "kind" and other.sort == asked.sort):
        return True
    if asked.name == "wearing":
        return other.of != "tool"
    return asked.of == "who" or (asked.of == "condition" and other.of == "action")


_EVERYDAY = frozenset({"grip", "experience", "alarm", "face", "start_point", "test_result", "circuit_use"})


def _a(name: str) -> str:
    words = {"who": "kind of worker", "product_kind": "kind of product", "part_kind": "kind of part"}
    said = words.get(name, name.replace("_", " "))
    return f"{'an' if said[:1] in 'aeiou' else 'a'} {said}"


def _head(own: Taxonomy, word: str, verb: bool) -> str:
    """The word that the whole turns on: `claw hammer` is a hammer, `move the outlet` is to move."""
    words = [one for one in fold(word).split() if one not in _LITTLE]
    if verb:
        return _verb(own, words)
    cut = next((place for place, one in enumerate(words) if place and one in _JOINTS), len(words))
    words = words[:cut]  # a respirator with filters is a respirator
    starts = range(0 if cut < len(fold(word).split()) else 1, len(words))
    heads = (" ".join(words[start:]) for start in starts)
    return next((one for one in heads if len(one) > 2 and one not in _VAGUE and own.said(one)), "")


def _verb(own: Taxonomy, words: list[str]) -> str:
    """The verb with its particle, wherever that stands: `shut the water off` is to shut off water.

    Without its particle a verb of many senses is another one: to rip off is not to rip.
    """
    last = words[-1] if words and words[-1] in _PARTICLES else ""
    if last and len(words) > 2:
        for said in (" ".join([words[0], last, *words[1:-1]]), f"{words[0]} {last}"):
            if own.said(said):
                return said
    for cut in range(len(words) - 1, 0, -1):
        said = " ".join(words[:cut])
        if not (words[cut] in _PARTICLES and words[0] in _MANY_SENSES) and len(said) > 2 and own.said(said):
            return said
    return ""


_LITTLE = frozenset({"the", "a", "an", "my", "our", "it", "them", "this", "that", "all", "some", "old", "new"})
_JOINTS = frozenset({"with", "of", "for", "in", "on", "from", "under", "behind", "at", "without", "against"})
_PARTICLES = frozenset({"off", "on", "out", "up", "down", "in", "away", "back", "over", "apart", "together", "through"})
_VAGUE = frozenset({"room", "space", "thing", "work", "tool", "part", "area", "place", "tape", "cement"})
_MANY_SENSES = frozenset(
    {"break", "bring", "get", "give", "hold", "knock", "lay", "look", "pick", "pull", "put", "rip", "run", "set"}
    | {"take", "tear", "turn"}
)


def _ending(word: str, spellings: Iterable[str]) -> str:
    words = fold(word).split()
    known = {fold(one): one for one in sorted(spellings, reverse=True)}
    ends = (" ".join(words[-cut:]) for cut in range(len(words) - 1, 0, -1))
    return next((known[end] for end in ends if end in known and len(end) >= _SLIP), "")


def slip(word: str, spellings: Iterable[str]) -> str:
    """The spelling of which the word is a slip of the finger: one letter, in long words two; or nothing."""
    from rapidfuzz.distance import OSA  # only a mistake needs it, and importing costs

    text = fold(word)
    if len(text) < _SLIP - 1:
        return ""
    allowed = 2 if len(text) >= _LONG else 1
    found: list[tuple[int, int, str]] = []
    for spelling in spellings:
        form = fold(spelling)
        if abs(len(form) - len(text)) <= allowed and len(form) >= _SLIP - 1:
            steps = OSA.distance(text, form, score_cutoff=allowed)
            if steps <= allowed and _same_size(text, form, steps) and not opposite(text, form):
                found.append((steps, -len(form), spelling))
    return min(found)[2] if found else ""


def _same_size(text: str, form: str, steps: int) -> bool:
    """Slips lie within words: a phrase of other words is another thing, however alike its letters."""
    mine, theirs = text.split(), form.split()
    if len(mine) != len(theirs):
        return text.replace(" ", "") == form.replace(" ", "") or steps == 1
    pairs = [(a, b) for a, b in zip(mine, theirs, strict=True) if a != b]
    return all(min(len(a), len(b)) >= _SLIP - 1 + steps - 1 and _starts_alike(a, b) for a, b in pairs)


def _starts_alike(one: str, other: str) -> bool:
    """Whether short words may be slips of each other: with another first letter bats are no rats."""
    return len(one) > _SHORT or one[0] == other[0] or sorted(one) == sorted(other)


def opposite(one: str, other: str) -> bool:
    """Whether two phrases say contrary things: screw and unscrew, upper and lower."""
    for a, b in ((one, other), (other, one)):
        if any(a == before + b or a.startswith(before + b + " ") for before in _BEFORE):
            return True
    mine, theirs = set(one.split()), set(other.split())
    return any(
        len(pair & mine) == 1 and len(pair & theirs) == 1 and pair & mine != pair & theirs for pair in _OPPOSITES
    )

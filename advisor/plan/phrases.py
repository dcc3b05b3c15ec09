"""How a phrase that no list holds is read: its head, its verb with the particle, and slips of the finger."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from advisor.rulebase.vocabulary import Taxonomy, fold

_NUMBER = re.compile(r"[0-9][0-9./x-]*(?:-tooth|-inch|-foot|-ft|-in)?")
_SLIP = 4  # letters: shorter words are alike by chance
_SHORT = 5  # letters: up to here another first letter makes another word
_LONG = 8  # letters: from here on two slips are forgiven


class Phrases:
    """Reads phrases with the word lists of `grammar.yaml`, which may be missing."""

    def __init__(self, grammar: Mapping[str, tuple[str, ...]]) -> None:
        def words(name: str) -> frozenset[str]:
            return frozenset(grammar.get(name, ()))

        self._little, self._joints = words("little") | words("beside"), words("joints")
        self._vague, self._measures = words("vague"), words("measures")
        self._particles, self._many_senses = words("particles"), words("many senses")
        self._turning = tuple(grammar.get("turning", ()))
        self._opposites = tuple(frozenset(pair.split()) for pair in grammar.get("opposites", ()))

    def head(self, own: Taxonomy, word: str, *, verb: bool) -> str:
        """The word that the whole turns on: `claw hammer` is a hammer, `move the outlet` is to move."""
        said = fold(word).split()
        words = [one for one in said if one not in self._little]
        if verb:
            return self._verb(own, words)
        cut = next((place for place, one in enumerate(words) if place and one in self._joints), len(words))
        words = words[:cut]  # a respirator with filters is a respirator
        heads = (" ".join(words[start:]) for start in range(0 if cut < len(said) else 1, len(words)))
        return next((one for one in heads if len(one) > 2 and one not in self._vague and own.said(one)), "")

    def without_measures(self, word: str) -> str:
        """The phrase without sizes: `hole saw 2-1/8 in` is a hole saw, `fir 2x12` is fir."""
        kept: list[str] = []
        after_number = False
        for one in word.split():
            number = bool(_NUMBER.fullmatch(one))
            if not number and not (after_number and fold(one) in self._measures):
                kept.append(one)
            after_number = number
        return " ".join(kept) or word

    def plain(self, word: str) -> str:
        """The phrase without sizes and without words that say nothing: a rented 2 in auger is an auger."""
        return " ".join(one for one in fold(self.without_measures(word)).split() if one not in self._little)

    def front(self, own: Taxonomy, word: str) -> str:
        """The state that a phrase begins with: `cracked grout` is cracked."""
        words = fold(word).split()
        starts = (" ".join(words[:cut]) for cut in range(len(words) - 1, 0, -1))
        return next((one for one in starts if len(one) >= _SLIP - 1 and own.said(one)), "")

    def _verb(self, own: Taxonomy, words: list[str]) -> str:
        """The verb with its particle, wherever that stands: `shut the water off` is to shut off water.

        Without its particle a verb of many senses is another one: to rip off is not to rip.
        """
        last = words[-1] if words and words[-1] in self._particles else ""
        if last and len(words) > 2:
            for said in (" ".join([words[0], last, *words[1:-1]]), f"{words[0]} {last}"):
                if own.said(said):
                    return said
        for cut in range(len(words) - 1, 0, -1):
            said = " ".join(words[:cut])
            another = words[cut] in self._particles and words[0] in self._many_senses
            if not another and len(said) > 2 and own.said(said):
                return said
        return ""

    def ending(self, word: str, spellings: Iterable[str]) -> str:
        """The spelling with which the phrase ends: `wall area` is an area."""
        words = fold(word).split()
        known = {fold(one): one for one in sorted(spellings, reverse=True)}
        ends = (" ".join(words[-cut:]) for cut in range(len(words) - 1, 0, -1))
        return next((known[end] for end in ends if end in known and len(end) >= _SLIP), "")

    def slip(self, word: str, spellings: Iterable[str]) -> str:
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
                if steps <= allowed and _within_words(text, form, steps) and not self.opposite(text, form):
                    found.append((steps, -len(form), spelling))
        return min(found)[2] if found else ""

    def opposite(self, one: str, other: str) -> bool:
        """Whether two phrases say contrary things: screw and unscrew, upper and lower."""
        for a, b in ((one, other), (other, one)):
            if any(a == before + b or a.startswith(before + b + " ") for before in self._turning):
                return True
        mine, theirs = set(one.split()), set(other.split())
        return any(
            len(pair & mine) == 1 and len(pair & theirs) == 1 and pair & mine != pair & theirs
            for pair in self._opposites
        )


def _within_words(text: str, form: str, steps: int) -> bool:
    """Slips lie within words: a phrase of other words is another thing, however alike its letters."""
    mine, theirs = text.split(), form.split()
    if len(mine) != len(theirs):
        return text.replace(" ", "") == form.replace(" ", "") or steps == 1
    pairs = [(a, b) for a, b in zip(mine, theirs, strict=True) if a != b]
    return all(min(len(a), len(b)) >= _SLIP - 2 + steps and _starts_alike(a, b) for a, b in pairs)


def _starts_alike(one: str, other: str) -> bool:
    """Whether short words may be slips of each other: with another first letter bats are no rats."""
    return len(one) > _SHORT or one[0] == other[0] or sorted(one) == sorted(other)

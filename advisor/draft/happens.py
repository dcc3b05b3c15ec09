"""Words that may be verbs and tell of no work: what falls by itself, what is only named."""

from __future__ import annotations

from advisor.draft.items import Item
from advisor.draft.lexicon import Lexicon
from advisor.draft.tokens import Token
from advisor.draft.turns import turns


class Happens:
    """Looks at the words around one that may be a verb."""

    def __init__(self, lexicon: Lexicon, tokens: list[Token]) -> None:
        self.lexicon = lexicon
        self.language = lexicon.language
        self.tokens = tokens

    def _only_named(self, item: Item, start: int, stop: int) -> bool:
        """`Drywall. There is one stud`: what something is made of, in a sentence of its own among longer ones."""
        if item.start != start or item.end != stop or not item.get("term", "material"):
            return False
        ends = [
            p for p in range(stop + 1, min(stop + 5, len(self.tokens))) if self.tokens[p].text in (".", "!", "?", "\n")
        ]
        return stop + 1 < len(self.tokens) and not ends and self.tokens[stop].text == "."

    def _happened(self, item: Item, start: int, stop: int) -> bool:
        """`the rod come down`, `the panels come down in the wind`: by itself, and nobody's work."""
        if not self.language.has("by itself", self.tokens[item.start].text) or item.start == start:
            return False
        behind = self.tokens[item.end : min(stop, item.end + 6)]
        words = [t.text for t in behind]
        for begin in range(len(words)):
            if any(tuple(words[begin : begin + n]) in self.language.words["happened by"] for n in (1, 2, 3)):
                return True
        before = self.tokens[item.start - 1]
        plain = before.sort == "word" and not before.text.endswith("s") and not self.language.has("little", before.text)
        of_several = item.start - 3 >= start and "of" in [t.text for t in self.tokens[item.start - 4 : item.start - 1]]
        heard = any(self.language.has(g, before.text) for g in ("before verbs", "adverbs", "pronouns"))
        return self.tokens[item.start].text == "come" and plain and not heard and not of_several

    def _one_of_two(self, item: Item, before: list[Item], start: int) -> bool:
        """`is it water or oil`: a name beside another one, where nothing is done so far."""
        beside = item.start - 1 > start and self.tokens[item.start - 1].text == "or"
        named = len(item.senses) > sum(s.role == "action" for s in item.senses)
        return beside and named and not any(i.verb is not None for i in before)

    def _doing_behind(self, place: int, stop: int) -> bool:
        """Whether the doing of something is named there: `do the painting`."""
        at = place + (place < stop and self.language.has("articles", self.tokens[place].text))
        rows = self.lexicon.at(self.tokens, at, stop) if at < stop else None
        return rows is not None and any(s.role == "action" and s.of == "gerund" for s in rows[1])

    def _told_of_a_body(self, before: Item, item: Item) -> bool:
        """`on the bathroom wall, drywall`: what the wall is of."""
        part = before.get("part")
        body = part is not None and before.verb is None and part.name in ("wall", "ceiling", "floor")
        comma = before.end == item.start - 1 and self.tokens[before.end].text == ","
        return body and comma and item.get("term", "material") is not None

    def _named_ahead(self, item: Item) -> bool:
        word = self.tokens[item.start - 1].text if item.start else ""
        return self.language.has("articles", word) or self.language.has("adjectives", word)

    def _is_named(self, item: Item, how: str, stop: int) -> bool:
        """Whether what stands around a word tells that it is a name: `the wall (drywall)`, `label gone`."""
        ahead = self.tokens[item.start - 1].text if item.start else ""
        behind = [t.text for t in self.tokens[item.end : item.end + 2]]
        both = any(s.role != "action" for s in item.senses)
        if both and ahead == "(" and behind[:1] == [")"]:
            return True
        if behind[:1] and item.end < stop and behind[0] in turns("of a sort"):
            return True
        if both and item.end < stop and behind[0] in self.language.noun_of_doing:
            return True  # `wallpaper removal`
        if how == "base" and not item.also and behind[:1] and behind[0] in turns("told of a thing"):
            return both or self._is_in(tuple(t.text for t in self.tokens[item.start : item.end]), "weak")
        return how == "base" and item.end < stop and tuple(behind) in (("there", "now"), ("there", "today"))

    def _is_in(self, words: tuple[str, ...], group: str) -> bool:
        listed = getattr(self.language, group)
        if words in listed:
            return True
        first = self.lexicon.phrases.get(words[0], {}).get(words, ())
        names = {s.name for s in first if s.role == "action"}
        return len(words) == 1 and any((name,) in listed for name in names if words[0].startswith(name[:3]))

    def is_weak(self, words: tuple[str, ...]) -> bool:
        """Whether a word is more often something else than a verb."""
        return self._is_in(words, "weak")

    def _climbs(self, item: Item, stop: int) -> bool:
        """`I get up on the ladder`: somebody, and no thing."""
        words = [t.text for t in self.tokens[item.start : item.end + 1]]
        going = item.end - item.start == 2 and words[0] in turns("go by themselves") and words[1] == "up"
        return going and item.end < stop and self.tokens[item.end].text in ("on", "in", "there", "to", "early", "at")

    def _goes_on_to_a_thing(self, item: Item, at: int) -> bool:
        """Whether an article or a pronoun stands behind a word, and none before it: then it is no name."""
        end = item.end
        if end < len(self.tokens) and self.tokens[end].text in ("up", "down", "off", "out"):
            end += 1
        behind = self.tokens[end].text if end < len(self.tokens) else ""
        stands = end - item.start > 1 and self.tokens[end - 1].text in ("in", "on")  # `sticks in the summer`
        points = behind in ("it", "them", "everything", "both")
        thing = points or (not stands and self.language.has("articles", behind))
        word = self.tokens[at]
        named = any(self.language.has(g, word.text) for g in ("articles", "adjectives", "prepositions", "is so"))
        return thing and word.sort == "word" and not named

    def _numbered(self, at: int, start: int) -> bool:
        """`Step 4 sand`, `2 prime`: the number of a step at the head of its sentence."""
        first = at == start or (at == start + 1 and self.tokens[start].text in turns("numbered"))
        return first and self.tokens[at].sort == "number" and "." not in self.tokens[at].text

    def _completes(self, at: int, start: int) -> bool:
        """Whether a word ends what was said of the verb before: the name of a thing, a measure, a particle."""
        token = self.tokens[at]
        if token.sort == "number" or token.text in (
            "it",
            "them",
            "first",
            "off",
            "out",
            "up",
            "down",
            "away",
            "too",
            "back",
            "on",
            "together",
        ):
            return True
        phrase = next(
            (
                p
                for b in (at, at - 1, at - 2)
                if b >= start and (p := self.lexicon.at(self.tokens, b, at + 1)) and p[0] == at + 1
            ),
            None,
        )
        names = {s.role for s in phrase[1]} if phrase else set()
        return bool(names & {"part", "product", "tool", "room", "term"}) or (
            phrase is not None and "action" in names and at > start
        )

    def _goes_ahead(self, item: Item) -> bool:
        """Whether what stands behind a word is what stands behind a verb."""
        if item.end >= len(self.tokens):
            return True
        token = self.tokens[item.end]
        if token.sort == "number" or self.language.has("articles", token.text) or token.text in turns("behind verbs"):
            return True
        phrase = self.lexicon.at(self.tokens, item.end, len(self.tokens))
        return phrase is not None and any(s.role == "action" and s.of == "base" for s in phrase[1])

    def _ends(self, place: int) -> bool:
        if place >= len(self.tokens):
            return True
        word = self.tokens[place].text
        return self.tokens[place].sort in ("mark", "break") or word in ("and", "then", "in", "from", "under", "at")

"""Whether a word that is both is taken for doing something or for a name, by what stands around it."""

from __future__ import annotations

from advisor.draft.happens import Happens
from advisor.draft.items import Item
from advisor.draft.lexicon import Lexicon
from advisor.draft.tokens import Token
from advisor.draft.turns import turns


class Verbs(Happens):
    """Judges the items of one text."""

    def __init__(self, lexicon: Lexicon, tokens: list[Token]) -> None:
        super().__init__(lexicon, tokens)
        self.names: set[str] = set()  # of people

    def _take_for_verb(self, found: list[Item], number: int, start: int, stop: int) -> None:
        item = found[number]
        senses = [s for s in item.senses if s.role == "action"]
        if not senses:
            return
        words = tuple(t.text for t in self.tokens[item.start : item.end])
        sense = senses[0]
        if words == ("fit",) and item.start > start and self.tokens[item.start - 1].text == "to":
            return  # `cut them to fit`
        if len(senses) < len(item.senses) and any(t.dashed for t in self.tokens[item.start + 1 : item.end]):
            return  # `a drop-in sink`
        if (
            self.language.has("does the", words[0])
            and item.end - item.start == 1
            and self._doing_behind(item.end, stop)
        ):
            return  # `he will do the wiring`
        measured = number and found[number - 1].amount is not None and found[number - 1].end == item.start
        if measured and self.language.has("behind a measure", words[0]):
            return  # `nine inches square`
        be = item.start > start and self.language.has("is so", self.tokens[item.start - 1].text)
        if be and sense.of == "gerund" and item.get("term", "condition"):
            return  # `the paint is chipping`
        if self._only_named(item, start, stop) or self._climbs(item, stop):
            return
        alone = len(words) > 1 and not item.also and not self._somebody_before(item.start)
        alone = alone and words[0] not in turns("go by themselves")
        if sense.of == "third" and alone and not self._goes_on_to_a_thing(item, item.start - 1):
            return  # `the door sticks in the summer`
        if self._happened(item, start, stop) or self._one_of_two(item, found[:number], start):
            return
        if (
            sense.of == "base"
            and any(t.dashed for t in self.tokens[item.start + 1 : item.end])
            and self._named_ahead(item)
        ):
            return  # `a new pull-down one`
        if self._is_named(item, sense.of, stop):
            return
        if self._is_in(words, "never") or (sense.name,) in self.language.never:
            return
        if number and self._of_a_room(found[number - 1], item, start):
            return
        if sense.of == "base" and not item.also and self._tells_of_product(found, number, words):
            return
        if sense.of == "past" and self.language.has("told behind a product", words[0]):
            at = next((p for p in range(item.start - 1, start - 1, -1) if not self._is_color(p)), start)
            if any(i.end == at + 1 and i.get("product") for i in found[:number]):
                return  # `grout gray sanded`
        if number and self._object_of(found[number - 1], item, stop):
            return
        if number and found[number - 1].end == item.start and self.language.has("tells how behind a thing", words[0]):
            return  # `cut tile dry`
        if number and self._told_of_a_body(found[number - 1], item):
            return
        article = item.start > start and self.tokens[item.start - 1].text in ("a", "an")
        if sense.of == "base" and article and item.end - item.start > 1:
            return  # `with a brush on a drill`
        ahead = self.tokens[item.start - 1].text if item.start > start else ""
        if sense.of == "base" and ahead in ("with", "of", "without"):
            return  # `brick with plaster over it`
        named = (
            any(self.language.has(group, ahead) for group in ("articles", "adjectives"))
            and len(words) > 1
            and sense.of == "base"
        )
        if named and self._is_in(words[:1], "weak"):
            return  # `the caulk around the tub`
        score = 0.0 if len(senses) < len(item.senses) or self._is_in(words, "weak") else 1.5
        before = self._before(item, start, sense.of)
        if before > 0 and self._in_a_list(found, number, start):
            before = -1.0
        if before <= -3.0 and sense.of == "third":
            return  # `the old switches out`
        pure = len(senses) == len(item.senses) and not self._is_in(words, "weak")
        if sense.of == "past" and number and (last := found[number - 1]).verb is not None and last.verb.of == "past":
            between = {t.text for t in self.tokens[last.end : item.start]}
            score += 1.0 if between and between <= {",", "and", "then", "or"} else 0.0  # `sanded, primed and painted`
        score += (max(before, -1.0) if pure else before) + self._after(item, found, number, stop, sense.of)
        if item.also or item.end - item.start > 1:
            score += 1.0 if len(senses) == len(item.senses) or item.also else 0.4
        if score >= 1.0:
            item.verb = sense

    def _is_color(self, place: int) -> bool:
        return bool(self.language.color_end(self.tokens, place))

    def _tells_of_product(self, found: list[Item], number: int, words: tuple[str, ...]) -> bool:
        """`oil primer`, `clear matte poly`: right before a product it tells of what sort that is."""
        if not self.language.has("tells of a product", " ".join(words)):
            return False
        end = found[number].end
        for behind in found[number + 1 :]:
            if behind.start != end:
                return False
            if behind.get("product") is not None:
                return True
            if not behind.get("term"):
                return False
            end = behind.end
        return False

    def _of_a_room(self, before: Item, item: Item, start: int) -> bool:
        """`the hall trim`, `our kitchen sink`: a thing of the room that stands right before it."""
        named = before.end == item.start and before.roles() == {"room"} and "part" in item.roles()
        return named and before.start > start and self.language.has("articles", self.tokens[before.start - 1].text)

    def _object_of(self, before: Item, item: Item, stop: int) -> bool:
        """`cut tile dry`: right behind a verb a thing's name is what it is done to, and no verb of its own."""
        if before.verb is None or before.verb.of == "past" or before.end != item.start or "part" not in item.roles():
            return False
        behind = self.tokens[item.end].text if item.end < stop else ""
        return not (self.language.has("articles", behind) or self.language.has("pronouns", behind))

    def _in_a_list(self, found: list[Item], number: int, start: int) -> bool:
        """`tape, spackle, paint`: behind a comma, in a sentence without a verb so far, a name among names."""
        item = found[number]
        comma = item.start > start and self.tokens[item.start - 1].text in (",", "and", ":")
        named = bool(item.roles() & {"product", "tool", "part"})
        return comma and named and self._ends(item.end) and not any(i.verb is not None for i in found[:number])

    def _before(self, item: Item, start: int, how: str) -> float:
        language, at = self.language, item.start - 1
        while at >= start and language.has("adverbs", self.tokens[at].text):
            at -= 1
        if (
            at > start
            and self.tokens[at].text in ("that", "this")
            and self.tokens[at - 1].text in ("before", "after", "to")
        ):
            at = start - 1  # `before that`: what follows begins anew
        runs_on = how == "base" and at > start and self._runs_on(at, start)
        if runs_on and self._goes_ahead(item) and self._completes(at, start):
            return 1.6
        if at >= start and self._numbered(at, start):
            return {"base": 1.5, "gerund": 1.0, "past": 0.5, "third": -1.0}[how]
        if at >= start and (
            self.tokens[at].sort == "number" or (self.tokens[at].tight and self.tokens[at].text in "\"”″'’′")
        ):
            return -2.0 if how in ("base", "third") else 0.0
        if at < start or self.tokens[at].sort in ("mark", "break"):
            return {"base": 1.5, "gerund": 1.0, "past": 0.5, "third": -1.0}[how]
        word = self.tokens[at].text
        if (
            how == "gerund"
            and word in ("the", "all", "any")
            and at > start
            and self.language.has("does the", self.tokens[at - 1].text)
        ):
            return 2.5
        named = any(s.role != "action" for s in item.senses)
        listed = word in ("and", "or", ",") and how == "base" and named
        if listed and self._after_a_noun(at, start) and self._ends(item.end):
            return -1.0
        if how in ("past", "gerund") and word in ("need", "needs", "needing", "needed"):
            return 2.5
        ahead = [t.text for t in self.tokens[max(start, item.start - 3) : item.start]]
        article = next(
            (n for n, w in enumerate(ahead) if language.has("articles", w) and w not in ("no", "all", "both", "that")),
            None,
        )
        strange = article is not None and not any(
            language.has("little", w) or w in self.lexicon.phrases for w in ahead[article + 1 :]
        )
        if how in ("base", "past") and strange and len(ahead) - (article or 0) > 1:
            return -1.5  # `the bulb strip`
        if word in ("is", "are") and how == "base":
            return 0.0
        if how == "third" and self._somebody_before(item.start):
            return 2.5  # `he cuts`, `my nephew gus cuts`
        if how == "third" and self._goes_on_to_a_thing(item, at):
            return 2.5  # `ana cuts the boards`, `the guy from work sets it`
        if how == "third" and self.tokens[at].capital and at == start and word not in self.lexicon.phrases:
            return 2.5  # `Theo cuts`
        if language.has("before nouns", word):
            return {"base": -3.0, "gerund": -0.5, "past": -0.5, "third": -3.0}[how] + (
                2.0 if word in ("by", "for", "is", "are") and how in ("gerund", "past") else 0
            )
        if language.has("before verbs", word):
            return {"base": 2.0, "gerund": 1.0, "past": 1.0, "third": -0.5}[how]
        if word in (
            "be",
            "get",
            "gets",
            "getting",
            "been",
            "got",
            "was",
            "were",
            "start",
            "before",
            "after",
            "when",
            "once",
            "keep",
            "finish",
            "done",
        ):
            return {"base": 0.0, "gerund": 1.5, "past": 1.5, "third": -1.0}[how]
        return {"base": -0.4, "gerund": 0.5, "past": 0.2, "third": -1.5}[how]

    def _somebody_before(self, place: int) -> bool:
        """Whether somebody who may do it stands right before a word: `she`, `my brother in law ray`."""
        at = place - 1
        while at >= 0 and self.language.has("adverbs", self.tokens[at].text):
            at -= 1
        if at < 0 or self.tokens[at].sort in ("mark", "break"):
            return False
        if self.language.has("he or she", self.tokens[at].text) or self.tokens[at].text in self.names:
            return True
        for begin in range(max(0, at - 2), at + 1):
            words = tuple(t.text for t in self.tokens[begin : at + 1])
            if any(
                s.role == "who" and s.name != "owner" for s in self.lexicon.phrases.get(words[0], {}).get(words, ())
            ):
                return True
        return False

    def _runs_on(self, at: int, start: int) -> bool:
        """Whether somebody types without stops here."""
        ahead = self.tokens[max(start, at - 11) : at + 1]
        behind = self.tokens[at + 1 : at + 7]
        return not any(t.sort in ("mark", "break") for t in (*ahead, *behind))

    def _after_a_noun(self, at: int, start: int) -> bool:
        """Whether the word before a joint is the name of a thing: `the faucet and drain`."""
        if at - 1 < start:
            return False
        rows = self.lexicon.phrases.get(self.tokens[at - 1].text, {}).get((self.tokens[at - 1].text,), ())
        return (
            bool(rows)
            and all(s.role != "action" for s in rows)
            and any(s.role in ("part", "product", "tool") for s in rows)
        )

    def _after(self, item: Item, found: list[Item], number: int, stop: int, how: str) -> float:
        if item.end >= stop:
            return 0.0
        token = self.tokens[item.end]
        if how == "base" and token.text in ("no", "have", "yes") and len(item.senses) > 1:
            return -3.0  # `Grout no`: it is not at hand
        if self.language.has("articles", token.text) or self.language.has("pronouns", token.text):
            return 1.5
        if how == "past" and token.text == "with":
            return 0.6
        if how == "base" and self.tokens[item.start - 1].sort in ("mark", "break") if item.start else how == "base":
            ahead = [t.text for t in self.tokens[item.end : min(stop, item.end + 6)]]
            cut = next((n for n, w in enumerate(ahead) if w in (",", "and", "then", "that", "which")), len(ahead))
            if (
                {"is", "are"} & set(ahead[:cut])
                and not {"it", "them", "what", "make", "if"} & set(ahead[:cut])
                and len(item.senses) > 1
            ):
                return -2.5
        if how == "base" and token.text in ("in", "at", "under", "behind", "near") and "part" in item.roles():
            return -1.5  # `wallpaper in the hall`
        if token.text in ("is", "are", "was", "were", "has", "that", "on", "of"):
            return -1.5 if how != "gerund" else -0.5
        following = found[number + 1] if number + 1 < len(found) else None
        if (
            following
            and following.start == item.end
            and following.roles() & {"part"}
            and "action" not in following.roles()
        ):
            return 0.8
        return 0.0

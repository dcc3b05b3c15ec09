"""How what a verb says stands to the work: done already, still to do, or only how a thing is."""

from __future__ import annotations

from advisor.draft.board import Board, Thing
from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.language import Language
from advisor.draft.tokens import Token

_JOINTS = frozenset({"before", "after", "once", "when", "until", "while"})
_BE = frozenset(["be", "get", "gets", "getting", "is", "are", "was", "were", "been", "got", "being"])


class States:
    """Judges the verbs of one text."""

    def __init__(self, board: Board, tokens: list[Token], language: Language) -> None:
        self.board, self.tokens, self.language = board, tokens, language
        self.sentence: list[Thing] = []  # steps of this sentence

    def is_over(self, clause: Clause, item: Item) -> bool:
        """Whether what the verb says is done already."""
        how = item.verb.of if item.verb else ""
        before = [t.text for t in self.tokens[max(clause.start, item.start - 4) : item.start]]
        if self.hangs(clause):
            return False
        if how == "done":
            return True
        if how == "past":
            if "future" in clause.cues and "past" not in clause.cues:
                return False
            if any(word in ("get", "gets", "getting", "be") for word in before):
                return False
            if before[-1:] in (["is"], ["are"]) and self._in_a_row(clause) and "past" not in clause.cues:
                return False
            if (made := self._has_it_done(before)) is not None:
                return made or "past" in clause.cues
            subject = any(self.language.has("past subjects", word) for word in before)
            if self.sentence and not subject and clause.lead in (",", "and", "or", "then"):
                return "done" in self.sentence[-1].facts
            return not any(word in ("need", "needs") for word in before)
        cut_like = how == "base" and item.verb is not None and "past" in clause.cues
        return cut_like and any(self.language.has("have past", word) for word in before)

    def _has_it_done(self, before: list[str]) -> bool | None:
        """Of `have the floor sanded` whether it was had done; None where nothing is had done by others."""
        for place, word in enumerate(before):
            if word in ("have", "has", "having", "had") and any(
                self.language.has("articles", other) for other in before[place + 1 :]
            ):
                return word == "had"
        return None

    def passive(self, item: Item, clause: Clause) -> bool:
        """Whether the thing stands before the verb: `the doors get sanded`, `the hooks come out`."""
        how = item.verb.of if item.verb else ""
        before = [t.text for t in self.tokens[max(clause.start, item.start - 3) : item.start]]
        if how == "gerund" and before and before[-1] in ("need", "needs", "needing", "needed"):
            return True  # `the walls need painting`
        return how == "past" and any(word in _BE for word in before)

    def is_state(self, item: Item, clause: Clause) -> bool:
        """`the cabinets are painted`: how a thing is, not what is done to it."""
        how = item.verb.of if item.verb else ""
        before = self.tokens[item.start - 1].text if item.start > clause.start else ""
        if before == "already" and item.start - 1 > clause.start:
            before = self.tokens[item.start - 2].text
        coated = item.get("term", "coating") is not None
        if how == "past" and not coated and item.verb is not None and self._works(item.verb.name, clause):
            return False  # `the walls were patched`
        if how == "past" and before in ("is", "are") and not coated and self._in_a_row(clause):
            return False  # `… then the old one is taken out, the drain is looked at`
        be = before in ("is", "are", "theyre", "its", "was", "were") or (coated and before == "been")
        return (
            how == "past"
            and be
            and not self.hangs(clause)
            and not any(place[0] < item.start for place in clause.cues.get("future", ()))
            and (coated or "past" not in clause.cues)
        )

    def _works(self, action: str, clause: Clause) -> bool:
        """Whether what was done is work of this job, and no state of what was there for years."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        tokens = self.tokens[clause.start : clause.stop]
        years = any(t.text in ("years", "year", "ago") or (t.sort == "number" and len(t.text) == 4) for t in tokens)
        works = any(action in taxonomy.below(one) for one in self.language.told_as_done if one in taxonomy.terms)
        return works and not years

    def _in_a_row(self, clause: Clause) -> bool:
        """Whether steps were told right before, or words of order stand here: then what `is done` is to be done."""
        planned = bool(self.sentence) and "done" not in self.sentence[-1].facts
        order = {"after it", "first"} & set(clause.cues) or clause.lead == "then"
        return bool(order) or (planned and clause.lead in (",", "and", "then"))

    def supported(self, item: Item, clause: Clause, who: bool) -> bool:
        """Whether a past form tells what somebody did or is to be done: `glued down` alone only tells how it is."""
        if item.verb is None or item.verb.of != "past":
            return True
        before = [t.text for t in self.tokens[max(clause.start, item.start - 4) : item.start]]
        telling = any(
            word in (*_BE, "to", "them", "it", "isnt", "arent", "hasnt", "havent")
            or any(self.language.has(g, word) for g in ("past subjects", "have past", "future"))
            for word in before
        )  # fmt: skip
        behind = self.tokens[item.end].text if item.end < clause.stop else ""
        opens = all(self.language.has("adverbs", t.text) for t in self.tokens[clause.start : item.start])
        told_of = any(self.language.has(group, behind) for group in ("articles", "adjectives", "pronouns"))
        if opens and (told_of or self._never_a_state(item) or "past" in clause.cues):
            return True  # `took out the bathtub`, `pressure washed it in april`, `removed carpet yesterday`
        if behind == "by" and not item.get("term"):
            return True  # `the line, fixed by a plumber`
        row = bool(self.sentence) and clause.lead in (",", "and", "or", "then", "")
        return telling or row or who or bool(item.also and before) or any(word in ("need", "needs") for word in before)

    def _never_a_state(self, item: Item) -> bool:
        """`took`, `tore`: a form that only tells what somebody did; `pulled` may tell how a thing is."""
        word = self.tokens[item.start].text
        return any(before == word != done for before, done in self.language.irregular.values())

    def hangs(self, clause: Clause) -> bool:
        """Whether a clause only says when another one is done: `before painting`."""
        return self._lead(clause) in _JOINTS or (clause.lead in _JOINTS and self._lead(clause) != "")

    def _lead(self, clause: Clause) -> str:
        """The word that makes a clause hang on another; `before that` and `after that` do not."""
        for group in ("before it", "after it"):
            if clause.cues.get(group, [(-1, -1)])[0][0] == clause.start:
                return ""
        head = clause.start
        while head + 1 < clause.stop and self.tokens[head].text in ("but", "and", "so", "oh", "also"):
            head += 1
        return self.tokens[head].text

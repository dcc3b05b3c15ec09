"""A text made a plan: heard, checked by the reader of plans, written with its doubts in the open."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from advisor.draft.board import Board, Candidate, Fact, Span, Unsure
from advisor.draft.carries import carries
from advisor.draft.hear import Hearer
from advisor.draft.lexicon import lexicon
from advisor.draft.tokens import tokens_of
from advisor.draft.where import counted_elsewhere, placed_there
from advisor.draft.writing import plan_mapping
from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.plan.values import BadValueError, scalar_value
from advisor.rulebase.base import RuleBase

MOST_ROUNDS = 40  # of taking out what the reader of plans refuses


class Heard(Struct, frozen=True):
    """A piece of the text and where its fact stands in the plan (or what else it is)."""

    text: str
    span: Span
    path: str


class Draft(Struct):
    """What came of a text. `plan` is a mapping that the reader takes; without steps where no work was heard."""

    text: str
    board: Board
    plan: dict[str, Any]
    heard: list[Heard]
    unsure: list[Unsure]
    unheard: list[Span]
    questions: list[str]

    def words(self, span: Span) -> str:
        """The text of a span on one line."""
        return " ".join(self.text[span[0] : span[1]].split())


def draft(text: str, rulebase: RuleBase, board: Board | None = None) -> Draft:
    """The plan that the words give; `board` holds the things of a plan that they add to."""
    own = board or Board(rulebase.vocabulary)
    Hearer(text, lexicon(rulebase.vocabulary), carries(rulebase), own).hear()
    _leave_empty(own)
    _check_values(own)
    if board is None:
        _leave_country_open(text, own, rulebase)
    plan = plan_mapping(own)
    plan = _made_readable(own, plan)
    heard = _heard(text, own)
    return Draft(text, own, plan, heard, _sorted(own.unsure), _unheard(text, heard, own.unsure), _questions(own))


def _leave_empty(board: Board) -> None:
    for sort in ("house", "crew", "budget", "code"):
        board.things[sort] = [t for t in board.things.get(sort, []) if t.facts]


def _leave_country_open(text: str, board: Board, rulebase: RuleBase) -> None:
    """Nobody presumes the country of the rules for a text that speaks against it and names none for sure."""
    language, tokens = lexicon(rulebase.vocabulary).language, tokens_of(text)
    known = {name for thing in board.things["house"] for name in thing.facts}
    if known & {"country", "location"}:
        return
    if counted_elsewhere(tokens, language):
        board.single("house").facts["country"] = Fact("unknown", [], note="its money or measures are of elsewhere")
    elif placed_there(board, tokens, language):
        board.single("house").facts["country"] = Fact("unknown", [], note="is it the one that is named below?")


def _check_values(board: Board) -> None:
    """Move values that no reader would take to what is unsure."""
    for thing in [t for listed in board.things.values() for t in listed]:
        for name, fact in list(thing.facts.items()):
            attribute = board.vocabulary.attributes[thing.sort][name]
            if attribute.type in ("ref", "profile"):
                continue
            members = fact.value if isinstance(fact.value, list) else [fact.value]
            try:
                for one in members:
                    if not (attribute.many and one == "none"):
                        scalar_value(attribute, one, board.vocabulary, lambda a, t: "")
            except BadValueError as error:
                del thing.facts[name]
                board.unsure.append(Unsure(fact.spans[0], (), str(error).strip(": ")[:120]))


def _made_readable(board: Board, plan: dict[str, Any]) -> dict[str, Any]:
    """The plan as the reader takes it; what it refuses is left out, thing by thing."""
    for _ in range(MOST_ROUNDS):
        if not plan.get("steps"):
            return plan
        try:
            read_plan(plan, board.vocabulary, "draft")
            return plan
        except InputError as error:
            if not _without_refused(board, str(error.problems[0].message)):
                return {}
            plan = plan_mapping(board)
    return {}


def _without_refused(board: Board, message: str) -> bool:
    for listed in board.things.values():
        for thing in listed:
            if f"'{thing.id}'" in message or message.startswith(thing.sort):
                for name, fact in list(thing.facts.items()):
                    if name in message and name not in ("kind", "do"):
                        del thing.facts[name]
                        board.unsure.append(Unsure(fact.spans[0], (), "the plan cannot take it"))
                        return True
    return False


def _heard(text: str, board: Board) -> list[Heard]:
    found: dict[tuple[Span, str], None] = {}
    for listed in board.things.values():
        for thing in listed:
            for name, fact in thing.facts.items():
                path = Candidate(thing.sort, thing.id, name, "").path()
                for span in fact.spans:
                    found[span, path + (f" ({fact.note})" if fact.note else "")] = None
    for span, what in board.heard:
        found[span, what] = None
    covered = _covered(len(text), [span for span, _ in found])
    language = lexicon(board.vocabulary).language
    for token in tokens_of(text):
        if token.sort == "word" and language.has("little", token.text) and not covered[token.start]:
            found[(token.start, token.end), "little word"] = None
    return [Heard(text[s[0] : s[1]], s, what) for s, what in sorted(found) if s[1] > s[0]]


def _covered(length: int, spans: list[Span]) -> bytearray:
    own = bytearray(length + 1)
    for start, end in spans:
        own[start:end] = b"\1" * (end - start)
    return own


def _unheard(text: str, heard: list[Heard], unsure: list[Unsure]) -> list[Span]:
    """The words that are neither heard nor unsure; neighbors together."""
    covered = _covered(len(text), [*(h.span for h in heard), *(u.span for u in unsure)])
    found: list[Span] = []
    last = -2
    for number, token in enumerate(t for t in tokens_of(text) if t.sort not in ("mark", "break")):
        if all(covered[token.start : token.end]):
            continue
        if number == last + 1:
            found[-1] = (found[-1][0], token.end)
        else:
            found.append((token.start, token.end))
        last = number
    return found


def _sorted(unsure: list[Unsure]) -> list[Unsure]:
    return sorted(dict.fromkeys(unsure), key=lambda u: (u.span, u.why, [c.path() for c in u.candidates]))


def _questions(board: Board) -> list[str]:
    """What the words leave unknown on purpose, as the vocabulary asks it."""
    found: dict[str, None] = {}
    for sort, own, name, _ in board.unknown:
        attribute = board.vocabulary.attributes.get(sort, {}).get(name)
        if attribute is not None:
            found[attribute.ask.replace("{{ id }}", own if own != sort else f"the {sort}")] = None
    return list(found)

"""Sentences and clauses of a text, and how each is meant: unknown, denied, asked, over, conditional, hedged."""

from __future__ import annotations

from collections.abc import Container
from functools import lru_cache

from msgspec import Struct, field

from advisor.draft.anew import Anew
from advisor.draft.items import Item
from advisor.draft.language import Language
from advisor.draft.tokens import Token
from advisor.draft.turns import turns

LONGEST = 120  # tokens of a sentence: longer ones are heard in pieces, or time would grow with their square
_CUES = (
    "unknown", "negation", "question", "condition", "if", "hedge", "past", "goal", "future", "have past", "before it",
    "first", "after it", "second thought", "owns", "not owned", "wearing", "instead", "as it is",
)  # fmt: skip
LONG = 22  # tokens between stops from which on somebody may begin anew without one
THERE = "where"  # the lead of a clause that only tells what is there today
OPENER = "anew"  # the lead of a clause that begins so
ENDS = frozenset({".", "!", "?", ";"})


class Clause(Struct):
    """A stretch of tokens and how it is meant. `cues` are the places of the words that tell so."""

    start: int
    stop: int
    lead: str = ""  # the word that joins it to the one before
    unknown: bool = False
    denied: bool = False
    denied_from: int = 0  # the token from which on it is denied
    asked: bool = False
    conditional: bool = False
    hedged: bool = False
    over: bool = False
    goal: bool = False
    cues: dict[str, list[tuple[int, int]]] = field(default_factory=dict)


def sentences(tokens: list[Token]) -> list[tuple[int, int, bool]]:
    """Stretches between full stops or blank lines, each with whether it ends with a question mark."""
    found, start = [], 0
    for place, token in enumerate(tokens):
        if place - start >= LONGEST:
            found.append((start, place, False))
            start = place
        if token.text == "?" and place + 1 < len(tokens) and tokens[place + 1].text == ")":
            continue  # `(rust?)` asks only that
        if token.sort == "break" or token.text in ENDS:
            if place > start:
                found.append((start, place, token.text == "?"))
            start = place + 1
    if start < len(tokens):
        found.append((start, len(tokens), False))
    return found


def clauses(
    tokens: list[Token], start: int, stop: int, items: list[Item], language: Language, again: set[int]
) -> list[Clause]:
    """The clauses of a sentence: at commas, joining words, and at `and` where doing words stand on both sides."""
    verbs = {item.start for item in items if item.verb is not None}
    runs_on = stop - start >= LONG
    anew = Anew(tokens, items, language, stop, again)
    inside = {place for item in items for place in range(item.start + 1, item.end)}
    cuts: list[tuple[int, int, str]] = []
    for place in range(start, stop):
        word = tokens[place].text
        if place in inside or place in again:
            continue
        if word in (",", "(", ")", "–", "—", ":", "-") and tokens[place].sort == "mark":
            cuts.append((place, place + 1, word))
        elif (
            word in ("instead", "rather")
            and place + 1 < stop
            and tokens[place + 1].text in ("of", "than")
            and place > start
        ):
            cuts.append((place, place, "instead"))
        elif language.has("clause starts", word) and place > start:
            cuts.append((place, place + 1, word))
        elif word == "where" and place > start and (end := _is_there_now(tokens, place + 1, stop, language)):
            cuts += [(place, place, THERE), (end, end, "")]
            inside |= set(range(place, end))
        elif (place > start and anew.does(cuts[-1][1] if cuts else start, place)) or (
            runs_on and anew.begins(cuts[-1][1] if cuts else start, place)
        ):
            cuts.append((place, place, OPENER))
        elif word == "then" and place > start:
            cuts.append((place, place, "then"))
        elif (
            word in ("and", "or", "before", "after", "once", "when", "until", "if", "cause", "while") and place > start
        ):
            first = cuts[-1][1] if cuts else start
            if word in ("and", "or"):
                if (
                    _unknown_at(tokens, place + 1, language)
                    or _somebody_begins(tokens, first, place, language, items)
                    or (
                        _does(tokens, verbs, first, place)
                        and _does(tokens, verbs, place + 1, _next(tokens, place + 1, stop), True)
                    )
                ):
                    cuts.append((place, place + 1, word))
            elif any(p in verbs for p in range(first, place)) and (
                any(p in verbs for p in range(place, stop)) or word == "if"
            ):
                cuts.append((place, place, word))
    found, begin, lead = [], start, ""
    for at, following, word in cuts:
        if at > begin:
            found.append(Clause(begin, at, lead))
        begin, lead = following, word
    if begin < stop:
        found.append(Clause(begin, stop, lead))
    return found


def _is_there_now(tokens: list[Token], start: int, stop: int, language: Language) -> int:
    """The end of `where a light hangs now`, `where the old tub was`; 0 where more is told of the thing, or it goes."""
    if start + 1 < stop and tokens[start].text in ("there", "theres"):  # `where there is a light now`
        for place in range(start + 1, min(start + 8, stop + 1)):
            if place == stop or tokens[place].sort == "mark" or tokens[place].text in ("and", "but", "then"):
                return place
            if language.has("today", tokens[place].text) and (place + 1 == stop or tokens[place + 1].sort == "mark"):
                return place + 1
        return 0
    for place in range(start, min(start + 6, stop)):
        if language.has("stands there", tokens[place].text):
            end = place + 1
            while end < stop and language.has("today", tokens[end].text):
                end += 1
            ends = end >= stop or tokens[end].sort == "mark" or tokens[end].text in ("and", "but", "then")
            return end if ends and place > start else 0
        if tokens[place].sort in ("mark", "break"):
            return 0
    return 0


def _unknown_at(tokens: list[Token], place: int, language: Language) -> bool:
    """Whether what follows says that something is not known: `… and i dont know if it holds`."""
    return any(
        tuple(t.text for t in tokens[begin : begin + length]) in language.words["unknown"]
        for begin in (place, place + 1)
        for length in (2, 3, 4)
    )


def _somebody_begins(tokens: list[Token], first: int, place: int, language: Language, items: list[Item]) -> bool:
    """`my son drills and i hold the vacuum`: somebody else does the next; not `my brother and i carry it`."""
    if place + 2 >= len(tokens) or place - first < 3 or tokens[place].text != "and":
        return False
    if tokens[place - 1].sort == "mark" or language.has("people", tokens[place - 1].text):
        return False
    if any(item.end == place and item.get("who") for item in items):
        return False
    if language.has("begins behind and", tokens[place + 1].text):
        return True
    begin = place + 1 + language.has("articles", tokens[place + 1].text)
    person = next((item for item in items if item.start == begin and item.get("who")), None)
    return person is not None and any(
        item.verb is not None and person.end <= item.start <= person.end + 2 for item in items
    )


def _next(tokens: list[Token], place: int, stop: int) -> int:
    return next((p for p in range(place, stop) if tokens[p].text in (",", "and", "but", "then")), stop)


def _does(tokens: list[Token], verbs: set[int], start: int, stop: int, near: bool = False) -> bool:
    reach = min(stop, start + 8) if near else stop
    return any(p in verbs or tokens[p].text in turns("copulas") for p in range(start, reach))


def scope(
    clause: Clause,
    tokens: list[Token],
    language: Language,
    question: bool,
    said: set[int],
    names: Container[str] = (),
) -> None:
    """Say how a clause is meant. `said` are places inside sayings: `never painted` denies nothing else."""
    for group in _CUES:
        places = find(tokens, clause.start, clause.stop, language.words[group])
        if group == "owns":
            places = [p for p in places if p[1] >= clause.stop or tokens[p[1]].text != "to"]
            places = [p for p in places if _somebody_has(tokens, p[0], clause, language, names)]
        if group == "negation":
            places = [p for p in places if not _only_says_no(tokens, p[0], clause)]
        if group in ("negation", "hedge", "not owned"):
            places = [p for p in places if p[0] not in said]
        if group == "hedge":  # `a question about my shower`, `caulk around the tub`
            places = [p for p in places if not _before_a_thing(tokens, p, clause, language)]
        if places:
            clause.cues[group] = places
    cues = clause.cues
    clause.unknown = "unknown" in cues
    clause.denied = ("negation" in cues or clause.lead == "instead") and not clause.unknown
    if clause.denied and clause.lead != "instead":
        clause.denied_from = cues["negation"][0][0]
    clause.hedged = "hedge" in cues
    clause.asked = "question" in cues or question
    if "if" in cues and any(place[0] and tokens[place[0] - 1].text in turns("asking if") for place in cues["if"]):
        del cues["if"]  # `see if the box is ok`: what is looked at is not known, and nothing hangs on it
        clause.unknown = clause.unknown or clause.lead == "if" or tokens[clause.start].text == "if"
    clause.conditional = ("condition" in cues or "if" in cues) and not clause.unknown
    clause.goal = "goal" in cues
    clause.over = "past" in cues


def _before_a_thing(tokens: list[Token], place: tuple[int, int], clause: Clause, language: Language) -> bool:
    """Whether a word for about is a preposition here: before `the` or `my`, and no number."""
    begin, end = place
    behind = tokens[end].text if end < clause.stop else ""
    word = end - begin == 1 and (tokens[begin].text == "about" or language.has("prepositions", tokens[begin].text))
    return word and language.has("articles", behind) and behind not in ("a", "an")


def _only_says_no(tokens: list[Token], place: int, clause: Clause) -> bool:
    """`no, the wall gets painted`, `no i want to paint it`: an answer, which denies nothing of what follows."""
    if tokens[place].text not in ("no", "not") or place != clause.start:
        return False
    if place + 1 == clause.stop:
        return True
    return tokens[place + 1].text in turns("after no") and tokens[place].text == "no"


def _somebody_has(tokens: list[Token], place: int, clause: Clause, language: Language, names: Container[str]) -> bool:
    """Whether a person has it: `the hall has wallpaper` tells of no owner."""
    if tokens[place].text not in ("has", "have", "had") or place == clause.start:
        return True
    return language.has("people", tokens[place - 1].text) or tokens[place - 1].text in names


@lru_cache(maxsize=256)
def _longest(phrases: frozenset[tuple[str, ...]]) -> dict[str, int]:
    """The length of the longest phrase by its first word."""
    found: dict[str, int] = {}
    for phrase in phrases:
        found[phrase[0]] = max(len(phrase), found.get(phrase[0], 0))
    return found


def find(tokens: list[Token], start: int, stop: int, phrases: frozenset[tuple[str, ...]]) -> list[tuple[int, int]]:
    """Where phrases of a group stand, the longest at each place."""
    found = []
    longest = _longest(phrases)
    place = start
    while place < stop:
        if tokens[place].text not in longest:
            place += 1
            continue
        for length in range(min(longest[tokens[place].text], stop - place), 0, -1):
            if tuple(t.text for t in tokens[place : place + length]) in phrases:
                found.append((place, place + length))
                place += length - 1
                break
        place += 1
    return found


def asked_from(tokens: list[Token], listed: list[Clause], language: Language) -> int:
    """Of a sentence that ends with a question mark, the number of the first clause that asks."""
    for number, clause in enumerate(listed):
        first = tokens[clause.start].text
        if first in turns("asking") or find(tokens, clause.start, clause.stop, language.words["question"]):
            return number
    return max(0, len(listed) - 1)

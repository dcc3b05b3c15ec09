"""What somebody says anew at once: `nine boxes no eight`, `over the stove no wait over the fridge`."""

from __future__ import annotations

from advisor.draft.items import Item
from advisor.draft.language import Language
from advisor.draft.tokens import Token
from advisor.draft.turns import turns

_REACH = 12  # words between what is taken back and the word that does so
_NAMES = frozenset({"part", "product", "room", "tool"})


def said_anew(tokens: list[Token], found: list[Item], language: Language) -> tuple[list[Item], set[int]]:
    """The items without those that were taken back, and the places of the words that did so."""
    gone: set[int] = set()
    places: set[int] = set()
    for number, second in enumerate(found):
        for at in range(number - 1, max(-1, number - 7), -1):  # the nearest that it may take the place of
            first = found[at]
            if id(first) in gone or id(second) in gone or second.verb is not None:
                continue
            back = _taken_back(tokens, first, second)
            if back is None:
                continue
            if first.amount is not None and second.amount is not None and _alike(first, second):
                if any(i.verb is not None and i.start > back for i in found[at + 1 : number]):
                    continue
                amount = second.amount
                if first.amount.unit and not amount.unit and amount.sort == "number":
                    amount = language.measures.with_unit(amount, first.amount.unit)
                if back == first.end:  # `a foot no ten inches deep`
                    second.amount = amount
                    gone.add(id(first))
                    places.update(range(first.start, second.start))
                else:  # `nine boxes no eight`
                    first.amount = amount
                    gone.add(id(second))
                    places.update(range(back, second.end))
                break
            if back == first.end and _same_sort(first, second):
                gone.add(id(first))
                places.update(range(first.start, second.start))
                break
    return [item for item in found if id(item) not in gone], places


def _taken_back(tokens: list[Token], first: Item, second: Item) -> int | None:
    """The place of the word that takes the first back, where nothing else stands before the second."""
    for place in range(first.end, min(second.start, first.end + _REACH)):
        if tokens[place].text in (".", ";", "?", "!") or tokens[place].sort == "break":
            return None
        if tokens[place].text in turns("takes back") and not _lasts(first, second):
            rest = tokens[place + 1 : second.start]
            return (
                place
                if len(rest) < 4 and all(t.text in turns("between said anew") or t.text == "," for t in rest)
                else None
            )
    return None


def _lasts(first: Item, second: Item) -> bool:
    """`three coats, wait 24 hours`: how long somebody waits is no other number of coats."""
    one, two = first.amount, second.amount
    return one is not None and two is not None and "time" in two.dimensions and "time" not in one.dimensions


def _alike(first: Item, second: Item) -> bool:
    one, two = first.amount, second.amount
    if one is None or two is None or two.sort in ("vague", "age"):
        return False
    if {one.sort, two.sort} & {"year", "decade"}:
        return {one.sort, two.sort} <= {"year", "decade"}  # `house is 1924 no 1922`
    return not two.unit or not one.unit or bool(one.dimensions & two.dimensions)


def _same_sort(first: Item, second: Item) -> bool:
    if first.amount is not None or second.amount is not None or first.verb is not None:
        return False
    terms = {(s.role, s.of) for s in first.senses if s.role == "term"} & {
        (s.role, s.of) for s in second.senses if s.role == "term"
    }
    return bool(first.roles() & second.roles() & _NAMES) or bool(terms)

"""Answers that a person would give, in words and round figures, and what each brings or takes away."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from advisor.rulebase.base import RuleBase
from advisor.rulebase.vocabulary import Attribute
from advisor.showing import show
from advisor.site.assume import MARK, MISSING, Constraint, Key, Set, both
from advisor.site.cells import Open
from advisor.site.figures import between_limits
from advisor.site.likely import RARE, share
from advisor.site.standing import Practice, Standing
from advisor.site.usual import usual_of
from advisor.units import DIMENSIONS, from_base, to_base

MOST = 4
_FEW = 2  # words that a rule names
_NO_ANSWER = ("?", "unknown ")  # names of things that nobody listed, and words that say that it is not known
_INF = float("inf")
Sets = list[tuple[Set, frozenset[str]]]


class Offer(Struct, frozen=True):
    """An answer with what it brings and takes away: rule and step, gravest first."""

    value: str
    comes: tuple[tuple[str, str], ...]
    goes: tuple[tuple[str, str], ...]
    decides: str = ""  # the gravest of what it brings, in words
    key: Key = ("", "", "")  # where it would be written
    rare: bool = False  # hardly anyone would say so of such a thing


class Today:
    """Why what speaks now does, by unknown: what would end it, and which practices it is a reason of."""

    def __init__(self, found: Standing) -> None:
        self.ending: dict[Key, list[Constraint]] = {}
        self.names: dict[Key, list[tuple[str, str]]] = {}
        for name, today in found.today.items():
            for one in today:
                for key, constraint in one.items():
                    if constraint[0] == "b":
                        for way in constraint[2]:
                            for other in way:
                                self._add(other, [way[other]] if _only(way, other) else [], name)
                    elif key in found.cells:
                        self._add(key, found.cells[key].against(constraint), name)

    def _add(self, key: Key, ways: list[Constraint], name: tuple[str, str]) -> None:
        known = self.ending.setdefault(key, [])
        known += [way for way in ways if way not in known]
        names = self.names.setdefault(key, [])
        if name not in names:
            names.append(name)


def offers(
    keys: frozenset[Key],
    practices: Sequence[tuple[Practice, Sets]],
    found: Standing,
    today: Today,
    units: str,
    rulebase: RuleBase,
) -> tuple[Offer, ...]:
    """A few answers to a question: those that bring most, gravest first, and what takes away what was presumed.

    An answer that hardly anyone would give, such as a room of 120 °F, comes behind those that people give.
    """
    if not keys:
        return _of_absent(practices, found)
    made: list[tuple[int, Offer]] = []
    mine: dict[Key, list[tuple[Practice, Set, int]]] = {key: [] for key in keys}  # with how many questions it hangs on
    for one, sets in practices:
        for assumed, questions in sets:
            for key in assumed:
                if key in mine:
                    mine[key].append((one, assumed, len(questions)))
    for key in sorted(keys):
        cell = found.cells.get(key)
        if cell is None or key[1] == "?room" or (key[1].startswith("?") and key[2] != "binder"):
            continue
        label = "" if len(keys) == 1 else key[2].replace("_", " ") + " "
        for rank, offer in _of_key(key, cell, mine[key], found, today, units, rulebase):
            made.append((rank, replace(offer, value=label + offer.value)))
    made.sort(key=lambda m: (m[1].rare, -m[0]))
    distinct = {(one.comes, one.goes, one.decides): one for _, one in reversed(made)}
    return tuple(one for _, one in made if distinct[one.comes, one.goes, one.decides] is one)[:MOST]


def _of_key(
    key: Key,
    cell: Open,
    mine: Sequence[tuple[Practice, Set, int]],
    found: Standing,
    today: Today,
    units: str,
    rulebase: RuleBase,
) -> list[tuple[int, Offer]]:
    alone = [(one, s) for one, s, questions in mine if questions == 1 and _only(s, key)]
    # Of the rows of a table some bring it and some do not: which, the sum tells that the answer goes into.
    asked = [(one, s[key]) for one, s, _ in mine if MARK not in s or _few(s[key], cell)]
    wanted = [c for _, c in sorted(asked, key=lambda a: -a[0].rank)] + today.ending.get(key, [])
    made = []
    for value, text in _values(wanted, cell, units, rulebase):
        point = _point(value, cell)
        # What a sum makes of the answer is not said before it is worked out.
        brought = [one for one, s in alone if MARK not in s and _brings(s, key, point)]
        comes = sorted({(one.rule.id, one.step) for one in brought})
        gravest = max((one for one, c in asked if _meets(point, c)), key=lambda o: o.rank, default=None)
        goes = sorted(name for name in today.names.get(key, ()) if _ended(found, name, key, point))
        if comes or goes or gravest is not None:
            # What it brings by itself says what the answer does; what it only helps to bring hangs on others too.
            sure = max(brought, key=lambda o: o.rank, default=gravest)
            decides = f"{sure.signal}: {sure.rule.title}" if sure is not None else ""
            rare = share(key, point, cell, usual_of(rulebase)) < RARE
            made.append((gravest.rank if gravest else 0, Offer(text, tuple(comes), tuple(goes), decides, key, rare)))
    return made


def _only(one: Set, key: Key) -> bool:
    return all(c[1] or k == key for k, c in one.items())


def _of_absent(mine: Sequence[tuple[Practice, Sets]], found: Standing) -> tuple[Offer, ...]:
    made: dict[str, list[Practice]] = {}
    sure: dict[str, set[tuple[str, str]]] = {}
    for one, sets in mine:
        for assumed, names in sets:
            for own in assumed[MISSING][2] if MISSING in assumed else ():
                made.setdefault(own, []).append(one)
                if len(names) == 1:
                    sure.setdefault(own, set()).add((one.rule.id, one.step))
    listed = []
    for own, ones in sorted(made.items()):
        gravest = max(ones, key=lambda o: o.rank)
        decides = f"{gravest.signal}: {gravest.rule.title}"
        listed.append((-gravest.rank, Offer(found.absent[own].kind, tuple(sorted(sure.get(own, ()))), (), decides)))
    return tuple(offer for _, offer in sorted(listed, key=lambda o: (o[0], o[1].value)))[:MOST]


def _ended(found: Standing, name: tuple[str, str], key: Key, point: Constraint) -> bool:
    """Whether an answer alone silences what speaks: it ends each reason of today, and brings no other."""
    if not all(_ends(one, key, point) for one in found.today[name]):
        return False
    return not any(key in s and _only(s, key) and _brings(s, key, point) for s in found.besides[name])


def _ends(one: Set, key: Key, point: Constraint) -> bool:
    if key in one and _apart(one[key], point):
        return True
    breaking = [s for c in one.values() if c[0] == "b" for s in c[2]]
    return any(key in s and _only(s, key) and _meets(point, s[key]) for s in breaking)


def _brings(one: Set, key: Key, point: Constraint) -> bool:
    """Whether an answer alone makes a practice speak: it fits, and breaks no absence that the practice needs."""
    return _meets(point, one[key]) and not any(
        _only(s, key) and key in s and _meets(point, s[key]) for c in one.values() if c[0] == "b" for s in c[2]
    )


def _meets(point: Constraint, constraint: Constraint) -> bool:
    """Whether an answer satisfies a constraint; a list holds just the one word."""
    if point[0] == "l" and constraint[0] == "l":
        held = frozenset().union(*point[2])
        return all(one & held for one in constraint[2]) and not held & constraint[3]
    return both(point, constraint) is not None


def _apart(now: Constraint, point: Constraint) -> bool:
    if now[0] == "k":
        return True
    if now[0] == "a":
        return False
    return not _meets(point, (now[0], False, *now[2:]))


def _few(constraint: Constraint, cell: Open) -> bool:
    """Whether it is few words that a rule names, or no words of which only one stands there."""
    if cell.several and constraint[0] == "l":
        return all(len(one) <= _FEW for one in constraint[2])
    return constraint[0] != "w" or len(constraint[2]) <= _FEW


def _point(value: object, cell: Open) -> Constraint:
    if cell.many or cell.several:
        return ("l", False, frozenset((frozenset((str(value),)),)), frozenset())
    if isinstance(value, float):
        return ("n", False, value, value, False, False)
    return ("w", False, frozenset((str(value),)))


def _values(constraints: list[Constraint], cell: Open, units: str, rulebase: RuleBase) -> list[tuple[object, str]]:
    """One word for each set of words that rules treat alike; a round figure beyond each limit."""
    attribute, usual = rulebase.vocabulary.attributes[cell.key[0]][cell.key[2]], usual_of(rulebase)
    found: list[tuple[object, str]] = []
    known: dict[Constraint, list[tuple[object, str]]] = {}
    for constraint in constraints:
        own = known.get(constraint)
        if own is None:
            own = known[constraint] = _of_constraint(constraint, cell, attribute, units, rulebase)
        found += own
    if cell.presumed is not None and attribute.type == "year" and (cell.key[0], cell.key[2]) not in usual.figures:
        found += [p for p in (_figure(1990.0, _INF, "year", units),) if p is not None]
    if cell.sort == "w" and not cell.many and len(cell.allowed) == 2:
        found += [(word, word) for word in sorted(cell.allowed) if not word.startswith(_NO_ANSWER)]
    if cell.sort == "w" and cell.presumed is not None and len(found) < 2:
        rest = cell.allowed - {str(cell.presumed)} - {str(v) for v, _ in found}
        found += _word(rest, cell, attribute, rulebase)
    return list(dict.fromkeys(one for one in found if one[0] != cell.presumed))


def _of_constraint(
    constraint: Constraint, cell: Open, attribute: Attribute, units: str, rulebase: RuleBase
) -> list[tuple[object, str]]:
    tag = constraint[0]
    if tag == "w" and cell.sort == "w":
        return _word(constraint[2], cell, attribute, rulebase)
    if tag == "l":
        return [v for one in sorted(constraint[2], key=sorted) for v in _word(one, cell, attribute, rulebase)]
    if tag != "n":
        return []
    low = constraint[2] if constraint[2] > cell.low else -_INF
    high = constraint[3] if constraint[3] < cell.high else _INF
    there_are = usual_of(rulebase).figures.get((cell.key[0], cell.key[2]))
    if there_are is not None:
        fit = [one for one in there_are if (low < one if constraint[4] else low <= one)]
        fit = [one for one in fit if (one < high if constraint[5] else one <= high)]
        nearest = max(fit, default=None) if low == -_INF else min(fit, default=None)
        return [] if nearest is None else [(nearest, str(int(nearest)))]
    point = _figure(low, high, attribute.type, units)
    if point is not None and not cell.low <= point[0] <= cell.high:  # nobody may say so much
        point = _figure(max(constraint[2], cell.low), min(constraint[3], cell.high), attribute.type, units)
    return [] if point is None else [point]


def _word(words: frozenset[str], cell: Open, attribute: Attribute, rulebase: RuleBase) -> list[tuple[object, str]]:
    """The word of a set that says most of it: a class before its kinds."""
    left = sorted(words & cell.allowed if cell.allowed else words)
    left = [word for word in left if not word.startswith(_NO_ANSWER)]
    if not left:
        return []
    taxonomy = rulebase.vocabulary.taxonomies.get(attribute.of) if attribute.type == "term" else None
    if taxonomy is None:
        return [(left[0], left[0])]
    wide = {word: taxonomy.below(word) for word in left}
    best = min(left, key=lambda w: (not wide[w] <= words, -len(wide[w] & words), len(w), w))
    return [(best, best)]


def _figure(low: float, high: float, kind: str, units: str) -> tuple[float, str] | None:
    """A round figure well inside the limits, in the unit that a reader uses."""
    if kind == "year":
        year = math.floor((high - 8) / 10) * 10 if high < 2100 else math.ceil((low + 8) / 10) * 10
        return float(year), str(int(year))
    if kind == "count":
        count = low + 1 if low > -_INF and low == int(low) else high - 1
        if low > 0 and high == _INF:
            count = math.ceil(low) + 1
        return (float(max(count, 0)), str(int(max(count, 0)))) if abs(count) < 1e9 else None
    if kind not in DIMENSIONS:
        return None
    unit = DIMENSIONS[kind][1 if units == "us" else 2]
    for _ in range(2):  # once more where it is told in another unit: feet for many inches
        bottom, top = (one if math.isinf(one) else from_base(one, unit, kind) for one in (low, high))
        found = between_limits(bottom, top, unit)
        if found is None:
            return None
        value = to_base(found, unit, kind)
        shown = show(value, kind, units)
        if shown.unit == unit:
            return (value, shown.text) if low <= value <= high else None
        unit = shown.unit
    return None

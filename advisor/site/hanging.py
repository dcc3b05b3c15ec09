"""What hangs on each single unknown, for whoever asks one question at a time.

A report bundles what belongs together and lists the bundles; a walk asks for one unknown, hears the answer, and weighs
all anew. What could be grave comes first: each practice counts by its signal word, by how usual the answers are that
would bring it, and by how many answers it takes. What a person did not know counts no more towards it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping

from msgspec import Struct

from advisor.plan.model import Plan
from advisor.rulebase.base import RuleBase
from advisor.site.assume import MARK, MISSING, Constraint, Key, Set
from advisor.site.likely import share
from advisor.site.sizes import SIZES
from advisor.site.standing import Standing
from advisor.site.things import asked_of
from advisor.site.usual import MOST_NAMED, Usual, usual_of

CAUTION = 1  # rank
_WEIGHT = (0.5, 4.0, 10.0, 20.0)  # notice, caution, warning, danger
_TOLD = 0.1  # what speaks already is told; an answer can only take it away
_SETTLES = 0.1  # an answer that only takes a practice off the list
_RULES = 0.45  # what each further practice counts of the one before
_STEPS = 0.5  # and the same practice at a further step
_BREATH = 0.35  # what each further unknown of one breath counts
_SIZES = "sizes"
_SUM = 0.5  # how often a sum of figures comes out so that a practice speaks
_RARE = 0.1  # an answer outside of what is usual
_MANY = 3  # questions; a sum names all that it may read, and some of it does


class Opening(Struct, frozen=True, order=True):
    """What must be answered for a practice to speak, and how usual such answers are, from 0 to 1."""

    keys: tuple[Key, ...]
    usual: float


class Hanging(Struct, frozen=True):
    """A practice at a step that hangs on unknowns: it is open, or it speaks and rests on them."""

    rule: str
    step: str
    rank: int
    ways: tuple[Opening, ...]
    speaks: bool = False


def hanging(
    found: Standing, told: Iterable[tuple[str, str, int, Collection[Key]]], plan: Plan, rulebase: RuleBase
) -> list[Hanging]:
    """All that hangs on what may be asked. `told` are findings: rule, step, rank, the unknowns that they rest on."""
    usual = usual_of(rulebase)
    listed = []
    for one in found.open:
        ways = {way for way in (_way(s, found, usual, plan) for s in one.ways) if way is not None}
        if ways:
            listed.append(Hanging(one.rule.id, one.step, one.rank, tuple(sorted(ways))))
    for rule, step, rank, keys in told:
        if keys:
            listed.append(Hanging(rule, step, rank, (Opening(tuple(sorted(set(keys))), 1.0),), True))
    return listed


def _way(one: Set, found: Standing, usual: Usual, plan: Plan) -> Opening | None:
    """The set as what must be answered; None where that is more than a person can be asked."""
    way: dict[Key, float] = {}
    for key, constraint in one.items():
        if constraint[1] or key[0] in ("!", "~"):
            continue
        asked = _asked(key)
        if key == MISSING or asked is None:
            return None
        way[asked] = way.get(asked, 1.0) * _likely(key, constraint, found, usual, plan)
    chance = _SUM if MARK in one else 1.0
    for share_of in way.values():
        chance *= share_of
    return Opening(tuple(sorted(way)), chance) if way else None


def _asked(key: Key) -> Key | None:
    """The unknown that a question asks for; None for a thing that is not listed."""
    found = asked_of(key)
    return None if found[1].startswith("?") else found


def _likely(key: Key, constraint: Constraint, found: Standing, usual: Usual, plan: Plan) -> float:
    sort, own, attribute = _asked(key) or key
    entity = plan.entities.get(sort, {}).get(own)
    kind = entity.word if entity else ""
    seldom = (
        usual.seldom(plan, sort, own, attribute)
        * usual.any_work.get((sort, attribute), 1.0)
        * usual.late(sort, attribute, kind)
    )
    if constraint[0] == "a":
        return seldom  # a figure for a sum: what the sum makes of all of them is weighed once
    range_of = usual.ranges.get((sort, attribute))
    if constraint[0] == "n" and range_of is not None:
        low, high = max(constraint[2], range_of[0]), min(constraint[3], range_of[1])
        part: float = (high - low) / (range_of[1] - range_of[0])
        return max(part, _RARE) * seldom
    return share(key, constraint, found.cells.get(key), usual) * seldom


def weights(hangs: Iterable[Hanging], passed: Collection[Key], least: int, usual: Usual) -> dict[Key, float]:
    """How much hangs on each unknown that was not asked yet; practices below rank `least` count for nothing."""
    gains: dict[Key, dict[str, list[float]]] = {}  # by rule: one practice at many steps is one practice
    for one in hangs:
        if one.rank < least:
            continue
        best: dict[Key, float] = {}
        for way in one.ways:
            left = [key for key in way.keys if key not in passed]
            many = len({_breath(key, usual) for key in way.keys})
            gain = _SETTLES
            if one.speaks:
                gain = _TOLD
            elif len(left) == len(way.keys):
                gain = max(way.usual, _SETTLES)
            for key in left:
                best[key] = max(best.get(key, 0.0), gain / min(many, _MANY))
        for key, gain in best.items():
            gains.setdefault(key, {}).setdefault(one.rule, []).append(_WEIGHT[one.rank] * gain)
    return {key: _fading((_fading(own, _STEPS) for own in rules.values()), _RULES) for key, rules in gains.items()}


def _fading(gains: Iterable[float], share: float) -> float:
    """The greatest, and of each further one less: much that is unlikely weighs less than one thing that is likely."""
    return sum(gain * share**place for place, gain in enumerate(sorted(gains, reverse=True)))


def in_order(found: Mapping[Key, float], usual: Usual, asked_now: Callable[[Key], bool]) -> list[tuple[Key, ...]]:
    """What may be asked in one breath, the weightiest first: the sizes of a thing, what its label says, one unknown.

    No more than a person keeps in mind: the weightiest of a breath first, the rest of it by its own weight.
    """
    breaths: dict[tuple[str, ...], list[Key]] = {}
    for key in sorted((key for key in found if asked_now(key)), key=lambda key: (-round(found[key], 9), key)):
        breaths.setdefault(_breath(key, usual), []).append(key)
    listed = []
    for name, keys in breaths.items():
        many = len(SIZES) if name[0] == _SIZES else MOST_NAMED
        for start in range(0, len(keys), many):
            some = keys[start : start + many]
            weight = -round(_fading((found[key] for key in some), _BREATH), 9)
            listed.append((weight, tuple(sorted(some, key=_as_said) if name[0] == _SIZES else some)))
    return [keys for _, keys in sorted(listed)]


def _as_said(key: Key) -> int:
    return list(SIZES).index(key[2])


def _breath(key: Key, usual: Usual) -> tuple[str, ...]:
    sort, own, attribute = key
    if attribute in SIZES and sort in ("part", "room"):
        return (_SIZES, sort, own)
    breath = usual.of_one.get((sort, attribute))
    return ("breath", sort, own, breath.say[0]) if breath is not None else ("one", *key)

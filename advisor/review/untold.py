"""A need of which nobody can tell whether it holds: told with the question that decides it, or open."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec.structs import replace

from advisor.engine.run import Drawn
from advisor.plan.facts import question
from advisor.plan.model import Basis, Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import SHADOW, Rule
from advisor.site.assume import Key
from advisor.site.possible import May, Possible
from advisor.site.run import Judged
from advisor.site.standing import Practice
from advisor.site.untold import Untold, untold
from advisor.site.verdicts import UNKNOWN, listed

_MayBe = dict[tuple[str, str, str], list[tuple[May, list[Iterable[Iterable[Key]]]]]]


def tell_untold(outcome: Judged, possible: Possible, plan: Plan, rulebase: RuleBase) -> list[Practice]:
    """Say of needs that fail, and might hold, that it cannot be told; the practices of those that only might fail."""
    if outcome.site is None:
        return []
    found = {id(one.need.drawn): one for one in untold(outcome.site, possible, plan, rulebase)}
    implying = {rule.id.partition(SHADOW)[0] for rule in rulebase.rules if SHADOW in rule.id}
    drawn = []
    may_be = _by_practice(possible)
    places = {step.id: k for k, step in enumerate(plan.steps)}
    for one in outcome.drawn:
        state = found.get(id(one))
        if one.answer or (state is not None and state.holds):
            drawn.append(one)
        elif state is not None:
            drawn.append(_told(one, state.steps, state.unknowns, plan, rulebase))
        elif _rule(one).id in implying and one.conclusion.kind in ("require", "refer"):
            drawn.append(_told(one, *_fillers(one, may_be, places), plan, rulebase))
        else:
            drawn.append(one)
    outcome.drawn = drawn
    return [_practice(one) for one in found.values() if one.holds]


def _by_practice(possible: Possible) -> _MayBe:
    """What may be so and hangs on whether a step is what a rule looks for: by rule, kind of conclusion and step."""
    found: _MayBe = {}
    for may in possible.drawn:
        ways = [c[2] for one in may.ways for c in one.values() if c[0] == "b"]
        if ways and may.conclusion.step is not None:
            step = str(may.env[may.conclusion.step.name])
            found.setdefault((may.rule.id, may.conclusion.kind, step), []).append((may, ways))
    return found


def _fillers(drawn: Drawn, may_be: _MayBe, place: Mapping[str, int]) -> tuple[tuple[str, ...], tuple[Key, ...]]:
    """Earlier steps of which it cannot be told whether they are what a rule looks for, and what they leave out."""
    assert drawn.conclusion.step is not None
    target = str(drawn.env[drawn.conclusion.step.name])
    steps: set[str] = set()
    keys: set[Key] = set()
    for may, every in may_be.get((_rule(drawn).id, drawn.conclusion.kind, target), ()):
        if any(isinstance(v, str) and drawn.env.get(n, v) != v for n, v in may.env.items()):
            continue
        for ways in every:
            for way in ways:
                earlier = [k for k in way if k[0] == "step" and place.get(k[1], len(place)) < place.get(target, 0)]
                steps |= {key[1] for key in earlier}
                keys |= set(earlier)
    return tuple(sorted(steps, key=place.__getitem__)), tuple(sorted(keys))


def _told(drawn: Drawn, steps_of: tuple[str, ...], keys: tuple[Key, ...], plan: Plan, rulebase: RuleBase) -> Drawn:
    """The need, presumed not to hold, with what would decide it."""
    rests = tuple(basis for key in keys if (basis := _basis(key, plan, rulebase)) is not None)
    if not rests:
        return drawn
    conclusion = drawn.conclusion
    steps = listed(list(steps_of)) or "an earlier step"
    what = f"{conclusion.what} Or does {steps} do this already? The plan does not tell: {rests[0].ask}"
    index = _rule(drawn).conclusions.index(conclusion)
    return replace(
        drawn, conclusion=replace(conclusion, what=what), index=index, answer=(UNKNOWN, *steps_of), rests=rests
    )


def _basis(key: Key, plan: Plan, rulebase: RuleBase) -> Basis | None:
    sort, own, attribute = key
    known = rulebase.vocabulary.attributes.get(sort, {}).get(attribute)
    if known is None or not known.ask or own not in plan.entities.get(sort, {}):
        return None
    return Basis(sort, own, attribute, "", "", question(known, own))


def _practice(one: Untold) -> Practice:
    drawn = one.need.drawn
    assert drawn is not None
    assert drawn.conclusion.step is not None
    rule = _rule(drawn)
    names = sorted(n for n, t in rule.types.items() if t in ("ref:part", "ref:product", "ref:room"))
    parts = tuple(sorted({str(drawn.env[n]) for n in names if n in drawn.env}))
    return Practice(rule, str(drawn.env[drawn.conclusion.step.name]), drawn.conclusion.signal, parts, one.ways)


def _rule(drawn: Drawn) -> Rule:
    return drawn.why.variant.rule  # type: ignore[attr-defined, no-any-return]

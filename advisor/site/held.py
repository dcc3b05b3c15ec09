"""Needs among what may be so: those that hold as the plan stands do not speak, whatever their rule's conditions say."""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from advisor.engine.memory import Memory
from advisor.plan.model import FactBase
from advisor.rulebase.base import RuleBase
from advisor.site.ground import ground
from advisor.site.possible import May
from advisor.site.simulate import failures


@dataclass(frozen=True, slots=True, eq=False)
class _Drawn:
    """A conclusion as the site reads it, of one that is drawn or may be."""

    conclusion: Any
    env: Any
    why: Any


def without_what_holds(drawn: list[May], base: FactBase, rulebase: RuleBase) -> list[May]:
    """The conclusions that may speak: no effects, and of needs those that what surely happens does not bring."""
    if not any(one.conclusion.kind == "effect" or one.conclusion.goals or one.conclusion.never for one in drawn):
        return drawn
    memory = Memory(rulebase.vocabulary.taxonomies)
    for fact in base.facts:
        if fact.kind == "step":
            memory.add_stated(fact)
    told: list[tuple[_Drawn, May]] = []
    for one in drawn:
        conclusion = one.conclusion
        if (conclusion.kind == "effect" and one.speaks) or conclusion.goals or conclusion.never:
            why = SimpleNamespace(variant=SimpleNamespace(rule=one.rule))
            if conclusion.step is None or str(one.env[conclusion.step.name]) in memory.places:
                told.append((_Drawn(conclusion, one.env, why), one))
    site = ground(memory, [as_drawn for as_drawn, _ in told], rulebase.states)  # type: ignore[misc]
    failed = {id(failure.need.drawn) for failure in failures(site, site.order())}
    needs = {id(one): id(as_drawn) for as_drawn, one in told if one.conclusion.kind != "effect"}
    return [
        one for one in drawn if one.conclusion.kind != "effect" and (id(one) not in needs or needs[id(one)] in failed)
    ]

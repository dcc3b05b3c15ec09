# ruff: noqa: SIM102 -- when a practice applies, then what excuses it: one `if` each
"""The seven core practices as a hand-written loop: what a programmer would write instead of rules.

It knows no sources, no presumption's question, no reason why: it yields the pairs of rule and step, so that the
engine can be measured against the least that could do the job. `agrees` says whether both came to the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from advisor.calculators import find
from advisor.plan.model import PlanFact
from advisor.rulebase.base import RuleBase
from advisor.rulebase.strata import reads
from advisor.site.run import run

CORE = (
    "isolate-power",
    "seal-all-faces",
    "shim-from-high-point",
    "stain-blocking-primer",
    "support-sink-before-clips",
    "test-for-lead",
    "ventilate-solvent-finish",
)
Said = set[tuple[str, str]]


def core_rules(rulebase: RuleBase) -> RuleBase:
    """The rule base cut down to the seven rules and what deduces for them."""
    from msgspec.structs import replace

    makers: dict[str, list[str]] = {}
    for rule in rulebase.rules:
        for conclusion in rule.conclusions:
            if conclusion.kind == "deduce":
                makers.setdefault(conclusion.deduced, []).append(rule.id)
    wanted: set[str] = set()
    queue = list(CORE)
    while queue:
        name = queue.pop()
        if name not in wanted and (rule := rulebase.rule(name)):
            wanted.add(name)
            queue += [maker for kind, _ in reads(rule) for maker in makers.get(kind, [])]
    return replace(rulebase, rules=tuple(r for r in rulebase.rules if r.id in wanted))


def by_engine(rulebase: RuleBase, facts: list[PlanFact]) -> Said:
    """Rule and step of each core finding."""
    outcome = run(rulebase, facts)
    return {
        (d.why.variant.rule.id, str(d.env[d.conclusion.step.name]))  # type: ignore[attr-defined]
        for d in outcome.drawn
        if d.why.variant.rule.id in CORE and d.conclusion.step  # type: ignore[attr-defined]
    }


class Loop:
    """The practices by hand over the facts of a plan."""

    def __init__(self, rulebase: RuleBase) -> None:
        words = rulebase.vocabulary.taxonomies
        self.action = {
            w: words["action"].below(w) for w in ("coat", "prime", "install", "shim", "level", "disturb", "seal")
        }
        self.wood = words["material"].below("wood")
        self.cabinets = words["part_kind"].below("cabinets")
        self.electrical = words["part_kind"].below("outlet") | words["part_kind"].below("light")

    def __call__(self, facts: Iterable[PlanFact]) -> Said:
        """Rule and step of each finding."""
        things: dict[str, dict[str, dict[str, Any]]] = {}
        steps: list[dict[str, Any]] = []
        for fact in facts:
            values = dict(fact.values)
            if fact.kind == "step":
                steps.append(values)
            elif fact.kind != "item":
                things.setdefault(fact.kind, {})[values["id"]] = values
        steps.sort(key=lambda s: s["place"])
        self.things, self.before = things, {}
        self.beaded: set[str] = set()  # where the sealant of a sink went on that nothing held up
        found: Said = set()
        on: dict[str, list[str]] = {}  # what lies on or in a part
        for part in things["part"].values():
            for place in (*part.get("on", ()), *_members(part.get("in"))):
                on.setdefault(place, []).append(part["id"])
        for step in steps:
            part = things["part"].get(step.get("to", ""))
            if part is not None:
                found |= {(rule, step["id"]) for rule in self._said(step, part, on)}
                self.before.setdefault(part["id"], []).append(step)
        return found | {("support-sink-before-clips", step) for step in self.beaded}

    def _said(self, step: dict[str, Any], part: dict[str, Any], on: dict[str, list[str]]) -> Iterator[str]:
        do, earlier = step["do"], self.before.get(part["id"], [])
        product = self.things["product"].get(step.get("using", ""), {})
        if do in self.action["prime"] and {"knots", "grease"} & set(part.get("has", ())):
            if product.get("binder") != "shellac" and product.get("blocks_stains") != "yes":
                yield "stain-blocking-primer"
        if do in self.action["install"] and part["kind"] == "worktop" and part.get("material") in self.wood:
            if not any(s["do"] in self.action["coat"] and "all" in s.get("faces", ()) for s in earlier):
                yield "seal-all-faces"
        if do in self.action["install"] | self.action["level"]:
            for run_ in (part["id"], *part.get("on", ())):
                if self._uneven(run_):
                    yield "shim-from-high-point"
        if do in ("clip", "fasten", "hang", "mount") and part["kind"] == "sink" and part.get("mount") == "undermount":
            if not any(s["do"] == "support" for s in earlier):
                yield "support-sink-before-clips"
                self.beaded |= {s["id"] for s in earlier if s["do"] in self.action["seal"]}
        if do in self.action["disturb"] and self.things["house"]["house"].get("built", 1900) < 1978:
            if part.get("lead_test") != "negative" and part.get("coating") not in (None, "bare"):
                yield "test-for-lead"
        if product.get("carrier") == "mineral spirits" and self._fumes(step, product):
            yield "ventilate-solvent-finish"
        wired = [part["id"], *on.get(part["id"], ())] if do == "tile" else [part["id"]]
        if any(self.things["part"][w]["kind"] in self.electrical for w in wired):
            if not any(s["do"] == "prove dead" for s in earlier):
                yield "isolate-power"

    def _uneven(self, run_: str) -> bool:
        part = self.things["part"].get(run_, {})
        if part.get("kind") not in self.cabinets or "drops" not in part:
            return False
        if any(s["do"] in self.action["shim"] and s.get("from") == "high point" for s in self.before.get(run_, [])):
            return False
        return find("total_drop").function(drops=part["drops"]).value > 0.0254 / 16

    def _fumes(self, step: dict[str, Any], product: dict[str, Any]) -> bool:
        room = self.things["room"].get(step.get("in", ""), {})
        if room.get("ventilation") != "closed" or not {"length", "width", "height"} <= set(room):
            return False
        volume = room["length"] * room["width"] * room["height"]
        vapour = product.get("amount", 0.0) * product.get("solvent_fraction", 1.0) * 780.0  # kg of white spirit
        return bool(vapour / volume > 350e-6)  # NIOSH REL of Stoddard solvent, 350 mg/m3


def _members(value: Any) -> tuple[str, ...]:
    return value if isinstance(value, tuple) else (value,) if isinstance(value, str) else ()

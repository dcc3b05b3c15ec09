"""Told once: several rules in one finding, and a rule that another one tells already (`rules/gathered.yaml`).

Only what a reader meets is gathered. Order, calendar, account, `why`, waivers and `accept` work with every finding of
its own, and each id of them stays valid; a gathered finding lists them in `of`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from advisor.plan.model import Plan
from advisor.review.asked import RulesOfStep
from advisor.review.finding import Finding
from advisor.review.metric import localized
from advisor.review.model import Report
from advisor.review.wording import ShownVariable, Wording
from advisor.tables import rules_words

FILE = "gathered.yaml"


class ToldTogether(Struct, frozen=True):
    """Rules that are told in one finding: of a step, or of the whole plan."""

    id: str
    title: str
    whole: bool  # of the plan, not of a step
    says: str
    because: str
    nothing_named: str  # what it is about where its rules name no part
    items: dict[str, str]  # by rule: its words in the list, in the order of the list
    reasons: dict[str, str]  # by rule: a reason of its own, where that of the group does not fit


def told(findings: Sequence[Finding], plan: Plan) -> list[Finding]:
    """The findings as a reader meets them, in the order in which they stand."""
    kept = _without_twins(findings)
    found: list[Finding] = []
    places: dict[str, int] = {}
    gathered: dict[str, list[Finding]] = {}
    for finding in kept:
        name = group_name(finding)
        if not name:
            found.append(_with_steps(finding, plan))
            continue
        if name not in gathered:
            places[name] = len(found)
            found.append(finding)
        gathered.setdefault(name, []).append(finding)
    for name, items in gathered.items():
        found[places[name]] = _gathered(groups()[name.partition("@")[0]], name, items, plan.units)
    return found


def untwinned(findings: Sequence[Finding]) -> list[Finding]:
    """Those of the findings that no other of them tells: no weaker mask beside the stronger one."""
    kept = {finding.id for finding in _without_twins(findings)}
    return [finding for finding in findings if finding.id in kept]


def group_name(finding: Finding) -> str:
    """The id of the gathered finding that tells this one; empty where it is told by itself."""
    group = _group_of().get(finding.rule)
    if group is None:
        return ""
    return group.id if group.whole or finding.step is None else f"{group.id}@{finding.step}"


def group_of(rule: str) -> ToldTogether | None:
    """The group that tells what a rule says; None where it is told by itself."""
    return _group_of().get(rule)


def account_told(report: Report) -> list[RulesOfStep]:
    """The account of each step, with what speaks there by the practice that tells it."""
    shown = {name: finding.rule for finding in told(report.findings, report.plan) for name in finding.of}
    by_step = {(f.rule, f.step): shown[f.id] for f in report.findings if f.id in shown}
    return [
        replace(one, speaks=tuple(sorted({by_step.get((rule, one.step), rule) for rule in one.speaks})))
        for one in report.account
    ]


def names(finding: Finding) -> set[str]:
    """All words that may name a finding: its id, its rule, and those of the finding that tells it."""
    name = group_name(finding)
    return {finding.id, finding.rule, *({name, name.partition("@")[0]} if name else ())}


def known_names(findings: Iterable[Finding]) -> list[str]:
    """Every word that names one of the findings, for a message about one that names none."""
    return sorted(set().union(*map(names, findings)))


def _without_twins(findings: Sequence[Finding]) -> list[Finding]:
    """The findings without those that another one at the same step tells; that one has their ids and steps."""
    by_rule: dict[str, list[int]] = {}
    for place, finding in enumerate(findings):
        by_rule.setdefault(finding.rule, []).append(place)
    teller: dict[int, int] = {}
    for rule, row in _told_by().items():
        for place in by_rule.get(rule, ()):
            others = (other for name in row["by"] for other in by_rule.get(name, ()))
            one = next((o for o in others if _tells(findings[o], findings[place], row)), None)
            if one is not None:
                teller[place] = one
    found = {place: replace(f, of=(f.id,)) for place, f in enumerate(findings) if place not in teller}
    for place, one in sorted(teller.items()):
        while one in teller:
            one = teller[one]
        mine, other = found[one], findings[place]
        steps = (*mine.steps, *([other.step] if other.step and other.step != mine.step else ()))
        found[one] = replace(mine, of=(*mine.of, other.id), steps=tuple(dict.fromkeys(steps)))
    return [replace(f, of=f.of if len(f.of) > 1 else ()) for f in found.values()]


def _tells(teller: Finding, finding: Finding, row: dict[str, Any]) -> bool:
    here = row.get("anywhere") == "yes" or teller.step == finding.step
    same = not (teller.parts and finding.parts) or bool({*teller.parts} & {*finding.parts})
    return here and teller.rank >= finding.rank and (same or row.get("anywhere") == "yes")


def _with_steps(finding: Finding, plan: Plan) -> Finding:
    """A finding of the whole plan that is about a thing, with the steps that handle the thing."""
    if finding.step is not None or not finding.parts:
        return finding
    steps = [step.id for step in plan.steps if not {*finding.parts}.isdisjoint(_handled(step.values))]
    return replace(finding, steps=tuple(dict.fromkeys((*finding.steps, *steps))))


def _handled(values: Any) -> set[str]:
    value = values.get("to")
    if value is None:
        return set()
    plain = value.plain
    return {str(one) for one in plain} if isinstance(plain, tuple | list) else {str(plain)}


def _gathered(group: ToldTogether, name: str, items: list[Finding], units: str) -> Finding:
    order = list(group.items)
    rules = sorted({f.rule for f in items}, key=order.index)
    parts = tuple(sorted({part for f in items for part in f.parts}))
    listing = "; ".join(group.items[rule] for rule in rules)
    shown = (("part", ShownVariable("ref:part", parts or (group.nothing_named,))),)
    says = localized(group.says.replace("{{ list }}", listing), units)
    own = [group.reasons[rule] for rule in rules if rule in group.reasons]
    reason = " ".join([*([group.because] if len(own) < len(rules) else []), *own])
    wording = Wording(says, localized(reason, units), (), shown)
    what, because, controls = wording.filled()
    gravest = max(items, key=lambda f: f.rank)
    first = items[0]
    steps = tuple(dict.fromkeys(f.step for f in items if f.step))
    return replace(
        gravest, id=name, rule=group.id, title=group.title, kind="require",
        step=None if group.whole else first.step, step_line=0 if group.whole else first.step_line,
        what=what, because=because, controls=controls, wording=wording, first=None, duration=None, to="",
        numbers=tuple(n for f in items for n in f.numbers),
        sources=tuple(dict.fromkeys(s for f in items for s in f.sources)),
        rests_on=tuple(dict.fromkeys(b for f in items for b in f.rests_on)),
        advised=all(f.advised for f in items), adds=tuple(sorted({a for f in items for a in f.adds})),
        decides=False, drawn=[d for f in items for d in f.drawn], parts=parts,
        of=tuple(name for f in items for name in (f.of or (f.id,))), steps=steps if group.whole else (),
    )  # fmt: skip


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    found: dict[str, Any] = rules_words(FILE, {})
    return found


@lru_cache(maxsize=1)
def groups() -> dict[str, ToldTogether]:
    """The groups by id."""
    return {
        name: ToldTogether(
            name, row["title"], row["at"] == "plan", row["says"], row["because"], row.get("nothing_named", "it"),
            dict(row["items"]), dict(row.get("reasons", {})),
        )
        for name, row in _table().get("groups", {}).items()
    }  # fmt: skip


@lru_cache(maxsize=1)
def _group_of() -> dict[str, ToldTogether]:
    return {rule: group for group in groups().values() for rule in group.items}


def _told_by() -> dict[str, Any]:
    found: dict[str, Any] = _table().get("told_by", {})
    return found

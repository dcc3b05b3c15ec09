"""Conclusions to findings: one for each rule and step, with its text, numbers, sources and presumptions."""

from __future__ import annotations

from collections.abc import Container, Iterable

from advisor.engine.basis import Grounds, Key
from advisor.engine.guards import value_of
from advisor.engine.run import Drawn
from advisor.plan.model import FactBase, Plan
from advisor.review.advised import product_name
from advisor.review.finding import Cited, Figure, Finding
from advisor.review.metric import localized
from advisor.review.origins import origins
from advisor.review.taken_along import many
from advisor.review.who import who_may
from advisor.review.wording import wording
from advisor.rulebase.base import RuleBase
from advisor.rulebase.countries import ELSEWHERE, as_cited, is_law
from advisor.rulebase.model import PLACEHOLDER, Conclusion, Rule, Var
from advisor.site.run import Judged
from advisor.units import DIMENSIONS

Group = tuple[str, int, tuple[tuple[str, str], ...], tuple[str, ...]]


def make_findings(
    outcome: Judged, plan: Plan, base: FactBase, rulebase: RuleBase, but: Container[str] = (), advised: bool = False
) -> list[Finding]:
    """The findings of a run, gravest first within a step, in the order of the plan's steps.

    Without those whose ids are in `but`; of those that only advice brings alone where `advised`.
    """
    grounds = Grounds(outcome.memory, base)
    groups: dict[Group, list[Drawn]] = {}
    for drawn in outcome.drawn:
        groups.setdefault(_group(drawn), []).append(drawn)
    findings = []
    seen: dict[str, int] = {}
    lines = {step.id: step.line for step in plan.steps}
    for key in sorted(groups):
        matches = sorted(groups[key], key=lambda d: sorted((k, repr(v)) for k, v in d.env.items()))
        for own in _told_apart(matches):
            name = _numbered(_id(own[0]), seen)
            only = all(grounds.advised(d.why) for d in own)
            if name not in but and (only or not advised):
                findings.append(_finding(name, own, only, plan, base, rulebase, grounds, lines))
    outcome.cut = frozenset(grounds.cut)
    places = {step.id: place for place, step in enumerate(plan.steps)}
    return sorted(findings, key=lambda f: (places.get(f.step or "", -1), -f.rank, f.rule, f.id))


def _id(drawn: Drawn) -> str:
    step = _word(drawn.conclusion.step, drawn)
    return f"{_rule(drawn).id}@{step}" if step else _rule(drawn).id


def said(outcome: Judged) -> dict[str, str]:
    """What a run says, without its texts: an id and the signal of each finding."""
    found: dict[str, str] = {}
    for drawn in outcome.drawn:
        rule, index, about, _ = _group(drawn)
        step = _word(drawn.conclusion.step, drawn)
        parts = "".join(
            f" {value}" for name, value in about if not drawn.conclusion.step or name != drawn.conclusion.step.name
        )
        mark = f"/{index}" if index else ""
        found[f"{rule}{mark}@{step}{parts}" if step else f"{rule}{mark}{parts}"] = drawn.conclusion.signal
    return found


def _rule(drawn: Drawn) -> Rule:
    return drawn.why.variant.rule  # type: ignore[attr-defined, no-any-return]


def _group(drawn: Drawn) -> Group:
    """What makes findings separate: the step, and for numbers also the parts they are about (or `per`)."""
    rule, conclusion = _rule(drawn), drawn.conclusion
    names = set(conclusion.per or ())
    if conclusion.per is None and drawn.results:
        names = {n for n, t in rule.types.items() if t.startswith("ref:") and t != "ref:step"}
    if conclusion.step:
        names.add(conclusion.step.name)
    index = rule.conclusions.index(conclusion) if drawn.index < 0 else drawn.index
    return rule.id, index, tuple((n, str(drawn.env[n])) for n in sorted(names) if n in drawn.env), drawn.answer


def _told_apart(matches: list[Drawn]) -> list[list[Drawn]]:
    """The matches that one sentence can tell: measures listed beside names would be read in the wrong pairs."""
    conclusion, types = matches[0].conclusion, _rule(matches[0]).types
    text = " ".join(conclusion.texts)
    named = sorted({found.group(1) for found in PLACEHOLDER.finditer(text)})
    varying = [n for n in named if len({d.env.get(n) for d in matches}) > 1]
    things = [n for n in varying if types.get(n, "").startswith("ref:")]
    if not things or not any(types.get(n) in DIMENSIONS for n in varying):
        return [matches]
    apart: dict[tuple[str, ...], list[Drawn]] = {}
    for drawn in matches:
        apart.setdefault(tuple(str(drawn.env.get(n)) for n in things), []).append(drawn)
    return list(apart.values())


def _finding(
    name: str,
    matches: list[Drawn],
    advised: bool,
    plan: Plan,
    base: FactBase,
    rulebase: RuleBase,
    grounds: Grounds,
    lines: dict[str, int],
) -> Finding:
    first = matches[0]
    rule, conclusion = _rule(first), first.conclusion
    step = _word(conclusion.step, first)
    keys = _grounds(matches, rule, grounds)
    duration = conclusion.duration
    if isinstance(duration, Var):
        duration = max((d.env[duration.name] for d in matches), key=float)  # type: ignore[arg-type]
    reason, numbers = conclusion.because, _numbers(matches, plan)
    if conclusion.guess is not None and any(key[2] in conclusion.guess[0] for key in keys):
        # A figure that the reason would give is not printed as one where it is only guessed at.
        dropped = {*PLACEHOLDER.findall(reason)} - {*PLACEHOLDER.findall(conclusion.guess[1])}
        reason = conclusion.guess[1]
        numbers = tuple(n for n in numbers if n.name.replace(" ", "_") not in dropped)
    told = wording(
        conclusion.what, reason, conclusion.controls, [d.env for d in matches], rule.types, plan.units, rule.pack
    )
    what, because, controls = told.filled()
    rests = [basis for drawn in matches for basis in drawn.rests]
    return Finding(
        id=name,
        rule=rule.id,
        title=localized(rule.title, plan.units, rule.pack),
        pack=rule.pack,
        kind=conclusion.kind,
        signal=conclusion.signal,
        step=step,
        step_line=lines.get(step or "", 0),
        what=what,
        because=because,
        controls=controls,
        numbers=numbers,
        sources=_sources(rule, rulebase),
        rests_on=tuple(dict.fromkeys((*rests, *(base.presumptions.get(k) or base.unknowns[k] for k in keys)))),
        advised=advised,
        first=_word(conclusion.first, first),
        duration=float(duration) if isinstance(duration, int | float) else None,
        to=conclusion.to,
        wording=told,
        adds=_adds(conclusion),
        decides=not rulebase.vocabulary.members("action", "decides what may follow").isdisjoint(_adds(conclusion)),
        drawn=list(matches),
        answer=first.answer,
        wants=_wants(matches),
        parts=_parts(matches, rule),
        who=who_may(rule, conclusion),
    )


_CARRIED = ("owns", "with", "wearing")  # details of crew and step whose values are things to have


def _adds(conclusion: Conclusion) -> tuple[str, ...]:
    return tuple(sorted({str(dict(a.values).get("do")) for a in conclusion.advice if a.form == "add"}))


def _wants(matches: list[Drawn]) -> tuple[str, ...]:
    """Gear, tools and products that the advice names."""
    found: set[str] = set()
    for drawn in matches:
        for advice in drawn.conclusion.advice:
            values = [(name, value_of(operand, drawn.env)) for name, operand in advice.values]
            if advice.form == "use":
                found.add(product_name(dict(values)))
            found.update(str(one) for name, value in values if name in _CARRIED for one in many(value))
    return tuple(sorted(found))


def _parts(matches: list[Drawn], rule: Rule) -> tuple[str, ...]:
    names = [name for name, kind in rule.types.items() if kind == "ref:part"]
    return tuple(sorted({str(d.env[name]) for d in matches for name in names if name in d.env}))


def _grounds(matches: list[Drawn], rule: Rule, grounds: Grounds) -> list[Key]:
    """What the finding rests on: for each thing that it is about, the match that presumes least."""
    names = sorted(n for n, t in rule.types.items() if t.startswith("ref:"))
    ways: dict[tuple[str, ...], list[frozenset[Key]]] = {}
    for drawn, keys in zip(matches, grounds.of_matches(rule.id, [d.why for d in matches]), strict=True):
        about = tuple(str(drawn.env.get(n, "")) for n in names)
        ways.setdefault(about, []).append(keys)
    return sorted(set().union(*(min(w, key=lambda k: (len(k), sorted(k))) for w in ways.values())))


def number_twins(findings: Iterable[Finding]) -> None:
    """Findings of one rule at one step get ids of their own."""
    seen: dict[str, int] = {}
    for finding in findings:
        finding.id = _numbered(finding.id, seen)


def _numbered(name: str, seen: dict[str, int]) -> str:
    """The id, with the number of a twin from the second on."""
    seen[name] = count = seen.get(name, 0) + 1
    return f"{name}#{count}" if count > 1 else name


def _word(var: Var | None, drawn: Drawn) -> str | None:
    return None if var is None else str(drawn.env[var.name])


def _sources(rule: Rule, rulebase: RuleBase) -> tuple[Cited, ...]:
    found = []
    for key, at in rule.sources:
        if rulebase.place and is_law(key):
            key, at = ELSEWHERE, ""
        entry = rulebase.citations.get(key)
        cite = entry.cite if entry else "common practice"
        cite = as_cited(key, cite, rulebase.place) if rulebase.place else cite
        found.append(Cited(key, cite, at, entry.url if entry else ""))
    return tuple(dict.fromkeys(found))


def _numbers(matches: list[Drawn], plan: Plan) -> tuple[Figure, ...]:
    found: dict[str, Figure] = {}
    for drawn in matches:
        inputs = origins(drawn, plan) if drawn.results else {}
        wanted = drawn.conclusion.numbers
        for var, result in drawn.results:
            if wanted is not None and var not in wanted:
                continue
            name = var.replace("_", " ")
            found.setdefault(name, Figure(name, result.value, result.dimension, result, inputs=inputs.get(var, ())))
            for part in result.parts:
                label = part.label("us")
                if "{" + part.name + "}" not in result.formula or part.at is not None:
                    found.setdefault(label, Figure(part.name, part.value, part.dimension, None, part.at))
    return tuple(found.values())

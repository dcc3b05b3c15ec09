"""Cases of the rule packs: small plans, changed case by case, with exactly what the pack says of each.

Folders of cases mirror those of packs: the rules of `rules/packs/tiling/joints.yaml` have theirs in
`tests/rules/tiling/joints.yaml`, those of a pack of one file in `tests/rules/<pack>.yaml`, and those of a pack of one's
own in `cases/` of its folder. A file holds `plans` (by name) and `cases`; `plans.yaml` of a folder holds the plans that
several of its files take. A case takes a plan, may `set`
values by path (`parts.doors.material: maple`, `steps.prime.by: spray`), `drop` paths, `add` steps at the end
or `first` at the start, and names what the pack's rules say: `speaks` (rule, step, and optionally signal,
numbers, words of `what` and `because`, and `times`, how often it speaks there), `also` (further rules of the pack that
speak), `silent` (the rules it is a near miss of), `asks` (parts of the questions that findings rest on) and
`gear` (for a step, the protective gear that the table says it needs). Any other finding of the pack fails the case.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from advisor.plan import FactBase, Plan, make_facts, read_plan
from advisor.review.buying.gear import gear_table
from advisor.review.finding import Finding
from advisor.review.findings import make_findings
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.site.run import run
from advisor.units import read_quantity

HERE = Path(__file__).parent
OF_THE_ORDER = {"order-in-a-ring", "no-time-to-work", "left-off"}  # they read what the order of work comes to
SHARED = "plans.yaml"  # of a folder: plans that several of its files take
NO_PACKS = {"changed", "survivors", "words"}
_KEYS = {"case", "plan", "set", "drop", "add", "first", "speaks", "also", "silent", "asks", "gear"}


@dataclass(frozen=True)
class Case:
    """One case of a pack, with its plan as a mapping."""

    pack: str
    name: str
    spec: dict[str, Any]
    plan: dict[str, Any]

    def rules(self) -> set[str]:
        """The rules that the case is about."""
        return {one["rule"] for one in self.spec.get("speaks", [])} | set(self.spec.get("silent", []))


class _Plain(yaml.CSafeLoader):
    """Scalars as written: `no` stays a word."""


_Plain.yaml_implicit_resolvers = {}


@lru_cache(maxsize=64)
def cases(pack: str, folder: Path = HERE) -> tuple[Case, ...]:
    """The cases of one pack, file by file."""
    files = _files(pack, folder)
    assert files, f"no cases: {folder / pack}.yaml, or a folder of that name"
    read = [yaml.load(path.read_text(encoding="utf-8"), Loader=_Plain) or {} for path in files]
    shared: dict[str, Any] = {}
    for path, data in zip(files, read, strict=True):
        if path.name == SHARED:
            shared = data["plans"]
    found = []
    for data in read:
        plans = {**shared, **(data.get("plans") or {})}
        for spec in data.get("cases") or []:
            assert not set(spec) - _KEYS, f"{pack}: case '{spec.get('case')}' has unknown keys {set(spec) - _KEYS}"
            plan = copy.deepcopy(plans[spec["plan"]])
            _change(plan, spec)
            found.append(Case(pack, spec["case"], spec, plan))
    names = [case.name for case in found]
    assert len(names) == len(set(names)), f"{pack}: two cases of one name: {[n for n in names if names.count(n) > 1]}"
    return tuple(found)


def _files(pack: str, folder: Path) -> list[Path]:
    return [path for path in (folder / f"{pack}.yaml",) if path.is_file()] + sorted((folder / pack).glob("*.yaml"))


@lru_cache(maxsize=8)
def packs_with_cases(folder: Path = HERE) -> tuple[str, ...]:
    """Every pack that has cases."""
    beside = {p.name for p in folder.glob("*") if p.name not in NO_PACKS and any(p.glob("*.yaml"))}
    return tuple(sorted({p.stem for p in folder.glob("*.yaml")} | beside))


def _change(plan: dict[str, Any], spec: dict[str, Any]) -> None:
    for path, value in spec.get("set", {}).items():
        parent, key = _reach(plan, path)
        parent[key] = value
    for path in spec.get("drop", []):
        section, _, rest = path.partition(".")
        if section == "steps" and "." not in rest:
            before = len(plan["steps"])
            plan["steps"] = [s for s in plan["steps"] if s.get("id") != rest]
            assert len(plan["steps"]) == before - 1, path
        else:
            parent, key = _reach(plan, path)
            del parent[key]
    plan["steps"] = [*spec.get("first", []), *plan["steps"], *spec.get("add", [])]


def _reach(plan: dict[str, Any], path: str) -> tuple[Any, str]:
    words = path.split(".")
    place: Any = plan
    for word in words[:-1]:
        if isinstance(place, list):
            place = next(step for step in place if step.get("id") == word)
        else:
            place = place.setdefault(word, {})
    return place, words[-1]


def run_case(case: Case, rulebase: RuleBase | None = None) -> list[str]:
    """What is wrong with the case under the rule base; empty where it holds."""
    rulebase = rulebase or load_rulebase()
    plan = read_plan(case.plan, rulebase.vocabulary)
    report = light_report(plan, make_facts(plan, rulebase.vocabulary), rulebase)
    if case.rules() & OF_THE_ORDER:
        whole = review_plan(plan, rulebase)
        report.findings += [finding for finding in whole.findings if finding.rule in OF_THE_ORDER]
    return judge(case, report, rulebase)


def light_report(plan: Plan, base: FactBase, rulebase: RuleBase) -> Report:
    """A report without order, questions and the rounds that check the advice: cases look at none of them."""
    outcome = run(rulebase, base.facts)
    findings = make_findings(outcome, plan, base, rulebase)
    gear = gear_table(outcome.memory, plan, rulebase.vocabulary)
    return Report(plan, findings, [], None, [], [], gear, {}, ())


def judge(case: Case, report: Report, rulebase: RuleBase) -> list[str]:
    """Compare a report with what the case expects of its pack."""
    wrong = []
    spoken = [f for f in report.findings if f.pack == case.pack and not f.advised]
    wanted = case.spec.get("speaks", [])
    for one in wanted:
        same = [f for f in spoken if f.rule == one["rule"] and (f.step or "") == one.get("step", f.step or "")]
        if not same:
            wrong.append(f"{one['rule']} does not speak at {one.get('step', 'the plan')}")
        elif len(same) != int(one.get("times", len(same))):
            wrong.append(f"{one['rule']} speaks {len(same)} times: {[_short(f, report) for f in same]}")
        elif not any(_agrees(f, one, report) for f in same):
            wrong.append(
                f"{one['rule']} speaks, but not as expected: {one}; it says {[_short(f, report) for f in same]}"
            )
    allowed = {one["rule"] for one in wanted} | set(case.spec.get("also", []))
    wrong += [
        f"{rule} was expected to speak too"
        for rule in case.spec.get("also", [])
        if rule not in {f.rule for f in spoken}
    ]
    wrong += [f"{f.id} speaks unexpectedly: {f.what}" for f in spoken if f.rule not in allowed]
    steps = {one["rule"]: [o.get("step") for o in wanted if o["rule"] == one["rule"]] for one in wanted}
    wrong += [
        f"{f.id} speaks at a step that the case does not name"
        for f in spoken
        if f.rule in steps and None not in steps[f.rule] and (f.step or "") not in steps[f.rule]
    ]
    for step, wanted_gear in case.spec.get("gear", {}).items():
        needed = {g.gear for g in report.gear if step in g.steps}
        wrong += [f"{step} should need {gear}; it needs {sorted(needed)}" for gear in wanted_gear if gear not in needed]
    questions = [b.ask for f in spoken for b in f.rests_on]
    wrong += [
        f"nothing asks '{ask}'; asked: {questions}"
        for ask in case.spec.get("asks", [])
        if not any(ask in q for q in questions)
    ]
    return wrong


def _agrees(finding: Finding, one: dict[str, Any], report: Report) -> bool:
    if finding.signal != one.get("signal", finding.signal) or one.get("what", "") not in finding.what:
        return False
    if one.get("because", "") not in finding.because:
        return False
    return all(_number(finding, name, text, report) for name, text in one.get("numbers", {}).items())


def _number(finding: Finding, name: str, text: str, report: Report) -> bool:
    """A number by its name (with its place along a run), within half a percent of the expected quantity."""
    from advisor.reports.data import number_name

    for number in finding.numbers:
        if number_name(number, report.plan.units) == name:
            expected = read_quantity(text, number.dimension).si
            return abs(number.value - expected) <= 0.005 * max(abs(expected), 1e-9)
    return False


def _short(finding: Finding, report: Report) -> str:
    from advisor.reports.data import number_data

    numbers = {(d := number_data(n, report.plan.units))["name"]: f"{d['value']} {d['unit']}" for n in finding.numbers}
    return f"{finding.signal} at {finding.step}: {finding.what} {numbers}"

"""A scripted person who knows the facts of a scenario, and the scenario cut down to what a first-timer tells.

Cut down means: rooms, things and products with their kinds and where a thing stands, and what each step does to what.
Everything else the person says only when asked, and what the scenario does not say, the person does not know.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import yaml

from advisor.plan import read_plan
from advisor.plan.model import Plan
from advisor.review.asking.walk import AskedNow, Walk
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.site.assume import Key
from advisor.site.hanging import CAUTION
from advisor.site.sizes import SIZES

SCENARIOS = Path(__file__).parents[2] / "scenarios"
MOST = 25  # questions
GRAVE = ("danger", "warning")
_KEPT = {"rooms": ("kind",), "parts": ("kind", "room"), "products": ("kind",), "steps": ("id", "do", "to")}


class Plain(yaml.CSafeLoader):
    """Scalars as written: `no` stays a word."""


Plain.yaml_implicit_resolvers = {}


def names() -> list[str]:
    """The scenarios by name."""
    return sorted(path.stem for path in SCENARIOS.glob("*.yaml"))


def text_of(name: str) -> str:
    """A scenario as it stands."""
    return (SCENARIOS / f"{name}.yaml").read_text(encoding="utf-8")


def cut(text: str) -> str:
    """The plan cut down to rooms, kinds and what each step does to what."""
    plan = yaml.load(text, Loader=Plain)
    short: dict[str, object] = {"title": plan.get("title", "x")}
    for section, kept in _KEPT.items():
        things = plan.get(section)
        if isinstance(things, dict):
            short[section] = {own: {k: said[k] for k in kept if k in said} for own, said in things.items()}
        elif things:
            short[section] = [{k: said[k] for k in kept if k in said} for said in things]
    return yaml.safe_dump(short, sort_keys=False, allow_unicode=True, width=200)


def facts(plan: Plan) -> dict[Key, str]:
    """What the person knows, as it would be written in a plan."""
    return {
        (sort, own, name): value.text
        for sort, things in plan.entities.items()
        for own, entity in things.items()
        for name, value in entity.values.items()
    }


def grave(report: Report, words: Iterable[str] = GRAVE) -> set[str]:
    """The findings of these signal words, by id, with those that one of them tells."""
    wanted = set(words)
    return {one.id for one in report.findings if one.signal in wanted and one.kind not in ("precede", "wait")}


@dataclass
class Talk:
    """How it went: the keys that were asked, and after how many each grave finding was there."""

    name: str
    asked: list[tuple[Key, ...]] = field(default_factory=list)
    wanted: set[str] = field(default_factory=set)
    missing: list[set[str]] = field(default_factory=list)  # after each question
    walk: Walk | None = None

    @property
    def reached(self) -> int | None:
        """The number of questions after which nothing grave was missing; None where something still is."""
        return next((number for number, left in enumerate(self.missing) if not left), None)


def answer(asked: AskedNow, known: Mapping[Key, str]) -> str:
    """What the person says: nothing to what the scenario does not say."""
    said = {key[2]: known[key] for key in asked.keys if key in known}
    if len(asked.keys) == 1 or not said:
        return said.get(asked.key[2], "")
    if asked.key[2] in SIZES:
        return " x ".join(said.get(key[2], "?") for key in asked.keys)
    return "; ".join(f"{name.replace('_', ' ')}: {one}" for name, one in said.items())


def talk(name: str, rulebase: RuleBase | None = None, most: int = MOST, words: Iterable[str] = GRAVE) -> Talk:
    """The walk through a scenario that was cut down, with a person who knows what the scenario says."""
    rules = rulebase or load_rulebase()
    whole = read_plan(text_of(name), rules.vocabulary, name)
    known = facts(whole)
    found = Talk(name, wanted=grave(review_plan(whole, rules), words))
    walk = Walk.begin(cut(text_of(name)), name, rules, least=CAUTION)
    found.missing.append(found.wanted - _ids(walk.report.findings))
    while found.missing[-1] and (asked := walk.asked) is not None and len(found.asked) < most:
        found.asked.append(asked.keys)
        said = answer(asked, known)
        walk = walk.answer(said) if said else walk.dont_know()
        found.missing.append(found.wanted - _ids(walk.report.findings))
    found.walk = walk
    return found


def _ids(findings: Iterable[Finding]) -> set[str]:
    return {one.id for one in findings}

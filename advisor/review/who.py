"""Who may do what a finding asks for: you, a helper, a licensed trade, a laboratory; or ask the building department."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from advisor.plan.model import Plan
from advisor.plan.said import words
from advisor.review.metric import localized
from advisor.rulebase.model import Conclusion, Rule
from advisor.tables import rules_words

if TYPE_CHECKING:
    from advisor.review.model import Report

YOU, HELPER, LABORATORY, LOCAL_CODE, LICENSED = "you", "helper", "laboratory", "local code", "licensed: "
_ASK = "ask your building department whether you may do it yourself"
_OWN_WORDS = frozenset({YOU, HELPER, "nobody"})


def department() -> str:
    """Whom to ask where local code decides, in the words of `rules/report/who.yaml`."""
    return next(str(name) for name, word in _known()["not_a_trade"].items() if word == LOCAL_CODE)


def who_may(rule: Rule, conclusion: Conclusion) -> str:
    """The word for a finding, by what its rule says itself, else by `rules/report/who.yaml`."""
    known = _known()
    advice = [(name, str(value)) for one in conclusion.advice for name, value in one.values]
    adds = {value for name, value in advice if name == "do"}
    trades = sorted({value for name, value in advice if name == "who" and value not in _OWN_WORDS})
    if conclusion.kind == "refer":
        word: str = known["not_a_trade"].get(conclusion.to, LICENSED + plain(conclusion.to))
        return word
    if not adds.isdisjoint(known["laboratory"]):
        return LICENSED + plain(trades[0]) if trades and trades[0] != LABORATORY else LABORATORY
    for trade, rules in known["licensed"].items():
        if rule.id in rules:
            return LICENSED + plain(trade)
    if trades:
        return LICENSED + plain(trades[0])
    if rule.id in known["local_code"]["rules"]:
        return LOCAL_CODE
    helper = known["helper"]
    if rule.id in helper["rules"]:
        return HELPER
    wanted = helper["advised"]
    if any(name in wanted and (value in wanted[name] or "any" in wanted[name]) for name, value in advice):
        return HELPER
    return YOU


def plain(trade: str) -> str:
    """A trade without the word that stands before it anyway: `licensed plumber` is a plumber."""
    return trade.removeprefix("licensed ")


def who_words(who: str, units: str = "") -> str:
    """The word as a reader sees it: `a licensed electrician`; in the words of the country that `units` come from."""
    return localized(_who_words(who), units)


def _who_words(who: str) -> str:
    if who.startswith(LICENSED):
        trade = who.removeprefix(LICENSED)
        if trade in _licensed_by_name():
            trade = f"licensed {trade}"
        return trade if trade.startswith("any ") else f"{'an' if trade[0] in 'aeiou' else 'a'} {trade}"
    return {HELPER: "you with a helper", LABORATORY: "a laboratory", LOCAL_CODE: _ASK}.get(who, who)


def theirs_words(rule: str) -> str:
    """What a trade does where this rule gives the work to one, in a few words; empty where its own sentence says it."""
    return str(_known()["theirs"].get(rule, ""))


def not_yours_words() -> dict[str, list[str]]:
    """How a sentence begins that gives the whole step away, and what those who do it are called besides their trade."""
    words: dict[str, list[str]] = _known()["not_yours_words"]
    return words


def trades_touched(plan: Plan) -> dict[str, list[str]]:
    """Trades that local code may ask for, each with the steps that touch its work and that nobody is named for."""
    parts = plan.entities.get("part", {})
    found: dict[str, list[str]] = {}
    for trade, its in _known()["trades"].items():
        for step in plan.steps:
            kinds = {kind for own in words(step, "to") if own in parts for kind in words(parts[own], "kind")}
            hired = [who for who in words(step, "who") if who not in _OWN_WORDS and who != "owner"]
            if not hired and not kinds.isdisjoint(its["to"]) and not set(words(step, "do")).isdisjoint(its["do"]):
                found.setdefault(plain(str(trade)), []).append(step.id)
    return found


def before_all(report: Report, what: str) -> list[str]:
    """The steps for which `permit` is to be asked or `water_off` is to be done, in the order of the plan."""
    rules = _known()[what]
    steps = {one.step for one in report.findings if one.rule in rules}
    steps |= {one.step for one in report.open if one.rule in rules}
    return [step.id for step in report.plan.steps if step.id in steps]


@lru_cache(maxsize=1)
def _known() -> dict[str, Any]:
    known: dict[str, Any] = rules_words("report/who.yaml")
    return known


@lru_cache(maxsize=1)
def _licensed_by_name() -> frozenset[str]:
    """Trades that the vocabulary calls licensed; `plain` took the word off."""
    return frozenset({"electrician", "plumber", "gas fitter", "builder or mason", "trade"})

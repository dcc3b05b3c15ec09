"""Who may do what a finding asks for: you, a helper, a licensed trade, a laboratory; or local code decides."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from advisor.document import read_file
from advisor.rulebase.model import Conclusion, Rule
from advisor.tables import rules_folder

YOU, HELPER, LABORATORY, LOCAL_CODE, LICENSED = "you", "helper", "laboratory", "local code", "licensed: "
_OWN_WORDS = frozenset({YOU, HELPER, "nobody"})


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
        return LABORATORY
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


def who_words(who: str) -> str:
    """The word as a reader sees it: `a licensed electrician`."""
    if who.startswith(LICENSED):
        trade = who.removeprefix(LICENSED)
        if trade in _licensed_by_name():
            trade = f"licensed {trade}"
        return trade if trade.startswith("any ") else f"{'an' if trade[0] in 'aeiou' else 'a'} {trade}"
    return {HELPER: "you with a helper", LABORATORY: "a laboratory", LOCAL_CODE: "local code decides"}.get(who, who)


@lru_cache(maxsize=1)
def _known() -> dict[str, Any]:
    known: dict[str, Any] = read_file(rules_folder() / "report" / "who.yaml").plain()
    return known


@lru_cache(maxsize=1)
def _licensed_by_name() -> frozenset[str]:
    """Trades that the vocabulary calls licensed; `plain` took the word off."""
    return frozenset({"electrician", "plumber", "gas fitter", "builder or mason", "trade"})

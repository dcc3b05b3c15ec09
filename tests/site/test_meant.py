"""What unknown words may come to mean, in the evaluation of what may be so."""

from __future__ import annotations

from typing import Any

from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.evaluate import evaluate
from advisor.site.standing import step_of


def _may(plan: dict[str, Any]) -> set[tuple[str, str]]:
    rulebase = load_rulebase()
    read = read_plan(plan, rulebase.vocabulary)
    return {
        (one.rule.id, step_of(one)) for one in evaluate(read, make_facts(read, rulebase.vocabulary), rulebase).drawn
    }


def test_a_material_that_may_hold_asbestos_is_open() -> None:
    """A brace is not asked for a test, and its material may be asbestos cement, which says what a test would."""

    def plan(**more: str) -> dict[str, Any]:
        return {
            "rooms": {"hall": {"kind": "hallway"}},
            "parts": {"skin": {"kind": "wall brace", "room": "hall", **more}},
            "steps": [{"id": "out", "do": "demolish", "to": "skin"}],
        }

    assert ("asbestos-found-refer", "out") in _may(plan(material="asbestos cement"))
    assert ("asbestos-found-refer", "out") in _may(plan())
    assert ("asbestos-found-refer", "out") not in _may(plan(material="pine"))


def test_a_verb_that_is_read_twice_is_open() -> None:
    """A tile floor that is scraped, with a heat gun for all that is said, is stripped, and so torn out."""

    def plan(**more: Any) -> dict[str, Any]:
        return {
            "rooms": {"hall": {"kind": "hallway"}},
            "parts": {"old": {"kind": "tile floor", "room": "hall"}},
            "steps": [{"id": "off", "do": "scrape", "to": "old", **more}],
        }

    assert ("hole-in-floor", "off") in _may(plan(**{"with": ["heat gun"]}))
    assert ("hole-in-floor", "off") in _may(plan())
    assert ("hole-in-floor", "off") not in _may(plan(**{"with": ["scraper"]}))

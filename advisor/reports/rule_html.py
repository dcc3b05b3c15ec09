"""A rule's page as one HTML file."""

from __future__ import annotations

from advisor.reports.html import render
from advisor.rulebase.base import RuleBase
from advisor.rulebase.describe import sections
from advisor.rulebase.model import Rule
from advisor.version import VERSION


def as_rule_html(rule: Rule, rulebase: RuleBase) -> str:
    """The page; every string of the rule is escaped by the template."""
    return render(
        "rule.html.j2",
        title=rule.title,
        rule=rule.id,
        pack=rulebase.titles.get(rule.pack, rule.pack),
        sections=sections(rule, rulebase),
        made_by=f"Made by prework-advisor {VERSION}, rules {rulebase.digest}.",
    )

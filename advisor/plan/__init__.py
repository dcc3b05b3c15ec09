"""The plan document: read with line numbers, checked against the vocabulary, turned into facts."""

from advisor.plan.facts import make_facts
from advisor.plan.model import FactBase, Plan, PlanFact
from advisor.plan.reading import read_plan

__all__ = ["FactBase", "Plan", "PlanFact", "make_facts", "read_plan"]

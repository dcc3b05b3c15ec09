"""What an advice would change, as a person would tell it: steps added, things to get, what is written of a step."""

from __future__ import annotations

from advisor.plan.model import Plan
from advisor.reports.view import step_words
from advisor.review.revision.revise import Revision
from advisor.review.revision.written import StepAdded, ThingToFindOut, ThingToGet, TwoWays, Written, in_short


def sentences(revision: Revision) -> list[str]:
    """One for each thing that the revision writes, in the order in which it was written."""
    plan = revision.new.plan
    said = [_said(one, plan) for change in revision.changes for one in change.written]
    if revision.moved:
        said.append("Moves steps to the places where they have to stand.")
    return list(dict.fromkeys(said))


def _said(one: Written, plan: Plan) -> str:
    match one:
        case StepAdded() if one.step in plan.entities["step"]:
            return f"Adds a step {one.where} {_name(one.other)}: {step_words(plan.entities['step'][one.step])}."
        case ThingToGet():
            what = one.what
            if one.details:
                what = (
                    f"for {_name(what)}: {one.details}" if what in plan.entities["part"] else f"{what} ({one.details})"
                )
            steps = ", ".join(map(_name, one.steps)) or "the work"
            return f"Puts on the list of things to get, for {steps}: {what}."
        case TwoWays():
            return (
                f"{_name(one.step).capitalize()} is done only if {_name(one.test)} finds nothing; "
                f"else {_name(one.other)}."
            )
        case ThingToFindOut():
            return f"Puts on the list of things to find out: {one.ask}{'' if one.ask.endswith(('?', '.')) else '.'}"
        case _:
            return f"Writes down: {in_short([one])}."


def _name(own: str) -> str:
    return own.replace("-", " ")

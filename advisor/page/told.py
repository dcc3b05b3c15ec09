"""What an advice would change, as a person would tell it: steps added, things to get, what is written of a step."""

from __future__ import annotations

import re

from advisor.plan.model import Plan
from advisor.reports.view import step_words
from advisor.review.revision.revise import Revision

_STEP = re.compile(r"new step (.+) (before|after) (.+)")
_GET = re.compile(r"to get (.+?)(?: \((.+)\))? for ([^()]+)")
_ONLY = re.compile(r"(.+) only if (.+) finds nothing, else (.+)")


def sentences(revision: Revision) -> list[str]:
    """One for each thing that the revision writes, in the order in which it was written."""
    plan = revision.new.plan
    said = [_said(note, plan) for change in revision.changes for note in change.what.split("; ") if note]
    if revision.moved:
        said.append("Moves steps to the places where they have to stand.")
    return list(dict.fromkeys(said))


def _said(note: str, plan: Plan) -> str:
    steps = {step.id: step for step in plan.steps}
    if (found := _STEP.fullmatch(note)) and found[1] in steps:
        return f"Adds a step {found[2]} {_name(found[3])}: {step_words(steps[found[1]])}."
    if found := _GET.fullmatch(note):
        what = found[1] if not found[2] else f"for {_name(found[1])}: {found[2]}" if _is_part(found[1], plan) else note
        what = f"{found[1]} ({found[2]})" if what == note else what
        return f"Puts on the list of things to get, for {_name(found[3])}: {what}."
    if found := _ONLY.fullmatch(note):
        return (
            f"{_name(found[1]).capitalize()} is done only if {_name(found[2])} finds nothing; else {_name(found[3])}."
        )
    if note.startswith("to find out: "):
        text = note.removeprefix("to find out: ")
        return f"Puts on the list of things to find out: {text}{'' if text.endswith(('?', '.')) else '.'}"
    return f"Writes down: {note}."


def _is_part(word: str, plan: Plan) -> bool:
    return word in plan.entities.get("part", {})


def _name(own: str) -> str:
    return own.replace("-", " ")

"""A checklist has a box for every step: a sheet that leaves one out tells somebody at the ladder to skip it."""

from __future__ import annotations

import json
import re

import pytest

from advisor.plan import read_plan
from advisor.reports.checklist_data import as_checklist_json
from advisor.reports.checklist_text import as_checklist_html, as_checklist_text
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.review.revision.revise import accept
from advisor.rulebase.base import load_rulebase

FAN = (
    "house: {built: 1978}\nrooms: {bedroom: {kind: bedroom}}\nparts:\n  lamp: {kind: light, room: bedroom}\n"
    "steps:\n  - {id: swap, do: replace, to: lamp}\n"
)


def advised() -> Report:
    """A plan into which the advice to switch off and to prove dead was put."""
    rulebase = load_rulebase()
    text = accept(FAN, "plan", ["isolate-power@swap"], rulebase).after
    return review_plan(read_plan(text, rulebase.vocabulary, "plan"), rulebase)


@pytest.mark.parametrize("by", ["step", "day", "trade", "topic"])
def test_a_step_that_advice_added_is_there_to_tick(by: str) -> None:
    """Proving dead before work is what OSHA 1910.333 (b)(2)(iv) asks for; no finding is left at that step."""
    report = advised()
    assert [f for f in report.findings if f.step == "prove-dead"] == []
    text = " ".join(as_checklist_text([report], by).split())
    boxes = re.findall(
        r'<input type="checkbox" id="([^"]+)">\s*<label for="\1">([^<]*)', as_checklist_html([report], by)
    )
    done = [words for _, words in boxes if "one: " in words]

    assert "prove dead: lamp" in text.split("[ ] Done: ", 1)[1]
    wanted = ("shut off power: lamp", "prove dead: lamp", "replace lamp")
    assert [word for word in wanted if not any(word in line for line in done)] == []
    assert len(done) == len(report.plan.steps) == text.count("[ ] Done: ")


def test_the_boxes_are_data_too_and_come_after_what_must_be_true() -> None:
    report = advised()
    groups = json.loads(as_checklist_json([report]))["plans"][0]["groups"]
    text = as_checklist_text([report])

    assert [group["work"] for group in groups if "work" in group] == [
        ["shut off power: lamp; for 10 min"],
        ["prove dead: lamp; with voltage tester; for 10 min"],
        ["replace lamp"],
    ]
    assert text.index("Lock or tape the breaker") < text.index("Done: shut off power") < text.index("Done: prove dead")


@pytest.mark.parametrize("form", ["exercise", "answers"])
def test_a_class_gets_no_boxes_that_tell_the_answers(form: str) -> None:
    assert "Done: " not in as_checklist_text([advised()], "step", form)

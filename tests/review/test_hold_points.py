"""What is to get and to find out answers findings at the right step, and no others; every report carries it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.plan import read_plan
from advisor.reports.checklist_text import as_checklist_html, as_checklist_text
from advisor.reports.data import as_data
from advisor.reports.html import as_html
from advisor.reports.markdown import as_markdown
from advisor.reports.text import Shape, as_text
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

PLAN = """house: {built: 1957, wiring: copper, equipment_ground: yes}
rooms: {hall: {kind: hallway, length: 14 ft, width: 4 ft, height: 8 ft}}
parts:
  casing: {kind: trim, room: hall, material: pine, coating: paint, area: 22 sqft}
  lamp: {kind: light, room: hall}
crew: {people: 1, owns: [goggles, voltage tester, breaker lock]}
steps:
  - {id: smooth, do: sand, to: casing, with: [random-orbit sander]}
  - {id: off, do: shut off power, to: lamp}
  - {id: dead, do: prove dead, to: lamp, with: [voltage tester]}
  - {id: swap, do: replace, to: lamp}
  - {id: again, do: sand, to: casing, with: [random-orbit sander]}
"""
HEPA = "to_get: [{what: HEPA vacuum, as: {dust_collection: HEPA}, for: [%s]}]\n"


def report(more: str = "") -> Report:
    rulebase = load_rulebase()
    return review_plan(read_plan(PLAN + more, rulebase.vocabulary, "x.yaml"), rulebase)


def answered(found: Report) -> set[str]:
    return {one.about.id for one in found.answered if one.finding}


def spoken(found: Report) -> set[str]:
    return {f.id for f in found.findings}


def test_a_danger_that_gear_cures_is_answered_and_no_longer_counts() -> None:
    """At the step that it is for. At the other step it would have to be said too."""
    before, after = report(), report(HEPA % "smooth")

    assert {"machine-on-lead-paint@smooth", "machine-on-lead-paint@again"} <= spoken(before)
    assert "machine-on-lead-paint@smooth" in answered(after)
    assert "machine-on-lead-paint@again" in spoken(after)
    assert _dangers(after) == _dangers(before) - 1


def test_gear_that_comes_too_late_answers_nothing_before() -> None:
    """Got for the second sanding, it is not there at the first."""
    after = report(HEPA % "again")

    assert "machine-on-lead-paint@smooth" in spoken(after)
    assert "machine-on-lead-paint@again" in answered(after)


def test_to_find_out_answers_what_asks_to_know_and_not_what_rests_on_it() -> None:
    """Where the breaker is: answered. The year of the house: the danger of lead stands until it is known."""
    entries = (
        "{of: house, attribute: power_shutoff_known, by: swap}",
        "{of: casing, attribute: installed, by: smooth}",
    )
    after = report(f"to_find_out: [{', '.join(entries)}]\n")

    assert "power-shutoff-known@swap" in answered(after)
    assert "machine-on-lead-paint@smooth" in spoken(after)


def test_to_find_out_too_late_answers_nothing() -> None:
    """The lamp is swapped before anybody asks."""
    more = "to_find_out: [{of: house, attribute: power_shutoff_known, by: again}]\n"

    assert "power-shutoff-known@swap" in spoken(report(more))


def test_the_fan_has_to_move_the_air_that_the_vapor_needs() -> None:
    """A fan with a number too small brings the finding that says so."""
    plan = """rooms: {kitchen: {kind: kitchen, length: 13 ft, width: 9 ft, height: 8 ft, ventilation: closed}}
house: {built: 2003}
parts: {top: {kind: worktop, room: kitchen, material: maple}}
products: {v: {kind: clear finish, binder: oil-modified polyurethane, carrier: mineral spirits, solvent_fraction: 50 %%, amount: 1 qt}}
steps: [{id: coat, do: finish, to: top, using: v, by: brush, in: kitchen}]
to_get: [{what: fan, as: {airflow: %s, ventilation: cross ventilation}, for: [coat]}]
"""  # noqa: E501
    rulebase = load_rulebase()
    small, large = (
        review_plan(read_plan(plan % flow, rulebase.vocabulary, "x.yaml"), rulebase) for flow in ("100 cfm", "2000 cfm")
    )

    assert "airflow-too-small@coat" in spoken(small)
    assert "airflow-too-small@coat" not in spoken(large)
    assert "ventilate-solvent-finish@coat" in answered(large)


def test_every_format_has_a_box_for_each_entry() -> None:
    """Text, Markdown, HTML and both checklists; JSON has the practice with its hold points."""
    found = report(HEPA % "smooth")
    told = "Before smooth: get: HEPA vacuum (dust collection: HEPA)."
    texts = [as_text(found, shape=Shape(width=200)), as_markdown([found]), as_checklist_text([found])]
    pages = [as_html([found]), as_checklist_html([found])]
    data = as_data(found)
    one = next(a for a in data["answered"] if a["id"] == "machine-on-lead-paint@smooth")

    assert [f"[ ] {told}"[:40] in text.replace("\\", "") for text in texts] == [True, True, True]
    assert [told in page and 'type="checkbox"' in page for page in pages] == [True, True]
    assert (one["signal"], one["was"], one["by"][0]["before"]) == ("danger", "speaking", ["smooth"])
    assert data["summary"]["danger"] == found.count("danger")
    assert "machine-on-lead-paint@smooth" not in {f["id"] for f in data["findings"]}


def test_answered_is_outside_fail_on(tmp_path: Path) -> None:
    """One plan with one danger: answered, `--fail-on danger` passes."""
    plan = PLAN.replace("  - {id: again, do: sand, to: casing, with: [random-orbit sander]}\n", "")
    path = tmp_path / "plan.yaml"
    statuses = []
    for more in ("", HEPA % "smooth"):
        path.write_text(plan + more)
        statuses.append(CliRunner().invoke(app, ["review", str(path), "--fail-on", "danger"]).exit_code)

    assert statuses == [1, 0]


def test_an_account_of_what_is_answered_neither_speaks_nor_is_met() -> None:
    """It is listed on its own."""
    found = report(HEPA % "smooth")
    step = next(one for one in found.account if one.step == "smooth")

    assert "machine-on-lead-paint" in step.answered
    assert "machine-on-lead-paint" not in {*step.speaks, *step.met, *step.open}


@pytest.mark.parametrize("form", ["json", "markdown", "text"])
def test_compare_tells_what_became_of_each_finding(tmp_path: Path, form: str) -> None:
    """Answered is not gone; open is counted."""
    old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
    old.write_text(PLAN)
    new.write_text(PLAN + HEPA % "smooth")
    result = CliRunner().invoke(app, ["compare", str(old), str(new), "--format", form])
    text = result.output

    assert result.exit_code == 0
    if form == "json":
        data = json.loads(text)
        assert "machine-on-lead-paint@smooth" in {a["id"] for a in data["answered"]}
        assert "machine-on-lead-paint@smooth" not in {a["id"] for a in data["gone"]}
        assert data["open"]
    elif form == "markdown":
        assert "## Answered: tick what is to get and to find out first" in text
        assert "## Still open" in text
    else:
        assert "answered danger   machine-on-lead-paint@smooth" in text
        assert " still open." in text


def test_revise_writes_an_account_and_tries_ways(tmp_path: Path) -> None:
    """What was changed and why; three ways to sand old paint, with money, hours and days."""
    path, told = tmp_path / "plan.yaml", tmp_path / "account.md"
    path.write_text(PLAN)
    taken = CliRunner().invoke(app, ["revise", str(path), "--accept", "test-for-lead", "--account", str(told)])
    tried = CliRunner().invoke(app, ["revise", str(path), "--ways", "machine-on-lead-paint"])
    wrong = CliRunner().invoke(app, ["revise", str(path), "--ways", "machine-on-led-paint"])

    assert (taken.exit_code, tried.exit_code, wrong.exit_code) == (0, 0, 2)
    assert "new step test-for-lead before smooth" in told.read_text()
    assert "only if test-for-lead finds nothing" in told.read_text()
    levels = ("Use something milder", "Build a safeguard", "Work by a rule")
    assert [tried.output.count(word) for word in levels] == [1, 1, 1]
    assert tried.output.count("h of work") == 4
    assert "Did you mean 'machine-on-lead-paint'?" in wrong.output
    assert path.read_text() == PLAN


def _dangers(found: Report) -> int:
    """Findings, one a step: `count` counts a practice once, however many steps are left."""
    return sum(f.signal == "danger" for f in found.findings)

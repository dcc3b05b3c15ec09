"""Each step's account, what was not heard, and how reports and the command line tell what is open."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.plan import read_plan
from advisor.reports.text import as_text
from advisor.review.asked import RulesOfStep
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.review.set_aside import Waiver
from advisor.review.waivers import apply_waivers
from advisor.rulebase.base import load_rulebase

# A backsplash of whose outlets nothing is said; a step that no rule knows; coats of paint that no rule reads for tile.
SPLASH = """title: Tile behind the counter
rooms: {kitchen: {kind: kitchen}}
parts: {splash: {kind: backsplash, room: kitchen, layers: 3}}
steps:
  - {id: look, do: photograph, to: splash}
  - {id: set, do: tile, to: splash}
"""
DOORS = """rooms: {den: {kind: living room}}
house: {built: 1950}
parts: {doors: {kind: cabinet doors, room: den, coating: paint, lead_test: %s}}
steps: [{id: sand, do: sand, to: doors, with: [sanding block]}]
"""


def _review(text: str) -> Report:
    rulebase = load_rulebase()
    return review_plan(read_plan(text, rulebase.vocabulary, "plan.yaml"), rulebase)


def _of(report: Report, step: str) -> RulesOfStep:
    return next(one for one in report.account if one.step == step)


def test_a_step_that_no_rule_knows_is_said_to_be_unchecked() -> None:
    """Nobody must take silence about a step for a yes."""
    report = _review(SPLASH)

    assert not _of(report, "look").known
    assert _of(report, "set").known
    assert "No rule here knows this work. Nothing was checked." in as_text(report)
    assert "no rule here knows 1 of 2 steps" in " ".join(as_text(report).split())


def test_a_step_that_others_ask_for_is_no_unknown_work() -> None:
    """A lead test is looked for by the rules of lead; no practice of lead is about the test itself."""
    report = _review(DOORS.replace("steps: [", "steps: [{id: test, do: test for lead, to: doors}, ") % "not tested")

    account = _of(report, "test")
    assert account.known
    assert [name for name in (*account.speaks, *account.met, *account.open) if "lead" in name] == []


@pytest.mark.parametrize(("result", "place"), [("negative", "met"), ("positive", "speaks"), ("not tested", "speaks")])
def test_containment_of_lead_dust_is_met_by_a_test_alone(result: str, place: str) -> None:
    """40 CFR 745.82(a), 745.85: the work practices hold for old paint until a test has found no lead in it."""
    text = DOORS % result if result != "not tested" else DOORS.replace(", lead_test: %s", "")
    account = _of(_review(text), "sand")
    places = {name for name in ("speaks", "met", "open") if "contain-lead-dust" in getattr(account, name)}

    assert places == {place}


def test_no_practice_stands_in_two_places_of_an_account() -> None:
    for account in _review(SPLASH).account:
        names = [*account.speaks, *account.met, *account.open]
        assert len(names) == len(set(names))


def test_a_practice_of_another_trade_does_not_concern_the_step() -> None:
    """What a gas pipe, a spray gun or a trap needs has nothing to say of tile."""
    account = _of(_review(SPLASH), "set")

    assert not {"gas-valve-too-far", "isocyanate-spray", "drop-to-trap-too-far"} & {
        *account.speaks,
        *account.met,
        *account.open,
    }


def test_what_nothing_reads_for_that_thing_is_listed_and_what_is_read_is_not() -> None:
    report = _review(SPLASH.replace("layers: 3", "handle_swing: 3 in, tile_thickness: 3/8 in"))
    unheard = {(one.thing, one.attribute) for one in report.unheard}

    assert ("splash", "handle_swing") in unheard
    assert not {("splash", "tile_thickness"), ("splash", "kind"), ("splash", "room"), ("set", "do")} & unheard
    assert next(one.line for one in report.unheard if one.attribute == "handle_swing") == 3


def test_a_report_without_findings_begins_with_what_is_not_judged() -> None:
    text = as_text(_review(SPLASH.replace("  - {id: set, do: tile, to: splash}\n", "")))
    second = text.splitlines()[1]

    assert second.startswith("Not judged yet: ")
    assert "go ahead" not in text
    assert "rules were looked at" not in text


def test_open_practices_carry_what_is_unknown_missing_and_asked(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(SPLASH)
    data = json.loads(CliRunner().invoke(app, ["review", str(path), "--format", "json"]).stdout)
    names = {question["id"] for question in data["questions"]}

    assert any({"kind": "outlet", "where": "splash"} in one["missing"] for one in data["open"])
    assert all(one["unknown"] or one["missing"] or one["asks"] for one in data["open"])
    assert {name for one in data["open"] for name in one["asks"]} <= names
    assert [account["step"] for account in data["account"]] == ["look", "set"]
    none: dict[str, list[str]] = {"speaks": [], "met": [], "open": []}
    assert data["account"][0] == {
        "step": "look", "works": [], "speaks": 0, "met": 0, "open": 0, "known": False, "rules": none,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("words", "status"), [([], 0), (["--fail-on-open", "danger"], 1), (["--fail-on", "danger"], 0)]
)
def test_what_is_open_fails_a_review_only_where_it_is_asked_to(tmp_path: Path, words: list[str], status: int) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(SPLASH)

    assert CliRunner().invoke(app, ["review", str(path), *words]).exit_code == status


def test_a_folder_counts_what_is_open(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("one", "two"):
        (tmp_path / f"{name}.yaml").write_text(SPLASH)
    monkeypatch.chdir(tmp_path)  # a long path would push what is told into the next line
    lines = CliRunner().invoke(app, ["review", "."]).stdout.splitlines()

    told = [line for line in lines if line.startswith(("one.yaml", "two.yaml"))]
    assert len(told) == 2
    assert [line for line in told if "not judged yet" not in line] == []
    assert any("practices open" in line for line in lines)


def _waiver(rule: str, until: date | None) -> Waiver:
    return Waiver(rule, "", "", "There are none; the wall was opened.", "R. Roe", until, "waivers.yaml", 1)


def test_a_waiver_may_cover_an_open_practice_and_a_danger_only_for_a_time() -> None:
    today, later = date(2030, 1, 1), date(2030, 6, 1)
    report = _review(SPLASH)
    danger = next(one for one in report.open if one.signal == "danger")
    apply_waivers(report, [_waiver(danger.rule, later)], today)

    assert danger.rule not in {one.rule for one in report.open}
    assert danger.rule in {one.practice.rule for one in report.accepted_open}
    assert "ACCEPTED BY A WAIVER" in as_text(report)

    endless = _review(SPLASH)
    apply_waivers(endless, [_waiver(danger.rule, None)], today)
    ended = _review(SPLASH)
    apply_waivers(ended, [_waiver(danger.rule, date(2029, 1, 1))], today)

    assert all(danger.rule in {one.rule for one in r.open} for r in (endless, ended))
    assert {f.rule for f in endless.findings if f.rule.startswith("waiver")} == {"waiver-unmatched"}
    assert {f.rule for f in ended.findings if f.rule.startswith("waiver")} == {"waiver-expired"}


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        ("children-away-from-lead", "is open at sand"),
        ("box-fill", "does not concern any step"),
        ("test-for-lead", "speaks"),
    ],
)
def test_why_not_tells_open_from_no_concern(tmp_path: Path, rule: str, said: str) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(DOORS.replace(", lead_test: %s", ""))
    result = CliRunner().invoke(app, ["why-not", str(path), rule])

    assert (result.exit_code, said in " ".join(result.output.split())) == (0, True)


def test_why_not_says_when_a_rule_is_met(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(DOORS % "negative")
    result = CliRunner().invoke(app, ["why-not", str(path), "contain-lead-dust"])

    assert "is met at sand" in " ".join(result.output.split())

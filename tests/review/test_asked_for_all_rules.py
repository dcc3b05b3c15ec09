"""Over all rules: what advice adds has a line and a wait in the calendar, or a written reason and is told as not
counted. The times are common practice (`rules/report/asked_work.yaml`); of primer and filler they are those of
`rules/tables/coating_times.yaml`."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from reports.test_judged_eleventh import planned

from advisor.rulebase.base import load_rulebase
from advisor.tables import rules_words, table

NOT_IN = yaml.safe_load((Path(__file__).parent / "not_in_calendar.yaml").read_text(encoding="utf-8"))
ROWS = rules_words("report/asked_work.yaml")
SIDES = ("before", "after", "behind")


def _left_out() -> set[tuple[str, str]]:
    """Rule and action of what advice adds without a row."""
    own = {key for side in SIDES for key in ROWS[side]}
    return {
        (rule.id, str(dict(advice.values)["do"]))
        for rule in load_rulebase().rules
        for conclusion in rule.conclusions
        for advice in conclusion.advice
        if advice.form == "add"
        and rule.id not in own
        and str(dict(advice.values)["do"]) not in ROWS["before" if advice.place[0] == "before" else "behind"]
    }


def test_all_that_advice_adds_has_a_row_or_a_reason():
    left = _left_out()
    reasons = NOT_IN["actions"] | NOT_IN["rules"]

    assert sorted((rule, do) for rule, do in left if do not in NOT_IN["actions"] and rule not in NOT_IN["rules"]) == []
    assert sorted(set(NOT_IN["actions"]) - {do for _, do in left}) == []  # no reason outlives its rule
    assert sorted(set(NOT_IN["rules"]) - {rule for rule, _ in left}) == []
    assert [key for key, reason in reasons.items() if len(reason.split()) < 4] == []


def test_what_leaves_a_face_wet_or_waits_has_its_reason_rule_by_rule():
    known = load_rulebase().vocabulary
    wet = known.members("action", "leaves a wet coat", "takes off dirt", "hands-off time", "caulk", "fill", "grout")

    assert sorted(set(NOT_IN["actions"]) & wet) == []


def test_every_primer_that_advice_would_have_used_is_counted():
    """A paint step that is told to use a primer first has one more coat, with its wait."""
    rulebase = load_rulebase()
    primers = rulebase.vocabulary.members("product_kind", "primer")
    asking = {
        rule.id
        for rule in rulebase.rules
        for conclusion in rule.conclusions
        for advice in conclusion.advice
        if advice.form == "use" and str(dict(advice.values).get("kind")) in primers
    }

    assert sorted(asking - set(ROWS["before"]) - {"stain-blocking-primer"}) == []  # that one speaks where a step primes


def test_a_row_is_of_a_rule_or_of_an_action():
    rulebase = load_rulebase()
    known = {rule.id for rule in rulebase.rules} | set(rulebase.vocabulary.taxonomies["action"].terms)

    assert sorted({key for side in SIDES for key in ROWS[side]} - known) == []
    assert not {rule.id for rule in rulebase.rules} & set(rulebase.vocabulary.taxonomies["action"].terms)


CABINET = """
title: A cabinet
rooms: {shop: {kind: workshop, ventilation: window open}}
parts:
  cabinet: {kind: wall cabinets, room: shop, material: oak, area: 40 sqft%s}
products:
  topcoat: {kind: paint, binder: acrylic, carrier: water, recoat: 4 h}
  block: {kind: stain-blocking primer, binder: acrylic, carrier: water, blocks_stains: yes, recoat: 4 h}
crew: {people: 1}
steps:
%s
  - {id: coat, do: paint, to: cabinet, using: topcoat, coats: 1, for: 1 h}
"""


def tasks(report, step):
    return [(row.task, row.hours, row.wait_hours) for row in report.schedule.rows if row.step == step and row.task]


def test_a_primer_that_is_asked_for_has_its_line_and_its_wait_before_the_coat():
    report = planned(CABINET % ("", "  - {id: sand, do: sand, to: cabinet, for: 1 h}"))
    wait = table("coating_times").rows["acrylic primer"].cells["recoat_max"] / 3600

    assert tasks(report, "coat")[-1] == ("prime and let dry", 1.0, wait)
    assert "prime" not in report.schedule.uncounted


def test_a_plan_that_primes_gets_no_second_primer():
    report = planned(CABINET % ("", "  - {id: hold, do: prime, to: cabinet, using: block, for: 1 h}"))

    assert "prime and let dry" not in {name for step in ("hold", "coat") for name, _, _ in tasks(report, step)}


GARAGE = """
title: A garage floor
rooms: {garage: {kind: garage, ventilation: window open, ignition_sources: [water heater]}}
parts: {floor: {kind: floor, room: garage, material: concrete, area: 400 sqft, has: [soot]}}
products: {paint: {kind: floor paint, binder: acrylic, carrier: water}, first: {kind: primer, binder: acrylic}}
crew: {people: 1}
steps:
  - {id: coat, do: %s, to: floor, using: %s, by: roller, for: 5 h}
"""


@pytest.mark.parametrize(("do", "using", "asked"), [("paint", "paint", 1), ("prime", "first", 0)])
def test_a_primer_in_the_place_of_paint_is_work_of_its_own_and_another_primer_is_none(do, using, asked):
    report = planned(GARAGE % (do, using))

    assert "stain-blocker-beside-flame" in {finding.rule for finding in report.findings}
    assert [name for name, _, _ in tasks(report, "coat")].count("prime and let dry") == asked


def test_wood_rests_three_days_before_it_is_fitted():
    """The finding asks for three days in the room; the calendar has them."""
    report = planned(
        "title: A top\nrooms: {den: {kind: living room}}\nparts: {top: {kind: worktop, room: den, material: oak}}\n"
        "crew: {people: 1}\nsteps:\n  - {id: fit, do: install, to: top, for: 2 h}\n"
    )

    assert "slab-acclimatized" in {finding.rule for finding in report.findings}
    assert ("rest in the room", 0.25, 72.0) in tasks(report, "fit")
    assert "acclimatize" not in report.schedule.uncounted


def test_wood_rests_while_its_coat_dries():
    """A day for the varnish and three of rest, begun when the varnish is on, are three days together."""
    report = planned(
        "title: A top\nrooms: {den: {kind: living room, ventilation: window open}}\n"
        "parts: {top: {kind: worktop, room: den, material: oak}}\n"
        "products: {varnish: {kind: clear finish, binder: acrylic, carrier: water, recoat: 24 h}}\n"
        "crew: {people: 1, days_per_week: 7}\nsteps:\n"
        "  - {id: coat, do: finish, to: top, using: varnish, for: 1 h}\n  - {id: fit, do: install, to: top, for: 2 h}\n"
    )
    coated = next(row for row in report.schedule.rows if row.step == "coat" and not row.task).ends
    begins = next(row for row in report.schedule.rows if row.step == "fit" and not row.task).begins

    assert begins.day - coated.day == 3

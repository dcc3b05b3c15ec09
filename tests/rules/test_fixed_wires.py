"""Work on appliances without a plug is wiring work: the rules on power off hear it (29 CFR 1910.333(a)(1), (b)(2))."""

from typing import Any

import pytest
from rules.harness import light_report

from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase

ON_WIRES: list[dict[str, Any]] = [
    {"kind": "water heater", "fuel": "electric"},
    {"kind": "water heater"},
    {"kind": "water heater", "voltage": "240 V"},
    {"kind": "wall oven", "fuel": "electric"},
    {"kind": "wall oven", "circuit": "feed"},
    {"kind": "furnace"},
    {"kind": "radiator", "fuel": "electric"},
    {"kind": "space heater", "mount": "wall-mounted"},
    {"kind": "air conditioner", "voltage": "240 V"},
    {"kind": "range", "plug": "hardwired"},
    {"kind": "well pump"},
    {"kind": "vehicle charger"},
]
OFF_WIRES: list[dict[str, Any]] = [
    {"kind": "water heater", "fuel": "natural gas"},
    {"kind": "range", "fuel": "electric"},
    {"kind": "radiator"},
    {"kind": "space heater"},
    {"kind": "furnace", "plug": "plug and cord"},
    {"kind": "well pump", "plug": "plug and cord"},
    {"kind": "refrigerator"},
]
OFF = [
    {"id": "off", "do": "shut off power", "to": "thing"},
    {"id": "proof", "do": "prove dead", "to": "thing", "with": ["voltage tester"]},
]


def said(part: dict[str, Any], steps: list[dict[str, Any]]) -> set[str]:
    """The rules that speak at the step `work`."""
    rulebase = load_rulebase()
    feed = {"kind": "circuit", "rating": "40 A", "voltage": "240 V"}
    plan = {
        "house": {"built": 2004, "wiring": "copper", "water_heater": "electric"},
        "rooms": {"cellar": {"kind": "utility room"}},
        "parts": {"thing": {"room": "cellar", **part}, "feed": feed},
        "steps": steps,
    }
    read = read_plan(plan, rulebase.vocabulary)
    report = light_report(read, make_facts(read, rulebase.vocabulary), rulebase)
    return {f.rule for f in report.findings if f.step == "work"}


@pytest.mark.parametrize("part", ON_WIRES, ids=str)
@pytest.mark.parametrize("act", ["replace", "repair", "disconnect", "move"])
def test_power_goes_off_first(part: dict[str, Any], act: str) -> None:
    """What hangs on a circuit without a plug is off and proved dead before hands reach its wires."""
    work = {"id": "work", "do": act, "to": "thing"}

    assert "isolate-power" in said(part, [work])
    assert "isolate-power" not in said(part, [*OFF, work])
    assert "isolate-power" not in said(part, [{**work, "who": "licensed electrician"}])
    assert "isolate-power" not in said(part, [{**work, "who": "mechanical contractor"}])


@pytest.mark.parametrize("part", OFF_WIRES, ids=str)
def test_a_plug_or_a_flame_is_no_wire(part: dict[str, Any]) -> None:
    """What stands on a plug, or burns and has no wires that anyone named, is left to other rules."""
    assert "isolate-power" not in said(part, [{"id": "work", "do": "replace", "to": "thing"}])


@pytest.mark.parametrize("part", ON_WIRES, ids=str)
@pytest.mark.parametrize("act", ["paint", "clean", "fasten", "weatherstrip", "remove hardware"])
def test_work_outside_the_case_is_no_wiring_work(part: dict[str, Any], act: str) -> None:
    """Paint, cloth and screws outside reach no wire."""
    assert "isolate-power" not in said(part, [{"id": "work", "do": act, "to": "thing"}])

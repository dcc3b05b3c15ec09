"""Advice is checked by the same rules, and says so."""

import advisor

SHELLAC = """title: x
house: {built: 1994, wiring: copper}
rooms: {shed: {kind: workshop, length: 16 ft, width: 10 ft, height: 8 ft, ignition_sources: [gas water heater]}}
parts: {doors: {kind: cabinet doors, room: shed, material: pine, has: [knots], coating: bare, area: 48 sqft}}
products: {undercoat: {kind: primer, binder: acrylic, amount: 2 qt}}
steps: [{id: prime, do: prime, to: doors, using: undercoat, by: roller}]
"""
GAS = """title: x
house: {built: 2003}
rooms: {kitchen: {kind: kitchen}}
parts:
  top: {kind: worktop, room: kitchen, material: laminate}
  cooktop: {kind: cooktop, room: kitchen, fuel: gas, in: top}
steps: [{id: out, do: remove, to: top}]
"""


def test_advised_shellac_brings_its_own_vapor_findings() -> None:
    """The acrylic primer gives off no solvent; the shellac that is advised where no flame is told of does."""
    report = advisor.review(SHELLAC.replace(", ignition_sources: [gas water heater]", ""))
    follows = {f.rule for f in report.findings if f.advised and f.step == "prime"}

    assert "stain-blocking-primer" in {f.rule for f in report.findings if not f.advised}
    assert {"air-unmeasured-solvent", "look-for-flames"} <= follows


def test_nothing_follows_from_advice_that_is_not_given() -> None:
    """With shellac in the plan its findings are the plan's own."""
    report = advisor.review(SHELLAC.replace("acrylic, amount", "shellac, carrier: ethanol, amount"))

    assert [f.id for f in report.findings if f.advised and f.rule == "flames-out-before-vapor"] == []
    assert "flames-out-before-vapor" in {f.rule for f in report.findings}


def test_a_danger_of_an_advised_step_is_told_beside_it() -> None:
    """Disconnecting a gas cooktop is advised before its top comes off, and gas is for a licensed trade."""
    found = [f for f in advisor.review(GAS).findings if f.rule == "gas-work-to-fitter"]

    assert [(f.step, f.signal, f.advised) for f in found] == [("out", "danger", True)]

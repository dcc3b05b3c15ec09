"""Solvent vapour against the handbook's printed examples, the legal texts and the library `chemicals`."""

import chemicals
import pint
import pytest

from advisor.calculators.solvent_share import share_from_voc, solvent_with_thinner
from advisor.calculators.vapour import (
    flammable_share,
    mixture_share,
    peak_vapour,
    ppm_to_weight,
    room_concentration,
    vapour_made,
    weight_to_ppm,
)
from advisor.tables import table

GALLON = 0.003785411784
CUBIC_FOOT = 0.3048**3
CFM = CUBIC_FOOT / 60
SOLVENTS = table("solvents")
ETHANOL = (0.789, 46.07)  # specific gravity, molar mass
KITCHEN = 936 * CUBIC_FOOT  # 13 x 9 x 8 ft


@pytest.mark.parametrize(
    ("gravity", "molar_mass", "printed"),
    [
        (0.789, 46.07, 55.2),
        (0.791, 58.08, 44.0),
        (0.867, 92.14, 30.4),
        (0.805, 72.11, 36.0),
        (0.81, 74.12, 35.2),
    ],
    ids=["ethyl alcohol", "acetone", "toluene", "MEK", "n-butyl alcohol"],
)
def test_a_gallon_makes_the_vapour_of_the_legal_table(gravity: float, molar_mass: float, printed: float) -> None:
    """29 CFR 1910.94(c), Table G-11 (cells from memory): ft3 of vapour a gallon at 70 °F."""
    made = vapour_made(GALLON, 1, gravity, molar_mass)

    assert made.value / CUBIC_FOOT == pytest.approx(printed, abs=0.2)  # the table rounds to 0.4 of a foot


def test_vapour_agrees_with_the_gas_law_of_pint() -> None:
    """Ideal gas from pint's own constants: 1 gal of ethanol at 70 °F and 1 atm."""
    unit = pint.UnitRegistry()
    moles = 1 * unit.gallon * 0.789 * unit.kg / unit.liter / (46.07 * unit.g / unit.mol)
    volume = moles * unit.molar_gas_constant * unit.Quantity(294.2611, "kelvin") / unit.atm

    made = vapour_made(GALLON, 1, *ETHANOL)

    assert made.value == pytest.approx(volume.to("m**3").magnitude, rel=5e-4)  # 386.8 has four digits


def test_a_quart_of_shellac_in_a_closed_kitchen_reaches_a_quarter_of_the_limit() -> None:
    """Kitchen oracle, reference 8.14: 8.28 ft3 of vapour, 0.885 %, 26.8 % of the LEL of 3.3 %."""
    peak = peak_vapour(GALLON / 4, 0.6, *ETHANOL, 0.033, KITCHEN)

    assert peak.part("vapour").value / CUBIC_FOOT == pytest.approx(8.28, rel=0.003)  # 8.33 or 8.345 lb/gal
    assert peak.part("concentration").value == pytest.approx(8850, rel=0.003)
    assert peak.value == pytest.approx(0.268, abs=0.002)


@pytest.mark.parametrize(
    ("air_changes", "expected"),
    [(0.5, 6961), (6, 1471), (20, 442)],
    ids=["leaky room", "fan", "window and fan"],
)
def test_fresh_air_holds_the_kitchen_down(air_changes: float, expected: float) -> None:
    """Kitchen oracle, reference 8.14, build-up equation of Industrial Ventilation over 60 min."""
    airflow = air_changes * KITCHEN / 3600

    peak = peak_vapour(GALLON / 4, 0.6, *ETHANOL, 0.033, KITCHEN, airflow=airflow)

    assert peak.part("concentration").value == pytest.approx(expected, rel=0.003)  # as above


@pytest.mark.parametrize(
    ("molar_mass", "gravity", "lel", "in_cabinet", "share", "in_kitchen"),
    [
        (58.08, 0.791, 0.025, 23_200, 0.93, 259),
        (72.11, 0.805, 0.014, 19_000, 1.36, 212),
        (72.11, 0.889, 0.020, 21_000, 1.05, 234),
        (92.14, 0.867, 0.011, 16_000, 1.46, 179),
    ],
    ids=["acetone", "MEK", "THF", "toluene"],
)
def test_an_ounce_in_a_closed_cabinet_comes_near_the_limit(
    molar_mass: float, gravity: float, lel: float, in_cabinet: float, share: float, in_kitchen: float
) -> None:
    """Reference house 4B: 1 fl oz in 15 ft3 and in 1344 ft3, ideal gas at 25 °C."""
    warmer = 298.15 / 294.26  # the calculator's vapour is at 70 °F

    cabinet = room_concentration(GALLON / 128, 1, gravity, molar_mass, lel, 15 * CUBIC_FOOT)
    kitchen = room_concentration(GALLON / 128, 1, gravity, molar_mass, lel, 1344 * CUBIC_FOOT)

    assert cabinet.value * warmer == pytest.approx(in_cabinet, rel=0.01)  # printed to three digits
    assert cabinet.part("share_of_lel").value * warmer == pytest.approx(share, rel=0.01)
    assert kitchen.value * warmer == pytest.approx(in_kitchen, rel=0.01)


@pytest.mark.parametrize(
    ("name", "expected"), [("toluene", 3.77), ("isopropanol", 2.46), ("turpentine", 5.56), ("ethanol", 1.89)]
)
def test_one_ppm_weighs_what_the_pocket_guide_prints(name: str, expected: float) -> None:
    """NIOSH Pocket Guide: "1 ppm = 3.77 mg/m3" and so on."""
    row = SOLVENTS.row(name)
    assert row is not None

    weight = ppm_to_weight(1, float(row.cells["mw"]))

    assert weight.part("milligrams").value == pytest.approx(expected, abs=0.006)  # two decimals


def test_the_legal_limit_of_stoddard_solvent_is_the_same_by_weight_and_by_volume() -> None:
    """29 CFR 1910.1000 Table Z-1: 500 ppm = 2900 mg/m3; 29 CFR 1926.55: 200 ppm = 1150 mg/m3 (OSHA page)."""
    assert weight_to_ppm(2900e-6, 142).value == pytest.approx(500, rel=0.01)
    assert weight_to_ppm(1150e-6, 142).value == pytest.approx(200, rel=0.015)


def test_a_quarter_of_the_limit_of_ethanol_is_8250_ppm() -> None:
    """IMC 502.7.3.3 and NFPA 33: 25 % LFL; ethanol 3.3 % (NIOSH)."""
    assert flammable_share(8250, 0.033).value == pytest.approx(0.25, rel=1e-12)


def test_immediately_dangerous_is_a_tenth_of_the_limit() -> None:
    """NIOSH IDLH documentation (1994): these five are capped at 10 % of the LEL."""
    for name in ("ethanol", "isopropanol", "acetone", "butyl acetate", "tetrahydrofuran"):
        row = SOLVENTS.row(name)
        assert row is not None
        assert flammable_share(float(row.cells["idlh"]), float(row.cells["lel"])).value == pytest.approx(0.1, rel=1e-9)


@pytest.mark.parametrize(
    ("concentrations", "limits", "printed"),
    [((500, 45, 40), (1000, 200, 200), 0.925), ((500, 60), (1000, 100), 1.1)],
    ids=["29 CFR 1910.1000(d)(2)(ii), printed", "reference 8.13"],
)
def test_several_solvents_add_up(concentrations: tuple[float, ...], limits: tuple[float, ...], printed: float) -> None:
    """29 CFR 1910.1000(d)(2)(ii): 500/1000 + 45/200 + 40/200 = 0.925."""
    assert mixture_share(concentrations, limits).value == pytest.approx(printed, rel=1e-12)


CAS = {
    "ethanol": "64-17-5", "isopropanol": "67-63-0", "methanol": "67-56-1", "acetone": "67-64-1",
    "toluene": "108-88-3", "methyl ethyl ketone": "78-93-3", "butyl acetate": "123-86-4",
    "tetrahydrofuran": "109-99-9",
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(CAS))
def test_fire_limits_of_the_table_agree_with_nfpa_497(name: str) -> None:
    """NFPA 497 (2008) in the library `chemicals`, asked for by name: its default, IEC 60079-20-1, differs."""
    row = SOLVENTS.row(name)
    assert row is not None

    assert row.cells["lel"] == pytest.approx(chemicals.LFL(CASRN=CAS[name], method="NFPA 497 (2008)"), abs=1e-9)
    assert row.cells["uel"] == pytest.approx(chemicals.UFL(CASRN=CAS[name], method="NFPA 497 (2008)"), abs=1e-9)


@pytest.mark.parametrize("name", sorted(CAS))
def test_flash_points_and_molar_masses_agree_with_the_library(name: str) -> None:
    """`chemicals` 1.5.2 (T_flash, MW); two sources of flash points differ by up to 3 K."""
    row = SOLVENTS.row(name)
    assert row is not None

    assert row.cells["flash_point"] == pytest.approx(chemicals.T_flash(CAS[name]), abs=3)
    assert row.cells["mw"] == pytest.approx(chemicals.MW(CAS[name]), abs=0.06)


def test_the_default_of_the_library_is_another_standard() -> None:
    """Trap 0.9: without a method `chemicals` gives IEC values: n-butyl acetate 1.2 %, NFPA 1.7 %."""
    assert chemicals.LFL(CASRN="123-86-4") == pytest.approx(0.012, abs=1e-9)
    row = SOLVENTS.row("butyl acetate")
    assert row is not None
    assert row.cells["lel"] == pytest.approx(0.017, abs=1e-9)


def test_renovation_work_uses_the_construction_limit_of_mineral_spirits() -> None:
    """Trap 0.7: 29 CFR 1926.55 has 200 ppm, 1910.1000 has 500 ppm (OSHA chemical page, read)."""
    row = SOLVENTS.row("white spirit")
    assert row is not None
    assert (row.cells["osha_pel"], row.cells["osha_construction"]) == (500, 200)


def test_the_legal_limits_are_not_those_of_the_library() -> None:
    """Trap 0.8: `chemicals.TWA` returns Ontario's limits, toluene 20 ppm; OSHA 200, NIOSH 100."""
    row = SOLVENTS.row("toluene")
    assert row is not None
    assert chemicals.TWA("108-88-3")[0] == 20
    assert (row.cells["osha_pel"], row.cells["niosh_rel"]) == (200, 100)


def test_mineral_spirits_are_weighed_as_a_light_cut() -> None:
    """Trap 0.10: the library's molar mass of Stoddard solvent, 241, is not that of a C9 to C12 cut."""
    row = SOLVENTS.row("stoddard solvent")
    assert row is not None
    assert 140 <= float(row.cells["mw"]) <= 144
    assert chemicals.MW("8052-41-3") > 200


def test_limits_by_weight_of_mineral_spirits_become_ppm() -> None:
    """NIOSH: 350 mg/m3; IDLH 20 000 mg/m3, 3390 ppm in Haz-Map (NLM) at a molar mass of 144."""
    row = SOLVENTS.row("mineral spirits")
    assert row is not None
    assert row.cells["niosh_rel"] == pytest.approx(weight_to_ppm(350e-6, 144).value, abs=0.5)
    assert row.cells["idlh"] == pytest.approx(3390, rel=0.005)


def test_share_of_solvent_by_the_voc_content_of_a_label() -> None:
    """Definition of the VOC content, mass by volume: 0.6 L of ethanol at 789 kg/m3 (CRC Handbook) weigh 473 g."""
    assert share_from_voc(473.4, ETHANOL[0]).value == pytest.approx(0.6, rel=1e-3)
    assert share_from_voc(1500, ETHANOL[0]).value == 1


@pytest.mark.parametrize(("share", "thinner", "all_of_it"), [(0.5, 0.25, 0.75), (0.6, 0, 0.6), (0.9, 0.5, 1.0)])
def test_thinner_adds_to_what_evaporates(share: float, thinner: float, all_of_it: float) -> None:
    """By volumes, common practice: a quart of thinner in a gallon that is half solvent makes three quarters."""
    assert solvent_with_thinner(share, thinner).value == pytest.approx(all_of_it)

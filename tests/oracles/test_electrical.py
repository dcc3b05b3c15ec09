"""Boxes, receptacles and circuits against the code's tables, trade journals and published examples."""

import pytest

from advisor.calculators import OutOfRange
from advisor.calculators.boxes import box_fill, box_room_left, box_setback, conductors_that_fit
from advisor.calculators.circuits import circuit_load, longest_cord, plate_power, voltage_drop
from advisor.calculators.receptacles import (
    farthest_from_receptacle,
    island_receptacles,
    receptacles_along_top,
)
from advisor.tables import table

INCH, FOOT = 0.0254, 0.3048
CUBIC_INCH = INCH**3
KFT = 1000 * FOOT


def room(size: int | str) -> float:
    """Room for one conductor, NFPA 70, Table 314.16(B)."""
    return float(table("conductors").row(str(size)).cells["box_volume"])


def box(name: str) -> float:
    """Volume of a metal box, NFPA 70, Table 314.16(A)."""
    return float(table("box_volumes").row(name).cells["volume"])


def inches3(result) -> float:
    return result.value / CUBIC_INCH


@pytest.mark.parametrize(
    ("case", "fill", "cubic_inches"),
    [
        ("two 12/2, a receptacle, clamps", lambda: box_fill(4, room(12), 1, 2), 18.0),
        ("12/2 and 12/3, a device, clamps", lambda: box_fill(5, room(12), 1, 2), 20.25),
        ("three 12/2, a device, clamps", lambda: box_fill(6, room(12), 1, 3), 22.5),
        ("two 14/2, a device, no clamps", lambda: box_fill(4, room(14), 1, 2, clamps=0), 14.0),
        ("two 14/2, a device, clamps", lambda: box_fill(4, room(14), 1, 2), 16.0),
        (
            "two 14 and four 12, a device on 12, clamps",
            lambda: box_fill(2, room(14), 1, 3, other_conductors=4, other_volume=room(12), device_volume=room(12)),
            22.0,
        ),
    ],
)
def test_box_fill_agrees_with_the_code(case, fill, cubic_inches) -> None:
    """NFPA 70, 314.16(B), cases A to C and E to G of house section 3.1: sums of printed allowances."""
    assert (case, inches3(fill())) == (case, pytest.approx(cubic_inches, abs=0.001))


def test_box_fill_agrees_with_a_printed_example_of_eight_allowances() -> None:
    """A trade calculator's article (2026): two 12/2, one device, clamp and grounds: 8 x 2.25 = 18.0 in3."""
    assert inches3(box_fill(4, 2.25 * CUBIC_INCH, devices=1, grounds=2)) == pytest.approx(18.0)


def test_box_fill_agrees_with_a_printed_example_of_mixed_sizes() -> None:
    """An examination course: two 14/2 and one 12/2, clamps, one receptacle: 21.5 in3, too much for 21."""
    fill = box_fill(4, room(14), 1, 3, other_conductors=2, other_volume=room(12))

    assert inches3(fill) == pytest.approx(21.5)
    assert box_room_left(box("4 x 1-1/2 square"), fill.value).value / CUBIC_INCH == pytest.approx(-0.5)


def test_box_fill_agrees_with_an_inspectors_count_of_fifteen() -> None:
    """A code forum: two 14/2, two 14/3, two switches, grounds, no clamps: 15 x 2.0 = 30 in3."""
    assert inches3(box_fill(10, room(14), devices=2, grounds=4, clamps=0)) == pytest.approx(30.0)


@pytest.mark.parametrize(
    ("edition", "cubic_inches"), [("2014", 24.75), ("2017", 24.75), ("2020", 25.3125), ("2023", 25.3125)]
)
def test_the_fifth_ground_counts_from_the_2020_edition(edition, cubic_inches) -> None:
    """Trap 12.3; 314.16(B)(5): five 12/2 spliced, no clamps: a 25.0 in3 box flips with the edition."""
    fill = box_fill(10, room(12), devices=0, grounds=5, clamps=0, edition=edition)

    assert inches3(fill) == pytest.approx(cubic_inches, abs=0.001)
    assert (box_room_left(25 * CUBIC_INCH, fill.value).value >= 0) is (edition < "2020")


def test_seven_grounds_of_the_largest_size() -> None:
    """The code forum's reading of 314.16(B)(5): 2.25 + 3 x 0.5625 in3 for the grounds of 12 and 14 gauge."""
    with_grounds = box_fill(8, room(12), 0, 7, other_conductors=6, other_volume=room(14))
    without = box_fill(8, room(12), 0, 0, other_conductors=6, other_volume=room(14))

    assert inches3(with_grounds) - inches3(without) == pytest.approx(2.25 + 3 * 0.5625)


def test_a_box_that_is_exactly_full_passes() -> None:
    """314.16(A): the volume must not be less than the fill; 18.0 in 18.0 passes, 14.0 fails."""
    fill = box_fill(4, room(12), 1, 2).value

    assert box_room_left(box("3 x 2 x 3-1/2 device"), fill).value == 0
    assert box_room_left(box("3 x 2 x 2-3/4 device"), fill).value < 0


@pytest.mark.parametrize(
    ("name", "size", "count"),
    [
        ("4 x 1-1/2 square", 12, 9),  # trade journal, March 2019: nine 12 gauge conductors
        ("4 x 1-1/2 octagon", 14, 7),  # trade journal, example 2: seven 14 gauge
        ("4 x 1-1/2 octagon", 12, 6),  # residential wiring textbook, 19th edition, ch. 2
        ("4 x 2-1/8 square", 14, 15),
        ("4-11/16 x 2-1/8 square", 12, 18),
        ("3 x 2 x 3-1/2 device", 12, 8),
        ("3 x 2 x 2-1/2 device", 14, 6),
    ],
)
def test_the_printed_numbers_of_conductors_follow_from_the_volumes(name, size, count) -> None:
    """NFPA 70, Table 314.16(A), its columns of conductors, as copied by the trade."""
    assert conductors_that_fit(box(name), room(size)).value == count


@pytest.mark.parametrize(("name", "size"), [("4 x 1-1/2 square", (4, 4, 1.5)), ("3 x 2 x 2-1/2 device", (3, 2, 2.5))])
def test_the_outside_of_a_box_says_too_much(name, size) -> None:
    """House 3.1: the product of the sizes is 11 to 20 % above Table 314.16(A)."""
    product = size[0] * size[1] * size[2] * CUBIC_INCH

    assert 1.11 <= product / box(name) <= 1.21


@pytest.mark.parametrize(
    ("surface", "added", "present", "excess"),
    [
        ("tile", 7 / 16, 0, 3 / 16),  # 0.4375 in over a flush box: extender
        ("tile", 1 / 4, 0, 0),  # at the limit: passes
        ("drywall", 0, 3 / 16, -1 / 16),  # trap 12.11: gypsum is with the non-combustible faces
        ("wood panel", 1 / 4, 0, 1 / 4),
        ("unknown", 1 / 4, 0, 1 / 4),
    ],
)
def test_setback_behind_a_new_face(surface, added, present, excess) -> None:
    """NFPA 70 (2014, 2017), 314.20, as quoted by the trade."""
    limit = table("box_setbacks").row(surface).cells["most"]

    result = box_setback(added * INCH, limit, present * INCH)

    assert result.part("excess").value / INCH == pytest.approx(excess, abs=1e-9)
    assert result.value / INCH == pytest.approx(added + present)


@pytest.mark.parametrize(("inches", "count"), [(11.9, 0), (12, 1), (48, 1), (49, 2), (96, 2), (97, 3)])
def test_receptacles_along_a_counter(inches, count) -> None:
    """NFPA 70, 210.52(C)(1): from 12 in wide, no point more than 24 in away."""
    assert receptacles_along_top(inches * INCH).value == count


@pytest.mark.parametrize(
    ("places", "farthest", "passes"), [((30,), 30, False), ((18, 42), 18, True), ((24, 36), 24, True)]
)
def test_the_farthest_point_of_a_five_foot_counter(places, farthest, passes) -> None:
    """NFPA 70, 210.52(C)(1), worked by hand: 24 in passes, 30 in fails."""
    result = farthest_from_receptacle(60 * INCH, tuple(place * INCH for place in places))

    assert result.value / INCH == pytest.approx(farthest)
    assert (result.value <= 24 * INCH + 1e-9) is passes


def test_the_place_that_is_farthest_is_named() -> None:
    """By hand: receptacles at 1 ft and 9 ft of 10 ft leave 4 ft in the middle, at 5 ft."""
    point = farthest_from_receptacle(10 * FOOT, (9 * FOOT, FOOT)).part("farthest_point")

    assert (point.value / FOOT, point.at / FOOT) == pytest.approx((4, 5))


@pytest.mark.parametrize(
    ("edition", "length", "width", "count"),
    [
        ("2020", 9, 1, 1),
        ("2020", 12, 1, 2),
        ("2020", 9, 3, 2),
        ("2020", 7, 4, 3),
        ("2020", 10, 3, 3),  # code forum: 30 sq ft want three
        ("2020", 54 / 12, 20 / 12, 1),  # handbook figure: 54 x 20 in, one
        ("2017", 2, 1, 1),
        ("2017", 1.9, 1, 0),
        ("2014", 8, 0.9, 0),
        ("2014", 8, 4, 1),
        ("2023", 8, 4, 0),
    ],
)
def test_island_receptacles_by_edition(edition, length, width, count) -> None:
    """NFPA 70, 210.52(C)(2) of each edition, as quoted by the trade."""
    assert island_receptacles(length * FOOT, width * FOOT, edition).value == count


def test_2023_asks_for_a_way_to_add_a_receptacle() -> None:
    """NFPA 70 (2023), 210.52(C)(2): none required, provision required."""
    assert island_receptacles(2, 1, "2023").in_words == "none required, but a way to add one later"


@pytest.mark.parametrize(
    ("amps", "feet", "ohms", "volts"),
    [(16, 60, 1.93, 3.7056), (16, 60, 1.98, 3.8016), (12, 50, 3.07, 3.6840), (16, 100, 1.21, 3.8720)],
)
def test_voltage_drop_agrees_with_table_8(amps, feet, ohms, volts) -> None:
    """NFPA 70, ch. 9, Table 8 (house 3.3): 2 I L R / 1000."""
    result = voltage_drop(amps, feet * FOOT, ohms / KFT)

    assert result.value == pytest.approx(volts, abs=0.001)
    assert result.part("share").value == pytest.approx(volts / 120, abs=0.00001)


def test_voltage_drop_agrees_with_a_printed_course_example() -> None:
    """Electrician's course (2005): 100 ft of 16 gauge, 4.99 ohm/kft, 4 A: 4.0 V, 16.7 % of 24 V."""
    result = voltage_drop(4, 100 * FOOT, table("conductors").row("16 awg").cells["stranded"], 24)

    assert result.value == pytest.approx(4.0, abs=0.05)  # printed to one place
    assert result.part("share").value == pytest.approx(0.167, abs=0.001)


def test_voltage_drop_agrees_with_the_circular_mil_method() -> None:
    """Licence course: 2 x 12.9 x 20 A x 100 ft / 6530 = 7.9 V; K = 12.9 is itself rounded, hence 3 %."""
    result = voltage_drop(20, 100 * FOOT, table("conductors").row("12").cells["stranded"])

    assert result.value == pytest.approx(7.9, rel=0.03)


@pytest.mark.parametrize(("amps", "ohms", "feet"), [(16, 1.93, 58.29), (12, 3.07, 48.86)])
def test_longest_cord_for_three_percent(amps, ohms, feet) -> None:
    """House 3.3, from Table 8: 0.03 x 120 / (2 I R)."""
    assert longest_cord(amps, ohms / KFT).value / FOOT == pytest.approx(feet, abs=0.01)


@pytest.mark.parametrize(
    ("gauge", "column", "ohms"),
    [("14", "solid", 3.07), ("14", "stranded", 3.14), ("12", "solid", 1.93), ("12", "stranded", 1.98)],
)
def test_solid_and_stranded_are_not_mixed_up(gauge, column, ohms) -> None:
    """Trap 12.6: a page heads its column 'stranded' but prints the solid values."""
    assert table("conductors").row(gauge).cells[column] * KFT == pytest.approx(ohms)


@pytest.mark.parametrize("gauge", [18, 16, 14, 12, 10, 8])
def test_resistance_follows_from_the_definition_of_the_gauge(gauge) -> None:
    """AWG: d = 0.005 x 92^((36-n)/39) in; copper 10.371 ohm-cmil/ft at 20 °C, at 75 by the Table 8 note."""
    mils = 5 * 92 ** ((36 - gauge) / 39)
    at_20 = 10.371 * 1000 / mils**2
    at_75 = at_20 / (1 + 0.00323 * (20 - 75))

    assert table("conductors").row(str(gauge)).cells["solid"] * KFT == pytest.approx(at_75, rel=0.005)


@pytest.mark.parametrize(("breaker", "watts"), [(15, 1440), (20, 1920)])
def test_a_continuous_load_of_eighty_percent_fills_the_circuit(breaker, watts) -> None:
    """NFPA 70, 210.20(A): 12 A of 15 A, 16 A of 20 A at 120 V."""
    full = circuit_load((), breaker, continuous=(watts,))

    assert full.part("share").value == pytest.approx(1)
    assert circuit_load((), breaker, continuous=(watts + 1,)).part("room").value < 0


def test_a_13_amp_appliance_is_more_than_half_of_a_20_amp_circuit() -> None:
    """NFPA 70, 210.23(A)(2), trade journal of 6 Sept. 2012: not with receptacles on the same circuit."""
    load = circuit_load((13 * 120,), 20)

    assert load.value == pytest.approx(13)
    assert load.part("share").value == pytest.approx(0.65)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: box_fill(-1, room(12), 1, 2), "conductors must be from 0"),
        (lambda: box_fill(4, room(12), 1, 2, clamps=2), "clamps must be"),
        (
            lambda: box_fill(4, room(12), 1, 2, edition="2019"),
            "edition must be one of 2014, 2017, 2020, 2023",
        ),
        (lambda: box_fill(4, room(12), 1, 2, other_conductors=2), "other volume is missing"),
        (lambda: box_room_left(0, 0), "box volume must be above"),
        (lambda: conductors_that_fit(0.001, 0), "volume must be above"),
        (lambda: box_setback(-0.01, 0), "added must be"),
        (lambda: receptacles_along_top(-1), "length must be"),
        (lambda: receptacles_along_top(1, "1999"), "edition must be"),
        (lambda: farthest_from_receptacle(1, ()), "positions must name"),
        (lambda: farthest_from_receptacle(1, (1.5,)), "positions must be"),
        (lambda: island_receptacles(0, 1, "2020"), "length must be"),
        (lambda: voltage_drop(500, 1, 0.01), "current must be"),
        (lambda: longest_cord(0, 0.01), "current must be above"),
        (lambda: longest_cord(5, 0.01, share=0.5), "share must be"),
        (lambda: circuit_load((), 20), "loads must name"),
        (lambda: circuit_load((-5,), 20), "loads must be"),
    ],
)
def test_what_cannot_be_is_refused(call, message) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()


def test_plate_power_is_volts_times_amps() -> None:
    """SI brochure (BIPM, 9th ed., table 4): 1 W = 1 V x 1 A; a 240 V plate of 20 A is 4800 W (worked by hand)."""
    assert plate_power(20, 240).value == pytest.approx(4800)
    assert plate_power(10).value == pytest.approx(1200)
    with pytest.raises(OutOfRange):
        plate_power(201)

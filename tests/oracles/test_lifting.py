"""Lifting against NIOSH 94-110 (RNLE, 1994, revised 9/2021) and a national centre's product."""

import pytest

from advisor.calculators.lifting import (
    lifting_index,
    mass_carried,
    people_needed,
    recommended_weight_limit,
)
from advisor.calculators.lifting_pace import lifting_rate, lifting_rest, lifting_time
from advisor.tables import table

INCH, POUND, MINUTE = 0.0254, 0.45359237, 60.0

# RNLE ch. 3: load, H, V origin, V destination, twist, lifts/min, grip, end, printed RWL, printed LI
EXAMPLES = {
    "1 origin": (44, 23, 15, 64, 0, 0.2, "fair", "origin", 16.3, 2.7),
    "1 destination": (44, 23, 15, 64, 0, 0.2, "fair", "destination", 14.5, 3.0),
    "2 origin": (35, 15, 27, 10, 0, 0.2, "poor", "origin", 28.0, 1.3),
    "2 destination": (35, 20, 27, 10, 0, 0.2, "poor", "destination", 18.1, 1.9),
    "3 origin": (40, 18, 15, 36, 45, 0.2, "fair", "origin", 18.9, 2.1),
    "4 origin": (26, 10, 22, 59, 0, 3, "fair", "origin", 34.9, 0.7),
    "4 destination": (26, 20, 22, 59, 0, 3, "fair", "destination", 15.2, 1.7),
}


def _limit(name):
    _, h, v, to, twist, rate, grip, end, _, _ = EXAMPLES[name]
    return recommended_weight_limit(h * INCH, v * INCH, to * INCH, twist, rate, 3600, grip, end)


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_limit_and_index_agree_with_the_printed_examples(name):
    """RNLE ch. 3. Trap 0.1: print rounds multipliers first: limit +-3 %, index +-4 % or half a digit."""
    load, *_, printed, printed_index = EXAMPLES[name]
    limit = _limit(name)

    assert limit.value / POUND == pytest.approx(printed, rel=0.03)
    assert lifting_index(load * POUND, limit.value).value == pytest.approx(printed_index, rel=0.04, abs=0.06)


def test_multipliers_rounded_as_in_print_give_the_printed_limit():
    """RNLE example 4, destination: HM .50, VM .78, DM .87, AM 1, FM .88, CM 1: 51 x all = 15.2 lb."""
    rounded = 51.0
    for part in _limit("4 destination").parts:
        rounded *= round(part.value, 2)

    assert round(rounded, 1) == 15.2


@pytest.mark.parametrize(("inches", "printed", "formula"), [(22, 0.46, 0.4545), (23, 0.44, 0.4348)])
def test_reach_multiplier_follows_the_formula_not_the_misprint(inches, printed, formula):
    """Trap 0.2: RNLE Table 1 prints .46 and .44; the formula 10 / H governs (p. 7)."""
    found = recommended_weight_limit(inches * INCH, 30 * INCH, 30 * INCH).part("HM").value

    assert found == pytest.approx(formula, abs=0.0001)
    assert round(found, 2) != printed


def test_pounds_and_inches_are_used_inside():
    """Trap 0.3: example 1 destination is 14.15 lb by the US constants, 13.70 lb by the metric ones."""
    assert _limit("1 destination").value / POUND == pytest.approx(14.15, abs=0.01)


def test_independent_product_of_a_national_centre():
    """A national centre: 23 kg x 1.00 x .93 x 1.00 x .71 x .13 x 1.00 = 1.97 kg; in US: 51 lb."""
    # FM .13: 10 lifts a minute, up to 8 h, hands at 30 in or above (RNLE Table 5).
    result = recommended_weight_limit(10 * INCH, 39.3 * INCH, 45 * INCH, 90.6, 10, 8 * 3600, "good")

    assert result.value / (51 * POUND) == pytest.approx(1.97 / 23, rel=0.01)  # multipliers print two places


@pytest.mark.parametrize(
    ("rate", "hours", "height", "printed"),
    [
        (0.1, 1, 30, 1.00),
        (0.5, 8, 20, 0.81),
        (6, 2, 35, 0.50),
        (9, 8, 29, 0),
        (9, 8, 30, 0.15),
        (15, 1, 30, 0.28),
    ],
)
def test_frequency_multiplier_is_that_of_table_5(rate, hours, height, printed):
    """RNLE Table 5, p. 15."""
    result = recommended_weight_limit(10 * INCH, height * INCH, 40 * INCH, 0, rate, hours * 3600)

    assert result.part("FM").value == printed


def test_frequency_is_interpolated_and_uses_the_height_at_the_origin():
    """RNLE pp. 14-15: linear between rows, 2.5 a minute for an hour is (.91 + .88) / 2; V is the origin's."""
    destination = recommended_weight_limit(10 * INCH, 20 * INCH, 40 * INCH, 0, 2.5, 3600, "fair", "destination")

    assert destination.part("FM").value == pytest.approx(0.895)
    assert destination.part("CM").value == 1.0  # the grip is judged at the end's own height, p. 15


@pytest.mark.parametrize(
    "lift",
    [
        (25.1, 30, 40, 0, 1),  # reach above 25 in
        (15, 71, 40, 0, 1),  # hands above 70 in
        (15, 0, 70.5, 0, 1),  # travel above 70 in
        (15, 30, 40, 136, 1),  # twist above 135 deg
        (15, 30, 40, 0, 15.1),  # above the last row of Table 5
    ],
)
def test_limit_is_zero_outside_the_equation(lift):
    """RNLE pp. 7-12: multipliers are 0 there."""
    h, v, to, twist, rate = lift

    assert recommended_weight_limit(h * INCH, v * INCH, to * INCH, twist, rate).value == 0


def test_best_lift_allows_the_load_constant():
    """RNLE p. 7: 51 lb with every multiplier at 1."""
    best = recommended_weight_limit(10 * INCH, 30 * INCH, 40 * INCH, 0, 0.2, 3600, "good")

    assert best.value / POUND == pytest.approx(51)


def test_rest_too_short_joins_the_work_before_and_after():
    """RNLE p. 14: 30 min lifting, 10 light, 45 lifting is moderate (75 min); with 30 light it is short."""
    assert lifting_time((30 * MINUTE, 45 * MINUTE), (10 * MINUTE,)).value == 75 * MINUTE
    assert lifting_time((30 * MINUTE, 45 * MINUTE), (30 * MINUTE,)).value == 45 * MINUTE


def test_short_work_asks_a_rest_as_long_as_itself():
    """Trap 0.4: the revision of 2021 asks 1.0 times the work; the print of 1994 asked 1.2."""
    assert lifting_rest(45 * MINUTE).value == 45 * MINUTE


def test_two_hours_of_lifting_need_36_minutes():
    """RNLE p. 14 (0.3 x 120 min)."""
    assert lifting_rest(120 * MINUTE).value == pytest.approx(36 * MINUTE)


def test_lifting_rate_averages_over_15_minutes():
    """RNLE p. 16: 10 a minute for 8 of 15 min is 5.33; a second illustration prints 3.4 for 50 / 15."""
    assert lifting_rate(10, 8 * MINUTE).value == pytest.approx(5.33, abs=0.005)
    assert lifting_rate(10, 5 * MINUTE).value == pytest.approx(3.4, abs=0.1)


def test_people_share_a_slab_within_the_limit():
    """Arithmetic on RNLE's load constant: 90.3 lb over 51 lb is two; 102 lb exactly two; 102.1 lb three."""
    limit = 51 * POUND

    assert [people_needed(lb * POUND, limit).value for lb in (0, 51, 90.3, 102, 102.1)] == [1, 1, 2, 2, 3]
    assert mass_carried(90.3 * POUND, 2).value / POUND == pytest.approx(45.15)


def test_frequency_table_has_every_row_of_table_5():
    """RNLE Table 5: 17 rows, three durations, two heights."""
    rows = table("lifting_frequency").rows

    assert (len(rows), {len(row.cells) for row in rows.values()}) == (17, {6})

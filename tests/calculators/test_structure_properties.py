"""What must hold of notches, holes and debris for all sizes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators.structure import (
    debris_weight,
    deepest_joist_notch,
    deepest_stud_notch,
    widest_cable_hole,
    widest_joist_hole,
    widest_stud_hole,
)

studs = st.floats(0.06, 0.3)
joists = st.floats(0.1, 0.4)


@given(studs)
def test_a_bearing_stud_may_lose_least(depth) -> None:
    holes = [widest_stud_hole(depth, wall).value for wall in ("bearing", "doubled", "non-bearing")]

    assert holes[0] <= holes[1] == holes[2] < depth
    assert deepest_stud_notch(depth).value == deepest_stud_notch(depth, "bearing").value
    assert deepest_stud_notch(depth, "bearing").value < deepest_stud_notch(depth, "non-bearing").value


@given(joists)
def test_a_joist_keeps_its_middle(depth) -> None:
    places = ("middle third", "outer third", "end")
    notches = [deepest_joist_notch(depth, place).value for place in places]

    assert notches == sorted(notches)
    assert notches[0] == deepest_joist_notch(depth).value == 0
    assert widest_joist_hole(depth).value <= depth / 3 + 1e-12


@given(studs, st.floats(0, 0.05))
def test_a_deeper_stud_takes_a_wider_cable_hole(depth, more) -> None:
    assert widest_cable_hole(depth + more).value >= widest_cable_hole(depth).value >= 0


@given(st.floats(0, 400), st.floats(0.1, 100))
def test_debris_grows_with_the_area(area, weight) -> None:
    assert debris_weight(2 * area, weight).value == pytest.approx(2 * debris_weight(area, weight).value)

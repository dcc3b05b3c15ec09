"""Levelling against rod readings printed in a builder's level manual, and numpy's own interpolation."""

import numpy as np
import pytest

from advisor.calculators import OutOfRange
from advisor.calculators.levelling import scribe_cut, shim_heights, total_drop

INCH, FOOT = 0.0254, 0.3048
RUN = ((0.0, 1.25 * INCH), (3 * FOOT, 0.5 * INCH), (7 * FOOT, 2 * INCH))


def test_two_rod_readings_give_the_printed_difference() -> None:
    """A builder's level manual, 5.5: the line of sight is 69 in above A, 40 in above B: B is 29 in higher."""
    drop = total_drop(((0.0, 69 * INCH), (10 * FOOT, 40 * INCH)))

    assert drop.value / INCH == pytest.approx(29, abs=1e-9)  # exact in print
    assert (drop.part("high").at, drop.part("low").at) == (10 * FOOT, 0.0)


def test_each_place_is_raised_to_the_high_point() -> None:
    """Arithmetic of the same manual: 1-1/4, 1/2 and 2 in below the line ask for 3/4, 0 and 1-1/2 in."""
    shims = shim_heights(RUN)

    assert [part.value / INCH for part in shims.parts] == pytest.approx([0.75, 0, 1.5], abs=1e-9)
    assert [part.at for part in shims.parts] == [0.0, 3 * FOOT, 7 * FOOT]
    assert shims.value / INCH == pytest.approx(1.5, abs=1e-9)


def test_shimmed_places_lie_on_one_level_line() -> None:
    """numpy: drop less shim is the same everywhere, so the run has no spread left."""
    shims = shim_heights(RUN)
    left = np.array([drop for _, drop in RUN]) - np.array([part.value for part in shims.parts])

    assert np.ptp(left) == pytest.approx(0, abs=1e-12)


def test_shims_show_their_place_and_working_in_both_systems() -> None:
    shims = shim_heights(RUN)

    assert [part.label() for part in shims.parts] == ["shim at 0 ft", "shim at 3 ft", "shim at 7 ft"]
    assert shims.working() == "2 in - 1/2 in = 1-1/2 in"
    assert shims.working("metric") == "50.8 mm - 12.7 mm = 38.1 mm"


def test_a_scribe_takes_most_off_where_the_wall_is_nearest() -> None:
    """Geometry, with numpy: after the cut every place stands the same distance from the wall."""
    gaps = ((0.0, 0.002), (1.0, 0.0), (2.0, 0.009))
    cuts = [part.value for part in scribe_cut(gaps).parts]

    assert np.ptp(np.array([gap for _, gap in gaps]) + np.array(cuts)) == pytest.approx(0, abs=1e-12)
    assert max(cuts) == cuts[1] == pytest.approx(0.009)


@pytest.mark.parametrize("calculator", [shim_heights, total_drop, scribe_cut])
@pytest.mark.parametrize(
    ("profile", "message"),
    [
        (((0.0, 0.01),), "two places or more"),
        (((1.0, 0.01), (0.0, 0.02)), "in order of place"),
        (((0.0, 0.01), (0.0, 0.02)), "each place once"),
        (((0.0, -0.01), (1.0, 0.02)), "must be from 0 in"),
    ],
)
def test_a_profile_that_cannot_be_is_refused(calculator, profile, message) -> None:
    with pytest.raises(OutOfRange, match=message):
        calculator(profile)

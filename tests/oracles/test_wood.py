"""Wood against the Wood Handbook's printed example and tables."""

import pytest

from advisor.calculators.wood import wood_movement

INCH = 0.0254


def test_movement_agrees_with_the_printed_white_fir_example():
    """Wood Handbook (2010), ch. 13, example to eq. 13-2: 9.15 in, 8 to 11 %, printed 0.067 in."""
    result = wood_movement(9.15 * INCH, 0.00245, 8, 11)

    assert result.value / INCH == pytest.approx(0.067, abs=0.001)  # printed to three places

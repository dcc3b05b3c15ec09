"""The heat index against the chart of the National Weather Service and the pages of the Weather Prediction Center."""

import pytest

from advisor.calculators._base import OutOfRange
from advisor.calculators.heat import heat_index


def _kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) * 5 / 9


def _feels(degrees: float, humidity: float) -> float:
    return heat_index(_kelvin(degrees), humidity).value * 9 / 5 - 459.67


# The chart as printed, in whole degrees: rows of 40, 50, 70 and 90 % (National Weather Service, Heat Index Chart;
# cells from memory, the regression read at the Weather Prediction Center).
@pytest.mark.parametrize(
    ("degrees", "humidity", "printed"),
    [
        (80, 0.4, 80),
        (90, 0.4, 91),
        (100, 0.4, 109),
        (110, 0.4, 136),
        (90, 0.5, 95),
        (96, 0.5, 108),
        (90, 0.7, 105),
        (90, 0.9, 122),
    ],
)
def test_it_agrees_with_the_printed_chart(degrees: float, humidity: float, printed: int) -> None:
    assert _feels(degrees, humidity) == pytest.approx(printed, abs=1.3)  # the error that SR 90-23 gives for the fit


def test_very_dry_air_takes_the_adjustment_off() -> None:
    """(13 - 5) / 4 x sqrt((17 - |95 - 95|) / 17) = 2.0, as the Weather Prediction Center prints it."""
    assert heat_index(_kelvin(95), 0.05).part("adjustment").value == pytest.approx(-2.0)


def test_very_damp_air_below_87_adds_it() -> None:
    """(95 - 85) / 10 x (87 - 82) / 5 = 1.0."""
    assert heat_index(_kelvin(82), 0.95).part("adjustment").value == pytest.approx(1.0)


def test_damper_air_never_feels_cooler_where_work_is_judged() -> None:
    for degrees in range(91, 112):
        felt = [_feels(degrees, share / 100) for share in range(40, 101, 5)]
        assert felt == sorted(felt), degrees


@pytest.mark.parametrize(("degrees", "humidity"), [(79, 0.5), (113, 0.5), (90, 1.1)])
def test_it_refuses_what_the_regression_does_not_cover(degrees: float, humidity: float) -> None:
    with pytest.raises(OutOfRange):
        heat_index(_kelvin(degrees), humidity)

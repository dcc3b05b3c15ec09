"""Rooms against pint."""

import pint
import pytest

from advisor.calculators.rooms import floor_area, room_volume

UNIT = pint.UnitRegistry()


def test_room_volume_agrees_with_pint():
    """pint: 12 ft x 14 ft x 8 ft."""
    expected = (12 * UNIT.foot * 14 * UNIT.foot * 8 * UNIT.foot).to("m**3").magnitude

    assert room_volume(12 * 0.3048, 14 * 0.3048, 8 * 0.3048).value == pytest.approx(expected, rel=1e-12)


def test_floor_area_agrees_with_pint():
    """pint: 13 ft x 9 ft."""
    expected = (13 * UNIT.foot * 9 * UNIT.foot).to("m**2").magnitude

    assert floor_area(13 * 0.3048, 9 * 0.3048).value == pytest.approx(expected, rel=1e-12)

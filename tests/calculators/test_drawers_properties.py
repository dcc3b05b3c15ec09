"""Drawers and shelves: what holds for every size."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators._base import OutOfRange
from advisor.calculators.drawers import (
    drawer_box_width,
    drawer_play,
    drawer_verdict,
    screw_longest,
    screw_margin,
    shelf_sag,
    slide_length,
)

openings = st.floats(0.15, 1.5)
boards = st.floats(0.005, 0.05)


@given(openings)
def test_box_of_the_advised_widths_runs(opening):
    box = drawer_box_width(opening)
    for width in (box.value, box.part("narrowest").value, box.part("maker_widest").value):
        assert drawer_verdict(drawer_play(opening, width).value) == "runs"


@given(openings, st.floats(0.0001, 0.005))
def test_paint_only_takes_play_away(opening, paint):
    box = opening - 0.026

    assert drawer_play(opening, box, paint=paint).value < drawer_play(opening, box).value


@given(st.floats(0.25, 1.0))
def test_slide_never_reaches_the_back(depth):
    assert slide_length(depth).value <= depth - 0.0254 / 8 + 1e-8


@given(boards, boards)
def test_longest_screw_keeps_an_eighth(piece, receiving):
    longest = screw_longest(piece, receiving)

    assert screw_margin(longest.value, piece, receiving).value == pytest.approx(0.0254 / 8)
    assert longest.part("good").value <= longest.value


@given(st.floats(0.2, 1.5), st.floats(1, 200), boards)
def test_sag_grows_with_the_fourth_power_of_the_span_and_falls_with_the_cube_of_thickness(span, load, thickness):
    sag = shelf_sag(span, load, thickness, 0.3, 7e9).value

    assert shelf_sag(2 * span, load, thickness, 0.3, 7e9).value == pytest.approx(16 * sag)
    assert shelf_sag(span, load, 2 * thickness, 0.3, 7e9).value == pytest.approx(sag / 8)
    assert shelf_sag(span, 2 * load, thickness, 0.3, 7e9).value == pytest.approx(2 * sag)


def test_empty_weightless_shelf_does_not_sag():
    assert shelf_sag(1, 0, 0.02, 0.3, 7e9).value == 0


@pytest.mark.parametrize(
    ("name", "call"),
    [
        ("opening", lambda: drawer_box_width(0)),
        ("opening", lambda: drawer_box_width(0.02)),
        ("slide", lambda: drawer_box_width(0.5, 0.1)),
        ("box", lambda: drawer_play(0.5, -0.1)),
        ("paint", lambda: drawer_play(0.5, 0.4, paint=0.01)),
        ("depth", lambda: slide_length(0.1)),
        ("receiving", lambda: screw_longest(0.019, 0.003)),
        ("screw", lambda: screw_margin(0, 0.019, 0.019)),
        ("span", lambda: shelf_sag(0, 10, 0.02, 0.3, 7e9)),
        ("stiffness", lambda: shelf_sag(1, 10, 0.02, 0.3, 7)),
    ],
)
def test_input_out_of_range_is_refused_by_name(name, call):
    with pytest.raises(OutOfRange) as refused:
        call()

    assert refused.value.name == name

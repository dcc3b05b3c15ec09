"""What must hold of boxes, receptacles and circuits for all sizes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators.boxes import box_fill, box_room_left, box_setback, conductors_that_fit
from advisor.calculators.circuits import circuit_load, longest_cord, voltage_drop
from advisor.calculators.receptacles import (
    farthest_from_receptacle,
    island_receptacles,
    receptacles_along_top,
)
from advisor.tables import table

INCH = 0.0254
SIZES = [row.cells["box_volume"] for row in table("conductors").rows.values()]
counts = st.integers(min_value=0, max_value=20)
sizes = st.sampled_from(SIZES)
editions = st.sampled_from(["2014", "2017", "2020", "2023"])


@given(counts, sizes, counts, counts, editions)
def test_nothing_added_to_a_box_makes_room(conductors, volume, devices, grounds, edition) -> None:
    fill = box_fill(conductors, volume, devices, grounds, edition=edition).value

    assert box_fill(conductors + 1, volume, devices, grounds, edition=edition).value > fill
    assert box_fill(conductors, volume, devices + 1, grounds, edition=edition).value > fill
    assert box_fill(conductors, volume, devices, grounds + 1, edition=edition).value >= fill
    assert box_fill(conductors, volume, devices, grounds, 0, edition=edition).value < fill


@given(counts, sizes, counts, counts)
def test_a_later_edition_never_asks_for_less_room(conductors, volume, devices, grounds) -> None:
    fills = [box_fill(conductors, volume, devices, grounds, edition=e).value for e in ("2014", "2017", "2020", "2023")]

    assert fills == sorted(fills)


@given(counts, sizes)
def test_four_grounds_take_no_more_than_one(conductors, volume) -> None:
    assert box_fill(conductors, volume, 1, 4).value == box_fill(conductors, volume, 1, 1).value


@given(st.floats(1e-5, 1e-3), sizes)
def test_the_conductors_that_fit_leave_less_than_one_more(box, volume) -> None:
    count = conductors_that_fit(box, volume).value

    assert box_room_left(box, count * volume).value >= -1e-9 * box
    assert box_room_left(box, (count + 1) * volume).value < 0


@given(st.floats(0, 0.1), st.floats(0, 0.1), st.floats(0, 0.05))
def test_what_stands_proud_takes_up_the_new_face(added, limit, proud) -> None:
    flush, ahead = box_setback(added, limit), box_setback(added, limit, -proud)

    assert flush.value - ahead.value == pytest.approx(proud, abs=1e-12)


@given(st.floats(12 * INCH, 30), editions)
def test_the_fewest_receptacles_can_be_placed_within_reach(length, edition) -> None:
    """Spread evenly, the count leaves no point beyond 24 in; one fewer would."""
    count = int(receptacles_along_top(length, edition).value)
    spread = tuple((2 * i + 1) * length / (2 * count) for i in range(count))

    assert farthest_from_receptacle(length, spread).value <= 24 * INCH + 1e-6
    assert length / (2 * max(1, count - 1)) > 24 * INCH - 1e-6 or count == 1


@given(st.floats(0.5, 10), st.lists(st.floats(0, 1), min_size=1, max_size=8), st.floats(0, 1))
def test_another_receptacle_is_never_farther(length, shares, more) -> None:
    places = tuple(length * share for share in shares)

    assert farthest_from_receptacle(length, (*places, length * more)).value <= (
        farthest_from_receptacle(length, places).value + 1e-12
    )


@given(st.floats(0.1, 12), st.floats(0.1, 12), editions)
def test_an_island_may_be_measured_either_way_round(length, width, edition) -> None:
    assert island_receptacles(length, width, edition).value == island_receptacles(width, length, edition).value


@given(st.floats(0.1, 200), st.floats(0.001, 0.1), st.floats(0.005, 0.1))
def test_the_longest_cord_loses_just_its_share(current, resistance, share) -> None:
    length = longest_cord(current, resistance, share=share).value
    short = min(length, 300)

    assert voltage_drop(current, short, resistance).part("share").value == pytest.approx(share * short / length)


@given(st.floats(0.1, 100), st.floats(1, 100), st.floats(0.001, 0.1))
def test_voltage_drop_grows_with_current_length_and_resistance(current, length, resistance) -> None:
    drop = voltage_drop(current, length, resistance).value

    assert voltage_drop(2 * current, length, resistance).value == pytest.approx(2 * drop)
    assert voltage_drop(current, 2 * length, resistance).value == pytest.approx(2 * drop)
    assert voltage_drop(current, length, 2 * resistance).value == pytest.approx(2 * drop)


@given(st.lists(st.floats(0, 3000), min_size=1, max_size=6), st.floats(0, 3000))
def test_a_load_that_runs_long_counts_a_quarter_more(loads, long) -> None:
    brief, lasting = circuit_load((*loads, long), 20), circuit_load(loads, 20, continuous=(long,))

    assert lasting.value - brief.value == pytest.approx(0.25 * long / 120, abs=1e-9)

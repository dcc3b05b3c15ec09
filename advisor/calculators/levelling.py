"""Levelling: shims under a top, what a raised top meets, gaps and tapers along walls, overhang."""

from __future__ import annotations

from advisor.calculators._base import OutOfRange, Part, Profile, Result, calculator, need


@calculator("levelling", "length", ("common practice",))
def shim_heights(drops: Profile) -> Result:
    """Shims that bring a run level with its highest place: drop at the place - least drop.

    Parameters: drops, measured straight down from one level line [m], at places in order along the run [m];
    two places at least, each drop 0 to 5, so that the smallest drop is the highest place.
    Returns: Result [m], the greatest shim, and a part `shim` for each place.  Raises: OutOfRange.

    >>> quarter = 0.0254 / 4
    >>> run = ((0.0, 5 * quarter), (3 * 0.3048, 2 * quarter), (7 * 0.3048, 8 * quarter))
    >>> [round(part.value / quarter) for part in shim_heights(run).parts]      # 3/4, 0 and 1-1/2 in
    [3, 0, 6]

    References: common practice; the arithmetic is the rod readings of levelling by one set-up of the level.
    """
    _check_drops(drops)
    least = min(drop for _, drop in drops)
    return Result(
        _greatest(drops) - least,
        "length",
        "{greatest_drop} - {least_drop}",
        _drop_inputs(drops),
        tuple(Part("shim", drop - least, "length", at=place) for place, drop in drops),
    )


@calculator("levelling", "length", ("common practice",))
def total_drop(drops: Profile) -> Result:
    """How far a run is out of level: greatest drop - least drop.

    Parameters and errors as for `shim_heights`.
    Returns: Result [m]; parts `high` and `low` name the places.

    >>> round(total_drop(((0.0, 0.0127), (1.2, 0.0), (2.0, 0.0381))).value, 4)
    0.0381

    References: common practice.
    """
    _check_drops(drops)
    high = min(drops, key=lambda spot: spot[1])
    low = max(drops, key=lambda spot: spot[1])
    return Result(
        low[1] - high[1],
        "length",
        "{greatest_drop} - {least_drop}",
        _drop_inputs(drops),
        (Part("high", high[1], "length", at=high[0]), Part("low", low[1], "length", at=low[0])),
    )


def _greatest(drops: Profile) -> float:
    return max(drop for _, drop in drops)


def _drop_inputs(drops: Profile) -> tuple[Part, ...]:
    return (
        *(Part("drop", drop, "length", at=place) for place, drop in drops),
        Part("greatest_drop", _greatest(drops), "length"),
        Part("least_drop", min(drop for _, drop in drops), "length"),
    )


def _check_drops(drops: Profile) -> None:
    if len(drops) < 2:
        raise OutOfRange("drops", f"must be given at two places or more, got {len(drops)}")
    for place, drop in drops:
        need("drops", place, 0, 100, "length")
        need("drops", drop, 0, 5, "length")
    places = [place for place, _ in drops]
    if any(after <= before for before, after in zip(places, places[1:], strict=False)):
        raise OutOfRange("drops", "must be given in order of place, each place once")

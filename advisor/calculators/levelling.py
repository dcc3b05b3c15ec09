"""Levelling: shims under a run, and how far it is out."""

from __future__ import annotations

from itertools import pairwise

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

    References: common practice; the arithmetic is that of rod readings from one set-up of a builder's level.
    """
    least = _least(drops)
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

    Parameters: drops, as for `shim_heights` [m].
    Returns: Result [m]; parts `high` and `low` name the places.  Raises: OutOfRange.

    >>> round(total_drop(((0.0, 69 * 0.0254), (3.0, 40 * 0.0254))).value / 0.0254, 6)     # 69 in - 40 in
    29.0

    References: the example of a builder's level manual: 69 in above A, 40 in above B, so B is 29 in higher.
    """
    inputs = _drop_inputs(drops)
    high = min(drops, key=lambda spot: spot[1])
    low = max(drops, key=lambda spot: spot[1])
    return Result(
        low[1] - high[1],
        "length",
        "{greatest_drop} - {least_drop}",
        inputs,
        (Part("high", high[1], "length", at=high[0]), Part("low", low[1], "length", at=low[0])),
    )


@calculator("levelling", "length", ("common practice",))
def scribe_cut(gaps: Profile) -> Result:
    """Wood to take off an edge so that it meets a crooked wall: greatest gap - gap at the place.

    Parameters: gaps between the edge and the wall [m] at places in order along the edge [m], the piece
    pushed against the wall; two places at least, each gap 0 to 0.3.
    Returns: Result [m], the deepest cut, and a part `cut` for each place.  Raises: OutOfRange.

    >>> round(scribe_cut(((0.0, 0.0), (1.0, 0.004), (2.0, 0.010))).part("cut").value, 3)
    0.01

    References: common practice: a scribe set to the widest gap marks every place.
    """
    check_profile("gaps", gaps, 0.3)
    widest, narrowest = _greatest(gaps), min(gap for _, gap in gaps)
    inputs = (
        *(Part("gap", gap, "length", at=place) for place, gap in gaps),
        Part("widest_gap", widest, "length"),
        Part("narrowest_gap", narrowest, "length"),
    )
    return Result(
        widest - narrowest,
        "length",
        "{widest_gap} - {narrowest_gap}",
        inputs,
        tuple(Part("cut", widest - gap, "length", at=place) for place, gap in gaps),
    )


def check_profile(name: str, profile: Profile, most: float) -> None:
    """OutOfRange unless the profile has two places or more, in order, with values 0 to `most` [m]."""
    if len(profile) < 2:
        raise OutOfRange(name, f"must be given at two places or more, got {len(profile)}")
    for place, value in profile:
        need(f"place of {name}", place, 0, 100, "length")
        need(name, value, 0, most, "length")
    if any(after <= before for (before, _), (after, _) in pairwise(profile)):
        raise OutOfRange(name, "must be given in order of place, each place once")


def _greatest(profile: Profile) -> float:
    return max(value for _, value in profile)


def _least(drops: Profile) -> float:
    check_profile("drops", drops, 5)
    return min(drop for _, drop in drops)


def _drop_inputs(drops: Profile) -> tuple[Part, ...]:
    least = _least(drops)
    return (
        *(Part("drop", drop, "length", at=place) for place, drop in drops),
        Part("greatest_drop", _greatest(drops), "length"),
        Part("least_drop", least, "length"),
    )

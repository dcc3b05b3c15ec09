"""Share of solvent in a product: thinned at the site, or told by the VOC content of its label."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Between,
    Density,
    Fraction,
    Result,
    calculator,
)
from advisor.calculators.vapour import GravityOf


@calculator("vapour", "fraction", ("common practice",))
def solvent_with_thinner(
    solvent_fraction: Annotated[Fraction, Between(0, 1)], thinned: Annotated[Fraction, Between(0, 5)]
) -> Result:
    """Solvent that a volume of product gives off with its thinner: share + thinner, at most all of it.

    Parameters: solvent_fraction of the product as bought, by volume [-], 0 to 1; thinned, thinner added to one
    volume of it [-], 0 to 5.
    Returns: Result [-], for each volume as bought, 0 to 1.  Raises: OutOfRange.

    >>> solvent_with_thinner(0.5, 0.25).value          # a quart of thinner for a gallon that is half solvent
    0.75

    References: by volumes.
    """
    return Result(
        min(solvent_fraction + thinned, 1.0),
        "fraction",
        "{solvent_fraction} + {thinned}, at most 1",
    )


@calculator("vapour", "fraction", ("common practice",))
def share_from_voc(
    voc: Annotated[Density, Between(0, 2000)], specific_gravity: Annotated[GravityOf, Between(0.5, 2)]
) -> Result:
    """Share of solvent by volume from the VOC content of a label: VOC / weight of the solvent, at most all.

    A label leaves water and solvents that count as harmless out, so the share is at least this.

    Parameters: voc, weight of solvent in a volume of product [kg/m3], 0 to 2000; specific_gravity of the
    solvent [-], 0.5 to 2.
    Returns: Result [-], 0 to 1.  Raises: OutOfRange.

    >>> share_from_voc(450, 0.75).value
    0.6

    References: definition of the VOC content, mass by volume.
    """
    return Result(
        min(voc / (specific_gravity * 1000), 1.0),
        "fraction",
        "{voc} / ({specific_gravity} x weight of water)",
    )

"""Sizes that one code sets: elsewhere what is usual there is no mistake, and what is dangerous anywhere is told."""

from __future__ import annotations

from advisor.review.reviewing import review
from tests.country.test_elsewhere import rules_of


def pool(where: str, fence: str) -> set[str]:
    return rules_of(
        review(
            {
                "house": {"country": where, "children_under_6": 1},
                "parts": {"pool": {"kind": "pool"}, "fence": {"kind": "fence", "height": fence}},
                "steps": [{"id": "fill", "do": "use", "to": "pool"}],
            }
        )
    )


def test_a_pool_fence_of_the_country_is_no_mistake() -> None:
    """NF P90-306: 1.1 m (read in makers' pages); CPSC: 48 in."""
    assert "pool-with-children" in pool("FR", "90 cm")
    assert "pool-with-children" not in pool("FR", "1.1 m")
    assert "pool-with-children" in pool("US", "1.1 m")


def stairs(where: str, rise: str) -> set[str]:
    return rules_of(
        review(
            {
                "house": {"country": where},
                "parts": {"stairs": {"kind": "stairs", "risers": [rise, rise], "new": "yes"}},
                "steps": [{"id": "build", "do": "build", "to": "stairs"}],
            }
        )
    )


def test_a_stair_that_is_usual_there_is_no_mistake() -> None:
    """Approved Document K, 2013, table 1.1: a private stair rises 220 mm at most; IRC R311.7.5: 7-3/4 in."""
    assert "risers-too-high" in stairs("GB", "230 mm")
    assert "risers-too-high" not in stairs("GB", "210 mm")
    assert "risers-too-high" in stairs("US", "210 mm")


def drain(where: str, fall: str) -> set[str]:
    return rules_of(
        review(
            {
                "house": {"country": where},
                "parts": {"pipe": {"kind": "drain", "length": "3 m", "diameter": "50 mm", "fall": fall}},
                "steps": [{"id": "lay", "do": "install", "to": "pipe"}],
            }
        )
    )


def test_a_drain_by_its_fall() -> None:
    """DIN 1986-100 as told by a guide: 1 cm per m; over 3 m that is 3 cm."""
    assert "drain-falls-too-little" in drain("DE", "2 cm")
    assert "drain-falls-too-little" not in drain("DE", "4 cm")

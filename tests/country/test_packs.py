"""Packs of one's own that are bound to a country or a region: they speak there, and only there."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import InputError
from advisor.review.reviewing import review

PACK = """
pack: town
place: {place}
rules:
  - id: own-notice
    title: Tell the town
    when:
      - step: {{id: $step, do: paint}}
    require:
      harm: {{what: trouble with the law, how_sure: could}}
      before: $step
      what: Tell the town a week before you paint.
      because: The town asks for it.
    sources: [{{common_practice: yes}}]
"""


def spoken(tmp_path: Path, place: str, house: dict[str, str]) -> bool:
    folder = tmp_path / "packs"
    folder.mkdir(exist_ok=True)
    (folder / "town.yaml").write_text(PACK.format(place=place))
    plan = {
        "house": house,
        "rooms": {"hall": {"kind": "hallway"}},
        "parts": {"wall": {"kind": "wall", "room": "hall"}},
        "steps": [{"id": "coat", "do": "paint", "to": "wall"}],
    }
    report = review(plan, folder)
    return any("own-notice" in f.rule for f in report.findings)


@pytest.mark.parametrize(
    ("place", "house", "speaks"),
    [
        ("{country: GB}", {"country": "GB"}, True),
        ("{country: GB}", {"country": "IE"}, False),
        ("{country: GB}", {}, False),  # presumed elsewhere
        ("{country: United Kingdom}", {"country": "GB"}, True),
        ("{country: GB, region: Scotland}", {"country": "GB", "region": "Scotland"}, True),
        ("{country: GB, region: Scotland}", {"country": "GB", "region": "scotland"}, True),
        ("{country: GB, region: Scotland}", {"country": "GB", "region": "Wales"}, False),
        ("{country: GB, region: Scotland}", {"country": "GB"}, False),
        ("{country: US, region: Oregon}", {"country": "US", "region": "Oregon"}, True),
        ("{country: US, region: Oregon}", {"region": "Oregon"}, True),  # the country is presumed
        ("{country: US, region: Oregon}", {"country": "US"}, False),
    ],
)
def test_a_pack_speaks_in_its_place_alone(tmp_path: Path, place: str, house: dict[str, str], speaks: bool) -> None:
    assert spoken(tmp_path, place, house) is speaks


@pytest.mark.parametrize("place", ["{country: Atlantis}", "{land: GB}", "Scotland"])
def test_a_wrong_place_is_told(tmp_path: Path, place: str) -> None:
    with pytest.raises(InputError, match=r"(?i)place|country"):
        spoken(tmp_path, place, {"country": "GB"})

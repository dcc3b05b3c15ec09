"""Tables of vapour, coatings, tile and hoods: each row says where it comes from and how it was checked."""

import re

import pytest
import yaml

from advisor.tables import rules_folder, table

TABLES = (
    "solvents",
    "coating_times",
    "spreading_rates",
    "bleed_sources",
    "tile_adhesives",
    "hood_limits",
)
ROWS = [(name, key) for name in TABLES for key in table(name).rows]
VERIFIED = re.compile(r"read \((official|copy|secondary)\)|from memory|common practice|computed")
SOURCES = yaml.safe_load((rules_folder() / "sources.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize(("name", "key"), ROWS, ids=lambda value: value)
def test_a_row_names_a_known_source_and_its_place_or_common_practice(name: str, key: str) -> None:
    source = table(name).rows[key].source

    assert source.key == "" or (source.key in SOURCES and source.at != "")


@pytest.mark.parametrize(("name", "key"), ROWS, ids=lambda value: value)
def test_a_row_says_how_it_was_checked(name: str, key: str) -> None:
    assert VERIFIED.search(table(name).rows[key].verified) is not None


@pytest.mark.parametrize("name", TABLES)
def test_no_alias_hides_a_row_or_another_alias(name: str) -> None:
    raw = yaml.safe_load((rules_folder() / "tables" / f"{name}.yaml").read_text(encoding="utf-8"))
    words = [word.lower() for row in raw["rows"] for word in (row["name"], *row.get("aliases", []))]

    assert sorted(words) == sorted(set(words))


@pytest.mark.parametrize("key", sorted(table("solvents").rows))
def test_a_solvent_burns_between_its_limits(key: str) -> None:
    cells = table("solvents").rows[key].cells

    assert 0 < float(cells["lel"]) < float(cells.get("uel", 1))


@pytest.mark.parametrize("key", sorted(table("coating_times").rows))
def test_a_coat_dries_in_order(key: str) -> None:
    cells = table("coating_times").rows[key].cells
    pairs = (("touch_min", "touch"), ("recoat_min", "recoat_max"), ("light_use_min", "light_use"))

    assert all(cells[a] <= cells[b] for a, b in pairs if a in cells and b in cells)  # type: ignore[operator]
    assert cells.get("touch_min", 0) <= cells.get("full_cure", 1e9)  # type: ignore[operator]


@pytest.mark.parametrize("key", sorted(k for k, row in table("coating_times").rows.items() if "carrier" in row.cells))
def test_a_carrier_is_a_solvent_of_the_table_or_water_or_none(key: str) -> None:
    carrier = str(table("coating_times").rows[key].cells["carrier"])

    assert carrier in ("water", "none") or table("solvents").row(carrier) is not None


def test_rows_from_memory_are_the_ones_known() -> None:
    """A rule of the level danger may not rest on these; the list shrinks as they are read."""
    memory = {(name, key) for name, key in ROWS if "from memory" in table(name).rows[key].verified}

    assert memory == {
        ("solvents", "mineral spirits"),
        ("hood_limits", "make-up air trigger 2012"),
        ("hood_limits", "natural draft spills"),
        ("hood_limits", "pull at most"),
    }


@pytest.mark.parametrize("key", ["ethanol", "acetone", "methyl ethyl ketone", "tetrahydrofuran"])
def test_a_liquid_above_its_flash_point_can_fill_the_air_past_the_fire_limit(key: str) -> None:
    """Definition of the flash point, 29 CFR 1910.1200 App. B; saturation is given at 68 °F (293.15 K)."""
    cells = table("solvents").rows[key].cells

    assert float(cells["flash_point"]) < 293.15
    assert float(cells["saturation"]) > float(cells["lel"])


@pytest.mark.parametrize("key", ["turpentine", "butyl acetate"])
def test_a_liquid_below_its_flash_point_cannot(key: str) -> None:
    """As above: both flash above 68 °F."""
    cells = table("solvents").rows[key].cells

    assert float(cells["flash_point"]) > 293.15
    assert float(cells["saturation"]) < float(cells["lel"])


def test_only_what_is_thinned_with_no_fixed_mix_names_no_carrier() -> None:
    """Lacquer thinner has no fixed make-up; a face is washed with whichever solvent is at hand."""
    rows = table("coating_times").rows

    without = {id(row) for row in rows.values() if "carrier" not in row.cells}
    assert without == {id(rows["lacquer"]), id(rows["face washed with solvent"])}

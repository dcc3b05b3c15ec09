"""The tables of levelling, electrical, plumbing, structure: rows have a source and how it was checked."""

import pytest
import yaml

from advisor.tables import rules_folder, table

TABLES = (
    "box_setbacks",
    "box_volumes",
    "conductors",
    "debris",
    "electrical_editions",
    "gap_closings",
    "joist_cuts",
    "overhangs",
    "stone_densities",
    "stud_cuts",
    "trap_arms",
)
KNOWN = ("read", "from memory", "common practice", "computed")
ROWS = [(name, key) for name in TABLES for key in table(name).rows]


@pytest.mark.parametrize(("name", "key"), ROWS)
def test_a_row_has_its_source_and_how_it_was_verified(name, key) -> None:
    row = table(name).rows[key]
    works = yaml.safe_load((rules_folder() / "sources.yaml").read_text(encoding="utf-8"))

    assert row.verified.startswith(KNOWN)
    assert (row.source.key in works and bool(row.source.at)) or row.verified == "common practice"


@pytest.mark.parametrize(("name", "key"), ROWS)
def test_a_row_fills_columns_that_the_table_declares(name, key) -> None:
    assert set(table(name).rows[key].cells) - set(table(name).columns) == set()
    assert table(name).rows[key].cells != {}


@pytest.mark.parametrize("name", TABLES)
def test_an_alias_never_hides_a_row(name) -> None:
    assert set(table(name).aliases) & set(table(name).rows) == set()
    assert set(table(name).aliases.values()) <= set(table(name).rows)


def test_only_these_rows_still_rest_on_memory() -> None:
    """None of them decides a danger: a wrong one makes a box look fuller or a drain flatter than it is."""
    doubtful = [(name, key) for name, key in ROWS if "from memory" in table(name).rows[key].verified]

    assert doubtful == [
        ("box_volumes", "4 x 1-1/4 octagon"),
        ("box_volumes", "3 x 2 x 1-1/2 device"),
        *(("trap_arms", f"upc {size}") for size in ("1-1/4", "1-1/2", "2", "3", "4")),
    ]

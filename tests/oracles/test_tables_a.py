"""The tables of wood, lifting, noise, dust, lead and drawers: where each row is from and how sure."""

import pytest
import yaml

from advisor.calculators import load_all
from advisor.tables import rules_folder, table

TABLES = (
    "apf",
    "dust_lead_levels",
    "lead_prevalence",
    "lifting_frequency",
    "panel_stiffness",
    "pocket_screws",
    "respirator_filters",
    "silica_controls",
    "tool_noise",
    "wood_species",
)
WORDS = ("read (official)", "read (copy)", "read (secondary)", "from memory", "computed", "common practice")


def _raw(name: str) -> dict:
    return yaml.safe_load((rules_folder() / "tables" / f"{name}.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", TABLES)
def test_each_row_has_a_known_source_or_common_practice(name):
    bibliography = set(yaml.safe_load((rules_folder() / "sources.yaml").read_text(encoding="utf-8")))
    raw = _raw(name)
    for row in raw["rows"]:
        source = row.get("source", raw.get("source"))
        assert source == "common practice" or (source["key"] in bibliography and source["at"]), row["name"]


@pytest.mark.parametrize("name", TABLES)
def test_each_row_has_a_verified_word(name):
    for key, row in table(name).rows.items():
        assert any(word in row.verified for word in WORDS), key
        assert row.verified.startswith(WORDS), key


@pytest.mark.parametrize("name", TABLES)
def test_each_column_has_a_meaning_and_each_alias_one_row(name):
    raw = _raw(name)
    keys = [str(word).lower() for row in raw["rows"] for word in (row["name"], *row.get("aliases", []))]

    assert sorted(keys) == sorted(set(keys))
    assert all(spec["meaning"] for spec in raw["columns"].values())


def test_rows_that_decide_on_a_respirator_rest_on_a_text_that_was_read():
    """Danger-level rules need a source that was read: 29 CFR 1926.1153 Table 1 and 1910.134 Table 1."""
    for name in ("silica_controls", "apf"):
        for key, row in table(name).rows.items():
            assert "from memory" not in row.verified, key


@pytest.mark.parametrize("topic", ["wood", "lifting", "noise", "silica", "lead", "drawers"])
def test_each_calculator_names_a_work_of_the_bibliography_or_common_practice(topic):
    bibliography = set(yaml.safe_load((rules_folder() / "sources.yaml").read_text(encoding="utf-8")))
    found = [one for one in load_all().values() if one.topic == topic]

    assert found
    for one in found:
        keys = {source.partition(":")[0] for source in one.sources}
        assert keys <= bibliography | {"common practice"}, one.name

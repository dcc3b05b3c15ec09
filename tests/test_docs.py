"""README, DEVELOPERS and docs show what the program does now."""

import re

import pytest

from advisor.rulebase.base import load_rulebase
from advisor.rulebase.keys import CONCLUSION_KEYS, RULE_KEYS
from advisor.rulebase.lint import lint
from advisor.rulebase.reading import grader
from docs import DOCS, TOP, filled, without_counts


@pytest.mark.parametrize("name", DOCS)
def test_marked_parts_show_real_files_and_real_output(name: str) -> None:
    """Each marked part equals a fresh run; `make docs` mends it. How many practices are open is left out."""
    text = (TOP / name).read_text(encoding="utf-8")

    assert without_counts(filled(text)) == without_counts(text)


def test_a_count_of_open_practices_is_all_that_may_differ() -> None:
    """It changes with every rule, and its digits move the line break."""
    one = "2 cautions. Not judged yet: 30\npractices that wait for an answer."
    other = "2 cautions. Not judged yet:\n1030 practices that wait for an answer."

    assert without_counts(one) == without_counts(other)
    assert without_counts(one) != without_counts(one.replace("2 cautions", "3 cautions"))


def test_the_table_of_keys_has_every_key_of_every_conclusion() -> None:
    """By its rows: a key that the reader takes and the table lacks is found here, and the other way round."""
    text = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
    head = re.search(r"^\| key \| (.*) \| what it says \|$", text, re.MULTILINE)
    assert head is not None
    kinds = head[1].split(" | ")
    rows = re.findall(rf"^\| `(\w+)` \|((?: ?[●○]? ?\|){{{len(kinds)}}}) .+ \|$", text, re.MULTILINE)
    found = {kind: {key for key, marks in rows if marks.split("|")[place].strip()} for place, kind in enumerate(kinds)}

    assert found == {kind: set(keys) for kind, keys in CONCLUSION_KEYS.items()}
    assert all(f"- `{key}`: " in text for key in RULE_KEYS)


def test_the_pack_that_the_docs_show_has_no_fault(tmp_path) -> None:
    """It is read, and the lint has nothing to say of it."""
    text = (TOP / "docs" / "rules.md").read_text(encoding="utf-8")
    shown = next(block for block in re.findall(r"```yaml\n(.*?)```", text, re.DOTALL) if block.startswith("pack:"))
    (tmp_path / "our-county.yaml").write_text(shown, encoding="utf-8")

    assert [str(one) for one in lint(load_rulebase([tmp_path]), grade=grader())] == []


@pytest.mark.parametrize("name", DOCS)
def test_links_lead_to_files_that_are_there(name: str) -> None:
    text = (TOP / name).read_text(encoding="utf-8")
    places = [
        place.partition("#")[0]
        for place in re.findall(r"\]\(([^)\s]+)\)", re.sub(r"```.*?```", "", text, flags=re.DOTALL))
    ]
    files = [place for place in places if place and not place.startswith(("http", "<"))]

    assert [place for place in files if not ((TOP / name).parent / place).exists()] == []

"""Each practice of `practices.yaml` has rules of today that say it, at or above the word that was asked for."""

from pathlib import Path

import pytest
import yaml

from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import FINDING_KINDS, SIGNALS

LISTED = yaml.safe_load((Path(__file__).parent / "practices.yaml").read_text(encoding="utf-8"))
ROWS = [(field, row) for field, rows in LISTED.items() for row in rows]


def words(name):
    """The signal words of a rule; none where there is no such rule."""
    rule = load_rulebase().rule(name)
    return [SIGNALS.index(c.signal) for c in rule.conclusions if c.kind in FINDING_KINDS] if rule else []


@pytest.mark.parametrize(("field", "row"), ROWS, ids=[row["practice"] for _, row in ROWS])
def test_a_practice_is_said_at_its_word(field, row):
    if "program" in row:
        assert len(row["program"].split()) > 3
        return
    unknown = [name for name in row["rules"] if not words(name)]
    assert unknown == []
    gravest = max(word for name in row["rules"] for word in words(name))
    assert (gravest >= SIGNALS.index(row["least"])) != bool(row.get("milder"))


def test_no_practice_stands_twice():
    said = [row["practice"] for _, row in ROWS]

    assert len(said) == len(set(said)) == 56

"""The table of what is usual holds words of the vocabulary only, and says no less than the tests may not draw."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml
from completions import Plain

from advisor.rulebase.base import load_rulebase
from advisor.rulebase.vocabulary import Attribute
from advisor.tables import rules_folder

KINDS = {"part": "part_kind", "product": "product_kind", "room": "room_kind", "step": "action"}
# Kinds are named for parts of which a plan may speak before the vocabulary has a word of its own for them.
TABLE = rules_folder() / "site" / "usual.yaml"


def _table(path: Path) -> dict[str, Any]:
    return yaml.load(path.read_text(encoding="utf-8"), Loader=Plain)


def _unknown(taxonomy: str, words: list[str]) -> set[str]:
    return set(words) - set(load_rulebase().vocabulary.taxonomies[taxonomy].terms)


def _not_said(attribute: Attribute, words: list[str]) -> set[str]:
    return set(words) - {"yes", "no"} if attribute.type == "yes_no" else _unknown(attribute.of, words)


def test_every_word_is_of_the_vocabulary() -> None:
    data, vocabulary = _table(TABLE), load_rulebase().vocabulary
    wrong: dict[str, set[str]] = {}
    for sort, rows in data["sense"].items():
        for row in rows:
            named = set(row["say"]) - set(vocabulary.attributes[sort])
            wrong[f"sense {row['say']}"] = named | (
                _unknown(KINDS[sort], row["of"]) if sort in KINDS else set(row["of"])
            )
    for row in data["steps"]:
        wrong[f"steps {row['do']}"] = (
            _unknown("action", row["do"]) | _unknown("tool", row.get("with", []))
            | _unknown("method", row.get("by", [])) | _unknown("product_kind", row.get("using", []))
        )  # fmt: skip
    for row in data["silly_at"]:
        named = set(row["say"]) | set(row.get("stated", {}))
        wrong[f"silly {row['say']} {row['of']}"] = (
            (named - set(vocabulary.attributes[row["sort"]]))
            | _unknown(KINDS[row["sort"]], row["of"]) | _unknown("part_kind", row.get("at", []))
        )  # fmt: skip
        for name, words in (*row.get("stated", {}).items(), *row.get("unless", {}).items()):
            wrong[f"silly {row['say']} {name}"] = _unknown(vocabulary.attributes[row["sort"]][name].of, words)
        for name, words in row.get("house", {}).items():
            wrong[f"silly {row['say']} {name} of the house"] = _not_said(vocabulary.attributes["house"][name], words)
    for row in data["ruled_out"]:
        wrong[f"ruled out {row['say']} {row['of']}"] = _unknown(KINDS[row["sort"]], row["of"]).union(
            *(
                _not_said(vocabulary.attributes[row["sort"]][name], words)
                for name, words in (*row["stated"].items(), (row["say"], row["words"]))
            )
        )
    for row in data["new_words"]:
        wrong[f"new {row['say']}"] = _unknown(vocabulary.attributes["part"][row["say"]].of, row["words"])
    for row in data["places"]:
        wrong[f"places {row['say']} {row['of']}"] = _unknown("part_kind", row["of"]) | _unknown("part_kind", row["to"])
    for row in data["missing"]:
        at = _unknown("room_kind", row["room"]) if "room" in row else _unknown("part_kind", row["at"])
        wrong[f"missing {row['ask']}"] = at | _unknown("part_kind", row["kinds"])
    for row in data["words"]:
        of = vocabulary.attributes[row["sort"]][row["say"]].of
        wrong[f"words {row['say']} {row['of']}"] = _unknown(KINDS[row["sort"]], row["of"]) | _unknown(of, row["words"])
    for row in data["often"]:
        attribute = vocabulary.attributes[row["sort"]][row["say"]]
        known = {"yes", "no"} if attribute.type == "yes_no" else set(vocabulary.taxonomies[attribute.of].terms)
        wrong[f"often {row['say']}"] = set(row["words"]) - known
    for row in data["told"]:
        wrong[f"told {row['add']}"] = _unknown("action", [row["add"]])
    for row in data["together"]:
        wrong[f"together {row['say']}"] = set(row["say"]) - set(vocabulary.attributes[row["sort"]])
        wrong[f"parts of {row['say']}"] = set(row.get("parts", {})) ^ set(row["say"]) if "parts" in row else set()
    for row in data["any_work"]:
        wrong[f"any work {row['say']}"] = set(row["say"]) - set(vocabulary.attributes[row["sort"]])
    wrong["new"] = set(data["new"]) - set(vocabulary.attributes["part"])

    assert {name: words for name, words in wrong.items() if words} == {}


def test_what_may_not_be_drawn_has_a_reason_and_is_what_is_not_asked() -> None:
    """Who changes the one changes the other: else completions draw what nobody may be asked, or too little."""
    usual, drawn = _table(TABLE), _table(Path(__file__).parent / "not_drawn.yaml")
    only = [(row["sort"], row["say"], row["of"]) for row in drawn["only"]]

    assert all(
        row["reason"]
        for part in ("only", "words", "steps", "places", "silly_at", "ruled_out", "new_words")
        for row in drawn[part]
    )
    assert only == [(sort, row["say"], row["of"]) for sort, rows in usual["sense"].items() for row in rows]
    for part in ("words", "steps", "places", "silly_at", "ruled_out", "new_words"):
        cells = [{key: value for key, value in row.items() if key != "reason"} for row in drawn[part]]
        assert cells == usual[part]
    assert drawn["new"]["say"] == usual["new"]
    assert [drawn[name] for name in ("through_walls", "two_sided")] == [
        usual[name] for name in ("through_walls", "two_sided")
    ]

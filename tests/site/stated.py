"""What a plan states already in other words, read for the completions; nothing of the evaluator is used."""

from __future__ import annotations

import copy
from typing import Any

from advisor.plan import read_plan
from advisor.rulebase.base import load_rulebase

TAXONOMY = {"part": "part_kind", "product": "product_kind", "room": "room_kind", "step": "action"}


class Stated:
    """What a plan states, and what nobody draws beside it."""

    def __init__(self, plan: dict[str, Any], table: dict[str, Any]) -> None:
        self.words, self._rows = load_rulebase().vocabulary, table["silly_at"]
        self.read = read_plan(copy.deepcopy(plan), self.words)

    def below(self, taxonomy: str, words: list[str]) -> set[str]:
        known = self.words.taxonomies[taxonomy]
        return {one for word in words for one in known.below(word) if one not in known.groups}

    def silly(self, sort: str, kind: str, stated: dict[str, Any], by_house: bool = False) -> set[str]:
        """What is not drawn of a step on such things, nor of what is stated so; `by_house`: as the house says it."""
        found: set[str] = set()
        told = stated["to"].plain if "to" in stated else ()
        things = [self.read.entities["part"].get(str(one)) for one in ((told,) if isinstance(told, str) else told)]
        kinds = {str(e.values["kind"].plain) if e is not None and "kind" in e.values else "" for e in things}
        for row in self._rows:
            if by_house and "house" not in row:
                continue
            if row["sort"] != sort or kind not in self.below(TAXONOMY[sort], row["of"]):
                continue
            if "at" in row and not (kinds and kinds <= self.below("part_kind", row["at"])):
                continue
            if row.get("in_room") == "yes" and "room" not in stated:
                continue
            if any(self._told(stated, name) & self._meant(sort, name, words)
                   for name, words in row.get("unless", {}).items()):  # fmt: skip
                continue
            house = self.read.entities["house"]["house"].values
            if self.says(sort, stated, row.get("stated", {})) and self.says("house", house, row.get("house", {})):
                found |= set(row["say"])
        return found

    def _told(self, stated: dict[str, Any], name: str) -> set[str]:
        plain = stated[name].plain if name in stated else ()
        return {str(one) for one in (plain if isinstance(plain, tuple) else (plain,))}

    def _meant(self, sort: str, name: str, words: list[str]) -> set[str]:
        attribute = self.words.attributes[sort][name]
        return set(words) if attribute.type == "yes_no" else self.below(attribute.of, words)

    def says(self, sort: str, stated: dict[str, Any], wanted: dict[str, list[str]]) -> bool:
        """Whether each is stated, with none but these words."""
        return all(
            (told := self._told(stated, name)) and told <= self._meant(sort, name, words)
            for name, words in wanted.items()
        )

"""Random completions of a plan: what it leaves unknown, drawn from the vocabulary; nothing of the evaluator is used.

What may not be drawn stands in `not_drawn.yaml` with reasons, and is counted.
"""

from __future__ import annotations

import copy
import random
from collections import Counter
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml
from generators import SECTIONS, SINGLE, _Maker
from stated import TAXONOMY, Stated

from advisor.plan import read_plan
from advisor.plan.rooms import RoomsOfParts
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.vocabulary import Attribute
from advisor.tables import rules_folder

HERE = Path(__file__).parent
_KIND = {"part": "kind", "product": "kind", "room": "kind", "step": "do"}


class Plain(yaml.CSafeLoader):
    """Scalars as written: `no` stays a word."""


Plain.yaml_implicit_resolvers = {}


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    return yaml.load((HERE / "not_drawn.yaml").read_text(encoding="utf-8"), Loader=Plain)


@lru_cache(maxsize=1)
def missing_things() -> list[dict[str, Any]]:
    """What a room or a part usually has: the rules' own list, as data."""
    text = (rules_folder() / "site" / "usual.yaml").read_text(encoding="utf-8")
    return yaml.load(text, Loader=Plain)["missing"]


class Completer(Stated):
    """Draws completions of one plan."""

    def __init__(self, plan: dict[str, Any]) -> None:
        super().__init__(plan, _table())
        self.plan = plan
        self.rooms = RoomsOfParts(self.read)
        self.left_out: Counter[str] = Counter()

    def draw(self, seed: int) -> dict[str, Any]:
        """One completion, as a plan to read."""
        made = copy.deepcopy(self.plan)
        pick = random.Random(seed)
        maker = _Maker(seed, load_rulebase(), 1)
        for sort in SECTIONS:
            maker.things[sort] = {own: {} for own in self.read.entities.get(sort, {})}
        share = pick.choice((0.1, 0.3, 0.6, 1.0))
        if pick.random() < 0.5:
            self._add_missing(made, pick)
        for sort, section in SECTIONS.items():
            for own, entity in self.read.entities.get(sort, {}).items():
                target = made[section][own]
                if not isinstance(target, dict):
                    target = made[section][own] = {}
                self._fill(sort, own, entity.values, target, maker, pick, share)
        for sort in SINGLE:
            values = self.read.entities[sort][sort].values
            before = made.get(sort)
            target = before if isinstance(before, dict) else {}
            self._fill(sort, sort, values, target, maker, pick, share)
            if target:
                made[sort] = target
        for written in made["steps"]:
            entity = self._step(written)
            if entity is not None:
                self._fill("step", entity.id, entity.values, written, maker, pick, share)
        self._stay_put(made)
        return made

    def _stay_put(self, made: dict[str, Any]) -> None:
        """A thing that the plan puts somewhere stays there: no drawn room of a neighbor takes it elsewhere."""
        rooms = RoomsOfParts(read_plan(copy.deepcopy(made), self.words))
        told = {own: room for own in self.read.entities["part"] if (room := self.rooms.of(own)) is not None}
        if all(rooms.of(own) == room for own, room in told.items()):
            return
        for own, entity in self.read.entities["part"].items():
            if "room" not in entity.values and made["parts"][own].pop("room", None) is not None:
                self.left_out["part.room"] += 1

    def _step(self, written: dict[str, Any]) -> Any:
        place = [i for i, one in enumerate(self.plan["steps"]) if one.get("id") == written.get("id")]
        order = list(self.read.entities["step"].values())
        if "id" in written:
            return self.read.entities["step"].get(written["id"])
        index = next((i for i in place if self.plan["steps"][i].items() <= written.items()), None)
        return order[index] if index is not None else None

    def _fill(
        self,
        sort: str,
        own: str,
        stated: dict[str, Any],
        target: dict[str, Any],
        maker: Any,
        pick: random.Random,
        share: float,
    ) -> None:
        kind = stated.get(_KIND.get(sort, ""))
        word = str(kind.plain) if kind is not None else ""
        silly = self.silly(sort, word, stated)
        written = {known.name for name in target if (known := self.words.attribute(sort, name)) is not None}
        for name, attribute in sorted(self.words.attributes[sort].items()):
            # what is written under a name and read as another one stays: gear among the tools
            if name in stated or name in written or name == "after" or pick.random() > share:
                continue
            if name in silly:
                self.left_out[f"{sort}.{name}"] += 1
                continue
            value = self._value(attribute, sort, own, word, stated, maker, pick)
            if value is not None:
                target[name] = value

    def _value(
        self,
        attribute: Attribute,
        sort: str,
        own: str,
        kind: str,
        stated: dict[str, Any],
        maker: Any,
        pick: random.Random,
    ) -> Any:
        name = attribute.name
        if attribute.quiet or not attribute.ask:
            return None
        table = _table()
        fresh = stated.get("new")
        if sort == "part" and fresh is not None and fresh.plain == "yes" and name in table["new"]["say"]:
            self.left_out[f"{sort}.{name}"] += 1
            return None
        rows = [row for row in table["only"] if row["sort"] == sort and name in row["say"]]
        if rows and not any(
            kind in self.below(TAXONOMY[sort], row["of"]) if sort in TAXONOMY else False for row in rows
        ):
            self.left_out[f"{sort}.{name}"] += 1
            return None
        if sort == "part" and any(
            kind in self.words.taxonomies["part_kind"].below(one) for one in attribute.not_asked_of
        ):
            return None
        if attribute.type == "ref":
            return self._place(attribute, sort, own, kind, pick)
        allowed = self._allowed(attribute, sort, kind)
        for row in table["ruled_out"]:
            if row["sort"] == sort and row["say"] == name and kind in self.below(TAXONOMY[sort], row["of"]) and (
                self.says(sort, stated, row["stated"])
            ):  # fmt: skip
                out = self.below(attribute.of, row["words"])
                allowed = (allowed if allowed is not None else self.below(attribute.of, self._all(attribute))) - out
        if sort == "part" and fresh is not None and fresh.plain == "yes":
            for row in table["new_words"]:
                if row["say"] == name:
                    fit = self.below(attribute.of, row["words"])
                    allowed = fit if allowed is None else allowed & fit
        if allowed is not None:
            if not allowed:
                return None
            chosen = pick.choice(sorted(allowed))
            return [chosen] if attribute.many else chosen
        return maker._random_value(attribute, own)

    def _all(self, attribute: Attribute) -> list[str]:
        return sorted(self.words.taxonomies[attribute.of].terms)

    def _allowed(self, attribute: Attribute, sort: str, kind: str) -> set[str] | None:
        if sort == "step" and attribute.name in ("with", "by"):
            taxonomy = self.words.taxonomies["action"]
            for action in (kind, *taxonomy.above(kind)):
                for row in _table()["steps"]:
                    if action in row["do"] and row.get(attribute.name):
                        return self.below(attribute.of, row[attribute.name])
            return set()
        rows = [
            row
            for row in _table()["words"]
            if row["sort"] == sort and row["say"] == attribute.name and kind in self.below(TAXONOMY[sort], row["of"])
        ]
        return {w for row in rows for w in self.below(attribute.of, row["words"])} if rows else None

    def _place(self, attribute: Attribute, sort: str, own: str, kind: str, pick: random.Random) -> Any:
        name = attribute.name
        if sort == "step":
            if name == "to":
                others = sorted(self.read.entities["part"])
            elif name == "using":
                others = self._products(kind)
            else:
                return None
        elif name == "room" and sort in ("part", "product"):
            told = sort == "part" and self.rooms.of(own) is not None
            self.left_out["part.room"] += told
            others = [] if told else sorted(self.read.entities["room"])
        elif sort == "part" and attribute.of == "part":
            others = self._near(name, own, kind)
        else:
            return None
        if not others:
            return None
        chosen = pick.choice(others)
        return [chosen] if attribute.many else chosen

    def _products(self, action: str) -> list[str]:
        for one in (action, *self.words.taxonomies["action"].above(action)):
            for row in _table()["steps"]:
                if one in row["do"] and row.get("using"):
                    kinds = self.below("product_kind", row["using"])
                    return sorted(
                        p for p, e in self.read.entities["product"].items()
                        if "kind" in e.values and e.values["kind"].plain in kinds
                    )  # fmt: skip
        return []

    def _near(self, name: str, own: str, kind: str) -> list[str]:
        rows = [row for row in _table()["places"] if row["say"] == name and kind in self.below("part_kind", row["of"])]
        allowed = {k for row in rows for k in self.below("part_kind", row["to"])} if rows else None
        parts = self.read.entities["part"]
        home = self.rooms.of(own)
        between = self.below("part_kind", _table()["two_sided"])
        anywhere = name in _table()["through_walls"] or kind in between
        found = []
        for other, entity in sorted(parts.items()):
            its = entity.values.get("kind")
            there = self.rooms.of(other)
            if other == own or its is None or (allowed is not None and its.plain not in allowed):
                continue
            if home is not None and there is not None and home != there and not anywhere and its.plain not in between:
                continue
            found.append(other)
        return found

    def _add_missing(self, made: dict[str, Any], pick: random.Random) -> None:
        """One thing that such a room or part usually has."""
        row = pick.choice(missing_things())
        sort = "room" if "room" in row else "part"
        kinds = self.below(TAXONOMY[sort], row.get("room") or row["at"])
        holders = [
            own for own, e in sorted(self.read.entities[sort].items())
            if "kind" in e.values and e.values["kind"].plain in kinds
        ]  # fmt: skip
        if not holders:
            return
        where = pick.choice(holders)
        thing: dict[str, Any] = {"kind": pick.choice(row["kinds"])}
        if sort == "room":
            thing["room"] = where
        else:
            thing[row["by"]] = where
            home = self.read.entities["part"][where].values.get("room")
            if home is not None:
                thing["room"] = str(home.plain)
        made["parts"] = {**made.get("parts", {}), "one-more": thing}

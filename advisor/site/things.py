"""The facts of a plan with what is unknown of them: open attributes, open places, things that may be there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from advisor.plan.facts import presume
from advisor.plan.model import FactBase, Plan, PlanFact
from advisor.rulebase.base import RuleBase
from advisor.site.answered import words_of
from advisor.site.assume import CERTAIN, MISSING, NOTHING, STATED, Key, Set, Ways, pruned, with_set, words
from advisor.site.cells import Cell, Open, cell_of
from advisor.site.meant import finer_kinds, other_verbs, said_too
from advisor.site.opened import cells_of
from advisor.site.usual import usual_of

_PRODUCT_OF = "?product of "  # begins the name of the product that a step does not name
_ENDS = 12  # ways of which each makes the verb of a step another
_SINGLE = ("house", "code", "crew", "budget")
_NAMES_KIND = {"part": "kind", "product": "kind", "room": "kind", "step": "do"}


def asked_of(key: Key) -> Key:
    """The unknown that a question asks for: what a product is that no step names is asked of its step."""
    own = key[1]
    return ("step", own[len(_PRODUCT_OF) :], "using") if own.startswith(_PRODUCT_OF) else key


class PossibleFact(Struct, eq=False):
    """A fact that holds, or may hold: `ways` are the smallest sets of assumptions under which it does."""

    kind: str
    values: dict[str, Any]
    ways: Ways = CERTAIN
    number: int = 0


class Absent(Struct, frozen=True):
    """A thing that may be there and is not listed: its kind, at which room or part, the question."""

    id: str
    kind: str
    where: str
    ask: str


class Site(Struct):
    """The facts of one plan, with its unknowns by key and the things that may be missing by their made-up id."""

    facts: list[PossibleFact] = field(default_factory=list)
    cells: dict[Key, Open] = field(default_factory=dict)
    absent: dict[str, Absent] = field(default_factory=dict)


class Builder:
    """Makes the facts of one plan."""

    def __init__(self, plan: Plan, base: FactBase, rulebase: RuleBase, reads: frozenset[tuple[str, str]]) -> None:
        self.plan, self.base, self.words = plan, base, rulebase.vocabulary
        self.usual, self.reads, self.site = usual_of(rulebase), reads, Site()
        self.rooms = sorted(plan.entities.get("room", {}))
        self.house = words_of(plan.entities.get("house", {}).get("house"))
        self.kinds = {
            str(f.get("id")): str(f.get("kind")) for f in base.facts if f.kind in ("part", "product") and f.get("kind")
        }
        self.may_be: dict[tuple[str, str], list[tuple[str, Set]]] = {}  # each kind that a thing may be, and its need
        self.lifted = {f.get("to") for f in base.facts if f.kind == "step" and f.get("do") in self.usual.lifted_by}
        self.used = {f.get("using") for f in base.facts if f.kind == "step"}
        self.homes = {str(f.get("id")): str(f.get("room")) for f in base.facts if f.kind == "part" and f.get("room")}

    def build(self) -> Site:
        """All facts, in an order that depends on nothing but the plan."""
        opened: set[tuple[str, str]] = set()
        for fact in self.base.facts:
            self._fact(fact, opened)
        if not self.rooms:
            self._room()
        self._absent()
        return self.site

    def _fact(self, fact: PlanFact, opened: set[tuple[str, str]]) -> None:
        values, sort = dict[str, Any](fact.values), fact.kind
        if sort == "item":
            self.site.facts.append(PossibleFact("item", values))
            return
        own = str(values["id"])
        kind = str(values.get(_NAMES_KIND.get(sort, ""), ""))
        entity = self.plan.entities.get(sort, {}).get(own)
        stated = words_of(entity)
        silly = self.usual.silly_of(entity, sort, kind, self.kinds, stated, self.house)
        for cell in cells_of(self.usual, self.reads, sort, kind):
            name = cell.name
            if name in values:
                if name in fact.presumed:
                    value = values[name]
                    values[name] = self._cell((sort, own, name), cell, kind, value)
                continue
            if name in silly:
                continue
            if name in self.usual.new_words and values.get("new") == "yes":
                cell = cell._replace(allowed=cell.allowed & self.usual.new_words[name])
                if not cell.allowed:
                    continue
            out = self.usual.answered.ruled_out(sort, name, kind, stated)
            found = (
                self._place(sort, own, kind, cell)
                if cell.sort == "r"
                else self._cell((sort, own, name), cell, kind, out=out)
            )
            if found is not None:
                values[name] = found
        if sort == "part" and own in self.lifted and "weight" not in values:  # whatever it is, it weighs
            attribute = self.words.attributes["part"]["weight"]
            values["weight"] = self._cell((sort, own, "weight"), cell_of(attribute, self.words), kind)
        if sort == "step":
            self._step(values, own, kind, silly)
        known = sort not in ("part", "product") or "room" in values or "room" in self.usual.senseless(sort, kind)
        if self.rooms and not known:
            values["room"] = self._open(Open((sort, own, "room"), "w", frozenset(self.rooms), place=True))
        fact_of = PossibleFact(sort, values)
        self.site.facts.append(fact_of)
        self._meant(sort, own, kind, fact_of)
        if (sort, own) not in opened:
            opened.add((sort, own))
            self._items(sort, own, values, CERTAIN)

    def _meant(self, sort: str, own: str, kind: str, fact: PossibleFact) -> None:
        """What the words may come to mean: a finer kind of the thing, another verb of the step."""
        values = fact.values
        self.site.facts += [PossibleFact(sort, *one) for one in said_too(sort, kind, values, self.words)]
        if sort == "step":
            written = self.plan.entities["step"][own].values.get("do")
            verb = self.words.taxonomies["action"].find(written.text) if written else None
            others = other_verbs(verb or kind, values, self.may_be, self.site.cells, self.words)
            for means, ways in others:
                self.site.facts.append(PossibleFact(sort, {**values, "do": means}, ways))
            if others:  # the verb of today stands as long as nothing said makes it another
                ends = pruned([one for _, ways in others for one in ways], _ENDS)
                fact.ways = ({("!", "do", f"{own} {values.get('to')!r}"): ("b", True, ends)},)
            return
        self.may_be[sort, own] = [(kind, NOTHING)]
        for finer, need in finer_kinds(sort, kind, values, self.words):
            self.may_be[sort, own].append((finer, need))
            self.site.facts.append(
                PossibleFact(sort, {**self._presumed(sort, own, finer), **values, "kind": finer}, (need,))
            )

    def _presumed(self, sort: str, own: str, kind: str) -> dict[str, Any]:
        """What would be presumed of the thing, were it of that kind."""
        entity = self.plan.entities[sort][own]
        known = replace(entity, values={**entity.values, "kind": replace(entity.values["kind"], plain=kind)})
        plain: dict[str, Any] = {}
        presume(known, plain, self.words, FactBase([]))
        cells = {name: cell_of(self.words.attributes[sort][name], self.words) for name in sorted(plain)}
        return {name: self._cell((sort, own, name), cells[name], kind, plain[name]) for name in cells}

    def _items(self, sort: str, own: str, values: Mapping[str, Any], ways: Ways) -> None:
        """One fact for what may be in a list that is not stated."""
        for name, value in values.items():
            if type(value) is Open and value.many and value.presumed is None:
                member = Open(value.key, value.sort, value.allowed, member=True, place=value.place)
                cells = {"sort": sort, "of": own, "attribute": name, "value": member}
                self.site.facts.append(PossibleFact("item", cells, ways))

    def _open(self, one: Open) -> Open:
        return self.site.cells.setdefault(one.key, one)

    def _cell(
        self, key: Key, cell: Cell, kind: str, presumed: Any = None, out: frozenset[str] = frozenset()
    ) -> Open | None:
        known = self.site.cells.get(key)
        if known is not None:
            return known
        allowed = cell.allowed
        if key[0] == "step" and cell.name in ("with", "by"):
            usual = self.usual.step_words(kind, cell.name)
            if usual is None:
                return None
            allowed = usual
        allowed -= out
        if presumed is not None and cell.sort == "w":  # it stands for the unknown, whatever is usual of the kind
            allowed |= {str(presumed)}
        return self._open(Open(key, cell.sort, allowed, cell.low, cell.high, presumed, cell.many))

    def _place(self, sort: str, own: str, kind: str, cell: Cell) -> Open | None:
        """A place that nobody stated: any thing of the same room where such a thing can be."""
        if cell.of != "part" or sort != "part":
            return None
        usual = self.usual.places(cell.name, kind)
        home = self.homes.get(own)
        anywhere = cell.name in self.usual.through_walls or kind in self.usual.two_sided
        allowed = {
            other
            for other, its in self.kinds.items()
            if other != own
            and other in self.plan.entities["part"]
            and (usual is None or its in usual)
            and (home is None or anywhere or self.homes.get(other, home) == home or its in self.usual.two_sided)
        }
        if not allowed:
            return None
        return self._open(Open(("part", own, cell.name), "w", frozenset(allowed), many=cell.many, place=True))

    def _step(self, values: dict[str, Any], own: str, action: str, silly: frozenset[str]) -> None:
        if "to" not in values and "to" not in silly and self.plan.entities["part"]:
            parts = frozenset(self.plan.entities["part"])
            values["to"] = self._open(Open(("step", own, "to"), "w", parts, place=True, several=True))
        kinds = self.usual.step_words(action, "using")
        if "using" not in values and kinds:
            listed = {p for p in self.plan.entities["product"] if self.kinds.get(p) in kinds}
            if "using" in silly:  # unless it is there for something, and no step says for what
                listed -= self.used
                if listed:
                    values["using"] = self._open(
                        Open(("step", own, "using"), "w", frozenset(listed), place=True, several=True)
                    )
            else:
                key, made = ("step", own, "using"), f"{_PRODUCT_OF}{own}"
                cell = self._open(Open(key, "w", frozenset({*listed, made}), place=True, several=True))
                if ("product", made, "kind") not in self.site.cells:
                    self._product(made, kinds, cell)
                values["using"] = cell
        if "in" not in values:
            rooms = frozenset(self.rooms or ["?room"])
            to = values.get("to")
            at = ("part", to, "room") if isinstance(to, str) else ("step", own, "in")
            values["in"] = self._open(Open(at, "w", rooms, place=True))

    def _product(self, made: str, kinds: frozenset[str], using: Open) -> None:
        """The product of a step that names none."""
        values: dict[str, Any] = {"id": made, "kind": self._open(Open(("product", made, "kind"), "w", kinds))}
        ways = with_set(CERTAIN, {using.key: using.passing("is", (made,)) or STATED})
        nearest = min(sorted(kinds), key=lambda k: len(self.words.taxonomies["product_kind"].above(k)))
        for cell in cells_of(self.usual, self.reads, "product", nearest):
            if cell.name not in values and cell.sort != "r":
                values[cell.name] = self._cell(("product", made, cell.name), cell, nearest)
        self.site.facts.append(PossibleFact("product", values, ways))
        self._items("product", made, values, ways)

    def _room(self) -> None:
        """The room of a plan that lists none."""
        below = self.words.taxonomies["room_kind"].below
        kinds = below("indoors") | below("outdoors")
        values: dict[str, Any] = {"id": "?room", "kind": self._open(Open(("room", "?room", "kind"), "w", kinds))}
        for cell in cells_of(self.usual, self.reads, "room", "living space"):
            if cell.name not in values and cell.sort != "r":
                values[cell.name] = self._cell(("room", "?room", cell.name), cell, "")
        self.site.facts.append(PossibleFact("room", values))
        self._items("room", "?room", values, CERTAIN)

    def _absent(self) -> None:
        room_kinds = {
            r: str(e.values["kind"].plain) for r, e in self.plan.entities["room"].items() if "kind" in e.values
        }
        for kinds, by, missing, ask in self.usual.missing:
            if by:
                holders = [
                    (p, self.homes.get(p)) for p in sorted(self.plan.entities["part"]) if self.kinds.get(p) in kinds
                ]
            else:
                holders = [(r, r) for r in self.rooms if room_kinds.get(r) in kinds]
            for where, room in holders:
                for kind in missing:
                    if not self._listed(kind, where, room, by):
                        self._thing(kind, where, room, by, ask)

    def _listed(self, kind: str, where: str, room: str | None, by: str) -> bool:
        """Whether the plan has such a thing there, or one that may be there."""
        below = self.words.taxonomies["part_kind"].below(kind)
        for own in self.plan.entities["part"]:
            if self.kinds.get(own) not in below:
                continue
            home = self.homes.get(own)
            if room is not None and home is not None and home != room:
                continue
            at = self.plan.entities["part"][own].values.get(by) if by else None
            if at is None or at.plain == where:
                return True
        return False

    def _thing(self, kind: str, where: str, room: str | None, by: str, ask: str) -> None:
        own = f"?{kind} in {where}"
        values: dict[str, Any] = {"id": own, "kind": kind}
        if room is not None:
            values["room"] = room
        if by:
            values[by] = where
        # What else there is to know of it is asked once it is listed.
        ways = ({MISSING: words((own,))},)
        self.site.absent[own] = Absent(own, kind, where, ask.replace("{{ where }}", where))
        self.site.facts.append(PossibleFact("part", values, ways))

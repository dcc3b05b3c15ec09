"""What is usual on a site, read from `rules/site/usual.yaml`: which questions make sense, and likely words."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from functools import lru_cache
from typing import Any

from msgspec import Struct, field

from advisor.plan.model import Entity, Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.vocabulary import Vocabulary
from advisor.site.answered import KIND_TAXONOMY, ToldAlready, Words, is_since
from advisor.site.cells import Cell
from advisor.units import read_quantity

MOST_NAMED = 3  # things that one question names: nobody keeps more in mind


class Breath(Struct, frozen=True):
    """What is asked in one breath: attributes, the question, across things or not, and the words of each attribute."""

    say: tuple[str, ...]
    ask: str
    across: bool
    parts: Mapping[str, str]
    one: str = ""  # the question for a single thing, where it is another one
    joins: Mapping[str, str] = field(default_factory=dict)  # what the question for a single thing takes along

    @property
    def of_one(self) -> str:
        """The question for a single thing; empty where there is none."""
        return self.one or ("" if self.across or not self.parts else self.ask)

    def question(self, own: str, ranks: Mapping[str, int]) -> tuple[str, tuple[str, ...]]:
        """The question for those of its attributes that are open, the gravest few by name, and the words of the rest.

        `ranks` says of each open attribute how grave what hangs on it is.
        """
        words = [name for name in self.say if name in ranks and name in self.parts]
        named = sorted(sorted(words, key=lambda name: -ranks[name])[:MOST_NAMED], key=words.index)
        rest = tuple(self.parts[name] for name in words if name not in named)
        said = [self.parts[name] for name in named] + ([f"{len(rest)} more"] if rest else [])
        return self._filled(self.ask, own, said), rest

    def of_thing(self, own: str, names: Sequence[str]) -> str:
        """The question for these attributes of a single thing."""
        return self._filled(self.of_one, own, [self.words(name) for name in names])

    def words(self, name: str) -> str:
        """What is asked of an attribute, in words."""
        return self.parts.get(name) or self.joins[name]

    @staticmethod
    def _filled(ask: str, own: str, said: Sequence[str]) -> str:
        listed = said[0] if len(said) == 1 else ", ".join(said[:-1]) + " and " + said[-1] if said else ""
        return ask.replace("{{ id }}", own).replace("{{ what }}", listed)


class Usual:
    """The tables of one rule base, looked up by kind."""

    def __init__(self, data: Mapping[str, Any], vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self._limits: dict[str, dict[str, frozenset[str]]] = {}
        for sort, rows in data.get("sense", {}).items():
            limits = self._limits.setdefault(sort, {})
            for row in rows:
                kinds = self._below(KIND_TAXONOMY.get(sort, ""), row["of"])
                for name in row["say"]:
                    limits[name] = limits.get(name, frozenset()) | kinds
        self.answered = ToldAlready(data, vocabulary, self._below)
        self._steps: dict[str, dict[str, frozenset[str]]] = {}
        for row in data.get("steps", ()):
            for action in row["do"]:
                self._steps[action] = {
                    "with": self._below("tool", row.get("with", ())),
                    "by": self._below("method", row.get("by", ())),
                    "using": self._below("product_kind", row.get("using", ())),
                }
        self._places = [
            (row["say"], self._below("part_kind", row["of"]), self._below("part_kind", row["to"]))
            for row in data.get("places", ())
        ]
        self.two_sided = self._below("part_kind", data.get("two_sided", ()))
        self.lifted_by = self._below("action", data.get("lifted_by", ()))
        self.through_walls = frozenset(data.get("through_walls", ()))
        self.missing = [
            (
                self._below("room_kind" if "room" in row else "part_kind", row.get("room") or row["at"]),
                row.get("by", ""),
                tuple(row["kinds"]),
                row["ask"],
            )
            for row in data.get("missing", ())
        ]
        self.often: dict[tuple[str, str], dict[str, float]] = {
            (row["sort"], row["say"]): {word: float(share) for word, share in row["words"].items()}
            for row in data.get("often", ())
        }
        self._seldom: dict[tuple[str, str], list[tuple[frozenset[str], float]]] = {}
        self._since: dict[tuple[str, str], tuple[float, float]] = {}  # the year of the house, how much it counts then
        for row in data.get("seldom", ()):
            at, counts = (row["sort"], row["say"]), float(row.get("counts", "0.5"))
            if "since" in row:
                self._since[at] = (float(row["since"]), counts)
            else:
                kinds = self._below(KIND_TAXONOMY[row["sort"]], row["of"])
                self._seldom.setdefault(at, []).append((kinds, counts))
        self.new = frozenset(data.get("new", ()))
        self.new_words = {
            row["say"]: self._below(vocabulary.attributes["part"][row["say"]].of, row["words"])
            for row in data.get("new_words", ())
        }
        self.together: dict[tuple[str, str], Breath] = {}
        self.of_one: dict[tuple[str, str], Breath] = {}  # as together, for a question about a single thing
        for row in data.get("together", ()):
            across, parts = row.get("across") == "yes", row.get("parts", {})
            breath = Breath(tuple(row["say"]), row["ask"], across, parts, row.get("one", ""), row.get("joins", {}))
            for name in row["say"]:
                self.together[row["sort"], name] = breath
            if breath.of_one:
                self.of_one.update({(row["sort"], name): breath for name in (*parts, *breath.joins)})
        self.any_work: dict[tuple[str, str], float] = {
            (row["sort"], name): float(row["counts"]) for row in data.get("any_work", ()) for name in row["say"]
        }
        self._late: dict[tuple[str, str], list[tuple[frozenset[str], float]]] = {}
        for row in data.get("late", ()):
            kinds = self._below(KIND_TAXONOMY.get(row["sort"], ""), row.get("of", ()))
            for name in row["say"]:
                self._late.setdefault((row["sort"], name), []).append((kinds, float(row["counts"])))
        self.ranges: dict[tuple[str, str], tuple[float, float]] = {}
        for row in data.get("ranges", ()):
            kind = vocabulary.attributes[row["sort"]][row["say"]].type
            low, high = (float(row[e]) if kind == "count" else read_quantity(row[e], kind).si for e in ("from", "to"))
            self.ranges[row["sort"], row["say"]] = (low, high)
        self.figures: dict[tuple[str, str], tuple[float, ...]] = {
            (row["sort"], row["say"]): tuple(map(float, row["figures"])) for row in data.get("figures", ())
        }
        self.told = {row["add"]: tuple(row["say"]) for row in data.get("told", ())}
        self._kinds_words: dict[tuple[str, str], list[tuple[frozenset[str], frozenset[str]]]] = {}
        for row in data.get("words", ()):
            taxonomy = vocabulary.attributes[row["sort"]][row["say"]].of
            kinds, fit = self._below(KIND_TAXONOMY[row["sort"]], row["of"]), self._below(taxonomy, row["words"])
            self._kinds_words.setdefault((row["sort"], row["say"]), []).append((kinds, fit))
        self._first: dict[tuple[str, str], list[tuple[frozenset[str], tuple[str, ...]]]] = {}
        for row in data.get("first", ()):
            kinds = self._below(KIND_TAXONOMY[row["sort"]], row.get("of", ()))
            self._first.setdefault((row["sort"], row["say"]), []).append((kinds, tuple(row["words"])))
        self._fits: dict[tuple[str, str], frozenset[str]] = {}
        self.opened: dict[tuple[str, str], list[Cell]] = {}  # kept by `things.py`

    def _below(self, taxonomy: str, words: Any) -> frozenset[str]:
        known = self.vocabulary.taxonomies.get(taxonomy)
        if known is None:
            return frozenset(words)
        groups = known.groups
        return frozenset([one for word in words for one in known.below(word) if one not in groups])

    def seldom(self, plan: Plan, sort: str, own: str, attribute: str) -> float:
        """How much less the question counts, where it is seldom the one to ask of such a thing or in such a house."""
        entity = plan.entities.get(sort, {}).get(own)
        if entity is None:
            return 1.0
        found = self._least(self._seldom.get((sort, attribute), ()), entity.word) if entity.word else 1.0
        since, counts = self._since.get((sort, attribute), (0.0, 1.0))
        return min(found, counts) if since and is_since(entity, plan, since) else found

    def late(self, sort: str, attribute: str, kind: str) -> float:
        """How much less the question counts, of such a thing, where questions are asked one by one."""
        return self._least(self._late.get((sort, attribute), ()), kind)

    @staticmethod
    def _least(rows: Collection[tuple[frozenset[str], float]], kind: str) -> float:
        return min((counts for kinds, counts in rows if not kinds or kind in kinds), default=1.0)

    def cannot_have(self, sort: str, attribute: str, kind: str) -> bool:
        """Whether the attribute is said of other kinds of thing alone."""
        kinds = self._limits.get(sort, {}).get(attribute)
        return bool(kinds) and kind not in kinds  # type: ignore[operator]

    def senseless(self, sort: str, kind: str) -> frozenset[str]:
        """The attributes that would be silly to ask of such a thing."""
        found = self._fits.get((sort, kind))
        if found is None:
            limits = self._limits.get(sort, {})
            found = frozenset(name for name, kinds in limits.items() if kind not in kinds)
            self._fits[sort, kind] = found
        return found

    def silly_of(
        self, entity: Entity | None, sort: str, kind: str, kinds: Mapping[str, str], stated: Words, house: Words
    ) -> frozenset[str]:
        """What nobody asks of a thing of the plan: by its kind, what it is done to, what is stated of it or the house.

        `kinds` has the kind of each thing of the plan; `stated` and `house` are as `words_of` gives them.
        """
        silly = self.senseless(sort, kind)
        if entity is None:
            return silly
        if "new" in entity.values and entity.values["new"].plain == "yes":
            silly |= self.new
        told = entity.values["to"].plain if "to" in entity.values else ()
        things = {kinds.get(str(one), "") for one in (told if isinstance(told, tuple) else (told,))}
        return silly | self.answered.silly_at(sort, kind, things, stated, house)

    def kind_words(self, sort: str, attribute: str, kind: str) -> frozenset[str] | None:
        """The words that fit a kind of thing; None where any does."""
        rows = [fit for kinds, fit in self._kinds_words.get((sort, attribute), ()) if kind in kinds]
        return frozenset().union(*rows) if rows else None

    def first_words(self, sort: str, attribute: str, kind: str) -> tuple[str, ...]:
        """The words that most people would answer, offered before others; empty where nothing is written of it."""
        rows = self._first.get((sort, attribute), ())
        return next((words for kinds, words in rows if not kinds or kind in kinds), ())

    def step_words(self, action: str, attribute: str) -> frozenset[str] | None:
        """The usual tools, methods or kinds of product of an action; None where nothing is written of it."""
        taxonomy = self.vocabulary.taxonomies["action"]
        for name in (action, *taxonomy.above(action)):
            row = self._steps.get(name)
            if row is not None and row[attribute]:
                return row[attribute]
        return None

    def places(self, attribute: str, kind: str) -> frozenset[str] | None:
        """The kinds of part at which such a thing may be; None where nothing is written of it."""
        found: frozenset[str] = frozenset()
        named = False
        for name, of, to in self._places:
            if name == attribute and kind in of:
                named = True
                found |= to
        return found if named else None


@lru_cache(maxsize=4)
def usual_of(rulebase: RuleBase) -> Usual:
    """The tables of the rule base, made once."""
    return Usual(rulebase.usual, rulebase.vocabulary)

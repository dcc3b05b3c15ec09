"""What a list of supplies is made from: the plan, what the rules drew from it, who works and what is there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property, lru_cache
from math import ceil
from typing import Any

from msgspec import Struct

from advisor.engine.memory import Memory
from advisor.plan.model import Entity, Plan
from advisor.plan.said import number, words
from advisor.review.finding import Finding
from advisor.review.model import Gear
from advisor.rulebase.vocabulary import Vocabulary
from advisor.tables import rules_words
from advisor.units import to_base

SPARE = 1.1  # common practice: a tenth is cut off, or left in can, tray and roller


def pieces(size: float, covers: str, dimension: str) -> tuple[int, float]:
    """How many pieces that each cover so much (`15 sqft`) take a size with a tenth to spare, and what one covers.

    Sizes in base units of the dimension.
    """
    amount, _, unit = covers.partition(" ")
    one = to_base(float(amount), unit, dimension)
    return ceil(SPARE * size / one - 1e-9), one


class OnSite(Struct, frozen=True, eq=False, dict=True):
    """What a list of supplies is made from."""

    plan: Plan
    memory: Memory
    vocabulary: Vocabulary
    findings: Sequence[Finding]
    gear: Sequence[Gear]

    def people(self) -> int:
        """How many people work."""
        crew = self.plan.entities.get("crew", {}).get("crew")
        return max(1, int(number(crew, "people") or 1))

    @cached_property
    def owned(self) -> tuple[str, ...]:
        """What the crew says that it has, and the gear that the plan says is in the house."""
        crew = self.plan.entities.get("crew", {}).get("crew")
        house = self.plan.entities.get("house", {}).get("house")
        known = shop_words()["in_house"].items()
        in_house = (gear for gear, said in known if house and set(words(house, said["detail"])) & set(said["is"]))
        return tuple(dict.fromkeys((*(words(crew, "owns") if crew else ()), *in_house)))

    def own_of(self, what: str) -> list[str]:
        """What is there that is this, or a kind of it, or does its work and more. A glove is no other kind of glove."""
        wanted = [what, *shop_words()["covered_by"].get(what, ())]
        return [own for own in self.owned if own in wanted or self.is_one("tool", own, wanted)]

    def there(self, what: str) -> bool:
        """Whether the crew has it, or something that does its work too."""
        return bool(self.own_of(what))

    def asked_by(self, finding: Finding) -> tuple[str, ...]:
        """What a finding asks for, by words of the vocabulary: in its advice, or in its sentence alone."""
        return tuple(dict.fromkeys((*finding.wants, *shop_words()["asks"].get(finding.rule, ()))))

    def order(self, steps: Iterable[str]) -> tuple[str, ...]:
        """Steps in the plan's order, each once."""
        places = self.places
        return tuple(sorted({s for s in steps if s in places}, key=places.__getitem__))

    @cached_property
    def places(self) -> dict[str, int]:
        """The place of each step."""
        return {step.id: n for n, step in enumerate(self.plan.steps)}

    @cached_property
    def at_work(self) -> list[Entity]:
        """The steps that are still to do and that no paid firm does: a firm brings its own."""
        hired = self.vocabulary.members("who", "paid firm")
        return [s for s in self.plan.steps if "done" not in s.values and hired.isdisjoint(words(s, "who"))]

    def parts(self, step: Entity) -> list[Entity]:
        """The parts that a step is to."""
        known = self.plan.entities.get("part", {})
        return [known[name] for name in words(step, "to") if name in known]

    def products(self, step: Entity) -> list[Entity]:
        """The products that a step uses."""
        known = self.plan.entities.get("product", {})
        return [known[name] for name in words(step, "using") if name in known]

    def is_kind(self, sort: str, entity: Entity, attribute: str, kinds: Iterable[str]) -> bool:
        """Whether a word of an entity is one of those, or a kind of one."""
        return any(self.is_one(sort, word, kinds) for word in words(entity, attribute))

    def is_one(self, sort: str, word: str, kinds: Iterable[str]) -> bool:
        """Whether a word is one of those that the vocabulary knows, or a kind of one."""
        terms = self.vocabulary.taxonomies[sort]
        known = terms.terms
        for kind in kinds:  # noqa: SIM110  # a generator costs more than most cells
            if kind in known and (word == kind or word in terms.below(kind)):
                return True
        return False

    def named_apart(self) -> set[str]:
        """Parts that have a line of their own: tile, what goes into a box, what is bought in the place of the part."""
        tiled = {str(record.values["part"]) for record in self.memory.by_kind.get("sets_tile", [])}
        asked = shop_words()["by_rule"]
        for finding in self.findings:
            if any("device" in one or "instead" in one for one in asked.get(finding.rule, [])):
                tiled.update(finding.parts)
        return tiled

    def called(self, name: str) -> str:
        """A product of the plan as one asks for it: `mortar (gray)`."""
        kind = (words(self.plan.entities["product"][name], "kind") or (name,))[0]
        return name if kind == name else f"{kind} ({name})"


@lru_cache(maxsize=1)
def shop_words() -> dict[str, Any]:
    """`rules/report/supplies.yaml`: what to ask for in a shop, and what is left out or covered."""
    known: dict[str, Any] = rules_words("report/supplies.yaml")
    return known

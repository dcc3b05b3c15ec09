"""A measure of which no word tells the attribute: the things and attributes that it may be of are offered."""

from __future__ import annotations

from advisor.draft.board import MOST_CANDIDATES, Board, Candidate, Span, Thing, Unsure
from advisor.draft.carries import Carries
from advisor.draft.context import Context
from advisor.draft.items import Item, fits
from advisor.draft.lexicon import Lexicon
from advisor.draft.tokens import Token
from advisor.rulebase.vocabulary import Attribute

# measures that make no sense of things that do not carry them: amperes of a floor
_BY_KIND = frozenset({"current", "voltage", "power", "airflow", "box_volume", "loudness", "pressure", "volume"})


class Measured:
    """Tells which things may carry what, and offers measures to them."""

    board: Board
    tokens: list[Token]
    lexicon: Lexicon
    table: Carries
    _prior: dict[str, float]

    def may(self, thing: Thing, attribute: str) -> bool:
        """Whether such an attribute may be said of the thing at all: gallons of what is liquid."""
        if thing.sort == "product" and attribute == "amount":
            known = self.board.vocabulary.taxonomies["product_kind"]
            return any(thing.kind in known.below(one) for one in self.lexicon.language.liquids if one in known.terms)
        if thing.sort == "product" and attribute in ("sheen", "binder", "carrier"):
            known = self.board.vocabulary.taxonomies["product_kind"]
            return any(thing.kind in known.below(one) for one in ("coating", "adhesive", "sealant", "filler", "sealer"))
        kind = self.board.vocabulary.attributes[thing.sort][attribute].type
        if kind in _BY_KIND and self.table.score(thing.sort, thing.kind, attribute) < 0:
            return False
        of = self.lexicon.language.part_carries.get(attribute, ()) if thing.sort == "part" else ()
        parts = self.board.vocabulary.taxonomies["part_kind"]
        if of and not any(thing.kind in parts.below(one) for one in of):
            return False  # no boxes of a wall
        return thing.sort != "step" or self._does(thing, attribute)

    def _does(self, step: Thing, attribute: str) -> bool:
        """Whether such an attribute is said of what the step does: grit of what abrades."""
        of = self.lexicon.language.step_carries.get(attribute)
        taxonomy = self.board.vocabulary.taxonomies["action"]
        return not of or any(step.kind in taxonomy.below(one) for one in of)

    def offer(self, ways: list[tuple[Thing, str, str]], span: Span, why: str = "") -> None:
        """Set down the ways in which words may be taken, the likeliest first."""
        found: list[Candidate] = []
        for thing, attribute, value in ways:
            candidate = Candidate(thing.sort, thing.id, attribute, value)
            if candidate not in found:
                found.append(candidate)
        self.board.unsure.append(Unsure(span, tuple(found[:MOST_CANDIDATES]), why))

    def offer_measure(self, item: Item, context: Context, span: Span) -> bool:
        amount = item.amount
        if amount is None or amount.sort in ("vague",):
            return False
        ways: list[tuple[float, int, Thing, str, str]] = []
        step, beside = context.step, self._beside(item)
        sized = self.lexicon.language.work_sized.get(step.kind, ()) if step and "length" in amount.dimensions else ()
        near = [*context.near, *([(step, 1.9)] if step and ("time" in amount.dimensions or sized) else [])]
        for thing, nearness in near:
            for attribute in self.board.vocabulary.attributes[thing.sort].values():
                if thing is step and sized and attribute.name not in sized:
                    continue
                if attribute.type in ("yes_no", "term", "text", "ref", "profile", "date") or not fits(
                    attribute.type, attribute.of, item
                ):
                    continue
                fit = self.table.score(thing.sort, thing.kind, attribute.name)
                if not self.may(thing, attribute.name):
                    continue
                if fit > -0.5 and attribute.type != "year":
                    ways.append(
                        (
                            nearness + fit + self._usual_here(thing, attribute.name) + 2.0 * (attribute.name == beside),
                            len(ways),
                            thing,
                            attribute.name,
                            self.text(attribute, item),
                        )
                    )
        ways = sorted((w for w in ways if w[4]), key=lambda w: (-w[0], w[1]))
        if not ways or not amount.unit:
            return False
        self.offer([(w[2], w[3], w[4]) for w in ways], span)
        return True

    def _usual_here(self, thing: Thing, name: str) -> float:
        """How readily a measure is taken for an attribute: more where kinds are sized by it, less if seldom told."""
        seldom = name in self.lexicon.language.seldom
        return self._prior.get(name, 0.0) + (2.0 if self._sized(thing, name) else 0.0) - (0.9 if seldom else 0.0)

    def _sized(self, thing: Thing, name: str) -> bool:
        """Whether things of that kind are told apart by that measure: vanities by their width."""
        known = self.board.vocabulary.taxonomies.get(f"{thing.sort}_kind")
        return known is not None and any(
            name == sized and kind in known.terms and thing.kind in known.below(kind)
            for kind, sized in self.lexicon.language.sized_by.items()
        )

    def _beside(self, item: Item) -> str:
        """The attribute that a word right beside a measure tells: `12 ft up`, `a 3/8 hole`."""
        beside = [self.tokens[item.end]] if item.end < len(self.tokens) else []
        beside += [self.tokens[item.start - 1]] if item.start else []
        told = self.lexicon.language.beside_measure
        return next((told[token.text] for token in beside if token.text in told), "")

    def text(self, attribute: Attribute, item: Item | None) -> str:
        """The value of an item as a plan writes it for that attribute; '' where the words do not give it."""
        if item is None:
            return ""
        if item.amount is not None:
            if item.amount.sort in ("range", "vague", "pair"):
                years = [part.text for part in item.amount.parts]
                return f"between {years[0]} and {years[1]}" if attribute.type == "year" and attribute.cautious else ""
            return item.amount.text
        sense = item.get(attribute.of) if attribute.of in ("tool", "who") else item.get("term", attribute.of)
        return sense.name if sense else ""

"""Which thing and attribute a value belongs to: each possibility is scored; a small margin means that it is offered."""

from __future__ import annotations

from advisor.draft.board import Board, Span, Thing
from advisor.draft.carries import Carries
from advisor.draft.context import Context
from advisor.draft.items import Item, Match, fits
from advisor.draft.lexicon import Lexicon
from advisor.draft.measured import Measured
from advisor.draft.tokens import Token
from advisor.plan.values import BadValueError, scalar_value
from advisor.rulebase.vocabulary import Attribute

_OTHERS = (("product", "coats"), ("part", "layers"), ("part", "count"))  # `3 coats` beside a thing is a step's
WRITE, MARGIN, OFFER = 2.0, 0.55, 0.9


class Attacher(Measured):
    """Puts values where they belong, or offers where that is not sure."""

    def __init__(self, board: Board, tokens: list[Token], lexicon: Lexicon, table: Carries) -> None:
        self.board, self.tokens, self.lexicon, self.table = board, tokens, lexicon, table
        self._prior = lexicon.language.prior
        known = board.vocabulary.attributes
        self._plain = {
            (s.sort, s.attribute)
            for s in lexicon.bare
            if known[s.sort][s.attribute].type not in ("count", "year", "term")
        } | {
            (s.sort, s.attribute)
            for s in lexicon.bare
            if known[s.sort][s.attribute].type == "term" and s.attribute in self._prior
        }

    def _meant(self, thing: Thing, attribute: Attribute) -> Attribute:
        """What an attribute is called for a kind: how wide a shelf is, is its length."""
        kinds = self.lexicon.language.means.get(thing.sort, {}).get(attribute.name, {})
        taxonomy = self.board.vocabulary.taxonomies.get(f"{thing.sort}_kind")
        for kind, name in kinds.items():
            if taxonomy is not None and thing.kind in taxonomy.below(kind):
                return self.board.vocabulary.attributes[thing.sort][name]
        return attribute

    def _is_plain(self, item: Item, owners: list[tuple[Thing, float]]) -> bool:
        """Whether a measure alone says an attribute of one of the things: `400 cfm` of a hood."""
        known = self.board.vocabulary.attributes
        return any(
            (t.sort, a.name) in self._plain
            and fits(a.type, a.of, item)
            and self.table.score(t.sort, t.kind, a.name) >= 0
            for t, _ in owners for a in known[t.sort].values()
        )  # fmt: skip

    def saying(self, matches: list[Match], context: Context, span: Span) -> bool:
        """Attach what a saying says; all of them were found at the same words."""
        scored: list[tuple[float, int, Thing, Attribute, str]] = []
        for match in matches:
            saying = match.saying
            attribute = self.board.vocabulary.attributes[saying.sort].get(saying.attribute)
            if attribute is None:
                continue
            value = saying.value or self.text(attribute, match.value)
            if context.denied and attribute.type == "yes_no" and saying.value == "yes":
                value = "no"
            elif context.denied:
                continue  # `there is no lead paint` says nothing of a test
            for thing, nearness in self._owners(saying.sort, context):
                if context.people and attribute.type == "yes_no" and thing.sort == "part":
                    continue  # `the kids will stay` says nothing of a part
                if attribute.of == "test_result" and thing.sort == "house" and not context.house and context.near:
                    nearness -= 1.0  # of what is spoken of, where something is
                if attribute.name == "tenure" and not context.house:
                    continue  # a machine is rented, too
                if not self.may(thing, attribute.name):
                    continue
                if context.house and attribute.type == "year":
                    nearness += 1.0 if thing.sort == "house" else -1.5
                attribute = self._meant(thing, attribute)
                score = (
                    2.2 + 0.2 * len(saying.words) + nearness + self.table.score(thing.sort, thing.kind, attribute.name)
                )
                scored.append(
                    (score + 0.3 * self._prior.get(attribute.name, 0.0), len(scored), thing, attribute, value)
                )
        return self._decide(
            scored,
            context,
            span,
            said=True,
            slip=any(m.value is not None and (m.value.slip or _whole_days(m)) for m in matches),
        )

    def bare(self, item: Item, context: Context, span: Span) -> bool:
        """Attach a value that no saying names: by what it is, of what, and what stands beside it."""
        scored: list[tuple[float, int, Thing, Attribute, str]] = []
        owners = [*context.near, *((one, 0.6) for one in (context.step, context.room) if one is not None)]
        if item.amount is not None and not context.names and not (item.amount.unit and self._is_plain(item, owners)):
            return self.offer_measure(item, context, span)
        seen: set[tuple[int, str]] = set()
        for thing, nearness in owners:
            for attribute in self.board.vocabulary.attributes[thing.sort].values():
                named = (thing.sort, attribute.name) in context.names and (thing.sort, attribute.name) != (
                    "product",
                    "coats",
                )
                meant = self._meant(thing, attribute)
                if meant is not attribute and fits(meant.type, meant.of, item):
                    continue  # `the pipe is copper`; `the hose is rubber` is no sort of pipe
                if not self.may(thing, attribute.name):
                    continue
                if (id(thing), attribute.name) in seen or not fits(attribute.type, attribute.of, item):
                    continue
                seen.add((id(thing), attribute.name))
                plain = (thing.sort, attribute.name) in self._plain
                if (
                    not named
                    and not plain
                    and (
                        attribute.name in self.lexicon.language.never_bare
                        or attribute.name not in self._prior
                        or attribute.type == "ref"
                    )
                ):
                    continue
                if named and attribute.name in self.lexicon.language.never_guessed:
                    continue
                if item.amount is not None and not named and not plain:
                    continue
                score = (
                    nearness
                    + self.table.score(thing.sort, thing.kind, attribute.name)
                    + self._prior.get(attribute.name, 0.0)
                )
                scored.append(
                    (
                        score + (2.5 if named else 0.4 if plain else 0),
                        len(scored),
                        thing,
                        attribute,
                        self.text(attribute, item),
                    )
                )
        for sort, name in context.names:
            if sort in ("house", "crew", "budget"):
                attribute = self.board.vocabulary.attributes[sort][name]
                if name not in self.lexicon.language.never_guessed and fits(attribute.type, attribute.of, item):
                    scored.append((3.2, len(scored), self.board.single(sort), attribute, self.text(attribute, item)))
        done = self._decide(scored, context, span, said=bool(context.names), slip=item.slip)
        return done or (item.amount is not None and not context.names and self.offer_measure(item, context, span))

    def _owners(self, sort: str, context: Context) -> list[tuple[Thing, float]]:
        if sort in ("house", "crew", "budget"):
            return [(self.board.single(sort), 1.2)]
        if sort == "step":
            return [(context.step, 1.4)] if context.step is not None else []
        found = [(thing, nearness) for thing, nearness in context.near if thing.sort == sort]
        if sort == "product" and not found and context.step is not None and "using" in context.step.facts:
            used = self.board.named(str(context.step.facts["using"].value[0]))  # `oil it, 24 hours between coats`
            found = [(used, 1.0)] if used is not None else []
        if sort == "room" and context.room is not None and all(t is not context.room for t, _ in found):
            parts = [nearness for t, nearness in context.near if t.sort == "part"]
            found.append((context.room, 0.9 if not parts else 0.3 if max(parts) < 1.35 else -1.2))
        return found

    def _decide(
        self,
        scored: list[tuple[float, int, Thing, Attribute, str]],
        context: Context,
        span: Span,
        *,
        said: bool,
        slip: bool = False,
    ) -> bool:
        scored.sort(key=lambda row: (-row[0], row[1]))
        scored = [row for row in scored if row[4]]
        if not scored or scored[0][0] < OFFER:
            return False
        best = scored[0]
        others = [row for row in scored[1:] if (row[2] is not best[2] or row[3].name != best[3].name)]
        margin = best[0] - others[0][0] if others else 9.0
        guarded = best[3].name in self.lexicon.language.never_guessed
        far = id(best[2]) in context.far and best[3].type == "term" and (best[2].sort, best[3].name) in self.table.grave
        # what is said later is of the one thing of its sort, where nothing else may be meant
        far = far and (not said or any(row[2].sort == best[2].sort for row in others))
        unsure = (guarded and (context.hedged or not said)) or slip or far
        if best[0] >= WRITE and margin >= MARGIN and not unsure:
            value = f"about {best[4]}" if context.hedged and best[3].cautious and best[4].isdigit() else best[4]
            if self._readable(best[3], value):
                self.board.put(best[2], best[3].name, value, span, "hedged" if context.hedged else "")
                return True
        self.offer([(row[2], row[3].name, row[4]) for row in scored if self._readable(row[3], row[4])], span)
        return True

    def _readable(self, attribute: Attribute, value: str) -> bool:
        if attribute.type in ("ref", "profile"):
            return False
        try:
            scalar_value(attribute, value, self.board.vocabulary, lambda a, t: "")
        except BadValueError:
            return False
        return True


def _whole_days(match: Match) -> bool:
    """`it takes four days` may mean the whole job: that is offered."""
    amount = match.value.amount if match.value else None
    return match.saying.attribute == "for" and amount is not None and amount.unit in ("day", "week", "month")

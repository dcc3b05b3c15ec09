"""What is likely done to what: for choosing among the things that are talked about where the words do not say it."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from advisor.draft.language import Language
from advisor.rulebase.vocabulary import Taxonomy, Vocabulary

_FITS, _OTHERS, _NEVER = 1.0, -1.2, -1.5


class UsualPairs(Struct, frozen=True):
    """Some actions, the kinds that they are usually done to, and those that they are never done to."""

    actions: frozenset[str]
    kinds: frozenset[str]
    never: frozenset[str]
    only: bool
    again: bool


class Likely:
    """Scores how well an action goes with a kind of part."""

    def __init__(self, language: Language, vocabulary: Vocabulary) -> None:
        actions, kinds = vocabulary.taxonomies["action"], vocabulary.taxonomies["part_kind"]
        self._rows = []
        for row in language.done_to:
            to, never = _below(kinds, row.get("to", ())), _below(kinds, row.get("not", ()))
            own = _below(kinds, [k for k in row.get("to", ()) if k in never])  # a radiator among the appliances
            only, again = row.get("only") == "yes", row.get("again") == "yes"
            self._rows.append(UsualPairs(_below(actions, row["do"]), to, never - own, only, again))
        self._known: dict[tuple[str, str], float] = {}

    def score(self, action: str, kind: str) -> float:
        """Above 0 where the action is usually done to such a thing, below where it hardly ever is."""
        known = self._known.get((action, kind))
        if known is None:
            known = self._known[action, kind] = self._scored(action, kind)
        return known

    def told_so(self, action: str, kind: str, told: Iterable[str]) -> bool:
        """Whether the words had work of the same sort done to such a thing, seldom as that is: a tub is painted."""
        told = frozenset(told)
        rows = [row for row in self._rows if action in row.actions and kind in row.never]
        return bool(rows) and all(row.again and row.actions & told for row in rows)

    def _scored(self, action: str, kind: str) -> float:
        found = 0.0
        for row in self._rows:
            if action not in row.actions:
                continue
            if kind in row.never:
                found = _NEVER
            elif kind in row.kinds:
                found = max(found, _FITS) if found >= 0 else found
            elif row.only:
                found = min(found, _OTHERS)
        return found


def _below(taxonomy: Taxonomy, words: Iterable[str]) -> frozenset[str]:
    return frozenset(term for word in words if word in taxonomy.terms for term in taxonomy.below(word))

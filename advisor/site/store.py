"""The facts of one evaluation, found by what patterns ask of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from operator import attrgetter
from typing import Any

from advisor.rulebase.forms import Form
from advisor.rulebase.model import Pattern
from advisor.site.assume import CERTAIN, MOST, Key, Ways, joined, pruned, with_set
from advisor.site.cells import Open, WorkedOut
from advisor.site.limits import TooMuchError
from advisor.site.matching import LOOSE, Env, bound_by, match_one, may_match
from advisor.site.things import PossibleFact

_IS = ("is", "in")
_FEW = 8  # facts up to which looking at each is as quick as finding those that say a word
_NUMBER = attrgetter("number")
_NO_NUMBERS: frozenset[int] = frozenset()


class PossibleFacts:
    """The facts of one evaluation, by kind and by what patterns ask of them."""

    def __init__(self, cells: Mapping[Key, Open]) -> None:
        self.cells = cells
        self.by_kind: dict[str, list[PossibleFact]] = {}
        # Facts by kind and attribute, then by the word that stands there; under None where it is anything but a word.
        self.said: dict[str, dict[str, dict[str | None, list[PossibleFact]]]] = {}
        self.places: dict[str, float] = {}
        self.count = 0
        self.left = 0  # what the rule at work may still look at
        self._known: dict[Any, PossibleFact] = {}
        self._lists: dict[int, tuple[int, list[PossibleFact]]] = {}
        self._loose: dict[int, set[int]] = {}  # by number of a form, the facts that pass it only if an unknown fits
        self._rows: dict[tuple[int, str], tuple[int, dict[Any, list[PossibleFact]], list[PossibleFact]]] = {}

    def add(self, fact: PossibleFact) -> None:
        """Add a fact of the plan."""
        fact.number = self.count
        self.count += 1
        kind = fact.kind
        said = self.said.get(kind)
        if said is None:
            said = self.said[kind] = {}
            self.by_kind[kind] = []
        self.by_kind[kind].append(fact)
        for name, value in fact.values.items():
            word = value if type(value) is str else None
            rows = said.get(name)
            if rows is None:
                said[name] = {word: [fact]}
            elif word in rows:
                rows[word].append(fact)
            else:
                rows[word] = [fact]
        place = fact.values.get("place")
        if kind == "step" and place is not None:
            self.places[fact.values["id"]] = float(place)

    def deduce(self, kind: str, values: tuple[tuple[str, Any], ...], ways: Ways) -> bool:
        """Add a deduced fact, or ways to one that is known; whether anything was new."""
        name = (kind, values)
        known = self._known.get(name)
        if known is None:
            self._known[name] = fact = PossibleFact(kind, dict(values), ways)
            self.add(fact)
            return True
        if known.ways is CERTAIN or known.ways == CERTAIN:
            return False
        if len(known.ways) <= MOST and all([one in known.ways for one in ways]):  # noqa: C419  # few, and often said again
            return False
        more = pruned([*known.ways, *ways])
        if more == known.ways:
            return False
        known.ways = more
        return True

    def may_hold(self, pattern: Pattern) -> bool:
        """Whether there is anything of the kind, and with any of the words, that the pattern asks for."""
        said = self.said.get(pattern.kind)
        if said is None:
            return False
        for test in pattern.tests:
            if test.op == "unknown":
                continue
            there = said.get(test.attribute)
            if there is None:
                return False
            if None in there or test.op not in _IS:
                continue
            if there.keys().isdisjoint(test.values) and all(type(v) is str for v in test.values):
                return False
        return True

    def facts(self, form: Form) -> list[PossibleFact]:
        """The facts that pass or may pass what the pattern asks without its variables."""
        every = self.by_kind.get(form.kind)
        if every is None:
            return []
        kept = self._lists.get(form.number)
        if kept is not None and kept[0] == len(every):
            return kept[1]
        start, found = kept if kept is not None else (0, [])
        near = every[start:] if start or not form.keys or len(every) < _FEW else self._naming(form, every)
        loose = self._loose.setdefault(form.number, set())
        found = found.copy()
        for fact in near:
            may = may_match(form, fact.values)
            if may:
                found.append(fact)
                if may > 1:
                    loose.add(fact.number)
        self._lists[form.number] = (len(every), found)
        return found

    def _naming(self, form: Form, every: list[PossibleFact]) -> list[PossibleFact]:
        """Of all facts of the kind those that say, or may say, a word that is asked for."""
        attribute, chosen = form.keys[0]
        rows = self.said[form.kind].get(attribute)
        if rows is None:
            return []
        found = [fact for word, row in rows.items() if word is None or word in chosen for fact in row]
        if len(found) < len(every):
            found.sort(key=_NUMBER)
            return found
        return every

    def near(self, form: Form, env: Env) -> list[PossibleFact]:
        """Those of them that the bound variables leave."""
        found = self.facts(form)
        if len(found) < 5:
            return found
        for attribute, name in form.binds if env else ():
            value = env.get(name)
            if value is None or type(value) is Open or type(value) is WorkedOut:
                continue
            key = (form.number, attribute)
            kept = self._rows.get(key)
            if kept is None or kept[0] != len(found):
                rows: dict[Any, list[PossibleFact]] = {}
                loose: list[PossibleFact] = []
                for fact in found:
                    own = fact.values.get(attribute)
                    if type(own) is Open or type(own) is WorkedOut:
                        loose.append(fact)
                    else:
                        rows.setdefault(own, []).append(fact)
                kept = self._rows[key] = (len(found), rows, loose)
            row = kept[1].get(value)
            return (row + kept[2] if kept[2] else row) if row else kept[2]
        return found

    def looked(self, form: Form, env: Env) -> list[PossibleFact]:
        """As `near`, and counted."""
        near = self.near(form, env)
        self.left -= len(near) + 1
        if self.left < 0:
            raise TooMuchError
        return near

    def match(self, form: Form, env: Env, ways: Ways) -> Iterator[tuple[Env, Ways, PossibleFact]]:
        """Each fact that matches or may match, with the variables it binds and what would have to be so."""
        return self.among(self.looked(form, env), form, env, ways)

    def among(
        self, near: list[PossibleFact], form: Form, env: Env, ways: Ways
    ) -> Iterator[tuple[Env, Ways, PossibleFact]]:
        """So, of some facts."""
        loose, timed = self._loose.get(form.number, _NO_NUMBERS), form.earlier or form.later
        for fact in near:
            if form.plain and fact.number not in loose:
                bound = bound_by(form, fact.values, env)
                if bound is None:
                    continue
                if bound is not LOOSE:
                    left = ways if fact.ways is CERTAIN else joined(ways, fact.ways)
                    if left and not (timed and not self._in_time(form, fact, bound)):
                        yield bound, left, fact
                    continue
            found = match_one(form, fact.values, env, self.cells)
            if len(found) > 1:  # a place that is not known: a way for each thing that it may be
                self.left -= len(found)
            for grown, need in found:
                left = with_set(ways, need) if need else ways
                if left and fact.ways is not CERTAIN:
                    left = joined(left, fact.ways)
                if left and not (timed and not self._in_time(form, fact, grown)):
                    yield grown, left, fact

    def _in_time(self, form: Form, fact: PossibleFact, env: Env) -> bool:
        place = self.places.get(fact.values.get("id", ""), 0.0)
        if form.earlier and not place < self.places.get(env[form.earlier], 0.0):
            return False
        return not (form.later and not place > self.places.get(env[form.later], 0.0))

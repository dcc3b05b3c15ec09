"""Questions from what is open and from what findings rest on, the weightiest first.

A question stands for one unknown, for the sizes of one thing, for the things that may be at one place. It is weighed
by the signal words that hang on it, by how many other unknowns stand in the way, and by how usual the answer is that
would bring them; each practice counts for the question that serves it best, and then no more (greedy cover).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import partial

from msgspec import Struct, field

from advisor.later import LaterRow
from advisor.plan.facts import question
from advisor.plan.model import Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import SIGNALS
from advisor.site.answers import Offer, Today, offers
from advisor.site.assume import MISSING, Constraint, Key, Set
from advisor.site.likely import share
from advisor.site.sizes import SIZES, sizes_asked
from advisor.site.standing import Practice, Standing
from advisor.site.things import asked_of
from advisor.site.usual import Breath, usual_of

HOUSE_WIDE = frozenset(("house", "code", "crew", "budget"))
_WEIGHT = (1.0, 4.0, 10.0, 20.0)  # notice, caution, warning, danger
_TOLD = 0.25  # what speaks already is told; an answer can only take it away
_SETTLES = 0.15  # an answer that takes an open practice off the list is worth a part of one that brings it
_RANKED = 16  # questions that are picked one by one; the rest stand by what is left for them
_IN_A_ROW = 2  # questions about the whole house that may stand one after the other


class Asked(Struct):
    """A question, with the practices that hang on it."""

    id: str
    ask: str
    sort: str
    thing: str
    attribute: str
    line: int
    keys: frozenset[Key]
    score: float = 0.0
    rank: int = 0
    of: tuple[str, ...] = ()  # rules
    settles: tuple[str, ...] = ()
    offers: Sequence[Offer] = ()  # made when they are told: few of them are
    also: tuple[str, ...] = ()  # what it asks besides, in words
    breath: Breath | None = None  # what it is asked in one breath with


class Questions(Struct):
    """The questions of a plan in order, and for each unknown the question that asks for it."""

    asked: list[Asked] = field(default_factory=list)
    by_key: dict[Key, str] = field(default_factory=dict)
    by_absent: dict[str, str] = field(default_factory=dict)

    def of(self, one: Set) -> frozenset[str]:
        """The questions that a set of assumptions hangs on."""
        found = {self.by_key[key] for key, c in one.items() if not c[1] and key in self.by_key}
        if MISSING in one:
            found |= {self.by_absent[name] for name in one[MISSING][2] if name in self.by_absent}
        return frozenset(found)


class Asker:
    """Makes the questions of one plan."""

    def __init__(
        self, plan: Plan, rulebase: RuleBase, found: Standing, told: Mapping[Key, Sequence[str]], adds: Iterable[str]
    ) -> None:
        self.plan, self.rulebase, self.standing = plan, rulebase, found
        self.words, self.usual = rulebase.vocabulary, usual_of(rulebase)
        self.told = told  # by unknown: the rules of the findings that rest on it
        self.silent = {name for add in adds for name in self.usual.told.get(add, ())}
        self.found = Questions()
        self._all: dict[str, Asked] = {}
        self._counted: dict[str, float] = {}
        self._rules = {rule.id: rule for rule in rulebase.rules}
        self._shares: dict[tuple[Key, Constraint], float] = {}
        self._keys: dict[str, set[Key]] = {}  # by question, and the attributes that it asks for
        self._names: dict[str, set[str]] = {}

    def ask(self) -> Questions:
        """All questions, the weightiest first."""
        keys = {k for one in self.standing.open for s in one.ways for k, c in s.items() if not c[1]}
        keys |= {key for key in self.told if not self._silly(key)}
        for key in sorted(keys):
            if key[0] not in ("!", "~", "missing"):
                self._of_key(key)
        absent = {n for one in self.standing.open for s in one.ways if MISSING in s for n in s[MISSING][2]}
        for name in sorted(absent):
            self._of_absent(name)
        for name, own in self._keys.items():
            self._all[name].keys = frozenset(own)
        self._rank()
        return self.found

    # what is asked

    def _silly(self, key: Key) -> bool:
        """Whether a finding rests on what nobody would ask of such a thing."""
        sort, own, attribute = key
        entity = self.plan.entities.get(sort, {}).get(own)
        return entity is not None and bool(entity.word) and self.usual.cannot_have(sort, attribute, entity.word)

    def _of_key(self, key: Key) -> None:
        sort, own, attribute = asked_of(key)
        if own == "?room":
            name = self._keep(key, "rooms", "In which room is the work done?", "room", "", "kind", 1)
            self.found.by_key[key] = name
            return
        if own.startswith("?"):
            return
        entity = self.plan.entities[sort].get(own)
        line = entity.line if entity and entity.line else 1
        known = self.words.attributes[sort][attribute]
        bundle = self.usual.together.get((sort, attribute))
        if bundle is not None:
            self._bundled(key, bundle, sort, own, attribute, line)
        elif attribute in SIZES and sort in ("part", "room"):
            self._keep(key, f"{sort}.{own}.sizes", "", sort, own, attribute, line)
        else:
            name = f"{sort}.{attribute}" if own == sort else f"{sort}.{own}.{attribute}"
            self._keep(key, name, question(known, own), sort, own, attribute, line)

    def _bundled(self, key: Key, breath: Breath, sort: str, own: str, attribute: str, line: int) -> None:
        """What is asked in one breath; where only one of it is open, its own question."""
        first, across = breath.say[0], breath.across
        name = f"{sort}s.{first}" if across else f"{sort}.{first}" if own == sort else f"{sort}.{own}.{first}"
        alone = question(self.words.attributes[sort][attribute], own)
        known = self._all.get(name)
        self._keep(key, name, alone, sort, own, attribute, line)
        if known is not None and (across or len(self._names[name]) > 1):
            known.breath = breath

    def _keep(self, key: Key, name: str, ask: str, sort: str, own: str, attribute: str, line: int) -> str:
        self.found.by_key[key] = name
        known = self._all.get(name)
        if known is None:
            known = self._all[name] = Asked(name, ask, sort, own, attribute, line, frozenset())
        self._keys.setdefault(name, set()).add(key)
        names = self._names.setdefault(name, set())
        names.add(key[2])
        if not ask:
            known.ask = sizes_asked(names, self.words.attributes[sort][attribute].ask, own)
        return name

    def _of_absent(self, made: str) -> None:
        one = self.standing.absent[made]
        name = f"missing.{one.where}.{one.ask.partition(' ')[0].lower()}"
        name = next((n for n, a in self._all.items() if a.sort == "missing" and a.ask == one.ask), name)
        self.found.by_absent[made] = name
        if name not in self._all:
            room = one.where in self.plan.entities["room"]
            entity = self.plan.entities["room" if room else "part"][one.where]
            self._all[name] = Asked(name, one.ask, "missing", one.where, "", entity.line, frozenset())

    # in which order

    def _rank(self) -> None:
        practices = [(one, [(s, self.found.of(s)) for s in one.ways]) for one in self.standing.open]
        practices = [(one, [(s, q) for s, q in sets if q]) for one, sets in practices]
        self._hang(practices)
        left = {id(one): one for one, sets in practices if sets}
        gains = {id(one): self._gains(one, sets) for one, sets in practices if sets}
        whole = {id(one): frozenset.intersection(*(names for _, names in sets)) for one, sets in practices if sets}
        told = {name: self._told(asked) for name, asked in self._all.items()}
        done: list[Asked] = []
        waiting = dict(self._all)
        while waiting and len(done) < _RANKED:
            score = {name: told[name] for name in waiting}
            for place in left:
                for name, gain in gains[place].items():
                    if name in score:
                        score[name] += gain
            held = self._held_back(done)
            best = min(waiting, key=lambda n: (n in held, -round(score[n], 9), n))
            chosen = waiting.pop(best)
            chosen.score = score[best]
            done.append(chosen)
            # A part of what it served counts on: an answer may leave it open, or there is another way to it.
            for place in list(left):
                mine = gains[place]
                if best in mine:
                    counts = 0.35 if best in whole[place] else 0.75
                    gains[place] = {name: gain * counts for name, gain in mine.items() if name != best}
                    if not gains[place]:
                        del left[place]
        rest: dict[str, list[float]] = {}
        for place in left:
            for name, gain in gains[place].items():
                rest.setdefault(name, []).append(gain)
        for name, asked in waiting.items():
            asked.score = told[name] + sum(rest.get(name, ()))
        done += sorted(waiting.values(), key=lambda one: (-round(one.score, 9), one.id))
        self.found.asked = [one for one in done if one.score > 0 or one.of]

    def _held_back(self, done: list[Asked]) -> frozenset[str]:
        """The questions that wait for another one, as two about the whole house were just asked."""
        row = len(done) >= _IN_A_ROW and all(one.sort in HOUSE_WIDE for one in done[-_IN_A_ROW:])
        return frozenset([name for name, one in self._all.items() if row and one.sort in HOUSE_WIDE])

    def _gains(self, one: Practice, sets: list[tuple[Set, frozenset[str]]]) -> dict[str, float]:
        weight = _WEIGHT[one.rank]
        best: dict[str, float] = {}
        for assumed, names in sets:
            usual = 1.0
            for key, constraint in assumed.items():
                if not constraint[1]:
                    usual *= self._share(key, constraint)
            gain = weight * usual / len(names) ** 2
            for name in names:
                best[name] = max(best.get(name, 0.0), gain)
        # What hangs on a question in every way is settled by most answers, whatever they are.
        for name in frozenset.intersection(*(names for _, names in sets)):
            best[name] += _SETTLES * weight
        for name in best:
            best[name] *= self._counts(name)
            if self._all[name].attribute in self.silent:
                best[name] *= 0.1
        return best

    def _counts(self, name: str) -> float:
        """Less for what is asked of any work or seldom of such a thing: what is special to this work comes first."""
        if name not in self._counted:
            found = [self.usual.any_work.get((k[0], k[2]), 1.0) * self._seldom(k) for k in self._all[name].keys]
            self._counted[name] = max(found, default=1.0)
        return self._counted[name]

    def _seldom(self, key: Key) -> float:
        sort, own, attribute = asked_of(key)
        entity = self.plan.entities.get(sort, {}).get(own)
        if entity is None:
            return 1.0
        found = self.usual.seldom(self.plan, sort, own, attribute)
        fresh = entity.values.get("new")
        return found * 0.2 if attribute == "has" and fresh is not None and fresh.plain == "yes" else found

    def _share(self, key: Key, constraint: Constraint) -> float:
        if (key, constraint) not in self._shares:
            known = share(key, constraint, self.standing.cells.get(key), self.usual) * self._seldom(key)
            self._shares[key, constraint] = known
        return self._shares[key, constraint]

    def _rank_of(self, rule: str) -> int:
        """The gravest word that the rule may say, as a rank."""
        known = self._rules.get(rule)
        word = known.gravest if known is not None else ""
        return SIGNALS.index(word) if word else 0

    def _told(self, asked: Asked) -> float:
        rules = {rule for key in asked.keys for rule in self.told.get(key, ())}
        weight = max((_WEIGHT[self._rank_of(rule)] for rule in rules), default=0.0)
        return (_TOLD * weight + 0.2 * len(rules)) * (0.1 if asked.attribute in self.silent else 1.0)

    def _hang(self, practices: list[tuple[Practice, list[tuple[Set, frozenset[str]]]]]) -> None:
        """What hangs on each question: its rules, its gravest signal word, what any answer settles, what they bring."""
        of: dict[str, set[str]] = {}
        settles: dict[str, set[str]] = {}
        ranks: dict[str, int] = {}
        for one, sets in practices:
            names = frozenset().union(*[q for _, q in sets]) if sets else frozenset()
            rank = one.rank
            for name in names:
                of.setdefault(name, set()).add(one.rule.id)
                ranks[name] = max(ranks.get(name, 0), rank)
            if len(names) == 1:
                settles.setdefault(next(iter(names)), set()).add(one.rule.id)
        grave: dict[Key, int] = {}
        for one, sets in practices:
            rank = one.rank
            for key in {key for s, _ in sets for key, c in s.items() if not c[1]}:
                if rank > grave.get(key, 0):
                    grave[key] = rank
        today = Today(self.standing)
        of_name: dict[str, dict[int, tuple[Practice, list[tuple[Set, frozenset[str]]]]]] = {}
        for one, sets in practices:
            for s, q in sets:
                for name in q:
                    of_name.setdefault(name, {}).setdefault(id(one), (one, []))[1].append((s, q))
        for name, asked in self._all.items():
            for key in sorted(asked.keys):
                grave[key] = max([grave.get(key, 0), *map(self._rank_of, self.told.get(key, ()))])
            if asked.breath is not None:
                by_name: dict[str, int] = {}
                for key in sorted(asked.keys):
                    by_name[key[2]] = max(by_name.get(key[2], 0), grave[key])
                asked.ask, asked.also = asked.breath.question(asked.thing, by_name)
            spoken = {rule for key in asked.keys for rule in self.told.get(key, ())}
            asked.of = tuple(sorted(of.get(name, set()) | spoken))
            asked.settles = tuple(sorted(settles.get(name, set())))
            asked.rank = max([ranks.get(name, 0), *map(self._rank_of, spoken)])
            mine = list(of_name.get(name, {}).values())
            told = (self.standing, today, self.plan.units, self.rulebase)
            asked.offers = LaterRow(partial(offers, asked.keys, mine, *told))

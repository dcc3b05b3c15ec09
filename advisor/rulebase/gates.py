"""What the rules ask of a step and of its things, taken apart once for a rule base."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from advisor.rulebase.forms import Rules
from advisor.rulebase.model import KIND_OF, Operand, Pattern, Rule, Var
from advisor.rulebase.split import Variant

_OF_WORDS = ("is", "in", "not_in")
_NOTHING: frozenset[str] = frozenset()
_OF_A_STEP = (("to", "part"), ("using", "product"))
Makers = list[tuple[Rule, dict[str, Operand]]]


class AskedPattern(NamedTuple):
    """A pattern taken apart."""

    kind: str
    own: str  # the variable of the thing itself
    speaker: str  # that of the step of which the attributes `asked` have to be said
    asked: frozenset[str]
    wanted: tuple[
        tuple[frozenset[object], bool], ...
    ]  # words of its work or kind, and whether it has to be one of them
    makers: Makers | None  # the rules that deduce it with such words
    cells: tuple[tuple[str, str], ...]  # attribute and variable, by attribute
    spelled: tuple[tuple[str, str], ...]  # the words that its attributes are to be, as text


class Asking:
    """A variant, taken apart as far as somebody reads on: most are out of the question at their first pattern.

    `steps` are the variables of its steps with those of the things that they name.
    """

    __slots__ = ("_done", "_left", "_take", "steps")

    def __init__(
        self,
        patterns: list[Pattern],
        steps: tuple[tuple[str, tuple[tuple[str, str, str], ...]], ...],
        take: Callable[[Pattern], AskedPattern],
    ) -> None:
        self.steps, self._take = steps, take
        self._done: list[AskedPattern] = []
        self._left = patterns[::-1]

    @property
    def patterns(self) -> Iterator[AskedPattern]:
        """Its patterns, those that speak of stated facts first."""
        at = 0  # counted, as a ring of rules comes by here again before the first reading has ended
        while at < len(self._done) or self._left:
            if at == len(self._done):
                self._done.append(self._take(self._left.pop()))
            yield self._done[at]
            at += 1


class Gates:
    """The actions of which a step can be for a rule to concern it at all; None for any. Made once for a rule base."""

    def __init__(self, rules: Rules) -> None:
        self._rules = rules
        self._asking: dict[str, tuple[Asking, ...]] = {}
        self._makers: dict[tuple[str, tuple[tuple[str, str], ...]], Makers] = {}
        self._known: dict[tuple[str, str], frozenset[str] | None] = {}
        self._made: dict[tuple[str, str], frozenset[str] | None] = {}
        kept = rules.kept.get("speakers")
        if kept is not None:
            self._known = dict(rules.kept["gates"])
        self.speakers: Sequence[tuple[Rule, str, frozenset[str] | None]] = kept or [
            (rule, name, self.of(rule, name))
            for rule in rules.rulebase.rules
            for name in sorted({c.step.name for c in rule.conclusions if c.step is not None and c.kind != "deduce"})
        ]

    def table(self) -> dict[tuple[str, str], frozenset[str] | None]:
        """The actions of every step that a rule may be about."""
        for kind in sorted(self._rules.makers):
            for rule, values in self._rules.makers[kind]:
                for name in sorted({v.name for _, v in values if isinstance(v, Var)}):
                    self.of(rule, name)
        return self._known

    def asking(self, rule: Rule) -> tuple[Asking, ...]:
        """What each variant of a rule asks, taken apart when it is first wanted."""
        found = self._asking.get(rule.id)
        if found is None:
            found = self._asking[rule.id] = tuple(map(self._take, self._rules.rulebase.variants_of(rule)))
        return found

    def _take(self, variant: Variant) -> Asking:
        patterns = [*variant.patterns, *(g for g in variant.guards if isinstance(g, Pattern))]
        steps = []
        for pattern in patterns:
            own = pattern.variable("id")
            if pattern.kind == "step" and own:
                names = ((pattern.variable(attribute), attribute, sort) for attribute, sort in _OF_A_STEP)
                steps.append((own, tuple(one for one in names if one[0])))
        patterns.sort(key=self._deduces)  # what is read first
        return Asking(patterns, tuple(steps), self._asked)

    def _deduces(self, pattern: Pattern) -> bool:
        return pattern.kind not in KIND_OF and pattern.kind in self._rules.makers

    def _asked(self, pattern: Pattern) -> AskedPattern:
        own, kind = "", pattern.kind
        speaker, asked = "", _NOTHING
        if kind in KIND_OF:
            wanted = []
            for test in pattern.tests:
                if test.attribute == "id" and test.op == "bind" and not own:
                    own = test.values[0].name  # type: ignore[union-attr]
                elif test.attribute == KIND_OF[kind] and test.op in _OF_WORDS:
                    wanted.append((frozenset[object](test.values), test.op != "not_in"))
            if kind == "step":
                speaker = own
                asked = frozenset([t.attribute for t in pattern.tests if t.op not in ("unknown", "not_in")])
            return AskedPattern(kind, own, speaker, asked, tuple(wanted), None, (), ())
        if kind == "item":
            speaker = pattern.variable("of")
            asked = frozenset([str(v) for t in pattern.tests if t.attribute == "attribute" for v in t.values])
        if kind not in self._rules.makers:
            return AskedPattern(kind, own, speaker, asked, (), None, (), ())
        bound = {t.attribute: t.values[0].name for t in pattern.tests if t.op == "bind"}  # type: ignore[union-attr]
        fixed = {t.attribute: t.values for t in pattern.tests if t.op in ("is", "in")}
        spelled = tuple([(n, repr(v)) for n, v in sorted(fixed.items())])
        makers = self._made_by(kind, fixed, spelled)
        return AskedPattern(kind, own, speaker, asked, (), makers, tuple(sorted(bound.items())), spelled)

    def _made_by(
        self, kind: str, fixed: Mapping[str, tuple[object, ...]], spelled: tuple[tuple[str, str], ...]
    ) -> Makers:
        """The rules that deduce such a fact with those words."""
        found = self._makers.get((kind, spelled))
        if found is None:
            every = [(rule, dict(values)) for rule, values in self._rules.makers[kind]]
            found = self._makers[kind, spelled] = [
                (rule, cells)
                for rule, cells in every
                if not any(n in cells and not isinstance(cells[n], Var) and cells[n] not in v for n, v in fixed.items())
            ]
        return found

    def of(self, rule: Rule, name: str) -> frozenset[str] | None:
        """The actions of the step that the rule calls so."""
        key = (rule.id, name)
        if key not in self._known:
            self._known[key] = None  # a ring says nothing
            found: frozenset[str] | None = frozenset()
            for variant in self._rules.rulebase.variants_of(rule):
                own = self._variant(variant, name)
                found = None if own is None or found is None else found | own
            self._known[key] = found
        return self._known[key]

    def _variant(self, variant: Variant, name: str) -> frozenset[str] | None:
        found: frozenset[str] | None = None
        for pattern in variant.patterns:
            own: frozenset[str] | None = None
            if pattern.kind == "step":
                if pattern.variable("id") == name:
                    for test in pattern.tests:
                        if test.attribute == "do" and test.op in ("is", "in"):
                            own = frozenset(str(v) for v in test.values)
            elif pattern.kind in self._rules.makers:
                for test in pattern.tests:
                    if test.op == "bind" and test.values[0].name == name:  # type: ignore[union-attr]
                        own = self._deduced(pattern.kind, test.attribute)
            if own is not None:
                found = own if found is None else found & own
        return found

    def _deduced(self, kind: str, attribute: str) -> frozenset[str] | None:
        key = (kind, attribute)
        if key not in self._made:
            self._made[key] = None
            found: frozenset[str] | None = frozenset()
            for rule, values in self._rules.makers[kind]:
                target = dict(values).get(attribute)
                own = self.of(rule, target.name) if isinstance(target, Var) else None
                found = None if own is None or found is None else found | own
            self._made[key] = found
        return self._made[key]


@lru_cache(maxsize=4)
def gates_of(rules: Rules) -> Gates:
    """The gates of one rule base."""
    return Gates(rules)

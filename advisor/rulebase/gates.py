"""What the rules ask of a step and of its things, taken apart once for a rule base."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from advisor.rulebase.forms import Rules
from advisor.rulebase.model import KIND_OF, Operand, Pattern, Rule, Var
from advisor.rulebase.split import AskedPattern, Fixed, Variant

_OF_WORDS = ("is", "in", "not_in")
_NOT_SAID = ("unknown", "not_in")
_NOTHING: frozenset[str] = frozenset()
_OF_A_STEP = (("to", "part"), ("using", "product"))
Makers = list[tuple[Rule, dict[str, Operand]]]
# A variant: the variables of its steps with those of the things that they name, and its patterns.
NamedSteps = tuple[tuple[str, tuple[tuple[str, str, str], ...]], ...]
Asking = tuple[NamedSteps, tuple[AskedPattern, ...]]


class Gates:
    """The actions of which a step can be for a rule to concern it at all; None for any. Made once for a rule base."""

    def __init__(self, rules: Rules) -> None:
        self._rules = rules
        self._asking: dict[str, tuple[Asking, ...]] = {}
        self._makers: dict[tuple[str, Fixed], Makers] = {}
        self._known: dict[tuple[str, str], frozenset[str] | None] = {}
        self._made: dict[tuple[str, str], frozenset[str] | None] = {}
        sense = rules.whole.usual.get("sense", {}).get("step", ())
        self._never_of_all = frozenset([name for row in sense for name in row["say"]])  # see `Usual.senseless`
        kept = rules.kept.get("speakers")
        if kept is not None:
            self._known = dict(rules.kept["gates"])
            self._asking = dict(rules.kept["asking"])
        # The rule, its step, the actions of that step, the kinds of its thing; None for any.
        self.speakers: Sequence[tuple[Rule, str, frozenset[str] | None, frozenset[str] | None]] = kept or [
            (rule, name, self.of(rule, name), self._kinds(rule, name))
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

    def all_asking(self) -> dict[str, tuple[Asking, ...]]:
        """What every rule asks, by its id."""
        return {rule.id: self.asking(rule) for rule in self._rules.rulebase.rules}

    def asking(self, rule: Rule) -> tuple[Asking, ...]:
        """What each variant of a rule asks; those that ask the same once."""
        found = self._asking.get(rule.id)
        if found is None:
            taken = map(self._take, self._rules.rulebase.variants_of(rule))
            found = self._asking[rule.id] = tuple(dict.fromkeys(taken))
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
        asked = dict.fromkeys(filter(_may_tell, map(self._asked, patterns)))
        return tuple(steps), tuple(asked)

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
                    wanted.append((frozenset(v for v in test.values if isinstance(v, str)), test.op != "not_in"))
            if kind == "step":
                speaker, asked = self._silly(own, [t.attribute for t in pattern.tests if t.op not in _NOT_SAID])
            return AskedPattern(kind, own, speaker, asked, tuple(wanted), False, (), ())
        if kind == "item":
            named = [str(v) for t in pattern.tests if t.attribute == "attribute" for v in t.values]
            speaker, asked = self._silly(pattern.variable("of"), named)
        if kind not in self._rules.makers:
            return AskedPattern(kind, own, speaker, asked, (), False, (), ())
        bound = {t.attribute: t.values[0].name for t in pattern.tests if t.op == "bind"}  # type: ignore[union-attr]
        fixed = {t.attribute: t.values for t in pattern.tests if t.op in ("is", "in")}
        return AskedPattern(
            kind, own, speaker, asked, (), True, tuple(sorted(bound.items())), tuple(sorted(fixed.items()))
        )

    def _silly(self, speaker: str, names: Iterable[str]) -> tuple[str, frozenset[str]]:
        """Of what a pattern asks of a step that which is silly to ask of some; no speaker where nothing is."""
        asked = self._never_of_all.intersection(names)
        return (speaker, asked) if asked else ("", _NOTHING)

    def makers(self, kind: str, fixed: Fixed) -> Makers:
        """The rules that deduce such a fact with those words."""
        found = self._makers.get((kind, fixed))
        if found is None:
            every = [(rule, dict(values)) for rule, values in self._rules.makers[kind]]
            found = self._makers[kind, fixed] = [
                (rule, cells)
                for rule, cells in every
                if not any(n in cells and not isinstance(cells[n], Var) and cells[n] not in v for n, v in fixed)
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

    def _kinds(self, rule: Rule, name: str) -> frozenset[str] | None:
        """The kinds of which the thing of that step has to be one, where the step has a thing."""
        found: frozenset[str] = frozenset()
        for variant in self._rules.rulebase.variants_of(rule):
            patterns = [*variant.patterns, *(g for g in variant.guards if isinstance(g, Pattern))]
            things = {p.variable("to") for p in patterns if p.kind == "step" and p.variable("id") == name}
            asked = [
                frozenset(map(str, test.values))
                for pattern in patterns
                if pattern.kind == "part" and pattern.variable("id") in things - {""}
                for test in pattern.tests
                if test.attribute == "kind" and test.op in ("is", "in")
            ]
            if not asked:
                return None
            found |= min(asked, key=len)
        return found

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


def _may_tell(asked: AskedPattern) -> bool:
    """Whether what is asked may keep a practice from a step, or show that it asks for its work or kind."""
    return bool(asked.speaker or asked.wanted or asked.deduced)


@lru_cache(maxsize=4)
def gates_of(rules: Rules) -> Gates:
    """The gates of one rule base."""
    return Gates(rules)

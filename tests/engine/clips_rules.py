"""The rule base in CLIPS: joins, tests, absence and order of firing are CLIPS's own.

Our `Rule` objects are translated as `split.variants` gives them, never experta's reading of them. Text becomes
CLIPS strings and numbers floats; a list becomes one opaque string to join on, with its members in a second,
multiple slot. An attribute that a fact does not have holds the symbol `absent`, which no text can equal. Strata
are saliences. What a matcher does not do (guards) is worked out by `guards.solve` on the facts that CLIPS matched.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import clips

from advisor.engine.guards import PartialMatch, solve, value_of
from advisor.engine.memory import Derivation, Memory, Record
from advisor.engine.run import Drawn
from advisor.plain import Plain
from advisor.plan.model import PlanFact
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Pattern, Test
from advisor.rulebase.split import Variant, variants
from advisor.site.model import SimulatedSite, Want
from advisor.site.run import Judged
from advisor.site.verdicts import answer

# The program's tolerance, written again for CLIPS: numbers that differ by the rounding of conversions are equal.
_FUNCTIONS = (
    "(deffunction near (?a ?b) (<= (abs (- ?a ?b)) (* 1e-9 (max 1e-6 (abs ?a) (abs ?b)))))",
    "(deffunction same (?a ?b) (if (and (floatp ?a) (floatp ?b)) then (near ?a ?b) else (eq ?a ?b)))",
    "(deffunction any-same (?a $?all) (foreach ?b ?all (if (same ?a ?b) then (return TRUE))) (return FALSE))",
    "(deffunction any-of (?some ?all) (foreach ?b ?some (if (member$ ?b ?all) then (return TRUE))) (return FALSE))",
    "(deffunction above (?a ?b) (and (floatp ?a) (> ?a ?b) (not (near ?a ?b))))",
    "(deffunction below (?a ?b) (and (floatp ?a) (< ?a ?b) (not (near ?a ?b))))",
    "(deffunction at_least (?a ?b) (and (floatp ?a) (or (>= ?a ?b) (near ?a ?b))))",
    "(deffunction at_most (?a ?b) (and (floatp ?a) (or (<= ?a ?b) (near ?a ?b))))",
)


_MEMBERS = ("is", "in", "not_in")


def _text(value: str) -> str:
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _given(value: Plain) -> str | float:
    """A value as clipspy takes it."""
    if isinstance(value, int | float):
        return float(value)
    return value if isinstance(value, str) else f"list {value!r}"


def _cell(value: Plain) -> str:
    """A value as CLIPS reads it."""
    given = _given(value)
    return _text(given) if isinstance(given, str) else repr(given)


class Clips:
    """A CLIPS environment with the rules of a rule base; `run` may be called again and again.

    With `native` nothing is called back: a rule that fires asserts a fact that says so, for the benchmark.
    """

    def __init__(self, rulebase: RuleBase, native: bool = False) -> None:
        self.environment = clips.Environment()
        self.rulebase = rulebase
        self._patterns = 0  # how many were translated, to name their variables
        self.variants = [v for rule in rulebase.rules for v in variants(rule)]
        self.slots: dict[str, list[str]] = {kind: [] for kind in rulebase.kinds}
        self.lists: set[tuple[str, str]] = set()  # attributes whose members are asked for
        for variant in self.variants:
            for pattern in (*variant.patterns, *variant.absent):
                known = self.slots.setdefault(pattern.kind, [])
                known += dict.fromkeys(t.attribute for t in pattern.tests if t.attribute not in known)
                self.lists |= {(pattern.kind, t.attribute) for t in pattern.tests if t.many and t.op in _MEMBERS}
        for function in _FUNCTIONS:
            self.environment.build(function)
        self.number = {kind: number for number, kind in enumerate(self.slots)}
        for kind, number in self.number.items():
            self.environment.build(f"(deftemplate k{number} (slot serial) {self._template(kind)})")
        # clipspy's look-ups and the parser of facts cost more than the match: both are spared.
        self._templates = {kind: self.environment.find_template(f"k{n}") for kind, n in self.number.items()}
        self._places = {
            kind: {a: (n, (kind, a) in self.lists) for n, a in enumerate(known)} for kind, known in self.slots.items()
        }
        self._native = native
        self.environment.define_function(self._fire, "fire")
        for index, variant in enumerate(self.variants):
            self.environment.build(self._rule(index, variant))
        self.outcome, self.fired = Judged(Memory(self.rulebase.vocabulary.taxonomies)), 0
        self.error: BaseException | None = None

    def run(self, facts: Iterable[PlanFact]) -> Judged:
        """Facts in, conclusions out."""
        self.environment.reset()
        self.outcome, self.fired, self.error = Judged(Memory(self.rulebase.vocabulary.taxonomies)), 0, None
        for fact in facts:
            self._assert(self.outcome.memory.add_stated(fact))
        self.fired = self.environment.run()
        if self.error is not None:
            raise self.error
        # Needs are no matter of matching: whoever found them, the site says which of them hold.
        self.outcome.drawn, self.outcome.site = answer(self.outcome.memory, self.outcome.drawn, self.rulebase.states)
        return self.outcome

    def memory_used(self) -> int:
        """Bytes that CLIPS says it holds."""
        return int(self.environment.eval("(mem-used)"))

    def _template(self, kind: str) -> str:
        cells = []
        for number, attribute in enumerate(self.slots[kind]):
            cells.append(f"(slot a{number} (default absent))")
            if (kind, attribute) in self.lists:
                cells.append(f"(multislot m{number})")
        return " ".join(cells)

    def _assert(self, record: Record) -> None:
        cells: dict[str, object] = {"serial": record.number}
        for attribute, value in record.values.items():
            place = self._places[record.kind].get(attribute)
            if place is not None:
                number, many = place
                cells[f"a{number}"] = _given(value)
                if many:
                    cells[f"m{number}"] = [_given(v) for v in (value if isinstance(value, tuple) else (value,))]
        self._templates[record.kind].assert_fact(**cells)

    def _rule(self, index: int, variant: Variant) -> str:
        names: dict[str, str] = {}
        left = [self._pattern(p, names, f"(serial ?s{n})") for n, p in enumerate(variant.patterns)]
        left += [f"(not {self._pattern(p, names, '')})" for p in variant.absent]
        serials = " ".join(f"?s{n}" for n in range(len(variant.patterns)))
        salience = -self.rulebase.strata[variant.rule.id]
        then = f"(assert (fired {index} {serials}))" if self._native else f"(fire {index} {serials})"
        return f"(defrule r{index} (declare (salience {salience})) {' '.join(left)} => {then})"

    def _pattern(self, pattern: Pattern, names: dict[str, str], serial: str) -> str:
        self._patterns += 1
        cells: list[str] = [serial]
        checks: dict[int, list[str]] = {}
        bound: dict[int, str] = {}
        members: dict[int, list[str]] = {}  # what is asked of a list's members: CLIPS takes a slot once
        for test in pattern.tests:
            number = self.slots[pattern.kind].index(test.attribute)
            if test.op == "bind":
                if test.values[0].name not in names:  # type: ignore[union-attr]
                    checks.setdefault(number, []).append("~absent")
                name = names.setdefault(test.values[0].name, f"?v{len(names)}")  # type: ignore[union-attr]
                checks.setdefault(number, [])
                if bound.setdefault(number, name) != name:
                    checks[number].append(name)
            elif test.many and test.op in _MEMBERS:
                among = f"(create$ {' '.join(map(_cell, test.values))})"
                said = f"(any-of $?l{number}x{self._patterns} {among})"
                members.setdefault(number, []).append(f"(not {said})" if test.op == "not_in" else said)
                checks.setdefault(number, []).append("~absent")
            else:
                checks.setdefault(number, []).extend(_checks(test))
        cells += [f"(m{n} {'&:'.join([f'$?l{n}x{self._patterns}', *said])})" for n, said in members.items()]
        for number, asked in checks.items():
            if len(asked) == 1 and "?." not in asked[0] and number not in bound:  # quicker than a variable and a test
                cells.append(f"(a{number} {asked[0]})")
                continue
            asked = [c for one in asked for c in _spelled(one)]
            if any(c.startswith('"') for c in asked):  # CLIPS refuses to compare a slot with both types
                asked = [c for c in asked if c != "~absent"]
            own = bound.get(number, f"?w{number}x{self._patterns}")
            cells.append(f"(a{number} {'&'.join([own, *(c.replace('?.', own) for c in asked)])})")
        return f"(k{self.number[pattern.kind]} {' '.join(cells)})"

    def _fire(self, index: int, *serials: int) -> None:
        try:
            self._conclude(self.variants[int(index)], [int(s) for s in serials])
        except BaseException as error:  # CLIPS would swallow it
            self.error = self.error or error

    def _conclude(self, variant: Variant, serials: list[int]) -> None:
        memory = self.outcome.memory
        support = tuple(zip(variant.patterns, (memory.records[n] for n in serials), strict=True))
        env: dict[str, Plain] = {}
        for pattern, record in support:
            env |= {t.values[0].name: record.values[t.attribute] for t in pattern.tests if t.op == "bind"}
        for state in list(
            solve(variant.guards, PartialMatch(env, support), memory, self.outcome.failures, variant.rule.id)
        ):
            why = Derivation(variant, state.env, state.support, state.collected)
            for conclusion in variant.rule.conclusions:
                if conclusion.kind != "deduce":
                    self.outcome.drawn.append(Drawn(conclusion, why, state.results))
                    continue
                values = tuple((name, value_of(operand, state.env)) for name, operand in conclusion.values)
                record = memory.add_deduced(conclusion.deduced, values, why)
                if record is not None:
                    self._assert(record)


def _checks(test: Test) -> list[str]:
    """Constraints on one slot; `?.` stands for its variable."""
    values = [_cell(v) for v in test.values]  # type: ignore[arg-type]  # a comparison with a variable is a guard
    if test.op == "unknown":
        return ["absent"]
    if test.op == "known":
        return ["~absent"]
    if test.op not in _MEMBERS:
        return [f":({test.op} ?. {values[0]})"]
    if len(values) == 1 and test.op != "not_in" and isinstance(test.values[0], str):
        return [values[0]]
    among = f"(create$ {' '.join(values)})"
    words = all(isinstance(v, str) for v in test.values)
    if words and test.op != "not_in":
        return ["|".join(values)]
    found = f"(member$ ?. {among})" if words else f"(any-same ?. {among})"
    return ["~absent", f":(not {found})" if test.op == "not_in" else f":{found}"]


def _spelled(check: str) -> list[str]:
    """A choice of words as a test; `|` binds less than `&` in CLIPS."""
    if '"|"' not in check:
        return [check]
    words = check.replace('"|"', '" "')
    return ["~absent", f":(member$ ?. (create$ {words}))"]


def conclusions(outcome: Judged) -> dict[str, Counter[str]]:
    """What a run came to, in a form without order: facts, findings with their bindings, failures, the site."""
    return {
        "facts": Counter(f"{r.kind} {sorted(map(repr, r.values.items()))}" for r in outcome.memory.records),
        "drawn": Counter(
            f"{d.why.variant.rule.id} {d.conclusion.line} {sorted(map(repr, d.env.items()))}" for d in outcome.drawn
        ),
        "failures": Counter(f"{f.rule} {f.message}" for f in outcome.failures),
        "site": _site(outcome.site),
    }


def _site(site: SimulatedSite | None) -> Counter[str]:
    """What is so at the start, what steps make of it and what they need, told or not."""
    if site is None:
        return Counter()
    found = [f"start {key} {value}" for key, value in site.start.items()]
    for effect in (one for effects in site.effects for one in effects):
        found.append(
            f"effect {effect.step} {effect.key} {effect.value} {effect.mode} {_wants(effect.only_if)} "
            f"{effect.rule} {effect.after}"
        )
    for need in (one for needs in site.needs for one in needs):
        found.append(
            f"need {need.step} {_wants(need.wants)} {_wants(need.never)} {_wants(need.unless)} "
            f"{need.rule} {need.firmness} {need.because}"
        )
    return Counter(found)


def _wants(wants: tuple[Want, ...]) -> str:
    return str([(key, sorted(values)) for key, values in wants])

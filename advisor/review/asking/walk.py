"""A walk through the questions of a plan: pure, so that a terminal, a page and an interview share it.

A walk is a plan's text with what was said so far. Each answer gives a new walk; the old one is `back`. *Don't know*
writes nothing and is not asked again on this walk; *later* puts a question behind all others, once. Every walk ends:
no key is asked twice but for that.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from advisor.errors import InputError, Problem
from advisor.plan import read_plan
from advisor.plan.facts import question as ask_of
from advisor.plan.facts import value_in_words
from advisor.plan.model import Plan
from advisor.review.asked import Question
from advisor.review.asking.answers import Choice, choices, chosen, meant, pieces, put, sizes
from advisor.review.compare import Comparison, compare
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import SIGNALS
from advisor.rulebase.vocabulary import Attribute
from advisor.site.assume import Key
from advisor.site.hanging import CAUTION, in_order, weights
from advisor.site.sizes import SIZES, sizes_asked
from advisor.site.usual import usual_of

_LONG = 3  # practices of a why
_FEW = 5  # choices of each, where a question asks for several
_SIZES = ("8 ft", "25 in", "1-1/2 in", "1 in", "1 in")  # an example


class AskedNow(Struct, frozen=True):
    """The question that stands now: of one unknown, or of the sizes of one thing."""

    keys: tuple[Key, ...]
    ask: str
    choices: tuple[Choice, ...]
    examples: tuple[tuple[str, str], ...]  # how an answer may be written; of which attribute, where it asks for several
    presumed: str
    several: bool  # whether more than one of the choices may be meant
    hangs: tuple[tuple[int, str, str], ...]  # rank, rule, step: the gravest first
    labels: Mapping[str, str]  # of each attribute, where it asks for several: what is asked of it, in words
    question: Question | None  # of the review, where it stands there; it may bundle several

    @property
    def key(self) -> Key:
        """What it asks for first."""
        return self.keys[0]


class Offered(Struct, frozen=True):
    """Words of which it is not sure what they are said of: each way to take them, and what would be written."""

    words: str
    ways: tuple[tuple[Key, str], ...]
    why: str = ""  # what is asked of them, where it is not only what they mean


class Walk(Struct, frozen=True):
    """A plan's text, its review, and what was said so far."""

    text: str
    name: str
    rulebase: RuleBase
    plan: Plan
    report: Report
    least: int = 0  # rank of the practices that are asked about: all, or those of caution and above
    passed: frozenset[Key] = frozenset()  # not asked again
    put_off: tuple[Key, ...] = ()  # asked once more, last
    offers: tuple[Offered, ...] = ()  # words of a draft that may mean two or three things: asked first
    unknown: tuple[str, ...] = ()  # questions to which nobody knew the answer
    number: int = 1  # of the question that stands now
    before: Walk | None = None
    answered: Key | None = None  # what the last step was about
    changed: Comparison | None = None  # what the last answer changed
    _known: list[AskedNow | None] = field(default_factory=list)

    @classmethod
    def begin(
        cls,
        text: str,
        name: str,
        rulebase: RuleBase,
        *,
        least: int = 0,
        offers: tuple[Offered, ...] = (),
        passed: Iterable[Key] = (),
    ) -> Walk:
        """A walk from its start; `passed` is what somebody said not to know. InputError where the text is no plan."""
        plan = read_plan(text, rulebase.vocabulary, name)
        report = review_plan(plan, rulebase, walking=True)
        return cls(text, name, rulebase, plan, report, least, frozenset(passed), offers=offers)

    @property
    def asked(self) -> AskedNow | None:
        """The question that stands now; None where the walk is over."""
        if not self._known:
            self._known.append(next(self.questions(), None))
        return self._known[0]

    def left(self) -> int:
        """How many questions may still come."""
        return len(self.offers) + len(self._orders())

    def answer(self, value: str) -> Walk:
        """The walk after an answer: the number of a choice, its words, or what would be written in a plan.

        InputError, with the walk as it was, where the answer does not fit.
        """
        asked = self._now()
        text = self.text
        for key, one in self._said(asked, value).items():
            text = put(text, self.plan, key, one, self.rulebase, self.name)
        plan = read_plan(text, self.rulebase.vocabulary, self.name)
        report = review_plan(plan, self.rulebase, walking=True)
        after = self._after(asked, passed=self.passed.union(asked.keys))
        return replace(after, text=text, plan=plan, report=report, changed=compare(self.report, report))

    def dont_know(self) -> Walk:
        """It stays unknown, and is not asked again."""
        asked = self._now()
        return self._after(asked, passed=self.passed.union(asked.keys), unknown=(*self.unknown, asked.ask))

    def later(self) -> Walk:
        """It is asked once more after all others."""
        asked = self._now()
        if self.offers:
            return self._after(asked)  # what it may mean is asked for in its turn
        if asked.key in self.put_off:
            return self.dont_know()
        return self._after(asked, put_off=(*self.put_off, *asked.keys))

    def _after(self, asked: AskedNow, **changed: Any) -> Walk:
        offers, number = self.offers[1:], self.number + 1
        return replace(
            self, before=self, answered=asked.key, offers=offers, number=number, changed=None, _known=[], **changed
        )

    def back(self) -> Walk:
        """The walk before the last answer; the walk itself where there was none."""
        return self.before or self

    def why(self) -> str:
        """What hangs on the question, in a few sentences."""
        findings = {(f.rule, f.step or ""): f for f in self.report.findings}
        told: dict[str, str] = {}
        for rank, rule, step in self._now().hangs:
            finding = findings.get((rule, step))
            if finding is not None:
                told.setdefault(rule, f"{finding.signal.upper()} {finding.title.lower()}: {finding.because}")
            else:
                told.setdefault(rule, f"It decides on {SIGNALS[rank]}: {self.title(rule)}.")
        return " ".join(list(told.values())[:_LONG]) or "A rule reads it."

    def decides(self) -> str:
        """The same in a few words: `danger: Power off and proved dead, and 3 more`."""
        hangs = {rule: rank for rank, rule, _ in reversed(self._now().hangs)}
        if not hangs:
            return ""
        rule = max(hangs, key=lambda name: (hangs[name], -list(hangs).index(name)))
        more = f", and {len(hangs) - 1} more" if len(hangs) > 1 else ""
        return f"{SIGNALS[hangs[rule]]}: {self.title(rule)}{more}"

    def title(self, rule: str) -> str:
        """What a practice is called."""
        found = self.rulebase.rule(rule)
        return found.title if found is not None else rule

    def open(self) -> int:
        """How many practices that are asked about are open, each once."""
        return len({one.rule for one in self.report.open if one.rank >= self.least})

    def _now(self) -> AskedNow:
        asked = self.asked
        if asked is None:
            raise InputError([Problem(self.name, 0, 0, "No question is left on this walk.")])
        return asked

    def questions(self) -> Iterator[AskedNow]:
        """What may be asked, the weightiest first, what was put off last; each key once."""
        yield from map(self._offered, self.offers)
        listed = self._listed()
        for keys in self._orders():
            yield self._asked(keys, listed.get(keys[0]))

    def _listed(self) -> dict[Key, Question]:
        """By unknown the question of the review that asks for it."""
        listed: dict[Key, Question] = {}
        for question in self.report.questions:
            own = (question.sort, question.id or question.sort, question.attribute)
            for key in dict.fromkeys([own, *question.keys]):
                listed.setdefault(key, question)
        return listed

    def _orders(self) -> list[tuple[Key, ...]]:
        found = weights(self.report.hanging, self.passed, self.least, usual_of(self.rulebase))
        if self.least < CAUTION:
            found = {**dict.fromkeys(self._listed(), 0.0), **found}
        put_off = {key: found.pop(key) for key in self.put_off if key in found}
        return [*self._order(found), *self._order(put_off)]

    def _order(self, found: Mapping[Key, float]) -> list[tuple[Key, ...]]:
        return in_order(found, usual_of(self.rulebase), self._may_ask)

    def _may_ask(self, key: Key) -> bool:
        """Presumed is not stated: it is asked. A thing that is not listed cannot be answered for."""
        sort, own, name = key
        attribute = self.rulebase.vocabulary.attributes.get(sort, {}).get(name)
        entity = self.plan.entities.get(sort, {}).get(own)
        if attribute is None or entity is None or not attribute.ask:
            return False
        return name not in entity.values and key not in self.passed

    def _attributes(self, asked: AskedNow) -> list[Attribute]:
        return [self.rulebase.vocabulary.attributes[sort][name] for sort, _, name in asked.keys]

    def _said(self, asked: AskedNow, value: str) -> dict[Key, str]:
        """What an answer says of each unknown that was asked for."""
        if self.offers:
            return dict([self.offers[0].ways[chosen(value, asked.choices, self.name)]])
        names = [key[2] for key in asked.keys]
        if len(names) == 1:
            return {asked.key: meant(value, asked.choices, asked.several)}
        if names[0] in SIZES:
            found = sizes(value, names)
        else:
            found = pieces(value, self._attributes(asked), asked.choices, self.plan, self.rulebase.vocabulary)
        return {(*asked.key[:2], name): one for name, one in found.items()}

    def _offered(self, one: Offered) -> AskedNow:
        known = self.rulebase.vocabulary.attributes
        choices = tuple(
            Choice(value_in_words(known[key[0]][key[2]], *key[:2], value), value) for key, value in one.ways
        )
        ask = f"You said '{one.words}'. {one.why[:1].upper() + one.why[1:] or 'Which is meant?'}"
        return AskedNow(tuple(key for key, _ in one.ways), ask, choices, (), "", False, (), {}, None)

    def _asked(self, keys: tuple[Key, ...], question: Question | None) -> AskedNow:
        sort, own, name = key = keys[0]
        known = self.rulebase.vocabulary.attributes[sort]
        attribute, names = known[name], [one[2] for one in keys]
        presumed = ""
        own_question = question and (question.sort, question.id or sort, question.attribute)
        if question is not None and len(keys) == 1 and (len(question.keys) <= 1 or key == own_question):
            presumed = question.presumed
        offered: tuple[Choice, ...] = ()
        labels: dict[str, str] = {}
        examples = [(one, known[one].example.partition(":")[2].strip()) for one in names]
        if len(keys) == 1:
            ask = ask_of(attribute, own)
            offered = choices(attribute, key, question, self.plan, self.rulebase)
            examples = [("", example) for _, example in examples if not offered]
        elif name in SIZES:
            ask, examples = sizes_asked(set(names), attribute.ask, own), [("", " x ".join(_SIZES[: len(keys)]))]
        else:
            breath = usual_of(self.rulebase).of_one[sort, name]
            ask, labels = breath.of_thing(own, names), {one: breath.words(one) for one in names}
            offered = tuple(
                replace(one, attribute=key[2])
                for key in keys
                for one in choices(known[key[2]], key, question, self.plan, self.rulebase, _FEW)
            )
            chooses = {one.attribute for one in offered}
            examples = [(one, example) for one, example in examples if one not in chooses]
        asks = set(keys)
        hangs = {
            (-one.rank, one.rule, one.step)
            for one in self.report.hanging
            if any(key in asks for way in one.ways for key in way.keys)
        }
        told = tuple((-rank, rule, step) for rank, rule, step in sorted(hangs))
        shown = tuple(one for one in examples if one[1])
        return AskedNow(keys, ask, offered, shown, presumed, attribute.many, told, labels, question)

"""A walk through the questions of a plan: pure, so that a terminal, a page and an interview share it.

A walk is a plan's text with what was said so far. Each answer gives a new walk; the old one is `back`. *Don't know*
writes nothing and is not asked again on this walk; *later* puts a question behind all others, once. Every walk ends:
no key is asked twice but for that.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from advisor.errors import InputError, Problem
from advisor.plan import read_plan
from advisor.plan.editing import PlanText
from advisor.plan.facts import question as ask_of
from advisor.plan.model import Plan
from advisor.review.compare import Comparison, compare
from advisor.review.model import Question, Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.vocabulary import Attribute

Key = tuple[str, str, str]  # sort, id, attribute
SECTIONS = {"room": "rooms", "part": "parts", "product": "products", "step": "steps"}
_FEW = 8  # words that are shown as choices
_LONG = 3  # sentences of why


@dataclass(frozen=True, slots=True)
class Choice:
    """An answer as a person would say it, and what is written for it."""

    said: str
    value: str


@dataclass(frozen=True, slots=True)
class Asked:
    """The question that stands now."""

    key: Key
    ask: str
    choices: tuple[Choice, ...]
    example: str  # how an answer may be written
    presumed: str
    question: Question  # of the review; it may bundle several

    @property
    def many(self) -> bool:
        """Whether there are words to choose from."""
        return bool(self.choices)


@dataclass(frozen=True, slots=True)
class Walk:
    """A plan's text, its review, and what was said so far."""

    text: str
    name: str
    rulebase: RuleBase
    plan: Plan
    report: Report
    passed: frozenset[Key] = frozenset()  # not asked again
    put_off: tuple[Key, ...] = ()  # asked once more, last
    before: Walk | None = None
    answered: Key | None = None  # what the last step was about
    changed: Comparison | None = None  # what the last answer changed
    _known: list[Asked | None] = field(default_factory=list)

    @classmethod
    def begin(cls, text: str, name: str, rulebase: RuleBase) -> Walk:
        """A walk from its start. InputError where the text is no plan."""
        plan = read_plan(text, rulebase.vocabulary, name)
        return cls(text, name, rulebase, plan, review_plan(plan, rulebase))

    @property
    def asked(self) -> Asked | None:
        """The question that stands now; None where the walk is over."""
        if not self._known:
            self._known.append(next(self.questions(), None))
        return self._known[0]

    def left(self) -> int:
        """How many questions may still come."""
        return sum(1 for _ in self.questions())

    def answer(self, value: str) -> Walk:
        """The walk after an answer: the number of a choice, its words, or what would be written in a plan.

        InputError, with the walk as it was, where the answer does not fit.
        """
        asked = self._now()
        text = put(self.text, self.plan, asked.key, meant(asked, value), self.rulebase, self.name)
        plan = read_plan(text, self.rulebase.vocabulary, self.name)
        report = review_plan(plan, self.rulebase)
        return Walk(
            text, self.name, self.rulebase, plan, report, self.passed | {asked.key}, self.put_off, self, asked.key,
            compare(self.report, report),
        )  # fmt: skip

    def dont_know(self) -> Walk:
        """It stays unknown, and is not asked again."""
        key = self._now().key
        return replace(self, passed=self.passed | {key}, before=self, answered=key, changed=None, _known=[])

    def later(self) -> Walk:
        """It is asked once more after all others."""
        key = self._now().key
        if key in self.put_off:
            return self.dont_know()
        return replace(self, put_off=(*self.put_off, key), before=self, answered=key, changed=None, _known=[])

    def back(self) -> Walk:
        """The walk before the last answer; the walk itself where there was none."""
        return self.before or self

    def why(self) -> str:
        """What hangs on the question, in a few sentences."""
        question = self._now().question
        findings = {f.id: f for f in self.report.findings}
        hangs = [findings[name] for name in question.hangs if name in findings]
        told = [f"{f.signal.upper()} {f.title.lower()}: {f.because}" for f in hangs[:_LONG]]
        titles = {one.rule: f"{one.signal}: {one.title}" for one in self.report.open}
        more = [titles[rule] for rule in question.of if rule in titles][: _LONG - len(told)]
        told += [f"It decides on {'; '.join(more)}."] if more else []
        return " ".join(told) or "A rule reads it."

    def _now(self) -> Asked:
        asked = self.asked
        if asked is None:
            raise InputError([Problem(self.name, 0, 0, "No question is left on this walk.")])
        return asked

    def questions(self) -> Iterator[Asked]:
        """What may be asked, the weightiest first, what was put off last; each key once."""
        seen = set(self.passed)
        last: list[Asked] = []
        for question in self.report.questions:
            own: Key = (question.sort, question.id or question.sort, question.attribute)
            for key in dict.fromkeys([own, *question.keys]):
                if key in seen:
                    continue
                seen.add(key)
                asked = self._asked(key, question)
                if asked is not None and key in self.put_off:
                    last.append(asked)
                elif asked is not None:
                    yield asked
        last.sort(key=lambda one: self.put_off.index(one.key))
        yield from last

    def _asked(self, key: Key, question: Question) -> Asked | None:
        sort, own, name = key
        attribute = self.rulebase.vocabulary.attributes.get(sort, {}).get(name)
        entity = self.plan.entities.get(sort, {}).get(own)
        # Presumed is not stated: it is asked. A thing that is not listed cannot be answered for.
        if attribute is None or entity is None or not attribute.ask or name in entity.values:
            return None
        single = len(question.keys) <= 1
        presumed = question.presumed if single or key == (question.sort, question.id, question.attribute) else ""
        return Asked(
            key, ask_of(attribute, own), choices(attribute, key, question, self.rulebase),
            attribute.example.partition(":")[2].strip(), presumed, question,
        )  # fmt: skip


def choices(attribute: Attribute, key: Key, question: Question, rulebase: RuleBase) -> tuple[Choice, ...]:
    """Answers as a person would give them: none, or at least two."""
    if attribute.type == "yes_no":
        return Choice("yes", "yes"), Choice("no", "no")
    if attribute.type != "term":
        return ()
    taxonomy = rulebase.vocabulary.taxonomies[attribute.of]
    spoken = [term.name for term in taxonomy.terms.values() if not term.gathered]
    lead = attribute.name.replace("_", " ") + " "
    offered = [a.value.removeprefix(lead) for a in question.answers if a.key in (key, ()) or len(question.keys) == 1]
    offered = [word for word in dict.fromkeys(offered) if word in spoken]
    words = spoken if len(spoken) <= _FEW else [*offered, *(w for w in spoken if w not in offered)][:_FEW]
    if len(words) < 2:
        return ()
    meanings = {name: taxonomy.terms[name].meaning for name in words}
    return tuple(Choice(f"{word} ({meanings[word]})" if meanings[word] else word, word) for word in words)


def meant(asked: Asked, answer: str) -> str:
    """What an answer stands for: the number of a choice, or its words."""
    word = answer.strip()
    if word.isdecimal() and 0 < int(word) <= len(asked.choices):
        return asked.choices[int(word) - 1].value
    return next((one.value for one in asked.choices if word.lower() in (one.said.lower(), one.value.lower())), word)


def put(text: str, plan: Plan, key: Key, value: str, rulebase: RuleBase, name: str) -> str:
    """The text with the value written where it belongs; InputError where it does not fit."""
    sort, own, attribute = key
    known = rulebase.vocabulary.attributes[sort][attribute]
    path = [SECTIONS.get(sort, sort), *([own] if own != sort else []), attribute]
    if sort == "step":
        lines = sorted(step.line for step in plan.steps)
        place = next(lines.index(step.line) for step in plan.steps if step.id == own)
        path = ["steps", f"#{place}", attribute]
    document = PlanText(text)
    words = [one.strip() for one in value.strip().removeprefix("[").removesuffix("]").split(",")]
    document.set(path, words if known.many and len(words) > 1 else value.strip())
    read_plan(document.text, rulebase.vocabulary, name)
    return document.text

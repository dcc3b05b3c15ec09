"""The country in what a review says: its question, and the words of the country in what no rule writes."""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec.structs import replace

from advisor.plan.model import Plan
from advisor.review.asked import Answer, OpenPractice, Question
from advisor.review.finding import Finding
from advisor.review.metric import localized
from advisor.review.model import Gear
from advisor.review.supply import Supply
from advisor.rulebase.base import RuleBase
from advisor.rulebase.countries import HOME, tables
from advisor.rulebase.model import SIGNALS

KEY = ("house", "house", "country")


def ask_country(questions: list[Question], plan: Plan, rulebase: RuleBase) -> list[Question]:
    """The questions with that for the country, where nothing states it: first where nothing tells it, else last."""
    attribute = rulebase.vocabulary.attributes["house"].get("country")
    if plan.place.how == "stated" or attribute is None:
        return questions
    unknown = plan.place.how == "unknown"
    known = rulebase.vocabulary.taxonomies[attribute.of].terms.get(plan.place.code)
    line = plan.entities["house"]["house"].line
    asked = Question(
        attribute.ask, *KEY, known.meaning if known else "", plan.place.because, (),
        SIGNALS.index("warning" if unknown else "notice"), name="house.country", line=line,
        answers=tuple(Answer(code, (), (), "", KEY) for code in tables()), keys=(KEY,),
    )  # fmt: skip
    return [asked, *questions] if unknown else [*questions, asked]


def in_words_of(
    plan: Plan,
    questions: list[Question],
    practices: Iterable[OpenPractice],
    gear: list[Gear],
    wanted: list[Supply],
    rulebase: RuleBase,
) -> tuple[list[Question], list[OpenPractice], list[Gear], list[Supply]]:
    """The same in the words of the plan's country; as they are at home."""
    if plan.place.code == HOME:
        return [_in_region(q, plan.place.region) for q in questions], list(practices), gear, wanted
    units = plan.units
    return (
        [
            replace(
                q,
                ask=_around_names(q.ask, plan),
                also=tuple(_around_names(one, plan) for one in q.also),
                answers=tuple(
                    replace(a, value=_said_there(a, plan, rulebase), decides=localized(a.decides, units))
                    for a in q.answers
                ),
            )
            for q in questions
        ],
        [replace(one, title=localized(one.title, units, one.pack)) for one in practices],
        [replace(g, gear=localized(g.gear, units), because=localized(g.because, units)) for g in gear],
        [replace(s, what=localized(s.what, units), why=localized(s.why, units)) for s in wanted],
    )


def asked_there(findings: Iterable[Finding], plan: Plan) -> None:
    """Puts what findings ask about what they presume into the words of the plan's country."""
    if plan.place.code == HOME:
        return
    for one in findings:
        one.rests_on = tuple(replace(basis, ask=_around_names(basis.ask, plan)) for basis in one.rests_on)


def _said_there(answer: Answer, plan: Plan, rulebase: RuleBase) -> str:
    """An answer in the country's word for it, where a plan may say that word and means the same by it."""
    sort, _, name = answer.key
    known = rulebase.vocabulary.attributes.get(sort, {}).get(name)
    words = rulebase.vocabulary.taxonomies.get(known.of) if known is not None and known.type == "term" else None
    word = localized(answer.value, plan.units)
    return word if words is not None and words.said(word) == answer.value else answer.value


def _in_region(question: Question, region: str) -> Question:
    """A question about codes, asked of the region that the plan names."""
    if not region or question.sort != "code":
        return question
    return replace(
        question, ask=question.ask.replace("your building department", f"the building department in {region}")
    )


def _around_names(text: str, plan: Plan) -> str:
    """A sentence that has names of the plan in it already, put in the country's words but for those."""
    names = sorted({own for things in plan.entities.values() for own in things}, key=lambda n: (-len(n), n))
    pieces = re.split(rf"(?<![\w-])({'|'.join(map(re.escape, names))})(?![\w-])", text)
    return "".join(one if at % 2 else localized(one, plan.units) for at, one in enumerate(pieces))

"""What the templates of the page show: questions to answer in place, advice, the order of work, the plan as cards."""

from __future__ import annotations

import re
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from advisor.plan.facts import question
from advisor.plan.model import Plan
from advisor.reports.calendar_chart import calendar_chart
from advisor.reports.schedule_text import summary
from advisor.reports.view import step_words
from advisor.review.asking.walk import Walk
from advisor.review.model import Report
from advisor.review.revision.editor import has_advice
from advisor.rulebase.base import RuleBase
from advisor.rulebase.vocabulary import Attribute, Vocabulary

_SECTIONS = (
    ("house", "House"),
    ("room", "Rooms"),
    ("part", "Things"),
    ("product", "Products"),
    ("crew", "Who works"),
    ("budget", "Money and time"),
)
_ID = re.compile(r" \([a-z0-9-]+\)$")  # of a rule, behind a reason
_NONE = "none"
_SHOWN = 5  # words of a long list that a question shows
_SHORT = 12  # words of a list that fit in a field of choices


class Field(Struct, frozen=True):
    """One thing that may be said, as a field: its question, its value, and the words to choose from."""

    sort: str
    own: str
    attribute: str
    label: str
    value: str
    choices: tuple[tuple[str, str], ...]  # value and what is shown
    example: str
    note: str = ""
    words: str = ""  # the list of words that complete what is typed
    many: bool = False  # whether several may be chosen
    nothing: str = ""  # what is written for none of the choices; empty where a plan has no word for it

    @property
    def key(self) -> str:
        """Its name in the page: an id must hold no space."""
        return "-".join(("f", self.sort, self.own, self.attribute)).replace(" ", "_")


class Card(Struct, frozen=True):
    """A thing of the plan with its fields; `number` is the place of a step in the file."""

    name: str
    kind: str
    fields: tuple[Field, ...]
    number: int = -1


def question_views(text: str, plan: Plan, report: Report, rulebase: RuleBase, most: int) -> list[Field]:
    """The weightiest questions, each as a field to answer."""
    walk = Walk(text, plan.file, rulebase, plan, report)
    found = []
    for asked in walk.questions():
        presumed = f"Presumed: {asked.presumed}. " if asked.presumed else ""
        note = f"{presumed}{asked.question.decides if asked.question else ''}"
        for sort, own, name in asked.keys:  # the sizes of a thing are a field each
            attribute = rulebase.vocabulary.attributes[sort][name]
            ask = asked.ask if len(asked.keys) == 1 else question(attribute, own)
            choices = tuple((one.value, one.said) for one in asked.choices if one.attribute in ("", name))
            found.append(_question(Field(sort, own, name, ask, "", choices, "", note), attribute, rulebase.vocabulary))
        if len(found) >= most:
            break
    return found[:most]


def _question(field: Field, attribute: Attribute, vocabulary: Vocabulary) -> Field:
    """The field of a question: of a long list the first few, and a box for all other words of the vocabulary."""
    example = attribute.example.partition(":")[2].strip().strip("[]")
    if attribute.type == "ref":
        words = f"{attribute.of}_kind" if f"{attribute.of}_kind" in vocabulary.taxonomies else ""
        return replace(field, words=words, many=attribute.many, nothing=_NONE if attribute.many else "")
    if attribute.type != "term":
        return replace(field, example=example)
    terms = vocabulary.taxonomies[attribute.of].terms
    spoken = [term for term in terms.values() if not term.gathered]
    listed = len(field.choices) == len(spoken)
    nothing = _NONE if _NONE in terms and attribute.many else ""
    choices = [one for one in field.choices if not (attribute.many and one[0] == _NONE)]
    choices = choices if listed else choices[:_SHOWN]
    words = "" if listed else attribute.of
    return replace(field, choices=tuple(choices), example="", words=words, many=attribute.many, nothing=nothing)


def country_view(plan: Plan, rulebase: RuleBase) -> Field | None:
    """The field for another country than the presumed one; None where the plan says it."""
    if plan.place.how == "stated":
        return None
    attribute = rulebase.vocabulary.attributes["house"]["country"]
    return Field("house", "house", "country", "In which country does the house stand?", "", (), "", words=attribute.of)


def advice_views(report: Report) -> list[dict[str, Any]]:
    """The findings whose advice can be put into the plan, the gravest first, one for each."""
    ranked = sorted(report.findings, key=lambda f: -f.rank)
    return [{"id": f.id, "signal": f.signal, "what": f.what, "step": f.step or ""} for f in ranked if has_advice(f)]


def order_view(report: Report) -> dict[str, Any]:
    """Order and days: the steps with their days, the picture and what it comes to."""
    steps = {step.id: step for step in report.plan.steps}
    rows = [
        {"step": row.step, "words": step_words(steps[row.step]), "why": _ID.sub("", row.why)} for row in report.order
    ]
    return {
        "rows": rows,
        "calendar": calendar_chart(report),
        "summary": summary(report.schedule),
    }


def card_views(plan: Plan, rulebase: RuleBase) -> dict[str, Any]:
    """The plan as cards, with what is stated as fields; steps in the order of the file."""
    vocabulary = rulebase.vocabulary
    groups = []
    for sort, title in _SECTIONS:
        cards = [_card(entity, sort, vocabulary) for entity in plan.entities.get(sort, {}).values() if entity.line]
        if cards:
            groups.append((title, cards))
    lines = sorted(step.line for step in plan.steps)
    steps = [_card(step, "step", vocabulary, lines.index(step.line)) for step in plan.steps]
    return {"groups": groups, "steps": sorted(steps, key=lambda card: card.number), "title": plan.title}


def _card(entity: Any, sort: str, vocabulary: Vocabulary, number: int = -1) -> Card:
    known = vocabulary.attributes[sort]
    fields = tuple(
        _field(sort, entity.id, known[name], value.text, vocabulary)
        for name, value in entity.values.items()
        if name in known
    )
    kind = entity.values.get("do" if sort == "step" else "kind")
    return Card(entity.id, kind.text if kind is not None else "", fields, number)


def _field(sort: str, own: str, attribute: Attribute, value: str, vocabulary: Vocabulary) -> Field:
    choices: tuple[tuple[str, str], ...] = ()
    completed = attribute.of if attribute.type == "term" and not attribute.many else ""
    if attribute.type == "yes_no":
        choices = (("yes", "yes"), ("no", "no"), ("unknown", "don't know"))
    elif attribute.type == "term" and not attribute.many:
        words = [term.name for term in vocabulary.taxonomies[attribute.of].terms.values() if not term.gathered]
        if len(words) <= _SHORT and value in words:
            choices = tuple((word, word) for word in words)
    return Field(
        sort,
        own,
        attribute.name,
        attribute.name.replace("_", " "),
        value,
        choices,
        attribute.example.partition(": ")[2].strip("[]"),
        words="" if choices else completed,
    )


class Sentence(Struct, frozen=True):
    """A sentence of the plan: what stands before the value that may be changed, the value as a field, what follows."""

    before: str
    field: Field
    after: str


def sentence_views(plan: Plan, rulebase: RuleBase) -> list[Sentence]:
    """The plan in sentences with fields."""
    from advisor.draft.say import sentences

    vocabulary = rulebase.vocabulary
    found = []
    for one in sentences(plan, vocabulary):
        field = _field(one.sort, one.own, vocabulary.attributes[one.sort][one.attribute], one.value, vocabulary)
        named = f"{field.label} of {one.own}" if one.own != one.sort else field.label
        found.append(Sentence(one.before, replace(field, label=named), one.after))
    return found


def word_lists(vocabulary: Vocabulary) -> list[tuple[str, list[str]]]:
    """The words that complete what is typed into a field, by the list that the field names; the same for all plans."""
    attributes = [one for known in vocabulary.attributes.values() for one in known.values()]
    names = sorted({one.of for one in attributes if one.type == "term"})
    return [
        (name, sorted(t.name for t in vocabulary.taxonomies[name].terms.values() if not t.gathered)) for name in names
    ]

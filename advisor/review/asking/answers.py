"""Answers to the questions of a walk: the words to choose from, what was meant, and how it is written into the plan."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from advisor.errors import InputError, Problem, clip
from advisor.plan import read_plan
from advisor.plan.added import add_room_to, add_step_to
from advisor.plan.editing import PlanText
from advisor.plan.model import Plan
from advisor.plan.values import BadValueError, scalar_value
from advisor.review.asked import Question
from advisor.rulebase.base import RuleBase
from advisor.rulebase.vocabulary import Attribute, Taxonomy, Vocabulary, fold
from advisor.site.assume import Key
from advisor.site.usual import usual_of
from advisor.units import DIMENSIONS

SECTIONS = {"room": "rooms", "part": "parts", "product": "products", "step": "steps"}
_FEW = 8  # words that are shown as choices
_ABOUT = re.compile(
    r"(?:(?:it'?s|it is|i think|i guess|maybe|perhaps|about|around|roughly|approximately|approx\.?|circa|nearly|almost|"
    r"~)\s*)+",
    re.IGNORECASE,
)
_OR_SO = re.compile(r"[\s,]*(?:or so|more or less|i think|i guess|maybe|roughly|approximately|\?|\.)+$", re.IGNORECASE)
_UNIT = re.compile(r"[^\d\s./,+-].*$")  # what stands behind the figures of a measure


class Choice(Struct, frozen=True):
    """An answer as a person would say it, and what is written for it."""

    said: str
    value: str
    attribute: str = ""  # where a question asks for several: which of them it answers


def choices(
    attribute: Attribute, key: Key, question: Question | None, plan: Plan, rulebase: RuleBase, most: int = _FEW
) -> tuple[Choice, ...]:
    """Answers as a person would give them: none, or at least two."""
    if attribute.type == "yes_no":
        return Choice("yes", "yes"), Choice("no", "no")
    if attribute.type == "ref":
        return _things(attribute, key, plan, rulebase, most)
    if attribute.type != "term":
        return ()
    taxonomy = rulebase.vocabulary.taxonomies[attribute.of]
    spoken = [term.name for term in taxonomy.terms.values() if not term.gathered]
    if len(spoken) > most:
        first = usual_of(rulebase).first_words(key[0], attribute.name, _word(key, plan))
        brought = _brought(attribute, key, question, taxonomy, spoken)
        spoken = [*first, *brought, *_usual(attribute, key, plan, rulebase, spoken)]
        spoken = list(dict.fromkeys(spoken))[:most]
    if len(spoken) < 2:
        return ()
    meanings = {name: taxonomy.terms[name].meaning for name in spoken}
    return tuple(Choice(f"{word} ({meanings[word]})" if meanings[word] else word, word) for word in spoken)


def _brought(
    attribute: Attribute, key: Key, question: Question | None, taxonomy: Taxonomy, spoken: Sequence[str]
) -> list[str]:
    """The words that bring something, the gravest first; a question has them in the words of the plan's country."""
    if question is None:
        return []
    lead = attribute.name.replace("_", " ") + " "
    mine = [a.value for a in question.answers if a.key in (key, ("", "", "")) or len(question.keys) == 1]
    words = (taxonomy.said(value) or value for value in (value.removeprefix(lead) for value in mine))
    return [word for word in words if word in spoken]


def _usual(attribute: Attribute, key: Key, plan: Plan, rulebase: RuleBase, spoken: Sequence[str]) -> list[str]:
    """The words that are usual of such a thing or such work, as far as the tables say it; else all, as they stand."""
    word, usual = _word(key, plan), usual_of(rulebase)
    found = None
    if word and key[0] == "step" and attribute.name in ("with", "by"):
        found = usual.step_words(word, attribute.name)
    elif word:
        found = usual.kind_words(key[0], attribute.name, word)
    often = usual.often.get((key[0], attribute.name), {})
    words = [one for one in spoken if found is None or one in found]
    return sorted(words, key=lambda one: -often.get(one, 0.0)) if found is not None else words


def _word(key: Key, plan: Plan) -> str:
    """What the thing or step is; empty where that is not known."""
    entity = plan.entities.get(key[0], {}).get(key[1])
    return entity.word if entity else ""


def _things(attribute: Attribute, key: Key, plan: Plan, rulebase: RuleBase, most: int) -> tuple[Choice, ...]:
    """The things of the plan that may be meant, with what each is."""
    word, usual = _word(key, plan), usual_of(rulebase)
    fit = None
    if word and attribute.name == "using":
        fit = usual.step_words(word, "using")
    elif word and key[0] == "part" and attribute.of == "part":
        fit = usual.places(attribute.name, word)
    listed = []
    for own, thing in plan.entities.get(attribute.of, {}).items():
        kind = thing.values.get("kind")
        name = str(kind.plain) if kind is not None else ""
        if (attribute.of == key[0] and own == key[1]) or (fit is not None and name not in fit):
            continue
        listed.append(Choice(own if fold(own) == fold(name) or not name else f"{own} ({name})", own))
    listed = listed[:most]
    return (*listed, Choice("none of these", "none")) if listed and attribute.many else tuple(listed)


def meant(answer: str, offered: Sequence[Choice], many: bool) -> str:
    """What an answer stands for: the number of a choice, its words, several of them, or what would be written."""
    pieces = [one.strip() for one in answer.split(",")] if many else [answer.strip()]
    return ", ".join(_meant(one, offered) for one in pieces if one)


def chosen(answer: str, offered: Sequence[Choice], name: str) -> int:
    """The place of the choice that an answer names; InputError where it names none."""
    value = _meant(answer.strip(), offered)
    found = [place for place, one in enumerate(offered) if one.value == value or one.said == value]
    if answer.strip().isdecimal() and 0 < int(answer) <= len(offered):
        return int(answer) - 1
    if len(found) != 1:
        message = f"'{clip(answer.strip())}' is none of the choices. Expected a number from 1 to {len(offered)}."
        raise InputError([Problem(name, 0, 0, message)])
    return found[0]


def _meant(word: str, offered: Sequence[Choice]) -> str:
    if word.isdecimal() and 0 < int(word) <= len(offered):
        return offered[int(word) - 1].value
    return next((one.value for one in offered if word.lower() in (one.said.lower(), one.value.lower())), word)


def pieces(
    answer: str, attributes: Sequence[Attribute], offered: Sequence[Choice], plan: Plan, words: Vocabulary
) -> dict[str, str]:
    """What an answer to a question for several attributes says of each: numbers of choices, words that fit one of
    them alone, or `guard on: no`. InputError names the piece that fits none of them, or more than one.
    """
    found: dict[str, list[str]] = {}
    last: Attribute | None = None
    for piece in (one.strip() for one in re.split(r"[;,]", answer) if one.strip()):
        named, sign, rest = piece.partition(":")
        by_name = next((a for a in attributes if sign and fold(a.name) == fold(named)), None)
        value = (rest if by_name is not None else piece).strip()
        place = int(value) - 1 if value.isdecimal() and 0 < int(value) <= len(offered) else None
        owners = [a.name for a in attributes if by_name in (a, None) and (by_name is a or _fits(a, value, plan, words))]
        if last is not None and last.many and last.name in owners:
            owners = [last.name]
        # A number of a choice; but `2` may as well be two children, and that is never guessed.
        if place is not None and offered[place].attribute in (owners or [offered[place].attribute]):
            owners, value = [offered[place].attribute], offered[place].value
        elif place is not None and by_name is None:
            owners = [*owners, offered[place].attribute]
        if len(owners) != 1:
            raise InputError([Problem("the answer", 0, 0, _unclear(piece, value, attributes, owners))])
        last = next(a for a in attributes if a.name == owners[0])
        found.setdefault(last.name, []).append(value)
    return {name: ", ".join(values) for name, values in found.items()}


def _unclear(piece: str, value: str, attributes: Sequence[Attribute], owners: Sequence[str]) -> str:
    if owners:
        names = " and ".join(name.replace("_", " ") for name in owners)
        return f"'{clip(piece)}' may be {names}. Say which, such as '{owners[0].replace('_', ' ')}: {clip(value)}'."
    wanted = "; ".join(
        f"{a.name.replace('_', ' ')}: {'one of its words' if a.type == 'term' else a.expected}" for a in attributes
    )
    return f"'{clip(piece)}' is no answer to this. Expected {wanted}."


def _fits(attribute: Attribute, value: str, plan: Plan, words: Vocabulary) -> bool:
    if attribute.type == "ref":
        kinds = words.taxonomies.get(f"{attribute.of}_kind")
        known = {fold(own) for own in plan.entities.get(attribute.of, {})}
        return fold(value) in known or (kinds is not None and kinds.said(value) is not None)
    return attribute.type not in ("text", "profile") and _reads(attribute, value, words)


def sizes(answer: str, names: Sequence[str]) -> dict[str, str]:
    """`8 ft x 25 x 1.5 in` for length, width and thickness; a `?` leaves one out.

    A figure without a unit has that of the next figure that has one.
    """
    pieces = [one.strip() for one in re.split(r"\s*(?:[x×,;]|\bby\b)\s*", answer.strip(), flags=re.IGNORECASE)]
    if len(pieces) != len(names):
        listed = " x ".join(names)
        given = f"{len(pieces)} measure{'s' * (len(pieces) != 1)}"
        message = (
            f"'{clip(answer.strip())}' has {given}. Expected {len(names)}: {listed}; a ? for what you do not know."
        )
        raise InputError([Problem("the answer", 0, 0, message)])
    unit = ""
    for place in range(len(pieces) - 1, -1, -1):
        found = _UNIT.search(pieces[place])
        if found is None and unit and pieces[place]:
            pieces[place] = f"{pieces[place]} {unit}"
        unit = found.group().strip() if found and pieces[place] != "?" else unit
    return {name: one for name, one in zip(names, pieces, strict=True) if one not in ("?", "")}


def put(text: str, plan: Plan, key: Key, value: str, rulebase: RuleBase, name: str) -> str:
    """The text with the value written where it belongs; InputError where it does not fit."""
    sort, own, attribute = key
    known = rulebase.vocabulary.attributes[sort][attribute]
    adds = {("step", "do"): add_step_to, ("room", "kind"): add_room_to}.get((sort, attribute))
    if adds is not None and own not in plan.entities.get(sort, {}):
        document = PlanText(text)
        adds(document, plan, own, value, rulebase.vocabulary)
        read_plan(document.text, rulebase.vocabulary, name)
        return document.text
    path = [SECTIONS.get(sort, sort), *([own] if own != sort else []), attribute]
    if sort == "step":
        lines = sorted(step.line for step in plan.steps)
        place = next(lines.index(step.line) for step in plan.steps if step.id == own)
        path = ["steps", f"#{place}", attribute]
    document = PlanText(text)
    words = [one.strip() for one in value.strip().removeprefix("[").removesuffix("]").split(",")]
    value = _amount(known, value, rulebase.vocabulary)
    if known.type == "ref" and known.of in ("part", "product", "room"):
        words = [_named(one, known, plan, document, rulebase) for one in words]
        value = words[0] if len(words) == 1 else value
    document.set(path, words if known.many and len(words) > 1 else value.strip())
    read_plan(document.text, rulebase.vocabulary, name)
    return document.text


def _amount(known: Attribute, value: str, words: Vocabulary) -> str:
    """`about 25 lb` as the amount that it names, where the words around it are all that cannot be read."""
    if known.type != "count" and known.type not in DIMENSIONS:
        return value
    bare = _OR_SO.sub("", _ABOUT.sub("", value.strip(), count=1))
    return bare if bare and not _reads(known, value, words) and _reads(known, bare, words) else value


def _reads(known: Attribute, value: str, words: Vocabulary) -> bool:
    try:
        scalar_value(known, value, words, lambda one, text: "")
    except BadValueError:
        return False
    return True


def _named(word: str, known: Attribute, plan: Plan, document: PlanText, rulebase: RuleBase) -> str:
    """The thing that a word names; one that is not listed and says what it is, is added under that name."""
    things = plan.entities.get(known.of, {})
    if word in things or fold(word) in ("none", ""):
        return word
    alike = [own for own, thing in things.items() if fold(own) == fold(word)]
    kind = rulebase.vocabulary.taxonomies[f"{known.of}_kind"].said(word)
    if alike or kind is None:
        return alike[0] if alike else word
    own = "-".join(fold(word).split())
    taken = {*plan.entities.get("part", {}), *plan.entities.get("product", {}), *plan.entities.get("room", {})}
    own = next(o for o in (own, *(f"{own}-{n}" for n in range(2, 1_000))) if o not in taken)
    rooms = list(plan.entities["room"]) if known.of == "part" else []
    document.add_entry(SECTIONS[known.of], own, {"kind": kind, **({"room": rooms[0]} if len(rooms) == 1 else {})})
    return own

"""What `rules/language/` says: sayings, little words, verbs as people say them. Read once, as text, never typed."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from msgspec import Struct, field

from advisor.document import read_file
from advisor.draft import forms
from advisor.draft.numbers import Measures
from advisor.draft.tokens import Token, folded
from advisor.tables import rules_folder

VALUE = "{value}"


class Saying(Struct, frozen=True):
    """Words that say an attribute of a sort: `{value} wide`. `value` is fixed where the words give it."""

    sort: str
    attribute: str
    words: tuple[str, ...]  # VALUE stands where the value is
    value: str = ""


class Language(Struct):
    """The tables of `rules/language/`."""

    words: dict[str, frozenset[tuple[str, ...]]]
    measures: Measures
    actions: dict[str, list[str]]
    irregular: dict[str, list[str]]
    split: frozenset[tuple[str, ...]]
    never: frozenset[tuple[str, ...]]
    weak: frozenset[tuple[str, ...]]
    never_guessed: frozenset[str]
    nouns: dict[str, dict[str, list[str]]]
    ordinary: frozenset[str]
    inferred_rooms: dict[str, list[str]]
    beside: dict[str, dict[str, str]]
    room_words: dict[str, list[str]]
    prior: dict[str, float]
    never_bare: frozenset[str]
    sized_by: dict[str, str]
    seldom: frozenset[str]
    work_sized: dict[str, list[str]]  # action: attributes of the step that a length tells
    beside_measure: dict[str, str]  # a word right beside a measure: the attribute that it tells
    upright: list[str]  # kinds that are told by width and height
    in_feet: list[str]  # kinds of which two bare numbers are feet
    wider: list[str]  # kinds that are wider than high
    own_size: list[str]  # kinds of which two bare numbers are told and not of the room
    of_its_name: frozenset[str]  # attributes that a name carries before it: `4 inch duct`
    names_besides: frozenset[str]  # attributes of work whose words name a thing, too
    feeds: dict[str, list[str]]
    tool_does: dict[str, list[str]]
    also_says: dict[str, dict[str, str]]  # a name of a part: what it says besides
    trade_of: dict[str, str]
    taken_out: dict[str, str]  # kind of product: what taking it out is
    covers: list[str]  # tools that are laid over what is kept clean
    containers: list[str]  # kinds of things that hold other things
    tool_of: dict[str, str]  # action: the tool that it is named by
    made_of: dict[str, str]
    by_thing: dict[str, dict[str, str]]
    purposes: dict[str, list[str]]
    noun_of_doing: dict[str, str]
    done_to: list[dict[str, Any]]
    liquids: list[str]
    accessories: list[str]
    with_tool: dict[str, dict[str, str]]
    not_nouns: frozenset[tuple[str, ...]]
    instead: dict[str, str]
    of_product: dict[str, str]  # kind of product: what is done with it
    product_of: dict[str, str]  # action: the product that it puts on
    step_carries: dict[str, list[str]]
    part_carries: dict[str, list[str]]
    means: dict[str, dict[str, dict[str, str]]]
    no_things: frozenset[tuple[str, ...]]  # names of classes, which in a sentence name no thing
    goes_over: list[str]  # verbs that say only that something is worked on
    puts_on: list[str]  # verbs that say only that a product is put on
    given: dict[str, str]  # noun behind `give it a`: what is done
    told_apart: list[dict[str, Any]]  # verbs whose words stand apart
    tool_over: dict[str, list[str]]
    product_onto: dict[str, list[str]]
    pieces: dict[str, list[str]]  # kind: words for what belongs to it and names no thing of its own
    stands: dict[str, list[str]]  # kind: in or on what it usually is
    told_as_done: list[str]  # `the walls are patched` tells of work, `it is screwed on` of how it is
    either_kind: dict[str, list[str]]  # name: the kinds that it may mean
    piece_of_it: frozenset[tuple[str, ...]]  # words for a piece of a thing, or for what is wrong with it
    places: dict[str, frozenset[str]]  # words and kinds that tell in which room the work is
    closer_kinds: list[dict[str, Any]]  # wide kinds, and what they are by what else is told
    closer_verbs: list[dict[str, Any]]
    lower_rooms: dict[str, str]  # a living space with a room below the house: what both are
    order: dict[str, Any]  # which step comes first where no word tells it
    not_found_in: dict[str, list[str]]  # room: rooms in which its things do not stand
    usual_work: list[dict[str, list[str]]]  # kinds of parts, and what is usually done to them
    usual_rooms: list[dict[str, list[str]]]  # kinds of parts, and in which rooms they usually are
    changed: dict[str, Any]  # what is put in for one that is there, and the verbs that tell it
    usual_thing: dict[str, list[str]]  # action: kinds of parts that it is usually done to
    also_done: list[dict[str, list[str]]]  # kinds of parts, what is done to them, and what else is usual then
    done_with: dict[str, list[str]]  # action: products that it is usually done with
    names_its_product: dict[str, str]  # action: the product that it is never done without
    named_by_word: dict[str, dict[str, str]]  # action, word that tells it: the product
    stays_after: list[str]  # work on a thing that nobody does who then takes it out
    way_of_tool: dict[str, str]  # tool that puts on a coat: how it is put on
    sayings: list[Saying] = field(default_factory=list)
    told: dict[tuple[str, str], str] = field(default_factory=dict)  # by sort and attribute: the sentence that is told

    def has(self, group: str, word: str) -> bool:
        """Whether a single word stands in a group."""
        return (word,) in self.words[group]

    def color_end(self, tokens: Sequence[Token], place: int) -> int:
        """Where the color of one or two words that begins at a place ends; 0 where none does."""
        words = tuple(token.text for token in tokens[place : place + 2])
        return next((place + n for n in (2, 1) if len(words) >= n and words[:n] in self.words["colors"]), 0)


@lru_cache(maxsize=2)
def load_language(folder: Path | None = None) -> Language:
    """The language files of the rules' folder."""
    place = (folder or rules_folder()) / "language"
    data: dict[str, Any] = {}
    for path in sorted(place.glob("*.yaml")):
        data.update(read_file(path).plain())
    nouns = _with_household(data["nouns"], data["household names"])

    def phrases(listed: list[str]) -> frozenset[tuple[str, ...]]:
        return frozenset(folded(one) for one in listed)

    words = {group: phrases(listed) for group, listed in data["words"].items()}
    plain = {color for color in words["colors"] if len(color) == 1}
    words["colors"] |= {(*shade, *color) for shade in words["shades"] for color in plain}
    own = Language(
        words,
        Measures.made(data["numbers"]), data["actions"], data["irregular"], phrases(data["split"]),
        phrases(data["never"]), phrases(data["weak"]), frozenset(data["never_guessed"]), nouns,
        frozenset(word for line in data["ordinary"] for word in line.split()), data["inferred_rooms"],
        data["beside"], data["room words"],
        {name: float(value) for name, value in data["prior"].items()}, frozenset(data["never bare"]),
        data["sized by"], frozenset(data["seldom"]), data["work sized by"], data["beside a measure"], data["upright"],
        data["in feet"], data["wider than high"], data["own size"],
        frozenset(data["of its name"]), frozenset(data["names besides"]),
        data["feeds"],
        data["tool does"], data["also says"],
        data["trade of"], data["taken out"], data["covers"], data["containers"], data["tool of"],
        data["made of"],
        _all_forms(data["by thing"], data["irregular"]), data["purposes"], data["noun of doing"], data["done to"],
        data["liquids"], data["accessories"], data["with a tool"], phrases(data["not nouns"]),
        data["instead"], data["of product"], data["product of"], data["step carries"], data["part carries"],
        data["means"], phrases(data["no things"]), data["goes over"], data["puts on"], data["given"],
        data["told apart"], data["tool over"], data["product onto"], data["pieces of things"], data["stands"],
        data["told as done"],
        data["either kind"],
        phrases(data["piece of it"]),
        {name: frozenset(listed) for name, listed in data["places"].items()},
        data["closer kinds"], data["closer verbs"], data["lower rooms"], data["order"], data["not found in"],
        data["usual work"], data["usual rooms"], data["changed for another"],
        data["usual thing"], data["also done"], data["done with"], data["names its product"],
        data["named by its word"], data["stays after"], data["way of a tool"],
    )  # fmt: skip
    for sort, attributes in data["sayings"].items():
        for attribute, spec in attributes.items():
            _add(own, sort, attribute, spec)
    return own


def _with_household(nouns: dict[str, Any], more: dict[str, Any]) -> dict[str, dict[str, list[str]]]:
    """Names of things with those that are used at home beside them."""
    own = {role: {name: list(spellings) for name, spellings in listed.items()} for role, listed in nouns.items()}
    for role, listed in more.items():
        for name, spellings in listed.items():
            known = own.setdefault(role, {}).setdefault(name, [])
            known += [one for one in spellings if one not in known]
    return own


def verb_forms(language: Language, word: str) -> list[tuple[str, str]]:
    """The forms of a verb, each with what it is."""
    regular = forms.past(word)
    before, done = language.irregular.get(word, [regular, regular])
    if (word,) in language.words["bare of work"]:
        return [(word, "base"), (forms.third(word), "third")]  # `did`, `done`: nothing by themselves
    return [
        (word, "base"),
        (forms.third(word), "third"),
        (forms.gerund(word), "gerund"),
        (before, "past"),
        (done, "past"),
    ]


def _all_forms(rows: dict[str, Any], irregular: dict[str, list[str]]) -> dict[str, Any]:
    """The rows of verbs under each of their forms: `runs`, `ran` beside `run`."""
    found: dict[str, Any] = {}
    for verb, row in rows.items():
        for form in (verb, forms.third(verb), forms.gerund(verb), *irregular.get(verb, [forms.past(verb)])):
            found.setdefault(form, row)
    return found


def _add(own: Language, sort: str, attribute: str, spec: dict[str, Any]) -> None:
    if told := spec.get("say"):
        own.told[sort, attribute] = told
        heard = told
        for lead in ("{thing} is ", "{thing} has ", "there is ", "there are ", "{thing} "):
            heard = heard.removeprefix(lead)
        heard = heard.removesuffix(" of {thing}")
        spec = {**spec, "hear": [heard, *spec.get("hear", ())]}
    for one in dict.fromkeys(spec.get("hear", ())):
        own.sayings.append(Saying(sort, attribute, _pattern(one)))
    for answer in ("yes", "no"):
        own.sayings.extend(Saying(sort, attribute, _pattern(one), answer) for one in spec.get(answer, ()))
    for word, listed in spec.get("words", {}).items():
        own.sayings.extend(Saying(sort, attribute, _pattern(one), word) for one in listed)


def _pattern(saying: str) -> tuple[str, ...]:
    before, sign, after = saying.partition(VALUE)
    return (*folded(before), *([VALUE] if sign else []), *folded(after))

"""`advisor vocabulary`: what a plan may say. Finds a word and explains it at 80 columns."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterable
from textwrap import wrap
from typing import Annotated

import typer

from advisor.rulebase.vocabulary import SORTS, Attribute, Presumption, Taxonomy, Vocabulary, fold
from advisor.units import noun

WIDTH = 80
_SHORT_LIST = 14  # a taxonomy of at most this many words is listed where an attribute uses it
_SECTIONS = {
    "house": "the house and who lives in it",
    "code": "which building codes are in force",
    "room": "rooms and places (section 'rooms:')",
    "part": "what is worked on or put in (section 'parts:')",
    "product": "what is used up (section 'products:')",
    "crew": "who does the work and what they own",
    "step": "the steps, in order (section 'steps:')",
    "budget": "money and time at hand",
}
_PLANNED = {
    "to_get": (
        "what is wanted and not there yet (section 'to_get:')",
        ("what", "for", "as"),
        "to_get: [{what: HEPA vacuum, for: [sand-doors]}, {what: tap, as: {lead_free: yes}, for: [fit-tap]}]",
    ),
    "to_find_out": (
        "what is unknown and will be looked at, measured or asked (section 'to_find_out:')",
        ("ask", "of", "attribute", "by"),
        "to_find_out: [{of: house, attribute: water_shutoff_known, by: fit-tap}]",
    ),
}
_SORT_OF = {"part_kind": "part", "product_kind": "product", "room_kind": "room", "action": "step"}
_PLAIN = {
    "text": "some words",
    "yes_no": "yes or no",
    "year": "a year",
    "count": "a whole number",
    "date": "a date",
    "profile": "places with measures",
}


def vocabulary_command(
    word: Annotated[
        list[str] | None,
        typer.Argument(metavar="[WORD]", help="A word, such as 'cabinet doors'."),
    ] = None,
) -> None:
    """Show what a plan may say, or explain one word of it."""
    status = show_vocabulary(" ".join(word) if word else None)
    if status:
        raise typer.Exit(status)


def show_vocabulary(word: str | None) -> int:
    """Print the whole vocabulary in short, or all that `word` means; 2 where it means nothing."""
    vocabulary = _built_in()
    if word is None or not word.strip():
        _print(_overview(vocabulary))
        return 0
    lines = explain(word, vocabulary)
    if not lines:
        print(_unknown(word, vocabulary), file=sys.stderr)
        return 2
    _print(lines)
    return 0


def _built_in() -> Vocabulary:
    from advisor.rulebase.vocabulary_files import load_vocabulary
    from advisor.tables import rules_folder

    return load_vocabulary([rules_folder() / "vocabulary"])


def _print(lines: Iterable[str]) -> None:
    from advisor.cli.outlet import bold, show

    for line in lines:
        heading = bool(line) and not line.startswith(" ")
        show(f"{bold(line) if heading else line}\n")


def _unknown(word: str, vocabulary: Vocabulary) -> str:
    from advisor.errors import clip, nearest

    known = {*SORTS, *vocabulary.taxonomies}
    known |= {name for listed in vocabulary.attributes.values() for name in listed}
    known |= {spelling for taxonomy in vocabulary.taxonomies.values() for spelling in taxonomy.spellings()}
    if found := vocabulary.instead.get(fold(word)):
        return f"'{clip(word)}' is not in the vocabulary. {found.sentence(clip(word))}"
    near = nearest(word, known)
    hint = f" Nearest: '{near}'." if near else ""
    return f"'{clip(word)}' is not in the vocabulary.{hint} 'advisor vocabulary' alone lists what there is."


def _overview(vocabulary: Vocabulary) -> list[str]:
    lines = ["What a plan may say. 'advisor vocabulary WORD' explains any word below."]
    for sort in SORTS:
        attributes = vocabulary.attributes.get(sort, {})
        lines += ["", f"{sort}: {_SECTIONS[sort]}", *_flow(attributes)]
    for section, (meaning, keys, _) in _PLANNED.items():
        lines += ["", *textwrap.wrap(f"{section}: {meaning}", 80, subsequent_indent="  "), *_flow(keys)]
    lines += ["", "lists of words, with how many each holds"]
    lines += _flow(f"{name} ({len(taxonomy.terms)})" for name, taxonomy in sorted(vocabulary.taxonomies.items()))
    return lines


def explain(word: str, vocabulary: Vocabulary) -> list[str]:
    """All that the word means, as lines of at most 80 columns: sorts, attributes, lists of words, words."""
    blocks: list[list[str]] = []
    for section, (meaning, keys, example) in _PLANNED.items():
        if fold(word) == fold(section):
            said = wrap("Such an entry states no fact: what rests on it is a hold point to tick.", WIDTH - 2)
            shown = wrap(f"as in: {example}", WIDTH - 4, break_on_hyphens=False)
            blocks.append([f"{section}: {meaning}", *(f"  {line}" for line in (*said, *shown)), *_flow(keys)])
    for sort in SORTS:
        if fold(word) in (sort, sort + "s"):
            blocks.append(_explain_sort(sort, vocabulary))
    for sort in SORTS:
        attribute = vocabulary.attribute(sort, word)
        if attribute:
            blocks.append(_explain_attribute(attribute, vocabulary))
    for name, taxonomy in sorted(vocabulary.taxonomies.items()):
        if fold(word) in (fold(name), fold(name) + "s"):
            blocks.append(_explain_taxonomy(taxonomy, vocabulary))
    for _, taxonomy in sorted(vocabulary.taxonomies.items()):
        term = taxonomy.find(word)
        if term:
            blocks.append(_explain_term(term, taxonomy, vocabulary))
            of = _SORT_OF.get(taxonomy.name)
            if of and not taxonomy.terms[term].gathered:
                blocks.append(_explain_what_matters(term, of, vocabulary))
    lines: list[str] = []
    for block in blocks:
        lines += [""] * bool(lines) + block
    return lines


def _explain_sort(sort: str, vocabulary: Vocabulary) -> list[str]:
    lines = [f"{sort}: {_SECTIONS[sort]}"]
    for attribute in vocabulary.attributes.get(sort, {}).values():
        lines += _labelled(attribute.name, f"{attribute.meaning} ({_kind(attribute)})", 22)
    return lines


def _explain_attribute(attribute: Attribute, vocabulary: Vocabulary) -> list[str]:
    article = "a" if attribute.sort in ("room", "part", "product", "step") else "the"
    lines = [f"{attribute.name} (of {article} {attribute.sort})"]
    lines += _labelled("meaning", attribute.meaning)
    lines += _labelled("write", _kind(attribute) + _limits(attribute))
    if attribute.type == "term":
        lines += _labelled("words", _words_of(vocabulary.taxonomies[attribute.of]))
    if attribute.aliases:
        lines += _labelled("also", ", ".join(attribute.aliases))
    lines += _labelled("example", attribute.example)
    lines += _labelled("question", attribute.ask.replace("{{ id }}", "NAME"))
    if attribute.quiet:
        lines += _labelled("left out", attribute.quiet)
    for presumption in attribute.presume:
        lines += _labelled("presumed", _presumed(presumption))
    return lines


def _explain_taxonomy(taxonomy: Taxonomy, vocabulary: Vocabulary) -> list[str]:
    lines = [f"{taxonomy.name}: {len(taxonomy.terms)} words"]
    users = [f"{a.name} of {a.sort}" for a in _users(taxonomy, vocabulary)]
    if users:
        lines += _labelled("used for", ", ".join(users))

    def branch(name: str, depth: int) -> None:
        term = taxonomy.terms[name]
        text = f"{name}: {term.meaning}" if term.meaning else name
        indent = " " * (2 + 2 * depth)
        lines.extend(wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent + "  "))
        for child in taxonomy.terms.values():
            if child.parents[:1] == (name,):  # under its first parent only, so that each word stands once
                branch(child.name, depth + 1)

    for term in taxonomy.terms.values():
        if not term.parents:
            branch(term.name, 0)
    return lines


def _explain_term(name: str, taxonomy: Taxonomy, vocabulary: Vocabulary) -> list[str]:
    term = taxonomy.terms[name]
    lines = [f"{name} (a word of the list '{taxonomy.name}')"]
    if term.meaning:
        lines += _labelled("meaning", term.meaning)
    if term.aliases:
        lines += _labelled("also", ", ".join(term.aliases))
    above = taxonomy.above(name)
    if above:
        lines += _labelled("is a kind of", ", ".join(above))
    below = sorted(taxonomy.below(name) - {name})
    if below:
        lines += _labelled("kinds of it", ", ".join(below))
    for attribute in _users(taxonomy, vocabulary)[:4]:
        written = f"[{name}]" if attribute.many else name
        lines += _labelled(f"in a {attribute.sort}", f"{attribute.name}: {written}")
    return lines


def _explain_what_matters(kind: str, sort: str, vocabulary: Vocabulary) -> list[str]:
    """What may be said of the kind, with the question that each answers; what most practices read comes first."""
    from advisor.rulebase.base import load_rulebase
    from advisor.rulebase.model import KIND_OF
    from advisor.rulebase.readers import practices_by_attribute
    from advisor.site.usual import usual_of

    known = vocabulary.attributes.get(sort, {})
    rulebase = load_rulebase()
    counts = practices_by_attribute(rulebase, sort, kind)
    senseless = usual_of(rulebase).senseless(sort, kind)
    every = [name for name in counts if name in known and name != KIND_OF[sort]]
    read = [name for name in every if name not in senseless]
    lines = [f"what may be said of {kind}, with the number of practices that read it"]
    for name in read:
        ask = known[name].ask.replace("{{ id }}", "it") or known[name].meaning
        lines += _labelled(f"{counts[name]:3} {name}", ask, 24)
    rest = [name for name in known if name not in counts and name != KIND_OF[sort]]
    lines += _labelled("seldom of it", ", ".join(name for name in every if name in senseless), 24)
    return [*lines, *_labelled("no practice", ", ".join(rest), 24)]


def _users(taxonomy: Taxonomy, vocabulary: Vocabulary) -> list[Attribute]:
    every = [a for sort in SORTS for a in vocabulary.attributes.get(sort, {}).values()]
    return [a for a in every if a.type == "term" and a.of == taxonomy.name]


def _kind(attribute: Attribute) -> str:
    if attribute.type == "term":
        what = f"a word of '{attribute.of}'"
    elif attribute.type == "ref":
        what = f"the name of a {attribute.of} of the plan"
    else:
        what = _PLAIN.get(attribute.type) or noun(attribute.type)
    return f"{what}, or a list of them" if attribute.many else what


def _limits(attribute: Attribute) -> str:
    if attribute.least and attribute.most:
        return f", from {attribute.least} to {attribute.most}"
    if attribute.least:
        return f", at least {attribute.least}"
    return f", at most {attribute.most}" if attribute.most else ""


def _words_of(taxonomy: Taxonomy) -> str:
    if len(taxonomy.terms) <= _SHORT_LIST:
        return ", ".join(taxonomy.terms)
    return f"{len(taxonomy.terms)} words; see 'advisor vocabulary {taxonomy.name}'"


def _presumed(presumption: Presumption) -> str:
    whose = f" for {', '.join(presumption.for_kinds)}" if presumption.for_kinds else ""
    unless = "".join(f", unless '{name}: {value}'" for name, value in presumption.unless)
    return f"{presumption.value}{whose} where the plan is silent{unless}: {presumption.because}"


def _labelled(label: str, text: str, width: int = 16) -> list[str]:
    lead = f"  {label}"
    lead = lead.ljust(width) if len(lead) < width else lead + "  "
    return wrap(
        text or "-", WIDTH, initial_indent=lead, subsequent_indent=" " * width,
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip


def _flow(words: Iterable[str]) -> list[str]:
    # A word of several parts ('box_kind (7)') stays on one line: its spaces are hidden from `wrap`.
    text = ", ".join(word.replace(" ", "\0") for word in words)
    lines = wrap(text, WIDTH, initial_indent="  ", subsequent_indent="  ", break_on_hyphens=False)
    return [line.replace("\0", " ") for line in lines]

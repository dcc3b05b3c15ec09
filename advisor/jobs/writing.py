"""A starting plan as YAML: what is to be filled in stands as comments that say the question."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from advisor.jobs.joining import Start
from advisor.jobs.reading import SECTIONS
from advisor.plan.editing import written
from advisor.plan.facts import question
from advisor.rulebase.vocabulary import Attribute, Vocabulary

_WIDTH = 110
_WORD = "WORD"  # `advisor vocabulary` lists those that there are
_SORTS = {"rooms": "room", "parts": "part", "products": "product"}
_FOREWORD = """\
# A starting plan. A line that begins with # is a question: write what you know and take the # away. Leave what you do
# not know as it is; the review asks for it. Change, add and delete what your job needs. A starting plan is no leave to
# begin: local code, the labels of your products and licensed trades have the last word.
"""


def write_start(start: Start, vocabulary: Vocabulary) -> str:
    """The text of the plan; `advisor review` reads it as it stands."""
    lines = [*_FOREWORD.splitlines(), f"title: {written(start.title)}"]
    lines += _open("house", start.ask, vocabulary)
    for section in SECTIONS:
        things = start.sections.get(section) or {}
        if things:
            lines += ["", f"{section}:"]
        for name, said in things.items():
            hints = list(_hints(start.ask.get(name, ()), _SORTS[section], said, vocabulary, name))
            lines += [*_block(name, said), *hints] if hints else _flow(f"  {name}: ", said)
    lines += _open("crew", start.ask, vocabulary)
    lines += ["", "steps:"]
    for step in start.steps:
        lines += _flow("  - ", step)
    return "\n".join(lines) + "\n"


def _open(sort: str, ask: Mapping[str, Iterable[str]], vocabulary: Vocabulary) -> list[str]:
    """A section of which nothing is known yet: its heading, and below it what may be said."""
    hints = list(_hints(ask.get(sort, ()), sort, {}, vocabulary, "", indent="  # "))
    return ["", f"{sort}:", *hints] if hints else []


def _hints(
    names: Iterable[str], sort: str, said: Mapping[str, Any], vocabulary: Vocabulary, thing: str, indent: str = "    # "
) -> Iterator[str]:
    for name in names:
        if name in said:  # another job says it
            continue
        attribute = vocabulary.attributes[sort][name]
        left = f"{indent}{name}: {_form(attribute)}"
        yield f"{left:<42}  # {question(attribute, thing.replace('-', ' ')) or attribute.meaning}"


def _form(attribute: Attribute) -> str:
    """The form of an answer, never an answer: what is not known must not look as if it were."""
    if attribute.type == "yes_no":
        return "yes or no"
    if attribute.type == "term":
        return _WORD
    return {"year": "YEAR", "count": "NUMBER", "ref": "NAME", "text": "WORDS"}.get(attribute.type, "NUMBER and unit")


def _block(name: str, said: Mapping[str, Any]) -> list[str]:
    """A thing line by line, so that the lines below it can be opened one by one."""
    return [f"  {name}:", *(f"    {key}: {written(value)}" for key, value in said.items())]


def _flow(lead: str, said: Mapping[str, Any]) -> list[str]:
    """A thing or step in braces, folded between two cells where it is long."""
    lines = [lead + "{"]
    indent = " " * (len(lead) + 1)
    cells = [f"{key}: {written(value)}" for key, value in said.items()]
    for number, cell in enumerate(cells):
        last = number == len(cells) - 1
        if number and len(lines[-1]) + len(cell) + 3 > _WIDTH:
            lines.append(indent)
        lines[-1] += cell + ("}" if last else ", ")
    return [line.rstrip() for line in lines]

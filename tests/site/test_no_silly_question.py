"""No silly question: none about what is stated, none that the thing cannot carry, answers in words and round figures.

Over all scenarios and the eighteen thin plans; what is silly of a thin plan was said by its writer (`silly.yaml`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from completions import Completer
from share import scenarios, taken
from thin_plans import MORE, THIN, load, names

from advisor.plan import read_plan
from advisor.plan.model import Plan
from advisor.review.asked import Question
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

HERE = Path(__file__).parent
OF_TERSE = HERE / "silly_of_terse.yaml"
LONGEST = 140  # letters: two lines of a terminal
NAMED = 3
_FIGURE = re.compile(r"-?(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?(?:-\d+/\d+)?|-?\d+/\d+")
_FRACTION = re.compile(r"-?(?:\d+-)?\d/(?:2|4|8)")
# Editions there are: of the model residential code and of the electrical code every three years (their title pages).
EDITIONS = {
    ("code", "residential"): {str(year) for year in range(2000, 2025, 3)},
    ("code", "electrical"): {str(year) for year in range(1999, 2027, 3)},
}
# A question asks of these by name: `the year of its first paint or varnish` is one thing.
_LISTED = re.compile(r": (.*)\?$")


def _plans() -> Iterator[tuple[str, Any]]:
    for folder in (THIN, MORE):
        for name in names(folder):
            yield name, load(folder / f"{name}.yaml")
    yield from ((name, plan) for name, plan in scenarios() if taken(name, 3))


@cache
def _asked() -> list[tuple[str, Plan, dict[str, Any], list[Question]]]:
    rulebase = load_rulebase()
    found = []
    for name, written in _plans():
        plan = read_plan(written, rulebase.vocabulary)
        found.append((name, plan, written, review_plan(plan, rulebase).questions))
    return found


def test_nobody_is_asked_what_the_plan_states() -> None:
    """What is presumed or said loosely is asked; what is stated never, nor where a thing is that is put somewhere."""
    again = []
    for name, plan, _, questions in _asked():
        for sort, own, attribute in (key for question in questions for key in question.keys):
            entity = plan.entities.get(sort, {}).get(own)
            value = entity.values.get(attribute) if entity else None
            if value is not None and not value.presumed:
                again.append(f"{name}: {own}.{attribute}")
    assert again == []


def test_nobody_is_asked_what_the_thing_cannot_have() -> None:
    """The same list that the random completions keep to, which has a reason for each line."""
    table = load(HERE / "not_drawn.yaml")["only"]
    silly, words = [], load_rulebase().vocabulary
    for name, plan, written, questions in _asked():
        completer = Completer(written)
        for sort, own, attribute in (key for question in questions for key in question.keys):
            entity = plan.entities.get(sort, {}).get(own)
            known = words.attributes[sort][attribute]
            kind = entity.values.get("do" if sort == "step" else "kind") if entity else None
            if kind is None:
                continue
            word = str(kind.plain)
            # without kinds: no question of its own, but asked where a finding rests on it
            fit = [row for row in table if row["sort"] == sort and attribute in row["say"] and row["of"]]
            taxonomy = {"part": "part_kind", "product": "product_kind", "room": "room_kind", "step": "action"}[sort]
            if fit and not any(word in completer.below(taxonomy, row["of"]) for row in fit) and not known.presume:
                silly.append(f"{name}: {attribute} of {own}, a {word}")
            if sort == "part" and any(word in words.taxonomies["part_kind"].below(one) for one in known.not_asked_of):
                silly.append(f"{name}: {attribute} is not asked of {own}, a {word}")
    assert silly == []


def _is_round(figure: str) -> bool:
    if "/" in figure:
        return _FRACTION.fullmatch(figure) is not None
    digits = figure.lstrip("-").replace(",", "").replace(".", "").strip("0")
    return len(digits) <= 2


def test_answers_are_words_and_round_figures() -> None:
    """Two digits that count, a fraction of a rule, or a year of a decade; no name that the program made up."""
    odd, words = [], load_rulebase().vocabulary
    for name, _, _, questions in _asked():
        for question in questions:
            for answer in question.answers:
                known = words.attributes.get(answer.key[0], {}).get(answer.key[2])
                if (answer.key[0], answer.key[2]) in EDITIONS and answer.value in EDITIONS[
                    answer.key[0], answer.key[2]
                ]:
                    continue
                years = known is not None and known.type == "year"
                figures = _FIGURE.findall(answer.value)
                if "?" in answer.value or answer.value.startswith("unknown"):
                    odd.append(f"{name}: {answer.value}")
                if any(not _is_round(f) and not (years and f.endswith("0")) for f in figures):
                    odd.append(f"{name}: {question.ask} {answer.value}")
    assert odd == []


def test_a_question_is_short_and_names_few_things() -> None:
    long = []
    for name, _, _, questions in _asked():
        for question in questions:
            listed = _LISTED.search(question.ask) if question.sort != "missing" else None
            parts = re.split(r", | and (?=\d+ more$)", listed[1]) if listed else []
            named = [one for one in parts if not re.fullmatch(r"\d+ more", one)]
            if len(question.ask) > LONGEST or len(named) > NAMED:
                long.append(f"{name}: {question.ask}")
            if question.also and not question.ask.endswith(f"and {len(question.also)} more?"):
                long.append(f"{name}: {question.ask} does not say that it asks for {question.also}")
    assert long == []


def test_what_is_named_and_what_is_not_make_up_what_is_asked() -> None:
    """`and 2 more` hides nothing: what a question does not name stands beside it."""
    more = [question for _, _, _, questions in _asked() for question in questions if question.also]
    assert len(more) > 20
    for question in more:
        assert len({key[2] for key in question.keys}) == NAMED + len(question.also)


@pytest.mark.parametrize("name", [*names(THIN), *names(MORE)])
def test_at_most_one_question_of_a_thin_plan_is_silly(name: str) -> None:
    """Its writer said what would be, before anybody asked."""
    rows = [row for row in load(HERE / "silly.yaml") if row["plan"] == name]
    questions = next(questions for one, _, _, questions in _asked() if one == name)
    silly = {row["ask"] for row in _asking(rows, questions)}
    assert len(rows) >= 3
    assert len(silly) <= 1, silly


@pytest.mark.parametrize("name", sorted({row["plan"] for row in load(OF_TERSE)}))
def test_what_a_judge_called_silly_is_not_among_the_first_eight(name: str) -> None:
    """A ladder for a faucet, cloth insulation on a new outlet, the flash point of an acrylic paint."""
    plan = read_plan(HERE / "authors" / "terse-4" / f"{name}.yaml", load_rulebase().vocabulary)
    rows = [row for row in load(OF_TERSE) if row["plan"] == name]
    assert _asking(rows, review_plan(plan, load_rulebase()).questions[:8]) == []


def _asking(rows: list[dict[str, Any]], questions: list[Question]) -> list[dict[str, Any]]:
    """The rows that a question asks for."""
    return [
        row
        for row in rows
        if any(
            attribute in row["attributes"]
            and row.get("thing", own) == own
            and ("word" not in row or any(answer.value.endswith(row["word"]) for answer in question.answers))
            for question in questions
            for _, own, attribute in question.keys
        )
    ]


def test_the_list_of_silly_questions_is_that_of_the_writers() -> None:
    """Every row is one of theirs, in their words."""
    theirs = {
        (name, ask) for folder in (THIN, MORE) for name in names(folder)
        for ask in load(folder / f"{name}.expect.yaml")["silly"]
    }  # fmt: skip
    rows = {(row["plan"], row["ask"]) for row in load(HERE / "silly.yaml")}
    assert rows <= theirs
    assert len(theirs - rows) <= 2  # of insulation and carpets that no plan lists

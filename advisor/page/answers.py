"""What the page answers, as plain data: every function is what a command does, done in a worker process.

A plan comes in as text and nothing of it is kept. What a person typed wrong comes back as messages with their lines.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from advisor.errors import InputError, Problem
from advisor.page.render import render
from advisor.page.words import changed, counts, gauge
from advisor.plan import read_plan
from advisor.plan.editing import PlanText
from advisor.plan.model import Plan
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase, load_rulebase

NAME = "your plan"
Answer = dict[str, Any]
_TINY = "rooms: {room: {kind: kitchen}}\nparts: {wall: {kind: wall, room: room}}\nsteps: [{do: paint, to: wall}]\n"
_MOST_ASKED = 12
_WHY = {"only if": "said as a maybe, so it was not written"}


def prepare() -> None:
    """Read the rules, and whatever else is read once, before anybody asks."""
    look(_TINY)


def guarded(work: Callable[..., Answer]) -> Callable[..., Answer]:
    """Mistakes of the input become an answer: `problems`, each with its line."""
    from functools import wraps

    @wraps(work)
    def answer(*args: Any) -> Answer:
        try:
            return work(*args)
        except InputError as error:
            return {"problems": [_told(one) for one in error.problems[:50]]}

    return answer


@guarded
def look(text: str) -> Answer:
    """Everything that the page shows of a plan: what it says, questions, advice, order, the plan itself."""
    rulebase = load_rulebase()
    plan = read_plan(text, rulebase.vocabulary, NAME)
    report = review_plan(plan, rulebase, walking=True)
    return {
        "problems": [],
        "counts": counts(report),
        "gauge": gauge(report),
        "parts": _parts(text, plan, report, rulebase),
    }


def _parts(text: str, plan: Plan, report: Report, rulebase: RuleBase) -> dict[str, str]:
    from advisor.page.views import advice_views, card_views, order_view, question_views, sentence_views
    from advisor.reports.html import report_view

    return {
        "says": render("says.html.j2", v=report_view(report)),
        "questions": render("questions.html.j2", asked=question_views(text, plan, report, rulebase, _MOST_ASKED)),
        "advice": render("advice.html.j2", advice=advice_views(report)),
        "order": render("order.html.j2", **order_view(report)),
        "cards": render("cards.html.j2", **card_views(plan, rulebase)),
        "sentences": render("sentences.html.j2", sentences=sentence_views(plan, rulebase)),
    }


@guarded
def write(text: str, sort: str, own: str, attribute: str, value: str) -> Answer:
    """The plan with one value written, and what that changed; an empty value is taken for *don't know*."""
    from advisor.review.asking.answers import put
    from advisor.review.compare import compare

    rulebase = load_rulebase()
    plan = read_plan(text, rulebase.vocabulary, NAME)
    if attribute not in rulebase.vocabulary.attributes.get(sort, {}) or own not in plan.entities.get(sort, {own: None}):
        raise InputError([Problem(NAME, 0, 0, "This is not in the plan any more.")])
    written = put(text, plan, (sort, own, attribute), value, rulebase, NAME)
    after = review_plan(read_plan(written, rulebase.vocabulary, NAME), rulebase)
    return {"text": written, "told": changed(compare(review_plan(plan, rulebase), after)), "problems": []}


@guarded
def take(text: str, finding: str) -> Answer:
    """The plan with a finding's advice put in, the lines that change, and what that brings."""
    import difflib

    from advisor.review.compare import compare
    from advisor.review.revision.revise import accept

    revision = accept(text, NAME, [finding], load_rulebase())
    lines = difflib.unified_diff(revision.before.splitlines(), revision.after.splitlines(), lineterm="", n=1)
    shown = [line for line in lines if not line.startswith(("---", "+++", "@@"))]
    told = (
        changed(compare(revision.old, revision.new))
        if revision.after != revision.before
        else "Nothing to write: this is for you to do."
    )
    return {"text": revision.after, "diff": shown, "told": told, "problems": []}


@guarded
def move(text: str, number: int, places: int) -> Answer:
    """The plan with a step moved up (negative) or down by so many places."""
    rulebase = load_rulebase()
    plan = read_plan(text, rulebase.vocabulary, NAME)
    target = number + places
    if not (0 <= number < len(plan.steps) and 0 <= target < len(plan.steps)) or not places:
        raise InputError([Problem(NAME, 0, 0, "There is no place for the step there.")])
    document = PlanText(text)
    try:
        document.move_step(number, (target if places > 0 else target - 1) if target or places > 0 else None)
    except KeyError as error:
        message = (
            "The steps stand on one line of the file, so they cannot be moved one by one. Put each on its own line."
        )
        raise InputError([Problem(NAME, 0, 0, message)]) from error
    read_plan(document.text, rulebase.vocabulary, NAME)
    return {"text": document.text, "problems": []}


@guarded
def draft(words: str, into: str) -> Answer:
    """A plan from plain sentences, or the sentences added to a plan; what was heard, unsure and not understood."""
    from advisor.draft.adding import add
    from advisor.draft.draft import draft as hear
    from advisor.draft.writing import as_yaml

    rulebase = load_rulebase()
    if into.strip():
        text, heard = add(into, NAME, words, rulebase)
    else:
        heard = hear(words, rulebase)
        text = as_yaml(heard)
    pieces = [(one.span, "heard", one.path) for one in heard.heard]
    pieces += [(one.span, "unsure", "; ".join(c.path() for c in one.candidates) or one.why) for one in heard.unsure]
    pieces += [(span, "unheard", "not understood") for span in heard.unheard]
    written = bool(heard.plan or into.strip())
    offers, doubts = [], [(words[start:end], "not understood") for start, end in heard.unheard]
    for one in heard.unsure:
        said = words[slice(*one.span)]
        if written and one.candidates:
            offers.append((said, [_offered(c) for c in one.candidates]))
        else:
            doubts.append((said, _WHY.get(one.why, one.why) or "it was not clear what this is about"))
    return {
        "text": text if written else "",
        "heard": render("heard.html.j2", pieces=_marked(words, pieces), offers=offers, doubts=doubts),
        "problems": [] if written else [_told(Problem(NAME, 0, 0, "No step was heard: say what is done to what."))],
    }


def _offered(candidate: Any) -> dict[str, str]:
    """A way to take words, as a choice."""
    whose = "" if candidate.id == candidate.sort else f" of {candidate.id}"
    return {
        "sort": candidate.sort,
        "own": candidate.id,
        "attribute": candidate.attribute,
        "value": candidate.value,
        "said": f"{candidate.attribute.replace('_', ' ')}{whose}: {candidate.value}",
    }


def _marked(words: str, pieces: list[tuple[tuple[int, int], str, str]]) -> list[tuple[str, str, str]]:
    """The text in pieces, each with what became of it; where two overlap the graver word stands."""
    rank = {"unheard": 2, "unsure": 1, "heard": 0}
    found: list[tuple[str, str, str]] = []
    at = 0
    for (start, end), kind, why in sorted(pieces, key=lambda p: (p[0][0], -rank[p[1]], p[0][1])):
        if start < at:
            continue
        if start > at:
            found.append((words[at:start], "", ""))
        found.append((words[start:end], kind, why))
        at = end
    return [*found, (words[at:], "", "")] if at < len(words) else found


@guarded
def begin(jobs: list[str]) -> Answer:
    """A starting plan for usual jobs."""
    from advisor.jobs import find_jobs, join, read_jobs, write_start

    return {"text": write_start(join(find_jobs(jobs, read_jobs())), load_rulebase().vocabulary), "problems": []}


@guarded
def words() -> Answer:
    """The words that complete what is typed: asked for once, when the page opens."""
    from advisor.page.views import word_lists

    return {"lists": render("lists.html.j2", lists=word_lists(load_rulebase().vocabulary))}


def usual_jobs() -> list[tuple[str, str]]:
    """The usual jobs with what each does."""
    from advisor.jobs import read_jobs

    return [(job.name, job.says) for job in read_jobs()]


@guarded
def sheet(text: str, what: str) -> Answer:
    """A file to take away: its name, its kind and its content."""
    from advisor.page.sheets import SHEETS

    rulebase = load_rulebase()
    name, kind, make = SHEETS[what]
    report = review_plan(read_plan(text, rulebase.vocabulary, NAME), rulebase)
    return {"name": name, "kind": kind, "content": make(report, text), "problems": []}


def _told(problem: Problem) -> Mapping[str, Any]:
    return {"line": problem.line, "message": problem.message}

"""What the page answers, as plain data: every function is what a command does, done in a worker process.

A plan comes in as text and nothing of it is kept. What a person typed wrong comes back as messages with their lines.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from advisor.errors import InputError, Problem
from advisor.page.render import render
from advisor.page.words import changed, counts, gauge, plainly, refused
from advisor.plan import read_plan
from advisor.plan.added import is_added
from advisor.plan.editing import PlanText
from advisor.plan.model import Plan
from advisor.plan.said import words as stated_words
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase, load_rulebase

NAME = "Your plan"
Answer = dict[str, Any]
_TINY = "rooms: {room: {kind: kitchen}}\nparts: {wall: {kind: wall, room: room}}\nsteps: [{do: paint, to: wall}]\n"
_MOST_ASKED = 8
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
        "title": plan.title,
        "start": _start(plan),
        "parts": _parts(text, plan, report, rulebase),
    }


def _start(plan: Plan) -> str:
    """The first day of the work; empty where the plan does not say it."""
    return next(iter(stated_words(plan.entities["crew"]["crew"], "start")), "")


def _parts(text: str, plan: Plan, report: Report, rulebase: RuleBase) -> dict[str, str]:
    from advisor.page.views import (
        advice_views,
        card_views,
        country_view,
        order_view,
        question_views,
        sentence_views,
    )  # fmt: skip
    from advisor.reports.html import report_view
    from advisor.reports.pointing import ON_PAGE

    return {
        "says": render("says.html.j2", v=report_view(report, ON_PAGE), country=country_view(plan, rulebase)),
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
    words = rulebase.vocabulary
    plan = read_plan(text, words, NAME)
    there = own in plan.entities.get(sort, {own: None}) or is_added((sort, own, attribute), value, plan, words)
    if attribute not in rulebase.vocabulary.attributes.get(sort, {}) or not there:
        raise InputError([Problem(NAME, 0, 0, "This is not in the plan any more.")])
    try:
        written = put(_settled(text, own, attribute), plan, (sort, own, attribute), value, rulebase, NAME)
        after_plan = read_plan(written, rulebase.vocabulary, NAME)
    except InputError as error:
        raise InputError([Problem(NAME, 0, 0, refused(error.problems[0].message, value))]) from error
    after = review_plan(after_plan, rulebase)
    said = after_plan.entities.get(sort, {}).get(own)
    shown = said.values[attribute].text if said is not None and attribute in said.values else value
    told = f"Written: {shown}. {changed(compare(review_plan(plan, rulebase), after))}"
    return {"text": written, "told": told, "problems": []}


def _settled(text: str, own: str, attribute: str) -> str:
    """The text without the doubt of a draft that an answer settles: `# unsure: 'put up': (1) parts.fan.new: yes`."""
    ways = (f".{own}.{attribute}: ", f" {own}.{attribute}: ")
    lines = text.splitlines(keepends=True)
    return "".join(one for one in lines if not (one.startswith("# unsure: ") and any(way in one for way in ways)))


@guarded
def name(text: str, title: str) -> Answer:
    """The plan with its title: it stands on every sheet and in the names of files."""
    read_plan(text, load_rulebase().vocabulary, NAME)
    document = PlanText(text)
    document.set(["title"], " ".join(title.split()))
    read_plan(document.text, load_rulebase().vocabulary, NAME)
    return {"text": document.text, "problems": []}


@guarded
def take(text: str, finding: str) -> Answer:
    """The plan with a finding's advice put in, the lines that change, and what that brings."""
    import difflib

    from advisor.page.told import sentences
    from advisor.review.compare import compare
    from advisor.review.revision.revise import accept

    revision = accept(text, NAME, [finding], load_rulebase())
    lines = difflib.unified_diff(revision.before.splitlines(), revision.after.splitlines(), lineterm="", n=1)
    shown = [line for line in lines if not line.startswith(("---", "+++", "@@"))]
    if revision.after == revision.before:
        said, told = [], "Nothing to write: this is for you to do."
    else:
        said, told = sentences(revision), changed(compare(revision.old, revision.new))
    return {"text": revision.after, "diff": shown, "said": said, "told": told, "problems": []}


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
    from advisor.draft.writing import as_yaml, unchecked
    from advisor.page.offers import offer_views

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
    sure = [one for one in heard.unsure if written and one.candidates]
    doubts = [(words[start:end], "not understood") for start, end in heard.unheard]
    for one in heard.unsure:
        if one not in sure:
            doubts.append(
                (words[slice(*one.span)], _WHY.get(one.why, one.why) or "it was not clear what this is about")
            )
    offers = offer_views(words, sure, text, NAME, rulebase) if sure else []
    return {
        "text": text if written else "",
        "heard": render(
            "heard.html.j2",
            pieces=_marked(words, pieces),
            unchecked=unchecked(heard) if written else [],
            offers=offers,
            doubts=doubts,
        ),
        "problems": [] if written else [_told(Problem(NAME, 0, 0, "No step was heard: say what is done to what."))],
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
def sheet(text: str, what: str, start: str = "") -> Answer:
    """A file to take away: its name, its kind and its content; `start` is the first day, if the plan has none."""
    from advisor.page.sheets import SHEETS, file_name
    from advisor.review.asking.answers import put

    rulebase = load_rulebase()
    kind, make = SHEETS[what]
    plan = read_plan(text, rulebase.vocabulary, NAME)
    if start and not _start(plan):
        text = put(text, plan, ("crew", "crew", "start"), start, rulebase, NAME)
        plan = read_plan(text, rulebase.vocabulary, NAME)
    report = review_plan(plan, rulebase)
    return {"name": file_name(plan.title, what, kind), "kind": kind, "content": make(report, text), "problems": []}


def _told(problem: Problem) -> Mapping[str, Any]:
    return {"line": problem.line, "message": plainly(problem.message)}

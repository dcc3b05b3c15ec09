"""`advisor interview`: from a usual job, a sentence or a plan to a plan in which nothing grave is open."""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from advisor.cli.asking import Own

if TYPE_CHECKING:
    from advisor.jobs import Job
    from advisor.review.asking.walk import Offered
    from advisor.rulebase.base import RuleBase
    from advisor.site.assume import Key

PLAN = Path("plan.yaml")
_OFFERS = 3  # words of a draft that are asked about before anything else


def interview(
    start: Annotated[
        list[str] | None,
        typer.Argument(metavar="[START…]", help="A plan file, usual jobs (advisor new --list), or a sentence."),
    ] = None,
    output: Annotated[
        Path | None, typer.Option(help=f"Where a new plan is written; {PLAN} by default. A plan file is its own.")
    ] = None,
    rules: Own = None,
) -> None:
    """Ask one question at a time, the weightiest first, and write each answer into the plan at once.

    It ends when no answer would change anything grave, or when you stop. Run it again on the plan to go on.
    """
    from advisor.cli.reviewing import first_screen
    from advisor.cli.revising import Written
    from advisor.cli.walking import ask_all
    from advisor.review.asking.walk import Walk
    from advisor.rulebase.base import load_rulebase
    from advisor.site.hanging import CAUTION

    rulebase = load_rulebase(rules or [])
    path, offers, passed = _begin(start or [_listen_for_start()], output, rulebase)
    written = Written.read(path)
    walk = Walk.begin(written.text, str(path), rulebase, least=CAUTION, offers=offers, passed=passed)
    walk = ask_all(path, written, walk)
    print()
    first_screen(walk.report)


def _begin(start: list[str], output: Path | None, rulebase: RuleBase) -> tuple[Path, tuple[Offered, ...], set[Key]]:
    """The file of the plan, made where there was none; what a sentence left unsure, and what it said is not known."""
    from advisor.errors import InputError, Problem
    from advisor.jobs import join, read_jobs, write_start

    words = " ".join(start).strip()
    path = Path(start[0])
    if len(start) == 1 and (path.is_file() or path.suffix in (".yaml", ".yml")):
        if output is not None:
            message = "is for a new plan. A plan file is written in its place; leave --output out."
            raise InputError([Problem("--output", 0, 0, message)])
        return path, (), set()
    target = output or PLAN
    if target.exists():
        message = (
            f"is there already and may hold your plan. 'advisor interview {target}' goes on with it;"
            " or name another file with --output."
        )
        raise InputError([Problem(str(target), 0, 0, message)])
    known = read_jobs()
    jobs = _jobs(start, known)
    if jobs:
        _write(target, write_start(join(jobs), rulebase.vocabulary))
        print(f"A starting plan for: {', '.join(job.name for job in jobs)}.")
        return target, (), set()
    text, offers, passed = _drafted(words, known, rulebase)
    _write(target, text)
    return target, offers, passed


def _jobs(start: list[str], known: tuple[Job, ...]) -> list[Job]:
    """The usual jobs that the words name, if each of them does; a number is that of the list."""
    from advisor.jobs import find_jobs
    from advisor.rulebase.vocabulary import fold

    by_word = {fold(word): job for job in known for word in job.words}
    by_word |= {str(number): job for number, job in enumerate(known, 1)}
    for words in (start, [" ".join(start)], " ".join(start).split(",")):
        if words and all(fold(word) in by_word for word in words):
            return find_jobs([by_word[fold(word)].name for word in words], known)
    return []


def _drafted(words: str, known: tuple[Job, ...], rulebase: RuleBase) -> tuple[str, tuple[Offered, ...], set[Key]]:
    from advisor.draft.draft import draft
    from advisor.draft.tokens import checked
    from advisor.draft.writing import as_yaml
    from advisor.errors import InputError, Problem, clip, did_you_mean
    from advisor.review.asking.walk import Offered

    heard = draft(checked(words.encode("utf-8", "replace"), "the sentence"), rulebase)
    if not heard.plan.get("steps"):
        near = did_you_mean(words, {word for job in known for word in job.words}) if len(words) < 40 else ""
        message = (
            f"is no plan file, no usual job, and no work was heard in it.{near} Say what is done to what, such as"
            " 'we sand the kitchen doors'; 'advisor new --list' names the usual jobs."
        )
        raise InputError([Problem(f"'{clip(words)}'", 0, 0, message)])
    for line in heard.unheard[:1]:
        more = f" and {len(heard.unheard) - 1} more" if len(heard.unheard) > 1 else ""
        print(f"Not understood, and not in the plan: '{clip(heard.words(line))}'{more}.")
    offers = tuple(
        Offered(
            clip(heard.words(one.span)),
            tuple(((c.sort, c.id, c.attribute), c.value) for c in one.candidates),
            one.why if one.asks else "",
        )
        for one in heard.unsure
        if one.candidates
    )
    known_not = {(sort, own, name) for sort, own, name, _ in heard.board.unknown}
    return as_yaml(heard), offers[:_OFFERS], known_not


def _listen_for_start() -> str:
    """What is to be done, asked at the terminal: a usual job by its number or name, or a sentence."""
    from advisor.cli.walking import listen
    from advisor.jobs import read_jobs

    print("What do you want to do? Type the number of a usual job (several with commas), or say it in a sentence.")
    names = [f"{number} {job.name}" for number, job in enumerate(read_jobs(), 1)]
    print("\n".join(textwrap.wrap("; ".join(names) + ".", 80, initial_indent="   ", subsequent_indent="   ")))
    said = listen()
    if not said:
        print("Nothing was said; nothing was written.")
        raise typer.Exit
    return said


def _write(path: Path, text: str) -> None:
    from advisor.writing import write_whole

    write_whole(path, text)
    print(f"Your plan is {path}. Whenever you stop, 'advisor interview {path}' goes on.")

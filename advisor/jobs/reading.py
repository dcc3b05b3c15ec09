"""The usual jobs: one file each, a plan that lacks only what the person knows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from msgspec import Struct

from advisor.document import Node, read_file
from advisor.errors import InputError, Problem, clip, did_you_mean
from advisor.rulebase.vocabulary import fold
from advisor.tables import rules_folder

SECTIONS = ("rooms", "parts", "products")  # of named things, in the order of a plan
_KEYS = {"job", "also", "says", "ask", "plan"}


class Job(Struct, frozen=True):
    """One usual job. `plan` holds the sections as they are written, `ask` what only the person knows, by thing."""

    name: str
    also: tuple[str, ...]
    says: str
    plan: dict[str, Any]
    ask: dict[str, tuple[str, ...]]

    @property
    def words(self) -> tuple[str, ...]:
        """Every word under which it is found."""
        return (self.name, *self.also)


def read_jobs(folder: Path | None = None) -> tuple[Job, ...]:
    """All jobs by name; InputError lists what is wrong with their files."""
    jobs, problems, taken = [], [], dict[str, str]()
    for path in sorted((folder or rules_folder() / "jobs").glob("*.yaml")):
        node = read_file(path)
        found = list(_mistakes(node))
        if not found:
            job = _job(node)
            found = [
                node.problem(f"the job '{word}' is in {taken[fold(word)]} already. Expected one file for each.")
                for word in job.words
                if fold(word) in taken
            ]
            taken |= {fold(word): path.name for word in job.words}
            jobs.append(job)
        problems += found
    if problems:
        raise InputError(problems)
    return tuple(sorted(jobs, key=lambda job: job.name))


def find_jobs(words: Sequence[str], jobs: Iterable[Job]) -> list[Job]:
    """The jobs meant, each once, in the order asked for; InputError names each word that means none."""
    by_word = {fold(word): job for job in jobs for word in job.words}
    found: list[Job] = []
    problems = []
    for word in words:
        job = by_word.get(fold(word))
        if job is None:
            near = did_you_mean(word, by_word)
            problems.append(
                Problem(clip(word), 0, 0, f"is no usual job.{near} 'advisor new --list' names those that there are.")
            )
        elif job not in found:
            found.append(job)
    if problems:
        raise InputError(problems)
    return found


def _mistakes(node: Node) -> Iterable[Problem]:
    if node.kind != "mapping":
        yield node.problem("a job is a mapping of job, says, ask and plan.")
        return
    for key, (where, _) in node.pairs.items():
        if key not in _KEYS:
            yield where.problem(f"a job has no '{clip(key)}'. Expected {', '.join(sorted(_KEYS))}.")
    for key in ("job", "says", "plan"):
        if key not in node.pairs:
            yield node.problem(f"a job needs '{key}'.")


def _job(node: Node) -> Job:
    held = node.plain()
    ask = {thing: tuple(names) for thing, names in held.get("ask", {}).items()}
    return Job(held["job"], tuple(held.get("also", ())), held["says"], held["plan"], ask)

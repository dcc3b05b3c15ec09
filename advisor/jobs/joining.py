"""Several jobs as one plan: what they share stands once, what only bears the same name is told apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct, field

from advisor.jobs.reading import SECTIONS, Job

ANY_ROOM = "room"  # the kind of a room of which a job says no more
# How a step names things of a section; a thing names others of its own and of other sections.
_STEP_NAMES = ("to", "using", "in", "after", "result_of")


class Start(Struct):
    """A starting plan: a title, its sections as they are written, and what is still to be said of each thing."""

    title: str
    sections: dict[str, dict[str, dict[str, Any]]] = field(default_factory=dict)  # by section, then by id
    steps: list[dict[str, Any]] = field(default_factory=list)
    ask: dict[str, list[str]] = field(default_factory=dict)  # by thing; `house` and `crew` among them


def join(jobs: Sequence[Job]) -> Start:
    """One plan for the jobs, in their order.

    A room of the same name and kind is the same room, and so is one of which a job only says that it is a room. A part
    or product that two jobs write alike is one; where they write it otherwise, the later one gets a number. Steps
    written alike stand once, where the first job has them.
    """
    start = Start(" and ".join(job.name for job in jobs).capitalize())
    for job in jobs:
        renamed = dict[str, str]()
        for section in SECTIONS:
            kept = start.sections.setdefault(section, {})
            for name, said in job.plan.get(section, {}).items():
                renamed[name] = _place(kept, name, _with_names(said, renamed), rooms=section == "rooms")
        for section in SECTIONS:
            kept = start.sections[section]
            for name in job.plan.get(section, {}):
                kept[renamed[name]] = _with_names(kept[renamed[name]], renamed)
        _add_steps(start, job, renamed)
        for thing, names in job.ask.items():
            asked = start.ask.setdefault(renamed.get(thing, thing), [])
            asked += [name for name in names if name not in asked]
    return start


def _place(kept: dict[str, dict[str, Any]], name: str, said: Mapping[str, Any], *, rooms: bool) -> str:
    """Put a thing among those there are; the name it has there."""
    number, own = 1, name
    while own in kept:
        there = kept[own]
        if there == said:
            return own
        if rooms and (there["kind"] == said["kind"] or ANY_ROOM in (there["kind"], said["kind"])):
            kind = said["kind"] if there["kind"] == ANY_ROOM else there["kind"]
            kept[own] = {**said, **there, "kind": kind}
            return own
        number += 1
        own = f"{name}-{number}"
    kept[own] = dict(said)
    return own


def _with_names(said: Mapping[str, Any], renamed: Mapping[str, str]) -> dict[str, Any]:
    def one(value: Any) -> Any:
        if isinstance(value, list):
            return [one(member) for member in value]
        return renamed.get(value, value) if isinstance(value, str) else value

    return {key: value if key in ("kind", "note") else one(value) for key, value in said.items()}


def _add_steps(start: Start, job: Job, renamed: Mapping[str, str]) -> None:
    taken = {step["id"]: step for step in start.steps}
    own = dict[str, str]()
    for step in job.plan.get("steps", []):
        said = {key: _named(key, value, {**renamed, **own}) for key, value in step.items()}
        if taken.get(said["id"]) == said:
            continue
        name, number = said["id"], 1
        while said["id"] in taken:
            number += 1
            said["id"] = f"{name}-{number}"
        own[name] = said["id"]
        taken[said["id"]] = said
        start.steps.append(said)


def _named(key: str, value: Any, renamed: Mapping[str, str]) -> Any:
    if key not in _STEP_NAMES:
        return value
    if isinstance(value, list):
        return [renamed.get(one, one) for one in value]
    return renamed.get(value, value)

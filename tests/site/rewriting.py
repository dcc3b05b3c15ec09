"""What rewritings share: a plan's things, the change of each value, and what the rules say of a plan.

python -m tests.site.rewriting                     # every operator on every plan; or `make rewritings`
python -m tests.site.rewriting --only places_from_the_other_end --share 0.1
python -m tests.site.rewriting --only aliases --plan case/tiling/some-case    # the rewritten plan and what differs
"""

from __future__ import annotations

import argparse
import copy
import math
import random
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import yaml

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent), str(HERE.parents[1])]

from record import old_plans, sampled  # noqa: E402

from advisor.document import Node  # noqa: E402
from advisor.errors import InputError  # noqa: E402
from advisor.plan import make_facts, read_plan  # noqa: E402
from advisor.plan.values import is_unknown  # noqa: E402
from advisor.review.findings import make_findings  # noqa: E402
from advisor.rulebase.base import load_rulebase  # noqa: E402
from advisor.rulebase.vocabulary import Attribute  # noqa: E402
from advisor.site.run import run  # noqa: E402

Plan = dict[str, Any]
Thing = tuple[str, str, dict[str, Any]]  # sort, id, what is said of it
Number = tuple[str, float]
Heard = dict[tuple[str, str, str], list[tuple[Number, ...]]]  # rule, signal word, step: the numbers of each finding

SECTIONS = {"rooms": "room", "parts": "part", "products": "product"}
SINGLE = ("house", "code", "crew", "budget")
WORDS = load_rulebase().vocabulary


class Told(NamedTuple):
    """A rewritten plan; `same` names the step of the plan before for each new id, `merged` those that became one."""

    plan: Plan
    same: Mapping[str, str] = {}
    merged: Mapping[str, str] = {}


Operator = Callable[[Plan, random.Random], Told | None]  # None where it does not apply
OPERATORS: dict[str, Operator] = {}


def operator(change: Callable[[Plan, random.Random], Told | Plan | None]) -> Operator:
    """Register a rewriting. It gets a plan of its own, with step ids, and returns it, or None where nothing changed."""

    def apply(plan: Plan, pick: random.Random) -> Told | None:
        own = copy.deepcopy(plan)
        for step, name in zip(own["steps"], step_ids(own), strict=True):
            step["id"] = name
        before = copy.deepcopy(own)
        told = change(own, pick)
        told = Told(told) if isinstance(told, dict) else told
        return None if told is None or (told.plan == before and list(told.plan) == list(before)) else told

    OPERATORS[change.__name__] = apply
    return apply


def step_ids(plan: Plan) -> list[str]:
    """The ids of the steps as they are listed, those that the reader would make up included."""
    return list(read_plan(plan, WORDS).entities["step"])


def things(plan: Plan) -> Iterator[Thing]:
    """Everything of which something is said."""
    for sort in SINGLE:
        if isinstance(plan.get(sort), dict):
            yield sort, sort, plan[sort]
    for section, sort in SECTIONS.items():
        for own, said in (plan.get(section) or {}).items():
            if isinstance(said, dict):
                yield sort, own, said
    for step in plan["steps"]:
        yield "step", str(step.get("id", "")), step


def parts(plan: Plan) -> dict[str, dict[str, Any]]:
    """What is said of each part."""
    return {own: said for sort, own, said in things(plan) if sort == "part"}


def meant(sort: str, word: str) -> Attribute | None:
    """The attribute that a word of a plan means; nothing for a step's `id` and for a `note`."""
    return None if word == "note" or (sort, word) == ("step", "id") else WORDS.attribute(sort, word)


def key_of(sort: str, said: Mapping[str, Any], name: str) -> str | None:
    """How the plan writes that attribute of the thing, or None where it says nothing of it."""
    found = (word for word in said if (a := meant(sort, word)) and a.name == name and not unknown(said[word]))
    return next(found, None)


def kind_is(said: Mapping[str, Any], *kinds: str, sort: str = "part") -> bool:
    """Whether the thing is of one of these kinds."""
    terms = WORDS.taxonomies["part_kind" if sort == "part" else f"{sort}_kind"]
    own = terms.find(str(said.get("kind", ""))) or ""
    return any(own in terms.below(kind) for kind in kinds)


def unknown(value: Any) -> bool:
    """Whether the value says that nothing is known."""
    return not isinstance(value, dict | list) and is_unknown(Node("", 0, 0, "scalar", str(value)))


def members(value: Any) -> list[Any]:
    """A list, or a single value as one."""
    return list(value) if isinstance(value, list) else [value]


def each(plan: Plan, change: Callable[[Attribute, Any], Any]) -> Plan:
    """The plan with every known value changed; the function gives None for what it leaves alone."""
    for sort, _, said in things(plan):
        for word, value in said.items():
            attribute = meant(sort, word)
            if attribute is not None and not unknown(value):
                new = change(attribute, value)
                said[word] = value if new is None else new
    return plan


def each_word(plan: Plan, change: Callable[[Attribute, str], Any], *types: str) -> Plan:
    """The plan with every word (of a list too) of these types of attribute changed."""

    def one(attribute: Attribute, value: Any) -> Any:
        if attribute.type not in types or isinstance(value, dict):
            return None
        if not isinstance(value, list):
            return change(attribute, str(value))
        return [member if (new := change(attribute, str(member))) is None else new for member in value]

    return each(plan, one)


def hear(plan: Plan, same: Mapping[str, str] | None = None) -> Heard:
    """What the rules say of the plan as written, step ids put back by `same`."""
    rulebase = load_rulebase()
    read = read_plan(plan, WORDS)
    base = make_facts(read, WORDS)
    found: Heard = {}
    for finding in make_findings(run(rulebase, base.facts), read, base, rulebase):
        step = (same or {}).get(finding.step or "", finding.step or "")
        numbers = tuple(sorted((n.name, float(n.value)) for n in finding.numbers))
        found.setdefault((finding.rule, finding.signal, step), []).append(numbers)
    return found


def differences(plan: Plan, told: Told) -> list[str]:
    """What is said of one of them only; numbers may differ by rounding."""
    try:
        now = hear(told.plan, told.same)
    except InputError as error:
        return [f"refused: {error.problems[0].message}"]
    old: Heard = {}
    for (rule, signal, step), numbers in _before(plan).items():
        old.setdefault((rule, signal, told.merged.get(step, step)), []).extend(numbers)
    found = [f"goes: {' '.join(key)}" for key in sorted(old.keys() - now.keys())]
    found += [f"comes: {' '.join(key)}" for key in sorted(now.keys() - old.keys())]
    for key in sorted(old.keys() & now.keys()):
        if not (_all_in(old[key], now[key]) and _all_in(now[key], old[key])):
            found.append(f"numbers: {' '.join(key)}: {sorted(old[key])[:2]} -> {sorted(now[key])[:2]}")
    return found


_HEARD: dict[int, tuple[Plan, Heard]] = {}


def _before(plan: Plan) -> Heard:
    if id(plan) not in _HEARD:
        _HEARD.clear()
        _HEARD[id(plan)] = plan, hear({**plan, "steps": [{**s, "id": n} for s, n in _named(plan)]})
    return _HEARD[id(plan)][1]


def _named(plan: Plan) -> Iterable[tuple[dict[str, Any], str]]:
    return zip(plan["steps"], step_ids(plan), strict=True)


def _all_in(some: list[tuple[Number, ...]], others: list[tuple[Number, ...]]) -> bool:
    return all(any(_close(one, other) for other in others) for one in some)


def _close(one: tuple[Number, ...], other: tuple[Number, ...]) -> bool:
    return len(one) == len(other) and all(
        a == b and math.isclose(x, y, rel_tol=1e-6, abs_tol=1e-9) for (a, x), (b, y) in zip(one, other, strict=True)
    )


@lru_cache(maxsize=1)
def stored() -> dict[str, Plan]:
    """Scenarios, cases that speak, and generated plans, as the record holds them; those that are taken today."""
    from record import old_findings

    plans, found = old_plans(), old_findings()
    return {k: p for k, p in plans.items() if (found[k].said or not k.startswith("case/")) and not _refused(p)}


def _refused(plan: Plan) -> bool:
    try:
        read_plan(plan, WORDS)
    except InputError:
        return True
    return False


def rewritten(name: str, key: str) -> Told | None:
    """That plan by that operator, the same each time; None where it does not apply."""
    return OPERATORS[name](stored()[key], random.Random(f"{name}/{key}"))


def look(key: str, names: Iterable[str]) -> list[tuple[str, str, list[str]]]:
    """Operator, plan and differences, for each operator that applies to the plan."""
    found = []
    for name in names:
        told = rewritten(name, key)
        if told is not None:
            found.append((name, key, differences(stored()[key], told)))
    return found


def chosen(share: float, names: Iterable[str]) -> dict[str, list[str]]:
    """The operators to try on each plan: that share of all pairs, by a hash of the pair."""
    found = {key: [n for n in sorted(names) if sampled(f"{n}/{key}", share)] for key in stored()}
    return {key: some for key, some in found.items() if some}


def look_at(pair: tuple[str, list[str]]) -> list[tuple[str, str, list[str]]]:
    """`look`, for an executor."""
    import rewritings  # noqa: F401  registers the operators

    return look(*pair)


def main() -> int:
    """Status 1 where a rewriting changes what is said."""
    import rewritings  # noqa: F401

    parser = argparse.ArgumentParser(prog="python -m tests.site.rewriting", description=__doc__.split("\n")[0])
    parser.add_argument("--only", nargs="+", choices=sorted(OPERATORS), default=sorted(OPERATORS))
    parser.add_argument("--share", type=float, default=1.0, help="share of the pairs of operator and plan")
    parser.add_argument("--plan", help="one plan, shown as rewritten")
    parser.add_argument("--examples", type=int, default=2)
    parser.add_argument("--jobs", type=int, default=2)
    options = parser.parse_args()
    if options.plan:
        for name in options.only:
            told = rewritten(name, options.plan)
            print(name, "does not apply" if told is None else "", sep=": ")
            if told:
                print(yaml.safe_dump(told.plan, sort_keys=False, width=110))
                print(*differences(stored()[options.plan], told), sep="\n")
        return 0
    wanted = chosen(options.share, options.only)
    rows = []
    with ProcessPoolExecutor(options.jobs) as pool:
        for some in pool.map(look_at, wanted.items(), chunksize=4):
            rows += some
            for name, key, told in some:
                if told:
                    print(name, key, *told[:3], sep=" | ", file=sys.stderr, flush=True)
    print(summary(rows, options.examples))
    return int(any(row[2] for row in rows))


def summary(rows: list[tuple[str, str, list[str]]], examples: int = 2) -> str:
    """How often each operator applied and what differed, by rule."""
    lines = []
    for name in sorted(OPERATORS):
        mine = [row for row in rows if row[0] == name]
        bad = [row for row in mine if row[2]]
        lines.append(f"{name}: {len(mine)} plans, {len(bad)} differ")
        kinds = Counter(" ".join(text.split(" ")[:2]) for row in bad for text in set(row[2]))
        for kind, count in sorted(kinds.items(), key=lambda pair: (-pair[1], pair[0]))[:25]:
            seen = [f"{row[1]} ({t})" for row in bad for t in row[2] if " ".join(t.split(" ")[:2]) == kind]
            lines.append(f"    {count:4} {kind}   e.g. {'; '.join(seen[:examples])[:400]}")
    total = sum(bool(row[2]) for row in rows)
    return "\n".join([*lines, f"{len(rows)} rewritten plans by {len(OPERATORS)} operators, {total} differ"])


if __name__ == "__main__":
    import rewriting  # the module that the operators register with

    sys.exit(rewriting.main())

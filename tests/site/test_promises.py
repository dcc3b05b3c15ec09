"""Nothing comes from nowhere, and saying less never makes a plan look safer.

`make site` takes all plans; a usual run takes a share by a hash of the name and says so.
"""

from __future__ import annotations

import copy
from collections import Counter
from typing import Any

from completions import Completer
from deletions import about, deletions, named
from share import FULL, generated, rule_cases, scenarios, taken

from advisor.engine.run import Drawn, run
from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.evaluate import evaluate
from advisor.site.standing import step_of

COMPLETIONS = 50
GRAVE = ("danger", "warning", "caution")
# Of 19,454 pairs of a finding and a deletion 11 vanished when this was written, 8 of them by an attribute marked quiet,
# of which leaving it out is itself an answer.
Name = tuple[str, str]


def _spoken(plan: dict[str, Any]) -> dict[Name, list[Drawn]]:
    rulebase = load_rulebase()
    read = read_plan(copy.deepcopy(plan), rulebase.vocabulary)
    found: dict[Name, list[Drawn]] = {}
    for drawn in run(rulebase, make_facts(read, rulebase.vocabulary).facts).drawn:
        step = drawn.conclusion.step
        name = (drawn.why.variant.rule.id, "" if step is None else str(drawn.env[step.name]))  # type: ignore[attr-defined]
        found.setdefault(name, []).append(drawn)
    return found


def _may_speak(plan: dict[str, Any]) -> set[Name]:
    rulebase = load_rulebase()
    read = read_plan(copy.deepcopy(plan), rulebase.vocabulary)
    possible = evaluate(read, make_facts(read, rulebase.vocabulary), rulebase)
    return {(one.rule.id, step_of(one)) for one in possible.drawn}


def test_nothing_comes_from_nowhere(capsys: Any) -> None:
    """Whatever the unknowns turn out to be, what speaks then spoke before or was open."""
    plans = [*scenarios(), *((n, p) for n, p in generated(300) if taken(n))]
    count, turns, left_out = 0, Counter[str](), Counter[str]()
    escaped: dict[str, Counter[Name]] = {}
    for name, plan in plans:
        may = _may_speak(plan)
        completer = Completer(plan)
        for seed in range(COMPLETIONS if FULL else 5):
            found = _spoken(completer.draw(seed))
            turns[name] += 1
            count += len(found)
            for one in found.keys() - may:
                escaped.setdefault(name, Counter())[one] += 1
        left_out += completer.left_out
    with capsys.disabled():
        part = "all" if FULL else "a tenth"
        print(f"\n{count} findings of {turns.total()} completions of {len(plans)} plans ({part});"
              f" {left_out.total()} draws left out by not_drawn.yaml")  # fmt: skip
    assert count > 2000
    assert escaped == {}


def test_saying_less_never_looks_safer(capsys: Any) -> None:
    """Take out any one thing: a grave finding still speaks, or is open, or was about what was taken out."""
    rulebase = load_rulebase()
    words = rulebase.vocabulary
    quiet = {(sort, name) for sort, known in words.attributes.items() for name, a in known.items() if a.quiet}
    plans = [(n, p) for n, p in (*scenarios(), *rule_cases()) if taken(n, 60)]
    pairs = by_quiet = 0
    vanished: list[str] = []
    for name, plan in plans:
        whole = named(plan, words)
        grave = {k: ds for k, ds in _spoken(whole).items() if any(d.conclusion.signal in GRAVE for d in ds)}
        for gone in deletions(whole, words) if grave else ():
            try:
                left = _spoken(gone.plan)
            except InputError:
                continue
            pairs += len(grave)
            lost = [k for k in grave if k not in left and not any(about(d, gone) for d in grave[k])]
            lost = [k for k in lost if not (gone.sort == "step" and not gone.attribute and k[1] == gone.thing)]
            may = _may_speak(gone.plan) if lost else set()
            for one in lost:
                if one in may:
                    continue
                if (gone.sort, gone.attribute) in quiet:
                    by_quiet += 1
                else:
                    vanished.append(f"{name}: {one} without {gone}")
    with capsys.disabled():
        print(f"\n{pairs} pairs of a grave finding and a deletion ({'all' if FULL else 'a sixtieth'} of the plans);"
              f" {by_quiet} went by an attribute of which leaving it out is an answer")  # fmt: skip
    assert pairs > 1000
    assert vanished == []
    assert by_quiet <= pairs / 1000

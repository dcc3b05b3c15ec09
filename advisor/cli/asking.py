"""`advisor questions`, `why`, `why-not`: what an answer would change, and why a rule speaks or does not."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from advisor.plan.model import Plan
    from advisor.review.whatif import Effect, Ranked
    from advisor.rulebase.base import RuleBase


class QuestionForm(StrEnum):
    """Forms of the questions."""

    text = "text"
    json = "json"


class WhyForm(StrEnum):
    """Forms of an explanation."""

    text = "text"
    json = "json"
    dot = "dot"


PlanFile = Annotated[Path, typer.Argument(metavar="PLAN", help="A plan file; - reads standard input.")]
_ASKED = 3  # times a question is put before it is left open
TRIALS = 300  # what-if runs before the questions that no finding rests on are left out
Own = Annotated[list[Path] | None, typer.Option("--rules", metavar="DIR", help="A folder of rule packs of your own.")]


def read(path: Path, rules: list[Path] | None) -> tuple[Plan, RuleBase]:
    """The plan and the rules."""
    from advisor.plan import read_plan
    from advisor.rulebase.base import load_rulebase

    rulebase = load_rulebase(rules or [])
    return read_plan(path, rulebase.vocabulary), rulebase


def questions(
    plan: PlanFile,
    rules: Own = None,
    most: Annotated[int, typer.Option(help="How many questions to print.", min=1)] = 10,
    every: Annotated[bool, typer.Option("--all", help="Try every open question, however long it takes.")] = False,
    ask: Annotated[bool, typer.Option("--ask", help="Ask the first one and write the answer into the plan.")] = False,
    form: Annotated[QuestionForm, typer.Option("--format", help="text or json.")] = QuestionForm.text,
) -> None:
    """Say which open questions would change the report, the weightiest first."""
    from advisor.cli.files import put
    from advisor.errors import InputError, Problem
    from advisor.plan.tree import STANDARD_INPUT
    from advisor.review.whatif import rank_questions

    if ask and plan == STANDARD_INPUT:
        raise InputError([Problem("-", 0, 0, "is standard input. Expected a file, into which --ask writes.")])
    read_one, rulebase = read(plan, rules)
    ranking = rank_questions(read_one, rulebase, most_trials=None if every else TRIALS)
    ranked = ranking.questions
    if form == "json":
        import json

        put(json.dumps([_data(r) for r in ranked[:most]], ensure_ascii=False, indent=2) + "\n", None, "json")
        return
    if not ranked:
        print("No answer that is still open would change a finding.")
        return
    if ask:
        most = 1
    for number, one in enumerate(ranked[:most], 1):
        _show(number, one)
    if len(ranked) > most and not ask:
        print(f"and {len(ranked) - most} more (--most {len(ranked)})")
    if ranking.untried and not ask:
        print(f"{ranking.untried} questions that no finding rests on were not tried (--all tries them).")
    if ask:
        _ask(plan, ranked[0], rules)


def _show(number: int, one: Ranked) -> None:
    import textwrap

    presumed = f" (presumed: {one.basis.value})" if one.basis.value else ""
    print("\n".join(textwrap.wrap(f"{number}. {one.basis.ask}{presumed}", 80, subsequent_indent="   ")))
    for effect in one.effects[:3]:
        print(
            "\n".join(
                textwrap.wrap(
                    f"if {effect.answer}: {told(effect)}", 80, initial_indent="   - ", subsequent_indent="     "
                )
            )
        )


def told(effect: Effect) -> str:
    """What an answer does, in words: `2 warnings go (test-for-lead), 1 notice comes (…)`."""
    from advisor.review.trials import rule_of

    parts = []
    for items, one, many in ((effect.gone, "goes", "go"), (effect.new, "comes", "come")):
        for signal in ("danger", "warning", "caution", "notice"):
            names = sorted({rule_of(i) for i, s in items if s == signal})
            count = sum(s == signal for _, s in items)
            if count:
                listed = ", ".join(names[:3]) + (" …" if len(names) > 3 else "")
                parts.append(f"{count} {signal}{'s' * (count != 1)} {one if count == 1 else many} ({listed})")
    return ", ".join(parts)


def _data(one: Ranked) -> dict[str, object]:
    return {
        "ask": one.basis.ask,
        "about": one.basis.about,
        "presumed": one.basis.value or None,
        "answers": [
            {"answer": e.answer, "gone": [i for i, _ in e.gone], "new": [i for i, _ in e.new]} for e in one.effects
        ],
    }


def _ask(path: Path, one: Ranked, rules: list[Path] | None) -> None:
    """Put the question till an answer fits, and write it into the plan; the old text stays in `PLAN.bak`."""
    from advisor.cli.revising import settle
    from advisor.errors import InputError

    where = one.basis.attribute if one.basis.id == one.basis.sort else f"{one.basis.id}.{one.basis.attribute}"
    section = one.basis.sort if one.basis.id == one.basis.sort else f"{one.basis.sort}s"
    such = ", ".join(effect.answer for effect in one.effects[:4])
    print(f"\nSuch as {such}; nothing to leave it open.")
    for _ in range(_ASKED):
        try:
            print(one.basis.ask, end=" ", flush=True)  # no prompt of typer's: that would go past the outlet
            answer = input().strip()
        except EOFError:  # the input ended: no answer, and no status of a review
            answer = ""
        if not answer:
            break
        try:
            settle(path, f"{section}.{where}={answer}", rules)
        except InputError as error:
            print(error.problems[0].message)
            continue
        print(f"Written to {path}; the plan as it was is in {path.name}.bak.")
        return
    print("No answer; nothing was written.")


def why(
    plan: PlanFile,
    finding: Annotated[str, typer.Argument(metavar="FINDING", help="A finding's id, or its rule.")],
    rules: Own = None,
    form: Annotated[WhyForm, typer.Option("--format", help="text, json or dot.")] = WhyForm.text,
) -> None:
    """Explain a finding down to the plan's lines, what was presumed, and the sources."""
    import json

    from advisor.cli.files import put
    from advisor.errors import clip, did_you_mean
    from advisor.plan import make_facts
    from advisor.review.reviewing import review_plan
    from advisor.review.why import as_dot, as_text, as_tree, explain

    read_one, rulebase = read(plan, rules)
    report = review_plan(read_one, rulebase)
    found = [f for f in report.findings if finding in (f.id, f.rule)]
    if not found:
        known = [f.id for f in report.findings]
        print(f"no finding '{clip(finding)}' in this plan.{did_you_mean(finding, known)}", file=sys.stderr)
        raise typer.Exit(2)
    base = make_facts(read_one, rulebase.vocabulary)
    trees = [explain(f, read_one, base, rulebase) for f in found]
    if form == "json":
        put(json.dumps([as_tree(t) for t in trees], ensure_ascii=False, indent=2) + "\n", None, "json")
    else:
        sys.stdout.write("\n".join((as_dot if form == "dot" else as_text)(t) for t in trees))


def why_not(
    plan: PlanFile,
    rule: Annotated[str, typer.Argument(metavar="RULE", help="A rule's id.")],
    step: Annotated[str | None, typer.Argument(metavar="[STEP]", help="A step of the plan.")] = None,
    rules: Own = None,
) -> None:
    """Say why a rule stays silent: the condition that failed, and on what."""
    import textwrap

    from advisor.engine.run import run
    from advisor.errors import clip, did_you_mean
    from advisor.plan import make_facts
    from advisor.review.why import Teller
    from advisor.review.whynot import Seeker

    read_one, rulebase = read(plan, rules)
    found = rulebase.rule(rule)
    if found is None:
        print(f"unknown rule '{clip(rule)}'.{did_you_mean(rule, [r.id for r in rulebase.rules])}", file=sys.stderr)
        raise typer.Exit(2)
    steps = [s.id for s in read_one.steps]
    if step is not None and step not in steps:
        print(f"no step '{clip(step)}' in this plan.{did_you_mean(step, steps)}", file=sys.stderr)
        raise typer.Exit(2)
    base = make_facts(read_one, rulebase.vocabulary)
    memory = run(rulebase, base.facts).memory
    miss = Seeker(memory, Teller(read_one, base, rulebase), rulebase).nearest_miss(found, step)
    if miss is None:
        print(f"{rule} speaks{f' at {step}' if step else ''}: advisor why {plan} {rule}")
        return
    print(f"{rule} is silent: {miss.held} of {miss.total} conditions hold.")
    lead = ""
    while miss is not None:
        print("\n".join(textwrap.wrap(f"{lead}Fails: {miss.failed}", 80, subsequent_indent="  ")))
        place = f" (line {miss.line})" if miss.line else ""
        print("\n".join(textwrap.wrap(f"Because {miss.detail}{place}.", 80, subsequent_indent="  ")))
        miss = miss.behind
        if miss is not None:
            lead = f"That would come from rule {miss.rule}: {miss.held} of {miss.total} conditions hold. "

"""`advisor questions`, `why`, `why-not`: what an answer would change, and why a rule speaks or does not."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from advisor.plan.model import Plan
    from advisor.review.asked import Answer, Question
    from advisor.review.model import Report
    from advisor.rulebase.base import RuleBase


MOST_ANSWERS = 3


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
    every: Annotated[bool, typer.Option("--all", help="Print every question.")] = False,
    ask: Annotated[bool, typer.Option("--ask", help="Ask one by one and write each answer into the plan.")] = False,
    form: Annotated[QuestionForm, typer.Option("--format", help="text or json.")] = QuestionForm.text,
) -> None:
    """Say what is worth asking, the weightiest first: what each answer brings, and what it takes away."""
    from advisor.cli.files import put
    from advisor.errors import InputError, Problem
    from advisor.plan.tree import STANDARD_INPUT
    from advisor.reports.notes import words_below
    from advisor.review.reviewing import review_plan

    if ask and plan == STANDARD_INPUT:
        raise InputError([Problem("-", 0, 0, "is standard input. Expected a file, into which --ask writes.")])
    if ask:
        _walk(plan, rules)
        return
    read_one, rulebase = read(plan, rules)
    report = review_plan(read_one, rulebase)
    asked = report.questions
    if every:
        most = max(len(asked), 1)
    if form == "json":
        import json

        put(json.dumps([_data(one) for one in asked[:most]], ensure_ascii=False, indent=2) + "\n", None, "json")
        return
    if not asked:
        print("No question is left whose answer a rule here would use.")
        return
    signals = {one.id: one.signal for one in report.open} | {f.id: f.signal for f in report.findings}
    lines = [line for number, one in enumerate(asked[:most], 1) for line in _shown(number, one, signals)]
    if len(asked) > most:
        lines.append(f"and {len(asked) - most} more (--all)")
    print("\n".join([*lines, *words_below(lines, report)]))


def _walk(plan: Path, rules: list[Path] | None) -> None:
    """The interview, about all that is open and not only what is grave."""
    from advisor.cli.revising import Written
    from advisor.cli.walking import ask_all
    from advisor.review.asking.walk import Walk
    from advisor.rulebase.base import load_rulebase

    written = Written.read(plan)
    ask_all(plan, written, Walk.begin(written.text, str(plan), load_rulebase(rules or [])))


def _shown(number: int, one: Question, signals: dict[str, str]) -> list[str]:
    from textwrap import wrap

    presumed = f" (presumed: {one.presumed})" if one.presumed else ""
    shown = wrap(f"{number}. {one.ask}{presumed}", 80, subsequent_indent="   ")
    if one.also:
        shown += wrap(f"And: {', '.join(one.also)}.", 80, initial_indent="   ", subsequent_indent="   ")
    lines = list(dict.fromkeys(f"if {a.words}: {told(a, signals)}" for a in joined(one.answers)))[:MOST_ANSWERS]
    if not lines:
        rules = ", ".join(one.of[:3]) + (" …" if len(one.of) > 3 else "")
        lines = [f"it decides on {rules}"] if rules else []
    return shown + [
        part for line in lines for part in wrap(line, 80, initial_indent="   - ", subsequent_indent="     ")
    ]


def joined(answers: Sequence[Answer]) -> list[Answer]:
    """The answers, those that say the same of several things told as one: what comes and goes with any of them."""
    from msgspec.structs import replace

    found: dict[str, Answer] = {}
    for one in answers:
        known = found.get(one.words)
        if known is None:
            found[one.words] = one
        elif one.comes or one.goes:
            sure = known if known.comes or known.goes else one
            comes, goes = dict.fromkeys(known.comes + one.comes), dict.fromkeys(known.goes + one.goes)
            found[one.words] = replace(sure, comes=tuple(comes), goes=tuple(goes))
    return list(found.values())


def told(answer: Answer, signals: dict[str, str]) -> str:
    """What an answer does, in words: `2 warnings go (test-for-lead), 1 notice comes (…)`."""
    parts = []
    for items, one, many in ((answer.goes, "goes", "go"), (answer.comes, "comes", "come")):
        for signal in ("danger", "warning", "caution", "notice"):
            mine = [name for name in items if signals.get(name, "notice") == signal]
            names = sorted({name.partition("@")[0] for name in mine})
            if mine:
                listed = ", ".join(names[:3]) + (" …" if len(names) > 3 else "")
                word = f"{signal}{'s' * (len(mine) != 1)}"
                parts.append(f"{len(mine)} {word} {one if len(mine) == 1 else many} ({listed})")
    return ", ".join(parts) or f"further answers decide on {answer.decides}"


def _data(one: Question) -> dict[str, object]:
    from advisor.reports.data import question_data

    return {"ask": one.ask, "presumed": one.presumed or None, "hangs": list(one.hangs), **question_data(one)}


def why(
    plan: PlanFile,
    finding: Annotated[
        str, typer.Argument(metavar="FINDING", help="A finding's id, its rule, or the number that the report prints.")
    ],
    rules: Own = None,
    form: Annotated[WhyForm, typer.Option("--format", help="text, json or dot.")] = WhyForm.text,
) -> None:
    """Explain a finding down to the plan's lines, what was presumed, and the sources."""
    import json

    from advisor.cli.files import put
    from advisor.errors import clip, did_you_mean
    from advisor.plan import make_facts
    from advisor.reports.arrange import printed_number
    from advisor.reports.notes import words_below
    from advisor.review.reviewing import review_plan
    from advisor.review.rules_there import settle
    from advisor.review.told_once import known_names, names
    from advisor.review.why.told import as_text
    from advisor.review.why.why import as_dot, as_tree, explain

    read_one, rulebase = read(plan, rules)
    report = review_plan(read_one, rulebase)
    wanted = printed_number(report, finding)
    found = [f for f in report.findings if wanted & names(f)]
    if not found:
        if finding.partition("@")[0] in {one.rule for one in report.open} and form == "text":
            rule, _, step = finding.partition("@")
            _tell_open(read_one, rulebase, report, rule, step or None)
            return
        known = known_names(report.findings)
        more = f" See: advisor why-not {plan} {clip(finding)}" if rulebase.rule(finding) else ""
        print(f"no finding '{clip(finding)}' in this plan.{did_you_mean(finding, known)}{more}", file=sys.stderr)
        raise typer.Exit(2)
    base = make_facts(read_one, rulebase.vocabulary)
    trees = [explain(f, read_one, base, settle(read_one, rulebase)) for f in found]
    if form == "json":
        put(json.dumps([as_tree(t) for t in trees], ensure_ascii=False, indent=2) + "\n", None, "json")
    elif form == "dot":
        sys.stdout.write("\n".join(as_dot(t) for t in trees))
    else:
        said = "\n".join(as_text(f, t, read_one.units) for f, t in zip(found, trees, strict=True))
        meant = words_below(said.splitlines(), report)
        sys.stdout.write(said + "".join(f"{line}\n" for line in meant))


def _tell_open(read_one: Plan, rulebase: RuleBase, report: Report, rule: str, step: str | None) -> None:
    """What an open practice is about, and the answers for which it waits."""
    from advisor.plan import make_facts
    from advisor.review.rules_there import settle
    from advisor.review.what_is_open import stands
    from advisor.site.run import run

    one = next(one for one in report.open if one.rule == rule)
    _say(f"Not judged yet ({one.signal}): {one.title}. It waits for an answer.")
    rulebase = settle(read_one, rulebase)
    base = make_facts(read_one, rulebase.vocabulary)
    if found := rulebase.rule(rule):
        for line in stands(found, step, read_one, base, rulebase, run(rulebase, base.facts).unchecked):
            _say(line)


def why_not(
    plan: PlanFile,
    rule: Annotated[str, typer.Argument(metavar="RULE", help="A rule's id.")],
    step: Annotated[str | None, typer.Argument(metavar="[STEP]", help="A step of the plan.")] = None,
    rules: Own = None,
) -> None:
    """Say why a rule stays silent: open, met, or no concern of the step; the condition that failed, and on what."""
    from advisor.errors import clip, did_you_mean
    from advisor.plan import make_facts
    from advisor.review.rules_there import settle
    from advisor.review.what_is_open import stands
    from advisor.review.why.why import Teller
    from advisor.review.why.why_not import Seeker
    from advisor.site.run import run

    read_one, rulebase = read(plan, rules)
    found = rulebase.rule(rule)
    if found is None:
        print(f"unknown rule '{clip(rule)}'.{did_you_mean(rule, [r.id for r in rulebase.rules])}", file=sys.stderr)
        raise typer.Exit(2)
    steps = [s.id for s in read_one.steps]
    if step is not None and step not in steps:
        print(f"no step '{clip(step)}' in this plan.{did_you_mean(step, steps)}", file=sys.stderr)
        raise typer.Exit(2)
    rulebase = settle(read_one, rulebase)
    if (there := rulebase.rule(rule)) is None:
        _say(f"{rule} is silent: it rests on the law of another country than the house stands in, or on its figures.")
        return
    found = there
    base = make_facts(read_one, rulebase.vocabulary)
    outcome = run(rulebase, base.facts)
    if rule in outcome.unchecked:
        _say(f"{rule} was not checked, so nobody can say whether it would speak: {outcome.unchecked[rule]}.")
        _say("Make several smaller plans of this one and check each.")
        return
    miss = Seeker(outcome.memory, Teller(read_one, base, rulebase), rulebase).nearest_miss(found, step)
    if miss is None:
        print(f"{rule} speaks{f' at {step}' if step else ''}: advisor why {plan} {rule}")
        return
    for line in stands(found, step, read_one, base, rulebase, outcome.unchecked):
        _say(line)
    print(f"{miss.held} of {miss.total} conditions hold.")
    lead = ""
    while miss is not None:
        _say(f"{lead}Fails: {miss.failed}")
        place = f" (line {miss.line})" if miss.line else ""
        _say(f"Because {miss.detail}{place}.")
        miss = miss.behind
        if miss is not None:
            lead = f"That would come from rule {miss.rule}: {miss.held} of {miss.total} conditions hold. "


def _say(text: str) -> None:
    import textwrap

    print("\n".join(textwrap.wrap(text, 80, subsequent_indent="  ")))

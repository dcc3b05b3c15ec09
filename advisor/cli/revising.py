"""`advisor revise` and `advisor compare`: a changed plan, its difference, and the proof that it is better."""

from __future__ import annotations

import difflib
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from advisor.cli.asking import Own

if TYPE_CHECKING:
    from advisor.review.compare import Comparison
    from advisor.rulebase.base import RuleBase


def revise(
    plan: Annotated[Path, typer.Argument(metavar="PLAN", help="A plan file.")],
    put: Annotated[
        list[str] | None, typer.Option("--set", metavar="PATH=VALUE", help="Set a value: house.built=1985.")
    ] = None,
    accept: Annotated[
        list[str] | None,
        typer.Option("--accept", metavar="FINDING", help="Put a finding's advice into the plan; or all."),
    ] = None,
    write: Annotated[bool, typer.Option("--write", help="Write the plan; the old text stays in PLAN.bak.")] = False,
    rules: Own = None,
) -> None:
    """Change a plan, show the difference, and review it before and after."""
    from advisor.cli.reviewing import write_whole
    from advisor.errors import did_you_mean
    from advisor.plan import read_plan
    from advisor.review.compare import compare
    from advisor.review.reviewing import review_plan
    from advisor.review.revise import accept as take
    from advisor.rulebase.base import load_rulebase

    rulebase = load_rulebase(rules or [])
    before = _text(plan)
    old = review_plan(read_plan(before, rulebase.vocabulary, str(plan)), rulebase)
    after = before
    for one in put or []:
        after = changed(after, one, str(plan), rulebase)
    left = []
    if accept:
        current = review_plan(read_plan(after, rulebase.vocabulary, str(plan)), rulebase) if put else old
        known = {"all"} | {f.id for f in current.findings} | {f.rule for f in current.findings}
        for word in accept:
            if word not in known:
                print(f"no finding '{word}' in this plan.{did_you_mean(word, known)}", file=sys.stderr)
                raise typer.Exit(2)
        revision = take(after, str(plan), accept, rulebase)
        after, left = revision.after, revision.left
        new = revision.new
    else:
        new = review_plan(read_plan(after, rulebase.vocabulary, str(plan)), rulebase)
    _difference(before, after, plan)
    _show(compare(old, new))
    if left:
        print("\nNot mended by a change of the plan:")
        for finding in left:
            print(f"  {finding.signal}: {finding.id}")
    if write and after != before:
        write_whole(plan.with_name(plan.name + ".bak"), before)
        write_whole(plan, after)
        print(f"\nWritten to {plan}; the plan as it was is in {plan.name}.bak.")


def compare_plans(
    old: Annotated[Path, typer.Argument(metavar="OLD")],
    new: Annotated[Path, typer.Argument(metavar="NEW")],
    rules: Own = None,
    fail_on: Annotated[
        str | None, typer.Option(help="Exit with status 1 where this signal or a graver one is new.")
    ] = None,
) -> None:
    """Compare the reviews of two plans: findings gone, new and unchanged."""
    from advisor.review.compare import compare
    from advisor.review.reviewing import review
    from advisor.rulebase.model import SIGNALS

    if fail_on is not None and fail_on not in SIGNALS:
        print(f"unknown signal '{fail_on}'. Expected one of: {', '.join(SIGNALS)}.", file=sys.stderr)
        raise typer.Exit(2)
    first, second = review(old, rules or []), review(new, rules or [])
    found = compare(first, second)
    _show(found)
    _order(first.order, second.order)
    limit = SIGNALS.index(fail_on) if fail_on else len(SIGNALS)
    raise typer.Exit(int(found.worst_new() >= limit))


def _order(old: list[dict[str, object]], new: list[dict[str, object]]) -> None:
    """Steps that came, went or changed places."""
    before, after = [str(o["step"]) for o in old], [str(o["step"]) for o in new]
    for words, text in (
        ([s for s in after if s not in before], "new steps"),
        ([s for s in before if s not in after], "steps gone"),
    ):
        if words:
            print(f"{text}: {', '.join(words)}")
    kept = [s for s in before if s in after]
    if kept != [s for s in after if s in before]:
        print(f"order of the others: {', '.join(s for s in after if s in before)}")


def settle(path: Path, setting: str, rules: list[Path] | None) -> None:
    """Write one value into a plan's file, whole or not at all, the old text kept in `.bak`."""
    from advisor.cli.reviewing import write_whole
    from advisor.rulebase.base import load_rulebase

    before = _text(path)
    after = changed(before, setting, str(path), load_rulebase(rules or []))
    write_whole(path.with_name(path.name + ".bak"), before)
    write_whole(path, after)


def _text(path: Path) -> str:
    """The file's text with its line ends as they are; InputError where it is no plan."""
    from advisor.document import read_file

    read_file(path)  # says what is wrong with the file
    data = path.read_bytes()
    return data.decode("utf-16" if data.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig")


def changed(text: str, setting: str, name: str, rulebase: RuleBase) -> str:
    """The text with `PATH=VALUE` set; ends with status 2 where there is no such thing. Reads the result."""
    from advisor.plan import read_plan
    from advisor.plan.editing import PlanText

    path, sign, value = setting.partition("=")
    words = path.strip().split(".")
    if not sign or len(words) < 2 or not value.strip():
        print(f"'{setting}' sets nothing. Expected a path and a value, such as house.built=1985.", file=sys.stderr)
        raise typer.Exit(2)
    sort = {"rooms": "room", "parts": "part", "products": "product", "steps": "step"}.get(words[0], words[0])
    attribute = rulebase.vocabulary.attribute(sort, words[-1])
    document = PlanText(text)
    try:
        listed = value.strip().removeprefix("[").removesuffix("]").split(",")
        many = attribute is not None and attribute.many
        content = [v.strip() for v in listed] if many else value.strip()
        document.set([*words[:-1], attribute.name if attribute else words[-1]], content)
    except KeyError:
        print(f"the plan has nothing at '{path}'.", file=sys.stderr)
        raise typer.Exit(2) from None
    read_plan(document.text, rulebase.vocabulary, name)
    return document.text


def _difference(before: str, after: str, plan: Path) -> None:
    if before == after:
        print("Nothing to change.")
        return
    name = plan.name
    sys.stdout.writelines(
        line if line.endswith("\n") else line + "\n"
        for line in difflib.unified_diff(before.splitlines(True), after.splitlines(True), name, f"{name} (revised)")
    )


def _show(found: Comparison) -> None:
    print()
    for findings, word in ((found.gone, "gone"), (found.new, "new")):
        for finding in findings:
            print(f"{word:<5} {finding.signal:<8} {finding.id}")
    print(f"{len(found.gone)} gone, {len(found.new)} new, {len(found.same)} unchanged.")

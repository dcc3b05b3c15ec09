"""`advisor revise` and `advisor compare`: a changed plan, its difference, and the proof that it is better."""

from __future__ import annotations

import codecs
import difflib
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from advisor.cli.asking import Own
from advisor.errors import InputError, Problem

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
    from advisor.errors import clip, did_you_mean
    from advisor.plan import read_plan
    from advisor.review.compare import compare
    from advisor.review.reviewing import review_plan
    from advisor.review.revise import accept as take
    from advisor.rulebase.base import load_rulebase

    rulebase = load_rulebase(rules or [])
    before = Written.read(plan)
    old = review_plan(read_plan(before.text, rulebase.vocabulary, str(plan)), rulebase)
    after = before.text
    for one in put or []:
        after = changed(after, one, str(plan), rulebase)
    left = []
    if accept:
        current = review_plan(read_plan(after, rulebase.vocabulary, str(plan)), rulebase) if put else old
        known = {"all"} | {f.id for f in current.findings} | {f.rule for f in current.findings}
        for word in accept:
            if word not in known:
                print(f"no finding '{clip(word)}' in this plan.{did_you_mean(word, known)}", file=sys.stderr)
                raise typer.Exit(2)
        revision = take(after, str(plan), accept, rulebase)
        after, left = revision.after, revision.left
        new = revision.new
    else:
        new = review_plan(read_plan(after, rulebase.vocabulary, str(plan)), rulebase)
    difference(before.text, after, plan)
    _show(compare(old, new))
    if left:
        print("\nNot mended by a change of the plan:")
        for finding in left:
            print(f"  {finding.signal}: {finding.id}")
    if write and after != before.text:
        write_plan(plan, before, after)
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
    from advisor.errors import clip
    from advisor.review.compare import compare
    from advisor.review.reviewing import review
    from advisor.rulebase.model import SIGNALS

    if fail_on is not None and fail_on not in SIGNALS:
        print(f"unknown signal '{clip(fail_on)}'. Expected one of: {', '.join(SIGNALS)}.", file=sys.stderr)
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
    from advisor.rulebase.base import load_rulebase

    before = Written.read(path)
    after = changed(before.text, setting, str(path), load_rulebase(rules or []))
    write_plan(path, before, after)


@dataclass(frozen=True, slots=True)
class Written:
    """A plan's file as it is: its bytes, what they are written in, and the text with its line ends."""

    data: bytes
    coding: str
    text: str

    @classmethod
    def read(cls, path: Path) -> Written:
        """The file; InputError where it is no plan."""
        from advisor.document import file_bytes, read_bytes

        data = file_bytes(path)
        read_bytes(data, str(path))  # says what is wrong with the file
        marked = {codecs.BOM_UTF16_LE: "utf-16", codecs.BOM_UTF16_BE: "utf-16", codecs.BOM_UTF8: "utf-8-sig"}
        coding = next((name for mark, name in marked.items() if data.startswith(mark)), "utf-8")
        return cls(data, coding, data.decode(coding))


def write_plan(path: Path, before: Written, after: str) -> None:
    """The copy first, then the plan; both with the mode of the plan, which may be nobody else's to read."""
    from advisor.cli.files import write_whole

    if not path.is_file():
        raise InputError([Problem(str(path), 0, 0, "is no file that a changed plan could be written to.")])
    write_whole(path.with_name(path.name + ".bak"), before.data, like=path)
    write_whole(path, after.encode(before.coding))


def changed(text: str, setting: str, name: str, rulebase: RuleBase) -> str:
    """The text with `PATH=VALUE` set; ends with status 2 where there is no such thing. Reads the result."""
    from advisor.errors import clip
    from advisor.plan import read_plan
    from advisor.plan.editing import PlanText

    path, sign, value = setting.partition("=")
    words = path.strip().split(".")
    if not sign or len(words) < 2 or not value.strip():
        print(
            f"'{clip(setting)}' sets nothing. Expected a path and a value, such as house.built=1985.", file=sys.stderr
        )
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
        print(f"the plan has nothing at '{clip(path)}'.", file=sys.stderr)
        raise typer.Exit(2) from None
    read_plan(document.text, rulebase.vocabulary, name)
    return document.text


def difference(before: str, after: str, plan: Path) -> None:
    """Print what changed between two texts of a plan."""
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

"""`advisor revise` and `advisor compare`: a changed plan, its difference, and the proof that it is better."""

from __future__ import annotations

import codecs
import difflib
import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from msgspec import Struct

from advisor.cli.asking import Own
from advisor.errors import InputError, Problem

if TYPE_CHECKING:
    from advisor.review.model import Report
    from advisor.rulebase.base import RuleBase


class CompareForm(StrEnum):
    """Forms of a comparison."""

    text = "text"
    json = "json"
    markdown = "markdown"


def revise(
    plan: Annotated[Path, typer.Argument(metavar="PLAN", help="A plan file.")],
    put: Annotated[
        list[str] | None, typer.Option("--set", metavar="PATH=VALUE", help="Set a value: house.built=1985.")
    ] = None,
    accept: Annotated[
        list[str] | None,
        typer.Option(
            "--accept",
            metavar="FINDING",
            help="Put a finding's advice into the plan: its id, or all; open asks what is open.",
        ),
    ] = None,
    ways: Annotated[
        str | None,
        typer.Option("--ways", metavar="FINDING", help="Try each way to meet a finding: money, time, what it leaves."),
    ] = None,
    write: Annotated[bool, typer.Option("--write", help="Write the plan; the old text stays in PLAN.bak.")] = False,
    told: Annotated[
        Path | None, typer.Option("--account", metavar="FILE", help="Write what was changed and why, as Markdown.")
    ] = None,
    rules: Own = None,
) -> None:
    """Change a plan, show the difference, and review it before and after."""
    from advisor.cli.files import put as put_file
    from advisor.errors import clip, did_you_mean
    from advisor.plan import read_plan
    from advisor.reports.comparison import account, as_text
    from advisor.review.compare import compare
    from advisor.review.reviewing import review_plan
    from advisor.review.revision.revise import accept as take
    from advisor.review.told_once import known_names
    from advisor.rulebase.base import load_rulebase

    rulebase = load_rulebase(rules or [])
    before = Written.read(plan)
    old = review_plan(read_plan(before.text, rulebase.vocabulary, str(plan)), rulebase)
    if ways:
        _try_ways(ways, before.text, str(plan), old, rulebase)
        return
    after = before.text
    for one in put or []:
        after = changed(after, one, str(plan), rulebase)
    left, changes, moved = [], [], False
    if accept:
        current = review_plan(read_plan(after, rulebase.vocabulary, str(plan)), rulebase) if put else old
        known = {"all", "open", *known_names(current.findings)}
        for word in accept:
            if word not in known:
                print(f"no finding '{clip(word)}' in this plan.{did_you_mean(word, known)}", file=sys.stderr)
                raise typer.Exit(2)
        revision = take(after, str(plan), accept, rulebase)
        after, left, changes, moved = revision.after, revision.left, revision.changes, revision.moved
        new = revision.new
    else:
        new = review_plan(read_plan(after, rulebase.vocabulary, str(plan)), rulebase)
    difference(before.text, after, plan)
    proof = compare(old, new)
    print()
    sys.stdout.write(as_text(proof))
    if left:
        print("\nNot mended by a change of the plan:")
        for finding in left:
            print(f"  {finding.signal}: {finding.id}")
    if proof.holds:
        many = len(proof.holds)
        print(f"\n{many} thing{'s' * (many != 1)} to get or to find out: none of it is so before you tick it.")
    if told is not None:
        put_file(account(changes, moved, proof, old.plan.title or str(plan)), told)
    if write and after != before.text:
        write_plan(plan, before, after)
        print(f"\nWritten to {plan}; the plan as it was is in {plan.name}.bak.")


def _try_ways(wanted: str, text: str, name: str, old: Report, rulebase: RuleBase) -> None:
    """Print what each way to meet a finding comes to; status 2 where there is no such finding."""
    from advisor.errors import clip, did_you_mean
    from advisor.reports.comparison import ways_text
    from advisor.review.revision.ways import ways

    finding = next((f for f in old.findings if wanted in (f.id, f.rule)), None)
    if finding is None:
        known = {f.id for f in old.findings} | {f.rule for f in old.findings}
        print(f"no finding '{clip(wanted)}' in this plan.{did_you_mean(wanted, known)}", file=sys.stderr)
        raise typer.Exit(2)
    sys.stdout.write(ways_text(finding, ways(text, name, finding, rulebase, old), old))


def compare_plans(
    old: Annotated[Path, typer.Argument(metavar="OLD")],
    new: Annotated[Path, typer.Argument(metavar="NEW")],
    rules: Own = None,
    fail_on: Annotated[
        str | None, typer.Option(help="Exit with status 1 where this signal or a graver one is new.")
    ] = None,
    form: Annotated[CompareForm, typer.Option("--format", help="text, json or markdown.")] = CompareForm.text,
) -> None:
    """Compare the reviews of two plans: what is gone, moved, answered, new, still there and still open."""
    from advisor.cli.files import put
    from advisor.errors import clip
    from advisor.reports.comparison import as_json, as_markdown, as_text, order_lines
    from advisor.review.compare import compare
    from advisor.review.reviewing import review
    from advisor.rulebase.model import SIGNALS

    if fail_on is not None and fail_on not in SIGNALS:
        print(f"unknown signal '{clip(fail_on)}'. Expected one of: {', '.join(SIGNALS)}.", file=sys.stderr)
        raise typer.Exit(2)
    first, second = review(old, rules or []), review(new, rules or [])
    found = compare(first, second)
    if form == "json":
        put(as_json(found, first, second), None, "json")
    elif form == "markdown":
        put(as_markdown(found, first, second), None)
    else:
        sys.stdout.write("\n" + as_text(found, more=order_lines(first.order, second.order)))
    limit = SIGNALS.index(fail_on) if fail_on else len(SIGNALS)
    raise typer.Exit(int(found.worst_new() >= limit))


class Written(Struct, frozen=True):
    """A plan's file as it was at first: its bytes, what they are written in, and the text with its line ends."""

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

    def write(self, path: Path, after: str) -> None:
        """The copy of the first text, then the plan; both with the mode of the plan, nobody else's to read, perhaps."""


def write_plan(path: Path, before: Written, after: str) -> None:
    """The copy first, then the plan; both with the mode of the plan, which may be nobody else's to read."""
    from advisor.writing import write_whole

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

"""`advisor states`: what is true before a step, and since which step."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

Own = Annotated[list[Path] | None, typer.Option("--rules", metavar="DIR", help="A folder of rule packs of your own.")]


class StatesForm(StrEnum):
    """Forms of the states."""

    text = "text"
    json = "json"


def states(
    plan: Annotated[Path, typer.Argument(metavar="PLAN", help="A plan file; - reads standard input.")],
    step: Annotated[str, typer.Argument(metavar="[STEP]", help="Only before this step.")] = "",
    rules: Own = None,
    form: Annotated[StatesForm, typer.Option("--format", help="text or json.")] = StatesForm.text,
) -> None:
    """Say what is true before a step, and since which step; without a step, before each."""
    from advisor.errors import clip, did_you_mean
    from advisor.plan import make_facts, read_plan
    from advisor.review.rules_there import settle
    from advisor.rulebase.base import load_rulebase
    from advisor.site.evaluate import evaluate
    from advisor.site.run import run
    from advisor.site.table import state_rows
    from advisor.site.untold import untold

    rulebase = load_rulebase(rules or [])
    read = read_plan(plan, rulebase.vocabulary)
    rulebase = settle(read, rulebase)
    ids = [one.id for one in read.steps]
    if step and step not in ids:
        print(f"The plan has no step '{clip(step)}'.{did_you_mean(step, ids)}", file=sys.stderr)
        raise typer.Exit(2)
    base = make_facts(read, rulebase.vocabulary)
    site = run(rulebase, base.facts).site
    if site is not None:
        untold(site, evaluate(read, base, rulebase), read, rulebase)
    rows = state_rows(site, site.order(), everything=bool(step)) if site is not None else []
    rows = [row for row in rows if not step or row["step"] == step]
    if form == "json":
        import json

        print(json.dumps(rows, ensure_ascii=False, indent=2))
        return
    if not rows:
        print(f"Nothing is known that a practice asks for{' before ' + step if step else ''}.")
    shown = ""
    for row in rows:
        if row["step"] != shown:
            shown = row["step"]
            print(f"Before {shown}:")
        of = f" of {row['of']}" if row["of"] else ""
        since = "from the start" if row["since"] == "start" else f"since {row['since']}"
        if row["known"] == "unknown":
            print(f"  {row['state']}{of}: cannot be told; presumed {row['value']}")
            continue
        presumed = ", presumed" if row["known"] == "presumed" else ""
        print(f"  {row['state']}{of}: {row['value']}, {since}{presumed}")

"""`advisor schema`: the form of a plan as JSON Schema, for editors."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def schema(
    rules: Annotated[
        list[Path] | None, typer.Option("--rules", metavar="DIR", help="A folder of rule packs of your own.")
    ] = None,
    output: Annotated[Path | None, typer.Option(help="Write to this file instead of the screen.")] = None,
) -> None:
    """Print the form of a plan as JSON Schema (2020-12), so that an editor completes words and explains them."""
    import json

    from advisor.cli.files import put
    from advisor.plan.schema import plan_schema
    from advisor.rulebase.base import load_rulebase

    text = json.dumps(plan_schema(load_rulebase(rules or []).vocabulary), ensure_ascii=False, indent=1) + "\n"
    put(text, output, "json")

"""A rule's page: as text and as one HTML file, the same words in both, what a pack says inert."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.describe import sections

RUN = CliRunner()
EVIL = "<img src=x onerror=alert(1)>"
PACK = f"""pack: own
title: Own
rules:
  - id: own-evil
    title: "{EVIL}"
    when:
      - step: {{id: $step, do: sand}}
    warn: {{signal: notice, at: $step, what: "{EVIL} at {{{{ step }}}}.", because: "{EVIL}"}}
    sources: [{{common_practice: yes}}]
"""


@pytest.mark.parametrize("name", ["isolate-power", "lift-needs-more-people", "test-for-lead", "damp-wall-covered"])
def test_both_forms_say_the_same(name: str) -> None:
    base = load_rulebase()
    rule = base.rule(name)
    assert rule is not None
    text = RUN.invoke(app, ["rules", "show", name]).stdout
    page = RUN.invoke(app, ["rules", "show", name, "--format", "html"]).stdout
    read = html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page)))
    joined = re.sub(r"\s+", " ", text)

    for section in sections(rule, base):
        for _, line in section.lines:
            assert re.sub(r"\s+", " ", line) in joined
            assert re.sub(r"\s+", " ", line.removeprefix("- ")) in read


def test_it_says_what_of_a_plan_is_read() -> None:
    """By hand from the rule: `hood-duct-ribbed` of the pack asks for the hood's duct, which a plan states."""
    base = load_rulebase()
    rule = base.rule("hood-duct-ribbed")
    assert rule is not None
    reads = next(s for s in sections(rule, base) if s.title == "Reads")

    assert any(line.startswith("part: ") and "duct" in line for _, line in reads.lines)


def test_what_a_pack_says_is_inert(tmp_path: Path) -> None:
    (tmp_path / "own.yaml").write_text(PACK, encoding="utf-8")
    done = RUN.invoke(app, ["rules", "show", "own-evil", "--rules", str(tmp_path), "--format", "html"])

    assert done.exit_code == 0, done.output
    assert "<img" not in done.stdout
    assert html.escape(EVIL) in done.stdout

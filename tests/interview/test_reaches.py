"""An interview of somebody who knows the facts reaches what is grave in a scenario in at most 25 questions.

The scenarios are written by hand, and what is wrong in them stands in `tests/scenarios/expected.yaml`. Here each is cut
down to rooms, kinds and what each step does to what. The careful ones have nothing grave that could be reached.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from person import MOST, answer, cut, facts, grave, names, talk, text_of
from terminal import Terminal
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.plan import read_plan
from advisor.review.asking.walk import Walk
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.hanging import CAUTION

AT_A_TERMINAL = ("floor-faulty", "trim-in-an-old-hall", "windows-faulty")
_NUMBERED = re.compile(r"^(\d+)\. (.*?)(?=\n {3}\S*(?:It decides|\d+\)|such as)|\n> )", re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize("name", [name for name in names() if name not in AT_A_TERMINAL])
def test_whoever_knows_the_facts_reaches_what_is_grave(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Each finding of danger and warning of the whole scenario is there, at its step."""
    found = talk(name)
    with capsys.disabled():
        left = f"{len(found.missing[0])} of {len(found.wanted)} grave findings were not told at first"
        print(f"\n{name}: {found.reached} questions; {left}")

    assert found.reached is not None, sorted(found.missing[-1])
    assert found.reached <= MOST
    assert ("faulty" in name or "careful" not in name) == bool(found.missing[0])


@pytest.mark.parametrize("name", AT_A_TERMINAL)
def test_so_does_a_person_at_a_terminal(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The same through the command, key by key; the terminal asks what the walk asks, and never a question twice."""
    rulebase = load_rulebase()
    whole = read_plan(text_of(name), rulebase.vocabulary, name)
    known, wanted = facts(whole), grave(review_plan(whole, rulebase))
    path = tmp_path / "plan.yaml"
    path.write_text(cut(text_of(name)), encoding="utf-8")
    walk = Walk.begin(path.read_text(encoding="utf-8"), str(path), rulebase, least=CAUTION)
    terminal = Terminal("interview", str(path), cwd=tmp_path)
    asked: list[str] = []
    missing = wanted - {f.id for f in walk.report.findings}
    assert missing
    while missing and len(asked) < MOST and walk.asked is not None:
        shown = terminal.shown()
        number, words = _NUMBERED.search(shown).groups()  # type: ignore[union-attr]
        asked.append(" ".join(words.split()))
        assert (int(number), asked[-1].partition(" (presumed")[0]) == (len(asked), walk.asked.ask)
        said = answer(walk.asked, known)
        terminal.type(f"{said}\n")
        walk = walk.answer(said) if said else walk.dont_know()
        missing = wanted - {f.id for f in walk.report.findings}
    terminal.shown()
    terminal.type("q\n")
    end = terminal.rest()
    with capsys.disabled():
        print(f"\n{name}, at a terminal: {len(asked)} questions")
    after = {f.id for f in review_plan(read_plan(path, rulebase.vocabulary), rulebase).findings}

    assert wanted <= after
    assert len(asked) == len(set(asked)) <= MOST
    assert terminal.status == 0
    assert "Checked before the work:" in end
    assert "\x1b[" not in terminal.text.partition("Written to")[0]  # nothing is drawn over or coloured


@pytest.mark.parametrize("name", names())
def test_dont_know_to_all_ends(name: str, tmp_path: Path) -> None:
    """No more than 25 questions, none of them twice, and not a byte is changed."""
    path = tmp_path / "plan.yaml"
    text = cut(text_of(name))
    path.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(app, ["interview", str(path)], input="don't know\n" * 100)
    asked = re.findall(r"^\d+\. .*$", result.output.partition("No answer;")[0], re.MULTILINE)

    assert result.exit_code == 0
    assert 3 < len(asked) == len(set(asked)) <= MOST
    assert "No answer; nothing was written." in result.output
    assert [(p.name, p.read_text(encoding="utf-8")) for p in tmp_path.iterdir()] == [("plan.yaml", text)]

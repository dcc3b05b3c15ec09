"""A rule that would do too much is given up: it is named, the others are checked, and nothing wrong is said."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from fuzz.crowded import PAIR, STEP, absent, pack, plan, rule, tied

from advisor.cli.app import app
from advisor.cli.reviewing import Wanted, review_files
from advisor.engine import bounds
from advisor.engine.bounds import HANGS_ON, IN_PART, TOO_MUCH
from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.reports.data import as_data, as_json
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.rulebase.model import SIGNALS
from advisor.site.run import run

ALL_PAIRS = (*(f"part: {{id: $x{n}, room: $room}}" for n in range(5)),)
DEDUCE = "deduce: {pair: {one: $x0, other: $x1}}"
LAYERS = pack(
    rule("too-much", *ALL_PAIRS, say=DEDUCE),
    rule("nothing-found", STEP, "not: {pair: {one: $p}}"),
    rule("builds-on", STEP, "pair: {one: $p}"),
    rule("speaks", STEP, "part: {id: $p, kind: trim}"),
    kinds=PAIR,
)


def _base(folder: Path, text: str) -> RuleBase:
    folder.mkdir(exist_ok=True)
    (folder / "own.yaml").write_text(text, encoding="utf-8")
    return load_rulebase([folder])


def _report(text: str, rulebase: RuleBase, matcher: str = "indexed") -> Report:
    return review_plan(read_plan(text, rulebase.vocabulary), rulebase, matcher=matcher)


def _own(report: Report) -> dict[str, str]:
    return {one.rule: one.message for one in report.not_checked}


def test_a_rule_given_up_is_named_and_all_others_say_what_they_said(tmp_path: Path) -> None:
    """The pack's rule hung; the built-in ones find just what they find without it."""
    with_it = as_data(_report(plan(25), _base(tmp_path, tied(5))))
    without_it = as_data(_report(plan(25), load_rulebase()))

    assert with_it["not_checked"] == [{"rule": "tied", "title": "Rule tied", "why": TOO_MUCH, "signal": "danger"}]
    for key in ("findings", "order", "schedule", "questions", "gear"):
        assert with_it[key] == without_it[key]


def test_the_rule_is_checked_where_the_plan_is_small(tmp_path: Path) -> None:
    """The near miss: the same rule, with few parts."""
    report = _report(plan(4), _base(tmp_path, tied(5)))

    assert _own(report) == {}
    assert [f.rule for f in report.findings if f.pack == "crowded"] == ["tied"]


def test_what_hangs_on_a_rule_given_up_is_named_and_says_nothing_wrong(tmp_path: Path) -> None:
    """`not` over facts that nobody looked for would be a false alarm; what builds on them may miss something."""
    report = _report(plan(25), _base(tmp_path, LAYERS))

    assert _own(report) == {"too-much": TOO_MUCH, "nothing-found": HANGS_ON, "builds-on": IN_PART}
    assert {f.rule for f in report.findings if f.pack == "crowded"} == {"speaks"}


def test_with_few_parts_each_of_these_rules_is_checked(tmp_path: Path) -> None:
    """The near miss: the pair is there, so what asks for its absence is rightly silent."""
    report = _report(plan(3), _base(tmp_path, LAYERS))

    assert _own(report) == {}
    assert {f.rule for f in report.findings if f.pack == "crowded"} == {"speaks", "builds-on"}


def test_the_word_of_a_rule_given_up_counts_for_fail_on(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It might have been a danger; without the pack there is none."""
    (tmp_path / "plan.yaml").write_text(plan(25), encoding="utf-8")
    _base(tmp_path / "own", tied(5))
    plans = [tmp_path / "plan.yaml"]
    status = [
        review_files(plans, Wanted(form="json", rules=rules, fail_on="danger")) for rules in ((tmp_path / "own",), ())
    ]
    capsys.readouterr()

    assert status == [1, 0]


@pytest.mark.parametrize("form", ["text", "markdown", "html", "json", "csv", "sarif"])
def test_every_format_names_it(form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """For people in the head of the report, before the first finding."""
    (tmp_path / "plan.yaml").write_text(plan(25), encoding="utf-8")
    _base(tmp_path / "own", tied(5))
    review_files([tmp_path / "plan.yaml"], Wanted(form=form, rules=(tmp_path / "own",)))
    out = " ".join(capsys.readouterr().out.split())

    assert "Rule tied" in out
    if form in ("text", "markdown", "html"):
        begins = re.search(r"(?i)before anything else|steps in the order of work|\bstep 1\b", out)
        assert begins
        assert 0 < out.index("Not checked: Rule tied. This plan") < begins.start()
        assert "1 rule not checked" in out
    elif form != "json":
        assert "Not checked" in out


@pytest.mark.parametrize("command", ["why-not", "hazards", "hazards --format csv", "checklist", "checklist --exercise"])
def test_every_sheet_names_it(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody is to take a sheet for whole, or hear that a rule is met which nobody looked at."""
    (tmp_path / "plan.yaml").write_text(plan(25), encoding="utf-8")
    _base(tmp_path / "own", tied(5))
    name, *options = command.split()
    own = ["tied"] if name == "why-not" else []
    app([name, str(tmp_path / "plan.yaml"), *own, *options, "--rules", str(tmp_path / "own")], standalone_mode=False)
    out = " ".join(capsys.readouterr().out.split())

    assert ("tied was not checked" if own else "Not checked: Rule tied") in out
    assert "tied is met" not in out


def test_a_small_plan_s_sheets_say_nothing_of_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The near miss: the same rule on a plan that it can be checked on."""
    (tmp_path / "plan.yaml").write_text(plan(4), encoding="utf-8")
    _base(tmp_path / "own", tied(5))
    app(["hazards", str(tmp_path / "plan.yaml"), "--rules", str(tmp_path / "own")], standalone_mode=False)

    assert "Not checked" not in capsys.readouterr().out


def test_a_rule_that_may_be_open_in_too_many_ways_is_named_and_counts(tmp_path: Path) -> None:
    """The engine checks it on the plan as it stands; whether it is open is more than may be looked at."""
    tie = [f"part: {{id: $x{n}, coating: varnish, area: {{below: $a}}}}" for n in range(2)]
    rulebase = _base(tmp_path, pack(rule("loose", STEP, "part: {kind: trim, area: $a}", *tie)))
    lines = plan(60).replace(", coating: paint", "")
    report, small = _report(lines, rulebase), _report(plan(3).replace(", coating: paint", ""), rulebase)
    rows = {one.rule: one for one in report.not_checked}

    assert (rows["loose"].signal, rows["loose"].may) == ("", "danger")
    assert report.worst_open() == SIGNALS.index("danger")
    assert "loose" not in {one.rule for one in report.open}
    assert not [account for account in report.account if "loose" in account.met]
    assert small.not_checked == []
    assert "loose" in {one.rule for one in small.open}


def test_both_matchers_give_up_the_same_in_what_is_worked_out_at_firing(tmp_path: Path) -> None:
    """Joins are counted by the indexed matcher alone; guards by both."""
    rulebase = _base(tmp_path, absent(5))

    assert as_json(_report(plan(25), rulebase)) == as_json(_report(plan(25), rulebase, "stock"))
    assert _own(_report(plan(25), rulebase)) == {"absent": TOO_MUCH}


def test_the_report_is_the_same_in_whatever_order_the_plan_lists_its_parts(tmp_path: Path) -> None:
    """What is given up does not depend on where it was stopped."""
    rulebase = _base(tmp_path, LAYERS)
    lines = plan(40, 3).split("\n")
    first = next(n for n, line in enumerate(lines) if line.startswith("  p0:"))
    turned = "\n".join([*lines[:first], *reversed(lines[first : first + 40]), *lines[first + 40 :]])
    one, other = (json.loads(as_json(_report(text, rulebase))) for text in (plan(40, 3), turned))

    assert one["not_checked"] != []
    assert [one[key] for key in one if key != "questions"] == [other[key] for key in other if key != "questions"]


def test_a_rule_given_up_is_checked_again_in_the_next_plan(tmp_path: Path) -> None:
    """The engine is used again; its counts are not."""
    rulebase = _base(tmp_path, tied(5))
    crowded, small = _report(plan(25), rulebase), _report(plan(4), rulebase)

    assert ([n.rule for n in crowded.not_checked], small.not_checked) == (["tied"], [])


def test_many_rules_together_are_bounded_too(tmp_path: Path) -> None:
    """None of them does too much by itself."""
    tie = [f"part: {{id: $x{n}, room: $room}}" for n in range(3)]
    rulebase = _base(tmp_path, pack(*(rule(f"many-{n}", STEP, *tie) for n in range(60))))
    facts = make_facts(read_plan(plan(25), rulebase.vocabulary), rulebase.vocabulary).facts
    outcome = run(rulebase, facts)

    assert len([name for name in outcome.unchecked if name.startswith("many-")]) > 0
    assert outcome.spent < 3 * bounds.MOST_OF_ALL


def test_the_clock_only_ends_a_run_with_a_message(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The last guard, for what the counts do not see."""
    rulebase = _base(tmp_path, tied(3))
    facts = make_facts(read_plan(plan(25), rulebase.vocabulary), rulebase.vocabulary).facts
    monkeypatch.setattr(bounds, "LAST_GUARD", -1.0)
    with pytest.raises(InputError, match="the rules were still at work after"):
        run(rulebase, facts)


def test_a_slow_clock_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Bounds are counts: a machine a thousand times slower gives up the same."""
    rulebase = _base(tmp_path, tied(5))
    usual = as_json(_report(plan(25), rulebase))
    ticks = iter(range(10**9))
    monkeypatch.setattr(bounds.time, "monotonic", lambda: next(ticks) / 100)

    assert as_json(_report(plan(25), rulebase)) == usual


def test_no_question_hangs_on_a_rule_given_up(tmp_path: Path) -> None:
    """Of a rule given up nobody can say what an answer would change."""
    report = _report(plan(25), _base(tmp_path, tied(5)))
    named = {name for one in report.questions for name in (*one.of, *one.settles)}
    named |= {name for one in report.questions for a in one.answers for name in (*a.comes, *a.goes)}

    assert named
    assert [name for name in (*named, *(one.rule for one in report.open)) if name.startswith("tied")] == []

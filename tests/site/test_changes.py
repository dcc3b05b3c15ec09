"""Whatever the rules say otherwise than the old rule base is explained in `changes.yaml`.

The old rule base, at ff9a061, is the oracle: its findings on scenarios, cases and generated plans are stored.
A tenth of the plans is looked at, chosen by a hash of their keys, with the plans that entries are seen in;
`make site-record` looks at all of them.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from differences import CHANGES, Difference, Entry, compare, explain, faults, read_changes
from msgspec.structs import replace
from record import KINDS, Heard, Said, differences, hear, old_findings, old_plans, sampled

from advisor.rulebase.base import RuleBase, load_rulebase

SHARE = float(os.environ.get("SITE_RECORD", "0.1"))
PLAN = "scenario/galley-kitchen-faulty"


def test_each_change_of_what_the_rules_say_is_explained(record_property: Callable[[str, object], None]) -> None:
    """No difference without an entry, no entry without a difference."""
    entries = read_changes(CHANGES)
    keys = set(old_plans())
    unknown = [one.seen_in for one in entries if one.seen_in not in keys]
    assert unknown == [], "entries are seen in plans that are not in the record"
    chosen = {key for key in keys if sampled(key, SHARE)} | {one.seen_in for one in entries}
    share = f"{len(chosen)} of {len(keys)} plans of the old rule base's record ({len(chosen) / len(keys):.0%})"
    record_property("looked at", share)

    found, _ = differences(chosen, load_rulebase())
    left = explain(found, entries)

    assert not left, "\n".join(
        [f"{len(left)} differences that no entry explains (python -m tests.site.record --diff):", *map(str, left[:40])]
    )
    assert faults(entries, whole=SHARE >= 1) == []


def test_the_record_is_whole() -> None:
    """Every stored plan has its findings, and the sample holds plans of each kind that has enough of them."""
    plans, heard = old_plans(), old_findings()
    count = {kind: sum(key.startswith(f"{kind}/") for key in plans) for kind in KINDS}

    assert plans.keys() == heard.keys()
    assert count == {"scenario": 12, "case": 4601, "generated": 300}
    assert {key.split("/")[0] for key in plans if sampled(key, 0.1)} >= {"case", "generated"}
    assert 0.08 < sum(sampled(key, 0.1) for key in plans) / len(plans) < 0.12
    assert len({said.rule for one in heard.values() for said in one.said}) == 518  # all that spoke to people then


@pytest.fixture(scope="module")
def rulebase() -> RuleBase:
    """The rules as they are."""
    return load_rulebase()


@pytest.fixture(scope="module")
def today(rulebase: RuleBase) -> Heard:
    """What they say of the demo."""
    return hear(old_plans()[PLAN], rulebase)


def _gravest(heard: Heard) -> Said:
    return next(said for said in heard.said if said.of == "plan" and said.signal == "danger")


def test_a_rule_that_is_taken_out_is_missed(rulebase: RuleBase, today: Heard) -> None:
    """And one that is added is seen: the same two records the other way round."""
    gone = _gravest(today)
    without = replace(rulebase, rules=tuple(r for r in rulebase.rules if r.id != gone.rule))
    heard = hear(old_plans()[PLAN], without)

    assert Difference(PLAN, gone.rule, "goes", gone.step, "plan", "danger", "") in compare(PLAN, today, heard)
    assert Difference(PLAN, gone.rule, "comes", gone.step, "plan", "", "danger") in compare(PLAN, heard, today)


def test_another_signal_word_is_seen(rulebase: RuleBase, today: Heard) -> None:
    """A danger that is only a caution now."""
    milder = _gravest(today)
    rules = tuple(
        replace(r, conclusions=tuple(replace(c, signal="caution") for c in r.conclusions)) if r.id == milder.rule else r
        for r in rulebase.rules
    )
    found = compare(PLAN, today, hear(old_plans()[PLAN], replace(rulebase, rules=rules)))

    assert Difference(PLAN, milder.rule, "danger -> caution", milder.step, "plan", "danger", "caution") in found
    assert {one.change for one in found if one.rule == milder.rule} == {"danger -> caution"}


def test_a_plan_that_is_refused_now_is_one_difference(rulebase: RuleBase, today: Heard) -> None:
    """Its findings are not each told as gone."""
    plan = {**old_plans()[PLAN], "steps": [{"id": "only", "do": "no such word"}]}
    found = compare(PLAN, today, hear(plan, rulebase))

    assert [(one.rule, one.change) for one in found] == [("plan", "refused")]
    assert "no such word" in found[0].new


def _said(*signals: str) -> Heard:
    return Heard(tuple(Said("plan", "some-rule", signal, "cut", ()) for signal in signals), ())


@pytest.mark.parametrize(
    ("old", "now", "changes"),
    [
        (("danger",), ("danger",), []),
        (("danger", "danger"), ("danger",), ["goes"]),
        (("notice",), ("notice", "notice"), ["comes"]),
        (("notice", "danger"), ("danger", "caution"), ["notice -> caution"]),
        (("notice", "danger"), ("caution",), ["goes", "notice -> caution"]),
    ],
)
def test_findings_of_one_step_are_counted(old: tuple[str, ...], now: tuple[str, ...], changes: list[str]) -> None:
    """What stays is taken off both sides first; then words are paired from the mildest."""
    assert sorted(one.change for one in compare("case/a/b", _said(*old), _said(*now))) == changes


def _entries(tmp_path: Path, text: str) -> list[Entry]:
    path = tmp_path / "changes.yaml"
    path.write_text(text, encoding="utf-8")
    return read_changes(path)


ENTRY = "{rule: some-rule, reason: met now, why: The plan does it., goes: true, seen_in: case/a/b, expect_at_most: 1"


@pytest.mark.parametrize(
    ("more", "plan", "left", "wrong"),
    [
        ("", "case/a/b", 0, ""),
        (", where: {kind: case, step: c*}", "case/a/b", 0, ""),
        (", where: {kind: generated}", "case/a/b", 1, "explains nothing: "),
        (", where: {of: advice}", "case/a/b", 1, "explains nothing: "),
        ("", "case/a/other", 0, "is not seen in case/a/b"),
        (", comes: true", "case/a/b", 0, "explains nothing of comes"),
    ],
)
def test_an_entry_explains_what_it_says_and_no_more(
    tmp_path: Path, more: str, plan: str, left: int, wrong: str
) -> None:
    """Of one finding that goes."""
    entries = _entries(tmp_path, f"- {ENTRY}{more}}}\n")

    assert len(explain(compare(plan, _said("danger"), _said()), entries)) == left
    assert [text[: len(wrong)] for text in faults(entries, whole=True)] == [wrong] * bool(wrong)


def test_an_entry_that_explains_more_than_it_may_is_refused(tmp_path: Path) -> None:
    """Two go where one was expected; an entry after it for the same finds nothing left."""
    entries = _entries(tmp_path, f"- {ENTRY}}}\n- {ENTRY}}}\n")

    assert explain(compare("case/a/b", _said("danger", "notice"), _said()), entries) == []
    assert [text[:14] for text in faults(entries, whole=False)] == ["explains 2, mo", "explains nothi"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("- {rule: a, goes: true}", "`reason` is one of"),
        (f"- {ENTRY}, spoken: true}}", "unknown keys"),
        (f"- {ENTRY}, signal: danger}}", "signal is written"),
        (f"- {ENTRY}, where: {{rule: x}}}}", "`where` has some of"),
        (f"- {ENTRY.replace('goes', 'comes').replace('true', 'no')}}}", "one of `goes: true`"),
        ("rule: a", "expected a list"),
    ],
)
def test_a_spoiled_entry_is_refused(tmp_path: Path, text: str, told: str) -> None:
    """With its number and what was expected."""
    with pytest.raises(ValueError, match=told):
        _entries(tmp_path, text)

"""Rule packs with mistakes: each is named with its line, in a message of bearable length."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import InputError
from advisor.rulebase.base import load_rulebase

LONG, KIND = "x" * 12_000, "x" * 900  # YAML takes keys in braces up to 1,024 letters
HEAD = "pack: own\ntitle: Own\n"
TAIL = "\n    warn: {signal: notice, what: Look., because: It shows.}\n    sources: [{common_practice: yes}]\n"


def _rule(when: str, name: str = "own-rule") -> str:
    return f"{HEAD}rules:\n  - id: {name}\n    title: Own\n    when: [{when}]{TAIL}"


COMPUTE = "step: {{id: $s}}}}, {{compute: {{$x: {{drain_fall: {{length: 10 ft, diameter: 2 in}}, pick: {}}}}}"
CASES = {
    "part of a result left out": (
        _rule("{" + COMPUTE.format("{dimension: length}") + "}"),
        "own.yaml:6: rule 'own-rule': 'pick' expects the name of a part of the result, "
        "or '{part: name, dimension: d}'.",
    ),
    "constant outside the range of an input": (
        _rule("{step: {id: $s}}, {compute: {$x: {drain_fall: {length: 400 ft, diameter: 2 in}}}}"),
        "own.yaml:6: rule 'own-rule': length must be from 0 in up to 164 ft, got 400 ft.",
    ),
    "kind with an endless name": (
        f"{HEAD}kinds:\n  ? {LONG}\n  : {{step: nothing}}\nrules: []\n",
        f"own.yaml:5: kind '{'x' * 59}…': 'nothing' is no type. Expected a dimension, text, yes_no, 'ref part' or "
        "'term material'.",
    ),
    "rule with an endless name": (
        _rule("{step: {id: $s, do: nonsuch}}", LONG),
        f"own.yaml:6: rule '{'x' * 59}…': ",
    ),
    "table with an endless name": (
        _rule("{step: {id: $s}}, {lookup: {%s: {row: $s, lel: $x}}}" % ("9" * 900)),
        f"own.yaml:6: rule 'own-rule': unknown table '{'9' * 59}…'.",
    ),
    "table outside the folder of tables": (
        _rule("{step: {id: $s}}, {lookup: {../sources: {row: $s, lel: $x}}}"),
        "own.yaml:6: rule 'own-rule': unknown table '../sources'.",
    ),
    "fact of an endless kind": (
        f"{HEAD}kinds:\n  ? {KIND}\n  : {{step: ref step}}\n"
        + _rule(f"{{step: {{id: $s}}}}, {{{KIND}: none}}").removeprefix(HEAD),
        f"own.yaml:9: rule 'own-rule': '{'x' * 59}…' expects attributes, such as 'step: {{id: $x}}'.",
    ),
    "kind declared twice": (
        f"{HEAD}kinds:\n  gear_needed: {{step: ref step}}\nrules: []\n",
        "own.yaml:4: kind 'gear_needed' is declared already.",
    ),
    "rules that wait for each other": (
        f"{HEAD}kinds:\n  one: {{step: ref step}}\n  two: {{step: ref step}}\nrules:\n"
        + "".join(
            f"  - {{id: makes-{a}, title: M, when: [{{step: {{id: $s}}}}, {{not: {{{b}: {{step: $s}}}}}}], "
            f"deduce: {{{a}: {{step: $s}}}}, sources: [{{common_practice: yes}}]}}\n"
            for a, b in (("one", "two"), ("two", "one"))
        ),
        "own.yaml:7: rule 'makes-one': a loop through 'not' or 'collect': makes-one <- makes-two <- makes-one. "
        "Each awaits the other.",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_mistake_in_a_pack_is_named_with_its_line(name: str, tmp_path: Path) -> None:
    """Most were found by `make fuzz`: crashes, and messages as long as what was read."""
    text, wanted = CASES[name]
    (tmp_path / "own.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load_rulebase([tmp_path])
    said = [str(p).removeprefix(f"{tmp_path}/") for p in caught.value.problems]

    assert [s for s in said if s.startswith(wanted)] == said[:1]
    assert len(said[0]) < 400


def test_a_result_without_the_part_that_a_rule_picks_is_told_in_the_report(tmp_path: Path) -> None:
    """Which parts a result has is known only when it is there."""
    from advisor.review.reviewing import review

    (tmp_path / "packs").mkdir()
    (tmp_path / "packs" / "own.yaml").write_text(_rule("{" + COMPUTE.format("middle") + "}"), encoding="utf-8")
    plan = tmp_path / "plan.yaml"
    plan.write_text("rooms: {r: {kind: kitchen}}\nparts: {w: {kind: wall, room: r}}\nsteps: [{do: paint, to: w}]\n")
    report = review(plan, (tmp_path / "packs",))

    assert [n.message for n in report.not_checked if n.rule == "own-rule"] == ["'drain_fall' gives no 'middle'"]

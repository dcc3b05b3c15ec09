"""A revised plan: what changed in the file, and the proof that it is better."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.plan import read_plan
from advisor.review.compare import compare
from advisor.review.reviewing import review, review_plan
from advisor.review.revision.revise import accept
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import SIGNALS

SCENARIOS = Path(__file__).parents[2] / "scenarios"
POWER = """# my plan
title: Outlets     # three of them
house: {built: 2003,   wiring: copper, equipment_ground: yes}
rooms:
  kitchen: {kind: kitchen, length: 12 ft, width: 10 ft, height: 8 ft}
parts:
  sockets: {kind: outlet, room: kitchen, count: 3}
steps:
  # one step only
  - {id: swap, do: replace, to: sockets}
"""


def steps_of(text: str) -> list[tuple[str, str]]:
    """Id and action of each step of a plan text."""
    plan = read_plan(text, load_rulebase().vocabulary, "x")
    return [(s.id, str(s.values["do"].plain)) for s in plan.steps]


def test_accepting_isolate_power_puts_off_then_dead_then_work() -> None:
    """In that order, and the danger is gone."""
    revision = accept(POWER, "x", ["isolate-power"], load_rulebase())

    assert steps_of(revision.after) == [
        ("shut-off-power", "shut off power"),
        ("prove-dead", "prove dead"),
        ("swap", "replace"),
    ]
    assert [f.rule for f in compare(revision.old, revision.new).gone if f.rule == "isolate-power"] == ["isolate-power"]


def test_what_comes_before_a_step_that_waits_waits_too() -> None:
    """IRC 2021, R109.1, as the rule cites it: inspected once there is work to see and before it is covered.

    The insulation is written above the pipes that it comes to wait for, and the inspection with it.
    """
    plan = """title: Pipes in an outside wall
house: {built: 2003}
rooms: {den: {kind: exterior wall}}
parts: {line: {kind: water line, room: den}}
steps:
  - {id: close, do: insulate, to: line, in: den}
  - {id: pipes, do: rough in, to: line}
"""
    revision = accept(plan, "x", ["all"], load_rulebase())
    done = [own for own, _ in steps_of(revision.after)]

    assert [own for own in done if own.startswith("get-inspected")] == ["get-inspected"]
    assert done.index("pipes") < done.index("get-inspected") < done.index("close")
    assert "inspection-before-closing" not in [f.rule for f in revision.new.findings]
    assert accept(revision.after, "x", ["all"], load_rulebase()).after == revision.after


def test_accepting_the_prop_puts_it_before_the_sealant() -> None:
    """Common practice: a sink that is lifted again after its bead was laid breaks the bead."""
    plan = """title: Sink
house: {built: 2003}
rooms: {kitchen: {kind: kitchen}}
parts: {basin: {kind: sink, mount: undermount, room: kitchen}}
products: {bead: {kind: sealant, binder: silicone}}
steps:
  - {id: bed, do: seal, to: basin, using: bead}
  - {id: clips, do: clip, to: basin}
"""
    revision = accept(plan, "x", ["support-sink-before-clips"], load_rulebase())

    assert steps_of(revision.after) == [("support", "support"), ("bed", "seal"), ("clips", "clip")]
    assert [f.rule for f in revision.new.findings if f.rule == "support-sink-before-clips"] == []


def test_nothing_outside_the_change_is_touched() -> None:
    """Every line of the author's stands, in order, with its comment and blanks."""
    revision = accept(POWER, "x", ["isolate-power"], load_rulebase())
    kept = [line for line in revision.after.splitlines() if line in POWER.splitlines()]

    assert kept == POWER.splitlines()


@pytest.mark.parametrize("path", sorted(SCENARIOS.glob("*.yaml")), ids=lambda p: p.stem)
def test_accepting_all_converges_and_adds_no_unreported_danger(path: Path) -> None:
    """A bounded number of rounds; dangers that are new were reported with the advice or are in the new report."""
    rulebase = load_rulebase()
    revision = accept(path.read_text(), str(path), ["all"], rulebase)
    again = accept(revision.after, str(path), ["all"], rulebase)
    fresh = review_plan(read_plan(revision.after, rulebase.vocabulary, "x"), rulebase)
    dangers = {f.id for f in fresh.findings if f.signal == "danger"}

    assert again.after == revision.after
    assert revision.rounds < 8
    assert dangers <= {f.id for f in revision.new.findings}


# Danger and warning that neither a change of the plan nor an entry answers. There is none: what a plan cannot mend
# is to get, to find out, or the work of a firm.
LEFT: dict[str, dict[str, str]] = {
    "galley-kitchen-faulty": {},
    "bathroom-faulty": {},
    "floor-faulty": {},
    "thin-first-draft": {},
    "trim-in-an-old-hall": {},
    "windows-faulty": {},
}


@pytest.mark.parametrize("name", sorted(LEFT))
def test_what_no_change_of_the_plan_takes_away_is_left_and_told(name: str) -> None:
    """Exactly that, of danger and warning; what is left is told as not mended."""
    path = SCENARIOS / f"{name}.yaml"
    revision = accept(path.read_text(), str(path), ["all"], load_rulebase())
    grave = [f.id for f in revision.new.findings if f.rank >= SIGNALS.index("warning")]

    assert sorted(grave) == sorted(LEFT[name])
    assert set(grave) <= {f.id for f in revision.left}


def test_tests_and_referrals_remain_as_steps() -> None:
    """The lead test stands before the sanding; what holds asbestos goes to the firm, after its sample."""
    doors = steps_of(accept_all("galley-kitchen-faulty"))
    floor = steps_of(accept_all("bathroom-faulty"))
    plan = read_plan(accept_all("bathroom-faulty"), load_rulebase().vocabulary, "x")
    found = next(s for s in plan.steps if s.id == "lift-floor-if-found")
    clear = next(s for s in plan.steps if s.id == "lift-floor")

    assert doors.index(("test-for-lead", "test for lead")) < doors.index(("sand-doors", "sand"))
    assert floor.index(("test-for-asbestos", "test for asbestos")) < floor.index(("lift-floor", "scrape"))
    assert (found.values["who"].plain, found.values["if_result"].plain) == ("abatement firm", "positive")
    assert (clear.values["if_test"].plain, clear.values["if_result"].plain) == ("test-for-asbestos", "negative")


def accept_all(name: str) -> str:
    """The text of a scenario with all advice put in."""
    path = SCENARIOS / f"{name}.yaml"
    return accept(path.read_text(), str(path), ["all"], load_rulebase()).after


def test_no_step_is_put_in_twice_for_one_matter() -> None:
    """What an earlier finding has mended is not mended again: one shim, one support, one pair of steps a circuit."""
    actions = [do for _, do in steps_of(accept_all("galley-kitchen-faulty"))]

    assert [actions.count(do) for do in ("shim", "support", "acclimatize", "test for lead")] == [1, 1, 1, 1]


OWNED = """house: {built: 2003, wiring: copper, equipment_ground: yes}
crew:
  gear:  # what lies in the van
  - "breaker lock"
parts:
  lamp: {kind: light}
steps:
  - {id: off, do: shut off power, to: lamp}
  - {id: dead, do: prove dead, to: lamp, tools: non-contact tester}
  - {id: swap, do: replace, to: lamp}
"""


def test_gear_that_nobody_has_is_to_get_and_not_owned() -> None:
    """What lies in the van stays as it is. The step takes the tester, and the tester is to get before it."""
    revision = accept(OWNED, "x", ["tester-that-tells"], load_rulebase())
    told = "tools: non-contact tester"
    wanted = "tools: [non-contact tester, voltage tester]"
    entry = "to_get:\n  - {what: voltage tester, for: [dead]}\n"

    assert revision.after == OWNED.replace(told, wanted) + entry


def test_the_product_at_fault_is_the_one_replaced() -> None:
    """The nails go, the good screws that stand before them stay."""
    plan = """house: {built: 2003}
parts:
  uppers: {kind: wall cabinets, fixing: [studs]}
products:
  good: {kind: cabinet screws}
  bad: {kind: nails}
steps:
  - {id: hang, do: hang cabinets, to: uppers, using: [good, bad], screw_length: 2-1/2 in}
"""
    after = accept(plan, "x", ["wall-cabinet-drywall-screws"], load_rulebase()).after

    assert "using: [good, cabinet-screws]" in after


def test_a_set_value_is_proved_by_the_review(tmp_path: Path) -> None:
    """`--set house.built=1985` takes the lead test away; the file is not written without --write."""
    path = tmp_path / "plan.yaml"
    text = (SCENARIOS / "trim-in-an-old-hall.yaml").read_text()
    path.write_text(text)
    result = CliRunner().invoke(app, ["revise", str(path), "--set", "house.built=1985"])

    assert (result.exit_code, path.read_text()) == (0, text)
    assert "-house: {built: 1957, children_under_6: 1}" in result.output
    assert "+house: {built: 1985, children_under_6: 1}" in result.output
    assert "gone     warning  test-for-lead@smooth" in result.output


def test_write_keeps_the_old_text_beside_it(tmp_path: Path) -> None:
    """PLAN.bak is the plan as it was, byte for byte."""
    path = tmp_path / "plan.yaml"
    path.write_bytes(POWER.replace("\n", "\r\n").encode())
    before = path.read_bytes()
    result = CliRunner().invoke(app, ["revise", str(path), "--set", "house.built=1985", "--write"])

    assert result.exit_code == 0
    assert (tmp_path / "plan.yaml.bak").read_bytes() == before
    assert path.read_bytes() == before.replace(b"built: 2003", b"built: 1985")


def test_revising_with_nothing_to_change_returns_the_same_bytes(tmp_path: Path) -> None:
    """The same value again, written."""
    path = tmp_path / "plan.yaml"
    path.write_text(POWER)
    result = CliRunner().invoke(app, ["revise", str(path), "--set", "house.built=2003", "--write"])

    assert (result.exit_code, path.read_text(), sorted(p.name for p in tmp_path.iterdir())) == (0, POWER, ["plan.yaml"])


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--set", "house.built=maybe"], "built"),
        (["--set", "house.bilt=1985"], "built"),
        (["--set", "parts.sokets.count=2"], "nothing at"),
        (["--set", "nonsense"], "Expected a path and a value"),
        (["--accept", "isolate-powr"], "isolate-power"),
    ],
)
def test_what_cannot_be_done_is_said_and_nothing_is_written(tmp_path: Path, arguments: list[str], said: str) -> None:
    """Status 2, one message, the file as it was."""
    path = tmp_path / "plan.yaml"
    path.write_text(POWER)
    result = CliRunner().invoke(app, ["revise", str(path), *arguments, "--write"])
    message = result.stderr + str(result.exception or "")

    assert result.exit_code != 0
    assert said in message
    assert (path.read_text(), sorted(p.name for p in tmp_path.iterdir())) == (POWER, ["plan.yaml"])


def test_compare_tells_gone_new_and_unchanged(tmp_path: Path) -> None:
    """The old plan against the one with the power off; nothing grave is new."""
    old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
    old.write_text(POWER)
    new.write_text(accept(POWER, "x", ["isolate-power"], load_rulebase()).after)
    result = CliRunner().invoke(app, ["compare", str(old), str(new), "--fail-on", "danger"])
    back = CliRunner().invoke(app, ["compare", str(new), str(old), "--fail-on", "danger"])

    assert ("gone     danger   isolate-power@swap" in result.output, result.exit_code) == (True, 0)
    assert ("new      danger   isolate-power@swap" in back.output, back.exit_code) == (True, 1)
    assert "new steps: shut-off-power, prove-dead" in result.output


def test_a_plan_compared_with_itself_has_nothing_new() -> None:
    """Every finding is unchanged."""
    report = review(SCENARIOS / "galley-kitchen-faulty.yaml")
    found = compare(report, report)

    assert (found.gone, found.new, len(found.same)) == ((), (), len(report.findings))

"""What is said of a need: it holds, move, again, do it, cannot be told; two ways after a test; what is over already."""

from __future__ import annotations

from typing import Any, cast

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.engine.run import Drawn
from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.reports.data import as_data
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

OUTLET = {"kind": "outlet", "room": "kitchen", "outlet_type": "three-slot", "protection": ["GFCI", "AFCI"]}
OFF = {"id": "off", "do": "shut off power", "to": "socket"}
DEAD = {"id": "dead", "do": "prove dead", "to": "socket", "with": ["voltage tester"]}
SWAP = {"id": "swap", "do": "replace", "to": "socket"}
ON = {"id": "on", "do": "restore power", "to": "socket"}


def report_of(*steps: dict[str, Any], **parts: dict[str, Any]) -> Report:
    """The review of these steps at an outlet."""
    plan = {
        "house": {"built": 2003, "wiring": "copper", "power_shutoff_known": "yes"},
        "crew": {"owns": ["breaker lock", "voltage tester"]},
        "rooms": {"kitchen": {"kind": "kitchen"}},
        "parts": {"socket": OUTLET, **parts},
        "steps": [dict(step) for step in steps],
    }
    rulebase = load_rulebase()
    return review_plan(read_plan(plan, rulebase.vocabulary), rulebase)


def power(report: Report) -> list[Finding]:
    """What `isolate-power` says."""
    return [f for f in report.findings if f.rule == "isolate-power"]


def added(finding: Finding) -> list[str]:
    """What the steps do that its advice adds."""
    drawn = cast(Drawn, finding.drawn[0])
    return [str(dict(a.values)["do"]) for a in drawn.conclusion.advice if a.form == "add"]


def order(report: Report) -> list[str]:
    """The steps in the order of work."""
    return [row.step for row in report.order]


def test_what_holds_is_not_told() -> None:
    report = report_of(OFF, DEAD, SWAP, ON)

    assert power(report) == []
    assert report.moves == []


def test_what_comes_too_late_is_moved_with_what_belongs_to_it() -> None:
    """Breaker and tester stand behind the work: both move, and no second shut-off is advised."""
    report = report_of(SWAP, OFF, DEAD)
    (finding,) = power(report)

    assert finding.answer == ("move", "off", "dead")
    assert finding.what.startswith("Move off and dead to before this step.")
    assert finding.kind == "require"
    assert added(finding) == []
    assert order(report) == ["off", "dead", "swap"]
    assert {need for move in report.moves for need in move.needs} == {"isolate-power"}


def test_a_test_before_the_breaker_proves_nothing() -> None:
    report = report_of(DEAD, OFF, SWAP)

    assert [f.step for f in power(report)] == ["swap"]
    assert order(report) == ["off", "dead", "swap"]


def test_what_was_ended_in_between_is_moved_behind_the_work() -> None:
    """Power comes back before the last hand is out: the switching on moves."""
    assert order(report_of(OFF, DEAD, ON, SWAP)) == ["off", "dead", "swap", "on"]


def test_what_nothing_brings_is_advised() -> None:
    (finding,) = power(report_of(SWAP))

    assert finding.answer == ()
    assert added(finding) == ["shut off power", "prove dead"]


FEED = {"kind": "circuit"}
OFF_FEED = {"id": "off", "do": "shut off power", "to": "feed"}
ON_FEED = {"id": "on", "do": "restore power", "to": "feed"}


def test_what_cannot_be_told_is_not_do_it() -> None:
    """A breaker is off and the tester is dead, and nobody says what the breaker feeds: presumed live, and asked."""
    report = report_of(OFF_FEED, DEAD, SWAP, ON_FEED, feed=FEED)
    (finding,) = power(report)

    assert finding.signal == "danger"
    assert finding.answer == ("unknown", "off")
    assert finding.what.endswith(" Or does off do this already? The plan does not tell: Which circuit feeds socket?")
    assert [(b.id, b.attribute) for b in finding.rests_on][:1] == [("socket", "circuit")]
    (asked,) = [q for q in report.questions if q.ask == "Which circuit feeds socket?"]
    assert finding.id in asked.hangs
    data = as_data(report)
    (told,) = [f for f in data["findings"] if f["rule"] == "isolate-power"]
    assert told["answer"] == {"is": "unknown", "steps": ["off"]}
    (row,) = [s for s in data["states"] if (s["step"], s["of"]) == ("swap", "socket")]
    assert (row["value"], row["known"]) == ("live", "unknown")


def test_the_answer_decides_it() -> None:
    """The circuit that is off: dead. Another one: live, and then it is plainly to be done."""
    told = {"outlet": {**OUTLET, "circuit": "feed"}, "other": {"kind": "circuit"}}
    fed, other = told["outlet"], {**OUTLET, "circuit": "other"}

    assert power(report_of(OFF_FEED, DEAD, SWAP, ON_FEED, feed=FEED, socket=fed)) == []
    (finding,) = power(report_of(OFF_FEED, DEAD, SWAP, ON_FEED, feed=FEED, other=told["other"], socket=other))
    assert finding.answer == ()


def test_what_may_have_been_ended_is_open() -> None:
    """Off and proved dead at the outlet; then a breaker goes on that may be the one that feeds it."""
    report = report_of(OFF, DEAD, {**ON_FEED, "id": "early"}, SWAP, ON, feed=FEED)
    (practice,) = [o for o in report.open if o.rule == "power-on-too-early"]

    assert power(report) == []
    assert (practice.step, practice.signal, practice.asks) == ("early", "danger", ("part.socket.circuit",))
    (row,) = [s for s in as_data(report)["states"] if (s["step"], s["of"], s["state"]) == ("swap", "socket", "power")]
    assert (row["value"], row["known"]) == ("dead", "unknown")


def test_an_earlier_step_that_may_be_it_and_does_not_say_so() -> None:
    """The search names no wall: it may be of this one. Where it names another, it is plainly to be done."""

    def told(*parts: str) -> list[tuple[str, ...]]:
        wall = {"kind": "wall", "room": "kitchen"}
        look = {"id": "look", "do": "locate services", **({"to": list(parts)} if parts else {})}
        report = report_of(look, {"id": "open", "do": "open wall", "to": "here"}, here=wall, there=wall)
        return [f.answer for f in report.findings if f.rule == "find-hidden-services"]

    assert told() == [("unknown", "look")]
    assert told("there") == [()]
    assert told("here") == []


def test_a_test_alone_leaves_nothing_off() -> None:
    """What takes the current away is put back; that the tester showed it dead takes nothing away."""
    told = [f for f in report_of(OFF_FEED, DEAD, SWAP, ON_FEED, feed=FEED).findings if f.rule == "left-off"]

    assert told == []


def test_what_is_over_holds_at_the_start() -> None:
    over = [{**OFF, "done": "yes"}, {**DEAD, "done": "yes"}]

    assert power(report_of(*over, SWAP)) == []
    assert power(report_of({**SWAP, "done": "yes"})) == []  # nothing is advised before what is over


def test_a_need_holds_only_in_each_way_in_which_its_step_runs() -> None:
    """The tester is used only after one result of a look; the work is done after either."""
    look = {"id": "look", "do": "inspect", "to": "socket"}
    only = {"if": {"result of look": "positive"}}

    assert [f.step for f in power(report_of(look, OFF, {**DEAD, **only}, SWAP))] == ["swap"]
    assert power(report_of(look, OFF, {**DEAD, **only}, {**SWAP, **only})) == []


def test_an_if_that_is_none_is_a_mistake() -> None:
    with pytest.raises(InputError, match="expects a test and its result"):
        report_of(OFF, {**SWAP, "if": "it is live"})


def test_a_need_against_the_author_s_after_is_kept_and_told() -> None:
    """Live work is graver than the author's order: `after` gives way, and that is said."""
    report = report_of(SWAP, {**OFF, "after": ["swap"]}, DEAD)

    assert order(report) == ["off", "dead", "swap"]
    assert [(g.step, g.first, g.rule) for g in report.given_up] == [("off", "swap", "after")]


def test_a_wait_travels_with_its_work() -> None:
    """Primer and its drying stand behind the paint; the drying goes with the primer, not with the paint."""
    doors = {"kind": "cabinet doors", "room": "kitchen", "new": "yes"}
    steps = [
        {"id": "sand", "do": "sand", "to": "doors", "grit": 150},
        {"id": "paint", "do": "paint", "to": "doors"},
        {"id": "prime", "do": "prime", "to": "doors"},
        {"id": "dry", "do": "dry", "to": "doors", "for": "12 h"},
    ]

    assert order(report_of(*steps, doors=doors)).index("prime") < order(report_of(*steps, doors=doors)).index("paint")


def test_what_the_plan_leaves_off_is_told_in_one_line() -> None:
    told = [f for f in report_of(OFF, DEAD, SWAP).findings if f.rule == "left-off"]

    assert [(f.signal, f.step) for f in told] == [("notice", None)]
    assert "power" in told[0].what
    assert [f for f in report_of(OFF, DEAD, SWAP, ON).findings if f.rule == "left-off"] == []


def test_states_say_since_when(tmp_path: Any) -> None:
    """As data, and at the command line."""
    rows = as_data(report_of(OFF, DEAD, SWAP, ON))["states"]
    wanted = {"step": "swap", "state": "power", "of": "socket", "value": "dead", "since": "dead", "known": "stated"}
    assert wanted in rows

    path = tmp_path / "plan.yaml"
    path.write_text(
        "rooms: {k: {kind: kitchen}}\nparts: {socket: {kind: outlet, room: k}}\n"
        "steps: [{id: off, do: shut off power, to: socket}, {id: swap, do: replace, to: socket}]\n"
    )
    shown = CliRunner().invoke(app, ["states", str(path), "swap"])
    assert shown.exit_code == 0
    assert "power of socket: switched off, since off" in shown.output
    assert CliRunner().invoke(app, ["states", str(path), "swop"]).exit_code == 2

    path.write_text(
        "rooms: {k: {kind: kitchen}}\nparts: {socket: {kind: outlet, room: k}, feed: {kind: circuit}}\n"
        "steps: [{id: off, do: shut off power, to: feed}, {id: swap, do: replace, to: socket}]\n"
    )
    shown = CliRunner().invoke(app, ["states", str(path), "swap"])
    assert "power of socket: cannot be told; presumed live" in shown.output


def test_a_test_of_the_work_is_not_pulled_before_the_work() -> None:
    """A starting plan had its power back on before it was off: the last test was taken for the proof of a ground."""
    plan = {
        "rooms": {"kitchen": {"kind": "kitchen"}},
        "parts": {"line": {"kind": "circuit"}, "socket": {"kind": "outlet", "room": "kitchen", "circuit": "line"}},
        "steps": [
            {**OFF, "to": "line"},
            DEAD,
            SWAP,
            {**ON, "to": "line"},
            {"id": "try", "do": "test circuit", "to": "socket"},
        ],
    }
    rulebase = load_rulebase()
    report = review_plan(read_plan(plan, rulebase.vocabulary), rulebase)

    assert order(report) == ["off", "dead", "swap", "on", "try"]
    assert [f.answer for f in report.findings if f.rule == "ground-to-prove"] == [()]  # nothing to move

"""SARIF 2.1.0: the published schema, levels, places, suppressions, and fingerprints that outlast moved lines."""

import json

import jsonschema
import pytest

from advisor.errors import Problem
from advisor.plan import read_plan
from advisor.reports.sarif import as_sarif
from advisor.review.model import NotChecked
from advisor.review.reviewing import review, review_plan
from reports.hostile import TEXTS, hostile_report
from reports.support import HERE, SARIF_SCHEMA, SCENARIOS, needs_sarif_schema, small_report, tiny_rules

PLAN = (HERE / "plans" / "small.yaml").read_text(encoding="utf-8")
BROKEN = [Problem("plans/a broken one.yaml", 3, 5, "is not valid YAML here."), Problem("gone.yaml", 0, 0, "is gone.")]


def run_of(*reports, problems=()):
    return json.loads(as_sarif(reports, problems))["runs"][0]


def tiny_report(text, name="small.yaml"):
    rulebase = tiny_rules()
    return review_plan(read_plan(text, rulebase.vocabulary, name), rulebase)


@needs_sarif_schema
def test_logs_follow_the_published_schema():
    """The schema of OASIS SARIF 2.1.0 (rtm 5) as packaged in @microsoft/jest-sarif 1.0.0-beta.0, by `jsonschema`."""
    schema = json.loads(SARIF_SCHEMA.read_text(encoding="utf-8"))
    unread = small_report()
    unread.not_checked = [NotChecked("a-rule", "A rule", "the room has no height")]
    logs = [as_sarif([small_report()]), as_sarif([]), as_sarif([unread, small_report()], BROKEN)]
    logs += [as_sarif([hostile_report(text)]) for text in TEXTS.values()]
    logs += [as_sarif([review(path)]) for path in SCENARIOS]
    checker = jsonschema.validators.validator_for(schema)(schema, format_checker=jsonschema.FormatChecker())
    faults = [
        f"{list(fault.absolute_path)}: {fault.message[:200]}"
        for log in logs
        for fault in checker.iter_errors(json.loads(log))
    ]

    assert faults == []


@needs_sarif_schema
def test_the_schema_would_say_so():
    schema = json.loads(SARIF_SCHEMA.read_text(encoding="utf-8"))
    log = json.loads(as_sarif([small_report()]))
    log["runs"][0]["results"][0]["level"] = "danger"

    assert not jsonschema.validators.validator_for(schema)(schema).is_valid(log)


def test_fingerprints_stay_when_lines_move():
    """Two comment lines more at the top: every region moves by two, no fingerprint changes (SARIF 3.27.17)."""
    before, after = run_of(tiny_report(PLAN)), run_of(tiny_report(f"# One.\n# Two.\n{PLAN}"))

    def prints(run):
        return [result["partialFingerprints"] for result in run["results"]]

    def lines(run):
        return [result["locations"][0]["physicalLocation"]["region"]["startLine"] for result in run["results"]]

    assert prints(before) == prints(after)
    assert [line + 2 for line in lines(before)] == lines(after)
    assert len({json.dumps(one) for one in prints(before)}) == len(before["results"])


def test_regions_point_to_the_step_in_the_plan():
    places = {
        result["locations"][0]["logicalLocations"][0]["name"]: result["locations"][0]["physicalLocation"]["region"]
        for result in run_of(tiny_report(PLAN))["results"]
    }
    written = PLAN.splitlines()

    steps = ["finish-doors", "sand-doors", "set-run", "swap-sockets", "sweep", "tile-splash"]
    assert sorted(step for step, at in places.items() if f"id: {step}," in written[at["startLine"] - 1]) == steps


@pytest.mark.parametrize(
    ("rule", "level"),
    [("tiny-danger", "error"), ("tiny-vapor", "error"), ("tiny-noise", "warning"), ("tiny-shims", "note")],
)
def test_signal_words_become_levels(rule, level):
    """SARIF 3.27.10: error is a serious problem, warning a problem, note minor."""
    run = run_of(tiny_report(PLAN))

    assert {r["level"] for r in run["results"] if r["ruleId"] == rule} == {level}


def test_an_accepted_finding_is_a_suppressed_result():
    """SARIF 3.35: a suppression that is accepted, external, with its justification."""
    held = [result for result in run_of(small_report())["results"] if "suppressions" in result]

    assert [(r["ruleId"], s["kind"], s["status"], s["justification"]) for r in held for s in r["suppressions"]] == [
        ("tiny-accepted", "external", "accepted", "The floor is lost anyway.")
    ]


def test_plans_that_cannot_be_read_are_notifications():
    invocation = run_of(small_report(), problems=BROKEN)["invocations"][0]
    places = [note["locations"][0]["physicalLocation"] for note in invocation["toolExecutionNotifications"]]

    assert invocation["executionSuccessful"] is False
    assert places == [
        {"artifactLocation": {"uri": "plans/a%20broken%20one.yaml"}, "region": {"startLine": 3, "startColumn": 5}},
        {"artifactLocation": {"uri": "gone.yaml"}},
    ]


@pytest.mark.parametrize(
    ("file", "uri"),
    [
        ("plans/my plan.yaml", "plans/my%20plan.yaml"),
        ("/srv/plans/a#1.yaml", "file:///srv/plans/a%231.yaml"),
        (r"C:\plans\a.yaml", "file:///C:/plans/a.yaml"),
    ],
)
def test_places_are_uris(file, uri):
    """RFC 3986: what is no part of a path is percent-encoded."""
    report = tiny_report(PLAN, file)

    assert run_of(report)["artifacts"] == [{"location": {"uri": uri}}]

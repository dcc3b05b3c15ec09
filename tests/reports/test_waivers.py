"""Waivers: accepted and still listed, run out, matching nothing, and no danger for good."""

from datetime import date

import pytest

from advisor.errors import InputError
from advisor.review.waivers import apply_waivers, read_waivers
from reports.support import FORMATS, small_report

TODAY = date(2030, 1, 31)
FULL = "{rule: tiny-shims, step: set-run, plan: small.yaml, reason: Old house., by: R. Roe, until: 2030-01-31}"


def waivers(tmp_path, *lines):
    file = tmp_path / "waivers.yaml"
    file.write_text("waivers:\n" + "".join(f"  - {line}\n" for line in lines), encoding="utf-8")
    return read_waivers(file)


def applied(tmp_path, *lines, today=TODAY):
    report = small_report()
    report.accepted = []
    spoke = apply_waivers(report, waivers(tmp_path, *lines), today)
    return report, len(spoke)


def test_an_accepted_finding_no_longer_counts_and_is_still_listed(tmp_path):
    report, spoke = applied(tmp_path, FULL)

    assert (spoke, report.count("notice"), [a.finding.id for a in report.accepted]) == (1, 1, ["tiny-shims@set-run"])
    assert {form for form, render in FORMATS.items() if "Old house." not in render(report)} == set()


def test_a_waiver_holds_through_its_last_day(tmp_path):
    last, _ = applied(tmp_path, FULL)
    after, _ = applied(tmp_path, FULL, today=date(2030, 2, 1))

    assert [len(r.accepted) for r in (last, after)] == [1, 0]
    assert [f.rule for f in after.findings if f.pack == "waivers"] == ["waiver-expired"]
    assert "tiny-shims@set-run" in [f.id for f in after.findings]
    assert {form for form, render in FORMATS.items() if "waiver-expired" not in render(after)} == set()


def test_a_danger_is_not_accepted_without_a_last_day(tmp_path):
    endless, _ = applied(tmp_path, "{rule: tiny-danger, reason: We are careful., by: R. Roe}")
    dated, _ = applied(tmp_path, "{rule: tiny-danger, reason: We are careful., by: R. Roe, until: 2030-02-01}")

    assert (endless.count("danger"), dated.count("danger")) == (1, 0)
    assert [f.rule for f in endless.findings if f.pack == "waivers"] == ["waiver-unmatched"]


@pytest.mark.parametrize(
    ("line", "accepted"),
    [
        ("{rule: tiny-shims, reason: x, by: y}", 1),
        ("{rule: tiny-shims, plan: small, reason: x, by: y}", 1),
        ("{rule: tiny-shims, plan: other.yaml, reason: x, by: y}", 0),
        ("{rule: tiny-shims, step: sand-doors, reason: x, by: y}", 0),
        ("{rule: tiny-tile, reason: x, by: y}", 0),
    ],
)
def test_rule_step_and_plan_must_all_fit(tmp_path, line, accepted):
    report, spoke = applied(tmp_path, line)

    assert (len(report.accepted), spoke) == (accepted, accepted)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("{step: x, reason: x, by: y}", "waiver has no 'rule'. Expected the id of a rule."),
        ("{rule: x, by: y}", "waiver has no 'reason'. Expected why the risk is accepted."),
        ("{rule: x, reason: y}", "waiver has no 'by'. Expected who accepts it."),
        ("{rule: x, reason: y, by: z, until: soon}", "'until' is 'soon'. Expected a day such as 2030-01-31."),
        (
            "{rule: x, reason: y, by: z, untill: 2030-01-31}",
            "waiver has an unknown key, 'untill'. Did you mean 'until'?",
        ),
        ("{rule: [x], reason: y, by: z}", "'rule' is a sequence. Expected words."),
        ("just words", "is no waiver. Expected 'rule', 'step' or 'plan', 'reason', 'by' and 'until'."),
    ],
)
def test_a_waiver_that_is_not_complete_is_refused_with_its_line(tmp_path, line, said):
    with pytest.raises(InputError) as caught:
        waivers(tmp_path, FULL, line)

    assert [(p.line, p.message) for p in caught.value.problems] == [(3, said)]


def test_a_file_without_a_list_is_refused(tmp_path):
    (tmp_path / "waivers.yaml").write_text("rule: x", encoding="utf-8")

    with pytest.raises(InputError, match="holds no list of waivers"):
        read_waivers(tmp_path / "waivers.yaml")

"""`advisor review` over many plans, forms, waivers and packs of one's own, as its users run it."""

import csv
import json
import re

import pytest
from reports.support import SCENARIOS, TOP
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.errors import InputError
from cli.small_plans import HEAD, QUIET, SHIMS, SOCKET

RUN = CliRunner()
WAIVERS = """\
waivers:
  - {rule: tiny-danger, plan: plan-01.yaml, step: swap, reason: The circuit is dead., by: R. Roe, until: 2030-06-30}
  - {rule: tiny-shims, plan: plan-20, reason: The run is hidden., by: R. Roe}
  - {rule: tiny-shims, plan: plan-21, reason: The run is hidden., by: R. Roe, until: 2029-12-31}
"""


@pytest.fixture
def folder(tmp_path):
    """A reviewer's day: 40 plans. 01 to 16 a socket, 17 to 30 shims, 31 to 38 quiet, 39 and 40 broken."""
    for n in range(1, 41):
        body = SOCKET if n <= 16 else SHIMS if n <= 30 else QUIET
        text = HEAD.format(n=n) + body
        if n == 39:
            text = text.replace("worktop", "wroktop")
        if n == 40:
            text = "title: [unfinished\n"
        (tmp_path / f"plan-{n:02}.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "waivers.yaml").write_text(WAIVERS, encoding="utf-8")
    (tmp_path / "notes.txt").write_text("no plan", encoding="utf-8")
    return tmp_path


def review(*words):
    return RUN.invoke(app, ["review", *map(str, words)])


@pytest.mark.usefixtures("tiny")
def test_a_reviewers_day_has_the_right_totals_and_status(folder):
    """16 sockets: 16 dangers and 16 warnings; 14 runs: 14 notices. One danger and one notice are accepted, and the
    waiver that ran out is one notice more."""
    result = review(folder, "--today", "2030-01-15", "--width", "400")  # the folder of a test has a long name
    lines = [line.removeprefix(f"{folder}/") for line in result.stdout.splitlines()]

    assert lines[:40] == [
        *(f"plan-{n:02}.yaml: not reviewed, 1 problem" for n in (39, 40)),
        *(f"plan-{n:02}.yaml: 1 danger, 1 warning" for n in range(2, 17)),
        "plan-01.yaml: 1 warning; 1 accepted",
        "plan-21.yaml: 2 notices",
        *(f"plan-{n:02}.yaml: 1 notice" for n in (*range(17, 20), *range(22, 31))),
        "plan-20.yaml: no findings; 1 accepted",
        *(f"plan-{n:02}.yaml: no findings; not judged yet: no rule here knows 1 of 1 step" for n in range(31, 39)),
    ]
    assert lines[41] == ("38 plans reviewed: 15 dangers, 16 warnings, 14 notices; 2 accepted; 2 not reviewed.")
    assert result.exit_code == 2
    assert [line.partition(":")[0].rpartition("/")[2] for line in result.stderr.splitlines()] == [
        "plan-39.yaml", "plan-40.yaml",
    ]  # fmt: skip


@pytest.mark.usefixtures("tiny")
@pytest.mark.parametrize("form", ["json", "sarif", "csv", "html", "markdown"])
def test_a_reviewers_day_says_the_same_in_every_form(folder, form):
    text = review(folder, "--today", "2030-01-15", "--format", form).stdout
    if form == "json":
        totals = json.loads(text)["totals"]
        found = [totals[w] for w in ("danger", "warning", "caution", "notice", "accepted", "plans", "unreadable")]
    elif form == "sarif":
        run = json.loads(text)["runs"][0]
        open_ones = [r["properties"]["signal"] for r in run["results"] if "suppressions" not in r]
        found = [open_ones.count(w) for w in ("danger", "warning", "caution", "notice")]
        notes = run["invocations"][0]["toolExecutionNotifications"]
        found += [len(run["results"]) - len(open_ones), len(run["artifacts"]), len(notes)]
    elif form == "csv":
        rows = list(csv.DictReader(text.splitlines()))
        found = [
            sum(r["signal"] == w and r["status"] == "speaks" for r in rows)
            for w in ("danger", "warning", "caution", "notice")
        ]
        found += [sum(r["status"] == s for r in rows) for s in ("accepted", "cannot be read")]
        found.insert(5, 38)  # quiet plans have no row
    else:
        dangers, warnings, notices, accepted, unread = re.search(
            r"38 plans reviewed: (\d+) dangers, (\d+) warnings, (\d+) notices; (\d+) accepted; (\d+) not reviewed", text
        ).groups()
        found = [int(n) for n in (dangers, warnings, 0, notices, accepted, 38, unread)]

    assert found == [15, 16, 0, 14, 2, 38, 2]


@pytest.mark.usefixtures("tiny")
@pytest.mark.parametrize(("limit", "status"), [("danger", 1), ("warning", 1), ("notice", 1), (None, 0)])
def test_fail_on_looks_at_all_plans(folder, limit, status):
    for n in (39, 40):
        (folder / f"plan-{n}.yaml").unlink()
    words = ["--fail-on", limit] if limit else []

    assert review(folder, "--today", "2030-01-15", *words).exit_code == status


@pytest.mark.usefixtures("tiny")
def test_an_accepted_danger_does_not_fail(folder):
    words = ["--today", "2030-01-15", "--fail-on", "danger"]

    assert review(folder / "plan-01.yaml", *words).exit_code == 0
    assert review(folder / "plan-01.yaml", *words[2:], "--today", "2030-07-01").exit_code == 1


@pytest.mark.usefixtures("tiny")
def test_a_waiver_that_fits_nothing_is_a_finding(folder):
    (folder / "waivers.yaml").write_text(
        "waivers:\n"
        "  - {rule: tiny-shims, plan: plan-01, reason: x, by: y}\n"
        "  - {rule: tiny-drain, reason: x, by: y}\n"
        "  - {rule: tiny-danger, plan: plan-39, reason: x, by: y}\n",  # that plan cannot be read: not judged
        encoding="utf-8",
    )
    rows = list(csv.DictReader(review(folder, "--format", "csv").stdout.splitlines()))
    found = [(r["plan"].rpartition("/")[2], r["rule"]) for r in rows if r["rule"].startswith("waiver")]

    assert found == [("plan-01.yaml", "waiver-unmatched"), ("waivers.yaml", "waiver-unmatched")]


def test_jobs_do_not_change_the_report():
    words = [TOP / "scenarios", "--format", "json", "--today", "2030-01-01"]

    assert review(*words, "--jobs", "3").stdout == review(*words).stdout


def test_a_folder_without_plans_is_refused(tmp_path):
    result = review(tmp_path)

    assert isinstance(result.exception, Exception)
    assert "holds no plans. Expected files that end in .yaml." in str(result.exception)


@pytest.mark.usefixtures("tiny")
def test_a_file_is_written_whole_or_not_at_all(folder):
    target = folder / "report.csv"
    target.write_text("old", encoding="utf-8")
    review(folder / "plan-17.yaml", "--format", "csv", "--output", target)

    assert target.read_bytes()[:8] == b"\xef\xbb\xbfplan,"  # the mark by which spreadsheets know UTF-8
    assert sorted(p.name for p in folder.iterdir() if p.name.startswith(".")) == []
    before = target.read_bytes()
    refused = review(folder / "plan-40.yaml", "--format", "csv", "--output", target)
    assert (refused.exit_code, target.read_bytes()) == (2, before)


@pytest.mark.parametrize("form", ["text", "json", "html", "markdown", "sarif", "csv"])
def test_own_packs_are_shown_in_every_form(tmp_path, form):
    (tmp_path / "town.yaml").write_text(
        "pack: our-town\ntitle: Our town\nretire: [{rule: test-for-lead, reason: The town tests every house.}]\n"
        "rules: []\n",
        encoding="utf-8",
    )
    plan = TOP / "scenarios" / "trim-in-an-old-hall.yaml"
    text = review(plan, "--rules", tmp_path, "--format", form).stdout

    assert ("The town tests every house." in " ".join(text.split()), "our-town" in text) == (True, True)


def test_a_day_that_is_none_is_refused():
    result = review(SCENARIOS[0], "--today", "soon")

    assert "--today soon: is no day. Expected one such as 2030-01-31." in str(result.exception)


PACK = "pack: house-rules\ntitle: Our own\nrules: []\n"


def test_rules_and_waivers_in_a_folder_are_passed_over_with_a_word(tiny, tmp_path):
    (tmp_path / "plan.yaml").write_text(HEAD.format(n=1) + QUIET, encoding="utf-8")
    (tmp_path / "our-pack.yaml").write_text(PACK, encoding="utf-8")
    (tmp_path / "accepted.yaml").write_text("# by the lead\n" + WAIVERS, encoding="utf-8")
    result = review(str(tmp_path))

    assert (result.exit_code, "1 plan reviewed: no findings." in result.stdout) == (0, True)
    assert result.stderr.splitlines() == [
        f"{tmp_path / 'accepted.yaml'}: skipped, holds waivers.",
        f"{tmp_path / 'our-pack.yaml'}: skipped, holds rules.",
    ]


@pytest.mark.parametrize("body", [PACK + SOCKET, "rule: none\n"])
def test_a_broken_plan_in_a_folder_is_not_passed_over(tiny, tmp_path, body):
    (tmp_path / "plan.yaml").write_text(body, encoding="utf-8")

    assert review(str(tmp_path)).exit_code == 2


def test_a_pack_that_is_named_is_not_passed_over(tiny, tmp_path):
    (tmp_path / "our-pack.yaml").write_text(PACK, encoding="utf-8")

    with pytest.raises(InputError, match="'pack' is not a section of a plan"):
        RUN.invoke(app, ["order", str(tmp_path / "our-pack.yaml")], catch_exceptions=False)


PLAN_OF_TWO = (
    "title: {name}\nrooms: {{k: {{kind: kitchen}}}}\nparts: {{d: {{kind: cabinet doors, room: k}}}}\n"
    "steps: [{{do: paint, to: d}}]\n"
)


def test_a_waiver_of_a_plan_beside_is_silent_when_another_is_reviewed(tmp_path):
    """Of a plan that is not there it is told: a slip in a name can leave a real risk without anybody's yes."""
    for name in ("one", "other"):
        (tmp_path / f"{name}.yaml").write_text(PLAN_OF_TWO.format(name=name), encoding="utf-8")
    waiver = "waivers:\n  - {{rule: no-such-finding, plan: {plan}, reason: Seen., by: me, until: 2030-06-30}}\n"
    said = {}
    for plan in ("other.yaml", "gone.yaml"):
        (tmp_path / "waivers.yaml").write_text(waiver.format(plan=plan), encoding="utf-8")
        said[plan] = [
            "waiver-unmatched" in review(target, "--today", "2030-01-15", "--format", "json").stdout
            for target in (tmp_path / "one.yaml", tmp_path)
        ]

    assert said == {"other.yaml": [False, True], "gone.yaml": [False, True]}


def test_a_folder_names_the_practices_that_speak_most_often(tmp_path):
    for name in ("one", "two", "three"):
        (tmp_path / f"{name}.yaml").write_text(PLAN_OF_TWO.format(name=name), encoding="utf-8")
    data = json.loads(review(tmp_path, "--format", "json").stdout)
    text = review(tmp_path).stdout

    assert [one["speaks"] + one["open"] for one in data["often"]] == sorted(
        (one["speaks"] + one["open"] for one in data["often"]), reverse=True
    )
    assert data["often"][0]["speaks"] == 3
    assert f"speaks in 3 plans: {data['often'][0]['title']} ({data['often'][0]['rule']})" in text


def test_the_lines_of_a_folder_keep_to_the_width_and_name_what_could_not_be_read(tmp_path):
    """Fault 10: lines of 182 columns, and `1 problem` without a word which."""
    for name in ("bathroom-faulty", "bathroom-careful"):
        (tmp_path / f"{name}.yaml").write_bytes((TOP / f"scenarios/{name}.yaml").read_bytes())
    (tmp_path / "bad.yaml").write_text("steps: [{do: flubber}]\n", encoding="utf-8")
    result = review(tmp_path, "--output", str(tmp_path / "overview.txt"))
    text = (tmp_path / "overview.txt").read_text(encoding="utf-8")
    told = text.partition("What could not be read:")[2]

    assert result.exit_code == 2
    assert [line for line in text.splitlines() if len(line) > 80 and " " in line.strip()] == []
    assert [word for word in ("bad.yaml", "flubber") if word not in told] == []

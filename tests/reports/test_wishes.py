"""What a beginner, an instructor and a reviewer wished for before they had read a report of ours, as far as a test can
tell: `tests/reports/wishes.md` lists all 24 and what became of each."""

import csv
import io
import json
import re
import shutil
from urllib.parse import unquote

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.cli.each import file_names
from advisor.jobs import read_jobs
from advisor.reports.arrange import arrange
from advisor.reports.checklist_text import as_checklist_text
from advisor.reports.data import as_json
from advisor.reports.html import as_html
from advisor.reports.markdown import as_markdown
from advisor.reports.opened import MOST_GRAVEST, gravest_open, gravest_open_words
from advisor.reports.text import as_text
from advisor.reports.totals import many_as_text, worst_first
from advisor.review.reviewing import review
from reports.support import SCENARIOS, TOP, spaced

RUN = CliRunner()
ORDER = ("danger", "warning", "caution", "notice")
_KEPT = {}


def reviewed(path):
    if path not in _KEPT:
        _KEPT[path] = review(path)
    return _KEPT[path]


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_the_gravest_open_practices_are_named_with_their_steps(path):
    """C6: silence is not taken for safe. None is graver than those that are named, and every report for people names
    the same."""
    report = reviewed(path)
    words = gravest_open_words(report)
    named = gravest_open(report)
    speaking = {finding.rule for finding in report.findings}
    waiting = [one for one in report.open if one.rule not in speaking]

    assert {one.rule for one, _ in named} == {one.rule for one in waiting}
    assert [ORDER.index(one.signal) for one, _ in named] == sorted(ORDER.index(one.signal) for one, _ in named)
    assert named[0][0].rank == max(one.rank for one in waiting)
    for one, steps in named[:MOST_GRAVEST]:
        assert f"{one.signal}: {one.title}" in words
        assert set(steps) == {o.step for o in waiting if o.rule == one.rule and o.step}
    assert words in spaced(as_text(report))
    assert words.replace("'", "&#39;") in as_html([report])
    assert words in as_markdown([report]).replace("\\", "")


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_what_only_our_own_advice_brings_is_counted_apart(path):
    """A practice whose findings all follow from advice is told of in the head, in every format the same."""
    report = reviewed(path)
    data = json.loads(as_json(report))
    ours = [f["signal"] for f in data["findings"] if f["advised"]]
    counts = {word: ours.count(word) for word in ORDER}
    said = [f"{counts[word]} {word}{'s' * (counts[word] != 1)}" for word in ORDER[:2] if counts[word]]
    sentence = f"({' and '.join(said)} from our advice)."

    assert data["summary_advised"] == counts == {word: arrange(report).advised_counts()[word] for word in ORDER}
    for text in (spaced(as_text(report)), spaced(as_html([report])), spaced(as_markdown([report]))):
        assert (sentence in text) == bool(said)
        assert ("from our advice" in text) == bool(said)


def test_a_scenario_has_a_warning_of_our_own():
    """So that the test above is not true of nothing: the stripper that is advised gives off vapor in the bath."""
    text = spaced(as_text(reviewed(next(p for p in SCENARIOS if p.stem == "bathroom-faulty"))))

    assert "12 notices (1 warning from our advice)." in text
    assert "before you open stripper (advised)" in text


def test_a_folder_begins_with_the_worst_plan():
    """C5: by dangers, then warnings and so on; what could not be read comes before all that could."""
    reports = [reviewed(path) for path in SCENARIOS]
    counts = [tuple(arrange(r).counts()[word] for word in ORDER) for r in worst_first(reports)]
    names = [r.plan.file for r in worst_first(reports)]
    lines = many_as_text(reports, []).splitlines()[: len(reports)]

    assert counts == sorted(counts, reverse=True)
    assert len(set(counts)) > 5
    assert [line.partition(": ")[0] for line in lines] == names
    assert worst_first(reports[::-1]) == worst_first(reports)
    table = as_markdown(reports).partition("| --- ")[2]
    assert [n for n in names if n not in table] == []
    assert [table.index(name) for name in names] == sorted(table.index(name) for name in names)


def test_a_plan_without_findings_does_not_look_like_a_pass():
    report = reviewed(next(p for p in SCENARIOS if p.stem == "bathroom-careful"))
    line = many_as_text([report], []).splitlines()[0]
    ranks = {}
    for one in report.open:
        ranks[one.rule] = max(ranks.get(one.rule, 0), one.rank)

    assert not report.findings
    assert f", {list(ranks.values()).count(3)} dangers, {list(ranks.values()).count(2)} warnings, " in line
    assert line.endswith(" at worst")


ENDINGS = {"text": "txt", "json": "json", "html": "html", "markdown": "md", "sarif": "sarif", "csv": "csv"}


@pytest.fixture
def plans(tmp_path):
    """Three plans, one of them broken, one in a folder below."""
    (tmp_path / "plans" / "late").mkdir(parents=True)
    shutil.copy(TOP / "scenarios/trim-in-an-old-hall.yaml", tmp_path / "plans/late/hall.yaml")
    shutil.copy(TOP / "scenarios/careful-porch.yaml", tmp_path / "plans/porch.yaml")
    (tmp_path / "plans" / "bad.yaml").write_text("steps: [{do: flubber}]\n", encoding="utf-8")
    return tmp_path / "plans"


@pytest.mark.parametrize("form", ENDINGS)
def test_a_folder_of_plans_comes_out_as_a_file_each(plans, tmp_path, form):
    """B7: one file a plan, with an overview; a bad plan does not stop the rest."""
    ending = ENDINGS[form]
    done = RUN.invoke(app, ["review", str(plans), "--format", form, "--output", f"{tmp_path}/out/"])
    made = sorted(str(p.relative_to(tmp_path / "out")) for p in (tmp_path / "out").rglob("*") if p.is_file())

    assert done.exit_code == 2
    assert made == [f"late/hall.{ending}", f"overview.{ending}", f"porch.{ending}"]
    alone = tmp_path / f"alone.{ending}"
    RUN.invoke(app, ["review", str(plans / "porch.yaml"), "--format", form, "--output", str(alone)])
    assert (tmp_path / "out" / f"porch.{ending}").read_bytes() == alone.read_bytes()
    assert "flubber" in done.stderr


def test_each_file_may_be_the_sheet_that_is_handed_out(plans, tmp_path):
    """B1: the first screen of each plan."""
    RUN.invoke(app, ["review", str(plans), "--brief", "--output", f"{tmp_path}/out/"])

    assert len((tmp_path / "out/late/hall.txt").read_text(encoding="utf-8").splitlines()) <= 24


def test_the_overview_of_a_folder_leads_to_each_report_and_holds_none(plans, tmp_path):
    """B4, B7: a table with a link a plan, what is commonest, what was not read, the cautions."""
    shutil.copy(plans / "porch.yaml", plans / "a porch & #2.yaml")
    for form in ("html", "markdown"):
        RUN.invoke(app, ["review", str(plans), "--format", form, "--output", f"{tmp_path}/out/"])
    page = (tmp_path / "out/overview.html").read_text(encoding="utf-8")
    text = (tmp_path / "out/overview.md").read_text(encoding="utf-8")

    links = re.findall(r'<td dir="auto"><a href="([^"]*)">', page)
    assert sorted(map(unquote, links)) == ["a porch & #2.html", "late/hall.html", "porch.html"]
    assert all((tmp_path / "out" / unquote(link)).is_file() for link in links)
    assert [f"`{name}`" in text for name in ("a porch & #2.md", "late/hall.md", "porch.md")] == [True] * 3
    for told in (page, text):
        assert "Do not start yet" not in told
        assert "flubber" in told
        assert "This is a check before the work." in told
        assert "speaks in" in told or "open in" in told


def test_two_plans_never_share_a_file(tmp_path):
    paths = [tmp_path / name for name in ("a.yaml", "a.yml", "overview.yaml", "b.yaml")]

    assert file_names(paths, [tmp_path], "txt") == ["a.yaml.txt", "a.yml.txt", "overview.yaml.txt", "b.txt"]
    elsewhere = [tmp_path / "x" / "a.yaml", tmp_path / "y" / "a.yaml"]
    assert len(set(file_names(elsewhere, [], "txt"))) == 2


def test_the_day_stands_on_each_page_where_it_is_named(tmp_path):
    """B7: the clock is asked nowhere; a day that somebody names is printed."""
    plan = str(TOP / "scenarios/careful-porch.yaml")
    texts = {}
    for form, ending in ENDINGS.items():
        for today in ((), ("--today", "2030-01-31")):
            out = tmp_path / f"r{len(today)}.{ending}"
            RUN.invoke(app, ["review", plan, "--format", form, "--output", str(out), *today])
            texts[form, bool(today)] = out.read_text(encoding="utf-8")

    assert [form for form in ENDINGS if "2030-01-31" in texts[form, False]] == []
    assert texts["text", True].splitlines()[0].endswith(", 2030-01-31")
    assert "2030\\00002d 01\\00002d 31" in texts["html", True].partition("@top-left { content")[2].partition("}")[0]
    assert json.loads(texts["json", True])["made_by"]["date"] == "2030-01-31"
    assert "2030-01-31" in texts["markdown", True].splitlines()[0]


def test_each_plan_of_a_folder_has_its_own_name_on_its_pages():
    """B7: not the name of the whole document. The style says it; Chromium prints it (looked at by hand)."""
    reports = [reviewed(path) for path in SCENARIOS[:3]]
    page = as_html(reports)
    styles = dict(re.findall(r"@page plan(\d) \{ @top-left \{ content: \"([^\"]*)\"", page))
    said = {n: re.sub(r"\\([0-9a-f]{6}) ", lambda m: chr(int(m[1], 16)), text) for n, text in styles.items()}

    assert list(said.values()) == [r.plan.title for r in worst_first(reports)]
    assert [n for n in said if f"#p{n} {{ page: plan{n}; }}" not in page or f'id="p{n}"' not in page] == []
    assert "@page plan" not in as_html(reports[:1])


@pytest.mark.parametrize("job", read_jobs(), ids=lambda job: job.name)
def test_a_blank_sheet_for_every_usual_job(job):
    """B8: boxes for every step, room for name and signature, what is to be found out; no plan is needed."""
    done = RUN.invoke(app, ["checklist", "--job", job.name])
    data = json.loads(RUN.invoke(app, ["checklist", "--job", job.name, "--format", "json"]).stdout)
    steps = [group for group in data["plans"][0]["groups"] if "work" in group]
    text = spaced(done.stdout)

    assert done.exit_code == 0
    assert re.search(r"(?m)^Name _{20,}  Date _{8,}  Signed _{15,}$", done.stdout)
    assert len(steps) == len(job.plan["steps"])
    assert [group["work"] for group in steps if f"[ ] Done: {group['work'][0]}." not in text] == []
    assert [ask for ask in data["plans"][0]["asked"] if f"? {ask} ____" not in text] == []
    assert [line for line in done.stdout.splitlines() if len(line) > 80] == []


def test_a_blank_sheet_on_paper_has_the_same_boxes():
    page = RUN.invoke(app, ["checklist", "--job", "faucet", "--format", "html"]).stdout
    text = RUN.invoke(app, ["checklist", "--job", "faucet"]).stdout

    assert page.count('type="checkbox"') == text.count("[ ]") >= 7
    assert "<span>Signed</span>" in page


@pytest.mark.parametrize("words", [[], ["plan.yaml", "--job", "faucet"], ["--job", "faucet", "--exercise"]])
def test_a_plan_or_a_job_and_not_both(words):
    assert RUN.invoke(app, ["checklist", *words]).exit_code == 2


def test_a_job_that_nobody_knows_gets_the_near_name():
    assert "Did you mean 'backsplash'?" in str(RUN.invoke(app, ["checklist", "--job", "backsplsh"]).exception)


def test_the_checklist_in_text_has_room_for_name_and_signature():
    report = reviewed(SCENARIOS[0])

    assert "\nName ____" in as_checklist_text([report])
    assert "\nName ____" not in as_checklist_text([report], "step", "answers")


def test_lines_of_all_steps_of_a_merged_finding_are_in_the_table_too():
    """C2: each step of a practice with its own line; notes of the text are in `test_begin.py`."""
    from advisor.reports.table_csv import as_csv

    report = reviewed(next(p for p in SCENARIOS if p.stem == "galley-kitchen-faulty"))
    lines = {step.id: str(step.line) for step in report.plan.steps}
    rows = [row for row in csv.DictReader(io.StringIO(as_csv([report]), newline="")) if row["status"] == "speaks"]

    assert [row["finding"] for row in rows if row["step"] and row["line"] != lines[row["step"]]] == []
    assert len(rows) > 20

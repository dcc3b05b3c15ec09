"""Every format carries the same findings, for every scenario. Each is read by a reader that was not written here."""

import csv
import html
import io
import json
import re
from functools import cache
from html.parser import HTMLParser

import pytest
from markdown_it import MarkdownIt

from advisor.reports.hazards import hazard_rows
from advisor.review.reviewing import review
from advisor.review.told_once import told
from advisor.rulebase.model import SIGNALS
from reports.support import FORMATS, SCENARIOS, small_report

PLANS = [*SCENARIOS, None]


@cache
def reviewed(path):
    return review(path) if path else small_report()


class _Words(HTMLParser):
    """The text of a page."""

    def __init__(self):
        super().__init__()
        self.text = []

    def handle_data(self, data):
        self.text.append(data)


def _html(text):
    reader = _Words()
    reader.feed(text)
    said = re.findall(r"Finding: ([^\n]*)", "".join(reader.text))
    accepted = re.findall(r'class="small">([^<]*@[^<]*|[a-z-]+)</span></li>', text.partition("Accepted by a waiver")[2])
    return [name for one in said for name in one.split(", ")] + accepted


def _markdown(text):
    found = []
    for token in MarkdownIt("commonmark").enable("table").parse(text):
        if token.type != "inline":
            continue
        words = [child.content for child in token.children]
        codes = [child.content for child in token.children if child.type == "code_inline"]
        if any("Finding:" in word or "accepted by" in word for word in words):
            found += codes
    return found


def ids_in(form, text):
    """The ids of findings that a report carries."""
    if form == "json":
        data = json.loads(text)
        return [s["id"] for f in data["findings"] for s in f["steps"]] + [a["finding"]["id"] for a in data["accepted"]]
    if form == "sarif":
        results = json.loads(text)["runs"][0]["results"]
        return [result["properties"]["id"] for result in results if result.get("kind") != "open"]
    if form == "csv":
        rows = csv.DictReader(io.StringIO(text, newline=""))
        return [row["finding"] for row in rows if row["finding"] and row["kind"] != "open"]
    return {"html": _html, "markdown": _markdown}[form](text)


SAID = {  # what stands at the head of each finding, in the reports for people
    "text": r"(?m)^  (?:\[ \]|  !) (DANGER|WARNING|CAUTION|NOTICE): ",
    "markdown": r"(?m)^- (?:\\?\[ \\?\] )?\*\*(DANGER|WARNING|CAUTION|NOTICE):\*\* ",
    "html": r'<section class="finding (danger|warning|caution|notice)"',
}


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem if p else "small")
@pytest.mark.parametrize("form", SAID)
def test_the_headline_counts_practices_as_the_report_for_programs_does(form, path):
    """One practice at several steps counts once, whatever the format; no word is counted that is not printed."""
    text = FORMATS[form](reviewed(path)).partition("Accepted by a waiver")[0].partition("ACCEPTED BY")[0]
    printed = [word.lower() for word in re.findall(SAID[form], text)]
    counts = json.loads(FORMATS["json"](reviewed(path)))["summary"]
    said = ", ".join(f"{n} {word}{'s' * (n != 1)}" for word, n in counts.items() if n)
    # what only our own advice brings is said behind it
    head = rf"Checked before the work: {said}( \(\d+ \w+ from our advice\))?\." if said else "Not judged yet: "

    assert re.search(head, " ".join(text.split()))
    assert [word for word, count in counts.items() if printed.count(word) < count] == []
    assert set(printed) == {word for word, count in counts.items() if count}


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem if p else "small")
def test_one_practice_is_one_finding_with_its_steps(path):
    """Its id is that of its first step, its word the gravest, and its steps hold every finding of the review."""
    report = reviewed(path)
    data = json.loads(FORMATS["json"](report))
    own = {finding.id: finding for finding in told(report.findings, report.plan)}

    assert len({one["rule"] for one in data["findings"]}) == len(data["findings"]) == sum(data["summary"].values())
    for one in data["findings"]:
        first = one["steps"][0]
        assert (one["id"], one["step"], one["step_line"]) == (first["id"], first["step"], first["line"])
        assert one["signal"] == max((s["signal"] for s in one["steps"]), key=SIGNALS.index)
        for step in one["steps"]:
            assert {own[step["id"]].rule, step["id"].partition("@")[0].partition("#")[0]} == {one["rule"]}
            assert step["what"] == own[step["id"]].what


def expected(report):
    return sorted([f.id for f in told(report.findings, report.plan)] + [a.finding.id for a in report.accepted])


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem if p else "small")
@pytest.mark.parametrize("form", [f for f in FORMATS if f != "text"])
def test_each_format_carries_every_finding_once(form, path):
    report = reviewed(path)

    assert sorted(ids_in(form, FORMATS[form](report))) == expected(report)


def open_in(form, text):
    """The ids of open practices that a report carries."""
    if form == "json":
        return [one["id"] for one in json.loads(text)["open"]]
    if form == "sarif":
        results = json.loads(text)["runs"][0]["results"]
        return [one["properties"]["id"] for one in results if one.get("kind") == "open"]
    rows = csv.DictReader(io.StringIO(text, newline=""))
    return [row["finding"] for row in rows if (row["kind"], row["status"]) == ("open", "open")]


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem if p else "small")
@pytest.mark.parametrize("form", ["json", "sarif", "csv"])
def test_each_format_for_programs_carries_every_open_practice_once(form, path):
    report = reviewed(path)

    assert sorted(open_in(form, FORMATS[form](report))) == sorted(one.id for one in report.open)


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem if p else "small")
@pytest.mark.parametrize("form", ["html", "markdown"])
def test_pages_name_every_open_practice_under_a_question(form, path):
    report = reviewed(path)
    said = " ".join(re.sub(r"\\(.)", r"\1", html.unescape(FORMATS[form](report))).split())

    assert [one.title for one in report.open if one.title not in said] == []


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem if p else "small")
@pytest.mark.parametrize("form", ["text", "html", "markdown"])
def test_each_report_for_people_says_how_many_practices_are_open_and_how_each_step_stands(form, path):
    report = reviewed(path)
    text = re.sub(r"<[^>]*>|[*\\\\]", " ", FORMATS[form](report))
    said = " ".join(text.split())
    count = len({one.rule for one in report.open})

    assert f"Not judged yet: {count} practice" in said or count == 0
    assert ("No rule here knows this work. Nothing was checked." in said) == any(not a.known for a in report.account)
    assert "rules were looked at" not in said


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem if p else "small")
def test_text_names_the_rule_of_every_finding(path):
    """Text is for people: it prints rules and steps, and one practice at several steps once."""
    report = reviewed(path)
    text = " ".join(FORMATS["text"](report).split())
    rules = {f.rule for f in told(report.findings, report.plan)} | {a.finding.rule for a in report.accepted}

    assert {rule for rule in rules if not re.search(rf"[ \[]{rule}[\]@. ,]", text)} == set()


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem if p else "small")
def test_hazards_are_the_findings_that_are_about_people(path):
    """Notices are about the work; all others are rows, one practice at several steps once."""
    report = reviewed(path)
    rules = {f.rule for f in told(report.findings, report.plan) if f.signal != "notice"}

    assert {row.id.partition("@")[0] for row in hazard_rows(report)} == rules


# What a reader could take for leave to begin. No report may hold it: what no rule knows is not judged.
LEAVE = re.compile(
    r"\b(go ahead|all clear|good to go|safe to (start|begin|work|proceed)|plan is (safe|fine|good|complete)"
    r"|you (can|may) (start|begin|proceed)|no (problems?|hazards?|dangers?) (were )?found"
    r"|nothing (is )?wrong|this plan passes)\b",
    re.IGNORECASE,
)
QUIET = """title: A shelf is moved
rooms: {den: {kind: living room}}
parts: {board: {kind: cutting board, room: den, new: yes}}
steps: [{id: look, do: photograph, to: board}]
"""


@pytest.mark.parametrize("form", sorted(FORMATS))
@pytest.mark.parametrize("plan", ["without findings", "with findings"])
def test_no_report_gives_leave_to_begin(form, plan, tmp_path):
    path = tmp_path / "plan.yaml"
    path.write_text(QUIET)
    report = review(path) if plan == "without findings" else reviewed(None)
    assert bool(report.findings) == (plan == "with findings")
    said = FORMATS[form](report)
    assert [match[0] for match in LEAVE.finditer(said)] == []

"""Formats agree in ids, counts and signal words, whatever the plan: scenarios elsewhere, generated plans here."""

import csv
import io
import json
import os
import re

import pytest
from generators import make_plan

from advisor.reports.arrange import arrange
from advisor.reports.checklist_data import as_checklist_json
from advisor.reports.checklist_text import as_checklist_html, as_checklist_text
from advisor.reports.hazards import as_hazards_csv, as_hazards_html, as_hazards_json, as_hazards_text, hazard_rows
from advisor.reports.text import Shape, as_text
from advisor.review.reviewing import review
from reports.support import FORMATS, SCENARIOS, small_report
from reports.test_same_findings import SAID, ids_in
from tests.site.record import sampled

SEEDS = range(100)
WORDS = ("danger", "warning", "caution", "notice")


def told(form, text):
    """The signal words of the findings that a format tells, without those that are accepted or open."""
    if form in SAID:
        text = text.partition("Accepted by a waiver")[0].partition("ACCEPTED BY")[0]
        return sorted(word.lower() for word in re.findall(SAID[form], text))
    if form == "json":
        findings = json.loads(text)["findings"]
        return sorted(step["signal"] for finding in findings for step in finding.get("steps", [finding]))
    if form == "sarif":
        results = json.loads(text)["runs"][0]["results"]
        results = [r for r in results if r.get("kind") != "open" and not r.get("suppressions")]
        return sorted(result["properties"]["signal"] for result in results)
    rows = csv.DictReader(io.StringIO(text, newline=""))
    return sorted(row["signal"] for row in rows if row["status"] == "speaks")


def differing(report):
    """What does not agree between the formats, in words."""
    texts = {form: render(report) for form, render in FORMATS.items()}
    people = {form: told(form, texts[form]) for form in ("text", "markdown", "html")}
    data = {form: told(form, texts[form]) for form in ("json", "sarif", "csv")}
    ids = {form: sorted(ids_in(form, texts[form])) for form in FORMATS if form != "text"}
    entries = sorted(entry.finding.signal for entry in arrange(report).entries())
    wrong = [f"{form} tells {len(words)} of {len(entries)}" for form, words in people.items() if words != entries]
    wrong += [f"{form}: {words}" for form, words in data.items() if words != data["json"]]
    wrong += [f"ids of {form}" for form, found in ids.items() if found != ids["json"]]
    counts = arrange(report).counts()
    head = [f"{counts[word]} {word}{'s' * (counts[word] != 1)}" for word in WORDS if counts[word]]
    if head and f"Checked before the work: {', '.join(head)}" not in " ".join(texts["text"].split()):
        wrong.append("the headline")
    return wrong


def test_formats_agree_over_generated_plans(record_property):
    """A tenth in a usual run, all 100 with SITE_FULL=1 (`make site`)."""
    share = 1.0 if os.environ.get("SITE_FULL") else 0.1
    seeds = [seed for seed in SEEDS if sampled(f"formats {seed}", share)]
    record_property("looked at", f"{len(seeds)} of {len(SEEDS)} generated plans in every format")
    wrong = {seed: differing(review(make_plan(seed))) for seed in seeds}

    assert len(seeds) >= 5
    assert {seed: found for seed, found in wrong.items() if found} == {}


def test_formats_that_do_not_agree_are_noticed():
    """The comparison can fail: a finding more in one format is seen."""
    report = small_report()
    texts = {form: render(report) for form, render in FORMATS.items()}
    more = texts["text"].replace("  [ ] DANGER: ", "  [ ] DANGER: x\n  [ ] DANGER: ", 1)

    assert differing(report) == []
    assert told("text", more) != told("text", texts["text"])


@pytest.mark.parametrize("form", FORMATS)
def test_every_format_names_version_and_rules(form):
    text = FORMATS[form](small_report())

    assert "0.1.0" in text
    assert "0123456789ab" in text


@pytest.mark.parametrize("render", [as_hazards_text, as_hazards_html, as_hazards_json, as_hazards_csv])
def test_every_form_of_the_hazards_has_every_row(render):
    report = review(SCENARIOS[0].parent / "galley-kitchen-faulty.yaml")
    text = " ".join(render(report).split())
    words = [row.signal for row in hazard_rows(report)]

    if render is as_hazards_json:
        assert [row["signal"] for row in json.loads(render(report))["hazards"]] == words
    elif render is as_hazards_csv:
        assert [row["Signal"] for row in csv.DictReader(io.StringIO(render(report), newline=""))] == words
    else:
        assert [text.count(word.upper()) >= words.count(word) for word in set(words)] == [True] * len(set(words))


@pytest.mark.parametrize("by", ["step", "day", "trade", "topic"])
def test_every_form_of_the_checklist_has_the_same_items(by):
    report = review(SCENARIOS[0].parent / "galley-kitchen-faulty.yaml")
    data = json.loads(as_checklist_json([report], by))
    numbers = [item["number"] for plan in data["plans"] for group in plan["groups"] for item in group["items"]]
    whats = [item["what"] for plan in data["plans"] for group in plan["groups"] for item in group["items"]]
    text = as_checklist_text([report], by)

    entries = arrange(report).entries()  # the numbers are those of the review, however the items are grouped
    assert sorted(numbers) == list(range(1, len(entries) + 1))
    assert [what for number, what in zip(numbers, whats, strict=True) if entries[number - 1].finding.what != what] == []
    assert list(map(int, re.findall(r"(?m)^ *(\d+)\. (?:\[ \]| ! )", text))) == numbers
    assert as_checklist_html([report], by).count('<section class="finding') == len(numbers)
    assert [what for what in whats if what not in " ".join(text.split())] == []


def test_an_exercise_does_not_give_its_answers_away():
    report = small_report()
    text = as_checklist_json([report], "step", "exercise")

    assert [f.what for f in report.findings if f.what in text] == []


def test_the_order_of_attributes_in_a_file_changes_nothing(tmp_path):
    """The same plan, each thing's attributes turned round: the same bytes but for columns of the file."""
    plan = make_plan(3)
    turned = {
        key: [dict(reversed(step.items())) for step in value]
        if isinstance(value, list)
        else {own: dict(reversed(v.items())) if isinstance(v, dict) else v for own, v in value.items()}
        if isinstance(value, dict)
        else value
        for key, value in plan.items()
    }
    one, other = (review(p) for p in (plan, turned))

    assert turned == plan
    assert [FORMATS[form](one) == FORMATS[form](other) for form in FORMATS] == [True] * len(FORMATS)
    assert as_text(one, shape=Shape(brief=True)) == as_text(other, shape=Shape(brief=True))

"""What fresh eyes missed in the reports (see `tests/reports/wishes.md`): each failed before it was mended."""

import csv
import io
import json
import re

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.reports.arrange import arrange
from advisor.reports.checklist_text import as_checklist_text
from advisor.reports.comparison import as_data, counts, rows
from advisor.reports.first import first_screen
from advisor.reports.hazards import hazard_rows
from advisor.reports.table_csv import as_csv
from advisor.reports.text import Shape, as_text
from advisor.reports.totals import often, often_words
from advisor.review.compare import compare
from reports.support import SCENARIOS, reviewed, spaced

RANK = ("notice", "caution", "warning", "danger")
FAULTY = [path for path in SCENARIOS if path.stem.endswith("-faulty")]


KITCHEN = "galley-kitchen-faulty"


def test_one_step_says_its_plan_time_amounts_and_what_must_hold():
    """C8. Three coats of an hour with a day between (the plan says 3 h; labels commonly ask 24 h); a quart is there;
    a pilot burns in the kitchen (`ignition_sources` of the plan)."""
    text = spaced(as_text(reviewed(KITCHEN), shape=Shape(step="varnish-top")))

    assert "finish top; using varnish; by brush" in text
    assert "Do not start until no flame and no pilot burns" in text
    assert "pilots burn (presumed)." in text.partition("As the plan stands, before this step")[2]
    assert text.count("1 h of work; then 24 h of waiting.") == 3
    assert "varnish: have 1 qt, need 1.26 qt: get 1 qt" in text
    assert "organic-vapor cartridges for your half mask" in text
    other = as_text(reviewed(KITCHEN), shape=Shape(step="bed-sink"))
    assert "varnish" not in other.partition("WHAT IS SAID")[0]


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
def test_above_means_above(path):
    """Fault 8: a step points up only where something stands above that names it."""
    report = reviewed(path.stem)
    for only in ("", "danger", "warning"):
        above = ""
        for line in as_text(report, shape=Shape(only=only)).splitlines():
            if found := re.match(r" *\d+\. ([\w-]+): see above", line):
                assert found[1] in above, (only, found[1])
            above += f"{line}\n"
    for step in report.plan.steps:
        assert "see above" not in as_text(report, shape=Shape(step=step.id, only="danger"))


def test_power_off_stands_among_the_boxes_before_the_work():
    """A5: three steps of the kitchen touch wires; the porch has none."""
    text = spaced(as_text(reviewed(KITCHEN)))
    box = "[ ] Power off and proved dead before tile-splash, swap-sockets and new-lights."

    assert box in text.partition("STEPS IN THE ORDER")[0]
    assert "proved dead" not in " ".join(first_screen(reviewed("careful-porch")).begin)


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
def test_everybody_to_call_stands_uncut_in_the_whole_report(path):
    """A4: on the screen a line may be short, in the whole report it is not; and the order says when to call."""
    report = reviewed(path.stem)
    theirs = first_screen(report).not_yours
    order = CliRunner().invoke(app, ["order", str(path)]).stdout

    assert theirs
    assert [one.line for one in theirs if f"[ ] {one.line}." not in spaced(as_text(report))] == []
    assert order.count("Call before it: ") == len({step for one in theirs for step in one.steps})


def test_the_checklist_by_trade_lists_what_is_not_yours_and_names_each_step():
    """A4, fault 8: one list; each item with its step; the numbers are those of the review."""
    report = reviewed("bathroom-faulty")
    text = as_checklist_text([report], "trade")
    entries = arrange(report).entries()
    items = {
        int(n): said for n, said in re.findall(r"(?ms)^ {0,2}(\d+)\. (?:\[ \]| ! ) (.+?)(?=^ {0,2}\d+\. |\Z)", text)
    }

    assert [one.line for one in first_screen(report).not_yours if f"[ ] {one.line}." not in spaced(text)] == []
    assert sorted(items) == list(range(1, len(entries) + 1))
    for number, entry in enumerate(entries, 1):
        assert spaced(items[number]).startswith(f"{entry.finding.signal.upper()}: {entry.finding.what[:40]}")
        assert [step for step in entry.steps if step and step not in items[number]] == []
    assert re.findall(r"(?m)^WORK FOR: (.+)$", text) == [
        "ACCREDITED ASBESTOS INSPECTOR",
        "LABORATORY",
        "LICENSED ELECTRICIAN, OR FOR YOU WHERE LOCAL CODE LETS YOU",
        "LICENSED PLUMBER",
    ]


def test_the_surest_dangers_come_first_and_our_own_last():
    """A2, faults 5 and 3: what the plan states (bleach with ammonia) before what is not all known (live wires), and
    those, as nobody has time to notice, before lead; what only our advice brings, after all of its word. The same in
    the job hazard analysis."""
    kitchen = [one.short for one in first_screen(reviewed(KITCHEN)).dangers if one.signal == "danger"]
    bath = [one.short for one in first_screen(reviewed("bathroom-faulty")).dangers]
    hazards = [row.id.partition("@")[0] for row in hazard_rows(reviewed(KITCHEN)) if row.signal == "danger"]

    assert [one.split()[0] for one in kitchen] == ["Power", "No"]
    assert bath[0].startswith("Never mix bleach")
    assert hazard_rows(reviewed("bathroom-faulty"))[0].likely == "Follows from what the plan states."
    assert hazards == ["isolate-power", "isolate-power", "machine-on-lead-paint"]
    ours = [(d.signal == "warning", "(advised)" in d.short) for d in first_screen(reviewed("bathroom-faulty")).dangers]
    assert ours == sorted(ours)
    assert ours[-1] == (True, True)


def test_signal_words_and_words_over_two_lines_are_explained():
    """A2, A8: `model code` stands there across two lines."""
    words = as_text(reviewed(KITCHEN)).partition("\nWORDS\n")[2]

    assert "\n  model code: " in words
    assert "a warning could; a caution hurts" in spaced(words)


def test_rows_of_the_table_count_like_the_text():
    """C3: a practice is the rows with one `group`, by its gravest word."""
    for path in FAULTY:
        report = reviewed(path.stem)
        gravest = {}
        for row in csv.DictReader(io.StringIO(as_csv([report]), newline="")):
            if row["status"] == "speaks":
                gravest[row["group"]] = max(gravest.get(row["group"], 0), RANK.index(row["signal"]))
        counted = {word: list(gravest.values()).count(RANK.index(word)) for word in RANK}

        assert counted == {word: arrange(report).counts()[word] for word in RANK}


def test_a_practice_has_one_code_in_report_class_list_and_comparison():
    """B3, B5: what the report tells as one finding is one in the class list and between two plans too."""
    reports = [reviewed(path.stem) for path in FAULTY]
    told = {entry.finding.rule for report in reports for entry in arrange(report).entries()}
    listed = {one.rule for one in often(reports) if one.speaks}
    found = compare(reviewed(KITCHEN), reviewed("galley-kitchen-careful"))
    named = {name.partition("@")[0] for word, _, name, _ in rows(found) if word in ("gone", "moved", "still")}

    assert listed <= told
    assert "set-up-for-lead" in listed
    assert not {"contain-lead-dust", "hepa-vacuum-for-lead"} & (listed | named)
    assert named <= {entry.finding.rule for entry in arrange(reviewed(KITCHEN)).entries()}


def test_a_class_sees_each_danger_of_two_plans():
    """B5: four of the faulty plans run machines over lead paint."""
    reports = [reviewed(path.stem) for path in FAULTY]
    said = often_words(reports)
    dangers = [one for one in often(reports) if one.speaks > 1 and one.signal == "danger"]

    assert len(dangers) >= 2
    assert [one for one in dangers if not any(f"({one.rule}), a danger" in text for text in said)] == []


def test_a_comparison_counts_as_the_reviews_do():
    """Fault 9: what is gone, moved or still there of the old plan is what its own head counts."""
    old, new = reviewed(KITCHEN), reviewed("galley-kitchen-careful")
    found = compare(old, new)
    numbers = as_data(found, old, new)["practices"]

    assert sum(numbers[word] for word in ("gone", "moved", "still")) == sum(arrange(old).counts().values())
    assert numbers["open"] == len({one.rule for one in new.open})
    assert counts(found).startswith("Practices, each counted once: ")
    same = as_data(compare(old, old), old, old)["practices"]
    assert (same["gone"], same["new"], same["still"]) == (0, 0, sum(arrange(old).counts().values()))


def test_help_says_of_what_a_part_may_be_asked():
    """C1."""
    text = spaced(re.sub(r"[│╭╮╰╯─]", " ", CliRunner().invoke(app, ["review", "--help"]).stdout))

    assert "others there are." in text


def test_the_exercise_as_data_gives_no_number_away():
    done = CliRunner().invoke(app, ["checklist", str(next(p for p in FAULTY)), "--exercise", "--format", "json"])
    groups = json.loads(done.stdout)["plans"][0]["groups"]

    assert {len(group["items"]) for group in groups} == {1}

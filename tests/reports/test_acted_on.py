"""What readers still missed when 22 of 24 wishes were met: what a person sees, each failing before it was mended."""

import csv
import html
import json
import re

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.reports.arrange import arrange
from advisor.reports.checklist_text import as_checklist_html, as_checklist_text
from advisor.reports.first import first_screen
from advisor.reports.hazards import as_hazards_html, as_hazards_text, hazard_rows
from advisor.reports.html import as_brief_html, as_html
from advisor.reports.markdown import as_markdown
from advisor.reports.notes import words_used
from advisor.reports.order_html import as_order_html
from advisor.reports.order_text import as_order_text
from advisor.reports.supplies import as_supplies_text, to_get
from advisor.reports.text import Shape, as_text
from advisor.review.days.timetable import Options
from advisor.review.planned_work import replan
from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase
from reports.support import SCENARIOS, reviewed, spaced

BATH, KITCHEN = "bathroom-faulty", "galley-kitchen-faulty"


def ordered(render, report):
    return render(report, replan(report, load_rulebase([]), Options())[0])


SHEETS = {
    "order": lambda r: ordered(as_order_text, r),
    "supplies": as_supplies_text,
    "checklist": lambda r: as_checklist_text([r]),
    "key": lambda r: as_checklist_text([r], form="answers"),
    "hazards": as_hazards_text,
}
PAGES = {
    "order": lambda r: ordered(as_order_html, r),
    "checklist": lambda r: as_checklist_html([r]),
    "hazards": as_hazards_html,
}
USED = {"order": ["HEPA", "P100", "GFCI"], "supplies": ["HEPA", "P100", "half mask"], "hazards": ["HEPA", "breaker"]}
USED |= {"checklist": USED["order"], "key": USED["order"]}


@pytest.mark.parametrize("name", SHEETS)
def test_every_sheet_that_is_read_alone_explains_its_words(name):
    """A8."""
    body, _, words = re.split(r"(?m)^(WORDS|Words)$", SHEETS[name](reviewed(BATH)))

    assert [word for word in USED[name] if word not in body or f"\n  {word}: " not in words] == []


@pytest.mark.parametrize("name", PAGES)
def test_every_page_that_is_read_alone_explains_its_words(name):
    words = PAGES[name](reviewed(BATH)).partition("<h2>Words</h2>")[2]

    assert [word for word in USED[name] if f"<dt>{word}</dt><dd>" not in words] == []


def test_a_word_is_not_explained_where_it_means_another_thing():
    """A vacuum breaker sits on a garden tap, sealant comes in a tube, as a cartridge is a mask's; the title is the
    reader's own."""
    plan = {
        "title": "Overspray on the garden tap",
        "parts": {"tap": {"kind": "outdoor faucet"}},
        "products": {"bead": {"kind": "sealant", "binder": "silicone"}},
        "steps": [{"id": "seal", "do": "caulk", "to": "tap", "using": "bead"}],
    }
    text = as_supplies_text(review(plan))

    assert "10 fl oz tube" in text
    assert re.findall(r"(?m)^  (cartridge|overspray|practice): ", text) == []


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_the_short_form_explains_its_words_and_says_what_it_leaves_out(path):
    """A8, and nothing goes in silence: waits, questions, things to get, warnings; 24 lines hold all of it."""
    report = reviewed(path.stem)
    first = first_screen(report, to_get(report))
    brief = as_text(report, shape=Shape(brief=True))
    screen, _, words = brief.partition("\nWords ")
    told = spaced(screen)
    out = told.partition(" Not here ")[2].partition(" The rest ")[0]

    def counted(what):
        found = re.search(rf"(\d+)(?: more)? {what}", out)
        return int(found[1]) if found else 0

    def between(label, *ends):
        found = told.partition(f" {label} ")[2]
        for end in ends:
            found = found.partition(f" {end} ")[0]
        return found

    assert len(brief.splitlines()) <= 24
    assert [word for word, _ in words_used([screen], "us", report.name) if f"{word}: " not in spaced(words)] == []
    assert between("Answer", "Not here", "The rest").count("?") + counted("questions?") == first.asked
    assert bool(between("Get", "Answer", "Not here", "The rest")) or counted("things? to get") == len(first.get)
    assert not first.waits or between("Wait", "Not yours") or counted("waits?")


def test_a_wait_that_a_named_danger_says_is_not_told_twice_and_another_is_counted():
    """The bath: live wires stand among the dangers; the air and the prop of a sink that others wait for are counted."""
    told = spaced(as_text(reviewed(BATH), shape=Shape(brief=True)))

    assert "not until the power is off" not in told
    assert "Power off and tested dead" in told
    assert "2 more waits (advisor order)" in told


@pytest.mark.parametrize("path", sorted(SCENARIOS[0].parent.glob("*careful*.yaml")), ids=lambda p: p.stem)
def test_a_careful_plan_hears_what_is_left_and_no_alarm(path):
    """Not the words of a faulty plan; and no leave either. The gravest that the plan does not tell are named."""
    report = reviewed(path.stem)
    first = first_screen(report, to_get(report))
    brief = spaced(as_text(report, shape=Shape(brief=True)))

    assert "Do not start yet" not in brief
    assert first.start.startswith("Before you start: ")
    assert f"get {len(first.get)} things" in first.start
    assert "that alone is no leave to start." in brief
    assert [word for word in ("safe", "go ahead", "ready", "all well") if word in brief.casefold()] == []
    assert len(first.may_be) == 3
    words = [text.partition(" at ")[0] for text in first.may_be]
    assert set(words) <= {"danger", "warning"}
    assert words == sorted(words), "dangers first"


def test_a_number_of_the_report_stands_at_each_danger_of_the_short_form():
    """So that it can be found in the whole report, and asked for: `why PLAN 8`."""
    report = reviewed(BATH)
    brief = as_text(report, shape=Shape(brief=True))
    told = re.findall(r"(?m)^(?:Dangers  |         ) ([^:]+): .* \[(\d+)\]$", brief)
    entries = arrange(report).entries()

    assert len(told) == 6
    assert [s for s, n in told if s.split(", ")[0] not in entries[int(n) - 1].steps] == []
    assert "its number in the rest" in brief


@pytest.mark.parametrize("render", [as_brief_html, lambda r: as_html([r]), lambda r: as_markdown([r])])
def test_every_form_counts_what_its_first_screen_leaves_out(render):
    """The bath has four waits and 190 questions; three of each are named."""
    report = reviewed(BATH)
    first = first_screen(report, to_get(report))
    text = spaced(html.unescape(render(report))).replace("\\", "")

    assert len(first.waits) > 3 or not first.more_waits
    assert first.more_waits in text
    assert f"And {first.asked - 3} more: advisor questions" in text
    assert f"{first.dangers[0].short} [{first.dangers[0].number}]" in text


def test_the_page_of_a_careful_plan_names_the_gravest_that_it_does_not_tell():
    report = reviewed("careful-closet")
    page = html.unescape(as_brief_html(report))

    assert [text for text in first_screen(report).may_be if text not in page] == []


def test_one_step_names_the_waits_before_it_and_what_others_must_have_done():
    """C8. The mortar rests three days (`wait-before-grout`, 72 h); board and membrane belong to the tile: they take day
    11, the membrane dries overnight, so the tile is set on day 12 until 14:00.
    Lacquer is still wet when the tile is cut: no dust then. Ears at the saw are no matter of the painter's."""
    grout = spaced(as_text(reviewed(BATH), shape=Shape(step="grout-tile")))
    before = grout.partition("ITS TIME")[0]
    cut = spaced(as_text(reviewed(BATH), shape=Shape(step="cut-tile"))).partition("ITS TIME")[0]
    paint = spaced(as_text(reviewed(BATH), shape=Shape(step="paint-wall"))).partition("ITS TIME")[0]

    assert "Not before day 15 14:00: 3 days after set-tile (tile surround). Grouting walks and rubs" in before
    told = before.partition("Asked at set-tile, to be done first: ")[2]
    numbers = re.findall(r"\[(\d+)\]", told)
    entries = arrange(reviewed(BATH)).entries()
    assert {entries[int(n) - 1].finding.rule for n in numbers} == {
        "board-behind-wet-tile", "waterproof-behind-shower-tile"
    }  # fmt: skip
    assert "2 h after lacquer-vanity (finish old-vanity). No dust while a coat dries in bath." in cut
    assert "Asked at" not in paint.replace("Asked before any work", "")


def run(*words):
    return CliRunner().invoke(app, ["review", *map(str, words)])


FAULTY = SCENARIOS[0].parent / f"{BATH}.yaml"


@pytest.mark.parametrize("form", ["text", "json", "html", "markdown", "sarif", "csv"])
def test_only_is_heard_in_every_form_and_says_what_it_left_out(form):
    """C1. The bath has 6 dangers at 7 places, 16 warnings; nothing milder than a danger stands in the file."""
    said = run(FAULTY, "--only", "danger", "--format", form).stdout
    report = reviewed(BATH)
    grave, mild = ([e for e in arrange(report).entries() if (e.finding.rank == 3) is is_grave] for is_grave in (1, 0))
    text = spaced(html.unescape(said.replace("\\", "")))

    assert "left out by --only" in text or '"left_out"' in text
    assert [e.finding.what for e in grave if e.finding.what not in text] == []
    assert [e.finding.what for e in mild if e.finding.what in text.replace(first_screen(report).today, "")] == []


def test_only_as_data_counts_what_is_in_it():
    data = json.loads(run(FAULTY, "--only", "warning", "--format", "json").stdout)

    assert {one["signal"] for one in data["findings"]} == {"danger", "warning"}
    assert data["summary"] == {"danger": 6, "warning": 17, "caution": 0, "notice": 0}
    assert (data["left_out"]["only"], data["left_out"]["findings"] >= 23) == ("warning", True)
    assert {one["signal"] for one in data["open"]} == {"danger", "warning"}


@pytest.mark.parametrize("form", ["text", "json", "csv"])
def test_only_is_heard_for_a_folder(form, tmp_path):
    for name in (BATH, "floor-faulty"):
        (tmp_path / f"{name}.yaml").write_text((SCENARIOS[0].parent / f"{name}.yaml").read_text())
    said = run(tmp_path, "--only", "danger", "--format", form).stdout
    told = {
        "text": lambda: "6 dangers" in said and not re.search(r"\d warnings|caution,", said.partition("Most")[0]),
        "json": lambda: {f["signal"] for r in json.loads(said)["reports"] for f in r["findings"]} == {"danger"},
        "csv": lambda: (
            "speaks" in said
            and {r["signal"] for r in csv.DictReader(said.splitlines()) if r["status"] == "speaks"} == {"danger"}
        ),
    }

    assert told[form]()
    assert "left out by --only" in said or '"left_out"' in said


@pytest.mark.parametrize("word", ["6", "6.", "set-tile"])
def test_a_step_is_asked_for_by_name_or_number(word):
    assert spaced(run(FAULTY, "--step", word).stdout).partition("HAS IT")[2].startswith(" tile surround; using stick")


def test_a_step_that_is_not_there_is_answered_with_all_there_are():
    message = str(run(FAULTY, "--step", "99").exception.problems[0])

    assert "has no step '99'. Steps are, by number and by name: 1 kill-mold, 2 lift-floor," in message
    assert "14 paint-wall." in message


def test_the_calendar_says_which_advised_work_it_does_not_count():
    """Setting up for lead has its hours there; proving wires dead, a leak test and the rest have none."""
    text = spaced(SHEETS["order"](reviewed(BATH)))
    told = re.search(r"Advised work that is not counted in it: (\d+) pieces \((.*?)\)\.", text)
    counted = reviewed(BATH).schedule.uncounted

    assert int(told[1]) == len(counted) > 7
    assert {"prove dead", "leak test"} <= set(counted)
    assert {"contain", "verify cleaning", "test for lead"}.isdisjoint(counted)
    assert "Advised work that is not counted" not in spaced(SHEETS["order"](reviewed("careful-closet")))


def test_a_hazard_has_the_number_and_the_figures_of_the_review():
    """Figures stand below a hazard where no sentence has them; how many people a stone takes is in its reason."""
    report = reviewed(BATH)
    entries = arrange(report).entries()
    rows = hazard_rows(report)
    whole = as_text(report)

    assert [row.id for row in rows if entries[row.number - 1].finding.id != row.id] == []
    assert [f for row in rows for f in row.figures if f not in spaced(whole)] == []
    text = as_hazards_text(report)
    assert [f for row in rows for f in row.figures if f"= {f}" not in spaced(text)] == []
    assert "people needed 4" not in {f for row in rows for f in row.figures}
    assert [row.number for row in rows if f"[{row.number}] {row.signal.upper()}:" not in text] == []
    assert [row.number for row in rows if f"[{row.number}]" not in as_hazards_html(report)] == []


def test_a_comparison_fits_the_screen_and_names_what_it_lists():
    """One line of 769 letters: the order of all steps."""
    plans = [str(SCENARIOS[0].parent / f"galley-kitchen-{how}.yaml") for how in ("faulty", "careful")]
    text = CliRunner().invoke(app, ["compare", *plans]).stdout

    assert max(map(len, text.splitlines())) <= 80
    assert "isolate-power@swap-sockets: Power off and tested dead" in spaced(text)
    assert "new steps: permit, lead-test," in spaced(text)


def test_what_must_be_known_before_any_work_says_what_harm_it_spares():
    finding = next(e.finding for e in arrange(reviewed(KITCHEN)).entries() if e.finding.rule == "before-you-begin")

    assert re.search("shock|fire|leak|cut|water", finding.because)

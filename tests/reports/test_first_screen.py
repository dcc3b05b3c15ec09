"""The first screen: 24 lines of 80 columns, what to do today and what not yet; and how long the rest may be."""

import re

import pytest

from advisor.reports.arrange import arrange
from advisor.reports.first import MOST_NOT_YET, first_screen
from advisor.reports.html import as_brief_html
from advisor.reports.said_short import harm_told, sentences
from advisor.reports.screen import SCREEN, WIDTH, screen_lines
from advisor.reports.supplies import to_get
from advisor.reports.text import Shape, as_text
from advisor.review.reviewing import review
from reports.support import SCENARIOS, small_report

DEMO = next(path for path in SCENARIOS if path.stem == "galley-kitchen-faulty")
PLANS = [*SCENARIOS, None]
NAMED = {"ids": lambda p: p.stem if p else "small"}
BANS = ("Do not", "Don't", "Never", "Keep", "Leave", "Stay", "Wear", "Wait")
AFTER = ("Not told", "Today", "Wait", "Not yours", "Get", "Answer", "Not here", "The rest")  # below the dangers
_KEPT = {}


def reviewed(path):
    if path not in _KEPT:
        _KEPT[path] = review(path) if path else small_report()
    return _KEPT[path]


@pytest.mark.parametrize("path", PLANS, **NAMED)
def test_the_first_screen_is_a_screen(path):
    lines = as_text(reviewed(path), shape=Shape(brief=True)).splitlines()

    assert (len(lines) <= SCREEN, [line for line in lines if len(line) > WIDTH]) == (True, [])


@pytest.mark.parametrize("path", PLANS, **NAMED)
def test_the_whole_report_begins_with_the_first_screen(path):
    """After the screen alone words are explained, as far as there is room; in the whole report at its end."""
    brief = as_text(reviewed(path), shape=Shape(brief=True))
    screen, rest, words = brief.partition("The rest  ")

    assert as_text(reviewed(path)).startswith(screen + rest)
    assert [line for line in words.splitlines()[1:] if not line.startswith(("Words     ", " " * 10))] == []


@pytest.mark.parametrize("path", PLANS, **NAMED)
def test_today_can_be_done_and_what_waits_says_until_when(path):
    first = first_screen(reviewed(path))

    assert not first.today.startswith(BANS)
    assert "Do this first" not in as_text(reviewed(path))
    assert len(first.not_yet) <= MOST_NOT_YET
    assert [text for text in first.not_yet if not re.fullmatch(r"Do not start .+ until .+\.", text)] == []


@pytest.mark.parametrize("path", PLANS, **NAMED)
def test_every_grave_finding_is_named_or_counted(path):
    """No danger is lost between the six that are named and those that are counted."""
    report = reviewed(path)
    first = first_screen(report)
    lines = [line for line, _ in screen_lines(first)]
    begins = next((n for n, line in enumerate(lines) if line.startswith(("Dangers", "Warnings"))), len(lines))
    ends = next((n for n, line in enumerate(lines) if line.startswith(AFTER)), len(lines))
    block = lines[begins:ends]
    elsewhere = re.search(r"^Not here +(.*) \(advisor hazards\)", "\n".join(lines), re.MULTILINE)
    more = block.pop() if block and re.match(r" +and \d+ ", block[-1]) else elsewhere[1] if elsewhere else ""
    counted = sum(map(int, re.findall(r"\d+", more)))

    assert len(block) + counted == len(first.dangers)
    assert len(first.dangers) == len({e.finding.rule for e in arrange(report).entries() if e.finding.rank > 1})


@pytest.mark.parametrize("path", PLANS, **NAMED)
def test_all_dangers_are_named_first_and_uncut(path):
    """A2: what kills stands before the act of today, all of it, whatever else has to be left out for it."""
    report = reviewed(path)
    lines = [line for line, _ in screen_lines(first_screen(report, to_get(report)), units=report.plan.units)]
    first = next(n for n, line in enumerate(lines) if line.startswith(AFTER))
    named = [line for line in lines[:first] if line.startswith(("Dangers   ", " " * 10))]
    dangers = {e.finding.title for e in arrange(report).entries() if e.finding.signal == "danger"}

    assert [title for title in dangers if not any(title.split()[0] in line for line in named)] == []
    assert not any(re.match(r" +and \d+ dangers?", line) for line in lines)
    assert [line for line in lines if line.startswith(("Dangers", "Warnings")) and line not in lines[:first]] == []


@pytest.mark.parametrize("path", PLANS, **NAMED)
def test_what_is_not_yours_is_a_list_with_the_work_and_when(path):
    """A4: a line for each trade on the screen, with its work and its time; the whole line in the report."""
    report = reviewed(path)
    first = first_screen(report, to_get(report))
    screen = " ".join(" ".join(line for line, _ in screen_lines(first, units=report.plan.units)).split())
    whole = " ".join(as_text(report).split())
    waits = screen.partition(" Wait ")[2].partition(" Not yours ")[0].partition(" Get ")[0]

    sent = screen.partition("Today Order ")[2].partition(". ")[0]  # what is sent for today, with who makes it
    told = [f"the {one.work} ({one.who}" in sent and one.when == "today" for one in first.not_yours]
    lines = [one.line in screen or one.short in screen for one in first.not_yours]
    assert [both for both in zip(told, lines, strict=True) if not any(both)] == []
    assert [one for one in first.not_yours if f"[ ] {one.line}." not in whole] == []
    assert [one for one in first.not_yours if not (one.who and one.when and one.work)] == []
    assert [s for one in first.not_yours for s in one.steps if one.when != "today" and s not in one.line] == []
    assert "…" not in waits


def test_what_is_not_yours_in_the_bath():
    """A4: the judge's own example, `accredited asbestos inspector: sample of lino, today; abatement firm: take out
    lino, instead of lift-floor; licensed plumber: new trap for basin, before clip-basin`."""
    report = reviewed(next(path for path in SCENARIOS if path.stem == "bathroom-faulty"))
    lines = [one.line for one in first_screen(report).not_yours]

    assert lines == [
        "accredited asbestos inspector, today: asbestos sample of lino (result in about 5 days)",
        "laboratory, today: lead test of old-vanity (result in about 5 days)",
        "abatement firm, instead of you at lift-floor: take out lino whole, if you do not cover it",
        "licensed plumber, before clip-basin: give basin a P-trap, a bend that holds water, with a vent",
        "building department, before new-socket and fit-fan: ask about a permit, and who may do them",
        "licensed electrician, if local code asks: replace socket (new-socket) and install fan (fit-fan)",
    ]
    assert first_screen(report).today == "Order the asbestos sample of lino and the lead test of old-vanity."


@pytest.mark.parametrize("path", PLANS, **NAMED)
def test_the_plain_report_tells_the_whole_reason_of_what_is_grave(path):
    """A3, B6: dangers and warnings whole, once each; of a caution all but what a code says and how a figure was got."""
    report = reviewed(path)
    text = " ".join(as_text(report).split())
    grave = [entry.finding for entry in arrange(report).entries()]

    assert [f.id for f in grave if f.signal in ("danger", "warning") and f.because not in text] == []
    assert [f.id for f in grave if f.signal == "caution" and harm_told(f.because) not in text] == []


def test_only_what_tells_no_harm_is_left_out_of_a_caution():
    because = (
        "Sparks reach the wall around a box that lies too deep and start a fire. "
        "The 2023 model code allows 1/4 in here, and local changes govern. Have the size ready."
    )

    assert harm_told(because) == "Sparks reach the wall around a box that lies too deep and start a fire."
    assert harm_told("The 2023 model code says so.") == "The 2023 model code says so."
    assert harm_told("Get it: a, b, c, d and e.") == "Get it: a, b, c, d and e."
    assert harm_told("Get it: a, b, c, d, e and f.") == "Get it: a, b, c and so on."


def test_words_of_the_short_form_are_explained_on_it():
    """A8: HEPA, danger, pilot and what is counted as a practice, on the 24 lines that are handed out."""
    words = as_text(reviewed(DEMO), shape=Shape(brief=True)).partition("\nWords     ")[2]

    assert [word for word in ("danger", "HEPA", "practice", "pilot") if f"{word}: " not in words] == []


def test_a_longer_short_form_folds_no_warning_away():
    """B1: sixty lines hold them all."""
    report = reviewed(DEMO)
    text = " ".join(as_text(report, shape=Shape(brief=True, lines=60)).split())

    assert "warnings more" not in text
    assert [one.short for one in first_screen(report).dangers if one.short not in text] == []


@pytest.mark.parametrize("path", PLANS, **NAMED)
def test_a_notice_says_why_too(path):
    """A3: each with the first sentence of its reason, in the plain text."""
    report = reviewed(path)
    text = " ".join(as_text(report).split())
    notices = [e.finding for e in arrange(report).entries() if e.finding.signal == "notice"]

    assert [f.rule for f in notices if sentences(f.because, 1) not in text] == []


def test_dangers_come_before_warnings_and_each_has_its_step():
    first = first_screen(reviewed(DEMO))
    ranks = [one.signal for one in first.dangers]

    assert ranks == sorted(ranks)  # "danger" before "warning"
    assert [one for one in first.dangers if not one.steps] == []


def test_the_demo_fits():
    """The whole report of the demo in 200 lines, notes at the end not counted."""
    text = as_text(reviewed(DEMO))
    body = re.split(r"(?m)^(?:WORDS|NOTES)$", text)[0]

    assert len(body.rstrip().splitlines()) <= 200


@pytest.mark.parametrize(("option", "least"), [("danger", {"DANGER"}), ("warning", {"DANGER", "WARNING"})])
def test_only_leaves_out_what_is_milder_and_says_so(option, least):
    text = as_text(reviewed(DEMO), shape=Shape(only=option))
    words = set(re.findall(r"(?m)^  (?:\[ \]|  !) (\w+):", text))

    assert words == least
    assert "milder findings left out by --only." in text


def test_one_step_is_told_whole_and_alone():
    text = as_text(reviewed(DEMO), shape=Shape(step="fit-top"))

    assert re.findall(r"(?m)^ *\d+\. ([\w-]+):", text) == ["fit-top"]
    assert "More strains the back" in " ".join(text.split())


def test_all_keeps_everything_beside_its_finding():
    report = reviewed(DEMO)
    text = " ".join(as_text(report, shape=Shape(every=True)).split())

    assert [e.finding.because for e in arrange(report).entries() if e.finding.because not in text] == []
    assert [q.ask for q in report.questions if q.ask not in text] == []
    assert "NOTES" not in text


@pytest.mark.parametrize("width", [40, 60, 120])
def test_the_text_is_as_wide_as_asked(width):
    lines = as_text(reviewed(DEMO), shape=Shape(width=width)).splitlines()
    # An address cannot be broken without spoiling it.
    wide = [line for line in lines if len(line) > width and "http" not in line]

    assert wide == []
    assert max(len(line) for line in lines if "http" not in line) > width - 12


@pytest.mark.parametrize("most", [24, 60])
def test_lines_cut_say_how_many_are_left(most):
    text = as_text(reviewed(DEMO), shape=Shape(lines=most))
    whole = len(as_text(reviewed(DEMO)).splitlines())

    assert len(text.splitlines()) == most
    assert text.splitlines()[-1] == f"… and {whole - most + 1} lines more, left out by --lines"


def test_words_of_the_trade_are_explained_at_the_end():
    """The list of the issue: what is on the first screen and not everyday."""
    text = as_text(reviewed(DEMO))

    assert [word for word in ("shroud", "HEPA", "P100", "cartridge") if f"\n  {word}: " not in text] == []


def test_what_is_to_get_is_what_the_list_of_supplies_lacks():
    report = reviewed(DEMO)

    assert set(first_screen(report, to_get(report)).get) == set(to_get(report))
    assert "voltage tester with two tips that touch the metal" in to_get(report)


def test_the_summary_page_says_what_the_screen_says():
    page = as_brief_html(reviewed(DEMO))
    first = first_screen(reviewed(DEMO))

    assert [text for text in (first.today, *first.not_yet) if text not in page] == []
    assert [one for one in first.not_yours if one.who not in page or one.work not in page] == []


@pytest.mark.parametrize(
    ("text", "room", "said"),
    [
        ("One. Two. Three.", 9, "One. Two."),
        ("One is long enough. Two.", 5, "One is long enough."),
        ("Use 1/4 in. or so. Then stop.", 99, "Use 1/4 in. or so. Then stop."),
    ],
)
def test_sentences_are_never_cut_in_the_middle(text, room, said):
    assert sentences(text, room) == said

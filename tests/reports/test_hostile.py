"""Hostile text in every string stays inert and legible, in every format."""

import csv
import io
import json
import unicodedata
from html.parser import HTMLParser

import pytest
from markdown_it import MarkdownIt

from advisor.reports.checklist_text import as_checklist_html, as_checklist_text
from advisor.reports.clean import legible
from advisor.reports.hazards import as_hazards_csv, as_hazards_html, as_hazards_text
from advisor.reports.html import as_html
from advisor.reports.text import as_text
from reports.hostile import TEXTS, hostile_report
from reports.support import FORMATS, needs_vnu, small_report, vnu

ALL = pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
PAGES = {
    "review": lambda report: as_html([report]),
    "many": lambda report: as_html([report, small_report()]),
    "hazards": as_hazards_html,
    "checklist": lambda report: as_checklist_html([report], "step", "answers"),
    "exercise": lambda report: as_checklist_html([report], "topic", "exercise"),
}
SHEETS = {
    "review": as_text,
    "hazards": as_hazards_text,
    "checklist": lambda report: as_checklist_text([report], "step", "answers"),
    "exercise": lambda report: as_checklist_text([report], "trade", "exercise"),
}
OWN_TAGS = {
    *("html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "h3", "h4", "h5", "section", "div", "p"),
    *("span", "strong", "ul", "ol", "li", "dl", "dt", "dd", "table", "thead", "tbody", "tr", "th", "td"),
    *("figure", "figcaption", "svg", "rect", "text", "polyline", "input", "label", "bdi"),
    *("details", "summary", "a"),
}
FORMULA = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")


class Page(HTMLParser):
    """The elements, attributes and text of a page."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.attributes, self.text, self.links = set(), set(), [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}
        self.links += [value for name, value in attrs if name == "href"]

    def handle_data(self, data):
        self.text.append(data)


def squeezed(text):
    return "".join(text.split())


def unseen(text):
    """Characters that cannot be seen or that turn text around, other than line feeds."""
    bad = {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}
    return sorted({f"U+{ord(c):04X}" for c in text if unicodedata.category(c) in bad and c != "\n"})


@ALL
@pytest.mark.parametrize("page", PAGES)
def test_html_has_no_element_or_handler_but_its_own(page, text):
    read = Page(PAGES[page](hostile_report(text)))

    assert read.tags - OWN_TAGS == set()
    assert {name for name in read.attributes if name.startswith("on") or name in ("src", "style")} == set()
    # Links lead to a note of this page or to a published source, never where a plan says.
    assert [
        link for link in read.links if not link.startswith(("#", "https://www.ecfr.gov/", "https://www.cdc.gov/"))
    ] == []


@ALL
@pytest.mark.parametrize("page", PAGES)
def test_html_shows_the_text_as_it_is(page, text):
    made = PAGES[page](hostile_report(text))

    assert squeezed(legible(text)) in squeezed("".join(Page(made).text))
    assert unseen(made) == []


@needs_vnu
def test_html_stays_valid(tmp_path):
    paths = []
    for number, text in enumerate(TEXTS.values()):
        for name, page in PAGES.items():
            paths.append(tmp_path / f"{name}-{number}.html")
            paths[-1].write_text(page(hostile_report(text)), encoding="utf-8")

    assert vnu(paths) == []


@ALL
def test_markdown_has_no_html_link_or_picture(text):
    """CommonMark by markdown-it-py, with tables."""
    made = FORMATS["markdown"](hostile_report(text))
    tokens = MarkdownIt("commonmark").enable(["table", "strikethrough"]).parse(made)
    flat = [child for token in tokens for child in (token, *(token.children or []))]

    assert {t.type for t in flat} & {"html_block", "html_inline", "link_open", "image", "fence", "code_block"} == set()
    assert {t.markup for t in flat if t.type.startswith(("em_", "s_"))} == set()
    assert unseen(made.replace("\u200b", "")) == []


@ALL
def test_markdown_shows_the_text_as_it_is(text):
    tokens = MarkdownIt("commonmark").enable("table").parse(FORMATS["markdown"](hostile_report(text)))
    title = next(token for token in tokens if token.type == "inline")
    shown = "".join(child.content for child in title.children).replace("\u200b", "")

    assert squeezed(shown) == squeezed(legible(text) + "A small plan & its <reports>")


@ALL
@pytest.mark.parametrize("render", [FORMATS["csv"], as_hazards_csv], ids=["review", "hazards"])
def test_no_cell_of_csv_starts_a_formula(render, text):
    made = render(hostile_report(text))
    rows = list(csv.reader(io.StringIO(made, newline=""), strict=True))

    assert {len(row) for row in rows} == {len(rows[0])}
    assert [cell for row in rows for cell in row if cell.lstrip().startswith(FORMULA)] == []
    assert any(squeezed(legible(text)) in squeezed(cell) for row in rows for cell in row)
    assert unseen(made.replace("\r\n", "\n")) == []


@ALL
@pytest.mark.parametrize("sheet", SHEETS)
def test_text_cannot_reach_the_terminal(sheet, text):
    made = SHEETS[sheet](hostile_report(text))

    assert unseen(made) == []
    assert squeezed(legible(text))[:17] in squeezed(made)


@ALL
def test_sarif_is_json_that_says_the_same(text):
    run = json.loads(FORMATS["sarif"](hostile_report(text)))["runs"][0]

    assert all(result["ruleId"].startswith(legible(text)) for result in run["results"])
    assert all(run["tool"]["driver"]["rules"][r["ruleIndex"]]["id"] == r["ruleId"] for r in run["results"])


def test_a_title_of_10000_letters_takes_two_lines_of_the_screen():
    report = small_report()
    report.plan.title = "W" * 10_000
    lines = as_text(report).splitlines()

    assert (max(map(len, lines)), lines[0], lines[2]) == (80, "W" * 80, report_second_line(report))


def report_second_line(report):
    small = small_report()
    return as_text(small).splitlines()[1]

"""Pages are valid HTML5 (Nu HTML checker), accessible (axe-core in Chromium) and print whole (Chromium, poppler)."""

import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from collections import Counter
from html.parser import HTMLParser

import pytest

from advisor.errors import Problem
from advisor.reports.checklist_text import as_checklist_html
from advisor.reports.hazards import as_hazards_html
from advisor.reports.html import as_brief_html, as_html
from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase
from reports.support import (
    SCENARIOS,
    axe,
    chromium,
    needs_axe,
    needs_chromium,
    needs_poppler,
    needs_vnu,
    small_report,
    vnu,
)  # fmt: skip

BROKEN = [Problem("broken.yaml", 3, 5, "is not valid YAML here: <oops>.")]
PAGES = {
    "review": lambda: as_html([small_report()]),
    "many": lambda: as_html([small_report(), small_report()], BROKEN),
    "none": lambda: as_html([], BROKEN),
    "faulty": lambda: as_html([review(SCENARIOS[0].parent / "galley-kitchen-faulty.yaml")]),
    "hazards": lambda: as_hazards_html(small_report()),
    "list": lambda: as_checklist_html([small_report()]),
    "exercise": lambda: as_checklist_html([small_report()], "topic", "exercise"),
    "answers": lambda: as_checklist_html([small_report(), small_report()], "trade", "answers"),
}
SIZES = {"Letter": (612, 792), "A4": (595, 842)}  # points
MARGIN = 15 / 25.4 * 72  # as the page's own style says


@pytest.fixture(scope="module")
def pages():
    return {name: make() for name, make in PAGES.items()}


@needs_vnu
def test_pages_are_valid_html5(pages, tmp_path):
    paths = [tmp_path / f"{name}.html" for name in pages]
    for path in SCENARIOS:
        paths.append(tmp_path / f"scenario-{path.stem}.html")
        paths[-1].write_text(as_html([review(path)]), encoding="utf-8")
    for path in paths[: len(pages)]:
        path.write_text(pages[path.stem], encoding="utf-8")

    assert vnu(paths) == []


@needs_chromium
@needs_axe
@pytest.mark.parametrize(("name", "width"), [*((name, 1000) for name in PAGES), ("review", 360), ("faulty", 360)])
def test_axe_finds_nothing_to_mend(pages, tmp_path, name, width):
    """WCAG 2.2 A and AA and axe's best practices; colours and sizes were really looked at."""
    found = axe(pages[name], tmp_path, width)
    passes = found.pop("passes")

    assert found == {}
    assert {"color-contrast", "document-title", "html-has-lang"} <= set(passes)


@needs_chromium
@needs_axe
def test_axe_would_say_so(pages, tmp_path):
    """The check can fail: grey on white and a box without its label are found."""
    spoilt = pages["review"].replace("color: #333", "color: #bbb").replace('label for="', 'label title="')

    assert {"color-contrast", "label"} <= set(axe(spoilt, tmp_path))


@pytest.mark.parametrize("name", PAGES)
def test_a_page_stands_alone(pages, name):
    """No script, nothing fetched, and a policy that forbids both. Links go to notes and to published sources alone."""
    page = pages[name]
    links = set(re.findall(r'<a href="([^"]*)"', page))
    public = {source.url for source in load_rulebase().citations.values() if source.url}

    assert re.findall(r"<script|<link|<iframe|<object|@import|url\(|src=", page) == []
    assert [link for link in links if link not in public and f'id="{link[1:]}"' not in page] == []
    assert page.count("href=") == len(re.findall(r'<a href="', page))
    assert page.count("default-src 'none'; style-src 'unsafe-inline'") == 1


@needs_chromium
@pytest.mark.parametrize("name", ["faulty", "hazards"])
def test_a_phone_need_not_scroll_sideways(pages, tmp_path, name):
    """WCAG 2.2, 1.4.10: nothing but tables in their own frame is wider than 320 CSS pixels."""
    probe = "<script>document.title = document.documentElement.scrollWidth + '/' + window.innerWidth</script></body>"
    page = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", pages[name]).replace("</body>", probe)
    # Headless windows are at least 500 wide, so the page stands in a frame of 320.
    (tmp_path / "inner.html").write_text(page, encoding="utf-8")
    outer = tmp_path / "outer.html"
    outer.write_text(
        "<iframe id=f src=inner.html width=320 height=600 style='border:0'></iframe><pre id=w></pre>"
        "<script>f.onload = function () { w.textContent = f.contentDocument.title }</script>",
        encoding="utf-8",
    )
    dom = chromium(tmp_path, "--allow-file-access-from-files", "--dump-dom", outer.as_uri())
    wide, inner = map(int, re.search(r'<pre id="w">(\d+)/(\d+)', dom).groups())

    assert (wide <= inner, inner) == (True, 320)


class _Headings(HTMLParser):
    """Headings and words of a page; what is folded away is not on paper."""

    def __init__(self, page):
        super().__init__()
        self.found, self.words, self._open, self._skip = [], [], 0, 0
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        if re.fullmatch("h[1-6]", tag):
            self._open += 1
            self.found.append("")
        self._skip += tag in ("style", "title", "svg") or (tag == "details" and ("open", None) not in attrs)

    def handle_endtag(self, tag):
        self._open -= bool(re.fullmatch("h[1-6]", tag))
        self._skip -= tag in ("style", "title", "svg") or (tag == "details" and self._skip > 0)

    def handle_data(self, data):
        if self._open:
            self.found[-1] += data
        if not self._skip:
            self.words += data.split()


def printed(page, size, tmp_path):
    """The pages of the PDF: for each, its words with their boxes in points, top to bottom."""
    file = tmp_path / "page.html"
    file.write_text(
        page.replace("@page { margin: 15mm; }", f"@page {{ size: {size}; margin: 15mm; }}"), encoding="utf-8"
    )
    chromium(tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'page.pdf'}", file.as_uri())
    words = [shutil.which("pdftotext"), "-bbox-layout", str(tmp_path / "page.pdf"), "-"]
    xml = subprocess.run(words, capture_output=True, text=True, check=True, timeout=60).stdout
    xml = re.sub(r'xmlns="[^"]*"|<!DOCTYPE[^>]*>', "", xml)
    return [
        [(word.text, *(float(word.get(k)) for k in ("xMin", "yMin", "xMax", "yMax"))) for word in page.iter("word")]
        for page in ET.fromstring(xml).iter("page")
    ]


@needs_chromium
@needs_poppler
@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("review", "Letter"),
        ("faulty", "Letter"),
        ("faulty", "A4"),
        ("hazards", "Letter"),
        ("hazards", "A4"),
        ("many", "A4"),
    ],
)
def test_printed_pages_lose_nothing(pages, tmp_path, name, size):
    """Letter and A4: no word outside the margins, every word of the page on paper, no heading last on a page."""
    sheets = printed(pages[name], size, tmp_path)
    wide, tall = SIZES[size]
    outside = [
        word
        for sheet in sheets
        for word in sheet
        if not (word[1] >= MARGIN - 1 and word[3] <= wide - MARGIN + 1 and word[4] <= tall - MARGIN + 1)
    ]
    page = _Headings(pages[name])
    on_paper = Counter(re.sub(r"\W", "", "".join(word[0] for sheet in sheets for word in sheet)))
    on_page = Counter(re.sub(r"\W", "", "".join(page.words)))
    # Of a notice the heading is all that is on paper.
    headings = {re.sub(r"\W", "", heading) for heading in page.found if not heading.startswith("NOTICE")}
    last = []
    for sheet in sheets:
        foot = max(word[4] for word in sheet)
        line = re.sub(r"\W", "", "".join(word[0] for word in sheet if word[4] > foot - 4))
        last += [line] if line in headings else []

    assert outside == []
    assert on_page - on_paper == Counter()
    assert last == []


def test_signal_words_are_words_and_not_colours_only(pages):
    page = pages["review"]

    assert [page.count(f'">{word}</span>') > 0 for word in ("DANGER", "WARNING", "CAUTION", "NOTICE")] == [True] * 4


def test_controls_stand_in_the_order_of_the_hierarchy(pages):
    """The rule names `administer` before `eliminate`; the page puts the better one first (NIOSH, hierarchy)."""
    page = pages["review"]

    assert page.index("Breaker off, taped and marked.") < page.index("Test the tester on a live outlet")


def test_a_hold_point_has_a_box_and_its_step_room_to_sign(pages):
    """Four hold points: three `require`, one `refer`; three steps have some."""
    page = pages["review"]

    assert (page.count('type="checkbox"'), page.count(" cleared by</span>")) == (4, 3)


def _count(page, tmp_path):
    """How many sheets of Letter paper a page takes, and its words on each."""
    return [" ".join(word[0] for word in sheet) for sheet in printed(page, "Letter", tmp_path)]


@needs_chromium
@needs_poppler
@pytest.mark.parametrize(
    ("make", "most"),
    [
        (lambda r: as_html([r]), 8),
        (lambda r: as_checklist_html([r]), 4),
        (lambda r: as_brief_html(r), 1),
    ],
    ids=["review", "checklist", "summary"],
)
def test_paper_is_not_wasted(tmp_path, make, most):
    """The demo: the review on 8 pages, its checklist on 4, a summary on one; each with its name and number."""
    sheets = _count(make(review(SCENARIOS[0].parent / "galley-kitchen-faulty.yaml")), tmp_path)

    assert len(sheets) <= most
    assert [n for n, words in enumerate(sheets, 1) if f"page {n} of {len(sheets)}" not in words] == []
    assert [words for words in sheets if "Galley kitchen, first plan" not in words] == []
    assert len(sheets[0].split()) > 150  # no empty first page


@needs_chromium
@needs_poppler
def test_a_class_gets_eight_steps_on_one_sheet(tmp_path):
    """One sheet of paper has two pages."""
    report = review(SCENARIOS[0].parent / "bathroom-faulty.yaml")
    report.order = report.order[:8]
    kept = [o.step for o in report.order]
    report.findings = [f for f in report.findings if f.step is None or f.step in kept]

    assert len(_count(as_checklist_html([report]), tmp_path)) <= 2


@needs_chromium
@needs_poppler
def test_the_demo_is_printed_in_black_and_white(tmp_path):
    """No color is left on the picture of the page, so a plain printer loses nothing."""
    file = tmp_path / "page.html"
    file.write_text(as_html([review(SCENARIOS[0].parent / "galley-kitchen-faulty.yaml")]), encoding="utf-8")
    chromium(tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'page.pdf'}", file.as_uri())
    words = [
        shutil.which("pdftoppm"),
        "-r",
        "30",
        "-f",
        "1",
        "-l",
        "3",
        str(tmp_path / "page.pdf"),
        str(tmp_path / "p"),
    ]
    subprocess.run(words, check=True, timeout=60)
    pictures = sorted(tmp_path.glob("p-*.ppm"))
    colored = 0
    for picture in pictures:
        data = picture.read_bytes().split(b"\n", 3)[3]
        colored += sum(max(data[k : k + 3]) - min(data[k : k + 3]) > 40 for k in range(0, len(data), 3))

    assert (len(pictures), colored) == (3, 0)


def test_each_item_of_a_checklist_has_its_source():
    report = review(SCENARIOS[0].parent / "galley-kitchen-faulty.yaml")
    page = as_checklist_html([report])
    items = page.split('<section class="finding')[1:]

    assert [item for item in items if not re.search(r'class="source">.*\[.+\]', item)] == []
    assert "common practice" in page
    assert 'href="https://www.ecfr.gov/' in page

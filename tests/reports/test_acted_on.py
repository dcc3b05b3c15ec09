"""What readers still missed when 22 of 24 wishes were met: what a person sees, each failing before it was mended."""

import re

import pytest

from advisor.reports.checklist_text import as_checklist_html, as_checklist_text
from advisor.reports.hazards import as_hazards_html, as_hazards_text
from advisor.reports.order_html import as_order_html
from advisor.reports.order_text import as_order_text
from advisor.reports.supplies import as_supplies_text
from advisor.review.days.timetable import Options
from advisor.review.planned_work import replan
from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase
from reports.support import SCENARIOS

BATH, KITCHEN = "bathroom-faulty", "galley-kitchen-faulty"
_KEPT = {}


def reviewed(stem):
    if stem not in _KEPT:
        _KEPT[stem] = review(next(path for path in SCENARIOS if path.stem == stem))
    return _KEPT[stem]


def spaced(text):
    return " ".join(text.split())


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
    """A vacuum breaker sits on a garden tap, a cartridge of sealant is no mask's; the title is the reader's own."""
    plan = {
        "title": "Overspray on the garden tap",
        "parts": {"tap": {"kind": "outdoor faucet"}},
        "products": {"bead": {"kind": "sealant", "binder": "silicone"}},
        "steps": [{"id": "seal", "do": "caulk", "to": "tap", "using": "bead"}],
    }
    text = as_supplies_text(review(plan))

    assert "cartridge" in text
    assert re.findall(r"(?m)^  (cartridge|overspray|practice): ", text) == []

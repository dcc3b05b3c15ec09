"""CSV as a spreadsheet reads it, by the csv reader in strict mode."""

import csv
import io

import pytest

from advisor.errors import Problem
from advisor.reports.table_csv import HEADER, as_csv, cell
from advisor.rulebase.model import Change
from reports.support import small_report


def rows_of(text):
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_each_finding_is_a_row_and_accepted_ones_say_so():
    rows = rows_of(as_csv([small_report()]))

    assert {(row["finding"], row["status"]) for row in rows} == {
        ("tiny-refer@swap-sockets", "speaks"),
        ("tiny-presumed@sand-doors", "speaks"),
        ("tiny-noise@sand-doors", "speaks"),
        ("tiny-vapor@finish-doors", "speaks"),
        ("tiny-shims@set-run", "speaks"),
        ("tiny-tiles@tile-splash", "speaks"),
        ("tiny-danger@swap-sockets", "speaks"),
        ("tiny-accepted@sweep", "accepted"),
    }
    assert [(r["reason"], r["by"], r["until"]) for r in rows if r["status"] == "accepted"] == [
        ("The floor is lost anyway.", "R. Roe", "2030-01-31")
    ]


def test_lines_end_as_rfc_4180_says():
    text = as_csv([small_report()])

    assert (text.splitlines()[0].split(","), text.count("\r\n")) == (list(HEADER), text.count("\n"))


@pytest.mark.parametrize("start", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", " =1", "＝1"])
def test_what_would_start_a_formula_is_text(start):
    """OWASP, CSV injection: an apostrophe before =, +, -, @ and their full-width twins."""
    assert cell(start)[0] == "'"


@pytest.mark.parametrize("plain", ["1/2 in", "a=b", "x-y", "70 °F", ""])
def test_other_text_is_left_alone(plain):
    assert cell(plain) == plain


def test_plans_that_cannot_be_read_and_changed_rules_are_rows():
    report = small_report()
    report.changes = (Change("tiny-old", "retired", "The town says otherwise.", "our-town"),)
    rows = rows_of(as_csv([report], [Problem("b.yaml", 3, 1, "is odd.")]))[-2:]

    assert [(r["plan"], r["line"], r["rule"], r["what"], r["status"], r["reason"], r["by"]) for r in rows] == [
        ("", "", "tiny-old", "", "rule retired", "The town says otherwise.", "our-town"),
        ("b.yaml", "3", "", "is odd.", "cannot be read", "", ""),
    ]

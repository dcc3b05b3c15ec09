"""Sentences of rules in metric units. Factors: NIST SP 811 (2008), appendix B: 1 in = 25.4 mm, 1 ft = 0.3048 m,
1 lb = 0.453 592 37 kg, 1 gal (US) = 3.785 412 L, 1 psi = 6.894 757 kPa, 1 cfm = 0.471 947 4 L/s."""

import re

import pytest
from reports.support import SCENARIOS

from advisor.review.metric import localized
from advisor.review.reviewing import review


@pytest.mark.parametrize(
    ("said", "metric"),
    [
        ("Put a rail 42 in high.", "Put a rail 1,067 mm (42 in) high."),
        ("6 ft 6 in high", "1,981 mm (6 ft 6 in) high"),
        ("a cord of 18 to 36 in", "a cord of 457 mm to 914 mm (18 to 36 in)"),
        ("an ordinary box holds 50 lb", "an ordinary box holds 22.7 kg (50 lb)"),
        ("no more than 5 gallons", "no more than 18.9 L (5 gallons)"),
        ("Wait for 50 °F.", "Wait for 10 °C (50 °F)."),
        ("Below 1,100 °F", "Below 593 °C (1,100 °F)"),
        ("within 5 °F of that", "within 2.78 °C (5 °F) of that"),
        ("Above 80 psi", "Above 552 kPa (80 psi)"),
        ("screws of 2-1/2 in", "screws of 63.5 mm (2-1/2 in)"),
    ],
)
def test_quantities_of_sentences_turn(said, metric):
    assert localized(said, "metric") == metric


@pytest.mark.parametrize(
    "said", ["a 2x4", "fall 1/4 in per ft", "step 1 of 3", "IRC R308.4", "two in a room", "1/4 in/ft"]
)
def test_what_is_no_quantity_stays(said):
    assert localized(said, "metric") == said


def test_a_plan_in_feet_reads_as_the_rule_was_written():
    assert localized("Put a rail 42 in high.", "us") == "Put a rail 42 in high."


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_in_a_metric_report_every_foot_and_pound_stands_in_brackets(path):
    report = review(path, units="metric")
    said = [text for f in report.findings for text in (f.what, f.because, f.title)]
    left = [re.sub(r"\([^()]*\)", "", text) for text in said]

    assert [text for text in left if re.search(r"\d (?:in|ft|lb|gal|qt|cfm|psi|°F)\b(?! per)", text)] == []

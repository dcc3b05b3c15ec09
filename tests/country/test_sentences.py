"""What any rule says elsewhere: no law, gear or measure of the rules' country; and all rules by what they rest on.

Outside: the factors of NIST SP 811 (1 ft = 0.3048 m, 1 lb = 0.453592 kg), worked out by hand beside each line.
"""

from __future__ import annotations

import re

import pytest

from advisor.review.metric import localized
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.countries import as_cited, is_law
from advisor.rulebase.elsewhere import moved_to
from advisor.rulebase.grounds import coverage_by_law
from advisor.rulebase.model import FINDING_KINDS
from advisor.showing import System


def test_no_law_of_the_rules_country_is_cited_elsewhere_without_its_mark() -> None:
    """Each edition that `law:` names is left out of sources elsewhere, or marked as a book of another country."""
    rulebase = load_rulebase()
    for edition in sorted({rule.law[1] for rule in rulebase.rules if rule.law}):
        cite = rulebase.citations[edition].cite
        assert is_law(edition) or as_cited(edition, cite, "DE") != cite, edition


FOREIGN = re.compile(
    r"(?<![\w-])(?:model codes?|[Ff]ederal|CFR|NEC|NFPA|IRC|OSHA|EPA|CPSC|GFCI|AFCI|N95|P100|AWG|ASTM|UL|811|911"
    r"|inch(?:es)?|pounds?|ounces?|gallons?|quarts?|Fahrenheit|(?:square|cubic|a|few) f(?:oo|ee)t (?:of|deep|away|at)"
    r"|building department|under a permit|drywall|faucets?|receptacles?|wire nuts?|breaker panel|U\.S\.|United States"
    r"|codes? (?:asks?|says?|wants?|allows?)|by code|the code)(?![\w-])"
    r"|\d (?:in|ft|sq ft|cu ft|lb|gal|qt|psi|mil)(?![\w-])"
)


@pytest.mark.parametrize("where", ["DE", "NO", ""])
def test_no_sentence_of_any_rule_speaks_of_another_country(where: str) -> None:
    """Title, advice, reason, guess and controls of all rules as they hold there, in the place's words and units."""
    units = System("metric", "EUR", True, where)
    for rule in moved_to(load_rulebase(), where, "").rules:
        for one in rule.conclusions:
            if one.kind not in FINDING_KINDS:
                continue
            for text in (rule.title, *one.texts, one.guess[1] if one.guess else ""):
                said = re.sub(r"\{\{.*?\}\}", "", localized(text, units, rule.pack))
                assert not (found := FOREIGN.search(said)), (rule.id, found[0], said)


@pytest.mark.parametrize(
    ("said", "there"),
    [
        ("Let the top fall 1/4 in per ft away.", "Let the top fall 2 cm per m away."),
        ("A tub weighs 90 lb and more on each square foot.", "A tub weighs 440 kg and more on each square meter."),
        ("Pipe weighs some 10 lb a foot.", "Pipe weighs some 15 kg a meter."),
        ("Above about 10 sq ft call a firm.", "Above about 0.93 m2 call a firm."),
        ("Room for 700 cubic feet of air.", "Room for 20 m3 of air."),
        ("Grind an inch or two off.", "Grind 2 to 5 cm off."),
    ],
)
def test_measures_in_sentences_are_turned(said: str, there: str) -> None:
    """Worked out by hand: 1/48 is 2 cm a metre, 90 lb x 0.4536 / 0.0929 m2 = 439 kg, 10 x 0.4536 / 0.3048 = 14.9 kg."""
    assert localized(said, System("metric", "EUR", True, "DE")) == there
    assert localized(said, System("us")) == said


def test_the_coverage_by_law_lists_every_speaking_rule_once() -> None:
    """Each rule that speaks stands in exactly one list, and the counts at the head are those of the lists."""
    rulebase = load_rulebase()
    spoken = {rule.id for rule in rulebase.rules if any(c.kind in FINDING_KINDS for c in rule.conclusions)}
    lines = coverage_by_law(rulebase)
    listed = [
        name.strip().removesuffix(" *")
        for line in lines
        if line.startswith("  ") and not re.match(r"\s+\d+ \w", line)
        for name in line.split(",")
        if name.strip() and name.strip() != "*"
    ]
    assert sorted(listed) == sorted(spoken)
    assert lines[0] == f"{len(spoken)} speaking rules"
    assert not any("do not say" in line or "does not say" in line for line in lines)
    heads = [int(found[1]) for line in lines if (found := re.search(r"^\S.*\((\d+)\)$", line))]
    assert sum(heads) == len(spoken)

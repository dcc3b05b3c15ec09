"""What a law's rule says where that law does not hold: nothing, or what is physical in it.

Outside sources of the years: Gefahrstoffverordnung § 5a (DE, 31 October 1993), nidirect (GB, 1999), Citizens
Information (IE, before 2000), ASEA (AU, 31 December 2003), Health Canada (CA, lead paint until 1990), Code de la santé
publique (FR, lead before 1949, asbestos before July 1997), WorkSafe NZ (lead in the 1980s or earlier), 29 CFR 1926.1101
and 40 CFR 745.80 (US, 1980 and 1978).
"""

from __future__ import annotations

from typing import Any

import pytest

from advisor.review.model import Report
from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.countries import country, tables
from advisor.rulebase.elsewhere import moved_to, read_elsewhere
from advisor.rulebase.lint import _PROMISES, _SENTENCE, MAX_LETTERS, MAX_SENTENCES
from advisor.rulebase.model import FINDING_KINDS, PLACEHOLDER, SHADOW

ABROAD = [code for code in tables() if code != "US"]
ANYWHERE = [*ABROAD, "NO", ""]  # with a table, without one, and nobody knows where


def rules_of(report: Report) -> set[str]:
    return {f.rule for f in report.findings}


def old_floor(where: str, year: int) -> Report:
    """Sheet flooring that is torn up in a house of that year."""
    return review(
        {
            "house": {"country": where, "built": year},
            "rooms": {"hall": {"kind": "hallway"}},
            "parts": {"floor": {"kind": "sheet flooring", "room": "hall"}},
            "steps": [{"id": "rip", "do": "remove", "to": "floor", "by": "rip-up"}],
        }
    )


def old_paint(where: str, year: int) -> Report:
    """A varnished door that is sanded with a machine in a house of that year."""
    return review(
        {
            "house": {"country": where, "built": year},
            "parts": {"door": {"kind": "door", "coating": "alkyd paint"}},
            "steps": [{"id": "sand", "do": "sand", "to": "door", "with": ["random orbital sander"]}],
        }
    )


@pytest.mark.parametrize(
    ("where", "last"),
    [("US", 1980), ("DE", 1993), ("GB", 1999), ("IE", 2000), ("FR", 1997), ("AU", 2003), ("AT", 1990)],
)
def test_asbestos_is_presumed_up_to_the_year_of_the_country(where: str, last: int) -> None:
    assert "asbestos-sample-first" in rules_of(old_floor(where, last))
    assert "asbestos-sample-first" not in rules_of(old_floor(where, last + 1))


@pytest.mark.parametrize(
    ("where", "first"),
    [("US", 1978), ("CA", 1991), ("FR", 1949), ("NZ", 1990), ("GB", 1992), ("AU", 1997), ("DE", 1990)],
)
def test_lead_is_presumed_before_the_year_of_the_country(where: str, first: int) -> None:
    assert "test-for-lead" in rules_of(old_paint(where, first - 1))
    assert "test-for-lead" not in rules_of(old_paint(where, first))


@pytest.mark.parametrize("where", ["NO", "AT", "IE"])
def test_a_year_that_nobody_read_excludes_nothing_and_is_asked(where: str) -> None:
    report = old_paint(where, 2015)
    found = next(f for f in report.findings if f.rule == "test-for-lead")
    assert found.because.startswith("From which year on paint held no lead in ")
    assert "lead_ended" in {name for name, _ in report.country.missing}  # type: ignore[union-attr]


def test_the_years_are_told() -> None:
    found = next(f for f in old_floor("GB", 1980).findings if f.rule == "asbestos-sample-first")
    assert found.because == (
        "In the United Kingdom material of this kind is taken to hold asbestos up to 1999. Nobody can tell by looking."
    )
    found = next(f for f in old_paint("CA", 1980).findings if f.rule == "test-for-lead")
    assert "from before 1991" in found.because


def bath(where: str, **outlet: Any) -> Report:
    """An outlet that is put in near a tub."""
    return review(
        {
            "house": {"country": where},
            "rooms": {"bath": {"kind": "bathroom"}},
            "parts": {"tub": {"kind": "bathtub", "room": "bath"}, "plug": {"kind": "outlet", "room": "bath"} | outlet},
            "steps": [{"id": "fit", "do": "install", "to": "plug"}],
        }
    )


@pytest.mark.parametrize("where", ["DE", "GB", "FR", "NO"])
def test_shock_near_water_is_told_in_the_words_of_the_place(where: str) -> None:
    found = next(f for f in bath(where).findings if f.rule == "ground-fault-protection")
    assert "RCD" in found.what
    assert "GFCI" not in found.what + found.because
    assert found.signal == "warning"


def test_protection_that_is_there_keeps_it_quiet() -> None:
    assert "ground-fault-protection" not in rules_of(bath("DE", protection="RCD"))
    assert "ground-fault-protection" not in rules_of(bath("AU", protection="safety switch"))


def test_the_zone_of_a_bath_is_that_of_the_country() -> None:
    """DIN VDE 0100-701: 60 cm beyond the tub; NFPA 70 406.9(C): 3 ft."""
    assert "outlet-by-tub" in rules_of(bath("DE", to_water="50 cm"))
    assert "outlet-by-tub" not in rules_of(bath("DE", to_water="80 cm"))
    assert "outlet-by-tub" in rules_of(bath("US", to_water="80 cm"))
    assert "outlet-by-tub" in rules_of(bath("NO", to_water="80 cm"))  # not known: asked


@pytest.mark.parametrize("where", ANYWHERE)
def test_a_law_alone_is_silent(where: str) -> None:
    """Permits, tamper-resistant outlets, four-wire cords: what only a law of the rules' country asks for."""
    there = {rule.id for rule in moved_to(load_rulebase(), where, "").rules}
    rules = load_rulebase().rules
    assert not {r.id for r in rules if r.rests_on == ("law",)} & there
    assert not {"tamper-resistant-outlet", "range-or-dryer-cord", "certified-firm-for-pay", "box-fill"} & there


@pytest.mark.parametrize("where", ANYWHERE)
def test_no_rule_names_a_law_elsewhere(where: str) -> None:
    for rule in moved_to(load_rulebase(), where, "").rules:
        assert rule.law is None or rule.law[0] == where, rule.id
        assert "law" not in rule.rests_on


def test_a_mains_of_230_volts_makes_no_strong_circuit() -> None:
    """IEC 60038: 230 V is the standard voltage; what a plug feeds there is no fixed appliance by its voltage."""
    cooler = {
        "parts": {"cooler": {"kind": "air conditioner", "voltage": "230 V"}},
        "steps": [{"id": "mend", "do": "repair", "to": "cooler"}],
    }
    assert "opened-machine-unplugged" in rules_of(review(cooler | {"house": {"country": "DE"}}))
    assert "opened-machine-unplugged" not in rules_of(
        review(cooler | {"house": {"country": "US"}})
    )  # fixed wires there


def railing(where: str, height: str) -> set[str]:
    return rules_of(
        review(
            {
                "house": {"country": where},
                "parts": {
                    "deck": {"kind": "deck", "above_floor": "2 m"},
                    "rail": {"kind": "railing", "on": "deck", "height": height, "above_floor": "2 m"},
                },
                "steps": [{"id": "put", "do": "install", "to": "rail"}],
            }
        )
    )


def test_a_low_rail_is_told_and_a_local_height_is_no_mistake() -> None:
    assert "guard-too-low" in railing("DE", "700 mm")
    assert "guard-too-low" not in railing("DE", "900 mm")  # usual in many countries, though below 36 in
    assert "guard-too-low" in railing("US", "900 mm")  # IRC R312.1.2: 36 in


def test_a_bottle_trap_is_no_mistake_elsewhere() -> None:
    """BS EN 274 and DIN 19541 know bottle traps; IRC P3201.5 forbids them."""
    basin = {
        "parts": {"basin": {"kind": "sink", "trap": "bottle trap"}},
        "steps": [{"id": "fit", "do": "install", "to": "basin"}],
    }
    assert "prohibited-trap" in rules_of(review(basin | {"house": {"country": "US"}}))
    assert "prohibited-trap" not in rules_of(review(basin | {"house": {"country": "GB"}}))
    basin["parts"]["basin"]["trap"] = "s-trap"
    assert "prohibited-trap" in rules_of(review(basin | {"house": {"country": "GB"}}))


# the files


def test_each_rule_of_a_law_with_a_physical_hazard_says_what_holds_elsewhere() -> None:
    """An entry tells it, or says why it is silent there; a law alone has none and is silent."""
    said = read_elsewhere()
    of_law = [rule for rule in load_rulebase().rules if rule.law is not None and SHADOW not in rule.id]
    assert len(of_law) > 200
    assert [rule.id for rule in of_law if rule.rests_on != ("law",) and rule.id not in said] == []
    assert [rule.id for rule in of_law if rule.rests_on == ("law",) and rule.id in said] == []
    silent = [rule.id for rule in of_law if rule.id in said and said[rule.id].get("silent")]
    assert all(len(said[rule].get("silent").text) > 15 for rule in silent)  # type: ignore[union-attr]
    assert len(silent) < len(of_law) / 6


def test_an_entry_with_conditions_keeps_quiet_about_a_step_of_the_trade() -> None:
    """`unless_done_by` of a rule holds elsewhere too: a builder is not told to ask before he notches."""
    plan: dict[str, Any] = {
        "house": {"country": "DE"},
        "parts": {"beam": {"kind": "joist"}},
        "steps": [{"id": "notch", "do": "notch", "to": "beam", "who": "owner"}],
    }
    assert "framing-cut-unmeasured" in rules_of(review(plan))
    plan["steps"][0]["who"] = "licensed electrician"
    assert "framing-cut-unmeasured" not in rules_of(review(plan))


def test_each_entry_is_of_a_rule_that_is_there_and_still_speaks_there() -> None:
    rulebase = load_rulebase()
    known = {rule.id for rule in rulebase.rules}
    there = {rule.id for rule in moved_to(rulebase, "DE", "").rules}
    said = read_elsewhere()
    assert set(said) <= known
    assert {rule for rule, node in said.items() if not node.get("silent")} <= there


def test_the_texts_keep_to_the_form_of_all_rules() -> None:
    for where in ANYWHERE:
        for rule in moved_to(load_rulebase(), where, "").rules:
            for one in rule.conclusions:
                if one.kind not in FINDING_KINDS or rule.id not in read_elsewhere():
                    continue
                for text in (one.what, one.because):
                    assert len(_SENTENCE.findall(text)) <= MAX_SENTENCES, (where, rule.id, text)
                    assert len(text) <= MAX_LETTERS + 60, (where, rule.id, text)  # a row of a country may be long
                    assert "<" not in text, (where, rule.id, text)
                    assert not _PROMISES.search(text), (where, rule.id, text)
                    assert set(PLACEHOLDER.findall(text)) <= set(rule.types), (where, rule.id)


def test_each_row_has_a_source_and_says_how_it_was_read() -> None:
    for code in tables():
        for row in country(code).rows.values():
            assert all((row.cite, row.verified, row.meaning)), (code, row.name)
            assert "memory" not in row.verified, (code, row.name)


def test_the_table_at_home_is_full_and_has_the_figures_of_the_rules() -> None:
    home = country("US")
    assert home.missing == ()
    said = read_elsewhere()
    assert home.rows["asbestos_ended"].number == 1980
    assert home.rows["lead_ended"].number == 1978
    for rule, figure in (("old-coating-may-hold-lead", "1978"), ("asbestos-presumed-in-part", "1980")):
        assert figure in said[rule].get("figures").pairs  # type: ignore[union-attr]


@pytest.mark.parametrize("where", ANYWHERE)
def test_nothing_but_law_is_lost_abroad(where: str) -> None:
    """A rule of physics is silent elsewhere only where `rules/places/elsewhere` says so: power off was once lost by how
    it is written, an absence within an absence. The two that read the trap tables of a code have nothing to read."""
    rulebase, said = load_rulebase([]), read_elsewhere()
    there = {rule.id for rule in moved_to(rulebase, where, "").rules}

    lost = {rule.id for rule in rulebase.rules if SHADOW not in rule.id and rule.law is None} - there
    silent = {name for name in lost if name in said and said[name].get("silent") is not None}
    assert {"isolate-power", "lock-breaker-off", "work-on-electrical-part"} <= there
    assert lost - silent == {"international-trap-tables", "uniform-trap-tables"}

"""What the fifteenth judge found among what is not judged and among the questions: each failed before it was mended."""

from __future__ import annotations

import pytest

from advisor.reports.first import first_screen as as_first
from advisor.review.model import Report
from reports.test_judged_eleventh import planned


def open_at(report: Report) -> set[str]:
    """The practices that wait for an answer, as `rule@step`."""
    return {f"{one.rule}@{one.step}" for one in report.open}


def first_questions(report: Report, many: int = 3) -> list[str]:
    """The first questions with all that they ask for and offer."""
    asked = report.questions[:many]
    return [f"{one.ask} {[key[2] for key in one.keys]} {[answer.value for answer in one.answers]}" for one in asked]


WIRED = """
title: A lamp
house: {built: 1999, %s}
rooms: {hall: {kind: hallway, length: 12 ft, width: 4 ft, height: 8 ft}}
parts: {lamp: {kind: light, room: hall%s}, ring: {kind: circuit, room: hall%s}}
steps:
  - {id: off, do: shut off power, to: ring}
  - {id: swap, do: replace, to: lamp}
"""


def test_copper_that_the_house_states_is_not_asked_of_each_lamp():
    report = planned(WIRED % ("wiring: copper", "", ""))

    assert "aluminum-wiring@swap" not in open_at(report)
    assert not [key for one in report.questions for key in one.keys if key[2] == "wiring"]


def test_wire_that_nobody_spoke_of_stays_open():
    """Near miss; so does a ground where only the wire is stated."""
    assert "aluminum-wiring@swap" in open_at(planned(WIRED % ("occupied: yes", "", "")))
    asked = [key for one in planned(WIRED % ("wiring: copper", "", "")).questions for key in one.keys]
    assert "equipment_ground" in {attribute for _, _, attribute in asked}


@pytest.mark.parametrize("where", [", circuit: ring, wiring: aluminum", ", circuit: ring"])
def test_what_is_said_of_its_own_wire_goes_before_the_house(where: str):
    ring = "" if "aluminum" in where else ", wiring: aluminum"
    report = planned(WIRED % ("wiring: copper", where, ring))

    assert "aluminum-wiring" in {one.rule for one in report.findings}


STRIPPED = """
title: Old sashes
house: {built: 1940, occupied: yes}
rooms: {shed: {kind: garage, ventilation: cross ventilation}}
parts: {sash: {kind: window, room: shed, coating: paint, lead_test: positive, area: 20 sqft}}
products: {gel: {kind: stripper, carrier: benzyl alcohol}}
steps:
  - {id: off, do: strip, to: sash, using: gel%s}
"""


@pytest.mark.parametrize("way", [", by: chemical, wet: yes", ", by: chemical, with: [scraper]", ", by: wet"])
def test_no_heat_is_asked_for_where_another_way_is_stated(way: str):
    assert "heat-gun-over-1100@off" not in open_at(planned(STRIPPED % way))


@pytest.mark.parametrize("way", ["", ", by: heat", ", by: hand", ", by: chemical, with: [scraper, heat gun]"])
def test_how_hot_the_gun_is_stays_open(way: str):
    assert "heat-gun-over-1100@off" in open_at(planned(STRIPPED % way))


ROLLED = """
title: A shelf
house: {built: 1999, occupied: yes}
rooms: {den: {kind: living room, length: 12 ft, width: 11 ft, height: 8 ft}}
parts: {board: {kind: shelf, room: den, material: pine, coating: bare, area: 12 sqft}}
products: {coat: {kind: paint}}
steps:
  - {id: coat-it, do: paint, to: board, using: coat%s}
"""


@pytest.mark.parametrize("way", ["roller", "brush", "wipe"])
def test_what_is_rolled_or_brushed_is_not_sprayed(way: str):
    report = planned(ROLLED % f", by: {way}")

    assert "isocyanate-spray@coat-it" not in open_at(report)


@pytest.mark.parametrize("way", ["", ", by: spray", ", with: [airless sprayer]", ", by: brush, with: [spray gun]"])
def test_what_may_be_sprayed_stays_open(way: str):
    """Near misses: no way stated, a spray stated, and a gun among the tools whatever the way."""
    assert "isocyanate-spray@coat-it" in open_at(planned(ROLLED % way))


PORCH = """
title: A porch
house: {built: 1999, occupied: yes}
rooms: {porch: {kind: porch, length: 14 ft, width: 8 ft}}
parts:
  boards: {kind: porch, room: porch, material: douglas fir, coating: paint, area: 112 sqft}
  pot: {kind: furniture, room: porch}
steps:
  - {id: nails, do: set, to: %s, with: [hammer]}
"""


@pytest.mark.parametrize("thing", ["boards", "pot"])
def test_the_boards_of_a_porch_are_no_load_on_it(thing: str):
    assert ("great-weight-on-deck@nails" in open_at(planned(PORCH % thing))) == (thing == "pot")


NEW_HOUSE = """
title: A shelf in a laundry
house: {built: %s, occupied: yes}
rooms: {laundry: {kind: laundry room, length: 9 ft, width: 6 ft, height: 8 ft}}
parts: {wall: {kind: wall, room: laundry, material: gypsum board, coating: paint, area: 200 sqft},
        floor: {kind: floor, room: laundry, material: plywood, area: 50 sqft},
        tap: {kind: faucet, room: laundry, lead_free: yes, new: yes}}
products: {grout: {kind: grout}}
steps:
  - {id: hole, do: drill, to: wall, with: [drill]}
  - {id: tap-on, do: replace, to: tap}
"""


def test_no_test_for_lead_or_asbestos_comes_first_in_a_house_of_2004():
    """16 CFR 1303 banned lead paint in 1978; asbestos in joint compound was banned in 1977 (16 CFR 1304)."""
    first = first_questions(planned(NEW_HOUSE % "2004"))

    assert not [one for one in first if "lead_test" in one or "asbestos_test" in one]


def test_an_answer_of_a_test_stays_open_all_the_same():
    assert "asbestos-found-refer@hole" in open_at(planned(NEW_HOUSE % "2004"))


def test_in_an_old_house_the_tests_come_first():
    """Near miss: they are asked for, or told by what speaks already."""
    report = planned(NEW_HOUSE % "1950")
    told = {one.rule for one in report.findings}

    assert told & {"test-lead-before-disturb", "test-asbestos-before-disturb"} or "lead_test" in str(
        first_questions(report)
    )


def test_standing_water_and_droppings_come_not_among_the_first():
    report = planned(NEW_HOUSE % "2004")

    assert "flood-water-is-live@tap-on" in open_at(report)
    assert "standing water" not in str(first_questions(report))
    assert "rodent droppings" not in str(first_questions(report))


def test_what_hardly_anyone_would_answer_comes_last_of_its_word_on_the_first_screen():
    report = planned(NEW_HOUSE % "2004")
    dangers = [one for one in as_first(report).may_be if one.startswith("danger")]

    assert not any("flood water" in one for one in dangers[:1])


def test_grout_is_asked_for_by_its_own_kinds():
    """Grouts are of cement or of epoxy, or ready mixed of acrylic (ANSI A118.6, A118.3; common practice)."""
    grouted = NEW_HOUSE.replace("steps:", "steps:\n  - {id: joints, do: grout, to: floor, using: grout}")
    asked = [one for one in planned(grouted % "2004").questions if ("product", "grout", "binder") in one.keys]

    assert asked
    assert not [word for one in asked for word in ("alkyd", "shellac") if word in one.ask]
    assert not [a.value for one in asked for a in one.answers if a.value in ("binder oil-based", "binder polyurethane")]

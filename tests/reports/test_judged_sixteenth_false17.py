"""What the sixteenth judge found false or misleading (`tests/reports/wishes.md`): each failed before it was mended."""

from __future__ import annotations

import pytest

from advisor.reports.arrange import arrange
from advisor.reports.first import first_screen
from advisor.reports.notes import words_used
from reports.test_judged_eleventh import planned
from reports.test_judged_fifteenth_list import get

SHELF = """
title: A shelf
house: {built: 1999, occupied: yes}
rooms: {garage: {kind: garage}}
parts:
  wall: {kind: wall, room: garage, material: gypsum board}
  shelf: {kind: shelf, room: garage, material: plywood, new: yes, depth: 16 in, thickness: 3/4 in, against: [wall]%s}
crew: {people: 1, owns: [drill]}
steps:
  - {id: cut, do: %s, to: shelf, with: [circular saw], for: 1 h}
  - {id: hang, do: install, to: shelf, with: [drill], fixing: studs, for: 2 h}
"""


def test_a_shelf_that_is_cut_is_bought_as_a_board_of_its_size():
    """F6. Nobody sells `shelf`: the plan cuts it from plywood."""
    [board] = get(planned(SHELF % (", span: 48 in, length: 8 ft", "cut")), "plywood")

    assert (board.what, board.need, board.shelf) == ("plywood for shelf, 96 in x 16 in x 3/4 in", 1, "lumber")


def test_a_shelf_that_nobody_cuts_is_bought_as_it_is():
    report = planned(SHELF % (", span: 48 in, length: 8 ft", "inspect"))

    assert get(report, "plywood") == []
    assert [(one.need, one.shelf) for one in get(report, "shelf")] == [(1, "lumber")]


@pytest.mark.parametrize(
    ("sizes", "brackets", "sure"),
    [
        (", span: 48 in, length: 8 ft", 3, True),  # 8 ft in stretches of 4 ft: three
        (", length: 8 ft", 4, True),  # every second stud, 32 in: three stretches
        (", length: 2 ft", 2, True),
        (", span: 48 in", 2, False),  # no length: two at least
        (", span: 48 in, length: 8 ft, count: 2", 6, True),
    ],
)
def test_brackets_go_by_the_span(sizes, brackets, sure):
    """F6. One at each end and one wherever the span ends (common practice)."""
    [line] = get(planned(SHELF % (sizes, "cut")), "brackets for a shelf")

    assert (line.need, not line.at_least) == (brackets, sure)


def test_a_guide_and_a_vacuum_that_the_report_asks_for_are_listed():
    report = planned(SHELF % ("", "cut"))

    assert {"saw-along-guide", "wood-dust-collection"} <= {finding.rule for finding in report.findings}
    assert [one.steps for one in get(report, "straight guide")] == [("cut",)]
    assert [one.steps for one in get(report, "vacuum with a fine filter")] == [("cut",)]


def test_no_count_stands_beside_a_count():
    """F15. `sponges, two: get 1` reads wrong."""
    wash = "\n  - {id: wash, do: wash, to: wall, for: 1 h}\n"
    said = [one.what for one in planned(SHELF % (", length: 8 ft", "cut") + wash).supplies]

    assert "sponges, a pack of two" in said
    assert not [what for what in said if "two or more" in what or what.endswith(", two")]


@pytest.mark.parametrize(
    ("part", "shelf"),
    [
        ("{kind: vinyl plank floor, room: garage, new: yes, area: 35 sqft}", "flooring"),
        ("{kind: carpet, room: garage, new: yes, area: 35 sqft}", "flooring"),
        ("{kind: shower door, room: garage, new: yes}", "doors"),
        ("{kind: backer board, room: garage, new: yes, area: 35 sqft}", "tile"),
        ("{kind: baseboard, room: garage, new: yes, length: 22 ft}", "lumber"),
        ("{kind: light, room: garage, new: yes}", "electrical"),
    ],
)
def test_new_parts_stand_where_a_shop_has_them(part, shelf):
    """F7. Flooring, a shower door and board are no screws and fittings."""
    report = planned(
        SHELF.replace("crew:", f"  thing: {part}\ncrew:") % ("", "cut") + "\n  - {id: put, do: install, to: thing}\n"
    )

    assert [one.shelf for one in report.supplies if one.what.endswith("(thing)") or "(thing)," in one.what] == [shelf]


def test_suction_cups_are_no_cupped_wood():
    """F3."""
    assert "cups" not in dict(words_used(["Move door with two people and suction cups."]))
    assert "cups" in dict(words_used(["A board that cups. Hold it with suction cups."]))


CABINET = """
title: A cabinet
house: {built: 1988, occupied: yes}
rooms: {laundry: {kind: laundry room, ignition_sources: [%s], ventilation: window open}}
parts: {cabinet: {kind: wall cabinets, room: laundry, material: oak, coating: varnish, area: 40 sqft}}
products: {topcoat: {kind: paint, binder: acrylic, carrier: water, amount: 2 qt}}
steps: [{id: coat, do: paint, to: cabinet, using: topcoat, by: roller, for: 2 h}]
"""


def test_report_and_list_name_the_same_primer():
    """F4. The report says shellac-based; where a flame burns it says waterborne, and so does the list."""
    plain, flame = planned(CABINET % "none"), planned(CABINET % "pilot light")

    assert [one.what for one in get(plain, "stain-blocking primer")] == [
        "stain-blocking primer, shellac-based (outdoors oil-based)"
    ]
    assert [one.what for one in get(flame, "stain-blocking primer")] == ["stain-blocking primer on water, no alcohol"]


SPINDLES = """
title: A stair
house: {built: 1934, occupied: yes}
rooms: {hall: {kind: hallway, ventilation: window open}}
parts: {spindles: {kind: balusters, room: hall, material: pine, coating: paint, area: 40 sqft}}
products:
  oil: {kind: penetrating oil, binder: linseed oil, amount: 1 qt}
  spray: {kind: penetrating oil, amount: 1 pt}
crew: {people: 1, owns: [heat gun]}
steps:
  - {id: burn, do: strip, to: spindles, with: [heat gun], for: 6 h}
  - {id: glue, do: glue, to: spindles, for: 2 h}
  - {id: oil, do: oil, to: spindles, using: [%s], by: rag, for: 3 h}
"""


def test_gluing_takes_clamps_and_a_heat_gun_that_is_spoken_against_is_stood_in_for():
    report = planned(SPINDLES % "oil")

    assert [one.steps for one in get(report, "set of clamps")] == [("glue",)]
    assert [one.steps for one in get(report, "stripper on benzyl alcohol")] == [("burn",)]


def test_a_penetrating_oil_that_dries_is_a_finish_and_one_that_does_not_is_a_lubricant():
    """F7. The kind has two senses; the binder decides."""
    [oil] = [one for one in planned(SPINDLES % "oil").supplies if one.what.startswith(("oil", "lubricant"))]
    [spray] = [one for one in planned(SPINDLES % "spray").supplies if one.what.startswith(("spray", "lubricant"))]

    assert ("lubricant" in oil.what, "lubricant" in spray.what) == (False, True)


def test_gear_that_is_left_for_some_steps_has_their_reason():
    """F7. Goggles do for the stripping; the glasses are for the sanding, at which no product is."""
    report = planned("""
title: A rail
house: {built: 2001, occupied: yes}
rooms: {yard: {kind: patio}}
parts: {rail: {kind: handrail, room: yard, material: oak, coating: varnish, area: 30 sqft}}
products: {gel: {kind: stripper, carrier: benzyl alcohol, amount: 1 gal}}
steps:
  - {id: strip, do: strip, to: rail, using: gel, for: 4 h}
  - {id: sand, do: sand, to: rail, with: [detail sander], for: 6 h}
""")
    [glasses] = get(report, "safety glasses")

    assert (glasses.steps, "product" in glasses.why) == (("sand",), False)


LIFT = """
title: A cabinet
house: {built: 1999, occupied: yes, first_aid_kit: %s, smoke_alarms: working}
rooms: {laundry: {kind: laundry room}}
parts: {cabinet: {kind: wall cabinets, room: laundry, material: maple, weight: 55 lb}}
crew: {people: 2, owns: [drill, screwdriver, safety glasses, prop]}
steps:
  - {id: down, do: remove, to: cabinet, for: 30 min}
  - {id: trim, do: cut, to: cabinet, with: [circular saw], for: 30 min}
  - {id: up, do: install, to: cabinet, with: [drill], for: 1 h}
"""


def begins(report):
    return next(e.finding for e in arrange(report).entries() if e.finding.rule == "before-you-begin")


def test_shoes_have_a_reason_of_their_own_and_are_nothing_for_today():
    """F8. Nobody loses time with a valve for want of shoes; they are put on at the work."""
    shoes, both = planned(LIFT % "yes"), planned(LIFT % "no")

    assert "have sturdy closed shoes on" in begins(shoes).what
    assert ("shoes" in begins(shoes).because, "valve" in begins(shoes).because) == (True, False)
    assert ("shoes" in begins(both).because, "valve" in begins(both).because) == (True, True)
    assert "shoes" not in first_screen(shoes).today
    assert "first aid kit" in first_screen(both).today


def test_today_names_nothing_of_a_later_step():
    """F8. The glass is carried on the day it is hung; what the first step needs can be done today."""
    glass = """
title: A door
house: {built: 2006, occupied: yes, smoke_alarms: working, first_aid_kit: yes, water_shutoff_known: yes}
rooms: {bath: {kind: bathroom, ventilation: window open}}
parts: {door: {kind: shower door, room: bath, material: tempered glass, new: yes, weight: 75 lb}}
crew: {people: 2, owns: [work gloves, goggles, safety glasses, sturdy shoes, drill]}
steps: [%s{id: hang, do: install, to: door, people: 2, for: 2 h, wearing: [work gloves, goggles, sturdy shoes]}]
"""
    later, first = planned(glass % "{id: look, do: measure, to: door}, "), planned(glass % "")

    assert "suction cups" not in first_screen(later).today
    assert "suction cups" in first_screen(first).today


STAIR = """
title: A rail
house: {built: 1934, occupied: yes, children_under_6: 2, pregnant: yes}
rooms: {hall: {kind: hallway, ventilation: closed}}
parts:
  rail: {kind: handrail, room: hall, material: oak, coating: paint, area: 30 sqft}
  spindles: {kind: balusters, room: hall, material: pine, coating: paint, area: 40 sqft, has: [loose]}
crew: {people: 1, owns: [heat gun]}
steps: [{id: burn, do: strip, to: [rail, spindles], with: [heat gun], for: 6 h}]
"""


def test_children_and_pregnant_people_come_before_milder_warnings():
    """F9."""
    said = [one.rule for one in first_screen(planned(STAIR)).dangers if one.signal == "warning"]

    assert said[0] == "children-away-from-lead"


TILED = """
title: A glass door
house: {country: US, built: %s, occupied: yes, smoke_alarms: working}
rooms: {bath: {kind: bathroom, windows: 1}}
parts:
  surround: {kind: shower surround, room: bath, material: porcelain, backing: fiber-cement, wet_area: yes}
  door: {kind: shower door, room: bath, material: tempered glass, new: yes, weight: 75 lb}
crew: {people: 2, owns: [drill]}
steps:
  - {id: drill, do: drill, to: surround, with: [drill], for: 1 h}
  - {id: hang, do: install, to: door, with: [drill], people: 2, for: 2 h}
  - {id: shower, do: use, to: surround}
"""


def test_nobody_takes_an_engine_into_the_shower():
    """F5. What is only used again takes no tool, whatever part of the shower the step names."""
    open_at = {f"{one.rule}@{one.step}" for one in planned(TILED % 2006).open}

    assert not {"engine-indoors@shower", "grill-indoors@shower"} & open_at
    assert "flames-out-before-vapor@hang" in open_at


def test_nobody_is_asked_how_long_a_mix_of_sealant_lasts():
    """F14. It comes ready in its tube; grout is mixed, and asked of."""
    plan = """
title: Joints
house: {built: 2006}
rooms: {bath: {kind: bathroom}}
parts: {surround: {kind: shower surround, room: bath, material: porcelain, area: 60 sqft}}
products: {stuff: {kind: %s}}
steps: [{id: fill, do: %s, to: surround, using: stuff, for: 3 h}]
"""
    asked = [key[2] for one in planned(plan % ("sealant", "caulk")).questions for key in one.keys]

    assert "pot_life" not in asked
    assert "pot_life" in [key[2] for one in planned(plan % ("grout", "grout")).questions for key in one.keys]


def test_finding_the_shutoffs_never_tells_the_kind_of_wire():
    """F10. A sheet for a class asks no such thing."""
    report = planned("""
title: An outlet
rooms: {room: {kind: room}}
parts: {ring: {kind: circuit}, outlet: {kind: outlet, room: room, circuit: ring, new: yes}}
steps:
  - {id: find, do: find shutoffs}
  - {id: swap, do: replace, to: outlet, with: [screwdriver], wearing: [safety glasses]}
""")
    wire = [one.what for one in report.findings if one.what.startswith("Find out what kind of wire")]

    assert wire
    assert not [what for what in wire if "do this already" in what]

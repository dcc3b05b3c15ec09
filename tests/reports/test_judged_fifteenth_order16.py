"""What the fifteenth judge missed of the order and of waits (see `tests/reports/wishes.md`)."""

from __future__ import annotations

import pytest

from advisor.reports.first import first_screen
from advisor.reports.one_step import about_step
from reports.support import reviewed
from reports.test_judged_eleventh import _hours, planned
from reports.test_judged_thirteenth import minutes

ROOM = """
title: Walls and trim
house: {built: 1999, occupied: yes}
rooms:
  bed: {kind: bedroom, length: 12 ft, width: 11 ft, ventilation: cross ventilation, ignition_sources: [none]}
parts:
  walls: {kind: wall, room: bed, material: gypsum board, coating: paint, area: 340 sqft}
  trim: {kind: baseboard, room: bed, material: pine, coating: paint, coating_sheen: gloss, length: 44 ft}
products:
  mud: {kind: joint compound}
  paint: {kind: paint, binder: acrylic}
  gap: {kind: caulk}
crew: {people: 1}
steps:
%s"""
WASHED_FIRST = """
  - {id: wash, do: %s, to: [walls, trim], for: 2 h}
  - {id: patch, do: fill, to: walls, using: mud, for: 3 h}
  - {id: sand-walls, do: sand, to: walls, by: hand, for: 2 h}
  - {id: scuff-trim, do: scuff, to: trim, for: 1 h}
  - {id: caulk-trim, do: caulk, to: trim, using: gap, for: 1 h}
  - {id: paint-walls, do: paint, to: walls, using: paint, coats: 2, for: 5 h}
  - {id: paint-trim, do: paint, to: trim, using: paint, coats: 2, for: 4 h}
"""


def ordered(report) -> list[str]:
    return [place.step for place in report.order]


@pytest.mark.parametrize("do", ["wash", "degrease", "clean", "rinse"])
def test_a_wash_stays_before_patching_and_sanding(do):
    """A6. Dirt is sanded in, and water softens fresh compound (common practice): no dust moves a wash behind them."""
    report = planned(ROOM % WASHED_FIRST % do)
    first = ordered(report).index("wash")

    assert all(ordered(report).index(step) > first for step in ("patch", "sand-walls", "scuff-trim"))
    assert not any(place.moved for place in report.order)


@pytest.mark.parametrize("do", ["wash", "degrease", "clean"])
def test_dust_of_the_sanding_has_an_act_of_its_own(do):
    """What a wash took off before the sanding is no dust: it is asked for before each coat over what was sanded."""
    report = planned(ROOM % WASHED_FIRST % do)

    assert {f.step for f in report.findings if f.rule == "dust-off-before-coat"} == {"paint-walls", "paint-trim"}


def test_a_dusting_that_stands_too_early_moves_behind_the_sanding():
    """Near miss: to take dust off is no wash, so this one is moved and not asked for again."""
    report = planned(ROOM % WASHED_FIRST % "remove dust")

    assert ordered(report).index("wash") > ordered(report).index("scuff-trim")


def test_a_wash_behind_the_sanding_counts_as_dusting():
    """Near miss: the author wipes down after the sanding, well before the coat."""
    text = (
        ROOM
        % """
  - {id: sand-walls, do: sand, to: walls, by: hand, for: 2 h}
  - {id: wipe, do: clean, to: walls, with: [rags], for: 1 h}
  - {id: paint-walls, do: paint, to: walls, using: paint, coats: 2, for: 5 h}
"""
    )
    report = planned(text)

    assert ordered(report) == ["sand-walls", "wipe", "paint-walls"]
    assert not [f for f in report.findings if f.rule == "dust-off-before-coat"]


@pytest.mark.parametrize("do", ["wash", "degrease", "clean"])
@pytest.mark.parametrize("next_step", ["do: fill, to: walls, using: mud", "do: caulk, to: walls, using: gap"])
def test_what_was_washed_dries_before_it_is_filled_or_caulked(do, next_step):
    """A6. A washed painted face takes two hours, where little is known four (`coating_times`, common practice)."""
    report = planned(
        ROOM % f"  - {{id: wash, do: {do}, to: walls, for: 1 h}}\n  - {{id: then, {next_step}, for: 1 h}}\n"
    )

    assert _hours(report, "wash", "then") >= 4
    assert "4 h after wash" in str(about_step(report, "then"))


@pytest.mark.parametrize(
    "steps",
    [
        "  - {id: wash, do: clean, to: walls, with: [rags], for: 1 h}\n"
        "  - {id: then, do: caulk, to: walls, using: gap, for: 1 h}\n",
        "  - {id: first, do: sand, to: walls, by: hand, for: 1 h}\n  - {id: wash, do: clean, to: walls, for: 1 h}\n"
        "  - {id: then, do: paint, to: walls, using: paint, for: 1 h}\n",
        "  - {id: wash, do: clean, to: walls, for: 1 h}\n  - {id: then, do: inspect, to: walls, for: 1 h}\n",
    ],
    ids=["with a dry cloth", "after the sanding", "with no fresh work behind"],
)
def test_what_is_only_wiped_needs_no_drying(steps):
    assert _hours(planned(ROOM % steps), "wash", "then") < 1


FLOOR = """
title: A floor of planks
house: {built: 1999, occupied: yes}
rooms: {den: {kind: living room, length: 18 ft, width: 14 ft, height: 8 ft}}
parts:
  slab: {kind: slab, room: den, material: concrete, area: 252 sqft}
  planks: {kind: flooring, room: den, material: vinyl plank, area: 252 sqft, new: yes%s}
products: {mix: {kind: self-leveling compound%s}}
crew: {people: 1}
steps:
  - {id: pour, do: %s, to: slab, %sfor: 3 h}
  - {id: lay, do: lay floor, to: planks, for: 9 h}
"""


@pytest.mark.parametrize("do", ["level", "flatten"])
@pytest.mark.parametrize("on", ["", ", on: slab"])
def test_a_poured_floor_hardens_before_planks_are_laid_on_it(do, on):
    """A6. A day before thin flooring is what labels commonly ask (common practice), whether or not it says on what."""
    report = planned(FLOOR % (on, "", do, "using: mix, "))

    assert _hours(report, "pour", "lay") >= 24
    assert "24 h after pour" in str(about_step(report, "lay"))


def test_the_label_of_the_compound_counts():
    """Near miss: what sets within hours is covered the next morning."""
    assert _hours(planned(FLOOR % ("", ", recoat: 4 h", "flatten", "using: mix, ")), "pour", "lay") < 24


def test_what_is_shimmed_waits_for_nothing():
    """Near miss: nothing is poured. Levelled with no product named, the list buys compound and the calendar waits."""
    assert _hours(planned(FLOOR % ("", "", "shim", "")), "pour", "lay") <= 16


DECK = """
title: A deck
house: {built: 1999}
rooms: {deck: {kind: deck, length: 16 ft, width: 12 ft}}
parts: {boards: {kind: decking, room: deck, material: pine, area: 192 sqft, coating: stain}}
products: {oil: {kind: stain, binder: oil, carrier: mineral spirits}}
crew: {people: 1}
steps:
  - {id: jet, do: pressure wash, to: boards, for: 3 h}
  - {id: look, do: inspect, to: boards, for: 1 h}
  - {id: sand, do: sand, to: boards, with: [random-orbit sander], for: 5 h}
  - {id: coat, do: stain, to: boards, using: oil, coats: 1, for: 5 h}
"""


def test_two_dry_days_lie_between_the_jet_and_the_sanding():
    """A6. As before the coat: wet wood clogs the paper and tears (common practice)."""
    report = planned(DECK)

    assert _hours(report, "jet", "sand") >= 48
    assert "48 h after jet" in str(about_step(report, "sand"))
    assert _hours(report, "jet", "look") < 1  # what is no dry work on the wood goes on


SHOWER = """
title: Shower tile
house: {built: 1999, occupied: yes}
rooms: {bath: {kind: bathroom, length: 8 ft, width: 5 ft, height: 8 ft, windows: 1, ventilation: cross ventilation}}
parts:
  surround: {kind: shower surround, room: bath, material: porcelain, area: 60 sqft, backing: %s, tile_length: 6 in,
             tile_width: 6 in, joint_width: 1/8 in, new: yes}
products: {thinset: {kind: thin-set mortar}%s}
crew: {people: 1}
steps:
  - {id: cut-tile, do: cut, to: surround, with: [tile cutter], for: 2 h}
  - {id: set-tile, do: tile, to: surround, using: thinset, for: 6 h}
"""


def test_board_and_membrane_that_are_asked_for_have_their_line_and_wait():
    """A6. Board first, then the membrane, which dries before tile is set on it (common practice; the label rules)."""
    report = planned(SHOWER % ("gypsum board", ""))
    rows = sorted((r for r in report.schedule.rows if r.step == "set-tile"), key=lambda r: minutes(r.begins))

    assert [row.task for row in rows] == ["put up backer board", "put on the membrane", ""]
    assert minutes(rows[2].begins) - minutes(rows[1].ends) >= 12 * 60


def test_a_plan_that_has_board_and_membrane_gets_no_line_for_them():
    """Near miss: neither is asked for."""
    report = planned(SHOWER % ("cement board", ", skin: {kind: waterproofing membrane}"))

    assert [row.task for row in report.schedule.rows if row.task] == []


RINSED = """
  - {id: wash, do: %s, to: walls, for: 1 h}
  - {id: rinse, do: rinse, to: %s, for: 1 h}
  - {id: then, do: fill, to: walls, using: mud, for: 1 h}
"""


@pytest.mark.parametrize("do", ["wash", "degrease", "clean"])
def test_what_is_rinsed_at_once_dries_behind_the_rinse(do):
    """Fault 5. A row tells no wait that the next row does not keep."""
    report = planned(ROOM % RINSED % (do, "walls"))
    waits = {row.step: row.wait_hours for row in report.schedule.rows}

    assert waits["wash"] == 0
    assert waits["rinse"] >= 4
    assert _hours(report, "wash", "rinse") == 0
    assert not [p for p in report.schedule.presumed if p.startswith("wash ")]


def test_a_wash_of_which_only_a_part_is_rinsed_keeps_its_wait():
    report = planned(ROOM % RINSED % ("wash", "trim"))

    assert _hours(report, "wash", "then") >= 4


SASH = """
title: Runs
house: {built: 2005, occupied: yes}
rooms: {den: {kind: living room, ventilation: cross ventilation}}
parts: {thing: {kind: %s, room: den, material: pine, coating: %s}}
products: {candle: {kind: wax}}
crew: {people: 1}
steps:
  - {id: wax, do: wax, to: thing, using: candle, with: [rags], for: 1 h}
  - {id: then, do: %s, to: thing, for: 1 h}
"""


@pytest.mark.parametrize("kind", ["drawer", "window", "runner"])
def test_wax_that_lets_a_thing_slide_needs_no_drying(kind):
    """Fault 6. A candle rubbed on a run is ready at once (common practice)."""
    assert _hours(planned(SASH % (kind, "bare", "reinstall")), "wax", "then") < 1


def test_wax_on_a_table_dries():
    """Near miss: as a finish it is left to harden."""
    assert _hours(planned(SASH % ("furniture", "bare", "carry")), "wax", "then") >= 12


def test_the_first_screen_of_dangers_alone_names_the_samples_and_what_waits_for_them():
    """Fault 8. Read alone it must not tell somebody to begin with the power (samples take days and come first)."""
    first = first_screen(reviewed("bathroom-faulty"), only="danger")
    waits = [one for one in first.waits if "result" in one.text]

    assert first.today == first_screen(reviewed("bathroom-faulty")).today
    assert "sample" in first.today
    assert {step for one in waits for step in one.steps} == {"lift-floor", "strip-vanity"}
    assert [one.signal for one in first.dangers if one.signal != "danger"] == []


def test_without_samples_today_is_as_grave_as_asked():
    """Near miss: where no laboratory is asked, nothing milder is told."""
    first = first_screen(reviewed("galley-kitchen-careful"), only="danger")

    assert (first.today, first.waits) == ("", ())


def test_results_that_are_due_together_are_named_together():
    """Fault 10. Chips of old paint on plaster go to two laboratories, and the first screen and the order name both."""
    old = ROOM.replace("built: 1999", "built: 1952").replace("gypsum board", "plaster")
    report = planned(old % "  - {id: smooth, do: sand, to: walls, by: hand, for: 2 h}\n")
    both = "the lead result and the asbestos result are in"
    place = next(place for place in report.order if place.step == "smooth")

    assert first_screen(report).waits[0].text == f"Do not start smooth until {both} (about 5 days)."
    assert place.waiting == f"Waits until {both}: 5 days, presumed."
    assert [one.told() for one in report.schedule.results] == [
        f"Presumed: 5 days until {both}; smooth can start no sooner."
    ]

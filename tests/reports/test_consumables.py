"""What work uses up, in whole packs: against a shopper's arithmetic, and against a list by hand of what jobs take."""

from math import ceil

import pytest
import yaml

from advisor.jobs import find_jobs, join, read_jobs, write_start
from advisor.plan.reading import read_plan
from advisor.review.reviewing import review, review_plan
from advisor.rulebase.base import load_rulebase
from advisor.tables import table
from advisor.units import from_base

PLAN = """
rooms: {{kitchen: {{kind: kitchen}}, bath: {{kind: bathroom}}}}
parts:
  doors: {{kind: cabinet doors, room: kitchen, area: 70 sqft}}
  wall: {{kind: wall, room: bath, area: {wall}}}
  gap: {{kind: countertop, room: kitchen, length: {gap}}}
products:
  mortar: {{kind: thin-set mortar{mortar}}}
  bead: {{kind: sealant, binder: silicone}}
  soap: {{kind: cleaner}}
crew: {{people: 1, owns: [{owns}]}}
steps:
  - {{id: smooth, do: sand, to: doors}}
  - {{id: coat, do: paint, to: doors, by: {by}{who}}}
  - {{id: tiling, do: tile, to: wall, using: mortar}}
  - {{id: joint, do: caulk, to: gap, using: bead}}
"""
USUAL = {"wall": "120 sqft", "gap": "30 ft", "mortar": "", "owns": "safety glasses", "by": "roller", "who": ""}


def listed(**said):
    report = review(yaml.safe_load(PLAN.format(**USUAL | said)))
    return {one.what: one for one in report.supplies}


def starts(found, what):
    return [one for name, one in found.items() if name.startswith(what)]


def cell(row, column, unit, dimension):
    return from_base(float(table("consumables").rows[row].cells[column]), unit, dimension)


def test_a_cartridge_runs_as_far_as_its_volume():
    """10 US fluid ounces are 10 x 231/128 = 18.05 cu in; a joint 1/4 x 1/4 in takes 1/16 sq in: 288 in or 24 ft."""
    feet = 10 * 231 / 128 / (0.25 * 0.25) / 12

    assert cell("sealant for joints", "runs", "ft", "length") == pytest.approx(feet, rel=0.01)


def test_a_bag_of_grout_fills_the_joints_of_small_tile():
    """Of a square foot of 2 x 2 in tile: joints 144 x (2 + 2) / (2 x 2) = 144 in, 1/8 wide and 1/4 deep: 4.5 cu in,
    0.0737 l; at 1.6 kg a litre 0.118 kg = 0.26 lb. Ten pounds fill 38 sqft; the table is no further than that."""
    pounds = 144 * (2 + 2) / (2 * 2) / 8 / 4 * 0.016387 * 1.6 / 0.45359237
    covers = cell("grout for joints", "covers", "sqft", "area")

    assert 0.9 * 10 / pounds <= covers <= 10 / pounds


def test_a_box_of_deck_screws_is_enough():
    """100 sqft: boards 5-1/2 in wide with gaps of 1/8 in are 213 ft of board; at joists 16 in apart, two each: 320."""
    screws = 100 / (5.625 / 12) / (16 / 12) * 2

    assert screws <= 350 * 100 / cell("screws for deck", "covers", "sqft", "area") <= 1.15 * screws


@pytest.mark.parametrize(("wall", "bags"), [("30 sqft", 1), ("50 sqft", 1), ("51 sqft", 2), ("120 sqft", 3)])
def test_bags_are_rounded_up(wall, bags):
    """50 sqft a bag, the middle of what labels name (common practice)."""
    assert [one.need for one in starts(listed(wall=wall), "thin-set mortar")] == [bags]


@pytest.mark.parametrize(
    ("mortar", "have", "short"),
    [("", None, 3), (", count: 1", 1, 2), (", weight: 100 lb", 2, 1), (", weight: 150 lb", 3, 0)],
)
def test_what_the_plan_has_of_it_counts(mortar, have, short):
    found = starts(listed(mortar=mortar), "thin-set mortar")

    assert [(one.have, one.short) for one in found] == [(pytest.approx(have) if have else None, short)]


@pytest.mark.parametrize(("gap", "need"), [("24 ft", 1), ("25 ft", 2), ("30 ft", 2)])
def test_sealant_goes_by_the_length(gap, need):
    assert [one.need for one in starts(listed(gap=gap), "sealant")] == [need]


def test_steps_share_packs_before_they_are_rounded():
    """Two walls of 20 sqft take 40 sqft of mortar: one bag and not one each."""
    plan = {
        "rooms": {"b": {"kind": "bathroom"}},
        "parts": {n: {"kind": "wall", "room": "b", "area": "20 sqft"} for n in ("left", "right")},
        "steps": [{"id": f"tile-{n}", "do": "tile", "to": n} for n in ("left", "right")],
    }
    found = {one.what: one for one in review(plan).supplies}

    assert [(one.need, one.steps) for one in starts(found, "thin-set mortar")] == [(1, ("tile-left", "tile-right"))]


def test_sandpaper_by_area():
    """A sheet or disc lasts about 10 sqft (common practice), packs hold five: 70 sqft of doors take 2."""
    assert [one.need for one in starts(listed(), "sandpaper, a pack of 5")] == [ceil(70 / (5 * 10))]


@pytest.mark.parametrize(
    ("said", "brush", "roller"),
    [({}, 1, 1), ({"by": "brush"}, 1, 0), ({"by": "airless spray"}, 0, 0), ({"owns": "brush, roller"}, 0, 0)],
    ids=["roller", "brush", "spray", "there already"],
)
def test_brushes_and_rollers_by_the_way_of_working(said, brush, roller):
    found = listed(**said)

    to_get = [len([one for one in starts(found, what) if one.lacking]) for what in ("brush", "roller")]
    assert to_get == [brush, roller]


def test_whoever_is_hired_brings_their_own():
    assert starts(listed(who=", who: licensed contractor"), "roller") == []


def test_a_size_left_out_is_said_and_one_is_listed():
    plan = {"parts": {"w": {"kind": "wall"}}, "steps": [{"id": "t", "do": "tile", "to": "w"}]}
    listed_all = {one.what: one for one in review(plan).supplies}
    found = starts(listed_all, "thin-set mortar")

    assert starts(listed_all, "tile mastic") == []
    assert [(one.need, "leaves out the area" in one.why) for one in found] == [(1, True)]


def test_another_product_in_its_place_is_not_bought_twice():
    """Mastic sets the tile: no mortar beside it."""
    plan = {
        "parts": {"w": {"kind": "wall", "area": "30 sqft"}},
        "products": {"glue": {"kind": "mastic"}},
        "steps": [{"id": "t", "do": "tile", "to": "w", "using": "glue"}],
    }
    found = {one.what: one for one in review(plan).supplies}

    assert (len(starts(found, "tile mastic")), len(starts(found, "thin-set mortar"))) == (1, 0)


# What a person who has done the job would bring from the shop, written before the table's rows were tried on them.
BY_HAND = {
    "tile a backsplash": ("thin-set mortar", "grout", "sponges for grout", "sealant", "tile spacers"),
    "paint a room": ("brush", "painter's tape", "drop cloth", "filler"),
    "shelf": ("screws",),
    "faucet": ("thread seal tape", "flexible supply lines"),
    "toilet": ("toilet seal", "flexible supply line"),
    "outlet": ("wire connectors", "electrical tape"),
    "light": ("wire connectors",),
    "paint cabinet doors": ("sandpaper", "brush", "roller", "drop cloth"),
    "deck": ("brush", "cotton rags", "sandpaper"),
    "tile floor": ("thin-set mortar", "grout", "tile spacers"),
}


@pytest.mark.parametrize("job", BY_HAND)
def test_the_usual_jobs_have_what_they_take(job):
    rulebase = load_rulebase()
    start = join(find_jobs([job], read_jobs()))
    report = review_plan(
        read_plan(write_start(start, rulebase.vocabulary), rulebase.vocabulary, "start.yaml"), rulebase
    )
    names = [one.what for one in report.supplies]

    assert [what for what in BY_HAND[job] if not any(name.startswith(what) for name in names)] == []


@pytest.mark.parametrize("name", ["consumables", "hand_tools"])
def test_every_word_of_the_table_is_a_word_of_the_vocabulary(name):
    """A row that names no known action, part, product or tool would never be listed."""
    rulebase = load_rulebase()
    sorts = {"for": "action", "but": "action", "parts": "part_kind", "by": "method", "not_by": "method",
             "product": "product_kind", "tool": "tool"}  # fmt: skip
    unknown = [
        (row.key, column, word.strip())
        for row in table(name).rows.values()
        for column, sort in sorts.items()
        for word in str(row.cells.get(column, "")).split(";")
        if word.strip() and word.strip() not in rulebase.vocabulary.taxonomies[sort].terms
    ]

    assert unknown == []

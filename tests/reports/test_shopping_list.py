"""The list for the shop against what the report says: nothing that it forbids, all that the plan names, whole packs."""

import json

import pytest

from advisor.reports.supplies import as_supplies_csv, as_supplies_json, as_supplies_text
from advisor.reports.supply_data import ask_for
from advisor.review.reviewing import review
from reports.support import SCENARIOS, TOP

_KEPT = {}


def scenario(name):
    if name not in _KEPT:
        _KEPT[name] = review(TOP / "scenarios" / f"{name}.yaml")
    return _KEPT[name]


def section(report, begins):
    """One section of the text, on one line; empty where it is not there."""
    text = as_supplies_text(report)
    return " ".join(text.partition(f"\n{begins}")[2].partition("\n\n")[0].split())


# Read off the sentences of the review by a person: "Do not scrape lino", "not dry with the angle grinder", "outdoors,
# or use a brush", "not stick", "use unsanded grout", "do not use stripper", "do not sweep".
FORBIDDEN = {
    "bathroom-faulty": ["scraper", "angle grinder", "spray gun", "mastic (stick)", "sanded grout (gritty)", "stripper",
                        "bleach", "ammonia cleaner (ammonia)"],
    "floor-faulty": ["broom"],
    "windows-faulty": ["broom"],
    "galley-kitchen-faulty": [],
}  # fmt: skip


@pytest.mark.parametrize("name", FORBIDDEN)
def test_what_the_report_forbids_is_not_to_get(name):
    report = scenario(name)
    against = {one.what for one in report.supplies if one.against}
    told = section(report, "DO NOT GET")

    assert against == set(FORBIDDEN[name])
    assert [one.what for one in report.supplies if one.against and (one.lacking or one.short)] == []
    assert [what for what in against if f"{what} (" not in told] == []
    data = json.loads(as_supplies_json(report))["supplies"]
    assert {one["what"] for one in data if one["against"]} == against
    assert all(one["ask_for"] == "" for one in data if one["against"])


def test_what_takes_its_place_is_counted_in_packs():
    """60 sqft: two bags of mortar at 50 sqft a bag and two of grout at 37 sqft (rows of `consumables`); no mastic."""
    bought = {one.what: one.short for one in scenario("bathroom-faulty").supplies if one.lacking}
    tiling = {
        what: n for what, n in bought.items() if "mortar" in what or what.startswith("grout, a") or "mastic" in what
    }

    assert tiling == {"thin-set mortar, a 50 lb bag (thin-set mortar)": 2, "grout, a 10 lb bag (unsanded grout)": 2}
    assert not {"unsanded grout", "thin-set mortar"} & set(bought)


GRINDER = """
parts: {{wall: {{kind: wall tile, room: bath, material: porcelain, area: 20 sqft}}}}
rooms: {{bath: {{kind: bathroom}}}}
crew: {{owns: [safety glasses]}}
steps:
  - {{id: cut, do: cut, to: wall, with: [angle grinder], by: dry, in: bath}}
{more}
"""


def test_a_tool_that_another_step_may_use_stays_on_the_list():
    """Only the dry cut is forbidden: the same machine on a steel bracket outdoors is not."""
    import yaml

    alone = review(yaml.safe_load(GRINDER.format(more="")))
    more = "  - {id: trim, do: cut, to: bar, with: [angle grinder]}"
    plan = yaml.safe_load(GRINDER.format(more=more))
    plan["parts"]["bar"] = {"kind": "shelf", "material": "steel"}
    both = review(plan)

    assert [(one.lacking, one.steps) for one in alone.supplies if one.what == "angle grinder"] == [(False, ("cut",))]
    assert [(one.lacking, one.steps) for one in both.supplies if one.what == "angle grinder"] == [(True, ("trim",))]


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_a_step_that_needs_the_better_mask_is_not_offered_the_lesser(path):
    """N95 is no mask for lead dust where the report asks for P100 (29 CFR 1926.62: half mask with P100 filters)."""
    report = review(path)
    better = {s for one in report.supplies if one.what.startswith("half mask with") for s in one.steps}
    lesser = {s for one in report.supplies if "N95" in one.what for s in one.steps}

    assert better & lesser == set()


def test_fine_dust_without_lead_still_takes_the_plain_mask():
    report = review(
        {
            "house": {"built": 2015},
            "rooms": {"den": {"kind": "living room"}},
            "parts": {"top": {"kind": "worktop", "room": "den", "material": "maple", "area": "10 sqft"}},
            "crew": {"owns": ["safety glasses"]},
            "steps": [{"id": "sand", "do": "sand", "to": "top", "with": ["random-orbit sander"], "for": "2 h"}],
        }
    )

    assert [one.steps for one in report.supplies if "N95" in one.what] == [("sand",)]


def test_paint_says_what_it_leaves_out():
    """40 sqft at 350 sqft a gallon is 0.457 qt, a tenth to spare 0.503: one quart, and more for the doors."""
    report = scenario("thin-first-draft")
    primer = next(one for one in report.supplies if one.what == "primer")
    text = " ".join(as_supplies_text(report).split())

    assert (primer.need, primer.at_least) == (pytest.approx(40 / 350 * 4 * 1.1, abs=0.001), True)
    assert "primer: get at least 1 qt (0.503 qt by the sum), less what you have" in text
    assert "leaves out the size of doors" in text


def test_a_can_of_which_no_need_is_known_is_named_all_the_same():
    there = section(scenario("thin-first-draft"), "ALREADY THERE")

    assert "varnish: have 1 qt; whether that is enough cannot be told." in there
    assert "leaves out the size of top" in there


def test_a_top_has_the_area_of_its_measures():
    """8 ft x 25 in, both faces: 33.3 sqft, three coats at 350 sqft a gallon: 1.143 qt, a tenth to spare 1.257."""
    varnish = next(one for one in scenario("galley-kitchen-faulty").supplies if one.what == "varnish")

    assert (varnish.have, varnish.need) == (1, pytest.approx(2 * 8 * 25 / 12 * 3 / 350 * 4 * 1.1, abs=0.005))


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_every_product_of_the_plan_is_somewhere_in_the_list(path):
    """To get, there, or spoken against; tile is counted with its part, a firm brings its own."""
    report = review(path)
    names = " ".join(one.what for one in report.supplies)
    tile = {"tile"}
    used = {
        product: step.id
        for step in report.plan.steps
        if "done" not in step.values and "who" not in step.values
        for product in _words(step, "using")
        if product in report.plan.entities.get("product", {})
    }
    kinds = {p: _words(report.plan.entities["product"][p], "kind") for p in used}

    assert [p for p in used if p not in names and not tile & set(kinds[p])] == []


def _words(entity, attribute):
    value = entity.values.get(attribute)
    plain = value.plain if value else ()
    return tuple(map(str, plain)) if isinstance(plain, tuple) else (str(plain),)


def test_tile_is_asked_for_by_the_box_of_the_plan():
    """60 sqft and a tenth for cuts are 66; five boxes of 12 are there, so one more."""
    text = " ".join(as_supplies_text(scenario("bathroom-faulty")).split())

    assert "tile for surround: have 60 sqft, need 66 sqft: get 1 box of 12 sqft" in text
    assert "60 sqft and 10% for cuts and broken pieces" in text


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_what_to_ask_for_is_in_whole_packs(path):
    """No shop sells 0.503 qt: what is to get is a whole number, of metric paint and tile a half."""
    told = [one["ask_for"] for one in json.loads(as_supplies_json(review(path)))["supplies"] if one["ask_for"]]

    assert told
    assert [said for said in told if not (float(said.split()[0]) * 2).is_integer()] == []
    assert as_supplies_csv(review(path)).splitlines()[0].endswith(",ask for,at least,against")


def test_a_floor_machine_takes_sheets_of_its_own():
    """234 sqft at 100 sqft a sheet (common practice): three of each grit; a pack of discs for the edges."""
    report = scenario("floor-faulty")
    sheets = {one.what: one.need for one in report.supplies if "grit" in one.what}

    assert sheets == {
        "sanding sheets or belts for the rented drum sander, so many of each grit": 3,
        "discs of sandpaper for the rented floor edger, a pack of 10, so many of each grit": 1,
    }


def test_what_the_report_asks_for_by_area_has_its_size():
    """A7. Stain-blocking primer on 70 sqft at 350 sqft a gallon: 0.8 qt, a tenth to spare 0.88; stripper on 25 sqft at
    50 sqft a gallon (common practice): 2 qt and a tenth, three cans. What it is used in the place of says so."""
    kitchen = {one.what.partition(",")[0]: one for one in scenario("galley-kitchen-faulty").supplies}
    bath = {one.what.partition(",")[0]: one for one in scenario("bathroom-faulty").supplies}
    primer, stripper = kitchen["stain-blocking primer on water"], bath["stripper on benzyl alcohol"]

    assert (primer.need, primer.unit, ask_for(primer)) == (pytest.approx(0.88, abs=0.01), "qt", "1 qt")
    assert (stripper.need, ask_for(stripper)) == (pytest.approx(25 / 50 * 4 * 1.1, abs=0.01), "3 qt")
    assert primer.instead == ("undercoat",)
    assert "takes the place of undercoat there" in primer.why
    assert kitchen["undercoat"].why.endswith("Not needed where stain-blocking primer on water takes its place")


def test_tile_without_a_box_size_says_so():
    """33 sqft of the kitchen cannot be put into boxes: the plan gives no `area_per_box`; the bath has 12 sqft."""
    kitchen = next(one for one in scenario("galley-kitchen-faulty").supplies if one.what == "tile for splash")
    bath = next(one for one in scenario("bathroom-faulty").supplies if one.what == "tile for surround")

    assert "the plan gives no area for a box" in kitchen.why
    assert (ask_for(bath), "for a box" in bath.why) == ("1 box of 12 sqft", False)


def test_a_size_known_by_length_and_width_is_not_called_left_out():
    """By hand: round the worktop of 8 ft by 25 in are 20.2 ft, round a square of the doors' 70 sqft 33.5 ft; another
    coat takes no more tape."""
    tape = next(one for one in scenario("galley-kitchen-faulty").supplies if one.what.startswith("painter's tape"))

    assert ("53.6 ft" in tape.why, tape.at_least) == (True, False)

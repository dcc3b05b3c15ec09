"""What to buy, rent or borrow: amounts against a shopper's arithmetic, by shelves, and the same in every form."""

import csv
import io
import json

import pytest

from advisor.plan import read_plan
from advisor.reports.data import as_data
from advisor.reports.supplies import amounts, as_supplies_csv, as_supplies_json, as_supplies_text, to_get
from advisor.review.reviewing import review, review_plan
from advisor.rulebase.base import load_rulebase
from reports.support import SCENARIOS, TOP

PLAN = """
house: {{built: 1999}}
rooms: {{kitchen: {{kind: kitchen, length: 13 ft, width: 9 ft, height: 8 ft}}}}
parts:
  doors: {{kind: cabinet doors, room: kitchen, material: pine, area: 70 sqft}}
  splash: {{kind: backsplash, room: kitchen, area: 30 sqft}}
products:
  topcoat: {{kind: paint, binder: acrylic, amount: {amount}{cost}}}
  mortar: {{kind: thin-set mortar}}
  field: {{kind: tile, area: {tile}}}
crew: {{people: {people}, owns: [safety glasses]}}
steps:
  - {{id: smooth, do: sand, to: doors, with: [random-orbit sander], for: 2 h}}
  - {{id: coat, do: paint, to: doors, using: topcoat, by: roller, coats: 2}}
  - {{id: tiling, do: tile, to: splash, using: [mortar, field], with: [wet tile saw]}}
"""


def supplies(amount="1 qt", tile="30 sqft", people=1, cost=""):
    rulebase = load_rulebase()
    text = PLAN.format(amount=amount, tile=tile, people=people, cost=cost)
    return review_plan(read_plan(text, rulebase.vocabulary, "plan.yaml"), rulebase)


def one(report, what):
    return next(s for s in report.supplies if s.what.startswith(what))


def test_paint_short_is_told_in_the_unit_of_the_can():
    """70 sqft x 2 coats / 350 sqft a gallon (the least that labels of wall paint commonly say, common practice)
    = 0.4 gal; with a tenth to spare 0.44 gal = 1.76 qt. One quart is 0.76 qt short."""
    topcoat = one(supplies(), "topcoat")

    assert (topcoat.have, topcoat.need, topcoat.unit) == (1, 1.76, "qt")
    assert topcoat.short == pytest.approx(0.76)
    assert topcoat.steps == ("coat",)


def test_paint_that_reaches_is_not_to_get():
    report = supplies(amount="2 qt")

    assert not one(report, "topcoat").lacking
    assert "topcoat" not in to_get(report)


@pytest.mark.parametrize(("tile", "short"), [("30 sqft", 3), ("33 sqft", 0), ("40 sqft", 0)])
def test_tile_counts_its_waste(tile, short):
    """10 % on straight courses (common practice): 30 sqft take 33."""
    field = one(supplies(tile=tile), "tile for splash")

    assert (field.need, field.short) == (pytest.approx(33), pytest.approx(short))


@pytest.mark.parametrize("people", [1, 3])
def test_gear_is_counted_by_the_person(people):
    ears = one(supplies(people=people), "ear muffs")

    assert (ears.have, ears.need) == (0, people)


def test_what_the_crew_has_is_not_bought_again():
    assert one(supplies(), "safety glasses").short == 0


def test_machines_that_few_people_own_are_rented():
    assert [one(supplies(), "wet tile saw").how, one(supplies(), "random-orbit sander").how] == [
        "rent",
        "rent or borrow",
    ]


@pytest.mark.parametrize(("cost", "price"), [("", None), (", cost: 38 USD", 38)])
def test_money_stands_only_where_the_plan_names_it(cost, price):
    report = supplies(cost=cost)

    assert one(report, "topcoat").price == price
    assert ("USD" in as_supplies_text(report).partition("Amounts are")[0]) == bool(cost)


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_each_form_lists_the_same(path):
    report = review(path)
    names = [one.what for one in report.supplies]
    rows = list(csv.DictReader(io.StringIO(as_supplies_csv(report), newline="")))
    text = " ".join(as_supplies_text(report).split())

    assert [row["what"] for row in rows] == names
    assert [s["what"] for s in json.loads(as_supplies_json(report))["supplies"]] == names
    assert [s["what"] for s in as_data(report)["supplies"]] == names
    assert [name for name in names if name not in text] == []


def test_json_has_the_fields_of_the_contract():
    found = as_data(supplies())["supplies"]

    assert all({"what", "for", "have", "need", "unit", "why"} <= set(one) for one in found)
    assert {one["what"]: one["for"] for one in found}["topcoat"] == ["coat"]


def test_nothing_is_listed_twice():
    names = [one.what for one in review(SCENARIOS[0].parent / "galley-kitchen-faulty.yaml").supplies]

    assert len(names) == len(set(names))


def test_the_list_knows_every_rule_and_word_that_it_names():
    """`rules/report/supplies.yaml` speaks of rules and tools that there are."""
    from advisor.review.buying.on_site import shop_words as _known

    rulebase = load_rulebase()
    rules = {rule.id for rule in rulebase.rules}
    tools = set(rulebase.vocabulary.taxonomies["tool"].terms)

    assert sorted(set(_known()["by_rule"]) - rules) == []
    assert sorted(set(_known()["rent"]) - tools) == []
    assert sorted(set(_known()["off"]) - rules) == []
    named = [word for entry in _known()["off"].values() if entry != "all" for word in entry.get("tools", ())]
    assert sorted({word for word in named if len(word) > 1} - tools) == []
    assert sorted({*_known()["covered_by"], *(w for ws in _known()["covered_by"].values() for w in ws)} - tools) == []
    kinds = set(rulebase.vocabulary.taxonomies["product_kind"].terms)
    assert sorted({kind for ws in _known()["shelf_of"].values() for kind in ws} - kinds) == []
    assert sorted(set(_known()["shelf_of"]) - set(_known()["shelves"])) == []


def test_what_the_plan_lists_to_get_is_marked_and_not_listed_twice():
    rulebase = load_rulebase()
    text = (
        PLAN.format(amount="1 qt", tile="30 sqft", people=1, cost="") + "to_get: [{what: ear muffs, for: [smooth]}]\n"
    )
    report = review_plan(read_plan(text, rulebase.vocabulary, "plan.yaml"), rulebase)

    assert [s.planned for s in report.supplies if s.what.startswith("ear muffs")] == [True]
    assert not one(report, "wet tile saw").planned


def test_the_list_has_what_the_report_demands_and_one_device_a_box():
    """A judge's fault 2: backer board, membrane, silicone, a lead-free tap and a duct were left out, and one box had
    two outlets on the list, the plain one of which the report forbids."""
    report = review(TOP / "scenarios/bathroom-faulty.yaml")
    names = [s.what for s in report.supplies if s.lacking]
    wanted = (
        "cement board",
        "waterproofing membrane",
        "silicone sealant",
        "faucet or fitting marked lead-free",
        "duct",
    )

    assert [word for word in wanted if not any(name.startswith(word) for name in names)] == []
    assert [name for name in names if "outlet" in name] == [
        "GFCI outlet marked TR with the label No Equipment Ground; no plain three-slot one (for socket)"
    ]
    # 60 sqft and a tenth are 66 sqft: 66 / 15 = 4.4 sheets, 66 / 50 = 1.32 gallons
    needs = {name: s.need for s in report.supplies for name in wanted if s.what.startswith(name)}
    assert (needs["cement board"], needs["waterproofing membrane"]) == (5, 2)


def test_several_boxes_have_as_many_devices_as_the_plan_counts():
    report = review(TOP / "scenarios/galley-kitchen-faulty.yaml")

    assert [(s.what, s.need) for s in report.supplies if "outlet" in s.what] == [
        ("outlets marked TR, the first of the run with GFCI and AFCI protection in one, or the breaker with it "
         "(for sockets)", 3)
    ]  # fmt: skip


def new_things(**steps):
    parts = {
        "fan": {"kind": "bath fan", "new": "yes"},
        "lamps": {"kind": "light", "count": 2},
        "old-sink": {"kind": "sink"},
        "skirting": {"kind": "baseboard", "new": "yes", "length": "40 ft"},
    }
    plan = {"parts": parts, "steps": [{"id": name, **step} for name, step in steps.items()]}
    return {one.what: one for one in review(plan).supplies}


def test_what_a_plan_puts_in_new_is_bought():
    """A fan said to be new, two lights in the place of the old ones, and 40 ft of baseboard."""
    found = new_things(
        fan={"do": "install", "to": "fan"},
        light={"do": "replace", "to": "lamps"},
        trim={"do": "install", "to": "skirting"},
    )

    assert [(found[n].need, found[n].unit, found[n].shelf) for n in ("bath fan (fan)", "light (lamps)")] == [
        (1, "each", "electrical"), (2, "each", "electrical")
    ]  # fmt: skip
    assert (found["baseboard (skirting)"].need, found["baseboard (skirting)"].unit) == (44, "ft")  # a tenth is cut off
    assert "less what you have" in amounts(found["bath fan (fan)"])


def test_what_was_there_or_somebody_else_brings_is_not_bought():
    """A sink that goes back in, and a fan that an electrician puts in."""
    found = new_things(
        out={"do": "remove", "to": "old-sink"}, back={"do": "install", "to": "old-sink"},
        fan={"do": "install", "to": "fan", "who": "licensed electrician"},
    )  # fmt: skip

    assert [name for name in found if "sink" in name or "bath fan" in name] == []


def test_a_new_outlet_has_one_line():
    """The bath: what goes into the box is told with all that is asked of it; the tap is bought free of lead."""
    found = [one.what for one in review(next(p for p in SCENARIOS if p.stem == "bathroom-faulty")).supplies]

    assert [what for what in found if "(socket)" in what or "(tap)" in what] == []
    assert "bath fan (fan)" in found

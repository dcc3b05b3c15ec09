"""The needs of the trade, one small plan each: in the right order nothing moves; a step too late is moved by its rule.

Which mechanism says it (a `need:`, a rule that looks for an earlier step, `order.yaml`, a wait) is no matter here:
DEVELOPERS.md has the table. The orders are those of the trade, not of the program.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import pytest

from advisor.plan import read_plan
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase


@dataclass(frozen=True)
class Family:
    """Things of a kitchen, the steps in the order of the trade, and for each late step the rule that moves it."""

    name: str
    parts: dict[str, Any]
    steps: list[dict[str, Any]]
    late: dict[str, tuple[str, str]]  # step: the step that it must come before, and the rule
    house: dict[str, Any] = field(default_factory=dict)
    products: dict[str, Any] = field(default_factory=dict)


def step(own: str, do: str, to: str = "", **more: Any) -> dict[str, Any]:
    """A step of a plan."""
    return {"id": own, "do": do, **({"to": to} if to else {}), **more}


OLD_DOORS = {"doors": {"kind": "cabinet doors", "coating": "varnish", "installed": 1995}}
LEAD = {"trim": {"kind": "trim", "coating": "oil paint", "installed": 1950, "lead_test": "positive"}}
CHILD = {"built": 1950, "children_under_6": 1, "occupied": "yes"}

FAMILIES = [
    Family(
        "prove dead before",
        {"socket": {"kind": "outlet"}},
        [
            step("off", "shut off power", "socket"),
            step("dead", "prove dead", "socket", **{"with": "voltage tester"}),
            step("swap", "replace", "socket"),
        ],
        {"dead": ("swap", "isolate-power"), "off": ("dead", "proved-dead-when-off")},
    ),
    Family(
        "degrease before sanding",
        OLD_DOORS,
        [
            step("wash", "degrease", "doors"),
            step("rinse", "rinse", "doors", wait="24 h"),
            step("sand", "sand", "doors", grit=150),
            step("dust", "remove dust", "doors", **{"with": "tack cloth"}),
            step("prime", "prime", "doors", using="p"),
        ],
        {"wash": ("sand", "degrease-before-sanding"), "dust": ("prime", "dust-off-before-coat")},
        products={"p": {"kind": "primer"}},
    ),
    Family(
        "support before clips",
        {"top": {"kind": "worktop", "material": "stone"}, "sink": {"kind": "sink", "mount": "undermount", "in": "top"}},
        [step("prop", "support", "sink"), step("clip", "clip", "sink")],
        {"prop": ("clip", "support-sink-before-clips")},
    ),
    Family(
        "top before tile",
        {"top": {"kind": "worktop", "new": "yes"}, "splash": {"kind": "backsplash"}},
        [step("top-on", "set", "top"), step("tile", "tile", "splash")],
        {"top-on": ("tile", "top-before-tile")},
    ),
    Family(
        "primer before paint",
        {"board": {"kind": "drywall", "new": "yes"}},
        [step("prime", "prime", "board", using="p"), step("paint", "paint", "board", using="c")],
        {"prime": ("paint", "primed-then-painted")},
        products={"p": {"kind": "primer"}, "c": {"kind": "paint"}},
    ),
    Family(
        "water off, lines drained",
        {"tap": {"kind": "faucet"}},
        [
            step("off", "shut off water", "tap"),
            step("drain", "drain", "tap"),
            step("undo", "disconnect", "tap"),
        ],
        {"off": ("undo", "water-off-before-opening"), "drain": ("undo", "lines-drained-before-opening")},
    ),
    Family(
        "gas capped before it moves",
        {"range": {"kind": "gas range"}},
        [step("off", "shut off gas", "range"), step("roll", "move appliance", "range", who="owner")],
        {"off": ("roll", "gas-range-pulled-out")},
    ),
    Family(
        "contained, people out while it lasts",
        LEAD,
        [step("away", "evacuate"), step("shut", "contain", "trim"), step("scrape", "scrape", "trim")],
        {"away": ("scrape", "children-away-from-lead"), "shut": ("scrape", "contain-lead-dust")},
        house=CHILD,
    ),
    Family(
        "air moving",
        {"floor": {"kind": "wood floor"}},
        [step("air", "ventilate", **{"in": "kitchen"}), step("coat", "varnish", "floor", using="p")],
        {"air": ("coat", "aired-then-fumes")},
        products={"p": {"kind": "varnish", "solvent": "mineral spirits"}},
    ),
    Family(
        "cured before loaded",
        {"shelf": {"kind": "shelf"}},
        [
            step("paint", "paint", "shelf", using="p"),
            step("cure", "cure", "shelf", wait="7 day"),
            step("load", "use", "shelf"),
        ],
        {"cure": ("load", "wait")},
        products={"p": {"kind": "paint", "cure": "7 day"}},
    ),
    Family(
        "wall looked into before it is closed",
        {"wall": {"kind": "wall"}, "box": {"kind": "outlet", "in": "wall"}},
        [
            step("cable", "rough in", "box"),
            step("seen", "get inspected", "wall"),
            step("close", "hang drywall", "wall"),
        ],
        {"seen": ("close", "inspection-before-closing"), "cable": ("close", "inspection-before-closing")},
    ),
    Family(
        "found out before disturbed",
        {"trim": {"kind": "trim", "coating": "oil paint", "installed": 1950}, "wall": {"kind": "wall"}},
        [
            step("test", "test for lead", "trim"),
            step("look", "locate services", "wall"),
            step("sand", "sand", "trim"),
            step("open", "open wall", "wall"),
        ],
        {"test": ("sand", "test-for-lead"), "look": ("open", "find-hidden-services")},
        house={"built": 1950},
    ),
]


def report_of(family: Family, steps: list[dict[str, Any]]) -> Report:
    """The review of the family's things with these steps."""
    plan = {
        "house": {"built": 2003, **family.house},
        "rooms": {"kitchen": {"kind": "kitchen"}},
        "parts": {own: {"room": "kitchen", **part} for own, part in family.parts.items()},
        "products": family.products,
        "steps": steps,
    }
    rulebase = load_rulebase()
    return review_plan(read_plan(plan, rulebase.vocabulary), rulebase)


@pytest.mark.parametrize("family", FAMILIES, ids=lambda f: f.name)
def test_in_the_order_of_the_trade_nothing_moves(family: Family) -> None:
    report = report_of(family, family.steps)

    assert report.moves == []
    assert report.given_up == []
    assert [f.id for f in report.findings if f.answer] == []


@pytest.mark.parametrize(
    ("family", "late"), [(f, late) for f in FAMILIES for late in f.late], ids=lambda v: getattr(v, "name", v)
)
def test_a_step_that_comes_last_is_moved_by_its_rule(family: Family, late: str) -> None:
    then, rule = family.late[late]
    steps = [one for one in family.steps if one["id"] != late] + [one for one in family.steps if one["id"] == late]
    report = report_of(family, steps)
    order = [row.step for row in report.order]
    named = {need for move in report.moves for need in move.needs}
    named |= {f.rule for f in report.findings if f.answer[:1] == ("move",) and late in f.answer}

    assert order.index(late) < order.index(then)
    assert rule in named


def test_a_wait_that_comes_too_early_goes_behind_what_it_dries() -> None:
    """Dry before coat: a wait with nothing wet before it belongs to the next wet work."""
    doors = Family("dry before coat", OLD_DOORS, [], {}, products={"p": {"kind": "primer"}})
    steps = [
        step("dry", "dry", "doors", wait="24 h"),
        step("wash", "degrease", "doors"),
        step("rinse", "rinse", "doors"),
        step("prime", "prime", "doors", using="p"),
    ]
    order = [row.step for row in report_of(doors, steps).order]

    assert order.index("rinse") < order.index("dry") < order.index("prime")

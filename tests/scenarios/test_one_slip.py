"""A careful plan is quiet because it is careful: one slip, and the rule of that practice speaks.

The slips and what they bring are those of the trade (core practices, 29 CFR 1926.1153 for dry cutting,
40 CFR 745.85 for lead, 29 CFR 1910.333 for live work).
"""

import copy
from functools import cache
from pathlib import Path

import pytest
import yaml

from advisor.review.reviewing import review

SCENARIOS = Path(__file__).parent.parent.parent / "scenarios"
# plan, steps left out, values changed (None: taken out), the rule that speaks
SLIPS = [
    ("galley-kitchen-careful", ["prop-sink"], {}, "support-sink-before-clips"),
    ("galley-kitchen-careful", ["dead-sockets"], {}, "isolate-power"),
    ("galley-kitchen-careful", ["lights-off"], {}, "isolate-power"),
    ("galley-kitchen-careful", ["shim-run"], {}, "shim-from-high-point"),
    ("galley-kitchen-careful", ["lead-test"], {"parts.doors.lead_test": None}, "test-for-lead"),
    (
        "galley-kitchen-careful",
        [],
        {"products.undercoat": {"kind": "primer", "binder": "acrylic"}},
        "stain-blocking-primer",
    ),
    ("galley-kitchen-careful", [], {"steps.varnish-top.faces": "top"}, "seal-all-faces"),
    (
        "galley-kitchen-careful",
        [],
        {"steps.varnish-top.in": "kitchen", "rooms.kitchen.ventilation": "closed"},
        "ventilate-solvent-finish",
    ),
    ("galley-kitchen-careful", [], {"steps.fit-top.people": "1"}, "lift-needs-more-people"),
    (
        "galley-kitchen-careful",
        ["rags-out"],
        {"crew.owns": ["half mask with combination cartridges"]},
        "spread-oily-rags",
    ),
    ("galley-kitchen-careful", ["child-away"], {}, "children-off-site"),
    ("galley-kitchen-careful", [], {"steps.clip-sink.wait": "2 h"}, "sealant-cures-before-water"),
    ("bathroom-careful", ["samples"], {"parts.lino.asbestos_test": None}, "asbestos-sample-first"),
    (
        "bathroom-careful",
        [],
        {
            "steps.cut-tile.with": ["angle grinder"],
            "steps.cut-tile.in": "bath",
            "steps.cut-tile.wet": "no",
            "steps.cut-tile.by": "dry",
        },
        "dry-silica-cut-indoors",
    ),
    ("bathroom-careful", [], {"steps.set-tile.wait": "2 h"}, "wait-before-grout"),
    ("bathroom-careful", [], {"steps.caulk-corners.wait": "0 h", "steps.grout-tile.wait": "0 h"}, "wait-before-caulk"),
    ("bathroom-careful", ["hold-basin"], {}, "support-sink-before-clips"),
    ("floor-careful", ["set-nails"], {}, "floor-nails-set-first"),
    ("floor-careful", ["lead-test"], {"parts.boards.lead_test": None}, "test-for-lead"),
    ("floor-careful", [], {"steps.coat-floor.wait": "4 h"}, "floor-hard-before-furniture"),
    (
        "windows-careful",
        [],
        {"steps.smooth-sashes.with": ["random-orbit sander"], "steps.smooth-sashes.by": None},
        "machine-on-lead-paint",
    ),
    ("windows-careful", ["close-off"], {"steps.strip-sashes.in": "front"}, "contain-lead-dust"),
    ("windows-careful", ["wipe-test"], {}, "verify-lead-cleaning"),
    ("windows-careful", [], {"steps.new-putty.wait": "1 h"}, "putty-skins-before-paint"),
    ("careful-closet", [], {"steps.cut-shelves.guard_on": "no"}, "saw-guard-off"),
    ("careful-porch", [], {"products.paint.exterior": "no"}, "no-indoor-coat-outdoors"),
    ("careful-porch", [], {"parts.boards.moisture": "20 %"}, "wood-too-wet-to-coat"),
]


class _Plain(yaml.CSafeLoader):
    """Scalars as written: `on` stays a word."""


_Plain.yaml_implicit_resolvers = {}


@cache
def plan(name):
    return yaml.load((SCENARIOS / f"{name}.yaml").read_text(encoding="utf-8"), Loader=_Plain)


def slipped(name, dropped, changes):
    changed = copy.deepcopy(plan(name))
    assert {step["id"] for step in changed["steps"]} >= set(dropped)
    changed["steps"] = [step for step in changed["steps"] if step["id"] not in dropped]
    for path, value in changes.items():
        *way, last = path.split(".")
        place = changed
        for word in way:
            place = next(one for one in place if one["id"] == word) if isinstance(place, list) else place[word]
        if value is None:
            del place[last]
        else:
            place[last] = value
    return changed


@pytest.mark.parametrize(("name", "dropped", "changes", "rule"), SLIPS, ids=[f"{s[0]}: {s[3]}" for s in SLIPS])
def test_one_slip_in_a_careful_plan_is_heard(name, dropped, changes, rule):
    assert rule not in {finding.rule for finding in review(plan(name)).findings}
    assert rule in {finding.rule for finding in review(slipped(name, dropped, changes)).findings}

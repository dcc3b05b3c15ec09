"""Hazards are recognized by material, action and tool, not by a room's name: the same faults in three rooms.

The faults and the rules that name them are those of the trade: dry machine sanding of paint of 1957 (40 CFR 745.85),
solvent finish in a closed room (NIOSH limits), an outlet replaced live (29 CFR 1910.333), tile cut dry with a
grinder (29 CFR 1926.1153).
"""

from functools import cache

import pytest

from advisor.review.reviewing import review

ROOMS = ["kitchen", "bathroom", "garage"]
HAZARDS = {
    "sand-trim": {"machine-on-lead-paint": "danger", "test-for-lead": "warning", "noise-dose-of-step": "caution"},
    "varnish-shelf": {"ventilate-solvent-finish": "warning", "spread-oily-rags": "warning"},
    "swap-socket": {"isolate-power": "danger", "ground-fault-protection": "warning"},
    "cut-tile": {"dry-silica-cut-indoors": "danger"},
}


@cache
def findings(kind):
    plan = {
        "title": "The same faults in any room",
        "house": {"built": "1957"},
        "rooms": {
            "here": {"kind": kind, "length": "12 ft", "width": "10 ft", "height": "8 ft", "ventilation": "closed"}
        },
        "parts": {
            "casing": {"kind": "trim", "room": "here", "coating": "paint", "area": "22 sqft"},
            "board": {"kind": "shelf", "room": "here", "material": "maple", "area": "20 sqft", "new": "yes"},
            "socket": {"kind": "outlet", "room": "here", "serves": ["board"]},
            "tiles": {"kind": "tile work", "room": "here", "material": "porcelain", "area": "30 sqft"},
        },
        "products": {
            "varnish": {
                "kind": "clear finish",
                "binder": "oil-modified polyurethane",
                "carrier": "mineral spirits",
                "solvent_fraction": "50 %",
                "amount": "1 qt",
            }
        },
        "crew": {"people": "1", "owns": ["dust mask"]},
        "steps": [
            {"id": "sand-trim", "do": "sand", "to": "casing", "with": ["random-orbit sander"], "for": "3 h"},
            {"id": "varnish-shelf", "do": "finish", "to": "board", "using": "varnish", "by": "brush", "faces": "all"},
            {"id": "swap-socket", "do": "replace", "to": "socket"},
            {"id": "cut-tile", "do": "cut", "to": "tiles", "with": ["angle grinder"], "by": "dry", "for": "1 h"},
        ],
    }
    return tuple(review(plan).findings)


@pytest.mark.parametrize("kind", ROOMS)
@pytest.mark.parametrize("step", list(HAZARDS))
def test_the_same_fault_is_the_same_hazard_in_any_room(kind, step):
    said = {finding.rule: finding.signal for finding in findings(kind) if finding.step == step}
    assert {rule: said.get(rule) for rule in HAZARDS[step]} == HAZARDS[step]


def test_no_danger_hangs_on_the_name_of_the_room():
    dangers = [{(f.rule, f.step) for f in findings(kind) if f.signal == "danger"} for kind in ROOMS]
    assert dangers[1:] == dangers[:-1]

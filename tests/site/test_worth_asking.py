"""What a plan leaves unknown is open where an answer would make a practice speak, and nowhere else.

Each pair is a case and its near miss: what a step's way of working makes of its verb, what is lifted, what may hold
asbestos. That siding and putty may hold asbestos is what the rules cite (`epa-asbestos-home`, where it may be found);
the rest is *common practice*.
"""

from __future__ import annotations

from typing import Any

import pytest

from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.standing import Standing, standing, unknowns


def _standing(**plan: Any) -> Standing:
    rulebase = load_rulebase()
    read = read_plan({"title": "worth asking", "rooms": {"den": {"kind": "living room"}}, **plan}, rulebase.vocabulary)
    return standing(read, make_facts(read, rulebase.vocabulary), rulebase)


def _open(found: Standing, rule: str, step: str) -> bool:
    return any((one.rule.id, one.step) == (rule, step) for one in found.open)


def _asked(found: Standing, thing: str, attribute: str) -> bool:
    return any(key[1:] == (thing, attribute) for one in found.open for key in unknowns(one.ways))


@pytest.mark.parametrize(("way", "is_open"), [({}, True), ({"by": "hand"}, False)], ids=["no way", "by hand"])
def test_a_verb_that_may_turn_out_another_is_no_sure_earlier_step(way: dict[str, str], is_open: bool) -> None:
    """Paint that is blasted off is not stripped: then the water is the first work that an insurer minds."""
    found = _standing(
        house={"occupied": "no"},
        parts={"rail": {"kind": "railing", "room": "den"}},
        steps=[
            {"id": "strip", "do": "strip", "to": "rail", **way},
            {"id": "shut", "do": "shut off water", "in": "den"},
        ],
    )
    assert ("tell-the-insurer", "strip") in found.spoken
    assert _open(found, "tell-the-insurer", "shut") is is_open


@pytest.mark.parametrize(("verb", "asked"), [("lift", True), ("wash", False)])
def test_what_is_lifted_has_a_weight_whatever_it_is(verb: str, asked: bool) -> None:
    found = _standing(
        parts={"frame": {"kind": "wall", "room": "den", "new": "yes"}},
        steps=[{"id": "work", "do": verb, "to": "frame"}],
    )
    assert _asked(found, "frame", "weight") is asked


@pytest.mark.parametrize(("kind", "asked"), [("siding", True), ("glazing putty", True), ("exterior trim", False)])
def test_what_often_held_asbestos_is_asked_about_it(kind: str, asked: bool) -> None:
    found = _standing(
        house={"built": "1955"},
        rooms={"yard": {"kind": "outdoors"}},
        parts={"old": {"kind": kind, "room": "yard"}},
        steps=[{"id": "cut", "do": "cut", "to": "old", "with": "circular saw"}],
    )
    assert _asked(found, "old", "asbestos_test") is asked


@pytest.mark.parametrize(("verb", "is_open"), [("thaw", True), ("wash", False)])
def test_a_pipe_that_is_thawed_may_be_thawed_with_a_flame(verb: str, is_open: bool) -> None:
    found = _standing(
        parts={"pipe": {"kind": "water line", "room": "den"}}, steps=[{"id": "work", "do": verb, "to": "pipe"}]
    )
    assert _open(found, "no-flame-on-frozen-pipe", "work") is is_open


@pytest.mark.parametrize(("fresh", "is_open"), [("yes", True), ("no", False)], ids=["new joists", "old joists"])
def test_the_reach_of_new_joists_is_asked(fresh: str, is_open: bool) -> None:
    found = _standing(
        parts={"joists": {"kind": "joist", "room": "den", "new": fresh, "depth": "5-1/2 in"}},
        steps=[{"id": "hang", "do": "install", "to": "joists"}],
    )
    assert _open(found, "joist-reaches-too-far", "hang") is is_open

"""The order of work against brute force and against orders worked out by hand."""

from __future__ import annotations

import random
from pathlib import Path

import networkx as nx
import pytest
from review.working import finding, plan_of, random_edges, words

from advisor.reports.order_text import entries
from advisor.review.order.constraints import collect
from advisor.review.order.told import PlaceInOrder
from advisor.review.order.work_order import WorkOrder, order_of_work
from advisor.review.reviewing import review, review_plan
from advisor.rulebase.base import load_rulebase

_OWN_PACK = """
pack: own
title: A pack of a test
rules:
  - id: clean-then-sand
    title: Clean before sanding
    when:
      - step: {id: $first, do: clean, to: $part}
      - step: {id: $late, do: sand, to: $part}
    wait: {signal: notice, after: $first, before: $late, for: 2 h, what: "Dry {{ part }}.", because: Wet wood clogs.}
    sources: [{common_practice: yes}]
"""


def order(steps: list[dict[str, object]], *findings: object, **rest: object) -> WorkOrder:
    """The order of work of a plan with these findings."""
    return order_of_work(plan_of(steps, **rest), list(findings), words())  # type: ignore[arg-type]


def ids(work: WorkOrder) -> list[str]:
    return [step.id for step in work.steps]


def steps_of(text: str) -> list[dict[str, object]]:
    """`sand:doors prime:doors` as steps."""
    return [{"id": a, "do": "fill", "to": b} for a, b in (word.split(":") for word in text.split())]


@pytest.mark.parametrize("seed", range(300))
def test_generated_plans_keep_every_constraint_and_count_their_turned_pairs(seed: int) -> None:
    chance = random.Random(1000 + seed)
    count = chance.randint(2, 40)
    steps = [{"id": f"s{i}", "do": "fill", "to": f"part{chance.randrange(6)}"} for i in range(count)]
    findings = [
        finding(chance.choice(("precede", "wait")), f"s{a}", f"s{b}", chance.randint(1, 48))
        for a, b in random_edges(chance, count, count)
    ]

    plan = plan_of(steps)
    work = order_of_work(plan, findings, words())
    place = {step.id: k for k, step in enumerate(work.steps)}

    assert sorted(place) == sorted(step["id"] for step in steps)
    assert {(f.first, f.step) for f in findings} == {(c.first, c.then) for c in work.constraints}
    assert [c for c in work.constraints if place[c.first] >= place[c.then]] == []
    assert work.turned == sum(place[f"s{i}"] > place[f"s{j}"] for i in range(count) for j in range(i + 1, count))
    assert not work.rings


@pytest.mark.parametrize("seed", range(40))
def test_a_moved_step_names_a_constraint_and_what_it_passed(seed: int) -> None:
    chance = random.Random(2000 + seed)
    count = chance.randint(4, 12)
    steps = [{"id": f"s{i}", "do": "fill", "to": f"p{i}"} for i in range(count)]
    findings = [finding("precede", f"s{a}", f"s{b}") for a, b in random_edges(chance, count, count)]

    work = order_of_work(plan_of(steps), findings, words())
    place = {step.id: k for k, step in enumerate(work.steps)}
    rows = {row.step: row for row in work.entries()}
    stayed = [int(step.id[1:]) for step in work.steps if step.id not in work.moves]

    assert stayed == sorted(stayed)
    for step, move in work.moves.items():
        for other in move.past:
            assert (int(other[1:]) < int(step[1:])) == move.up
            assert (place[step] < place[other]) == move.up
        assert rows[step].moved_past == move.past
        assert rows[step].rule in {f.rule for f in findings}


def test_a_forgotten_degreasing_moves_up_before_the_primer() -> None:
    """By hand: two pairs are turned whether one step goes up or two go down; the forgotten one moves."""
    work = order(
        steps_of("sand:doors prime:doors paint:doors degrease:doors"),
        finding("precede", "degrease", "prime", rule="degrease-before-coat"),
    )

    assert ids(work) == ["sand", "degrease", "prime", "paint"]
    assert (work.turned, work.exact) == (2, True)
    assert work.entries()[1] == PlaceInOrder(
        "degrease", 0, 2, moved="up", moved_past=("prime", "paint"), rule="degrease-before-coat",
        why="Moved up before prime and paint: prime needs degrease. (degrease-before-coat)",
    )  # fmt: skip


def test_tile_waits_for_the_top_rather_than_the_top_overtaking_its_own_varnish() -> None:
    """By hand: two pairs turned either way; only one way leaves the two steps on the top as they were written."""
    work = order(steps_of("tile:splash varnish:top fit:top"), finding("precede", "fit", "tile", rule="top-before-tile"))

    assert ids(work) == ["varnish", "fit", "tile"]
    assert work.entries()[2].moved == "down"


def test_the_authors_after_stands_against_a_rule_that_moves_other_steps() -> None:
    """By hand: `after` makes it b, c, a; the rule then draws d up past a, c and b, or b down past c, a and d."""
    steps = steps_of("a:x b:y c:y d:w")
    steps[0]["after"] = ["c"]

    work = order(steps, finding("precede", "d", "b", rule="d-first"))

    assert ids(work) == ["d", "b", "c", "a"]
    assert [(c.first, c.then, c.rule) for c in work.constraints] == [("c", "a", "after"), ("d", "b", "d-first")]


def test_an_order_that_keeps_all_rules_is_left_alone() -> None:
    work = order(steps_of("a:x b:y c:z"), finding("precede", "a", "c"), finding("wait", "b", "c", 4))

    assert (ids(work), work.turned, work.moves) == (["a", "b", "c"], 0, {})


def test_a_part_is_bought_and_made_before_it_is_put_in_on_what_stands() -> None:
    steps = [
        {"id": "in", "do": "install", "to": "top"},
        {"id": "base", "do": "install", "to": "run"},
        {"id": "make", "do": "assemble", "to": "top"},
        {"id": "get", "do": "buy", "to": "top"},
    ]
    parts = {"run": {"kind": "base cabinets"}, "top": {"kind": "worktop", "on": "run"}}

    work = order(steps, parts=parts)
    kept = {(c.first, c.then, c.rule) for c in work.constraints}

    assert kept == {
        ("make", "in", "made before it is put in"),
        ("get", "in", "bought before it is worked on"),
        ("get", "make", "bought before it is worked on"),
        ("base", "in", "set on what is in place"),
    }
    assert ids(work) == ["base", "get", "make", "in"]


def test_hold_points_stand_before_their_step_gravest_first() -> None:
    work = order(
        steps_of("a:x b:y"),
        finding("require", None, "b", rule="buy-gloves"),
        finding("require", None, "b", rule="power-off", signal="danger"),
        finding("warn", None, "b", rule="dust"),
    )

    listed = [entry.get("hold", entry.get("step")) for entry in entries(work)]

    assert listed == ["a", "power-off@b", "buy-gloves@b", "b"]


def test_a_ring_names_its_members_reasons_and_the_authors_word_as_softest() -> None:
    steps = steps_of("a:x b:y c:z d:w")
    steps[2]["after"] = ["b"]
    work = order(steps, finding("precede", "c", "a", rule="c-first"), finding("precede", "a", "b", rule="a-first"))

    (ring,) = work.rings

    assert set(ring.members) == {"a", "b", "c"}
    assert [(c.first, c.then, c.rule) for c in ring.given_up] == [("b", "c", "after")]
    assert {c.rule for c in ring.constraints} == {"after", "c-first", "a-first"}
    assert "wait for each other" in ring.told()
    assert "The softest is b before c (your own 'after')" in ring.told()
    assert ids(work) == ["c", "a", "b", "d"]


def test_between_two_rules_the_milder_signal_word_gives_way() -> None:
    work = order(
        steps_of("a:x b:y"),
        finding("precede", "a", "b", rule="grave", signal="danger"),
        finding("precede", "b", "a", rule="mild", signal="notice"),
    )

    assert [c.rule for c in work.rings[0].given_up] == ["mild"]
    assert ids(work) == ["a", "b"]


@pytest.mark.parametrize("seed", range(30))
def test_rings_are_found_where_networkx_finds_them_and_the_rest_is_kept(seed: int) -> None:
    """networkx, a general graph library, says whether a graph has a ring."""
    chance = random.Random(3000 + seed)
    count = chance.randint(3, 12)
    pairs = sorted({tuple(chance.sample(range(count), 2)) for _ in range(chance.randint(2, 2 * count))})
    findings = [finding("precede", f"s{a}", f"s{b}") for a, b in pairs]
    work = order([{"id": f"s{i}", "do": "fill", "to": f"p{i}"} for i in range(count)], *findings)
    place = {step.id: k for k, step in enumerate(work.steps)}

    assert bool(work.rings) == (not nx.is_directed_acyclic_graph(nx.DiGraph(pairs)))
    given_up = {(c.first, c.then) for ring in work.rings for c in ring.given_up}
    kept = {(c.first, c.then) for c in work.constraints}
    assert given_up | kept == {(f"s{a}", f"s{b}") for a, b in pairs}
    assert [pair for pair in kept if place[pair[0]] >= place[pair[1]]] == []


def test_findings_parts_and_rooms_in_any_order_give_the_same() -> None:
    chance = random.Random(7)
    steps = [{"id": f"s{i}", "do": "fill", "to": f"p{i % 4}"} for i in range(14)]
    findings = [finding("precede", f"s{a}", f"s{b}") for a, b in sorted(random_edges(chance, 14, 20))]
    parts = {f"p{i}": {"kind": "cabinet doors"} for i in range(4)}
    seen = []
    for _ in range(5):
        chance.shuffle(findings)
        shuffled = dict(chance.sample(sorted(parts.items()), 4))
        work = order(steps, *findings, parts=shuffled)
        seen.append((work.entries(), work.constraints))

    assert seen == [seen[0]] * 5


def test_each_first_step_of_a_gathered_finding_constrains(tmp_path: Path) -> None:
    """A finding gathers the matches of one rule at one step; the steps that come first may differ."""
    (tmp_path / "packs").mkdir()
    (tmp_path / "packs" / "own.yaml").write_text(_OWN_PACK, encoding="utf-8")
    steps = steps_of("late:doors one:doors two:doors")
    steps[0]["do"], steps[1]["do"], steps[2]["do"] = "sand", "degrease", "wash"

    plan = plan_of(steps)
    found = review_plan(plan, load_rulebase([tmp_path / "packs"])).findings
    own = [(c.first, c.then, c.lag) for c in collect(plan, found, words()) if c.rule == "clean-then-sand"]

    assert len([f for f in found if f.rule == "clean-then-sand"]) == 1
    assert own == [("one", "late", 120), ("two", "late", 120)]


def test_the_longest_of_a_rules_waits_counts() -> None:
    waits = [finding("wait", "a", "b", hours, rule="dry") for hours in (4, 24, 8)]

    assert [(c.first, c.then, c.lag) for c in order(steps_of("a:x b:y"), *waits).constraints] == [("a", "b", 24 * 60)]


OWN = """pack: own
title: Own
rules:
  - id: own-wash-first
    title: Wash first
    when: [{step: {id: $sand, do: sand}}, {step: {id: $wash, do: wash, later_than: $sand}}]
    precede: {signal: notice, first: $wash, then: $sand, what: Wash first., because: Grease clogs.}
    sources: [{common_practice: yes}]
  - id: own-dust-off
    title: Dust off
    when:
      - step: {id: $sand, do: sand}
      - step: {id: $coat, do: prime, later_than: $sand}
      - not: [{step: {id: $wash, do: wash, later_than: $sand}}, {step: {id: $wash, earlier_than: $coat}}]
    require: {signal: notice, before: $coat, what: Take the dust off., because: Paint peels from it.}
    sources: [{common_practice: yes}]
"""


@pytest.mark.parametrize(("steps", "said"), [("sand wash prime", "advised"), ("wash sand prime", "stated")])
def test_what_only_the_advised_order_brings_is_told_as_following_from_advice(
    steps: str, said: str, tmp_path: Path
) -> None:
    """The wash that took the dust off is moved before the sanding; nothing takes it off then."""
    own = tmp_path / "packs"
    own.mkdir()
    (own / "own.yaml").write_text(OWN, encoding="utf-8")
    plan = tmp_path / "plan.yaml"
    listed = "".join(f"  - {{id: {do}, do: {do}, to: door}}\n" for do in steps.split())
    plan.write_text(
        f"house: {{built: 2003}}\nrooms: {{hall: {{kind: hallway}}}}\nparts: {{door: {{kind: door, room: hall}}}}\n"
        f"steps:\n{listed}",
        encoding="utf-8",
    )
    found = [f for f in review(plan, [own]).findings if f.rule == "own-dust-off"]

    assert [(f.step, "advised" if f.advised else "stated", f.step_line > 0) for f in found] == [("prime", said, True)]

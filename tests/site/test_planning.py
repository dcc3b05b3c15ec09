"""The site against an independent planning library, and against trying every order.

Both share with the program only what is generated: what needs and effects mean in an order is the library's own.
All 300 sites with PLANNING=all (`make planning`); else a tenth of them, by a hash of the number.
"""

from __future__ import annotations

import hashlib
import os
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import planning

from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.least import fewest_moves, keeps
from advisor.site.mover import Edge, settle
from advisor.site.run import run
from advisor.site.simulate import failures

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))


def chosen(count: int) -> list[int]:
    """All numbers, or the tenth of them whose hash says so."""
    if os.environ.get("PLANNING") == "all":
        return list(range(count))
    return [n for n in range(count) if hashlib.sha256(str(n).encode()).digest()[0] % 10 == 0]


@pytest.mark.parametrize("seed", chosen(300))
def test_an_independent_validator_and_planner_agree(seed: int) -> None:
    """The written order and the advised one are valid where the site says so; where no order can be, there is none."""
    pytest.importorskip("unified_planning")
    site = planning.random_site(seed)
    settled = settle(site)

    assert planning.valid(site, site.order()) == planning.kept(site, site.order())
    assert planning.valid(site, settled.order) == planning.kept(site, settled.order)
    assert planning.planned(site) == planning.kept(site, settled.order)
    # What nothing brings is no need given up: it is advice to add a step.
    assert not (settled.given_up and planning.kept(site, settled.order))


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_the_validator_agrees_on_real_plans(path: Path) -> None:
    """With conditional effects: the scenarios as written and in their order of work, needs of order.yaml included."""
    pytest.importorskip("unified_planning")
    rulebase = load_rulebase()
    site = run(rulebase, make_facts(read_plan(path, rulebase.vocabulary), rulebase.vocabulary).facts).site
    assert site is not None

    for order in (site.order(), settle(site).order, site.order()[::-1]):
        assert planning.valid(site, order) == (not list(failures(site, order)))


@pytest.mark.parametrize("seed", chosen(400))
def test_no_smaller_number_of_moves_would_do(seed: int) -> None:
    """Every order of up to seven steps is tried."""
    site = planning.random_site(seed)
    settled = settle(site)

    least = planning.fewest(site)
    mine = len(settled.moved) if planning.kept(site, settled.order) else None
    if settled.within_bound:
        assert mine == least
    elif mine is not None:  # said to be not settled: no better than the least all the same
        assert least is not None
        assert mine >= least


def test_nearly_all_of_the_small_ones_are_settled_within_the_bound() -> None:
    """What is told of the least number of moves above would else be told of few."""
    sites = [planning.random_site(seed) for seed in range(400)]

    assert sum(settle(site).within_bound for site in sites) >= 390


@pytest.mark.parametrize("seed", chosen(400))
def test_edges_alone_move_the_fewest_steps(seed: int) -> None:
    """Without needs: the largest antichain of turned pairs stays, by trying every order."""
    import random
    from itertools import permutations

    pick = random.Random(seed)
    count = pick.randint(2, 7)
    ranks = pick.sample(range(count), count)
    edges = {tuple(sorted(pick.sample(range(count), 2), key=lambda s: ranks[s])) for _ in range(pick.randint(1, 8))}
    found = fewest_moves(count, edges)  # type: ignore[arg-type]
    assert found is not None
    order, moved = found

    assert keeps(order, edges)  # type: ignore[arg-type]
    assert len(moved) == planning.moves(order)
    assert len(moved) == min(planning.moves(o) for o in permutations(range(count)) if keeps(o, edges))  # type: ignore[arg-type]


def test_beyond_its_bound_it_says_so() -> None:
    """A site that needs more branches than it may look at is not said to be settled."""
    site = next(s for s in map(planning.random_site, range(400)) if settle(s).looked_at > 4)

    assert not settle(site, bound=1).within_bound


def test_a_softer_edge_from_outside_gives_way_and_is_told() -> None:
    """The author's `after` against a need: the need wins, and the edge is among those that gave way."""
    site = next(
        s for s in map(planning.random_site, range(400)) if settle(s).edges and planning.kept(s, settle(s).order)
    )
    one = settle(site).edges[0]
    against = Edge(one.then, one.first, 0)
    settled = settle(site, [against])

    assert against in settled.dropped or settled.given_up

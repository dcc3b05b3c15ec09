"""What was wrong with the old thing is told until a new one is in its place, by whatever rule, and not after it.

The rules have nothing of it written: `site/renewed.yaml` says what ends, `rulebase/renewed.py` adds it to each rule.
"""

from pathlib import Path

import pytest
import yaml

from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import Pattern
from advisor.rulebase.renewed import is_of_the_old

POST = {"kind": "porch post", "room": "yard", "material": "cedar", "coating": "paint"}


def told(tmp_path: Path, part: dict, *steps: dict) -> set[str]:
    """The rules that speak of a part that these steps are done to, with a coat of primer and one of paint."""
    plan = {
        "house": {"built": 1995, "country": "US"},
        "rooms": {"yard": {"kind": "porch"}},
        "parts": {"it": part},
        "products": {"under": {"kind": "primer", "binder": "acrylic"}, "white": {"kind": "paint", "binder": "acrylic"}},
        "steps": [{"id": f"s{n}", "to": "it", **step} for n, step in enumerate(steps)],
    }
    path = tmp_path / "plan.yaml"
    path.write_text(yaml.safe_dump(plan, sort_keys=False), encoding="utf-8")
    return {finding.rule for finding in review(path).findings}


PRIME = {"do": "prime", "using": "under"}
NEW = [
    pytest.param([{"do": "replace"}], id="replaced"),
    pytest.param([{"do": "remove"}, {"do": "install"}], id="out and in"),
    pytest.param([{"do": "demolish"}, {"do": "set"}], id="broken out and set"),
]
OLD = [  # a part with what is wrong, and the rule that speaks of it at the primer
    pytest.param({**POST, "has": ["rot"]}, "filler-carries-nothing", id="rot"),
    pytest.param({**POST, "has": ["damp"]}, "damp-part-not-coated", id="damp"),
    pytest.param({**POST, "has": ["water stain"]}, "stain-blocking-primer", id="stain"),
    pytest.param({**POST, "coating_sheen": "gloss"}, "scuff-before-coating", id="gloss"),
    pytest.param({**POST, "has": ["grease"]}, "wash-grease-off", id="grease"),
]


@pytest.mark.parametrize("steps", NEW)
@pytest.mark.parametrize(("part", "rule"), OLD)
def test_gone_with_the_old_part(part: dict, rule: str, steps: list, tmp_path: Path) -> None:
    assert rule in told(tmp_path, part, PRIME)
    assert rule not in told(tmp_path, part, *steps, PRIME)


@pytest.mark.parametrize(
    "steps",
    [[{"do": "repair"}, {"do": "install"}], [{"do": "remove"}, {"do": "reinstall"}]],
    ids=["mended", "put back"],
)
def test_not_gone_where_the_same_part_stays(steps: list, tmp_path: Path) -> None:
    assert "stain-blocking-primer" in told(tmp_path, {**POST, "has": ["water stain"]}, *steps, PRIME)


@pytest.mark.parametrize(("part", "rule"), OLD)
def test_not_gone_before_the_new_one_is_in(part: dict, rule: str, tmp_path: Path) -> None:
    assert rule in told(tmp_path, part, PRIME, {"do": "inspect"}, {"do": "remove"}, {"do": "install"})


def test_what_the_wood_itself_brings_stays(tmp_path: Path) -> None:
    redwood = {**POST, "material": "redwood", "coating": "bare"}
    assert "stain-blocking-primer" in told(tmp_path, redwood, {"do": "replace"}, PRIME)
    knots = {**POST, "material": "pine", "coating": "bare", "has": ["knots", "water stain"]}
    assert "stain-blocking-primer" in told(tmp_path, knots, {"do": "replace"}, PRIME)


def test_what_lies_behind_stays(tmp_path: Path) -> None:
    wall = {"kind": "wall", "room": "yard", "has": ["cables"]}
    old, new = {"do": "drill"}, ({"do": "replace"}, {"do": "drill"})
    assert "drill-where-cables-run" in told(tmp_path, wall, old) & told(tmp_path, wall, *new)


def test_every_rule_that_reads_rot_or_damp_for_a_step_has_it() -> None:
    """Whoever writes the next rule need not think of it."""
    rules = [
        r for r in load_rulebase().rules if r.conclusions and r.conclusions[0].kind in ("warn", "require", "refer")
    ]
    reads = [r for r in rules if r.conclusions[0].step and any(map(_asks_for_rot, _top(r)))]
    assert len(reads) > 10
    assert [r.id for r in reads if not any(map(is_of_the_old, r.conditions))] == []


def _top(rule) -> list[Pattern]:
    return [c for c in rule.conditions if isinstance(c, Pattern)]


def _asks_for_rot(pattern: Pattern) -> bool:
    return pattern.kind == "part" and any(
        t.attribute == "has" and {"rot", "damp"} & set(t.values) for t in pattern.tests
    )

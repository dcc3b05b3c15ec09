"""Short plans with one real hazard each, by people of eight trades who had read no rule, and what must be said of them.

`probes/<field>/` holds the plans as they were frozen before anyone ran them (`frozen.txt`), what their writers asked
for (`expected.yaml`: step, least signal word, hazard, control), how they judged the first try (`first.yaml`), and what
is held since (`held.yaml`), written by hand from what must be said:

    01: {says: [{rule: isolate-power, step: swap, least: danger}], never: [lock-breaker-off]}
    02: {missed: why nothing says it yet}

`says` are findings that must be there, `never` rules that must not speak (they were judged false alarms). The step is
the one that the writer named; where the trade says it at another one, `elsewhere` tells why.
"""

import hashlib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase

PROBES = Path(__file__).parent / "probes"
FIELDS = sorted(path.name for path in PROBES.iterdir() if (path / "held.yaml").exists())
WORDS = ["notice", "caution", "warning", "danger"]
KEYS = {"says", "never", "elsewhere", "missed"}


class _Plain(yaml.CSafeLoader):
    """Scalars as written: `01` and `no` stay words."""


_Plain.yaml_implicit_resolvers = {}


@cache
def read(field: str, name: str) -> dict[str, Any]:
    return yaml.load((PROBES / field / f"{name}.yaml").read_text(encoding="utf-8"), Loader=_Plain)


@cache
def spoken(field: str, number: str) -> list[tuple[str, str | None, str]]:
    return [(one.rule, one.step, one.signal) for one in review(PROBES / field / f"{number}.yaml").findings]


HELD = [(field, number, entry) for field in FIELDS for number, entry in sorted(read(field, "held").items())]
SAYS = [(field, number, one) for field, number, entry in HELD for one in entry.get("says", [])]
NEVER = [(field, number, rule) for field, number, entry in HELD for rule in entry.get("never", [])]


@pytest.mark.parametrize(
    ("field", "number", "one"), SAYS, ids=[f"{field} {number}: {one['rule']}" for field, number, one in SAYS]
)
def test_what_must_be_said_is_said(field, number, one):
    found = [(step, word) for rule, step, word in spoken(field, number) if rule == one["rule"]]
    words = [word for step, word in found if step == one.get("step")]
    assert words, f"{one['rule']} does not speak at {one.get('step')}, but at {found}"
    assert max(map(WORDS.index, words)) >= WORDS.index(one["least"])


@pytest.mark.parametrize(
    ("field", "number", "rule"), NEVER, ids=[f"{field} {number}: no {rule}" for field, number, rule in NEVER]
)
def test_what_was_a_false_alarm_is_quiet(field, number, rule):
    assert [one for one in spoken(field, number) if one[0] == rule] == []


def as_frozen(folder: Path) -> tuple[dict[str, str], dict[str, str]]:
    """The digests of a field's plans and expectations now, and as they were written down."""
    lines = (folder / "frozen.txt").read_text(encoding="utf-8").splitlines()
    files = [*folder.glob("[0-9]*.yaml"), folder / "expected.yaml"]
    now = {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in files}
    return now, {Path(path).name: digest for digest, path in (line.split() for line in lines)}


@pytest.mark.parametrize("field", FIELDS)
def test_plans_are_as_they_were_frozen(field):
    now, frozen = as_frozen(PROBES / field)
    assert now == frozen


@pytest.mark.parametrize("field", FIELDS)
def test_each_plan_is_judged_and_held_or_owned_up_to(field):
    plans = {path.stem for path in (PROBES / field).glob("[0-9]*.yaml")}
    assert {name: set(read(field, name)) for name in ("expected", "first", "held")} == dict.fromkeys(
        ("expected", "first", "held"), plans
    )
    for number, entry in read(field, "held").items():
        assert set(entry) <= KEYS, number
        assert bool(entry.get("says")) != bool(entry.get("missed")), f"{number}: says or missed, one of them"


@pytest.mark.parametrize("field", FIELDS)
def test_what_is_held_is_what_its_writer_asked_for(field):
    known = {rule.id for rule in load_rulebase().rules}
    for number, entry in read(field, "held").items():
        asked = read(field, "expected")[number]
        says = entry.get("says", [])
        unknown = [one["rule"] for one in says if one["rule"] not in known] + [*set(entry.get("never", [])) - known]
        assert unknown == [], f"{number}: no such rule"
        if says:
            enough = [one for one in says if WORDS.index(one["least"]) >= WORDS.index(asked["word"])]
            assert enough, f"{number}: at least {asked['word']}"
            steps = {one.get("step") for one in enough}
            assert asked["step"] in steps or entry.get("elsewhere"), f"{number}: at {asked['step']}"

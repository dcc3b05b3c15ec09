"""`advisor schema`: plans that the reader takes are valid by it, wrong ones are not, checked with `jsonschema`."""

from __future__ import annotations

import copy
import json
import re
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.plan.reading import TOP
from advisor.plan.schema import plan_schema
from advisor.rulebase.base import load_rulebase
from advisor.unit_table import DIMENSIONS

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(ROOT / "tests" / "site"))
WORDS = load_rulebase().vocabulary
SCHEMA = plan_schema(WORDS)
VALIDATOR = Draft202012Validator(SCHEMA)


class Core(yaml.SafeLoader):
    """Scalars as YAML 1.2 reads them, which editors do: `yes` and `on` are words, `true` and `2` are none."""


Core.yaml_implicit_resolvers = {
    letter: [(tag, form) for tag, form in rows if tag.rpartition(":")[2] in ("int", "float", "null")]
    for letter, rows in yaml.SafeLoader.yaml_implicit_resolvers.items()
}
Core.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("^(?:true|false)$"), list("tf"))


def told(plan: Any) -> list[str]:
    """Where the plan does not fit, the deepest place of each mistake."""
    found = []
    for error in VALIDATOR.iter_errors(plan):
        while error.context:
            error = min(error.context, key=lambda one: -len(one.absolute_path))
        found.append(f"{'.'.join(map(str, error.absolute_path))}: {error.message[:80]}")
    return found


def test_it_is_a_schema_of_that_draft() -> None:
    """And each `$ref` leads somewhere."""
    Draft202012Validator.check_schema(SCHEMA)
    text = json.dumps(SCHEMA)
    refs = {part.split('"')[0] for part in text.split('"$ref": "#/$defs/')[1:]}

    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert {ref.replace("%20", " ") for ref in refs} <= SCHEMA["$defs"].keys()


def test_the_command_prints_the_same_bytes_each_time(tmp_path: Path) -> None:
    """On the screen and in a file."""
    first, second = (CliRunner().invoke(app, ["schema"]) for _ in range(2))
    CliRunner().invoke(app, ["schema", "--output", str(tmp_path / "plan.json")])

    assert first.exit_code == 0
    assert first.stdout == second.stdout == (tmp_path / "plan.json").read_text(encoding="utf-8")
    assert json.loads(first.stdout) == SCHEMA


@pytest.mark.parametrize("loader", [Core, yaml.BaseLoader], ids=["as editors read", "as written"])
@pytest.mark.parametrize("path", sorted((ROOT / "scenarios").glob("*.yaml")), ids=lambda path: path.stem)
def test_each_scenario_is_valid(path: Path, loader: Any) -> None:
    """As the editor reads it, and with every scalar a word."""
    assert told(yaml.load(path.read_text(encoding="utf-8"), loader)) == []


def test_plans_of_the_record_are_valid() -> None:
    """A hundredth of the stored plans, those that the reader takes today; it is no harder than the reader."""
    from record import old_plans, sampled

    from advisor.errors import InputError
    from advisor.plan import read_plan

    wrong, seen = {}, 0
    for key, plan in old_plans().items():
        if sampled(key, 0.01):
            try:
                read_plan(plan, WORDS)
            except InputError:
                continue
            seen += 1
            if found := told(plan):
                wrong[key] = found[:2]
    assert seen > 20
    assert wrong == {}


# Of the files in `broken/` those whose mistake a schema can tell: names, order and limits of quantities it cannot,
# and what is no YAML at all never reaches it.
BLIND = {"cyclic-after", "duplicate-id", "missing-part", "negative-length"}
NO_YAML = {"tab", "empty", "alias-bomb", "python-object"}


@pytest.mark.parametrize(
    "path",
    [p for p in sorted((HERE / "broken").glob("*.yaml")) if p.stem not in BLIND | NO_YAML],
    ids=lambda path: path.stem,
)
def test_a_broken_plan_is_invalid(path: Path) -> None:
    """As editors read it."""
    assert told(yaml.load(path.read_text(encoding="utf-8"), Core)) != []


GOOD: dict[str, Any] = {
    "title": "A hall",
    "house": {"built": 1957, "children_under_6": 1, "occupied": True, "temperature": "70 °F"},
    "rooms": {"hall": {"kind": "hallway", "length": "14 ft", "open_to": ["hall"]}},
    "parts": {
        "casing": {"kind": "trim", "room": "hall", "material": "pine", "has": ["knots"], "new": "no", "count": 3},
        "run": {"kind": "base cabinets", "drops": {"0 ft": "1-1/4 in", "3 ft": "1/2 in"}, "note": "as agreed"},
    },
    "products": {"undercoat": {"kind": "primer", "amount": "1 qt"}},
    "crew": {"owns": ["dust mask"]},
    "steps": [{"id": "smooth", "do": "sand", "to": "casing", "with": ["belt sander"], "for": "1 h 30 min"}],
    "budget": {"money": "1800 USD", "deadline": "2026-06-01"},
}


def changed(path: str, value: Any) -> dict[str, Any]:
    """The good plan with the value put at the path."""
    plan = copy.deepcopy(GOOD)
    place: Any = plan
    *way, last = path.split(".")
    for word in way:
        place = place[int(word)] if isinstance(place, list) else place[word]
    place[int(last) if isinstance(place, list) else last] = value
    return plan


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("house.built", "about 1957"),
        ("house.built", "1950s"),
        ("house.built", "before 1978"),
        ("house.built", "unknown"),
        ("house.built", None),
        ("house.occupied", "yes"),
        ("house.children_under_6", "none"),
        ("parts.casing.material", "Pine"),
        ("parts.run.made of", "white-oak"),
        ("parts.casing.kind", "door casings"),
        ("parts.casing.has", "knots"),
        ("parts.casing.has", []),
        ("parts.casing.services", "nothing"),
        ("parts.casing.length", "13 ft 6 in"),
        ("parts.casing.length", "13' 6\""),
        ("parts.casing.area", "22 sq. ft."),
        ("parts.casing.moisture", 8),
        ("parts.casing.cost", "$ 1,200"),
        ("steps.0.who", "an electrician"),
        ("code", {"electrical": 2020, "residential": 2018}),
        ("products", None),
    ],
)
def test_what_the_reader_takes_is_valid(path: str, value: Any) -> None:
    """Each is taken by the reader too."""
    from advisor.plan import read_plan

    plan = changed(path, value)

    assert told(plan) == []
    read_plan(plan, WORDS)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("party", {}),
        ("steps", []),
        ("steps", {"a": {"do": "sand"}}),
        ("units", "imperial"),
        ("house.built", "long ago"),
        ("house.built", "57"),
        ("house.built", 90),
        ("house.occupied", "maybe"),
        ("house.children_under_6", -1),
        ("house.children_under_6", "some"),
        ("house.colour_of_roof", "red"),
        ("parts.casing", {"room": "hall"}),
        ("parts.casing", {"kind": "unknown"}),
        ("parts.casing.kind", "kasing"),
        ("parts.casing.material", "pyne"),
        ("parts.casing.material", ["pine"]),
        ("parts.casing.lenght", "8 ft"),
        ("parts.casing.length", "8"),
        ("parts.casing.length", 8),
        ("parts.casing.length", "8 lb"),
        ("parts.casing.weight", "24 in"),
        ("parts.casing.has", ["knots", "kreatures"]),
        ("parts.run.drops", {"left": "1 in"}),
        ("parts.run.drops", {"0 ft": "deep"}),
        ("parts.a:b", {"kind": "trim"}),
        ("steps.0.do", "sandd"),
        ("steps.0.for", "5"),
        ("steps.0.wth", "belt sander"),
        ("steps.0", {"to": "casing"}),
        ("budget.deadline", "next summer"),
        ("budget.money", "much"),
        ("code.residential", "about 2018"),
    ],
)
def test_a_wrong_plan_is_invalid(path: str, value: Any) -> None:
    """Each is refused by the reader too."""
    from advisor.errors import InputError
    from advisor.plan import read_plan

    plan = changed(path, value) if path != "code.residential" else {**GOOD, "code": {"residential": value}}

    assert told(plan) != []
    with pytest.raises(InputError):
        read_plan(plan, WORDS)


def test_every_section_attribute_and_word_is_in_it_with_its_meaning() -> None:
    """Editors complete and explain from these."""
    found = SCHEMA["$defs"]
    words = {c["const"]: c.get("description") for c in found["word of material"]["anyOf"] if "const" in c}

    assert SCHEMA["properties"].keys() == set(TOP)
    for sort, known in WORDS.attributes.items():
        for name, attribute in known.items():
            assert name in found[sort]["properties"], (sort, name)
            assert attribute.meaning.rstrip(".")[1:] in found[f"{name} of {sort}"]["description"]
    for name, taxonomy in WORDS.taxonomies.items():
        listed = {c["const"] for c in found[f"word of {name}"]["anyOf"] if "const" in c}
        assert listed == {t.name for t in taxonomy.terms.values() if not t.gathered}, name
    assert words["wood"] == "solid wood of any species"


@pytest.mark.parametrize("dimension", sorted(DIMENSIONS))
def test_each_example_of_a_quantity_is_valid_by_its_pattern(dimension: str) -> None:
    """And one with a unit of another dimension is not."""
    own = Draft202012Validator({"$defs": SCHEMA["$defs"], "$ref": f"#/$defs/quantity%20of%20{dimension}"})

    assert own.is_valid(DIMENSIONS[dimension][3])
    assert not own.is_valid("3 furlongs")

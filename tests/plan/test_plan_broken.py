"""Plans that cannot be used: each mistake in one line with its place, what was expected and the nearest name.

The expected lines are written by hand from the files in `broken/` in the wording that all messages share. A mistake in
a word or a value ends with the one command that tells more; a word of another list is answered with its own key.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.rulebase.vocabulary import Vocabulary
from advisor.rulebase.vocabulary_files import load_vocabulary

HERE = Path(__file__).parent
RULES = HERE.parents[1] / "rules" / "vocabulary"
TOP = "title, note, units, house, code, rooms, parts, products, crew, steps, to_get, to_find_out, budget"
EXPECTED = {
    "tab": ["3: begins with a tab. Expected spaces: YAML indents with spaces only."],
    "unknown-kind": [
        "5: part 'run' has an unknown kind, 'base cabnets'. Expected a kind of part; nearest: 'base cabinets'."
        " See 'advisor vocabulary part_kind'."
    ],
    "negative-length": ["6: part 'top': 'length' is '-8 ft'. Expected 0 in or more. See 'advisor vocabulary length'."],
    "wrong-dimension": [
        "3: part 'basin': 'weight' is '24 in'. Expected a weight, such as '24 lb'. 'in' is a unit of a length."
        " Write 'length: 24 in'."
        " See 'advisor vocabulary weight'.",
        "6: step 'caulk' lasts '5'. Expected a time with a unit, such as '5 h' or '30 min'."
        " See 'advisor vocabulary for'.",
    ],
    "duplicate-id": ["6: step 'prime' stands twice (first on line 5). Expected an id of its own for each step."],
    "missing-part": [
        "5: part 'doors' names an unknown room, 'kichen'."
        " Expected the name of a room of this plan; nearest: 'kitchen'.",
        "9: step 'prime' names an unknown part, 'dors'. Expected the name of a part of this plan; nearest: 'doors'.",
        "9: step 'prime' names an unknown product, 'undercoats'."
        " Expected the name of a product of this plan; nearest: 'undercoat'.",
        "11: step 'install' names an unknown step, 'primer'."
        " Expected the name of a step of this plan; nearest: 'prime'.",
    ],
    "cyclic-after": [
        "6: steps 'sand' (line 6), 'prime' (line 7) and 'paint' (line 8) wait for each other in a ring ('after')."
        " Expected an order: take one 'after' out."
    ],
    "comma": [
        "4: part 'p': 'drain stub at 14 in' stands alone after a comma. Expected quotes round a text with a comma:"
        " note: 'floor sound, drain stub at 14 in, it''s old'.",
        "5: part 't': 'plug' is 'gas'. Expected a connection (battery, hardwired, plug and cord)."
        " 'gas' is a fuel: write 'fuel: gas'.",
        "6: part 'top': 'acclimatized' is 'no'. Expected a time with a unit, such as '5 h' or '30 min'."
        " For none write '0 h'. See 'advisor vocabulary acclimatized'.",
        "10: part 'block' has an unknown attribute, 'zzzz'. Expected something that may be said of a part."
        " What no key there says may stand in 'note: zzzz …'."
        " See 'advisor vocabulary fence'.",
        "11: part 'other' has an unknown attribute, 'qqqq'. Expected something that may be said of a part."
        " What no key there says may stand in 'note: qqqq …'."
        " See 'advisor vocabulary fence'.",
        "13: step 'install': 'drill' stands alone after a comma."
        " Expected brackets round a list: with: [hammer, drill].",
    ],
    "empty": [
        " is empty. Expected a plan, which has at the least a step and what it is done to:"
        " 'parts: {doors: {kind: cabinet doors}}' and 'steps: [{do: sand, to: doors}]'."
    ],
    "alias-bomb": [
        "1: sets an anchor ('&a'). Expected plain YAML without anchors.",
        "2: sets an anchor ('&b'). Expected plain YAML without anchors.",
        *["2: uses an alias ('*'). Expected plain YAML: write the value out."] * 4,
        "3: sets an anchor ('&c'). Expected plain YAML without anchors.",
        *["3: uses an alias ('*'). Expected plain YAML: write the value out."] * 2,
    ],
    "python-object": [
        "1: carries a tag ('tag:yaml.org,2002:python/object/apply:os.mkdir'). Expected plain YAML without tags."
    ],
    "several": [
        f"2: 'unit' is not a section of a plan. Expected one of {TOP}; nearest: 'units'.",
        "3: house: 'built' is 'long ago'. Expected a year, such as 1957. See 'advisor vocabulary built'.",
        "5: part 'doors' has no 'kind'. Expected a kind of part, as in 'kind: cabinet doors'.",
        "5: part 'doors' has an unknown material, 'pyne'. Expected a material; nearest: 'pine'."
        " See 'advisor vocabulary material'.",
        "5: part 'doors' has an unknown attribute, 'lenght'."
        " Expected something that may be said of a part; nearest: 'length'. See 'advisor vocabulary part'.",
        "7: step 'prime' lasts '5'. Expected a time with a unit, such as '5 h' or '30 min'."
        " See 'advisor vocabulary for'.",
        "8: step 'step-2' has an unknown action, 'sandd'. Expected an action; nearest: 'sand'."
        " See 'advisor vocabulary action'.",
    ],
}


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return load_vocabulary([RULES])


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_every_mistake_has_its_line_and_what_was_expected(name, vocabulary, monkeypatch):
    monkeypatch.chdir(HERE / "broken")
    with pytest.raises(InputError) as caught:
        read_plan(Path(f"{name}.yaml"), vocabulary)

    assert [f"{name}.yaml:{line}" for line in EXPECTED[name]] == str(caught.value).splitlines()


def test_every_broken_plan_has_its_expected_lines():
    assert sorted(EXPECTED) == sorted(path.stem for path in (HERE / "broken").glob("*.yaml"))


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_a_broken_plan_ends_with_status_2_and_writes_nothing(name, monkeypatch, tmp_path):
    plan = HERE / "broken" / f"{name}.yaml"
    monkeypatch.chdir(tmp_path)
    result = CliRunner().invoke(app, ["review", str(plan), "--format", "json", "--output", "report.json"])

    assert (result.exit_code, result.stdout, sorted(tmp_path.iterdir())) == (2, "", [])
    assert f"{plan}:" in result.stderr
    assert "Traceback" not in result.stderr

"""`advisor calc` as a reader meets it: the list, a result with its working, one line for each mistake."""

import json

import pytest
from typer.testing import CliRunner

from advisor.calculators import load_all
from advisor.cli.calc import app

BIRCH = ["wood-movement", "--species", "yellow birch", "--width", "25 in", "--from", "6.2", "--to", "11"]


def calc(*words: str) -> tuple[int, str, str]:
    """Exit status, standard output and standard error."""
    result = CliRunner().invoke(app, list(words))
    return result.exit_code, result.stdout, result.stderr


def test_birch_top_gives_its_movement_with_the_working() -> None:
    """Materials 1.6, from Wood Handbook Table 13-5: +0.406 in (10.3 mm)."""
    status, out, _ = calc(*BIRCH)

    assert status == 0
    assert "  0.406 in (10.3 mm)\n" in out
    assert "  25 in x 0.00338 x (11 % - 6.2 %) = 0.406 in\n" in out
    assert "  635 mm x 0.00338 x (11 % - 6.2 %) = 10.3 mm\n" in out
    assert "width x coefficient x (to - from)" in out


def test_the_full_citation_is_printed() -> None:
    _, out, _ = calc(*BIRCH)

    assert "Forest Products Laboratory. Wood Handbook" in out
    assert "ch. 13, eq. 13-2" in out


def test_the_number_may_be_given_instead_of_the_species() -> None:
    words = [*BIRCH[:1], "--coefficient", "0.00338", *BIRCH[3:]]

    assert "  0.406 in (10.3 mm)\n" in calc(*words)[1]


def test_a_number_given_outright_stands_before_the_table() -> None:
    """By hand: 25 in x 0.002 x 4.8 = 0.24 in."""
    assert "  0.24 in (6.1 mm)\n" in calc(*BIRCH, "--coefficient", "0.002")[1]


def test_names_may_be_typed_with_either_dash() -> None:
    assert calc("wood_movement", *BIRCH[1:])[1] == calc(*BIRCH)[1]


def test_an_option_may_carry_its_value_after_an_equals_sign() -> None:
    assert calc("wood-movement", "--species=yellow birch", "--width=25 in", "--from=6.2", "--to=11") == calc(*BIRCH)


def test_metric_stands_first_when_asked_for() -> None:
    _, out, _ = calc(*BIRCH, "--units", "metric")

    assert "  10.3 mm (0.406 in)\n" in out


def test_json_carries_value_working_and_sources() -> None:
    data = json.loads(calc(*BIRCH, "--format", "json")[1])

    assert data["value"]["text"] == "0.406 in"
    assert data["working"]["us"] == "25 in x 0.00338 x (11 % - 6.2 %) = 0.406 in"
    assert data["sources"][0]["key"] == "wood-handbook-2010"
    assert data["sources"][0]["citation"].startswith("Forest Products Laboratory.")
    assert data["looked_up"][0]["row"] == "yellow birch"


def test_a_profile_is_typed_as_place_and_measure() -> None:
    status, out, _ = calc("shim-heights", "--drops", "0 ft: 1-1/4 in, 3 ft: 1/2 in, 7 ft: 2 in")

    assert status == 0
    assert "shim at 7 ft" in out
    assert "2 in - 1/2 in = 1-1/2 in" in out


def test_a_list_may_be_repeated_or_separated_by_commas() -> None:
    commas = calc("farthest-from-receptacle", "--length", "60 in", "--positions", "18 in, 42 in")
    repeated = calc("farthest-from-receptacle", "--length", "60 in", "--positions", "18 in", "--positions", "42 in")

    assert commas == repeated
    assert "  18 in (457 mm)\n" in commas[1]


def test_a_presumed_word_is_shown_as_presumed() -> None:
    """The stricter plumbing code is presumed; 3 ft 6 in is UPC Table 1002.2."""
    _, out, _ = calc("longest-trap-arm", "--diameter", "1-1/2 in")

    assert "42 in (1,067 mm)" in out or "42 in (1.07 m)" in out
    assert "upc (presumed)" in out


def test_a_given_word_is_taken() -> None:
    _, out, _ = calc("longest-trap-arm", "--diameter", "1-1/2 in", "--code", "IRC")

    assert "  72 in (1.83 m)\n" in out or "  72 in (1,829 mm)\n" in out
    assert "presumed" not in out


def test_a_key_fills_every_input_that_shares_it() -> None:
    """One solvent gives density, molar mass and limits at once."""
    status, out, _ = calc(
        "airflow-for-fire-limit", "--solvent", "toluene", "--amount", "1 qt", "--solvent-fraction", "60 %",
        "--evaporation-time", "1 h",
    )  # fmt: skip

    assert status == 0
    assert out.count("toluene, ") == 3


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["wood-movment"], "no calculator is called 'wood-movment'. Did you mean 'wood-movement'?"),
        ([*BIRCH[:1], "--wdth", "25 in"], "wood-movement has no option '--wdth'. Did you mean '--width'?"),
        ([*BIRCH[:2], "yelow birch", *BIRCH[3:]], "in the table wood_species. Did you mean 'yellow birch'?"),
        ([*BIRCH[:3], "--width", "25 lb"], "--width '25 lb': Expected a length, such as '13 ft 6 in'."),
        ([*BIRCH[:3], "--width", "25"], "a number needs its unit"),
        ([*BIRCH[:3], "--width", "-25 in", *BIRCH[5:]], "width must be above 0 in"),
        ([*BIRCH, "--to", "12"], "--to is given 2 times; once is enough."),
        (BIRCH[:5], "wood-movement needs --from, --to."),
        (BIRCH[:-1], "--to needs a value, such as '8 %'."),
        ([*BIRCH, "stray"], "'stray' belongs to no option"),
        ([*BIRCH, "--units", "imperial"], "--units expects one of us, metric, not 'imperial'."),
        (["longest-trap-arm", "--code", "irx"], "of irc, upc, not 'irx'. Did you mean 'irc'?"),
        (["shim-heights", "--drops", "1 in, 2 in"], "--drops expects place and measure"),
        (["box-fill", "--size", "13", "--conductors", "4"], "no '13' in the table conductors."),
        (["--format", "xml"], "--format expects one of text, json, not 'xml'."),
    ],
)  # fmt: skip
def test_a_mistake_is_one_line_and_status_two(words, message) -> None:
    status, out, err = calc(*words)

    assert (status, out) == (2, "")
    assert message in err
    assert err.count("\n") == 1
    assert err.startswith("advisor calc: ")


def test_alone_it_lists_every_calculator_by_topic() -> None:
    status, out, _ = calc()
    lines = out.splitlines()

    assert status == 0
    assert [name for name in load_all() if f"  {name.replace('_', '-')} " not in out] == []
    assert lines.index("levelling") < lines.index("plumbing") < lines.index("wood")


def test_the_list_is_also_data() -> None:
    data = json.loads(calc("--format", "json")[1])

    assert sorted(row["name"].replace("-", "_") for row in data["calculators"]) == sorted(load_all())


@pytest.mark.parametrize("name", sorted(load_all()))
def test_every_calculator_explains_its_options(name) -> None:
    status, out, _ = calc(name.replace("_", "-"), "--help")
    inputs = [one.name.rstrip("_").replace("_", "-") for one in load_all()[name].inputs]

    assert status == 0
    assert [one for one in inputs if f"  --{one} " not in out] == []


@pytest.mark.parametrize("name", sorted(load_all()))
def test_no_input_takes_the_name_of_a_shared_option(name) -> None:
    taken = {one.name.rstrip("_") for one in load_all()[name].inputs}
    taken |= {one.column.key for one in load_all()[name].inputs if one.column}

    assert taken & {"units", "format", "help"} == set()

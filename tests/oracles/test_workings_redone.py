"""Every printed working, redone from its printed figures alone, gives the printed result.

What is read is the text of the reports over all scenarios and over the cases that name numbers; units come from pint.
`homes built 1940 to 1959: 1957` is no sum but a row of a table, and is looked up in the printed survey below.
"""

from __future__ import annotations

import ast
import json
import math
import operator
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pint
import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from rules.harness import cases, light_report, packs_with_cases

from advisor.plan import make_facts, read_plan
from advisor.reports.data import as_json, finding_data
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase, load_rulebase

SCENARIOS = sorted((Path(__file__).resolve().parents[2] / "scenarios").glob("*.yaml"))
REGISTRY = pint.UnitRegistry()
IN_PINT = {
    "in": "inch", "mil": "thou", "ug/sqft": "ug/ft**2", "ug/m3": "ug/m**3", "kg/m3": "kg/m**3", "lb/sqft": "lb/ft**2",
    "m3": "m**3", "mg/m3": "mg/m**3", "lb/cuft": "lb/ft**3", "days": "day",
    "cuft": "ft**3", "sqft": "ft**2", "cuin": "inch**3", "cfm": "ft**3/minute", "qt": "quart", "gal": "gallon",
    "in/ft": "inch/ft", "sqft/gal": "ft**2/gallon", "ft/min": "ft/minute", "ohm/kft": "ohm/kilofoot",
    "psi": "psi", "psf": "lbf/ft**2", "Btu/h": "Btu/hour", "ach": "1/hour", "Pa": "Pa", "/min": "1/minute",
}  # fmt: skip
PLAIN = {"ppm", "dBA", "g/mol", "°F", "°C", "sones", "deg", "USD", "$"}  # numbers whose unit the formula takes as it is
# What is looked up and not worked out, with the cell as published. Homes: the national survey of 1998 to 2000, as
# health pages quote it.
PUBLISHED = {
    "homes built before 1940: ": "87 %",
    "homes built 1940 to 1959: ": "69 %",
    "homes built 1960 to 1977: ": "24 %",
    "UPC table for a 1-1/2 in pipe": "42 in",  # UPC Table 1002.2: 3 ft 6 in
    "IRC table for a 1-1/2 in pipe": "72 in",  # IRC Table P3105.1: 6 ft
    "1 from 24 in by 12 in, else 0": "1",  # NFPA 70 (2017), 210.52(C)(2)
    "for a side of 24 in, 1/16 in in 24 in and in 10 ft (3 m)": "1/8 in",  # ANSI A108.02: any edge of 15 in or more
    "for a side of 6 in, 1/16 in in 12 in and in 10 ft (3 m)": "1/4 in",  # ANSI A108.02: all edges below 15 in
    "longest stock slide up to 22 in - 1/8 in - 0 in": "20 in",  # slides come in steps of 2 in
    "longest stock slide up to 22-1/8 in - 1/8 in - 0 in": "22 in",
}
# IRC M1901.1, G2447.5: 30 in to bare wood, 24 in with a shield; the sentence is the same for both.
HEIGHTS = {"30 in", "24 in"}
OPERATORS = {
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}  # fmt: skip


def of_unit(unit: str, percent: float) -> float:
    """What a number with that unit is to be multiplied by, in SI units."""
    if not unit or unit in PLAIN:
        return 1.0
    if unit == "%":
        return percent
    return float(REGISTRY.parse_expression(IN_PINT.get(unit, unit)).to_base_units().magnitude)


def number(text: str) -> float:
    """A printed number: `1,234.5`, `1-1/4`, `3/4`."""
    whole, _, part = text.rpartition("-") if "/" in text and "-" in text[1:] else ("", "", text)
    value = float(whole) if whole else 0.0
    top, _, bottom = part.partition("/")
    return value + (float(top.replace(",", "")) / float(bottom) if bottom else float(top.replace(",", "")))


NUMBER = r"-?\d[\d,]*(?:\.\d+)?(?:e-?\d+)?(?:-\d+/\d+|/\d+(?= in\b))?"
UNIT = r"(?: ?(%|°F|°C)| (m3|[A-Za-z]+(?:/[A-Za-z]+\d?)?)(?! ?[\d(])(?<! x)(?<! rounded)|(/min))?"


def redo(left: str, percent: float) -> float:
    """The left side of a working as a number in SI units, read as a person reads it."""
    for word, take in (("less of ", min), ("larger of ", max), ("largest of ", max), ("greatest of ", max)):
        if left.startswith(word):
            named = re.sub(r" \([a-z ]+\)", "", left.removeprefix(word))
            return float(take(redo(one, percent) for one in re.split(r", | and ", named)))
    if left.startswith("half of "):
        return redo(left.removeprefix("half of "), percent) / 2
    if ", rounded up, - 1" in left:
        return redo(left.replace(", rounded up, - 1", ", rounded up"), percent) - 1
    if left.endswith(", in metric x 9.81"):
        return redo(left.removesuffix(", in metric x 9.81"), percent) * 9.81
    if left.endswith(" BTU/h / 100 BTU/h for each cfm"):
        return number(left.partition(" ")[0]) / 100 * of_unit("cfm", percent)
    left = re.sub(r" \(\d+ lb/cuft\)", "", left)  # the same in another unit
    up = left.endswith(", rounded up")
    left = left.removesuffix(", rounded up")
    left = re.sub(r"e\^-(\d[\d.,]*)", lambda m: f"({math.exp(-number(m.group(1)))!r})", left)

    def plain(found: re.Match[str]) -> str:
        unit = next((g for g in found.groups()[1:] if g), "")
        if unit == "x":
            return f"{number(found.group(1))!r} x"
        return repr(number(found.group(1)) * of_unit(unit, percent))

    text = re.sub(f"(?<![\\w.])({NUMBER}){UNIT}", plain, left)
    text = text.replace(" x ", " * ").replace("^", "**")
    value = _sum(ast.parse(text.replace("ln(", "log("), mode="eval").body)
    return float(math.ceil(value - 1e-4)) if up else value


def _sum(node: ast.expr) -> float:
    if isinstance(node, ast.BinOp):
        return float(OPERATORS[type(node.op)](_sum(node.left), _sum(node.right)))
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "log":
        return math.log(_sum(node.args[0]))
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -_sum(node.operand)
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        return float(node.value)
    raise ValueError(ast.dump(node))


def printed(right: str) -> tuple[float, float]:
    """The printed result and half of its last printed place, in SI units."""
    found = re.fullmatch(f"({NUMBER}){UNIT}", right)
    assert found, right
    text, unit = found.group(1), next((g for g in found.groups()[1:] if g), "")
    factor = of_unit(unit, 0.01)
    value = number(text)
    if "/" in text:
        return value * factor, factor / 64
    mantissa, _, power = text.replace(",", "").partition("e")
    step = 10.0 ** -len(mantissa.partition(".")[2]) * 10 ** int(power or 0)
    if unit in ("%", "ug/sqft") and abs(value) >= 1000:  # rough figures: two of them count
        step = 10.0 ** (math.floor(math.log10(abs(value))) - 1)
    return value * factor, step / 2 * factor


def holds(working: str) -> bool:
    """Whether the left side comes to the right side as printed."""
    left, _, right = working.rpartition(" = ")
    if left == "least height above the cooking top":
        return right in HEIGHTS
    for row, cell in PUBLISHED.items():
        if left.startswith(row):
            return cell == right
    if " = " in left:  # a sum that is told in a second unit: dew point, heat index, milligrams
        left, _, between = left.partition(" = ")
        return any(agrees(left, between, p) for p in (0.01, 1.0)) and same(between, right)
    return any(agrees(left, right, percent) for percent in (0.01, 1.0))


def agrees(left: str, right: str, percent: float) -> bool:
    """Whether a sum comes to a printed result, as nearly as five printed figures allow."""
    want, half = printed(right)
    figures = [abs(number(n)) for n in re.findall(NUMBER, left)] if " - " in left else [0.0]
    unit = abs(want / number_of(right)) if number_of(right) else 0.0  # what a difference loses by rounded figures
    return abs(redo(left, percent) - want) <= half * 1.01 + abs(want) * 2e-4 + max(figures) * 5e-5 * unit


def number_of(right: str) -> float:
    """The printed number without its unit."""
    found = re.match(NUMBER, right)
    assert found, right
    return number(found.group(0))


def same(one: str, other: str) -> bool:
    """Whether two printed results are one: temperatures in degrees of either scale, weights in air as they are."""
    first, second = number_of(one), number_of(other)
    if one.endswith("°C") and other.endswith("°F"):
        first = first * 9 / 5 + 32
    if one.endswith("°F") and other.endswith("°C"):
        first = (first - 32) * 5 / 9
    if "°" not in one:
        (first, _), (second, _) = printed(one), printed(other)
    return math.isclose(first, second, rel_tol=6e-3, abs_tol=0.06)


@pytest.fixture(scope="module")
def rulebase() -> RuleBase:
    """The rules as they are shipped."""
    return load_rulebase()


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_workings_of_a_scenario_redone(path: Path, rulebase: RuleBase) -> None:
    report = json.loads(as_json(review_plan(read_plan(path, rulebase.vocabulary), rulebase)))
    shown = [n["working"] for f in report["findings"] for n in f["numbers"] if n.get("working")]

    assert [working for working in shown if not holds(working)] == []


def workings_of_cases(rulebase: RuleBase) -> Iterator[tuple[str, str]]:
    """Every working of the cases that name numbers, with the case."""
    for pack in packs_with_cases():
        for case in cases(pack):
            if not any("numbers" in one for one in case.spec.get("speaks", [])):
                continue
            plan = read_plan(case.plan, rulebase.vocabulary)
            report = light_report(plan, make_facts(plan, rulebase.vocabulary), rulebase)
            for finding in report.findings:
                for one in finding_data(finding, plan.units)["numbers"]:
                    if one.get("working"):
                        yield f"{pack}: {case.name}", one["working"]


def test_workings_of_the_cases_redone(rulebase: RuleBase) -> None:
    shown = sorted(set(workings_of_cases(rulebase)))

    assert len(shown) > 200
    assert [one for one in shown if not holds(one[1])] == []


@pytest.mark.parametrize(
    "wrong",
    [
        "25 in x 0.00338 x 4.8 % = 0.45 in",
        "2.25 cuft / 936 cuft / 0.8 % = 31 %",
        "160 lb / 51 lb, rounded up = 3",
        "homes built 1940 to 1959: 1957 = 87 %",
    ],
)
def test_a_sum_that_is_wrong_is_seen(wrong: str) -> None:
    assert not holds(wrong)

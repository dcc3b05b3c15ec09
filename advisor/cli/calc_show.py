"""What `advisor calc` prints: the list, the help of one calculator, a result as text or as data."""

from __future__ import annotations

import json
from functools import lru_cache
from itertools import groupby
from typing import Any

import yaml

from advisor.calculators import Calculator, Part, Result
from advisor.calculators._base import Input
from advisor.cli.calc_options import LookedUp, Request, example, plain
from advisor.showing import both, show
from advisor.tables import Row, rules_folder

CAUTION = "Arithmetic for planning, no leave to start: local code, product label and licensed trades decide."


def listing(calculators: dict[str, Calculator], form: str) -> str:
    """All calculators by topic, one line each."""
    ordered = sorted(calculators.values(), key=lambda one: (one.topic, one.name))
    if form == "json":
        rows = [{"name": plain(one.name), "topic": one.topic, "summary": one.summary} for one in ordered]
        return json.dumps({"schema": 1, "calculators": rows}, indent=2, ensure_ascii=False)
    width = max(len(one.name) for one in ordered)
    lines = []
    for topic, ones in groupby(ordered, key=lambda one: one.topic):
        lines += [topic, *(f"  {plain(one.name):{width}}  {one.summary}" for one in ones), ""]
    return "\n".join([*lines, "'advisor calc NAME --help' shows the options of one."])


def explain(calculator: Calculator) -> str:
    """The help of one calculator: what it is, its options and its sources."""
    rows = []
    for one in calculator.inputs:
        rows.append((f"--{plain(one.name)}", _hint(one, example(one))))
        if one.column:
            rows.append((f"  or --{plain(one.column.key)}", f"a row of the table {one.column.table}"))
    rows += [("--units", "us or metric"), ("--format", "text or json")]
    width = max(len(name) for name, _ in rows)
    options = [f"  {name:{width}}  {text}" for name, text in rows]
    cited = [f"  {cite(source)}" for source in calculator.sources]
    return "\n".join(
        [f"{plain(calculator.name)}: {calculator.summary}", "", "Options", *options, "", "Sources", *cited]
    )


def _hint(one: Input, sample: str) -> str:
    text = "one of " + ", ".join(one.words) if one.words else f"such as {sample}"
    text += f", {one.range}" if one.range else ""
    return text if one.required else f"{text} (may be left out)"


def result_text(calculator: Calculator, request: Request, result: Result) -> str:
    """The value, what it was made of, the formula, the working in both systems, the sources."""
    system, other = (request.units, "metric" if request.units == "us" else "us")
    lines = [
        f"{plain(calculator.name)}: {calculator.summary}",
        f"  {both(result.value, result.dimension, system)}",
    ]
    if result.inputs or _words(calculator, request):
        lines += ["", "From", *_rows([*_shown(result.inputs, system), *_words(calculator, request)])]
    found = [f"  {plain(one.input)}: {one.row.key}, {_origin(one.row)}" for one in request.looked_up]
    lines += ["", "Looked up", *found] if found else []
    lines += ["", "Formula", f"  {result.in_words}", "", "Working", f"  {result.working(system)}"]
    if result.working(other) != result.working(system):
        lines.append(f"  {result.working(other)}")
    if result.parts:
        lines += ["", "Parts", *_rows(_shown(result.parts, system))]
    lines += ["", "Sources", *(f"  {cite(source)}" for source in result.sources), "", CAUTION]
    return "\n".join(lines)


def _shown(parts: tuple[Part, ...], system: str) -> list[tuple[str, str]]:
    return [(part.label(system), both(part.value, part.dimension, system)) for part in parts]


def _rows(rows: list[tuple[str, str]]) -> list[str]:
    width = max(len(name) for name, _ in rows)
    return [f"  {name:{width}}  {text}" for name, text in rows]


def _words(calculator: Calculator, request: Request) -> list[tuple[str, str]]:
    """Inputs that are words, given or presumed: a result carries numbers only."""
    found = []
    for one in calculator.inputs:
        if one.words:
            presumed = "" if one.name in request.arguments else " (presumed)"
            found.append((plain(one.name), f"{request.arguments.get(one.name, one.default)}{presumed}"))
    return found


def _origin(row: Row) -> str:
    if not row.source.key:
        return "common practice"
    return f"{row.source.key} {row.source.at} [{row.verified}]".replace("  ", " ")


def result_json(calculator: Calculator, request: Request, result: Result) -> str:
    """The same as data; `base` is the value in the base unit of its dimension."""
    data = {
        "schema": 1,
        "calculator": plain(calculator.name),
        "topic": calculator.topic,
        "value": _number(result.value, result.dimension, request.units),
        "inputs": [{"name": part.name, **_part(part, request.units)} for part in result.inputs],
        "words": {one.name: request.arguments.get(one.name, one.default) for one in calculator.inputs if one.words},
        "looked_up": [_origin_data(one) for one in request.looked_up],
        "formula": result.in_words,
        "working": {system: result.working(system) for system in ("us", "metric")},
        "parts": [{"name": part.name, **_part(part, request.units)} for part in result.parts],
        "sources": [_source_data(source) for source in result.sources],
        "caution": CAUTION,
    }
    return json.dumps(data, indent=2, ensure_ascii=False)


def _origin_data(one: LookedUp) -> dict[str, str]:
    row = one.row
    return {
        "input": one.input,
        "table": one.table,
        "row": row.key,
        "source": row.source.key,
        "at": row.source.at,
    }


def _source_data(source: str) -> dict[str, str]:
    key, at = _split(source)
    return {"key": key, "at": at, "citation": cite(source)}


def _part(part: Part, system: str) -> dict[str, Any]:
    found = _number(part.value, part.dimension, system)
    return found if part.at is None else {**found, "at": _number(part.at, "length", system)}


def _number(value: float, dimension: str, system: str) -> dict[str, Any]:
    shown = show(value, dimension, system)
    return {"number": shown.number, "unit": shown.unit, "text": shown.text, "base": value}


def _split(source: str) -> tuple[str, str]:
    key, _, at = source.partition(": ")
    return key, at


def cite(source: str) -> str:
    """`key: place` as the full citation with its place; a key that is in no bibliography as itself."""
    key, at = _split(source)
    work = _bibliography().get(key)
    return source if work is None else f"{work} {at}".rstrip()


@lru_cache(maxsize=1)
def _bibliography() -> dict[str, str]:
    """Citations by key, read without the rule base, which a calculation has no need to load."""
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    text = (rules_folder() / "sources.yaml").read_text(encoding="utf-8")
    return {key: str(work["cite"]) for key, work in yaml.load(text, Loader=loader).items()}

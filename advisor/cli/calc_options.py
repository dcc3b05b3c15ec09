"""The options of `advisor calc`, derived from each calculator's inputs. Every mistake is one line."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec import Struct, field

from advisor.calculators import Calculator, find, load_all
from advisor.calculators._base import Column, Input
from advisor.errors import clip, did_you_mean
from advisor.tables import Row, table
from advisor.units import BadQuantity, read_quantity

SHARED = {"units": ("us", "metric"), "format": ("text", "json")}


class OptionError(ValueError):
    """A mistake on the command line; the message is one line that says what was expected."""


class LookedUp(Struct, frozen=True):
    """A value that a table gave: which input it fills and the row that it came from."""

    input: str
    table: str
    row: Row


class Request(Struct):
    """What was asked: the arguments of the function, and how to show the result."""

    arguments: dict[str, Any] = field(default_factory=dict)
    looked_up: list[LookedUp] = field(default_factory=list)
    units: str = "us"
    form: str = "text"


def plain(name: str) -> str:
    """A name of the code as it is typed: `from_` is `from`, `to_moisture` is `to-moisture`."""
    return name.rstrip("_").replace("_", "-")


def find_calculator(word: str) -> Calculator:
    """The calculator of that name, typed with - or _; OptionError with the nearest name otherwise."""
    try:
        return find(word.replace("-", "_"))
    except KeyError:
        near = did_you_mean(word, [plain(name) for name in load_all()])
        raise OptionError(f"no calculator is called '{clip(word)}'.{near}") from None


def one_of(option: str, word: str, words: Iterable[str]) -> str:
    """The word among `words` that was meant, letter case aside; OptionError otherwise."""
    known = {w.lower(): w for w in words}
    if word.strip().lower() in known:
        return known[word.strip().lower()]
    wanted = ", ".join(known.values())
    raise OptionError(f"{option} expects one of {wanted}, not '{clip(word)}'.{did_you_mean(word, known)}")


def read_request(calculator: Calculator, args: list[str]) -> Request:
    """What was typed after the calculator's name as its arguments; OptionError at the first mistake."""
    direct = {plain(one.name): one for one in calculator.inputs}
    keyed: dict[str, list[Input]] = {}
    for one in calculator.inputs:
        if one.column:
            keyed.setdefault(plain(one.column.key), []).append(one)
    given = _pairs(calculator, args, [*direct, *keyed, *SHARED])
    request = Request()
    for name, texts in given.items():
        if name in SHARED:
            word = one_of(f"--{name}", _single(name, texts), SHARED[name])
            request.units, request.form = (word, request.form) if name == "units" else (request.units, word)
        elif name in direct:
            request.arguments[direct[name].name] = _value(direct[name], name, texts)
    for name, inputs in keyed.items():
        if name in given and name not in direct:
            _look_up(request, inputs, name, given[name])
    _check_complete(calculator, request)
    return request


def _pairs(calculator: Calculator, args: list[str], known: list[str]) -> dict[str, list[str]]:
    """The options typed, each with its texts: `--name text` or `--name=text`, in any order."""
    found: dict[str, list[str]] = {}
    rest = list(args)
    while rest:
        word = rest.pop(0)
        if not word.startswith("--") or len(word) < 3:
            raise OptionError(f"'{clip(word)}' belongs to no option; values follow '--name' and need quotes if spaced.")
        typed, equals, text = word[2:].partition("=")
        name = typed.replace("_", "-").rstrip("-").lower()
        if name not in known:
            near = did_you_mean(name, known).replace("'", "'--", 1)
            raise OptionError(f"{plain(calculator.name)} has no option '--{clip(typed)}'.{near}")
        if not equals:
            if not rest or rest[0].startswith("--"):
                raise OptionError(f"--{name} needs a value{_example(calculator, name)}.")
            text = rest.pop(0)
        found.setdefault(name, []).append(text)
    return found


def _example(calculator: Calculator, name: str) -> str:
    one = next((i for i in calculator.inputs if plain(i.name) == name), None)
    return f", such as {example(one)}" if one else ""


def example(one: Input) -> str:
    """What to write for an input."""
    from advisor.showing import show
    from advisor.units import DIMENSIONS, read_quantity

    if one.words:
        return f"'{one.words[0]}'"
    if one.dimension == "profile":
        return "'0 ft: 1-1/4 in, 3 ft: 1/2 in'"
    text = DIMENSIONS[one.dimension][3] if one.dimension else "a word"
    if one.within is not None and one.dimension is not None:
        limits = one.within
        if not limits.low <= read_quantity(text, one.dimension).si <= limits.high:
            text = show((limits.low + limits.high) / 2, one.dimension).text
    return f"'{text}, {text}'" if one.many else f"'{text}'"


def _single(name: str, texts: list[str]) -> str:
    if len(texts) > 1:
        raise OptionError(f"--{name} is given {len(texts)} times; once is enough.")
    return texts[0]


def _value(one: Input, name: str, texts: list[str]) -> Any:
    if one.words:
        return one_of(f"--{name}", _single(name, texts), one.words)
    if one.dimension is None:
        return _single(name, texts)
    if one.dimension == "profile":
        return _profile(name, ",".join(texts))
    if one.many:
        pieces = [piece for text in texts for piece in text.split(",")]
        return tuple(_quantity(name, piece, one.dimension) for piece in pieces)
    return _quantity(name, _single(name, texts), one.dimension)


def _profile(name: str, text: str) -> tuple[tuple[float, float], ...]:
    found = []
    for piece in text.split(","):
        place, colon, value = piece.partition(":")
        if not colon:
            raise OptionError(f"--{name} expects place and measure, such as '0 ft: 1-1/4 in, 3 ft: 1/2 in'.")
        found.append((_quantity(name, place, "length"), _quantity(name, value, "length")))
    return tuple(sorted(found))


def _quantity(name: str, text: str, dimension: str) -> float:
    try:
        return read_quantity(text.strip(), dimension).si
    except BadQuantity as error:
        raise OptionError(f"--{name} '{clip(text.strip())}': {error}") from error


def _look_up(request: Request, inputs: list[Input], name: str, texts: list[str]) -> None:
    """Fill every input that shares this key from its table row, except those that were given outright."""
    for one in inputs:
        if one.name in request.arguments or one.column is None:
            continue
        text = _single(name, texts) if not one.many else ",".join(texts)
        rows = [_row(name, piece, one.column) for piece in (text.split(",") if one.many else [text])]
        cells = [row.cells.get(one.column.column) for row in rows]
        if None in cells:
            gap = f"the table {one.column.table} gives no {one.column.column} for '{clip(text)}'"
            raise OptionError(f"{gap}: use --{plain(one.name)}.")
        request.arguments[one.name] = tuple(cells) if one.many else cells[0]
        request.looked_up += [LookedUp(one.name, one.column.table, row) for row in rows]


def _row(name: str, text: str, column: Column) -> Row:
    rows = table(column.table)
    row = rows.row(text)
    if row is None:
        known = [*rows.rows, *rows.aliases]
        near = did_you_mean(text, known) or f" See the table {column.table}."
        raise OptionError(f"--{name}: no '{clip(text)}' in the table {column.table}.{near}")
    return row


def _check_complete(calculator: Calculator, request: Request) -> None:
    missing = []
    for one in calculator.inputs:
        if one.required and one.name not in request.arguments:
            choice = f" (or --{plain(one.column.key)})" if one.column else ""
            missing.append(f"--{plain(one.name)}{choice}")
    if missing:
        raise OptionError(f"{plain(calculator.name)} needs {', '.join(missing)}.")

"""What every calculator shares: the result with its working, range checks, units of inputs, the register.

A calculator is a pure function on plain floats in base units (`advisor.units.DIMENSIONS`). Its annotations
say the dimension of each input, so that the command line and the rules can read quantities for it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache, wraps
from math import isfinite
from typing import Annotated, Any, TypeVar, get_type_hints

from msgspec import Struct

from advisor.showing import show, show_input, show_place
from advisor.units import DIMENSIONS


class Unit(Struct, frozen=True):
    """The dimension of a calculator's input (a key of `advisor.units.DIMENSIONS`)."""

    dimension: str


class Column(Struct, frozen=True):
    """An input that may be looked up in a published table: `--species "red oak"` instead of the number."""

    table: str
    column: str
    key: str


class OneOf(Struct, frozen=True):
    """An input that is one of a few words."""

    words: tuple[str, ...]


class Between(Struct, frozen=True):
    """The range in which an input makes sense, in base units: from `low` up to `high`."""

    low: float
    high: float


class Above(Between, frozen=True):
    """The same without `low` itself."""


Length = Annotated[float, Unit("length")]
Area = Annotated[float, Unit("area")]
Volume = Annotated[float, Unit("volume")]
Liquid = Annotated[float, Unit("liquid")]
Mass = Annotated[float, Unit("mass")]
Time = Annotated[float, Unit("time")]
Temperature = Annotated[float, Unit("temperature")]
Airflow = Annotated[float, Unit("airflow")]
Current = Annotated[float, Unit("current")]
Voltage = Annotated[float, Unit("voltage")]
Power = Annotated[float, Unit("power")]
Fraction = Annotated[float, Unit("fraction")]
Moisture = Annotated[float, Unit("moisture")]
Slope = Annotated[float, Unit("slope")]
Number = Annotated[float, Unit("number")]
Money = Annotated[float, Unit("money")]
SoundLevel = Annotated[float, Unit("sound_level")]
Angle = Annotated[float, Unit("angle")]
MolarMass = Annotated[float, Unit("molar_mass")]
TemperatureStep = Annotated[float, Unit("temperature_step")]
Pressure = Annotated[float, Unit("pressure")]
Density = Annotated[float, Unit("density")]
Ppm = Annotated[float, Unit("ppm")]
AirChanges = Annotated[float, Unit("air_changes")]
AirSpeed = Annotated[float, Unit("air_speed")]
Draft = Annotated[float, Unit("draft")]
SpreadingRate = Annotated[float, Unit("spreading_rate")]
DustLevel = Annotated[float, Unit("dust_concentration")]
BoxVolume = Annotated[float, Unit("box_volume")]
Resistance = Annotated[float, Unit("resistance")]
# Places along a run and what was measured there, in order of place: ((0.0, 0.0127), (0.9, 0.0)) in metres.
Profile = Annotated[tuple[tuple[float, float], ...], Unit("profile")]
# Several values of one dimension, such as the loads on a circuit.
Lengths = Annotated[tuple[float, ...], Unit("length")]
Numbers = Annotated[tuple[float, ...], Unit("number")]
Times = Annotated[tuple[float, ...], Unit("time")]
SoundLevels = Annotated[tuple[float, ...], Unit("sound_level")]
Powers = Annotated[tuple[float, ...], Unit("power")]
Areas = Annotated[tuple[float, ...], Unit("area")]
Moneys = Annotated[tuple[float, ...], Unit("money")]
Ppms = Annotated[tuple[float, ...], Unit("ppm")]


class OutOfRange(ValueError):
    """An input outside the range in which the method holds."""

    def __init__(self, name: str, message: str) -> None:
        super().__init__(f"{name.rstrip('_').replace('_', ' ')} {message}")
        self.name = name


class Part(Struct, frozen=True):
    """One of several values that a calculator gives, with its name; `at` is its place along a run [m].

    `formula` is its own, where one can be told without the rest.
    """

    name: str
    value: float
    dimension: str
    at: float | None = None
    formula: str = ""

    def label(self, system: str = "us") -> str:
        """The name with its place, in the reader's units."""
        name = self.name.replace("_", " ")
        return name if self.at is None else f"{name} at {show_place(self.at, system)}".strip()


class Result(Struct, frozen=True):
    """A value with what it was made of.

    `formula` names inputs, and parts made on the way, in braces: ``{width} x {coefficient} x ({to} - {from})``.
    Without the braces it is the formula in words; with the values put in it is the working.
    """

    value: float
    dimension: str
    formula: str
    inputs: tuple[Part, ...] = ()
    parts: tuple[Part, ...] = ()
    sources: tuple[str, ...] = ()

    @property
    def in_words(self) -> str:
        """The formula with names instead of values."""
        return re.sub(r"\{(\w[^{}]*)\}", lambda m: m.group(1).replace("_", " "), self.formula)

    def working(self, system: str = "us") -> str:
        """The formula with the values put in and the result after it, in `us` or `metric` units."""
        values = {p.name: show_input(p.value, p.dimension, system) for p in (*self.inputs, *self.parts)}
        filled = re.sub(r"\{(\w[^{}]*)\}", lambda m: values.get(m.group(1), m.group(1)), self.formula)
        return f"{filled} = {show(self.value, self.dimension, system).text}"

    def part(self, name: str) -> Part:
        """The part of that name; KeyError if there is none."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)


class Input(Struct, frozen=True):
    """One input of a calculator as the command line and the rule base see it."""

    name: str
    dimension: str | None
    column: Column | None
    words: tuple[str, ...]
    many: bool
    default: Any
    required: bool
    within: Between | None = None

    @property
    def range(self) -> str:
        """The range in words, in the units of the trade; empty where none is declared."""
        if self.within is None or self.dimension is None:
            return ""
        word = "above" if isinstance(self.within, Above) else "from"
        low, high = (show(limit, self.dimension).text for limit in (self.within.low, self.within.high))
        return f"{word} {low} up to {high}"


class Calculator(Struct, frozen=True):
    """A registered calculator."""

    name: str
    topic: str
    dimension: str
    sources: tuple[str, ...]
    function: Callable[..., Result]
    read: Callable[[], tuple[Input, ...]]
    summary: str

    @property
    def inputs(self) -> tuple[Input, ...]:
        """Its inputs; read from its annotations when they are first asked for, as that takes longer than a sum."""
        return self.read()


REGISTER: dict[str, Calculator] = {}
Function = TypeVar("Function", bound=Callable[..., Result])


def calculator(topic: str, result: str, sources: tuple[str, ...]) -> Callable[[Function], Function]:
    """Register a function as the calculator of its name.

    `result` is the dimension of its value; each source is ``key: place`` with a key of rules/sources.yaml,
    or ``common practice``. An input says once, in its annotation, what it is and within which range it holds: from
    there it is checked before the function runs, told with the result unless the function tells its inputs itself,
    explained by `advisor calc`, and known to the lint of the rules.
    """
    if result not in DIMENSIONS:
        raise KeyError(result)

    def register(function: Function) -> Function:
        @cache
        def inputs() -> tuple[Input, ...]:
            return _inputs(function)

        @wraps(function)
        def checked(*args: Any, **kwargs: Any) -> Result:
            given = dict(zip([one.name for one in inputs()], args, strict=False)) | kwargs
            for one in inputs():
                if one.within is not None:
                    check(one, given.get(one.name, one.default))
            outcome = function(*args, **kwargs)
            made = outcome.inputs or tuple(
                Part(one.name, given.get(one.name, one.default), one.dimension)
                for one in inputs()
                if one.dimension and not one.many
            )
            return Result(outcome.value, outcome.dimension, outcome.formula, made, outcome.parts, sources)

        REGISTER[function.__name__] = Calculator(
            function.__name__,
            topic,
            result,
            sources,
            checked,
            inputs,
            (function.__doc__ or "").strip().splitlines()[0],
        )
        return checked  # type: ignore[return-value]

    return register


def _inputs(function: Callable[..., Result]) -> tuple[Input, ...]:
    import inspect

    hints = get_type_hints(function, include_extras=True)
    found = []
    for name, parameter in inspect.signature(function).parameters.items():
        marks = getattr(hints[name], "__metadata__", ())
        unit = next((m for m in marks if isinstance(m, Unit)), None)
        column = next((m for m in marks if isinstance(m, Column)), None)
        words = next((m.words for m in marks if isinstance(m, OneOf)), ())
        base = str(getattr(hints[name], "__origin__", hints[name]))
        required = parameter.default is inspect.Parameter.empty
        found.append(
            Input(
                name,
                unit.dimension if unit else None,
                column,
                words,
                base.startswith("tuple"),
                None if required else parameter.default,
                required,
                next((m for m in marks if isinstance(m, Between)), None),
            )
        )
    return tuple(found)


def check(one: Input, value: float | None) -> None:
    """OutOfRange where a value lies outside the range that its input declares; none given is none to check."""
    if value is not None and one.within is not None and one.dimension is not None:
        need(one.name, value, one.within.low, one.within.high, one.dimension, isinstance(one.within, Above))


def need(name: str, value: float, low: float, high: float, dimension: str, open_low: bool = False) -> float:
    """`value` if low <= value <= high (low < value where `open_low`); OutOfRange naming the limits otherwise."""
    fine = (low < value if open_low else low <= value) and value <= high
    if not isfinite(value):
        raise OutOfRange(name, "must be a number")
    if not fine:
        least, most = show(low, dimension).text, show(high, dimension).text
        word = "above" if open_low else "from"
        raise OutOfRange(name, f"must be {word} {least} up to {most}, got {show(value, dimension).text}")
    return value

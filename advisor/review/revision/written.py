"""What an advice writes into a plan: things, which each reader puts in words of its own."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct


class StepAdded(Struct, frozen=True):
    """A step that stands `before` or `after` another now."""

    step: str
    where: str
    other: str


class ThingToGet(Struct, frozen=True):
    """An entry of `to_get`, with how the thing should be; `too`: it stood there, for other steps."""

    what: str
    details: str
    steps: tuple[str, ...]
    too: bool = False


class ThingToFindOut(Struct, frozen=True):
    """An entry of `to_find_out`."""

    ask: str


class TwoWays(Struct, frozen=True):
    """A step that is done where a test finds nothing, and the step that is done else."""

    step: str
    test: str
    other: str


class ValueWritten(Struct, frozen=True):
    """Anything else, as it stands in the plan."""

    words: str


Written = StepAdded | ThingToGet | ThingToFindOut | TwoWays | ValueWritten


def in_short(written: Sequence[Written]) -> str:
    """All of it in one line, by the names that the plan gives its steps and things."""
    return "; ".join(_short(one) for one in written)


def _short(one: Written) -> str:
    match one:
        case StepAdded():
            return f"new step {one.step} {one.where} {one.other}"
        case ThingToGet():
            details = f" ({one.details})" if one.details else ""
            return f"to get {one.what}{details} for {', '.join(one.steps) or 'the work'}{' too' if one.too else ''}"
        case ThingToFindOut():
            return f"to find out: {one.ask}"
        case TwoWays():
            return f"{one.step} only if {one.test} finds nothing, else {one.other}"
        case ValueWritten():
            return one.words

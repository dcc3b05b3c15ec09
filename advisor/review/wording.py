"""What a finding says: the rule's sentences, and the values that stand in them.

They are kept apart, so that a report can say a practice once and name all the parts that it is for.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from advisor.plain import Plain
from advisor.review.metric import localized
from advisor.rulebase.countries import HOME
from advisor.rulebase.model import PLACEHOLDER
from advisor.showing import System, both
from advisor.units import DIMENSIONS, from_base

_ABOUT = re.compile("(about )?" + PLACEHOLDER.pattern)


class ShownVariable(Struct, frozen=True):
    """A variable in the sentences: its type, and its values as a reader sees them."""

    kind: str
    values: tuple[str, ...]


class Wording(Struct, frozen=True):
    """Sentences with their variables. The keys of `shown` are `name`, or `about name` where that stands before it."""

    what: str
    because: str
    controls: tuple[tuple[str, str], ...]
    shown: tuple[tuple[str, ShownVariable], ...]

    def fill(self, text: str) -> str:
        """One of the sentences with the values put in; several are joined by commas and 'and'."""
        shown = dict(self.shown)
        filled = _ABOUT.sub(lambda m: (m.group(1) or "") + listed(shown[_name(m)].values), text)
        begins = _ABOUT.match(text)
        if begins and not begins.group(1) and not shown[_name(begins)].kind.startswith("ref:"):
            return filled[:1].upper() + filled[1:]  # the names of parts are left as the author wrote them
        return filled

    def filled(self) -> tuple[str, str, tuple[tuple[str, str], ...]]:
        """What is said, why, and the controls, with the values put in."""
        controls = tuple((level, self.fill(text)) for level, text in self.controls)
        return self.fill(self.what), self.fill(self.because), controls


def wording(
    what: str,
    because: str,
    controls: tuple[tuple[str, str], ...],
    matches: Sequence[Mapping[str, Plain]],
    types: Mapping[str, str],
    units: str,
    pack: str = "",
) -> Wording:
    """The sentences with what the variables stand for in any of the matches."""
    what, because = localized(what, units, pack), localized(because, units, pack)
    controls = tuple((level, localized(text, units, pack)) for level, text in controls)
    shown: dict[str, ShownVariable] = {}
    for text in (what, because, *(text for _, text in controls)):
        for found in _ABOUT.finditer(text):
            name = found.group(2)
            kind = types.get(name, "text")
            # What is worked out is no better than its table: `about` tells a weight to two figures, a share in times.
            show = _ABOUT_KIND.get(kind, show_value) if found.group(1) else show_value
            values = {show(env[name], kind, units) for env in matches if name in env}
            shown[_name(found)] = ShownVariable(kind, tuple(sorted(values)))
    return Wording(what, because, controls, tuple(sorted(shown.items())))


def joined(one: Wording, other: Wording) -> Wording | None:
    """One wording for both, where they say the same, if of different parts; else None."""
    if (one.what, one.because, one.controls) != (other.what, other.because, other.controls):
        return None
    pairs = [(name, mine, theirs) for (name, mine), (_, theirs) in zip(one.shown, other.shown, strict=True)]
    differing = [(name, mine, theirs) for name, mine, theirs in pairs if mine != theirs]
    if not differing:
        return one
    if len(differing) != 1 or differing[0][1].kind not in ("ref:part", "ref:product"):
        return None
    ((name, mine, theirs),) = differing
    both_values = ShownVariable(mine.kind, tuple(sorted({*mine.values, *theirs.values})))
    return replace(one, shown=tuple((n, both_values if n == name else s) for n, s in one.shown))


def _name(found: re.Match[str]) -> str:
    return (found.group(1) or "") + found.group(2)


def show_value(value: Plain, kind: str, units: str) -> str:
    """A value of a variable as text for a reader."""
    if isinstance(value, tuple):
        return listed([show_value(v, kind.removeprefix("list:"), units) for v in value])
    if kind in ("count", "year") and isinstance(value, int | float):
        return f"{value:.0f}"
    if kind in DIMENSIONS and isinstance(value, int | float):
        return both(float(value), kind, units)
    # Words of the vocabulary and of tables are the program's own; names are the author's.
    elsewhere = isinstance(units, System) and units.country != HOME
    return localized(str(value), units) if elsewhere and (kind == "text" or kind.startswith("term")) else str(value)


def about_mass(value: Plain, kind: str, units: str) -> str:
    """A mass [kg] to two figures in either system: `2,100 lb (940 kg)`."""
    if not isinstance(value, int | float):
        return show_value(value, kind, units)
    names = ("lb", "kg") if units == "us" else ("kg", "lb")
    first, second = (f"{float(f'{from_base(value, name, kind):.2g}'):,.10g} {name}" for name in names)
    return first if isinstance(units, System) and units.alone else f"{first} ({second})"


def about_share(value: Plain, kind: str, units: str) -> str:
    """A share above the whole, as people say it: `5 times`; near the whole to three figures."""
    if not isinstance(value, int | float) or value <= 1:
        return show_value(value, kind, units)
    return f"{float(f'{value:.3g}' if value < 1.1 else f'{value:.2g}'):,.10g} times"


_ABOUT_KIND = {"mass": about_mass, "fraction": about_share}


def every_sentence(text: str) -> list[str]:
    """The sentences of a text; what is written small after a stop goes on with the one before."""
    return re.split(r"(?<=[.!?])\s+(?=[A-Z])", text)


def listed(words: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else ""

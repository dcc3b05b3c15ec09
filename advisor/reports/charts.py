"""Charts of the numbers that people would rather look at than read. Each carries a table as its equal.

A chart is made where a finding's number has the parts that the drawing needs; which calculator made it does
not matter.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from advisor.calculators import Result
from advisor.reports import svg
from advisor.reports.vapour_chart import vapour_drawing
from advisor.review.finding import Finding
from advisor.showing import show, show_place

_MOST_BARS = 24
_MOST_TILES = 80


class Chart(Struct, frozen=True):
    """A drawing with the table that says the same; `summary` says in a sentence what both show."""

    kind: str
    title: str
    summary: str
    svg: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def charts_of(finding: Finding, units: str) -> list[Chart]:
    """The charts of a finding's numbers, each kind once."""
    found: dict[str, Chart] = {}
    results = [n.working for n in finding.numbers if n.working]
    for result in results:
        for draw in _DRAWN:
            chart = draw(result, results, units)
            if chart is not None:
                found.setdefault(chart.kind, chart)
    return [found[kind] for kind in sorted(found)]


def _named(result: Result) -> dict[str, float]:
    return {p.name: p.value for p in (*result.inputs, *result.parts) if p.at is None}


def _shims(result: Result, results: list[Result], units: str) -> Chart | None:
    """Cabinets before shimming as a line below the level of the high point; the shims fill what is between."""
    shims = [(p.at, p.value) for p in result.parts if p.name == "shim" and p.at is not None]
    if len(shims) < 2:
        return None
    left, right, top, deep = 30.0, svg.WIDTH - 30.0, 40.0, 90.0
    start, end = shims[0][0], shims[-1][0]
    most = max(height for _, height in shims) or 1.0
    spots = [(left + (at - start) / (end - start) * (right - left), top + height / most * deep) for at, height in shims]
    drawn = [svg.line([(left - 20, top), (right + 20, top)], "6 3"), svg.text(left - 20, top - 22, "level line")]
    shown = [(show_place(at, units), show(height, "length", units).text) for at, height in shims]
    last = -99.0
    for (x, y), (place, height) in zip(spots, shown, strict=True):
        drawn.append(svg.box(x - 5, top, 10, y - top))
        if x - last >= 44:  # lettering would run together
            drawn += [svg.text(x, top - 6, height, "middle"), svg.text(x, top + deep + 22, place, "middle")]
            last = x
    drawn.append(svg.line(spots, width=2))
    drawn.append(svg.text(left - 20, top + deep + 40, "grey: shim height; thick line: tops as they stand"))
    summary = "Shim heights along the run: " + ", ".join(f"{h} at {p}" for p, h in shown) + "."
    picture = svg.picture(top + deep + 48, drawn, summary)
    return Chart("shims", "Shims along the run", summary, picture, ("Place along the run", "Shim"), tuple(shown))


def _noise(result: Result, results: list[Result], units: str) -> Chart | None:
    """A bar for each tool's share of a day's noise, and one for all, against the line of a full day."""
    parts = _named(result)
    if "allowed_1" not in parts or "osha_dose" not in parts:
        return None
    rows, shares = [], []
    for n in range(1, 1 + sum(name.startswith("allowed_") for name in parts)):
        level, time, allowed = (parts[f"{word}_{n}"] for word in ("level", "time", "allowed"))
        shares.append(time / allowed)
        said = (show(level, "sound_level", units).text, show(time, "time", units).text)
        rows.append((*said, show(allowed, "time", units).text, show(shares[-1], "fraction", units).text))
    rows.append(("all together", "", "", show(result.value, "fraction", units).text))
    shares.append(result.value)
    bars = list(zip(rows, shares, strict=True))[-_MOST_BARS:]
    left, room, step = 8.0, svg.WIDTH - 90.0, 40.0
    scale = room / max(*shares, 1.0)
    full = left + scale
    bottom = 24 + len(bars) * step
    drawn = [svg.text(full, 12, "a full day: 100 %", "start" if full < 60 else "middle" if full < 280 else "end")]
    words: list[str] = []
    for place, (row, share) in enumerate(bars):
        y = 22 + place * step
        drawn.append(svg.box(left, y + 16, share * scale, 14))
        words += [svg.text(left, y + 12, f"{row[0]} for {row[1]}" if row[1] else row[0])]
        words += [svg.text(left + share * scale + 5, y + 28, row[3])]
        drawn.append(svg.line([(full, y + 15), (full, y + 32)], "4 2", 2))
    drawn += words
    summary = f"Noise makes {rows[-1][3]} of what ears bear in a day."
    header = ("Noise at the ear", "Time", "Time that makes a full day", "Share of a day's noise")
    picture = svg.picture(bottom + 4, drawn, summary)
    return Chart("noise", "Noise dose of the day", summary, picture, header, tuple(rows))


def _vapour(result: Result, results: list[Result], units: str) -> Chart | None:
    """Vapor in the room over time against the limits."""
    parts = _named(result)
    if not {"generation", "evaporation_time", "lel", "room_volume", "vapour"} <= set(parts):
        return None
    limits = [v for r in results for n, v in _named(r).items() if n == "limit" and r.dimension == "airflow"]
    drawing = vapour_drawing(parts, min(limits) if limits else None, units)
    return Chart("vapour", "Vapor in the room against the limits", *drawing)


def _tiles(result: Result, results: list[Result], units: str) -> Chart | None:
    """The row of tiles laid from the middle, and below it the same row begun at one end."""
    parts = _named(result)
    if not {"run", "tile", "joint", "from_a_joint", "from_a_tile", "from_one_end", "shift"} <= set(parts):
        return None
    whole = 2 * int(parts["whole_tiles"]) + (1 if parts["shift"] else 0)
    tile, joint, run = parts["tile"], parts["joint"], parts["run"]
    middle = [result.value, *[tile] * whole, result.value]
    count = round((run - parts["from_one_end"]) / (tile + joint))
    one_end = [tile] * count + [parts["from_one_end"]]
    if len(middle) > _MOST_TILES:
        return None  # stripes too thin to tell apart
    drawn: list[str] = []
    named = ((30.0, "from the middle", middle), (110.0, "from one end", one_end))
    for y, words, pieces in named:
        drawn.append(svg.text(10, y - 8, f"{words}: last piece {show(pieces[-1], 'length', units).text}"))
        x, scale = 10.0, (svg.WIDTH - 20) / run
        for piece in pieces:
            drawn.append(svg.box(x, y, piece * scale, 36, "#fff" if piece >= tile - 1e-7 else "#bdbdbd"))
            x += (piece + joint) * scale
    drawn.append(svg.text(10, 166, "grey: cut pieces"))
    rows = tuple(
        (words, str(sum(p >= tile - 1e-7 for p in pieces)), show(pieces[0], "length", units).text,
         show(pieces[-1], "length", units).text)
        for _, words, pieces in named
    )  # fmt: skip
    cut = show(result.value, "length", units).text
    summary = f"Laid from the middle the row ends with {cut} at both ends."
    header = ("Laid", "Whole tiles", "First piece", "Last piece")
    return Chart("tiles", "Cuts of a row of tile", summary, svg.picture(176, drawn, summary), header, rows)


_DRAWN: tuple[Callable[[Result, list[Result], str], Chart | None], ...] = (_noise, _shims, _tiles, _vapour)

"""The few shapes that charts are drawn with: black on white, told apart by form and never by colour alone."""

from __future__ import annotations

from html import escape

from advisor.reports.clean import legible

WIDTH = 360  # as wide as a phone, so that lettering stays readable there


def text(x: float, y: float, words: str, anchor: str = "start", weight: str = "normal") -> str:
    """A line of lettering with a white edge, so that it reads over lines."""
    body = escape(legible(words))
    edge = 'paint-order="stroke" stroke="#fff" stroke-width="3"'
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-weight="{weight}" {edge}>{body}</text>'


def box(x: float, y: float, width: float, height: float, fill: str = "#d9d9d9") -> str:
    """A rectangle with a black edge."""
    size = f'width="{max(width, 0):.1f}" height="{max(height, 0):.1f}"'
    return f'<rect x="{x:.1f}" y="{y:.1f}" {size} fill="{fill}" stroke="#000"/>'


def line(points: list[tuple[float, float]], dash: str = "", width: float = 1) -> str:
    """A line through points; `dash` such as `6 3`."""
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<polyline points="{path}" fill="none" stroke="#000" stroke-width="{width:g}"{dashed}/>'


def picture(height: float, shapes: list[str], summary: str) -> str:
    """The whole drawing; `summary` is what a screen reader says of it."""
    inside = "".join(shapes)
    return (
        f'<svg viewBox="0 0 {WIDTH} {height:.0f}" role="img" aria-label="{escape(legible(summary))}"'
        f' font-family="sans-serif" font-size="12" xmlns="http://www.w3.org/2000/svg">{inside}</svg>'
    )

"""The benchmark as an SVG chart: milliseconds over facts, both axes by powers."""

from __future__ import annotations

import math
from html import escape
from typing import Any

WIDTH, HEIGHT, LEFT, TOP, RIGHT, BOTTOM = 720, 420, 70, 50, 130, 60
LINES = {"stock": ("#b45309", "stock matcher"), "indexed": ("#1d4ed8", "own matcher"), "clips": ("#15803d", "CLIPS")}


def draw(results: dict[str, Any]) -> str:
    """A chart of the rows with 300 rules."""
    rows = [row for row in results["matching"] if row["rules"] == 300 and row["crowd"] == 5]
    times = [row[name]["run_s"] * 1e3 for row in rows for name in LINES]
    low, high = math.floor(math.log10(min(times))), math.ceil(math.log10(max(times)))
    first, last = math.log10(rows[0]["facts"]), math.log10(rows[-1]["facts"])

    def across(facts: int) -> float:
        return LEFT + (math.log10(facts) - first) / (last - first) * (WIDTH - LEFT - RIGHT)

    def down(milliseconds: float) -> float:
        return HEIGHT - BOTTOM - (math.log10(milliseconds) - low) / (high - low) * (HEIGHT - TOP - BOTTOM)

    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
        'font-family="sans-serif" font-size="13" role="img">',
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#ffffff"/>',
        f'<text x="{LEFT}" y="24" font-size="16">From facts to conclusions, 300 rules (ms of CPU time)</text>',
    ]
    for power in range(low, high + 1):
        y = down(10.0**power)
        parts.append(f'<path d="M{LEFT} {y:.1f}H{WIDTH - RIGHT}" stroke="#d4d4d4"/>')
        parts.append(f'<text x="{LEFT - 8}" y="{y + 4:.1f}" text-anchor="end">{10.0**power:g}</text>')
    for row in rows:
        x = across(row["facts"])
        parts.append(f'<text x="{x:.1f}" y="{HEIGHT - BOTTOM + 20}" text-anchor="middle">{row["facts"]}</text>')
    lowest = 0.0  # labels keep clear of each other
    for name, (colour, label) in LINES.items():
        points = [(across(row["facts"]), down(row[name]["run_s"] * 1e3)) for row in rows]
        path = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
        parts.append(f'<path d="M{path}" fill="none" stroke="{colour}" stroke-width="2.5"/>')
        x, y = points[-1]
        y = lowest = max(y, lowest + 16)
        parts.append(f'<text x="{x + 8:.1f}" y="{y + 4:.1f}" fill="{colour}">{label}</text>')
    said = escape(f"{results['machine']}, Python {results['python']}, {results['date']}")
    parts.append(f'<text x="{LEFT}" y="{HEIGHT - 10}" fill="#525252">facts in the plan; {said}</text></svg>')
    return "\n".join(parts) + "\n"

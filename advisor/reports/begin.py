"""What stands before any work besides the findings: whether to start, what to ask, what to shut off."""

from __future__ import annotations

from advisor.reports.arrange import Arranged
from advisor.review.model import Report
from advisor.review.who import LICENSED, before_all, trades_touched, who_words
from advisor.review.wording import listed

BEGIN = "Before you begin"
TRADE_NOTE = "if local code asks"


def verdict(arranged: Arranged) -> str:
    """Whether the work may start, in plain words, where a danger or a warning stands; empty where none does."""
    counts = arranged.counts()
    said = [f"{counts[word]} {word}{'s' * (counts[word] != 1)}" for word in ("danger", "warning") if counts[word]]
    return f"Do not start yet: first see to the {' and the '.join(said)} below." if said else ""


def begin_lines(report: Report) -> list[str]:
    """What to ask and to shut off before you begin: the permit, who may do it, the water."""
    said = []
    steps = before_all(report, "permit")
    if steps:
        said.append(f"Ask your building department whether {listed(steps)} need{'s' * (len(steps) == 1)} a permit.")
    for trade, own in trades_touched(report.plan).items():
        name = who_words(LICENSED + trade)
        said.append(f"Ask there too whether you may do {listed(own)} yourself, or local code asks for {name}.")
    water = before_all(report, "water_off")
    if water:
        said.append(f"Find out where the water is shut off. Shut it off before {listed(water)}, and try a tap.")
    if said and not steps:
        said = [text.replace("Ask there too", "Ask your building department") for text in said]
    return said

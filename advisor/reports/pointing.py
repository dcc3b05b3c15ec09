"""Where a report points for more: to commands, or, for somebody who has only the page, to its parts."""

from __future__ import annotations

from msgspec import Struct

from advisor.reports.first import LEGEND
from advisor.reports.place import WRITE


class Points(Struct, frozen=True):
    """The words for each such place."""

    amounts: str  # of what to get
    country: str  # how another country is said; empty where a field stands beside
    questions: str  # all of them; {plan} is the plan as a command takes it
    legend: str


COMMANDS = Points(
    amounts="In amounts: advisor supplies",
    country=WRITE,
    questions="advisor questions {plan}",
    legend=LEGEND,
)
ON_PAGE = Points(
    amounts="In amounts: the shopping list, under Take away.",
    country="",
    questions="on the page, under Questions.",
    legend="Tick a box when it is true or done. A number in brackets is that of a note at the end.",
)

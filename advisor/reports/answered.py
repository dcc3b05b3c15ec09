"""Hold points for what is still to get and to find out, each with the practices that rest on it."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from advisor.review.model import Report
from advisor.review.set_aside import Answered, HoldPoint

HEADING = "To get and to find out"
EXPLAINED = "Tick each before its step. Until then it is not so: what rests on it is only answered."
_MOST = 3  # practices that a hold point names


class HoldView(Struct, frozen=True):
    """A hold point as text: the box, and the practices behind it."""

    what: str
    behind: str

    @property
    def line(self) -> str:
        """Both in one."""
        return f"{self.what} {self.behind}".strip()


def hold_views(report: Report) -> list[HoldView]:
    """One for each entry, the earliest step first."""
    places = {o.step: place for place, o in enumerate(report.order)}
    behind: dict[HoldPoint, list[Answered]] = {point: [] for point in report.holds}
    for one in report.answered:
        for point in one.by:
            behind.setdefault(point, []).append(one)
    ordered = sorted(report.holds, key=lambda h: (min((places.get(s, 0) for s in h.before), default=-1), h.line))
    views: list[HoldView] = []
    alone: dict[tuple[str, ...], tuple[int, list[str]]] = {}  # things on which nothing rests: one box for a step
    for point in ordered:
        if point.section == "to_get" and not behind[point]:
            place, things = alone.setdefault(point.before, (len(views), []))
            if not things:
                views.append(HoldView("", ""))
            things.append(point.text.removeprefix("Get: "))
            views[place] = HoldView(f"{_when(point)}: get: {'; '.join(things)}.", "")
        else:
            views.append(HoldView(_what(point), _behind(behind[point])))
    return views


def _when(point: HoldPoint) -> str:
    return f"Before {', '.join(point.before)}" if point.before else "Before the work starts"


def _what(point: HoldPoint) -> str:
    text = point.text[:1].lower() + point.text[1:] if point.section == "to_get" else f"find out: {point.text}"
    return f"{_when(point)}: {text}" + ("" if text.endswith(("?", ".")) else ".")


def _behind(found: list[Answered]) -> str:
    titles = list(dict.fromkeys(f"{one.about.signal}: {one.about.title}" for one in found))
    if not titles:
        return ""
    more = f"; and {len(titles) - _MOST} more" if len(titles) > _MOST else ""
    return f"({'; '.join(titles[:_MOST])}{more})"


def answered_data(one: Answered) -> dict[str, Any]:
    """An answered practice, by the contract."""
    about = one.about
    return {
        "id": about.id,
        "rule": about.rule,
        "title": about.title,
        "signal": about.signal,
        "step": about.step,
        "was": "speaking" if one.finding else "open",
        "what": one.finding.what if one.finding else None,
        "by": [hold_data(point) for point in one.by],
    }


def hold_data(point: HoldPoint) -> dict[str, Any]:
    """An entry of the plan as a hold point."""
    return {"section": point.section, "text": point.text, "before": list(point.before), "line": point.line or None}

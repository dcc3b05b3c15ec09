"""Checklists as data, with the numbers of the paper."""

from __future__ import annotations

import json
from collections.abc import Sequence

from advisor.reports.checklist import EXERCISE, JOB, KEY, ChecklistItem, Group, many_checked
from advisor.reports.data import SCHEMA, as_utf8, made_by_data
from advisor.review.model import Report


def as_checklist_json(reports: Sequence[Report], by: str = "step", form: str = "list") -> str:
    """The checklist as data: plans, groups, items with their numbers."""
    plans = []
    for report, one in zip(reports, many_checked(reports, by, form), strict=True):
        groups = [_group_data(group, form) for group in one.groups]
        asked = {"asked": list(one.asked), "left": one.left} if form == JOB else {}
        plans.append({"file": report.plan.file, "title": one.title, "groups": groups, **asked})
    made = made_by_data(reports[0]) if reports else None
    data = {"schema": SCHEMA, "by": by, "form": form, "made_by": made, "plans": plans}
    cautions = list(reports[0].cautions) if reports else []
    return as_utf8(json.dumps(data | {"cautions": cautions}, ensure_ascii=False, indent=2)) + "\n"


def _group_data(group: Group, form: str) -> dict[str, object]:
    if form == EXERCISE:
        return {"title": group.title, "items": [{"number": group.number, "steps": []}]}
    data: dict[str, object] = {"title": group.title, "items": [_item_data(item, form) for item in group.items]}
    return data | ({"work": list(group.work)} if group.work else {})


def _item_data(item: ChecklistItem, form: str) -> dict[str, object]:
    """An item; of a key also which of the answers to its number it is."""
    view = item.view
    data: dict[str, object] = {
        "number": item.number,
        "findings": list(view.ids),
        "hold": view.hold,
        "signal": view.signal,
        "steps": list(view.steps),
        "what": view.what,
        "because": view.because,
        "who": view.who,
        "sources": [one.words for one in view.sources],
    }
    if form != KEY:
        return data
    return data | {
        "letter": item.letter,
        "controls": [{"level": name, "control": text} for name, text in view.controls],
    }

"""The report as data: the contract of `--format json`."""

from __future__ import annotations

import io
from typing import Any

from msgspec.structs import asdict

from advisor.plan.model import Basis
from advisor.reports.answered import answered_data, hold_data
from advisor.reports.order_data import moved_data, not_kept_data, place_of_step, schedule_data
from advisor.reports.place import place_data
from advisor.reports.supply_data import supply_data
from advisor.review.asked import OpenPractice, Question, RulesOfStep
from advisor.review.finding import Figure, Finding
from advisor.review.model import Report
from advisor.review.practices import ToldPractice, advised_counts, counts, practices
from advisor.review.set_aside import Accepted, Waiver
from advisor.review.told_once import account_told, told
from advisor.rulebase.model import SIGNALS
from advisor.showing import other_system, show, show_place
from advisor.site.table import state_rows

SCHEMA = 1


def as_data(report: Report) -> dict[str, Any]:
    """The report as plain dictionaries and lists, in a fixed order."""
    plan = report.plan
    told_practices = practices(told(report.findings, plan))
    return {
        "schema": SCHEMA,
        "plan": {
            "file": plan.file,
            "title": plan.title,
            "units": plan.units,
            "steps": [step.id for step in plan.steps],
        },
        "place": place_data(report),
        "summary": counts(told_practices),
        "summary_advised": advised_counts(told_practices),
        "findings": [practice_data(one, plan.units) for one in told_practices],
        "answered": [answered_data(one) for one in report.answered],
        "hold_points": [hold_data(point) for point in report.holds],
        "accepted": [accepted_data(a, plan.units) for a in report.accepted],
        "order": list(map(place_of_step, report.order)),
        "moves": list(map(moved_data, report.moves)),
        "given_up": list(map(not_kept_data, report.given_up)),
        "settled": report.settled,
        "states": state_rows(report.site, report.site.order()) if report.site is not None else [],
        "schedule": schedule_data(report.schedule),
        "questions": [
            {
                "ask": q.ask,
                "about": _about(q.sort, q.id, q.attribute) if q.attribute else q.name,
                "presumed": q.presumed or None,
                "because": q.because or None,
                "hangs": list(q.hangs),
                **question_data(q),
            }
            for q in report.questions
        ],
        "open_practices": len({one.rule for one in report.open}),  # each once, as the text counts them
        "open": [open_data(one) for one in report.open],
        "accepted_open": [
            {**open_data(a.practice), "reason": a.waiver.reason, "by": a.waiver.by, "until": _day(a.waiver)}
            for a in report.accepted_open
        ],
        "account": [account_data(one) for one in account_told(report)],
        "unheard": [
            {"line": u.line, "sort": u.sort, "thing": u.thing, "attribute": u.attribute, "meant": u.meant}
            for u in report.unheard
        ],
        "not_checked": [
            {"rule": n.rule, "title": n.title, "why": n.message, "signal": n.signal or None}
            | ({"may_be_open": n.may} if n.may else {})
            for n in report.not_checked
        ],
        "gear": [{"gear": g.gear, "steps": list(g.steps), "because": g.because, "owned": g.owned} for g in report.gear],
        "supplies": [supply_data(one) for one in report.supplies],
        "looked_at": report.looked_at,
        "rule_changes": [{"rule": c.rule, "how": c.how, "reason": c.reason, "pack": c.pack} for c in report.changes],
        "cautions": list(report.cautions),
        "made_by": made_by_data(report),
        **({"left_out": asdict(report.left_out)} if report.left_out else {}),
    }


def made_by_data(report: Report) -> dict[str, str]:
    """Which program and which rules made it, and on what day, where one was named."""
    made = {"program": "prework-advisor", "version": report.made_by[0], "rules": report.made_by[1]}
    return made | ({"date": report.dated} if report.dated else {})


def made_by_words(report: Report) -> str:
    """The same for people."""
    version, rules = report.made_by
    return f"Made by prework-advisor {version}, rules {rules}."


def question_data(question: Question) -> dict[str, Any]:
    """A question with what hangs on it and what its answers bring."""
    return {
        "id": question.name,
        "sort": question.sort,
        "thing": question.id or None,
        "attribute": question.attribute or None,
        "line": question.line or None,
        "signal": SIGNALS[question.rank],
        "keys": [{"sort": sort, "id": own, "attribute": name} for sort, own, name in question.keys],
        "also": list(question.also),
        "of": list(question.of),
        "settles": list(question.settles),
        "answers": [
            {"value": a.value, "comes": list(a.comes), "goes": list(a.goes), "decides": a.decides or None}
            for a in question.answers
        ],
    }


def open_data(one: OpenPractice) -> dict[str, Any]:
    """A practice that is open, by the contract."""
    return {
        "id": one.id,
        "rule": one.rule,
        "title": one.title,
        "signal": one.signal,
        "step": one.step,
        "line": one.line or None,
        "parts": list(one.parts),
        "unknown": [{"sort": sort, "id": own, "attribute": name} for sort, own, name in one.unknown],
        "missing": [{"kind": kind, "where": where} for kind, where in one.missing],
        "asks": list(one.asks),
    }


def account_data(one: RulesOfStep) -> dict[str, Any]:
    """The account of a step, by the contract."""
    rules = {
        "speaks": list(one.speaks),
        "met": list(one.met),
        "open": list(one.open),
    }
    rules |= {"answered": list(one.answered)} if one.answered else {}
    return {
        "step": one.step,
        "works": [],
        **{name: len(found) for name, found in rules.items()},
        "known": one.known,
        "rules": rules,
    }


def _day(waiver: Waiver) -> str | None:
    return waiver.until.isoformat() if waiver.until else None


def as_json(report: Report) -> str:
    """The report as JSON text, ending in a line feed."""
    import json

    out = io.StringIO()  # a piece at a time: all pieces at once are ten times as large as the text
    for piece in json.JSONEncoder(ensure_ascii=False, indent=2).iterencode(as_data(report)):
        out.write(piece)
    out.write("\n")
    return as_utf8(out.getvalue())


def as_utf8(text: str) -> str:
    """Text that can be written as UTF-8: half of a surrogate pair, as in odd file names, becomes `?`."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return text.encode("utf-8", "replace").decode("utf-8")
    return text


def finding_data(finding: Finding, units: str) -> dict[str, Any]:
    """One finding by the contract."""
    return {
        "id": finding.id,
        "rule": finding.rule,
        "title": finding.title,
        "pack": finding.pack,
        "kind": finding.kind,
        "signal": finding.signal,
        "step": finding.step,
        "step_line": finding.step_line or None,
        "first": finding.first,
        "wait_hours": None if finding.duration is None else finding.duration / 3600,
        "to": finding.to or None,
        "who": finding.who or None,
        "what": finding.what,
        "because": finding.because,
        "controls": [{"level": level, "control": text} for level, text in finding.controls],
        "numbers": [number_data(n, units) for n in finding.numbers],
        "sources": [
            {"key": s.key or None, "citation": s.citation, "locator": s.locator or None, "url": s.url or None}
            for s in finding.sources
        ],
        "rests_on": [basis_data(b) for b in finding.rests_on],
        "advised": finding.advised,
        # Of a need: move, again or unknown (it cannot be told), and the steps that are meant.
        **({"answer": {"is": finding.answer[0], "steps": list(finding.answer[1:])}} if finding.answer else {}),
    }


def practice_data(practice: ToldPractice, units: str) -> dict[str, Any]:
    """One practice by the contract: what is said of all its steps, then what is said of each."""
    what, because, controls = practice.told()
    return {
        **finding_data(practice.first, units),
        "signal": practice.gravest.signal,
        "what": what,
        "because": because,
        "controls": [{"level": level, "control": text} for level, text in controls],
        "rests_on": [basis_data(b) for b in practice.rests_on],
        "advised": practice.advised,
        "steps": [step_data(one, units) for one in practice.findings],
    }


def step_data(finding: Finding, units: str) -> dict[str, Any]:
    """What a practice says at one step. `id` may be named wherever a finding is: why, waivers, compare."""
    return {
        "id": finding.id,
        "of": list(finding.of),
        "also_at": list(finding.steps),
        "step": finding.step,
        "line": finding.step_line or None,
        "parts": list(finding.parts),
        "numbers": [number_data(n, units) for n in finding.numbers],
        "what": finding.what,
        "signal": finding.signal,
    }


def accepted_data(accepted: Accepted, units: str) -> dict[str, Any]:
    """A finding that a waiver accepts, with the waiver."""
    waiver = accepted.waiver
    until = waiver.until.isoformat() if waiver.until else None
    said = {"reason": waiver.reason, "by": waiver.by, "until": until, "file": waiver.file, "line": waiver.line}
    return {"finding": finding_data(accepted.finding, units), "waiver": said}


def waiver_words(waiver: Waiver) -> str:
    """Who accepted a risk, why and until when."""
    until = f"until {waiver.until.isoformat()}" if waiver.until else "with no last day"
    return f"accepted by {waiver.by} {until}: {waiver.reason}"


def number_name(number: Figure, units: str) -> str:
    """The number's name with its place along a run."""
    name = number.name.replace("_", " ")
    return name if number.place is None else f"{name} at {show_place(number.place, units)}"


def number_data(number: Figure, units: str) -> dict[str, Any]:
    """A number in the plan's units, with the other system beside it and the working."""
    first = show(number.value, number.dimension, units)
    other = show(number.value, number.dimension, other_system(units))
    data: dict[str, Any] = {
        "name": number_name(number, units),
        "value": _round(first.number),
        "unit": first.unit,
        "other": {"value": _round(other.number), "unit": other.unit},
        "working": number.working.working(units) if number.working else None,
    }
    if number.working:
        data["formula"] = number.working.in_words
        data["sources"] = list(number.working.sources)
        data["inputs"] = [{"name": name, "from": where} for name, where in number.inputs]
    return data


def _round(value: float) -> float:
    """Six significant digits: what a reader can use, the same on every machine."""
    return float(f"{value:.6g}")


def basis_data(basis: Basis) -> dict[str, Any]:
    """A presumption or unknown that a finding rests on."""
    return {
        "about": _about(basis.sort, basis.id, basis.attribute),
        "presumed": basis.value or None,
        "because": basis.because or None,
        "ask": basis.ask,
    }


def _about(sort: str, own: str, attribute: str) -> str:
    return f"{sort}.{attribute}" if own == sort else f"{sort}s.{own}.{attribute}"

"""Findings as SARIF 2.1.0, for code review: rules, levels, regions, suppressions, lasting fingerprints."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from pathlib import PurePath, PureWindowsPath
from typing import Any
from urllib.parse import quote

from advisor.errors import Problem
from advisor.reports.clean import legible
from advisor.reports.data import number_data
from advisor.reports.notes import public_url, resting, source_words
from advisor.reports.view import LEVELS, change_words
from advisor.review.asked import OpenPractice
from advisor.review.finding import Finding
from advisor.review.model import NotChecked, Report
from advisor.review.set_aside import Accepted, Waiver
from advisor.review.told_once import told
from advisor.version import VERSION

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
# SARIF has three levels; the signal word itself stands in the properties.
_LEVEL = {"danger": "error", "warning": "error", "caution": "warning", "notice": "note"}
_FINGERPRINT = "prework/finding/v1"


def as_sarif(reports: Sequence[Report], problems: Sequence[Problem] = ()) -> str:
    """One log with one run; plans that could not be read are notifications of its invocation."""
    rules = _rules(reports)
    places = {rule["id"]: place for place, rule in enumerate(rules)}
    results = []
    for report in reports:
        results += [_result(report, finding, places) for finding in told(report.findings, report.plan)]
        results += [_accepted(report, one, places) for one in report.accepted]
        results += [_open(report, one, places) for one in report.open]
        results += [_suppressed(_open(report, a.practice, places), a.waiver) for a in report.accepted_open]
    notes = [_problem(problem) for problem in problems]
    notes += [_not_checked(report, n) for report in reports for n in report.not_checked]
    made = reports[0].made_by if reports else ("", "")
    run = {
        "tool": {"driver": {"name": "prework-advisor", "version": VERSION, "rules": rules}},
        "invocations": [{"executionSuccessful": not problems, "toolExecutionNotifications": notes}],
        "columnKind": "unicodeCodePoints",
        "artifacts": [{"location": {"uri": uri}} for uri in dict.fromkeys(_uri(r.plan.file) for r in reports)],
        "results": results,
        "properties": {
            "cautions": list(reports[0].cautions) if reports else [],
            "ruleBase": made[1],
            **(
                {"leftOut": left}
                if (left := [f"{r.plan.file}: {r.left_out.told}" for r in reports if r.left_out])
                else {}
            ),
            "ruleChanges": sorted({text for report in reports for text in change_words(report)}),
        },
    }
    log = {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}
    return json.dumps(_clean(log), ensure_ascii=False, indent=2) + "\n"


def _clean(value: Any) -> Any:
    if isinstance(value, str):
        return legible(value)
    if isinstance(value, dict):
        return {key: _clean(inner) for key, inner in value.items()}
    return [_clean(inner) for inner in value] if isinstance(value, list) else value


def _uri(file: str) -> str:
    """A relative reference, or a `file:` URI for a whole path."""
    path = PureWindowsPath(file) if "\\" in file else PurePath(file)
    # A name that is no Unicode must not stop the report.
    quoted = quote(path.as_posix(), safe="/:" if path.is_absolute() else "/", errors="replace")
    if not path.is_absolute():
        return quoted
    return f"file://{quoted}" if quoted.startswith("/") else f"file:///{quoted}"


def _rules(reports: Sequence[Report]) -> list[dict[str, Any]]:
    found: dict[str, dict[str, Any]] = {}
    findings = [
        f for report in reports for f in (*told(report.findings, report.plan), *(a.finding for a in report.accepted))
    ]
    for finding in sorted(findings, key=lambda f: (f.rule, -f.rank)):
        sources = "; ".join(source_words(s) for s in finding.sources)
        public = [public_url(s) for s in finding.sources if public_url(s)]
        found.setdefault(finding.rule, _rule(finding, f"{finding.title}. Sources: {sources}.", public[:1]))
    left = [p for report in reports for p in (*report.open, *(a.practice for a in report.accepted_open))]
    for one in sorted(left, key=lambda p: (p.rule, -p.rank)):
        found.setdefault(one.rule, _rule(one, f"{one.title}."))
    return [found[rule] for rule in sorted(found)]


def _rule(told: Finding | OpenPractice, words: str, public: Sequence[str] = ()) -> dict[str, Any]:
    return {
        "id": told.rule,
        "shortDescription": {"text": told.title},
        "fullDescription": {"text": told.title},
        "help": {"text": words},
        **({"helpUri": public[0]} if public else {}),
        "defaultConfiguration": {"level": _LEVEL[told.signal]},
        "properties": {"tags": [told.pack], "signal": told.signal},
    }


def _result(report: Report, finding: Finding, places: dict[str, int]) -> dict[str, Any]:
    location: dict[str, Any] = {"physicalLocation": {"artifactLocation": {"uri": _uri(report.plan.file)}}}
    if finding.step_line:  # what is about the whole plan has no line
        location["physicalLocation"]["region"] = {"startLine": finding.step_line}
    if finding.step:
        location["logicalLocations"] = [{"name": finding.step, "kind": "step"}]
    controls = [f"{LEVELS[level]}: {text}" for level, text in finding.controls]
    return {
        "ruleId": finding.rule,
        "ruleIndex": places[finding.rule],
        "level": _LEVEL[finding.signal],
        "message": {"text": f"{finding.signal.upper()}: {finding.what} {finding.because}"},
        "locations": [location],
        # The finding's id names rule and step, so it stays when lines move.
        "partialFingerprints": {_FINGERPRINT: hashlib.sha256(finding.id.encode("utf-8", "replace")).hexdigest()},
        "properties": {
            "id": finding.id,
            "signal": finding.signal,
            "kind": finding.kind,
            "controls": controls,
            "numbers": [number_data(n, report.plan.units) for n in finding.numbers],
            "restsOn": list(resting(finding)),
            "sources": [source_words(s) for s in finding.sources],
            "advised": finding.advised,
            "who": finding.who,
        },
    }


def _accepted(report: Report, one: Accepted, places: dict[str, int]) -> dict[str, Any]:
    return _suppressed(_result(report, one.finding, places), one.waiver)


def _open(report: Report, one: OpenPractice, places: dict[str, int]) -> dict[str, Any]:
    """A practice that is open: SARIF's own kind for what needs more information."""
    location: dict[str, Any] = {"physicalLocation": {"artifactLocation": {"uri": _uri(report.plan.file)}}}
    if one.line:
        location["physicalLocation"]["region"] = {"startLine": one.line}
    if one.step:
        location["logicalLocations"] = [{"name": one.step, "kind": "step"}]
    asked = {q.name: q.ask for q in report.questions}
    asks = [asked[name] for name in one.asks if name in asked]
    text = f"Open, {one.signal}: {one.title}." + (f" {asks[0]}" if asks else "")
    return {
        "ruleId": one.rule,
        "ruleIndex": places[one.rule],
        "kind": "open",
        "level": "none",
        "message": {"text": text},
        "locations": [location],
        "partialFingerprints": {_FINGERPRINT: hashlib.sha256(f"open {one.id}".encode("utf-8", "replace")).hexdigest()},
        "properties": {"id": one.id, "signal": one.signal, "asks": asks},
    }


def _suppressed(result: dict[str, Any], waiver: Waiver) -> dict[str, Any]:
    until = waiver.until.isoformat() if waiver.until else None
    result["suppressions"] = [
        {
            "kind": "external",
            "status": "accepted",
            "justification": waiver.reason,
            "properties": {"by": waiver.by, "until": until},
            "location": {
                "physicalLocation": {
                    "artifactLocation": {"uri": _uri(waiver.file)},
                    "region": {"startLine": max(waiver.line, 1)},
                }
            },
        }
    ]
    return result


def _problem(problem: Problem) -> dict[str, Any]:
    place: dict[str, Any] = {"artifactLocation": {"uri": _uri(problem.file)}}
    if problem.line:
        place["region"] = {"startLine": problem.line, "startColumn": max(problem.column, 1)}
    return {"level": "error", "message": {"text": str(problem)}, "locations": [{"physicalLocation": place}]}


def _not_checked(report: Report, one: NotChecked) -> dict[str, Any]:
    return {
        "level": _LEVEL[one.signal] if one.signal else "warning",
        "message": {"text": f"Not checked: {one.title}: {one.message}."},
        "locations": [{"physicalLocation": {"artifactLocation": {"uri": _uri(report.plan.file)}}}],
        "properties": {"rule": one.rule} | ({"signal": one.signal} if one.signal else {}),
    }

"""Waivers: findings that somebody accepts, with a reason, a name and, for a danger always, a last day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path, PurePath

from advisor.document import Node, read_file
from advisor.errors import InputError, Problem, clip, did_you_mean
from advisor.review.asked import OpenPractice
from advisor.review.finding import Cited, Finding
from advisor.review.model import Report
from advisor.review.set_aside import Accepted, AcceptedOpen, Waiver
from advisor.review.told_once import names

FILE = "waivers.yaml"  # looked for beside the plan
_KEYS = ("rule", "step", "plan", "reason", "by", "until")
_NEEDED = ("rule", "reason", "by")
_PACK = "waivers"


def read_waivers(path: Path) -> list[Waiver]:
    """The waivers of a file; InputError lists every one that is not complete."""
    root = read_file(path)
    listed = root.get("waivers") if root.kind == "mapping" else root
    if listed is None or listed.kind != "sequence":
        example = "'waivers: [{rule: noise-dose-of-step, step: sand-doors, reason: …, by: …, until: 2030-01-31}]'"
        raise InputError([root.problem(f"holds no list of waivers. Expected {example}.")])
    problems: list[Problem] = []
    found = [waiver for node in listed.items if (waiver := _read(node, problems)) is not None]
    if problems:
        raise InputError(problems)
    return found


def _read(node: Node, problems: list[Problem]) -> Waiver | None:
    before = len(problems)
    if node.kind != "mapping":
        problems.append(node.problem("is no waiver. Expected 'rule', 'step' or 'plan', 'reason', 'by' and 'until'."))
        return None
    words = {}
    for key, (place, value) in node.pairs.items():
        if key not in _KEYS:
            near = did_you_mean(key, _KEYS)
            problems.append(place.problem(f"waiver has an unknown key, '{clip(key)}'.{near}"))
        elif value.kind != "scalar":
            problems.append(value.problem(f"'{key}' is a {value.kind}. Expected words."))
        else:
            words[key] = value.text.strip()
    for key in _NEEDED:
        if key not in node.pairs or (key in words and not words[key]):
            problems.append(node.problem(f"waiver has no '{key}'. Expected {_MEANT[key]}."))
    until = None
    if words.get("until"):
        try:
            until = date.fromisoformat(words["until"])
        except ValueError:
            problems.append(node.problem(f"'until' is '{clip(words['until'])}'. Expected a day such as 2030-01-31."))
    if len(problems) > before:
        return None
    said = {key: words.get(key, "") for key in _KEYS if key != "until"}
    return Waiver(**said, until=until, file=node.file, line=node.line)


_MEANT = {"rule": "the id of a rule", "reason": "why the risk is accepted", "by": "who accepts it"}


def apply_waivers(report: Report, waivers: Sequence[Waiver], today: date) -> set[Waiver]:
    """Move what waivers accept from the findings to `report.accepted`; say where a waiver has run out.

    Returns the waivers that had something to say to this report. A waiver counts through its last day.
    """
    spoke: set[Waiver] = set()
    more: list[Finding] = []
    for waiver in waivers:
        met = [f for f in report.findings if covers(waiver, f, report)]
        left = [p for p in report.open if covers_open(waiver, p, report)]
        if not met and not left:
            continue
        spoke.add(waiver)
        if waiver.until is not None and waiver.until < today:
            more.append(_ended(waiver, met))
            continue
        if waiver.until is not None or not any(p.signal == "danger" for p in left):
            report.accepted_open += [AcceptedOpen(p, waiver) for p in left]
            report.open = [p for p in report.open if p not in left]
        elif not met:
            more.append(_endless(waiver, []))
        # A danger is never accepted for good.
        held = [f for f in met if f.signal == "danger" and waiver.until is None]
        if held:
            more.append(_endless(waiver, held))
        taken = {id(f) for f in met} - {id(f) for f in held}
        report.accepted += [Accepted(f, waiver) for f in met if id(f) in taken]
        report.findings = [f for f in report.findings if id(f) not in taken]
    add_findings(report, more)
    return spoke


def covers(waiver: Waiver, finding: Finding, report: Report) -> bool:
    """Whether the waiver is about this finding of this report."""
    return waiver.rule in names(finding) and waiver.step in ("", finding.step) and concerns(waiver, report.plan.file)


def covers_open(waiver: Waiver, practice: OpenPractice, report: Report) -> bool:
    """Whether the waiver is about this open practice of this report."""
    return waiver.rule == practice.rule and waiver.step in ("", practice.step) and concerns(waiver, report.plan.file)


def concerns(waiver: Waiver, file: str) -> bool:
    """Whether the waiver is about the plan of that file."""
    parts, named = PurePath(file).parts, PurePath(waiver.plan).parts
    return not named or parts[-len(named) :] == named or PurePath(file).stem == waiver.plan


def add_findings(report: Report, findings: Iterable[Finding]) -> None:
    """Put findings about waivers before all others, and number those of one name."""
    from advisor.review.findings import number_twins

    fresh = list(findings)
    number_twins(fresh)
    report.findings = fresh + report.findings


def unmatched(waiver: Waiver) -> Finding:
    """The finding that a waiver accepts nothing."""
    return _finding(
        waiver,
        "waiver-unmatched",
        "A waiver that fits no finding",
        f"Look at the waiver of {waiver.rule}{_where(waiver)} again, or take it out. No finding fits it.",
        "A slip in a name, or a plan that changed, can leave a real risk without anybody's yes.",
    )


def _ended(waiver: Waiver, met: list[Finding]) -> Finding:
    many = "this finding stands" if len(met) == 1 else f"{len(met)} findings stand" if met else "it is open"
    return _finding(
        waiver,
        "waiver-expired",
        "A waiver that has run out",
        f"Decide again about {waiver.rule}{_where(waiver)}. The waiver by {waiver.by} ended on {waiver.until};"
        f" {many} again.",
        "A risk is accepted for a time, because work and people change.",
    )


def _endless(waiver: Waiver, held: list[Finding]) -> Finding:
    return _finding(
        waiver,
        "waiver-unmatched",
        "A waiver of a danger without a last day",
        f"Give the waiver of {waiver.rule}{_where(waiver)} a last day with 'until'. Without one it does not hold.",
        "A danger can kill. It is never accepted for good.",
    )


def _where(waiver: Waiver) -> str:
    return (f" at {waiver.step}" if waiver.step else "") + (f" in {waiver.plan}" if waiver.plan else "")


def _finding(waiver: Waiver, rule: str, title: str, what: str, because: str) -> Finding:
    place = f"{PurePath(waiver.file).name}, line {waiver.line}"
    source = Cited("", "common practice", place)
    return Finding(
        id=rule, rule=rule, title=title, pack=_PACK, kind="require", signal="notice", step=None, step_line=0,
        what=what, because=because, controls=(), numbers=(), sources=(source,), rests_on=(), advised=False,
    )  # fmt: skip

"""What stands before any work besides the findings: whether to start, what to ask, what to shut off."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.reports.arrange import Arranged
from advisor.reports.opened import grave_open, not_judged, strange_steps
from advisor.reports.screen_words import screen_words
from advisor.review.metric import localized
from advisor.review.model import Report
from advisor.review.who import LICENSED, before_all, trades_touched, who_words
from advisor.review.wording import listed

BEGIN = "Before you begin"
_FEW = 3  # steps that are named
TRADE_NOTE = "if local code asks"


def verdict(arranged: Arranged, where: str = "below") -> str:
    """Whether the work may start, in plain words, where a danger or a warning stands; empty where none does."""
    counts = arranged.counts()
    many = [(counts[word], word) for word in ("danger", "warning") if counts[word]]
    said = [f"the {word}" if count == 1 else f"the {count} {word}s" for count, word in many]
    return f"Do not start yet: first see to {' and '.join(said)} {where}." if said else ""


def left_to_do(report: Report, arranged: Arranged, get: int, theirs: bool, least: int = 0) -> str:
    """Where no danger and no warning is found: what is left to do before the work. It is never a leave to start.

    `get` is how many things are lacking, `theirs` whether somebody else is to be asked or called. What is
    milder than `least` is not told.
    """
    counts, said = arranged.counts(), list[str]()
    mild = [f"{counts[word]} {word}{'s' * (counts[word] != 1)}" for word in ("caution", "notice") if counts[word]]
    if mild:
        said.append(f"see to {listed(mild)}")
    if report.questions:
        grave = grave_open(report, least)
        hide = f" (what the plan leaves out may hide {' and '.join(grave)})" if grave else ""
        said.append(f"answer the questions{hide}")
    elif not_judged(report):
        said.append("see at the end what is not judged")
    if strange := strange_steps(report):
        more = [f"{len(strange) - _FEW} more"] if len(strange) > _FEW else []
        said.append(f"ask somebody of the trade about {listed([*strange[:_FEW], *more])}, which no rule here knows")
    if theirs:
        said.append("call or ask who is named below")
    if get:
        said.append(f"get {get} thing{'s' * (get != 1)}")
    if not said:
        return ""
    found = "What the plan tells brings nothing graver than a caution; that alone is no leave to start."
    return f"Before you start: {'; '.join(said)}. {found}"


def dead_before(report: Report, only: str = "") -> list[str]:
    """The steps before which the power is off and proved dead, in the order of work."""
    dead = set(screen_words()["dead"])
    steps = {step for f in report.findings if dead & set(f.adds) for step in (f.step, *f.steps)}
    return [row.step for row in report.order if row.step in steps and only in ("", row.step)]


def begin_lines(report: Report, only: str = "") -> list[str]:
    """What to ask and to shut off before you begin: the permit, who may do it, power, water; `only` for one step."""
    return [*asked_lines(report, only), *off_lines(report, only)]


def asked_lines(report: Report, only: str = "") -> list[str]:
    """What to ask: the permit, and who may do it."""

    def of(steps: Sequence[str]) -> list[str]:
        return [step for step in steps if only in ("", step)]

    said = []
    steps = of(before_all(report, "permit"))
    if steps:
        said.append(f"Ask your building department whether {listed(steps)} need{'s' * (len(steps) == 1)} a permit.")
    for trade, touched in trades_touched(report.plan).items():
        name = who_words(LICENSED + trade)
        # Where a finding gives the step to that trade there is nothing to ask.
        given = {one.step for one in report.findings if one.who == LICENSED + trade}
        own = of([step for step in touched if step not in given])
        if not own:
            continue
        if own == steps:
            said.append(f"Ask too whether you may do {'it' if len(own) == 1 else 'them'} yourself or need {name}.")
        else:
            said.append(f"Ask there too whether you may do {listed(own)} yourself, or local code asks for {name}.")
    if said and not steps:
        said = [text.replace("Ask there too", "Ask your building department") for text in said]
    return [localized(text, report.plan.units) for text in said]


def off_lines(report: Report, only: str = "") -> list[str]:
    """What to shut off: power, water."""
    said = []
    if power := dead_before(report, only):
        said.append(f"Power off and proved dead before {listed(power)}.")
    if water := [step for step in before_all(report, "water_off") if only in ("", step)]:
        said.append(f"Find out where the water is shut off. Shut it off before {listed(water)}, and try a tap.")
    return [localized(text, report.plan.units) for text in said]

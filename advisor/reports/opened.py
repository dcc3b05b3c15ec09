"""What reports say of practices that are open, of each step's account, and of what was not heard: words only."""

from __future__ import annotations

from collections import Counter

from advisor.review.asked import OpenPractice, Question, RulesOfStep
from advisor.review.model import Report
from advisor.review.told_once import account_told
from advisor.rulebase.model import SIGNALS
from advisor.site.unheard import Unheard

WORDS = ("danger", "warning", "caution", "notice")
UNKNOWN_WORK = "No rule here knows this work. Nothing was checked."
MEASURE = "Other practices ask for such a step. No practice concerns the step itself."
MOST_UNHEARD = 6
MOST_GRAVEST = 3
_FEW_STEPS = 2
MOST_QUESTIONS = 8


def _many(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"


def open_practices(report: Report) -> int:
    """How many practices are open: one at several steps counts once."""
    return len({one.rule for one in report.open})


def strange_steps(report: Report) -> list[str]:
    """The steps whose work no rule here knows."""
    return [one.step for one in report.account if not one.known]


def not_judged(report: Report) -> str:
    """What the report does not judge: `14 practices; no rule here knows 2 of 5 steps`; empty for nothing."""
    said = []
    if report.open:
        many = open_practices(report)
        said.append(f"{_many(many, 'practice')} that wait{'s' * (many == 1)} for an answer")
    if count := len({one.about.rule for one in report.answered}):
        said.append(f"{_many(count, 'practice')} on what is still to get or to find out")
    if strange := strange_steps(report):
        said.append(f"no rule here knows {len(strange)} of {_many(len(report.account), 'step')}")
    if report.not_checked:
        said.append(f"{_many(len({n.rule for n in report.not_checked}), 'rule')} could not be checked")
    return "; ".join(said)


def silence(report: Report) -> str:
    """How a report without findings begins."""
    left = not_judged(report)
    if left:
        return f"Not judged yet: {left}."
    return "No rule here has anything to add. What no rule knows was not judged: see the cautions."


def also_open(report: Report) -> str:
    """How a report with findings tells that there is more; empty for nothing."""
    left = not_judged(report)
    return f"Not judged yet: {left}." if left else ""


def left_open(report: Report) -> str:
    """What a report with findings says at its end of what it does not judge."""
    return (
        also_open(report) or "Every practice that a rule here knows speaks or is met. What no rule knows is not judged."
    )


def account_words(one: RulesOfStep) -> str:
    """`3 practices speak, 4 not judged yet, 5 silent`, or that no rule knows the work."""
    if not one.known:
        return UNKNOWN_WORK
    if not one.concerned:
        return MEASURE
    speak, met = len(one.speaks), len(one.met)
    # What is met is no good mark: most of it only did not apply.
    said = f"{_many(speak, 'practice')} speak{'s' * (speak == 1)}, {len(one.open)} not judged yet, {met} silent"
    return f"{said}, {len(one.answered)} on what is still to get or find out" if one.answered else said


def accounts(report: Report) -> dict[str, RulesOfStep]:
    """The account of each step by its id."""
    return {one.step: one for one in account_told(report)}


def gravest_open(report: Report) -> list[tuple[OpenPractice, tuple[str, ...]]]:
    """The gravest practices that wait for an answer, each with its steps: of one word those last that only an answer
    brings which hardly anyone would give, and those first that what is there decides, not a tool that nobody spoke of;
    then those that the fewest answers decide, and that the weightiest question asks for. What speaks at another step
    is told there."""
    places = {question.name: place for place, question in enumerate(report.questions)}
    speaking = {finding.rule for finding in report.findings}
    found: dict[str, list[OpenPractice]] = {}
    for one in report.open:
        if one.rule not in speaking:
            found.setdefault(one.rule, []).append(one)

    def weight(own: list[OpenPractice]) -> tuple[int, bool, bool, int, int, str]:
        rank = max(one.rank for one in own)
        few = min(len(one.unknown) + len(one.missing) for one in own)
        asked = min((places.get(name, len(places)) for one in own for name in one.asks), default=len(places))
        rarely = all(one.rare for one in own if one.rank == rank)
        return -rank, rarely, all(map(_by_means_alone, own)), few, asked, own[0].rule

    order = {row.step: place for place, row in enumerate(report.order)}
    listed = []
    for own in sorted(found.values(), key=weight):
        steps = sorted({one.step for one in own if one.step}, key=lambda s: (order.get(s, len(order)), s))
        listed.append((max(own, key=lambda one: one.rank), tuple(steps)))
    return listed


def _by_means_alone(one: OpenPractice) -> bool:
    """Whether it hangs on a tool, a way or a product that nobody spoke of, and on nothing of what is there."""
    means = {("step", "with"), ("step", "by"), ("step", "using")}
    return not one.missing and means.issuperset((sort, attribute) for sort, _, attribute in one.unknown)


def gravest_open_words(report: Report) -> str:
    """The same in a sentence, the first few: `The gravest of what waits for an answer: danger: … (swap-sockets).`"""
    found = gravest_open(report)[:MOST_GRAVEST]
    if not found:
        return ""
    said = []
    for one, steps in found:
        more = f" and {len(steps) - _FEW_STEPS} more" if len(steps) > _FEW_STEPS else ""
        where = f" ({', '.join(steps[:_FEW_STEPS])}{more})" if steps else ""
        said.append(f"{one.signal}: {one.title}{where}")
    return f"The gravest of what waits for an answer: {'; '.join(said)}."


def open_counts(report: Report) -> str:
    """`2 warnings, 1 notice`, one practice at several steps once, by its gravest word."""
    counts = _open_by_word(report)
    return ", ".join(_many(counts[word], word) for word in WORDS if counts[word])


def grave_open(report: Report, least: int = 0) -> list[str]:
    """How many dangers and warnings may be among what is open: `1 danger`, `3 warnings`; none milder than `least`."""
    counts = _open_by_word(report)
    return [_many(counts[word], word) for word in WORDS[:2] if counts[word] and SIGNALS.index(word) >= least]


def _open_by_word(report: Report) -> Counter[str]:
    gravest: dict[str, OpenPractice] = {}
    for one in report.open:
        if one.rule not in gravest or one.rank > gravest[one.rule].rank:
            gravest[one.rule] = one
    return Counter(one.signal for one in gravest.values())


def question_words(question: Question) -> str:
    """A question with what it decides: `Are there outlets …? (If outlet: danger: …)`."""
    presumed = f" (Presumed: {question.presumed}.)" if question.presumed else ""
    decides = f" {question.decides}." if question.decides else ""
    if not decides and question.hangs:
        rules = sorted({name.partition("@")[0] for name in question.hangs})
        decides = f" It decides on {', '.join(rules[:3])}{' and more' if len(rules) > 3 else ''}."
    return f"{question.ask}{presumed}{decides}"


def unheard_words(one: Unheard) -> str:
    """`line 12: color of splash (its color now)`."""
    word = one.attribute.replace("_", " ")
    whose = f"{word} ({one.sort})" if one.thing == one.sort else f"{word} of {one.thing}"
    return f"line {one.line}: {whose}"


def unheard_line(report: Report) -> str:
    """What was stated for nothing, on one line; empty for nothing."""
    if not report.unheard:
        return ""
    shown = [unheard_words(one) for one in report.unheard[:MOST_UNHEARD]]
    more = len(report.unheard) - MOST_UNHEARD
    return f"Not used: {'; '.join(shown)}{f' and {more} more' if more > 0 else ''}. No rule here uses it there."


def open_by_question(report: Report) -> list[tuple[str, str]]:
    """What is open, gathered by the question that would settle it, weightiest first: each practice once."""
    asks = {question.name: question.ask for question in report.questions}
    gathered: dict[str, dict[str, OpenPractice]] = {}
    for one in report.open:
        ask = next((asks[name] for name in one.asks if name in asks), "Something that nobody asks about.")
        known = gathered.setdefault(ask, {}).get(one.title)
        if known is None or known.rank < one.rank:
            gathered[ask][one.title] = one
    order = {ask: place for place, ask in enumerate(asks.values())}
    found = []
    for ask in sorted(gathered, key=lambda a: (order.get(a, len(order)), a)):
        listed = sorted(gathered[ask].values(), key=lambda p: (-p.rank, p.title))
        found.append((ask, "; ".join(f"{one.signal}: {one.title}" for one in listed)))
    return found

"""The first screen as data: what to do today, what not yet, whom to call, the dangers, what to get, what to answer."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from os.path import basename

from msgspec import Struct
from msgspec.structs import replace

from advisor.reports.arrange import Arranged, Entry, arrange, left_out_words
from advisor.reports.begin import begin_lines, left_to_do, verdict
from advisor.reports.likely import likely
from advisor.reports.not_yours import Theirs, not_yours, work_of
from advisor.reports.opened import also_open, gravest_open, not_judged, silence
from advisor.reports.place import COUNTRY, place_line
from advisor.reports.said_short import sentence
from advisor.reports.schedule_text import argument, tight
from advisor.reports.screen_words import screen_words
from advisor.reports.unchecked import head_words, headline_addition
from advisor.reports.waits import Wait, waits
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.order.lab_results import result_time
from advisor.review.who import LABORATORY, LOCAL_CODE, theirs_words, who_words
from advisor.review.wording import listed
from advisor.rulebase.model import SIGNALS

MOST_DANGERS, MOST_NOT_YET, MOST_QUESTIONS, MOST_MAY_BE = 6, 3, 3, 3
MOST_GET = 12  # things to get that a page names, as `screen.html.j2` does
LEGEND = "[ ] tick when done. ! keep in mind. [7] note at the end."
_SO_ON = " …?"
_ANSWER = "Answer the questions: they decide what is still to do."
_GRAVE = SIGNALS.index("warning")


class Danger(Struct, frozen=True):
    """A grave finding on one line: its word, its steps, what to do in short, and the whole sentence."""

    signal: str
    steps: tuple[str, ...]
    short: str
    whole: str
    who: str
    rule: str = ""
    number: int = 0  # in the report: of the first of its findings there


class First(Struct, frozen=True):
    """What the first screen says, in the order in which it is read. An empty string or tuple is not shown."""

    title: str
    counts: str
    start: str  # whether to start, or what is left to do before it, in plain words
    left: str  # what is not judged
    may_be: tuple[str, ...]  # where nothing grave is found: the gravest of what waits for an answer
    missed: str  # rules that were given up
    place: str  # which country is presumed, or whose law was not looked at
    today: str
    orders: bool  # whether that is to send for the tests that `not_yours` names with who makes them
    waits: tuple[Wait, ...]  # all of them, the gravest first; a screen names MOST_NOT_YET
    not_yours: tuple[Theirs, ...]  # who else is to do what, and when
    dangers: tuple[Danger, ...]  # all of them, the gravest first; a screen names MOST_DANGERS
    get: tuple[str, ...]
    questions: tuple[str, ...]
    asked: int  # how many questions there are in all
    begin: tuple[str, ...]  # what to ask and to shut off before any work; of the whole report, not of the screen
    rest: tuple[str, ...]  # the command that shows it, the plan by its path and in short

    @property
    def not_yet(self) -> tuple[str, ...]:
        """What must not be done, and until when, as a screen names it."""
        return tuple(one.text for one in self.waits[:MOST_NOT_YET])

    @property
    def grave_title(self) -> str:
        """What stands there, by its words: `Dangers`, `Warnings` or both."""
        there = {one.signal for one in self.dangers}
        return listed([f"{word}s" for word in ("danger", "warning") if word in there]).capitalize()

    @property
    def more_waits(self) -> str:
        """How many waits a screen does not name; empty for none."""
        more = len(self.waits) - MOST_NOT_YET
        return f"and {more} more: see the steps" if more > 0 else ""

    @property
    def more_questions(self) -> str:
        """How many questions a screen does not name; empty for none."""
        more = self.asked - len(self.questions)
        return f"And {more} more" if more > 0 else ""

    def more(self, shown: int) -> str:
        """How many grave findings are not among the first `shown`: `and 2 dangers, 1 warning more`."""
        return more_words(self.dangers[shown:])


def first_screen(report: Report, get: Sequence[str] = (), only: str = "") -> First:
    """The first screen of a report; `get` is what to buy, rent or borrow, by name.

    `only` is the signal word asked for: what is milder is counted there, and neither goods nor questions are told. But
    samples go out first whatever is asked for: everything else waits for their results.
    """
    arranged = arrange(report)
    if not only:
        return _first_screen(report, get, arranged, arranged)
    least = SIGNALS.index(only)
    kept = arranged.from_rank(least)
    sent = arranged.kept(lambda finding: finding.rank >= least or _is_sent_for(finding))
    asked = _first_screen(report, get, arranged, kept)
    with_results = _first_screen(report, get, arranged, sent)
    theirs = tuple(one for one in with_results.not_yours if one.told_by_finding)
    act = with_results if with_results.orders else asked
    start = asked.start
    if not kept.entries():
        start = verdict(arranged, "that --only leaves out") or left_to_do(report, kept, 0, bool(theirs), least)
    left = left_out_words(len(arranged.entries()) - len(kept.entries()))
    open_too = also_open(report) if arranged.entries() else ""
    return replace(
        asked,
        start=start,
        left=" ".join(text for text in (open_too, left) if text),
        may_be=tuple(_may_be(report, least)) if not kept.entries() else (),
        today="" if act.today == _ANSWER else act.today,
        orders=act.orders,
        waits=with_results.waits,
        not_yours=theirs,
        get=(),
        questions=(),
        asked=0,
    )


def _is_sent_for(finding: Finding) -> bool:
    """Whether it asks for a test that a laboratory answers, before something grave."""
    return finding.decides and not finding.advised and finding.rank >= _GRAVE and any(map(result_time, finding.adds))


def _first_screen(report: Report, get: Sequence[str], whole: Arranged, arranged: Arranged) -> First:
    """The screen of what is `arranged`, a part of the `whole` or all of it."""
    entries = arranged.entries()
    names = tuple(dict.fromkeys(get))
    asked = [q.ask for q in report.questions if q.name != COUNTRY]  # its line asks
    theirs = not_yours(entries, report)
    act, orders = _today(report, arranged)
    grave = sorted(
        (e for e in entries if e.finding.rank >= _GRAVE), key=lambda e: (-e.finding.rank, *likely(e.finding))
    )
    return First(
        title=report.name,
        counts=counts_words(report, whole),
        start=verdict(arranged) or left_to_do(report, arranged, len(names), bool(theirs)),
        left=also_open(report) if entries else "",
        may_be=() if grave else tuple(_may_be(report)),
        missed=head_words(report),
        place=place_line(report),
        today=act,
        orders=orders,
        waits=tuple(waits(entries, report)),
        not_yours=theirs,
        dangers=tuple(_dangers(grave, whole, report.plan.units)),
        get=names,
        questions=tuple(asked[:MOST_QUESTIONS]),
        asked=len(report.questions),
        begin=tuple(begin_lines(report)),
        rest=tuple(f"advisor review {name}" for name in (argument(report), basename(report.plan.file))),
    )


def headline(report: Report, arranged: Arranged | None = None) -> str:
    """How many things of each signal word there are to read: one practice at several steps counts once.

    Where there are none, it says what is not judged and what does not fit: no findings must not read as all well.
    """
    shown = (arranged or arrange(report)).counts()
    counts = [(shown[word], word) for word in reversed(SIGNALS)]
    said = [f"{count} {word}{'s' * (count != 1)}" for count, word in counts if count]
    missed = headline_addition(report)
    if said:
        return "; ".join([", ".join(said), *([missed] if missed else [])])
    but = [words for words in (tight(report.schedule), missed) if words]
    left = not_judged(report)
    return "no findings" + (f", but {'; '.join(but)}" if but else "") + (f"; not judged yet: {left}" if left else "")


def counts_words(report: Report, arranged: Arranged | None = None) -> str:
    """The same as a sentence; of a plan without findings, what is not judged."""
    if report.findings:
        shown = arranged or arrange(report)
        return f"Checked before the work: {headline(report, shown)}{_of_our_own(shown)}."
    over = tight(report.schedule)
    return silence(report) + (f" All the same: {over}." if over else "")


def _of_our_own(arranged: Arranged) -> str:
    """How many of the dangers and warnings come of what this report advises and not of the plan; empty for none."""
    counts = arranged.advised_counts()
    said = [f"{counts[word]} {word}{'s' * (counts[word] != 1)}" for word in ("danger", "warning") if counts[word]]
    return f" ({listed(said)} from our advice)" if said else ""


def _may_be(report: Report, least: int = _GRAVE) -> list[str]:
    """The gravest of what waits for an answer, danger and warning, as the dangers are told."""
    found = []
    for one, steps in gravest_open(report):
        if one.rank >= least:
            more = f" and {len(steps) - 1} more" if len(steps) > 1 else ""
            found.append(f"{one.signal}{f' at {steps[0]}{more}' if steps else ''}: {one.title}")
    return found[:MOST_MAY_BE]


def today(report: Report, arranged: Arranged | None = None) -> str:
    """What can be done today: all that has a result to wait for; else one act, a call, a thing to get, a look."""
    return _today(report, arranged)[0]


def _today(report: Report, arranged: Arranged | None = None) -> tuple[str, bool]:
    """The same, and whether it is to send for tests."""
    entries = [e for e in (arranged or arrange(report)).entries() if not e.finding.advised and _is_act(e.finding)]
    entries.sort(key=lambda e: -e.finding.rank)
    if tests := [e for e in entries if e.finding.decides and e.finding.rank >= _GRAVE]:
        ordered = list(dict.fromkeys(f"the {work_of(e.finding)}" for e in tests if theirs_words(e.finding.rule)))
        if ordered and (len(ordered) > 1 or tests[0].finding.what.startswith(_no_act())):
            return f"Order {listed(ordered)}.", True
    before_all = [e for e in entries if e.finding.step is None]
    begins = next((row.step for row in report.order), None)  # what belongs to a later step is not for today
    sorts = (
        [e for e in entries if e.finding.decides],
        [e for e in entries if e.finding.kind == "refer"],
        [e for e in entries if e.finding.who in (LABORATORY, LOCAL_CODE) and e.finding.rank >= _GRAVE],
        before_all,
        [e for e in entries if e.finding.kind == "require" and e.finding.step == begins],
    )
    for found in sorts:
        if found:
            of = found[0].finding
            return sentence(of.what), bool(of.decides and theirs_words(of.rule))
    if report.questions:
        return _ANSWER, False
    return "", False


def short_question(ask: str, width: int) -> str:
    """A question in short: of what stands behind its colon, as much as fits."""
    head, _, tail = ask.partition(":")
    said = ""
    for one in tail.split(",")[:-1]:
        longer = f"{said},{one}" if said else f"{head}:{one}"
        if len(longer) + len(_SO_ON) > width:
            break
        said = longer
    if said and len(ask) > width:
        return f"{said}{_SO_ON}"
    enough = len(head.split()) > 3  # `About casing?` asks nothing
    return f"{head}?" if len(ask) > width and head != ask and enough else ask


def _is_act(finding: Finding) -> bool:
    if finding.decides and theirs_words(finding.rule):
        return True  # `Leave it alone until an inspector has taken a sample`: the sample is ordered today
    if {name.partition("@")[0] for name in finding.of or (finding.id,)} <= set(screen_words()["not_today"]):
        return False
    return finding.kind in ("require", "refer") and not finding.what.startswith(_no_act())


def _dangers(grave: Sequence[Entry], arranged: Arranged, units: str) -> list[Danger]:
    """One a practice, with all its steps: told at each step below, it is one danger here, by its gravest word."""
    by_rule: dict[str, list[Entry]] = {}
    numbers = {id(entry): number for number, entry in enumerate(arranged.entries(), 1)}
    for entry in grave:
        by_rule.setdefault(entry.finding.rule, []).append(entry)
    found = []
    for entries in by_rule.values():
        finding = entries[0].finding
        steps = tuple(dict.fromkeys(step for entry in entries for step in entry.steps if step))
        ours = all(entry.finding.advised for entry in entries)
        short = f"{finding.title} (advised)" if ours else finding.title
        number = min(numbers[id(entry)] for entry in entries)
        who = who_words(finding.who, units)
        found.append(Danger(finding.signal, steps, short, finding.what, who, finding.rule, number))
    return found


def more_words(left: Sequence[Danger]) -> str:
    """How many grave findings are not named: `and 2 dangers, 1 warning more`; empty for none."""
    counts = [(sum(one.signal == word for one in left), word) for word in ("danger", "warning")]
    said = [f"{count} {word}{'s' * (count != 1)}" for count, word in counts if count]
    return f"and {', '.join(said)} more" if said else ""


@lru_cache(maxsize=1)
def _no_act() -> tuple[str, ...]:
    return tuple(f"{start} " for start in screen_words()["no_act"])

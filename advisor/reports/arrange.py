"""The arrangement that every report for people shares: first things, then steps in order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence

from msgspec import Struct
from msgspec.structs import replace

from advisor.plan.model import Basis
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.practices import advised_counts, counts, practices
from advisor.review.told_once import told
from advisor.review.wording import joined
from advisor.rulebase.model import SIGNALS


class Entry(Struct):
    """A finding as shown once, with all the steps that it is about and the ids of all findings that it stands for."""

    finding: Finding
    steps: list[str]
    ids: list[str]
    lines: tuple[int, ...] = ()  # of the plan, where its steps stand
    told_with: int = 0  # number of the entry with which it is counted as one practice; 0 where it counts itself


class Arranged(Struct):
    """Findings in the places where a reader meets them."""

    first: list[Entry]
    steps: list[tuple[str, list[Entry]]]

    def entries(self) -> list[Entry]:
        """All entries in the order in which they are met."""
        return [*self.first, *(entry for _, own in self.steps for entry in own)]

    def from_rank(self, least: int) -> Arranged:
        """What is at least so grave, in the same places."""
        return self.kept(lambda finding: finding.rank >= least)

    def kept(self, is_kept: Callable[[Finding], bool]) -> Arranged:
        """The entries whose finding is kept, in the same places."""
        return Arranged(
            [one for one in self.first if is_kept(one.finding)],
            [(step, [one for one in own if is_kept(one.finding)]) for step, own in self.steps],
        )

    def counts(self) -> Counter[str]:
        """How many practices of each signal word are shown: one that is told at several steps counts once."""
        return +Counter(counts(practices(entry.finding for entry in self.entries())))

    def advised_counts(self) -> Counter[str]:
        """Those of them that would not stand without the advice of this report: no step of the plan itself has them."""
        return +Counter(advised_counts(practices(entry.finding for entry in self.entries())))


# What is told again at each step, part by part: nobody should have to remember it from an earlier page.
_AT_EACH_STEP = frozenset({"danger", "warning"})


def single(finding: Finding) -> Entry:
    """A finding as an entry of its own."""
    steps = [step for step in (finding.step, *finding.steps) if step]
    return Entry(finding, steps or [""], [finding.id])


def goes_first(finding: Finding) -> bool:
    """Whether a finding of a step is still met before anything else: to a trade, a test, a permit."""
    return finding.kind == "refer" or finding.decides


def _same(finding: Finding) -> tuple[object, ...]:
    """What two findings have in common that a reader meets as one, named with all its steps."""
    return finding.what, finding.because, *_alike(finding)


def _alike(finding: Finding) -> tuple[object, ...]:
    """What two findings must have in common to be told in one sentence for the parts of both."""
    numbers = tuple((n.name, n.value, n.place) for n in finding.numbers)
    return finding.rule, finding.kind, finding.signal, finding.to, finding.advised, numbers


def arrange(report: Report) -> Arranged:
    """Sort the findings: what goes first, and the rest under the first step that each is about."""
    order = [o.step for o in report.order]
    first: list[Entry] = []
    by_step: dict[str, list[Entry]] = {step: [] for step in order}
    merged: dict[tuple[object, ...], Entry] = {}
    rank = {step: place for place, step in enumerate(order)}
    # Within a signal word, what follows from advice comes after the advice: first test, then wait for the result.
    for finding in sorted(
        told(report.findings, report.plan),
        key=lambda f: (rank.get(f.step or "", -1), -f.rank, f.advised, f.rule, f.id),
    ):
        key = _same(finding)
        if key in merged:
            _add(merged[key], single(finding))
            continue
        merged[key] = entry = single(finding)
        if finding.step is None or goes_first(finding):
            first.append(entry)
        else:
            by_step.setdefault(finding.step, []).append(entry)
    first = _told_together(first)
    first.sort(key=lambda e: -e.finding.rank)
    mild: list[Entry] = []
    steps: list[tuple[str, list[Entry]]] = []
    for step in order:
        own = _told_together(by_step[step])
        grave = [entry for entry in own if entry.finding.signal in _AT_EACH_STEP]
        kept = _told_together([entry for entry in own if entry.finding.signal not in _AT_EACH_STEP], mild)
        mild += kept
        steps.append((step, [*grave, *kept]))
    found = Arranged(first, steps)
    _placed(found, {step.id: step.line for step in report.plan.steps})
    return found


def graver(arranged: Arranged, word: str) -> tuple[Arranged, str]:
    """Those of the signal word and graver, in their places; and how many milder are left out, in words."""
    if not word:
        return arranged, ""
    least = SIGNALS.index(word)
    kept = Arranged(
        [entry for entry in arranged.first if entry.finding.rank >= least],
        [(step, [entry for entry in own if entry.finding.rank >= least]) for step, own in arranged.steps],
    )
    return kept, left_out_words(len(arranged.entries()) - len(kept.entries()))


def left_out_words(count: int) -> str:
    """What is left out must not be forgotten; empty for nothing."""
    return f"{count} milder finding{'s' * (count != 1)} left out by --only." if count else ""


def _placed(found: Arranged, lines: dict[str, int]) -> None:
    """Give each entry the lines of all its steps, and say with which other one it counts as one practice."""
    entries = list(enumerate(found.entries(), 1))
    counted: dict[str, tuple[int, Entry]] = {}
    for number, entry in entries:
        entry.lines = tuple(sorted({lines[step] for step in entry.steps if lines.get(step)}))
        known = counted.get(entry.finding.rule)
        if known is None or known[1].finding.rank < entry.finding.rank:
            counted[entry.finding.rule] = number, entry
    for number, entry in entries:
        whole = counted[entry.finding.rule][0]
        entry.told_with = 0 if whole == number else whole


def _told_together(entries: list[Entry], before: Sequence[Entry] = ()) -> list[Entry]:
    """Entries of one place, one practice told once for all the parts that it is for, or at one of those before."""
    kept: list[Entry] = []
    for entry in entries:
        known = (k for k in (*before, *kept) if _alike(k.finding) == _alike(entry.finding))
        if not any(_joined_to(one, entry) for one in known):
            kept.append(entry)
    return kept


def _joined_to(known: Entry, entry: Entry) -> bool:
    mine, theirs = known.finding.wording, entry.finding.wording
    told = joined(mine, theirs) if mine and theirs else None
    if told is None:
        return False
    what, because, controls = told.filled()
    parts = (*known.finding.parts, *(p for p in entry.finding.parts if p not in known.finding.parts))
    known.finding = replace(known.finding, what=what, because=because, controls=controls, wording=told, parts=parts)
    _add(known, entry)
    return True


def _add(known: Entry, entry: Entry) -> None:
    """What an entry stands for, and rests on, added to another."""
    known.steps += [step for step in entry.steps if step not in known.steps]
    known.ids += entry.ids
    new = [basis for basis in entry.finding.rests_on if basis not in known.finding.rests_on]
    if new:
        rests_on: tuple[Basis, ...] = (*known.finding.rests_on, *new)
        known.finding = replace(known.finding, rests_on=rests_on)


def printed_number(report: Report, word: str) -> set[str]:
    """The ids of the finding to which a report gives that number; of any other word the word itself."""
    entries = arrange(report).entries()
    number = int(word.strip("[]")) if word.strip("[]").isdecimal() else 0
    return set(entries[number - 1].ids) if 1 <= number <= len(entries) else {word}

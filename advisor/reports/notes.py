"""Notes at the end of a report: what a finding rests on and its sources, behind a small number; words explained."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from msgspec import Struct

from advisor.plan.model import things
from advisor.reports.arrange import Arranged, Entry
from advisor.reports.wrapped import wrapped
from advisor.review.finding import Cited, Finding
from advisor.review.metric import localized
from advisor.review.model import Report
from advisor.tables import rules_words

WORDS = "WORDS"  # the heading of what is explained
_ADDRESS = re.compile(r"https?://[A-Za-z0-9.-]+(?:/[A-Za-z0-9._~/?=&%+:@,-]*)?")


class Note(Struct, frozen=True):
    """A note: its number, the ids that it is for, what is presumed or unknown, the sources."""

    number: int
    ids: tuple[str, ...]
    resting: tuple[str, ...]
    sources: tuple[Cited, ...]
    advised: bool
    lines: tuple[int, ...] = ()  # of the plan, where its steps stand; none for what is about the whole plan

    @property
    def line_words(self) -> str:
        """`Lines 32, 37`; empty for what is about the whole plan."""
        return f"Line{'s' * (len(self.lines) > 1)} {', '.join(map(str, self.lines))}" if self.lines else ""


def numbered(arranged: Arranged) -> dict[int, Note]:
    """The notes of a report by the identity of their entries, numbered as the entries are met."""
    return {id(entry): _note(number, entry) for number, entry in enumerate(arranged.entries(), 1)}


def _note(number: int, entry: Entry) -> Note:
    finding = entry.finding
    return Note(number, tuple(entry.ids), resting(finding), finding.sources, finding.advised, entry.lines)


def resting(finding: Finding) -> tuple[str, ...]:
    """What the finding presumes, with the reason, and what it could not know."""
    said = [f"Presumed: {b.about} is {b.value} ({b.because})." for b in finding.rests_on if b.value]
    unknown = things(b for b in finding.rests_on if not b.value)
    return (*said, f"Not known: {'; '.join(unknown)}.") if unknown else tuple(said)


def presumes(finding: Finding) -> bool:
    """Whether it rests on a value that nobody stated."""
    return any(basis.value for basis in finding.rests_on)


def source_words(source: Cited) -> str:
    """Key and place of a source, or `common practice`."""
    key = source.key or "common practice"
    return f"{key}, {source.locator}" if source.locator else key


def public_url(source: Cited) -> str:
    """The public address of a source, if it is one that may stand in a link whatever pack it came from; else empty."""
    return source.url if _ADDRESS.fullmatch(source.url) else ""


def note_words(note: Note) -> str:
    """A note on one line, without its number."""
    advised = " Follows from advice given here." if note.advised else ""
    sources = "; ".join(source_words(s) for s in note.sources)
    line = f"{note.line_words}. " if note.lines else ""
    return f"{', '.join(note.ids)}. {line}{' '.join((*note.resting, ''))}Source: {sources}.{advised}"


def bibliography(reports: Iterable[Report]) -> list[Cited]:
    """Every source of the reports once, by key, with its citation and its address."""
    found = {}
    for report in reports:
        for finding in (*report.findings, *(a.finding for a in report.accepted)):
            found.update({s.key: s for s in finding.sources if s.key})
    return [found[key] for key in sorted(found)]


def words_used(texts: Sequence[str], units: str = "", name: str = "") -> list[tuple[str, str]]:
    """The words of the glossary that stand in the texts, with what they mean, as the country of `units` says it.

    `name` is what the plan is called: its own words need no list.
    """
    whole = " ".join(" ".join(texts).split()).casefold()  # a word may stand across two lines
    for other in (" ".join(name.split()).casefold(), *_apart()):
        whole = whole.replace(other, " ") if other else whole
    within = {word: str(other) for word, other in _words()["within"].items()}
    return [
        (localized(word, units), localized(meaning, units))
        for word, meaning, text in _glossary()
        if _stands(text, whole.replace(within[word], " ") if word in within else whole)
    ]


def _stands(word: str, text: str) -> bool:
    """Whether the word stands in the text, or its plural; by hand, as a pattern a word costs more than all the rest."""
    at = text.find(word)
    while at >= 0:
        end = at + len(word)
        if not _joins(text[at - 1 : at]) and any(
            text.startswith(plural, end) and not _joins(text[end + len(plural) : end + len(plural) + 1])
            for plural in ("", "s", "es")
        ):
            return True
        at = text.find(word, at + 1)
    return False


def _joins(letter: str) -> bool:
    """Whether a letter beside a word makes it a part of another one."""
    return letter.isalnum() or letter in ("_", "-")


def word_block(words: Iterable[tuple[str, str]], width: int = 80, ruled: bool = False) -> list[str]:
    """The words of a sheet with what they mean, below their heading: every sheet that is read alone ends so."""
    told = meaning_lines(words, width)
    return ["", WORDS, *(["-" * len(WORDS)] if ruled else []), *told] if told else []


def words_below(texts: Sequence[str], report: Report, width: int = 80, ruled: bool = False) -> list[str]:
    """The same, of the words of one plan's sheet that are not everyday."""
    return word_block(words_used(texts, report.plan.units, report.name), width, ruled)


def meaning_lines(words: Iterable[tuple[str, str]], width: int = 80) -> list[str]:
    """Words with what they mean, each on lines of its own."""

    return [line for word, meaning in words for line in wrapped(f"{word}: {meaning}.", width, "  ", "    ")]


@lru_cache(maxsize=1)
def _apart() -> tuple[str, ...]:
    """Sayings in which a word of the glossary means another thing."""
    return tuple(str(one).casefold() for one in _words()["apart"])


@lru_cache(maxsize=1)
def _words() -> dict[str, dict[str, object]]:
    found: dict[str, dict[str, object]] = rules_words("report/glossary.yaml")
    return found


@lru_cache(maxsize=1)
def short_meanings() -> dict[str, str]:
    """What words mean, in the few letters that the first screen has for each."""
    return {str(word): str(said) for word, said in _words()["on_screen"].items()}


@lru_cache(maxsize=1)
def _glossary() -> list[tuple[str, str, str]]:
    """Words, what they mean, and how they are looked for."""
    words = sorted(_words()["words"].items(), key=lambda pair: str(pair[0]).casefold())
    return [(str(word), str(meaning), str(word).casefold()) for word, meaning in words]

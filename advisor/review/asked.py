"""What is open in a plan, as data: questions with their answers, open practices, the account of a step."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from msgspec import Struct

from advisor.rulebase.model import SIGNALS
from advisor.tables import rules_words


class Question(Struct, frozen=True):
    """A question whose answer would change the report."""

    ask: str
    sort: str
    id: str
    attribute: str
    presumed: str
    because: str
    hangs: tuple[str, ...]  # ids of findings
    rank: int
    name: str = ""
    line: int = 0  # where the answer would be written
    of: tuple[str, ...] = ()  # rules that hang on it: those that speak, and those that are open
    settles: tuple[str, ...] = ()  # rules that are open no more after any answer
    answers: Sequence[Answer] = ()
    keys: tuple[tuple[str, str, str], ...] = ()  # all that it asks for at once: sort, id, attribute
    also: tuple[str, ...] = ()  # in words, what it asks and does not name

    @property
    def decides(self) -> str:
        """What a grave answer brings, in words: `If gas cooktop: danger, flames and sparks out`.

        An answer that brings something by itself is named before one that only helps to, and a word before a figure:
        the figure of an answer lies at the end of a range, where nobody expects it. What hardly anyone would answer is
        not named.
        """
        told = [answer for answer in self.answers if answer.decides and not answer.rare]
        if not told:
            return ""
        grave = {answer.value: SIGNALS.index(answer.decides.partition(":")[0]) for answer in told}
        best = min(told, key=lambda a: (not a.comes, any(map(str.isdigit, a.value)), -grave[a.value]))
        comes = "comes" if best.comes else "may come"
        return f'With the answer "{best.words}" {comes} a {best.decides}'


class Answer(Struct, frozen=True):
    """An answer that a person would give: ids of what comes and goes, and the gravest of what it brings or helps."""

    value: str
    comes: tuple[str, ...]
    goes: tuple[str, ...]
    decides: str
    key: tuple[str, str, str]  # where it would be written: sort, id, attribute; empty for a thing
    rare: bool = False  # hardly anyone would say so

    @property
    def words(self) -> str:
        """The answer as a person reads it: `closed off: no` for `containment no`."""
        label = self.key[2].replace("_", " ")
        if not label or not self.value.startswith(f"{label} "):
            return self.value
        return f"{_answer_words().get(self.key[2], label)}: {self.value.removeprefix(f'{label} ')}"


@lru_cache(maxsize=1)
def _answer_words() -> dict[str, str]:
    words = rules_words("report/screen.yaml")["answer_words"]
    return {str(name): str(said) for name, said in words.items()}


class OpenPractice(Struct, frozen=True):
    """A practice that does not speak, and would for some answer to what is unknown."""

    rule: str
    title: str
    pack: str
    signal: str
    step: str | None
    line: int
    parts: tuple[str, ...]
    unknown: tuple[tuple[str, str, str], ...]  # sort, id, attribute
    missing: tuple[tuple[str, str], ...]  # kind of thing that may be there, where
    asks: tuple[str, ...]  # names of questions
    rare: bool = False  # hardly anyone would answer so that it speaks

    @property
    def id(self) -> str:
        """Rule and step, as for a finding."""
        return f"{self.rule}@{self.step}" if self.step else self.rule

    @property
    def rank(self) -> int:
        """Gravity: 0 notice to 3 danger."""
        return SIGNALS.index(self.signal)


class RulesOfStep(Struct, frozen=True):
    """Which practices concern a step: rules that speak, that are met, that are open."""

    step: str
    speaks: tuple[str, ...]
    met: tuple[str, ...]
    open: tuple[str, ...]
    named: bool = False  # some rule looks for such a step: it is what other practices ask for
    answered: tuple[str, ...] = ()  # rules that rest on what is still to get or to find out

    @property
    def concerned(self) -> bool:
        """Whether any practice concerns the step."""
        return bool(self.speaks or self.met or self.open or self.answered)

    @property
    def known(self) -> bool:
        """Whether any rule here knows the work, be it only as what others ask for."""
        return self.concerned or self.named

"""Differences between two rule bases on one plan, and the entries of `changes.yaml` and `changes/` that explain them.

An entry names a `rule` (or a list of rules), a `reason`, in one sentence `why`, which changes it explains
(`goes: true`, `comes: true`, `signal: caution -> danger`, `refused: true` for a plan that is refused now, with
`rule: plan`), the key of one plan where that is `seen_in`, and how many it explains at most (`expect_at_most`).
`where` may narrow it: `kind` (scenario, case, generated), `plan` and `step` (patterns with `*`), and `of` (plan,
advice, latent). The first entry that fits a difference explains it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Any

import yaml

from advisor.rulebase.model import SIGNALS

CHANGES = Path(__file__).resolve().parent / "changes.yaml"
REASONS = ("told twice", "was wrong", "met now", "heard now", "now a move")
_KEYS = {"rule", "reason", "why", "goes", "comes", "signal", "refused", "where", "seen_in", "expect_at_most"}
_WHERE = {"kind", "plan", "step", "of"}
REFUSED = "refused"


@dataclass(frozen=True, slots=True, order=True)
class Difference:
    """One finding that goes, comes or changes its signal word, or a plan that is refused now."""

    plan: str
    rule: str
    change: str  # goes, comes, `old -> new`, refused
    step: str
    of: str
    old: str
    new: str

    def __str__(self) -> str:
        what = f"{self.old or 'silent'} -> {self.new or 'silent'}"
        of = "" if self.of == "plan" else f" [{self.of}]"
        return f"{self.plan}: {self.rule} at {self.step or 'the plan'}{of}: {what}"


@dataclass(slots=True)
class Entry:
    """One entry of `changes.yaml`, and the differences that it was found to explain."""

    rules: tuple[str, ...]
    reason: str
    why: str
    changes: tuple[str, ...]
    where: dict[str, str]
    seen_in: str
    most: int
    explained: list[Difference] = field(default_factory=list)

    def fits(self, one: Difference) -> bool:
        """Whether it speaks of the difference."""
        place = {"kind": one.plan.split("/")[0], "plan": one.plan, "step": one.step, "of": one.of}
        return (
            one.rule in self.rules
            and one.change in self.changes
            and all(fnmatchcase(place[name], pattern) for name, pattern in self.where.items())
        )

    def __str__(self) -> str:
        return f"{', '.join(self.rules)}: {', '.join(self.changes)} ({self.reason}) {self.where or ''}".strip()


def compare(key: str, old: Any, now: Any) -> list[Difference]:
    """The differences of two `Heard`. Several findings of a rule at a step are counted, not told apart.

    Where something is said of the same step with another signal word the word has changed; what is left over
    on either side goes or comes.
    """
    if now.refused:
        return [Difference(key, "plan", REFUSED, "", "plan", "read", f"refused: {'; '.join(now.refused)}")]
    before, after = _signals(old.said), _signals(now.said)
    found = []
    for of, rule, step in sorted(before.keys() | after.keys()):
        gone, new = before.get((of, rule, step), Counter()), after.get((of, rule, step), Counter())
        left = sorted((gone - new).elements(), key=SIGNALS.index)
        fresh = sorted((new - gone).elements(), key=SIGNALS.index)
        for was, is_now in zip(left, fresh, strict=False):
            found.append(Difference(key, rule, f"{was} -> {is_now}", step, of, was, is_now))
        found += [Difference(key, rule, "goes", step, of, was, "") for was in left[len(fresh) :]]
        found += [Difference(key, rule, "comes", step, of, "", is_now) for is_now in fresh[len(left) :]]
    return found


def _signals(said: Iterable[Any]) -> dict[tuple[str, str, str], Counter[str]]:
    found: dict[tuple[str, str, str], Counter[str]] = {}
    for one in said:
        found.setdefault((one.of, one.rule, one.step), Counter())[one.signal] += 1
    return found


def explain(found: Iterable[Difference], entries: list[Entry]) -> list[Difference]:
    """The differences that no entry explains; each entry keeps those that it does."""
    left = []
    for one in sorted(found):
        entry = next((e for e in entries if e.fits(one)), None)
        if entry is None:
            left.append(one)
        else:
            entry.explained.append(one)
    return left


def faults(entries: list[Entry], whole: bool) -> list[str]:
    """What is wrong with entries whose differences were looked for: they explain nothing, or too much.

    Only on the `whole` record, not on a sample of it, must each rule and change that an entry names occur.
    """
    wrong = []
    for one in entries:
        seen = one.explained
        idle = [r for r in one.rules if r not in {d.rule for d in seen}]
        idle += [c for c in one.changes if c not in {d.change for d in seen}]
        if not seen:
            wrong.append(f"explains nothing: {one}")
        elif one.seen_in not in {d.plan for d in seen}:
            wrong.append(f"is not seen in {one.seen_in}: {one}")
        elif whole and idle:
            wrong.append(f"explains nothing of {', '.join(idle)}: {one}")
        if len(seen) > one.most:
            wrong.append(f"explains {len(seen)}, more than {one.most}: {one}")
    return wrong


def read_changes(path: Path) -> list[Entry]:
    """The entries of a file and of those in the folder of its name; ValueError lists all that is wrong with them."""
    wrong: list[str] = []
    entries: list[Entry | None] = []
    for file in (path, *sorted(path.with_suffix("").glob("*.yaml"))):
        data = yaml.safe_load(file.read_text(encoding="utf-8")) or []
        if not isinstance(data, list):
            raise ValueError(f"{file.name}: expected a list of entries")
        entries += [_entry(one, f"{file.name}, entry {number}", wrong) for number, one in enumerate(data, 1)]
    if wrong:
        raise ValueError("\n".join(wrong))
    return [one for one in entries if one]


def _entry(data: Any, place: str, wrong: list[str]) -> Entry | None:
    before = len(wrong)
    if not isinstance(data, dict):
        wrong.append(f"{place}: expected a mapping")
        return None
    place = f"{place} ({data.get('rule')})"
    rules = data.get("rule")
    rules = tuple(rules) if isinstance(rules, list) else (rules,)
    where = data.get("where", {})
    changes = [name for name in ("goes", "comes", REFUSED) if data.get(name) is True]
    words = data.get("signal", [])
    for text in [words] if isinstance(words, str) else words:
        pair = [word.strip() for word in str(text).split("->")]
        changes.append(" -> ".join(pair))
        if len(pair) != 2 or pair[0] == pair[1] or not set(pair) <= set(SIGNALS):
            wrong.append(f"{place}: signal is written `caution -> danger`, with two of {', '.join(SIGNALS)}")
    checks = {
        f"unknown keys {sorted(data.keys() - _KEYS)}": not data.keys() - _KEYS,
        "`rule` is the id of a rule or a list of ids": bool(rules) and all(isinstance(r, str) and r for r in rules),
        f"`reason` is one of {', '.join(REASONS)}": data.get("reason") in REASONS,
        "`why` is one sentence": len(str(data.get("why") or "").split()) >= 3,
        "one of `goes: true`, `comes: true`, `signal: old -> new`, `refused: true` is needed": bool(changes),
        "`seen_in` is the key of a plan where it is seen": isinstance(data.get("seen_in"), str),
        "`expect_at_most` is a number": type(data.get("expect_at_most")) is int,
        f"`where` has some of {sorted(_WHERE)}": isinstance(where, dict) and not where.keys() - _WHERE,
    }
    wrong += [f"{place}: {text}" for text, holds in checks.items() if not holds]
    if len(wrong) > before:
        return None
    narrow = {name: str(pattern) for name, pattern in where.items()}
    why, seen_in, most = str(data["why"]), data["seen_in"], data["expect_at_most"]
    return Entry(rules, data["reason"], why, tuple(changes), narrow, seen_in, most)


def draft(left: Iterable[Difference]) -> str:
    """Entries for the differences, a rule at a time, without their reason: that takes a person who looks."""
    groups: dict[str, list[Difference]] = {}
    for one in left:
        groups.setdefault(one.rule, []).append(one)
    entries = []
    for rule, ones in sorted(groups.items()):
        changes = sorted({one.change for one in ones})
        entry: dict[str, Any] = {"rule": rule, "reason": "", "why": ""}
        entry |= {name: True for name in changes if "->" not in name}
        if words := [name for name in changes if "->" in name]:
            entry["signal"] = words if len(words) > 1 else words[0]
        entries.append({**entry, "seen_in": ones[0].plan, "expect_at_most": len(ones)})
    return yaml.safe_dump(entries, sort_keys=False, allow_unicode=True, width=110) if entries else ""

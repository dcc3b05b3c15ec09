"""Pairs of plans that differ only in how a place or a work is said: what differs in what the rules say of them.

    python -m tests.site.said_pairs          # from the top of the tree: the share, and each pair that differs

A pair says the same where the same practices speak with the same signal words at the same steps. Steps that one plan
says in one sentence and the other in several count as one (`same_steps`).
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from advisor.plan import make_facts, read_plan
from advisor.review.findings import make_findings
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import SIGNALS
from advisor.site.run import run

FOLDER = Path(__file__).parent / "pairs"
Said = frozenset[tuple[str, str, str]]  # rule, signal, step


@dataclass(frozen=True)
class Pair:
    """Two plans that mean the same, and what a fair reader would let differ."""

    topic: str
    name: str
    spec: Mapping[str, Any]

    def least(self) -> str:
        """The least signal word that the author wants of both plans; '' for a careful pair."""
        _, mark, word = str(self.spec.get("why", "")).rpartition("At least: ")
        return word.strip(". ") if mark and "careful" not in self.spec else ""

    def said(self) -> tuple[Said, Said]:
        """What is said of the one and of the other, their steps named alike."""
        alike = {s: one for one, many in self.spec.get("same_steps", {}).items() for s in [one, *many]}
        one, other = (findings(self.spec[side], alike) for side in ("one", "other"))
        return one, other


def findings(plan: Mapping[str, Any], alike: Mapping[str, str]) -> Said:
    """The plan's own findings, without those that only advice brings."""
    rulebase = load_rulebase()
    read = read_plan(plan, rulebase.vocabulary)
    base = make_facts(read, rulebase.vocabulary)
    spoken = make_findings(run(rulebase, base.facts), read, base, rulebase)
    return frozenset((f.rule, f.signal, alike.get(f.step or "", f.step or "")) for f in spoken)


class Plain(yaml.CSafeLoader):
    """Scalars as written: `no` stays a word."""


Plain.yaml_implicit_resolvers = {}


@lru_cache(maxsize=1)
def pairs() -> tuple[Pair, ...]:
    """All pairs that both read, in the order of files and within them."""
    return tuple(_read())


def _read() -> Iterator[Pair]:
    for path in sorted(FOLDER.glob("*.yaml")):
        if path.stem == "refused":  # wordings that the vocabulary does not take
            continue
        for spec in yaml.load(path.read_text(encoding="utf-8"), Loader=Plain)["pairs"]:
            yield Pair(path.stem, spec["name"], spec)


def _main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--topic", default="")
    parser.add_argument("--quiet", action="store_true")
    chosen = parser.parse_args()
    total = same = grave = told = must = 0
    for pair in pairs():
        if not pair.topic.startswith(chosen.topic):
            continue
        total += 1
        one, other = pair.said()
        differs = one ^ other
        same += not differs
        least = pair.least()
        must += bool(least)
        told += bool(least) and all(
            any(SIGNALS.index(s) >= SIGNALS.index(least) for _, s, _ in side) for side in (one, other)
        )
        grave += all(signal == "notice" for _, signal, _ in differs)
        if differs and not chosen.quiet:
            print(f"{pair.topic}: {pair.name}" + (" (may differ)" if "may_differ" in pair.spec else ""))
            for mark, found in (("-", one - other), ("+", other - one)):
                for rule, signal, step in sorted(found):
                    print(f"   {mark} {signal:8} {rule} @ {step}")
    print(f"{same} of {total} pairs say the same; {grave} the same from caution up")
    print(
        f"{told} of {must} pairs that hold a hazard say something of at least the word that their author wants, in both"
    )


if __name__ == "__main__":
    _main()

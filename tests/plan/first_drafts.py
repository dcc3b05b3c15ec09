"""Judges the hints that first drafts get: taken now, the right hint first, some hint, a misleading one, or none.

Each row of `first_drafts/mistakes.yaml` says what a right hint holds, by the meaning its writer gave it. A hint that
points to something else misleads, unless the row counts it among those that only fall short.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import yaml

from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.rulebase.vocabulary import Vocabulary

HERE = Path(__file__).parent / "first_drafts"
WRITERS = ("a", "b", "c")
_OFFERS = re.compile(r"nearest: |[Ww]rite '|is a kind of|[Ll]eave |List it first")


def load_mistakes() -> list[dict[str, str]]:
    """The rows of the mistakes that were found first, in their order."""
    rows: list[dict[str, str]] = yaml.safe_load((HERE / "mistakes.yaml").read_text(encoding="utf-8"))["mistakes"]
    return rows


def messages(folder: Path, vocabulary: Vocabulary) -> dict[str, list[str]]:
    """What is said of each draft under a folder of `a/1.yaml` …, by `a/1:7`, without file and line."""
    found: dict[str, list[str]] = {}
    for path in sorted(folder.glob("[a-c]/[1-8].yaml")):
        try:
            read_plan(path, vocabulary)
        except InputError as error:
            for problem in error.problems:
                at = f"{path.parent.name}/{path.stem}:{problem.line}"
                found.setdefault(at, []).append(problem.message)
    return found


def judge(row: dict[str, str], said: list[str]) -> str:
    """How the row's mistake is answered among what is said at its line."""
    mine = next((one for one in said if one.startswith(row["says"])), None)
    if mine is None:
        return "taken"
    hint = mine[len(row["says"]) :].partition(" See 'advisor")[0]
    if any(one in hint for one in row["right"].split("|")):
        return "right"
    if "short" in row and row["short"] in hint:
        return "some"
    return "misleading" if _OFFERS.search(hint) else "none"


def measure(vocabulary: Vocabulary) -> tuple[Counter[str], dict[str, list[str]]]:
    """How many of the mistakes are answered in which way, and which ones."""
    said = messages(HERE, vocabulary)
    kinds: dict[str, list[str]] = {}
    for row in load_mistakes():
        kinds.setdefault(judge(row, said.get(row["at"], [])), []).append(f"{row['at']} {row['says']}")
    return Counter({kind: len(rows) for kind, rows in kinds.items()}), kinds

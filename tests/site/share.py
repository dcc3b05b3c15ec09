"""Which cases a run takes: all of them where SITE_FULL is set (`make site`), else a share by a hash of the name."""

from __future__ import annotations

import glob
import hashlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml
from completions import Plain
from generators import make_plan
from rules.harness import cases, packs_with_cases

ROOT = Path(__file__).resolve().parents[2]
FULL = bool(os.environ.get("SITE_FULL"))


def taken(name: str, one_in: int = 10) -> bool:
    """Whether this run takes the case."""
    return FULL or int(hashlib.sha256(name.encode()).hexdigest(), 16) % one_in == 0


def scenarios() -> Iterator[tuple[str, dict[str, Any]]]:
    """Every scenario by name."""
    for path in sorted(glob.glob(str(ROOT / "scenarios" / "*.yaml"))):
        yield Path(path).stem, yaml.load(Path(path).read_text(encoding="utf-8"), Loader=Plain)


def rule_cases() -> Iterator[tuple[str, dict[str, Any]]]:
    """The plan of every case of the packs."""
    for pack in packs_with_cases():
        for case in cases(pack):
            yield f"{pack}: {case.name}", case.plan


def generated(count: int, first: int = 0) -> Iterator[tuple[str, dict[str, Any]]]:
    """Plans from seeds."""
    for seed in range(first, first + count):
        yield f"generated {seed}", make_plan(seed)

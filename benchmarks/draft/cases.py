"""Texts with the plans that their authors meant."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml


class Texts(yaml.SafeLoader):
    """Reads every scalar as text: `no` stays `no`."""


Texts.yaml_implicit_resolvers = {}


def read_case(path: Path) -> dict[str, Any]:
    """One text with its plan."""
    return dict(yaml.load(path.read_text(encoding="utf-8"), Loader=Texts))

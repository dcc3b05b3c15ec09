"""What a terse plan must not be silent on: told as a finding, or asked among the first eight questions.

Each hazard has two plans of a few lines, in other words and another house, and one that has it settled: there it is
neither told nor asked.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from advisor.review.reviewing import review

FIRST = 8


def _heard(tmp_path: Path, plan: dict[str, Any]) -> set[str]:
    """The rules that speak, and those that hang on one of the first eight questions, with what those ask for."""
    path = tmp_path / "plan.yaml"
    path.write_text(yaml.safe_dump(plan, sort_keys=False), encoding="utf-8")
    report = review(path)
    asked = {f"{rule}?{key[2]}" for one in report.questions[:FIRST] for rule in one.of for key in one.keys}
    return {finding.rule for finding in report.findings} | asked


def _one(kind: str, do: str, room: str = "bedroom", house: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:
    """A plan of one thing and one step."""
    part = {"kind": kind, "room": "here", **more}
    plan: dict[str, Any] = {"rooms": {"here": {"kind": room}}, "parts": {"it": part}}
    return ({"house": house} if house else {}) | plan | {"steps": [{"id": "go", "do": do, "to": "it"}]}


BEHIND = "screws-where-lines-run?lines_behind"
GLUE, CARPET, PAPER = "old-glue-under-tile", "old-floor-under-carpet", "paper-off-walls-not-listed"
POURED, WIRED = "chemical-left-in-drain?poured_in", "isolate-power?plug"
HEARD = [
    pytest.param(_one("shelf", "hang", "living room"), BEHIND, id="a shelf"),
    pytest.param(_one("grab bar", "fasten", "bathroom", {"built": 1988}), BEHIND, id="a grab bar"),
    pytest.param(_one("mirror", "hang", "hallway"), BEHIND, id="a mirror"),
    pytest.param(_one("wall cabinets", "hang", "laundry", {"built": 1972}), BEHIND, id="a cabinet"),
    pytest.param(_one("hardware", "mount", "living room"), BEHIND, id="a bracket for a screen"),
    pytest.param(_one("television", "mount", "bedroom", {"built": 2010}), BEHIND, id="a screen"),
    pytest.param(_one("carpet", "remove"), CARPET, id="a carpet of unknown year"),
    pytest.param(_one("carpet", "remove", "hallway", {"built": 1958}), CARPET, id="a carpet of 1958"),
    pytest.param(_one("tile floor", "remove", "bathroom"), GLUE, id="tile of unknown year"),
    pytest.param(_one("tile floor", "demolish", "kitchen", {"built": 1966}), GLUE, id="tile of 1966"),
    pytest.param(_one("smoke alarm", "replace", "hallway"), WIRED, id="an alarm is replaced"),
    pytest.param(_one("smoke alarm", "remove", "bedroom", {"built": 1999}), WIRED, id="an alarm comes down"),
    pytest.param(_one("wallpaper", "remove"), PAPER, id="paper of unknown year"),
    pytest.param(_one("wallpaper", "strip", "dining room", {"built": 1931}), PAPER, id="paper of 1931"),
    pytest.param(_one("trap", "remove", "bathroom"), POURED, id="a trap is opened"),
    pytest.param(_one("sink", "clear drain", "kitchen", {"built": 2001}), POURED, id="a sink is cleared"),
]
SETTLED = [
    pytest.param(_one("shelf", "hang", lines_behind="nothing"), BEHIND, id="nothing behind the shelf"),
    pytest.param(_one("shelf", "paint"), BEHIND, id="a shelf is painted"),
    pytest.param(_one("carpet", "remove", house={"built": 1994}), CARPET, id="a carpet of 1994"),
    pytest.param(_one("tile floor", "remove", house={"built": 1994}), GLUE, id="tile of 1994"),
    pytest.param(_one("smoke alarm", "replace", plug="battery"), WIRED, id="an alarm on a battery"),
    pytest.param(_one("wallpaper", "remove", house={"built": 1990}), PAPER, id="paper of 1990"),
    pytest.param(_one("wallpaper", "hang wallpaper", new="yes"), PAPER, id="paper goes up"),
    pytest.param(_one("trap", "remove", poured_in="no"), POURED, id="nothing was poured in"),
    pytest.param(_one("sink", "wash", "kitchen"), POURED, id="a sink is washed"),
]


@pytest.mark.parametrize(("plan", "what"), HEARD)
def test_told_or_asked_among_the_first_eight(plan: dict[str, Any], what: str, tmp_path: Path) -> None:
    assert what in _heard(tmp_path, plan)


@pytest.mark.parametrize(("plan", "what"), SETTLED)
def test_neither_told_nor_asked_where_it_is_settled(plan: dict[str, Any], what: str, tmp_path: Path) -> None:
    assert what not in _heard(tmp_path, plan)


def test_an_alarm_on_the_house_wires_is_a_danger(tmp_path: Path) -> None:
    assert "isolate-power" in _heard(tmp_path, _one("smoke alarm", "replace", plug="hardwired"))

"""The rooms of the house: which may import which, and how long a file may be."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

TOP = Path(__file__).parent.parent
MOST = 300

# What stands lower imports nothing of what stands above it. Rooms on one line may not import each other.
FLOORS = (
    {"plain", "errors", "unit_table", "version"},
    {"document", "units", "writing"},
    {"showing", "tables"},
    {"calculators"},
    {"rulebase"},
    {"plan"},
    {"engine"},
    {"site"},
    {"draft", "jobs", "review"},
    {"bulk", "reports"},
    {"page"},
    {"cli"},
)
# Longer than a head holds; each may shrink and none may come to them.
LONG = {
    "advisor/site/matching.py",
    "advisor/site/evaluate.py",
}


def room(name: str) -> str:
    """The room of a module: the folder below `advisor/`, or the module itself."""
    return name.split(".")[1]


def arrows() -> dict[tuple[str, str], set[str]]:
    """From which room to which an import goes, and in which files."""
    found: dict[tuple[str, str], set[str]] = {}
    for path in sorted((TOP / "advisor").rglob("*.py")):
        here = path.relative_to(TOP)
        if len(here.parts) == 2 and here.stem in ("__init__", "__main__"):
            continue  # the doors
        own = here.parts[1].removesuffix(".py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("advisor."):
                names = [str(node.module)]
            elif isinstance(node, ast.ImportFrom) and node.module == "advisor":
                names = [f"advisor.{alias.name}" for alias in node.names]
            elif isinstance(node, ast.Import):
                names = [alias.name for alias in node.names if alias.name.startswith("advisor.")]
            else:
                continue
            for name in names:
                if room(name) != own:
                    found.setdefault((own, room(name)), set()).add(str(here))
    return found


def test_every_room_has_its_floor() -> None:
    rooms = {p.stem for p in (TOP / "advisor").iterdir() if p.suffix == ".py" or (p / "__init__.py").is_file()}
    placed = [name for floor in FLOORS for name in floor]

    assert sorted(placed) == sorted(rooms - {"__init__", "__main__"})


def test_no_arrow_goes_up() -> None:
    """A room imports what stands below it; where two would know each other, one of them knows too much."""
    floor = {name: height for height, names in enumerate(FLOORS) for name in names}
    upward = {arrow: files for arrow, files in arrows().items() if floor[arrow[0]] <= floor[arrow[1]]}

    assert upward == {}


@pytest.mark.parametrize("folder", ["advisor", "tests", "benchmarks"])
def test_files_stay_small_enough_to_hold_in_the_head(folder: str) -> None:
    long = {
        str(path.relative_to(TOP))
        for path in sorted((TOP / folder).rglob("*.py"))
        if "node_modules" not in path.parts and len(path.read_text(encoding="utf-8").splitlines()) > MOST
    }

    assert sorted(long - LONG) == []
    assert sorted(name for name in LONG - long if name.startswith(folder)) == []

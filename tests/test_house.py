"""The rooms of the house: which may import which, how long a file may be, and that nothing is written twice."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

TOP = Path(__file__).parent.parent
MOST = 300
SAME = 6

# What stands lower imports nothing of what stands above it. Rooms on one line may not import each other.
FLOORS = (
    {"plain", "errors", "later", "unit_table", "version"},
    {"document", "units", "writing"},
    {"showing", "tables"},
    {"calculators"},
    {"rulebase"},
    {"plan"},
    {"engine"},
    {"site"},
    {"draft", "jobs", "review"},
    {"one_plan", "reports"},
    {"bulk"},
    {"page"},
    {"cli"},
)
# Rooms within `advisor/review/`: none stands in a ring with anything outside it.
IN_REVIEW = {"order", "days", "revision", "why", "asking", "buying"}


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


def test_the_rooms_of_the_review_stand_in_no_ring() -> None:
    top = TOP / "advisor" / "review"
    uses: dict[str, set[str]] = {}
    for path in sorted(top.rglob("*.py")):
        own = path.relative_to(top).parts[0].removesuffix(".py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("advisor.review."):
                uses.setdefault(own, set()).add(str(node.module).split(".")[2])

    assert {p.name for p in top.iterdir() if (p / "__init__.py").is_file()} == IN_REVIEW
    for one in sorted(IN_REVIEW):
        reached, next_ones = set[str](), uses[one] - {one}
        while next_ones:
            reached |= next_ones
            next_ones = set().union(*(uses.get(name, set()) for name in next_ones)) - reached
        assert one not in reached, one


@pytest.mark.parametrize("folder", ["advisor", "tests", "benchmarks"])
def test_files_stay_small_enough_to_hold_in_the_head(folder: str) -> None:
    long = {
        str(path.relative_to(TOP))
        for path in sorted((TOP / folder).rglob("*.py"))
        if "node_modules" not in path.parts and len(path.read_text(encoding="utf-8").splitlines()) > MOST
    }

    assert sorted(long) == []


def logic(path: Path) -> list[tuple[int, str]]:
    """The lines of a file that say something, white space folded: no imports, comments or lone brackets."""
    text = path.read_text(encoding="utf-8")
    imports = {
        number
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Import | ast.ImportFrom)
        for number in range(node.lineno, (node.end_lineno or node.lineno) + 1)
    }
    lines = ((number, " ".join(line.split())) for number, line in enumerate(text.splitlines(), 1))
    return [(n, line) for n, line in lines if n not in imports and re.search(r"\w", line) and not line.startswith("#")]


def repeated(paths: list[Path]) -> list[tuple[str, str]]:
    """Pairs of places that say the same in so many lines, each by its first line."""
    seen: dict[tuple[str, ...], str] = {}
    found: dict[str, str] = {}
    for path in paths:
        lines = logic(path)
        for start in range(len(lines) - SAME + 1):
            said = tuple(line for _, line in lines[start : start + SAME])
            place = f"{path.name}:{lines[start][0]}"
            if seen.setdefault(said, place) != place:
                found[seen[said]] = place
    return sorted(found.items())


def test_nothing_in_the_program_is_written_twice() -> None:
    """Six lines that stand in two places are one thing that changes in two places, or in one and is forgotten."""
    assert repeated(sorted((TOP / "advisor").rglob("*.py"))) == []


def test_what_is_written_twice_is_seen(tmp_path: Path) -> None:
    body = "".join(f"    x{n} = {n}\n" for n in range(SAME))
    (tmp_path / "one.py").write_text(f"def a():\n{body}", encoding="utf-8")
    (tmp_path / "two.py").write_text(f"import re\n\nif re:\n    # why\n{body}", encoding="utf-8")

    assert repeated(sorted(tmp_path.iterdir())) == [("one.py:2", "two.py:5")]


def test_one_name_is_of_one_class() -> None:
    """A successor who reads `Store` knows which one."""
    named: dict[str, list[str]] = {}
    for path in sorted((TOP / "advisor").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                named.setdefault(node.name, []).append(str(path.relative_to(TOP)))

    assert {name: places for name, places in sorted(named.items()) if len(places) > 1} == {}

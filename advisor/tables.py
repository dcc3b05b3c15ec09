"""The published tables of `rules/tables`: one row a value, each with its source. Knows neither plans nor rules."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml
from msgspec import Struct, field

from advisor.document import read_file
from advisor.errors import InputError
from advisor.units import BadQuantity, read_quantity

_NAME = re.compile(r"[a-z0-9_]{1,80}")


class BadTable(ValueError):
    """A table file that cannot be used; the message has file and row."""


@lru_cache(maxsize=1024)
def words_listed(cell: str) -> tuple[str, ...]:
    """The words that a cell lists, as `caulk; seal`; none of an empty one."""
    return tuple([name.strip() for name in cell.split(";") if name.strip()])


class Source(Struct, frozen=True):
    """Where a value or a practice comes from: a key of the bibliography and a place in that work."""

    key: str  # empty for common practice
    at: str = ""


class Row(Struct, frozen=True):
    """One row: its key, its cells by column (floats in base units, or text) and its source."""

    key: str
    cells: dict[str, float | str]
    source: Source
    verified: str

    def listed(self, column: str) -> tuple[str, ...]:
        """The words that one of its cells lists; none where it has none."""
        return words_listed(str(self.cells.get(column, "")))


class Table(Struct, frozen=True):
    """A table: its columns (name to dimension, `text` for words) and rows by key."""

    name: str
    title: str
    columns: dict[str, str]
    rows: dict[str, Row]
    aliases: dict[str, str] = field(default_factory=dict)

    def row(self, key: str) -> Row | None:
        """The row of that key or alias, letter case aside; None where there is none."""
        word = " ".join(key.lower().split())
        return self.rows.get(self.aliases.get(word, word))


def rules_folder() -> Path:
    """The folder of the rules: inside the package in a wheel, beside it in a checkout."""
    inside = Path(__file__).parent / "_rules"
    return inside if inside.is_dir() else Path(__file__).parent.parent / "rules"


def read_table(path: Path) -> Table:
    """A table file as a Table; BadTable names the file and the row that is wrong."""
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        data: Any = yaml.load(path.read_text(encoding="utf-8"), Loader=loader)
        columns = {name: spec["dimension"] for name, spec in data["columns"].items()}
        table = Table(data["table"], data["title"], columns, {})
        general = data.get("source")
        for raw in data["rows"]:
            _add(table, raw, general, data.get("verified", ""))
    except (yaml.YAMLError, KeyError, TypeError, AttributeError, BadQuantity) as error:
        raise BadTable(f"{path.name}: {type(error).__name__} {error}") from error
    return table


def _add(table: Table, raw: dict[str, Any], general: Any, verified: str) -> None:
    key = " ".join(str(raw["name"]).lower().split())
    if key in table.rows:
        raise BadQuantity(f"row '{key}' stands twice")
    cells: dict[str, float | str] = {}
    for name, value in raw.items():
        if name in ("name", "aliases", "source", "verified", "note"):
            continue
        dimension = table.columns[name]
        cells[name] = str(value) if dimension == "text" else read_quantity(str(value), dimension).si
    source = raw.get("source", general)
    spot = Source("") if source == "common practice" else Source(source["key"], str(source.get("at", "")))
    table.rows[key] = Row(key, cells, spot, str(raw.get("verified", verified)))
    for alias in raw.get("aliases", []):
        table.aliases[" ".join(str(alias).lower().split())] = key


_kept: dict[Path, Table] = {}  # by file: tables that were kept with the rule base


def keep(folder: Path, tables: Mapping[str, Table]) -> None:
    """Remember tables of the built-in rules that need not be read again."""
    _kept.update({folder / "tables" / f"{name}.yaml": one for name, one in tables.items()})


_said: dict[Path, Any] = {}  # by file: words of reports that were kept with the rule base


def keep_words(folder: Path, words: Mapping[str, Any]) -> None:
    """Remember words of the built-in rules that need not be read again."""
    _said.update({folder / name: said for name, said in words.items()})


def word_files(folder: Path) -> list[Path]:
    """The files of a folder of rules that hold words of reports."""
    found = [folder / "gathered.yaml", folder / "site" / "advice.yaml", *(folder / "report").glob("*.yaml")]
    return sorted(path for path in found if path.is_file())


def all_words(folder: Path) -> dict[str, Any]:
    """What they say, by their place in the folder, without those that are malformed: whoever asks is told."""
    found: dict[str, Any] = {}
    for path in word_files(folder):
        try:
            found[path.relative_to(folder).as_posix()] = read_file(path).plain()
        except InputError:
            continue
    return found


def rules_words(name: str, default: Any = None) -> Any:
    """What a file of the built-in rules says, as plain lists and dicts, which nobody changes."""
    path = rules_folder().resolve() / name
    if path in _said:
        return _said[path]
    return default if default is not None and not path.is_file() else read_file(path).plain()


def all_tables(folder: Path) -> dict[str, Table]:
    """The tables of a folder of rules by the name of their file, without those that are malformed."""
    found: dict[str, Table] = {}
    for path in sorted((folder / "tables").glob("*.yaml")):
        try:
            found[path.stem] = read_table(path)
        except (BadTable, OSError, ValueError):
            continue  # whoever asks for it is told
    return found


@lru_cache(maxsize=64)
def table(name: str) -> Table:
    """The built-in table of that name; KeyError where there is none."""
    # The name may come from a pack: no path, and none too long for the file system.
    path = rules_folder() / "tables" / f"{name}.yaml"
    if not _NAME.fullmatch(name) or not path.is_file():
        raise KeyError(name)
    return _kept.get(path.resolve()) or read_table(path)

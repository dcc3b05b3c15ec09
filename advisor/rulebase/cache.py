"""The read and checked rule base, kept in the user's cache folder so that the next review starts sooner.

The file is JSON of a few known classes: reading it runs nothing. Its name is a hash of every rule file's
bytes and of the code that reads them, so a stale one is simply not found. A file that is malformed, that
its hash does not fit, or that belongs to somebody else is ignored, and the rules are read afresh.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from advisor.rulebase import model
from advisor.rulebase.vocabulary import Attribute, Presumption, Taxonomy, Term, Vocabulary

_KEEP = 4  # older files are removed
_CLASSES: dict[str, Any] = {
    c.__name__: c
    for c in (
        model.AnyOf, model.Advice, model.Change, model.Citation, model.Collect, model.Compute, model.Conclusion,
        model.Given, model.Kind, model.Lookup, model.Not, model.Pattern, model.Rule, model.SourceRef, model.Test,
        Attribute, Presumption, Taxonomy, Term, Vocabulary,
    )
}  # fmt: skip
_FIELDS = {name: tuple(c._fields if hasattr(c, "_fields") else c.__dataclass_fields__) for name, c in _CLASSES.items()}


def folder() -> Path | None:
    """The cache folder; None where caching is turned off or there is no home."""
    if os.environ.get("ADVISOR_NO_CACHE"):
        return None
    base = os.environ.get("XDG_CACHE_HOME")
    try:
        return (Path(base) if base else Path.home() / ".cache") / "prework-advisor"
    except RuntimeError:
        return None


def fingerprint(files: Iterable[Path]) -> str:
    """A hash of the files' names and bytes and of the code that reads them."""
    digest = hashlib.sha256()
    code = Path(__file__).parent
    for path in (*sorted(code.glob("*.py")), code.parent / "units.py", code.parent / "document.py", *files):
        digest.update(f"\0{path}\0".encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()


def read(name: str) -> dict[str, Any] | None:
    """What was kept under the fingerprint, or None where there is nothing that can be trusted."""
    place = folder()
    if place is None:
        return None
    path = place / f"{name}.json"
    try:
        info = path.lstat()
        if not stat.S_ISREG(info.st_mode) or info.st_mode & 0o022:
            return None
        if hasattr(os, "getuid") and info.st_uid != os.getuid():
            return None
        text = path.read_text(encoding="utf-8")
        head, _, body = text.partition("\n")
        if head != hashlib.sha256(body.encode()).hexdigest():
            return None
        kept = _decode(json.loads(body))
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return None
    return dict(kept) if isinstance(kept, Mapping) else None


def write(name: str, what: Mapping[str, Any]) -> None:
    """Keep it under the fingerprint; a folder that cannot be written to is no mistake."""
    place = folder()
    if place is None:
        return
    body = json.dumps(_encode(dict(what)), ensure_ascii=False, separators=(",", ":"))
    text = hashlib.sha256(body.encode()).hexdigest() + "\n" + body
    try:
        place.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=place, prefix=".new-")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
            os.replace(temporary, place / f"{name}.json")
        except BaseException:
            os.unlink(temporary)
            raise
        old = sorted(place.glob("*.json"), key=lambda p: p.stat().st_mtime, reverse=True)
        for path in old[_KEEP:]:
            path.unlink(missing_ok=True)
    except OSError:
        return


def _encode(value: Any) -> Any:
    if isinstance(value, model.Var):
        return {"$": value.name}
    name = type(value).__name__
    if name in _CLASSES and type(value) is _CLASSES[name]:
        return {"c": name, "f": [_encode(getattr(value, f)) for f in _FIELDS[name]]}
    if isinstance(value, tuple | list):
        return [_encode(v) for v in value]
    if isinstance(value, frozenset | set):
        return {"s": sorted(value)}
    if isinstance(value, Mapping):
        return {"m": {k: _encode(v) for k, v in value.items()}}
    if value is None or isinstance(value, str | int | float):
        return value
    raise TypeError(f"cannot keep a {name}")


def _decode(value: Any) -> Any:
    kind = type(value)
    if kind is list:
        return tuple([v if type(v) is str else _decode(v) for v in value])
    if kind is not dict:
        return value
    if "$" in value:
        return model.Var(value["$"])
    if "c" in value:
        cells = value["f"]
        if len(cells) != len(_FIELDS[value["c"]]):
            raise ValueError("a kept object has other fields")
        return _CLASSES[value["c"]](*[c if type(c) is str else _decode(c) for c in cells])
    if "s" in value:
        return frozenset(value["s"])
    return {k: _decode(v) for k, v in value["m"].items()}

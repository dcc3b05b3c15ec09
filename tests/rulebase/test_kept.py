"""The rule base that is kept for the next command: the same as read afresh, and never trusted where it was touched."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import msgpack

from advisor.document import files_below
from advisor.rulebase import base, cache
from advisor.rulebase.packed import decode, encode
from advisor.tables import rules_folder


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """An empty cache folder, and nothing loaded yet."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.delenv("ADVISOR_NO_CACHE", raising=False)
    base._load.cache_clear()
    yield tmp_path / "prework-advisor"
    base._load.cache_clear()


def _again() -> base.RuleBase:
    base._load.cache_clear()
    return base.load_rulebase()


def test_a_kept_rule_base_is_the_one_that_was_read(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every field of it; the files of rules are not read for it."""
    fresh = _again()
    monkeypatch.setattr(base, "_read", lambda *_: pytest.fail("read afresh"))
    found = _again()

    assert len(list(kept.glob("*.rules"))) == 1
    for name in base.RuleBase.__struct_fields__:
        assert getattr(found, name) == _in_rows(getattr(fresh, name)), name
    assert found is not fresh


def _in_rows(what: Any) -> Any:
    """A list of YAML is kept as a tuple."""
    if isinstance(what, dict):
        return {key: _in_rows(value) for key, value in what.items()}
    return tuple(map(_in_rows, what)) if isinstance(what, list) else what


@pytest.mark.parametrize("place", [0, 40, -1])
def test_a_kept_rule_base_with_another_byte_is_read_afresh(kept: Path, place: int) -> None:
    """In its hash, in what is kept, at its end."""
    _again()
    (file,) = kept.glob("*.rules")
    data = bytearray(file.read_bytes())
    data[place] ^= 1
    file.write_bytes(data)

    assert cache.read(file.stem) is None


def test_a_kept_rule_base_that_others_may_write_is_not_trusted(kept: Path) -> None:
    """Anybody could have put rules of their own there."""
    _again()
    (file,) = kept.glob("*.rules")
    assert cache.read(file.stem) is not None
    file.chmod(0o666)

    assert cache.read(file.stem) is None


def test_files_that_nobody_changed_are_not_hashed_again(
    kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A change that leaves length and date as they were is seen all the same; what changed just now is hashed."""
    file = tmp_path / "a.yaml"
    file.write_text("one", encoding="utf-8")
    hashed: list[int] = []
    whole = cache._hashed
    monkeypatch.setattr(cache, "_hashed", lambda names: hashed.append(1) or whole(names))
    first = cache.fingerprint([file])

    assert cache.fingerprint([file]) == first
    assert len(hashed) == 2, "it was written just now"

    monkeypatch.setattr(cache, "_LATELY", 0)
    assert {cache.fingerprint([file]) for _ in range(3)} == {first}
    assert len(hashed) == 3

    info = file.stat()
    file.write_text("two", encoding="utf-8")
    os.utime(file, ns=(info.st_atime_ns, info.st_mtime_ns))
    assert cache.fingerprint([file]) != first

    file.unlink()
    with pytest.raises(FileNotFoundError):
        cache.fingerprint([file])


def test_a_note_of_a_hash_that_others_may_write_is_not_trusted(
    kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nor one that holds no hash."""
    file = tmp_path / "a.yaml"
    file.write_text("one", encoding="utf-8")
    monkeypatch.setattr(cache, "_LATELY", 0)
    first = cache.fingerprint([file])
    (note,) = kept.glob("*.stamp")
    note.write_text("0" * 64, encoding="utf-8")
    note.chmod(0o600)
    assert cache.fingerprint([file]) == "0" * 64, "its own note is believed"

    note.chmod(0o622)
    assert cache.fingerprint([file]) == first

    note.write_text("0", encoding="utf-8")
    note.chmod(0o600)
    assert cache.fingerprint([file]) == first


_PLAIN = st.none() | st.booleans() | st.integers(-(2**40), 2**40) | st.floats(allow_nan=False) | st.text(max_size=6)
_ANYTHING = st.recursive(
    _PLAIN,
    lambda inside: (
        st.lists(inside, max_size=5).map(tuple)
        | st.lists(st.integers(0, 2**33), max_size=5).map(tuple)
        | st.frozensets(st.text(max_size=3), max_size=4)
        | st.dictionaries(st.text(max_size=3), inside, max_size=4)
    ),
    max_leaves=30,
)


@given(st.dictionaries(st.text(max_size=4), _ANYTHING, max_size=6))
def test_whatever_is_kept_comes_back(what: dict[str, Any]) -> None:
    """Numbers in rows of their own, long and short, truth values and empty rows among it."""
    found = decode(msgpack.decode(msgpack.encode(encode(what))))

    assert repr(_ordered(found)) == repr(_ordered(what))  # 1, 1.0 and True are equal, and are told apart


def _ordered(what: Any) -> Any:
    if isinstance(what, frozenset):
        return ("a set", sorted(what))
    if isinstance(what, dict):
        return {key: _ordered(value) for key, value in what.items()}
    return tuple(map(_ordered, what)) if isinstance(what, tuple) else what


def test_rule_files_are_found_as_by_glob(tmp_path: Path) -> None:
    """In the order of folders and names; links to folders are not followed, other endings not taken."""
    for name in ("b.yaml", "a-c/d.yaml", "a/z.yaml", "a/b/c.yaml", "a/no.txt", ".x.yaml"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("", encoding="utf-8")
    (tmp_path / "again").symlink_to(tmp_path / "a", target_is_directory=True)

    for folder in (tmp_path, rules_folder(), tmp_path / "none"):
        assert files_below(folder) == sorted(folder.glob("**/*.yaml"))
    names = [path.relative_to(tmp_path).as_posix() for path in files_below(tmp_path)]
    assert names == [".x.yaml", "a/b/c.yaml", "a/z.yaml", "a-c/d.yaml", "b.yaml"]

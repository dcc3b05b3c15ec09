"""What the program needs at run time has the licence that DEVELOPERS.md gives for it."""

from __future__ import annotations

import re
from importlib.metadata import distribution
from pathlib import Path

TEXT = (Path(__file__).parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")
FAMILIES = {"lgpl": "LGPLv3", "mit": "MIT", "bsd": "BSD", "isc": "ISC", "psf": "PSF", "apache": "Apache"}
MARKERS = ("extra ==", "platform_system ==", "sys_platform ==", "python_version <")  # not for this program or machine


def _plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def _installed() -> dict[str, str]:
    """Every distribution that the program needs, direct or not, with the family of its licence."""
    found: dict[str, str] = {}
    queue = ["prework-advisor"]
    while queue:
        name = _plain(queue.pop())
        if name in found:
            continue
        data = distribution(name)
        told = data.metadata.get("License-Expression") or data.metadata.get("License") or ""
        told += " ".join(c for c in data.metadata.get_all("Classifier") or [] if c.startswith("License"))
        found[name] = next((family for word, family in FAMILIES.items() if word in told.lower()), told or "none told")
        wanted = [r for r in data.requires or [] if not any(m in r.replace("'", '"') for m in MARKERS)]
        queue += [re.match(r"[\w.-]+", r).group() for r in wanted]  # type: ignore[union-attr]
    del found["prework-advisor"]
    return found


def _written() -> dict[str, str]:
    """Packages and licences of the table and of the sentence below it."""
    section = TEXT.partition("## Dependencies and their reasons")[2].partition("\n## ")[0]
    found: dict[str, str] = {}
    for names, licences in re.findall(r"^\| ([A-Za-z][^|]*) \| ([A-Z][^|]*) \|", section, re.MULTILINE):
        # `experta 1.9.4 (frozendict 1.2, schema 0.6.7) | LGPLv3 (MIT, MIT)`: in the same order
        words = [re.split(r" \d", n.strip())[0] for n in re.split(r"[(),]", names) if n.strip()]
        kinds = [k for k in re.split(r"[(), ]+", licences) if k]
        found |= {_plain(w): kinds[min(i, len(kinds) - 1)] for i, w in enumerate(words)}
    brought = section.partition("They bring along: ")[2].partition(". ")[0]
    for names, licence in re.findall(r"([^()]+) \((\w+)\)", brought):
        found |= {_plain(n.strip()): licence for n in names.split(",") if n.strip()}
    return found


def test_each_package_has_the_licence_that_is_written_for_it() -> None:
    """One that is not written down, or has come to another licence, is named."""
    written = _written()

    assert {n: k for n, k in _installed().items() if written.get(n) != k} == {}


def test_the_rule_engine_is_the_only_copyleft_package() -> None:
    """LGPL version 3: used unmodified, as a dependency of its own."""
    assert [n for n, k in _installed().items() if k not in ("MIT", "BSD", "ISC", "PSF", "Apache")] == ["experta"]

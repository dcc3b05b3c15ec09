"""The rule base: everything in `rules/` (and in packs of one's own), read once and checked."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from advisor.document import files_below, read_file
from advisor.errors import InputError, Problem
from advisor.rulebase import cache
from advisor.rulebase.model import Change, Citation, Kind, Rule, State
from advisor.rulebase.split import Variant, variants
from advisor.rulebase.vocabulary import Vocabulary
from advisor.tables import Table, all_tables, all_words, keep, keep_words, rules_folder, word_files

HARMS = "harm.yaml"


class RuleBase(Struct, frozen=True, eq=False):
    """Checked and ordered rules. `strata` says which run first; never changes once made."""

    vocabulary: Vocabulary
    citations: dict[str, Citation]
    kinds: dict[str, Kind]
    rules: tuple[Rule, ...]  # by id
    strata: dict[str, int]
    changes: tuple[Change, ...]
    titles: dict[str, str]  # of packs
    split: dict[str, tuple[Variant, ...]] = field(default_factory=dict)  # by rule; see `variants_of`
    usual: dict[str, Any] = field(default_factory=dict)  # `site/usual.yaml` as words; see `advisor.site.usual`
    states: dict[str, State] = field(default_factory=dict)  # by name: what can be so and change
    apart: dict[str, Any] = field(default_factory=dict)  # tables of its rules; see `advisor.rulebase.apart`
    tables: dict[str, Table] = field(default_factory=dict)  # those of its folder that are well made
    words: dict[str, Any] = field(default_factory=dict)  # what reports say, by file; see `advisor.tables.rules_words`
    digest: str = ""  # a hash of all rule files, wherever they lie: reports name it
    harms: dict[str, Any] = field(default_factory=dict)  # from harm to a signal word; see `advisor.rulebase.harm`
    place: str = ""  # the country whose rules these are; empty: as they are written (`advisor.rulebase.elsewhere`)

    def variants_of(self, rule: Rule) -> tuple[Variant, ...]:
        """The rule's variants, kept where the rule base was read from files."""
        known = self.split.get(rule.id)
        return known if known and known[0].rule is rule else variants(rule)

    def rule(self, name: str) -> Rule | None:
        """The rule of that id."""
        return next((rule for rule in self.rules if rule.id == name), None)


def load_rulebase(own: Sequence[Path] = (), folder: Path | None = None) -> RuleBase:
    """The built-in rules with the packs of the `own` folders added; InputError lists all that is wrong.

    A folder of one's own holds packs (`*.yaml` in it or in its `packs/`), and may hold `vocabulary/` and
    `sources.yaml` beside them.
    """
    return _load(tuple(Path(p).resolve() for p in own), (folder or rules_folder()).resolve())


@lru_cache(maxsize=8)
def _load(own: tuple[Path, ...], folder: Path) -> RuleBase:
    for path in own:
        if not path.is_dir():
            raise InputError([Problem(str(path), 0, 0, "is no folder. Expected a folder of rule packs.")])
    packs = _pack_files(folder, own)
    words = [folder / "vocabulary", *(p / "vocabulary" for p in own)]
    site = folder / "site"
    sources = [p / "sources.yaml" for p in (folder, *own) if p == folder or (p / "sources.yaml").is_file()]
    tables = sorted((folder / "tables").glob("*.yaml"))  # lookups were checked against their columns
    try:
        spelled = [path for one in words for path in files_below(one)]
        placed = [*files_below(site), *folder.glob(HARMS)]
        name = cache.fingerprint(
            [*spelled, *placed, *sources, *tables, *word_files(folder), *(path for path, _ in packs)]
        )
    except OSError:
        return _read(packs, words, sources, site)  # it says which file cannot be read
    kept = cache.read(name)
    if kept is not None and set(kept) == set(RuleBase.__struct_fields__):
        keep(folder, kept["tables"])
        keep_words(folder, kept["words"])
        return RuleBase(**kept)
    files = [*spelled, *placed, *sources, *tables, *(path for path, _ in packs)]
    rulebase = replace(_read(packs, words, sources, site), digest=cache.digest(files))
    cache.write(name, {field: getattr(rulebase, field) for field in RuleBase.__struct_fields__})
    return rulebase


def _read(packs: list[tuple[Path, bool]], words: list[Path], sources: list[Path], site: Path) -> RuleBase:
    # Here, as a kept rule base needs none of them.
    from advisor.rulebase.apart import apart
    from advisor.rulebase.harm import read_harms
    from advisor.rulebase.implied import shadows
    from advisor.rulebase.meanings import read_meanings
    from advisor.rulebase.packs import Reading, plan_kinds, read_packs, read_sources
    from advisor.rulebase.renewed import of_the_old, read_renewed
    from advisor.rulebase.site import make_site_rules, read_site
    from advisor.rulebase.states import make_state_rules, read_states
    from advisor.rulebase.strata import strata
    from advisor.rulebase.vocabulary_files import load_vocabulary

    vocabulary = load_vocabulary(words)
    citations = {key: one for path in sources for key, one in read_sources(path).items()}
    reading = Reading(vocabulary, citations, plan_kinds(vocabulary))
    vocabulary.meanings = read_meanings(site / "meanings", vocabulary)
    read_site(site, reading)
    read_states(site, reading)
    reading.harms = read_harms(site.parent / HARMS)
    read_packs(packs, reading)
    make_site_rules(site, reading)
    make_state_rules(site, reading)
    ends = read_renewed(site, reading)
    if reading.problems:
        raise InputError(reading.problems)
    reading.rules = of_the_old(reading.rules.values(), ends)
    implied = shadows(list(reading.rules.values()), vocabulary)
    rules = tuple(sorted((*reading.rules.values(), *implied), key=lambda r: r.id))
    levels, problems = strata(rules)
    if problems:
        raise InputError(problems)
    split = {rule.id: variants(rule) for rule in rules}
    usual = {key: value for path in sorted(site.glob("usual.yaml")) for key, value in read_file(path).plain().items()}
    rulebase = RuleBase(
        vocabulary,
        citations,
        reading.kinds,
        rules,
        levels,
        tuple(reading.changes),
        reading.titles,
        split,
        usual,
        reading.states,
        harms=reading.harms,
    )
    return replace(rulebase, apart=apart(rulebase), tables=all_tables(site.parent), words=all_words(site.parent))


def _pack_files(folder: Path, own: tuple[Path, ...]) -> list[tuple[Path, bool]]:
    files = [(path, False) for path in files_below(folder / "packs")]
    for one in own:
        found = [p for p in sorted(one.glob("*.yaml")) if p.name != "sources.yaml"]
        found += files_below(one / "packs")
        if not found:
            raise InputError([Problem(str(one), 0, 0, "holds no rule packs. Expected *.yaml files.")])
        files.extend((path, True) for path in found)
    return files

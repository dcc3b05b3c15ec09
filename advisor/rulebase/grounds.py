"""What a rule rests on: physics and the body, the practice of the trade, or a law or code of a place."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from advisor.document import Node
from advisor.errors import allowed, clip
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import FINDING_KINDS, GROUNDS, Rule
from advisor.rulebase.scope import Scope

if TYPE_CHECKING:
    from advisor.rulebase.packs import Reading


def read_grounds(node: Node, scope: Scope) -> tuple[tuple[str, ...], tuple[str, str] | None]:
    """`rests_on: [physics, law]` and `law: {country: US, edition: irc-2021}`, a country by ISO 3166 and its edition."""
    listed, law = node.get("rests_on"), node.get("law")
    words = [] if listed is None else [one.text for one in (listed.items if listed.kind == "sequence" else [listed])]
    for word in words:
        if word not in GROUNDS:
            scope.say(listed or node, f"'{clip(word)}' is nothing that a rule rests on.{allowed(word, GROUNDS)}")
    if (law is not None) != ("law" in words):
        scope.say(law or listed or node, "'law' and 'rests_on: law' belong together: say the country and the edition.")
    if law is None:
        return tuple(words), None
    country, edition = law.get("country"), law.get("edition")
    if country is None or edition is None or set(law.pairs) - {"country", "edition"}:
        scope.say(law, "'law' needs 'country' and 'edition'.")
        return tuple(words), None
    if not (len(country.text) == 2 and country.text.isalpha() and country.text.isupper()):
        scope.say(country, f"'{clip(country.text)}' is no country. Expected two letters of ISO 3166, such as US.")
    return tuple(words), (country.text, edition.text)


def read_place(node: Node | None, reading: Reading) -> tuple[str, str]:
    """`place: {country: GB, region: Scotland}` of a pack: where its rules count; both empty for anywhere."""
    if node is None:
        return "", ""
    own, region = node.get("country"), node.get("region")
    known = reading.vocabulary.taxonomies.get("country")
    code = known.said(own.text) if own is not None and known is not None else None
    if code is None or set(node.pairs) - {"country", "region"}:
        example = "'place: {country: GB, region: Scotland}'"
        reading.problems.append(
            (own or node).problem(f"'place' of a pack needs a country, and may have a region. Expected {example}.")
        )
    return code or "", region.text if region else ""


def grounds_words(rule: Rule) -> str:
    """What a rule rests on: `Rests on physics and the body, … and a law or code of a place (US, irc-2021).`"""
    law = f" ({rule.law[0]}, {rule.law[1]})" if rule.law else ""
    return f"Rests on {'; '.join(GROUNDS[word] for word in rule.rests_on)}{law}."


def coverage_by_law(rulebase: RuleBase) -> list[str]:
    """All speaking rules by what they rest on: counts, then those of a law by country and edition, then the rest."""
    spoken = [rule for rule in rulebase.rules if any(c.kind in FINDING_KINDS for c in rule.conclusions)]
    lines = [f"{len(spoken)} speaking rules"]
    for word, meaning in GROUNDS.items():
        alone = sum(rule.rests_on == (word,) for rule in spoken)
        lines.append(
            f"  {sum(word in rule.rests_on for rule in spoken):>4} {word}: {meaning} ({alone} on nothing else)"
        )
    if left := sum(not rule.rests_on for rule in spoken):
        lines.append(f"  {left:>4} do not say")
    laws: dict[tuple[str, str], list[str]] = {}
    for rule in spoken:
        if rule.law is not None:
            laws.setdefault(rule.law, []).append(rule.id + ("" if len(rule.rests_on) > 1 else " *"))
    for (country, edition), names in sorted(laws.items()):
        lines += _listed(f"{country}, {edition}", names)
    lines += ["", "* rests on law alone: elsewhere it has nothing to say"]
    for words in sorted({rule.rests_on for rule in spoken if rule.law is None}):
        names = [rule.id for rule in spoken if rule.law is None and rule.rests_on == words]
        lines += _listed(" and ".join(words) if words else "does not say", names)
    return lines


def _listed(heading: str, names: list[str]) -> list[str]:
    text = ", ".join(sorted(names))
    wrapped = textwrap.wrap(text, 80, initial_indent="  ", subsequent_indent="  ", break_on_hyphens=False)
    return ["", f"{heading} ({len(names)})", *wrapped]

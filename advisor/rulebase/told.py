"""What the words of a plan tell besides themselves: a kind by what is said of a wider one, one attribute by another."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from advisor.document import Node
from advisor.errors import Problem

if TYPE_CHECKING:
    from advisor.rulebase.vocabulary import Vocabulary


def add_told(vocabulary: Vocabulary, listed: Iterable[Node], problems: list[Problem]) -> None:
    """`kinds: {part_kind: {gas range: {of: range, fuel: gas fuel}}}`: what a wider kind is by what is said of it.

    `said_too: {step: [{by: wet, wet: yes}]}`: the first says the second, where that is left out; `of: [drain]` before
    them keeps it to these kinds.
    """
    for root in listed:
        _read_said_too(root.get("said_too"), vocabulary, problems)
    for node in (root.pairs["kinds"][1] for root in listed):
        for name, (key, terms) in node.pairs.items():
            taxonomy = vocabulary.taxonomies.get(name)
            if taxonomy is None:
                problems.append(key.problem(f"kinds of an unknown list '{name}'."))
                continue
            known = vocabulary.attributes.get(name.removesuffix("_kind"), {})
            for word, (at, spec) in terms.pairs.items():
                said = tuple((k, v.text) for k, (_, v) in spec.pairs.items())
                for attribute, value in said:
                    of = taxonomy.name if attribute == "of" else known[attribute].of if attribute in known else ""
                    if value not in getattr(vocabulary.taxonomies.get(of), "terms", {}):
                        problems.append(at.problem(f"kind '{word}' is told by an unknown '{attribute}: {value}'."))
                if word not in taxonomy.terms or "of" not in spec.pairs or len(said) < 2:
                    problems.append(at.problem(f"kind '{word}' is told by nothing. Expected a word, 'of' and more."))
                taxonomy.told[word] = said


def _read_said_too(node: Node | None, vocabulary: Vocabulary, problems: list[Problem]) -> None:
    for sort, (_, rows) in (node.pairs if node else {}).items():
        known = vocabulary.attributes.get(sort, {})
        for row in rows.items:
            said = [(k, v.text) for k, (_, v) in row.pairs.items() if k != "of"]
            kinds = tuple(one.text for one in node.items) if (node := row.get("of")) else ()
            terms = getattr(vocabulary.taxonomies.get(f"{sort}_kind"), "terms", {})
            names = [name for name, _ in said]
            if len(said) != 2 or not known.keys() >= set(names) or known[names[0]].type != "term":
                problems.append(row.problem("says nothing. Expected two attributes, the first with a word of a list."))
            elif said[0][1] not in vocabulary.taxonomies[known[names[0]].of].terms:
                problems.append(row.problem(f"'{said[0][1]}' is no word for '{names[0]}'."))
            elif unknown := [kind for kind in kinds if kind not in terms]:
                problems.append(row.problem(f"'{unknown[0]}' is no kind of {sort}."))
            else:
                vocabulary.said_too.setdefault(sort, {})[said[0]] = (*said[1], kinds)

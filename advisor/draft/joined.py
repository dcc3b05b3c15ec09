"""Names that are made of others: `tung oil`, a `gas furnace`, `porcelain tile`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.draft import forms
from advisor.draft.sense import Sense
from advisor.draft.tokens import folded

if TYPE_CHECKING:
    from advisor.draft.lexicon import Lexicon


def add_joined(own: Lexicon) -> None:
    """Words for what dries that end in a product's name: `tung oil` is an oil finish with that binder."""
    kinds, binders = own.vocabulary.taxonomies.get("product_kind"), own.vocabulary.taxonomies.get("binder")
    for name in ("binder", "coating") if kinds and binders else ():
        for term in list(own.vocabulary.taxonomies[name].terms.values()):
            for spelling in (term.name, *term.aliases):
                phrase = folded(spelling)
                kind = kinds.said(phrase[-1]) if kinds and len(phrase) > 1 else None
                binder = binders.said(" ".join(phrase)) or binders.said(" ".join(phrase[:-1])) if binders else None
                if (
                    kind
                    and binder
                    and "product" not in {s.role for s in own.phrases.get(phrase[0], {}).get(phrase, ())}
                ):
                    own.extras[phrase, "product"] = (("binder", binder),)
                    own.add(phrase, Sense("product", kind))


def add_headed(own: Lexicon) -> None:
    """Words of a list that end in a part's name and name none of their own: a `gas furnace` is a furnace."""
    for name in ("ignition_source", "foundation", "pattern", "circuit_use"):
        taxonomy = own.vocabulary.taxonomies.get(name)
        for term in list(taxonomy.terms.values()) if taxonomy else ():
            for spelling in (term.name, *term.aliases):
                phrase = folded(spelling)
                if len(phrase) < 2:
                    continue
                known = own.phrases.get(phrase[0], {}).get(phrase, ())
                part = next(
                    (
                        s
                        for n in range(1, len(phrase))  # a gas water heater is a water heater before it is a heater
                        for s in own.phrases.get(phrase[n], {}).get(phrase[n:], ())
                        if s.role == "part"
                    ),
                    None,
                )
                if (
                    part is not None
                    and part.name != "light"
                    and not {s.role for s in known} & {"part", "product", "tool", "room", "action"}
                ):
                    own.add(phrase, part)


def add_made_of(own: Lexicon) -> None:
    """Words for a material that end in a part's name: `porcelain tile` is tile of that material."""
    for term in list(own.vocabulary.taxonomies["material"].terms.values()):
        for spelling in (term.name, *term.aliases):
            phrase = folded(spelling)
            rows = own.phrases.get(phrase[-1], {}).get(phrase[-1:], ()) if len(phrase) > 1 else ()
            part = next((s for s in rows if s.role == "part" and phrase[-1] in ("tile", "tiles", "floor")), None)
            if part is not None:
                for last in (phrase[-1], forms.plural(phrase[-1])):
                    own.extras[(*phrase[:-1], last), "part"] = (("material", term.name),)
                    own.add((*phrase[:-1], last), part)
                    own.exact.add(((*phrase[:-1], last), "part"))

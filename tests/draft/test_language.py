"""The files of `rules/language/` fit the vocabulary: no saying of what there is not, no word that no plan may say."""

from __future__ import annotations

from advisor.draft.language import VALUE, load_language
from advisor.plan.values import BadValueError, scalar_value
from advisor.rulebase.base import load_rulebase

LANGUAGE = load_language()
VOCABULARY = load_rulebase().vocabulary


def test_each_saying_says_an_attribute_that_there_is() -> None:
    """And what it says besides is a value that a plan may hold."""
    wrong = []
    for saying in LANGUAGE.sayings:
        attribute = VOCABULARY.attributes.get(saying.sort, {}).get(saying.attribute)
        if attribute is None:
            wrong.append(f"{saying.sort}.{saying.attribute}")
            continue
        if saying.value and not (attribute.many and saying.value in ("none", "nothing")):
            try:
                scalar_value(attribute, saying.value, VOCABULARY, lambda a, t: "")
            except BadValueError as error:
                wrong.append(f"{saying.sort}{error}")
        if not saying.value and VALUE not in saying.words:
            wrong.append(" ".join(saying.words))

    assert wrong == []


def test_each_verb_and_name_is_one_of_the_vocabulary() -> None:
    """The keys of what people say beside it."""
    actions = VOCABULARY.taxonomies["action"].terms
    kinds = {
        role: VOCABULARY.taxonomies[name].terms
        for role, name in (
            ("part", "part_kind"),
            ("product", "product_kind"),
            ("room", "room_kind"),
            ("tool", "tool"),
            ("who", "who"),
        )
    }
    kinds |= {f"term {name}": taxonomy.terms for name, taxonomy in VOCABULARY.taxonomies.items()}
    wrong = [verb for verb in LANGUAGE.actions if verb not in actions]
    wrong += [
        verb for verb in (*LANGUAGE.of_product.values(), *LANGUAGE.product_of, *LANGUAGE.feeds) if verb not in actions
    ]
    wrong += [name for role, names in LANGUAGE.nouns.items() for name in names if name not in kinds[role]]
    wrong += [kind for kind in LANGUAGE.of_product if kind not in kinds["product"]]
    wrong += [kind for listed in LANGUAGE.inferred_rooms.values() for kind in listed if kind not in kinds["part"]]
    wrong += [kind for kind in (*LANGUAGE.accessories, *LANGUAGE.sized_by) if kind not in kinds["part"]]
    for row in LANGUAGE.done_to:
        wrong += [verb for verb in row["do"] if verb not in actions]
        wrong += [kind for kind in (*row.get("to", ()), *row.get("not", ())) if kind not in kinds["part"]]
    for listed in LANGUAGE.by_thing.values():
        wrong += [kind for kind in listed if kind not in kinds["part"] and kind not in kinds["product"]]
        wrong += [verb for verb in listed.values() if verb not in actions]
    for verb, parts in LANGUAGE.purposes.items():
        wrong += [one for one in (verb, *parts) if one not in actions]
    wrong += [verb for verb in LANGUAGE.noun_of_doing.values() if verb not in actions]
    wrong += [kind for kind in LANGUAGE.liquids if kind not in kinds["product"]]

    assert wrong == []


def test_what_is_weighed_is_an_attribute() -> None:
    """Names in the tables of the scoring."""
    known = {name for attributes in VOCABULARY.attributes.values() for name in attributes}

    assert {*LANGUAGE.prior, *LANGUAGE.never_guessed} - known == set()
    assert {name for one in LANGUAGE.means.values() for name in one} - known == set()
    assert set(LANGUAGE.step_carries) - set(VOCABULARY.attributes["step"]) == set()

"""The built-in vocabulary: complete, consistent with itself, with the tables and with published classes."""

from __future__ import annotations

import pytest

from advisor.document import read_text
from advisor.plan.reading import read_plan
from advisor.rulebase.values import read_literal, type_of
from advisor.rulebase.vocabulary import SORTS, Attribute, fold
from advisor.rulebase.vocabulary_files import load_vocabulary
from advisor.tables import rules_folder, table

VOCABULARY = load_vocabulary([rules_folder() / "vocabulary"])
ATTRIBUTES = [a for sort in SORTS for a in VOCABULARY.attributes[sort].values()]
TAXONOMIES = [t for _, t in sorted(VOCABULARY.taxonomies.items())]
NAMED_SORTS = ("room", "part", "product", "step")


def every_attribute(test, among=ATTRIBUTES):
    return pytest.mark.parametrize("attribute", among, ids=lambda a: f"{a.sort}-{a.name}")(test)


def every_presumed(test):
    return every_attribute(test, [a for a in ATTRIBUTES if a.presume])


def every_limited(test):
    return every_attribute(test, [a for a in ATTRIBUTES if a.least and a.most])


def every_taxonomy(test):
    return pytest.mark.parametrize("taxonomy", TAXONOMIES, ids=lambda t: t.name)(test)


STUBS = {
    "room": {"kind": "kitchen"},
    "part": {"kind": "trim"},
    "product": {"kind": "paint"},
    "step": {"do": "paint"},
}
SECTIONS = {"room": "rooms", "part": "parts", "product": "products", "step": "steps"}


def read_example(attribute: Attribute):
    """The example as a plan that says nothing else has it; what it refers to stands beside it."""
    node = read_text(attribute.example, "example")
    assert list(node.pairs) == [attribute.name]
    written = node.pairs[attribute.name][1].plain()
    if attribute.sort not in NAMED_SORTS:
        plan = {attribute.sort: {attribute.name: written}, "steps": [{"do": "clean up"}]}
        return read_plan(plan, VOCABULARY).entities[attribute.sort]
    plan = {"steps": [{"do": "clean up"}]}
    named = [(attribute.sort, "it", {**STUBS[attribute.sort], attribute.name: written})]
    if attribute.type == "ref":
        names = written if isinstance(written, list) else [written]
        named = [(attribute.of, name, STUBS[attribute.of]) for name in names] + named
    for sort, name, said in named:
        if sort == "step":
            plan["steps"].append({"id": name, **said})
        else:
            plan.setdefault(SECTIONS[sort], {})[name] = said
    return {attribute.sort: read_plan(plan, VOCABULARY).entities[attribute.sort]["it"]}


def test_every_sort_has_attributes():
    assert set(VOCABULARY.attributes) == set(SORTS)


@every_attribute
def test_attribute_says_what_it_means_and_what_to_ask(attribute):
    assert attribute.meaning != ""
    assert attribute.ask.endswith("?")
    assert ("{{ id }}" in attribute.ask) == (attribute.sort in NAMED_SORTS)


@every_attribute
def test_example_of_attribute_can_be_read(attribute):
    entity = read_example(attribute)[attribute.sort]

    assert list(entity.values).count(attribute.name) == 1
    assert entity.values[attribute.name].plain not in ("", ())


@every_limited
def test_limits_of_attribute_can_be_read_and_leave_room(attribute):
    least, most = (read_literal(text, type_of(attribute), VOCABULARY) for text in (attribute.least, attribute.most))

    assert least < most


@pytest.mark.parametrize("sort", SORTS)
def test_single_limits_can_be_read(sort):
    limited = [a for a in VOCABULARY.attributes[sort].values() if a.least and not a.most]
    read = [read_literal(a.least, type_of(a), VOCABULARY) for a in limited]

    assert [value for value in read if not isinstance(value, int | float)] == []


@every_presumed
def test_presumption_is_a_value_with_a_reason_for_known_kinds(attribute):
    kinds = VOCABULARY.taxonomies.get(f"{attribute.sort}_kind")
    for presumption in attribute.presume:
        assert read_literal(presumption.value, type_of(attribute), VOCABULARY) not in ("", ())
        assert presumption.because != ""
        assert [k for k in presumption.for_kinds if kinds is None or kinds.find(k) != k] == []
        assert [n for n, _ in presumption.unless if n not in VOCABULARY.attributes[attribute.sort]] == []


@pytest.mark.parametrize("sort", SORTS)
def test_no_word_names_two_attributes_of_a_sort(sort):
    owner: dict[str, str] = {}
    for attribute in VOCABULARY.attributes[sort].values():
        for word in (attribute.name, *attribute.aliases):
            assert owner.setdefault(fold(word), attribute.name) == attribute.name


@every_taxonomy
def test_no_term_is_its_own_ancestor(taxonomy):
    assert [name for name in taxonomy.terms if name in taxonomy.above(name)] == []


@every_taxonomy
def test_every_spelling_finds_its_term_in_any_case(taxonomy):
    for term in taxonomy.terms.values():
        for word in (term.name, *term.aliases):
            forms = (word, word.upper(), word.replace(" ", "_"), word.replace(" ", "-"), f" {word} ")
            assert {taxonomy.find(form) for form in forms} == {term.name}


@pytest.mark.parametrize(
    ("name", "word", "found"),
    [
        ("part_kind", "outlets", "outlet"),
        ("part_kind", "Switches", "switch"),
        ("part_kind", "cabinet-door", "cabinet doors"),
        ("part_kind", "Countertops", "worktop"),
        ("part_kind", "shelves", "shelf"),
        ("tool", "clamps", "clamp"),
        ("tool", "Random Orbit Sanders", "random-orbit sander"),
        ("condition", "knot", "knots"),
        ("permit", "electrical permits", "electrical"),
    ],
)
def test_plurals_and_hyphens_do_not_matter(name, word, found):
    assert VOCABULARY.taxonomies[name].find(word) == found


@pytest.mark.parametrize(
    ("name", "us", "other"),
    [
        ("wiring", "aluminum", "aluminium"),
        ("material", "galvanized steel", "galvanised steel"),
        ("material", "fiber-cement", "fibre-cement"),
        ("material", "MDF", "medium density fibreboard"),
        ("condition", "mold", "mould"),
        ("action", "leveling", "levelling"),
        ("action", "miter", "mitre"),
        ("action", "acclimatize", "acclimatise"),
        ("part_kind", "molding", "moulding"),
        ("tool", "organic-vapor cartridge", "organic-vapour cartridge"),
        ("start_point", "center line", "centre line"),
    ],
)
def test_both_spellings_mean_the_same(name, us, other):
    found = VOCABULARY.taxonomies[name].find(us)

    assert found is not None
    assert VOCABULARY.taxonomies[name].find(other) == found


def test_unknown_word_means_nothing():
    assert VOCABULARY.taxonomies["tool"].find("flux capacitor") is None


@pytest.mark.parametrize(
    ("name", "taxonomy"),
    [("solvents", "solvent"), ("wood_species", "material"), ("box_volumes", "box_size"), ("apf", "tool")],
)
def test_rows_of_table_are_words_of_the_vocabulary(name, taxonomy):
    words = VOCABULARY.taxonomies[taxonomy]
    waived = {"apf": {"none", "quarter mask"}}.get(name, set())  # nothing worn; a mask that is hardly sold

    assert [row for row in table(name).rows if row not in waived and words.find(row) is None] == []


@pytest.mark.parametrize("size", sorted(VOCABULARY.taxonomies["conductor_size"].terms))
def test_wire_size_has_its_row_in_the_conductor_table(size):
    """A size in mm² has none: what it may carry is a matter of its own country's law, never of this table."""
    assert (table("conductors").row(size) is None) == size.endswith("mm2")


PLAN = """
title: Words in many spellings
house: {year built: 1957, children: 1, wiring: Aluminium, equipment ground: no, smoke detectors: working}
rooms:
  galley: {kind: Kitchens, length: 13 ft, width: 9 ft, height: 8 ft, ventilation: windows closed}
parts:
  fronts: {kind: cupboard doors, room: galley, made of: Hard Maple, has: [knot, greasy],
           finish: varnished, surface area: 70 sqft}
  sockets: {kind: receptacles, room: galley, how many: 3}
products:
  undercoat: {kind: stain blocker, binder: shellac, solvent: denatured alcohol, quantity: 1 qt}
crew: {people: 2, owns: [N95, safety glasses, shop vac]}
steps:
  - {id: rub, do: rub down, part: fronts, tool: [palm sander], takes: 2 h}
  - {do: undercoat, to: fronts, product: undercoat, method: rolling, sides: all faces}
  - {do: swap, to: sockets, done by: electrician}
budget: {money: 1800 USD, hours: 120}
"""


def test_plan_in_other_spellings_is_read_as_the_words_meant():
    plan = read_plan(PLAN, VOCABULARY)
    part, product = plan.entities["part"]["fronts"].values, plan.entities["product"]["undercoat"].values

    assert plan.entities["house"]["house"].values["wiring"].plain == "aluminum"
    assert {n: part[n].plain for n in ("kind", "material", "coating")} == {
        "kind": "cabinet doors", "material": "sugar maple", "coating": "varnish",
    }  # fmt: skip
    assert set(part["has"].plain) == {"knots", "grease"}
    assert (product["kind"].plain, product["carrier"].plain) == ("stain-blocking primer", "ethanol")
    assert [step.values["do"].plain for step in plan.steps] == ["sand", "prime", "replace"]


@pytest.mark.parametrize(
    ("taxonomy", "word", "kind"),
    [
        ("tool", "shovel", "hand tool"),
        ("tool", "sledgehammer", "hammer"),
        ("tool", "riving knife", "accessory"),
        ("tool", "insulation blower", "power tool"),
        ("tool", "boards to stand on", "walk boards"),
        ("material", "pressure-treated pine", "treated lumber"),
        ("product_kind", "cellulose", "insulation"),
        ("part_kind", "chandelier", "light"),
        ("part_kind", "cellulose insulation", "insulation material"),
        ("part_kind", "soffit vents", "ventilation"),
        ("action", "fill grain", "fill"),
        ("action", "fit slides", "install"),
        ("fixing", "lag screws", "screws"),
        ("circuit_use", "dishwasher", "dedicated"),
        ("connection", "cord", "plug and cord"),
    ],
)
def test_words_of_the_trade_are_seen_by_rules_about_what_they_are_a_kind_of(taxonomy, word, kind):
    """Words that trial plans used."""
    words = VOCABULARY.taxonomies[taxonomy]

    assert words.find(word) in words.below(kind)


@pytest.mark.parametrize(("taxonomy", "word"), [("action", "dig"), ("tool", "chair"), ("material", "cellulose")])
def test_a_word_of_no_class_is_known_and_belongs_to_none(taxonomy, word):
    """A chair is no ladder, and digging breaks up no old finish."""
    words = VOCABULARY.taxonomies[taxonomy]

    assert (words.find(word), words.above(word)) == (word, ())

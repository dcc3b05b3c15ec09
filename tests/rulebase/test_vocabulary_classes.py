"""What the vocabulary calls a kind of what, against published lists."""

from __future__ import annotations

import pytest

from advisor.rulebase.vocabulary import Taxonomy
from advisor.rulebase.vocabulary_files import load_vocabulary
from advisor.tables import rules_folder

VOCABULARY = load_vocabulary([rules_folder() / "vocabulary"])


def classes(taxonomy: str, word: str) -> set[str]:
    words: Taxonomy = VOCABULARY.taxonomies[taxonomy]
    found = words.find(word)
    assert found is not None
    return {found, *words.above(found)}


HARDWOODS = ["alder", "ash", "basswood", "beech", "birch", "cherry", "chestnut", "elm", "hickory", "mahogany",
             "maple", "oak", "teak", "walnut", "yellow poplar"]  # fmt: skip
SOFTWOODS = [
    "cypress",
    "Douglas-fir",
    "hemlock",
    "larch",
    "pine",
    "redwood",
    "spruce",
    "western redcedar",
    "white fir",
]


@pytest.mark.parametrize("species", HARDWOODS)
def test_hardwoods_are_those_of_the_wood_handbook(species):
    """Wood Handbook FPL-GTR-190 (2010), ch. 2, lists of hardwoods and imported hardwoods (from memory)."""
    assert {"wood", "hardwood"} <= classes("material", species)
    assert "softwood" not in classes("material", species)


@pytest.mark.parametrize("species", SOFTWOODS)
def test_softwoods_are_those_of_the_wood_handbook(species):
    """Wood Handbook FPL-GTR-190 (2010), ch. 2, list of softwoods (from memory)."""
    assert {"wood", "softwood"} <= classes("material", species)
    assert "hardwood" not in classes("material", species)


@pytest.mark.parametrize("trap", ["S-trap", "bell trap", "drum trap", "crown-vented trap"])
def test_prohibited_traps_are_those_of_the_residential_code(trap):
    """IRC P3201.5: S, bell, drum and crown-vented traps are prohibited."""
    assert "prohibited trap" in classes("trap_type", trap)


def test_p_trap_is_not_prohibited():
    """IRC P3201.5 does not name it."""
    assert classes("trap_type", "p-trap") == {"p-trap"}


@pytest.mark.parametrize("mask", ["N95", "half mask", "PAPR", "full face mask", "supplied-air respirator"])
def test_respirators_are_those_with_an_assigned_protection_factor(mask):
    """29 CFR 1910.134, Table 1, names them (from memory)."""
    assert "respirator" in classes("tool", mask)


def test_paper_mask_and_bare_cartridge_are_no_respirators():
    """29 CFR 1910.134(b) (from memory): an approved facepiece; not a filter alone, nor an unapproved mask."""
    assert "respirator" not in classes("tool", "dust mask")
    assert "respirator" not in classes("tool", "organic vapor cartridge")


@pytest.mark.parametrize(
    "stone", ["granite", "quartz", "porcelain", "ceramic tile", "concrete", "brick", "cement board"]
)
def test_materials_whose_dust_holds_silica(stone):
    """29 CFR 1926.1153 and its compliance guide: brick, concrete, stone, tile, fiber-cement."""
    assert "silica material" in classes("material", stone)


@pytest.mark.parametrize("room", ["kitchen", "garage", "crawl space", "closet", "workshop", "hallway"])
def test_rooms_are_presumed_closed(room):
    assert presumed_ventilation(room) == ["closed"]


@pytest.mark.parametrize("place", ["outdoors", "yard", "porch", "driveway"])
def test_open_places_are_presumed_open(place):
    assert presumed_ventilation(place) == ["outdoors"]


def presumed_ventilation(room: str) -> list[str]:
    presume = VOCABULARY.attributes["room"]["ventilation"].presume
    return [p.value for p in presume if classes("room_kind", room).intersection(p.for_kinds)]


def test_every_room_kind_is_either_indoors_or_outdoors():
    kinds = [name for name, term in VOCABULARY.taxonomies["room_kind"].terms.items() if not term.gathered]

    assert [k for k in kinds if len(classes("room_kind", k) & {"indoors", "outdoors"}) != 1] == []

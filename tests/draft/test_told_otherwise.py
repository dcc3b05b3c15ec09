"""Work that is told otherwise than verb and thing, each with what looks alike and is none; and the sealed texts."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.rulebase.base import load_rulebase
from benchmarks.draft import run
from benchmarks.draft.classes import class_of
from draft.heard import fact, hear, steps, value

SEALED = Path(__file__).parent / "sealed"


def test_what_moves_is_done() -> None:
    """Particles stand for verbs; what is switched or lies somewhere is not moved."""
    assert [do for do, _ in steps("Traps off, old sink out, new sink in, traps on.")] == [
        "remove", "remove", "install", "reinstall",
    ]  # fmt: skip
    assert [do for do, _ in steps("The carpet comes up first, then the tack strips.")] == ["remove", "remove"]
    assert steps("The light is on. The paint is on the wall. The fan is off.") == []


def test_order_told_backwards() -> None:
    """From the last step to the first; what is joined by `and` keeps its order."""
    told = "Last, hang the doors. Before, paint the doors. Before that, sand the doors and wash the doors."
    assert [do for do, _ in steps(told)] == ["sand", "wash", "paint", "hang"]
    backwards = "Steps backward: hang the doors, paint the doors, sand the doors."
    assert [do for do, _ in steps(backwards)] == ["sand", "paint", "hang"]
    assert [do for do, _ in steps("Sand the doors, paint the doors, hang the doors.")] == ["sand", "paint", "hang"]


def test_a_product_alone_is_a_step_where_order_words_tell() -> None:
    """`before that a primer`; without them it is only there."""
    told = "Two coats of enamel on the doors. Before that a primer."
    assert [do for do, _ in steps(told)] == ["prime", "paint"]
    assert [do for do, _ in steps("Paint the doors. We have a primer.")] == ["paint"]


def test_what_is_covered_is_not_what_is_worked_on() -> None:
    """`it` behind a floor that is only covered is the ceiling; and popcorn tells more closely which."""
    text = "My ceiling has popcorn texture. Cover the floor with plastic, mist it with water, scrape it."
    assert steps(text)[1:] == [("wet down", ["ceiling"]), ("scrape ceiling", ["ceiling"])]
    assert value(text, "parts", "ceiling", "kind") == "textured ceiling"


def test_a_word_behind_something_else_is_not_of_the_part() -> None:
    """`a stepladder, wooden`; `the house is brick`; a marble top: none is the door's material."""
    assert fact("Paint the door. I own a stepladder, wooden.", "part", "door", "material") is None
    assert fact("Paint the door. House is from 1958, brick.", "part", "door", "material") is None
    assert fact("Put in a vanity with a marble top.", "part", "vanity", "material") is None
    assert fact("Paint the door. It is pine.", "part", "door", "material") == "pine"


@pytest.mark.parametrize(
    ("text", "count"),
    [("Our baby's 8 months", "1"), ("My grandson, 15, is here", None), ("Two boys, 2 and 5, live here", "2")],
)
def test_children(text: str, count: str | None) -> None:
    """Months are under six; one child of fifteen does not say that there is no other."""
    assert value(f"Sand the doors. {text}.", "house", "children_under_6") == count


def test_pairs() -> None:
    """The longer side is the length, whatever the units; a tile's size is no room's."""
    assert value("Paint the bedroom, 11 ft 6 by 13 ft.", "rooms", "bedroom", "length") == "13 ft"
    assert value("Kitchen. Something, 12 by 12 inch.", "rooms", "kitchen", "length") is None


def test_a_cut_is_in_the_wall() -> None:
    """Where the hole is, is what is cut."""
    assert steps("Mount the hood. Cut the hole in the wall.")[1] == ("cut out", ["wall"])


def test_the_sealed_texts_are_never_printed(capsys: pytest.CaptureFixture[str]) -> None:
    """Of them totals only, also with --show, and whatever folder above them is named."""
    run.main(["--show", str(SEALED)])
    told = capsys.readouterr().out

    assert "40 texts" in told
    table = [one for one in told.splitlines() if one.startswith("    ")]
    known = load_rulebase().vocabulary.attributes
    classes = {class_of(sort, one) for sort, listed in known.items() for one in listed.values()}
    assert {one[4:28].strip() for one in table} <= {"by class", *classes}
    assert all(word.isdigit() for one in table[1:] for word in one[28:].split())
    assert len(told.splitlines()) - len(table) == 3 * 11
    for path in SEALED.glob("**/*.yaml"):
        words = path.read_text(encoding="utf-8").split()
        rows = {" ".join(words[n : n + 4]) for n in range(len(words) - 3)}
        assert not any(row in told for row in rows), "a sealed text was printed"
        assert run.is_sealed(path)


def test_typed_without_stops() -> None:
    """What is not known or owned ends where somebody begins anew."""
    text = (
        "so we have this bathroom its like 5 by 8 ft and the floor is old linoleum i dont know if it has asbestos in it"
        " first we take out the toilet then we rip up the floor my husband has a tile saw and then we tile the floor"
        " and grout it and i wash it at the end"
    )
    assert [do for do, _ in steps(text)] == ["remove", "demolish", "tile", "grout", "wash"]
    assert value(text, "rooms", "bathroom", "length") == "8 ft"
    assert value(text, "parts", "floor", "asbestos_test") is None


def test_drying_is_a_step() -> None:
    """Told by itself or of a thing; a time makes it a wait, and behind a thing's name it tells how."""
    assert steps("Wash the wall, let it dry, take off the switch plates.")[1] == ("dry", ["wall"])
    assert steps("Let the studs dry with a dehumidifier, then hang drywall.")[0][0] == "dry"
    assert [do for do, _ in steps("Rinse the deck and let it dry for 2 days.")] == ["rinse"]
    assert steps("The deck is dry. It dries in 2 hours.") == []


def test_what_somebody_did_is_done() -> None:
    """With what it was done to, or some time ago; how a thing is tells of no work."""
    assert hear("Took out the vanity yesterday. Hang drywall.").plan["steps"][0]["done"] == "yes"
    assert hear("Removed carpet last weekend. Sanding the floor next.").plan["steps"][0]["done"] == "yes"
    assert steps("Primed MDF trim, painted wood sill.") == []


def test_a_product_alone_with_a_wait_is_put_on() -> None:
    """`sealer after 3 days` is a step behind others; beside what is at hand it is none."""
    assert [do for do, _ in steps("Set the tile, grout it, sealer after 3 days.")][-1] == "seal"
    assert steps("We have sealer.") == []


def test_a_new_one_is_of_what_the_sentence_told_of() -> None:
    """An older thing of the talk that goes out is not meant."""
    text = "The old drain is galvanized and I'll replace it. The range hood vents into the attic, I want a new one."
    assert steps(text) == [("replace", ["drain"]), ("install", ["new-range-hood"])]


def test_what_is_swapped_for_a_material_is_made_of_it() -> None:
    """A new one comes; what else is spoken of is made of nothing new."""
    text = "Undermount sink. The old drain is galvanized and I'll swap it for PVC."
    assert value(text, "parts", "new-drain", "pipe") == "PVC"
    assert fact(text, "part", "sink", "material") is None
    assert value("Replace the laminate counter with granite.", "parts", "counter", "material") == "laminate"
    assert steps("Swap the drain for PVC and test it.")[0] == ("replace", ["drain"])


def test_the_boxes_and_doors_of_drawers_and_cabinets() -> None:
    """Beside drawers a box holds no wires; beside drawer fronts doors are those of cabinets."""
    assert value("The drawers fall apart, I rebuild the boxes.", "parts", "the-boxes", "kind") == "drawer"
    assert value("Take the light down and swap the box.", "parts", "the-box", "kind") == "junction box"
    assert value("Take off all doors and drawer fronts.", "parts", "doors", "kind") == "cabinet doors"
    assert value("Paint the door of the bedroom. Sand the drawer fronts.", "parts", "door", "kind") == "door"


def test_what_gets_another_place_is_moved() -> None:
    """And what only moves, or moves something, is not."""
    assert steps("The microwave on the counter moves to a shelf in the pantry.") == [("move", ["microwave"])]
    assert steps("The two outlets have to move up 4 inches.") == [("move", ["outlets"])]
    assert steps("Paint the wall. The fan moves air.") == [("paint", ["wall"])]


def test_numbers_of_entries_are_no_amounts() -> None:
    """`4. one coat`: the four counts the entries of the line."""
    text = "Paint doors: 1. clean with TSP, 2. sand 120 then 220, 3. one coat primer, 4. two coats enamel."
    heard = hear(text)
    assert [s["do"] for s in heard.plan["steps"]] == ["degrease", "sand", "prime", "paint"]
    assert heard.plan["steps"][1]["grits"] == ["120", "220"]
    assert hear("Sand with 80, 2. and 3 are done.").plan["steps"][0]["do"] == "sand"


def test_from_where_to_where_is_not_what_is_tiled() -> None:
    """What comes off a thing is worked on there all the same."""
    assert steps("We put in a new counter. We'll tile from the counter to the uppers.")[1] == ("tile", [])
    assert steps("Strip the paint from the doors.") == [("strip", ["doors"])]


def test_how_far_out_and_where_to() -> None:
    """An inch lower is out of level; through the wall is outdoors; a yellowed varnish is a coat and no product."""
    assert (
        value("The base cabinets are an inch lower, I'll shim them.", "parts", "base-cabinets", "out_of_level")
        == "1 in"
    )
    assert value("Hang a hood, ducted out through the wall.", "parts", "hood", "ducted") == "yes"
    text = "The cabinets are old birch with a yellowed varnish. We paint them white."
    assert value(text, "parts", "cabinets", "coating") == "varnish"

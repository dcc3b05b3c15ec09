"""Where the work is, what a wide name is, and in which order, where words tell it otherwise than a list does."""

from __future__ import annotations

import pytest

from advisor.draft.draft import draft
from advisor.draft.language import load_language
from advisor.rulebase.base import load_rulebase
from tests.draft.heard import hear


def steps(text: str) -> list[str]:
    """What is done, in order."""
    return [step.kind for step in draft(text, load_rulebase()).board.steps]


def part(text: str, own: str) -> dict[str, object]:
    """What is told of a part."""
    thing = draft(text, load_rulebase()).board.named(own)
    assert thing is not None
    return {name: fact.value for name, fact in thing.facts.items()}


@pytest.mark.parametrize(
    "text",
    [
        "The panel is in the garage. Replace the toilet.",
        "My son sleeps in the basement. Replace the toilet.",
        "The toilet is above the kitchen. Replace it.",
        "The drain goes to the basement. Replace the toilet.",
    ],
)
def test_a_room_of_something_else_is_not_that_of_the_work(text: str) -> None:
    """A toilet is in a bathroom, unless the words say that it stands elsewhere."""
    assert part(text, "toilet")["room"] == "bathroom"


def test_what_is_told_to_stand_in_a_room_stands_there() -> None:
    """Near misses: the same rooms, told of the thing itself."""
    assert part("The toilet is in the basement. Replace it.", "toilet")["room"] == "basement"
    assert "room" not in part("I spray the cabinet doors in the garage.", "cabinet-doors")
    assert part("I paint the walls in the garage.", "walls")["room"] == "garage"


def room_kinds(text: str) -> list[str]:
    """The kinds of the rooms of a text."""
    return [room.kind for room in draft(text, load_rulebase()).board.things["room"]]


def test_of_two_rooms_in_a_row_the_last_is_meant() -> None:
    """A bath off the hall is a bath; what is lived in below the ground is a finished basement."""
    assert room_kinds("We paint our bedroom closet walls.") == ["closet"]
    assert room_kinds("We paint the garage bathroom walls.") == ["bathroom"]
    assert room_kinds("New carpet in the basement playroom.") == ["finished basement"]
    assert room_kinds("New tile in the basement bathroom.") == ["bathroom"]
    assert room_kinds("New carpet in the playroom.") == ["nursery"]


def test_a_worktop_tells_no_kitchen() -> None:
    """It stands in a laundry or a bar, too; a dishwasher does tell it."""
    assert room_kinds("Oil the butcher block. Install the worktop.") == []
    assert room_kinds("Install the dishwasher.") == ["kitchen"]


def test_a_wide_name_is_told_closer() -> None:
    """And stays wide where nothing tells more."""
    assert part("The floor is concrete. Sweep it.", "floor")["kind"] == "concrete slab"
    assert part("Sweep the floor.", "floor")["kind"] == "floor"
    assert steps("Install the smoke alarm, then test the smoke alarm.")[-1] == "test alarm"
    assert part("Put in a new metal box.", "metal-box")["material"] == "metal"


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("Hang the new door. The old one comes off in the morning.", ["remove", "hang"]),
        ("Hang the new shelf. Then paint the wall.", ["hang", "paint"]),
        ("Paint the walls. But before I paint, I fill the holes.", ["fill", "paint"]),
        ("I will stain the deck. Wash and sand it first.", ["wash", "sand", "stain"]),
        ("Painting the walls is the last step. I patch and sand them.", ["fill", "sand", "paint"]),
        ("Hang the cabinets. Paint the walls ahead of the cabinets.", ["paint", "hang cabinets"]),
        ("I want to paint the radiator. Wire brush it.", ["wire brush", "paint"]),
        ("I want to paint the radiator. Hang a towel bar.", ["paint", "hang"]),
        ("We want to put in a dishwasher. The old cabinet comes out.", ["remove", "install"]),
        ("I want to hang a shelf. First wash the wall, then fill the holes.", ["wash", "fill", "hang"]),
        ("I want to hang a shelf. Then wash the wall.", ["hang", "wash"]),
        ("Fasten the treads. Predrill the treads.", ["drill", "fasten"]),
        ("Install the light. I hold the light.", ["support", "install"]),
        ("Wash the wall, take off the plates (breaker off first).", ["wash", "shut off power", "remove"]),
        ("The fan comes down first, power off at the breaker.", ["shut off power", "remove"]),
        ("I washed the fence yesterday. I stain it. Cover the plants first.", ["wash", "protect", "stain"]),
        ("Sand the floor, and stain it. I empty the room which comes first.", ["empty", "sand", "stain"]),
    ],
)
def test_the_order_that_words_tell(text: str, order: list[str]) -> None:
    """Whatever was told first."""
    assert steps(text) == order


def test_rows_name_what_there_is() -> None:
    """The rows of closer.yaml, order.yaml and rooms.yaml fit the vocabulary."""
    language, known = load_language(), load_rulebase().vocabulary.taxonomies
    parts = known["part_kind"].terms | known["product_kind"].terms
    rooms, verbs = known["room_kind"].terms, known["action"].terms
    wrong = [k for row in language.closer_kinds for k in (row["is"], row.get("kind", row["is"])) if k not in parts]
    wrong += [k for row in language.closer_kinds for k in row.get("with", ()) if k not in parts]
    wrong += [row["room"] for row in language.closer_kinds if "room" in row and row["room"] not in rooms]
    wrong += [
        v for row in language.closer_verbs for v in (row["do"], row["is"], *row.get("after", ())) if v not in verbs
    ]
    wrong += [v for row in language.order["sooner"] for v in (row["do"], *row["before"]) if v not in verbs]
    wrong += [v for row in language.order["prepares"] for v in (*row["do"], *row["for"]) if v not in verbs]
    wrong += [r for own, never in language.not_found_in.items() for r in (own, *never) if r not in rooms]
    assert wrong == []


def test_bare_sides_of_a_room_are_feet() -> None:
    """`bathroom is 6x9` is told in feet, marked as inferred; what stands in it, or over it, has its own sides."""
    for text in ("The bathroom is 6x9. Tile the floor.", "Tile the floor. Bathroom, 6 x 9."):
        plan = hear(text)
        (room,) = plan.board.things["room"]
        assert (room.facts["length"].value, room.facts["width"].value) == ("9 ft", "6 ft")
        assert room.facts["length"].note == "inferred"
    for text in (
        "Build a pergola over the patio, 10 by 12.",
        "Paint the shelf in the closet, 12x24.",
        "Kitchen, 3x4, tiles of 30 cm. Paint the wall.",
        "Hang the kitchen cabinets, 30x30.",
    ):
        assert not any("length" in room.facts for room in hear(text).board.things["room"])

"""What people type as they talk, without stops: each with what looks alike and is none. Common speech, from memory."""

from __future__ import annotations

import pytest

from draft.heard import fact, hear, steps, value


def who_does(text: str) -> list[tuple[str, str]]:
    """Each step with who does it."""
    return [(step["do"], step.get("who", "")) for step in hear(text).plan.get("steps", [])]


def test_people_called_by_name() -> None:
    """A name behind what the person is; a word that is no name stays what it is."""
    told = "my nephew gus pulls the carpet up and i paint the wall"
    assert who_does(told) == [("remove", "helper"), ("paint", "owner")]
    assert who_does("my brother in law ray is gonna hold the door up while i hang it")[0] == ("support", "helper")
    assert who_does("my wife picked red. i paint the wall") == [("paint", "")]
    assert hear("my son sleeps in there. i paint the wall").plan.get("crew") == {
        "who": ["owner"]
    }  # `i`, and nobody else


def test_who_handles_a_tool_does_no_step() -> None:
    """`I hold the vacuum` goes with the drilling; `he holds the post` is work."""
    told = hear("my son drills the wall and i hold the vacuum").plan["steps"]
    assert [(s["do"], s["with"]) for s in told] == [("drill", ["vacuum"])]
    assert ("support", ["post"]) in steps("we dig the holes for the post and my son holds the post")
    assert steps("I do not know do they hold.") == []


def test_who_does_the_wire() -> None:
    """`do` is what is done with such a thing; alone it is nothing."""
    assert steps("my pal does the tile and i do the grout")[0] == ("tile", ["tile"])
    assert steps("What do I do with the tile?") == []
    assert steps("I do not know the tile.") == []


def test_left_to_others() -> None:
    """What one will not do and another does, a step; what nobody does, none."""
    told = "i bought an outlet for the garage. i aint hooking it up a licensed man does that"
    assert who_does(told) == [("connect", "licensed electrician")]
    assert steps("i bought an outlet. i aint hooking it up") == []


def test_what_happens_by_itself_is_no_work() -> None:
    """`the rod come down` happened; `the hooks come out` is to be done."""
    assert steps("the rod in our closet come down so i put a new one up") == [("install", ["new-rod"])]
    assert steps("three panels of the fence come down in the wind") == []
    assert steps("the old hooks come out before that") == [("remove", ["old-hooks"])]


def test_how_things_are_today_is_no_work() -> None:
    """`right now i run a cord`; with another word it is work."""
    assert steps("right now i run a cable to the window") == []
    assert [do for do, _ in steps("tomorrow i run a cable to the window")] == ["run cable"]


def test_cartons_are_no_boxes_of_wires() -> None:
    """`a box of screws`, `it says so on the box`; an outlet is put into a box."""
    for text in ("i got a box of screws. i paint the wall", "the fan says 80 cfm on the box. i hang the fan"):
        assert all(part["kind"] != "junction box" for part in hear(text).plan["parts"].values()), text
    kinds = [part["kind"] for part in hear("i put the outlet in the box").plan["parts"].values()]
    assert "junction box" in kinds


def test_panels_of_a_fence() -> None:
    """They are the fence; a panel by itself is the electrical one."""
    text = "we put four panels of the fence back up"
    assert [part["kind"] for part in hear(text).plan["parts"].values()] == ["fence"]
    assert fact("we replace the panel", "part", "panel", "count") is None


def test_the_old_one_goes_where_a_new_one_is_put() -> None:
    """`it quit so i put a new one in`; one that is added leaves the other where it is."""
    assert value("the bath fan quit so i put a new one in", "parts", "bath-fan", "stays") == "no"
    added = "the outlet by the sink works. we add a new outlet next to it"
    assert value(added, "parts", "outlet", "stays") is None
    assert value("the worktop is new. we seal the worktop", "parts", "new-worktop") is None


def test_cupboards_are_emptied_and_sheets_keep_clean() -> None:
    """What is kept in a cupboard is no part of the house; a sheet over a bed is laid to keep it clean."""
    assert steps("take the mugs out of the cupboard") == [("empty", ["cupboard"])]
    assert steps("take the doors out of the frame") == [("remove", ["doors"])]
    told = hear("we put a sheet over the sofa and paint the wall").plan["steps"]
    assert [(s["do"], s.get("with")) for s in told] == [("protect", ["drop cloth"]), ("paint", None)]
    assert steps("put a sheet of drywall on the wall")[0][0] != "protect"


@pytest.mark.parametrize(
    ("text", "year"), [("the house is 1924 no 1922", "1922"), ("the house is 1924. no kids", "1924")]
)
def test_years_said_anew(text: str, year: str) -> None:
    """A year is taken back by a year only."""
    assert value(f"{text}. we sand the door", "house", "built") == year


def test_the_nearest_amount_is_taken_back() -> None:
    """`a foot more, twenty rolls, no eighteen`: the rolls; what somebody waits takes back no coats."""
    assert fact("i need a foot more so i bought twenty rolls of insulation no eighteen", "part", "insulation material",
                "count") == "18"  # fmt: skip
    oiled = hear("oil the worktop, three coats, wait 24 hours between coats").plan["steps"]
    assert oiled[0]["coats"] == "3"


def test_coats_that_are_there() -> None:
    """Ten coats on a frame are old paint; two coats on the wall are work. The old paint tells that it is painted."""
    assert fact("theres ten coats of paint on the door and we strip it", "part", "door", "layers") == "10"
    assert steps("two coats of paint on the wall") == [("paint", ["wall"])]
    assert fact("we scrape the windows, the old paint is chipping", "part", "window", "coating") == "paint"
    assert steps("the paint on the trim is chipping. we sand the trim") == [("sand", ["trim"])]
    assert fact("we paint the windows", "part", "window", "coating") is None


def test_told_late() -> None:
    """`i shoulda said that first` puts a step before all others."""
    told = "i hang the new hood. the old one comes down first i guess i shoulda started with that"
    assert [do for do, _ in steps(told)] == ["remove", "hang"]


def test_a_board_that_a_shelf_is() -> None:
    """`its a pine board` tells of the shelf; `its on boards` does not."""
    text = "i put up a shelf. its a pine board four foot long"
    assert fact(text, "part", "shelf", "material") == "pine"
    assert fact(text, "part", "shelf", "length") == "4 ft"
    assert fact("we sand the floor. its on boards", "part", "floor", "material") is None


def test_places_named_aside() -> None:
    """`by the shed` is no room of the work; `in the shed` is."""
    assert value("we paint the fence by the shed", "rooms") is None
    assert value("we paint the wall in the shed", "rooms", "shed", "kind") == "workshop"
    assert value("paint the rod in our bedroom closet", "rooms", "closet", "kind") == "closet"


def test_what_is_waited_for_is_not_the_next_work() -> None:
    """`let it dry for two days and paint it` waits behind the rinsing."""
    told = hear("Rinse the floor, let it dry for two days and paint it.").plan["steps"]
    assert [(s["do"], s.get("wait")) for s in told] == [("rinse", "2 day"), ("paint", None)]


def test_shades_and_wanted_colors() -> None:
    """`a pale yellow` is one color; what somebody wants is the paint's, what is there now the wall's."""
    text = "We paint the bedroom walls. They are drywall and currently a dark purple, and she wants a pale yellow."
    assert fact(text, "product", "paint", "color") == "pale yellow"
    assert fact(text, "part", "wall", "color") == "dark purple"
    assert hear("We sand the door. She wants a yellow bike.").board.things["product"] == []


def test_boxes_are_of_what_comes_in_boxes() -> None:
    """Boxes of planks; a wall comes in none."""
    assert (
        fact("we lay vinyl plank in the hall and i bought four boxes", "part", "laminate floor", "boxes_bought") == "4"
    )
    assert fact("we paint the wall. 4 boxes here", "part", "wall", "boxes_bought") is None


def test_taking_caulk_out_is_not_cutting_the_tub() -> None:
    """`cut it out` is done to the caulk that was spoken of."""
    text = "The caulk around the bathtub is moldy. I cut it out with a utility knife and run a new bead of silicone."
    assert [do for do, _ in steps(text)] == ["cut caulk", "caulk"]
    assert steps("The ceiling is wet. I cut it out.")[0][0] == "cut out"


def test_measures_and_back_doors_are_no_verbs() -> None:
    """`16 inches square` squares nothing; a thing put in the back door is not put back."""
    assert steps("the hole is 16 inches square. we patch the wall") == [("fill", ["wall"])]
    assert "reinstall" not in [do for do, _ in steps("put a pet door in our back door")]
    assert [do for do, _ in steps("put the trim back")] == ["reinstall"]


def test_who_did_it_before_is_no_crew() -> None:
    """`the plumber already fixed the pipe`: he is not of this job."""
    assert hear("The plumber already fixed the pipe. We paint the wall.").plan.get("crew") == {"who": ["owner"]}
    assert value("A plumber fixes the pipe. We paint the wall.", "crew", "who") == ["owner", "licensed plumber"]


def test_no_load_bearing_wall() -> None:
    """`a non load bearing wall` is a wall that carries nothing; one that carries is one that does."""
    text = "we take out a non load bearing wall in the kitchen"
    assert [(p["kind"], p["load_bearing"]) for p in hear(text).plan["parts"].values()] == [("wall", "no")]
    kinds = [p["kind"] for p in hear("we take out a load bearing wall").plan["parts"].values()]
    assert kinds == ["load-bearing wall"]


def test_what_is_named_alone_or_is_some_kind_of_it() -> None:
    """`Drywall.` hangs none; `some kind of laminate` lays no floor; `and scrape` is work, `and drain` a name."""
    assert steps("Hang a shelf on the wall. Drywall. There is one stud, so I use anchors.") == [("hang", ["shelf"])]
    assert [do for do, _ in steps("Steps: sand. prime. paint.")] == ["sand", "prime", "paint"]
    text = "we paint the kitchen cabinets. theyre some kind of laminate stuff"
    assert fact(text, "part", "cabinets", "material") == "laminate"
    assert [do for do, _ in steps("Spray the wallpaper with vinegar and scrape.")][-1] == "scrape"
    assert "drain" not in [do for do, _ in steps("Disconnect the faucet and drain.")]


def test_where_there_is_a_light_now() -> None:
    """What is there now makes room, and is not put in."""
    assert steps("Install a ceiling fan in the den where there is a light now.") == [("install", ["ceiling-fan"])]
    assert steps("Cut out the bad part of the floor and screw in a piece of plywood.")[1] == ("fasten", ["floor"])
    assert fact("Hang two shelves. They hold towels, 15 pounds max.", "part", "shelf", "load") == "15 lb"

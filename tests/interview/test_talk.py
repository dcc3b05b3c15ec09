"""How an interview is led: where it starts, what an answer may be, what is left when somebody stops or is cut off."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from person import cut, text_of
from terminal import Terminal
from typer.testing import CliRunner, Result

from advisor.cli.app import app
from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.review.asking.answers import Choice, pieces, sizes
from advisor.review.asking.walk import Walk
from advisor.rulebase.base import load_rulebase
from advisor.site.hanging import CAUTION

HALL = cut(text_of("trim-in-an-old-hall"))
SHELF = """title: x
rooms: {den: {kind: living room}}
parts: {shelf: {kind: shelf, room: den}, wall: {kind: wall, room: den}}
steps: [{id: hang, do: install, to: shelf}]
"""


def run(*arguments: str, said: str = "", status: int = 0) -> Result:
    """The command with these lines at its input."""
    result = CliRunner().invoke(app, ["interview", *arguments], input=said)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        assert isinstance(result.exception, InputError)
        assert status == 2
        return result
    assert result.exit_code == status
    return result


def told(result: Result) -> str:
    """What was printed, or what was wrong with the input, on one line."""
    if isinstance(result.exception, InputError):
        return " ".join(map(str, result.exception.problems))
    return " ".join(result.output.split())


def readable(path: Path) -> bool:
    """Whether the file is a whole plan."""
    read_plan(path, load_rulebase().vocabulary)
    return True


# where it starts


def test_a_usual_job_by_its_name_or_number(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The starting plan is a file at once; without a word of where to start the job is asked for."""
    monkeypatch.chdir(tmp_path)
    named = run("faucet", "--output", "named.yaml", said="q\n")
    listed = told(run(said=""))
    number = re.search(r"(\d+) ([a-z ]*faucet[a-z ]*)[;.]", listed)
    assert number is not None, listed
    run(said=f"{number[1]}\nq\n")

    assert f"A starting plan for: {number[2]}." in told(named)
    assert (tmp_path / "named.yaml").read_bytes() == (tmp_path / "plan.yaml").read_bytes()
    assert readable(tmp_path / "plan.yaml")


def test_several_jobs_are_one_plan(tmp_path: Path) -> None:
    path = tmp_path / "both.yaml"
    run("faucet", "disposer", "--output", str(path), said="q\n")
    kinds = {str(p.values["kind"].plain) for p in read_plan(path, load_rulebase().vocabulary).entities["part"].values()}

    assert {"faucet", "disposer"} <= kinds


def test_a_sentence_is_drafted_and_its_offers_are_choices_of_one_key(tmp_path: Path) -> None:
    """What is said of two things is asked before anything else, and a number writes it."""
    path = tmp_path / "plan.yaml"
    words = "we paint the pantry shelves and the wall, 40 inches, the house is from the thirties."
    result = run(words, "--output", str(path), said="q\n")
    plan = path.read_text(encoding="utf-8")

    assert "built: 1930s" in plan
    assert "1. " in result.output
    assert readable(path)


def test_offers_come_first_and_are_written_by_number() -> None:
    """`Offered` is what a draft left unsure; *don't know* leaves all its ways unknown and unasked."""
    from advisor.review.asking.walk import Offered

    ways = ((("part", "shelf", "length"), "40 in"), (("part", "wall", "length"), "40 in"))
    walk = Walk.begin(SHELF, "x", load_rulebase(), least=CAUTION, offers=(Offered("40 inches", ways),))
    asked = walk.asked
    assert asked is not None
    after, unknown = walk.answer("2"), walk.dont_know()

    assert asked.ask == "You said '40 inches'. Which is meant?"
    assert [choice.said for choice in asked.choices] == ["shelf: length 40 in", "wall: length 40 in"]
    assert "wall: {kind: wall, room: den, length: 40 in}" in after.text
    assert "shelf: {kind: shelf, room: den}" in after.text
    assert (unknown.text, unknown.passed) == (SHELF, frozenset(key for key, _ in ways))
    with pytest.raises(InputError, match="from 1 to 2"):
        walk.answer("3")


def test_what_somebody_said_not_to_know_is_not_asked() -> None:
    """It is passed from the start."""
    first = Walk.begin(HALL, "x", load_rulebase(), least=CAUTION).asked
    assert first is not None
    walk = Walk.begin(HALL, "x", load_rulebase(), least=CAUTION, passed=first.keys)

    assert all(not {*first.keys} & {*one.keys} for one in walk.questions())


@pytest.mark.parametrize(
    ("start", "message"),
    [
        ("fauct", "Did you mean"),
        ("the weather is nice", "no work was heard"),
        ("there-is-no-such.yaml", "cannot be opened"),
    ],
)
def test_what_is_no_start_is_one_message_and_no_file(
    start: str, message: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)

    assert message in told(run(start, status=2))
    assert list(tmp_path.iterdir()) == []


def test_a_plan_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)

    assert "is there already" in told(run("swap a faucet", "--output", str(path), status=2))
    assert "leave --output out" in told(run(str(path), "--output", "other.yaml", status=2))
    assert path.read_text() == HALL


# what an answer may be


def test_an_answer_in_a_wrong_form_is_one_message_and_is_asked_again(tmp_path: Path) -> None:
    """The number of the question stays, and nothing is written till an answer fits."""
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)
    result = run(str(path), said="{{{\n99\npurple\nchildren under 6: many\nq\n")
    refused = re.findall(r"'([^']+)' is no answer to this. Expected|'(many)'. Expected", told(result))
    assert len(re.findall(r"^1\. ", result.output, re.MULTILINE)) == 5
    assert not re.search(r"^2\. ", result.output, re.MULTILINE)
    assert [one or other for one, other in refused] == ["{{{", "99", "purple", "many"]
    assert path.read_text() == HALL


def test_each_answer_is_told_in_one_line_and_kept(tmp_path: Path) -> None:
    """Written at once, the text of the start beside it; what is new is named, and how much is open."""
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)
    result = run(str(path), said="children under 6: 1\nwith: random-orbit sander\nq\n")

    assert re.search(r"Written\. .*1 danger new \(No machine on old paint .*\).*; \d+ open\.", told(result))
    assert "with: random-orbit sander" in path.read_text()
    assert (tmp_path / "plan.yaml.bak").read_text() == HALL


def test_back_takes_an_answer_back_and_later_asks_last(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)
    result = run(str(path), said="children under 6: 1\nback\nlater\nwhy\nq\n")
    numbers = [int(n) for n in re.findall(r"^(\d+)\. ", result.output, re.MULTILINE)]

    assert numbers == [1, 2, 1, 2, 2]
    assert "Taken back." in result.output
    assert path.read_text() == HALL


def test_words_numbers_and_names_say_the_same_of_several_attributes() -> None:
    """Of a question for three things each piece goes where alone it fits; the same word for two is not guessed at."""
    words = load_rulebase().vocabulary
    known = words.attributes["part"]
    plan = read_plan(SHELF, words, "x")
    asked = [known["material"], known["coating"], known["has"]]

    assert pieces("pine, varnish, knots, grease", asked, (), plan, words) == {
        "material": "pine", "coating": "varnish", "has": "knots, grease",
    }  # fmt: skip
    assert pieces("has: knots; material: pine", asked, (), plan, words) == {"has": "knots", "material": "pine"}
    with pytest.raises(InputError, match="may be new and added"):
        pieces("yes", [known["new"], known["added"]], (), plan, words)
    with pytest.raises(InputError, match="Expected material: one of its words; coating: one of its words"):
        pieces("Tuesday", asked[:2], (), plan, words)


def test_a_number_that_may_be_a_choice_or_a_count_is_not_guessed_at() -> None:
    """Two children under six must not become the second animal of a list."""
    words = load_rulebase().vocabulary
    known = words.attributes["house"]
    plan, asked = read_plan(SHELF, words, "x"), [known["children_under_6"], known["pets"]]
    animals = [Choice("dog", "dog", "pets"), Choice("cat", "cat", "pets")]

    with pytest.raises(InputError, match="'2' may be children under 6 and pets"):
        pieces("2", asked, animals, plan, words)
    assert pieces("children under 6: 2", asked, animals, plan, words) == {"children_under_6": "2"}
    assert pieces("pets: 2", asked, animals, plan, words) == {"pets": "cat"}
    assert pieces("2", [known["pets"], known["tenure"]], animals, plan, words) == {"pets": "cat"}


def test_sizes_are_said_as_people_say_them() -> None:
    """A figure takes the unit behind it; what is not known is a question mark."""
    assert sizes("8 x 25 in x 1-1/2 in", ["length", "width", "thickness"]) == {
        "length": "8 in", "width": "25 in", "thickness": "1-1/2 in",
    }  # fmt: skip
    assert sizes("18 by 13 by 9 ft", ["length", "width", "height"]) == {
        "length": "18 ft", "width": "13 ft", "height": "9 ft",
    }  # fmt: skip
    assert sizes("18 ft × ? × 9 ft", ["length", "width", "height"]) == {"length": "18 ft", "height": "9 ft"}
    with pytest.raises(InputError, match=r"has 1 measure\. Expected 2"):
        sizes("40 in", ["length", "width"])


def test_a_product_that_is_not_listed_is_added_by_what_it_is() -> None:
    """Who names a kind need not write a list of products first."""
    walk = Walk.begin(HALL.replace("do: sand", "do: paint"), "x", load_rulebase(), least=CAUTION)
    while walk.asked is not None and "using" not in {key[2] for key in walk.asked.keys}:
        walk = walk.dont_know()
    after = walk.answer("using: wall paint")
    products = after.plan.entities["product"]

    assert {str(one.values["kind"].plain) for one in products.values()} == {"paint"}
    assert after.plan.steps[0].values["using"].plain == tuple(products)


# what is left when it ends


def test_after_a_sitting_somebody_is_asked_whether_to_go_on(tmp_path: Path) -> None:
    """Who answered something may go on past 25; the file is whole either way."""
    path = tmp_path / "plan.yaml"
    path.write_text(cut(text_of("floor-faulty")))
    on = run(str(path), said="children under 6: 1\n" + "d\n" * 24 + "\nd\nq\n")

    assert "That makes 25 questions" in on.output
    assert "27. " in on.output
    assert readable(path)


def test_an_end_of_input_is_a_stop(tmp_path: Path) -> None:
    """A pipe that ends."""
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)
    run(str(path), said="children under 6: 1")

    assert "children_under_6: 1" in path.read_text()


@pytest.mark.parametrize("how", ["ctrl-c", "ctrl-d", "hang up", "hang up while it works"])
def test_whoever_is_cut_off_has_a_whole_plan_and_goes_on_from_there(how: str, tmp_path: Path) -> None:
    """At a terminal: the answers given are in the file, nothing lies about, and the next run does not ask again."""
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)
    terminal = Terminal("interview", str(path), cwd=tmp_path)
    first = terminal.shown()
    terminal.type("children under 6: 1\n")
    second = terminal.shown()
    if how == "hang up while it works":
        terminal.type("1\n")
        terminal.hang_up()
    elif how == "hang up":
        terminal.hang_up()
    else:
        terminal.type("\x03" if how == "ctrl-c" else "\x04")
        end = terminal.rest()
        assert terminal.status == 0
        assert f"the plan as it was is in {path.name}.bak." in " ".join(end.split())
    again = run(str(path), said="q\n")

    assert "children under six" in first
    assert "2. " in second
    assert "children_under_6: 1" in path.read_text()
    assert readable(path)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["plan.yaml", "plan.yaml.bak"]
    assert "children under six" not in again.output.partition("No answer")[0]

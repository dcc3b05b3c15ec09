"""Trade words gathered before the vocabulary was looked at: taken, or answered with the right word first.

The words are in `trade_words.yaml`, with the kind of source of each; `trade_words.py` judges them.
"""

from __future__ import annotations

import pytest

from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.plan.reading import TOP
from advisor.rulebase.vocabulary import Vocabulary
from advisor.rulebase.vocabulary_files import load_vocabulary
from tests.plan.trade_words import BAD, GOOD, RULES, judge, load_words, measure, message, shares


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return load_vocabulary([RULES])


def test_the_list_holds_a_thousand_words_of_every_sort() -> None:
    words = [row for row in load_words() if row["sort"] != "brand"]

    assert len({(row["sort"], row["word"]) for row in words}) == len(words) >= 1000
    assert len({row["sort"] for row in words}) == 12
    assert all(row["expect"] and row["means"] and row["source"] for row in words)


@pytest.mark.parametrize(("brands", "right", "wrong"), [(False, 97.0, 1.0), (True, 97.0, 1.0)])
def test_words_are_taken_or_answered_with_the_right_word(
    vocabulary: Vocabulary, brands: bool, right: float, wrong: float
) -> None:
    found = measure(vocabulary)
    part = shares(found, brands)

    assert sum(part.get(one, 0) for one in GOOD) >= right, found["no hint"]
    assert sum(part.get(one, 0) for one in BAD) <= wrong, found["wrong offer"] + found["taken wrongly"]


def test_the_judge_can_fail_a_word(vocabulary: Vocabulary) -> None:
    """A wrong reading, a wrong offer and a refusal without a hint are told from right ones."""
    hammer = {"word": "claw hammer", "sort": "tool", "expect": "hammer"}

    assert judge(hammer, vocabulary)[0] == "taken"
    assert judge({**hammer, "expect": "chisel"}, vocabulary)[0] == "taken wrongly"
    assert judge({**hammer, "word": "my red hammer"}, vocabulary)[0] == "answered"
    assert judge({**hammer, "word": "my red hammer", "expect": "saw"}, vocabulary)[0] == "wrong offer"
    assert judge({**hammer, "word": "qqqqqq"}, vocabulary)[0] == "no hint"


def test_everything_offered_instead_is_itself_taken(vocabulary: Vocabulary) -> None:
    """An answer that leads to the next mistake is no answer. `none` of a list of things is an empty list."""
    for word, one in sorted(vocabulary.instead.items()):
        if one.write.removesuffix(":") in TOP:  # of a section: another section
            continue
        for piece in one.write.split(", ") if one.write else ():
            key, colon, value = piece.replace("[", "").replace("]", "").partition(":")
            if not colon:
                assert any(t.said(piece) for t in vocabulary.taxonomies.values()), (word, piece)
                continue
            found = [a for sort in vocabulary.attributes if (a := vocabulary.attribute(sort, key)) is not None]
            lists = [a for a in found if a.type == "term"]
            assert found, (word, piece)
            taken = any(vocabulary.taxonomies[a.of].said(value) or (a.many and value == " none") for a in lists)
            assert taken or len(lists) < len(found), (word, piece)


def test_no_answer_stands_in_the_way_of_a_word(vocabulary: Vocabulary) -> None:
    """A word that a list holds needs no answer there."""
    for word, one in sorted(vocabulary.instead.items()):
        for name in one.within:
            if name == "section":
                assert word not in TOP, word
                continue
            if name.endswith(" attribute"):
                assert vocabulary.attribute(name.split()[0], word) is None, (word, name)
                continue
            assert name == "attribute" or vocabulary.taxonomies[name].said(word) is None, (word, name)


@pytest.mark.parametrize(
    ("entity", "key", "word", "said"),
    [
        ("product", "kind", "silicone", "'silicone' is a binder: write 'binder: silicone'."),
        ("product", "kind", "latex paint", "Write 'kind: paint, binder: latex'."),
        ("part", "kind", "oak door", "Write 'kind: door, material: oak'."),
        ("part", "kind", "extension cord", "'extension cord' is a tool of a step: write 'with: extension cord'."),
        ("part", "has", "varnished", "'varnished' is a coating: write 'coating: varnished'."),
        ("part", "humidity_summer", "50 %", "It belongs to the house: write 'humidity_summer' under 'house:'."),
        ("step", "with", "sawzall", "Write 'reciprocating saw'."),
        ("step", "do", "varnsh", "; nearest: 'varnish'."),
        ("step", "with", "big blue hammer", "; nearest: 'hammer'."),
    ],
)
def test_a_word_is_looked_for_by_meaning_before_letters(
    vocabulary: Vocabulary, entity: str, key: str, word: str, said: str
) -> None:
    text = _mistake(vocabulary, entity, key, word)

    assert said in text
    assert text.endswith("'.")
    assert " See 'advisor vocabulary " in text


@pytest.mark.parametrize(
    ("key", "word", "never"),
    [("do", "unclamp", "clamp"), ("do", "uncover", "cover"), ("with", "hose", "hole"), ("who", "bricks", "maker")],
)
def test_opposites_and_words_of_another_sense_are_not_offered(
    vocabulary: Vocabulary, key: str, word: str, never: str
) -> None:
    assert f"'{never}'" not in _mistake(vocabulary, "step", key, word)


def _mistake(vocabulary: Vocabulary, entity: str, key: str, word: str) -> str:
    said = message(entity, key, word, vocabulary)
    if not said and key not in vocabulary.attributes[entity]:
        from advisor.errors import InputError
        from advisor.plan import read_plan

        plan = {"parts": {"thing": {"kind": "wall", key: word}}, "steps": [{"do": "install", "to": "thing"}]}
        with pytest.raises(InputError) as caught:
            read_plan(plan, vocabulary, "plan")
        said = caught.value.problems[0].message
    assert said, word
    return said


@pytest.mark.parametrize(
    ("plan", "said"),
    [
        ({"parts": {"plug": {"kind": "outlet", "in": "den"}}}, "'den' is a room of this plan: write 'room: den'."),
        ({"steps": [{"do": "tile", "to": "den"}]}, "'den' is a room of this plan: write 'in: den'."),
        ({"steps": [{"do": "sand", "to": "floor"}]}, "List it first, under 'parts:': 'floor: {kind: floor}'."),
        ({"steps": [{"do": "paint", "using": "brush"}]}, "'brush' is a tool: write 'with: brush'."),
        ({"steps": [{"do": "paint", "with": "coat"}]}, "'coat' is a product of this plan: write 'using: coat'."),
        ({"steps": [{"do": "sand"}], "materials": {}}, "Write 'products:'."),
        ({"steps": [{"do": "sand"}], "kitchen": {}}, "'kitchen' is a kind of room: write it under 'rooms:'."),
        ({"parts": {"p": {"kind": "primer"}}}, "'primer' is a kind of product: list it under 'products:'."),
        ({"products": {"p": {"kind": "sink"}}}, "'sink' is a kind of part: list it under 'parts:'."),
    ],
)
def test_what_stands_in_the_wrong_place_is_told_its_own(
    plan: dict[str, object], said: str, vocabulary: Vocabulary
) -> None:
    """A name of another sort of thing, a thing that is not listed, another name of a section."""
    whole = {"rooms": {"den": {"kind": "kitchen"}}, "products": {"coat": {"kind": "paint"}}, "steps": [], **plan}
    with pytest.raises(InputError) as caught:
        read_plan(whole, vocabulary)

    assert said in str(caught.value)

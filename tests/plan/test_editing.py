"""Edits of a plan's text touch nothing but what they change."""

from collections.abc import Iterator

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from advisor.document import read_text
from advisor.plan.editing import PlanText, written

BLOCK = """# a plan
title: "Quoted title"   # keep the quotes
house: {built: 1957,  wiring: copper}   # two blanks
parts:
  doors:   {kind: cabinet doors, coating: varnish}
  # the run comes later
  run:
    kind: base cabinets
    drops: {0 ft: 0 in,
            3 ft: 3/8 in}     # over two lines
products:
  undercoat: {kind: primer}

steps:
  # first
  - {do: sand, to: doors, for: 5 h}

  - id: prime
    do: prime
    using: undercoat   # plain
  - {id: last, do: paint, to: doors}
"""


def lines_changed(before: str, after: str) -> tuple[list[str], list[str]]:
    """The lines that only one of the texts has, in order."""
    old, new = before.splitlines(), after.splitlines()
    return [x for x in old if x not in new], [x for x in new if x not in old]


@pytest.mark.parametrize(
    ("path", "value", "gone", "come"),
    [
        (
            "house.built",
            "1985",
            "house: {built: 1957,  wiring: copper}   # two blanks",
            "house: {built: 1985,  wiring: copper}   # two blanks",
        ),
        (
            "parts.doors.material",
            "pine",
            "  doors:   {kind: cabinet doors, coating: varnish}",
            "  doors:   {kind: cabinet doors, coating: varnish, material: pine}",
        ),
        ("steps.prime.using", "shellac", "    using: undercoat   # plain", "    using: shellac   # plain"),
        ("steps.#0.by", "hand", "  - {do: sand, to: doors, for: 5 h}", "  - {do: sand, to: doors, for: 5 h, by: hand}"),
    ],
)
def test_a_value_is_set_in_its_place(path: str, value: str, gone: str, come: str) -> None:
    """One line changes; comments, blanks and quotes stay."""
    document = PlanText(BLOCK)
    document.set(path.split("."), value)

    assert lines_changed(BLOCK, document.text) == ([gone], [come])


def test_a_new_key_of_a_block_mapping_gets_a_line_of_its_own() -> None:
    """Behind the last key, at the same indentation."""
    document = PlanText(BLOCK)
    document.set(["parts", "run", "room"], "kitchen")

    assert lines_changed(BLOCK, document.text) == ([], ["    room: kitchen"])
    assert document.text.index("    room: kitchen") > document.text.index("over two lines")


def test_a_missing_section_is_added_before_the_others() -> None:
    """After the title."""
    document = PlanText("title: x\nsteps:\n  - {do: sand}\n")
    document.set(["house", "built"], "1985")

    assert document.text == "title: x\nhouse: {built: 1985}\nsteps:\n  - {do: sand}\n"


@pytest.mark.parametrize(("where", "number"), [("before", 1), ("after", 1), ("after", 2)])
def test_a_step_is_added_at_its_place(where: str, number: int) -> None:
    """Counted over the steps of the tree that the text then gives."""
    document = PlanText(BLOCK)
    document.add_step({"id": "new", "do": "isolate", "to": ["a", "b"]}, where, "x", number)
    steps = read_text(document.text, "x").get("steps")

    assert lines_changed(BLOCK, document.text) == ([], ["  - {id: new, do: isolate, to: [a, b]}"])
    assert [i for i, s in enumerate(steps.items) if s.get("id") and s.get("id").text == "new"] == [
        number if where == "before" else number + 1
    ]


def test_a_product_is_added_behind_the_others_or_in_a_new_section() -> None:
    """With and without a section for it."""
    document, bare = PlanText(BLOCK), PlanText("steps:\n  - {do: sand}\n")
    document.add_entry("products", "shellac primer", {"kind": "primer", "binder": "shellac"})
    bare.add_entry("products", "p", {"kind": "primer"})

    assert lines_changed(BLOCK, document.text) == ([], ["  shellac primer: {kind: primer, binder: shellac}"])
    assert bare.text == "products:\n  p: {kind: primer}\nsteps:\n  - {do: sand}\n"


def test_line_ends_of_the_file_are_kept() -> None:
    """A file from another system stays one."""
    document = PlanText("title: x\r\nsteps:\r\n  - {do: sand}\r\n")
    document.add_step({"do": "prime"}, "after", "x", 0)
    document.set(["house", "built"], "1985")

    assert document.text == "title: x\r\nhouse: {built: 1985}\r\nsteps:\r\n  - {do: sand}\r\n  - {do: prime}\r\n"


@given(
    st.text(
        alphabet=st.characters(min_codepoint=32, max_codepoint=0x2FFF, exclude_categories=["Cs", "Cc", "Zl", "Zp"]),
        max_size=30,
    )
)
def test_any_text_is_written_so_that_it_reads_back(text: str) -> None:
    """Colons, hashes, quotes, braces, leading dashes."""
    document = PlanText("house: {built: 1957}\nsteps: [{do: sand}]\n")
    document.set(["house", "location"], text)

    assert read_text(document.text, "x").get("house").get("location").text == text


def test_plain_words_are_written_without_quotes() -> None:
    """Quotes only where they are needed."""
    assert [written(w) for w in ("plain words", "1-1/4 in", "a: b", "- x")] == [
        "plain words",
        "1-1/4 in",
        '"a: b"',
        '"- x"',
    ]


LISTED = """title: x
steps:
  - {id: a, do: sand}
  # about b
  - id: b
    do: prime     # two lines
  - {id: c, do: paint}
budget: {money: 1 USD}
"""


def test_an_entry_goes_into_its_section_or_makes_it_after_the_steps() -> None:
    """The second one follows the first; nothing else moves."""
    document = PlanText(LISTED)
    document.add_item("to_get", {"what": "fan", "as": {"airflow": "1,000 cfm"}, "for": ["a"]})
    document.add_item("to_get", {"what": "ladder"})
    entries = 'to_get:\n  - {what: fan, as: {airflow: "1,000 cfm"}, for: [a]}\n  - {what: ladder}\n'

    assert document.text == LISTED.replace("budget:", entries + "budget:")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("steps: [{do: sand}]\n", "steps: [{do: sand}]\nto_get:\n  - {what: fan}\n"),
        ("steps: [{do: a}]\nto_get: [{what: pen}]\n", "steps: [{do: a}]\nto_get: [{what: pen}, {what: fan}]\n"),
        ("steps: [{do: sand}]\nto_get: []\n", "steps: [{do: sand}]\nto_get: [{what: fan}]\n"),
        ("to_get:\nsteps: [{do: sand}]\n", "steps: [{do: sand}]\nto_get:\n  - {what: fan}\n"),
        ("{steps: [{do: sand}]}\n", "{steps: [{do: sand}], to_get: [{what: fan}]}\n"),
        ("steps:\r\n- {do: sand}\r\n", "steps:\r\n- {do: sand}\r\nto_get:\r\n  - {what: fan}\r\n"),
    ],
)  # fmt: skip
def test_an_entry_finds_its_place_in_any_way_of_writing(before: str, after: str) -> None:
    """On one line, in an empty section, in braces, with the line ends of the file."""
    document = PlanText(before)
    document.add_item("to_get", {"what": "fan"})

    assert document.text == after


@pytest.mark.parametrize(
    ("number", "behind", "order"), [(1, None, "bac"), (0, 2, "bca"), (2, 0, "acb"), (1, 0, "abc"), (2, None, "cab")]
)
def test_a_moved_step_takes_its_lines_and_the_remark_above_along(number: int, behind: int | None, order: str) -> None:
    """No line is lost, and all else stays."""
    document = PlanText(LISTED)
    document.move_step(number, behind)
    text = document.text
    blocks = {
        "a": "  - {id: a, do: sand}\n",
        "b": "  # about b\n  - id: b\n    do: prime     # two lines\n",
        "c": "  - {id: c, do: paint}\n",
    }

    assert text == "title: x\nsteps:\n" + "".join(blocks[own] for own in order) + "budget: {money: 1 USD}\n"


def marks(node: yaml.Node) -> Iterator[tuple[int, int, int]]:
    """Where each node begins and ends."""
    yield node.start_mark.index, node.end_mark.index, node.start_mark.column
    for inside in node.value if isinstance(node, yaml.CollectionNode) else []:
        for one in inside if isinstance(inside, tuple) else [inside]:
            yield from marks(one)


@pytest.mark.parametrize("mark", ["", "\ufeff"], ids=["plain", "byte order mark"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\x85", "\u2028"])
def test_marks_count_characters_whichever_reader_makes_them(end: str, mark: str) -> None:
    """The outside check is PyYAML's own reader in Python, which counts the characters of a `str`."""
    text = mark + BLOCK.replace("doors", "dörs 😀").replace("\n", end)

    assert list(marks(PlanText(text)._root)) == list(marks(yaml.compose(text, Loader=yaml.SafeLoader)))

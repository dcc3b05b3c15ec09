"""Where a plan comes from: files of any editor, text, mappings of Python; hostile input."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.errors import InputError
from advisor.plan.model import Plan
from plan.words import PLAIN, mistakes, read

TEXT = "title: Küche\nparts: {door: {kind: door}}\nsteps:\n  - {do: sand, to: door}\n"


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode(),
        b"\xef\xbb\xbf" + TEXT.encode(),
        TEXT.replace("\n", "\r\n").encode(),
        TEXT.encode("utf-16"),
        b"\xfe\xff" + TEXT.encode("utf-16-be"),
    ],
    ids=["utf-8", "byte order mark", "CRLF", "utf-16", "utf-16 big end"],
)
def test_a_file_may_be_written_by_any_editor(data, tmp_path):
    path = tmp_path / "plan.yaml"
    path.write_bytes(data)
    plan = read(path)

    assert (plan.title, [s.id for s in plan.steps], plan.steps[0].line) == ("Küche", ["sand"], 4)


def test_a_string_is_a_path_unless_it_is_yaml_or_named(tmp_path):
    path = tmp_path / "plan.yaml"
    path.write_text(TEXT, encoding="utf-8")

    assert "Küche" == read(str(path)).title == read(TEXT).title
    assert [s.id for s in read("{steps: [{do: sand}]}").steps] == ["sand"]
    assert mistakes(str(path), "posted")[0].startswith("posted:1: is not a plan.")


def test_a_file_that_is_not_there_is_one_mistake(tmp_path):
    assert [f"{tmp_path}/no.yaml: cannot be opened: no such file or directory."] == mistakes(tmp_path / "no.yaml", None)


def test_a_file_of_3_mb_is_refused_before_it_is_read(tmp_path):
    path = tmp_path / "big.yaml"
    path.write_bytes(b"#" * 3_000_000)

    assert [f"{path}: is 3,000,000 bytes long. Expected at most 2,000,000."] == mistakes(path)
    assert mistakes("#" * 3_000_000) == ["plan: is 3,000,000 bytes long. Expected at most 2,000,000."]


@pytest.mark.parametrize("make", [lambda inner: [inner], lambda inner: {"a": inner}])
def test_deep_nesting_is_refused(make):
    deep: Any = "x"
    for _ in range(5_000):
        deep = make(deep)

    (message,) = mistakes({"house": deep, "steps": []})

    assert message.endswith("is nested more than 40 deep.")


def test_deep_nesting_of_text_is_refused():
    assert mistakes("house: " + "[" * 60 + "]" * 60) == ["plan:1: is nested more than 40 deep."]
    assert "nest" in mistakes("house: " + "[" * 100_000 + "]" * 100_000)[0]


def test_shared_lists_that_would_fill_the_memory_are_refused():
    bomb: Any = ["x"] * 10
    for _ in range(20):
        bomb = [bomb] * 10

    assert mistakes({"house": bomb, "steps": []})[-1].endswith("is too large for a plan.")


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (object(), "holds a object"),
        ({1, 2}, "holds a set"),
        (b"x", "holds a bytes"),
        (10**5000, "too many digits"),
    ],
    ids=["object", "set", "bytes", "huge number"],
)
def test_values_that_no_plan_has_are_refused(value, words):
    (message,) = mistakes({**PLAIN, "house": {"built": value}})

    assert words in message
    assert "'house.built'" in message


def test_too_many_of_a_thing_is_one_mistake():
    parts = {f"p{n}": {"kind": "door"} for n in range(2_001)}
    steps = [{"do": "sand", "to": "p1"}] * 2_001

    assert mistakes({**PLAIN, "parts": parts}) == ["plan: 'parts' has 2,001 entries. Expected at most 2,000."]
    assert mistakes({"steps": steps}) == ["plan: 'steps' has 2,001 entries. Expected at most 2,000."]


def test_pairings_that_would_fill_the_memory_are_refused():
    parts = {f"p{n}": {"kind": "door"} for n in range(200)}
    products = {f"p{n}": {"kind": "primer"} for n in range(101)}
    steps = [{"do": "prime", "to": list(parts), "using": list(products)}]
    (message,) = mistakes({"parts": parts, "products": products, "steps": steps})

    assert message.startswith("plan: with step 'prime' the steps pair more than 20,000 parts and products.")


def test_a_plan_of_nothing_but_mistakes_lists_the_first_500():
    said = mistakes({"steps": [{"do": f"xx{n}"} for n in range(2_000)]})

    assert len(said) == 501
    assert "plan: has more than 500 mistakes; the first 500 are listed." in said


WORDS = st.one_of(
    st.sampled_from(
        ["parts", "steps", "do", "to", "sand", "door", "kind", "house", "drops", "0 ft", "1 in", "on", "id"]
    ),
    st.text(max_size=12),
)
TREES = st.recursive(
    st.one_of(WORDS, st.none(), st.booleans(), st.integers(), st.floats(), st.dates()),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(WORDS, inner, max_size=4)),
    max_leaves=20,
)


def usable_or_refused(source: Any, name: str | None) -> bool:
    """Whether reading ended in a plan or in a list of mistakes; anything else is raised."""
    try:
        return isinstance(read(source, name), Plan)
    except InputError as error:
        return bool(error.problems)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.text(max_size=200), st.sampled_from([None, "x"]))
def test_any_text_is_read_or_refused(text, name):
    assert usable_or_refused(text, name)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.dictionaries(st.sampled_from(["house", "rooms", "parts", "products", "crew", "steps", "units"]), TREES))
def test_any_mapping_is_read_or_refused(tree):
    assert usable_or_refused(tree, None)


ENTITY = st.dictionaries(
    st.sampled_from(["kind", "on", "in", "new", "weight", "drops", "places", "uses", "made of", "material"]),
    st.one_of(TREES, st.sampled_from(["door", "a", "yes", "3 ft", "2 lb", "unknown", "pine", "food"])),
)
STEP = st.dictionaries(
    st.sampled_from(["do", "to", "id", "after", "with", "for", "in"]),
    st.one_of(TREES, st.sampled_from(["sand", "a", "b", "5 h", ["a", "b"], "brush"])),
)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.dictionaries(st.sampled_from(["a", "b", "c"]), ENTITY), st.lists(STEP, max_size=4))
def test_anything_said_of_parts_and_steps_is_read_or_refused(parts, steps):
    assert usable_or_refused({"parts": parts, "steps": steps}, None)

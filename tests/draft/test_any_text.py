"""Any text ends soon, with a plan that the reader takes or a plain message; the same text gives the same draft."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.draft.draft import draft
from advisor.draft.tokens import MAX_BYTES, checked, tokens_of
from advisor.draft.writing import as_json, as_yaml
from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.rulebase.base import load_rulebase
from draft.test_traps import THE_PANTRY

COUNT = int(os.environ.get("FUZZ", "3000")) // 30
FIRST = int(os.environ.get("FUZZ_FROM", "0"))
PIECES = (
    "sand the doors, then paint them. ", "1 2 3 4 5 6 ", "take the ", "no ", "12 x ", "shoulder bolder ", "white ",
    "two coats of paint, ", "qzxvwk ", "the old one and the new one ",
)  # fmt: skip
ODD = (
    "½ ¾ 1-1/4 3/0 0/0 1/ /2 9" * 3, "((((" * 20, '"""', "a" * 500, "1 by 2 by 3 x 4", "between 5 and", "half a", "the",
    "é ü 中文 ünïcode", "take off off off", "no no no not never", "' ' \" \"", "{a: b}", "- - -", "1930s 30s '30s",
    "before before that before", "and and and", "5'6\" 5' 6\"", "12,345,678 dollars", "what? how? why?", "x" * 61,
)  # fmt: skip


def words() -> list[str]:
    """Words of the trade and little ones, to be put together at random."""
    vocabulary = load_rulebase().vocabulary
    spoken = sorted({word for taxonomy in vocabulary.taxonomies.values() for word in taxonomy.spoken()})
    little = [
        "the",
        "a",
        "my",
        "and",
        "then",
        "before",
        "after",
        "with",
        "in",
        "on",
        "of",
        "for",
        "not",
        "is",
        "we",
        "it",
    ]
    little += ["them", "first", "if", ".", ",", "?", ";", "3", "two", "1/2", "40 inches", "are", "was", "i"]
    return [*spoken, *little * (len(spoken) // len(little) // 2)]


def held(text: str) -> None:
    """What holds of every draft: the plan can be read, every word is accounted for, no place lies outside."""
    rulebase = load_rulebase()
    made = draft(text, rulebase)
    if made.plan.get("steps"):
        read_plan(made.plan, rulebase.vocabulary, "draft")
        read_plan(as_yaml(made), rulebase.vocabulary, "draft")
    covered = bytearray(len(text) + 1)
    for start, end in [*(h.span for h in made.heard), *(u.span for u in made.unsure), *made.unheard]:
        assert 0 <= start <= end <= len(text)
        covered[start:end] = b"\1" * (end - start)
    for token in tokens_of(text):
        assert token.sort in ("mark", "break") or all(covered[token.start : token.end]), token


def test_random_words_in_any_order() -> None:
    """Nonsense of the trade."""
    listed = words()
    for seed in range(FIRST, FIRST + COUNT):
        pick = random.Random(seed)
        text = " ".join(pick.choice(listed) for _ in range(pick.randint(1, 120)))
        held(text)


def test_odd_texts() -> None:
    """Signs, broken measures, words without end, each alone and within a sentence."""
    for odd in ODD:
        held(odd)
        held(f"sand the doors {odd} then paint them, {odd}. the walls are {odd}")


def calls(text: str) -> int:
    """How much is done to hear a text: counted, so the same on every machine."""
    count = 0

    def seen(frame: object, event: str, arg: object) -> None:
        nonlocal count
        count += 1

    sys.setprofile(seen)
    try:
        draft(text, load_rulebase())
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize("piece", PIECES)
def test_the_longest_text_takes_no_more_than_its_length(piece: str) -> None:
    """20 kB of anything: four times the text, some four times the work (its seconds: benchmarks/draft/run.py)."""
    text = (piece * MAX_BYTES)[: MAX_BYTES - 10]
    draft("warm up: sand the door", load_rulebase())
    whole = calls(text)

    assert whole < 5 * calls(text[: len(text) // 4])
    assert whole < 600 * len(text)


@pytest.mark.parametrize(
    "data",
    [b"", b" \n", b"\xff\xfe\x00", b"sand \x00 the door", b"sand\x1b[31m", b"9" * 5000, b"a" * (MAX_BYTES + 1),
     b"paint 99999999999999999999999999 doors", "sand \u202e the door".encode()],
)  # fmt: skip
def test_what_nobody_types_gets_one_message(data: bytes) -> None:
    """Status 2, one line, nothing on standard output."""
    result = CliRunner().invoke(app, ["draft", "-"], input=data)

    assert result.stdout == ""
    assert isinstance(result.exception, InputError)
    assert len(result.exception.problems) == 1
    with pytest.raises(InputError):
        checked(data, "text")


def test_no_work_is_said() -> None:
    """A text without work gives no plan."""
    result = CliRunner().invoke(app, ["draft", "-"], input="the kitchen is nice")

    assert (result.exit_code, result.stdout) == (2, "")
    assert "no work was heard" in result.stderr


def test_the_same_words_give_the_same_draft(tmp_path: Path) -> None:
    """Whatever the seed of hashes."""
    path = tmp_path / "text.txt"
    path.write_text(THE_PANTRY, encoding="utf-8")
    found = {
        subprocess.run(
            [sys.executable, "-m", "advisor", "draft", str(path), "--format", "json"],
            capture_output=True, check=True, env={**os.environ, "PYTHONHASHSEED": seed}, cwd=Path(__file__).parents[2],
        ).stdout
        for seed in ("0", "1", "77")
    }  # fmt: skip

    assert len(found) == 1
    assert found.pop().decode() == as_json(draft(THE_PANTRY, load_rulebase()))

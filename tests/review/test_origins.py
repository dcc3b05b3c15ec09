"""Each working says where its inputs came from: a line of the plan, a row of a table, a presumption, the rule."""

import re
from pathlib import Path

from reports.support import SCENARIOS

from advisor.review.reviewing import review

DEMO = next(path for path in SCENARIOS if path.stem == "galley-kitchen-faulty")


def _numbers():
    report = review(DEMO)
    return report, [n for f in report.findings for n in f.numbers if n.working is not None]


def test_every_computed_number_says_where_its_inputs_came_from():
    _, numbers = _numbers()

    assert len(numbers) > 10
    assert [n.name for n in numbers if not n.inputs] == []
    assert [where for n in numbers for _, where in n.inputs if not where] == []


def test_a_line_that_is_named_holds_the_attribute():
    """Read against the file itself, not against the program."""
    lines = Path(DEMO).read_text(encoding="utf-8").splitlines()
    _, numbers = _numbers()
    named = [re.fullmatch(r"line (\d+): (\w[\w ]*?)(?: of ([\w-]+))?", where) for n in numbers for _, where in n.inputs]
    found = [match.groups() for match in named if match]
    wrong = [(no, word) for no, word, _ in found if f"{word.replace(' ', '_')}:" not in lines[int(no) - 1]]

    assert len(found) > 5
    assert wrong == []


def test_a_row_of_a_table_is_named():
    _, numbers = _numbers()

    assert "table solvents, row mineral spirits, niosh rel" in {where for n in numbers for _, where in n.inputs}

"""Each format, byte for byte, for one small plan under rules of its own."""

import pytest

from advisor.review.reviewing import review
from reports.golden import golden
from reports.support import FORMATS, SCENARIOS, small_report


@pytest.mark.parametrize("form", FORMATS)
def test_each_format_is_byte_for_byte_what_was_read_and_kept(form):
    """Written by `python tests/reports/golden.py`; whoever writes it anew reads the difference."""
    assert FORMATS[form](small_report()).encode("utf-8") == golden(form).read_bytes()


@pytest.mark.parametrize("path", [*SCENARIOS, None], ids=lambda p: p.stem if p else "small")
def test_text_is_at_most_80_columns_wide(path):
    lines = FORMATS["text"](review(path) if path else small_report()).splitlines()

    assert [line for line in lines if len(line) > 80] == []

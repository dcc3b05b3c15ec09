"""Each format, byte for byte, for one small plan under rules of its own."""

import pytest

from reports.golden import golden
from reports.support import FORMATS, small_report


@pytest.mark.parametrize("form", FORMATS)
def test_each_format_is_byte_for_byte_what_was_read_and_kept(form):
    """Written by `python tests/reports/golden.py`; whoever writes it anew reads the difference."""
    assert FORMATS[form](small_report()).encode("utf-8") == golden(form).read_bytes()


def test_text_is_at_most_80_columns_wide():
    lines = FORMATS["text"](small_report()).splitlines()

    assert [line for line in lines if len(line) > 80] == []

"""Lines of a report against those of the standard library."""

from __future__ import annotations

import textwrap

from hypothesis import example, given
from hypothesis import strategies as st

from advisor.reports.wrapped import wrapped

_TEXTS = st.lists(st.text("ab-é.\t\u00a0\u2028", max_size=12)).map(" ".join) | st.text("a -\n", max_size=60)


@given(_TEXTS, st.integers(8, 40), st.sampled_from(["", "  ", " [ ] "]), st.sampled_from(["", "    "]))
@example("aaaa bbb-bbb cccc", 8, "", "")
@example("aaaa aaa a", 8, "", "    ")
@example("", 8, "  ", "")
@example(" a  b ", 8, "", "")
@example("aaaaaaaaaaaaaaaaaaaaaaaa b", 10, "  ", "    ")
@example("a\u00a0b c", 8, "", "")
def test_a_text_is_wrapped_as_the_standard_library_does(text: str, width: int, first: str, rest: str) -> None:
    """Strange spaces, words longer than a line and hyphens too; asked twice it says the same."""
    expected = textwrap.wrap(text, width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)

    assert wrapped(text, width, first, rest) == expected
    assert wrapped(text, width, first, rest) == expected

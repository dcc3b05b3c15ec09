"""What a fact's attribute may hold."""

from __future__ import annotations

# Words (terms, ids, yes/no), a number in its base unit, or a tuple of these.
# A `many` attribute holds a tuple of words; a profile holds a tuple of (place, measure) pairs.
Plain = str | float | int | tuple["Plain", ...]

"""`experta` as published, made to import and to order its agenda. The only module that imports it.

experta 1.9.4 needs `collections.Mapping` (gone since Python 3.10) at import, and configures the root logger;
both are undone here. Its own agenda can leave cancelled activations in place, so `TotalOrder` replaces it.
"""

from __future__ import annotations

import bisect
import collections
import collections.abc
import logging
import operator
from typing import Any


def _import() -> Any:
    root, guard = logging.getLogger(), logging.NullHandler()
    root.addHandler(guard)  # a handler keeps basicConfig() from adding its own
    missing = not hasattr(collections, "Mapping")
    if missing:
        collections.Mapping = collections.abc.Mapping  # type: ignore[attr-defined]
    try:
        import experta
        import experta.abstract
        import experta.activation
    finally:
        if missing:
            del collections.Mapping  # type: ignore[attr-defined]
        root.removeHandler(guard)
    logging.getLogger("experta").setLevel(logging.WARNING)
    return experta


experta: Any = _import()


class TotalOrder(experta.abstract.Strategy):  # type: ignore[misc]
    """An agenda in one total order: salience, then rule, then facts in pattern order. The last one runs next.

    Salience and rule make the rule's `rank`. The facts settle the bindings, so the key tells activations
    apart. It is set on added and removed ones alike, as experta compares activations by it.
    """

    def _update_agenda(self, agenda: Any, added: Any, removed: Any) -> None:
        line = agenda.activations
        for one in removed:
            if one.key is None:
                one.key = _key(one)
            at = bisect.bisect_left(line, one.key, key=_BY_KEY)
            if at < len(line) and line[at].key == one.key:  # else it has fired already
                del line[at]
        for one in added:
            if one.key is None:
                one.key = _key(one)
        if len(added) > max(_MANY, len(line) >> 6):
            line.extend(added)
            line.sort(key=_BY_KEY)
            return
        for one in added:
            bisect.insort(line, one, key=_BY_KEY)


_BY_KEY = operator.attrgetter("key")
_MANY = 8  # from here on sorting the whole line, which is nearly in order, is quicker, unless the line is long


def _key(one: Any) -> tuple[int, ...]:
    return (one.rule.rank, *(one.context[f"f{n}"].__factid__ for n in range(one.rule.count)))

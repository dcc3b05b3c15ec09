"""`experta` as published, made to import and to order its agenda. The only module that imports it.

experta 1.9.4 needs `collections.Mapping` (gone since Python 3.10) at import, and configures the root logger;
both are undone here. Its own agenda can leave cancelled activations in place, so `TotalOrder` replaces it.
"""

from __future__ import annotations

import bisect
import collections
import collections.abc
import itertools
import logging
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

    The facts settle the bindings, so the key tells activations apart. It is set on added and removed ones
    alike, as experta compares activations by it.
    """

    def _update_agenda(self, agenda: Any, added: Any, removed: Any) -> None:
        for one in itertools.chain(added, removed):
            context = one.context
            count = len(one.rule.variant.patterns)
            one.key = (
                one.rule.salience,
                one.rule.__name__,
                [context[f"f{n}"].__factid__ for n in range(count)],
            )
        if removed:
            gone = set(removed)
            agenda.activations = [a for a in agenda.activations if a not in gone]
        for one in added:
            bisect.insort(agenda.activations, one)

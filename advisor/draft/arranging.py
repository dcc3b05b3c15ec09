"""The order of steps where no word tells it: the old one is out before the new one is in."""

from __future__ import annotations

from advisor.draft.board import Board, Thing
from advisor.draft.language import Language


_SOONER = 2  # days; of more nobody knows which week is meant


def arrange(board: Board, language: Language) -> None:
    """Put steps that the text told late where they can be done; what its words order stays."""
    if any(step.called for step in board.steps):
        return
    final = [step for step in board.steps if step.final and "done" not in step.facts]
    if len(final) == 1:
        board.steps.remove(final[0])
        board.steps.append(final[0])
    _by_weekday(board)
    for gone in list(board.steps):
        put = next((s for s in board.steps if _takes_its_place(board, language, gone, s)), None)
        for step in _row_up_to(board, gone, put) if put is not None else ():
            _before(board, step, put)
    for step in list(board.steps):
        later = next((s for s in board.steps if _comes_after(board, language, step, s)), None)
        if later is not None:
            _before(board, step, later)


def _by_weekday(board: Board) -> None:
    """`Saturday we tile. Friday the old tile comes out`: a day told later that comes a day or two sooner."""
    for step in list(board.steps):
        later = next((s for s in board.steps if s.weekday and 1 <= s.weekday - step.weekday <= _SOONER), None)
        if step.weekday and later is not None and _told_late(board, step, later):
            _before(board, step, later)


def _row_up_to(board: Board, gone: Thing, put: Thing | None) -> list[Thing]:
    """What was told right before a thing goes, of the same sentence: it is drained, disconnected, then taken off."""
    between = board.steps[board.steps.index(put) + 1 : board.steps.index(gone)] if put is not None else []
    row = [gone]
    for step in reversed(between):
        if step.place > gone.place or gone.place - step.place > 40 or step.final:
            break
        row.insert(0, step)
    return row


def _before(board: Board, step: Thing, other: Thing | None) -> None:
    if other is not None:
        board.steps.remove(step)
        board.steps.insert(board.steps.index(other), step)


def _told_late(board: Board, step: Thing, other: Thing) -> bool:
    """Whether a step stands behind another one only because it was told later."""
    late = board.steps.index(step) > board.steps.index(other) and step.place > other.place
    return late and not step.follows and not {"done"} & {*step.facts, *other.facts}


def _takes_its_place(board: Board, language: Language, gone: Thing, put: Thing) -> bool:
    actions = board.vocabulary.taxonomies["action"]

    def is_one(step: Thing, group: str) -> bool:
        return any(step.kind in actions.below(one) for one in language.order[group])

    if not is_one(gone, "takes away") or not is_one(put, "puts in place") or is_one(gone, "puts in place"):
        return False
    if not _told_late(board, gone, put):
        return False
    old, new = _things(board, gone), _things(board, put)
    return any(
        o is not n and (n.age == "new" or n.put_in) and o.age != "new" and o.kind in _kin(board, n.kind)
        for o in old
        for n in new
    )


def _kin(board: Board, kind: str) -> frozenset[str]:
    kinds = board.vocabulary.taxonomies["part_kind"]
    return frozenset({kind, *kinds.below(kind), *kinds.above(kind)}) if kind in kinds.terms else frozenset({kind})


def _comes_after(board: Board, language: Language, step: Thing, other: Thing) -> bool:
    row = next((r for r in language.order["sooner"] if r["do"] == step.kind), None)
    if row is None or other.kind not in row["before"] or not _told_late(board, step, other):
        return False
    only_who = "who" in step.facts and step.facts["who"].note != "inferred"
    mine, its = {t.id for t in _things(board, step)}, {t.id for t in _things(board, other)}
    return (only_who or step.ahead) and bool(mine & its)


def _things(board: Board, step: Thing) -> list[Thing]:
    fact = step.facts.get("to")
    listed = fact.value if fact is not None and isinstance(fact.value, list) else []
    return [t for own in listed if (t := board.named(own)) is not None]

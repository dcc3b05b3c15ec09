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
    actions = board.vocabulary.taxonomies["action"]

    def kinds(group: str) -> frozenset[str]:
        return frozenset(k for one in language.order[group] for k in actions.below(one))

    puts_in = [s for s in board.steps if s.kind in kinds("puts in place") and _news(board, s)]
    takes = kinds("takes away") - kinds("puts in place")
    for gone in [s for s in board.steps if s.kind in takes] if puts_in else ():
        put = next((s for s in puts_in if _takes_its_place(board, gone, s)), None)
        if put is not None:
            for step in _row_up_to(board, gone, put):
                _before(board, step, put)
    _purpose_last(board, language)
    rows = {row["do"]: row for row in language.order["sooner"]}
    for step in [s for s in board.steps if s.kind in rows]:
        row = rows[step.kind]
        if not (_only_who(step) or step.ahead or "always" in row):
            continue
        others = [s for s in board.steps if s.kind in row["before"] and _told_late(board, step, s)]
        later = next((s for s in others if "any" in row or _of_one(board, step, s)), None)
        if later is not None:
            _before(board, step, later)


def _purpose_last(board: Board, language: Language) -> None:
    """`I want to paint it. Wash it, sand it`: the purpose, told once at the head, comes after what prepares it."""
    actions = board.vocabulary.taxonomies["action"]
    for step, last in board.led_up:
        if step in board.steps and last in board.steps and "done" not in step.facts:
            _behind(board, step, last)
    for step in [s for s in board.steps[:2] if (s.goal or s.opening) and "done" not in s.facts]:
        rows = [r for r in language.order["prepares"] if any(step.kind in actions.below(one) for one in r["for"])]
        fits: dict[str, bool] = {}  # what prepares it, and whether of any thing
        for row in rows:
            for kind in (k for one in row["do"] for k in actions.below(one)):
                fits[kind] = fits.get(kind, False) or "any" in row
        behind = board.steps[board.steps.index(step) + 1 :]
        prepares = [o for o in behind if o.kind in fits and ((fits[o.kind] and step.goal) or _of_one(board, o, step))]
        if prepares and not behind[0].follows and "done" not in prepares[-1].facts:
            _behind(board, step, prepares[-1])


def _behind(board: Board, step: Thing, last: Thing) -> None:
    if board.steps.index(step) < board.steps.index(last):
        board.steps.remove(step)
        board.steps.insert(board.steps.index(last) + 1, step)


def _of_one(board: Board, step: Thing, other: Thing) -> bool:
    """Whether two steps are of one thing, or it was only taken so for one of them."""
    loose = any("to" not in s.facts or s.facts["to"].note == "inferred" for s in (step, other))
    return loose or bool({t.id for t in _things(board, step)} & {t.id for t in _things(board, other)})


def _only_who(step: Thing) -> bool:
    """Whether it is told who does a step."""
    return "who" in step.facts and step.facts["who"].note != "inferred"


def _news(board: Board, step: Thing) -> list[Thing]:
    return [t for t in _things(board, step) if t.age == "new" or t.put_in]


def _by_weekday(board: Board) -> None:
    """`Saturday we tile. Friday the old tile comes out`: a day told later that comes a day or two sooner."""
    days = [step for step in board.steps if step.weekday]
    for step in days:
        later = next((s for s in days if 1 <= s.weekday - step.weekday <= _SOONER), None)
        if later is not None and _told_late(board, step, later):
            _before(board, step, later)


def _row_up_to(board: Board, gone: Thing, put: Thing) -> list[Thing]:
    """What was told right before a thing goes, of the same sentence: it is drained, disconnected, then taken off."""
    between = board.steps[board.steps.index(put) + 1 : board.steps.index(gone)]
    row = [gone]
    for step in reversed(between):
        if step.place > gone.place or gone.place - step.place > 40 or step.final:
            break
        row.insert(0, step)
    return row


def _before(board: Board, step: Thing, other: Thing) -> None:
    board.steps.remove(step)
    board.steps.insert(board.steps.index(other), step)


def _told_late(board: Board, step: Thing, other: Thing) -> bool:
    """Whether a step stands behind another one only because it was told later."""
    late = board.steps.index(step) > board.steps.index(other) and step.place > other.place
    return late and not step.follows and not {"done"} & {*step.facts, *other.facts}


def _takes_its_place(board: Board, gone: Thing, put: Thing) -> bool:
    if not _told_late(board, gone, put):
        return False
    old = [t for t in _things(board, gone) if t.age != "new"]
    return any(o is not n and o.kind in _kin(board, n.kind) for o in old for n in _news(board, put))


def _kin(board: Board, kind: str) -> frozenset[str]:
    kinds = board.vocabulary.taxonomies["part_kind"]
    return frozenset({kind, *kinds.below(kind), *kinds.above(kind)}) if kind in kinds.terms else frozenset({kind})


def _things(board: Board, step: Thing) -> list[Thing]:
    return [t for own in step.members("to") if (t := board.named(own)) is not None]

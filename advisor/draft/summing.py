"""Steps that only sum up others, and what is put back: told when all of a text was heard."""

from __future__ import annotations

from advisor.draft.board import Board, Thing


def made_of_others(board: Board, purposes: dict[str, list[str]]) -> None:
    """Drop the step that only named the purpose where its parts are told as steps of their own."""
    taxonomy = board.vocabulary.taxonomies["action"]
    for step in board.steps:
        mine = step.facts.get("to")
        if (step.goal or step.opening) and mine is not None and _told_anew(board, step):
            step.drop = True
            continue
        if not step.goal or step.kind not in purposes or mine is None:
            continue
        parts = {kind for one in purposes[step.kind] if one in taxonomy.terms for kind in taxonomy.below(one)}
        others = [other for other in board.steps if other is not step and not other.drop]
        fits = [o for o in others if o.kind in parts and o.kind not in (step.kind, "move", "restore")]
        if step.kind != "replace":
            fits = [o for o in fits if board.steps.index(o) > board.steps.index(step) and "to" in o.facts]
        same = [o for o in fits if (there := o.facts.get("to")) is None or _alike(board, mine.value, there.value)]
        news = {t.id for t in board.things["part"] if t.age == "new"} | {t.id for t in board.things["part"] if t.put_in}
        told = step.kind == "replace" and any(news & set(o.facts["to"].value) for o in fits if "to" in o.facts)
        step.drop = bool(same) or told
    board.heard += [(span, "the purpose of the work") for s in board.steps if s.drop for span in s.facts["do"].spans]
    board.things["step"] = [step for step in board.steps if not step.drop]


def _told_anew(board: Board, step: Thing) -> bool:
    """Whether the same is told again among the steps: `we put laminate down. Carpet out, then the laminate`."""
    behind = board.steps[board.steps.index(step) + 1 :]
    again = [
        o
        for o in behind
        if o.kind == step.kind and "to" in o.facts and set(o.facts["to"].value) & set(step.facts["to"].value)
    ]
    return bool(again) and behind.index(again[0]) > 0 and not {"using", "with", "coats", "done"} & set(step.facts)


def put_back(board: Board) -> None:
    """What goes in after the same thing was taken out is put back: `traps off … traps on`."""
    taxonomy = board.vocabulary.taxonomies["action"]
    out: set[str] = set()
    for step in board.steps:
        mine = step.facts.get("to")
        to = set(mine.value) if mine is not None else set()
        if step.kind in taxonomy.below("remove") and step.kind not in taxonomy.below("install"):
            out |= to
        elif step.kind == "install" and step.moved and not step.bare and to and to <= out and "using" not in step.facts:
            step.facts["do"].value = "reinstall"


def _alike(board: Board, mine: str | list[str], other: str | list[str]) -> bool:
    kinds = [{thing.kind for own in listed if (thing := board.named(own))} for listed in (mine, other)]
    return bool(kinds[0] & kinds[1])

"""In which room a part stands: its own word, or that of what it sits in, stands on, hangs at or meets."""

from __future__ import annotations

from advisor.plain import Plain
from advisor.plan.model import Entity, Plan

# Ways to say where that tell the room too, the surest first. A circuit or a drain may lie in another room.
_AT = (("in", "box"), ("on",), ("against",), ("beside",), ("above", "hood"))
# The same said from the other end: of the holder, or of whichever of two neighbors.
_FROM_THERE = (("disposer",), ("supports",), ("against",), ("beside",), ("above", "hood"))
_STEPS = 12  # from one part to the next: longer chains are no place


class RoomsOfParts:
    """The rooms of a plan's parts, each worked out once."""

    def __init__(self, plan: Plan) -> None:
        self._parts: dict[str, Entity] = plan.entities.get("part", {})
        self._known: dict[str, Plain | None] = {}
        self._near: dict[str, set[tuple[int, str]]] = {}  # part to its neighbors, each with how sure it is
        for own in sorted(self._parts):
            for sure, (names, back) in enumerate(zip(_AT, _FROM_THERE, strict=True)):
                for other in (one for name in names for one in _names(self._parts[own], name)):
                    self._near.setdefault(own, set()).add((sure, other))
                for other in (one for name in back for one in _names(self._parts[own], name)):
                    self._near.setdefault(other, set()).add((sure, own))

    def of(self, part: str) -> Plain | None:
        """The room, or None where nothing tells it."""
        if part not in self._known:
            self._known[part] = self._find(part)
        return self._known[part]

    def _find(self, part: str) -> Plain | None:
        seen, row = {part}, [part]
        for _ in range(_STEPS):
            following: list[str] = []
            for own in row:
                entity = self._parts.get(own)
                if entity is None:
                    continue
                room = entity.values.get("room")
                if room is not None:
                    return room.plain
                near = [other for _, other in sorted(self._near.get(own, ()))]
                following += [other for other in near if other not in seen]
                seen.update(near)
            row = following
        return None


def _names(entity: Entity, name: str) -> list[str]:
    value = entity.values.get(name)
    if value is None:
        return []
    return sorted(str(v) for v in value.plain) if isinstance(value.plain, tuple) else [str(value.plain)]

"""What a plan says of a thing or a step, as words and numbers."""

from __future__ import annotations

from advisor.plan.model import Entity


def words(entity: Entity, attribute: str) -> tuple[str, ...]:
    """The words that an entity states for an attribute; none where it states nothing."""
    value = entity.values.get(attribute)
    if value is None:
        return ()
    return tuple(map(str, value.plain)) if isinstance(value.plain, tuple) else (str(value.plain),)


def action_of(step: Entity) -> str:
    """What a step does; empty where it does not say."""
    return (words(step, "do") or ("",))[0]


def number(entity: Entity | None, attribute: str) -> float | None:
    """A number that an entity states, in base units; None where it states none."""
    value = entity.values.get(attribute) if entity else None
    return float(value.plain) if value is not None and isinstance(value.plain, int | float) else None

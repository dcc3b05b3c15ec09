"""How long each step takes and waits: as stated, else by common rates, and then marked as presumed."""

from __future__ import annotations

from collections.abc import Collection
from functools import lru_cache

from msgspec import Struct

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, number, words
from advisor.review.order.constraints import minutes
from advisor.review.order.lab_results import own_result
from advisor.rulebase.vocabulary import Vocabulary
from advisor.tables import Row, table
from advisor.units import to_base

_A_DAY = 24 * 60
_NEVER = 365 * _A_DAY
_LABELS = "what labels of"
_AFTER, _UNNAMED = "after", "unnamed"  # columns of the work after which something dries
_UNKNOWN_RATE = 60  # minutes, for an action that no rate is known for
_TEN_SQFT, _TEN_FT = to_base(10, "sqft", "area"), to_base(10, "ft", "length")


class Hours(Struct, frozen=True):
    """Time of a step [min]. `work` runs by working hours, the rest by the clock."""

    work: int
    people: int  # of the crew at once; 0 where others or nobody work on it
    asked: int  # people that the plan asks for
    coats: int
    between: int  # hands off between two coats
    by_itself: int  # of a step that only waits
    after: int  # hands off after the step
    wet: int  # until what it coated, filled or set may be trodden on, leaned on or dusted
    hired: bool
    presumed: tuple[str, ...]  # what had to be presumed, in words

    @property
    def man_minutes(self) -> int:
        """Minutes of the crew's own work."""
        return self.work * self.people


def step_hours(
    plan: Plan, vocabulary: Vocabulary, waits: dict[str, int], people: int, ruled: Collection[str] = ()
) -> dict[str, Hours]:
    """The time of every step. `waits` are what rules ask for after a step whatever follows [min], `people` is the
    crew, `ruled` are steps for which some rule says how long to wait, so that nothing needs to be presumed."""
    return {
        step.id: _of_step(step, plan, vocabulary, waits.get(step.id, 0), people, step.id in ruled)
        for step in plan.steps
    }


def _of_step(step: Entity, plan: Plan, vocabulary: Vocabulary, wait: int, people: int, ruled: bool) -> Hours:
    presumed: list[str] = []
    action = action_of(step)
    stated = number(step, "for")
    coats = max(1, int(number(step, "coats") or 1))
    asked = max(1, int(number(step, "people") or 1))
    after = max(wait, minutes(number(step, "wait") or 0), minutes(number(step, "hold") or 0))
    hired = (words(step, "who") or ("",))[0] in vocabulary.members("who", "paid firm")
    resting = action in vocabulary.members("action", "rest until used to the air")
    if action in vocabulary.members("action", "hands-off time") and (stated is not None or not resting):
        by_itself = minutes(stated) if stated is not None else after
        if stated is None and not after:
            by_itself = _A_DAY
            presumed.append("waits 24 h (no time is stated)")
        return Hours(0, 0, 0, 1, 0, by_itself, after if stated is not None else 0, 0, False, tuple(presumed))
    if stated is not None:
        work = minutes(stated)
    else:
        alone, how = _by_rate(step, action, coats, plan, vocabulary)
        work = -(-alone // asked) if not hired else alone
        presumed.append(f"takes {_text(work)} ({how})")
    between = 0
    if coats > 1:
        between, how = _between_coats(step, plan)
        if how:
            presumed.append(f"{_text(between)} between coats ({how})")
    if "wait" not in step.values:
        result, how = own_result(step, plan)
        if result > after:
            after = result
            presumed.append(how)
    usual = _usual(step, action, plan, vocabulary)
    dries, how = _until_next(step, action, plan, vocabulary, usual)
    if _washed_again(step, plan, vocabulary):
        dries = 0
    if not after and "wait" not in step.values and (not ruled or (usual is not None and "dries" in usual.cells)):
        after = dries
        if how and after:
            presumed.append(f"{_text(after)} until the next step on it ({how})")
    given = max(wait, between, minutes(number(step, "wait") or 0))
    wet = (
        max(given, min(dries, _treadable(step, usual, plan)))
        if action in vocabulary.members("action", "leaves a surface wet")
        else 0
    )
    own = 0 if hired else min(asked, people)
    return Hours(work, own, asked, coats, between, 0, after, wet, hired, tuple(presumed))


def _text(time: int) -> str:
    hours, rest = divmod(time, 60)
    return " ".join(t for t in (f"{hours} h" * bool(hours), f"{rest} min" * bool(rest)) if t) or "0 h"


def _by_rate(step: Entity, action: str, coats: int, plan: Plan, vocabulary: Vocabulary) -> tuple[int, str]:
    rates, actions = table("work_rates"), vocabulary.taxonomies.get("action")
    classes = (action, *(actions.above(action) if actions else ()))
    row = next((r for r in map(rates.row, classes) if r), None)
    if row is None:
        return _UNKNOWN_RATE, "no hours stated, no rate known"
    if "once" in row.cells:
        return minutes(_cell(row, "once")), "common rate"
    parts = [plan.entities.get("part", {}).get(name) for name in words(step, "to")] or [None]
    each = [_measured(row, step, part, len(parts)) for part in parts]
    known = [time for time in each if time is not None]
    whole = _cell(row, "whole") * (len(each) - len(known))
    seconds = _cell(row, "setup") * bool(known) + sum(known) * coats + whole * coats
    how = "common rate" if len(known) == len(each) else "common rate, size unknown"
    return -(-minutes(seconds) // 5) * 5, how


def _measured(row: Row, step: Entity, part: Entity | None, parts: int) -> float | None:
    """Time by the part's measure [s]; None where the rate asks for a measure that nobody stated."""
    for column, attribute, unit in (("per_area", "area", _TEN_SQFT), ("per_length", "length", _TEN_FT)):
        if column in row.cells:
            size = number(step, attribute)
            size = size / parts if size is not None else number(part, attribute)
            return None if size is None else _cell(row, column) * size / unit
    count = number(part, "count")
    return _cell(row, "per_piece") * count if "per_piece" in row.cells and count is not None else None


def _cell(row: Row, column: str) -> float:
    value = row.cells.get(column, 0.0)
    return float(value)


def _between_coats(step: Entity, plan: Plan) -> tuple[int, str]:
    """Hands-off time between coats [min], and where it comes from if the label's time is not stated."""
    longest, how = 0, ""
    for name in words(step, "using") or ("",):
        product = plan.entities.get("product", {}).get(name)
        stated = number(product, "recoat")
        if stated is not None:
            longest = max(longest, minutes(stated))
            continue
        wait, reason = _of_class(product)
        if wait >= longest:
            longest, how = wait, reason
    return longest, how


def _until_next(step: Entity, action: str, plan: Plan, vocabulary: Vocabulary, usual: Row | None) -> tuple[int, str]:
    """Hands-off time before the next step on what was coated, glued or set in mortar; none for other work."""
    coat = action in vocabulary.members("action", "leaves a wet coat")
    products = [plan.entities.get("product", {}).get(name) for name in words(step, "using")]
    known = [p for p in products if number(p, "recoat") is not None or _of_class(p)[1].startswith(_LABELS)]
    if usual and not known:
        dries = usual.cells.get("dries")
        how = f"common practice, until {dries}" if dries else f"{_LABELS} {usual.key} commonly ask"
        if not dries and "using" not in step.values:
            how = f"no product is named; {how}"
        return minutes(_cell(usual, "recoat_max")), how
    if not coat and not known:
        return 0, ""
    time, how = _between_coats(step, plan)
    return time, how or "what the plan says of the product"


def _treadable(step: Entity, usual: Row | None, plan: Plan) -> int:
    """When what is wet bears a foot, by its kind [min]: grout does so days before it takes a sealer."""
    products = [plan.entities.get("product", {}).get(name) for name in words(step, "using")]
    rows = [row for row in (*map(_row_of, products), usual) if row is not None and "light_use" in row.cells]
    return max((minutes(_cell(row, "light_use")) for row in rows), default=_NEVER)


def _usual(step: Entity, action: str, plan: Plan, vocabulary: Vocabulary) -> Row | None:
    """What dries after work that has a product of its own, whether or not it is named: filler in a hole; and what the
    shopping list presumes where none is named, as the glue of a joint."""
    columns = (_AFTER,) if "using" in step.values else (_AFTER, _UNNAMED)
    rows = (row for column in columns for row in _rows_by(column).get(action, ()))
    return next((row for row in rows if "to" not in row.cells or _is_meant(row, step, plan, vocabulary)), None)


@lru_cache(maxsize=2)
def _rows_by(column: str) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in table("coating_times").rows.values():
        for action in row.listed(column):
            found.setdefault(action, []).append(row)
    return found


def _is_meant(row: Row, step: Entity, plan: Plan, vocabulary: Vocabulary) -> bool:
    """Whether a row that is of some parts alone is of this step: by the kind of part, and the work on it around."""
    if "dry_with" in row.cells and "with" in step.values and "using" not in step.values:
        return False
    if "not_with" in row.cells and set(words(step, "with")) & vocabulary.members("tool", *row.listed("not_with")):
        return False
    parts, at = plan.entities.get("part", {}), plan.steps.index(step)
    kinds = vocabulary.members("part_kind", *row.listed("to"))
    own = {p for p in words(step, "to") if p in parts and not kinds.isdisjoint(words(parts[p], "kind"))}

    def worked_on(steps: list[Entity], column: str) -> set[str]:
        meant = vocabulary.members("action", *row.listed(column))
        return {part for other in steps if action_of(other) in meant for part in words(other, "to")}

    if "then" in row.cells:
        own &= worked_on(plan.steps[at + 1 :], "then")
    if "unless_behind" in row.cells:
        own -= worked_on(plan.steps[:at], "unless_behind")
    return bool(own)


def _washed_again(step: Entity, plan: Plan, vocabulary: Vocabulary) -> bool:
    """Whether the next work on each of its parts wets them anew: a wash is rinsed at once, and dries after that."""
    wets = vocabulary.members("action", "takes off dirt")
    if action_of(step) not in wets:
        return False
    later = plan.steps[plan.steps.index(step) + 1 :]
    following = [next((o for o in later if part in words(o, "to")), None) for part in words(step, "to")]
    return bool(following) and all(o is not None and action_of(o) in wets for o in following)


def _of_class(product: Entity | None) -> tuple[int, str]:
    if (row := _row_of(product)) is not None:
        return minutes(_cell(row, "recoat_max")), f"{_LABELS} {row.key} commonly ask"
    return _A_DAY, "the product is not known well enough"


def _row_of(product: Entity | None) -> Row | None:
    """The row of the times of coatings that a product is of, by its binder and its kind."""
    if product is None:
        return None
    kind, binder = " ".join(words(product, "kind")), " ".join(words(product, "binder"))
    rows = (table("coating_times").row(name) for name in (f"{binder} {kind}", binder, kind))
    return next((row for row in rows if row and "recoat_max" in row.cells), None)

"""What is said of each need of a plan: it holds, move, again, do it, or it cannot be told."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from msgspec.structs import replace

from advisor.rulebase.model import State
from advisor.site.ground import ground
from advisor.site.model import DONE, FIRM, Effect, Key, Need, SimulatedSite
from advisor.site.simulate import FailedNeed, failures

if TYPE_CHECKING:
    from advisor.engine.memory import Memory
    from advisor.engine.run import Drawn

MOVE, AGAIN, ADD, UNKNOWN = "move", "again", "add", "unknown"


def answer(
    memory: Memory, drawn: Iterable[Drawn], states: Mapping[str, State]
) -> tuple[list[Drawn], SimulatedSite | None]:
    """The conclusions that speak: all that are no needs, and the needs that do not hold, with what to do about them."""
    drawn = list(drawn)
    if not any(d.conclusion.kind in ("effect", "order") or d.conclusion.goals or d.conclusion.never for d in drawn):
        return drawn, None
    site = ground(memory, drawn, states)
    failed: dict[int, FailedNeed] = {}
    implied: dict[tuple[str, str], list[FailedNeed]] = {}
    for failure in failures(site, site.order(), _soft):
        need = failure.need
        if need.drawn is not None and need.drawn.conclusion.kind == "order":
            implied.setdefault((need.rule, site.steps[need.step]), []).append(failure)
        else:
            failed[id(need.drawn)] = failure
    done = {site.steps[step] for step in site.done}
    spoken = []
    for one in drawn:
        conclusion = one.conclusion
        if conclusion.kind in ("effect", "order"):
            continue
        if conclusion.kind in ("require", "refer") and conclusion.step and str(one.env[conclusion.step.name]) in done:
            continue  # what is over needs nothing before it
        if conclusion.goals or conclusion.never:
            if id(one) in failed:
                spoken.append(_told(one, failed[id(one)], site))
        elif implied and conclusion.step is not None and conclusion.kind in ("require", "refer"):
            key = (one.why.variant.rule.id, str(one.env[conclusion.step.name]))  # type: ignore[attr-defined]
            same = next((f for f in implied.get(key, ()) if _agree(f, one)), None)
            spoken.append(one if same is None else _told(one, same, site))
        else:
            spoken.append(one)
    return spoken, site


def _agree(failure: FailedNeed, drawn: Drawn) -> bool:
    """Whether the implied need is that of this very match."""
    assert failure.need.drawn is not None
    own = failure.need.drawn.env
    return all(drawn.env.get(name, value) == value for name, value in own.items())


def _soft(need: Need) -> bool:
    return need.firmness < FIRM


def _told(drawn: Drawn, failure: FailedNeed, site: SimulatedSite) -> Drawn:
    kind, steps = verdict(failure, site)
    if kind == ADD:
        return drawn
    index = drawn.why.variant.rule.conclusions.index(drawn.conclusion)  # type: ignore[attr-defined]
    conclusion = drawn.conclusion
    names = listed([site.steps[s] for s in steps])
    if kind == MOVE:
        # The plan does it already: to add it once more would be a second shut-off.
        what = f"Move {names} to before this step. {conclusion.what}"
        conclusion = replace(conclusion, what=what, advice=tuple(a for a in conclusion.advice if a.form != "add"))
    elif kind == AGAIN:
        conclusion = replace(conclusion, what=f"After {names} this is needed again. {conclusion.what}")
    return replace(drawn, conclusion=conclusion, index=index, answer=(kind, *(site.steps[s] for s in steps)))


def verdict(failure: FailedNeed, site: SimulatedSite) -> tuple[str, list[int]]:
    """`move` with the later steps that bring what is needed, `again` with what ended it, or `add`."""
    need = failure.need
    current = {key: (value, by) for key, value, by in failure.found}
    wanted = [(want, False) for want in need.never if current[want[0]][0] in want[1]][:1]
    wanted = wanted or [(want, True) for want in need.wants]
    for (key, values), good in wanted:
        later = [e for e in _bringers(site, key) if e.step > need.step and (e.value in values) == good]
        if later:
            return MOVE, sorted({later[0].step, *_before(later[0], need.step, site)})
    for (key, values), good in wanted:
        by = current[key][1]
        earlier = [e for e in _bringers(site, key) if e.step < need.step and (e.value in values) == good]
        if by is not None and any(e.step < by.step for e in earlier):
            return AGAIN, [by.step]
    return ADD, []


def _bringers(site: SimulatedSite, key: Key) -> list[Effect]:
    return [e for effects in site.effects for e in effects if e.key == key and e.mode == "brings"]


def _before(effect: Effect, step: int, site: SimulatedSite) -> list[int]:
    """The later steps that the bringing step itself waits for, as the breaker before the tester."""
    found = []
    for key, values in effect.only_if:
        if key[0] == DONE:
            continue
        brings = [e for e in _bringers(site, key) if e.value in values and e.step != effect.step]
        if brings and all(e.step > step for e in brings) and site.at_start(key) not in values:
            found.append(brings[0].step)
    return found


def listed(names: list[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1] if names else ""

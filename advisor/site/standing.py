"""For each practice and step: it speaks, it is open, it is met, or it does not concern the step."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from msgspec import Struct, field

from advisor.plan.model import FactBase, Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.forms import rules_of
from advisor.rulebase.model import SIGNALS, Rule
from advisor.site.absences import may_hold
from advisor.site.assume import MISSING, Key, Set, Ways, holds_today, pruned
from advisor.site.cells import Open
from advisor.site.concern import Concern
from advisor.site.evaluate import evaluate
from advisor.site.possible import May, Possible
from advisor.site.things import Absent

_SETS = 12  # sets of assumptions kept of one practice at one step


class Practice(Struct):
    """A practice at a step (at the plan as a whole where `step` is empty) that is open, with what it hangs on."""

    rule: Rule
    step: str
    signal: str
    parts: tuple[str, ...]
    ways: Ways

    @property
    def rank(self) -> int:
        """Gravity: 0 notice to 3 danger."""
        return SIGNALS.index(self.signal)


class StepAccount(Struct):
    """How many practices concern one step, and which."""

    step: str
    speaks: tuple[str, ...]
    met: tuple[str, ...]
    open: tuple[str, ...]
    named: bool  # some rule looks for such a step: it is what other practices ask for


class Standing(Struct):
    """What the rules make of a plan and of what it leaves unknown."""

    possible: Possible
    spoken: frozenset[tuple[str, str]]
    open: list[Practice] = field(default_factory=list)
    account: list[StepAccount] = field(default_factory=list)
    today: dict[tuple[str, str], list[Set]] = field(default_factory=dict)  # of what speaks: why it does now
    besides: dict[tuple[str, str], list[Set]] = field(default_factory=dict)  # and why it might all the same

    @property
    def cells(self) -> dict[Key, Open]:
        """The unknowns by key."""
        return self.possible.site.cells

    @property
    def absent(self) -> dict[str, Absent]:
        """What may be there and is not listed."""
        return self.possible.site.absent


def standing(
    plan: Plan,
    base: FactBase,
    rulebase: RuleBase,
    told: Collection[tuple[str, str]] | None = None,
    possible: Possible | None = None,
    by_states: Iterable[Practice] = (),
    unchecked: Mapping[str, str] | None = None,
) -> Standing:
    """What speaks, is open, is met.

    `told` is what the engine says, by rule and step: where a need surely arises and the engine is silent all the
    same, the states at that step meet it. `possible` is the evaluation, where it was made already;
    `by_states` are practices that are open because nobody can tell what is so at their step; `unchecked` are the
    rules that the engine gave up, with reasons.
    """
    possible = possible or evaluate(plan, base, rulebase, unchecked)
    groups: dict[tuple[str, str], list[May]] = {}
    for one in possible.drawn:
        name = (one.rule.id, step_of(one))
        if not one.speaks:
            one.ways = tuple(filter(may_hold, one.ways))
            if not one.ways:
                continue
        if not (told is not None and one.speaks and name not in told and met_by_states(one, plan)):
            groups.setdefault(name, []).append(one)
    spoken = frozenset(name for name, found in groups.items() if any(one.speaks for one in found))
    found = Standing(possible, spoken)
    for name in sorted(groups):
        if name not in spoken:
            found.open.append(_practice(groups[name], name[1]))
        else:
            sets = [s for one in groups[name] for s in one.ways]
            found.today[name] = [s for s in sets if holds_today(s)]
            found.besides[name] = [s for s in sets if not holds_today(s)]
    known = {(one.rule.id, one.step) for one in found.open}
    found.open += [one for one in by_states if (one.rule.id, one.step) not in known | found.spoken]
    groups.clear()  # of a large plan they take much room
    possible.drawn = []
    _account(found, plan, base, rulebase, {*possible.given_up, *(unchecked or ())})
    return found


def met_by_states(one: May, plan: Plan) -> bool:
    """Whether the states at a step may meet a conclusion: a need, or anything asked before a step that is done."""
    conclusion = one.conclusion
    if conclusion.goals or conclusion.never:
        return True
    step = plan.entities["step"].get(step_of(one))
    done = step.values.get("done") if step else None
    return done is not None and done.plain == "yes" and conclusion.kind in ("require", "refer")


def step_of(one: May) -> str:
    """The step that a conclusion belongs to; empty for the plan as a whole."""
    step = one.conclusion.step
    return "" if step is None else str(one.env[step.name])


def _practice(found: list[May], step: str) -> Practice:
    rule = found[0].rule
    ways: list[Set] = []
    for one in found:
        ways += one.ways
    names = sorted(n for n, t in rule.types.items() if t in ("ref:part", "ref:product", "ref:room"))
    parts = sorted({str(one.env[n]) for one in found for n in names if n in one.env})
    signal = max((one.conclusion.signal for one in found), key=SIGNALS.index)
    return Practice(rule, step, signal, tuple(p for p in parts if not p.startswith("?")), pruned(ways, _SETS))


def _account(found: Standing, plan: Plan, base: FactBase, rulebase: RuleBase, unsure: Collection[str]) -> None:
    """The account of each step; of a rule that was given up nobody knows whether it is met."""
    concern = Concern(rules_of(rulebase), base)
    still = {(one.rule.id, one.step) for one in found.open}
    open_at: dict[str, frozenset[str]] = {}
    for rule, at in still:
        open_at[at] = open_at.get(at, frozenset()) | {rule}
    alike: dict[tuple[object, ...], list[tuple[str, int]]] = {}
    for step in plan.steps:
        values = step.values
        shape = tuple(values[n].plain if n in values else None for n in ("do", "to", "using"))
        concerns = alike.get(shape)
        if concerns is None:
            concerns = alike[shape] = concern.of(step.id)
        speaks = sorted(rule for rule, at in found.spoken if at == step.id)
        own = list(dict.fromkeys(rule for rule, how in concerns if how == 2))
        # What would only concern it by another reading of its words is open too; what concerns any step is not counted.
        beside = open_at.get(step.id, frozenset()) - {rule for rule, _ in concerns}
        open_here = sorted(beside.union(rule for rule in own if (rule, step.id) in still))
        silent = [rule for rule in own if (rule, step.id) not in still and (rule, step.id) not in found.spoken]
        met = [rule for rule in silent if rule not in unsure]
        named = shape[0] in rules_of(rulebase).actions
        found.account.append(StepAccount(step.id, tuple(speaks), tuple(met), tuple(open_here), named))


def unknowns(ways: Ways) -> tuple[Key, ...]:
    """The unknowns that any of the sets hangs on."""
    return tuple(sorted({k for one in ways for k, c in one.items() if not c[1] and k[0] not in ("!", "~")} - {MISSING}))


def missing(ways: Ways) -> tuple[str, ...]:
    """The things that are not listed that any of the sets hangs on."""
    return tuple(sorted({name for one in ways if MISSING in one for name in one[MISSING][2]}))

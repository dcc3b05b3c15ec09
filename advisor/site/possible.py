"""What an evaluation of possibilities comes to, and two small parts of it that need no facts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct, field

from advisor.rulebase.forms import Form, Rules, RunVariant, Told
from advisor.rulebase.model import Collect, Conclusion, Given, Rule, Var
from advisor.site.assume import Ways, holds_today
from advisor.site.matching import Env
from advisor.site.store import PossibleFacts
from advisor.site.things import Site


class May(Struct, eq=False):
    """A conclusion that speaks, or may: the match and the smallest sets of assumptions."""

    rule: Rule
    conclusion: Conclusion
    env: Env
    ways: Ways
    computes: bool

    @property
    def speaks(self) -> bool:
        """Whether it holds of the plan as it stands."""
        return any(map(holds_today, self.ways))


class Possible(Struct):
    """All that one evaluation came to."""

    site: Site
    store: PossibleFacts
    drawn: list[May] = field(default_factory=list)
    given_up: dict[str, str] = field(default_factory=dict)  # rules that looked at too much or hang on one; the reason


def total_of(guard: Collect, seen: list[tuple[int, Any, Any]]) -> Any:
    """What is collected, as the engine does: number, id and value of each fact; None for the least of nothing."""
    values = [value if value is not None else "" for _, _, value in seen]
    if guard.how == "count":
        return len({str(own if own is not None else number) for number, own, _ in seen})
    if guard.how == "sum":
        return float(sum(v for v in values if isinstance(v, int | float)))
    if guard.how == "list":
        return tuple(values)
    numbers = [v for v in values if isinstance(v, int | float)]
    if not numbers:
        return None
    return max(numbers) if guard.how == "greatest" else min(numbers)


def in_turn(forms: Sequence[Form], sizes: list[int]) -> list[Form]:
    """The patterns, from the one with fewest facts on, each as much bound as can be."""
    if len(forms) < 3:
        return list(forms) if len(forms) < 2 or sizes[0] <= sizes[1] else [forms[1], forms[0]]
    left = list(range(len(forms)))
    first = min(left, key=lambda n: (sizes[n], n))
    left.remove(first)
    order, bound = [forms[first]], set(forms[first].names)
    while left:
        best = min(left, key=lambda n: (not forms[n].names & bound, sizes[n], n))
        left.remove(best)
        order.append(forms[best])
        bound |= forms[best].names
    return order


def forms_of(way: RunVariant, rules: Rules) -> Iterator[Form]:
    """The patterns of a variant taken apart, one by one: where one has no fact the rest are not asked for."""
    return (rules.form(pattern, way.unused) for pattern in way.variant.patterns)


def prepare(way: RunVariant, rules: Rules) -> None:
    """Keep the patterns of a variant taken apart, and note the words that its guards ask of what they bind."""
    way.forms = tuple(forms_of(way, rules))
    told: dict[str, Told] = {}
    for one in way.variant.guards:
        if isinstance(one, Given) and isinstance(one.left, Var) and (words := rules.words_of(one)) is not None:
            told[one.left.name] = (*told.get(one.left.name, ()), (words, one.op != "not_in"))
    way.told = told


def telling(states: list[tuple[Env, Ways]], form: Form, told: Mapping[str, Told]) -> list[tuple[Env, Ways]]:
    """Without the matches in which a word that the pattern binds is not one that a guard further down asks for."""
    for _, name in form.binds:
        for words, wanted in told.get(name, ()):
            states = [one for one in states if type(one[0][name]) is not str or (one[0][name] in words) == wanted]
    return states


def value_of(operand: Any, env: Env) -> Any:
    """The value that stands for an operand."""
    return env[operand.name] if isinstance(operand, Var) else operand

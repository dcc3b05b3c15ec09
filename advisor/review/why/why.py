"""Why a finding stands: a tree from the finding to lines of the plan, presumptions and sources."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct, field

from advisor.engine.basis import MOST_DEEP
from advisor.engine.memory import Derivation, Env, Record
from advisor.engine.run import Drawn
from advisor.plan.model import FactBase, Plan
from advisor.review.finding import Finding
from advisor.review.wording import show_value
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Collect, Compute, Lookup, Not, Pattern, Var
from advisor.rulebase.split import Variant
from advisor.tables import table

_LIKE = " or the like"
# What a branch of the tree may end in.
ENDS = ("plan", "absent", "presumed", "unknown", "source", "advice", "table")


class Reason(Struct):
    """One reason. `sort` is finding, rule, deduced, number or one of ENDS; `line` is the plan's."""

    sort: str
    text: str
    line: int = 0
    children: list[Reason] = field(default_factory=list)
    plain: str = ""  # what the plan does not say, as a person would ask for it; of an absence of one thing


def explain(finding: Finding, plan: Plan, base: FactBase, rulebase: RuleBase) -> Reason:
    """The tree of one finding."""
    root = Reason("finding", f"{finding.signal}: {finding.what}", finding.step_line)
    teller = Teller(plan, base, rulebase)
    for drawn in finding.drawn:
        assert isinstance(drawn, Drawn)
        root.children.append(teller.rule(drawn.why, drawn))
    return root


class Teller:
    """Puts reasons into words, each deduced fact told once in full."""

    def __init__(self, plan: Plan, base: FactBase, rulebase: RuleBase) -> None:
        self.plan, self.base, self.rulebase = plan, base, rulebase
        self.telling: set[int] = set()

    def rule(self, why: Derivation, drawn: Drawn | None = None) -> Reason:
        variant: Variant = why.variant  # type: ignore[assignment]
        rule = variant.rule
        node = Reason("rule", f"rule {rule.id}: {rule.title}")
        for pattern, record in why.support:
            node.children.append(self.fact(pattern, record))
        for record in why.collected:
            sums = [g for g in variant.guards if isinstance(g, Collect) and g.pattern.kind == record.kind]
            node.children.append(self.fact(sums[0].pattern, record, (sums[0].attribute,)))
        for pattern in variant.absent:
            node.children.append(self.absence((pattern,), why.env))
        for guard in variant.guards:
            if isinstance(guard, Not):
                inside = tuple(c for c in guard.inside if isinstance(c, Pattern))
                node.children.append(self.absence(inside, why.env))
            elif isinstance(guard, Lookup):
                node.children.append(self.lookup(guard, why.env))
        node.children.extend(self.numbers(variant, drawn))
        for key, at in rule.sources:
            entry = self.rulebase.citations.get(key)
            text = f"{entry.cite} {at}".strip() if entry else "common practice of the trade"
            node.children.append(Reason("source", text))
        if not rule.sources and not node.children:
            node.children.append(Reason("source", "common practice of the trade"))
        return node

    def fact(self, pattern: Pattern, record: Record, more: tuple[str, ...] = ()) -> Reason:
        """A matched fact: a line of the plan, or what deduced it."""
        names = [t.attribute for t in pattern.tests if t.attribute not in ("id", "place")] + list(more)
        cells = [self._cell(record, name) for name in dict.fromkeys(names) if name in record.values]
        own = str(record.values.get("id", ""))
        about = f"{record.kind.replace('_', ' ')} {own}".strip() if own != record.kind else record.kind
        text = f"{about}: {', '.join(cells)}" if cells else about
        if record.derivations:
            return self._deduced(text, record)
        node = Reason("advice" if record.advised else "plan", text, record.line)
        for name in dict.fromkeys(names):
            basis = self.base.presumptions.get((record.kind, own, name))
            if name in record.presumed and basis is not None:
                node.children.append(
                    Reason("presumed", f"{basis.about} is presumed {basis.value}: {basis.because}", record.line)
                )
        for test in pattern.tests:
            if test.op == "unknown":
                node.children.append(
                    Reason("unknown", f"{test.attribute.replace('_', ' ')} of {own} is not known", record.line)
                )
        return node

    def _deduced(self, text: str, record: Record) -> Reason:
        node = Reason("deduced", text)
        if len(self.telling) > MOST_DEEP:
            node.sort, node.text = "absent", f"{text} (from more facts in a row than are told)"
            return node
        if record.number in self.telling:
            node.sort, node.text = "absent", f"{text} (told above)"
            return node
        self.telling.add(record.number)
        node.children = [self.rule(why) for why in record.derivations[:1]]
        self.telling.discard(record.number)
        return node

    def _cell(self, record: Record, name: str) -> str:
        kind = self.rulebase.kinds[record.kind].attributes.get(name, "text")
        return f"{name.replace('_', ' ')} {show_value(record.values[name], kind, self.plan.units)}"

    def absence(self, patterns: tuple[Pattern, ...], env: Env) -> Reason:
        """What the plan does not say."""
        words = [self.wanted(p, env) for p in patterns]
        return Reason(
            "absent",
            f"the plan has no {' together with '.join(words)}" if words else "the plan says no more",
            plain=self.asked(patterns[0], env) if len(patterns) == 1 else "",
        )

    def asked(self, pattern: Pattern, env: Env) -> str:
        """The same for a person: `The plan names no step before fit-top to coat top, or the like, with faces all`."""
        cells = dict(self._cells(pattern, env))
        own = cells.pop("id", "")
        if pattern.kind not in self.rulebase.vocabulary.attributes:
            meaning = self.rulebase.kinds[pattern.kind].meaning or pattern.kind.replace("_", " ")
            about = ", ".join(word for word in (own, *cells.values()) if word)
            return f"Not so here: {meaning}" + (f" ({about})" if about else "")
        if own or pattern.kind != "step":
            told = ", ".join(f"{name} {words}" for name, words in cells.items()) or "that there is one"
            about = f"of {own}" if own else "of the crew" if pattern.kind == "crew" else f"of any {pattern.kind}"
            return f"The plan does not say {about}: {told}"
        when = f" before {env.get(pattern.earlier_than.name, 'it')}" if pattern.earlier_than else ""
        when += f" after {env.get(pattern.later_than.name, 'it')}" if pattern.later_than else ""
        does, like, _ = cells.pop("do", "").partition(_LIKE)
        doing = " ".join(word for word in (does, cells.pop("to", "")) if word)
        rest = ", ".join(f"{name} {words}" for name, words in cells.items())
        said = f"The plan names no step{when}" + (f" to {doing}" if does else f" at {doing}" if doing else "")
        return said + (like and ", or to do the like") + (rest and f", with {rest}")

    def wanted(self, pattern: Pattern, env: Env) -> str:
        """What a pattern looks for, in words."""
        cells = [f"{name} {words}" for name, words in self._cells(pattern, env)]
        if pattern.earlier_than:
            cells.append(f"earlier than {env.get(pattern.earlier_than.name, 'it')}")
        if pattern.later_than:
            cells.append(f"later than {env.get(pattern.later_than.name, 'it')}")
        return f"{pattern.kind.replace('_', ' ')} with {', '.join(cells)}" if cells else pattern.kind

    def _cells(self, pattern: Pattern, env: Env) -> Iterator[tuple[str, str]]:
        """Each attribute that a pattern tests, with what it wants."""
        for test in pattern.tests:
            kind = self.rulebase.kinds[pattern.kind].attributes.get(test.attribute, "text")
            values = [
                env[v.name] if isinstance(v, Var) else v for v in test.values if not isinstance(v, Var) or v.name in env
            ]
            if not values:
                continue
            shown = [show_value(v, kind, self.plan.units) for v in values]
            words = shown[0] if len(shown) == 1 else f"{shown[0]}{_LIKE}"
            lead = "not " if test.op == "not_in" else ""
            yield test.attribute.replace("_", " "), f"{lead}{words}"

    def lookup(self, guard: Lookup, env: Env) -> Reason:
        """A row of a published table."""
        key = str(env[guard.key.name]) if isinstance(guard.key, Var) else str(guard.key)
        row = table(guard.table).row(key)
        place = ""
        if row is not None and row.source.key:
            place = f" ({row.source.key} {row.source.at})".replace(" )", ")")
        return Reason("table", f"table {guard.table.replace('_', ' ')}, row {key}{place}")

    def numbers(self, variant: Variant, drawn: Drawn | None) -> list[Reason]:
        """The working of each calculator, with its sources."""
        if drawn is None:
            return []
        found = []
        for guard, (var, result) in zip(
            [g for g in variant.guards if isinstance(g, Compute)], drawn.results, strict=False
        ):
            node = Reason("number", f"{var.replace('_', ' ')}: {result.working(self.plan.units)} ({guard.calculator})")
            node.children = [Reason("source", source) for source in result.sources]
            found.append(node)
        return found


def dangling(node: Reason) -> list[str]:
    """Branches that end in nothing a reader could check."""
    if not node.children:
        return [] if node.sort in ENDS else [f"{node.sort}: {node.text}"]
    return [text for child in node.children for text in dangling(child)]


def as_tree(node: Reason) -> dict[str, Any]:
    """The tree as plain data."""
    data: dict[str, Any] = {"sort": node.sort, "text": node.text}
    if node.line:
        data["line"] = node.line
    if node.children:
        data["children"] = [as_tree(child) for child in node.children]
    return data


def as_dot(node: Reason) -> str:
    """The tree in the DOT graph language."""
    lines = ["digraph why {", "  rankdir=LR;", '  node [shape=box, fontname="sans-serif"];']
    count = 0

    def add(one: Reason) -> int:
        nonlocal count
        own, count = count, count + 1
        text = one.text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ")
        place = f"\\nline {one.line}" if one.line else ""
        lines.append(f'  n{own} [label="{one.sort}: {text}{place}"];')
        for child in one.children:
            lines.append(f"  n{own} -> n{add(child)};")
        return own

    add(node)
    return "\n".join([*lines, "}"]) + "\n"

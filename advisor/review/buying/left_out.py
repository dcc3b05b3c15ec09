"""What the report speaks against: tools and products that nobody should buy for the step that names them."""

from __future__ import annotations

from msgspec import Struct, field

from advisor.plan.model import Entity, Value
from advisor.plan.said import action_of, words
from advisor.review.buying.on_site import OnSite, shop_words
from advisor.review.finding import Finding

ALL = "all"  # whatever the step names: it is not done as planned
NAMED = "named"  # what the finding itself names


class LeftOut(Struct, frozen=True):
    """By step and by tool or product the finding that speaks against it, by its title; and what takes its place."""

    steps: dict[str, str] = field(default_factory=dict)
    tools: dict[tuple[str, str], str] = field(default_factory=dict)
    products: dict[tuple[str, str], str] = field(default_factory=dict)
    instead: dict[tuple[str, str], str] = field(default_factory=dict)  # a kind of product, with a row of its own
    # By step and product: the parts on which alone a finding speaks against it.
    surfaces: dict[tuple[str, str], dict[str, str]] = field(default_factory=dict)

    def used(self, step: Entity, products: list[Entity]) -> list[Entity]:
        """The products of a step once the report is heeded: without what it speaks against, with what it names."""
        kept = [one for one in products if (step.id, one.id) not in self.products]
        kinds = dict.fromkeys(self.instead[key] for one in products if (key := (step.id, one.id)) in self.instead)
        return kept + [_not_there(kind) for kind in kinds]


def left_out(site: OnSite, with_rows: frozenset[str]) -> LeftOut:
    """What the findings speak against; `with_rows` are kinds of product of which amounts can be told."""
    found = LeftOut()
    steps = {step.id: step for step in site.plan.steps}
    for finding in site.findings:
        entry = shop_words()["off"].get(finding.rule)
        step = steps.get(finding.step or "")
        if entry is None or step is None or finding.advised:
            continue
        if entry == ALL:
            found.steps.setdefault(step.id, finding.title)
        for tool in words(step, "with"):
            if entry == ALL or _speaks_of(site, "tool", (tool,), entry.get("tools"), finding, tool):
                found.tools.setdefault((step.id, tool), finding.title)
        for product in site.products(step):
            kinds = words(product, "kind")
            if entry == ALL or _speaks_of(site, "product_kind", kinds, entry.get("products"), finding, product.id):
                if entry != ALL and _on_some_parts(found, site, step, product, finding):
                    continue
                found.products.setdefault((step.id, product.id), finding.title)
                if kind := next((w for w in finding.wants if w in with_rows), ""):
                    found.instead.setdefault((step.id, product.id), kind)
    return found


def _on_some_parts(found: LeftOut, site: OnSite, step: Entity, product: Entity, finding: Finding) -> bool:
    """Whether the coat of a step stays right on some of its parts; notes those on which it is not."""
    parts = {part.id for part in site.parts(step)}
    against = parts & set(finding.parts)
    if not against or not site.is_one("action", action_of(step), ["coat"]):
        return False
    own = found.surfaces.setdefault((step.id, product.id), {})
    own.update(dict.fromkeys(sorted(against), finding.title))
    return parts != set(own)


def _speaks_of(
    site: OnSite, sort: str, kinds: tuple[str, ...], entry: str | list[str] | None, finding: Finding, name: str
) -> bool:
    """Whether the entry takes off a thing of these kinds and this name."""
    if entry is None:
        return False
    if entry == NAMED:
        return any(name in map(str, drawn.env.values()) for drawn in finding.drawn)
    return any(site.is_one(sort, kind, entry) for kind in kinds)


def _not_there(kind: str) -> Entity:
    """A product that is to get: of its kind, and none of it there."""
    return Entity("product", kind, {"kind": Value(kind, kind, 0, 0), "count": Value(0.0, "0", 0, 0)}, 0)

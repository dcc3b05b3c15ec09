"""The order of work: the author's order, moved as little as the constraints allow."""

from __future__ import annotations

import heapq

from advisor.plan.model import Plan
from advisor.review.model import Finding


def order_of_work(plan: Plan, findings: list[Finding]) -> list[dict[str, object]]:
    """The steps in an order that keeps every `precede` and `wait`, nearest to the author's."""
    place = {step.id: index for index, step in enumerate(plan.steps)}
    edges: dict[str, set[str]] = {step.id: set() for step in plan.steps}
    for finding in findings:
        if finding.first in place and finding.step in place and finding.first != finding.step:
            edges[str(finding.first)].add(str(finding.step))
    for step in plan.steps:
        after = step.values.get("after")
        for name in after.plain if after and isinstance(after.plain, tuple) else ():
            edges[str(name)].add(step.id)
    waiting = {s: sum(s in targets for targets in edges.values()) for s in edges}
    ready = [(place[s], s) for s, count in waiting.items() if not count]
    heapq.heapify(ready)
    done: list[str] = []
    while ready:
        _, step_id = heapq.heappop(ready)
        done.append(step_id)
        for target in edges[step_id]:
            waiting[target] -= 1
            if not waiting[target]:
                heapq.heappush(ready, (place[target], target))
    done += [s.id for s in plan.steps if s.id not in done]
    entities = {step.id: step for step in plan.steps}
    return [{"step": s, "line": entities[s].line, "place": n + 1} for n, s in enumerate(done)]

"""Rings among what needs each other, found without recursion."""

from __future__ import annotations

from collections.abc import Iterable


def rings(before: dict[str, list[str]]) -> Iterable[list[str]]:
    """Strongly connected groups, each after all that it needs (Tarjan, without recursion)."""
    index: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    on: set[str] = set()
    for root in before:
        if root in index:
            continue
        work = [(root, 0)]
        while work:
            node, place = work.pop()
            if place == 0:
                index[node] = low[node] = len(index)
                stack.append(node)
                on.add(node)
            follow = before[node]
            for at in range(place, len(follow)):
                other = follow[at]
                if other not in index:
                    work += [(node, at + 1), (other, 0)]
                    break
                if other in on:
                    low[node] = min(low[node], index[other])
            else:
                if low[node] == index[node]:
                    group = []
                    while True:
                        one = stack.pop()
                        on.discard(one)
                        group.append(one)
                        if one == node:
                            break
                    yield group
                if work:
                    low[work[-1][0]] = min(low[work[-1][0]], low[node])

"""What findings ask for that their advice does not name: by rule, by the area of its parts, and one device a box."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from advisor.plan.said import number, words
from advisor.review.buying.on_site import OnSite, pieces, shop_words
from advisor.review.finding import Finding
from advisor.review.supply import Supply
from advisor.showing import show

EACH = "each"


def by_rules(site: OnSite, finding: Finding, steps: tuple[str, ...]) -> Iterable[Supply]:
    """What `rules/report/supplies.yaml` lists for the rule of a finding; what goes into a box comes with `devices`."""
    for asked in shop_words()["by_rule"].get(finding.rule, []):
        if not ("device" in asked and _boxes(site, finding)):
            yield _by_rule(site, finding, asked, steps)


def _by_rule(site: OnSite, finding: Finding, asked: dict[str, Any], steps: tuple[str, ...]) -> Supply:
    need, why, least = 1.0, asked.get("why", finding.title), False
    if asked.get("each") == "person":
        need = site.people()
    if asked.get("count") == "part":
        need = sum(count(site, name) for name in finding.parts) or 1  # a part without a count is what they stand in
    if "covers" in asked:
        need, told, least = _by_area(site, finding, asked)
        why += f". {told}"
    what = asked["say"]
    for one in finding.numbers:
        if one.name == asked.get("from"):
            what = f"{what} ({show(one.value, one.dimension, site.plan.units).text})"
    how, shelf = asked.get("how", "buy"), asked.get("shelf", "tools")
    return Supply(what, steps, 0, need, EACH, why, how, shelf, None, at_least=least)


def _by_area(site: OnSite, finding: Finding, asked: dict[str, Any]) -> tuple[float, str, bool]:
    """How many of it the parts take, with the sum, and whether the plan leaves out a size."""
    parts = site.plan.entities.get("part", {})
    own = [number(parts.get(name), "area") for name in finding.parts]
    area = sum(one for one in own if one)
    if not area:
        return 1, "The plan leaves out its area", True
    shown = show(area, "area", site.plan.units).text
    told = f"{shown} and a tenth to spare, one for each {asked['covers']} (common practice; the label rules)"
    return pieces(area, str(asked["covers"]), "area")[0], told, None in own


def count(site: OnSite, name: str) -> float:
    """How many of a part there are by the plan; 0 where it does not say."""
    return number(site.plan.entities.get("part", {}).get(name), "count") or 0


def _boxes(site: OnSite, finding: Finding) -> list[str]:
    """The parts of a finding that sit in a box."""
    kinds = site.vocabulary.members("part_kind", shop_words()["device"]["kind"])
    parts = site.plan.entities.get("part", {})
    return [name for name in finding.parts if name in parts and set(words(parts[name], "kind")) & kinds]


def devices(site: OnSite) -> Iterable[Supply]:
    """One device for each box, with all that the findings ask of it: two lines would send the reader to buy two."""
    asks: dict[str, dict[str, str]] = {}  # by box: what is asked of it, each with the finding's title
    steps: dict[str, list[str]] = {}
    shelf: dict[str, str] = {}
    for finding in site.findings:
        for asked in shop_words()["by_rule"].get(finding.rule, []):
            for name in _boxes(site, finding) if "device" in asked else ():
                asks.setdefault(name, {})[asked["device"]] = finding.title
                steps.setdefault(name, []).extend([finding.step] if finding.step else [])
                shelf[name] = asked["shelf"]
    each = {*shop_words()["device"]["marks"], *shop_words()["device"]["alone"]}
    for name, own in asks.items():
        need = 1 if each.isdisjoint(own) else count(site, name) or 1
        yield Supply(
            f"{_device(set(own), need)} (for {name})", site.order(steps[name]), 0, need, EACH,
            "; ".join(dict.fromkeys(own.values())), "buy", shelf[name], None,
        )  # fmt: skip


def _device(asks: set[str], need: float) -> str:
    """`outlets marked TR, the first of the run with GFCI and AFCI protection in one`."""
    told = shop_words()["device"]
    noun = str(told["noun"][need > 1]) + "".join(said for mark, said in told["marks"].items() if mark in asks)
    for mark, said in told["alone"].items():
        if mark in asks:
            return str(said).replace("{noun}", noun)
    cuts = [word for word in told["cuts"] if word in asks]
    if not cuts:
        return noun
    together = " in one" * (len(cuts) > 1)
    return f"{noun}{told['by'][need > 1]} {' and '.join(cuts)} protection{together}, or the breaker with it"

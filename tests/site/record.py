"""What a rule base says of some 4,900 plans, and what the old one said: the old is the oracle of the new.

The record holds, for each plan, every finding of a full review as rule, signal word, step and the things that
it is about; wording is left out. The plans are stored too: cases change later, and the generator draws on the
rule base itself.

    python -m tests.site.record --diff [--sample 0.1] [--rule RULE] [--kind KIND] [--examples 3] [--about] [--draft]
    python -m tests.site.record --show RULE      what the old rule base said with it
    python -m tests.site.record --plan KEY       a stored plan, and what the old and this rule base say of it
    python -m tests.site.record --write          once, from the old rule base; refuses to write over a record
"""

from __future__ import annotations

import argparse
import gzip
import hashlib
import json
import sys
import time
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

import yaml

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path[:0] = [str(HERE), str(ROOT / "tests"), str(ROOT)]

from differences import CHANGES, Difference, compare, draft, explain, faults, read_changes  # noqa: E402

from advisor.errors import InputError  # noqa: E402
from advisor.plan import read_plan  # noqa: E402
from advisor.review.finding import Finding  # noqa: E402
from advisor.review.reviewing import review_plan  # noqa: E402
from advisor.rulebase.base import RuleBase, load_rulebase  # noqa: E402

PLANS, FINDINGS = HERE / "old_plans.json.gz", HERE / "old_findings.json.gz"
GENERATED = 300
KINDS = ("scenario", "case", "generated")


class Said(NamedTuple):
    """A finding without its words. `of` is what it speaks of: the `plan` as written, or what `advice` brings.

    `latent` are constraints that only another order would break. `about` are the ids of the rooms, parts and
    products that its matches bind, and the step that comes first; it is kept to look at, and does not identify.
    """

    of: str
    rule: str
    signal: str
    step: str
    about: tuple[str, ...]


class Heard(NamedTuple):
    """What a rule base makes of one plan; `refused` are the mistakes that it sees in it."""

    said: tuple[Said, ...]
    order: tuple[str, ...]  # the steps in the order of work
    refused: tuple[str, ...] = ()


def gather_plans() -> dict[str, dict[str, Any]]:
    """All plans by key, as this tree has them: scenarios, cases, and plans generated at three sizes."""
    from generators import make_plan
    from rules.harness import _Plain, cases, packs_with_cases

    found: dict[str, dict[str, Any]] = {}
    for path in sorted((ROOT / "scenarios").glob("*.yaml")):
        found[f"scenario/{path.stem}"] = yaml.load(path.read_text(encoding="utf-8"), Loader=_Plain)
    for pack in packs_with_cases():
        found |= {f"case/{pack}/{case.name}": case.plan for case in cases(pack)}
    for seed in range(GENERATED):
        found[f"generated/{seed:03d}"] = make_plan(seed, 1 + seed % 3)
    return found


def as_now(plan: dict[str, Any]) -> dict[str, Any]:
    """The plan without what was any text then and is a quantity now: a loudness that the generator made up.

    No rule read it then, so nothing that was said is lost with it.
    """
    house = plan.get("house", {})
    if isinstance(house, dict) and "country" not in house:
        plan = plan | {"house": {"country": "US"} | house}  # it was the only one then, whatever units a plan had
    parts = plan.get("parts")
    if not isinstance(parts, dict):
        return plan
    kept = {
        own: {k: v for k, v in one.items() if k not in ("noise", "sones") or "sone" in str(v)}
        for own, one in parts.items()
        if isinstance(one, dict)
    }
    return plan | {"parts": parts | kept}


def hear(plan: dict[str, Any], rulebase: RuleBase) -> Heard:
    """A full review of the plan, advice checked too."""
    plan = as_now(plan)
    try:
        report = review_plan(read_plan(plan, rulebase.vocabulary), rulebase)
    except InputError as error:
        return Heard((), (), tuple(problem.message for problem in error.problems))
    said = [_said("advice" if f.advised else "plan", f) for f in report.findings]
    said += [_said("latent", f) for f in report.latent]
    return Heard(tuple(sorted(said)), tuple(row.step for row in report.order))


def _said(of: str, finding: Finding) -> Said:
    about = {finding.first} if finding.first else set()
    for drawn in finding.drawn:
        types = drawn.why.variant.rule.types  # type: ignore[attr-defined]
        refs = (n for n, t in types.items() if t.startswith("ref:") and t != "ref:step")
        about |= {str(drawn.env[n]) for n in refs if n in drawn.env}  # type: ignore[attr-defined]
    return Said(of, finding.rule, finding.signal, finding.step or "", tuple(sorted(about)))


def sampled(key: str, share: float) -> bool:
    """Whether the plan is in the sample of that share: the same plans whenever and wherever it is asked."""
    return int.from_bytes(hashlib.sha256(key.encode()).digest()[:4]) < share * 2**32


def old_plans() -> dict[str, dict[str, Any]]:
    """The stored plans by key."""
    return dict(_read(PLANS))


def old_findings() -> dict[str, Heard]:
    """What the old rule base said of each stored plan."""
    return {
        key: Heard(tuple(Said(*row[:4], tuple(row[4])) for row in one["said"]), tuple(one["order"]))
        for key, one in _read(FINDINGS).items()
    }


def _read(path: Path) -> Any:
    return json.loads(gzip.decompress(path.read_bytes()))


def _write(path: Path, data: Any) -> None:
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    path.write_bytes(gzip.compress(text.encode(), 9, mtime=0))


def write() -> str:
    """Make the record of this tree. Plans are stored as they are written: order of keys and steps included."""
    if PLANS.exists() or FINDINGS.exists():
        sys.exit("There is a record already. It is the oracle; a new one would make it agree with today's rules.")
    rulebase, plans = load_rulebase(), gather_plans()
    heard = {key: hear(plan, rulebase) for key, plan in plans.items()}
    refused = [key for key, one in heard.items() if one.refused]
    if refused:
        sys.exit(f"plans that the rule base refuses: {refused}")
    _write(PLANS, plans)
    _write(FINDINGS, {key: {"said": one.said, "order": one.order} for key, one in heard.items()})
    return f"{len(plans)} plans, {sum(len(one.said) for one in heard.values())} findings."


def differences(keys: Iterable[str], rulebase: RuleBase) -> tuple[list[Difference], dict[str, Heard]]:
    """How this rule base differs from the record on the plans, and what it says of them."""
    plans, old = old_plans(), old_findings()
    now: dict[str, Heard] = {}
    for key in sorted(keys):
        try:
            now[key] = hear(plans[key], rulebase)
        except Exception as error:
            error.add_note(f"It is the stored plan '{key}'.")
            raise
    return [d for key in now for d in compare(key, old[key], now[key])], now


def _diff(options: argparse.Namespace) -> str:
    begun, old, rulebase = time.process_time(), old_findings(), load_rulebase()
    keys = {k for k in old if sampled(k, options.sample) and (not options.kind or k.startswith(options.kind + "/"))}
    if options.rule and options.sample < 1:  # where it spoke it is looked at in any case
        keys |= {k for k, one in old.items() if any(s.rule == options.rule for s in one.said)}
    found, now = differences(keys, rulebase)
    entries = read_changes(CHANGES)
    left = [d for d in explain(found, entries) if options.rule in (None, d.rule)]
    if options.draft:
        return draft(left)
    lines = []
    groups: dict[tuple[str, str], list[Difference]] = {}
    for one in left:
        groups.setdefault((one.rule, one.change), []).append(one)
    for (rule, change), ones in sorted(groups.items(), key=lambda g: (-len(g[1]), g[0])):
        kinds = Counter(one.plan.split("/")[0] for one in ones)
        lines.append(f"{len(ones):5}  {rule}: {change}  ({', '.join(f'{kinds[k]} {k}' for k in KINDS if kinds[k])})")
        lines += [f"         {one}" for one in ones[: options.examples]]
    if options.about:
        lines += _about(old, now, options.rule)
    moved = sum(now[k].order != old[k].order for k in now if not now[k].refused)
    lines.append(f"{len(now)} of {len(old)} plans looked at, {len(found)} differences, {len(left)} unexplained.")
    lines.append(f"The order of work differs in {moved} plans (not part of the test).")
    if options.sample >= 1 and not options.kind:  # on fewer plans an entry may have nothing to explain
        lines += [f"An entry of {CHANGES.name} {fault}" for fault in faults(entries, whole=True)]
    return "\n".join([*lines, f"{time.process_time() - begun:.0f} s of processor time."])


def _about(old: dict[str, Heard], now: dict[str, Heard], rule: str | None) -> list[str]:
    """Findings that stand, but are about other things than before."""
    lines = []
    for key, heard in now.items():
        for gone in sorted(set(old[key].said) - set(heard.said)):
            for new in sorted(set(heard.said) - set(old[key].said)):
                if gone[:4] == new[:4] and rule in (None, gone.rule):
                    what = f"{', '.join(gone.about)} -> {', '.join(new.about)}"
                    lines.append(f"about  {gone.rule} at {gone.step or 'the plan'} in {key}: {what}")
    return lines


def _show(rule: str) -> str:
    rows = [(key, said) for key, one in old_findings().items() for said in one.said if said.rule == rule]
    counts = Counter((said.signal, said.of, key.split("/")[0]) for key, said in rows)
    lines = [_line(said) + f"  in {key}" for key, said in rows]
    return "\n".join([*lines, *(f"{n:5}  {' · '.join(k)}" for k, n in sorted(counts.items()))] or ["It never spoke."])


def _line(said: Said) -> str:
    about = f" ({', '.join(said.about)})" if said.about else ""
    return f"{said.of:6} {said.signal:7} {said.rule} at {said.step or 'the plan'}{about}"


def _plan(key: str) -> str:
    plans = old_plans()
    if key not in plans:
        near = [one for one in plans if key.lower() in one.lower()]
        return "\n".join(["No plan of that key. Keys that contain it:", *near[:40]])
    old, now = old_findings()[key], hear(plans[key], load_rulebase())
    lines = [yaml.safe_dump(plans[key], sort_keys=False, allow_unicode=True, width=110)]
    lines += [f"refused: {text}" for text in now.refused]
    for one in sorted(set(old.said) | set(now.said)):
        mark = " " if one in old.said and one in now.said else "-" if one in old.said else "+"
        lines.append(f"{mark} {_line(one)}")
    lines += [f"order then: {' '.join(old.order)}", f"order now:  {' '.join(now.order)}"]
    return "\n".join(lines)


def main() -> None:
    """One of --diff, --show, --plan, --write."""
    parser = argparse.ArgumentParser(prog="python -m tests.site.record", description=__doc__.split("\n")[0])
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--diff", action="store_true", help="differences that no entry of changes.yaml explains")
    what.add_argument("--show", metavar="RULE", help="where the old rule base spoke with this rule")
    what.add_argument("--plan", metavar="KEY", help="a stored plan, with what was said then and is said now")
    what.add_argument("--write", action="store_true", help="make the record; refused where there is one")
    parser.add_argument("--sample", type=float, default=1.0, help="share of the plans, 0 to 1")
    parser.add_argument("--rule", help="only differences of this rule; with --sample also all plans where it spoke")
    parser.add_argument("--kind", choices=KINDS)
    parser.add_argument("--examples", type=int, default=3)
    parser.add_argument("--about", action="store_true", help="also findings that are about other things now")
    parser.add_argument("--draft", action="store_true", help="print entries for changes.yaml, to be given their reason")
    options = parser.parse_args()
    if options.write:
        print(write())
    elif options.show:
        print(_show(options.show))
    else:
        print(_plan(options.plan) if options.plan else _diff(options))


if __name__ == "__main__":
    main()

"""All that a new or changed rule has to pass, in one go: `make rule ID=dry-floor-first [RULES=folder of your own]`.

Its writing (the lint), two cases that make it speak and two near misses, all cases of its pack, its mutants; then, for
a built-in rule, the parts of README.md, DEVELOPERS.md and docs/ that are made from the rules, the golden reports, and
where the rule speaks in plans that were there before it.
"""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from pathlib import Path

HERE = Path(__file__).resolve().parent
TOP = HERE.parents[1]
sys.path[:0] = [str(HERE.parent), str(HERE.parent / "site"), str(TOP)]

import yaml  # noqa: E402
from rules.harness import Case, cases, light_report, packs_with_cases, run_case  # noqa: E402
from rules.mutants import explained, needed_by, survivors  # noqa: E402

from advisor.errors import InputError, did_you_mean  # noqa: E402
from advisor.plan import make_facts, read_plan  # noqa: E402
from advisor.rulebase.base import RuleBase, load_rulebase  # noqa: E402
from advisor.rulebase.lint import lint, row_problems  # noqa: E402
from advisor.rulebase.model import FINDING_KINDS, Rule  # noqa: E402
from advisor.rulebase.reading import grader  # noqa: E402
from advisor.tables import rules_folder  # noqa: E402
from rules import harness  # noqa: E402

CHANGES = HERE.parent / "site" / "changes" / "new-rules.yaml"
OLD_IDS = HERE.parent / "rulebase" / "old_rule_ids.txt"


def main(words: list[str]) -> int:
    """Say what is to be mended; status 1 where something is."""
    if not words:
        print("Which rule? make rule ID=dry-floor-first")
        return 2
    own = [Path(word) for word in words[1:]]
    try:
        rulebase = load_rulebase(own)
    except InputError as error:
        print(f"The rules cannot be read:\n{error}")
        return 1
    rule = rulebase.rule(words[0])
    if rule is None:
        print(f"There is no rule '{words[0]}'.{did_you_mean(words[0], [r.id for r in rulebase.rules])}")
        return 2
    folder = own[0] / "cases" if own and Path(rule.file).resolve().is_relative_to(own[0].resolve()) else harness.HERE
    wrong = [*_writing(rule, rulebase), *_cases(rule, rulebase, folder)]
    if not wrong:  # mutants of a rule whose cases fail say nothing
        wrong += _mutants(rule, rulebase, folder)
    if not wrong and folder == harness.HERE:
        _docs()
        wrong += _old_plans(rule, rulebase)
    print("\n".join([*wrong, f"{rule.id}: {len(wrong)} to mend."]))
    return int(bool(wrong))


def _writing(rule: Rule, rulebase: RuleBase) -> list[str]:
    problems = lint(rulebase, grade=grader()) + row_problems(rulebase, rules_folder() / "coverage.yaml")
    of_rule = [str(one) for one in problems if f"'{rule.id}'" in one.message]
    of_rows = [str(one) for one in problems for row in rule.serves if f"row '{row}'" in one.message]
    return [*of_rule, *of_rows]


def _cases(rule: Rule, rulebase: RuleBase, folder: Path) -> list[str]:
    if rule.pack not in packs_with_cases(folder):
        return [f"no cases: {folder / rule.pack}.yaml, or a folder of that name"]
    own = cases(rule.pack, folder)
    wrong = [f"case '{case.name}': {text}" for case in own for text in _run(case, rulebase)]
    if any(one.kind in FINDING_KINDS for one in rule.conclusions):
        speaks = sum(any(s["rule"] == rule.id for s in c.spec.get("speaks", [])) for c in own)
        silent = sum(rule.id in c.spec.get("silent", []) for c in own)
        print(f"cases: {speaks} in which it speaks, {silent} near misses, {len(own)} of its pack.")
        if speaks < 2 or silent < 2:
            wrong.append(f"expected two cases in which '{rule.id}' speaks and two near misses ('silent: [{rule.id}]').")
    return wrong


def _run(case: Case, rulebase: RuleBase) -> list[str]:
    try:
        return run_case(case, rulebase)
    except InputError as error:
        return [f"its plan cannot be read: {error}"]


def _mutants(rule: Rule, rulebase: RuleBase, folder: Path) -> list[str]:
    count, found = survivors(rule.pack, rulebase, frozenset({rule.id}), folder)
    open_ones = [name for one, name in found if (one, name) not in explained()]
    print(f"mutants: {count}, of which {len(found)} survive, {len(open_ones)} without a reason in survivors/.")
    return [f"no case notices this change of '{rule.id}': {name}. Add a case, or leave it out." for name in open_ones]


def _docs() -> None:
    for script in ("docs.py", "reports/golden.py"):
        subprocess.run([sys.executable, str(HERE.parent / script)], cwd=TOP, check=True)
    made = subprocess.run(["git", "status", "--short", "README.md", "DEVELOPERS.md", "docs", "tests/reports/golden"],
                          cwd=TOP, capture_output=True, text=True, check=False)  # fmt: skip
    print(f"docs and golden reports made; changed: {', '.join(made.stdout.split()[1::2]) or 'none'}.")


def _old_plans(rule: Rule, rulebase: RuleBase) -> list[str]:
    """Careful plans must not hear it; where it speaks in the record's plans stands in `changes/new-rules.yaml`."""
    from record import as_now, old_plans

    small = needed_by(rulebase, frozenset({rule.id}))
    wrong = []
    for path in sorted((TOP / "scenarios").glob("*careful*.yaml")):
        if n := _speaks(yaml.safe_load(path.read_text("utf-8")), rule, rulebase, small):
            wrong.append(f"it speaks {n} times in the careful plan {path.name}: a false alarm, or a plan to be mended.")
    if rule.id in OLD_IDS.read_text("utf-8").split():
        print("a rule that was there before: python -m tests.site.record --diff --sample 0.1 --rule", rule.id)
        return wrong
    heard = Counter({key: _speaks(as_now(plan), rule, rulebase, small) for key, plan in old_plans().items()})
    heard += Counter()  # those that hear it
    print(f"plans of the record that hear it: {len(heard)} of {len(old_plans())}.")
    _explain(rule, heard)
    return wrong


def _speaks(plan: dict, rule: Rule, rulebase: RuleBase, small: RuleBase) -> int:
    try:
        read = read_plan(plan, rulebase.vocabulary)
    except InputError:
        return 0
    report = light_report(read, make_facts(read, rulebase.vocabulary), small)
    return sum(finding.rule == rule.id for finding in report.findings)


def _explain(rule: Rule, heard: Counter[str]) -> None:
    """The entry of a new rule: all that it says is new. A quarter is left for what advice brings."""
    kept = yaml.safe_load(CHANGES.read_text("utf-8")) if CHANGES.is_file() else []
    kept = [one for one in kept or [] if one["rule"] != rule.id]
    if heard:
        total = sum(heard.values())
        entry = {"rule": rule.id, "reason": "heard now", "why": f"A new practice: {rule.title}", "comes": True}
        kept.append({**entry, "seen_in": min(heard), "expect_at_most": total + max(3, total // 4)})
    head = (
        "# Rules made since the old rule base; `make rule` writes these. Look at a few of the plans that hear them.\n"
    )
    text = yaml.safe_dump(sorted(kept, key=lambda one: one["rule"]), sort_keys=False, allow_unicode=True, width=110)
    if heard or CHANGES.is_file():
        CHANGES.write_text(head + text, encoding="utf-8")
    for key in sorted(heard)[:3]:
        print(f"  python -m tests.site.record --plan '{key}'")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

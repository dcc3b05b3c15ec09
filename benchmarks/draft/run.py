"""`python -m benchmarks.draft.run [FOLDER]…`: how well sentences are heard, over the open and the sealed texts.

Prints totals. Of the sealed texts nothing else is ever printed; `--show` tells what was missed in the open ones.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

TOP = Path(__file__).parents[2]
FOLDERS = (TOP / "tests/draft/texts", TOP / "tests/draft/sealed")


def line(total: Counter[str], name: str) -> str:
    """The totals of a folder, as README quotes them."""

    def share(part: float, whole: float) -> str:
        return f"{100 * part / whole:.1f} %" if whole else "none"

    facts, written = total["facts"], total["written"]
    rows = [
        ("written right or offered", share(total["right"] + total["offered"], facts)),
        ("written right", share(total["right"], facts)),
        (
            "written wrong",
            f"{share(total['wrong'], written)} ({total['wrong']}, {total['wrong grave']} for grave rules)",
        ),
        (
            "not in the plan",
            f"{share(total['beyond'], written)} ({total['beyond']}, {total['beyond grave']} for grave rules)",
        ),
        ("order kept", f"{share(total['in order'], total['pairs'])} of {total['pairs']} pairs"),
        ("unknown left unknown", f"{share(total['left unknown'], total['unknowns'])} of {total['unknowns']}"),
        ("words accounted for", share(total["accounted"], total["words"])),
        ("words not understood", share(total["not understood"], total["words"])),
        ("could not be scored", str(total["failed"])),
    ]
    head = f"{name}: {total['texts']} texts, {facts} facts"
    return "\n".join([head, *(f"  {what:<26}{said}" for what, said in rows)])


def main(arguments: list[str]) -> None:
    """Score each folder."""
    sys.path.insert(0, str(TOP))
    from advisor.rulebase.base import load_rulebase
    from benchmarks.draft.score import Scorer, _with_steps, draft, read_case, read_plan

    rulebase = load_rulebase()
    show = "--show" in arguments
    folders = [Path(a) for a in arguments if not a.startswith("--")] or list(FOLDERS)
    for folder in folders:
        total: Counter[str] = Counter()
        sealed = "sealed" in str(folder)
        for path in sorted(folder.glob("**/*.yaml")):
            try:
                case = read_case(path)
                meant = read_plan(_with_steps(case["plan"]), rulebase.vocabulary, "expected")
            except Exception as error:
                total["failed"] += 1
                if show and not sealed:
                    print(f"FAILED {path.name}: {error}")
                continue
            made = draft(case["text"], rulebase)
            scorer = Scorer(made, meant, read_plan(_with_steps(made.plan), rulebase.vocabulary, "draft"), rulebase)
            total += scorer.counts(case)
            if show and not sealed:
                from advisor.draft.writing import as_yaml

                print(f"\n##### {path}\n{case['text']}\n{as_yaml(made)}")
                print("\n".join(f"   {one}" for one in scorer.detail))
        print(line(total, str(folder.relative_to(TOP)) if folder.is_relative_to(TOP) else str(folder)))


if __name__ == "__main__":
    main(sys.argv[1:])

"""`python -m benchmarks.draft.run [FOLDER]…`: how well sentences are heard, over the open and the sealed texts.

Prints totals, and the seconds of CPU that the longest text takes. Of the sealed texts nothing else is ever printed;
`--show` tells what was missed in the open ones.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.rulebase.base import RuleBase

TOP = Path(__file__).parents[2]
FOLDERS = (TOP / "tests/draft/texts", TOP / "tests/draft/sealed", TOP / "tests/draft/sealed-g")


def line(total: Counter[str], name: str) -> str:
    """The totals of a folder, as docs/sentences.md quotes them."""

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
        ("offers a text", f"{total['offers'] / max(1, total['texts']):.1f}"),
        ("could not be scored", str(total["failed"])),
    ]
    head = f"{name}: {total['texts']} texts, {facts} facts"
    return "\n".join([head, *(f"  {what:<26}{said}" for what, said in rows)])


def causes(total: Counter[str]) -> str:
    """Of the missed facts how many there are of each sort: its thing not found, not written, another value written."""
    rows = [
        f"    missed {what.removeprefix('missed '):<40}{n}" for what, n in sorted(total.items()) if "missed " in what
    ]
    return "\n".join(rows)


def hands(folder: Path) -> dict[str, list[Path]]:
    """The texts of a folder by the hand that wrote them: its subfolders, or the folder itself."""
    found: dict[str, list[Path]] = {}
    for path in sorted(folder.glob("**/*.yaml")):
        found.setdefault(path.parent.name, []).append(path)
    return found


def is_sealed(path: Path) -> bool:
    """Whether nothing but totals may be said of this text; asked of each text, whatever folder was named."""
    return any("sealed" in part for part in path.resolve().parts)


def scored(path: Path, rulebase: RuleBase, *, show: bool) -> Counter[str]:
    """The figures of one text. A sealed one says no more than that, whatever goes wrong with it."""
    from advisor.draft.writing import as_yaml
    from benchmarks.draft.score import Scorer, _with_steps, draft, read_case, read_plan

    show = show and not is_sealed(path)
    try:
        case = read_case(path)
        meant = read_plan(_with_steps(case["plan"]), rulebase.vocabulary, "expected")
    except Exception as error:
        if show:
            print(f"FAILED {path.name}: {error}")
        return Counter(failed=1)
    try:
        made = draft(case["text"], rulebase)
        found = read_plan(_with_steps(made.plan), rulebase.vocabulary, "draft")
        scorer = Scorer(made, meant, found, rulebase)
        counts = scorer.counts(case)
    except Exception:
        if is_sealed(path):  # a trace would quote the text
            return Counter(failed=1)
        raise
    if show:
        print(f"\n##### {path}\n{case['text']}\n{as_yaml(made)}")
        print("\n".join(f"   {one}" for one in scorer.detail))
    return counts


def longest(rulebase: RuleBase) -> None:
    """The slowest of the texts of full length that `tests/draft/test_any_text.py` counts the work of."""
    from advisor.draft.draft import draft
    from advisor.draft.tokens import MAX_BYTES
    from tests.draft.test_any_text import PIECES

    taken: list[tuple[float, str]] = []
    for piece in PIECES:
        began = time.process_time()
        draft((piece * MAX_BYTES)[: MAX_BYTES - 10], rulebase)
        taken.append((time.process_time() - began, piece))
    seconds, piece = max(taken)
    print(f"longest text: {seconds:.2f} s of CPU at most, of {len(PIECES)} kinds ({piece.strip()!r} again and again)")


def main(arguments: list[str]) -> None:
    """Score each folder: the whole, then each hand where there are several."""
    sys.path[:0] = [str(TOP), str(TOP / "tests")]
    from advisor.rulebase.base import load_rulebase
    from benchmarks.draft.classes import classes

    rulebase = load_rulebase()
    show = "--show" in arguments
    named = [Path(a) for a in arguments if not a.startswith("--")]
    if not named:
        longest(rulebase)
    for folder in named or list(FOLDERS):
        by_hand = {
            hand: sum((scored(path, rulebase, show=show) for path in paths), Counter[str]())
            for hand, paths in hands(folder).items()
        }
        whole = folder.resolve()
        print(
            line(sum(by_hand.values(), Counter()), str(whole.relative_to(TOP) if whole.is_relative_to(TOP) else folder))
        )
        print(classes(sum(by_hand.values(), Counter())))
        if "--causes" in arguments:
            print(causes(sum(by_hand.values(), Counter())))
        if len(by_hand) > 1:
            print("\n".join(line(total, f"  of these {hand}") for hand, total in by_hand.items()))


if __name__ == "__main__":
    main(sys.argv[1:])

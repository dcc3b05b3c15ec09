"""What is said of plans whose authors read no rules: four times forty careful ones and forty terse ones.

python -m tests.site.authored ordinary|ordinary-2|…|terse-3 [NAME…]  each finding as a reader meets it, and counts
python -m tests.site.authored terse --judge                          the plans with their findings, for someone to judge
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path[:0] = [str(HERE), str(ROOT / "tests"), str(ROOT)]

from advisor.plan import read_plan  # noqa: E402
from advisor.reports.arrange import Entry, arrange  # noqa: E402
from advisor.review.reviewing import review_plan  # noqa: E402
from advisor.rulebase.base import RuleBase, load_rulebase  # noqa: E402

AUTHORS = HERE / "authors"
GRAVE = {"danger", "warning"}


def plans(folder: str) -> list[Path]:
    """The plans of one folder, by name."""
    return sorted((AUTHORS / folder).glob("*.yaml"))


def told(path: Path, rulebase: RuleBase) -> list[Entry]:
    """What a reader of the report meets: one practice once, with all its steps."""
    return arrange(review_plan(read_plan(path, rulebase.vocabulary), rulebase)).entries()


def line(entry: Entry) -> str:
    """A finding in one line."""
    f = entry.finding
    advice = " (follows from advice)" if f.advised else ""
    return (
        f"{f.signal} [{f.rule}] at {', '.join(filter(None, entry.steps)) or 'the plan'}{advice}: {f.what} {f.because}"
    )


def main() -> None:
    """Print what is said."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", choices=sorted(path.name for path in AUTHORS.iterdir() if path.is_dir()))
    parser.add_argument("names", nargs="*")
    parser.add_argument("--judge", action="store_true")
    args = parser.parse_args()
    rulebase = load_rulebase()
    counts: Counter[str] = Counter()
    rules: Counter[str] = Counter()
    taken = [p for p in plans(args.folder) if not args.names or p.stem in args.names]
    for number, path in enumerate(taken, 1):
        entries = told(path, rulebase)
        counts.update(e.finding.signal for e in entries)
        rules.update(e.finding.rule for e in entries)
        if args.judge:
            print(f"\n## {number}. {path.stem}\n\n```yaml\n{path.read_text(encoding='utf-8').strip()}\n```\n")
        elif entries:
            print(f"{path.stem}:")
        for own, entry in enumerate(entries, 1):
            print(f"{number}.{own} " + line(entry) if args.judge else "    " + line(entry))
    if not args.judge:
        grave = sum(count for word, count in counts.items() if word in GRAVE)
        print(
            f"{len(taken)} plans, {counts.total()} findings ({counts.total() / len(taken):.2f} a plan), {grave} grave"
        )
        print(dict(counts))
        print(dict(rules.most_common()))


if __name__ == "__main__":
    main()

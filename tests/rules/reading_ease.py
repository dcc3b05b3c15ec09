"""Checks that the rules' advice reads easily: school grade 8 or below by textstat, rule by rule and on the whole.

Part of `make check`. A variable in the text counts as one short word. Exceptions are named with their reason
in rules/lint-exceptions.yaml under the check `reading`.
"""

from __future__ import annotations

import sys
import warnings

from advisor.document import read_file
from advisor.review.gathered import groups
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.conclusions import PLACEHOLDER
from advisor.tables import rules_folder

LIMIT = 8.0


def main() -> int:
    """Print every rule above the limit; status 1 where one is not excused."""
    warnings.simplefilter("ignore")  # textstat 0.7.4 imports pkg_resources, which says that it will go
    import textstat

    excused = set()
    path = rules_folder() / "lint-exceptions.yaml"
    if path.is_file():
        listed = read_file(path).get("exceptions")
        excused = {c["rule"] for n in (listed.items if listed else []) if (c := n.plain())["check"] == "reading"}
    texts, bad, needless = [], 0, set(excused)
    for rule in load_rulebase().rules:
        for conclusion in rule.conclusions:
            if conclusion.kind in ("deduce", "effect", "order"):
                continue
            for reason in (conclusion.because, *([conclusion.guess[1]] if conclusion.guess else [])):
                text = PLACEHOLDER.sub("top", f"{conclusion.what} {reason}")
                texts.append(text)
                grade = textstat.flesch_kincaid_grade(text)
                if grade > LIMIT:
                    needless.discard(rule.id)
                    if rule.id not in excused:
                        bad += 1
                        print(f"{rule.file}:{rule.line}: rule '{rule.id}' reads at grade {grade:.1f}: {text}")
    for group in groups().values():
        for said in [group.says.replace("{{ list }}", "; ".join(group.items.values())), group.because]:
            texts.append(PLACEHOLDER.sub("top", said))
            grade = textstat.flesch_kincaid_grade(texts[-1].replace(";", "."))
            if grade > LIMIT:
                bad += 1
                print(f"gathered.yaml: '{group.id}' reads at grade {grade:.1f}: {said}")
    for name in sorted(needless):
        bad += 1
        print(f"{path}: exception for rule '{name}' (reading) is not needed.")
    whole = textstat.flesch_kincaid_grade(" ".join(texts))
    print(f"{len(texts)} texts, grade {whole:.1f} on the whole; {bad} to mend.")
    return int(bad > 0 or whole > LIMIT)


if __name__ == "__main__":
    sys.exit(main())

"""The beginning of a new rule: a rule that works, four cases that hold, and its coverage row, for an author to change.

What is left to write begins with the words of `TO_WRITE`, and the lint asks for it. Nothing is written here: the
files come back with their new text, so that a mistake leaves all of them as they were.
"""

from __future__ import annotations

import re
from pathlib import Path
from textwrap import indent

from advisor.document import read_file, read_text
from advisor.errors import InputError, Problem, clip, did_you_mean
from advisor.rulebase.base import RuleBase
from advisor.rulebase.lint import ID, retired_ids
from advisor.rulebase.lint_sentences import TO_WRITE
from advisor.rulebase.site import PACK as SITE
from advisor.rulebase.vocabulary import Taxonomy
from advisor.tables import rules_folder

CASES = "cases"  # beside packs of one's own
_ROWS = "coverage.yaml"
_WORDS = "skeleton.yaml"


def new_rule(
    pack: str, rule: str, rulebase: RuleBase, own: Path | None = None, do: str = "", to: str = ""
) -> list[tuple[Path, str]]:
    """Files with their text, in a built-in pack (`tiling`, or `tiling/joints` for one file) or in the folder `own`.

    InputError says all that is wrong with the names; `do` and `to` are the act and the kind of part to begin with.
    """
    name, _, file = pack.partition("/")
    _check(name, file, rule, rulebase, own)
    said = read_file(rules_folder() / _WORDS).plain()
    act, kind = _words(do or said["begin"]["do"], to or said["begin"]["to"], rulebase)
    actions, things = (rulebase.vocabulary.taxonomies[of] for of in ("action", "part_kind"))
    first, other = [one for one in said["acts"] if one not in actions.below(act)][:2]
    unlike = next(one for one in said["things"] if not _akin(things, one, kind))
    words = {"id": rule, "do": act, "kind": kind, "first": first, "other": other, "unlike": unlike, "todo": TO_WRITE}
    words |= {"done": _in_a_plan(actions, act), "thing": _in_a_plan(things, kind)}
    packs, cases = _places(name, file, rule, own)
    serves, rows = "", []
    if own is None:
        path = rules_folder() / _ROWS
        row, text = _row(name, path)
        serves, rows = f"  serves: [{row}]\n", [(path, text)]
    title = rulebase.titles.get(name, name.replace("-", " ").capitalize())
    body = packs.read_text("utf-8") if packs.is_file() else f"pack: {name}\ntitle: {title}\nrules:\n"
    told = cases.read_text("utf-8") if cases.is_file() else f"# Cases of the pack {name}: {rule}.\nplans:\n\ncases:\n"
    told = add_to(told, "plans", _put(said["plan"], words), str(cases))
    return [
        (packs, add_to(body, "rules", _put(said["rule"], {**words, "serves": serves}), str(packs))),
        (cases, add_to(told, "cases", _put(said["cases"], words), str(cases))),
        *rows,
    ]


def _akin(taxonomy: Taxonomy, one: str, other: str) -> bool:
    """Whether one is a kind of the other, by whatever words."""
    first, second = taxonomy.find(one) or one, taxonomy.find(other) or other
    return first in taxonomy.below(second) or second in taxonomy.below(first)


def _in_a_plan(taxonomy: Taxonomy, word: str) -> str:
    """The word itself, or one of a named class: those are for rules alone."""
    return min(taxonomy.groups[word] - taxonomy.groups.keys()) if word in taxonomy.groups else word


def _put(text: str, words: dict[str, str]) -> str:
    return re.sub(r"<([a-z]+)>", lambda found: words[found[1]], text)


def _check(name: str, file: str, rule: str, rulebase: RuleBase, own: Path | None) -> None:
    wrong = []
    for what, word in (("pack", name), ("file", file), ("rule", rule)):
        if word and not ID.fullmatch(word):
            wrong.append(f"'{clip(word)}' is no name of a {what}. Expected lower case words with hyphens: 'dry-floor'.")
    if rulebase.rule(rule) is not None:
        wrong.append(f"there is a rule '{clip(rule)}' already: 'advisor rules show {clip(rule)}'.")
    if rule in retired_ids():
        wrong.append(f"'{clip(rule)}' is a rule that was retired, and an id is for life. Take another.")
    built_in = {path.stem if path.is_file() else path.name for path in (rules_folder() / "packs").iterdir()} - {SITE}
    if own is None and name not in built_in:
        near = did_you_mean(name, built_in)
        listed = f"Expected one of: {', '.join(sorted(built_in))}; or --rules DIR for a pack of your own."
        wrong.append(f"there is no built-in pack '{clip(name)}'.{near} {listed}")
    elif own is not None and name in built_in:
        wrong.append(f"'{clip(name)}' is a built-in pack. Name yours otherwise, or leave out --rules.")
    if own is None and not _case_folder().is_dir():
        wrong.append(
            "built-in packs are changed in the project's own tree. Here, name a folder of yours with --rules DIR."
        )
    if wrong:
        raise InputError([Problem("advisor rules new", 0, number, text) for number, text in enumerate(wrong, 1)])


def _words(do: str, to: str, rulebase: RuleBase) -> tuple[str, str]:
    found, wrong = [], []
    for option, word, of in (("--do", do, "action"), ("--to", to, "part_kind")):
        taxonomy = rulebase.vocabulary.taxonomies[of]
        known = taxonomy.find(word)
        if known is None:
            near = did_you_mean(word, taxonomy.spellings())
            wrong.append(
                Problem(option, 0, 0, f"'{clip(word)}' is no word of '{of}'.{near} 'advisor vocabulary {of}'.")
            )
        found.append(known or "")
    if wrong:
        raise InputError(wrong)
    return found[0], found[1]


def _case_folder() -> Path:
    return rules_folder().parent / "tests" / "rules"


def _places(name: str, file: str, rule: str, own: Path | None) -> tuple[Path, Path]:
    """The file of the rule and that of its cases: folders of cases mirror those of packs."""
    if own is not None:
        folder = own / "packs" if (own / "packs").is_dir() else own
        path = Path(name, f"{file}.yaml") if file else Path(f"{name}.yaml")
        return folder / path, own / CASES / path
    packs = rules_folder() / "packs"
    whole = not (packs / name).is_dir() and not file  # a pack of one file stays one
    path = Path(f"{name}.yaml") if whole else Path(name, f"{file or rule}.yaml")
    return packs / path, _case_folder() / path


def _row(topic: str, path: Path) -> tuple[str, str]:
    """The name of the topic's next row, and the text of the coverage with it."""
    listed = read_file(path).get("rows")
    of_topic = [node for node in (listed.items if listed else []) if node.plain()["topic"] == topic]
    numbers = [int(node.plain()["id"].rpartition("-")[2]) for node in of_topic]
    name = f"{topic}-{max(numbers, default=0) + 1}"
    row = f'  - {{id: {name}, topic: {topic}, text: "{TO_WRITE}: the practice in one line. require, caution"}}'
    lines = path.read_text("utf-8").splitlines()
    lines.insert(of_topic[-1].line if of_topic else len(lines), row)
    return name, "\n".join(lines) + "\n"


def add_to(text: str, section: str, block: str, name: str) -> str:
    """The YAML text with the block at the end of a section of its top level. InputError where that cannot be."""
    lines = text.splitlines()
    start = next((n for n, line in enumerate(lines) if re.match(rf"{section}:", line)), None)
    if start is None:
        lines += ["", f"{section}:"]
        start = len(lines) - 1
    lines[start] = re.sub(r":\s*(\[\s*\]|\{\s*\})\s*$", ":", lines[start])
    if re.match(rf"{section}:\s*[^\s#]", lines[start]):
        raise InputError(
            [Problem(name, start + 1, 0, f"'{section}:' has its entries in brackets. Put each on a line.")]
        )
    end = next((n for n in range(start + 1, len(lines)) if re.match(r"[A-Za-z_]", lines[n])), len(lines))
    while end > start + 1 and re.match(r"\s*(#.*)?$", lines[end - 1]):
        end -= 1
    first = next((line for line in lines[start + 1 : end] if re.match(r"\s*[^\s#]", line)), "  ")
    width = len(first) - len(first.lstrip())
    spaced = [""] if end > start + 1 and section != "cases" else []
    lines[end:end] = [*spaced, *indent(block, " " * width).splitlines()]
    changed = "\n".join(lines) + "\n"
    read_text(changed, name)  # it is still YAML
    return changed

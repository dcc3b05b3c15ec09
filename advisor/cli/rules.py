"""`advisor rules`: what the rule base holds, a rule's page, and the checks of the rules as writing."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(no_args_is_help=True, help="The rules: list them, show one, check them.")
Own = Annotated[list[Path] | None, typer.Option("--rules", metavar="DIR", help="A folder of rule packs of your own.")]


class RulePage(StrEnum):
    """The forms of a rule's page."""

    text = "text"
    html = "html"


@app.command("list")
def list_rules(pack: Annotated[str | None, typer.Option(help="Only this pack.")] = None, rules: Own = None) -> None:
    """List the rules that speak to people, by pack."""
    from advisor.errors import clip, did_you_mean
    from advisor.rulebase.base import load_rulebase
    from advisor.rulebase.model import FINDING_KINDS

    base = load_rulebase(rules or [])
    packs = sorted({rule.pack for rule in base.rules})
    if pack and pack not in packs:
        print(f"unknown pack '{clip(pack)}'.{did_you_mean(pack, packs)}", file=sys.stderr)
        raise typer.Exit(2)
    for name in packs if pack is None else [pack]:
        own = [r for r in base.rules if r.pack == name]
        spoken = [r for r in own if any(c.kind in FINDING_KINDS for c in r.conclusions)]
        print(f"{base.titles.get(name, name)} ({len(spoken)} rules, {len(own) - len(spoken)} intermediate)")
        for rule in spoken:
            signals = "/".join(dict.fromkeys(c.signal for c in rule.conclusions if c.kind in FINDING_KINDS))
            print(f"  {rule.id:<38} {signals:<9} {rule.title}"[:120])


@app.command("show")
def show_rule(
    rule: Annotated[str, typer.Argument(metavar="ID")],
    rules: Own = None,
    form: Annotated[RulePage, typer.Option("--format", help="text or html.")] = RulePage.text,
) -> None:
    """Show a rule's page: what it says, when, why, on whose word, and what it reads."""
    from advisor.errors import clip, did_you_mean
    from advisor.review.told_once import groups
    from advisor.rulebase.base import load_rulebase
    from advisor.rulebase.describe import page

    base = load_rulebase(rules or [])
    found = base.rule(rule)
    if found is None and rule in groups():
        group = groups()[rule]
        print(f"{group.title}\n{rule}: one finding that tells several rules. Each has its own page.\n")
        print("\n".join(f"  {name}: {words}" for name, words in group.items.items()))
        return
    if found is None:
        print(
            f"unknown rule '{clip(rule)}'.{did_you_mean(rule, [*(r.id for r in base.rules), *groups()])}",
            file=sys.stderr,
        )
        raise typer.Exit(2)
    if form is RulePage.text:
        sys.stdout.write(page(found, base))
        return
    from advisor.reports.rule_html import as_rule_html

    sys.stdout.write(as_rule_html(found, base))


@app.command("lint")
def lint_rules(rules: Own = None) -> None:
    """Check the rules as writing; status 1 where something is to be mended."""
    from advisor.review.told_once import groups
    from advisor.rulebase.base import load_rulebase
    from advisor.rulebase.elsewhere import moved_to, read_elsewhere
    from advisor.rulebase.lint import lint, row_problems
    from advisor.rulebase.reading import grader, hard_beside
    from advisor.tables import rules_folder

    base, grade = load_rulebase(rules or []), grader()
    problems = lint(base, grade=grade)
    if not rules:
        problems += row_problems(base, rules_folder() / "coverage.yaml")
        moved_to(base, "", "")  # a mistake in what is told elsewhere is an error here
        known = {rule.id for rule in base.rules}
        problems += [
            node.problem(f"'{one}' is told elsewhere and is no rule.")
            for one, node in read_elsewhere().items()
            if one not in known
        ]
    if grade:
        lists = [(g.id, g.says.replace("{{ list }}", "; ".join(g.items.values()))) for g in groups().values()]
        problems += hard_beside(base, grade, [*lists, *((g.id, g.because) for g in groups().values())])
    for problem in problems:
        print(problem)
    if grade is None:
        print("The school grade of the texts was not looked at: that takes textstat ('pip install textstat').")
    print(f"{len(base.rules)} rules, {len(problems)} to mend.")
    raise typer.Exit(int(bool(problems)))


@app.command("coverage")
def coverage(
    law: Annotated[bool, typer.Option("--law", help="All rules by what they rest on, and by whose law.")] = False,
    rules: Own = None,
) -> None:
    """Show each practice that the rules have to know, with the rules that serve it."""
    import textwrap

    if law:
        from advisor.rulebase.base import load_rulebase
        from advisor.rulebase.grounds import coverage_by_law

        print("\n".join(coverage_by_law(load_rulebase(rules or []))))
        return

    from advisor.document import read_file
    from advisor.rulebase.base import load_rulebase
    from advisor.tables import rules_folder

    base = load_rulebase()
    served: dict[str, list[str]] = {}
    for rule in base.rules:
        for row in rule.serves:
            served.setdefault(row, []).append(rule.id)
    topic, width = "", 80 if sys.stdout.isatty() else 10_000  # to a pipe a line each, for a search in them
    listed = read_file(rules_folder() / "coverage.yaml").get("rows")
    for node in listed.items if listed else []:
        row = node.plain()
        if row["topic"] != topic:
            topic = row["topic"]
            print(f"\n{topic}")
        print("\n".join(textwrap.wrap(row["text"], width, initial_indent="  ", subsequent_indent="  ")))
        names = ", ".join(sorted(served.get(row["id"], []))) or f"no rule: {row.get('without', 'NOT SERVED')}"
        print("\n".join(textwrap.wrap(names, width, initial_indent="    -> ", subsequent_indent="       ")))


@app.command("kinds")
def kinds(name: Annotated[str, typer.Argument(metavar="[NAME]")] = "", rules: Own = None) -> None:
    """Look up the kinds of fact that rules deduce: fields, meaning, which rules bring and which read them."""
    from advisor.cli.outlet import show
    from advisor.errors import clip, did_you_mean
    from advisor.rulebase.base import load_rulebase
    from advisor.rulebase.looked_up import at_length, deduced_kinds, in_short

    found = deduced_kinds(load_rulebase(rules or []))
    one = next((one for one in found if one.kind.name == name), None)
    if name and one is None:
        near = did_you_mean(name, [one.kind.name for one in found])
        print(f"no deduced kind is named '{clip(name)}'.{near} 'advisor rules kinds' lists all.", file=sys.stderr)
        raise typer.Exit(2)
    show(at_length(one) if one else in_short(found))


@app.command("new")
def new(
    pack: Annotated[
        str, typer.Argument(metavar="PACK", help="A pack, such as 'tiling', or a file of it: 'tiling/joints'.")
    ],
    rule: Annotated[str, typer.Argument(metavar="ID", help="The new rule's name, such as 'dry-floor-first'.")],
    do: Annotated[str, typer.Option("--do", help="The act that it begins with: 'advisor vocabulary action'.")] = "",
    to: Annotated[str, typer.Option("--to", help="The kind of part: 'advisor vocabulary part_kind'.")] = "",
    own: Annotated[
        Path | None, typer.Option("--rules", metavar="DIR", help="A folder of your own, made if needed.")
    ] = None,
) -> None:
    """Begin a rule: a rule that works, four cases that hold, a coverage row; what is left says TO WRITE."""
    from advisor.cli.outlet import show
    from advisor.errors import InputError, Problem
    from advisor.rulebase.base import load_rulebase
    from advisor.rulebase.skeleton import new_rule
    from advisor.writing import write_whole

    there = own is not None and (any(own.glob("*.yaml")) or any((own / "packs").glob("**/*.yaml")))
    written = new_rule(pack, rule, load_rulebase([own] if own and there else []), own, do, to)
    for path, text in written:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise InputError([Problem(str(path.parent), 0, 0, f"cannot be made: {error.strerror}.")]) from error
        write_whole(path, text)
        show(f"Written: {path}\n")
    rules, option = (f" RULES={own}", f" --rules {own}") if own else ("", "")
    show("Now write what says TO WRITE, and change the conditions, the cases and the harm. Then:\n")
    show(f"  make rule ID={rule}{rules}         in the project's tree: writing, cases, mutants, docs\n")
    show(f"  advisor rules lint{option}         the writing alone\n")

"""The recipe for a rule: what `advisor rules new` writes works at once, and `rules kinds` answers what to read."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
import yaml
from msgspec.structs import replace
from rules.one_rule import main
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.errors import InputError
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.lint import row_problems
from advisor.rulebase.looked_up import deduced_kinds
from advisor.rulebase.skeleton import add_to, new_rule
from advisor.tables import rules_folder
from rules import harness

RUN = CliRunner()
PACKS = sorted({path.stem for path in (rules_folder() / "packs").iterdir()})


def write(files: list[tuple[Path, str]], old: Path, new: Path) -> None:
    """Write the files to the tree `new` in the place of `old`."""
    for path, text in files:
        at = new / path.relative_to(old)
        at.parent.mkdir(parents=True, exist_ok=True)
        at.write_text(text, encoding="utf-8")


@pytest.fixture(scope="module")
def tree(tmp_path_factory) -> Path:
    """A copy of the rules and cases with a new rule in each built-in pack."""
    folder = tmp_path_factory.mktemp("tree")
    shutil.copytree(rules_folder(), folder / "rules")
    shutil.copytree(harness.HERE, folder / "tests" / "rules")
    base = load_rulebase()
    for pack in PACKS:
        files = new_rule(pack, f"new-in-{pack}", base)
        # Rows are counted anew for each: one row a pack is what is looked at here.
        write([one for one in files if one[0].name != "coverage.yaml"], rules_folder().parent, folder)
    return folder


@pytest.fixture(scope="module")
def copied(tree):
    """The rules of that tree."""
    return load_rulebase([], tree / "rules")


@pytest.mark.parametrize("pack", PACKS)
def test_what_a_new_rule_begins_with_works_in_every_pack(pack, tree, copied):
    """The rule is read, its four cases hold, and only what is to be written is wrong with it."""
    name = f"new-in-{pack}"
    own = [case for case in harness.cases(pack, tree / "tests" / "rules") if case.name.startswith(f"{name}: ")]
    speaks = [case for case in own if case.spec.get("speaks")]
    rule = copied.rule(name)

    assert (len(own), len(speaks)) == (4, 2)
    assert [text for case in own for text in harness.run_case(case, copied)] == []
    assert Path(rule.file).relative_to(tree / "rules" / "packs") in (Path(pack, f"{name}.yaml"), Path(f"{pack}.yaml"))
    assert [row for row in rule.serves if row.startswith(f"{pack}-")] == list(rule.serves) != []


@pytest.mark.parametrize(
    ("do", "to", "in_the_plan"),
    [
        ("hang", "window covering", "window covering"),  # a curtain is one: no other kind of thing
        ("part goes in", "cabinets", "cabinets"),  # a named class is for rules alone
        ("sets a part", "mirror", "mirror"),
        ("inspect", "shelf", "shelf"),  # what usually comes first is the act itself
    ],
)
def test_its_four_cases_hold_for_any_act_and_thing(do, to, in_the_plan, tmp_path):
    write(new_rule("own-pack", "own-rule", load_rulebase(), tmp_path, do, to), tmp_path, tmp_path)
    base = load_rulebase([tmp_path])
    own = harness.cases("own-pack", tmp_path / "cases")

    assert [case.plan["parts"]["thing"]["kind"] for case in own[:3]] == [in_the_plan] * 3
    assert [text for case in own for text in harness.run_case(case, base)] == []


def test_a_row_comes_with_the_rule_and_is_to_be_written_too(tmp_path):
    files = dict(new_rule("tiling/joints", "new-rule", load_rulebase()))
    rows = next(text for path, text in files.items() if path.name == "coverage.yaml")
    (tmp_path / "coverage.yaml").write_text(rows, encoding="utf-8")
    row = yaml.safe_load(rows)["rows"]
    before = yaml.safe_load((rules_folder() / "coverage.yaml").read_text("utf-8"))["rows"]
    said = [str(one) for one in row_problems(load_rulebase(), tmp_path / "coverage.yaml")]

    assert [one["topic"] for one in row if one not in before] == ["tiling"]
    assert len(row) == len(before) + 1
    assert any("still begins with 'TO WRITE'" in one for one in said)
    assert [path.relative_to(rules_folder().parent).as_posix() for path in files][:2] == [
        "rules/packs/tiling/joints.yaml",
        "tests/rules/tiling/joints.yaml",
    ]


def test_folders_of_cases_mirror_packs():
    """Beside the plans that several files take."""
    packs = rules_folder() / "packs"
    files = [p for name in harness.packs_with_cases() for p in (harness.HERE / name).glob("*.yaml")]
    files += harness.HERE.glob("*.yaml")
    places = {path.relative_to(harness.HERE) for path in files if path.name != harness.SHARED}

    assert places - {path.relative_to(packs) for path in packs.glob("**/*.yaml")} == set()


def test_a_rule_of_ones_own_from_the_first_command_to_the_last(tmp_path, capsys):
    """Nothing outside the folder is touched; `make rule` asks for what is not written, and then says that all is."""
    new = ["rules", "new", "our-county", "first-rule", "--rules", str(tmp_path), "--do", "paint", "--to", "wall"]
    begun = RUN.invoke(app, new)
    left = main(["first-rule", str(tmp_path)])
    unwritten = capsys.readouterr().out
    finished = tmp_path.with_name("finished")  # rules are read once a run from each folder
    shutil.copytree(tmp_path, finished)
    pack = finished / "our-county.yaml"
    pack.write_text(pack.read_text("utf-8").replace("TO WRITE: ", ""), encoding="utf-8")
    written = main(["first-rule", str(finished)])

    assert begun.exit_code == 0, begun.output
    assert sorted(p.relative_to(tmp_path).as_posix() for p in tmp_path.rglob("*.yaml")) == [
        "cases/our-county.yaml",
        "our-county.yaml",
    ]
    assert (left, "(to-write)" in unwritten) == (1, True)
    assert (written, "0 to mend" in capsys.readouterr().out) == (0, True)


def test_a_second_rule_goes_to_the_same_files_and_near_misses_that_are_gone_are_asked_for(tmp_path, capsys):
    for rule in ("first-rule", "second-rule"):
        assert RUN.invoke(app, ["rules", "new", "our-shire", rule, "--rules", str(tmp_path)]).exit_code == 0
    path = tmp_path / "cases" / "our-shire.yaml"
    begun = yaml.safe_load(path.read_text("utf-8"))
    path.write_text(path.read_text("utf-8").replace("silent: [first-rule]", "silent: [second-rule]"), encoding="utf-8")
    status = main(["first-rule", str(tmp_path)])
    said = capsys.readouterr().out

    assert (list(begun["plans"]), len(begun["cases"])) == (["first-rule", "second-rule"], 8)
    assert [rule["id"] for rule in yaml.safe_load((tmp_path / "our-shire.yaml").read_text("utf-8"))["rules"]] == list(
        begun["plans"]
    )
    assert "expected two cases in which 'first-rule' speaks and two near misses" in said
    assert status == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["tilling", "new-rule"], "there is no built-in pack 'tilling'. Did you mean 'tiling'?"),
        (["tiling", "New Rule"], "'New Rule' is no name of a rule"),
        (["tiling", "isolate-power"], "there is a rule 'isolate-power' already"),
        (["tiling", "circuit-overload-by-current"], "a rule that was retired"),
        (["tiling", "new-rule", "--do", "hag"], "'hag' is no word of 'action'"),
        (["tiling/../..", "new-rule"], "is no name of a file"),
        (["tiling", "new-rule", "--rules", "."], "'tiling' is a built-in pack"),
    ],
)
def test_a_name_that_cannot_be_is_told_and_nothing_is_written(words, said, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    result = RUN.invoke(app, ["rules", "new", *words])
    told = f"{result.stderr} {result.exception}"

    assert result.exit_code != 0
    assert said in told
    assert list(tmp_path.iterdir()) == []


def test_a_block_goes_to_the_end_of_its_section():
    text = "rules:\n  - id: a\n\n# of the pack\nretire: []\n"

    assert add_to(text, "rules", "- id: b\n", "x") == "rules:\n  - id: a\n\n  - id: b\n\n# of the pack\nretire: []\n"
    assert add_to("rules: []\n", "rules", "- id: b\n", "x") == "rules:\n  - id: b\n"
    assert yaml.safe_load(add_to("pack: x\n", "rules", "- id: b\n", "x")) == {"pack": "x", "rules": [{"id": "b"}]}
    with pytest.raises(InputError, match="has its entries in brackets"):
        add_to("rules: [{id: a}]\n", "rules", "- id: b\n", "x")


def test_every_deduced_kind_says_who_brings_and_who_reads_it():
    """Each that is declared is listed; a kind without a maker is seen as such."""
    base = load_rulebase()
    found = {one.kind.name: one for one in deduced_kinds(base)}
    makers = {r.id for r in base.rules if any(c.deduced == "held_from_falling" for c in r.conclusions)}

    assert set(found) == {name for name, kind in base.kinds.items() if kind.deduced}
    assert set(found["held_from_falling"].brought_by) == makers == {"held-at-step"}
    assert "roof-fall" in found["held_from_falling"].read_by
    without = replace(base, rules=tuple(r for r in base.rules if r.id != "held-at-step"))
    assert {one.kind.name: one.brought_by for one in deduced_kinds(without)}["held_from_falling"] == ()


def test_kinds_are_looked_up_by_name():
    listed, one = (RUN.invoke(app, ["rules", "kinds", *words]) for words in ([], ["held_from_falling"]))
    wrong = RUN.invoke(app, ["rules", "kinds", "held_from_faling"])

    assert listed.output.startswith(f"{len(deduced_kinds(load_rulebase()))} deduced kinds.")
    assert "step: a step of the plan" in one.output
    assert "roof-fall" in one.output
    assert max(map(len, listed.output.splitlines())) <= 80
    assert (wrong.exit_code, "Did you mean 'held_from_falling'?" in wrong.stderr) == (2, True)


def test_a_key_that_is_none_is_answered_with_those_that_may_stand(tmp_path):
    (tmp_path / "own.yaml").write_text(
        "pack: own\ntitle: Own\nrules:\n  - id: own-rule\n    title: Own\n    because: so\n"
        "    when: [{step: {id: $s, do: paint}}, {held_from_falling: {stop: $s}}]\n"
        "    wait: {after: $s, for: 2 h, wat: x, what: Wait., because: It dries.}\n"
        "    sources: [{common_practice: yes}]\n",
        encoding="utf-8",
    )
    with pytest.raises(InputError) as caught:
        load_rulebase([tmp_path])
    said = "\n".join(map(str, caught.value.problems))

    assert "unknown key 'because'. Expected one of: id, title, replace," in said
    assert "'wait' has no 'wat'. Did you mean 'what'? Expected one of: after, before, for, harm," in said
    assert "'held_from_falling' has no attribute 'stop'. Did you mean 'step'? Expected one of: step." in said

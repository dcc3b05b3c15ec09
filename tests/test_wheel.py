"""The built wheel carries the rules and works in another folder, away from the source tree."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package installed from a wheel into a folder of its own (its dependencies are those of this environment)."""
    base = tmp_path_factory.mktemp("wheel")
    tree = base / "tree"
    listed = subprocess.run(
        ["git", "ls-files"], cwd=TOP, capture_output=True, text=True, check=False
    ).stdout.splitlines()
    if not listed:
        pytest.skip("no git checkout to build the wheel from")
    for name in listed:
        if (TOP / name).is_file():
            (tree / name).parent.mkdir(parents=True, exist_ok=True)
            (tree / name).write_bytes((TOP / name).read_bytes())
    target = base / "site"
    pip = [sys.executable, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps"]
    subprocess.run([*pip, "--target", str(target), str(tree)], check=True, capture_output=True)
    return target


def run(installed: Path, code: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run code with the installed package before everything else."""
    environment = dict(os.environ) | {"PYTHONPATH": str(installed), "ADVISOR_NO_CACHE": "1"}
    return subprocess.run(
        [sys.executable, "-c", code], cwd=folder, env=environment, capture_output=True, text=True, check=False
    )


def test_the_installed_package_reviews_a_plan_in_another_folder(installed: Path, tmp_path: Path) -> None:
    """Same findings as from the source tree, from the wheel's own rules."""
    plan = TOP / "scenarios" / "trim-in-an-old-hall.yaml"
    code = (
        "import advisor; from advisor.tables import rules_folder;"
        f"print(rules_folder()); print([f.id for f in advisor.review({str(plan)!r}).findings])"
    )
    away = run(installed, code, tmp_path)
    import advisor

    here = [f.id for f in advisor.review(plan).findings]

    assert away.stderr == ""
    assert away.stdout == f"{installed / 'advisor' / '_rules'}\n{here}\n"


def test_the_version_stands_in_one_place(installed: Path) -> None:
    """The package is built with the version that the program prints."""
    from advisor.version import VERSION

    assert [p.name for p in installed.glob("*.dist-info")] == [f"prework_advisor-{VERSION}.dist-info"]


def test_the_wheel_carries_types_and_templates(installed: Path) -> None:
    """`py.typed`, and every template of the source tree."""
    templates = {p.name for p in (TOP / "advisor" / "reports" / "templates").glob("*")}

    assert (installed / "advisor" / "py.typed").is_file()
    assert {p.name for p in (installed / "advisor" / "reports" / "templates").glob("*")} == templates

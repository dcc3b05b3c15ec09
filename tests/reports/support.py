"""What the tests of reports share: tiny rules of their own, and the checkers that were not written here."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from datetime import date
from functools import cache, lru_cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from advisor.plan import read_plan
from advisor.reports.data import as_json
from advisor.reports.html import as_html
from advisor.reports.markdown import as_markdown
from advisor.reports.sarif import as_sarif
from advisor.reports.table_csv import as_csv
from advisor.reports.text import Shape, as_text
from advisor.review.model import Report
from advisor.review.reviewing import review, review_plan
from advisor.review.set_aside import Waiver
from advisor.review.waivers import apply_waivers
from advisor.rulebase.base import RuleBase, load_rulebase

HERE = Path(__file__).parent
TOP = HERE.parent.parent
SCENARIOS = sorted((TOP / "scenarios").glob("*.yaml"))
TOOLS = HERE.parent / "tools" / "node_modules"
VNU = TOOLS / "vnu-jar" / "build" / "dist" / "vnu.jar"
AXE = TOOLS / "axe-core" / "axe.min.js"
SARIF_SCHEMA = TOOLS / "@microsoft" / "jest-sarif" / "lib" / "schemas" / "sarif-2.1.0-rtm.5.json"
CHROMIUM = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), ""
)
FORMATS = {
    "text": lambda report: as_text(report, shape=Shape(working=True)),
    "json": as_json,
    "html": lambda report: as_html([report]),
    "markdown": lambda report: as_markdown([report]),
    "sarif": lambda report: as_sarif([report]),
    "csv": lambda report: as_csv([report]),
}


@cache
def reviewed(stem: str) -> Report:
    """The review of a scenario, made once."""
    return review(next(path for path in SCENARIOS if path.stem == stem))


def spaced(text: str) -> str:
    """The text on one line, as a reader takes it."""
    return " ".join(text.split())


@lru_cache(maxsize=1)
def tiny_rules() -> RuleBase:
    """The rule base with no rules but the tiny ones, so that no golden file hangs on the rules of the trade."""
    whole = load_rulebase([HERE / "rules"])
    return replace(whole, rules=tuple(rule for rule in whole.rules if rule.pack == "tiny"), changes=())


def small_report() -> Report:
    """The small plan under the tiny rules, with one finding accepted."""
    rulebase = tiny_rules()
    text = (HERE / "plans" / "small.yaml").read_text(encoding="utf-8")
    report = review_plan(read_plan(text, rulebase.vocabulary, "small.yaml"), rulebase)
    waiver = Waiver(
        "tiny-accepted", "sweep", "", "The floor is lost anyway.", "R. Roe", date(2030, 1, 31), "waivers.yaml", 2
    )
    assert apply_waivers(report, [waiver], date(2030, 1, 31)) == {waiver}
    # The calendar and what is worked out from it are shown and tested elsewhere.
    report.schedule = None
    report.made_by = ("0.1.0", "0123456789ab")  # golden files do not hang on the rules of the trade
    return report


def missing(what: str, path: Path | str) -> pytest.MarkDecorator:
    """Skip with a plain word where a checker is not installed."""
    return pytest.mark.skipif(not path or not Path(path).exists(), reason=f"{what} is not installed here")


needs_chromium = missing("Chromium", CHROMIUM)
needs_axe = missing("axe-core (npm ci in tests/tools)", AXE)
needs_vnu = missing("vnu.jar (npm ci in tests/tools) or java", VNU if shutil.which("java") else "")
needs_sarif_schema = missing("the SARIF schema (npm ci in tests/tools)", SARIF_SCHEMA)
needs_poppler = missing("pdftotext (poppler-utils)", shutil.which("pdftotext") or "")


def chromium(tmp: Path, *options: str) -> str:
    """Run headless Chromium with a profile of its own; its standard output."""
    words = [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run"]
    words += [f"--user-data-dir={tmp / 'profile'}", "--virtual-time-budget=20000", *options]
    return subprocess.run(words, capture_output=True, text=True, check=True, timeout=120).stdout


def axe(html: str, tmp: Path, width: int = 1000) -> dict[str, list[str]]:
    """What axe-core says of a page in real Chromium: rules broken, with the targets; and `passes`.

    The page forbids scripts; for this check alone that line is taken out and axe is put in.
    """
    page = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", html)
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    run = (
        f"axe.run(document, {{runOnly: {json.dumps(tags)}}}).then(function (r) {{"
        "var out = {passes: r.passes.map(function (p) { return p.id; })};"
        "r.violations.forEach(function (v) { out[v.id] = v.nodes.map(function (n) { return n.target.join(' ') + ': ' +"
        " n.failureSummary; }); });"
        "var pre = document.createElement('pre'); pre.id = 'axe-says';"
        "pre.textContent = btoa(unescape(encodeURIComponent(JSON.stringify(out)))); document.body.appendChild(pre); });"
    )
    file = tmp / "axe.html"
    script = AXE.read_text(encoding="utf-8")
    file.write_text(
        page.replace("</body>", f"<script>{script}</script><script>{run}</script></body>"), encoding="utf-8"
    )
    dom = chromium(tmp, f"--window-size={width},900", "--dump-dom", file.as_uri())
    found = re.search(r'<pre id="axe-says">([^<]*)</pre>', dom)
    assert found, "axe did not finish"
    import base64

    answer: dict[str, list[str]] = json.loads(base64.b64decode(found.group(1)))
    return answer


def vnu(paths: list[Path]) -> list[str]:
    """What the Nu HTML checker says of the files: nothing where they are valid HTML5."""
    words = ["java", "-jar", str(VNU), "--stdout", "--exit-zero-always", "--no-langdetect", *map(str, paths)]
    run = subprocess.run(words, capture_output=True, text=True, check=True, timeout=300)
    return run.stdout.splitlines()

"""The commands with odd words, dates, files and terminals: status 0, 1 or 2, soon, and nothing raw on the terminal."""

from __future__ import annotations

import codecs
import io
import os
import random
import sys
import time
import traceback
from pathlib import Path

import pytest
import yaml
from fuzz.mutation import SCALARS, load, spoil_tree, spoil_word

import advisor.cli as cli
from advisor.cli.outlet import READABLE, Outlet, Unwritten, _readable

ROOT = Path(__file__).parents[2]
COUNT, FIRST = int(os.environ.get("FUZZ", "3000")) // 25, int(os.environ.get("FUZZ_FROM", "0"))
BLOCKS = 4
LONGEST = 20.0
ENCODINGS = ("utf-8", "utf-8", "ascii", "cp437", "cp1252", "latin-1", "utf-16", "koi8-r")
ODD = (
    "", "-", "--", "---", "-x", "--nosuch", "--help", ".", "/dev/null", "/dev/full", "/dev/zero",
    "/proc/self/mem",
    "/nowhere/plan.yaml", "x" * 300, "x" * 5000, "\x1b[31mred\x1b[0m", "\x9b31m", "\u202eabc", "a\nb", "a\rb", "\x07",
    "\udcff", "é½°…", "1" * 5000, "=", "a=b", "house.built=", "house.built=\x1b[2J", "steps.#0.for=1 h",
    "steps.#x.for=1 h", "steps.#9999999999999999999999.for=1 h", "rooms.x.y=1", "..=1", "house..built=1", "all", "#1",
    "%s", "{0}",
    "house.built=1e400", "crew.start=9999-12-31", "crew.start=0001-01-01", "budget.deadline=9999-12-31",
)  # fmt: skip
DATES = (
    "9999-12-31", "9999-12-30", "9998-06-01", "9999-06-01", "0001-01-01", "2030-01-31", "0000-00-00", "10000-01-01",
    "2030-02-29", "2028-02-29", "20280229",
    "2028-W09-2", "2028-W53-7", "9999-W52-7", "-2028-01-01", "today", "1e9", "２０３０-01-01", "2030-01-01T00:00",
    "\x1b[5m",
)  # fmt: skip
COMMANDS = {
    "review": ("PLAN",), "questions": ("PLAN",), "why": ("PLAN", "RULE"), "why-not": ("PLAN", "RULE", "STEP"),
    "order": ("PLAN",),
    "revise": ("PLAN",), "compare": ("PLAN", "PLAN"), "hazards": ("PLAN",),
    "checklist": ("PLAN",), "supplies": ("PLAN",),
    "vocabulary": ("WORD",),
    "rules list": (), "rules show": ("RULE",), "calc": ("CALC",), "calc drain-fall --length 9ft --diameter": ("SIZE",
    ), "nosuch": (),
}  # fmt: skip
OPTIONS = {
    "--step": ("sand-doors", "fit-top", "x", *ODD[:20]), "--only": ("danger", "notice", "x"),
    "--width": ("40", "100", "0", "9" * 30), "--lines": ("8", "24", "1", "9" * 30),
    "--format": ("text", "json", "html", "svg", "ics", "csv", "sarif", "markdown", "dot", "odd"),
    "--start": DATES, "--today": DATES, "--days": ("mon", "sat,sun", ",", "someday", "\x1b"), "--by": ("step", "day",
    "trade"),
    "--hours-per-day": ("0", "24", "7.5", "16", "1e-9", "nan", "inf", "-1", "8", "0.01", "1e400"),
    "--fail-on": ("danger", "notice", "x"),
    "--set": ("house.built=1985", "crew.start=9999-12-31", "steps.sand-doors.for=1 h", *ODD), "--accept": ("all",
    "test-for-lead", "\x1b[0m", "x"), "--most": ("1", "0", "9" * 30), "--waivers": ODD[:20],
    "--pack": ("lead", "\x1b[1m"), "--rules": (str(ROOT / "rules/packs"), *ODD[:20]), "--output": ("OUT", "-",
    "/dev/null", "/dev/full", "/dev/zero", *ODD[:20]),
    "--jobs": ("1", "0", "x"), "--length": ("1 ft", "9" * 400, "1e308 ft", "nan"), "--units": ("us", "metric", "\x1b",
    "½"),
}  # fmt: skip
USEFUL = {
    "order": ("--start", "--start", "--format", "--days", "--hours-per-day", "--output"), "revise": ("--set",
    "--accept"),
    "review": (
        "--format", "--output", "--today", "--fail-on", "--step", "--only", "--width", "--lines", "--units",
    ),
    "why": ("--format",), "questions": ("--format",
    "--most"),
    "hazards": ("--format", "--output"), "checklist": ("--format", "--by", "--output"), "compare": ("--fail-on",),
    "calc drain-fall --length 9ft --diameter": ("--format", "--units"), "rules list": ("--pack",),
    "why-not": ("--rules",), "supplies": ("--format", "--output"),
}  # fmt: skip
FORMS = {
    "review": ("text", "json", "html", "markdown", "sarif", "csv"), "order": ("text", "json", "ics", "svg", "html"),
    "why": ("text", "json", "dot"), "hazards": ("text", "html", "csv", "json"), "checklist": ("text", "html", "json"),
    "supplies": ("text", "csv", "json"),
}  # fmt: skip
FLAGS = ("--brief", "--all", "--working", "--exercise", "--answers", "--write", "--help")
OWN_FLAGS = {"review": "--working", "checklist": "--exercise", "revise": "--write", "calc": "--help"}
NAMES = ("plan.yaml", "plan.yaml", "pl\x1b[31man.yaml", "\u202eplan.yaml", "pl\udcffan.yaml", "a\nb.yaml")
RULES = ("test-for-lead", "ready-if-lead-is-found", "gear-to-get")
PLAN_DATES = ("crew", "start"), ("budget", "deadline")
TIMES = ("1 h", "0 h", "30 day", "365 day", "365 day", "300 day", "100 h", "10 h", "10 h", "1 min", "9999999 h")


def _plan(pick: random.Random, folder: Path) -> Path:
    """A plan of few steps with dates and times at the ends of the calendar, spoiled now and then."""
    path = folder / pick.choice(NAMES)
    tree = load((ROOT / "tests/fuzz/small.yaml").read_text(encoding="utf-8"))
    for section, key in PLAN_DATES:
        if pick.random() < 0.5:
            tree.setdefault(section, {})[key] = pick.choice(DATES[:6] if pick.random() < 0.8 else DATES)
    for step in tree["steps"]:
        for key in ("for", "wait", "hold"):
            if pick.random() < 0.15:
                step[key] = pick.choice(TIMES)
    for product in tree["products"].values():
        if pick.random() < 0.3:
            product["recoat"] = pick.choice(TIMES)
    if pick.random() < 0.2:
        tree["title"] = pick.choice(SCALARS)
    if pick.random() < 0.15:
        tree = spoil_tree(tree, pick)
    path.write_bytes(yaml.dump(tree, Dumper=yaml.CSafeDumper, allow_unicode=True).encode("utf-8", "replace"))
    return path


def _word(kind: str, pick: random.Random, folder: Path) -> str:
    if pick.random() < 0.12:
        return pick.choice(ODD)
    if kind == "PLAN":
        return str(_plan(pick, folder))
    words = {
        "RULE": pick.choice(RULES),
        "STEP": "sand-doors",
        "WORD": "paint",
        "CALC": "drain-fall",
        "SIZE": "2 in",
    }
    return spoil_word(words[kind], pick) if pick.random() < 0.4 else words[kind]


def _words(pick: random.Random, folder: Path) -> list[str]:
    command = pick.choice(list(COMMANDS))
    words = [*command.split(), *(_word(kind, pick, folder) for kind in COMMANDS[command])]
    for _ in range(pick.choice((0, 1, 1, 2, 3))):
        if pick.random() < 0.1:
            words.append(OWN_FLAGS.get(command, "--help") if pick.random() < 0.8 else pick.choice(FLAGS))
            continue
        known = USEFUL.get(command, ("--rules",)) if pick.random() < 0.95 else None
        option = pick.choice(known or tuple(OPTIONS))
        values = FORMS.get(command, ("text", "json")) if option == "--format" else OPTIONS[option][:6]
        value = pick.choice(values if pick.random() < 0.8 else OPTIONS[option])
        words += [option, str(folder / f"out{pick.randrange(3)}") if value == "OUT" else value]
    if pick.random() < 0.05:
        words.insert(pick.randrange(len(words)), pick.choice(ODD))
    return words


class _Full(io.BytesIO):
    """A disk that is full."""

    def write(self, data: object, /) -> int:
        """Refuse, as the system does."""
        raise OSError(28, "No space left on device")


def _run(words: list[str], encoding: str, full: bool, monkeypatch: pytest.MonkeyPatch) -> tuple[int, str]:
    """The status, and all that went to the terminal."""
    streams = [io.TextIOWrapper(_Full() if full and k == 0 else io.BytesIO(), encoding=encoding) for k in range(2)]
    outlets = [Outlet(stream, vital=k == 0) for k, stream in enumerate(streams)]
    monkeypatch.setattr(sys, "argv", ["advisor", *words])
    monkeypatch.setattr(sys, "stdout", outlets[0])
    monkeypatch.setattr(sys, "stderr", outlets[1])
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"steps: [{do: sand}]\n"), encoding="utf-8"))
    try:
        status = cli._status()
        sys.stdout.flush()
    except Unwritten:
        status = 2
    finally:
        monkeypatch.undo()
    outlets[1].flush()
    shown = b"" if full else outlets[0].buffer.getvalue()  # type: ignore[attr-defined]
    return status, (shown + outlets[1].buffer.getvalue()).decode(encoding)  # type: ignore[attr-defined]


@pytest.mark.parametrize("block", range(BLOCKS))
def test_any_words_on_any_terminal_end_with_a_status_and_print_nothing_raw(
    block: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Status 70 is raised here, to be seen with its place."""
    monkeypatch.setenv("ADVISOR_DEBUG", "1")
    codecs.register_error(READABLE, _readable)
    monkeypatch.chdir(tmp_path)
    wrong = []
    for seed in range(FIRST + block * (COUNT // BLOCKS), FIRST + (block + 1) * (COUNT // BLOCKS)):
        pick = random.Random(seed)
        words, encoding, full = _words(pick, tmp_path), pick.choice(ENCODINGS), pick.random() < 0.1
        start = time.process_time()
        try:
            with pytest.MonkeyPatch.context() as patch:
                patch.setenv("ADVISOR_DEBUG", "1")
                status, shown = _run(words, encoding, full, patch)
            if status not in (0, 1, 2):
                wrong.append(f"seed {seed}: status {status} of {words}")
            if raw := {c for c in shown if c in "\x1b\x07\x08\x7f\x9b\u202e\u2066" or (c < " " and c not in "\n\r\t")}:
                wrong.append(f"seed {seed}: {raw!r} printed by {words}")
        except BaseException:
            wrong.append(f"seed {seed}: {words}\n{traceback.format_exc(limit=-4)}")
        if time.process_time() - start > LONGEST:
            wrong.append(f"seed {seed}: took longer than {LONGEST} s: {words}")

    assert wrong[:5] == []


def test_many_commands_still_get_through(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Were nearly all refused as words that do not fit, nothing behind them would be tried."""
    codecs.register_error(READABLE, _readable)
    monkeypatch.chdir(tmp_path)
    done = []
    for seed in range(80):
        with pytest.MonkeyPatch.context() as patch:
            done.append(_run(_words(random.Random(seed), tmp_path), "utf-8", False, patch)[0])

    assert 8 < done.count(0) < 72

"""What reaches a terminal: clean, readable with whatever letters it has, never cut off without a word."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import unicodedata
from html import unescape
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PLAN = ROOT / "scenarios/galley-kitchen-faulty.yaml"
EVIL = "a\x1b[31mb\x07\x9bc\u202ed\u2066e"  # escape (C0 and C1), bell, and what turns the text after it
SHOWN = "a�[31mb��c�d�e"
WHERE = {"review": "title", "questions": "title", "order": "title", "hazards": "title", "checklist": "title"}


def advisor(*words: object, encoding: str = "utf-8", **more: object) -> subprocess.CompletedProcess[bytes]:
    """The command in a process of its own, with an encoding that the terminal is said to have."""
    environment = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONPATH": str(ROOT), "COLUMNS": "100"}
    command = [sys.executable, "-m", "advisor", *map(str, words)]
    return subprocess.run(command, env=environment, timeout=120, **{"capture_output": True, **more})  # type: ignore[call-overload,no-any-return]


def raw(data: bytes) -> list[str]:
    """Characters that a terminal obeys, or that turn the text around."""
    bad = {"Cc", "Cf", "Cs", "Zl", "Zp"}
    return sorted({f"U+{ord(c):04X}" for c in data.decode() if unicodedata.category(c) in bad and c not in "\n\t"})


# --- letters that the terminal lacks ----------------------------------------------------------------------------

COMMANDS = {
    "help": ("--help",), "review help": ("review", "--help"), "calc": ("calc",), "rules": ("rules", "list"),
    "calc help": ("calc", "duct-size", "--help"), "coverage": ("rules", "coverage"), "vocabulary": ("vocabulary",),
    "rule": ("rules", "show", "test-for-lead"), "why": ("why", PLAN, "test-for-lead"), "why not": ("why-not", PLAN,
    "first-coat"),
    "why json": ("why", PLAN, "test-for-lead", "--format", "json"), "why dot": ("why", PLAN, "test-for-lead",
    "--format", "dot"),
    "questions json": ("questions", PLAN, "--format", "json"), "compare": ("compare", PLAN, PLAN), "odd": ("review",
    "--nosuch"),
    "revise": ("revise", PLAN, "--set", "title=Küche ½ … ✓"),
    **{f"review {f}": ("review", PLAN, "--format", f) for f in ("text", "json", "html", "markdown", "sarif", "csv")},
    **{f"order {f}": ("order", PLAN, "--start", "2030-01-07", "--format", f) for f in ("text", "json", "ics", "svg",
    "html")},
    **{f"hazards {f}": ("hazards", PLAN, "--format", f) for f in ("text", "html", "csv")},
    **{f"checklist {f}": ("checklist", PLAN, "--format", f) for f in ("text", "html")},
}  # fmt: skip


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_works_on_a_terminal_of_ascii(name: str) -> None:
    """ASCII is the least that any terminal has; what it lacks is written in ASCII and not as a question mark."""
    plain, full = advisor(*COMMANDS[name], encoding="ascii"), advisor(*COMMANDS[name])

    assert plain.returncode == full.returncode < 3
    assert b"failed on its own account" not in plain.stderr
    assert (plain.stdout + plain.stderr).isascii()
    assert plain.stdout.count(b"?") - plain.stdout.count(b"=?") <= full.stdout.count(b"?")


@pytest.mark.parametrize("encoding", ["cp437", "cp1252", "koi8-r", "utf-16"])
@pytest.mark.parametrize("name", ["review help", "rules", "review text", "review html", "order text"])
def test_old_and_wide_terminals_get_the_letters_that_they_have(name: str, encoding: str) -> None:
    done = advisor(*COMMANDS[name], encoding=encoding)

    assert done.returncode == 0
    assert len(done.stdout.decode(encoding)) > 500


def test_what_is_lacking_is_written_so_that_it_reads_the_same(tmp_path: Path) -> None:
    """By hand. '1½' is one and a half: '11/2' would be five and a half."""
    plan = tmp_path / "plan.yaml"
    plan.write_text("title: 1½ × ½ in “Küche” – 70 °F … 10² ≥ 9 Ω\nsteps: [{do: sand}]\n", encoding="utf-8")
    said = advisor("review", plan, encoding="ascii").stdout.decode()

    assert said.splitlines()[0] == '1-1/2 x 1/2 in "Kuche" - 70 deg F ... 10^2 >= 9 ohm'


@pytest.mark.parametrize("form", ["json", "sarif", "html"])
def test_data_and_pages_say_the_same_with_letters_escaped(form: str, tmp_path: Path) -> None:
    """JSON by \\u escapes (RFC 8259, section 7), HTML by character references (HTML Standard, 13.1.4)."""
    plan = tmp_path / "plan.yaml"
    plan.write_text("title: Küche ½ 𝟙\nsteps: [{do: sand, note: Straße}]\n", encoding="utf-8")
    plain, full = (advisor("review", plan, "--format", form, encoding=e).stdout.decode() for e in ("ascii", "utf-8"))
    read = unescape if form == "html" else json.loads

    assert plain.isascii()
    assert read(plain) == read(full)


# --- what a terminal would obey ---------------------------------------------------------------------------------

ARGUMENTS = {
    "a file": ("review", f"{EVIL}.yaml"), "a finding": ("why", PLAN, EVIL), "a rule": ("why-not", PLAN, EVIL),
    "a step": ("why-not", PLAN, "first-coat", EVIL), "a setting": ("revise", PLAN, "--set", EVIL),
    "a path": ("revise", PLAN, "--set", f"{EVIL}.b=c"), "a value": ("revise", PLAN, "--set", f"title={EVIL}"),
    "an advice": ("revise", PLAN, "--accept", EVIL), "a page": ("rules", "show", EVIL), "a pack": ("rules", "list",
    "--pack", EVIL),
    "a calculator": ("calc", EVIL), "its value": ("calc", "drain-fall", "--length", EVIL), "its option": ("calc",
    "drain-fall", f"--{EVIL}"),
    "a word": ("vocabulary", EVIL), "a command": (EVIL,), "an option": ("review", PLAN, f"--{EVIL}"),
    "a format": ("review", PLAN, "--format", EVIL), "a day": ("review", PLAN, "--today", EVIL), "a start": ("order",
    PLAN, "--start", EVIL),
    "a signal": ("compare", PLAN, PLAN, "--fail-on", EVIL), "rules": ("review", PLAN, "--rules", EVIL),
    "a number": ("questions", PLAN, "--most", EVIL),
    "a place": ("review", PLAN, "--output", f"{EVIL}/x"),
}  # fmt: skip


@pytest.mark.parametrize("name", ARGUMENTS)
def test_an_argument_that_is_echoed_cannot_reach_the_terminal(name: str) -> None:
    done = advisor(*ARGUMENTS[name])

    assert done.returncode == 2
    assert done.stderr.strip()
    assert raw(done.stdout + done.stderr) == []


@pytest.mark.parametrize(
    "words",
    [("review",), ("order",), ("hazards",), ("checklist",), ("questions",), ("revise", "--set", "house.built=1985")],
)
def test_a_file_name_and_the_texts_of_a_plan_cannot_reach_the_terminal(words: tuple[str, ...], tmp_path: Path) -> None:
    plan = tmp_path / f"{EVIL}\nx.yaml"
    plan.write_text(
        "title: turn \u202e x\u2066\nhouse: {built: 1960}\n# \u202e c\u0085\nsteps: [{do: sand}]\n", encoding="utf-8"
    )
    forms = [("--format", "json"), ("--format", "html")] if words[0] in ("order",) else []
    for more in [(), *forms]:
        done = advisor(words[0], plan, *words[1:], *more)

        assert done.returncode == 0
        assert raw(done.stdout + done.stderr) == []


def test_the_texts_of_a_pack_cannot_reach_the_terminal(tmp_path: Path) -> None:
    """As a rule that speaks, as its page, in the list, and as a mistake."""
    pack = tmp_path / "own.yaml"
    evil = "red \\x1b[31m \\u202e x"
    pack.write_text(
        f'pack: own\ntitle: "Own {evil}"\nrules:\n  - id: own-rule\n    title: "Mine {evil}"\n'
        "    when: [{step: {id: $s, do: sand}}]\n"
        f'    warn: {{signal: notice, at: $s, what: "Stop {evil}.", because: "So {evil}."}}\n'
        "    sources: [{common_practice: yes}]\n",
        encoding="utf-8",
    )
    plan = tmp_path / "plan.txt"
    plan.write_text("steps: [{do: sand}]\n", encoding="utf-8")
    own = ("--rules", tmp_path)
    for words in (
        ("rules", "list", "--pack", "own"),
        ("rules", "show", "own-rule"),
        ("review", plan),
        ("why", plan, "own-rule"),
    ):
        done = advisor(*words, *own)

        assert (done.returncode, done.stderr) == (0, b"")
        assert b"red" in done.stdout
        assert raw(done.stdout) == []
    pack.write_text(pack.read_text(encoding="utf-8").replace("warn:", f'"warn {evil}":'), encoding="utf-8")
    done = advisor("rules", "list", *own)

    assert done.returncode == 2
    assert raw(done.stdout + done.stderr) == []


def test_json_keeps_what_a_terminal_would_obey_as_escapes(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text("title: turn \u202e x\nsteps: [{do: sand}]\n", encoding="utf-8")
    done = advisor("review", plan, "--format", "json")

    assert json.loads(done.stdout)["plan"]["title"] == "turn \u202e x"
    assert raw(done.stdout) == []


def test_a_pack_of_5000_mistakes_prints_the_first_50_and_a_count(tmp_path: Path) -> None:
    """Each rule lacks its `when`; it and three more keys are missed, so that there are 20,000 mistakes."""
    rules = "".join(f"  - {{id: r{n}}}\n" for n in range(5_000))
    (tmp_path / "own.yaml").write_text(f"pack: own\ntitle: Own\nrules:\n{rules}", encoding="utf-8")
    done = advisor("rules", "list", "--rules", tmp_path)
    lines = done.stderr.decode().splitlines()
    count = int(lines[-1].split()[0].replace(",", ""))

    assert (done.returncode, done.stdout, len(lines)) == (2, b"", 52)
    assert count >= 5_000
    assert lines[-2] == f"and {count - 50:,} more."


# --- output that goes nowhere -----------------------------------------------------------------------------------

needs_full = pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no /dev/full")


@needs_full
@pytest.mark.parametrize(
    "words", [("review", PLAN), ("rules", "list"), ("calc",), ("--help",), ("vocabulary",), ("order", PLAN)]
)
def test_a_full_disk_is_said_and_status_2(words: tuple[object, ...]) -> None:
    with Path("/dev/full").open("wb") as full:
        done = advisor(*words, stdout=full, stderr=subprocess.PIPE, capture_output=False)

    assert (done.returncode, done.stderr) == (2, b"The output cannot be written: no space left on device.\n")


@needs_full
def test_mistakes_that_cannot_be_told_do_not_change_the_status() -> None:
    with Path("/dev/full").open("wb") as full:
        done = advisor("review", "nosuch.yaml", stdout=subprocess.PIPE, stderr=full, capture_output=False)

    assert (done.returncode, done.stdout) == (2, b"")


@pytest.mark.parametrize(("words", "status"), [((), 0), (("--fail-on", "danger"), 1)])
def test_a_reader_who_goes_away_hears_nothing_and_the_status_stays(words: tuple[str, ...], status: int) -> None:
    """The status of `review --fail-on` must not be lost where a pipe cut the report short."""
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = advisor("review", PLAN, *words, stdout=writing, stderr=subprocess.PIPE, capture_output=False)
    finally:
        os.close(writing)

    assert (done.returncode, done.stderr) == (status, b"")


@pytest.mark.skipif(os.name == "nt", reason="closes a file by its number")
def test_an_output_that_was_closed_is_said() -> None:
    command = 'exec "$0" -m advisor rules list >&-'
    done = subprocess.run(["sh", "-c", command, sys.executable], cwd=ROOT, capture_output=True, timeout=60, check=False)

    assert (done.returncode, done.stderr) == (2, b"The output cannot be written: bad file descriptor.\n")


# --- other causes of status 70 ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("start", "plan"),
    [("9999-12-30", ""), ("9999-12-31", ""), (None, "9999-12-30"), ("9998-12-31", "")],
)
def test_a_calendar_that_runs_out_is_a_message(start: str | None, plan: str, tmp_path: Path) -> None:
    """`datetime.date.max` is 9999-12-31. The last: 4 waits of a year each begin before it and end after it."""
    path = tmp_path / "plan.yaml"
    crew = f"crew: {{start: {plan}}}\n" if plan else ""
    path.write_text(
        f"{crew}parts: {{d: {{kind: door}}}}\nsteps: [{{id: s, do: sand, to: d, for: 90 h, wait: 365 day}}]\n",
        encoding="utf-8",
    )
    done = advisor("order", path, *(["--start", start] if start else []), "--format", "svg")

    assert (done.returncode, done.stdout) == (2, b"")
    assert b"would end after the year 9999" in done.stderr


def test_a_review_of_a_plan_whose_calendar_runs_out_says_so_and_goes_on(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text("crew: {start: 9999-12-31}\nsteps: [{id: s, do: sand, for: 90 h}]\n", encoding="utf-8")
    done = advisor("review", path)

    assert (done.returncode, done.stderr) == (0, b"")
    assert "would end after the year 9999" in " ".join(done.stdout.decode().split())


@pytest.mark.parametrize(
    "words",
    [
        ("review", "x" * 300), ("review", "/dev/zero"), ("review", PLAN, "--rules", "x" * 300), ("review", PLAN,
        "--waivers", "x" * 300),
        ("order", PLAN, "--output", "x" * 300), ("revise", PLAN, "--set", "steps.#x.for=1 h"), ("review", PLAN,
        "--output", "."),
    ],
    ids=["long name", "endless", "long rules", "long waivers", "long output", "no number", "a folder"],
)  # fmt: skip
def test_names_and_devices_that_no_file_has_are_one_message(words: tuple[object, ...]) -> None:
    done = advisor(*words)

    assert (done.returncode, done.stdout) == (2, b"")
    assert b"failed on its own account" not in done.stderr
    assert done.stderr.strip()

"""What stands at the end of each command's help: examples, and what the exit status means."""

from __future__ import annotations

import typer

STATUS = (
    "Exit status: 0 done; 1 the answer is no (--fail-on, --fail-on-open, lint, given up);"
    " 2 something given cannot be used; 70 a fault of the program."
)
EXAMPLES: dict[str, tuple[str, ...]] = {
    "review": (
        "advisor review plan.yaml --brief",
        "advisor review plan.yaml --step sand-doors --working",
        "advisor review plans/ --format html --output class.html",
        "advisor review plans/ --brief --output sheets/",
        "advisor review plan.yaml --fail-on warning --fail-on-open danger",
    ),
    "new": ("advisor new --list", 'advisor new "tile a backsplash" --output plan.yaml'),
    "interview": ('advisor interview "tile a backsplash"', "advisor interview plan.yaml"),
    "draft": ("advisor draft notes.txt --into plan.yaml", "advisor draft - --format json"),
    "check": ("advisor check plan.yaml", "advisor check plans/"),
    "questions": ("advisor questions plan.yaml --most 3", "advisor questions plan.yaml --ask"),
    "why": ("advisor why plan.yaml isolate-power@swap-sockets", "advisor why plan.yaml isolate-power --format json"),
    "why-not": ("advisor why-not plan.yaml isolate-power swap-sockets",),
    "order": ("advisor order plan.yaml", "advisor order plan.yaml --format html --output order.html"),
    "states": ("advisor states plan.yaml", "advisor states plan.yaml swap-sockets"),
    "revise": ("advisor revise plan.yaml --help",),
    "compare": ("advisor compare first.yaml second.yaml",),
    "hazards": ("advisor hazards plan.yaml", "advisor hazards plan.yaml --format json"),
    "checklist": (
        "advisor checklist plan.yaml --format html --output checklist.html",
        "advisor checklist plans/ --by trade --exercise",
        'advisor checklist --job "tile a backsplash"',
    ),
    "supplies": ("advisor supplies plan.yaml", "advisor supplies plan.yaml --format csv --output shop.csv"),
    "serve": ("advisor serve", "advisor serve plans/ --no-browser"),
    "schema": ("advisor schema --output plan.schema.json",),
    "vocabulary": ("advisor vocabulary part", "advisor vocabulary sand"),
}


def explain(app: typer.Typer) -> None:
    """Put examples and the exit status under the help of the program and of each of its commands."""
    app.info.epilog = epilog(
        ("advisor check plan.yaml", "advisor review plan.yaml --brief", "advisor review plan.yaml")
    )
    for command in app.registered_commands:
        name = command.name or getattr(command.callback, "__name__", "")
        if name in EXAMPLES:
            command.epilog = epilog(EXAMPLES[name])


def epilog(examples: tuple[str, ...]) -> str:
    """Examples a line each; the help prints what two line feeds part as paragraphs."""
    return "\n\n".join(("Examples:", *examples, STATUS))

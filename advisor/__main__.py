"""`python -m advisor`."""

from advisor.cli import run

run()

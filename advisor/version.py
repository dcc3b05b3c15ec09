"""The version of the program, the same as in pyproject.toml; a test compares them."""

VERSION = "0.1.0"

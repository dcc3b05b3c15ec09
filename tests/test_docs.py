"""The README shows what the program does now."""

from docs import TOP, filled


def test_readme_shows_real_files_and_real_output() -> None:
    """Each marked part equals a fresh run; `make docs` mends it."""
    text = (TOP / "README.md").read_text(encoding="utf-8")

    assert filled(text) == text

"""Copies rules/ into the built package; everything else is in pyproject.toml.

The rules stay at the top of the tree, where people edit them, and travel inside the wheel as `advisor/_rules`.
"""

from pathlib import Path
from shutil import copytree, rmtree

from setuptools import setup
from setuptools.command.build_py import build_py


class BuildWithRules(build_py):
    """The usual build of Python files, then the rules beside them."""

    def run(self) -> None:
        """Build, then copy; an editable install reads rules/ where it is."""
        super().run()
        if self.editable_mode:
            return
        target = Path(self.build_lib) / "advisor" / "_rules"
        rmtree(target, ignore_errors=True)
        copytree(Path(__file__).parent / "rules", target)


setup(cmdclass={"build_py": BuildWithRules})

"""What is no Python file is installed too: tables, templates, styles, typefaces."""

from __future__ import annotations

import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "stillroom"


def test_every_file_that_the_program_reads_is_installed_with_it() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text())
    patterns = settings["tool"]["setuptools"]["package-data"]["stillroom"]
    installed = {
        path for pattern in patterns for path in PACKAGE.glob(pattern) if path.is_file()
    }
    there = {
        path
        for path in PACKAGE.rglob("*")
        if path.is_file() and path.suffix not in {".py", ".pyc"}
    }
    assert len(there) > 100, "tables and templates are not where they were"
    assert there - installed == set()

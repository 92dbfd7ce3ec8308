"""Each folder that lists what is in it names every file, and no other."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

HOME = Path(__file__).parents[2] / "src" / "stillroom"
PLANNER = sorted(page.parent for page in (HOME / "planning").rglob("__init__.py"))
LISTED = ("stock", "running", "records", "learning", "paper", "smallholding")
FOLDERS = [*PLANNER, *(HOME / name for name in LISTED)]


def said_in(folder: Path) -> str:
    page = (folder / "__init__.py").read_text("utf-8")
    return ast.get_docstring(ast.parse(page)) or ""


def listed(folder: Path) -> set[str]:
    """Names that begin a line of a list, with their ending or their slash."""
    lines = [line for line in said_in(folder).splitlines() if line.startswith("    ")]
    return {line.split()[0] for line in lines if line[4] != " "}


def test_every_folder_with_a_list_is_looked_at() -> None:
    pages = {page.parent for page in HOME.rglob("__init__.py")}
    assert {folder for folder in pages if listed(folder)} == set(FOLDERS)


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_a_folder_names_its_files_and_no_others(folder: Path) -> None:
    there = {file.name for file in folder.glob("*.py")} - {"__init__.py"}
    there |= {f"{page.parent.name}/" for page in folder.glob("*/__init__.py")}
    assert listed(folder) == there


def test_there_is_no_file_beside_the_folders_that_hands_on_names() -> None:
    for folder in FOLDERS:
        page = ast.parse((folder / "__init__.py").read_text("utf-8"))
        assert len(page.body) == 1, folder.name

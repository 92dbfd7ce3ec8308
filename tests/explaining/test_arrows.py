"""Nothing that plans, runs or keeps a day knows the explanations."""

import ast
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "stillroom"


def imported(file):
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{name.name}" for name in node.names)
        elif isinstance(node, ast.Import):
            yield from (name.name for name in node.names)


def knows(package, what):
    return [
        file.name
        for file in (SOURCE / package).rglob("*.py")
        if any(name.startswith(what) for name in imported(file))
    ]


@pytest.mark.parametrize(
    "package",
    ["science", "book", "methods", "planning", "records", "running", "stand", "paper"],
)
def test_no_arrow_leads_from_an_explanation_to_a_plan(package):
    assert knows(package, "stillroom.explaining") == []


def test_pages_and_terminal_do_know_them():
    assert knows("web", "stillroom.explaining")
    assert knows("cli", "stillroom.explaining")

"""What measures and what scripts do is run seldom: its imports must not go stale."""

import ast
import importlib
import importlib.util
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
FILES = sorted((ROOT / "benchmarks").glob("*.py")) + sorted(
    (ROOT / "scripts").glob("*.py")
)
OURS = ("stillroom", "tests")


def taken_in(file: Path) -> list[tuple[str, str]]:
    """(module, name) of all that a file takes from the house."""
    tree = ast.parse(file.read_text("utf-8"))
    return [
        (node.module, name.name)
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module
        if node.module.partition(".")[0] in OURS
        for name in node.names
    ]


def is_there(module: str, name: str) -> bool:
    """Whether a module has such a name, or a folder such a module."""
    known = importlib.import_module(module)
    return hasattr(known, name) or (
        hasattr(known, "__path__")
        and importlib.util.find_spec(f"{module}.{name}") is not None
    )


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_what_a_measurement_takes_in_is_still_there(file):
    assert [taken for taken in taken_in(file) if not is_there(*taken)] == []


def test_the_measurements_are_found():
    assert sum(map(bool, map(taken_in, FILES))) > 10

"""What lowering and lifting take is written twice: for who plans, and for the judge."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PLANNING = Path(__file__).parents[2] / "src" / "stillroom" / "planning"


def written(name: str) -> dict[str, int]:
    """Each file of the planner that gives a figure this name, with the figure."""
    found = {}
    for file in PLANNING.rglob("*.py"):
        for node in ast.parse(file.read_text("utf-8")).body:
            match node:
                case ast.Assign(targets=[ast.Name(id=of)], value=value) if of == name:
                    where = file.relative_to(PLANNING).as_posix()
                    found[where] = ast.literal_eval(value)
    return found


@pytest.mark.parametrize(
    ("name", "judged"),
    [
        ("LIFT_WITHIN_MIN", "judge/check_loads.py"),
        ("LABOUR_QUARTERS", "judge/check.py"),
    ],
)
def test_a_rule_of_hot_jars_is_written_once_for_each_side(name: str, judged: str):
    found = written(name)
    assert set(found) == {"hot_jars.py", judged}
    assert len(set(found.values())) == 1

"""The house's arrows, kept by import-linter; and what a newcomer may rely on."""

import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]


def test_planning_knows_no_fruit():
    """The planner's core imports nothing of the book and nothing of any method."""
    core = [
        "problem",
        "timetable",
        "judge/check",
        "hand/by_hand",
        "plan",
        "bounding/bounds",
        "why_not/explain",
    ]
    for name in core:
        text = (ROOT / "src/stillroom/planning" / f"{name}.py").read_text("utf-8")
        assert "stillroom.book" not in text, name
        for line in text.splitlines():
            if line.startswith("from stillroom.methods"):
                assert line.startswith("from stillroom.methods.step import"), name


def test_science_needs_no_array_library_for_a_single_figure():
    code = (
        "import sys\n"
        "from stillroom.science import air, water, gel\n"
        "gel.jelly_point_k(water.boiling_point_k(air.pressure_pa(655.0)))\n"
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_every_dependency_has_a_decision():
    with (ROOT / "pyproject.toml").open("rb") as file:
        project = tomllib.load(file)["project"]
    extras = [d for group in project["optional-dependencies"].values() for d in group]
    texts = "\n".join(
        page.read_text("utf-8").lower() for page in (ROOT / "docs/decisions").glob("*")
    )
    for requirement in [*project["dependencies"], *extras]:
        name = requirement.split("[")[0]
        for sign in "<>=~ ":
            name = name.split(sign)[0]
        said = {"ortools": "or-tools", "httpx2": "httpx2"}.get(name, name)
        assert said.lower() in texts, f"{name} has no decision"


def test_nothing_reads_outside_the_project():
    for file in (ROOT / "src").rglob("*.py"):
        text = file.read_text("utf-8")
        assert "../shared" not in text, file
        assert "/work/" not in text, file

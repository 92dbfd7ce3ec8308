"""No path leads from an estimate to a process time: the arrows, the types, the sums."""

import ast
import dataclasses
import importlib
import inspect
import pkgutil
import typing
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import stillroom.book
from stillroom.book.process_table import Process
from stillroom.book.processes import LONGEST_MARGIN_MIN, process_for
from stillroom.science.estimate import Estimate, EstimatedCurve

SOURCE = Path(__file__).parents[1] / "src" / "stillroom"
EXPLAINING = {
    "stillroom.science.jar",
    "stillroom.science.setting",
    "stillroom.science.lethality",
    "stillroom.science.log",
    "stillroom.science.probe_log",
    "stillroom.science.curves",
    "stillroom.science.why",
}


def imports_of(module):
    """Modules of ours that a module imports, wherever in it."""
    path = SOURCE.parent / Path(*module.split("."))
    file = path / "__init__.py" if path.is_dir() else path.with_suffix(".py")
    if not file.is_file():
        return set()
    found = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
            found |= {f"{node.module}.{name.name}" for name in node.names}
    return {name for name in found if name.startswith("stillroom.") and exists(name)}


def exists(module):
    path = SOURCE.parent / Path(*module.split("."))
    return path.is_dir() or path.with_suffix(".py").is_file()


def reached_from(package):
    """Every module of ours that a package can reach."""
    folder = SOURCE / package
    waiting = [
        ".".join(file.relative_to(SOURCE.parent).with_suffix("").parts)
        for file in folder.rglob("*.py")
    ]
    seen = set()
    while waiting:
        module = waiting.pop().removesuffix(".__init__")
        if module not in seen:
            seen.add(module)
            waiting += imports_of(module)
    return seen


@pytest.mark.parametrize(
    "package", ["book", "methods", "planning", "records", "running"]
)
def test_nothing_that_plans_or_runs_a_day_reaches_the_explaining_models(package):
    assert not reached_from(package) & EXPLAINING


def test_the_look_for_paths_does_find_them():
    reached = reached_from("science")
    assert reached >= EXPLAINING
    assert "stillroom.science.cylinder" in imports_of("stillroom.science.jar")
    assert "stillroom.book.processes" in reached_from("planning")


def signatures_of(package):
    """Every function, method and class of a package, with the types that it names."""
    for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        module = importlib.import_module(found.name)
        own = [m for m in vars(module).values() if inspect.getmodule(m) is module]
        classes = [each for each in own if inspect.isclass(each)]
        members = [function_of(m) for c in classes for m in vars(c).values()]
        functions = filter(inspect.isfunction, map(inspect.unwrap, own + members))
        for each in (*classes, *functions):
            hints = typing.get_type_hints(each, vars(module))
            yield f"{found.name}.{each.__qualname__}", hints


def function_of(member):
    """The function behind a property or a class method."""
    return getattr(member, "fget", None) or getattr(member, "__func__", member)


def types_in(hint):
    """A type and every type inside it: of a union, a tuple, a function's arguments."""
    if isinstance(hint, list):
        inside = hint
    else:
        yield hint
        inside = typing.get_args(hint)
    for part in inside:
        yield from types_in(part)


def takes_an_estimate(hints):
    return any({Estimate, EstimatedCurve} & set(types_in(h)) for h in hints.values())


def test_no_function_of_the_book_takes_an_estimate():
    for file in (SOURCE / "book").rglob("*.py"):
        text = file.read_text("utf-8")
        assert "Estimate" not in text, file
        assert "science.estimate" not in text, file
    seen = dict(signatures_of(stillroom.book))
    for name, hints in seen.items():
        assert not takes_an_estimate(hints), name
    assert len(seen) > 300
    assert "stillroom.book.processes.process_for" in seen
    assert "stillroom.book.process_table.Process.total_min" in seen


@pytest.mark.parametrize(
    "hint",
    [
        Estimate,
        Estimate | None,
        tuple[Estimate, ...],
        Callable[[EstimatedCurve], float],
        dict[str, tuple[int, Estimate | float]],
    ],
)
def test_the_look_for_estimates_does_find_them(hint):
    assert takes_an_estimate({"minutes": hint})
    assert not takes_an_estimate({"minutes": float | None})


def test_a_process_is_looked_up_by_what_is_put_up_and_where_alone():
    assert set(inspect.signature(process_for).parameters) == {
        "product",
        "pack",
        "jar",
        "elevation_ft",
        "canner",
        "pressure_psi",
        "margin_min",
    }


def plum_butter(margin_min):
    return process_for(
        "plum butter",
        jar="half-pint",
        pack="hot",
        elevation_ft=2_150.0,
        margin_min=margin_min,
    )


@given(st.integers(-120, 600))
def test_minutes_only_ever_grow_by_the_keepers_own_margin(margin):
    published = plum_butter(0)
    assert isinstance(published, Process)
    answer = plum_butter(margin)
    if isinstance(answer, Process):
        assert answer.minutes == published.minutes
        assert answer.total_min == published.minutes + margin
        assert margin >= 0
    else:
        assert margin < 0 or margin > LONGEST_MARGIN_MIN


def test_an_estimate_is_refused_as_a_margin():
    estimate = Estimate(
        value=-5.0, unit="min", low=-6.0, high=-4.0, basis="a model", source="a test"
    )
    with pytest.raises(TypeError):
        plum_butter(estimate)


def test_an_estimate_is_no_number():
    estimate = Estimate(
        value=9.0, unit="min", low=8.0, high=10.0, basis="a model", source="a test"
    )
    for use in (
        lambda e: e + 1,
        lambda e: 1 + e,
        lambda e: e * 2,
        float,
        int,
        lambda e: e < 10,
        lambda e: max(10, e),
        lambda e: range(e),
    ):
        with pytest.raises(TypeError):
            use(estimate)
    with pytest.raises(dataclasses.FrozenInstanceError):
        estimate.value = 1.0

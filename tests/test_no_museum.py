"""No museum pieces: what science can do is used by a method, a plan, a page."""

import ast
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src" / "stillroom"
SCIENCE = SOURCE / "science"


def science_trees():
    return {
        file.stem: ast.parse(file.read_text("utf-8"))
        for file in SCIENCE.glob("*.py")
        if file.stem != "__init__"
    }


def public_functions(trees):
    """``module.function`` of every public function, with its code."""
    return {
        f"{module}.{node.name}": node
        for module, tree in trees.items()
        for node in tree.body
        if isinstance(node, ast.FunctionDef)
        and not node.name.startswith("_")
        and not module.startswith("_")
    }


def mentions(tree: ast.Module, within: str = "") -> set[str]:
    """``module.function`` of science that a file really calls by name."""
    modules, functions = {}, {}
    for node in ast.walk(tree):
        if not isinstance(node, ast.ImportFrom) or not node.module:
            continue
        for name in node.names:
            said = name.asname or name.name
            if node.module == "stillroom.science":
                modules[said] = name.name
            elif node.module.startswith("stillroom.science."):
                module = node.module.rsplit(".", 1)[1]
                functions[said] = f"{module}.{name.name}"
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            if node.value.id in modules:
                found.add(f"{modules[node.value.id]}.{node.attr}")
        elif isinstance(node, ast.Name):
            if node.id in functions:
                found.add(functions[node.id])
            elif within:
                found.add(f"{within}.{node.id}")
    return found


def imports_of(tree: ast.Module) -> list[ast.stmt]:
    return [node for node in tree.body if isinstance(node, ast.ImportFrom)]


def used():
    """Functions of science reached from outside it, by calls alone."""
    trees = science_trees()
    code = {
        f"{module}.{node.name}": (module, node)
        for module, tree in trees.items()
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
    }
    waiting: set[str] = set()
    for file in SOURCE.rglob("*.py"):
        if SCIENCE not in file.parents:
            waiting |= mentions(ast.parse(file.read_text("utf-8")))
    seen: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name in seen or name not in code:
            continue
        seen.add(name)
        module, node = code[name]
        alone = ast.Module(body=[*imports_of(trees[module]), node], type_ignores=[])
        waiting |= mentions(alone, within=module)
    return seen


def test_every_public_function_of_science_is_used():
    unused = set(public_functions(science_trees())) - used()
    assert not unused, f"museum pieces: {sorted(unused)}"


def test_the_look_for_uses_does_find_and_miss():
    tree = ast.parse("from stillroom.science import air\nair.pressure_pa(0.0)\n")
    assert mentions(tree) == {"air.pressure_pa"}
    tree = ast.parse("from stillroom.science import air\n'air.elevation_m'\n")
    assert mentions(tree) == set()


@pytest.mark.parametrize("package", ["methods", "explaining", "planning"])
def test_science_is_used_where_the_keeper_is_answered(package):
    found = set()
    for file in (SOURCE / package).rglob("*.py"):
        found |= mentions(ast.parse(file.read_text("utf-8")))
    assert found

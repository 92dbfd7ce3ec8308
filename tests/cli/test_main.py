"""The command group: quick help, exit codes, one place for every no."""

import ast
import importlib
import re
import subprocess
import sys
from pathlib import Path

import click
import pytest

from stillroom.cli.main import BROKEN_OFF, COMMANDS, GROUPS
from stillroom.cli.said_otherwise import MEANT, meant_by
from stillroom.stock.events import Way
from tests.cli.running import run, run_alone

SOURCE = Path(__file__).parents[2] / "src" / "stillroom"
DOCS = Path(__file__).parents[2] / "docs" / "cli.md"


def test_help_imports_no_solver_server_or_array_library():
    code = (
        "import sys\n"
        "from stillroom.cli.main import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "heavy = {'numpy', 'ortools', 'pandas', 'sqlalchemy', 'starlette', 'uvicorn',"
        " 'jinja2', 'typst', 'msgspec'}\n"
        "loaded = heavy & set(sys.modules)\n"
        "sys.exit(f'loaded: {loaded}' if loaded else 0)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "jelly-point" in done.stdout


@pytest.mark.parametrize(
    "name", ["stock", "learned", "book", "check", "backup", "recipe", "year"]
)
def test_what_plans_nothing_loads_no_solver(name):
    """It takes longer to load than such a command takes."""
    module = f"stillroom.cli.commands.{COMMANDS[name][0]}"
    code = f"import sys, {module}\nsys.exit('ortools' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("name", COMMANDS)
def test_each_summary_is_the_commands_own(name):
    module = importlib.import_module(f"stillroom.cli.commands.{COMMANDS[name][0]}")
    assert module.command.name == name
    assert (module.command.help or "").splitlines()[0] == COMMANDS[name][1]


FOR_EVERY_COMMAND = {"--json"}
"""Said once of all commands, at the top of their page."""


def section_of(name: str) -> str:
    """What the docs say under the headings of a command."""
    sections = re.split(r"^## ", DOCS.read_text(encoding="utf-8"), flags=re.M)[1:]
    own = rf"`stillroom {name}(?![\w-])"
    found = [s for s in sections if re.match(own, s)]
    assert found, f"{name} is not in docs/cli.md"
    return "\n".join(found)


def parameters_of(name: str) -> list[tuple[str, click.Parameter]]:
    """Each parameter of a command and of those under it, with whose it is."""
    module = importlib.import_module(f"stillroom.cli.commands.{COMMANDS[name][0]}")
    commands = [module.command, *getattr(module.command, "commands", {}).values()]
    return [(command.name, each) for command in commands for each in command.params]


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_and_option_is_documented(name):
    section = section_of(name)
    for command, parameter in parameters_of(name):
        for option in (*parameter.opts, *parameter.secondary_opts):
            if option.startswith("--") and option not in FOR_EVERY_COMMAND:
                said = re.search(rf"{option}(?![\w-])", section)
                assert said, f"{option} of {command} is not in its section of cli.md"


def test_what_prints_nothing_for_programs_is_named():
    start = DOCS.read_text(encoding="utf-8").partition("\n## ")[0]
    (told,) = re.findall(r"Without it are (.*?)\. A refusal", start, flags=re.S)
    named = set(re.findall(r"`([^`]+)`", told))
    without = set()
    for name, (module, _) in COMMANDS.items():
        own = importlib.import_module(f"stillroom.cli.commands.{module}").command
        for command in getattr(own, "commands", {"": own}).values():
            if not any("--json" in p.opts for p in command.params):
                without.add(name if command is own else f"{name} {command.name}")
    assert named == without


def test_each_choice_that_is_documented_can_be_made():
    documented = []
    for name in COMMANDS:
        section = section_of(name)
        for command, parameter in parameters_of(name):
            if not isinstance(parameter.type, click.Choice):
                continue
            said = rf"{parameter.opts[-1]}\s+([\w-]+(?:\|[\w-]+)+)"
            for choices in re.findall(said, section):
                assert set(choices.split("|")) == set(parameter.type.choices)
                documented.append((command, parameter.name))
    assert {("sheet", "page"), ("trouble", "food")} <= set(documented)


def keys_for_programs() -> set[str]:
    """Every key that a command writes out in what it prints with ``--json``."""
    found = set()
    for file in (SOURCE / "cli").rglob("*.py"):
        if file.name == "main.py":
            continue
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Dict):
                found |= {k.value for k in node.keys if isinstance(k, ast.Constant)}
            if isinstance(node, ast.Subscript) and isinstance(node.ctx, ast.Store):
                key = node.slice  # found["not_booked"] = ...
                found |= {key.value} if isinstance(key, ast.Constant) else set()
    return {key for key in found if re.fullmatch(r"[a-z_]+", str(key))}


def test_each_key_for_programs_is_documented():
    keys = keys_for_programs()
    assert len(keys) > 100
    words = set(re.findall(r"\w+", DOCS.read_text(encoding="utf-8")))
    assert keys - words == set()


def test_an_unknown_command_is_wrong_usage():
    said = run("jar")
    assert said.code == 2
    assert "No such command" in said.err


@pytest.mark.parametrize("where", [(), ("stock",)])
def test_a_word_for_it_names_the_command(where):
    """Who types "sell" is not asked whether "recall" was meant."""
    said = run(*where, "sell", "plum jelly", "6")
    assert said.code == 2
    meant = "stillroom stock out LOT QUANTITY --as sold"
    assert said.err.endswith(f"No such command 'sell'. That is: {meant}\n")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("plann",), "The nearest is: stillroom plan"),
        (("whatif",), "The nearest is: stillroom what-if"),
        (("Sheets",), "The nearest is: stillroom sheet"),
        (("stock", "mad"), "The nearest is: stillroom stock made"),
        (("day", "chk"), "The nearest is: stillroom day check"),
        (("trace",), "That is: stillroom stock trace"),
        (("stock", "plan"), "That is: stillroom plan"),
    ],
)
def test_a_mistyped_command_is_told_the_nearest(typed, said):
    answer = run(*typed)
    assert answer.code == 2
    assert answer.err.endswith(f"No such command {typed[-1]!r}. {said}\n")


def test_what_is_near_to_no_command_is_told_none():
    assert run("zzzz").err.endswith("No such command 'zzzz'.\n")


def test_a_mistyped_option_is_told_the_nearest():
    said = run("plan", "day.toml", "--secnds", "3")
    assert said.code == 2
    assert "Did you mean '--seconds'?" in said.err


def test_the_groups_are_the_commands_that_have_commands():
    for name, (module, _) in COMMANDS.items():
        command = importlib.import_module(f"stillroom.cli.commands.{module}").command
        assert isinstance(command, click.Group) == (name in GROUPS)


def test_every_command_that_is_meant_by_a_word_is_one():
    for meant in {meant_by(word) for word in (*MEANT, *set(Way) - {Way.DRAWN})}:
        _, name, *rest = meant.split()
        module = importlib.import_module(f"stillroom.cli.commands.{COMMANDS[name][0]}")
        if rest:
            assert rest[0] in module.command.commands
            assert "--as" not in rest or rest[-1] in set(Way)
    assert not {*MEANT} & {*COMMANDS}


def test_a_refusal_has_its_three_parts_and_code_3():
    said = run("process", "pumpkin butter", "--jar", "pint", "--elevation", "2150ft")
    assert said.code == 3
    assert re.search(r"Refused: \S.*\nInstead: \S.*\nSource: \S", said.err)
    assert said.out == ""


def test_a_refusal_as_json_is_one_object():
    said = run_alone(
        "process", "pumpkin butter", "--jar", "pint", "--elevation", "2150ft", "--json"
    )
    assert said.code == 3
    assert set(said.json) == {"refusal"}
    assert set(said.json["refusal"]) == {"reason", "instead", "source"}
    assert said.err == ""


def test_version():
    assert run("--version").out.startswith("stillroom, version 0.")


@pytest.mark.parametrize("broken_off", [KeyboardInterrupt, click.Abort])
def test_ctrl_c_has_a_code_of_its_own_and_says_so(tmp_path, monkeypatch, broken_off):
    def pressed(*_, **__):
        raise broken_off

    monkeypatch.setattr("stillroom.cli.commands.plan.plan_the_day", pressed)
    file = tmp_path / "day.toml"
    assert run("day", "new", str(file)).code == 0
    for more in ((), ("--json",)):
        said = run("plan", str(file), *more)
        assert (said.code, said.out) == (BROKEN_OFF, "")
        assert said.err.strip() == "Broken off (Ctrl-C): there is no answer."
    assert f"`{BROKEN_OFF}` broken off" in DOCS.read_text(encoding="utf-8")

"""What the guides tell to type can be typed: no option of before is left in them."""

import importlib
import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from stillroom.cli.main import COMMANDS
from stillroom.records.days import open_records
from tests.cli.running import run

ROOT = Path(__file__).parents[2]
GUIDES = (ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md")))
RECORD = ROOT / "docs" / "keeping-the-record.md"


def named(text: str, *, group: str = "") -> Iterator[str]:
    """Each command in backticks or in a block, as it is written."""
    starts = rf"(?:stillroom{f'|{group}' if group else ''}) "
    for found in re.findall(rf"`({starts}[^`\n]+)`", text):
        yield from found.split("`, `")
    for block in re.findall(r"```sh\n(.*?)```", text, flags=re.DOTALL):
        yield from re.findall(rf"^(?:\.venv/bin/)?({starts}.*)$", block, flags=re.M)


def words_of(written: str) -> list[str]:
    """The words of a command, without the name of the program."""
    words = shlex.split(written, comments=True)
    return words[1:] if words[0] == "stillroom" else words


def command_of(words: list[str]) -> tuple[click.Command, list[str]]:
    """The command that is named, and what is said behind its name."""
    assert words[0] in COMMANDS, f"there is no command {words[0]}"
    module = f"stillroom.cli.commands.{COMMANDS[words[0]][0]}"
    command: click.Command = importlib.import_module(module).command
    rest = words[1:]
    if isinstance(command, click.Group) and rest and not rest[0].startswith("-"):
        assert rest[0] in command.commands, f"{words[0]} has no {rest[0]}"
        return command.commands[rest[0]], rest[1:]
    return command, rest


@pytest.mark.parametrize("guide", GUIDES, ids=lambda file: file.name)
def test_each_option_of_a_command_that_is_shown_is_there(guide):
    checked = 0
    for written in named(guide.read_text("utf-8"), group="stock"):
        words = words_of(written)
        if words[0] in ("COMMAND", "--version"):
            continue
        command, said = command_of(words)
        known = {o for p in command.params for o in (*p.opts, *p.secondary_opts)}
        for option in (word for word in said if word.startswith("--")):
            assert option in {*known, "--help"}, f"{option} in {written}"
        checked += 1
    if guide.name in ("README.md", "cli.md", "keeping-the-record.md"):
        assert checked > 8


def test_what_is_told_to_keep_a_record_by_can_be_done(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "stick").mkdir()  # it is in
    open_records(tmp_path / "stillroom.db").close()
    text = RECORD.read_text("utf-8").replace("/media/stick", str(tmp_path / "stick"))
    blocks = "".join(re.findall(r"```sh\n(.*?)```", text, flags=re.DOTALL))
    told = re.findall(r"^stillroom (?!.*postgresql).*$", blocks, flags=re.M)
    assert [line.split()[1] for line in told] == ["backup", "check", "export", "import"]
    for line in told:
        said = run(*words_of(line))
        assert said.code == 0, f"{line}: {said.err}"

"""The commands of the README, in their order, on a machine that has nothing yet."""

import re
import shlex
from pathlib import Path

import pytest

from tests.cli.running import run

README = Path(__file__).parents[2] / "README.md"
SEARCH = {"plan", "why", "what-if", "replan", "sheet", "odds"}
OF_A_RECORD = {"stock made --from-run"}
"""What needs a day at the stove, and says so where there was none."""


def shown() -> list[list[str]]:
    """The words of each command of the README, without the remark behind it."""
    blocks = re.findall(r"```sh\n(.*?)```", README.read_text("utf-8"), flags=re.DOTALL)
    lines = [line for block in blocks for line in block.splitlines()]
    return [
        shlex.split(line, comments=True)[1:]
        for line in lines
        if line.startswith("stillroom ")
    ]


def test_each_command_that_is_shown_does_something(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    commands = shown()
    assert len(commands) > 15
    for words in commands:
        if " ".join(words) in OF_A_RECORD:
            continue
        quick = ("--seconds", "0.5") if words[0] in SEARCH else ()
        said = run(*words, *quick)
        assert said.code == 0, f"stillroom {shlex.join(words)}: {said.err}"
        assert said.out


@pytest.mark.parametrize("words", sorted(OF_A_RECORD))
def test_what_needs_a_record_says_so(words, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    said = run(*shlex.split(words))
    assert said.code == 2
    assert "no run is kept here yet" in said.err

"""What README.md tells a newcomer to type does what it says, in its order."""

import re
import shlex
from pathlib import Path

import pytest

from tests.cli.running import run

README = Path(__file__).parents[1] / "README.md"
SEARCHES = {"plan", "why", "what-if", "replan", "sheet", "odds"}
OF_A_RECORD = {"stock", "learned"}
"""They ask a record that README has no day at the stove for."""


def typed() -> list[list[str]]:
    """Return the words of each command that stands in a block of README."""
    blocks = re.findall(r"```sh\n(.*?)```", README.read_text(encoding="utf-8"), re.S)
    lines = [line for block in blocks for line in block.splitlines()]
    return [
        shlex.split(line, comments=True)[1:]
        for line in lines
        if line.startswith("stillroom ")
    ]


def test_each_command_of_the_readme_is_done(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = 0
    for words in typed():
        if words[0] in OF_A_RECORD:
            continue
        if words[0] in SEARCHES:
            words += ["--seconds", "0.5"]
        if words[0] == "odds":
            words += ["--days", "200", "--no-one-more"]
        said = run(*words)
        assert said.code == 0, (words, said.err)
        done += 1
    assert done >= 12
    assert (tmp_path / "day.pdf").stat().st_size > 0

"""What is waited for is said where somebody watches, and nowhere else."""

from __future__ import annotations

import io
import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from stillroom.cli.waiting import WIPE, waiting


class Screen(io.StringIO):
    """Standard error that is a terminal."""

    def isatty(self) -> bool:
        return True


def said_then_failed(screen: Screen) -> None:
    """Wait for what fails, with the line on the screen until then."""
    with waiting("Planning: about 8 s"):
        assert screen.getvalue() == "Planning: about 8 s"
        raise LookupError("no plan")


def test_it_is_said_while_it_lasts_and_wiped_away(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    screen = Screen()
    monkeypatch.setattr(sys, "stderr", screen)
    monkeypatch.setenv("TERM", "xterm")
    with pytest.raises(LookupError, match="no plan"):
        said_then_failed(screen)
    assert screen.getvalue() == f"Planning: about 8 s{WIPE}"


def test_a_terminal_that_cannot_wipe_keeps_the_line(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    screen = Screen()
    monkeypatch.setattr(sys, "stderr", screen)
    monkeypatch.delenv("TERM", raising=False)
    with waiting("Planning: about 8 s"):
        pass
    assert screen.getvalue() == "Planning: about 8 s\n"


def test_where_nobody_watches_nothing_is_said(
    capfd: pytest.CaptureFixture[str],
) -> None:
    with waiting("Planning: about 8 s"):
        pass
    assert capfd.readouterr() == ("", "")


def test_a_plan_says_how_long_it_takes_on_the_terminal_alone(tmp_path: Path) -> None:
    small = tmp_path / "small.toml"
    stillroom = [sys.executable, "-c", "from stillroom.cli.main import main; main()"]
    subprocess.run([*stillroom, "day", "new", str(small)], check=True)
    ours, theirs = pty.openpty()
    try:
        run = subprocess.run(
            [*stillroom, "plan", str(small), "--seconds", "1"],
            stdout=subprocess.PIPE,
            stderr=theirs,
            env={**os.environ, "TERM": "xterm"},
            check=False,
        )
        said = os.read(ours, 10_000).decode()
    finally:
        os.close(ours)
        os.close(theirs)
    assert said.startswith("Planning: about 1 s, or up to 3 s where not all of it fits")
    assert WIPE in said
    assert run.stdout
    assert b"Planning" not in run.stdout

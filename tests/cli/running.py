"""Run the command line as a person would, in this process or in one of its own."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import dataclass
from typing import Any

from click.testing import CliRunner

from stillroom.cli.main import cli


@dataclass
class Said:
    """What a command answered."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Standard output as one JSON object."""
        return json.loads(self.out)


def run(*words: str) -> Said:
    """Run a command in this process; a traceback is a failed test."""
    result = CliRunner().invoke(cli, list(words), catch_exceptions=False)
    return Said(result.exit_code, result.stdout, result.stderr)


def run_alone(*words: str) -> Said:
    """Run a command in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-c", "from stillroom.cli.main import main; main()", *words],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    return Said(done.returncode, done.stdout, done.stderr)

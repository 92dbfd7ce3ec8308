"""Programs that the tests run and pip does not bring: Debian's packages."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable


def install(package: str, there: Callable[[], object]) -> str:
    """Install a package where that may be done by itself; return why not, in words."""
    if there():
        return ""
    if os.geteuid() != 0:
        return f"only the superuser may install it: apt-get install {package}"
    if shutil.which("apt-get") is None:
        return f"there is no apt-get here: install {package} in your system's way"
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for words in (
        ("apt-get", "update", "-qq"),
        ("apt-get", "install", "-y", "-qq", "--no-install-recommends", package),
    ):
        done = subprocess.run(
            words, env=quiet, capture_output=True, text=True, timeout=600, check=False
        )
        if done.returncode:
            last = (done.stderr.strip().splitlines() or ["no reason was given"])[-1]
            return f"{' '.join(words)} failed: {last}"
    return "" if there() else f"{package} was installed, and its program is not found"

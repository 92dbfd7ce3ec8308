"""Stop with a clear word where this Python cannot make the environment."""

import importlib.util
import sys

if sys.version_info < (3, 11):  # noqa: UP036  # this file runs before pip does
    sys.exit(
        f"Stillroom needs Python 3.11 or newer; this is {sys.version.split()[0]}. "
        "Name another one: make run PYTHON=python3.12"
    )
if importlib.util.find_spec("ensurepip") is None:
    sys.exit(
        "This Python cannot make environments (ensurepip is missing). "
        "On Debian and Ubuntu: apt-get install python3-venv"
    )

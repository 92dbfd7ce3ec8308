"""A PostgreSQL of our own for the tests, where one is installed; else the reason."""

from __future__ import annotations

import importlib.util
import os
import pwd
import shutil
import signal
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests import debian

URL = "STILLROOM_TEST_POSTGRES"
"""Names a server to use instead, such as postgresql://postgres@127.0.0.1/postgres."""


def missing() -> str:
    """Return what is missing, in words; empty where the tests can run."""
    if importlib.util.find_spec("psycopg") is None:
        return (
            "PostgreSQL is not tested: the driver psycopg is not installed "
            "(python -m pip install 'psycopg[binary]')"
        )
    if not os.environ.get(URL) and programs() is None:
        return (
            "PostgreSQL is not tested: no initdb was found "
            f"(apt-get install postgresql, or set {URL})"
        )
    return ""


def programs() -> Path | None:
    """Return the folder with the newest server's programs."""
    if found := shutil.which("initdb"):
        return Path(found).parent
    folders = sorted(
        Path("/usr/lib/postgresql").glob("*/bin"),
        key=lambda path: int(path.parent.name) if path.parent.name.isdigit() else 0,
    )
    return folders[-1] if folders else None


def install() -> str:
    """Install the server where this may be done by itself; return why not, in words."""
    if why_not := debian.install("postgresql", programs):
        return f"{why_not}, or set {URL}"
    return ""


@contextmanager
def server() -> Iterator[str]:
    """Start a server on a free port; give its URL; stop it at the end."""
    if given := os.environ.get(URL):
        yield given
        return
    # A folder of its own: that of the test runner is closed to the server's user.
    with tempfile.TemporaryDirectory(prefix="stillroom-postgres-") as folder:
        yield from _serve(Path(folder))


def _serve(folder: Path) -> Iterator[str]:
    bin_ = programs()
    assert bin_ is not None
    # The server refuses to be the superuser's.
    who: dict[str, object] = {}
    if os.geteuid() == 0:
        owner = pwd.getpwnam("postgres")
        os.chown(folder, owner.pw_uid, owner.pw_gid)
        who = {"user": owner.pw_uid, "group": owner.pw_gid, "extra_groups": []}
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    data = folder / "data"

    def call(*words: str) -> None:
        subprocess.run(
            words,
            check=True,
            cwd=folder,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            **who,  # type: ignore[call-overload]
        )

    call(
        f"{bin_}/initdb", "-D", f"{data}", "-U", "stillroom", "-A", "trust",
        "-E", "UTF8", "--locale=C", "--no-sync",
    )  # fmt: skip
    options = f"-p {port} -k {folder} -h 127.0.0.1 -F"
    log = f"{folder / 'log'}"
    call(f"{bin_}/pg_ctl", "-D", f"{data}", "-o", options, "-l", log, "-w", "start")
    number = int((data / "postmaster.pid").read_text().split()[0])
    try:
        yield f"postgresql://stillroom@127.0.0.1:{port}/postgres"
    finally:
        try:
            call(f"{bin_}/pg_ctl", "-D", f"{data}", "-m", "immediate", "-w", "stop")
        except subprocess.CalledProcessError:
            os.kill(number, signal.SIGQUIT)
            raise

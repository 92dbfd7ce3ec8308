"""A PostgreSQL of our own for the tests, where one is installed; else the reason."""

from __future__ import annotations

import importlib.util
import os
import pwd
import shutil
import socket
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

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


@contextmanager
def server(folder: Path) -> Iterator[str]:
    """Start a server in ``folder`` on a free port; give its URL; stop it at the end."""
    if given := os.environ.get(URL):
        yield given
        return
    bin_ = programs()
    assert bin_ is not None
    # The server refuses to be the superuser's.
    who: dict[str, object] = {}
    if os.geteuid() == 0:
        owner = pwd.getpwnam("postgres")
        os.chown(folder, owner.pw_uid, owner.pw_gid)
        for above in (folder, *folder.parents[:2]):
            if above.owner() in ("root", "postgres") and above.name:
                above.chmod(above.stat().st_mode | 0o011)
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
    try:
        yield f"postgresql://stillroom@127.0.0.1:{port}/postgres"
    finally:
        call(f"{bin_}/pg_ctl", "-D", f"{data}", "-m", "immediate", "-w", "stop")

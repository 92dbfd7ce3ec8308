"""A file is written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from stillroom.refusal import Fault, Unreadable


def write_whole(
    target: Path, content: bytes, *, option: str = "--out", beside: Path | None = None
) -> None:
    """
    Write all of it or nothing: what lay there before stays until it is whole.

    Parameters
    ----------
    target : Path
        The file.
    content : bytes
        All of it.
    option : str
        Where its name was given.
    beside : Path, optional
        What lay there before is kept under this name, which is not there yet.

    Raises
    ------
    Unreadable
        If it cannot be written.
    """
    part = target.with_name(f".{target.name}.part")
    try:
        try:
            part.write_bytes(content)
            if beside is not None and target.exists():
                with beside.open("xb") as before:
                    before.write(target.read_bytes())
            os.replace(part, target)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise Unreadable(
            Fault(
                f"{target} cannot be written ({error.strerror}): allow writing there, "
                "free some space, or give another place",
                key=option,
            )
        ) from None

"""A file is written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from stillroom.refusal import Fault, Unreadable
from stillroom.toml_text import short_name


def write_new(target: Path, text: str) -> None:
    """
    Write a new file; one that is there is left alone.

    Raises
    ------
    Unreadable
        If it is there already, or cannot be written.
    """
    try:
        with target.open("x", encoding="utf-8") as out:
            out.write(text)
    except FileExistsError:
        raise Unreadable(
            f"{short_name(target)} is there already and was left as it is; name another"
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        what = f"{short_name(target)} cannot be written ({reason})"
        raise Unreadable(f"{what}; name a place that can") from None


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

"""A file is written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from stillroom.file_text import short_name
from stillroom.refusal import Fault, Unreadable

_PDF = b"%PDF-"


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


def pdf_may_be_written(target: Path) -> None:
    """
    Pass where a PDF loses nothing: a new file, or in the place of an earlier PDF.

    A name typed twice (``--out kept.db --db kept.db``) must not cost the record. Asked
    before a search is waited for, and before anything is booked.

    Raises
    ------
    Unreadable
        If something else is there, there is no such folder, or none may write there.
    """
    if target.is_dir():
        what = f"{target} is a folder: give the file in it"
    elif not target.parent.is_dir():
        what = (
            f"{target} cannot be written: there is no folder {target.parent}; make it, "
            "or give another place"
        )
    else:
        could_be_written(target)
        if not target.exists() or _is_a_pdf(target):
            return
        what = (
            f"{target} is there already, is no PDF, and was left as it is: give "
            "another name"
        )
    raise Unreadable(Fault(what, key="--out"))


def _is_a_pdf(target: Path) -> bool:
    """Whether a file is a PDF by its first letters, or has nothing in it at all."""
    if not target.is_file():
        return False  # a device or a pipe: reading it might wait for ever
    try:
        with target.open("rb") as file:
            return file.read(len(_PDF)) in (_PDF, b"")
    except OSError:
        return False


def write_pdf(target: Path, content: bytes) -> None:
    """
    Write a PDF whole; it takes the place of nothing but an earlier PDF.

    Raises
    ------
    Unreadable
        If something else is there, or it cannot be written.
    """
    pdf_may_be_written(target)
    write_whole(target, content)


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
    part = _part(target)
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
        raise _not_written(target, error, option) from None


def could_be_written(target: Path, *, option: str = "--out") -> None:
    """
    Pass where a file can be written, which is tried: nothing is left of it.

    Asked before a search is waited for.

    Raises
    ------
    Unreadable
        If it cannot, the folder being nobody's to write in, say.
    """
    part = _part(target)
    try:
        target.exists()  # a name may be too long
        part.touch()
        part.unlink()
    except OSError as error:
        raise _not_written(target, error, option) from None


def _part(target: Path) -> Path:
    """Where it is until it is whole: of this run alone, another may write as well."""
    return target.with_name(f".stillroom-{os.getpid()}.part")


def _not_written(target: Path, error: OSError, option: str) -> Unreadable:
    return Unreadable(
        Fault(
            f"{target} cannot be written ({error.strerror}): allow writing there, "
            "free some space, or give another place",
            key=option,
        )
    )

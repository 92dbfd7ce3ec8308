"""
The text of a file that a keeper names, or what is wrong with the file.

No such file, a folder, too large, locked, no text, not UTF-8: it is told in one way,
whatever kind of file it was to be. What stands in it is the business of each kind.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from stillroom.refusal import Fault, Unreadable

LARGEST_FILE = 1_000_000
"""Bytes that a file may have; a long day file has some four thousand."""


@dataclass(frozen=True, slots=True)
class FileKind:
    """A kind of file, as messages name it."""

    name: str
    """Such as "day file"."""
    written_in: str
    """Such as "TOML"."""
    instead: str
    """What to do where there is none: "save the page first"."""
    not_done: str = ""
    """What was not done, where it would be booked: "Nothing was booked"."""


def text_of_file(path: Path, kind: FileKind) -> str:
    """
    Return the text of a file.

    Raises
    ------
    Unreadable
        If there is no such file, it is too large, or it is no text in UTF-8.
    """
    content = bytes_of_file(path, kind)
    if b"\0" in content:
        what = f"{short_name(path)} is no text; a {kind.name} is written in"
        raise Unreadable(f"{what} {kind.written_in}, saved as UTF-8")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        byte = content[error.start]
        what = f"the byte 0x{byte:02x} is not UTF-8; save {short_name(path)} as UTF-8"
        raise Unreadable(Fault(what, line=line)) from None


def bytes_of_file(path: Path, kind: FileKind) -> bytes:
    """
    Return what a file has in it.

    Raises
    ------
    Unreadable
        If there is no such file, or it is too large.
    """
    name = short_name(path)
    try:
        with path.open("rb") as file:
            # One byte more tells a file that is too large without reading it whole.
            content = file.read(LARGEST_FILE + 1)
            if len(content) > LARGEST_FILE:
                raise too_large(name, path.stat().st_size, kind)
            return content
    except FileNotFoundError:
        raise Unreadable(f"there is no file {name}; {kind.instead}") from None
    except IsADirectoryError:
        what = f"{name} is a folder, not a {kind.name}; {kind.instead}"
        raise Unreadable(what) from None
    except PermissionError:
        what = f"{name} may not be read; look at its permissions"
        raise Unreadable(what) from None
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        reason = getattr(error, "strerror", None) or error
        raise Unreadable(f"{name} cannot be opened: {reason}") from None


def too_large(name: str, size: int, kind: FileKind) -> Unreadable:
    """Say that a file is larger than any of its kind."""
    most = f"a {kind.name} has at most {LARGEST_FILE / 1e6:.0f} MB, mostly a few kB"
    about = f"{size / 1e6:.1f} MB" if size > LARGEST_FILE else "more than 1 MB"
    said = f"{name} has {about}; {most}. Is it the right file? {kind.not_done}"
    return Unreadable(said.rstrip())


def short_name(path: Path) -> str:
    """Return the name of a file in plain letters, cut short."""
    name = str(path)
    return ascii(name if len(name) <= 200 else f"{name[:197]}...")

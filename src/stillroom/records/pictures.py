"""
Pictures beside the record: files of a bounded size, named by what is in them.

A name is the start of the SHA-256 of the picture and its kind. So the same picture is
kept once, none is ever written over, and one that was changed on the disk is seen.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
from pathlib import Path

from stillroom.refusal import NotNow, Refusal, Refused, Unreadable

LARGEST = 1_500_000
"""Bytes that a picture may have. [B]"""
KINDS = {
    "jpg": "image/jpeg",
    "png": "image/png",
    "webp": "image/webp",
}
_DIGITS = 32
_NAME = re.compile(rf"[0-9a-f]{{{_DIGITS}}}\.(?:{'|'.join(KINDS)})", re.ASCII)


def kind_of(raw: bytes) -> str | None:
    """
    Return what kind of picture it is by its first bytes; `None` if it is none.

    >>> kind_of(bytes([0xFF, 0xD8, 0xFF, 0xE0])), kind_of(b"<svg>")
    ('jpg', None)
    """
    if raw.startswith(b"\xff\xd8\xff"):
        return "jpg"
    if raw.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if raw[:4] == b"RIFF" and raw[8:12] == b"WEBP":
        return "webp"
    return None


def is_name(text: str) -> bool:
    """Whether it is a name that a picture of ours can have."""
    return _NAME.fullmatch(text) is not None


class Pictures:
    """
    The pictures of one record.

    Parameters
    ----------
    record : Path or None
        The file of the record; `None` where it is kept on a server, which has no
        folder beside it.
    """

    def __init__(self, record: Path | None) -> None:
        self.folder = None if record is None else folder_beside(record)

    def keep(self, raw: bytes) -> str:
        """
        Keep a picture, and return its name.

        Raises
        ------
        Unreadable
            If it is empty, too large, or no JPEG, PNG or WebP picture; `NotNow` if it
            cannot be written. Nothing is left behind.
        Refused
            If the record has no folder beside it.
        """
        if self.folder is None:
            raise Refused(
                Refusal(
                    "this record is kept on a server, and pictures are kept in a "
                    "folder beside a record that is a file",
                    instead="keep the picture yourself, and say where with stillroom "
                    "stock made --picture",
                    source="how Stillroom keeps records",
                )
            )
        if not raw:
            raise Unreadable("no picture was chosen: choose one, then send it")
        if len(raw) > LARGEST:
            raise Unreadable(
                f"the picture has {len(raw):,} bytes, and {LARGEST:,} are kept: make "
                "it smaller (a phone sends a smaller one where scripts are allowed)"
            )
        kind = kind_of(raw)
        if kind is None:
            raise Unreadable("that is no picture in JPEG, PNG or WebP")
        name = f"{_digest(raw)}.{kind}"
        try:
            self.folder.mkdir(exist_ok=True)
            _write(self.folder / name, raw)
        except OSError as error:
            raise NotNow(
                f"the picture cannot be kept in {self.folder} ({error.strerror}): free "
                "some space or allow writing there"
            ) from None
        return name

    def read(self, name: str) -> tuple[bytes, str] | None:
        """
        Return a picture and its media type; `None` where there is none of that name.

        Raises
        ------
        Unreadable
            If the file is not any longer what its name says.
        """
        if self.folder is None or not is_name(name):
            return None
        try:
            raw = (self.folder / name).read_bytes()
        except OSError:
            return None
        digest, _, kind = name.partition(".")
        if _digest(raw) != digest:
            raise Unreadable(
                f"the picture {name} was changed or damaged on the disk: take it from "
                "your last copy"
            )
        return raw, KINDS[kind]


def folder_beside(record: Path) -> Path:
    """
    Return where the pictures of a record lie.

    >>> folder_beside(Path("farm/stillroom.db")).as_posix()
    'farm/stillroom-pictures'
    """
    return record.with_name(f"{record.stem}-pictures")


def copy_pictures(record: Path, to: Path) -> int:
    """
    Copy what is not there yet into a folder of copies; return how many were copied.

    Names tell what is in a picture, so one that is there is the same.
    """
    folder, target = folder_beside(record), folder_beside(to / record.name)
    if not folder.is_dir():
        return 0
    target.mkdir(parents=True, exist_ok=True)
    copied = 0
    for file in sorted(folder.iterdir()):
        if is_name(file.name) and not (target / file.name).exists():
            part = target / f".{file.name}.part"
            shutil.copyfile(file, part)
            os.replace(part, target / file.name)
            copied += 1
    return copied


def _digest(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()[:_DIGITS]


def _write(target: Path, raw: bytes) -> None:
    """Write all of it or nothing, on the disk before it has its name."""
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        with part.open("wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, target)
    finally:
        part.unlink(missing_ok=True)

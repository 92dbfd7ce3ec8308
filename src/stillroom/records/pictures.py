"""
Pictures beside the record: files of a bounded size, named by what is in them.

A name is the start of the SHA-256 of the picture and its kind. So the same picture is
kept once, none is ever written over, and one that was changed on the disk is seen.
"""

from __future__ import annotations

import hashlib
import os
import re
import secrets
from dataclasses import dataclass
from pathlib import Path

from stillroom.records.copy_names import STAMPED, server_stem
from stillroom.records.copying import take_name
from stillroom.records.engine import Place
from stillroom.refusal import NotNow, Unreadable

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
    place : Place
        Of the record; see `pictures_of`.
    """

    def __init__(self, place: Place) -> None:
        self.folder = pictures_of(place)

    def keep(self, raw: bytes) -> str:
        """
        Keep a picture, and return its name.

        Raises
        ------
        Unreadable
            If it is empty, too large, or no JPEG, PNG or WebP picture; `NotNow` if it
            cannot be written. Nothing is left behind.
        """
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
            self.folder.mkdir(mode=0o700, exist_ok=True)
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
        if not is_name(name):
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


def pictures_of(place: Place) -> Path:
    """
    Return where the pictures of a record lie: beside its file; a server's, here.

    A server's are on the machine on which the pages are served, as its copies are.
    """
    if place.file is not None:
        return folder_beside(place.file)
    return Path.cwd() / f"{server_stem(place.url)}-pictures"


def pictures_beside(copy: Path) -> Path:
    """
    Return where the pictures lie that belong to a copy.

    >>> pictures_beside(Path("stick/farm-2026-11-25T11-00-00Z.db")).as_posix()
    'stick/farm-pictures'
    """
    return copy.with_name(f"{STAMPED.sub('', copy.stem)}-pictures")


@dataclass(frozen=True, slots=True)
class CopiedPictures:
    """How many were copied now, and what is wrong with others."""

    number: int = 0
    faults: tuple[str, ...] = ()


NONE_COPIED = CopiedPictures()


def copy_pictures(folder: Path, target: Path) -> CopiedPictures:
    """
    Copy into a folder what is not there yet; each is looked at on its way.

    Names tell what is in a picture, so one that is there is the same, and one that was
    changed on the disk is named and not copied. None that is there ever goes.
    """
    if not folder.is_dir():
        return NONE_COPIED
    copied, faults = 0, []
    for file in sorted(folder.iterdir()):
        if not is_name(file.name) or (target / file.name).exists():
            continue
        try:
            raw = file.read_bytes()
            if _digest(raw) != file.stem:
                faults.append(f"the picture {file} was changed or damaged on the disk")
                continue
            target.mkdir(mode=0o700, exist_ok=True)
            _write(target / file.name, raw)
        except OSError as error:
            faults.append(f"the picture {file} was not copied ({error.strerror})")
            continue
        copied += 1
    return CopiedPictures(copied, tuple(faults))


def _digest(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()[:_DIGITS]


def _write(target: Path, raw: bytes) -> None:
    """
    Write all of it or nothing, on the disk before it has its name.

    For its owner alone, as the record is.
    """
    mine = f"{os.getpid()}.{secrets.token_hex(4)}"  # two taps at once are two threads
    part = target.with_name(f".{target.name}.{mine}.part")
    try:
        opened = os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        with open(opened, "wb") as file:
            file.write(raw)
        take_name(part, target)  # the entry that names it comes after
    finally:
        part.unlink(missing_ok=True)

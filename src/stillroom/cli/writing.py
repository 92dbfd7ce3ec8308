"""A file is written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from stillroom.refusal import Fault, Unreadable


def write_whole(target: Path, pdf: bytes) -> None:
    """Write all of it or nothing: what lay there before stays until it is whole."""
    part = target.with_name(f".{target.name}.part")
    try:
        try:
            part.write_bytes(pdf)
            os.replace(part, target)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise Unreadable(
            Fault(
                f"{target} cannot be written ({error.strerror}): allow writing there, "
                "free some space, or give another place",
                key="--out",
            )
        ) from None

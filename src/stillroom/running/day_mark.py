"""The mark that tells one day file from another: a run keeps that of its own."""

from __future__ import annotations

import hashlib


def mark_of(day_text: str) -> str:
    """Mark that tells one day file from another."""
    return hashlib.sha256(day_text.encode()).hexdigest()

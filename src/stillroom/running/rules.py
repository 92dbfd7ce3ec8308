"""The published rules that a process clock goes by, each with who says so."""

from __future__ import annotations

from datetime import timedelta

from stillroom.refusal import Source

AT_A_FULL_BOIL = Source(
    "USDA Complete Guide to Home Canning (AIB 539), Guide 1", "looked_up"
)
"""The clock starts at a full boil with the lid on, not before."""

BOIL_LOST = Source(
    "USDA Complete Guide to Home Canning (AIB 539), Guide 1 (known from memory)",
    "memory",
)
"""A lost boil is brought back, and the whole time starts again."""

REST = timedelta(minutes=5)
"""Fire off and lid off, before the jars are lifted out."""
REST_SOURCE = Source("Oklahoma State Univ. Extension, Mixed berry jam", "looked_up")

CUT_SHORT = Source(
    "Univ. of Nebraska Extension (as told in a search result)", "looked_up"
)
"""Jars whose process went wrong: again within two hours, discarded after that."""

OUR_RECORD = "how Stillroom keeps a run"

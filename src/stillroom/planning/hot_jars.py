"""
How jars are lowered into a canner and lifted out, for all who make plans.

The judge has its own copy of both figures, and takes nothing from here: one that
slipped would show between the two.
"""

from __future__ import annotations

LABOUR_QUARTERS = 3
"""Attention that lowering and lifting take, of four. Common practice, no source."""
LIFT_WITHIN_MIN = 10
"""Longest stay in the water after the rest. Common practice, no source. [min]"""

"""Stillroom: plans and computes the preserving day of a small farm."""

__version__ = "0.1.0"

"""Sheets that are printed."""

"""Rows and a template to PDF: nothing is fetched, and nothing written."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Literal

import msgspec
import typst

_NO_GLYPH = "could not be displayed"


class PaperError(RuntimeError):
    """A template of ours is wrong: a mistake in the program, not in the day."""


def press(template: str, rows: Mapping[str, object]) -> bytes:
    """
    Return a tagged PDF (PDF/UA-1), byte for byte the same for the same rows.

    Rows reach the template as JSON, never as source text: what a keeper typed is
    printed as she typed it, whatever it looks like. Fonts come with the program; only
    for a letter that they lack are this machine's asked, and where those lack it too
    it is printed as a box, in a PDF that then claims no standard.

    Parameters
    ----------
    template : str
        File under ``templates``.
    rows : mapping
        What it prints.

    Raises
    ------
    PaperError
        If the template does not compile, or only with warnings (an unknown font is
        only a warning).
    """
    words = msgspec.json.encode(rows).decode()
    try:
        return _pdf(template, words, own_fonts=True, standard="ua-1")
    except _NoGlyph:
        pass
    try:
        return _pdf(template, words, own_fonts=False, standard="ua-1")
    except _NoGlyph:
        return _pdf(template, words, own_fonts=False, standard=None)


class _NoGlyph(PaperError):
    """A letter that none of the fonts has."""


def _pdf(
    template: str, words: str, *, own_fonts: bool, standard: Literal["ua-1"] | None
) -> bytes:
    try:
        made, warnings = typst.compile_with_warnings(
            _template(template),
            format="pdf",
            ignore_system_fonts=own_fonts,
            pdf_standards=standard,
            sys_inputs={"rows": words},
        )
    except typst.TypstError as error:
        kind = _NoGlyph if _NO_GLYPH in str(error) else PaperError
        raise kind(f"{template} does not compile: {error}") from error
    if warnings:
        said = "; ".join(str(warning) for warning in warnings)
        raise PaperError(f"{template} compiles only with warnings: {said}")
    return made


@cache
def _template(name: str) -> bytes:
    return files("stillroom.paper").joinpath("templates", name).read_bytes()

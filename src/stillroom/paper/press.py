"""Rows and a template to PDF: nothing fetched, nothing written, no system font used."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files

import msgspec
import typst


class PaperError(RuntimeError):
    """A template of ours is wrong: a mistake in the program, not in the day."""


def press(template: str, rows: Mapping[str, object]) -> bytes:
    """
    Return a tagged PDF (PDF/UA-1), byte for byte the same for the same rows.

    Rows reach the template as JSON, never as source text: what a keeper typed is
    printed as she typed it, whatever it looks like.

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
    try:
        made, warnings = typst.compile_with_warnings(
            _template(template),
            format="pdf",
            ignore_system_fonts=True,
            pdf_standards="ua-1",
            sys_inputs={"rows": msgspec.json.encode(rows).decode()},
        )
    except typst.TypstError as error:
        raise PaperError(f"{template} does not compile: {error}") from error
    if warnings:
        said = "; ".join(str(warning) for warning in warnings)
        raise PaperError(f"{template} compiles only with warnings: {said}")
    return made


@cache
def _template(name: str) -> bytes:
    return files("stillroom.paper").joinpath("templates", name).read_bytes()

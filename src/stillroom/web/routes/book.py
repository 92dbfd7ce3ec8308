"""The book: what is published, the process look-up, and the jellying point."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.book.elevation import read_elevation_m
from stillroom.book.folk import FolkBeside, folk_beside
from stillroom.book.jars import clean_jars_words
from stillroom.book.jelly_point import jelly_points
from stillroom.book.procedure_table import Procedure
from stillroom.book.procedures import answered_procedures, procedures
from stillroom.book.processes import (
    JARS,
    LONGEST_MARGIN_MIN,
    METHODS,
    Process,
    process_for,
    processes,
)
from stillroom.book.words import tokens
from stillroom.explaining.asking import JARS as DRAWN_JARS
from stillroom.measures import FOOT_M
from stillroom.methods.today import AirToday, air_today
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.which_batches.batch_words import until_words, yield_unit_words
from stillroom.refusal import Refusal, Unreadable
from stillroom.web.pages import page
from stillroom.web.shop import Shop

PACKS = ("hot", "raw")
LONGEST_FIND = 60


@dataclass(frozen=True, slots=True)
class Asked:
    """What stands in the fields of the look-up, as typed."""

    product: str = ""
    jar: str = "half-pint"
    elevation: str = ""
    pack: str = ""
    canner: str = "boiling-water"
    margin: str = ""


def book_page(request: Request) -> Response:
    """Page of the procedures and processes that the book holds, or of some of them."""
    sought = request.query_params.get("find", "").strip()[:LONGEST_FIND]
    tables = _tables()
    return page(
        request,
        "book.html",
        here="book",
        find=sought,
        procedures=[p for p in answered_procedures() if _has(_about(p), sought)],
        for_the_record=[
            p for p in procedures() if p.refuse and _has(_about(p), sought)
        ],
        recipe_count=len(answered_procedures()),
        until=until_words,
        yield_unit=yield_unit_words,
        tables={of: tables[of] for of in tables if _has(" ".join(of), sought)},
        row_count=len(processes()),
        jelly_points=tuple(jelly_points().values()),
    )


def _about(procedure: Procedure) -> str:
    """What a recipe is found by: its names, its kind, what goes in."""
    named = (procedure.title, procedure.name, procedure.fruit, procedure.kind)
    return " ".join((*named, *(one.name for one in procedure.ingredients)))


def _has(text: str, sought: str) -> bool:
    """Whether every word that is sought begins a word of a text."""
    there = tokens(text)
    return all(any(t.startswith(w) for t in there) for w in tokens(sought))


def process_page(request: Request) -> Response:
    """Look a process up; without a product, an empty form."""
    asked = _asked(request)
    faults: dict[str, str] = {}
    answer: Process | Refusal | None = None
    air: AirToday | Refusal | None = None
    typed = bool(request.query_params)
    elevation_m = _elevation_m(asked.elevation, faults) if asked.elevation else None
    if typed and not asked.elevation:
        faults["elevation"] = (
            "Give the height of the kitchen above the sea with its unit, such as "
            "2150 ft or 655 m: every published process is for a band of elevation."
        )
    margin_min = _margin_min(asked.margin, faults)
    if typed and not asked.product:
        faults["product"] = "Name what is in the jars, such as plum jelly."
    if elevation_m is not None:
        air = air_today(elevation_m=elevation_m)
        if typed and asked.product and not faults:
            answer = process_for(
                asked.product,
                jar=asked.jar,
                elevation_ft=elevation_m / float(FOOT_M),
                pack=asked.pack or None,
                canner=asked.canner,
                margin_min=margin_min,
            )
    status = 400 if faults else 422 if isinstance(answer, Refusal) else 200
    return page(
        request,
        "process.html",
        status=status,
        here="book",
        asked=asked,
        faults=faults,
        process=answer if isinstance(answer, Process) else None,
        clean=clean_jars_words(answer.minutes) if isinstance(answer, Process) else "",
        why_jar=_why_jar(answer, asked),
        folk=_folk(answer, air),
        refusal=answer if isinstance(answer, Refusal) else None,
        air=air if isinstance(air, AirToday) else None,
        jars=JARS,
        packs=PACKS,
        canners=METHODS,
        products=sorted({procedure.name for procedure in answered_procedures()}),
    )


def _folk(
    answer: Process | Refusal | None, air: AirToday | Refusal | None
) -> FolkBeside | None:
    """Return what the widespread rule would say, to be shown beside and not used."""
    if not isinstance(answer, Process) or not isinstance(air, AirToday):
        return None
    beside = folk_beside(answer, air.elevation_ft)
    return beside if isinstance(beside, FolkBeside) else None


def _why_jar(answer: Process | Refusal | None, asked: Asked) -> str:
    """Question of the page that draws this jar; empty where none is drawn."""
    if not isinstance(answer, Process) or answer.method != METHODS[0]:
        return ""
    if answer.jar not in DRAWN_JARS:
        return ""
    return urlencode(
        {
            "product": asked.product,
            "jar": answer.jar,
            "pack": answer.pack,
            "elevation": asked.elevation,
        }
    )


def _asked(request: Request) -> Asked:
    given = request.query_params

    def typed(name: str, default: str) -> str:
        return given.get(name, default).strip()[:200]

    return Asked(
        product=typed("product", ""),
        jar=typed("jar", "half-pint"),
        elevation=typed("elevation", "") or kitchen_elevation(request),
        pack=typed("pack", ""),
        canner=typed("canner", "boiling-water"),
        margin=typed("margin", ""),
    )


def kitchen_elevation(request: Request) -> str:
    """
    Elevation of the kitchen as it was typed; empty where none is known.

    The height of an invented kitchen is nobody's own, and a process would be looked up
    in its band: it stands in only where every page says that the record is invented.
    """
    shop: Shop | None = request.app.state.shop
    text = "" if shop is None else shop.day_text()
    if not text.strip():
        return ""
    try:
        day = read_day(text)
    except Unreadable:
        return ""
    if day.invented and not getattr(request.app.state, "invented", False):
        return ""
    if day.kitchen.elevation_m is None:
        return ""
    return str(tomllib.loads(text)["kitchen"]["elevation"])  # feet, or her metres


def _elevation_m(text: str, faults: dict[str, str]) -> float | None:
    try:
        return read_elevation_m(text)
    except Unreadable as unreadable:
        faults["elevation"] = str(unreadable)
        return None


def _margin_min(text: str, faults: dict[str, str]) -> int:
    if not text:
        return 0
    minutes = text.removesuffix("min").strip()
    if minutes.isascii() and minutes.isdecimal() and len(minutes) < 6:
        number = int(minutes)
        if number <= LONGEST_MARGIN_MIN:
            return number
    faults["margin"] = (
        f"{text} is no margin: give whole minutes from 0 to {LONGEST_MARGIN_MIN}. "
        "A margin is added to the published time; nothing shortens it."
    )
    return 0


def _tables() -> dict[tuple[str, str, str], dict[str, list[Process]]]:
    """Return the published rows by product, pack and canner, then by jar."""
    found: dict[tuple[str, str, str], dict[str, list[Process]]] = {}
    for row in processes():
        of = found.setdefault((row.published_as, row.pack, row.method), {})
        of.setdefault(row.jar, []).append(row)
    return found


ROUTES = [Route("/book", book_page), Route("/book/process", process_page)]

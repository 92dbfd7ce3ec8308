"""How a page is made: the templates, what they may call, and a page of plain words."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from stillroom import measures
from stillroom.book.words import may_break
from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.methods.portions import quantity_words, weighs_beside
from stillroom.planning.daytime import said_minutes
from stillroom.planning.timetable import PlanIf
from stillroom.planning.words.division_words import division_words
from stillroom.planning.words.sheet import Sheet, day_sheet
from stillroom.stock.how_long_ago import clock_words
from stillroom.web import where_done, wording

HERE = Path(__file__).parent

NAV = (
    ("day", "/day", "Day"),
    ("stove", "/stove", "At the stove"),
    ("stock", "/stock", "Stock"),
    ("book", "/book", "Book"),
    ("kitchen", "/kitchen", "Kitchen"),
    ("shelf", "/kitchen#shelf", "Shelf"),
    ("wants", "/kitchen#wants", "Wants"),
)
"""Key, address and name of each page in the head; only what exists."""


@cache
def templates() -> Environment:
    """Return the templates: escaped, and strict about names that are not there."""
    environment = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(
        celsius=wording.celsius,
        fahrenheit=wording.fahrenheit,
        litres=wording.litres,
        quarts=wording.quarts,
        height=measures.height,
        depth=measures.depth,
        known=wording.known,
        date=wording.date,
        jars=wording.jars,
        measure=measures.mixed_number,
        quantity=quantity_words,
        weighs=weighs_beside,
        in_one_piece=wording.in_one_piece,
        number=wording.number,
        said_minutes=said_minutes,
        plural=wording.plural,
        hours=wording.hours,
        at_hour=wording.at_hour,
        clock=clock_words,
        capital=capital,
        all_of=all_of,
        whole_sentence=wording.whole_sentence,
        ended=wording.ended,
        linked=where_done.linked,
        may_break=may_break,
        division_words=division_words,
        sheet_of=_sheet_of,
    )
    return environment


def _sheet_of(like: PlanIf) -> Sheet:
    """The sheet of a plan for another day than this."""
    return day_sheet(like.problem, like.timetable)


def page(
    request: Request, template: str, *, status: int = 200, **values: Any
) -> HTMLResponse:
    """
    Return a page.

    Parameters
    ----------
    request : Request
        What was asked; its app says which pages exist.
    template : str
        File under ``templates``.
    status : int
        HTTP status.
    **values
        What the template names. ``here`` is the key of the page in the head.
    """
    values.setdefault("here", "")
    values.setdefault("refresh_s", None)
    path = request.url.path
    values["at_the_stove"] = _is_of_stove(request)
    values["of_stock"] = path == "/stock" or path.startswith("/stock/")
    values["nav"] = _nav(request)
    state = getattr(request.scope.get("app"), "state", None)
    values["invented"] = bool(getattr(state, "invented", False))
    values["damaged"] = getattr(getattr(state, "records", None), "only_read", "")
    html = templates().get_template(template).render(values)
    return HTMLResponse(html, status_code=status)


def word_page(
    request: Request, status: int, headline: str, reason: str, instead: str
) -> HTMLResponse:
    """Return a page of a headline, a reason, and what to do instead."""
    return page(
        request,
        "words.html",
        status=status,
        headline=headline,
        reason=reason,
        instead=instead,
    )


def _is_of_stove(request: Request) -> bool:
    """Whether it was asked at the stove, and there is one to go back to."""
    there = any(address == "/stove" for _, address, _ in _nav(request))
    return there and request.url.path.split("/")[1] in ("stove", "again")


def _nav(request: Request) -> tuple[tuple[str, str, str], ...]:
    app = request.scope.get("app")
    paths = {getattr(route, "path", "") for route in app.routes} if app else {"/day"}
    return tuple(entry for entry in NAV if entry[1].split("#")[0] in paths)

"""A recipe of the keeper's own, held against the rules of its class; never kept."""

from __future__ import annotations

import re
from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.book.elevation import read_elevation_m
from stillroom.measures import FOOT_M
from stillroom.methods.own_class import Classed, ColdOnly, classed
from stillroom.methods.own_recipe import Question
from stillroom.methods.own_yield import HOLDS, expected_jars, weights
from stillroom.methods.recipe_file import new_recipe_text, read_recipe, write_recipe
from stillroom.methods.recipe_jsonld import import_recipe
from stillroom.refusal import Fault, Unreadable
from stillroom.web.asking import LONGEST_FIELD
from stillroom.web.gate import TEXT_OR_FILE
from stillroom.web.pages import page
from stillroom.web.routes.book import kitchen_elevation

_A_PAGE = re.compile(r"\s*(?:<|\{|\[\s*\{)")
"""How a web page or JSON begins, and no recipe file does."""


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of a text."""

    answer: Classed | ColdOnly | None
    faults: tuple[Fault, ...]
    imported: bool = False
    unread: tuple[Question, ...] = ()
    """Lines of a page that could not be read."""


async def own_recipe_page(request: Request) -> Response:
    """Show a recipe to fill in, or say what a recipe that was sent may borrow."""
    if request.method != "POST":
        height = kitchen_elevation(request)
        return _page(request, new_recipe_text(), height)
    async with request.form(**TEXT_OR_FILE) as sent:
        text = await _text_of(sent)
        height = " ".join(str(sent.get("elevation", "")).split())[:LONGEST_FIELD]
    return await run_in_threadpool(_checked, request, text, height)


async def own_recipe_file(request: Request) -> Response:
    """Give the text back as a file, to be planned with."""
    async with request.form(**TEXT_OR_FILE) as sent:
        text = _unix(str(sent.get("text", "")))
    return Response(
        text.encode("utf-8", "replace"),
        media_type="application/toml; charset=utf-8",
        headers={"Content-Disposition": 'attachment; filename="recipe.toml"'},
    )


async def _text_of(sent: FormData) -> str:
    """Return the file that was brought, else what was typed."""
    brought = sent.get("file")
    if isinstance(brought, UploadFile) and brought.filename:
        return _unix((await brought.read()).decode("utf-8-sig", "replace"))
    return _unix(str(sent.get("text", "")))


def _unix(text: str) -> str:
    return text.replace("\r\n", "\n").removeprefix("\ufeff")


def _checked(request: Request, text: str, height: str) -> Response:
    height = height or kitchen_elevation(request)
    elevation_ft, height_fault = None, ""
    if height:
        try:
            elevation_ft = read_elevation_m(height) / float(FOOT_M)
        except Unreadable as fault:
            height_fault = str(fault)
    told, text = _told(text, elevation_ft)
    return _page(request, text, height, told, height_fault)


def _told(text: str, elevation_ft: float | None) -> tuple[Told, str]:
    """Read and class a text; of a page, the recipe file made of it is shown."""
    if not text.strip():
        empty = Fault("nothing is written here; fill in the recipe, or paste a page")
        return Told(None, (empty,)), text
    unread: tuple[Question, ...] = ()
    imported = bool(_A_PAGE.match(text))
    try:
        if imported:
            found = import_recipe(text)
            unread, text = found.questions, write_recipe(found.own, found.questions)
        own = read_recipe(text)
    except Unreadable as fault:
        return Told(None, fault.faults, imported=imported), text
    answer = classed(own, elevation_ft=elevation_ft)
    return Told(answer, (), imported=imported, unread=unread), text


def _page(
    request: Request,
    text: str,
    height: str,
    told: Told | None = None,
    height_fault: str = "",
) -> Response:
    answer = told.answer if told else None
    faults = told.faults if told else ()
    cold = answer if isinstance(answer, ColdOnly) else None
    asked_first = cold.questions if cold else ()
    wrong = bool(faults) or bool(height_fault)
    if asked_first and told and not told.imported:
        wrong = True  # as at the terminal: without an answer there is no process
    return page(
        request,
        "own_recipe.html",
        status=400 if wrong else 200,
        here="book",
        text=text,
        asked={"elevation": height},
        faults={"elevation": height_fault} if height_fault else {},
        wrong=[(one, _says(text, one.line)) for one in faults],
        imported=bool(told and told.imported),
        unread=told.unread if told else (),
        answer=answer,
        cold=cold,
        classed=answer if isinstance(answer, Classed) else None,
        asked_first=[(one, _says(text, one.line)) for one in asked_first],
        expected=expected_jars(answer.own, answer) if answer else None,
        weights=weights(answer.measured) if answer else (),
        holds=HOLDS,
    )


def _says(text: str, line: int | None) -> str:
    """Return the line that a fault or a question is about; of a table, what it is."""
    lines = text.split("\n")[line - 1 :] if line else []
    return next((s.strip()[:100] for s in lines if not s.startswith(("[[", "#"))), "")


ROUTES = [
    Route("/book/own-recipe", own_recipe_page, methods=["GET", "POST"]),
    Route("/book/own-recipe/recipe.toml", own_recipe_file, methods=["POST"]),
]

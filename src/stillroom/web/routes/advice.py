"""What to do now: a trouble, a soft jelly, a measure half-way, and the year."""

from __future__ import annotations

import datetime as dt
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.book.foods_said import FOODS
from stillroom.book.procedures import answered_procedures, procedure_for
from stillroom.book.trouble import troubles, troubles_for, within_words
from stillroom.book.trouble_by_clock import by_the_clock
from stillroom.measures import read_volume_m3, writes_metric
from stillroom.measures.clock import without_hour
from stillroom.methods.by_name import method_named
from stillroom.methods.half_way import Remeasured, remeasured
from stillroom.methods.remade import JARS
from stillroom.methods.soft_jelly import (
    MOST_SOFT_JARS,
    Looks,
    SoftJelly,
    soft_cups,
    soft_jelly,
)
from stillroom.methods.soft_jelly_words import (
    boil_words,
    jars_words,
    remade_parts,
    remake_words,
    whole_words,
)
from stillroom.planning.which_batches.batch_words import teaspoon_as_typed
from stillroom.planning.which_batches.year import YearWant, year_want
from stillroom.planning.which_batches.yields import yield_table
from stillroom.refusal import Refusal, Unreadable
from stillroom.running.her_measure import is_metric
from stillroom.web.asking import (
    SIZES,
    Faults,
    one_of,
    question_page,
    typed,
    whole,
    whole_within,
)
from stillroom.web.now import now_of
from stillroom.web.pages import page


def trouble_page(request: Request) -> Response:
    """Say what a sign may mean; without one, list all signs."""
    asked, faults = typed(request, "sign", "hours", "food"), Faults()
    hours = faults.read("hours", asked["hours"], _hours) if asked["hours"] else None
    answer: Any = None
    if asked["sign"] and not faults.found:
        answer = troubles_for(asked["sign"], hours=hours, food=asked["food"] or None)
    return question_page(
        request,
        "trouble.html",
        answer,
        faults,
        asked=asked,
        foods=tuple(food for food in FOODS if food != "any"),
        every=troubles(),
        by_the_clock=by_the_clock,
        within=lambda trouble: within_words(trouble, hours),
    )


def soft_page(request: Request) -> Response:
    """Say whether a soft jelly waits, or what its remake takes."""
    asked = typed(request, "jars", "jar", "filled", "pectin", "looks", "teaspoon")
    faults = Faults()
    spoon_kg = None
    if asked["teaspoon"]:
        spoon_kg = faults.read(
            "teaspoon", asked["teaspoon"], lambda text: teaspoon_as_typed(text, key="")
        )
    answer: SoftJelly | Refusal | None = None
    if asked["jars"] or asked["filled"]:
        number = faults.read("jars", asked["jars"], whole_within(1, MOST_SOFT_JARS))
        filled = faults.read("filled", asked["filled"], _moment)
        looks = faults.read("looks", asked["looks"] or Looks.SOFT, one_of(*Looks))
        if not faults.found:
            answer = _soft(request, number, filled, asked, Looks(looks))
    # a spoon is weighed in grams by all, and all else is jars: the kitchen tells
    metric = is_metric(request.app.state.shop.day_text())
    tables = []
    if isinstance(answer, SoftJelly) and answer.remaking:
        tables = [
            (title, remade_parts(procedure, metric=metric))
            for title, procedure in zip(
                ("the trial", "each batch"), answer.remaking.procedures, strict=False
            )
        ]
    return question_page(
        request,
        "soft_jelly.html",
        answer,
        faults,
        asked=asked,
        sizes=JARS,
        looks=tuple(Looks),
        tables=tables,
        boil_words=boil_words,
        remake_words=remake_words,
        whole_words=whole_words,
        spoon_kg=spoon_kg,
        in_litres=metric,
        jars_words=jars_words,
    )


def _soft(
    request: Request,
    jars: int,
    filled: dt.datetime,
    asked: dict[str, str],
    looks: Looks,
) -> SoftJelly | Refusal:
    cups = soft_cups(jars, asked["jar"] or JARS[0])
    if isinstance(cups, Refusal):
        return cups
    return soft_jelly(
        pectin=asked["pectin"] or "powdered",
        cups=cups,
        filled_at=filled,
        # as it was typed: what the clock on the kitchen's wall shows
        now=now_of(request).replace(tzinfo=None),
        looks=looks,
    )


def measured_page(request: Request) -> Response:
    """Say what changes when the pulp measures other than expected."""
    asked, faults = typed(request, "product", "quantity", "jar"), Faults()
    answer: Remeasured | Refusal | None = None
    if asked["product"] or asked["quantity"]:
        volume = faults.read("quantity", asked["quantity"], read_volume_m3)
        if volume is not None:
            answer = _remeasured(asked, volume)
    return question_page(
        request,
        "measured.html",
        answer,
        faults,
        asked=asked,
        sizes=SIZES,
        products=sorted(
            {p.name for p in answered_procedures() if p.method == "butter"}
        ),
    )


def _remeasured(asked: dict[str, str], volume_m3: float) -> Remeasured | Refusal:
    procedure = procedure_for(asked["product"])
    if isinstance(procedure, Refusal):
        return procedure
    method = method_named(procedure.method)
    if isinstance(method, Refusal):
        return method
    recipe = method.scale(procedure, 1)
    if isinstance(recipe, Refusal):
        return recipe
    recipe = recipe.said_metric(writes_metric(asked["quantity"]))
    return remeasured(method, recipe, volume_m3, asked["jar"] or "half-pint")


def year_page(request: Request) -> Response:
    """Propose jars for a year."""
    asked = typed(request, "food", "persons", "jar", "eaten")
    faults = Faults()
    answer: YearWant | Refusal | None = None
    if asked["food"]:
        persons = faults.read("persons", asked["persons"] or "1", whole)
        eaten = faults.read("eaten", asked["eaten"], whole) if asked["eaten"] else None
        if persons is not None and not faults.found:
            answer = year_want(
                asked["food"],
                persons=persons,
                jar=asked["jar"] or "pint",
                eaten=eaten,
            )
    return question_page(request, "year.html", answer, faults, asked=asked, sizes=SIZES)


def yields_page(request: Request) -> Response:
    """Show every printed yield beside what its solids can fill."""
    return page(request, "yields.html", here="book", rows=yield_table())


def _hours(text: str) -> float:
    number = text.removesuffix("h").strip()
    if number.replace(".", "", 1).isdecimal() and len(number) <= 7:
        return float(number)
    raise Unreadable(f"{text!r} is no number of hours; give digits, such as 18")


def _moment(text: str) -> dt.datetime:
    if not text:
        raise Unreadable("say the day and the hour, such as 2026-09-01 15:10")
    if lacking := without_hour(text):
        raise Unreadable(lacking)
    try:
        return dt.datetime.fromisoformat(text).replace(tzinfo=None)
    except ValueError:
        raise Unreadable(
            f"{text!r} is no date and time; write it as 2026-09-01 15:10"
        ) from None


ROUTES = [
    Route("/book/trouble", trouble_page),
    Route("/book/soft-jelly", soft_page),
    Route("/book/measured", measured_page),
    Route("/book/year", year_page),
    Route("/book/yields", yields_page),
]

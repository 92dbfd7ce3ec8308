"""What if: the same day with changes, each planned, beside the day as it is."""

from __future__ import annotations

import os
from concurrent.futures import Executor

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.methods.learned import AS_PUBLISHED
from stillroom.planning.change_keys import ChangeKey, change_keys, in_words
from stillroom.planning.dayfile import read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.sheet import clock
from stillroom.planning.what_if import Outcome, what_if
from stillroom.refusal import Fault, Refusal, Unreadable
from stillroom.web.pages import page
from stillroom.web.planner import whole_text

ROWS = 3
"""Days that are compared at once, beside the day as it is."""
LONGEST = 1_500
SECONDS = 3.0
"""For each day's search. [s]"""


def what_if_page(request: Request) -> Response:
    """Ask for changes, and show what they come to."""
    shop = request.app.state.shop
    text = whole_text(shop.day_text())
    typed = [_row(request, n) for n in range(1, ROWS + 1)]
    try:
        day = read_day(text)
        keys = change_keys(day)
    except Unreadable as unreadable:
        return page(request, "unreadable.html", here="day", faults=unreadable.faults)
    words = {_change(row): in_words(day, _change(row)) for row in typed}
    asked = {n: change for n, row in enumerate(typed, 1) if (change := _change(row))}
    faults: dict[int, str] = {}
    found: tuple[Outcome, ...] = ()
    for n, row in enumerate(typed, 1):
        if row["key"] and not row["value"]:
            faults[n] = f'say to what, such as "{_example(keys, row["key"])}"'
    if asked and not faults:
        plan = shop.plan()  # as the day itself is planned: the book's way, or hers
        as_it_is = plan if isinstance(plan, DayPlan | Refusal) else None
        found, faults = _compared(text, asked, as_it_is, request.app.state.beside)
    return page(
        request,
        "what_if.html",
        status=400 if faults else 200,
        here="day",
        keys=keys,
        typed=typed,
        faults=faults,
        found=found,
        base=found[0] if found else None,
        said=_sentence(found, words),
        words=words,
        clock=clock,
        seconds=SECONDS,
    )


def _row(request: Request, n: int) -> dict[str, str]:
    given = request.query_params
    return {
        name: given.get(f"{name}-{n}", "").strip()[:LONGEST]
        for name in ("key", "value", "other")
    }


def _change(row: dict[str, str]) -> str:
    """One day's changes; several with semicolons between them."""
    parts = [f"{row['key']}={row['value']}"] if row["key"] and row["value"] else []
    return "; ".join([*parts, row["other"]] if row["other"] else parts)


def _example(keys: tuple[ChangeKey, ...], path: str) -> str:
    return next((key.example for key in keys if key.path == path), "19:00")


def _compared(
    text: str,
    asked: dict[int, str],
    as_it_is: DayPlan | Refusal | None,
    beside: Executor,
) -> tuple[tuple[Outcome, ...], dict[int, str]]:
    """Plan all of them, or say which change cannot be read."""
    workers = max(1, (os.cpu_count() or 1) // 2)
    try:
        found = what_if(
            text,
            tuple(asked.values()),
            seconds=SECONDS,
            workers=workers,
            executor=beside,
            learned=as_it_is.learned if isinstance(as_it_is, DayPlan) else AS_PUBLISHED,
            as_it_is=as_it_is,
        )
    except Unreadable as unreadable:
        return (), _by_row(asked, unreadable.faults)
    return found, {}


def _by_row(asked: dict[int, str], faults: tuple[Fault, ...]) -> dict[int, str]:
    """The fault beside its change, which it need not name; else beside the first."""
    found: dict[int, str] = {}
    for fault in faults:
        at, said = next(iter(asked)), fault.what
        for n, change in asked.items():
            named = f"with {change}: "
            if said.startswith(named):
                at, said = n, said.removeprefix(named)
                break
            if change[:40] in said:
                at = n
                break
        found.setdefault(at, said)
    return found


def _sentence(found: tuple[Outcome, ...], words: dict[str, str]) -> str:
    """What helps most, in one sentence."""
    if not found:
        return ""
    base, others = found[0], found[1:]
    ends = [o for o in others if o.finish_min is not None]
    if not ends:
        return "With none of these changes the day has a timetable."
    best = min(ends, key=lambda o: (o.lateness, o.ends_clock_min))
    at = clock(best.starts_at, best.finish_min or 0)
    with_it = words.get(best.change, best.change)
    done = f"Done by {at} if {with_it}"
    by = best.later_min(base)
    if by is None:
        return f"{done}; as it is, the day does not fit."
    if by == 0:
        return f"{done}: the same as it is now."
    return f"{done}: {abs(by)} min {'later' if by > 0 else 'sooner'} than as it is."


ROUTES = [Route("/what-if", what_if_page)]

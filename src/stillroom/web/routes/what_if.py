"""What if: the same day with changes, each planned, beside the day as it is."""

from __future__ import annotations

import os
from concurrent.futures import Executor

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.methods.learned import AS_PUBLISHED
from stillroom.planning.day_file.change_keys import ChangeKey, change_keys, in_words
from stillroom.planning.day_file.day_changes import LONGEST_CHANGE, changed_day_text
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.other_days.told_beside import told_beside
from stillroom.planning.other_days.what_if import Outcome, plans_at_hand, what_if
from stillroom.planning.other_days.what_if_words import (
    comparison,
    missing_words,
    nobody_there,
    search_may_differ,
)
from stillroom.planning.timetable import NoPlan
from stillroom.planning.ways.held_plan import KnownPlan
from stillroom.planning.words.how_long import what_if_words
from stillroom.records.days import ChangedMeanwhile
from stillroom.refusal import Refusal, Unreadable
from stillroom.running.day_mark import mark_of
from stillroom.web.day_faults import in_the_form
from stillroom.web.gone_by import has_begun
from stillroom.web.pages import page
from stillroom.web.saved_day import WHAT_IF, changed_meanwhile, not_to_be_saved
from stillroom.web.shop import Shop

ROWS = 3
"""Days that are compared at once, beside the day as it is."""
LONGEST = LONGEST_CHANGE + 1
"""So much is read, so that a change that is too long is refused and loses no end."""
SECONDS = 3.0
"""For each day's search. [s]"""


def what_if_page(request: Request) -> Response:
    """Ask for changes, and show what they come to."""
    shop = request.app.state.shop
    text = shop.day_text()
    typed = [_row(request, n) for n in range(1, ROWS + 1)]
    try:
        day = read_day(text)
        keys = change_keys(day)
    except Unreadable as unreadable:
        return page(
            request,
            "unreadable.html",
            here="day",
            of_the_day=in_the_form(unreadable.faults),
        )
    of = {key.path: key for key in keys}
    for row in typed:
        if row["key"] in of:
            row["value"] = of[row["key"]].meant(row["value"])
    asked = {n: change for n, row in enumerate(typed, 1) if (change := _change(row))}
    faults: dict[int, str] = {}
    found: tuple[Outcome, ...] = ()
    for n, row in enumerate(typed, 1):
        if row["key"] and not row["value"]:
            faults[n] = f'say to what, such as "{_example(keys, row["key"])}"'
        elif row["value"] and not row["key"]:
            faults[n] = f'"{row["value"]}" of what? Say what changes'
        elif n in asked and (fault := _fault(text, asked[n])):
            faults[n] = fault
    # only what the day file takes is said in words: what was typed may be anything
    taken = [change for n, change in asked.items() if n not in faults]
    words = {change: in_words(day, change) for change in taken}
    if asked and not faults:
        plan = shop.plan()  # as the day itself is planned: the book's way, or hers
        as_it_is = plan if isinstance(plan, DayPlan | Refusal) else None
        found = _compared(text, asked, as_it_is, request.app.state.beside)
    for one in found[1:]:
        if one.plan is not None:
            request.app.state.found.keep(text, one.change, one.plan)
    return page(
        request,
        "what_if.html",
        status=400 if faults else 200,
        here="day",
        keys=keys,
        example=_example,
        typed=typed,
        faults=faults,
        found=found,
        base=found[0] if found else None,
        said=comparison(found, words),
        left_out=missing_words,
        may_differ=search_may_differ(found),
        nobody_there=nobody_there,
        told_beside=told_beside,
        words=words,
        mark=mark_of(shop.day_text()),
        begun=has_begun(request),
        clock=clock_time,
        seconds=SECONDS,
        how_long=what_if_words(ROWS, os.cpu_count() or 1, SECONDS),
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
    """What may be typed for a key; an hour where none is chosen yet."""
    return next((key.example for key in keys if key.path == path), "19:00")


def _fault(text: str, change: str) -> str:
    """What is wrong with a change, which stands beside its own row; empty for none."""
    try:
        changed_day_text(text, change)
    except Unreadable as unreadable:
        named = f"with {change}: "
        return "; ".join(f.what.removeprefix(named) for f in unreadable.faults)
    return ""


def _compared(
    text: str,
    asked: dict[int, str],
    as_it_is: DayPlan | Refusal | None,
    beside: Executor,
) -> tuple[Outcome, ...]:
    """Plan all of them, which were read before."""
    return what_if(
        text,
        tuple(asked.values()),
        seconds=SECONDS,
        workers=max(1, (os.cpu_count() or 1) // 2),
        executor=beside,
        learned=as_it_is.learned if isinstance(as_it_is, DayPlan) else AS_PUBLISHED,
        as_it_is=as_it_is,
    )


async def take_it(request: Request) -> Response:
    """Make a changed day the day of the pages, with the plan that was shown of it."""
    async with request.form(max_fields=10, max_files=0) as sent:
        change, mark = str(sent.get("change", "")), str(sent.get("of", ""))
    return await run_in_threadpool(_take_it, request, change[:LONGEST], mark)


def _take_it(request: Request, change: str, mark: str) -> Response:
    shop: Shop = request.app.state.shop
    text = shop.day_text()
    if _was_taken(request, change, mark):
        return RedirectResponse("/day", status_code=303)  # a second tap
    if (no := not_to_be_saved(request, mark)) is not None:
        return no
    try:
        changed = changed_day_text(text, change)
        words = in_words(read_day(text), change)
    except Unreadable as unreadable:
        return page(
            request,
            "unreadable.html",
            status=400,
            here="day",
            of_the_day=in_the_form(unreadable.faults),
        )
    known = _shown(request, change)
    try:
        shop.save_day(
            changed,
            f"{WHAT_IF}{words}",
            over=text,
            begin_with=known,
            promised=known[0] if known else None,
        )
    except ChangedMeanwhile:
        return changed_meanwhile(request)
    return RedirectResponse("/day", status_code=303)


def _was_taken(request: Request, change: str, mark: str) -> bool:
    """Whether the day stands so already, by a tap whose answer was lost."""
    records = request.app.state.records
    if records is None:
        return False
    before = [r for r in records.days.revisions()[-2:-1] if mark_of(r.text) == mark]
    try:
        return any(
            changed_day_text(r.text, change) == records.days.current() for r in before
        )
    except Unreadable:
        return False


def _shown(request: Request, change: str) -> tuple[KnownPlan, ...]:
    """
    What was shown of a change, the plan that was promised first.

    That is the plan of the what-if day or of the way out; then that of the day as it
    was, and of its other ways out.
    """
    shop: Shop = request.app.state.shop
    kept = request.app.state.found.of(shop.day_text(), change)
    known = plans_at_hand(kept) if isinstance(kept, DayPlan) else ()
    plan = shop.plan()
    if isinstance(plan, DayPlan):
        at_hand = plans_at_hand(plan)
        none = plan.answer if isinstance(plan.answer, NoPlan) else plan.too_much
        ways = none.ways_out if none else ()
        chosen = [way.timetable for way in ways if way.typed == change]
        known += tuple(sorted(at_hand, key=lambda k: k.plan not in chosen))
    return known


ROUTES = [
    Route("/what-if", what_if_page),
    Route("/what-if/take", take_it, methods=["POST"]),
]

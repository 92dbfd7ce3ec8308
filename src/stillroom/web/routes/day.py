"""The day: what matters in a sentence, the drawn sheet, and the same as a list."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.paper.sheets import Page, day_sheet_pdf
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.sentence import by_hand_sentence, how_good, made_and_beside
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.words.how_long import how_long_words
from stillroom.planning.words.learned_words import apart, own_figures
from stillroom.planning.words.load_words import words_of
from stillroom.planning.words.sheet import day_sheet
from stillroom.refusal import Refusal, Unreadable
from stillroom.running.day_mark import mark_of
from stillroom.running.fold import RunState
from stillroom.running.handle import run_id
from stillroom.running.loads import names_of
from stillroom.running.so_far import minute_of
from stillroom.web import wording
from stillroom.web.day_faults import in_the_form
from stillroom.web.days_begun import day_at_the_stove
from stillroom.web.drawing import draw, minutes_css
from stillroom.web.gone_by import (
    gone_by,
    has_begun,
    last_taken,
    may_plan_again,
    planned_again,
    run_of,
)
from stillroom.web.hours import hours_of
from stillroom.web.now import now_of
from stillroom.web.odds_kept import ODDS
from stillroom.web.pages import page
from stillroom.web.routes.search_on import how_long_it_takes, searched_words
from stillroom.web.routes.shelf import pdf_response
from stillroom.web.saved_day import changed_by
from stillroom.web.shop import Shop


def day_page(request: Request) -> Response:
    """Page of the day, or of what stands in its way."""
    shop: Shop = request.app.state.shop
    if not shop.day_text().strip():
        return page(request, "no_day.html", here="day")
    planned = shop.plan_within(0.2)  # most plans in the cache; a small day at once
    match gone_by(request, planned):
        case None:
            return page(
                request,
                "working.html",
                here="day",
                refresh_s=1,
                how_long=how_long_words(shop.seconds),
            )
        case Unreadable(faults=faults):
            return page(
                request,
                "unreadable.html",
                here="day",
                status=200,
                of_the_day=in_the_form(faults),
            )
        case Refusal() as refusal:
            return page(request, "refused.html", here="day", refusal=refusal)
        case DayPlan() as plan:
            return _plan_page(request, plan)


def _is_another(plan: DayPlan, run: RunState, shop: Shop) -> bool:
    """Whether a plan is not the one that a run of its date was begun by."""
    if run.plan is None:
        return False
    return (run.plan.of, run.plan.problem) != (mark_of(shop.day_text()), plan.problem)


def _plan_page(request: Request, plan: DayPlan) -> Response:
    said, beside = made_and_beside(plan)
    again, run = last_taken(request, plan), run_of(request, plan)
    when = planned_again(request, plan)
    shop: Shop = request.app.state.shop
    searched = shop.searched()
    if again is not None and not plan.left_out:
        beside = ""  # what was proven, was proven of the day as it was to be
    own, agree = apart(own_figures(plan))
    going = day_at_the_stove(request)
    common: dict[str, Any] = {
        "here": "day",
        "again": again,
        "again_at": "" if when is None else when.at,
        "begun": run.begun_at is not None and run.plan is not None,
        "rest_to_plan": may_plan_again(request, run),
        "going": going,
        "going_by_another": going is not None
        and (going.run != run_id(plan.day.date) or _is_another(plan, run, shop)),
        "said": said,
        "beside": beside,
        "by_hand": by_hand_sentence(plan),
        "good": how_good(plan),
        "plan": plan,
        "made": wording.what_is_made(plan),
        "batch_cautions": {
            caution.text for batch in plan.batches for caution in batch.all_cautions
        },
        "jar_count": sum(batch.jars for batch in plan.batches),
        "own": own,
        "agree": agree,
        "kept": request.app.state.records is not None,
        "mark": mark_of(shop.day_text()),
        "changed_by": changed_by(request),
        "searched": searched,
        "searched_words": searched_words(request, searched),
        "search_takes": how_long_it_takes(shop.longer.how_long(plan))
        if _can_be_better(plan) and not has_begun(request)
        else "",
    }
    match plan.answer:
        case Answer() as answer if plan.problem is not None:
            sheet = day_sheet(plan.problem, answer.timetable)
            return page(
                request,
                "day.html",
                answer=answer,
                sheet=sheet,
                by_hand_sheet=None
                if answer.by_hand is None or again is not None
                else day_sheet(plan.problem, answer.by_hand),
                load_names=names_of(plan),
                load_words={
                    load.id: words_of(plan.problem, load)
                    for load in answer.timetable.loads
                },
                odds=ODDS.of(
                    plan.problem,
                    answer.timetable,
                    plan.learned,
                    None if when is None else when.minute,
                ),
                unfolded="who" in request.query_params,
                hours=hours_of(sheet, _now_min(request, plan, run)),
                drawing=draw(sheet, who=request.query_params.get("who", "")),
                **common,
            )
        case NoPlan() as answer:
            return page(request, "no_plan.html", answer=answer, **common)
        case _:
            return page(request, "no_batch.html", **common)


def _can_be_better(plan: DayPlan) -> bool:
    """Whether a longer search may find more than is there."""
    match plan.answer:
        case Answer() as answer:
            return bool(plan.left_out) or not answer.proven
        case NoPlan() as answer:
            return not answer.minimal and not answer.nothing_can_be_made
        case _:
            return False


def _now_min(request: Request, plan: DayPlan, run: RunState) -> int | None:
    """Minute of the plan that it is now; `None` on another day, or when it is over."""
    now = now_of(request)
    if plan.problem is None:
        return None
    if run.begun_at is not None and run.plan is not None:
        minute = minute_of(now, run.begun_at.astimezone(now.tzinfo), plan.problem)
        if 0 <= minute <= run.plan.timetable.finish_min:
            return minute
    return minute_of(now, now, plan.problem) if now.date() == plan.day.date else None


def sheet_pdf(request: Request) -> Response:
    """Give the day on paper: what is pinned up and ticked with a pencil."""
    shop: Shop = request.app.state.shop
    planned = shop.plan_within(1.0) if shop.day_text().strip() else None
    planned = gone_by(request, planned)
    if not isinstance(planned, DayPlan):
        return RedirectResponse("/day", status_code=303)  # which says why
    size: Page = "a4" if request.query_params.get("paper") == "a4" else "us-letter"
    made = day_sheet_pdf(planned, page=size, again=planned_again(request, planned))
    return pdf_response(made, "day-sheet.pdf")


def minutes(request: Request) -> Response:
    """Stylesheet of the sheet's minutes: the same for every day."""
    return Response(
        minutes_css(),
        media_type="text/css",
        headers={"Cache-Control": "private, max-age=86400"},
    )


ROUTES = [
    Route("/day", day_page),
    Route("/day/sheet.pdf", sheet_pdf),
    Route("/minutes.css", minutes),
]

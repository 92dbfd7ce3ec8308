"""How sure the day is, and why each thing begins when it does."""

from __future__ import annotations

from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from stillroom.planning.day_odds.odds import LESS_MIN
from stillroom.planning.day_odds.odds_words import (
    A_FEW_MINUTES,
    MATTERS_IN_ORDER,
    OFTEN_A_DAY,
    against_words,
    chance_words,
    odds_sentence,
    promise_words,
    rests_on,
    step_words,
)
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.other_days.brought_back import BroughtBack
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.why import Because, limit_of_the_day, why, why_so_long
from stillroom.planning.which_batches.not_made import (
    not_made_sentence,
    promised_and_not_made,
)
from stillroom.planning.words.how_long import one_more_s
from stillroom.refusal import Unreadable
from stillroom.running.loads import names_of
from stillroom.web.gone_by import plan_gone_by, planned_again
from stillroom.web.odds_drawing import draw_odds
from stillroom.web.odds_kept import ODDS, ONE_MORE, ONE_MORE_S
from stillroom.web.pages import page, word_page


def odds_page(request: Request) -> Response:
    """Page of the odds of the day; with ``more``, what one more would bring."""
    plan = plan_gone_by(request)
    if plan is None or plan.problem is None or not isinstance(plan.answer, Answer):
        return RedirectResponse("/day", status_code=303)
    problem, answer = plan.problem, plan.answer
    again = planned_again(request, plan)
    since = None if again is None else again.minute
    odds = ODDS.of(problem, answer.timetable, plan.learned, since)
    more = None
    back: tuple[BroughtBack, ...] = ()
    if "more" in request.query_params and since is None:
        more = ONE_MORE.of(problem, answer.timetable, request.app.state.beside)
        back = ONE_MORE.back_of(plan, request.app.state.beside)
    return page(
        request,
        "odds.html",
        here="day",
        plan=plan,
        odds=odds,
        said=odds_sentence(odds, problem.starts_at),
        not_made=not_made_sentence(plan),
        promises=[
            promise_words(p, problem.starts_at, promised_and_not_made(plan))
            for p in odds.promises
        ],
        few=A_FEW_MINUTES,
        since="" if again is None else again.at,
        limit=limit_of_the_day(problem, answer.timetable),
        drawing=draw_odds(odds, problem.starts_at),
        clock=lambda minute: clock_time(problem.starts_at, minute),
        chance=chance_words,
        less_min=LESS_MIN,
        in_order=MATTERS_IN_ORDER,
        matters=[
            (
                m,
                step_words(problem, answer.timetable, m.of, m.step),
                _address(m.of, m.step),
                rests_on(problem, answer.timetable, m.of, m.step),
            )
            for m in odds.matters
        ],
        often=[b for b in odds.broken if b.times_a_day >= OFTEN_A_DAY],
        more=more,
        against=against_words(more, problem, answer.timetable) if more else "",
        back=back,
        out_jars=sum(left.jars for left in plan.left_out),
        more_s=one_more_s(ONE_MORE_S, left_out=bool(plan.left_out)),
    )


def why_then_page(request: Request) -> Response:
    """Page of what holds a step, a batch, a load, or the end of the day."""
    plan = plan_gone_by(request)
    if plan is None or plan.problem is None or not isinstance(plan.answer, Answer):
        return RedirectResponse("/day", status_code=303)
    problem, table = plan.problem, plan.answer.timetable
    asked = request.query_params.get("of", "").strip()
    if asked and (out := plan.left_out_as(asked)):
        said = f"Left out: {out.sentence}"
        return page(request, "why_left_out.html", here="day", plan=plan, said=said)
    try:
        found = why(problem, table, asked) if asked else why_so_long(problem, table)
    except Unreadable as fault:
        return word_page(
            request,
            404,
            "Nothing of that name",
            str(fault),
            "go back to the day and ask from there",
        )
    names = names_of(plan)
    return page(
        request,
        "why_then.html",
        here="day",
        plan=plan,
        asked=asked,
        first=found.chain[0] if found.chain else None,
        told=[(b, _made_of(b, plan, names)) for b in found.told[1:]],
        whole=found.chain,
        limit=limit_of_the_day(problem, table),
        clock=lambda minute: clock_time(problem.starts_at, minute),
    )


def address_of(asked: str) -> str:
    """Address of the page that answers for a step, a batch or a load."""
    return "/then?" + urlencode({"of": asked})


def _address(of: str, step: str) -> str:
    return address_of(f"{of}/{step}")


def _made_of(because: Because, plan: DayPlan, names: dict[str, str]) -> str:
    """Address of the batch or load that a link of the chain is part of."""
    if because.batch in names:
        return f"/load/{because.batch}"
    if any(batch.id == because.batch for batch in plan.batches):
        return f"/batch/{because.batch}"
    return ""


ROUTES = [
    Route("/odds", odds_page),
    Route("/then", why_then_page),
]

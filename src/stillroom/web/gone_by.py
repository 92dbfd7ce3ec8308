"""The plan that the day goes by: the day file's, or what was taken over since."""

from __future__ import annotations

from starlette.requests import Request

from stillroom.paper.sheets import Again
from stillroom.planning.dayplan import DayPlan
from stillroom.running.again import nothing_left
from stillroom.running.day_mark import mark_of
from stillroom.running.events import PlanTaken
from stillroom.running.fold import NOT_BEGUN, RunState
from stillroom.running.handle import run_id, state_of
from stillroom.running.kept_plan import own_file, plan_now, taken_of
from stillroom.running.so_far import minute_of
from stillroom.web.now import now_of
from stillroom.web.planner import Planned
from stillroom.web.shop import Shop

PATIENCE_S = 10.0
"""So much longer than the search is waited for a plan. [s]"""


def run_of(request: Request, plan: DayPlan) -> RunState:
    """Run of the day of a plan; one that has not begun where no record is kept."""
    records = request.app.state.records
    if records is None:
        return NOT_BEGUN
    return state_of(run_id(plan.day.date), ledger=records.ledger)


def has_begun(request: Request) -> bool:
    """Whether the board at the stove goes by the day as it stands."""
    plan = request.app.state.shop.plan()
    if not isinstance(plan, DayPlan):
        return False
    run = run_of(request, plan)
    if run.begun_at is None or run.plan is None:
        return False
    return run.plan.of == mark_of(request.app.state.shop.day_text())


def gone_by(request: Request, planned: Planned | None) -> Planned | None:
    """Return a plan as the run goes by it now; anything else as it is."""
    if not isinstance(planned, DayPlan):
        return planned
    text = request.app.state.shop.day_text()
    return plan_now(planned, run_of(request, planned), text)


def plan_gone_by(request: Request) -> DayPlan | None:
    """Return the plan, waited for; `None` where the day's page has to say why not."""
    shop: Shop = request.app.state.shop
    if not shop.day_text().strip():
        return None
    planned = gone_by(request, shop.plan_within(PATIENCE_S + shop.seconds))
    return planned if isinstance(planned, DayPlan) else None


def may_plan_again(request: Request, state: RunState) -> bool:
    """Whether something of a run is to come, or may be taken in after all."""
    if state.begun_at is None or state.plan is None:
        return False
    if nothing_left(state) is None:
        return True
    shop: Shop = request.app.state.shop
    return bool(own_file(shop.plan(), state, shop.day_text()).spares)


def last_taken(request: Request, plan: DayPlan) -> PlanTaken | None:
    """Plan that was taken over last, where ``plan`` is that one."""
    return taken_of(plan, run_of(request, plan), request.app.state.shop.day_text())


def planned_again(request: Request, plan: DayPlan) -> Again | None:
    """Return when the plan was last taken over; `None` where it never was."""
    taken = last_taken(request, plan)
    if taken is None or plan.problem is None:
        return None
    zone = now_of(request).tzinfo
    begun = run_of(request, plan).begun_at or taken.occurred_at
    return Again(
        minute=minute_of(taken.occurred_at, begun.astimezone(zone), plan.problem),
        at=f"{taken.occurred_at.astimezone(zone):%-H:%M}",
    )

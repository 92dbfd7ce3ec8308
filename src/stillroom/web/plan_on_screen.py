"""
The plan that stood on the screen when the day was begun, and another one meanwhile.

A page stays open while a longer search ends or the day is changed. What is begun goes
by the plan that was read, or by none.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from starlette.datastructures import FormData

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.timetable import Answer
from stillroom.running.kept_plan import mark_of_plan

_CLOCK = re.compile(r"\d\d?:\d\d( \((next day|day \d)\))?", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnScreen:
    """What a page carries of the plan that it shows."""

    mark: str
    """Tells it from any other; empty where the page does not say."""
    done: str
    """When it is done, "15:58"; empty where that is not known."""


def on_screen(plan: DayPlan, day_text: str) -> OnScreen:
    """Return what a page is to carry of a plan."""
    done = ""
    if plan.problem is not None and isinstance(plan.answer, Answer):
        done = clock_time(plan.problem.starts_at, plan.answer.timetable.finish_min)
    return OnScreen(mark=mark_of_plan(plan, day_text), done=done)


def read_from(form: FormData) -> OnScreen:
    """Return what a form carries; an hour that is none is left away."""
    done = str(form.get("done", ""))
    return OnScreen(
        mark=str(form.get("plan", "")),
        done=done if _CLOCK.fullmatch(done) else "",
    )


def what_differs(shown: OnScreen, now: OnScreen) -> str:
    """
    Say when the plan as it is now is done, and when the one that was shown.

    >>> what_differs(OnScreen(mark="a", done="16:14"), OnScreen(mark="b", done="15:58"))
    'It is done at 15:58; the one that was shown, at 16:14.'
    >>> what_differs(OnScreen(mark="a", done="15:58"), OnScreen(mark="b", done="15:58"))
    'Both are done at 15:58; what comes when until then is otherwise.'
    """
    if not shown.done:
        return f"It is done at {now.done}."
    if shown.done == now.done:
        return f"Both are done at {now.done}; what comes when until then is otherwise."
    return f"It is done at {now.done}; the one that was shown, at {shown.done}."

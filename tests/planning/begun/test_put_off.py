"""The old order put off: not before now, nor before what is said, nor who comes."""

from __future__ import annotations

import pytest
from planning.small_days import day, person, step, work
from planning.written_out import at

from stillroom.planning.begun.put_off import put_off
from stillroom.planning.happened import Happened
from stillroom.planning.timetable import Timetable

PLAN = Timetable(steps=(at("a", "wash", 10, 15, "Ada"),), loads=(), breaks=())


@pytest.mark.parametrize(
    ("comes", "said", "begins"),
    [
        (0, None, 10),  # nobody says otherwise: it may have begun by the plan
        (0, 30, 30),  # it was said that it has not
        (50, 30, 50),
        (20, 30, 30),
        (20, None, 20),
    ],
)
def test_what_was_said_not_to_have_begun_does_not_begin_sooner(
    comes: int, said: int | None, begins: int
) -> None:
    problem = day(
        work("a", step("wash", 5, 3)), people=(person("Ada", arrives_min=comes),)
    )
    nothing = Happened(now_min=30, steps=(), loads=())
    key = ("a", "wash")
    waits = {} if said is None else {key: said}
    later = put_off(problem, PLAN, nothing, past=True, not_before=waits)
    assert later.start[key] == begins
    # what has not begun by now does not begin before it
    assert put_off(problem, PLAN, nothing).start[key] == max(30, comes)

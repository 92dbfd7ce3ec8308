"""The rest of a day is planned for who is said to be at two things at once."""

from __future__ import annotations

import pytest
from planning.small_days import day, person
from planning.written_out import at, batch, labour

from stillroom.planning.happened import Happened
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import Timetable


@pytest.mark.parametrize(("has", "second"), [(4, 2), (3, 1)])
def test_the_rest_of_the_day_is_planned_for_who_began_a_second_thing(
    has: int, second: int
) -> None:
    """
    The one asks for 3 quarters and the other for more than is left of four, or three.

    That is past: no limit of the rest gives way, and the third is begun when the first
    is done, at 20, not 20 min later as it was meant.
    """
    quarters = {"a": 3, "b": second, "c": 2}
    minutes = {"a": 20, "b": 20, "c": 5}
    problem = day(
        *(batch(name, labour(minutes[name], quarters[name])) for name in "abc"),
        people=(person("p1", quarters=has),),
    )
    a, b, c = (
        at(name, "do", start, start + minutes[name], "p1", quarters=quarters[name])
        for name, start in (("a", 0), ("b", 20), ("c", 40))
    )
    old = Timetable(steps=(a, b, c), loads=(), breaks=())
    early = at("b", "do", 5, 25, "p1", quarters=second)
    happened = Happened(now_min=10, steps=(a, early), loads=())
    found = replan(problem, old, happened, seconds=3, workers=1)
    assert found.broken == ()
    assert [s.start_min for s in found.new.steps if s.batch == "c"] == [20]

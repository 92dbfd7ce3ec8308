"""When a load may be lifted otherwise, and its canner be free for what comes then."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day
from planning.written_out import LID, closed, load

from stillroom.planning.how_good.other_hands import _lift_starts
from stillroom.planning.timetable import Timetable


@pytest.mark.parametrize(
    ("burner", "since", "latest"),
    [("strong-1", 70, 66), ("strong-1", 65, 61), ("strong-1", 200, 71),
     ("weak-1", 70, 71)],
)  # fmt: skip
def test_jars_are_out_before_their_burner_is_somebody_elses(
    burner: str, since: int, latest: int
) -> None:
    # rested at 61 and lifted within 10 min of that, which takes 4
    burners = tuple(
        replace(b, taken=((since, since + 30),)) if b.id == burner else b
        for b in day().burners
    )
    problem = day(closed(), burners=burners)
    plan = Timetable(steps=(LID,), loads=(load(),), breaks=())
    assert _lift_starts(problem, plan, plan.loads[0]) == range(61, latest + 1)

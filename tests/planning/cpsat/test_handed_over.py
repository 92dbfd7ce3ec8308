"""A search that cannot begin with the plan at hand says so in the keeper's words."""

import pytest

from stillroom.planning.cpsat import solve
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer
from tests.planning.small_days import butter, day, jelly


@pytest.mark.parametrize("by_work", [True, False])
def test_where_no_plan_could_be_handed_over_it_is_said(monkeypatch, by_work):
    """As by the clock, where the time is over meanwhile."""
    monkeypatch.setattr(solve, "hint_fully", lambda *_: None)
    problem = day(jelly(), butter(), people=2)
    answer = plan_day(problem, seconds=1, deterministic=by_work)
    assert isinstance(answer, Answer)
    (said,) = (r for r in answer.remarks if "begin with the plan at hand" in r)
    assert "with more seconds a better plan may be found" in said
    assert not any("solver" in r or "handed" in r for r in answer.remarks)

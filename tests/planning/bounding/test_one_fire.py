"""Pot and canner on the same fire: said where it never works, and only there."""

import pytest
from planning.small_days import canner, day, jelly
from planning.told_why import planned_or_told_why

from stillroom.planning import start
from stillroom.planning.bounding.one_fire import one_fire_for_both
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Burner
from stillroom.planning.timetable import Answer, NoPlan

ONLY = Burner(id="strong-1", power_w=3000.0)
SECOND = Burner(id="strong-2", power_w=3000.0)


def kitchen(heat_min: int, *burners: Burner, canners: int = 1):
    on = [b.id for b in burners[-canners:]]
    return day(
        jelly(jars=8),
        burners=burners,
        canners=tuple(
            canner(f"canner {name}", burners=(name,), first_heat_min=heat_min)
            for name in on
        ),
    )


@pytest.mark.parametrize("heat_min", [5, 20, 35, 36, 37, 60])
def test_it_is_said_where_the_solver_proves_it_and_nowhere_else(heat_min, monkeypatch):
    problem = kitchen(heat_min, ONLY)
    said = list(one_fire_for_both(problem))
    monkeypatch.setattr(start, "one_fire_for_both", lambda _: ())
    answer = plan_day(problem, seconds=2)
    if isinstance(answer, Answer):
        assert not violations(problem, answer.timetable)
        assert not said
    else:
        assert answer.impossible
        assert [one.batch.id for one in said] == ["jelly-1"]


def test_a_fire_more_takes_it_away():
    assert list(one_fire_for_both(kitchen(60, ONLY)))
    assert not list(one_fire_for_both(kitchen(60, SECOND, ONLY)))
    # each canner on the only other fire of the pot: one of the two is enough
    assert not list(one_fire_for_both(kitchen(60, SECOND, ONLY, canners=2)))


def test_a_kitchen_with_one_weak_fire_is_told_so_and_not_to_search_longer():
    none = planned_or_told_why(kitchen(60, ONLY), seconds=1)
    assert isinstance(none, NoPlan)
    (clash,) = none.clashes
    assert (
        "jelly-1: its pot and canner strong-1 can only stand on the same fire" in clash
    )
    assert "its water takes 1 h to get hot once the pot is off" in clash
    assert "min closed, at most 20 are allowed" in clash
    assert not any("for the search" in said for said in none.would_help)
    assert any("one more burner" in way.says for way in none.ways_out)

"""A lane shows what is in it, and for as long as it is."""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.problem import Burner
from stillroom.planning.words.entries import STAYS_WARM_MIN, _again
from stillroom.planning.words.lanes import LaneKind
from stillroom.planning.words.load_words import words_of
from stillroom.planning.words.sheet import day_sheet
from tests.planning.small_days import HALF_PINT, canner, day, jelly

PROBLEM = day(
    jelly("jelly-1"),
    jelly("jelly-2"),
    jelly("jelly-3"),
    people=2,
    burners=tuple(Burner(id=f"strong-{n}", power_w=3000.0) for n in (1, 2, 3, 4)),
    canners=(
        canner("first", places={"half_pint": 8}),
        canner("second", burners=("strong-2",), places={"half_pint": 8}),
    ),
)


def test_each_canner_and_its_fire_show_its_own_loads_to_their_end():
    plan = by_hand(PROBLEM)
    assert plan is not None
    *before, last = plan.loads
    assert before
    plan = replace(plan, loads=(*before, replace(last, canner="second")))
    lanes = {
        (lane.kind, lane.name): lane.blocks for lane in day_sheet(PROBLEM, plan).lanes
    }
    for one in PROBLEM.canners:
        mine = {load.id: load for load in plan.loads if load.canner == one.id}
        blocks = lanes[LaneKind.CANNER, one.id]
        assert {block.load for block in blocks} == set(mine)
        assert max(b.end_min for b in blocks) == max(x.out_min for x in mine.values())
        on_fire = [b for b in lanes[LaneKind.FIRE, one.burners[0]] if b.load]
        until = max(load.stands_until_min for load in mine.values())
        assert on_fire[-1].end_min == until  # nobody carries it full of jars


def test_the_water_over_the_lids_goes_by_the_minutes_of_the_load():
    """USDA Guide 1: two inches for a process of more than half an hour."""
    plan = by_hand(PROBLEM)
    assert plan is not None
    long = replace(PROBLEM, processes=(replace(HALF_PINT, minutes=35),))
    said = [words_of(p, plan.loads[0]).lower_until for p in (PROBLEM, long)]
    assert [one[:8] for one in said] == ["1 to 2 i", "2 inches"]


def test_water_that_stood_for_longer_than_it_stays_warm_is_not_called_warm():
    assert _again(STAYS_WARM_MIN).startswith("its water is warm still")
    assert "may be cold" in _again(STAYS_WARM_MIN + 1)

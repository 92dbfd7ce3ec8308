"""What a timetable says of itself: its end, its loads, and what would help."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest
from planning.written_out import at, load

from stillroom.planning.timetable import (
    Answer,
    NoPlan,
    PlacedBreak,
    PlacedLoad,
    Timetable,
    WayOut,
    numbered_beside,
)

REST = PlacedBreak(person="p1", start_min=90, end_min=120)
PLAN = Timetable(
    steps=(at("a", "lid", 25, 30), at("b", "do", 0, 50, "p1")),
    loads=(load(30),),
    breaks=(REST,),
)
EMPTY = Timetable(steps=(), loads=(), breaks=())


def test_the_finish_is_the_last_work_and_no_rest() -> None:
    """The load is out at 65; a rest after it is no work."""
    assert PLAN.finish_min == 65
    assert replace(PLAN, loads=()).finish_min == 50
    assert EMPTY.finish_min == 0


def test_a_canner_stands_until_its_jars_are_out_and_its_fire_is_off() -> None:
    assert load(30, fire_free_min=56).stands_until_min == 65
    assert load(30, fire_free_min=70).stands_until_min == 70


def test_moved_is_every_minute_later_and_nothing_else() -> None:
    later = PLAN.moved(7)
    for old, new in zip(
        (*PLAN.steps, *PLAN.loads, *PLAN.breaks),
        (*later.steps, *later.loads, *later.breaks),
        strict=True,
    ):
        for field in fields(old):
            was, now = getattr(old, field.name), getattr(new, field.name)
            by_the_clock = field.name.endswith("_min") and field.name != "process_min"
            assert now == (was + 7 if by_the_clock else was), field.name
    assert PLAN.moved(0) is PLAN


def test_new_loads_take_the_first_free_number_of_their_canner_by_the_clock() -> None:
    def new(canner: str, lower: int) -> PlacedLoad:
        return load(lower, id="?", canner=canner)

    named = numbered_beside(
        [new("canner", 90), new("deep", 60), new("canner", 40)],
        ["canner/1", "canner/3"],
    )
    assert [(one.id, one.lower_min) for one in named] == [
        ("canner/2", 40),
        ("deep/1", 60),
        ("canner/4", 90),
    ]


@pytest.mark.parametrize(
    ("finish", "bound", "gap"), [(100, 80, 0.2), (100, 100, 0.0), (0, 0, 0.0)]
)
def test_the_gap_is_a_share_of_the_finish(finish: int, bound: int, gap: float) -> None:
    answer = Answer(
        timetable=PLAN,
        by_hand=None,
        made_by="solver",
        finish_min=finish,
        lateness=0,
        lower_bound_min=bound,
        proven=False,
        solve_s=1.0,
        first_plan_s=1.0,
    )
    assert answer.gap == gap
    assert answer.by_hand_min is None
    assert replace(answer, by_hand=PLAN).by_hand_min == 65


def way(says: str) -> WayOut:
    return WayOut(
        says=says,
        cost_min=1,
        finish_min=60,
        done_by="9:00",
        timetable=PLAN,
        may_be_sooner=False,
    )


def one_way_tried() -> NoPlan:
    return NoPlan(
        clashes=(),
        minimal=False,
        would_help=("stay longer", "allow more seconds"),
        ways_out=(way("stay longer"),),
        why_fewer="no other was found",
    )


def test_what_was_tried_comes_first_and_is_not_advised_as_well() -> None:
    none = one_way_tried()
    assert none.advice == ("allow more seconds",)
    assert none.other_helps == ("no other was found", "allow more seconds")
    assert none.helps == (
        "stay longer; done by 9:00",
        "no other was found",
        "allow more seconds",
    )
    assert replace(none, why_fewer="").other_helps == ("allow more seconds",)


def test_other_ways_take_the_place_of_those_before_them() -> None:
    none = one_way_tried()
    other = none.with_ways((way("come sooner"),), "")
    assert other.would_help == ("come sooner", "allow more seconds")
    assert [one.says for one in other.ways_out] == ["come sooner"]
    assert other.why_fewer == ""

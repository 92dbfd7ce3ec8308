"""
The judge on what is stated and named, on the smallest day that shows it.

Each case is a day that holds, and the one minute, jar or name that does not, with the
whole answer: one sentence, and no other rule speaks.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day
from planning.small_days import step as a_step
from planning.written_out import LID, at, batch, closed, labour, load, said

from stillroom.planning.judge.check import misstatements
from stillroom.planning.problem import (
    Problem,
    Want,
)
from stillroom.planning.timetable import (
    Answer,
    PlacedBreak,
    PlacedStep,
    Timetable,
)

# --- 19 what is stated ---


def stated(problem: Problem, plan: Timetable, **changes: object) -> tuple[str, ...]:
    given: dict[str, object] = {
        "timetable": plan,
        "by_hand": None,
        "made_by": "solver",
        "finish_min": 65,
        "lateness": 0,
        "lower_bound_min": 65,
        "proven": True,
        "solve_s": 0.0,
        "first_plan_s": 0.0,
    }
    answer = Answer(**{**given, **changes})  # type: ignore[arg-type]
    return misstatements(problem, answer)


def test_the_finish_is_the_last_step_or_jar() -> None:
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=())
    assert stated(day(closed()), jars) == ()
    assert stated(day(closed()), jars, finish_min=66) == (
        "finish is stated as 66; the steps give 65",
    )
    washing = batch("b", labour(10))
    steps = (LID, at("b", "do", 60, 70, "p1"))
    plan = Timetable(steps=steps, loads=(load(),), breaks=())
    assert stated(day(closed(), washing), plan, finish_min=70) == ()


def test_a_day_of_nothing_ends_as_it_begins() -> None:
    empty = Timetable(steps=(), loads=(), breaks=())
    assert stated(day(), empty, finish_min=0, lower_bound_min=0) == ()


def test_a_rest_after_the_last_work_is_no_part_of_the_finish() -> None:
    rest = PlacedBreak(person="p1", start_min=100, end_min=115)
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=(rest,))
    assert stated(day(closed()), jars) == ()


def test_lateness_is_weighed_and_counts_from_the_last_jar_out() -> None:
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=())
    want = Want(product="a", by_min=60, weight=3)
    late = day(closed(), wants=(want,))
    assert stated(late, jars, lateness=3 * (65 - 60)) == ()
    assert stated(late, jars, lateness=5) == (
        "lateness is stated as 5; the plan gives 15",
    )
    in_time = day(closed(), wants=(replace(want, by_min=65),))
    assert stated(in_time, jars) == ()


def test_what_is_not_made_is_not_late() -> None:
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=())
    at_once = Want(product="b", by_min=0)
    assert stated(day(closed(), wants=(at_once,)), jars) == ()


def test_goods_without_a_canner_are_there_when_closed() -> None:
    two = batch("a", a_step("lid", 5, 0), a_step("wipe", 5, 0), ready_after="lid")
    steps = (at("a", "lid", 0, 5), at("a", "wipe", 60, 65))
    plan = Timetable(steps=steps, loads=(), breaks=())
    want = Want(product="a", by_min=3)
    assert stated(day(two, wants=(want,)), plan, lateness=5 - 3) == ()
    unnamed = replace(two, ready_after="")
    assert stated(day(unnamed, wants=(want,)), plan, lateness=65 - 3) == ()


def test_jars_that_share_a_load_are_late_with_it() -> None:
    mixed = load(jars=(("a", 5), ("b", 5)))
    plan = Timetable(steps=(LID, at("b", "lid", 25, 30)), loads=(mixed,), breaks=())
    for product in "ab":
        problem = day(
            closed("a"), closed("b"), wants=(Want(product=product, by_min=60),)
        )
        assert stated(problem, plan, lateness=5) == ()


def test_goods_of_another_batch_and_steps_before_the_canner_make_nothing_late() -> None:
    # a is closed at 5; that b is closed by a step of the same name at 65 is no matter
    two = (batch("a", a_step("lid", 5, 0)), batch("b", a_step("lid", 5, 0)))
    steps = (at("a", "lid", 0, 5), at("b", "lid", 60, 65))
    plan = Timetable(steps=steps, loads=(), breaks=())
    want = Want(product="a", by_min=3)
    assert stated(day(*two, wants=(want,)), plan, lateness=5 - 3) == ()
    # jars are there when they are out of the canner, whatever is said of their lids
    late_lid = (at("a", "lid", 60, 65),)
    early = load(10, heat_min=0)  # out at 45
    jars = Timetable(steps=late_lid, loads=(early,), breaks=())
    assert stated(day(closed(), wants=(want,)), jars, lateness=45 - 3) == ()


def test_no_bound_is_later_than_the_plan() -> None:
    jars = Timetable(steps=(LID,), loads=(load(),), breaks=())
    assert stated(day(closed()), jars, lower_bound_min=66) == (
        "the bound 66 is later than 65",
    )


# --- 20 names ---


@pytest.mark.parametrize(
    ("steps", "answer"),
    [
        ([], "do of a is planned 0 times, not once"),
        ([at("a", "do", 0, 10, "p1")] * 2, "do of a is planned 2 times, not once"),
        (
            [at("a", "do", 0, 10, "p1"), at("a", "sing", 0, 10, "p1")],
            "sing of a is planned; the day has no such step",
        ),
        ([at("a", "do", 0, 10, "p9")], "do of a is given to p9, who is not in the day"),
        (
            [at("a", "do", 0, 10, "p1", pot="tub")],
            "do of a is in pot tub, which is not in the kitchen",
        ),
        (
            [at("a", "do", 0, 10, "p1", burner="sun")],
            "do of a is on burner sun, which is not in the kitchen",
        ),
        (
            [at("a", "do", 0, 10, "p1", mill=2)],
            "do of a is on mill 2; the kitchen has 1",
        ),
        (
            [at("a", "do", 0, 10, "p1", mill=0)],
            "do of a is on mill 0; the kitchen has 1",
        ),
    ],
)
def test_a_plan_names_what_the_day_has(steps: list[PlacedStep], answer: str) -> None:
    assert said(day(batch("a", labour())), steps) == (answer,)


@pytest.mark.parametrize(
    ("changes", "answer"),
    [
        ({"canner": "tub"}, "load L1 is in canner tub, which is not there"),
        ({"process": "p"}, "load L1 has process p, which is not in the day"),
        ({"jars": (("z", 5),)}, "load L1 has jars of z, which is not made"),
        ({"lowered_by": "p9"}, "load L1 is given to p9, who is not in the day"),
        ({"lifted_by": "p9"}, "load L1 is given to p9, who is not in the day"),
    ],
)
def test_a_load_names_what_the_day_has(changes: dict[str, object], answer: str) -> None:
    assert said(day(closed()), [LID], [load(**changes)]) == (answer,)


def test_a_break_is_somebodys() -> None:
    rest = PlacedBreak(person="p9", start_min=0, end_min=5)
    assert said(day(), breaks=[rest]) == (
        "a break is given to p9, who is not in the day",
    )

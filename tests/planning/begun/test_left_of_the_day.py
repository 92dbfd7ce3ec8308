"""What is left of a day that has begun, and its old order put off: minute by minute."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, person, step, work
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.methods.step import Link, Skill
from stillroom.planning.begun.in_hand import hands_at
from stillroom.planning.begun.put_off import put_off, timetable_put_off
from stillroom.planning.begun.residual import NOW, residual_of
from stillroom.planning.begun.slipped import as_it_slipped
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem, Window
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import PlacedBreak, PlacedLoad, Timetable


def so_far(now: int, *steps, loads=(), breaks=()) -> Happened:
    return Happened(now_min=now, steps=steps, loads=tuple(loads), breaks=tuple(breaks))


# --- a problem of its own ------------------------------------------------------------


def test_what_is_left_of_a_least_wait_is_still_waited() -> None:
    """Soaked until 10, and half an hour before it is cooked: at 20 half is left."""
    soaks = work(
        "a",
        step("soak", 10, 3),
        step("cook", 10, 3),
        links=(Link(before="soak", after="cook", at_least_min=30),),
    )
    happened = so_far(20, at("a", "soak", 0, 10, "p1"))
    (left,) = residual_of(day(soaks), happened).problem.batches
    assert Link(before=NOW, after="cook", at_least_min=20) in left.links


def test_who_rests_or_is_away_now_is_so_to_the_end_of_it() -> None:
    problem = day(people=(person("Ada"), person("Ben", away=((10, 40), (5, 15)))))
    rest = PlacedBreak(person="Ada", start_min=10, end_min=30)
    ada, ben = residual_of(problem, so_far(20, breaks=(rest,))).problem.people
    assert ada.away == ((20, 30),)
    assert ben.away == ((20, 40),)


@pytest.mark.parametrize(
    ("ends", "left"), [(15, ((20, 40),)), (30, ((30, 40),)), (40, ()), (60, ())]
)
def test_an_absence_begins_when_what_is_in_hand_is_ended(ends, left) -> None:
    """At the mill until half past, and away from ten to twenty past."""
    problem = day(people=(person("Ada"), person("Ben", away=((20, 40),))))
    happened = so_far(20, at("a", "mill", 0, ends, "Ben"))
    ada, ben = residual_of(problem, happened).problem.people
    assert (ada.away, ben.away) == ((), left)


def test_a_running_step_is_of_whoever_has_begun_it_though_it_is_not_theirs() -> None:
    """A child at the mill: it was taken for somebody else's, and her hands for free."""
    mills = work("a", step("mill", 30, 3, skill=Skill.KNIFE, same_hands="m"))
    kid = person("Kid", skills=frozenset({Skill.COLD}))
    rest = residual_of(
        day(mills, people=(person("Ada"), kid)),
        so_far(20, at("a", "mill", 0, 30, "Kid")),
    )
    ((_, milling),) = (batch.steps for batch in rest.problem.batches)
    assert (milling.skill, milling.same_hands) == (Skill.COLD, "")
    assert rest.fixed_hands == {("a", "mill"): "Kid"}


def test_a_day_goes_on_with_a_child_at_what_is_not_hers() -> None:
    """What the child was to do next waits for her, or somebody else does it."""
    mills = work("a", step("mill", 30, 3, skill=Skill.KNIFE))
    washes = work("b", step("wash", 10, 3))
    kid = person("Kid", skills=frozenset({Skill.COLD}))
    problem = day(mills, washes, people=(person("Ada"), kid))
    plan = Timetable(
        steps=(at("a", "mill", 0, 30, "Ada"), at("b", "wash", 30, 40, "Kid")),
        loads=(),
        breaks=(),
    )
    went = so_far(25, at("a", "mill", 10, 45, "Kid"))
    new = replan(problem, plan, went, seconds=1).new
    (wash,) = (s for s in new.steps if s.step == "wash")
    assert wash.person == "Ada" or wash.start_min >= 45


def test_who_ends_what_is_in_hand_while_away_is_given_nothing_else() -> None:
    """A pan looked at until 60, away from 40 to 50: no washing beside it."""
    stirs = work("a", step("stir", 60, 1))
    washes = work("b", step("wash", 25, 3))
    problem = day(stirs, washes, people=(person("Ada", away=((40, 50),)),))
    look = at("a", "stir", 0, 60, "Ada", quarters=1)
    plan = Timetable(steps=(look, at("b", "wash", 60, 85, "Ada")), loads=(), breaks=())
    rest = residual_of(problem, so_far(30, look))
    assert rest.not_free == {"Ada": ((40, 50, 3),)}
    new = replan(problem, plan, so_far(30, look), seconds=1).new
    (wash,) = (s for s in new.steps if s.step == "wash")
    assert wash.start_min == 50


def test_hands_are_free_of_what_ends_in_the_midst_of_an_absence() -> None:
    """One pan until 45 and one until 60: what is left of the hands is kept free."""
    both = (at("a", "stir", 0, 60, "Ada", quarters=1), at("b", "do", 30, 45, "Ada"))
    stirs, washes = work("a", step("stir", 60, 1)), work("b", step("do", 15, 3))
    problem = day(stirs, washes, people=(person("Ada", away=((40, 50),)),))
    assert residual_of(problem, so_far(35, *both)).not_free == {"Ada": ((45, 50, 3),)}
    lifted = load(10, lower_min=33, lowered_min=43, lowered_by="Ada")
    found = residual_of(problem, so_far(35, both[0], loads=(lifted,))).not_free
    assert found["Ada"] == ((43, 50, 3),)
    lifts = load(0, lift_min=33, out_min=44, lifted_by="Ada")
    found = residual_of(problem, so_far(35, both[0], loads=(lifts,))).not_free
    assert found["Ada"] == ((44, 50, 3),)


@pytest.mark.parametrize(("begun", "soft"), [(True, 0), (False, 1)])
def test_the_latest_hour_of_what_has_begun_is_past(begun: bool, soft: int) -> None:
    once = batch("a", labour(), windows=(Window(step="do", latest_min=5),))
    steps = (at("a", "do", 10, 20, "p1"),) if begun else ()
    assert len(residual_of(day(once), so_far(15, *steps)).soft) == soft


def test_whose_hands_are_on_a_load() -> None:
    one = load(30, lowered_by="Ada", lifted_by="Ben")
    told = {now: hands_at(one, now) for now in (29, 30, 33, 34, 61, 62, 64, 65)}
    on_it = {30: ("Ada",), 33: ("Ada",), 62: ("Ben",), 64: ("Ben",)}
    assert told == {now: on_it.get(now, ()) for now in told}


# --- the old order -------------------------------------------------------------------


def later(problem: Problem, plan: Timetable, happened: Happened) -> Timetable:
    return timetable_put_off(plan, happened, put_off(problem, plan, happened))


def test_nothing_that_has_not_begun_begins_before_now() -> None:
    """It was to follow at once, at 60, and at 65 nobody has begun it."""
    at_once = work(
        "a",
        step("boil", 20, 3),
        step("fill", 10, 3),
        links=(Link(before="boil", after="fill", at_most_min=0),),
    )
    boil, fill = at("a", "boil", 40, 60, "p1"), at("a", "fill", 60, 70, "p1")
    plan = Timetable(steps=(boil, fill), loads=(), breaks=())
    new = later(day(at_once), plan, so_far(65, boil))
    assert [(s.step, s.start_min) for s in new.steps] == [("boil", 40), ("fill", 65)]


BUSY = batch("b", labour(20))
TWO = (person("p1"), person("p2"))


def lifts_late(start: int, end: int, *, now: int, in_canner: bool) -> PlacedLoad:
    """The load of a day whose lifter is busy with something else for longer."""
    one = load(30, lowered_by="p2")
    runs = at("b", "do", start, end, "p1")
    meant = replace(runs, end_min=start + 20)
    plan = Timetable(steps=(LID, meant), loads=(one,), breaks=())
    begun = (LID, runs) if in_canner else (runs,)
    happened = so_far(now, *begun, loads=[one] if in_canner else [])
    return later(day(closed("a"), BUSY, people=TWO), plan, happened).loads[0]


def test_a_load_goes_in_later_where_nobody_could_lift_it_in_time() -> None:
    """Who lifts it is busy until 120: it rests until 110 at the soonest."""
    one = lifts_late(20, 120, now=25, in_canner=False)
    assert one.lift_min == 120
    assert one.lift_min - (one.done_min + 5) <= 10
    assert one.done_min - one.boil_min == one.process_min


def test_a_load_to_be_lifted_this_minute_waits_for_who_lifts_it() -> None:
    assert lifts_late(40, 80, now=61, in_canner=True).lift_min == 80


HOT = load(65, id="L2", jars=(("c", 5),), hot=True, heat_min=65)
KEPT_ON = load(30, fire_free_min=65)
CLOSES = closed("c")


def test_a_load_that_begins_hot_begins_while_the_water_is() -> None:
    """Its jars are closed at 150; the load before is out 25 min sooner at most."""
    runs = at("c", "lid", 10, 150)
    plan = Timetable(
        steps=(LID, replace(runs, start_min=10, end_min=15)),
        loads=(KEPT_ON, HOT),
        breaks=(),
    )
    problem = day(closed("a"), CLOSES)
    first, second = later(problem, plan, so_far(20, runs)).loads
    assert second.lower_min >= 150
    assert second.lower_min - first.out_min <= 25


def test_the_flame_stayed_on_for_a_hot_load_that_went_in_late() -> None:
    meant = at("c", "lid", 55, 60)
    plan = Timetable(steps=(LID, meant), loads=(KEPT_ON, HOT), breaks=())
    problem = day(closed("a"), CLOSES)
    happened = as_it_slipped(problem, plan, 100, {("c", "lid"): 20})
    first, second = happened.loads
    assert (second.lower_min, first.fire_free_min) == (80, 80)

"""Two days that follow one another, and what is done around a day."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

import pytest
from kitchens import CUP, day, juice, kitchen, person, stores
from planning.written_out import load

from stillroom.methods.step import Skill
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.judge.check import violations
from stillroom.planning.other_days import two_days
from stillroom.planning.other_days.two_days import plan_two_days
from stillroom.planning.problem import Counter
from stillroom.planning.timetable import Answer
from stillroom.planning.which_batches.around import after_tasks, evening_tasks
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Refusal, granted

SATURDAY, SUNDAY = dt.date(2026, 8, 22), dt.date(2026, 8, 23)


def plum_day(date: dt.date, bags: int = 4, **changes: object) -> Day:
    return day(
        Want(product="plum jelly", jars=15, jar="half-pint"),
        shelf=(juice("plum juice", bags=bags), *stores()),
        date=date,
        **changes,
    )


def at(day_of_august: int, hour: int, minute: int = 0) -> dt.datetime:
    return dt.datetime.combine(dt.date(2026, 8, day_of_august), dt.time(hour, minute))


def planned(today: Day) -> DayPlan:
    plan = plan_the_day(today, seconds=1.0)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    return plan


@pytest.fixture(scope="module")
def two() -> tuple[DayPlan, DayPlan]:
    return granted(plan_two_days(plum_day(SATURDAY), plum_day(SUNDAY), seconds=1.5))


# --- around one day --------------------------------------------------------------


def test_the_evening_before_has_an_hour_and_somebody_for_each_thing() -> None:
    plan = planned(plum_day(SATURDAY))
    assert [task.what for task in plan.evening_tasks] == list(plan.evening_before)
    first, second = plan.evening_tasks[:2]
    assert first.when == at(21, 19)
    assert second.when == first.when + dt.timedelta(minutes=first.minutes)
    assert {task.who for task in plan.evening_tasks} == {"Ada"}


def test_the_evening_begins_when_the_day_before_is_over() -> None:
    late = at(21, 20, 40)
    (task,) = evening_tasks(plum_day(SATURDAY, evening_from=late), ["thaw"], {})
    assert task.when == late


def test_seals_are_due_twelve_hours_after_the_last_and_a_day_after_the_first() -> None:
    plan = planned(plum_day(SATURDAY))
    assert isinstance(plan.answer, Answer)
    out = [load.out_min for load in plan.answer.timetable.loads]
    eight = at(22, 8)
    seals = next(task for task in plan.after_tasks if "seal" in task.what)
    due = eight + dt.timedelta(minutes=max(out), hours=12)
    # the day is over before ten: twelve hours later is late in the evening at most
    assert seals.until == eight + dt.timedelta(minutes=min(out), hours=24)
    assert seals.when >= due
    assert seals.when.time() >= dt.time(7, 0)
    assert seals.when <= seals.until


def test_nobody_gets_up_at_night_to_look_at_the_set() -> None:
    plan = planned(plum_day(SATURDAY))
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    late = replace(plan.day, starts=dt.time(21, 30))
    tasks = after_tasks(late, plan.problem, plan.answer.timetable, plan.afterwards)
    looks = next(task for task in tasks if "Look at the set" in task.what)
    assert (looks.when.time(), looks.until) == (dt.time(7, 0), None)


def test_a_lot_that_drips_is_not_taken_before_it_is_ready() -> None:
    dripping = Lot(
        name="bag of juice",
        what="plum juice",
        volume_m3=5 * CUP,
        ready=dt.time(10, 30),
    )
    today = day(
        Want(product="plum jelly", jars=7, jar="half-pint"),
        shelf=(dripping, *stores()),
    )
    plan = planned(today)
    assert isinstance(plan.answer, Answer)
    boil = next(s for s in plan.answer.timetable.steps if s.step == "to_boil")
    assert boil.start_min >= 150  # from eight to half past ten


# --- two days ----------------------------------------------------------------------


def test_both_days_hold(two: tuple[DayPlan, DayPlan]) -> None:
    for plan in two:
        assert plan.problem is not None
        assert isinstance(plan.answer, Answer)
        assert violations(plan.problem, plan.answer.timetable) == ()


def test_yesterdays_seals_are_a_step_of_today_within_their_hours(
    two: tuple[DayPlan, DayPlan],
) -> None:
    before, after = two
    assert isinstance(before.answer, Answer)
    assert isinstance(after.answer, Answer)
    looked = [
        s
        for s in after.answer.timetable.steps
        if s.batch == "jars of Saturday 22 August"
    ]
    (seals,) = [s for s in looked if s.step == "look_1"]
    assert seals.person is not None
    # both days begin at eight: minute m of Sunday is 24 h after minute m of Saturday
    assert seals.start_min <= min(x.out_min for x in before.answer.timetable.loads)


def test_what_the_second_day_looks_at_has_one_hour_in_both(
    two: tuple[DayPlan, DayPlan],
) -> None:
    before, after = two
    assert isinstance(after.answer, Answer)
    (looked,) = [
        s
        for s in after.answer.timetable.steps
        if s.batch == "jars of Saturday 22 August"
    ]
    seals = next(task for task in before.after_tasks if "seal" in task.what)
    # the day begins at eight, and by itself the look would be at seven
    assert seals.when == at(23, 8) + dt.timedelta(minutes=looked.start_min)
    assert (seals.who, seals.until is None) == (looked.person, False)


def test_what_has_no_latest_hour_is_told_with_its_hour_and_is_no_step(
    two: tuple[DayPlan, DayPlan],
) -> None:
    before, after = two
    looks = next(task for task in before.after_tasks if "Look at the set" in task.what)
    assert looks.until is None
    assert looks.when.date() == SUNDAY
    assert after.problem is not None
    verbs = [
        step.verb
        for batch in after.problem.batches
        if batch.id == "jars of Saturday 22 August"
        for step in batch.steps
    ]
    assert verbs == ["Check every seal"]


def test_yesterdays_jars_keep_their_places_for_a_day(
    two: tuple[DayPlan, DayPlan],
) -> None:
    before, after = two
    assert isinstance(before.answer, Answer)
    assert after.problem is not None
    assert after.problem.counter.taken == tuple(
        (load.count, load.out_min) for load in before.answer.timetable.loads
    )


def test_what_is_begun_the_evening_before_waits_for_the_end_of_the_first_day() -> None:
    late = plum_day(SATURDAY, starts=dt.time(18), ends=dt.time(23))
    before, after = granted(plan_two_days(late, plum_day(SUNDAY), seconds=0.5))
    assert isinstance(before.answer, Answer)
    over = at(22, 18) + dt.timedelta(minutes=before.answer.finish_min)
    assert over > at(22, 19)
    assert after.evening_tasks[0].when == over


def test_in_another_kitchen_the_counter_is_empty() -> None:
    there = plum_day(SUNDAY, kitchen=kitchen(name="the church kitchen"))
    _, after = granted(plan_two_days(plum_day(SATURDAY), there, seconds=1.0))
    assert after.problem is not None
    assert after.problem.counter.taken == ()


def test_a_lot_that_both_name_is_drawn_once(two: tuple[DayPlan, DayPlan]) -> None:
    # four bags, two batches of one bag each on Saturday: two are left for Sunday
    before, after = two
    assert len(before.batches) == 2
    lot = next(lot for lot in after.day.shelf if lot.what == "plum juice")
    assert lot.bags == 2
    sugar = [
        next(lot for lot in plan.day.shelf if lot.name == "sugar").mass_kg or 0.0
        for plan in two
    ]
    used = sum(
        d.mass_kg or 0.0 for b in before.batches for d in b.draws if d.lot == "sugar"
    )
    assert sugar[1] == pytest.approx(sugar[0] - used)


def test_a_lot_of_another_quantity_is_another_lot() -> None:
    _, after = granted(
        plan_two_days(plum_day(SATURDAY), plum_day(SUNDAY, bags=3), seconds=1.0)
    )
    # the name is the same, the quantity is what she counted on Sunday
    lot = next(lot for lot in after.day.shelf if lot.what == "plum juice")
    assert lot.bags == 3


def test_sunday_is_set_out_on_saturday_evening(two: tuple[DayPlan, DayPlan]) -> None:
    _, after = two
    assert after.evening_tasks[0].when.date() == SATURDAY
    assert "freezer" in after.evening_tasks[0].what


def test_days_that_do_not_follow_one_another_are_refused() -> None:
    answer = plan_two_days(plum_day(SATURDAY), plum_day(SATURDAY), seconds=0.5)
    assert isinstance(answer, Refusal)
    assert "is 23 August 2026" in answer.reason


@pytest.mark.parametrize("nowhere", [SATURDAY, SUNDAY])
def test_a_day_in_a_kitchen_of_no_known_height_is_refused_as_it_is_alone(
    nowhere: dt.date,
) -> None:
    adrift = replace(kitchen(), elevation_m=None, pressure_pa=None)
    first, second = (
        plum_day(date, **({"kitchen": adrift} if date == nowhere else {}))
        for date in (SATURDAY, SUNDAY)
    )
    answer = plan_two_days(first, second, seconds=0.5)
    assert answer == plan_the_day(plum_day(nowhere, kitchen=adrift), seconds=0.5)
    assert isinstance(answer, Refusal)


def test_a_child_looks_at_jars_where_nobody_else_is_there() -> None:
    pip = person("Pip", can=frozenset({Skill.COLD}))
    for people, who in (((pip, person()), "Ada"), ((pip,), "Pip")):
        (task,) = evening_tasks(plum_day(SATURDAY, people=people), ["thaw"], {})
        assert task.who == who


def test_only_what_has_a_latest_hour_on_the_day_is_a_step_of_it() -> None:
    begins, ends = at(23, 8), at(23, 16)
    for when, until, belongs in (
        (at(23, 7), at(23, 12), True),
        (at(22, 20), at(23, 8), True),
        (at(22, 20), at(23, 7, 59), False),  # over before the day begins
        (at(23, 16), at(23, 20), False),  # after its end
        (at(23, 9), None, False),
    ):
        task = SimpleNamespace(when=when, until=until)
        assert two_days._belongs(task, begins, ends) == belongs


def test_jars_cool_on_from_the_day_before_by_the_clock() -> None:
    """Out at 8:00 of a day, cold 24 h later: two hours into the next from 6:00 on."""
    counter = Counter(places=60, cooling_min=1440)
    loads = (load(30, out_min=0), load(30, id="L2", out_min=-130, jars=(("a", 3),)))
    answer = SimpleNamespace(timetable=SimpleNamespace(loads=loads))
    since_six = 24 * 60 - 120
    assert two_days._still_cooling(counter, answer, since_six) == ((5, 120),)


def test_what_is_left_of_a_lot_is_what_was_not_drawn() -> None:
    def left(lot: Lot, **drawn: float) -> Lot | None:
        none = {"count": None, "mass_kg": None, "volume_m3": None}
        draw = SimpleNamespace(lot=lot.name, **{**none, **drawn})
        other = SimpleNamespace(lot="another", **{**none, **drawn})
        made = SimpleNamespace(draws=[draw, other])
        return two_days._less(lot, SimpleNamespace(batches=[made]))

    sugar = Lot(name="sack", what="sugar", mass_kg=2.0)
    assert left(sugar, mass_kg=2.0) is None
    assert left(sugar, mass_kg=1.5).mass_kg == pytest.approx(0.5)
    lids = Lot(name="box", what="lids", count=12)
    assert left(lids, count=12) is None
    assert left(lids, count=5).count == 7
    bags = Lot(name="bags", what="juice", volume_m3=4 * CUP, bags=2, bag_m3=2 * CUP)
    assert left(bags, volume_m3=4 * CUP) is None
    fruit = Lot(name="bags", what="fruit", mass_kg=4.0, bags=2, bag_kg=2.0)
    one = left(fruit, mass_kg=2.0)
    assert one is not None
    assert (one.mass_kg, one.bags, one.bag_kg) == (2.0, 1, 2.0)
    opened = left(fruit, mass_kg=1.0)
    assert opened is not None
    assert (opened.mass_kg, opened.bags, opened.bag_kg) == (3.0, 0, None)
    whole = left(bags, volume_m3=2 * CUP)
    assert (whole.bags, whole.bag_m3) == (1, 2 * CUP)
    opened = left(bags, volume_m3=3 * CUP)
    assert opened.volume_m3 == pytest.approx(CUP)
    assert (opened.bags, opened.bag_m3) == (0, None)

"""How far the day has slipped, said of who taps and of nobody else."""

from stillroom.planning.dayplan import DayPlan
from stillroom.running.behind import TOLD_MIN, behind
from stillroom.running.events import AnyEvent
from stillroom.running.fold import fold
from stillroom.running.so_far import LATELY
from tests.running.test_set_going import begun, done, minute, plan

__all__ = ["plan"]  # a fixture


def two_of_one(plan: DayPlan):
    """The first two steps of the one person."""
    mine = [s for s in plan.answer.timetable.steps if s.person]
    first, second, *_ = sorted(mine, key=lambda s: s.end_min)
    return first, second


def told(plan: DayPlan, number: int, *events: AnyEvent):
    return behind(plan, fold([begun(plan), *events]), minute(plan, number))


def test_it_is_counted_from_when_the_next_step_should_have_been_done(plan: DayPlan):
    first, second = two_of_one(plan)
    said = done(plan, first.batch, first.step, second.start_min)
    late = second.end_min + TOLD_MIN
    assert told(plan, late, said) == (second.person, TOLD_MIN)
    assert told(plan, late - 1, said) is None


def test_who_taps_nothing_is_not_called_late(plan: DayPlan):
    assert told(plan, plan.answer.timetable.finish_min) is None


def test_a_step_under_way_is_no_slip_until_its_end(plan: DayPlan):
    first, second = two_of_one(plan)
    said = done(plan, first.batch, first.step, second.start_min)
    for number in range(second.start_min, second.end_min + TOLD_MIN):
        assert told(plan, number, said) is None


def test_when_all_is_done_nobody_is_behind(plan: DayPlan):
    finish = plan.answer.timetable.finish_min
    all_done = [
        done(plan, s.batch, s.step, finish) for s in plan.answer.timetable.steps
    ]
    assert told(plan, finish + 30, *all_done) is None


def test_who_has_tapped_nothing_for_an_hour_is_not_called_late_any_more(plan: DayPlan):
    first, second = two_of_one(plan)
    hour_min = int(LATELY.total_seconds() // 60)
    late = second.end_min + hour_min
    still = done(plan, first.batch, first.step, late - hour_min + 1)
    assert told(plan, late, still) == (second.person, hour_min)
    silent = done(plan, first.batch, first.step, late - hour_min)
    assert told(plan, late, silent) is None

"""The plan that a run goes by, shown again as the kitchen knows it."""

import datetime as dt
from dataclasses import replace

from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan, LeftOut, Spare
from stillroom.planning.daytime import minutes_between, said_minutes
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import weighted_lateness
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.ways.held_plan import only
from stillroom.planning.whole_day import plan_the_day
from stillroom.running.events import DayBegun, PlanTaken
from stillroom.running.events import LeftOut as GivenUp
from stillroom.running.fold import RunState, fold
from stillroom.running.kept_plan import (
    AGAIN,
    OwnFile,
    kept,
    mark_of_plan,
    own_file,
    plan_now,
    taken_of,
)
from stillroom.running.loads import loads_of
from tests.kitchens import day

BEGINS = dt.datetime(2026, 9, 5, 7, 0, tzinfo=dt.UTC)


def test_a_load_has_one_name_on_the_board_and_in_the_reasons():
    """The board has called them otherwise than by their boil: a load was late."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    other = replace(plan, answer=replace(plan.answer, timetable=plan.answer.by_hand))
    loads = loads_of(other)
    assert len(loads) >= 2
    second, first, *rest = loads
    board = (replace(first, name="load 1"), replace(second, name="load 2"), *rest)
    begun = DayBegun(loads=board, plan=kept(other, "x"), occurred_at=BEGINS)
    shown = plan_now(plan, fold([begun]), "x")
    assert isinstance(shown.answer, Answer)
    assert shown.problem is not None
    names = LoadNames(shown.problem, shown.answer.timetable)
    assert {load: f"load {n}" for load, n in names.number.items()} == {
        run.id: run.name for run in board
    }
    # and on the cards of the Day, and on paper
    assert {load.id: load.name for load in loads_of(shown)} == {
        run.id: run.name for run in board
    }


def test_a_day_file_planned_to_other_batches_says_nothing_to_the_run():
    """Its fruit is in the run's pots, however it would be divided by now."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    other = replace(plan, answer=replace(plan.answer, timetable=plan.answer.by_hand))
    begun = DayBegun(loads=loads_of(other), plan=kept(other, "x"), occurred_at=BEGINS)
    state = fold([begun])
    assert own_file(plan, state, "x").day == plan.day
    assert {b.id for b in plan.batches} <= {*own_file(plan, state, "x").keeps}
    first, *rest = plan.batches
    for batches in (tuple(rest), (replace(first, jars=first.jars - 1), *rest)):
        divided = replace(plan, batches=batches)
        assert own_file(divided, state, "x") == OwnFile()
        assert plan_now(divided, state, "x") is divided
    for another in (None, plan, "being planned"):
        assert own_file(another, state, "y") == OwnFile()
    assert plan_now(plan, state, "y") is plan


def test_only_canned_jars_must_be_those_of_the_run():
    """Boxes for the freezer were counted anew: all else is still the day's own."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    frozen = replace(plan.problem.batches[0], id="berry spread 1", process=None, jars=3)
    more = replace(plan.problem, batches=(*plan.problem.batches, frozen))
    state = begun_by(replace(by_her_hand(plan), problem=more))
    assert own_file(plan, state, "x").day == plan.day


def test_each_plan_of_a_day_file_has_a_mark_of_its_own():
    """The key that begins the day names the plan that was read on the screen."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    other = by_her_hand(plan)
    assert mark_of_plan(plan, "x") == mark_of_plan(replace(plan), "x")
    marks = {mark_of_plan(one, text) for one in (plan, other) for text in ("x", "y")}
    assert len(marks) == 4
    assert mark_of_plan(replace(plan, answer=None), "x") == ""


def test_cautions_of_the_hours_are_those_of_the_plan_that_is_gone_by():
    """The morning's stood on Day all day: how late it ends, when nobody is near."""
    early = replace(day(), done_by=dt.time(8, 0))
    plan = plan_the_day(early, seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    texts = [caution.text for caution in plan.cautions]
    (late,) = (text for text in texts if "the hour you named" in text)
    other = replace(plan, answer=replace(plan.answer, timetable=plan.answer.by_hand))
    assert plan.answer.by_hand.finish_min > plan.answer.finish_min
    begun = DayBegun(loads=loads_of(other), plan=kept(other, "x"), occurred_at=BEGINS)
    shown = plan_now(plan, fold([begun]), "x")
    now = [caution.text for caution in shown.cautions]
    (later,) = (text for text in now if "the hour you named" in text)
    start = plan.problem.starts_at if plan.problem else ""
    due = minutes_between(start, "08:00")
    over = said_minutes(shown.answer.finish_min - due)
    assert later == f"the plan ends {over} after 8:00, the hour you named"
    assert later != late
    assert sorted({*texts} - {late}) == sorted({*now} - {later})


def test_what_is_due_after_the_day_is_due_by_the_hours_that_it_has_now():
    """Seals were to be looked at by the hour of the morning's plan, all day long."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    other = by_her_hand(plan)
    assert isinstance(plan.answer, Answer)
    assert isinstance(other.answer, Answer)
    seals = next(t for t in plan.after_tasks if "every seal" in t.what)
    shown = plan_now(plan, begun_by(plan, other), "x")
    now = next(t for t in shown.after_tasks if "every seal" in t.what)
    before, later = (
        min(load.out_min for load in one.answer.timetable.loads)
        for one in (plan, other)
    )
    assert before != later
    assert seals.until is not None
    assert now.until is not None
    assert now.until - seals.until == dt.timedelta(minutes=later - before)


def test_what_is_due_after_the_day_is_due_of_what_is_made():
    """What was left out has no seal to look at; what is taken in again has one."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    gone = plan.batches[0].id
    without = without_jars_of(plan, gone)
    fewer = plan_now(plan, begun_by(plan, without, out=(gone,)), "x")
    assert fewer.after_tasks
    assert not any(gone in task.batches for task in fewer.after_tasks)
    assert not any(gone in after.batches for after in fewer.afterwards)
    morning = replace(
        plan,
        afterwards=tuple(
            replace(after, batches=tuple(b for b in after.batches if b != gone))
            for after in plan.afterwards
        ),
    )
    again = plan_now(morning, begun_by(plan, by_her_hand(plan)), "x")
    seals = next(t for t in again.after_tasks if "every seal" in t.what)
    assert gone in seals.batches
    # nor need the morning's plan have canned anything
    nothing = plan_now(
        replace(plan, afterwards=()), begun_by(plan, by_her_hand(plan)), "x"
    )
    seals = next(t for t in nothing.after_tasks if "every seal" in t.what)
    assert gone in seals.batches


def without_jars_of(plan: DayPlan, name: str) -> DayPlan:
    """The same day, one batch of which was begun and then left out."""
    assert plan.problem is not None
    batches = tuple(
        replace(b, jars=0) if b.id == name else b for b in plan.problem.batches
    )
    return replace(plan, problem=replace(plan.problem, batches=batches))


def by_her_hand(plan: DayPlan) -> DayPlan:
    """The same day, gone by as a careful person would plan it."""
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    return replace(plan, answer=replace(plan.answer, timetable=plan.answer.by_hand))


def begun_by(plan: DayPlan, *taken: DayPlan, out: tuple[str, ...] = ()) -> RunState:
    """A run of a plan, and then of others; what the first of them gives up."""
    events = [DayBegun(loads=loads_of(plan), plan=kept(plan, "x"), occurred_at=BEGINS)]
    gone = tuple(GivenUp(batch=name, keeps=()) for name in out)
    for other in taken:
        plan_of_it = kept(other, "x")
        assert plan_of_it is not None
        events.append(
            PlanTaken(
                plan=plan_of_it,
                loads=loads_of(other),
                sentence="Done later.",
                left_out=gone,
                occurred_at=BEGINS,
            )
        )
        gone = ()
    return fold(events)


def test_of_a_plan_taken_over_in_the_day_nothing_is_said_to_be_proven():
    """The morning's bound is of a morning in which all went as planned."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.lower_bound_min > 0
    plan = replace(plan, answer=replace(plan.answer, remarks=("of the morning",)))
    other = by_her_hand(plan)
    begun = plan_now(plan, begun_by(other), "x").answer
    taken = plan_now(plan, begun_by(plan, other), "x").answer
    assert isinstance(begun, Answer)
    assert isinstance(taken, Answer)
    assert begun.finish_min == taken.finish_min == plan.answer.by_hand_min
    # a day that was begun by another plan of its file is under the same bound
    assert begun.lower_bound_min == plan.answer.lower_bound_min
    assert (begun.made_by, begun.remarks) == (plan.answer.made_by, ("of the morning",))
    assert (taken.lower_bound_min, taken.proven) == (0, False)
    assert (taken.made_by, taken.remarks) == (AGAIN, ())


def test_the_bound_of_who_keeps_her_promises_is_not_that_of_who_is_late():
    """What is later on a promise may end sooner: nothing was proven of that."""
    promised = day(Want(product="plum jelly", jars=16, jar="half-pint", by=dt.time(12)))
    plan = plan_the_day(promised, seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    table = plan.answer.timetable
    loads = [replace(load, out_min=load.out_min + 300) for load in table.loads]
    late = replace(table, loads=tuple(loads))
    assert weighted_lateness(plan.problem, late) > plan.answer.lateness
    other = replace(plan, answer=replace(plan.answer, timetable=late))
    shown = plan_now(plan, begun_by(other), "x").answer
    assert isinstance(shown, Answer)
    assert shown.lateness > plan.answer.lateness
    assert shown.lower_bound_min == 0


def test_what_is_left_out_is_what_the_run_is_without():
    """One batch of two was taken in: the other is left out, with its own jars."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    first = plan.batches[0]
    both = LeftOut(
        batches=(first.id, "plum jelly 9"),
        product=first.product,
        jar=first.jar,
        jars=first.jars + 3,
        why="it matters least",
        fruit="it stays frozen",
        spoils=False,
        each=((first.id, first.jars), ("plum jelly 9", 3)),
    )
    alone = replace(
        both, batches=(first.id,), jars=first.jars, each=((first.id, first.jars),)
    )
    other = replace(both, batches=("pears 1",), jars=5, each=(("pears 1", 5),))
    morning = replace(plan, left_out=(alone, both, other))
    rest, same = plan_now(morning, begun_by(by_her_hand(plan)), "x").left_out
    shown = plan_now(morning, begun_by(by_her_hand(plan)), "x").answer
    assert isinstance(shown, Answer)
    assert isinstance(plan.answer, Answer)
    assert shown.lower_bound_min == plan.answer.lower_bound_min
    assert (rest.batches, rest.jars) == (("plum jelly 9",), 3)
    assert rest.each == (("plum jelly 9", 3),)
    assert same is other


def test_a_batch_left_out_and_taken_in_again_is_one_of_the_day():
    """Its jars say so; what was begun of it and then left out has none."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    name = plan.batches[0].id
    without = without_jars_of(plan, name)
    fewer = plan_now(plan, begun_by(plan, without, out=(name,)), "x")
    assert name not in {made.id for made in fewer.batches}
    state = begun_by(plan, without, by_her_hand(plan), out=(name,))
    assert {made.id for made in plan_now(plan, state, "x").batches} == {
        made.id for made in plan.batches
    }


def test_what_was_left_out_in_the_morning_is_offered_and_made_once_it_is_taken_in():
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    first, *rest = plan.batches
    problem = only(plan.problem, [made.id for made in rest])
    table = by_hand(problem)
    assert table is not None
    spare = Spare(
        made=first,
        batch=next(b for b in plan.problem.batches if b.id == first.id),
        processes=plan.problem.processes,
        wants=(),
    )
    morning = replace(
        plan,
        batches=tuple(rest),
        problem=problem,
        answer=replace(plan.answer, timetable=table),
        spare=(spare,),
    )
    own = own_file(morning, begun_by(morning), "x")
    assert own.spares == (spare,)
    # bags go back to the freezer; jars, lids and boxes of pectin are counted, no food
    juice = [draw for draw in first.draws if "juice" in draw.lot]
    assert [draw.count for draw in juice] == [None]
    assert any(draw.count is not None for draw in first.draws)
    (kept_of_it,) = (x for x in own.keeps[first.id] if "juice" in x)
    assert kept_of_it == f"{juice[0].text} of {juice[0].lot}"
    assert not any("lids" in x for x in own.keeps[first.id])
    out = LeftOut(
        batches=(first.id,),
        product=first.product,
        jar=first.jar,
        jars=first.jars,
        why="it matters least",
        fruit="it stays frozen",
        spoils=False,
        each=((first.id, first.jars),),
    )
    whole = plan_now(replace(morning, left_out=(out,)), begun_by(plan), "x")
    assert whole.left_out == ()
    assert isinstance(whole.answer, Answer)
    assert whole.answer.lower_bound_min == 0  # what is proven is of fewer batches
    taken = begun_by(morning, by_her_hand(plan))
    assert own_file(morning, taken, "x").spares == ()
    assert first.id in {made.id for made in plan_now(morning, taken, "x").batches}


def test_what_was_taken_over_is_said_of_that_plan_alone():
    """The Day said when the rest was to be done, above a plan with other batches."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    state = begun_by(plan, by_her_hand(plan))
    assert taken_of(plan_now(plan, state, "x"), state, "x") == state.taken[-1]
    assert taken_of(plan, state, "y") is None
    assert taken_of(plan, begun_by(plan), "x") is None
    first, *rest = plan.batches
    fewer = replace(plan.problem, batches=plan.problem.batches[1:])
    divided = replace(
        plan,
        problem=fewer,
        batches=(replace(first, jars=first.jars - 1), *rest),
    )
    assert plan_now(divided, state, "x") is divided
    assert taken_of(divided, state, "x") is None

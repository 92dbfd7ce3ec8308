"""What a comparison says: what keeps more comes before what ends sooner."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

import pytest
from kitchens import day, juice, person, stores

from stillroom.planning.day import Lot, Rest, Want
from stillroom.planning.dayplan import DayPlan, Purchase
from stillroom.planning.goal_order import Goal
from stillroom.planning.how_good.goals import goals_of
from stillroom.planning.other_days.better_day import (
    figures_words,
    is_better,
    wishes_of,
)
from stillroom.planning.other_days.told_beside import (
    holds_too_words,
    on_one_fire,
    told_beside,
)
from stillroom.planning.other_days.what_if import AS_IT_IS, Outcome, outcome_of
from stillroom.planning.other_days.what_if_words import (
    comparison,
    left_out_words,
    missing_words,
    nobody_there,
    not_made_words,
    remarks_by_day,
    search_may_differ,
)
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day


def made(**values: object) -> Outcome:
    plain = Outcome(
        change="x",
        starts_at="08:00",
        jars=16,
        batches=2,
        finish_min=120,
        lower_bound_min=100,
        loads=2,
        lateness=0,
        unmet=0,
        why_not="",
    )
    return replace(plain, **values)  # type: ignore[arg-type]


BASE = made(change=AS_IT_IS)
FULL = made(change=AS_IT_IS, jars=8, left_out=(("plum jelly 2", 8),))
NEVER = made(change=AS_IT_IS, finish_min=None, jars=0)


@pytest.mark.parametrize(
    ("found", "said"),
    [
        ((), ""),
        (
            (BASE, made(finish_min=110)),
            "If x, the day is done by 9:50, 10 min sooner than as it is.",
        ),
        ((BASE, made()), "If x, the day is done by 10:00, as it is now."),
        (
            (BASE, made(finish_min=110, holds_as_it_is=True)),
            "If x, the day is done by 9:50, 10 min sooner than as it is. But that plan "
            "breaks no rule of the day as it is, either: the search has found it, and "
            "not the change.",
        ),
        (
            (BASE, made(holds_as_it_is=True)),  # nothing was gained
            "If x, the day is done by 10:00, as it is now.",
        ),
        (
            (BASE, made(finish_min=100), made(finish_min=110, holds_as_it_is=True)),
            "If x, the day is done by 9:40, 20 min sooner than as it is. As it is, the "
            "day can be done by 9:50 as well: a plan that was found beside it breaks "
            "no rule of it.",
        ),
        (
            (BASE, made(finish_min=190)),
            "This is not better than the day as it is. If x, the day is done by 11:10, "
            "1 h 10 min later than as it is.",
        ),
        (
            # what keeps more comes before what ends sooner
            (FULL, made(change="y", jars=8, finish_min=90), made(finish_min=190)),
            "If x, 16 jars are made, 8 more than as it is. The day is then done by "
            "11:10, 1 h 10 min later.",
        ),
        (
            (NEVER, made(left_out=(("plum jelly 2", 8), ("pear butter 1", 4)))),
            "If x, there is a timetable: 16 jars, done by 10:00. As it is, there is "
            "none. Left out: 12 jars: plum jelly 2, pear butter 1.",
        ),
        (
            (BASE, made(jars=9, finish_min=60)),  # fewer wanted is no loss
            "If x, 9 jars are made, 7 fewer than as it is. The day is then done by "
            "9:00, 1 h sooner.",
        ),
        (
            (BASE, made(jars=8, left_out=(("plum jelly 2", 8),))),
            "This is not better than the day as it is. If x, 8 jars are made, 8 fewer "
            "than as it is. The day is then done by 10:00, as it is now. Left out: 8 "
            "jars: plum jelly 2.",
        ),
        ((BASE, NEVER), "With this change the day has no timetable."),
        ((BASE, NEVER, NEVER), "With none of these changes the day has a timetable."),
    ],
)
def test_the_sentence_reads_aloud(found: tuple[Outcome, ...], said: str) -> None:
    assert comparison(found, {}) == said


def test_what_is_left_out_is_said_with_its_jars() -> None:
    assert left_out_words(BASE) == "nothing"
    assert left_out_words(FULL) == "8 jars: plum jelly 2"


def test_what_cannot_be_made_stands_beside_what_has_no_room() -> None:
    today = day(
        Want(product="plum jelly", jars=39, jar="half-pint"),
        shelf=(juice("plum juice", bags=2), *stores()),
        people=(person(goes=dt.time(20)),),
    )
    plan = plan_the_day(today, seconds=0.5, explain=False)
    assert isinstance(plan, DayPlan)
    short = outcome_of(AS_IT_IS, today, plan)
    assert not short.left_out
    assert missing_words(short) == f"cannot be made: {not_made_words(short)}"
    assert "of 39 jars" in missing_words(short)
    assert missing_words(FULL) == "8 jars: plum jelly 2"
    both = replace(short, left_out=FULL.left_out)
    assert missing_words(both).startswith("8 jars: plum jelly 2; cannot be made: ")
    assert missing_words(BASE) == "nothing"


def test_what_would_be_missed_most_comes_before_more_jars() -> None:
    # plum jelly matters more: eight jars of it are kept before twelve of another
    today = day(
        Want(product="plum jelly", jars=16, jar="half-pint", matters=5),
        Want(product="sour cherry jelly", jars=24, jar="half-pint", matters=1),
        shelf=(
            juice("plum juice", bags=2),
            juice("sour cherry juice", bags=4, bag_cups=3.5),
            *stores(),
        ),
        people=(person(goes=dt.time(20)),),
    )
    plan = plan_the_day(today, seconds=1, explain=False)
    assert isinstance(plan, DayPlan)
    base = outcome_of(AS_IT_IS, today, plan)
    fewer_plums = tuple(b for b in plan.batches if b.id != "plum jelly 2")
    cherries = [b for b in plan.batches if b.product == "sour cherry jelly"]
    fewer_cherries = tuple(b for b in plan.batches if b not in cherries[-2:])
    plums = replace(
        base, change="plums", plan=replace(plan, batches=fewer_plums), jars=30
    )
    cherry = replace(
        base, change="cherries", plan=replace(plan, batches=fewer_cherries), jars=26
    )
    assert "If cherries," in comparison((base, plums, cherry), {})


def test_what_is_wanted_and_cannot_be_made_is_said() -> None:
    """Two bags of plum juice make 16 jars of the 400."""
    plum = Want(product="plum jelly", jars=16, jar="half-pint")
    shelf = (juice("plum juice", bags=2), *stores())
    asked = [day(replace(plum, jars=jars), shelf=shelf) for jars in (16, 400)]
    plans = [plan_the_day(one, seconds=0.5, explain=False) for one in asked]
    base, many = (
        outcome_of(change, one, plan)
        for change, one, plan in zip((AS_IT_IS, "x"), asked, plans, strict=True)
    )
    said = "Not all that is wanted can be made: plum jelly, "
    assert said in comparison((base, many), {})
    assert "of 400 jars." in comparison((base, many), {})
    assert said not in comparison((many, replace(base, change="x")), {})
    # where nothing about it changes it is not said again
    assert said not in comparison((replace(many, change=AS_IT_IS), many), {})


def test_no_less_time_is_said_than_the_work_that_is_planned() -> None:
    from stillroom.planning import too_small
    from stillroom.planning.words import how_long

    assert how_long.TIMES_AS_LONG >= too_small.TIMES_AS_LONG
    assert how_long.longest_s(8.0) == 24.0


def test_a_longer_day_for_which_nobody_stays_is_said() -> None:
    today = day(people=(person(goes=dt.time(12)),), ends=dt.time(13))
    plan = plan_the_day(today, seconds=0.5, explain=False)
    longer = outcome_of("day.ends=13:00", today, plan)
    assert (
        nobody_there(longer) == "nobody is there after 12:00: say who goes later, too"
    )
    other = outcome_of("kitchen.counter=90", today, plan)
    assert nobody_there(other) == ""
    stays = replace(today, people=(person(goes=dt.time(13)),))
    assert (
        nobody_there(outcome_of("day.ends=13:00", stays, replace(plan, day=stays)))
        == ""
    )
    early = replace(today, starts=dt.time(7))
    said = nobody_there(outcome_of("day.starts=07:00", early, replace(plan, day=early)))
    assert said == "nobody is there before 8:00: say who comes sooner, too"


def test_a_batch_that_the_day_has_not_is_said_to_be_none_of_it() -> None:
    today = day(Want(product="plum jelly", jars=8, jar="half-pint"))
    left = replace(today, without=("plum jelly 7",))
    plan = plan_the_day(left, seconds=0.5)
    assert isinstance(plan, DayPlan)
    base = outcome_of(AS_IT_IS, today, plan)
    seven = outcome_of('day.without="plum jelly 7"', left, plan)
    assert comparison([base, seven], {}).endswith(
        "This day has no batch plum jelly 7: it has plum jelly 1."
    )
    more = outcome_of("kitchen.counter=90", left, plan)  # the file says it, not she
    assert "no batch" not in comparison([base, more], {})


def test_a_row_says_so_only_where_something_was_gained() -> None:
    held = made(finish_min=110, holds_as_it_is=True)
    assert holds_too_words(held, BASE) == "its plan breaks no rule of the day as it is"
    assert holds_too_words(replace(held, holds_as_it_is=False), BASE) == ""
    assert holds_too_words(made(holds_as_it_is=True), BASE) == ""
    assert holds_too_words(held, NEVER) == ""


# --- the goals decide, in the keeper's order ---

HOUR = made(change=AS_IT_IS, hour_min=11 * 60, loads=9)
WORSE = "This is not better than the day as it is. "
LATER = "If x, the day is done by 10:08, 8 min later than as it is."


def beside(base: Outcome, **values: object) -> str:
    one = replace(base, change="x", **values)  # type: ignore[arg-type]
    return comparison((base, one), {})


def test_fewer_canner_runs_come_before_a_few_minutes() -> None:
    said = f"{LATER} It has fewer canner runs: 6 for 9."
    assert beside(HOUR, finish_min=128, loads=6) == (
        f"{said} That counts before ending early."
    )
    held = beside(HOUR, finish_min=128, loads=6, holds_as_it_is=True)
    assert held.endswith("the search has found it, and not the change.")
    one = replace(HOUR, change="x", finish_min=128, loads=6, holds_as_it_is=True)
    assert holds_too_words(one, HOUR) == "its plan breaks no rule of the day as it is"
    assert holds_too_words(replace(one, loads=9), HOUR) == ""


def test_more_canner_runs_are_not_better_though_they_end_sooner() -> None:
    assert beside(HOUR, finish_min=110, loads=10) == (
        f"{WORSE}If x, the day is done by 9:50, 10 min sooner than as it is. It has "
        "more canner runs: 10 for 9. That counts before ending early."
    )


def test_no_more_than_half_an_hour_is_given_and_none_past_the_hour() -> None:
    runs = "It has fewer canner runs: 6 for 9."
    assert not beside(HOUR, finish_min=150, loads=6).startswith(WORSE)
    far = beside(HOUR, finish_min=151, loads=6)
    assert far.startswith(WORSE)
    assert far.endswith(f"{runs} No more than 30 min are given for that.")
    past = beside(replace(HOUR, hour_min=605), finish_min=128, loads=6)
    assert past == (
        f"{WORSE}{LATER} It has more minutes past 10:05: 3 for 0; fewer canner runs: "
        "6 for 9. The first of these counts most."
    )
    both = beside(replace(HOUR, hour_min=595), finish_min=128, loads=6)
    assert both == f"{WORSE}{LATER} {runs} Being done by the hour counts before that."
    none = beside(replace(HOUR, hour_min=None), finish_min=128, loads=6)
    assert none == f"{WORSE}{LATER} {runs} Ending early counts before that."


def test_what_she_puts_first_decides_first() -> None:
    early = replace(HOUR, first=(Goal.EARLY,))
    assert beside(early, finish_min=128, loads=6) == (
        f"{WORSE}{LATER} It has fewer canner runs: 6 for 9. Ending early counts before "
        "that."
    )
    runs = replace(HOUR, first=(Goal.FEW_RUNS,))
    assert not beside(runs, finish_min=290, loads=6).startswith(WORSE)
    assert beside(runs, finish_min=110, loads=10, lateness=0).startswith(WORSE)


def test_two_hurried_moments_come_before_canner_runs_and_lateness_before_both() -> None:
    more = beside(HOUR, loads=6, too_near=2)
    assert more == (
        f"{WORSE}If x, the day is done by 10:00, as it is now. It has more hurried "
        "moments close behind another: 2 for 0; fewer canner runs: 6 for 9."
    )
    late = beside(replace(HOUR, lateness=40, too_near=0), lateness=0, too_near=2)
    assert not late.startswith(WORSE)
    assert "fewer minutes late: 0 for 40;" in late
    assert beside(HOUR, washes=3).startswith(WORSE)


def test_free_time_is_said_only_where_it_decides() -> None:
    assert "free" not in beside(HOUR, finish_min=110, free_in_one_piece_min=20)
    assert beside(HOUR, free_in_one_piece_min=20).endswith(
        "It has more free minutes in one piece: 20 for 0."
    )


def test_an_hour_that_is_asked_for_is_what_that_day_is_judged_by() -> None:
    """Till ten at the latest: half an hour less is worth two runs more then."""
    sooner = {"finish_min": 95, "loads": 11}
    assert beside(HOUR, **sooner).startswith(WORSE)
    asked = beside(HOUR, **sooner, hour_min=9 * 60 + 40, holds_as_it_is=True)
    assert not asked.startswith(WORSE)
    assert "not the change" not in asked  # without the wish it is none


def test_a_better_plan_beside_another_is_said_with_its_figure() -> None:
    held = replace(HOUR, change="y", finish_min=128, loads=6, holds_as_it_is=True)
    best = replace(HOUR, change="x", finish_min=110, loads=5)
    assert comparison((HOUR, best, held), {}).endswith(
        "As it is, the day can be done by 10:08, with fewer canner runs: 6 for 9, as "
        "well: a plan that was found beside it breaks no rule of it."
    )


def test_the_figures_are_those_of_the_plan() -> None:
    today = replace(
        day(people=(person("Ada"), person("Ben"))),
        done_by=dt.time(15, 30),
        first=(Goal.CALM,),
    )
    plan = plan_the_day(today, seconds=0.5, explain=False)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    one = outcome_of("x", today, plan)
    figures = {m.goal: m.figures for m in goals_of(plan.problem, plan.answer.timetable)}
    runs = figures[Goal.FEW_RUNS]
    assert one.hour_min == 15 * 60 + 30
    assert one.first == (Goal.CALM,)
    assert one.washes == runs["pot_washes"] + runs["mill_washes"] > 0
    assert one.loads == runs["runs"]
    assert one.too_near == figures[Goal.ONE_MOMENT]["too_near"]
    free = figures[Goal.CALM]["in_one_piece_min"]
    assert one.free_in_one_piece_min == free > 0


def test_a_canner_on_the_fire_of_another_is_said_to_stand_there() -> None:
    today = day(Want(product="plum jelly", jars=8, jar="half-pint"))
    plan = plan_the_day(today, seconds=0.5, explain=False)
    assert isinstance(plan, DayPlan)
    base = outcome_of(AS_IT_IS, today, plan)
    (canner, *others), burners = today.kitchen.canners, today.kitchen.burners
    taken = {name for one in (canner, *others) for name in one.stands_on}
    free = next(b.name for b in burners if b.name not in taken)

    def with_second(stands_on: tuple[str, ...]) -> str:
        second = replace(canner, name="second", stands_on=stands_on)
        kitchen = replace(today.kitchen, canners=(canner, *others, second))
        two = replace(today, kitchen=kitchen)
        return on_one_fire(outcome_of("x", two, replace(plan, day=two)), base)

    said = with_second(canner.stands_on)
    assert f"second stands on {' and '.join(canner.stands_on)}, as {canner.name}" in (
        said
    )
    assert with_second((free,)) == ""
    assert on_one_fire(base, base) == ""


def test_a_break_that_comes_after_somebody_has_gone_is_told():
    """It was taken out of the day without a word."""
    noon = Rest(minutes=40, earliest=dt.time(11, 30), latest=dt.time(13, 30))
    stays = day(people=(replace(person(), breaks=(noon,)),))
    goes = replace(stays, people=(replace(stays.people[0], goes=dt.time(12)),))
    plan = plan_the_day(stays, seconds=0.2, explain=False)
    assert isinstance(plan, DayPlan)
    base = outcome_of("as it is", stays, replace(plan, day=stays))
    one = outcome_of("people.Ada.goes=12:00", goes, replace(plan, day=goes))
    (said,) = told_beside(one, base)
    assert said == (
        "Ada has the break of 40 min after 12:00, when Ada goes: it is not in the plan"
    )
    assert told_beside(base, base) == ()
    assert told_beside(one, one) == ()  # it was so before


def test_the_same_jars_in_fewer_pots_are_all_kept() -> None:
    """One pot of ten quarts gives up nothing of two of five."""
    apples = Lot(name="apples", what="apples", mass_kg=40.0)
    quarts = Lot(name="quarts", what="quart jars", count=20)
    want = Want(product="applesauce", jars=10, jar="quart")
    today = day(want, shelf=(apples, quarts, *stores()))
    base = outcome_of(AS_IT_IS, today, plan_the_day(today, seconds=0.0))
    assert base.plan is not None
    first, *others = base.plan.batches
    assert len(others) == 1
    whole = replace(first, jars=base.jars)
    plan = replace(base.plan, batches=(whole,))
    one = replace(
        base, change="people.Ada.goes=20:00", finish_min=base.finish_min - 30, plan=plan
    )
    said = comparison((base, one), {one.change: "Ada goes at 20:00"})
    assert said.startswith("If Ada goes at 20:00, the day is done by ")
    fewer = replace(plan, batches=(first,))
    said = comparison((base, replace(one, plan=fewer)), {one.change: "so"})
    assert said.startswith("This is not better")


def test_free_time_is_no_gain_of_a_day_with_other_people() -> None:
    """A helper more is free for longer: that is compared with nothing."""

    def with_people(free_min: int, *people: str) -> Outcome:
        plan = SimpleNamespace(day=SimpleNamespace(wants=(), people=people))
        return made(free_in_one_piece_min=free_min, plan=plan)

    alone, calmer = with_people(10, "Ada"), with_people(90, "Ada")
    helped = with_people(90, "Ada", "Ben")
    assert is_better(calmer, alone)
    assert not is_better(helped, alone)
    wishes = wishes_of(alone, (alone, calmer))
    said = "more free minutes in one piece: 90 for 10"
    assert figures_words(calmer, alone, wishes) == said
    assert figures_words(helped, alone, wishes_of(alone, (alone, helped))) == ""


def test_what_is_remarked_is_said_of_the_day_that_it_is_of() -> None:
    today = day(people=(person(goes=dt.time(20)),))
    plan = plan_the_day(today, seconds=0.5, explain=False)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)

    def remarked(*remarks: str) -> Outcome:
        answer = replace(plan.answer, remarks=remarks)
        return outcome_of("x", today, replace(plan, answer=answer))

    # of the second change alone; of the day as it is and the second; of all three
    found = (
        remarked("all", "two"),
        remarked("all"),
        remarked("all", "two", "one"),
    )
    assert remarks_by_day(found) == (
        ("", "all"), ("as it is and 2", "two"), ("2", "one"),
    )  # fmt: skip


def test_a_day_that_misses_the_hour_it_was_given_says_by_how_much() -> None:
    """ "If the day is to be done by 9:30, the day is done by 9:59" said no more."""
    today = day()
    plan = plan_the_day(today, seconds=0.2, explain=False)
    assert isinstance(plan, DayPlan)
    base = outcome_of("as it is", today, plan)
    ends = base.ends_clock_min
    one = replace(base, change="day.done_by=x", hour_min=ends - 29)
    hour = f"{(ends - 29) // 60}:{(ends - 29) % 60:02d}"
    said = f"it ends 29 min after {hour}, by which it is to be done"
    assert told_beside(one, base) == (said,)
    assert told_beside(replace(one, hour_min=ends), base) == ()
    assert told_beside(one, one) == ()  # the day as it is says it


def test_what_lacks_on_a_changed_shelf_is_told_to_be_bought() -> None:
    """With one cup of sugar the day was "done as it is now", and no word more."""
    today = day()
    plan = plan_the_day(today, seconds=0.2, explain=False)
    assert isinstance(plan, DayPlan)
    base = outcome_of("as it is", today, plan)
    sugar = Purchase(name="sugar", need="14 cups", have="1 cup", buy="6 lb", why="")
    lids = Purchase(name="lids", need="20", have="12", buy="8", why="")
    one = replace(base, plan=replace(plan, shopping=(*plan.shopping, sugar, lids)))
    assert told_beside(one, base) == ("to be bought for it: 6 lb sugar and 8 lids",)
    assert told_beside(one, one) == ()


@pytest.mark.parametrize(
    ("weight", "name"), [(1, "minutes late"), (3, "minutes late by their weight")]
)
def test_minutes_late_are_said_by_their_weight_where_they_have_one(
    weight: int, name: str
) -> None:
    """ "It has more weighed minutes late" was said of a day without any weight."""
    by = dt.time(9)
    today = day(
        Want(product="plum jelly", jars=8, jar="half-pint", by=by, weight=weight)
    )
    plan = plan_the_day(today, seconds=0.2, explain=False)
    assert isinstance(plan, DayPlan)
    base = outcome_of("as it is", today, plan)
    late = replace(base, lateness=base.lateness + 40)
    wishes = wishes_of(base, (base, late))
    assert f"more {name}: " in figures_words(late, base, wishes)


@pytest.mark.parametrize(
    ("bounds", "may"),
    [((120, 120), False), ((120, 119), True), ((120, None), True)],
)
def test_a_few_minutes_are_the_search_where_an_end_is_not_proven(bounds, may):
    """It was said of two days of which no plan can end sooner."""
    found = [made(lower_bound_min=bound) for bound in bounds]
    assert search_may_differ(found) is may
    assert not search_may_differ(found[:1])
    assert not search_may_differ([found[0], made(finish_min=None)])

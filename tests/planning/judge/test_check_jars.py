"""
The judge on jars, loads and water, on the smallest day where each rule bites.

Each case is a day that holds, and the one minute, jar or name that does not, with the
whole answer: one sentence, and no other rule speaks.
"""

from __future__ import annotations

import pytest
from planning.small_days import ALL_SKILLS, HALF_PINT, PINT, day, person
from planning.small_days import canner as a_canner
from planning.small_days import step as a_step
from planning.written_out import LID, at, batch, closed, load, said

from stillroom.methods.step import Skill
from stillroom.planning.problem import (
    ComeUp,
    Counter,
)
from stillroom.planning.timetable import (
    PlacedLoad,
)

# --- 10 to 13 jars ---


def test_all_jars_of_a_batch_ride_and_no_others() -> None:
    for aboard, holds in ((4, False), (5, True), (6, False)):
        answer = f"a has {aboard} jars in loads; 5 belong there"
        found = said(day(closed()), [LID], [load(jars=(("a", aboard),))])
        assert found == (() if holds else (answer,))


def test_jars_that_go_through_no_canner_are_in_no_load() -> None:
    problem = day(closed(), closed("b", process=None))
    steps = [LID, at("b", "lid", 25, 30)]
    assert said(problem, steps, [load()]) == ()
    found = said(problem, steps, [load(jars=(("a", 5), ("b", 5)))])
    assert found == (
        "b has 5 jars in loads; 0 belong there",
        "jars of b (None) may not ride in a load of half-pint-10",
    )


def test_a_canner_takes_so_many_of_a_jar_size() -> None:
    # 16 half-pints, 9 pints: counted by the size of the load's own process
    for jars, process, size, places in (
        (16, HALF_PINT, "half_pint", 16),
        (9, PINT, "pint", 9),
    ):
        one_more = jars + 1
        for count in (jars, one_more):
            problem = day(closed(jars=count, process=process.id))
            found = said(
                problem, [LID], [load(process=process.id, jars=(("a", count),))]
            )
            answer = f"load L1 has {count} jars; canner canner takes {places} of {size}"
            assert found == (() if count == jars else (answer,))


def test_a_canner_without_places_for_a_size_takes_none_of_it() -> None:
    small = a_canner(places={"pint": 9})
    found = said(day(closed(), canners=(small,)), [LID], [load()])
    assert found == ("load L1 has 5 jars; canner canner takes 0 of half_pint",)


def test_jars_ride_in_their_own_process_or_a_longer_one_that_is_allowed() -> None:
    # pint-10 may ride in pint-15, and not the other way round
    long = load(
        process="pint-15", process_min=15, done_min=61, fire_free_min=61,
        lift_min=66, out_min=70,
    )  # fmt: skip
    assert said(day(closed(process="pint-10")), [LID], [long]) == ()
    short = load(process="pint-10")
    assert said(day(closed(process="pint-15")), [LID], [short]) == (
        "jars of a (pint-15) may not ride in a load of pint-10",
    )


def test_a_process_is_never_a_minute_shorter_or_longer() -> None:
    for minutes in (9, 11):
        shift = minutes - 10
        wrong = load(
            process_min=minutes, done_min=56 + shift, fire_free_min=56 + shift,
            lift_min=61 + shift, out_min=65 + shift,
        )  # fmt: skip
        assert said(day(closed()), [LID], [wrong]) == (
            f"load L1 is processed {minutes} min; half-pint-10 takes 10",
        )


@pytest.mark.parametrize(
    ("closed_at", "answer"),
    [
        (31, "load L1 starts 1 min before a is closed"),
        (30, None),
        (10, None),  # lowered at 30, at most 20 closed
        (9, "jars of a wait closed 21 min for load L1; at most 20"),
    ],
)
def test_closed_jars_wait_so_long(closed_at: int, answer: str | None) -> None:
    steps = [at("a", "lid", closed_at - 5, closed_at)]
    assert said(day(closed()), steps, [load()]) == (() if answer is None else (answer,))


def test_without_a_closing_step_the_last_one_closes() -> None:
    two = (a_step("lid", 5, 0), a_step("wipe", 5, 0))
    problem = day(batch("a", *two, jars=5, process="half-pint-10"))
    steps = [at("a", "lid", 0, 5), at("a", "wipe", 26, 31)]
    assert said(problem, steps, [load()]) == (
        "load L1 starts 1 min before a is closed",
    )
    named = day(batch("a", *two, jars=5, process="half-pint-10", ready_after="lid"))
    assert said(named, steps, [load()]) == (
        "jars of a wait closed 25 min for load L1; at most 20",
    )


def test_jars_that_no_step_closes_wait_for_none() -> None:
    """They came closed: nothing of them is done on this day but the canning."""
    problem = day(batch("a", jars=5, process="half-pint-10"))
    assert said(problem, [], [load(90, heat_min=60)]) == ()


# --- 14 to 17 a load ---


@pytest.mark.parametrize(
    ("changes", "answer"),
    [
        ({"lowered_min": 33}, "lowering lasts 3 min; it takes 4"),
        ({"boil_min": 45}, "coming to a boil lasts 11 min; it takes 12"),
        ({"out_min": 64}, "lifting out lasts 3 min; it takes 4"),
    ],
)
def test_each_part_of_a_load_takes_its_minutes(
    changes: dict[str, int], answer: str
) -> None:
    found = said(day(closed()), [LID], [load(**changes)])
    assert f"load L1: {answer}" in found


def test_jars_of_a_process_come_up_in_its_own_minutes_where_it_has_some() -> None:
    # half-pints packed raw: 20 min where other loads take 12; all after it is 8 later
    raw = a_canner(come_up_of={HALF_PINT.id: ComeUp(minutes=20)})
    later = {"boil_min": 54, "done_min": 64, "lift_min": 69, "out_min": 73}
    slow = load(**later, fire_free_min=64)
    assert said(day(closed(), canners=(raw,)), [LID], [slow]) == ()
    assert said(day(closed(), canners=(raw,)), [LID], [load()]) == (
        "load L1: coming to a boil lasts 12 min; it takes 20",
    )
    pints = a_canner(come_up_of={PINT.id: ComeUp(minutes=20)})
    assert said(day(closed(), canners=(pints,)), [LID], [load()]) == ()


def test_the_process_runs_its_whole_time_from_the_full_boil() -> None:
    early = load(done_min=55, fire_free_min=56)
    assert said(day(closed()), [LID], [early]) == (
        "load L1: processing lasts 9 min; it takes 10",
    )


@pytest.mark.parametrize(("rested", "holds"), [(4, 0), (5, 1), (15, 1), (16, 0)])
def test_jars_rest_and_are_lifted_within_ten_minutes(rested: int, holds: int) -> None:
    found = said(
        day(closed()), [LID], [load(lift_min=56 + rested, out_min=60 + rested)]
    )
    answer = (
        f"load L1 is lifted {rested} min after its process ends; 5 to 15 are allowed"
    )
    assert found == (() if holds else (answer,))


@pytest.mark.parametrize("what", ["lowered", "lifted"])
def test_hot_jars_are_moved_by_who_may(what: str) -> None:
    child = person("child", skills=ALL_SKILLS - {Skill.LIFT})
    problem = day(closed(), people=(person("p1"), child))
    found = said(problem, [LID], [load(**{f"{what}_by": "child"})])
    assert found == (f"load L1 is {what} by child, who does not lift hot jars",)


def test_the_fire_burns_until_the_process_ends_and_the_load_is_within_the_day() -> None:
    problem = day(closed())
    assert said(problem, [LID], [load(fire_free_min=55)]) == (
        "load L1 loses its fire before its process ends",
    )
    # lowered at 445 it is out at 480, where the day ends
    last = [at("a", "lid", 440, 445)]
    assert said(problem, last, [load(445)]) == ()
    late = [at("a", "lid", 440, 445)]
    assert said(problem, late, [load(446)]) == ("load L1 ends after the day",)
    # heating takes 30: lowered at 29 it would have begun the evening before
    early = [at("a", "lid", 20, 25)]
    assert said(problem, early, [load(29)]) == (
        "load L1 is heated 1 min before the day",
    )


def test_a_load_may_be_one_jar() -> None:
    assert said(day(closed(jars=1)), [LID], [load(jars=(("a", 1),))]) == ()


def test_a_load_has_jars_and_a_name_of_its_own() -> None:
    problem = day(closed())
    empty = load(100, id="L2", jars=(), heat_min=80)
    assert said(problem, [LID], [load(), empty]) == (
        "load L2 is empty, or has no jars of a batch it names",
    )
    none_of_it = load(100, id="L2", jars=(("a", 0),), heat_min=80)
    assert said(problem, [LID], [load(), none_of_it])[0] == (
        "load L2 is empty, or has no jars of a batch it names"
    )
    beside = load(jars=(("a", 5), ("b", 0)))
    other = closed("b", jars=0)
    assert said(day(closed(), other), [LID, at("b", "lid", 25, 30)], [beside]) == (
        "load L1 is empty, or has no jars of a batch it names",
    )
    both = day(closed(), closed("b"))
    steps = [LID, at("b", "lid", 90, 95)]
    same = load(100, jars=(("b", 5),), heat_min=80)
    assert said(both, steps, [load(), same]) == ("two loads are named L1",)


# --- 15, 16 water ---


def two_loads(second: PlacedLoad, first: PlacedLoad | None = None) -> tuple[str, ...]:
    """Two batches; the first load is out at 65, the second batch is closed in time."""
    problem = day(closed("a"), closed("b"), people=2)
    closes = second.lower_min
    steps = [LID, at("b", "lid", closes - 5, closes)]
    return said(problem, steps, [first or load(), second])


def later(lower: int, **changes: object) -> PlacedLoad:
    return load(lower, id="L2", jars=(("b", 5),), **changes)


def test_one_load_after_the_other_in_one_canner() -> None:
    # hot: the flame stays on to the next lowering
    hot = later(65, hot=True, heat_min=65)
    assert two_loads(hot, load(fire_free_min=65)) == ()
    early = later(64, hot=True, heat_min=64, lowered_by="p2")
    assert two_loads(early, load(fire_free_min=64)) == (
        "load L1 and load L2 are in canner canner at once",
    )


def test_the_first_water_of_a_canner_is_cold() -> None:
    problem = day(closed())
    assert said(problem, [LID], [load(hot=True, heat_min=30)]) == (
        "load L1 is the first of canner canner: its water is cold",
    )
    for heated in (29, 31):
        first = load(31, heat_min=31 - heated)
        assert said(problem, [LID], [first]) == (
            f"load L1 is lowered after {heated} min of heating; its water needs 30",
        )


def test_water_stays_hot_so_long_while_the_fire_burns() -> None:
    # out at 65, stays hot 25: lowered by 90
    assert two_loads(later(90, hot=True, heat_min=90), load(fire_free_min=90)) == ()
    assert two_loads(later(91, hot=True, heat_min=91), load(fire_free_min=91)) == (
        "load L2 comes 26 min after load L1 is out; the water stays hot 25",
    )
    assert two_loads(later(90, hot=True, heat_min=90), load(fire_free_min=89)) == (
        "load L2 is called hot, but the fire was off since load L1",
    )
    assert two_loads(later(90, hot=True, heat_min=89), load(fire_free_min=90)) == (
        "load L2 is called hot and heated all the same",
    )


def test_water_that_cooled_is_reheated_when_the_load_before_is_out() -> None:
    # out at 65, reheated for 20: lowered from 85 on
    assert two_loads(later(85, heat_min=65)) == ()
    assert two_loads(later(84, heat_min=64)) == (
        "load L2 is heated before load L1 is out",
    )
    assert two_loads(later(95, heat_min=65)) == ()  # longer than it needs: as at first
    assert two_loads(later(85, heat_min=66)) == (
        "load L2 is lowered after 19 min of heating; its water needs 20",
    )
    assert two_loads(later(85, heat_min=65), load(fire_free_min=65)) == ()
    assert two_loads(later(85, heat_min=65), load(fire_free_min=66)) == (
        "load L2 is heated on the fire that load L1 holds",
    )


# --- 18 the counter ---


def test_jars_keep_their_place_until_they_are_cold() -> None:
    # five out at 65, five at 120 with 55 between: a jar that cools in 55 makes room
    def counted(places: int, cooling: int) -> tuple[str, ...]:
        problem = day(
            closed("a"),
            closed("b"),
            counter=Counter(places=places, cooling_min=cooling),
        )
        steps = [LID, at("b", "lid", 80, 85)]
        return said(problem, steps, [load(), later(85, heat_min=65)])

    assert counted(10, 56) == ()
    assert counted(9, 56) == (
        "10 jars cool on the counter at minute 120; it has room for 9",
    )
    assert counted(5, 55) == ()
    assert counted(4, 55) == (
        "5 jars cool on the counter at minute 65; it has room for 4",
    )


def test_yesterdays_jars_keep_their_place_until_they_are_fetched() -> None:
    # ten of yesterday stand until minute 65, when today's five come out
    def counted(until: int) -> tuple[str, ...]:
        taken = Counter(places=14, cooling_min=1440, taken=((10, until),))
        return said(day(closed(), counter=taken), [LID], [load()])

    assert counted(65) == ()
    assert counted(66) == (
        "15 jars cool on the counter at minute 65; it has room for 14",
    )


def test_one_jar_needs_a_place() -> None:
    none = day(closed(jars=1), counter=Counter(places=0, cooling_min=1440))
    assert said(none, [LID], [load(jars=(("a", 1),))]) == (
        "1 jars cool on the counter at minute 65; it has room for 0",
    )

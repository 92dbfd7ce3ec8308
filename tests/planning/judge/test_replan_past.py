"""
The judge on what the past alone has broken, which is no fault of the new plan.

The same sentence stands where anything that is still to come has a part in it.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner as a_canner
from planning.small_days import day, person
from planning.small_days import step as a_step
from planning.written_out import (
    LID,
    Part,
    at,
    batch,
    closed,
    fire,
    labour,
    load,
    said_again,
)

from stillroom.methods.step import Skill
from stillroom.planning.problem import Counter, Person
from stillroom.planning.timetable import PlacedLoad

CHILD = person("child", skills=frozenset({Skill.COLD}))
TWO = (person("p1"), CHILD)


def one_load(
    now: int, canned: PlacedLoad, people: tuple[Person, ...] = TWO, **changes: object
) -> tuple[str, ...]:
    """A load that has begun, judged at a minute: down at 30, done at 56, out at 65."""
    problem = day(closed(), people=people, **changes)
    return said_again(problem, now, Part(steps=[LID], loads=[canned]))


# --- steps ---


def test_who_did_it_without_the_skill_has_done_it() -> None:
    problem = day(batch("a", labour(skill=Skill.PAN)), people=TWO)
    stirs = Part(steps=[at("a", "do", 0, 10, "child")])
    assert said_again(problem, 5, stirs) == ()
    assert said_again(problem, 0, later=stirs) == (
        "do of a needs pan, which child does not do alone",
    )


def test_two_pots_that_stood_on_one_fire_are_past_and_a_third_is_not() -> None:
    problem = day(*(fire(name, 1000.0) for name in "abc"))
    both = [at(name, "burn", 0, 10, burner="weak-1") for name in "ab"]
    third = at("c", "burn", 9, 19, burner="weak-1")
    later = Part(steps=[replace(third, start_min=10, end_min=20)])
    assert said_again(problem, 5, Part(steps=both), later) == ()
    assert said_again(problem, 5, Part(steps=both), Part(steps=[third])) == (
        "burner weak-1 holds burn of a and burn of c at once",
        "burner weak-1 holds burn of b and burn of c at once",
    )


def test_what_is_said_of_two_is_known_in_whatever_order_they_stand() -> None:
    # the past is read in the order of the new plan: it names them the same way round
    problem = day(fire("a", 1000.0), fire("b", 1000.0), fire("c", 1000.0))
    steps = [
        at("b", "burn", 0, 10, burner="weak-1"),
        at("a", "burn", 0, 10, burner="weak-1"),
    ]
    later = Part(steps=[at("c", "burn", 20, 30, burner="weak-1")])
    assert said_again(problem, 5, Part(steps=steps), later) == ()


def test_a_batch_of_which_nothing_has_begun_is_judged_whole() -> None:
    problem = day(batch("a", labour()), fire("b", 2000.0))
    begun = Part(steps=[at("a", "do", 0, 10, "p1")])
    later = Part(steps=[at("b", "burn", 20, 30, burner="weak-1")])
    assert said_again(problem, 10, begun, later) == (
        "burn of b is on burner weak-1 of 1000 W; it needs 2000 W",
    )


def test_a_pot_that_is_only_rinsed_and_not_used_again_is_still_to_be_washed() -> None:
    """The rinse is past; that nothing goes into the pot after it is to come."""
    wash = a_step("wash", 5, 0, in_pot=True, rinse_min=2)
    a = batch("a", wash, pots=("big",), product="jelly")
    b, c = replace(a, id="b"), replace(a, id="c", product="butter", contents="butter")
    begun = Part(steps=[at("a", "wash", 0, 2, pot="big-1", rinsed=True)])
    later = Part(steps=[at("b", "wash", 10, 15, pot="big-1")])
    assert said_again(day(a, b), 5, begun, later) == ()
    assert said_again(day(a), 5, begun) == (
        "pot big-1 is only rinsed after a and not used again: it is washed at the end",
    )
    other = Part(steps=[at("c", "wash", 10, 15, pot="big-1")])
    assert said_again(day(a, c), 5, begun, other) == (
        "pot big-1 goes from a to c only rinsed; between two products it is washed",
    )


def test_a_pot_that_went_on_only_rinsed_is_past() -> None:
    wash = a_step("wash", 5, 0, in_pot=True, rinse_min=2)
    a = batch("a", wash, pots=("big",), product="jelly")
    c = replace(a, id="c", product="butter")
    begun = [
        at("a", "wash", 0, 2, pot="big-1", rinsed=True),
        at("c", "wash", 10, 15, pot="big-1"),
    ]
    assert said_again(day(a, c), 12, Part(steps=begun)) == ()


# --- jars ---


@pytest.mark.parametrize(
    ("jars", "aboard"), [(6, (5,)), (4, (5,)), (10, (5, 4)), (9, (5, 5))]
)
def test_jars_that_are_missing_or_too_many_are_said(
    jars: int, aboard: tuple[int, ...]
) -> None:
    """What went in is the past, and what belongs there is still to be put right."""
    loads = [
        load(30 + 90 * n, id=f"L{n + 1}", jars=(("a", count),))
        for n, count in enumerate(aboard)
    ]
    problem = day(closed(jars=jars, closed_wait_at_most_min=200))
    found = said_again(problem, 200, Part(steps=[LID], loads=loads))
    assert found == (f"a has {sum(aboard)} jars in loads; {jars} belong there",)


def test_a_batch_of_one_jar_is_put_into_a_load() -> None:
    assert said_again(day(closed(jars=1)), 40, Part(steps=[LID])) == (
        "a has 0 jars in loads; 1 belong there",
    )


def test_more_jars_than_places_were_put_in_and_are_not_put_in_anew() -> None:
    small = (a_canner(places={"half_pint": 4}),)
    answer = "load L1 has 5 jars; canner canner takes 4 of half_pint"
    assert one_load(40, load(), canners=small) == ()
    later = Part(steps=[LID], loads=[load()])
    assert said_again(day(closed(), canners=small), 0, later=later) == (answer,)


def test_a_load_is_past_though_nothing_was_told_of_its_jars() -> None:
    # nobody told the stove that the jars were closed: that is to be put right, and the
    # places in the canner are not
    small = (a_canner(places={"half_pint": 4}),)
    lid = at("a", "lid", 40, 45)
    problem = day(closed(), canners=small)
    assert said_again(problem, 40, Part(loads=[load()]), Part(steps=[lid])) == (
        "load L1 starts 15 min before a is closed",
    )


def test_two_loads_that_were_in_one_canner_at_once_are_past() -> None:
    problem = day(closed("a"), closed("b"))
    steps = [LID, at("b", "lid", 45, 50)]
    second = load(64, id="L2", jars=(("b", 5),), hot=True, heat_min=64)
    answer = "load L1 and load L2 are in canner canner at once"
    first = load(fire_free_min=64)
    assert said_again(problem, 200, Part(steps=steps, loads=[first, second])) == ()
    later = Part(loads=[second])
    begun = Part(steps=steps, loads=[first])
    found = said_again(problem, 62, begun, later)
    assert found[0] == answer


# --- a load that is in, and its lift that is to come ---


def test_who_lowered_without_leave_has_done_it() -> None:
    assert one_load(40, load(lowered_by="child")) == ()


def test_who_may_not_lift_hot_jars_does_not_lift_what_is_in() -> None:
    """The lift is at 61; until then it can be given to somebody else."""
    lifts = load(lifted_by="child")
    answer = "load L1 is lifted by child, who does not lift hot jars"
    assert one_load(40, lifts) == one_load(61, lifts) == (answer,)
    assert one_load(62, lifts) == ()


@pytest.mark.parametrize(("rested", "holds"), [(7, False), (8, True), (18, True)])
def test_jars_that_are_in_rest_as_long_as_their_canner_asks(
    rested: int, holds: bool
) -> None:
    """At the boil until 56; this canner rests for 8 and is emptied within 10 more."""
    slow = (a_canner(rest_min=8),)
    lifted = load(lift_min=56 + rested, out_min=60 + rested)
    answer = (
        f"load L1 is lifted {rested} min after its process ends; 8 to 18 are allowed"
    )
    assert one_load(40, lifted, canners=slow) == (() if holds else (answer,))
    assert one_load(56 + rested, lifted, canners=slow) == (() if holds else (answer,))
    assert one_load(57 + rested, lifted, canners=slow) == ()  # she has lifted them


def test_five_minutes_are_no_rest_where_a_canner_asks_for_more() -> None:
    slow = (a_canner(rest_min=8),)
    assert one_load(40, load(), canners=slow) == (
        "load L1 is lifted 5 min after its process ends; 8 to 18 are allowed",
    )


def test_a_lift_to_come_takes_its_minutes() -> None:
    quick = load(out_min=64)
    assert one_load(61, quick) == ("load L1: lifting out lasts 3 min; it takes 4",)
    assert one_load(62, quick) == ()


@pytest.mark.parametrize(
    ("changes", "answer"),
    [
        ({"leaves_min": 64}, "lifting load L1 ends 1 min after p1 leaves"),
        (
            {"away": ((60, 62),)},
            "lifting load L1 falls while p1 is away, minute 60 to minute 62",
        ),
    ],
)
def test_who_lifts_what_is_in_is_there(changes: dict[str, object], answer: str) -> None:
    people = (person("p1", **changes),)
    assert one_load(61, load(), people) == (answer,)
    assert one_load(62, load(), people) == ()


def test_who_was_away_when_she_lowered_has_lowered() -> None:
    assert one_load(40, load(), (person("p1", away=((30, 35),)),)) == ()


def test_a_load_that_is_in_keeps_its_fire_until_its_process_ends() -> None:
    # the process ends at 56; said to be off at 50
    off = load(fire_free_min=50)
    answer = "load L1 loses its fire before its process ends"
    assert one_load(40, off) == one_load(50, off) == (answer,)
    assert one_load(51, off) == ()  # it is off, whatever is planned


def test_a_load_that_is_in_is_out_before_the_day_ends() -> None:
    assert one_load(61, load(), horizon_min=65) == ()
    assert one_load(61, load(), horizon_min=64) == ("load L1 ends after the day",)
    assert one_load(61, load(), horizon_min=64, people=(person("p1"),)) != ()
    assert one_load(62, load(), horizon_min=64) == ()


def test_jars_that_are_in_have_room_to_cool_when_they_are_out() -> None:
    four = Counter(places=4, cooling_min=1440)
    answer = "5 jars cool on the counter at minute 65; it has room for 4"
    assert one_load(61, load(), counter=four) == (answer,)
    assert one_load(62, load(), counter=four) == ()


def test_a_counter_that_was_too_full_is_no_room_for_the_next_load() -> None:
    # four places; five jars out at 65 are cold at 95, five more are out at 135
    four = Counter(places=4, cooling_min=30)
    problem = day(closed("a"), closed("b"), counter=four)
    begun = Part(steps=[LID], loads=[load()])
    next_one = load(100, id="L2", jars=(("b", 5),), heat_min=80)
    later = Part(steps=[at("b", "lid", 92, 97)], loads=[next_one])
    assert said_again(problem, 90, begun, later) == (
        "5 jars cool on the counter at minute 135; it has room for 4",
    )
    assert said_again(problem, 90, begun, later, more_places=1) == ()


def test_of_two_loads_each_lift_is_its_own() -> None:
    """The child has lifted the first; the second is still to be given to another."""
    problem = day(closed("a"), closed("b"), people=TWO, canners=(a_canner(), OTHER))
    steps = [LID, at("b", "lid", 25, 30)]
    first = load(lifted_by="child")
    second = load(
        34,
        id="L2",
        canner="canner-2",
        jars=(("b", 5),),
        lifted_by="child",
    )  # done at 60, lifted 65 to 69
    begun = Part(steps=steps, loads=[first, second])
    assert said_again(problem, 65, begun) == (
        "load L2 is lifted by child, who does not lift hot jars",
    )
    assert said_again(problem, 66, begun) == ()


OTHER = a_canner("canner-2", burners=("middle-1",))

"""Smallest days in which one rule of hands or tools bites, and why the sum is right."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner, day, jelly, one_fire, person, step, work

from stillroom.methods.in_halves import in_halves
from stillroom.methods.method import Work
from stillroom.methods.step import Link, Skill, Step
from stillroom.planning.cpsat.variables import slots_needed
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.by_the_hour import off_its_fire
from stillroom.planning.judge.check import violations
from stillroom.planning.off_the_fire import canners_off
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import (
    Burner,
    Canner,
    Counter,
    Pot,
    Problem,
    Want,
    Window,
)
from stillroom.planning.sequence.search import by_turns
from stillroom.planning.timetable import Answer, NoneFound
from stillroom.planning.words.canner_moved import loads_after_a_move
from stillroom.planning.words.sheet import day_sheet
from stillroom.refusal import Unreadable


def best(problem: Problem) -> Answer:
    answer = plan_day(problem, seconds=8.0)
    assert isinstance(answer, Answer), answer
    assert answer.proven
    assert violations(problem, answer.timetable) == ()
    return answer


# --- attention in quarters ------------------------------------------------------


@pytest.mark.parametrize(("quarters", "finish"), [(4, 10), (3, 20), (2, 20)])
def test_attention_adds_up_to_what_one_person_has(quarters: int, finish: int) -> None:
    # two things to watch, two quarters each: side by side in four, not in three
    problem = day(
        work("a", step("watch", 10, 2)),
        work("b", step("watch", 10, 2)),
        people=(person("p1", quarters=quarters),),
    )
    assert best(problem).finish_min == finish


def test_who_minds_a_baby_does_nothing_that_takes_all_of_a_person() -> None:
    # the hard boil takes four quarters: it is the other's, who comes at 30
    minder = person("minder", quarters=3)
    other = person("other", arrives_min=30)
    boil = work("a", step("boil", 10, 4, skill=Skill.PAN))
    assert best(day(boil, people=(minder, other))).finish_min == 40
    with pytest.raises(Unreadable, match=r'has 3 of .* "boil" takes all 4'):
        plan_day(day(boil, people=(minder,)), seconds=1.0)


def test_the_checker_counts_the_quarters_that_a_person_has() -> None:
    problem = day(
        work("a", step("watch", 10, 2)),
        work("b", step("watch", 10, 2)),
        people=(person("p1"),),
    )
    side_by_side = best(problem).timetable
    less = replace(problem, people=(person("p1", quarters=3),))
    assert violations(less, side_by_side) == (
        "p1 gives 4 quarters at minute 0 (10 min in all); p1 has 3 to give",
    )


# --- two pairs of hands ----------------------------------------------------------


def together(first: str, second: str, minutes: int) -> Link:
    """Both begin at once: the second starts its own length before the first ends."""
    return Link(before=first, after=second, at_least_min=-minutes, at_most_min=-minutes)


def test_what_two_do_together_takes_both_at_once() -> None:
    # one holds the bag and one pours, 10 min; each has 5 min of own work as well,
    # which nobody does beside it: 15
    pour = work(
        "a",
        step("hold", 10, 4),
        step("pour", 10, 4),
        links=(together("hold", "pour", 10),),
    )
    own = [work(name, step("wash", 5, 3)) for name in "bc"]
    problem = day(pour, *own, people=2)
    answer = best(problem)
    assert answer.finish_min == 15
    start = {s.step: (s.start_min, s.person) for s in answer.timetable.steps}
    assert start["hold"][0] == start["pour"][0]
    assert start["hold"][1] != start["pour"][1]


def test_one_person_is_not_two() -> None:
    pour = work(
        "a",
        step("hold", 10, 4),
        step("pour", 10, 4),
        links=(together("hold", "pour", 10),),
    )
    answer = plan_day(day(pour), seconds=4.0)
    assert isinstance(answer, NoneFound)
    assert by_hand(day(pour), shuffle_seconds=0.1) is None


# --- burners and what they bear ---------------------------------------------------


@pytest.mark.parametrize(
    ("bears", "finish"), [(None, 10), ({"big"}, 10), ({"small"}, 20)]
)
def test_a_burner_bears_no_larger_pot_than_it_is_said_to(
    bears: set[str] | None, finish: int
) -> None:
    # two big pots to cook ten minutes; where one of the two fires bears small pots
    # only, one pot follows the other
    cook = [
        work(name, step("cook", 10, 0, burner_w=900.0, in_pot=True), pots=("big",))
        for name in "ab"
    ]
    problem = day(
        *cook,
        big_pots=2,
        canners=(),
        burners=(
            Burner(id="one", power_w=1000.0),
            Burner(
                id="two",
                power_w=1000.0,
                takes=None if bears is None else frozenset(bears),
            ),
        ),
    )
    answer = best(problem)
    assert answer.finish_min == finish
    assert answer.by_hand is not None
    assert violations(problem, answer.by_hand) == ()


def test_by_hand_a_pot_between_two_fires_is_on_neither_of_them_at_once() -> None:
    # after the first minute on a weak burner one step asks for a strong one and one
    # for none such; whichever comes between touches both, so that a minute is let pass
    weak = step("s0", 1, 0, burner_w=1000.0, in_pot=True)
    strong = step("s1", 1, 0, burner_w=2000.0, in_pot=True)
    again = step("s2", 1, 0, burner_w=1000.0, in_pot=True)
    links = (Link(before="s0", after="s1"), Link(before="s0", after="s2"))
    problem = day(work("a", weak, strong, again, links=links), canners=())
    plan = by_hand(problem)
    assert plan is not None
    assert violations(problem, plan) == ()


def test_the_checker_knows_what_a_burner_bears() -> None:
    cook = work("a", step("cook", 10, 0, burner_w=900.0, in_pot=True), pots=("big",))
    burner = Burner(id="one", power_w=1000.0)
    problem = day(
        cook, canners=(), burners=(burner,), pots=(Pot(id="big-1", size="big"),)
    )
    plan = best(problem).timetable
    small = replace(problem, burners=(replace(burner, takes=frozenset({"small"})),))
    (said,) = violations(small, plan)
    assert said == (
        "cook of a is in pot big-1 on burner one, which does not bear a pot of big"
    )


# --- canners ----------------------------------------------------------------------


def test_no_pot_takes_the_fire_of_a_canner_with_jars_in_it() -> None:
    # heated for 30; lowered in 4, to the boil in 12, ten of process, a rest of 5,
    # lifted out in 4: 65. Only then the pot is put there for 10: 75. From the end of
    # the process at 56 on it would be 66; with the pot first 45, and 65 more: 110
    answer = best(one_fire())
    assert answer.finish_min == 75
    assert answer.by_hand is not None
    assert violations(one_fire(), answer.by_hand) == ()
    by_turns_too = by_turns(one_fire(), plans=20, seconds=5.0)
    assert by_turns_too is not None
    assert violations(one_fire(), by_turns_too) == ()


def test_the_last_load_of_a_canner_keeps_its_fire_until_its_jars_are_out() -> None:
    # ten jars in a canner of five: two loads, all that it is given room for. The first
    # is out at 65; the second goes into the hot water at once: in at 69, to the boil in
    # 12, ten of process, a rest of 5, lifted out in 4: 100, and then the pot: 110. From
    # the end of the process at 91 on it would be 101; with the pot before or between
    # them the canner is heated from cold after 45 or 75: out at 145 or 140
    jars, cook = one_fire().batches
    ten = replace(jars, jars=10, closed_wait_at_most_min=90)
    problem = replace(one_fire(), batches=(ten, cook), canners=(layered(5),))
    answer = best(problem)
    assert answer.finish_min == 110
    assert max(load.out_min for load in answer.timetable.loads) == 100
    assert slots_needed(problem) == {"canner": 2}


def test_a_canner_that_a_pot_takes_the_place_of_is_heated_from_cold() -> None:
    # a first load is out at 65; a second, closed at 90, goes into water that is
    # reheated for 20: lowered at 90, out at 125, then the pot: 135. The pot may cook
    # from 65 to 75 while the canner is empty, but then it is taken off and filled anew,
    # heated for 30 from 75 on, lowered at 105 and out at 140. With water that stayed
    # warm it would be 130
    second = work(
        "c",
        step("close", 4, 3),
        jars=5,
        process="half-pint-10",
        ready_after="close",
        closed_wait_at_most_min=60,
        windows=(Window(step="close", earliest_min=86),),
    )
    first, cook = one_fire().batches
    at_once = replace(first, windows=(Window(step="lid", latest_min=10),))
    problem = replace(one_fire(), batches=(at_once, cook, second))
    answer = best(problem)
    assert answer.finish_min == 135
    assert loads_after_a_move(problem, answer.timetable) == frozenset()
    entries = day_sheet(problem, answer.timetable).entries
    lit = [e.what for e in entries if e.what.startswith("Light")]
    assert lit == ["Light the canner, warm the water", "Light the canner again"]
    # by noon she wants the pot's goods, whatever that costs: then it is moved
    hurry = replace(problem, wants=(Want(product="b", by_min=75, weight=9),))
    early = best(hurry)
    assert early.finish_min == 140
    (load,) = loads_after_a_move(hurry, early.timetable)
    last = max(early.timetable.loads, key=lambda x: x.lower_min)
    assert (load, last.heat_min, last.lower_min) == (last.id, 75, 105)
    entries = day_sheet(hurry, early.timetable).entries
    lit = [e.what for e in entries if e.what.startswith("Light")]
    assert lit == ["Light the canner, warm the water"] * 2
    (caution,) = off_its_fire(hurry, early.timetable)
    off = "by 9:05 the canner is off the burner strong-1, which b needs"
    assert caution.text.startswith(off)  # a burner may be called "right"
    # the words stand at the step that needs the fire, and at no other
    at_step = {
        (e.batch, e.what): e.detail
        for e in day_sheet(hurry, early.timetable).entries
        if "off this fire" in e.detail
    }
    assert [key[0] for key in at_step] == ["b"]
    assert all(
        c.startswith("first the canner off this fire: ladle it down")
        for c in at_step.values()
    )
    # behind its last load it is off as well; a pot that was there first moves none
    (cooked,) = (s for s in answer.timetable.steps if s.burner and s.batch == "b")
    assert canners_off(problem, answer.timetable) == ((cooked, "canner"),)
    sooner = replace(answer.timetable, steps=(replace(cooked, start_min=-1),))
    assert canners_off(problem, sooner) == ()
    # a canner that is listed first and goes off its fire at noon comes behind it
    other = replace(canner(), id="other canner", burners=("strong-2",))
    both = replace(hurry, canners=(other, *hurry.canners))
    pot = next(s for s in early.timetable.steps if s.batch == "b" and s.burner)
    day_of_both = replace(
        early.timetable,
        loads=(replace(last, canner=other.id), *early.timetable.loads),
        steps=(replace(pot, burner="strong-2", start_min=240), *early.timetable.steps),
    )
    said = [c.text for c in off_its_fire(both, day_of_both)]
    assert [words.partition(" is off")[0] for words in said] == [
        "by 9:05 the canner",
        "by 12:00 the other canner",
    ]


def layered(places: int) -> Canner:
    return canner(places={"half_pint": places})


@pytest.mark.parametrize(("places", "loads", "finish"), [(16, 1, 76), (8, 2, 111)])
def test_a_second_layer_holds_twice_the_jars(
    places: int, loads: int, finish: int
) -> None:
    # sixteen jars of one batch: all at once in two layers; in one layer the second
    # load begins when the first is out, 35 later, in water still hot: 76 by one person
    # (5 + 4 + 23 + 5 + 4 + 35), and 35 more
    problem = day(
        jelly(jars=16, closed_wait_at_most_min=40), canners=(layered(places),)
    )
    answer = best(problem)
    assert len(answer.timetable.loads) == loads
    assert answer.finish_min == finish


def halved(people: int) -> Problem:
    cut = Step(
        id="cut", verb="Cut", duration_min=20, attention_quarters=3, skill=Skill.KNIFE
    )
    cook = Step(id="cook", verb="Cook", duration_min=30)
    whole = Work(
        steps=(cut, cook),
        links=(Link(before="cut", after="cook"),),
        ready_after="cook",
        closed_wait_at_most_min=0,
    )
    shared = in_halves(whole, lambda step: True)
    return day(work("a", *shared.steps, links=shared.links), people=people)


@pytest.mark.parametrize(("people", "finish"), [(1, 50), (2, 40)])
def test_two_pairs_of_hands_take_half_the_time(people: int, finish: int) -> None:
    # twenty minutes of cutting before thirty of cooking: one after the other by one
    # person, side by side by two
    assert best(halved(people)).finish_min == finish


# --- the clock, and what the day before left standing ------------------------------


def test_what_is_ready_by_the_clock_is_not_begun_before() -> None:
    # the juice has dripped at minute 40: ten minutes of boiling end at 50
    boil = work(
        "a", step("boil", 10, 4), windows=(Window(step="boil", earliest_min=40),)
    )
    answer = best(day(boil))
    assert answer.finish_min == 50
    assert answer.by_hand_min == 50


def test_what_must_be_seen_by_an_hour_comes_before_other_work() -> None:
    # the seals begin by minute 5 at the latest: the thirty minutes come behind them,
    # though they are listed first
    seals = work(
        "b", step("check", 4, 3), windows=(Window(step="check", latest_min=5),)
    )
    answer = best(day(work("a", step("cut", 30, 3)), seals))
    assert answer.finish_min == 34
    start = {s.step: s.start_min for s in answer.timetable.steps}
    assert start["check"] <= 5


def test_the_checker_says_what_the_window_is_for() -> None:
    boil = work("a", step("boil", 10, 4))
    plan = best(day(boil)).timetable
    late = replace(
        boil, windows=(Window(step="boil", earliest_min=40, why="it has dripped"),)
    )
    assert violations(day(late), plan) == (
        "boil of a starts at minute 0; not before minute 40 (it has dripped)",
    )
    shut = replace(boil, windows=(Window(step="boil", latest_min=-1),))
    assert violations(day(shut), plan) == (
        "boil of a starts at minute 0; at the latest minute -1",
    )


@pytest.mark.parametrize("until", [0, 40, 100])
def test_jars_of_the_day_before_keep_their_places(until: int) -> None:
    # ten places, eight new jars and five of yesterday: the last new jar is out when
    # those are cold and gone. By itself the load would be out at 76
    problem = day(
        jelly(closed_wait_at_most_min=60),
        counter=Counter(places=10, cooling_min=1440, taken=((5, until),)),
    )
    answer = best(problem)
    assert answer.finish_min == max(76, until)


def test_the_checker_counts_yesterdays_jars() -> None:
    problem = day(jelly(), counter=Counter(places=10, cooling_min=1440))
    plan = best(problem).timetable
    full = replace(problem, counter=replace(problem.counter, taken=((5, 600),)))
    (said,) = violations(full, plan)
    assert "13 jars cool on the counter" in said

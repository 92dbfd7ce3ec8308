"""What is begun against its plan in a tool that is not free is in another one."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.judged_again import replan_said
from planning.small_days import butter, day, jelly, step, work
from planning.written_out import at, fire, load

from stillroom.methods.step import Link
from stillroom.planning.begun.other_tools import AsTaken, in_other_tools
from stillroom.planning.happened import Happened
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Burner, Pot, Problem
from stillroom.planning.second_thoughts import replan as replan_module
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import Answer, PlacedStep, Timetable


def potful(name: str, *, pots: tuple[str, ...] = ("big",), same: str = "") -> Batch:
    """Cooked for twenty minutes, then the pot is washed in six, or rinsed in two."""
    return work(
        name,
        step("cook", 20, 1, in_pot=True),
        step("wash", 6, 3, in_pot=True, rinse_min=2),
        links=(Link(before="cook", after="wash"),),
        pots=pots,
        contents=same,
    )


def in_pot(batch: str, start: int, pot: str, end: int | None = None) -> PlacedStep:
    return at(batch, "cook", start, start + 20 if end is None else end, pot=pot)


def wash(batch: str, start: int, pot: str) -> PlacedStep:
    return at(batch, "wash", start, start + 6, "p1", pot=pot)


def kitchen(*batches: Batch, pots: int = 2, **changes: object) -> Problem:
    """Two big pots, or more, and a small one."""
    return day(*batches, big_pots=pots, **changes)


def one_behind_the_other(
    *names: str, pot: str = "big-1", since: int = 0
) -> list[PlacedStep]:
    """Each in the same pot, washed between."""
    found = []
    for n, name in enumerate(names):
        start = since + 30 * n
        found += [in_pot(name, start, pot), wash(name, start + 20, pot)]
    return found


def taken(
    problem: Problem, plan: list[PlacedStep], now: int, *begun: PlacedStep
) -> AsTaken:
    old = Timetable(steps=tuple(plan), loads=(), breaks=())
    happened = Happened(now_min=now, steps=begun, loads=())
    return in_other_tools(problem, old, happened)


def pots(found: tuple[PlacedStep, ...]) -> dict[str, set[str | None]]:
    return {
        batch: {s.pot for s in found if s.batch == batch}
        for batch in {s.batch for s in found}
    }


def test_a_pot_is_not_in_a_pot_that_is_full() -> None:
    """Both cook at 8:10, and the plan has b in a's pot at half past eight."""
    problem = kitchen(potful("a"), potful("b"))
    plan = one_behind_the_other("a", "b")
    found = taken(problem, plan, 10, in_pot("a", 0, "big-1"), in_pot("b", 5, "big-1"))
    assert pots(found.happened.steps) == {"a": {"big-1"}, "b": {"big-2"}}
    assert pots(found.old.steps) == {"a": {"big-1"}, "b": {"big-2"}}
    assert [guess.said for guess in found.guesses] == [
        "big-1 holds a, so b is taken to be in big-2."
    ]


def test_who_was_there_first_stays() -> None:
    """The plan has a first; b was put on first."""
    problem = kitchen(potful("a"), potful("b"))
    plan = one_behind_the_other("a", "b")
    found = taken(problem, plan, 10, in_pot("a", 5, "big-1"), in_pot("b", 0, "big-1"))
    assert pots(found.happened.steps) == {"a": {"big-2"}, "b": {"big-1"}}


def test_what_was_to_come_in_the_other_pot_comes_in_this_one() -> None:
    """
    With b in c's pot, c is to be in b's, where a is washed by then; d may be there too.

    What has begun does not change its pot.
    """
    problem = kitchen(*(potful(name) for name in "abcd"))
    plan = [
        *one_behind_the_other("a", "b", "d"),
        *one_behind_the_other("c", pot="big-2", since=40),
    ]
    found = taken(problem, plan, 10, in_pot("a", 0, "big-1"), in_pot("b", 5, "big-1"))
    assert pots(found.old.steps) == {
        "a": {"big-1"},
        "b": {"big-2"},
        "c": {"big-1"},
        "d": {"big-2"},
    }


def test_what_does_not_go_into_the_other_pot_waits_for_its_own() -> None:
    """Now b is in the small pot; s is made in a small one and nowhere else."""
    either, small = ("small", "big"), ("small",)
    problem = kitchen(
        potful("a"), potful("b", pots=either), potful("s", pots=small), pots=1
    )
    plan = [
        *one_behind_the_other("a", "b"),
        *one_behind_the_other("s", pot="small-1", since=40),
    ]
    found = taken(problem, plan, 10, in_pot("a", 0, "big-1"), in_pot("b", 5, "big-1"))
    assert pots(found.old.steps)["b"] == {"small-1"}
    assert pots(found.old.steps)["s"] == {"small-1"}


@pytest.mark.parametrize(
    ("allowed", "kept"),
    [(("big",), "big-1"), (("small", "big"), "small-1"), (("big", "small"), "small-1")],
)
def test_a_pot_that_is_too_small_is_not_taken(
    allowed: tuple[str, ...], kept: str
) -> None:
    """One big pot: b goes into the small one where it may, else it stays as told."""
    problem = kitchen(potful("a"), potful("b", pots=allowed), pots=1)
    plan = one_behind_the_other("a", "b")
    begun = (in_pot("a", 0, "big-1"), in_pot("b", 5, "big-1"))
    found = taken(problem, plan, 10, *begun)
    assert pots(found.happened.steps)["b"] == {kept}
    (guess,) = found.guesses
    if kept == "big-1":
        assert (found.happened.steps, found.old.steps) == (begun, tuple(plan))
        assert guess.said == (
            "big-1 holds a and no other is free, so b is taken to be in it as well."
        )


def test_a_pot_of_the_size_that_was_meant_comes_first() -> None:
    """The small one is named first in the kitchen."""
    either = ("small", "big")
    problem = kitchen(potful("a"), potful("b", pots=either))
    small_first = (problem.pots[-1], *problem.pots[:-1])
    problem = replace(problem, pots=small_first)
    plan = one_behind_the_other("a", "b")
    found = taken(problem, plan, 10, in_pot("a", 0, "big-1"), in_pot("b", 5, "big-1"))
    assert pots(found.happened.steps)["b"] == {"big-2"}


def with_one_unwashed(pots: int) -> AsTaken:
    """At half past eight x is out of big-2, which is unwashed; a and b are in big-1."""
    problem = kitchen(*(potful(name) for name in "abx"), pots=pots)
    plan = [*one_behind_the_other("a", "b"), *one_behind_the_other("x", pot="big-2")]
    begun = [("x", 0, "big-2"), ("a", 15, "big-1"), ("b", 25, "big-1")]
    return taken(problem, plan, 30, *(in_pot(*one) for one in begun))


def test_a_clean_pot_comes_before_one_that_is_not() -> None:
    """big-3 has not been used."""
    found = with_one_unwashed(pots=3)
    assert pots(found.happened.steps)["b"] == {"big-3"}
    assert {s.step for s in found.happened.steps} == {"cook"}


def test_a_pot_that_another_is_in_was_washed() -> None:
    """
    Nobody said that a's pot was washed, and b cooks in it: it was, before b's minute.

    From 8:20, when it was empty: six minutes, or what there was of them.
    """
    problem = kitchen(potful("a"), potful("b"), pots=1)
    plan = one_behind_the_other("a", "b")
    for since, washed in (
        (35, (29, 35)),
        (24, (20, 24)),
        (20, (20, 20)),
        (15, (20, 20)),
    ):
        begun = (in_pot("a", 0, "big-1"), in_pot("b", since, "big-1"))
        found = taken(problem, plan, max(25, since + 1), *begun)
        (one,) = (s for s in found.happened.steps if s.step == "wash")
        assert (one.batch, one.start_min, one.end_min) == ("a", *washed)
        assert not found.guesses


def test_a_pot_that_was_rinsed_for_its_like_was_washed_for_another() -> None:
    """Planned was a rinse, for another of the same; b is in it in its place."""
    problem = kitchen(potful("a"), potful("b"), pots=1)
    plan = one_behind_the_other("a", "b")
    plan[1] = replace(plan[1], end_min=22, rinsed=True)
    begun = (in_pot("a", 0, "big-1"), in_pot("b", 30, "big-1"))
    found = taken(problem, plan, 31, *begun)
    (one,) = (s for s in found.happened.steps if s.step == "wash")
    assert not one.rinsed


def test_what_was_to_be_in_a_pot_before_what_is_in_it_has_not_begun() -> None:
    """The plan has a in it at 8:00 and b at half past; b is there, and a nowhere."""
    problem = kitchen(potful("a"), potful("b"), pots=1)
    plan = one_behind_the_other("a", "b")
    found = taken(problem, plan, 10, in_pot("b", 5, "big-1"))
    assert [guess.said for guess in found.guesses] == [
        "big-1 holds b, so a is taken not to have begun."
    ]
    # in its own turn nothing is said, nor of what comes later
    assert not taken(problem, plan, 10, in_pot("a", 5, "big-1")).guesses
    elsewhere = [*one_behind_the_other("a", pot="big-2"), *one_behind_the_other("b")]
    assert not taken(kitchen(potful("a"), potful("b")), elsewhere, 10).guesses


def test_a_pot_that_is_not_full_needs_no_wash_before_its_time() -> None:
    problem = kitchen(potful("a"), potful("b"), pots=1)
    plan = one_behind_the_other("a", "b")
    found = taken(problem, plan, 25, in_pot("a", 0, "big-1"))
    assert [s.step for s in found.happened.steps] == ["cook"]


def test_where_only_an_unwashed_pot_is_left_it_was_washed() -> None:
    """b went into big-2, out of which x came at 8:20."""
    found = with_one_unwashed(pots=2)
    assert pots(found.happened.steps)["b"] == {"big-2"}
    (one,) = (s for s in found.happened.steps if s.step == "wash")
    assert (one.batch, one.start_min, one.end_min) == ("x", 20, 25)


def test_two_that_were_in_one_pot_by_the_clock_are_in_none_now() -> None:
    """a was said done five minutes late; it is washed, and b is where it was to be."""
    problem = kitchen(potful("a"), potful("b"))
    plan = one_behind_the_other("a", "b")
    found = taken(
        problem,
        plan,
        35,
        in_pot("a", 0, "big-1", 30),
        wash("a", 26, "big-1"),
        in_pot("b", 27, "big-1"),
    )
    assert pots(found.happened.steps)["b"] == {"big-1"}
    assert not found.guesses


def test_each_of_three_has_a_pot_of_its_own() -> None:
    problem = kitchen(*(potful(name) for name in "abc"), pots=3)
    plan = one_behind_the_other("a", "b", "c")
    begun = [in_pot(name, n, "big-1") for n, name in enumerate("abc")]
    found = taken(problem, plan, 10, *begun)
    assert pots(found.happened.steps) == {
        "a": {"big-1"},
        "b": {"big-2"},
        "c": {"big-3"},
    }


def test_two_mills_are_two() -> None:
    first_mill = step("mill", 10, 3, on_mill=True)
    problem = day(work("a", first_mill), work("b", first_mill), mills=2)
    plan = [at("a", "mill", 0, 10, "p1", mill=1), at("b", "mill", 10, 20, "p1", mill=1)]
    begun = (plan[0], replace(plan[1], start_min=5, end_min=15))
    found = taken(problem, plan, 6, *begun)
    assert [s.mill for s in found.happened.steps] == [1, 2]
    assert [g.said for g in found.guesses] == [
        "mill 1 holds a, so b is taken to be on mill 2."
    ]
    alone = taken(replace(problem, mills=1), plan, 6, *begun)
    assert alone.happened.steps == begun


# --- fires ------------------------------------------------------------------------


def burning(batch: str, start: int, end: int, burner: str) -> PlacedStep:
    return at(batch, "burn", start, end, burner=burner)


def burners(found: AsTaken) -> dict[str, str | None]:
    return {s.batch: s.burner for s in found.happened.steps}


def test_the_later_of_two_pans_is_on_a_fire_that_does_and_is_left() -> None:
    problem = day(fire("a", 900.0), fire("b", 900.0))
    plan = [burning("a", 0, 10, "middle-1"), burning("b", 10, 20, "middle-1")]
    begun = (plan[0], burning("b", 2, 12, "middle-1"))
    found = taken(problem, plan, 5, *begun)
    assert burners(found) == {"a": "middle-1", "b": "weak-1"}
    assert {s.batch: s.burner for s in found.old.steps} == burners(found)
    assert [guess.said for guess in found.guesses] == [
        "the burner middle-1 is taken by a, so b is taken to be on the burner weak-1."
    ]


@pytest.mark.parametrize(
    ("asks", "free", "on"),
    [
        (2000.0, ("weak-1", "middle-2", "strong-1"), "middle-2"),
        # the canner stands on the strong one: a weaker pan's fire is left for it
        (2000.0, ("weak-1", "strong-1"), "strong-1"),
        (900.0, ("strong-1", "weak-2", "weak-1"), "weak-1"),
        (3500.0, ("weak-1", "middle-2", "strong-1"), "middle-2"),
        (3500.0, ("weak-1", "strong-1"), "weak-1"),
    ],
)
def test_of_the_fires_left_the_one_by_which_least_is_lost(
    asks: float, free: tuple[str, ...], on: str
) -> None:
    """As weak as will do, and no canner's; else the strongest that is no canner's."""
    whole = day(fire("a", asks), fire("b", asks))
    fires = tuple(f for f in whole.burners if f.id in {"middle-1", *free})
    problem = replace(whole, burners=fires)
    begun = (burning("a", 0, 10, "middle-1"), burning("b", 2, 12, "middle-1"))
    assert burners(taken(problem, list(begun), 5, *begun))["b"] == on


def test_no_pan_is_on_a_fire_on_which_a_canner_is_being_heated() -> None:
    """It is lit at 8:22 for the load that is lowered at 8:52; a weak one is left."""
    problem = day(
        fire("a", 2000.0),
        fire("b", 2000.0),
        burners=(
            Burner(id="middle-1", power_w=2000.0),
            Burner(id="strong-1", power_w=3000.0),
            Burner(id="weak-1", power_w=1000.0),
        ),
    )
    begun = (burning("a", 0, 40, "middle-1"), burning("b", 2, 42, "middle-1"))
    old = Timetable(steps=begun, loads=(load(52),), breaks=())
    for now, on in ((21, "strong-1"), (22, "weak-1")):
        happened = Happened(now_min=now, steps=begun, loads=())
        assert burners(in_other_tools(problem, old, happened))["b"] == on
    # somewhere it is: where no other is left the canner was not put on
    two = replace(problem, burners=problem.burners[:2])
    assert burners(in_other_tools(two, old, happened))["b"] == "strong-1"


def test_a_weaker_fire_is_said_to_be_so() -> None:
    problem = day(fire("a", 3000.0), fire("b", 3000.0))
    plan = [burning("a", 0, 10, "strong-1"), burning("b", 10, 20, "strong-1")]
    found = taken(problem, plan, 5, plan[0], burning("b", 2, 12, "strong-1"))
    assert burners(found)["b"] == "middle-1"
    (guess,) = found.guesses
    assert guess.said.endswith(
        "on the burner middle-1, which is weaker than was planned, so that it may take "
        "longer."
    )


def test_a_fire_that_is_just_strong_enough_is_not_weak() -> None:
    fires = (Burner(id="one", power_w=900.0), Burner(id="two", power_w=900.0))
    problem = day(fire("a", 900.0), fire("b", 900.0), burners=fires)
    plan = [burning("a", 0, 10, "one"), burning("b", 10, 20, "one")]
    found = taken(problem, plan, 5, plan[0], burning("b", 2, 12, "one"))
    assert [guess.taken for guess in found.guesses] == ["to be on the burner two"]


def test_a_fire_that_was_left_is_free() -> None:
    """a was on it until 8:08, b since a minute later."""
    problem = day(fire("a", 900.0), fire("b", 900.0))
    begun = (burning("a", 0, 8, "middle-1"), burning("b", 9, 19, "middle-1"))
    found = taken(problem, list(begun), 10, *begun)
    assert (found.happened.steps, found.guesses) == (begun, ())


def test_one_pot_is_on_one_fire_with_itself() -> None:
    """It is stirred and skimmed on the same fire."""
    steps = (step("burn", 9, 0, burner_w=900.0), step("skim", 9, 0, burner_w=900.0))
    problem = day(work("a", *steps))
    begun = (burning("a", 0, 9, "middle-1"), at("a", "skim", 2, 11, burner="middle-1"))
    found = taken(problem, list(begun), 5, *begun)
    assert (found.happened.steps, found.guesses) == (begun, ())


def test_a_pan_is_on_no_fire_with_a_canner_or_another_pan() -> None:
    """The canner is on strong-1, b and c on both middle ones: weak ones are left."""
    names = ("a", "b", "c", "d")
    problem = day(*(fire(name, 900.0, 20) for name in names))
    on = {"a": "strong-1", "b": "middle-2", "c": "middle-1", "d": "middle-2"}
    steps = tuple(burning(name, n, 50, on[name]) for n, name in enumerate(names))
    old = Timetable(steps=steps, loads=(), breaks=())
    happened = Happened(now_min=45, steps=steps, loads=(load(30),))
    found = in_other_tools(problem, old, happened)
    assert burners(found) == {**on, "a": "weak-1", "d": "weak-2"}
    assert [guess.because for guess in found.guesses] == [
        "the burner strong-1 is taken by canner",
        "the burner middle-2 is taken by b",
    ]


def test_where_no_fire_is_left_it_stays_as_told() -> None:
    problem = day(
        fire("a", 900.0), fire("b", 900.0), burners=(Burner(id="one", power_w=900.0),)
    )
    plan = [burning("a", 0, 10, "one"), burning("b", 10, 20, "one")]
    begun = (plan[0], burning("b", 2, 12, "one"))
    found = taken(problem, plan, 5, *begun)
    assert found.happened.steps == begun
    assert [guess.said for guess in found.guesses] == [
        "the burner one is taken by a and no other is free, so b is taken to be on it "
        "as well."
    ]


def test_a_fire_that_does_not_bear_the_pot_is_not_taken() -> None:
    pan = step("burn", 10, 0, burner_w=900.0, in_pot=True)
    batches = [work(name, pan, pots=("big",)) for name in "ab"]
    fires = (
        Burner(id="one", power_w=900.0),
        Burner(id="strong", power_w=3000.0, takes=frozenset({"small"})),
        Burner(id="weak", power_w=800.0, takes=frozenset({"big"})),
    )
    big = (Pot(id="big-1", size="big"), Pot(id="big-2", size="big"))
    problem = day(*batches, burners=fires, pots=big)
    begun = (
        at("a", "burn", 0, 10, burner="one", pot="big-1"),
        at("b", "burn", 2, 12, burner="one", pot="big-2"),
    )
    found = taken(problem, list(begun), 5, *begun)
    assert burners(found)["b"] == "weak"


def test_a_pan_is_on_its_fire_since_it_was_put_there() -> None:
    """a has been on it since 8:00, in two steps without a pause; b came at 8:05."""
    steps = (step("burn", 8, 0, burner_w=900.0), step("on", 8, 0, burner_w=900.0))
    problem = day(work("a", *steps), work("b", *steps))
    begun = (
        burning("a", 0, 8, "middle-1"),
        at("a", "on", 8, 16, burner="middle-1"),
        burning("b", 5, 13, "middle-1"),
    )
    later = at("b", "on", 30, 38, burner="middle-1")
    found = taken(problem, [*begun, later], 10, *begun)
    assert burners(found) == {"a": "middle-1", "b": "weak-1"}
    assert {s.burner for s in found.old.steps if s.batch == "b"} == {"weak-1"}


# --- planned again ----------------------------------------------------------------


def test_the_rest_of_two_boiled_at_once_is_planned_with_a_pot_for_each() -> None:
    """The plan has two jellies one behind the other on the strong fire, in one pot."""
    strong = [
        replace(
            one,
            steps=tuple(
                replace(s, burner_w=3000.0) if s.burner_w > 1000 else s
                for s in one.steps
            ),
        )
        for one in (jelly("a"), jelly("b"))
    ]
    problem = day(*strong, people=2, big_pots=2)
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    (pot,) = {s.pot for s in answer.timetable.steps if s.batch == "a" and s.pot}
    assert pot is not None
    old = replace(
        answer.timetable,
        steps=tuple(
            replace(s, pot=pot if s.pot else None) for s in answer.timetable.steps
        ),
    )
    step_of = {(s.batch, s.step): s for s in old.steps}
    begun = tuple(
        replace(step_of[name, kind], start_min=since, end_min=until, person=who)
        for name, who in (("a", "p1"), ("b", "p2"))
        for kind, since, until in (
            ("wash_jars", 0, 5),
            ("measure_sugar", 5, 9),
            ("heat_jars", 5, 20),
            ("boil", 10, 22),
        )
    )
    then = Happened(now_min=15, steps=begun, loads=())
    found = replan(problem, old, then)
    held = {s.batch: s.pot for s in found.new.steps if s.pot}
    assert held["a"] != held["b"]
    assert "so b is taken to be in " in found.sentence
    assert "so b is taken to be on the burner middle-" in found.sentence
    # nobody has it in two places, and its boil goes on where it stands
    wrong = replan_said(problem, found.happened, found.new)
    assert all("it needs 3000 W" in one for one in wrong), wrong
    assert {
        s.burner for s in found.new.steps if (s.batch, s.step) == ("b", "boil")
    } == {s.burner for s in found.new.steps if (s.batch, s.step) == ("b", "hard_boil")}
    assert found.made_by == "solver"


def test_the_old_order_goes_on_in_the_pot_that_is_taken(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The search finds nothing: what is shown has each in a pot of its own."""
    monkeypatch.setattr(replan_module, "solve_rest", lambda *_, **__: None)
    problem = kitchen(potful("a"), potful("b"))
    old = Timetable(steps=tuple(one_behind_the_other("a", "b")), loads=(), breaks=())
    begun = (in_pot("a", 0, "big-1"), in_pot("b", 5, "big-1"))
    found = replan(problem, old, Happened(now_min=10, steps=begun, loads=()))
    assert found.made_by == "the old order, put off"
    assert pots(found.new.steps) == {"a": {"big-1"}, "b": {"big-2"}}


def test_the_rest_is_planned_with_a_pot_on_a_fire_that_is_too_weak() -> None:
    """Fruit is softened on 1000 W where 2000 were asked for."""
    problem = day(butter("a"), butter("b"), people=2, big_pots=2)
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    step_of = {(s.batch, s.step): s for s in answer.timetable.steps}
    begun = (
        replace(step_of["a", "cut"], start_min=0, end_min=20),
        replace(step_of["a", "soften"], start_min=20, end_min=45, burner="weak-1"),
    )
    happened = Happened(now_min=30, steps=begun, loads=())
    found = replan(problem, answer.timetable, happened)
    assert found.made_by == "solver"
    assert not found.guesses

"""When a canner's fires serve a load, by hand: by bits and minute by minute."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from planning.small_days import canner, day, jelly, step

from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.hand.free_time import empty_kitchen, minutes
from stillroom.planning.hand.hand_loads import _Putting
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Batch, Problem, Window
from stillroom.planning.timetable import PlacedLoad

LAST = 200


def putting(problem: Problem, taken: list[tuple[int, int]]) -> _Putting:
    """Of a kitchen in which pots stand on the canner's fire at those times."""
    kitchen = empty_kitchen(problem, canner_keeps_burner=False)
    assert kitchen is not None
    for burner in problem.canners[0].burners:
        for start, length in taken:
            kitchen.burners[burner] &= ~minutes(start, start + length)
    return _Putting(problem, kitchen, list(problem.people), keeps=False)


def load_before(out: int) -> PlacedLoad:
    """A load of which only the end counts here."""
    return PlacedLoad(
        id="one/1",
        canner="one",
        process="half-pint-10",
        process_min=10,
        jars=(("a", 1),),
        hot=False,
        heat_min=0,
        lower_min=out - 4,
        lowered_min=out - 3,
        boil_min=out - 3,
        done_min=out - 2,
        lift_min=out - 1,
        out_min=out,
        fire_free_min=out - 2,
        lowered_by="p",
        lifted_by="p",
    )


@given(
    st.lists(st.tuples(st.integers(0, LAST), st.integers(1, 60)), max_size=4),
    st.none() | st.integers(10, 120),
    st.integers(1, 50),
)
def test_the_bits_are_the_minutes_at_which_a_load_may_be_lowered(taken, out, takes):
    """Each minute asked for by itself says the same: with a load before, or none."""
    problem = day(jelly(), canners=(canner(),))
    hands = putting(problem, [*taken, (0, out or 0)])
    one = problem.canners[0]
    before = None if out is None else load_before(out)
    bits = hands._lit(one, before, takes)
    for start in range(LAST):
        serves = hands._heated(one, before, start, start + takes) is not None
        assert bool(bits >> start & 1) == serves, start


def closed_by(name: str, minute: int, process: str) -> Batch:
    """Jars that are closed in five minutes, from a minute on."""
    return jelly(
        name,
        product=name,
        steps=(step("close", 5, 3),),
        links=(),
        pots=(),
        process=process,
        ready_after="close",
        closed_wait_at_most_min=60,
        windows=(Window(step="close", earliest_min=minute),),
    )


def test_no_canner_takes_the_fire_on_which_another_stays_between_its_loads() -> None:
    # "one" is out at 70 and stays on the fire, to be reheated for 185: "two", on the
    # same fire, would stand there from 70 to 140, and "one" were to be heated from cold
    problem = day(
        closed_by("a", 30, "half-pint-10"),
        closed_by("b", 180, "half-pint-10"),
        closed_by("c", 60, "pint-15"),
        people=2,
        canners=(canner("one"), canner("two")),
    )
    plan = by_hand(problem)
    assert plan is not None
    assert not violations(problem, plan)
    assert [(x.id, x.heat_min, x.lower_min, x.out_min) for x in plan.loads] == [
        ("one/1", 5, 35, 70),
        ("one/2", 165, 185, 220),
        ("one/3", 220, 220, 260),
    ]

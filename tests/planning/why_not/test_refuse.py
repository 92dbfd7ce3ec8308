"""Days that make no sense are refused with what came and what is allowed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import HALF_PINT, butter, canner, day, jelly, person, step
from planning.written_out import batch, fire, labour

from stillroom.methods.step import Link, Skill
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import (
    Batch,
    Break,
    Burner,
    Counter,
    Person,
    Problem,
    Want,
)
from stillroom.planning.why_not.refuse import batch_faults, refuse_nonsense
from stillroom.refusal import Unreadable


def chain(*links: Link, **changes: object) -> Batch:
    batch = jelly(
        process=None,
        ready_after="",
        pots=(),
        steps=(step("a", 5, 1), step("b", 5, 1), step("c", 5, 1)),
        links=links,
    )
    return replace(batch, **changes)  # type: ignore[arg-type]


def alone(who: Person) -> Problem:
    return day(jelly(), people=(who,))


def taken(*spans: tuple[int, int]) -> Problem:
    """A day of eight hours; its one burner is somebody else's for some of them."""
    left = Burner(id="left", power_w=2000.0, taken=spans)
    weak = Burner(id="weak", power_w=500.0)
    return day(fire("a", 1000.0, 40), burners=(left, weak), canners=())


NO_SENSE: list[tuple[Problem, str]] = [
    (taken((30, 20)), "is taken from 8:30 until 8:20"),
    (day(chain(Link(before="a", after="d"))), "names 'd'; the steps are a, b, c"),
    (
        day(chain(Link(before="a", after="b"), Link(before="b", after="a"))),
        "the links of a, b go in a circle",
    ),
    (
        day(
            chain(
                Link(before="a", after="b", at_least_min=10),
                Link(before="b", after="c"),
                Link(before="a", after="c", at_most_min=12),
            )
        ),
        "contradict each other",
    ),
    (
        day(chain(Link(before="a", after="b", at_least_min=5, at_most_min=2))),
        "at least 5 and at most 2 min after a",
    ),
    (
        alone(person("p1", skills=frozenset({Skill.COLD, Skill.LIFT}))),
        '"boil" and 3 more steps need someone who stirs the hot pan and pours; nobody',
    ),
    (
        day(
            butter(),
            people=(
                person("cook", skills=frozenset({Skill.COLD, Skill.PAN, Skill.LIFT})),
            ),
        ),
        '"cut" and 1 more step need someone who cuts fruit and turns the mill; nobody',
    ),
    (
        alone(person("p1", skills=frozenset({Skill.COLD, Skill.PAN}))),
        "needs someone who lifts hot jars",
    ),
    (
        day(
            chain(
                steps=(
                    step("a", 5, 1, same_hands="x"),
                    step("b", 5, 1, skill=Skill.PAN, same_hands="x"),
                )
            ),
            people=(
                person("one", skills=frozenset({Skill.COLD})),
                person("two", skills=frozenset({Skill.PAN})),
            ),
        ),
        '"a" and 1 more step need one person who does the cold work and stirs the hot',
    ),
    (
        alone(person("Me", quarters=2)),
        'Me has 2 of 4 quarters of attention to give, and "full_boil" takes all 4 of '
        "one person; so with 8 more steps",
    ),
    (
        alone(person("Me", quarters=2)),
        "attention to give, and lifting hot jars takes 3 of one person",
    ),
    (day(jelly("a"), jelly("a")), "2 batches are called 'a'"),
    (day(jelly(), people=(person("p"), person("p"))), "2 people are called 'p'"),
    (day(jelly(), canners=(canner("c"), canner("c"))), "2 canners are called 'c'"),
    (day(chain(steps=(step("a", 5, 1), step("a", 5, 1)))), "two steps are called 'a'"),
    (day(chain(steps=())), "has no steps"),
    (
        day(jelly(), canners=(canner(places={"half_pint": 0}),)),
        "has no places for jars; 1 or more",
    ),
    (
        day(jelly(), canners=(canner(places={"pint": 7}),)),
        "fills half_pint jars, which no canner takes",
    ),
    (day(jelly(), canners=(canner(burners=("x",)),)), "covers burner 'x'"),
    (
        day(jelly(), canners=(canner(burners=("weak-1", "weak-1")),)),
        "covers one burner twice",
    ),
    (day(jelly(), canners=(canner(rest_min=-1),)), "has a time below 0 min"),
    (day(chain(steps=(step("a", 500, 1),))), '"a" takes 500 min; the day has 480'),
    (day(chain(steps=(step("a", 0, 1),))), "a takes 0 min; 1 or more"),
    (day(chain(steps=(step("a", 5, 5),))), "a takes 5 quarters; 0 to 4"),
    (
        day(chain(steps=(step("a", 5, 1, burner_w=9000.0),))),
        '"a" needs a burner of 9000 W; the strongest is 3000 W',
    ),
    (day(butter(), mills=0), '"mill" needs a food mill or a sieve; the kitchen'),
    (day(butter(), mills=-1), "-1 mills; 0 or more"),
    (
        day(jelly(pots=("huge",))),
        "needs a pot of size huge; the kitchen has big, small",
    ),
    (day(jelly(process="p")), "has process 'p', which is not in the day"),
    (day(jelly(jars=0)), "fills 0 jars; 1 or more"),
    (day(jelly(ready_after="")), "does not say after which step its jars are closed"),
    (day(jelly(ready_after="corked")), "is ready after 'corked'; the steps are"),
    (day(jelly(closed_wait_at_most_min=-1)), "wait less than 0 min"),
    (day(jelly(), horizon_min=0), "the day is 0 min long; 1 or more"),
    (day(jelly(), counter=Counter(places=-1, cooling_min=1)), "are 0 or more"),
    (
        day(jelly(), wants=(Want(product="chutney", by_min=9),)),
        "chutney is wanted, but no batch makes it",
    ),
    (day(jelly(), wants=(Want(product="jelly", by_min=9, weight=-1),)), "weight -1"),
    (
        day(jelly(), processes=(replace(HALF_PINT, may_ride_in=()),)),
        "may not ride in a load of its own",
    ),
    (day(jelly(), processes=(replace(HALF_PINT, minutes=-1),)), "half-pint-10: -1 min"),
    (
        day(
            jelly(),
            processes=(
                replace(HALF_PINT, may_ride_in=("half-pint-10", "q")),
                replace(HALF_PINT, id="q", jar="quart", may_ride_in=("q",)),
            ),
        ),
        "may ride in q, which is for quart jars",
    ),
    (alone(person("p1", arrives_min=9, leaves_min=5)), "before arriving at 8:09"),
    (alone(person("p1", away=((9, 5),))), "is away from 8:09 until 8:05"),
    (
        alone(
            person(
                "p1",
                arrives_min=60,
                breaks=(Break(duration_min=9, earliest_min=5, latest_start_min=50),),
            )
        ),
        "does not fit between arriving at 9:00 and leaving at 16:00",
    ),
    (
        alone(
            person(
                "p1",
                breaks=(Break(duration_min=0, earliest_min=5, latest_start_min=50),),
            )
        ),
        "a break of 0 min; 1 or more",
    ),
]


@pytest.mark.parametrize(
    ("problem", "words"), NO_SENSE, ids=[words[:40] for _, words in NO_SENSE]
)
def test_nonsense_is_refused_in_words(problem: Problem, words: str) -> None:
    with pytest.raises(Unreadable) as refused:
        plan_day(problem, seconds=1.0)
    assert words in str(refused.value)


def test_every_fault_is_named_at_once() -> None:
    problem = day(jelly("a", jars=0), jelly("b", pots=("huge",)), mills=-1)
    with pytest.raises(Unreadable) as refused:
        plan_day(problem)
    assert len(refused.value.faults) == 3


@pytest.mark.parametrize(("watts", "served"), [(3000.0, True), (3001.0, False)])
def test_no_fire_is_asked_for_more_than_it_gives(watts: float, served: bool) -> None:
    """The strongest burner has 3000 W."""
    told = [f.what for f in batch_faults(day(), fire("b", watts))]
    assert told == (
        [] if served else ['"burn" needs a burner of 3001 W; the strongest is 3000 W']
    )


@pytest.mark.parametrize(("leaves", "fits"), [(120, True), (119, False)])
def test_a_rest_ends_before_she_goes(leaves: int, fits: bool) -> None:
    """From 100 on she is there, and rests for 20 min: it may begin until 150."""
    rest = Break(duration_min=20, earliest_min=0, latest_start_min=150)
    who = person("p1", arrives_min=100, leaves_min=leaves, breaks=(rest,))
    problem = day(batch("a", labour()), people=(person("p2"), who))
    if fits:
        refuse_nonsense(problem)
        return
    with pytest.raises(Unreadable, match="does not fit between arriving at 9:40"):
        refuse_nonsense(problem)


def test_a_break_that_was_meant_before_the_day_begins_has_no_hours_turned_round() -> (
    None
):
    """It was to begin "between 17:50 and 13:30" on a day that begins at 17:50."""
    rest = Break(duration_min=30, earliest_min=0, latest_start_min=-260)
    problem = day(jelly(), people=(person("Ada", breaks=(rest,)),))
    with pytest.raises(Unreadable, match="a break of 30 min beginning by 3:40 does"):
        refuse_nonsense(problem)

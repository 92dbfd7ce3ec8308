"""A day told another way, or with more in it: how the proven finish must answer."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.brute_days import canner_day, tiny_day
from planning.small_days import ALL_SKILLS, butter, canner, day, jelly, person

from stillroom.methods.step import Link, Step
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import (
    Batch,
    Break,
    Burner,
    Canner,
    Counter,
    Person,
    Pot,
    Problem,
    Want,
)
from stillroom.planning.timetable import Answer, NoneFound


def best(problem: Problem) -> int:
    """Finish plus points of lateness, proven."""
    answer = plan_day(problem, seconds=10.0)
    assert isinstance(answer, Answer), answer
    assert answer.proven
    return answer.finish_min + 2 * answer.lateness


def two_jellies(**changes: object) -> Problem:
    return day(jelly("a"), jelly("b", product="other"), people=2, **changes)


def jelly_and_butter() -> Problem:
    keeper = person(
        "keeper",
        breaks=(Break(duration_min=20, earliest_min=60, latest_start_min=100),),
    )
    helper = person("helper", skills=frozenset({"cold", "knife"}), arrives_min=15)
    wants = (Want(product="butter", by_min=200, weight=2),)
    return day(jelly("a"), butter(), people=(keeper, helper), wants=wants)


DAYS = {
    "two jellies": two_jellies,
    "jelly and butter": jelly_and_butter,
    "tiny": lambda: tiny_day(1),
    "tiny, with a canner": lambda: canner_day(3),
}


# --- minutes ---


def scaled(problem: Problem, k: int) -> Problem:
    """Every minute of a day ``k`` times as long."""

    def longer_step(s: Step) -> Step:
        return replace(s, duration_min=k * s.duration_min)

    def longer_link(link: Link) -> Link:
        most = None if link.at_most_min is None else k * link.at_most_min
        return replace(link, at_least_min=k * link.at_least_min, at_most_min=most)

    def longer_batch(b: Batch) -> Batch:
        return replace(
            b,
            steps=tuple(longer_step(s) for s in b.steps),
            links=tuple(longer_link(link) for link in b.links),
            closed_wait_at_most_min=k * b.closed_wait_at_most_min,
        )

    def longer_person(p: Person) -> Person:
        return replace(
            p,
            arrives_min=k * p.arrives_min,
            leaves_min=k * p.leaves_min,
            away=tuple((k * gone, k * back) for gone, back in p.away),
            breaks=tuple(
                Break(
                    duration_min=k * r.duration_min,
                    earliest_min=k * r.earliest_min,
                    latest_start_min=k * r.latest_start_min,
                )
                for r in p.breaks
            ),
        )

    def longer_canner(c: Canner) -> Canner:
        names = (
            "first_heat_min",
            "reheat_min",
            "stays_hot_min",
            "load_min",
            "come_up_min",
            "rest_min",
            "unload_min",
        )
        return replace(
            c,
            **{name: k * getattr(c, name) for name in names},
            come_up_of={
                of: replace(up, minutes=k * up.minutes)
                for of, up in c.come_up_of.items()
            },
        )

    return replace(
        problem,
        horizon_min=k * problem.horizon_min,
        batches=tuple(longer_batch(b) for b in problem.batches),
        people=tuple(longer_person(p) for p in problem.people),
        canners=tuple(longer_canner(c) for c in problem.canners),
        processes=tuple(replace(p, minutes=k * p.minutes) for p in problem.processes),
        wants=tuple(replace(w, by_min=k * w.by_min) for w in problem.wants),
        counter=replace(problem.counter, cooling_min=k * problem.counter.cooling_min),
    )


@pytest.mark.parametrize("name", DAYS)
def test_a_day_of_longer_minutes_ends_as_much_later(name: str) -> None:
    # every start of a best plan is a sum of durations and lags, so all of it scales;
    # the ten minutes for lifting do not, but no best plan waits to lift
    problem = DAYS[name]()
    assert best(scaled(problem, 3)) == 3 * best(problem)


# --- the order of the lists ---


def backwards(problem: Problem) -> Problem:
    """The same day, every list of it from the end."""

    def steps_backwards(b: Batch) -> Batch:
        return replace(b, steps=b.steps[::-1], links=b.links[::-1])

    return replace(
        problem,
        batches=tuple(steps_backwards(b) for b in problem.batches[::-1]),
        people=problem.people[::-1],
        burners=problem.burners[::-1],
        pots=problem.pots[::-1],
        canners=problem.canners[::-1],
        processes=problem.processes[::-1],
        wants=problem.wants[::-1],
    )


@pytest.mark.parametrize("name", DAYS)
def test_the_order_of_the_lists_does_not_matter(name: str) -> None:
    problem = DAYS[name]()
    assert best(backwards(problem)) == best(problem)


def test_the_same_day_has_the_same_plan_when_work_is_counted() -> None:
    problem = two_jellies()
    plans = [
        plan_day(problem, seconds=2.0, seed=5, deterministic=True) for _ in range(2)
    ]
    assert isinstance(plans[0], Answer)
    assert isinstance(plans[1], Answer)
    assert plans[0].timetable == plans[1].timetable


# --- more of something ---


def more_people(problem: Problem) -> Problem:
    return replace(problem, people=(*problem.people, person("one more")))


def more_pots(problem: Problem) -> Problem:
    sizes = sorted({p.size for p in problem.pots} | {"big"})
    extra = tuple(Pot(id=f"{size} more", size=size) for size in sizes)
    return replace(problem, pots=(*problem.pots, *extra))


def more_fire(problem: Problem) -> Problem:
    burner = Burner(id="one more", power_w=3000.0)
    return replace(problem, burners=(*problem.burners, burner))


def more_canners(problem: Problem) -> Problem:
    fire = Burner(id="under it", power_w=3000.0)
    like = problem.canners[0] if problem.canners else canner()
    another = replace(like, id="one more", burners=("under it",))
    return replace(
        problem,
        canners=(*problem.canners, another),
        burners=(*problem.burners, fire),
    )


def more_skills(problem: Problem) -> Problem:
    people = tuple(replace(p, skills=ALL_SKILLS) for p in problem.people)
    return replace(problem, people=people)


def more_room(problem: Problem) -> Problem:
    return replace(problem, counter=Counter(places=999, cooling_min=1))


def more_patience(problem: Problem) -> Problem:
    def patient(b: Batch) -> Batch:
        return replace(b, closed_wait_at_most_min=b.closed_wait_at_most_min + 30)

    return replace(problem, batches=tuple(patient(b) for b in problem.batches))


@pytest.mark.parametrize("name", DAYS)
@pytest.mark.parametrize(
    "more",
    [more_people, more_pots, more_fire, more_canners, more_skills, more_room,
     more_patience],
)  # fmt: skip
def test_more_of_anything_never_makes_the_best_day_later(name: str, more) -> None:  # type: ignore[no-untyped-def]
    problem = DAYS[name]()
    assert best(more(problem)) <= best(problem)


# --- burners that are taken ---


def taken(problem: Problem, *spans: tuple[int, int]) -> Problem:
    """The same day with its strongest burner somebody else's for a while."""
    strongest = max(problem.burners, key=lambda b: b.power_w)
    burners = tuple(
        replace(b, taken=spans) if b is strongest else b for b in problem.burners
    )
    return replace(problem, burners=burners)


@pytest.mark.parametrize("name", DAYS)
def test_a_burner_that_is_taken_never_makes_the_best_day_sooner(name: str) -> None:
    problem = DAYS[name]()
    answer = plan_day(taken(problem, (5, 9)), seconds=10.0)
    if isinstance(answer, NoneFound):  # the tiny day is full without it
        assert answer.impossible
        return
    assert answer.proven
    assert answer.finish_min + 2 * answer.lateness >= best(problem)


def test_a_burner_taken_all_day_is_one_that_is_not_there() -> None:
    problem = day(jelly("a"), jelly("b", product="other"), people=2, big_pots=2)
    less = replace(problem, burners=tuple(b for b in problem.burners
                                          if b.id != "middle-1"))  # fmt: skip
    all_day = tuple(
        replace(b, taken=((0, 200), (200, 480))) if b.id == "middle-1" else b
        for b in problem.burners
    )
    assert best(less) > best(problem)  # the burner makes a difference at all
    assert best(replace(problem, burners=all_day)) == best(less)


def test_more_work_never_makes_the_best_day_earlier() -> None:
    alone = best(day(jelly("a"), people=2))
    assert best(two_jellies()) >= alone
    (batch, other) = two_jellies().batches
    slower = tuple(
        replace(s, duration_min=s.duration_min + 2) if s.id == "boil" else s
        for s in batch.steps
    )
    longer = replace(batch, steps=slower)
    more = replace(two_jellies(), batches=(longer, other))
    assert best(more) >= best(two_jellies())

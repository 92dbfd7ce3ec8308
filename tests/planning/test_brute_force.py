"""
Tiny days, every plan of them tried: the earliest finish is the one that is proven.

The enumeration knows minutes, people, pots, burners and loads as plain loops; what it
puts together is judged by `check`, which shares no code with the model either.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest
from planning.brute_days import (
    QUICK,
    canner_day,
    raw_day,
    tiny_day,
    with_burners_taken,
)
from planning.small_days import day, person, step

from stillroom.methods.step import Step
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Canner, Problem
from stillroom.planning.timetable import (
    NoneFound,
    PlacedBreak,
    PlacedLoad,
    PlacedStep,
    Timetable,
)

# --- the enumeration ---


def earliest_finish(problem: Problem) -> int | None:
    """Finish of the best plan of all; `None` if there is none. [min]"""
    for finish in range(1, problem.horizon_min + 1):
        if any(_plans(problem, finish)):
            return finish
    return None


def _plans(problem: Problem, until: int) -> Iterator[Timetable]:
    """Every plan that ends by a minute and holds."""
    for steps in _all_steps(problem, until):
        for loads in _all_loads(problem, steps, until):
            for breaks in _all_breaks(problem):
                plan = Timetable(steps=steps, loads=loads, breaks=breaks)
                if not violations(problem, plan):
                    yield plan


def _all_steps(problem: Problem, until: int) -> Iterator[tuple[PlacedStep, ...]]:
    asked = [(b, s) for b in problem.batches for s in b.steps]
    pots = product(*(_pots_for(problem, b) for b in problem.batches))
    for chosen in pots:
        pot_of = dict(zip((b.id for b in problem.batches), chosen, strict=True))
        yield from _rest_of_steps(problem, asked, pot_of, until, ())


def _pots_for(problem: Problem, batch: Batch) -> list[str | None]:
    if not batch.pots or not any(s.in_pot for s in batch.steps):
        return [None]
    return [p.id for p in problem.pots if p.size in batch.pots]


def _rest_of_steps(
    problem: Problem,
    asked: list[tuple[Batch, Step]],
    pot_of: dict[str, str | None],
    until: int,
    placed: tuple[PlacedStep, ...],
) -> Iterator[tuple[PlacedStep, ...]]:
    if len(placed) == len(asked):
        yield placed
        return
    batch, s = asked[len(placed)]
    people: list[str | None] = [None]
    if s.attention_quarters:
        people = [p.id for p in problem.people if s.skill in p.skills]
    fires: list[str | None] = [None]
    if s.burner_w:
        fires = [b.id for b in problem.burners if b.power_w >= s.burner_w]
    for start in range(until - s.duration_min + 1):
        for who, fire in product(people, fires):
            here = PlacedStep(
                batch=batch.id,
                step=s.id,
                start_min=start,
                end_min=start + s.duration_min,
                person=who,
                quarters=s.attention_quarters,
                pot=pot_of[batch.id] if s.in_pot else None,
                burner=fire,
            )
            if _may_go_on(batch, placed, here):
                yield from _rest_of_steps(
                    problem, asked, pot_of, until, (*placed, here)
                )


def _may_go_on(batch: Batch, placed: tuple[PlacedStep, ...], new: PlacedStep) -> bool:
    """Whether nothing is wrong yet: links of the batch, hands minute by minute."""
    mine = {s.step: s for s in placed if s.batch == batch.id} | {new.step: new}
    for link in batch.links:
        if link.before in mine and link.after in mine:
            gap = mine[link.after].start_min - mine[link.before].end_min
            if gap < link.at_least_min:
                return False
            if link.at_most_min is not None and gap > link.at_most_min:
                return False
    if new.person is None:
        return True
    for minute in range(new.start_min, new.end_min):
        given = sum(
            s.quarters
            for s in placed
            if s.person == new.person and s.start_min <= minute < s.end_min
        )
        if given + new.quarters > 4:
            return False
    return True


def _all_breaks(problem: Problem) -> Iterator[tuple[PlacedBreak, ...]]:
    each = [
        [
            PlacedBreak(person=p.id, start_min=m, end_min=m + rest.duration_min)
            for m in range(rest.earliest_min, rest.latest_start_min + 1)
        ]
        for p in problem.people
        for rest in p.breaks
    ]
    yield from product(*each)


def _all_loads(
    problem: Problem, steps: tuple[PlacedStep, ...], until: int
) -> Iterator[tuple[PlacedLoad, ...]]:
    riders = [b for b in problem.batches if b.process is not None]
    if not riders:
        yield ()
        return
    (canner,) = problem.canners
    closed = {b.id: max(s.end_min for s in steps if s.batch == b.id) for b in riders}
    for aboard in _ways_to_ride(riders):
        yield from _load_after_load(problem, canner, aboard, closed, until, ())


def _ways_to_ride(
    riders: list[Batch],
) -> Iterator[tuple[tuple[tuple[str, int], ...], ...]]:
    """Jars of each load in its turn: up to two loads, batches split or whole."""
    whole = tuple((b.id, b.jars) for b in riders)
    yield (whole,)
    for first in product(*(range(b.jars + 1) for b in riders)):
        one = tuple((b.id, n) for b, n in zip(riders, first, strict=True) if n)
        two = tuple(
            (b.id, b.jars - n) for b, n in zip(riders, first, strict=True) if b.jars - n
        )
        if one and two:
            yield one, two


def _load_after_load(
    problem: Problem,
    canner: Canner,
    aboard: tuple[tuple[tuple[str, int], ...], ...],
    closed: dict[str, int],
    until: int,
    done: tuple[PlacedLoad, ...],
) -> Iterator[tuple[PlacedLoad, ...]]:
    if len(done) == len(aboard):
        yield done
        return
    jars = aboard[len(done)]
    before = done[-1] if done else None
    free = before.out_min if before else canner.first_heat_min
    ready = max([free, *(closed[b] for b, _ in jars)])
    people = [p.id for p in problem.people if "lift" in p.skills]
    wait = {b.id: b.closed_wait_at_most_min for b in problem.batches}
    latest = min(closed[b] + wait[b] for b, _ in jars)
    for lower in range(ready, min(latest, until) + 1):
        first, again = canner.first_heat_min, canner.reheat_min
        ways = (
            ((False, again), (False, first), (True, 0)) if before else ((False, first),)
        )
        for hot, heat in ways:
            for longer in range(11):
                out = lower + _cycle(canner) + longer
                if out > until:
                    break
                for low, lift in product(people, people):
                    load = _a_load(canner, len(done), jars, lower, longer, low, lift)
                    load = replace(load, hot=hot, heat_min=lower - heat)
                    earlier = done
                    if hot and before is not None:
                        earlier = (*done[:-1], replace(before, fire_free_min=lower))
                    yield from _load_after_load(
                        problem, canner, aboard, closed, until, (*earlier, load)
                    )


def _cycle(canner: Canner) -> int:
    return (
        canner.load_min
        + _up(canner)
        + QUICK.minutes
        + canner.rest_min
        + canner.unload_min
    )


def _up(canner: Canner) -> int:
    own = canner.come_up_of.get(QUICK.id)
    return own.minutes if own else canner.come_up_min


def _a_load(
    canner: Canner,
    number: int,
    jars: tuple[tuple[str, int], ...],
    lower: int,
    longer: int,
    low: str,
    lift: str,
) -> PlacedLoad:
    boil = lower + canner.load_min + _up(canner)
    done = boil + QUICK.minutes
    lifted = done + canner.rest_min + longer
    return PlacedLoad(
        id=f"L{number}",
        canner=canner.id,
        process=QUICK.id,
        process_min=QUICK.minutes,
        jars=jars,
        hot=False,
        heat_min=lower,
        lower_min=lower,
        lowered_min=lower + canner.load_min,
        boil_min=boil,
        done_min=done,
        lift_min=lifted,
        out_min=lifted + canner.unload_min,
        fire_free_min=done,
        lowered_by=low,
        lifted_by=lift,
    )


# --- against what is proven ---


def proven_finish(problem: Problem) -> int | None:
    answer = plan_day(problem, seconds=6.0)
    if isinstance(answer, NoneFound):
        assert answer.impossible
        return None
    assert answer.proven
    assert violations(problem, answer.timetable) == ()
    return answer.finish_min


@pytest.mark.parametrize("seed", range(24))
def test_no_plan_of_all_ends_before_the_proven_one(seed: int) -> None:
    problem = tiny_day(seed)
    assert earliest_finish(problem) == proven_finish(problem)


@pytest.mark.parametrize("seed", range(10))
def test_no_way_to_load_the_canner_ends_before_the_proven_one(seed: int) -> None:
    problem = canner_day(seed)
    assert earliest_finish(problem) == proven_finish(problem)


@pytest.mark.parametrize("seed", range(6))
def test_no_way_to_load_raw_packs_ends_before_the_proven_one(seed: int) -> None:
    problem = raw_day(seed)
    assert earliest_finish(problem) == proven_finish(problem)


@pytest.mark.parametrize("seed", range(12))
def test_with_the_burner_taken_no_plan_ends_before_the_proven_one(seed: int) -> None:
    problem = with_burners_taken(tiny_day(seed), seed)
    assert earliest_finish(problem) == proven_finish(problem)


# of seeds 0, 2 and 5 it takes up to two minutes to try all plans
@pytest.mark.parametrize("seed", [1, 3, 4, 6, 7, 8, 9])
def test_with_the_canners_fire_taken_none_ends_before_the_proven_one(
    seed: int,
) -> None:
    problem = with_burners_taken(canner_day(seed), seed)
    assert earliest_finish(problem) == proven_finish(problem)


def test_the_enumeration_finds_what_a_person_can_add_up() -> None:
    # one person, two labours of 3 and 4: one after the other; with two, side by side
    two = [
        Batch(
            id=name, product=name, jars=0, process=None, pots=(), ready_after="",
            closed_wait_at_most_min=0, steps=(step("s", minutes, 3),), links=(),
        )
        for name, minutes in (("a", 3), ("b", 4))
    ]  # fmt: skip
    alone = day(*two, people=1, canners=(), horizon_min=9)
    assert earliest_finish(alone) == 7
    assert earliest_finish(replace(alone, people=(person("p"), person("q")))) == 4
    assert earliest_finish(replace(alone, horizon_min=6)) is None

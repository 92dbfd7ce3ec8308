"""
A rinse between two batches of one product, a wash between two products.

The smallest days on which it matters, each with why its number is right; what the judge
says where a plan rinses too little; and tiny days of which every plan is tried.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import pytest
from planning.small_days import day, jelly, person, step, work
from planning.test_brute_force import _all_steps
from planning.written_out import at, batch, said

from stillroom.methods.step import Link, Step
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.names import Span, named
from stillroom.planning.cpsat.reading import hints_of
from stillroom.planning.cpsat.rinses import least_washes, washes
from stillroom.planning.cpsat.solve import Search, day_model, hint_fully
from stillroom.planning.cpsat.stages import stages_after
from stillroom.planning.cpsat.which_batches import which_batches
from stillroom.planning.goal_order import Goal
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.goals import goals_of
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Burner, Pot, Problem, Window
from stillroom.planning.rinses import (
    Tool,
    as_worked,
    at_the_shortest,
    least_asked,
    may_follow,
    rinsed_where_enough,
    waiting_rinsed,
    washed_where_asked,
)
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import Answer, PlacedStep, Timetable
from stillroom.planning.why_not.refuse import refuse_nonsense
from stillroom.planning.words.sheet import day_sheet
from stillroom.refusal import Unreadable

WASH_MIN, RINSE_MIN = 5, 2


def wash(minutes: int = WASH_MIN, **what: object) -> Step:
    given = {"in_pot": True, **what}
    return replace(step("wash", minutes, 3, **given), rinse_min=RINSE_MIN)


def boiled(name: str, product: str = "plum jelly", **changes: object) -> Batch:
    """Ten minutes in the big pot with nobody near, then its wash."""
    boil = step("boil", 10, 0, in_pot=True)
    links = (Link(before="boil", after="wash"),)
    given = {"product": product, "pots": ("big",), "links": links, **changes}
    return batch(name, boil, wash(), **given)


def milled(name: str, product: str = "plum butter") -> Batch:
    mill = step("mill", 10, 0, on_mill=True)
    last = wash(in_pot=False, on_mill=True)
    links = (Link(before="mill", after="wash"),)
    return batch(name, mill, last, product=product, links=links)


def in_pot(
    name: str, start: int, *, rinsed: bool = False, pot: str = "big-1"
) -> list[PlacedStep]:
    takes = RINSE_MIN if rinsed else WASH_MIN
    end = start + 10
    return [
        at(name, "boil", start, end, pot=pot),
        at(name, "wash", end, end + takes, "p1", pot=pot, rinsed=rinsed),
    ]


# --- the judge ---------------------------------------------------------------------


def test_a_rinse_is_enough_before_the_same_and_nothing_less_than_it() -> None:
    problem = day(boiled("a"), boiled("b"))
    # boiled 0-10, rinsed 10-12, the other from 12 on, washed 22-27
    plan = [*in_pot("a", 0, rinsed=True), *in_pot("b", 12)]
    assert said(problem, plan) == ()
    hurried = replace(plan[1], end_min=11)
    assert said(problem, [plan[0], hurried, *in_pot("b", 12)]) == (
        "wash of a lasts 1 min; it takes 2",
    )
    # as long as a rinse, but said to be the wash
    unsaid = replace(plan[1], rinsed=False)
    assert said(problem, [plan[0], unsaid, *in_pot("b", 12)]) == (
        "wash of a lasts 2 min; it takes 5",
    )


def test_a_pot_goes_from_one_product_to_another_only_washed() -> None:
    problem = day(boiled("a"), boiled("b", "grape jelly"))
    assert said(problem, [*in_pot("a", 0), *in_pot("b", 15)]) == ()
    assert said(problem, [*in_pot("a", 0, rinsed=True), *in_pot("b", 15)]) == (
        "pot big-1 goes from a to b only rinsed; between two products it is washed",
    )


def test_a_pot_is_put_away_only_washed() -> None:
    problem = day(boiled("a"), boiled("b"), big_pots=2)
    once = [*in_pot("a", 0, rinsed=True), *in_pot("b", 15, pot="big-2")]
    assert said(problem, once) == (
        "pot big-1 is only rinsed after a and not used again: it is washed at the end",
    )
    last = [*in_pot("a", 0, rinsed=True), *in_pot("b", 15, rinsed=True)]
    assert said(problem, last) == (
        "pot big-1 is only rinsed after b and not used again: it is washed at the end",
    )


def test_what_comes_next_counts_and_not_what_comes_some_time() -> None:
    problem = day(boiled("a"), boiled("b", "grape jelly"), boiled("c"))
    plan = [*in_pot("a", 0, rinsed=True), *in_pot("b", 20), *in_pot("c", 40)]
    assert said(problem, plan) == (
        "pot big-1 goes from a to b only rinsed; between two products it is washed",
    )
    other = [*in_pot("a", 0, rinsed=True), *in_pot("c", 20), *in_pot("b", 40)]
    assert said(problem, other) == ()


def test_the_mill_likewise() -> None:
    same, other = milled("b"), milled("b", "pear butter")

    def turns(rinsed: bool) -> list[PlacedStep]:
        end = 12 if rinsed else 15
        return [
            at("a", "mill", 0, 10, mill=1),
            at("a", "wash", 10, end, "p1", mill=1, rinsed=rinsed),
            at("b", "mill", 15, 25, mill=1),
            at("b", "wash", 25, 30, "p1", mill=1),
        ]

    assert said(day(milled("a"), same), turns(True)) == ()
    assert said(day(milled("a"), other), turns(False)) == ()
    assert said(day(milled("a"), other), turns(True)) == (
        "mill 1 goes from a to b only rinsed; between two products it is washed",
    )


def test_only_what_may_be_a_rinse_is_one() -> None:
    plain = replace(boiled("a"), steps=(boiled("a").steps[0], step("wash", 5, 3)))
    problem = day(replace(plain, links=()), boiled("b"))
    placed = [
        at("a", "boil", 0, 10, pot="big-1"),
        at("a", "wash", 10, 15, "p1", rinsed=True),
    ]
    assert said(problem, [*placed, *in_pot("b", 15)]) == (
        "wash of a is planned as a rinse; it is no wash of that kind",
    )


def test_what_is_in_the_pot_counts_and_not_by_when_it_is_wanted() -> None:
    by_noon = boiled("b", "plum jelly by 12:00", contents="plum jelly")
    problem = day(boiled("a"), by_noon)
    assert said(problem, [*in_pot("a", 0, rinsed=True), *in_pot("b", 12)]) == ()


@pytest.mark.parametrize(
    ("faulty", "words"),
    [
        (replace(wash(), rinse_min=5), "less than the wash of 5"),
        (replace(wash(), rinse_min=0), "takes 0 min; 1 or more"),
        (wash(in_pot=True, on_mill=True), "of a pot or of a mill"),
        (wash(in_pot=False), "of a pot or of a mill"),
    ],
)
def test_a_rinse_that_makes_no_sense_is_refused(faulty: Step, words: str) -> None:
    one = boiled("a")
    problem = day(replace(one, steps=(one.steps[0], faulty)))
    with pytest.raises(Unreadable, match=words):
        refuse_nonsense(problem)


def test_what_may_be_a_rinse_ends_the_use() -> None:
    with pytest.raises(Unreadable, match="it must come after all else in the pot"):
        refuse_nonsense(day(replace(boiled("a"), links=())))


# --- the plan ----------------------------------------------------------------------


def figures(problem: Problem, plan: Timetable) -> dict[str, int]:
    (runs,) = [met for met in goals_of(problem, plan) if met.goal is Goal.FEW_RUNS]
    return dict(runs.figures)


def planned(problem: Problem) -> Answer:
    answer = plan_day(problem, seconds=2.0, deterministic=True)
    assert isinstance(answer, Answer)
    assert violations(problem, answer.timetable) == ()
    assert answer.proven
    assert not any("handed" in r or "refused" in r for r in answer.remarks)
    return answer


def test_two_of_the_same_are_done_sooner_by_what_a_rinse_saves() -> None:
    # 10 boiling + 2 rinsing + 10 boiling + 5 washing = 27; two products take 30
    same = day(boiled("a"), boiled("b"))
    other = day(boiled("a"), boiled("b", "grape jelly"))
    assert planned(same).finish_min == 27
    assert planned(other).finish_min == 30
    assert figures(same, planned(same).timetable)["pot_washes"] == 1
    assert figures(other, planned(other).timetable)["pot_washes"] == 2


def test_a_careful_person_rinses_too() -> None:
    same = day(boiled("a"), boiled("b"))
    plan = by_hand(same)
    assert plan is not None
    assert plan.finish_min == 27
    assert violations(same, plan) == ()


def test_fewest_washes_where_no_minute_hangs_on_it() -> None:
    # two pots, two of each product, a boil of 10 each: every way to pair them ends
    # when the one person who washes is done, and only like after like saves washes
    batches = [boiled(n, p) for n, p in zip("abcd", ("x", "y", "y", "x"), strict=True)]
    problem = day(*batches, big_pots=2, people=1)
    answer = planned(problem)
    assert figures(problem, answer.timetable) == {
        "runs": 0, "heated_from_cold": 0, "pot_washes": 2, "mill_washes": 0, "rinses": 2
    }  # fmt: skip


def test_washes_are_sought_behind_the_end_of_the_day_and_never_for_it() -> None:
    # two pots: side by side both are over at 15 with two washes (the second person
    # washes too); one after the other in one pot would be 27 with one wash
    problem = day(boiled("a"), boiled("b"), big_pots=2, people=2)
    answer = planned(problem)
    assert answer.finish_min == 15
    assert figures(problem, answer.timetable)["pot_washes"] == 2
    # put in front of everything, one wash is worth the 12 minutes
    first = planned_with(problem, Goal.FEW_RUNS)
    assert figures(problem, first.timetable)["pot_washes"] == 1
    assert first.finish_min == 27


def planned_with(problem: Problem, goal: Goal) -> Answer:
    given = replace(problem, first=(goal,))
    answer = plan_day(given, seconds=2.0, deterministic=True)
    assert isinstance(answer, Answer)
    assert violations(given, answer.timetable) == ()
    return answer


def test_nothing_else_goes_into_a_pot_that_waits_rinsed() -> None:
    # the second plum jelly is ready at 40, the grape jelly at 20; it goes between the
    # two, for the others would end at 62 or 70, and so all are washed: 40 + 10 + 5 = 55
    late = boiled("b", windows=(Window(step="boil", earliest_min=40),))
    third = boiled("c", "grape jelly", windows=(Window(step="boil", earliest_min=20),))
    problem = day(boiled("a"), late, third)
    answer = planned(problem)
    assert answer.finish_min == 55
    assert figures(problem, answer.timetable)["pot_washes"] == 3
    # with a pot for the grape jelly the other waits rinsed, and one wash is saved
    two = replace(problem, pots=(*problem.pots, Pot(id="big-2", size="big")))
    answer = planned(two)
    assert answer.finish_min == 55
    assert figures(two, answer.timetable)["pot_washes"] == 2


def test_one_batch_follows_one() -> None:
    # two side by side, the third in either pot: 10 + 2 + 10 + 5 = 27, one rinse only
    problem = day(*(boiled(n) for n in "abc"), big_pots=2, people=2)
    answer = planned(problem)
    assert answer.finish_min == 27
    assert figures(problem, answer.timetable)["rinses"] == 1


def test_washes_are_sought_behind_canner_runs_and_no_run_is_given_for_them() -> None:
    last = replace(jelly().steps[-1], rinse_min=2)
    both = [jelly(n, steps=(*jelly().steps[:-1], last)) for n in ("a", "b")]
    problem = day(*both)
    plan = by_hand(problem)
    assert plan is not None
    model = day_model(problem, plan, 0)
    known = hint_fully(model, hints_of(model, plan), Search(0.0, 1, 1, True))
    assert known is not None
    goals = [stage.make for stage in stages_after(model, ())]
    runs = goals.index(objective.loads_and_splits)
    assert goals[runs + 1] is washes
    sought = washes(model)
    assert sought is not None
    # two in one pot: the first is rinsed for the second, and nothing can save more
    assert known.value(sought) == least_washes(model) == 1


def test_a_pot_that_held_the_like_is_taken_before_the_one_used_last() -> None:
    spans = [
        Span("a", 0, 5, "plum jelly"),
        Span("b", 0, 6, "grape jelly"),
        Span("c", 10, 15, "plum jelly"),
        Span("d", 20, 25, ""),
    ]
    given = named(spans, ["one", "two"])
    assert given == {"a": "one", "b": "two", "c": "one", "d": "one"}


def test_a_rinse_where_one_is_enough_moves_nothing_else() -> None:
    problem = day(boiled("a"), boiled("b"))
    full = Timetable(steps=(*in_pot("a", 0), *in_pot("b", 15)), loads=(), breaks=())
    rinsed = rinsed_where_enough(problem, full)
    assert violations(problem, rinsed) == ()
    assert [(s.start_min, s.rinsed) for s in rinsed.steps] == [
        (0, False), (10, True), (15, False), (25, False)
    ]  # fmt: skip


# --- bounds ------------------------------------------------------------------------


def test_no_bound_counts_a_wash_that_may_be_a_rinse_but_the_last() -> None:
    problem = day(*(boiled(n) for n in "abc"), boiled("d", "grape jelly"))

    def washes(of: Problem) -> list[int]:
        return [b.steps[1].duration_min for b in of.batches]

    assert washes(at_the_shortest(problem)) == [2, 2, 2, 5]
    # one of the three that are alike is followed by none
    assert washes(least_asked(problem)) == [2, 2, 5, 5]
    # where another of the same product is not alike nobody knows which
    more = replace(problem, batches=(*problem.batches, boiled("e", jars=3)))
    assert washes(least_asked(more)) == [2, 2, 2, 5, 2]
    assert lower_bound_min(problem) <= planned(problem).finish_min
    # 4 x 10 boiling, rinses of 2 and 2, washes of 5 and 5 in the one pot
    assert planned(problem).finish_min == 54
    assert window_bound_min(problem, 0) <= 54


# --- every plan of tiny days --------------------------------------------------------


def tiny(seed: int) -> Problem:
    """Two or three batches of a boil and a wash, one or two pots, one person or two."""
    products = [("x", "x"), ("x", "y"), ("x", "x"), ("x", "x")][seed % 4]
    batches = []
    for name, product in zip("ab", products, strict=True):
        boil = step("boil", 2 + seed % 2, seed % 3, in_pot=True)
        last = replace(step("wash", 3, 3, in_pot=True), rinse_min=1)
        batches.append(
            batch(
                name,
                boil,
                last,
                product=product,
                pots=("big", "small") if seed % 5 == 0 else ("big",),
                links=(Link(before="boil", after="wash", at_most_min=1),),
            )
        )
    return day(
        *batches,
        people=tuple(person(f"p{n}") for n in range(1 + seed % 2)),
        canners=(),
        burners=(Burner(id="only", power_w=1000.0),),
        pots=(
            Pot(id="big-1", size="big"),
            *([Pot(id="big-2", size="big")] if seed % 3 == 2 else []),
            Pot(id="small-1", size="small"),
        ),
        horizon_min=12 if seed % 4 == 1 else 11,
    )


def rinsed_ways(plan: Timetable) -> Iterator[Timetable]:
    """A plan with each choice of its washes turned into rinses."""
    at_wash = [n for n, s in enumerate(plan.steps) if s.step == "wash"]
    for many in range(len(at_wash) + 1):
        for chosen in combinations(at_wash, many):
            steps = list(plan.steps)
            for n in chosen:
                s = steps[n]
                steps[n] = replace(s, end_min=s.start_min + 1, rinsed=True)
            yield replace(plan, steps=tuple(steps))


def best_of_all(problem: Problem) -> tuple[int, int]:
    """Earliest finish, and the fewest washes of the plans that end then."""
    best = (problem.horizon_min + 1, 0)
    short = replace(
        problem,
        batches=tuple(
            replace(b, steps=(b.steps[0], replace(b.steps[1], duration_min=1)))
            for b in problem.batches
        ),
    )
    lasts = {(b.id, s.id): s.duration_min for b in problem.batches for s in b.steps}
    for steps in _all_steps(short, problem.horizon_min):
        whole = tuple(
            replace(s, end_min=s.start_min + lasts[s.batch, s.step]) for s in steps
        )
        for plan in rinsed_ways(Timetable(steps=whole, loads=(), breaks=())):
            if plan.finish_min > best[0] or violations(problem, plan):
                continue
            washes = sum(s.step == "wash" and not s.rinsed for s in plan.steps)
            best = min(best, (plan.finish_min, washes))
    return best


@pytest.mark.parametrize("seed", [0, 1, 2, 3, 4, 6, 8, 10])
def test_no_plan_of_all_ends_sooner_or_washes_less(seed: int) -> None:
    problem = tiny(seed)
    answer = planned(problem)
    got = figures(problem, answer.timetable)["pot_washes"]
    assert (answer.finish_min, got) == best_of_all(problem)


# --- the day that has begun ----------------------------------------------------------


def three_in_a_row() -> tuple[Problem, Timetable]:
    problem = day(*(boiled(n) for n in "abc"), boiled("d", "grape jelly"), people=1)
    steps = (
        *in_pot("a", 0, rinsed=True),
        *in_pot("b", 12, rinsed=True),
        *in_pot("c", 24),
        *in_pot("d", 39),
    )
    plan = Timetable(steps=steps, loads=(), breaks=())
    assert violations(problem, plan) == ()
    return problem, plan


@pytest.mark.parametrize("now", range(1, 52, 3))
def test_a_day_planned_again_keeps_its_rinses(now: int) -> None:
    problem, plan = three_in_a_row()
    late = {("b", "boil"): 7} if 12 < now < 29 else {}
    again = replan(problem, plan, as_planned(problem, plan, now, late_min=late))
    assert again.broken == ()
    assert sum(s.rinsed for s in again.new.steps) == 2
    assert again.new.finish_min == 54 + (7 if late else 0)


def test_a_pot_rinsed_for_what_is_left_out_is_washed() -> None:
    problem, plan = three_in_a_row()
    out = {"b", "c"}
    less = replace(
        problem, batches=tuple(b for b in problem.batches if b.id not in out)
    )
    kept = replace(plan, steps=tuple(s for s in plan.steps if s.batch not in out))
    again = replan(less, kept, as_planned(less, kept, 12))
    assert again.broken == ()
    washed = next(s for s in again.new.steps if (s.batch, s.step) == ("a", "wash"))
    assert (washed.start_min, washed.end_min, washed.rinsed) == (12, 17, False)
    boils = next(s for s in again.new.steps if (s.batch, s.step) == ("d", "boil"))
    assert boils.start_min >= 17


@pytest.mark.parametrize(("leaves", "made"), [(14, 0), (15, 1), (26, 1), (27, 2)])
def test_nothing_is_rinsed_for_a_batch_that_is_left_out(leaves: int, made: int) -> None:
    # one takes 10 + 5 = 15 minutes of her, two 10 + 2 + 10 + 5 = 27; one that is rinsed
    # for a batch that is not made would be over at 12, two at 24
    search = Search(until=0.0, workers=1, seed=1, deterministic=True, seconds=5.0)
    whole = day(
        *(milled(name) for name in "abc"), people=(person("keeper", leaves_min=leaves),)
    )
    which = which_batches(whole, ("a", "b", "c"), search)
    assert len(which.kept) == made
    if which.timetable is not None:
        kept = tuple(b for b in whole.batches if b.id in which.kept)
        assert violations(replace(whole, batches=kept), which.timetable) == ()


def test_a_rinsed_pot_waits_for_its_batch_when_the_day_is_planned_again() -> None:
    late = boiled("b", windows=(Window(step="boil", earliest_min=40),))
    problem = day(boiled("a"), late, boiled("d", "grape jelly"), people=1)
    steps = (*in_pot("a", 0, rinsed=True), *in_pot("b", 40), *in_pot("d", 55))
    plan = Timetable(steps=steps, loads=(), breaks=())
    assert violations(problem, plan) == ()
    # from 12 on the pot stands rinsed: nothing else goes in, however long it waits
    again = replan(problem, plan, as_planned(problem, plan, 15))
    assert again.broken == ()
    assert {s.batch: s.start_min for s in again.new.steps if s.step == "boil"} == {
        "a": 0, "b": 40, "d": 55
    }  # fmt: skip
    # before it is rinsed that is open: washed, the grape jelly in between, done at 55
    sooner = replan(problem, plan, as_planned(problem, plan, 5))
    assert sooner.broken == ()
    assert sooner.new.finish_min in (55, 70)


# --- words ---------------------------------------------------------------------------


def test_the_sheet_says_rinse_or_wash_at_the_step() -> None:
    problem, plan = three_in_a_row()
    entries = [
        e for e in day_sheet(problem, plan).entries if e.end_min - e.start_min < 9
    ]
    assert [e.what.partition(" ")[0].lower() for e in entries] == [
        "rinse", "rinse", "wash", "wash"
    ]  # fmt: skip
    assert entries[0].what == "Rinse the pot"
    assert entries[0].detail == "plum jelly again next: no wash"


def test_the_goal_counts_washes_and_rinses() -> None:
    problem, plan = three_in_a_row()
    (runs,) = [met for met in goals_of(problem, plan) if met.goal is Goal.FEW_RUNS]
    assert runs.sentence == "2 washes, 2 rinses."


def test_what_is_worked_has_the_minutes_of_its_rinses() -> None:
    problem, plan = three_in_a_row()
    worked = as_worked(problem, plan)
    assert [b.steps[1].duration_min for b in worked.batches] == [2, 2, 5, 5]
    assert all(s.rinse_min is None for b in worked.batches[:2] for s in b.steps)


def boiled_in(name: str, pots: tuple[str, ...], contents: str = "plum"):
    """A pot that is boiled in and washed for ten minutes, or rinsed for two."""
    return work(
        name,
        step("boil", 10, 3, in_pot=True),
        step("wash", 10, 3, in_pot=True, rinse_min=2),
        links=(Link(before="boil", after="wash"),),
        pots=pots,
        contents=contents,
    )


def one_after_the_other(second: str, *, rinsed: bool):
    """Two in one pot; the wash of the first is told as a rinse or as a wash."""

    def use(name: str, at: int, wash: int, is_rinsed: bool):
        more = {"person": "p1", "quarters": 3, "pot": "big-1"}
        return (
            PlacedStep(batch=name, step="boil", start_min=at, end_min=at + 10, **more),
            PlacedStep(
                batch=name,
                step="wash",
                start_min=at + 10,
                end_min=at + 10 + wash,
                rinsed=is_rinsed,
                **more,
            ),
        )

    problem = day(boiled_in("a", ("big",)), boiled_in("b", ("big",), second))
    first = use("a", 0, 2 if rinsed else 10, rinsed)
    steps = (*first, *use("b", 30, 10, False))
    return problem, Timetable(steps=steps, loads=(), breaks=())


def test_what_can_never_come_into_its_pot_makes_no_rinse_of_a_wash():
    big, small = boiled_in("a", ("big",)), boiled_in("b", ("small",))
    assert not may_follow(big, small, Tool.POT)
    assert may_follow(big, boiled_in("b", ("small", "big")), Tool.POT)


@pytest.mark.parametrize(("second", "lasts"), [("plum", 2), ("cherry", 10)])
def test_a_rinse_before_something_else_is_a_wash_again(second, lasts):
    problem, plan = one_after_the_other(second, rinsed=True)
    (wash,) = (
        s
        for s in washed_where_asked(problem, plan).steps
        if (s.batch, s.step) == ("a", "wash")
    )
    assert (wash.end_min - wash.start_min, wash.rinsed) == (lasts, lasts == 2)


@pytest.mark.parametrize("rinsed", [True, False])
def test_only_a_pot_that_is_rinsed_waits_for_its_like(rinsed):
    problem, plan = one_after_the_other("plum", rinsed=rinsed)
    so_far = {(s.batch, s.step): s for s in plan.steps if s.batch == "a"}
    found = [(w.name, w.batch) for w in waiting_rinsed(problem, plan, so_far)]
    assert found == ([("big-1", "b")] if rinsed else [])

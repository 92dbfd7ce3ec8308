"""One number of a good plan is broken for each rule: that rule must speak."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from planning.small_days import full_day

from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import misstatements, violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import (
    Answer,
    PlacedLoad,
    PlacedStep,
    Timetable,
)

Breaking = Callable[[Timetable], Timetable]


@cache
def good_plan() -> tuple[Problem, Timetable]:
    problem = full_day()
    plan = by_hand(problem)
    assert plan is not None
    return problem, plan


def step_of(plan: Timetable, batch: str, step: str) -> PlacedStep:
    return next(s for s in plan.steps if (s.batch, s.step) == (batch, step))


def with_step(batch: str, name: str, /, **changes: object) -> Breaking:
    def broken(plan: Timetable) -> Timetable:
        old = step_of(plan, batch, name)
        new = replace(old, **changes)  # type: ignore[arg-type]
        return replace(plan, steps=tuple(new if s is old else s for s in plan.steps))

    return broken


def moved(batch: str, step: str, by: int) -> Breaking:
    def broken(plan: Timetable) -> Timetable:
        old = step_of(plan, batch, step)
        start, end = old.start_min + by, old.end_min + by
        return with_step(batch, step, start_min=start, end_min=end)(plan)

    return broken


def with_load(number: int, change: Callable[[PlacedLoad], PlacedLoad]) -> Breaking:
    def broken(plan: Timetable) -> Timetable:
        loads = list(plan.loads)
        loads[number] = change(loads[number])
        return replace(plan, loads=tuple(loads))

    return broken


def load_field(number: int, field: str, by: int) -> Breaking:
    return with_load(
        number, lambda load: replace(load, **{field: getattr(load, field) + by})
    )


def shifted(load: PlacedLoad, by: int) -> PlacedLoad:
    names = (
        "heat_min",
        "lower_min",
        "lowered_min",
        "boil_min",
        "done_min",
        "lift_min",
        "out_min",
        "fire_free_min",
    )
    return replace(load, **{name: getattr(load, name) + by for name in names})


def with_break(by: int, longer: int = 0) -> Breaking:
    def broken(plan: Timetable) -> Timetable:
        rest = plan.breaks[0]
        rest = replace(
            rest, start_min=rest.start_min + by, end_min=rest.end_min + by + longer
        )
        return replace(plan, breaks=(rest, *plan.breaks[1:]))

    return broken


def without_jars(load: PlacedLoad) -> PlacedLoad:
    return replace(load, jars=())


def one_jar_less(load: PlacedLoad) -> PlacedLoad:
    (batch, count), *rest = load.jars
    return replace(load, jars=((batch, count - 1), *rest))


OTHER = {"pint-10": "half-pint-10", "half-pint-10": "pint-10"}
BREAKINGS: list[tuple[str, Breaking, str]] = [
    (
        "a step left out",
        lambda plan: replace(plan, steps=plan.steps[1:]),
        "is planned 0 times, not once",
    ),
    (
        "a step twice",
        lambda plan: replace(plan, steps=(*plan.steps, plan.steps[0])),
        "is planned 2 times, not once",
    ),
    (
        "a stranger",
        with_step("jelly-1", "lid", person="cousin"),
        "given to cousin, who is not in the day",
    ),
    (
        "an unknown pot",
        with_step("jelly-1", "boil", pot="kettle"),
        "pot kettle, which is not in the kitchen",
    ),
    (
        "an unknown step",
        with_step("jelly-1", "lid", step="lids"),
        "the day has no such step",
    ),
    (
        "an unknown burner",
        with_step("jelly-1", "boil", burner="campfire"),
        "burner campfire, which is not in the kitchen",
    ),
    ("a second mill", with_step("butter-1", "mill", mill=2), "the kitchen has 1"),
    (
        "an unknown canner",
        with_load(0, lambda load: replace(load, canner="tub")),
        "canner tub, which is not there",
    ),
    (
        "an unknown process",
        with_load(0, lambda load: replace(load, process="pint-99")),
        "process pint-99, which is not in the day",
    ),
    (
        "unknown jars",
        with_load(0, lambda load: replace(load, jars=(("chutney", 3),))),
        "jars of chutney, which is not made",
    ),
    (
        "a load by a stranger",
        with_load(0, lambda load: replace(load, lifted_by="cousin")),
        "is given to cousin",
    ),
    (
        "a break for a stranger",
        lambda plan: replace(plan, breaks=(replace(plan.breaks[0], person="cousin"),)),
        "a break is given to cousin",
    ),
    ("1 shorter", with_step("jelly-1", "lid", end_min=0), "it takes 4"),
    ("1 before the day", moved("jelly-1", "wash_jars", -99), "before the day"),
    ("1 after the day", moved("butter-1", "wash_pot", 480), "min after the day"),
    ("2 nobody", with_step("jelly-1", "lid", person=None), "has nobody to do it"),
    (
        "2 no skill",
        with_step("jelly-1", "boil", person="helper"),
        "needs pan, which helper does not do alone",
    ),
    (
        "2 half-hearted",
        with_step("jelly-1", "fill", quarters=3),
        "is planned with 3 quarters of attention; it takes 4",
    ),
    (
        "2 hands for nothing",
        with_step("jelly-1", "heat_jars", person="keeper"),
        "needs nobody but is given to keeper",
    ),
    (
        "3 two people at one pan",
        lambda plan: with_step(
            "butter-1",
            "mound",
            person="helper"
            if step_of(plan, "butter-1", "cook").person == "keeper"
            else "keeper",
        )(plan),
        "stir of butter-1 goes from",
    ),
    ("4 too soon", moved("jelly-1", "fill", -1), "at least 0"),
    ("4 too late", moved("jelly-1", "fill", 6), "at most 2 (it gels)"),
    (
        "5 two labours at once",
        lambda plan: with_step(
            "jelly-2",
            "lid",
            start_min=step_of(plan, "jelly-1", "full_boil").start_min,
            end_min=step_of(plan, "jelly-1", "full_boil").start_min + 4,
            person="keeper",
        )(plan),
        "quarters at minute",
    ),
    (
        "6 before coming",
        lambda plan: with_step(
            "butter-1", "cut", person="helper", start_min=10, end_min=30
        )(plan),
        "starts 5 min before helper arrives",
    ),
    (
        "6 after leaving",
        with_step("jelly-2", "lid", person="helper", start_min=418, end_min=422),
        "ends 2 min after helper leaves",
    ),
    (
        "6 while away",
        with_step("jelly-2", "lid", person="helper", start_min=73, end_min=77),
        "falls while helper is away, minute 60 to minute 75",
    ),
    ("6 break out of its window", with_break(150), "lies outside its window"),
    ("6 break too short", with_break(0, -5), "lies outside its window"),
    (
        "6 no break",
        lambda plan: replace(plan, breaks=()),
        "keeper has 0 breaks planned and 1 asked for",
    ),
    (
        "6 work in the break",
        lambda plan: with_break(
            step_of(plan, "jelly-1", "full_boil").start_min - plan.breaks[0].start_min
        )(plan),
        "quarters at minute",
    ),
    (
        "7 pot of the wrong size",
        lambda plan: replace(
            plan,
            steps=tuple(
                replace(s, pot="small-1") if s.batch == "jelly-1" and s.pot else s
                for s in plan.steps
            ),
        ),
        "allowed are big",
    ),
    ("7 pot in use", moved("jelly-1", "wash_pot", 20), "pot big-1 holds"),
    ("7 pot changed", with_step("jelly-1", "skim", pot="small-1"), "changes pots"),
    ("7 no pot", with_step("jelly-1", "skim", pot=None), "has no pot for all"),
    (
        "7 pot for nothing",
        with_step("jelly-1", "lid", pot="small-1"),
        "is put into pot small-1; it needs none",
    ),
    ("8 no mill", with_step("butter-1", "wash_mill", mill=None), "has not one mill"),
    ("9 weak fire", with_step("jelly-1", "boil", burner="weak-1"), "it needs 2000 W"),
    ("9 no fire", with_step("jelly-1", "boil", burner=None), "needs a burner"),
    (
        "9 fire for nothing",
        with_step("jelly-1", "lid", burner="weak-1"),
        "needs no fire but is on burner weak-1",
    ),
    (
        "9 moved on the fire",
        with_step("jelly-1", "full_boil", burner="strong-1"),
        "a pot on the fire stays on its burner",
    ),
    (
        "9 burner in use",
        lambda plan: with_step(
            "jelly-1",
            "heat_jars",
            burner=step_of(plan, "jelly-1", "boil").burner,
            start_min=step_of(plan, "jelly-1", "boil").start_min,
            end_min=step_of(plan, "jelly-1", "boil").start_min + 15,
        )(plan),
        "at once",
    ),
    (
        "9 burner under the canner",
        lambda plan: with_step(
            "jelly-1",
            "heat_jars",
            burner="strong-1",
            start_min=plan.loads[0].boil_min,
            end_min=plan.loads[0].boil_min + 15,
        )(plan),
        "while canner canner is on it",
    ),
    ("10 a jar lost", with_load(0, one_jar_less), "belong there"),
    (
        "11 too many jars",
        with_load(
            0,
            lambda load: replace(load, jars=tuple((b, 17) for b, _ in load.jars)),
        ),
        "takes",
    ),
    (
        "12 wrong process",
        with_load(0, lambda load: replace(load, process=OTHER[load.process])),
        "may not ride in a load of",
    ),
    ("12 a minute less", load_field(0, "process_min", -1), "takes 10"),
    ("13 not closed", with_load(0, lambda load: shifted(load, -30)), "is closed"),
    ("13 waits long", with_load(-1, lambda load: shifted(load, 40)), "at most 20"),
    ("14 clock too early", load_field(0, "boil_min", -1), "coming to a boil lasts 11"),
    ("14 lifted too soon", load_field(0, "lift_min", -2), "5 to 15 are allowed"),
    ("14 lifted too late", load_field(0, "lift_min", 11), "5 to 15 are allowed"),
    ("14 lifted too fast", load_field(0, "out_min", -1), "lifting out lasts 3 min"),
    ("14 lowered too fast", load_field(0, "lowered_min", -1), "lowering lasts 3 min"),
    (
        "14 lifted by one who must not",
        with_load(0, lambda load: replace(load, lifted_by="helper")),
        "is lifted by helper, who does not lift hot jars",
    ),
    (
        "15 two loads at once",
        lambda plan: with_load(
            1,
            lambda load: shifted(load, plan.loads[0].lower_min + 1 - load.lower_min),
        )(plan),
        "are in canner canner at once",
    ),
    ("15 cold water", load_field(0, "heat_min", 1), "its water needs 30"),
    (
        "15 hot from nothing",
        with_load(0, lambda load: replace(load, hot=True, heat_min=load.lower_min)),
        "its water is cold",
    ),
    (
        "15 hot too long",
        with_load(
            -1,
            lambda load: replace(
                shifted(load, 60), hot=True, heat_min=load.lower_min + 60
            ),
        ),
        "the water stays hot 25",
    ),
    ("16 fire off", load_field(-1, "fire_free_min", -1), "loses its fire"),
    ("15 fire off between", load_field(0, "fire_free_min", -1), "the fire was off"),
    ("17 an empty load", with_load(0, without_jars), "is empty"),
    (
        "17 two loads of one name",
        lambda plan: replace(
            plan, loads=tuple(replace(load, id="one") for load in plan.loads)
        ),
        "loads are named one",
    ),
]


def test_the_good_plan_is_good() -> None:
    problem, plan = good_plan()
    assert violations(problem, plan) == ()
    assert len(plan.loads) >= 2


@pytest.mark.parametrize(
    ("broken", "words"), [b[1:] for b in BREAKINGS], ids=[b[0] for b in BREAKINGS]
)
def test_a_broken_rule_speaks(broken: Breaking, words: str) -> None:
    problem, plan = good_plan()
    said = violations(problem, broken(plan))
    assert any(words in sentence for sentence in said), said


def test_18_the_counter_is_full() -> None:
    problem, plan = good_plan()
    small = replace(problem, counter=replace(problem.counter, places=22))
    assert violations(small, plan) == (
        f"23 jars cool on the counter at minute {plan.loads[-1].out_min}; "
        "it has room for 22",
    )


def test_18_jars_that_are_cold_make_room() -> None:
    problem, plan = good_plan()
    apart = plan.loads[-1].out_min - plan.loads[0].out_min
    quick = replace(problem.counter, places=16, cooling_min=apart)
    assert violations(replace(problem, counter=quick), plan) == ()


def test_15_heated_before_the_load_before_is_out() -> None:
    problem, plan = good_plan()
    first, last = plan.loads[0], plan.loads[-1]
    early = shifted(last, first.out_min + 5 - last.lower_min)
    early = replace(early, hot=False, heat_min=early.lower_min - 20)
    said = violations(problem, replace(plan, loads=(*plan.loads[:-1], early)))
    assert any("is heated before" in sentence for sentence in said), said


def test_9_two_canners_on_one_burner() -> None:
    problem, plan = good_plan()
    second = replace(problem.canners[0], id="second")
    problem = replace(problem, canners=(*problem.canners, second))
    first, last = plan.loads[0], plan.loads[-1]
    beside = replace(
        shifted(last, first.lower_min - last.lower_min),
        canner="second",
        hot=False,
        heat_min=first.lower_min - 30,
    )
    said = violations(problem, replace(plan, loads=(*plan.loads[:-1], beside)))
    assert any("stand on burner strong-1 at once" in s for s in said), said


def test_19_stated_figures_are_recomputed() -> None:
    problem, plan = good_plan()
    late = 2 * max(0, _butter_out(plan) - 150)
    answer = Answer(
        timetable=plan,
        by_hand=plan,
        made_by="by hand",
        finish_min=plan.finish_min,
        lateness=late,
        lower_bound_min=0,
        proven=False,
        solve_s=0.0,
        first_plan_s=0.0,
    )
    assert misstatements(problem, answer) == ()
    wrong = replace(
        answer,
        finish_min=plan.finish_min - 1,
        lateness=late + 1,
        lower_bound_min=plan.finish_min,
    )
    said = misstatements(problem, wrong)
    assert [sentence.split()[0] for sentence in said] == ["finish", "lateness", "the"]


def _butter_out(plan: Timetable) -> int:
    return max(
        load.out_min
        for load in plan.loads
        if any(b == "butter-1" for b, _ in load.jars)
    )

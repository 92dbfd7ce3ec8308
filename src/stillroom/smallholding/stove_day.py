"""
One day at the stove: planned by hand, then tapped as it went.

The invented kitchen has a pace of its own (`PACE`), which is what learning should find
again; printed times take as long as they are printed, on every day.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from stillroom.methods.learned import may_be_learned
from stillroom.planning.day import Day, Want
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.day_odds.forward import Days, Pass
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import weighted_lateness
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.precedence import Part, Precedence, precedence_of
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from stillroom.running.batches import batches_of
from stillroom.running.commands import (
    BeginDay,
    BeginStep,
    BreakJar,
    Command,
    FinishStep,
    LiftLoad,
    MarkBoilLost,
    MarkFullBoil,
)
from stillroom.running.events import RunLoad
from stillroom.running.handle import handle, run_id
from stillroom.running.kept_plan import kept
from stillroom.running.loads import loads_of, steps_of
from stillroom.smallholding.calendar import Cooking, Odd
from stillroom.smallholding.farm import ZONE, Farm
from stillroom.stock.day_shelf import day_shelf

PACE = {
    "wash_jars": 0.8,
    "measure_sugar": 0.9,
    "to_boil": 1.15,
    "sugar_in": 1.2,
    "fill": 1.3,
    "wipe_and_lid": 1.1,
    "cut": 1.25,
    "cook_down": 1.1,
    "wash_pot": 0.85,
}
"""Times the book's minutes. Invented."""
SPREAD = 0.15
"""Standard deviation of the logarithm of a day's minutes. Invented."""
SLOW_DAY = 0.07
"""Standard deviation of what all steps of a day have in common. Invented."""
SAID = 0.8
"""Share of the steps that somebody says are begun and done. Invented."""
LUNCH_MIN = 75


@dataclass(frozen=True, slots=True)
class _Tap:
    minute: float
    command: Callable[[dt.datetime], Command]


def cook(farm: Farm, cooking: Cooking) -> str:
    """Plan a day from the stock, go through it, and return its run."""
    plan = _plan(farm, cooking)
    run = run_id(cooking.day)
    starts = dt.datetime.combine(cooking.day, plan.day.starts, tzinfo=ZONE)
    farm.clock.at = max(farm.clock.at, starts)
    text = farm.days.current() or ""
    begin = BeginDay(
        loads=loads_of(plan),
        batches=batches_of(plan),
        steps=steps_of(plan),
        kitchen=plan.day.kitchen.name,
        plan=kept(plan, text),
        at=farm.now,
    )
    handle(begin, run, ledger=farm.ledger)
    for tap in sorted(_taps(farm, plan, cooking.odd), key=lambda tap: tap.minute):
        seconds = round(tap.minute * 60)
        farm.clock.at = max(farm.clock.at, starts + dt.timedelta(seconds=seconds))
        handle(tap.command(farm.now), run, ledger=farm.ledger)
    return run


def _plan(farm: Farm, cooking: Cooking) -> DayPlan:
    with farm.kept.reading() as stock:
        shelf = day_shelf(stock, farm.now)
    day: Day = replace(
        farm.demo,
        name=cooking.name,
        date=cooking.day,
        done_by=None,
        shelf=shelf,
        wants=tuple(
            Want(product=product, jars=jars, jar=jar)
            for product, jars, jar in cooking.wants
        ),
    )
    farm.days.save(write_day(day), f"{cooking.name}, invented")
    plan = granted(plan_the_day(day, answer_of=_by_hand))
    if plan.unmet or not isinstance(plan.answer, Answer):
        short = [f"{u.product}: {u.reason}" for u in plan.unmet]
        raise ValueError(f"the calendar asks for too much on {cooking.day}: {short}")
    return plan


def _by_hand(problem: Problem) -> Answer:
    table = by_hand(problem, seconds=1e9, shuffles=30)
    if table is None:
        raise ValueError(f"no plan by hand fits {problem.starts_at}: want fewer jars")
    return Answer(
        timetable=table,
        by_hand=table,
        made_by="by hand",
        finish_min=table.finish_min,
        lateness=weighted_lateness(problem, table),
        lower_bound_min=0,
        proven=False,
        solve_s=0.0,
        first_plan_s=0.0,
    )


def _taps(farm: Farm, plan: DayPlan, odd: Odd) -> list[_Tap]:
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    net = precedence_of(plan.problem, plan.answer.timetable)
    went = Pass(net).forward(_minutes(farm, plan.problem, net))
    loads = loads_of(plan)
    never = loads[-1].id if odd is Odd.NEVER_PROCESSED else ""
    taps = _step_taps(
        farm, net, went, steps={(s.batch, s.step) for s in steps_of(plan)}
    )
    for load in loads:
        if load.id != never:
            taps += _load_taps(load, net, went, odd, first=load is loads[0])
    if odd is Odd.LUNCH:
        taps = _over_lunch(taps)
    return taps


def _minutes(
    farm: Farm, problem: Problem, net: Precedence
) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Minutes of every node on this one day, shape (nodes, 1). [min]"""
    steps = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    slow = farm.random.gauss(0.0, SLOW_DAY)
    minutes = np.empty((len(net.nodes), 1))
    for row, node in enumerate(net.nodes):
        factor = 1.0
        if node.part is Part.STEP and may_be_learned(steps[node.of, node.step]):
            noise = slow + farm.random.gauss(0.0, SPREAD)
            factor = PACE.get(node.step, 1.0) * math.exp(noise)
        elif node.part is Part.COME_UP:
            factor = math.exp(abs(farm.random.gauss(0.0, SPREAD)))
        minutes[row, 0] = node.planned_min * factor
    return minutes


def _step_taps(
    farm: Farm, net: Precedence, went: Days, *, steps: set[tuple[str, str]]
) -> list[_Tap]:
    taps = []
    for row, node in enumerate(net.nodes):
        if node.part is not Part.STEP or farm.random.random() > SAID:
            continue
        name = {"batch": node.of, "step": node.step}
        if (node.of, node.step) in steps:
            taps.append(_Tap(float(went.start[row, 0]), _asks(BeginStep, name)))
        taps.append(_Tap(float(went.end[row, 0]), _asks(FinishStep, name)))
    return taps


def _load_taps(
    load: RunLoad, net: Precedence, went: Days, odd: Odd, *, first: bool
) -> list[_Tap]:
    name = {"load": load.id}
    boil = float(went.start[net.number[load.id, Part.PROCESS], 0])
    out = boil + load.process_min + load.rest_min + 0.1
    if odd is Odd.LOST_BOIL and first:
        lost, again = boil + 2.0, boil + 5.0
        late = again - boil
        return [
            _Tap(boil, _asks(MarkFullBoil, name)),
            _Tap(lost, _asks(MarkBoilLost, name)),
            _Tap(again, _asks(MarkFullBoil, name)),
            _Tap(out + late, _asks(LiftLoad, name)),
        ]
    taps = [_Tap(boil, _asks(MarkFullBoil, name)), _Tap(out, _asks(LiftLoad, name))]
    if odd is Odd.BROKEN_JAR and first:
        broke = {"load": load.id, "batch": load.jars[0][0], "crack": "ring"}
        taps.append(_Tap(out - 0.05, _asks(BreakJar, broke)))
    return taps


def _over_lunch(taps: list[_Tap]) -> list[_Tap]:
    """The last step that is said to be done is said so an hour and more too late."""
    last = max(
        (tap for tap in taps if isinstance(tap.command(_NEVER), FinishStep)),
        key=lambda tap: tap.minute,
    )
    late = _Tap(last.minute + LUNCH_MIN, last.command)
    return [late if tap is last else tap for tap in taps]


_NEVER = dt.datetime(2000, 1, 1, tzinfo=ZONE)


def _asks(
    command: Callable[..., Command], given: dict[str, str]
) -> Callable[[dt.datetime], Command]:
    return lambda at: command(**given, at=at)

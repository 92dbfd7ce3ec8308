"""
The odds of a plan: ten thousand days under the same order of work, counted.

The policy keeps who, which pot, which load, and the order on everything that is shared;
each thing starts as soon as it may, and not so soon that a wait gives way (see
`precedence` and `in_time`). Process and rest take their published minutes on every day;
other durations vary by their spread (see `draws`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.jar_count import jars_said
from stillroom.methods.learned import SURE, Learned, Share
from stillroom.planning.day_odds.broken_limits import BrokenLimit, broken_limits
from stillroom.planning.day_odds.draws import SHARED_SLOW_DAY, Array, Draws
from stillroom.planning.day_odds.finishing import Finishing
from stillroom.planning.day_odds.forward import Days, Pass, planned_minutes, spreads_of
from stillroom.planning.day_odds.in_time import policy_of
from stillroom.planning.day_odds.odds_promises import PromiseOdds, promises_of
from stillroom.planning.daytime import since_midnight_min
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.precedence import Floor, Part, Precedence
from stillroom.refusal import COMMON_PRACTICE

DAYS = 10_000
STEPS_SHOWN = 5
LESS_MIN = 10.0
"""A step that matters is tried this much shorter. [min]"""
LOST_ONE_IN = (20, 30)
"""Of so many jars one cracks or does not seal. Common practice, no source."""
HALF_HOUR_MIN = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class DoneBy:
    """How likely the day is over by a minute."""

    minute: int
    chance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """A step that decides when the day is over."""

    of: str
    """Batch or load."""
    step: str
    on_path: float
    """Share of days on which it lies on a longest path."""
    sd_min: float
    """Standard deviation of its duration. [min]"""
    earlier_min: float
    """By how much the day ends earlier on average if it took ten minutes less. [min]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpareJars:
    """What to set out beyond what the plan fills."""

    jars: int
    """Those that go into a canner: a crock or a freezer box has no seal to fail."""
    spare: int
    """Enough on nineteen days in twenty."""
    source: str = COMMON_PRACTICE


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """What is known of a plan's day before it begins."""

    days: int
    rho: float
    planned_min: int
    """Finish of the plan. [min]"""
    at_plan_min: float
    """Finish of the pass if everything takes its planned minutes. [min]"""
    chance_as_planned: float
    """Share of days that are over by the planned finish."""
    done_by: tuple[DoneBy, ...]
    """By each half hour of the clock, from the first that any day meets."""
    wanted: DoneBy | None
    """By the hour that she named; `None` where she named none."""
    promises: tuple[PromiseOdds, ...]
    """Of each want with an hour, whether all of its goods are there by then."""
    even_min: int
    """Half of the days are over. [min]"""
    likely_min: int
    """Four in five are over. [min]"""
    sure_min: int
    """Nineteen in twenty are over. [min]"""
    mean_min: float
    sd_min: float
    matters: tuple[Matter, ...]
    broken: tuple[BrokenLimit, ...]
    over_asked_min: float
    """Minutes a day in which somebody is asked for more than there is of them."""
    spare: SpareJars


def odds_of(
    problem: Problem,
    plan: Timetable,
    *,
    days: int = DAYS,
    seed: int = 1,
    rho: float = SHARED_SLOW_DAY,
    seals: Share | None = None,
    since_min: int | None = None,
) -> Odds:
    """
    Return the odds of a plan.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that breaks no rule of it.
    days : int
        How many days are simulated; a chance of 10,000 is known to 1 in 100 at worst.
    seed : int
        Same seed, same days.
    rho : float
        Share of the variance that all steps of a day have in common, 0 to 1.
    seals : Share, optional
        Jars of the keeper's own that did not seal; without it the common practice.
    since_min : int, optional
        What had begun by this minute went as the plan has it, and the rest comes after:
        a day that was planned again then.

    Raises
    ------
    ValueError
        If ``days`` or ``rho`` lies outside its range.
    """
    net = policy_of(problem, plan, as_it_went=since_min is not None)
    _hold_the_past(net, since_min)
    ready = Pass(net)
    minutes = minutes_of_days(net, problem, plan, days=days, seed=seed, rho=rho)
    for n in _begun_by(net, since_min):
        minutes[n] = net.nodes[n].planned_min
    simulated = ready.forward(minutes)
    finish = simulated.finish.astype(np.float64)
    at_plan = float(ready.forward(planned_minutes(net)).finish[0])
    even, likely, sure = (minute_by(finish, share) for share in (0.5, 0.8, 0.95))
    broken, over_asked = broken_limits(
        net, problem, plan, simulated, since_min=since_min
    )
    jars = sum(b.jars for b in problem.batches if b.process is not None)
    return Odds(
        days=days,
        rho=rho,
        planned_min=plan.finish_min,
        at_plan_min=at_plan,
        chance_as_planned=float(np.mean(finish <= plan.finish_min)),
        done_by=_done_by(problem.starts_at, finish, problem.done_by_min),
        wanted=_wanted(finish, problem.done_by_min),
        promises=promises_of(net, problem, plan, simulated),
        even_min=even,
        likely_min=likely,
        sure_min=sure,
        mean_min=float(finish.mean()),
        sd_min=float(finish.std()),
        matters=_matters(ready, minutes, simulated),
        broken=broken,
        over_asked_min=over_asked,
        spare=spare_jars(jars, days=days, seed=seed)
        if seals is None
        else own_spare_jars(jars, seals),
    )


def _begun_by(net: Precedence, since_min: int | None) -> list[int]:
    """Nodes that had begun by a minute."""
    if since_min is None:
        return []
    return [n for n, node in enumerate(net.nodes) if node.start_min < since_min]


def _hold_the_past(net: Precedence, since_min: int | None) -> None:
    """What had begun did so when it did; nothing else begins before that minute."""
    if since_min is None:
        return
    for n, node in enumerate(net.nodes):
        if node.part is Part.HEAT and node.start_min >= since_min:
            continue
        minute = min(node.start_min, since_min)
        net.floors.append(Floor(node=n, minute=minute, what="planned again at"))


def minutes_of_days(
    net: Precedence,
    problem: Problem,
    plan: Timetable,
    *,
    days: int,
    seed: int = 1,
    rho: float = SHARED_SLOW_DAY,
) -> Array:
    """Drawn durations of all nodes, shape (nodes, days). [min]"""
    return draws_for(net, problem, plan, days=days, seed=seed, rho=rho).all_rows()


def draws_for(
    net: Precedence,
    problem: Problem,
    plan: Timetable,
    *,
    days: int,
    seed: int = 1,
    rho: float = SHARED_SLOW_DAY,
) -> Draws:
    """Durations of all nodes, to be worked out row by row."""
    planned = [node.planned_min for node in net.nodes]
    spreads = spreads_of(net, problem, plan)
    return Draws(planned, spreads, days=days, seed=seed, rho=rho)


def finishes_of(
    problem: Problem,
    plan: Timetable,
    *,
    days: int = DAYS,
    seed: int = 1,
    rho: float = SHARED_SLOW_DAY,
) -> Array:
    """Return only the finishes of the simulated days, the quickest way. [min]"""
    net = policy_of(problem, plan)
    drawn = draws_for(net, problem, plan, days=days, seed=seed, rho=rho)
    return Finishing(Pass(net)).finishes(drawn)


def minute_by(finish: Array, share: float) -> int:
    """Whole minute by which a share of the days is over, rounded up. [min]"""
    return int(np.ceil(np.quantile(finish.astype(np.float64), share) - 1e-9))


def _wanted(finish: Array, hour: int | None) -> DoneBy | None:
    """The chance by the hour that the keeper named."""
    if hour is None:
        return None
    return DoneBy(minute=hour, chance=float(np.mean(finish <= hour)))


def _done_by(
    starts_at: str, finish: Array, hour: int | None = None
) -> tuple[DoneBy, ...]:
    """Chances at the half hours of the clock, from none to all of the days.

    The hour that the keeper named stands among them.
    """
    clock = since_midnight_min(starts_at)
    first = (int(finish.min()) + clock) // HALF_HOUR_MIN * HALF_HOUR_MIN - clock
    found: list[DoneBy] = []
    ordered = np.sort(finish)
    minute = first
    while not found or found[-1].chance < 1.0:
        share = float(np.searchsorted(ordered, minute, side="right")) / len(ordered)
        found.append(DoneBy(minute=minute, chance=share))
        minute += HALF_HOUR_MIN
    wanted = _wanted(finish, hour)
    among = range(found[0].minute + 1, found[-1].minute)
    if wanted is not None and wanted.minute in among:
        found = [d for d in found if d.minute != wanted.minute] + [wanted]
    return tuple(sorted(found, key=lambda d: d.minute))


def _matters(ready: Pass, minutes: Array, days: Days) -> tuple[Matter, ...]:
    """The steps that most often make the day late, and what a shorter one brings."""
    net = ready.net
    share = ready.on_longest_path(days).mean(axis=1)
    sd = minutes.std(axis=1, dtype=np.float64)
    rank = np.argsort(-(share * sd), kind="stable")
    finishing = Finishing(ready)
    found = []
    for n in rank[:STEPS_SHOWN]:
        if share[n] * sd[n] < 1e-3:
            break
        as_drawn = minutes[n].copy()
        np.maximum(as_drawn - LESS_MIN, 0.0, out=minutes[n])
        gain = float(
            np.mean(days.finish - finishing.finishes(minutes), dtype=np.float64)
        )
        minutes[n] = as_drawn
        node = net.nodes[n]
        found.append(
            Matter(
                of=node.of,
                step=node.step if node.part is Part.STEP else str(node.part),
                on_path=float(share[n]),
                sd_min=float(sd[n]),
                earlier_min=gain,
            )
        )
    return tuple(found)


def spare_jars(jars: int, *, days: int = DAYS, seed: int = 1) -> SpareJars:
    """
    Jars and lids to set out beyond those that are filled.

    Each day one jar in 20 to 30 is lost, evenly in between; the spare ones are enough
    on nineteen days in twenty.

    >>> spare_jars(80).spare
    7
    """
    generator = np.random.default_rng(seed)
    often, seldom = (1.0 / n for n in LOST_ONE_IN)
    lost = generator.binomial(jars, generator.uniform(seldom, often, days))
    return SpareJars(jars=jars, spare=int(np.quantile(lost, SURE, method="higher")))


def odds_learned(
    problem: Problem,
    plan: Timetable,
    learned: Learned,
    *,
    days: int = DAYS,
    since_min: int | None = None,
) -> Odds:
    """
    Return the odds of a plan by what past days taught, as far as they did.

    ``since_min`` is as for `odds_of`.
    """
    slow = learned.slow_day
    return odds_of(
        problem,
        plan,
        days=days,
        rho=SHARED_SLOW_DAY if slow is None else slow.share,
        seals=learned.seals,
        since_min=since_min,
    )


def own_spare_jars(jars: int, seals: Share) -> SpareJars:
    """Return the jars and lids to set out by the keeper's own seals."""
    return SpareJars(
        jars=jars,
        spare=seals.enough(jars),
        source=f"learned from the seals of {jars_said(seals.jars)} of yours, "
        f"{seals.seen} of them not good; the book says one in 20 to 30",
    )

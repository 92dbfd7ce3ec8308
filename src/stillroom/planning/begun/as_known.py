"""
The day up to now from what somebody said, and from the plan where nobody did.

Hands are wet and not every step is tapped off. What was said is true; everything else
is taken to have gone in the plan's order, as soon as what it waits for was over. What
must be over because something later has happened is over, also where it was tapped off
only after that.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace

from stillroom.planning.begun.loads_seen import (
    is_on_the_clock,
    lowered_load,
    seen_load,
)
from stillroom.planning.begun.not_free import as_free
from stillroom.planning.begun.over import SeenLoad, over_without_a_process
from stillroom.planning.begun.put_off import PutOff, put_off
from stillroom.planning.begun.too_much_at_once import too_much_at_once
from stillroom.planning.begun.warming import HEAT, lit_of
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable
from stillroom.planning.waits.precedence import closing_steps

LOWER = "lower"
FAR_MIN = 10**6
"""Later than any day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What somebody said of the day so far. Minutes are those of the day's plan."""

    ended_min: Mapping[Key, int] = field(default_factory=dict)
    """(batch, step) that is done, and when it was."""
    began_min: Mapping[Key, int] = field(default_factory=dict)
    """(batch, step), or (load, "heat"), that was said begun, and when it was."""
    loads: Mapping[str, SeenLoad] = field(default_factory=dict)
    more_min: Mapping[Key, int] = field(default_factory=dict)
    """
    (batch, step), or (load, "heat"), under way to the minutes it still needs from now.
    """
    not_begun: Collection[Key] = ()
    """
    (batch, step), or (load, "lower" or "heat"), that has not begun although it should.
    """
    not_over: Collection[Key] = ()
    """(batch, step) that runs on if it has begun: whoever does it says when it ends."""
    not_said: Collection[Key] = ()
    """(batch, step) that should be on a fire, and nobody said so: it has not begun."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """The day up to now, and which of it nobody said."""

    happened: Happened
    by_plan: frozenset[Key]
    """Steps and loads (as (load, "lower")) that are only taken to have begun."""
    not_said: frozenset[Key] = frozenset()
    """Steps that should be on a fire, and count as not begun."""


def as_known(problem: Problem, plan: Timetable, now_min: int, said: Said) -> Known:
    """
    Return the day up to a minute.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        The plan that it goes by.
    now_min : int
        Minute of the day.
    said : Said
        What is known of it.
    """
    said = replace(said, not_begun={*said.not_begun, *said.not_said})
    ended = _ended(problem, plan, said)
    loads = {
        load.id: seen_load(problem, load, said.loads[load.id], now_min)
        for load in plan.loads
        if is_on_the_clock(said.loads.get(load.id))
    }
    loads |= over_without_a_process(
        problem, plan, said.loads, tuple(loads.values()), now_min
    )
    ended = _with_what_must_be_over(problem, plan, ended, loads, now_min, said)
    first = _estimate(problem, plan, now_min, ended, loads, said)
    placed = {(s.batch, s.step): s for s in plan.steps}
    running = _with_what_runs(placed, ended, first, now_min, said)
    for load in plan.loads:
        seen = said.loads.get(load.id)
        if seen is not None and seen.lost and not seen.is_over:
            start = min(first.start[load.id, LOWER], now_min - 1)
            loads[load.id] = lowered_load(problem, load, start, now_min)
    second = _estimate(problem, plan, now_min, running, loads, said)
    _lower_by_the_plan(problem, plan, loads, second, now_min, said)
    begun = dict(running)
    for key, one in placed.items():
        start = second.start[key]
        if key not in begun and key not in said.not_begun and start < now_min:
            length = one.end_min - one.start_min
            begun[key] = replace(one, start_min=start, end_min=start + length)
    begun = as_free(problem, begun, now_min, {*running}, loads.values())
    for key in too_much_at_once(problem, begun, now_min, {*running}):
        del begun[key]
    known = {*said.ended_min, *said.more_min, *said.began_min}
    by_plan = {key for key in begun if key not in known}
    by_plan |= {(load, LOWER) for load in loads if load not in said.loads}
    return Known(
        happened=Happened(
            now_min=now_min,
            steps=tuple(begun[key] for key in placed if key in begun),
            loads=tuple(
                _with_its_flame(load, plan, loads, second) for load in loads.values()
            ),
            breaks=tuple(
                replace(r, start_min=at, end_min=at + r.end_min - r.start_min)
                for r, at in second.breaks.items()
                if at < now_min
            ),
            lit=_lit(plan, now_min, said, loads),
        ),
        by_plan=frozenset(by_plan),
        not_said=frozenset(key for key in said.not_said if key not in begun),
    )


def _with_what_runs(
    placed: Mapping[Key, PlacedStep],
    ended: Mapping[Key, PlacedStep],
    estimate: PutOff,
    now: int,
    said: Said,
) -> dict[Key, PlacedStep]:
    """Steps that are over, and those that run: said so, or said not to be over."""
    found = dict(ended)
    for key, more in _still_at_work(placed, now, said).items():
        if key in ended and key not in said.more_min:
            continue  # nobody tapped it off, and what follows it has happened
        start = min(said.began_min.get(key, estimate.start[key]), now)
        found[key] = replace(placed[key], start_min=start, end_min=now + more)
    for key in said.not_over:
        start = estimate.start[key]
        if key not in found and start < now:
            end = start + placed[key].end_min - placed[key].start_min
            found[key] = replace(
                placed[key], start_min=start, end_min=max(end, now + 1)
            )
    return found


def _lower_by_the_plan(
    problem: Problem,
    plan: Timetable,
    loads: dict[str, PlacedLoad],
    estimate: PutOff,
    now: int,
    said: Said,
) -> None:
    """Add the loads that are in by the plan, where no other holds their canner."""
    free: dict[str, int] = {}
    for load in loads.values():
        free[load.canner] = max(free.get(load.canner, 0), load.out_min)
    for load in sorted(plan.loads, key=lambda load: load.lower_min):
        start = estimate.start[load.id, LOWER]
        not_yet = (load.id, LOWER) in said.not_begun
        holds_another = start < free.get(load.canner, 0)
        if load.id in loads or start >= now or not_yet or holds_another:
            continue
        loads[load.id] = lowered_load(problem, load, start, now)
        free[load.canner] = loads[load.id].out_min


def _still_at_work(
    placed: Mapping[Key, PlacedStep], now: int, said: Said
) -> dict[Key, int]:
    """Minutes that each step still needs which was said to run."""
    found = {}
    for key, began in said.began_min.items():
        if key in placed and key not in said.ended_min:
            length = placed[key].end_min - placed[key].start_min
            found[key] = max(1, began + length - now)
    return {**found, **{k: m for k, m in said.more_min.items() if k in placed}}


def _ended(problem: Problem, plan: Timetable, said: Said) -> dict[Key, PlacedStep]:
    """Steps that were said done; they began when it was said, or so long before."""
    placed = {(s.batch, s.step): s for s in plan.steps}
    found: dict[Key, PlacedStep] = {}
    for key, end in sorted(said.ended_min.items(), key=lambda item: item[1]):
        if key not in placed:
            continue
        one = placed[key]
        start = max(0, end - (one.end_min - one.start_min))
        start = min(end, said.began_min.get(key, start))
        found[key] = replace(one, start_min=start, end_min=end)
    _begin_after_what_was_before(problem, found, said)
    return found


def _begin_after_what_was_before(
    problem: Problem, found: dict[Key, PlacedStep], said: Said
) -> None:
    """When a step began is a guess where nobody said it: no sooner than it could."""
    for key, earlier, lag in _links(problem):
        if key in found and earlier in found and key not in said.began_min:
            one, since = found[key], found[earlier].end_min + lag
            start = min(one.end_min, max(one.start_min, since))
            found[key] = replace(one, start_min=start)


def _links(problem: Problem) -> Iterator[tuple[Key, Key, int]]:
    """Each step and one that comes before it, with the least minutes between."""
    for batch in problem.batches:
        for link in batch.links:
            yield (batch.id, link.after), (batch.id, link.before), link.at_least_min


def _with_its_flame(
    load: PlacedLoad, plan: Timetable, begun: Mapping[str, PlacedLoad], later: PutOff
) -> PlacedLoad:
    """The flame is kept on for a load to come that is to start in hot water."""
    if load.is_cut_short:  # its fire is off: what comes next starts in other water
        return load
    for other in plan.loads:
        was = next(one for one in plan.loads if one.id == load.id)
        if (
            other.canner == load.canner
            and other.hot
            and other.id not in begun
            and was.fire_free_min == other.lower_min
        ):
            kept = later.start[other.id, LOWER]
            return replace(load, fire_free_min=max(load.done_min, kept))
    return load


def _with_what_must_be_over(
    problem: Problem,
    plan: Timetable,
    ended: Mapping[Key, PlacedStep],
    loads: Mapping[str, PlacedLoad],
    now: int,
    said: Said,
) -> dict[Key, PlacedStep]:
    """
    Steps that are over: said so, or something which was said comes after.

    Of a step that was tapped off only after that, it is when it must have been over.
    Of one that nobody said it is as planned, or so much later that what came after it
    did not wait too long: filled twenty minutes late is boiled twenty minutes late.
    Nothing is thought to have been begun before the day but by what was said.
    """
    by: dict[Key, int] = {}
    since: dict[Key, int] = {}
    latest: dict[Key, int] = {}
    first = min([0, *said.began_min.values()])

    def need(key: Key, minute: int) -> None:
        by[key] = min(by.get(key, minute), max(first, minute))

    def over(key: Key, minute: int) -> None:
        latest[key] = min(latest.get(key, minute), minute)

    batch_of: dict[str, Batch] = {b.id: b for b in problem.batches}
    for load in loads.values():
        for name, _ in load.jars:
            for step in closing_steps(batch_of[name]):
                need((name, step), min(now, load.lower_min))
                # when it went in is a guess, when it boiled is not
                over((name, step), load.boil_min)
    for load in plan.loads:
        seen = said.loads.get(load.id)
        if seen is not None and seen.lost:  # its jars are in the canner all the same
            for name, _ in load.jars:
                for step in closing_steps(batch_of[name]):
                    need((name, step), min(now, load.lower_min))
    waits = {
        ((batch.id, link.after), (batch.id, link.before)): link.at_most_min
        for batch in problem.batches
        for link in batch.links
        if link.at_most_min is not None
    }

    def no_sooner(key: Key, earlier: Key, start: int) -> None:
        if (key, earlier) in waits:
            soonest = start - waits[key, earlier]
            since[earlier] = max(since.get(earlier, soonest), soonest)

    for key, earlier, lag in _links(problem):
        if key in said.began_min and key not in ended:
            need(earlier, said.began_min[key] - lag)
            over(earlier, said.began_min[key] - lag)
            no_sooner(key, earlier, said.began_min[key])
    placed = {(s.batch, s.step): s for s in plan.steps}
    # from the end of each batch to its beginning
    backwards = sorted(placed, key=lambda key: -placed[key].start_min)
    into: dict[Key, list[tuple[Key, int]]] = {}
    for key, earlier, lag in _links(problem):
        into.setdefault(key, []).append((earlier, lag))
    found = dict(ended)
    for key in backwards:
        one = ended.get(key)
        if one is None and key not in by:
            continue
        length = placed[key].end_min - placed[key].start_min
        sure = latest.get(key, FAR_MIN)
        if one is None:
            begins = said.began_min.get(key)
            end = placed[key].end_min if begins is None else begins + length
            end = min(max(end, since.get(key, end)), by[key])
            start = max(first, end - length) if begins is None else begins
            start = min(end, start)
            one = found[key] = replace(placed[key], start_min=start, end_min=end)
        elif one.end_min > sure:
            end = min(by[key], sure)
            start = min(end, said.began_min.get(key, max(0, end - length)))
            one = found[key] = replace(one, start_min=start, end_min=end)
        else:
            sure = one.end_min
        for earlier, lag in into.get(key, ()):
            need(earlier, one.start_min - lag)
            over(earlier, sure - lag)
            no_sooner(key, earlier, one.start_min)
    _begin_after_what_was_before(problem, found, said)
    return found


def _estimate(
    problem: Problem,
    plan: Timetable,
    now: int,
    steps: Mapping[Key, PlacedStep],
    loads: Mapping[str, PlacedLoad],
    said: Said,
) -> PutOff:
    """When the rest of the plan began, or will, in its own order."""
    known = Happened(
        now_min=now, steps=tuple(steps.values()), loads=tuple(loads.values())
    )
    waiting = dict.fromkeys(said.not_begun, now)
    waiting |= {(load, HEAT): at for load, at in _lit(plan, now, said).items()}
    return put_off(problem, plan, known, past=True, not_before=waiting)


def _lit(
    plan: Timetable, now: int, said: Said, lowered: Collection[str] = ()
) -> dict[str, int]:
    to_come = [load for load in plan.loads if load.id not in lowered]
    return lit_of(to_come, now, said.began_min, said.more_min, said.not_begun)

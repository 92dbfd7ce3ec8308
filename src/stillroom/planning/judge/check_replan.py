"""
The judge of a changed plan: the past as it was, and every rule for what is to come.

`check.violations` says all rules again on the whole day, with the true minutes of what
has begun. Only limits that lie between something begun and something later may give
way, and by no more than is stated; what the past alone has broken is no fault of the
new plan.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from stillroom.methods.step import Step
from stillroom.planning.happened import Happened
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Batch, Break, Person, Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable

ALL_HANDS, LABOUR = 4, 3
OVER_ASKED = " quarters at minute "
"""What `check` says of hands; here they are judged from now on."""


def replan_violations(
    problem: Problem,
    happened: Happened,
    new: Timetable,
    *,
    longer_min: Mapping[str, int] | None = None,
    ends_later_min: int = 0,
    more_places: int = 0,
    lifted_late: Collection[str] = (),
    given_way: Collection[tuple[str, str]] = (),
    rests_late: Collection[str] = (),
) -> tuple[str, ...]:
    """
    Every rule that a changed plan breaks, in words.

    Parameters
    ----------
    problem : Problem
        The day as it was asked for.
    happened : Happened
        What has begun.
    new : Timetable
        The whole day as it is to go now, the past included.
    longer_min : mapping, optional
        Person to the minutes that they are said to stay on.
    ends_later_min : int
        Minutes by which the day is said to end later.
    more_places : int
        Places on the counter that are said to be found.
    lifted_late : collection of str
        Loads that have begun and are said to be lifted out too late.
    given_way : collection of (batch, step)
        After these a longest wait is said to be longer.
    rests_late : collection of str
        People who are said to rest later than was meant.

    Returns
    -------
    tuple of str
        Empty where the past is unchanged and the rest can be worked.
    """
    changed = tuple(_past_changed(happened, new))
    if changed:
        return changed
    eased = _eased(problem, happened, new, given_way, rests_late)
    people = tuple(
        replace(p, leaves_min=p.leaves_min + (longer_min or {}).get(p.id, 0))
        for p in eased.people
    )
    counter = replace(eased.counter, places=eased.counter.places + more_places)
    horizon = eased.horizon_min + ends_later_min
    if ends_later_min:  # who stays to the end stays to the new end
        people = tuple(
            replace(p, leaves_min=max(p.leaves_min, horizon))
            if p.leaves_min >= problem.horizon_min
            else p
            for p in people
        )
    eased = replace(eased, people=people, counter=counter, horizon_min=horizon)
    past = set(_of_the_past(eased, happened, new))
    late = tuple(f"load {load} is lifted " for load in lifted_late)
    found = [
        said
        for said in violations(eased, new)
        if said not in past
        and not said.startswith(late or ("\0",))
        and OVER_ASKED not in said
    ]
    return (*found, *_over_asked(eased, happened, new))


def _over_asked(problem: Problem, happened: Happened, new: Timetable) -> Iterator[str]:
    """From now on nobody gives more than they have; what was before now is past."""
    now, begun, cut = happened.now_min, happened.begun, _really_given(happened)
    work = [
        (s.person, s.start_min, s.end_min, cut.get((s.batch, s.step), s.quarters))
        if (s.batch, s.step) in begun
        else (s.person, s.start_min, s.end_min, s.quarters)
        for s in new.steps
    ]
    for load in new.loads:
        work.append((load.lowered_by, load.lower_min, load.lowered_min, LABOUR))
        work.append((load.lifted_by, load.lift_min, load.out_min, LABOUR))
    for rest in new.breaks:
        takes = next(p.quarters for p in problem.people if p.id == rest.person)
        work.append((rest.person, rest.start_min, rest.end_min, takes))
    for person in problem.people:
        given: dict[int, int] = {}
        for who, start, end, quarters in work:
            if who == person.id:
                for minute in range(max(start, now), end):
                    given[minute] = given.get(minute, 0) + quarters
        most = person.quarters
        over = sorted(m for m, quarters in given.items() if quarters > most)
        if over:
            yield (
                f"{person.id} gives {given[over[0]]} quarters at minute {over[0]} "
                f"({len(over)} min in all); {person.id} has {most}"
            )


def _really_given(happened: Happened) -> dict[tuple[str, str], int]:
    """
    What each running step can have of who is at it: nobody has more than four quarters.

    Who is said to do two things at once gives most to what asks for most. Read here by
    the judge's own hand, and not as who makes plans reads it.
    """
    now = happened.now_min
    given: dict[tuple[str, str], int] = {}
    for who in {s.person for s in happened.steps if s.person is not None}:
        lifting = any(
            (load.lowered_by == who and load.lower_min <= now < load.lowered_min)
            or (load.lifted_by == who and load.lift_min < now < load.out_min)
            for load in happened.loads
        )
        room = ALL_HANDS - LABOUR if lifting else ALL_HANDS
        theirs = [s for s in happened.steps if s.person == who and happened.runs(s)]
        for s in sorted(theirs, key=lambda s: s.quarters, reverse=True):
            given[s.batch, s.step] = min(s.quarters, room)
            room -= given[s.batch, s.step]
    return given


def _past_changed(happened: Happened, new: Timetable) -> Iterator[str]:
    now = happened.now_min
    placed = {(s.batch, s.step): s for s in new.steps}
    for s in happened.steps:
        if placed.get((s.batch, s.step)) != s:
            yield f"{s.step} of {s.batch} has begun and is told otherwise"
    begun = happened.begun
    for s in new.steps:
        if (s.batch, s.step) not in begun and s.start_min < now:
            yield f"{s.step} of {s.batch} is to begin {now - s.start_min} min ago"
    loads = {load.id: load for load in new.loads}
    for load in happened.loads:
        if load.id not in loads or _begun_part(load, now) != _begun_part(
            loads[load.id], now
        ):
            yield f"load {load.id} has begun and is told otherwise"
    known = {load.id for load in happened.loads}
    for load in new.loads:
        if load.id not in known and load.lower_min < now:
            yield f"load {load.id} is to be lowered {now - load.lower_min} min ago"
        if load.id in known and now <= load.lift_min < load.done_min:
            yield f"load {load.id} is lifted before its process ends"
    for rest in happened.breaks:
        if rest not in new.breaks:
            yield f"a break of {rest.person} has begun and is told otherwise"
    for rest in new.breaks:
        if rest.start_min < now and rest not in happened.breaks:
            yield f"a break of {rest.person} is to begin {now - rest.start_min} min ago"


def _begun_part(load: PlacedLoad, now: int) -> tuple[object, ...]:
    """What can no longer change: the running clock, and a lift that has begun."""
    clock = (load.canner, load.process, load.process_min, load.jars, load.hot)
    times = (load.heat_min, load.lower_min, load.lowered_min, load.boil_min)
    lifted = (load.lift_min, load.out_min, load.lifted_by)
    return (
        *clock,
        *times,
        load.done_min,
        load.lowered_by,
        *(lifted if load.lift_min < now else ()),
    )


def _eased(
    problem: Problem,
    happened: Happened,
    new: Timetable,
    given_way: Collection[tuple[str, str]],
    rests_late: Collection[str],
) -> Problem:
    """The day with true minutes, and with the limits that the past has set aside."""
    batches = tuple(
        _eased_batch(b, happened, new, {s for name, s in given_way if name == b.id})
        for b in problem.batches
    )
    people = tuple(
        _eased_person(p, happened, new, late=p.id in rests_late) for p in problem.people
    )
    return replace(problem, batches=batches, people=people)


def _eased_batch(
    batch: Batch, happened: Happened, new: Timetable, given_way: Collection[str]
) -> Batch:
    begun = {s: p for (b, s), p in happened.begun.items() if b == batch.id}
    placed = {s.step: s for s in new.steps if s.batch == batch.id}
    steps = tuple(
        _as_it_went(s, begun[s.id]) if s.id in begun else s for s in batch.steps
    )
    links = []
    for link in batch.links:
        if link.before not in begun and link.after in begun:
            continue
        if link.before not in begun and link.before not in given_way:
            links.append(link)
            continue
        gap = placed[link.after].start_min - placed[link.before].end_min
        if link.at_most_min is not None:
            link = replace(link, at_most_min=max(link.at_most_min, gap))
        if link.after in begun:
            link = replace(link, at_least_min=min(link.at_least_min, gap))
        links.append(link)
    most = batch.closed_wait_at_most_min
    closing = [s.id for s in batch.steps if batch.ready_after in ("", s.id)]
    if closing and all(s in begun or s in given_way for s in closing):
        closed = max(placed[s].end_min for s in closing)
        for load in new.loads:
            if any(name == batch.id for name, _ in load.jars):
                most = max(most, load.lower_min - closed)
    return replace(
        batch,
        steps=steps,
        links=tuple(links),
        windows=tuple(
            replace(w, latest_min=None) if w.step in given_way else w
            for w in batch.windows
            if w.step not in begun
        ),
        closed_wait_at_most_min=most,
    )


def _as_it_went(step: Step, went: PlacedStep) -> Step:
    """The step with its true minutes, of a rinse where it was only that."""
    minutes = went.end_min - went.start_min
    rinse = minutes if step.rinse_min is not None and went.rinsed else step.rinse_min
    return replace(step, duration_min=minutes, rinse_min=rinse)


def _eased_person(
    person: Person, happened: Happened, new: Timetable, *, late: bool
) -> Person:
    """Breaks as they were taken; one whose window is past may come later."""
    now = happened.now_min
    taken = [r for r in happened.breaks if r.person == person.id]
    left = list(person.breaks)
    breaks = []
    for rest in taken:
        length = rest.end_min - rest.start_min
        left.sort(key=lambda b: (abs(b.duration_min - length), b.earliest_min))
        if left:
            left.pop(0)
        breaks.append(
            Break(
                duration_min=length,
                earliest_min=rest.start_min,
                latest_start_min=rest.start_min,
            )
        )
    for one in left:
        if max(one.earliest_min, now) + one.duration_min > person.leaves_min:
            continue
        latest = one.latest_start_min
        if latest < now or late:
            rests = [r.start_min for r in new.breaks if r.person == person.id]
            latest = max([latest, *rests])
        breaks.append(replace(one, latest_start_min=latest))
    return replace(person, breaks=tuple(breaks))


def _of_the_past(eased: Problem, happened: Happened, new: Timetable) -> tuple[str, ...]:
    """What the begun steps and loads break among themselves."""
    begun = happened.begun
    aboard: dict[str, int] = {}
    for load in happened.loads:
        for name, count in load.jars:
            aboard[name] = aboard.get(name, 0) + count
    batches = []
    for batch in eased.batches:
        steps = tuple(s for s in batch.steps if (batch.id, s.id) in begun)
        if not steps:
            continue
        ids = {s.id for s in steps}
        batches.append(
            replace(
                batch,
                steps=steps,
                links=tuple(
                    k for k in batch.links if k.before in ids and k.after in ids
                ),
                windows=(),
                jars=aboard.get(batch.id, 0),
                process=batch.process,
                pots=batch.pots if any(s.in_pot for s in steps) else (),
            )
        )
    names = {b.id for b in batches}
    loads = {load.id for load in happened.loads}
    mine = {r.person: 0 for r in happened.breaks}
    for rest in happened.breaks:
        mine[rest.person] += 1
    past = replace(
        eased,
        batches=tuple(batches),
        people=tuple(
            replace(p, breaks=p.breaks[: mine.get(p.id, 0)]) for p in eased.people
        ),
    )
    # in the order of the new plan: what is said of two names them in that order
    timetable = Timetable(
        steps=tuple(s for s in new.steps if (s.batch, s.step) in begun),
        loads=tuple(
            _lifted_in_time(load, happened.now_min)
            for load in new.loads
            if load.id in loads and all(name in names for name, _ in load.jars)
        ),
        breaks=happened.breaks,
    )
    return violations(past, timetable)


def _lifted_in_time(load: PlacedLoad, now: int) -> PlacedLoad:
    """A lift that is still to come is no matter of the past."""
    if load.lift_min < now:
        return load
    earlier = load.lift_min - load.done_min - 5
    return replace(
        load, lift_min=load.lift_min - earlier, out_min=load.out_min - earlier
    )

"""
The judge of a changed plan: the past as it was, and every rule for what is to come.

`check.breaches` says all rules again on the whole day. A limit of what is to come
gives way only where it is named, and by no more minutes than are named; what the past
alone has broken, its minutes among it, is no fault of the new plan.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from stillroom.planning.happened import Happened
from stillroom.planning.judge.breach import About, Breach, breach
from stillroom.planning.judge.check import breaches, what_is_missing
from stillroom.planning.judge.check_loads import counter_breaches
from stillroom.planning.judge.check_tools import named
from stillroom.planning.problem import CLOSED, Batch, Break, Limit, Person, Problem
from stillroom.planning.spoken_of import Minute, TheLoad
from stillroom.planning.timetable import PlacedLoad, Timetable

LABOUR = 3
FROM_NOW_ON = (About.ATTENTION, About.COUNTER)
"""What is judged here from now on, and not of the whole day."""


def replan_breaches(
    problem: Problem,
    happened: Happened,
    new: Timetable,
    *,
    longer_min: Mapping[str, int] | None = None,
    ends_later_min: int = 0,
    more_places: int = 0,
    lifted_late: Collection[str] = (),
    given_way: Mapping[Limit, int] | None = None,
    rests_late: Collection[str] = (),
) -> tuple[Breach, ...]:
    """
    Every rule that a changed plan breaks, each with its sentence.

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
    given_way : mapping, optional
        Longest waits and latest hours that are said to give way, to their minutes.
    rests_late : collection of str
        People who are said to rest later than was meant.

    Returns
    -------
    tuple of Breach
        Empty where the past is unchanged and the rest can be worked.
    """
    changed = tuple(_past_changed(happened, new))
    if changed:
        return changed
    missing = tuple(what_is_missing(problem, new))
    if missing:  # of the past too: nothing else can be judged then
        return missing
    eased = _eased(problem, happened, new, given_way or {}, rests_late)
    eased = _longer(eased, longer_min or {}, ends_later_min, more_places)
    past = _of_the_past(eased, happened, new)
    late = _may_be_late(problem, new, lifted_late)
    found = [
        one
        for one in breaches(eased, new)
        if one not in past
        and not (one.about is About.RESTED and one.load in late)
        and one.about not in FROM_NOW_ON
    ]
    coming = [load for load in new.loads if load.lift_min >= happened.now_min]
    return (
        *found,
        *counter_breaches(eased, new, coming),
        *_over_asked(eased, happened, new),
    )


def _longer(
    day: Problem, longer_min: Mapping[str, int], ends_later_min: int, more_places: int
) -> Problem:
    """The day with the minutes and places that it is said to have more."""
    horizon = day.horizon_min + ends_later_min
    people = []
    for p in day.people:
        leaves = p.leaves_min + longer_min.get(p.id, 0)
        if p.leaves_min >= day.horizon_min:  # who stays to the end stays to the new end
            leaves = max(leaves, horizon)
        people.append(replace(p, leaves_min=leaves))
    counter = replace(day.counter, places=day.counter.places + more_places)
    return replace(day, people=tuple(people), counter=counter, horizon_min=horizon)


def _may_be_late(
    problem: Problem, new: Timetable, lifted_late: Collection[str]
) -> set[str]:
    """Loads that rest longer than they need to, where that is said of them."""
    rest_of = {canner.id: canner.rest_min for canner in problem.canners}
    return {
        load.id
        for load in new.loads
        if load.id in lifted_late
        and load.lift_min - load.done_min > rest_of[load.canner]
    }


def _over_asked(
    problem: Problem, happened: Happened, new: Timetable
) -> Iterator[Breach]:
    """From now on nobody gives more than they have; what was before now is past."""
    now = happened.now_min
    has = {p.id: p.quarters for p in problem.people}
    cut = _really_given(has, happened)
    work = [
        (s.person, s.start_min, s.end_min, cut.get((s.batch, s.step), s.quarters))
        for s in new.steps
    ]
    for load in new.loads:
        work.append((load.lowered_by, load.lower_min, load.lowered_min, LABOUR))
        work.append((load.lifted_by, load.lift_min, load.out_min, LABOUR))
    for rest in new.breaks:
        work.append((rest.person, rest.start_min, rest.end_min, has[rest.person]))
    for person in problem.people:
        given: dict[int, int] = {}
        for who, start, end, quarters in work:
            if who == person.id:
                for minute in range(max(start, now), end):
                    given[minute] = given.get(minute, 0) + quarters
        most = has[person.id]
        over = sorted(m for m, quarters in given.items() if quarters > most)
        if over:
            yield breach(
                f"{person.id} gives {given[over[0]]} quarters at ",
                Minute(over[0]),
                f" ({len(over)} min in all); {person.id} has {most}",
                about=About.ATTENTION,
            )


def _really_given(
    has: Mapping[str, int], happened: Happened
) -> dict[tuple[str, str], int]:
    """
    What each running step can have of who is at it: nobody gives more than they have.

    Who is said to do two things at once gives most to what asks for most. Read here by
    the judge's own hand, and not as who makes plans reads it.
    """
    now = happened.now_min
    given: dict[tuple[str, str], int] = {}
    for who, most in has.items():
        lifting = any(
            (load.lowered_by == who and load.lower_min <= now < load.lowered_min)
            or (load.lifted_by == who and load.lift_min < now < load.out_min)
            for load in happened.loads
        )
        room = max(0, most - LABOUR) if lifting else most
        theirs = [s for s in happened.steps if s.person == who and happened.runs(s)]
        for s in sorted(theirs, key=lambda s: s.quarters, reverse=True):
            given[s.batch, s.step] = min(s.quarters, room)
            room -= given[s.batch, s.step]
    return given


def _past_changed(happened: Happened, new: Timetable) -> Iterator[Breach]:
    now = happened.now_min
    placed = {(s.batch, s.step): s for s in new.steps}
    for s in happened.steps:
        if placed.get((s.batch, s.step)) != s:
            yield breach(named(s), " has begun and is told otherwise")
    begun = happened.begun
    for s in new.steps:
        if (s.batch, s.step) not in begun and s.start_min < now:
            yield breach(named(s), f" is to begin {now - s.start_min} min ago")
    loads = {load.id: load for load in new.loads}
    for load in happened.loads:
        told = loads.get(load.id)
        if told is None or _begun_part(load, now) != _begun_part(told, now):
            yield breach(TheLoad(load.id), " has begun and is told otherwise")
        elif load.fire_free_min < now and told.fire_free_min != load.fire_free_min:
            yield breach(
                "the fire under ", TheLoad(load.id), " is off and is told otherwise"
            )
    known = {load.id for load in happened.loads}
    for load in new.loads:
        if load.id not in known and load.lower_min < now:
            yield breach(
                TheLoad(load.id), f" is to be lowered {now - load.lower_min} min ago"
            )
        if load.id in known and now <= load.lift_min < load.done_min:
            yield breach(TheLoad(load.id), " is lifted before its process ends")
    for rest in happened.breaks:
        if rest not in new.breaks:
            yield breach(f"a break of {rest.person} has begun and is told otherwise")
    for rest in new.breaks:
        if rest.start_min < now and rest not in happened.breaks:
            yield breach(
                f"a break of {rest.person} is to begin {now - rest.start_min} min ago"
            )


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
    given_way: Mapping[Limit, int],
    rests_late: Collection[str],
) -> Problem:
    """The day without the limits of the past, and with so much more as is named."""
    batches = tuple(_eased_batch(b, happened, given_way) for b in problem.batches)
    people = tuple(
        _eased_person(p, happened, new, late=p.id in rests_late) for p in problem.people
    )
    return replace(problem, batches=batches, people=people)


def _eased_batch(
    batch: Batch, happened: Happened, given_way: Mapping[Limit, int]
) -> Batch:
    begun = {s.step for s in happened.steps if s.batch == batch.id}

    def more(most: int | None, before: str, after: str) -> int | None:
        by = given_way.get((batch.id, before, after), 0)
        return None if most is None else most + by

    links = tuple(
        replace(link, at_most_min=more(link.at_most_min, link.before, link.after))
        for link in batch.links
        if link.after not in begun
    )
    windows = tuple(
        replace(w, latest_min=more(w.latest_min, "", w.step))
        for w in batch.windows
        if w.step not in begun
    )
    most = batch.closed_wait_at_most_min + given_way.get((batch.id, CLOSED, ""), 0)
    return replace(batch, links=links, windows=windows, closed_wait_at_most_min=most)


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


def _of_the_past(eased: Problem, happened: Happened, new: Timetable) -> set[Breach]:
    """What the begun steps and loads break among themselves, as `check` finds it."""
    begun = happened.begun
    aboard: dict[str, int] = {}
    for load in happened.loads:
        for name, count in load.jars:
            aboard[name] = aboard.get(name, 0) + count
    batches = tuple(
        replace(
            batch,
            steps=tuple(s for s in batch.steps if (batch.id, s.id) in begun),
            links=(),
            windows=(),
            jars=aboard.get(batch.id, 0),
        )
        for batch in eased.batches
    )
    rested = [rest.person for rest in happened.breaks]
    people = tuple(
        replace(p, breaks=p.breaks[: rested.count(p.id)]) for p in eased.people
    )
    past = replace(eased, batches=batches, people=people)
    # in the order of the new plan: what is said of two names them in that order
    loads = {load.id for load in happened.loads}
    timetable = Timetable(
        steps=tuple(s for s in new.steps if (s.batch, s.step) in begun),
        loads=tuple(load for load in new.loads if load.id in loads),
        breaks=happened.breaks,
    )
    to_come = _still_to_come(timetable, happened.now_min)
    return {
        one
        for one in breaches(past, timetable)
        if one.about is not About.LAST_WASH  # it may be used again until the end
        and (one.about, one.load) not in to_come
    }


def _still_to_come(past: Timetable, now: int) -> set[tuple[About, str]]:
    """What is to come of the loads that have begun: the end of a fire, the lifting."""
    fires = {(About.FIRE, one.id) for one in past.loads if one.fire_free_min >= now}
    lifted = [load.id for load in past.loads if load.lift_min >= now]
    return fires | {(a, id_) for id_ in lifted for a in (About.LIFTING, About.RESTED)}

"""The judge's second half: loads, the canner's water and fire, jars on the counter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stillroom.jar_count import jars_said
from stillroom.planning.judge.breach import About, Breach, breach
from stillroom.planning.problem import Canner, Problem
from stillroom.planning.spoken_of import Id, Minute, TheLoad, says
from stillroom.planning.timetable import PlacedLoad, Timetable

LIFT_WITHIN_MIN = 10
"""Longest stay in the water after the rest. Common practice, no source."""


def load_breaches(problem: Problem, timetable: Timetable) -> tuple[Breach, ...]:
    """What is broken of all loads of a timetable; all that it names is in the day."""
    rules = (_jars, _aboard, _closed_wait, _clock, _lifting, _water, _counter)
    return tuple(found for rule in rules for found in rule(problem, timetable))


def _canner(problem: Problem, load: PlacedLoad) -> Canner:
    return next(c for c in problem.canners if c.id == load.canner)


def _jars(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    for batch in problem.batches:
        aboard = sum(
            count
            for load in timetable.loads
            for name, count in load.jars
            if name == batch.id
        )
        due = batch.jars if batch.process is not None else 0
        if aboard != due:
            yield breach(
                f"{batch.id} has {jars_said(aboard)} in loads; {due} belong there"
            )


def _aboard(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    process_of = {p.id: p for p in problem.processes}
    batch_of = {b.id: b for b in problem.batches}
    ids = [load.id for load in timetable.loads]
    for twice in sorted({name for name in ids if ids.count(name) > 1}):
        yield breach(f"two loads are named {twice}")
    for load in timetable.loads:
        process = process_of[load.process]
        if not load.jars or any(count < 1 for _, count in load.jars):
            yield breach(
                TheLoad(load.id), " is empty, or has no jars of a batch it names"
            )
        count = sum(n for _, n in load.jars)
        places = _canner(problem, load).places.get(process.jar, 0)
        if count > places:
            yield breach(
                TheLoad(load.id),
                f" has {count} jars; canner {load.canner} takes {places} of ",
                Id(process.jar),
            )
        if load.process_min != process.minutes:
            yield breach(
                TheLoad(load.id),
                f" is processed {load.process_min} min; ",
                Id(process.id),
                f" takes {process.minutes}",
            )
        for name, _ in load.jars:
            own = batch_of[name].process
            if own is None or load.process not in process_of[own].may_ride_in:
                yield breach(
                    f"jars of {name} (",
                    Id(str(own)),
                    ") may not ride in a load of ",
                    Id(load.process),
                )


def _closed_wait(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    for batch in problem.batches:
        ends = [
            s.end_min
            for s in timetable.steps
            if s.batch == batch.id and batch.ready_after in ("", s.step)
        ]
        for load in timetable.loads:
            if not ends or all(name != batch.id for name, _ in load.jars):
                continue
            wait = load.lower_min - max(ends)
            if wait < 0:
                yield breach(
                    TheLoad(load.id), f" starts {-wait} min before {batch.id} is closed"
                )
            if wait > batch.closed_wait_at_most_min:
                yield breach(
                    f"jars of {batch.id} wait closed {wait} min for ",
                    TheLoad(load.id),
                    f"; at most {batch.closed_wait_at_most_min}",
                )


def _clock(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    for load in timetable.loads:
        canner = _canner(problem, load)
        other, lifting = About.ALL_ELSE, About.LIFTING
        up_min = canner.minutes_up(load.process)
        spans = (
            ("lowering", load.lower_min, load.lowered_min, canner.load_min, other),
            ("coming to a boil", load.lowered_min, load.boil_min, up_min, other),
            ("processing", load.boil_min, load.done_min, load.process_min, other),
            ("lifting out", load.lift_min, load.out_min, canner.unload_min, lifting),
        )
        for what, start, end, takes, about in spans:
            if end - start != takes:
                lasts = f"{what} lasts {end - start} min; it takes {takes}"
                yield breach(TheLoad(load.id), f": {lasts}", about=about, load=load.id)
        rested = load.lift_min - load.done_min
        if not canner.rest_min <= rested <= canner.rest_min + LIFT_WITHIN_MIN:
            yield breach(
                TheLoad(load.id),
                f" is lifted {rested} min after its process ends; {canner.rest_min} to "
                f"{canner.rest_min + LIFT_WITHIN_MIN} are allowed",
                about=About.RESTED,
                load=load.id,
            )
        if load.fire_free_min < load.done_min:
            yield breach(
                TheLoad(load.id),
                " loses its fire before its process ends",
                about=About.FIRE,
                load=load.id,
            )
        if load.heat_min < 0:
            yield breach(
                TheLoad(load.id), f" is heated {-load.heat_min} min before the day"
            )
        if max(load.out_min, load.fire_free_min) > problem.horizon_min:
            yield breach(
                TheLoad(load.id),
                " ends after the day",
                about=About.LIFTING,
                load=load.id,
            )


def _lifting(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    skills = {p.id: {str(skill) for skill in p.skills} for p in problem.people}
    for load in timetable.loads:
        for who, what, about in (
            (load.lowered_by, "lowered", About.ALL_ELSE),
            (load.lifted_by, "lifted", About.LIFTING),
        ):
            if "lift" not in skills[who]:
                said = f" is {what} by {who}, who does not lift hot jars"
                yield breach(TheLoad(load.id), said, about=about, load=load.id)


def _water(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    for canner in problem.canners:
        loads = [load for load in timetable.loads if load.canner == canner.id]
        loads.sort(key=lambda load: load.lower_min)
        before: PlacedLoad | None = None
        for load in loads:
            if before is not None and load.lower_min < before.out_min:
                both = says(TheLoad(before.id), " and ", TheLoad(load.id))
                yield breach(both, f" are in canner {canner.id} at once")
            elif load.hot:
                yield from _hot(canner, before, load)
            else:
                heated = load.lower_min - load.heat_min
                moved = before and _moved(problem, timetable, before, load)
                stayed = before is not None and not moved
                needed = canner.reheat_min if stayed else canner.first_heat_min
                if heated not in (needed, canner.first_heat_min):
                    since = says()
                    if before is not None and moved:
                        since = says(f", for {moved} since ", TheLoad(before.id))
                    yield breach(
                        TheLoad(load.id),
                        f" is lowered after {heated} min of heating; "
                        f"its water needs {needed}",
                        since,
                    )
                if before is not None and load.heat_min < before.out_min:
                    yield breach(
                        TheLoad(load.id),
                        " is heated before ",
                        TheLoad(before.id),
                        " is out",
                    )
                if before is not None and load.heat_min < before.fire_free_min:
                    yield breach(
                        TheLoad(load.id),
                        " is heated on the fire that ",
                        TheLoad(before.id),
                        " holds",
                    )
            before = load


def _moved(
    problem: Problem, timetable: Timetable, before: PlacedLoad, load: PlacedLoad
) -> str:
    """Why the canner was off its fire from one load to the next; empty if it stayed."""
    under = set(_canner(problem, load).burners)
    since, until = before.out_min, load.heat_min
    for s in timetable.steps:
        if s.burner in under and s.start_min < until and s.end_min > since:
            return "a pot was on its fire"
    for other in timetable.loads:
        if other.canner == load.canner or not under & set(
            _canner(problem, other).burners
        ):
            continue
        if other.heat_min < until and max(other.out_min, other.fire_free_min) > since:
            return "a pot was on its fire"
    for burner in problem.burners:
        if burner.id in under and any(a < until and b > since for a, b in burner.taken):
            return "its fire was taken"
    return ""


def _hot(
    canner: Canner, before: PlacedLoad | None, load: PlacedLoad
) -> Iterator[Breach]:
    if before is None:
        yield breach(
            TheLoad(load.id), f" is the first of canner {canner.id}: its water is cold"
        )
        return
    pause = load.lower_min - before.out_min
    if pause > canner.stays_hot_min:
        yield breach(
            TheLoad(load.id),
            f" comes {pause} min after ",
            TheLoad(before.id),
            f" is out; the water stays hot {canner.stays_hot_min}",
        )
    if before.fire_free_min < load.lower_min:
        yield breach(
            TheLoad(load.id),
            " is called hot, but the fire was off since ",
            TheLoad(before.id),
        )
    if load.heat_min != load.lower_min:
        yield breach(TheLoad(load.id), " is called hot and heated all the same")


def _counter(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    yield from counter_breaches(problem, timetable, timetable.loads)


def counter_breaches(
    problem: Problem, timetable: Timetable, coming: Iterable[PlacedLoad]
) -> Iterator[Breach]:
    """Say where most jars stand on the counter, of when the loads that come are out."""
    counter = problem.counter
    worst, at = 0, 0
    for load in coming:  # most jars stand there just after some load is out
        standing = sum(jars for jars, until in counter.taken if load.out_min < until)
        for other in timetable.loads:
            if other.out_min <= load.out_min < other.out_min + counter.cooling_min:
                standing += sum(count for _, count in other.jars)
        if standing > worst:
            worst, at = standing, load.out_min
    if worst > counter.places:
        yield breach(
            f"{worst} jars cool on the counter at ",
            Minute(at),
            f"; it has room for {counter.places}",
            about=About.COUNTER,
        )

"""The batches of a day, handed to the planner as steps, resources and minutes."""

from __future__ import annotations

import datetime as dt

from stillroom.book.words import singular
from stillroom.methods.canner_water import canner_times
from stillroom.methods.every_part import naming_every_part
from stillroom.methods.in_halves import in_halves
from stillroom.methods.kitchen import Burner as KitchenBurner
from stillroom.methods.kitchen import CannerKind, Kitchen
from stillroom.methods.kitchen import Pot as KitchenPot
from stillroom.methods.learned import AS_PUBLISHED, Learned, with_own_minutes
from stillroom.methods.method import Filling, Work
from stillroom.methods.step import Step
from stillroom.methods.today import AirToday
from stillroom.planning.day import Day, Helper, Lot, Rest, Span, Want
from stillroom.planning.dayplan import MadeBatch
from stillroom.planning.due_words import due_label
from stillroom.planning.problem import (
    Batch,
    Break,
    Burner,
    Canner,
    ComeUp,
    Counter,
    Person,
    Pot,
    Problem,
    Process,
    Window,
)
from stillroom.planning.problem import Want as DueWant
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.stood_before import when_it_has_stood
from stillroom.refusal import Refusal


def problem_of(
    day: Day, made: Batched, air: AirToday, learned: Learned = AS_PUBLISHED
) -> Problem | Refusal:
    """Return the problem of a day whose batches are made."""
    canners = _canners(day.kitchen, made, air)
    if isinstance(canners, Refusal):
        return canners
    batches = _batches(day, made, learned)
    if isinstance(batches, Refusal):
        return batches
    start = day.starts
    return Problem(
        starts_at=f"{start:%H:%M}",
        horizon_min=minute(day.ends, start),
        people=tuple(_person(person, start, day.ends) for person in day.people),
        burners=tuple(_burner(burner, day) for burner in day.kitchen.burners),
        pots=tuple(Pot(id=pot.name, size=pot_size(pot)) for pot in day.kitchen.pots),
        mills=day.kitchen.mills or day.kitchen.sieves,
        canners=canners,
        counter=Counter(
            places=day.kitchen.counter_places, cooling_min=day.kitchen.cooling_min
        ),
        processes=_processes(made),
        batches=batches,
        wants=_wants(day, made),
        done_by_min=None if day.done_by is None else minute(day.done_by, start),
        first=day.first,
    )


def minute(clock: dt.time, start: dt.time) -> int:
    """
    Whole minutes from the start of the day to a clock time, negative before it.

    >>> minute(dt.time(9, 5), dt.time(7, 30))
    95
    """
    return (clock.hour - start.hour) * 60 + clock.minute - start.minute


def pot_size(pot: KitchenPot) -> str:
    """Pots of one volume and one material are alike to the planner."""
    return f"{pot.volume_m3 * 1000:.2f} L {pot.material}"


def _burner(burner: KitchenBurner, day: Day) -> Burner:
    limit, pots = burner.largest_pot_m3, day.kitchen.pots
    takes = (
        None
        if limit is None
        else frozenset(pot_size(p) for p in pots if p.volume_m3 <= limit + 1e-9)
    )
    return Burner(
        id=burner.name,
        power_w=burner.power_w,
        takes=takes,
        taken=_from_the_start(burner.taken, day.starts),
    )


def _from_the_start(
    spans: tuple[Span, ...], start: dt.time
) -> tuple[tuple[int, int], ...]:
    """Spans of the clock in minutes of the day, from its start on."""
    return tuple((max(0, minute(a, start)), minute(b, start)) for a, b in spans)


def _person(person: Helper, start: dt.time, ends: dt.time) -> Person:
    after = person.rests_after(ends)
    comes, goes = minute(person.comes, start), minute(person.goes, start)
    return Person(
        id=person.name,
        skills=frozenset(str(skill) for skill in person.can),
        arrives_min=max(0, comes),
        leaves_min=goes,
        quarters=person.quarters,
        breaks=tuple(
            _break(rest, start, goes if person.goes < ends else None)
            for rest in person.rests_here(ends)
        ),
        rests_later=bool(after),
        away=_from_the_start(person.away, start),
    )


def _break(rest: Rest, start: dt.time, goes: int | None) -> Break:
    """A break; of one that could be had after she goes, the starts until then."""
    latest = minute(rest.latest, start)
    return Break(
        duration_min=rest.minutes,
        earliest_min=max(0, minute(rest.earliest, start)),
        latest_start_min=latest if goes is None else min(latest, goes - rest.minutes),
    )


def _canners(
    kitchen: Kitchen, made: Batched, air: AirToday
) -> tuple[Canner, ...] | Refusal:
    canners: list[Canner] = []
    efficiency = next(iter(made.chosen.values())).fitted.station.efficiency
    for canner in kitchen.canners:
        rides = [
            b for b in made.batches if b.process and canner.kind == b.process.method
        ]
        jars = {b.jar for b in rides}
        held = {jar: canner.holds(jar) for jar in sorted(jars) if canner.holds(jar)}
        if not held:
            continue
        places = {_places_label(jar, canner.kind): n for jar, n in held.items()}
        jars_held = tuple(held)
        times = canner_times(canner, kitchen, air, efficiency, jars=jars_held)
        cool = canner_times(canner, kitchen, air, efficiency, jars=jars_held, raw=True)
        if isinstance(times, Refusal):
            return times
        if isinstance(cool, Refusal):
            return cool
        up = ComeUp(minutes=cool.come_up_min, spread=cool.come_up_spread)
        canners.append(
            Canner(
                id=canner.name,
                burners=canner.stands_on,
                places=places,
                first_heat_min=times.first_heat_min,
                reheat_min=times.reheat_min,
                stays_hot_min=times.stays_hot_min,
                load_min=times.load_min,
                come_up_min=times.come_up_min,
                rest_min=times.rest_min,
                unload_min=times.unload_min,
                come_up_spread=times.come_up_spread,
                come_up_of=dict.fromkeys(_with_raw_packs(rides), up),
            )
        )
    return tuple(canners)


def _with_raw_packs(rides: list[MadeBatch]) -> list[str]:
    """Processes that some batch packed raw may ride in: its load goes in cooler."""
    names = (_process_id(b) for b in rides if b.process and b.process.pack == "raw")
    return sorted({name for name in names if name is not None})


def _places_label(jar: str, kind: str) -> str:
    """The planner counts places by jar size, and pressure canners apart."""
    return jar if kind == CannerKind.BOILING_WATER else f"{jar}, {kind}"


def _process_id(batch: MadeBatch) -> str | None:
    process = batch.process
    if process is None:
        return None
    label = f"{_places_label(batch.jar, process.method)}, {process.total_min} min"
    return f"{label} at {process.pressure_psi:g} psi" if process.pressure_psi else label


def _processes(made: Batched) -> tuple[Process, ...]:
    """A load holds one jar size and one process, so none rides in another."""
    found: dict[str, Process] = {}
    sources: dict[str, list[str]] = {}
    raw = set(_with_raw_packs(made.batches))
    for batch in made.batches:
        name = _process_id(batch)
        if batch.process is None or name is None:
            continue
        sources.setdefault(name, []).append(batch.process.source)
        found[name] = Process(
            id=name,
            jar=_places_label(batch.jar, batch.process.method),
            minutes=batch.process.total_min,
            may_ride_in=(name,),
            pressure_psi=batch.process.pressure_psi,
            raw=name in raw,
            source="; ".join(dict.fromkeys(sources[name])),
        )
    return tuple(found.values())


def _also_for(batch: MadeBatch) -> tuple[str, ...]:
    """Labels of later promises that some of its jars are for."""
    labels = dict.fromkeys(due_label(batch.product, w) for w in batch.serves if w.by)
    return tuple(labels)[1:]


def _batches(day: Day, made: Batched, learned: Learned) -> tuple[Batch, ...] | Refusal:
    batches: list[Batch] = []

    def two_can(step: Step) -> bool:
        able = [
            p
            for p in day.people
            if step.skill in p.can and p.quarters >= step.attention_quarters
        ]
        return len(able) > 1

    for batch in made.batches:
        chosen = made.chosen[batch.id]
        fitted = chosen.fitted
        filling = Filling(jar=batch.jar, jars=batch.jars, process=chosen.process)
        work = fitted.method.steps(fitted.recipe, fitted.station, filling)
        if isinstance(work, Refusal):
            return work
        work = naming_every_part(fitted.recipe, work)
        work = with_own_minutes(work, batch.product, learned)
        work = in_halves(work, two_can)
        made.works[batch.id] = work
        batches.append(
            Batch(
                id=batch.id,
                product=due_label(batch.product, batch.serves[0]),
                jars=batch.jars,
                process=_process_id(batch),
                pots=tuple(dict.fromkeys(pot_size(pot) for pot in fitted.pots)),
                ready_after=work.ready_after,
                closed_wait_at_most_min=work.closed_wait_at_most_min,
                steps=work.steps,
                links=work.links,
                windows=(
                    *_windows(day, batch, work),
                    *when_it_has_stood(day, batch, work, made),
                ),
                contents=batch.product,
                also_for=_also_for(batch),
                jar=batch.jar,
            )
        )
    return tuple(batches)


def _windows(day: Day, batch: MadeBatch, work: Work) -> tuple[Window, ...]:
    """Not before what is taken has dripped or thawed, by the clock of its lot."""
    drawn = {draw.lot for draw in batch.draws}
    return tuple(
        Window(
            step=step,
            earliest_min=max(0, minute(lot.ready, day.starts)),
            why=_is_ready(lot),
        )
        for lot in day.shelf
        if lot.ready is not None and lot.name in drawn
        for step in steps_taking(lot.what, work)
    )


def _is_ready(lot: Lot) -> str:
    """Say that a lot may be taken: "plum juice is ready", "pears are ready"."""
    last = lot.what.split()[-1]
    return f"{lot.name} {'is' if singular(last) == last else 'are'} ready"


def steps_taking(what: str, work: Work) -> list[str]:
    """Steps that take a thing: those that name it, else the first in the pot."""
    named = [s.id for s in work.steps if what.lower() in f"{s.verb} {s.note}".lower()]
    in_pot = [s.id for s in work.steps if s.in_pot]
    return named or in_pot[:1] or [work.steps[0].id]


def _wants(day: Day, made: Batched) -> tuple[DueWant, ...]:
    """
    Each promise; those for one product by one hour as one.

    What stands in the dryer or the crock at the end of the day is in no jar at any hour
    of it: no order of the work keeps such a promise, and none is late for it.
    """
    promised: dict[str, list[Want]] = {}
    for batch in made.batches:
        if batch.stands:
            continue
        for want in batch.serves:
            mine = promised.setdefault(due_label(batch.product, want), [])
            if all(want is not other for other in mine):
                mine.append(want)
    return tuple(
        DueWant(
            product=label,
            by_min=minute(wants[0].by, day.starts),
            weight=max(want.weight for want in wants),
            jars=sum(want.jars for want in wants),
        )
        for label, wants in promised.items()
        if wants[0].by is not None
    )

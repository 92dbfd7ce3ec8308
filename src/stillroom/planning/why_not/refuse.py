"""What a day must have in order before it can be planned; nonsense is refused early."""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Iterable, Iterator
from functools import partial

from stillroom.in_a_list import any_of
from stillroom.planning.daytime import clock_time
from stillroom.planning.network import CircularLinks, network_of
from stillroom.planning.problem import Batch, Person, Problem
from stillroom.planning.why_not.whose_hands import nobody_lifts, nobodys_work
from stillroom.planning.words.step_words import called
from stillroom.refusal import Fault, Unreadable


def refuse_nonsense(problem: Problem) -> None:
    """
    Pass a day that makes sense.

    Raises
    ------
    Unreadable
        With a fault for each thing that does not: names that are not there or there
        twice, links in a circle, steps that nobody and nothing in the kitchen can do.
    """
    faults = [
        *_names(problem),
        *_figures(problem),
        *(fault for person in problem.people for fault in _person(person, problem)),
        *_kitchen(problem),
    ]
    for batch in problem.batches:
        faults += batch_faults(problem, batch)
    made = {product for b in problem.batches for product in b.serves}
    for want in problem.wants:
        if want.product not in made:
            faults.append(
                Fault(f"{want.product} is wanted, but no batch makes it", key="wants")
            )
        if want.weight < 0:
            faults.append(
                Fault(f"weight {want.weight} of {want.product}: 0 or more", key="wants")
            )
    if faults:
        raise Unreadable(*faults)


def _twice(kind: str, names: Iterable[str]) -> Iterator[Fault]:
    for name, times in Tally(names).items():
        if times > 1:
            yield Fault(
                f"{times} {kind} are called {name!r}; give each a name of its own",
                key=kind,
            )


def _names(problem: Problem) -> Iterator[Fault]:
    yield from _twice("people", (p.id for p in problem.people))
    yield from _twice("burners", (b.id for b in problem.burners))
    yield from _twice("pots", (p.id for p in problem.pots))
    yield from _twice("canners", (c.id for c in problem.canners))
    yield from _twice("processes", (p.id for p in problem.processes))
    yield from _twice("batches", (b.id for b in problem.batches))


def _figures(problem: Problem) -> Iterator[Fault]:
    if problem.horizon_min < 1:
        yield Fault(
            f"the day is {problem.horizon_min} min long; 1 or more", key="horizon"
        )
    if problem.mills < 0:
        yield Fault(f"{problem.mills} mills; 0 or more", key="mills")
    if problem.counter.places < 0 or problem.counter.cooling_min < 0:
        yield Fault("places and cooling time are 0 or more", key="counter")
    for process in problem.processes:
        if process.minutes < 0:
            yield Fault(f"{process.id}: {process.minutes} min", key="processes")
        if process.id not in process.may_ride_in:
            yield Fault(
                f"{process.id} may not ride in a load of its own; list it too",
                key="processes",
            )
        jar_of = {p.id: p.jar for p in problem.processes}
        for name in process.may_ride_in:
            if jar_of.get(name, process.jar) != process.jar:
                yield Fault(
                    f"{process.id} may ride in {name}, which is for {jar_of[name]} "
                    "jars; a load has one jar size",
                    key="processes",
                )


def _person(person: Person, problem: Problem) -> Iterator[Fault]:
    key = f"people, {person.id}"
    at = partial(clock_time, problem.starts_at)
    if person.leaves_min < person.arrives_min:
        yield Fault(
            f"leaves at {at(person.leaves_min)}, before arriving at "
            f"{at(person.arrives_min)}",
            key=key,
        )
    for gone, back in person.away:
        if back < gone:
            yield Fault(f"is away from {at(gone)} until {at(back)}", key=key)
    leaves = min(person.leaves_min, problem.horizon_min)
    for rest in person.breaks:
        start = max(rest.earliest_min, person.arrives_min)
        if rest.duration_min < 1:
            yield Fault(f"a break of {rest.duration_min} min; 1 or more", key=key)
        elif start > min(rest.latest_start_min, leaves - rest.duration_min):
            when = f"by {at(rest.latest_start_min)}"  # a window of before the day
            if rest.earliest_min <= rest.latest_start_min:
                since = at(rest.earliest_min)
                when = f"between {since} and {at(rest.latest_start_min)}"
            yield Fault(
                f"a break of {rest.duration_min} min beginning {when} does not fit "
                f"between arriving at {at(person.arrives_min)} and leaving at "
                f"{at(leaves)}; let it begin sooner or later, or leave it out",
                key=key,
            )


def _kitchen(problem: Problem) -> Iterator[Fault]:
    burners = {b.id for b in problem.burners}
    at = partial(clock_time, problem.starts_at)
    for burner in problem.burners:
        for start, end in burner.taken:
            if end < start:
                said = f"is taken from {at(start)} until {at(end)}"
                yield Fault(said, key=f"burners, {burner.id}")
    for canner in problem.canners:
        key = f"canners, {canner.id}"
        for name in canner.burners:
            if name not in burners:
                yield Fault(f"covers burner {name!r}, which is not there", key=key)
        if len(set(canner.burners)) < len(canner.burners):
            yield Fault("covers one burner twice", key=key)
        if not any(places > 0 for places in canner.places.values()):
            yield Fault("has no places for jars; 1 or more of some size", key=key)
        times = (
            canner.first_heat_min,
            canner.reheat_min,
            canner.stays_hot_min,
            canner.load_min,
            canner.come_up_min,
            canner.rest_min,
            canner.unload_min,
            *(up.minutes for up in canner.come_up_of.values()),
        )
        if min(times) < 0:
            yield Fault("has a time below 0 min", key=key)


def batch_faults(problem: Problem, batch: Batch) -> Iterator[Fault]:
    """What is wrong with one batch in this day; nothing where it can be made."""
    key = f"batches, {batch.id}"
    ids = [s.id for s in batch.steps]
    named_twice = [name for name, times in Tally(ids).items() if times > 1]
    if named_twice:
        yield Fault(f"two steps are called {named_twice[0]!r}", key=key)
        return
    if not ids:
        yield Fault("has no steps", key=key)
        return
    told = (
        *_faults_of_links(batch, ids, key),
        *_faults_of_steps(batch, key),
        *_faults_of_windows(batch, ids, key),
        *_faults_of_its_end(batch, ids, key),
    )
    yield from (fault for fault, _ in told)
    if any(is_in_the_way for _, is_in_the_way in told):
        return
    yield from _can_be_done(problem, batch, key)
    yield from _jars(problem, batch, key)
    try:
        network_of(batch)
    except CircularLinks as circle:
        yield Fault(
            f"the links of {', '.join(circle.steps)} go in a circle or contradict each "
            "other: each would have to start after itself",
            key=key,
        )


_Told = Iterator[tuple[Fault, bool]]
"""Faults, each with whether it leaves nothing to look for in the rest."""


def _faults_of_links(batch: Batch, ids: list[str], key: str) -> _Told:
    for link in batch.links:
        for name in (link.before, link.after):
            if name not in ids:
                said = (
                    f"a link from {link.before} to {link.after} names {name!r}; the "
                    f"steps are {', '.join(ids)}"
                )
                yield Fault(said, key=key), True
        if link.at_most_min is not None and link.at_most_min < link.at_least_min:
            said = (
                f"{link.after} starts at least {link.at_least_min} and at most "
                f"{link.at_most_min} min after {link.before}"
            )
            yield Fault(said, key=key), True


def _faults_of_steps(batch: Batch, key: str) -> _Told:
    for step in batch.steps:
        if step.duration_min < 1:
            said = f"{step.id} takes {step.duration_min} min; 1 or more"
            yield Fault(said, key=key), True
        if not 0 <= step.attention_quarters <= 4:
            said = f"{step.id} takes {step.attention_quarters} quarters; 0 to 4 only"
            yield Fault(said, key=key), True


def _faults_of_windows(batch: Batch, ids: list[str], key: str) -> _Told:
    for window in batch.windows:
        if window.step not in ids:
            said = f"a window is for {window.step!r}; the steps are {', '.join(ids)}"
            yield Fault(said, key=key), True
        elif window.latest_min is not None and window.latest_min < window.earliest_min:
            said = (
                f"{window.step} begins no sooner than minute {window.earliest_min} and "
                f"no later than {window.latest_min}"
            )
            yield Fault(said, key=key), False


def _faults_of_its_end(batch: Batch, ids: list[str], key: str) -> _Told:
    if batch.ready_after and batch.ready_after not in ids:
        said = f"is ready after {batch.ready_after!r}; the steps are {', '.join(ids)}"
        yield Fault(said, key=key), True


def _can_be_done(problem: Problem, batch: Batch, key: str) -> Iterator[Fault]:
    strongest = max((b.power_w for b in problem.burners), default=0.0)
    for said in nobodys_work(problem, batch):
        yield Fault(said, key=key)
    for step in batch.steps:
        name = called(batch, step.id)
        if step.duration_min > problem.horizon_min:
            yield Fault(
                f"{name} takes {step.duration_min} min; the day has "
                f"{problem.horizon_min}",
                key=key,
            )
        if step.burner_w > strongest:
            yield Fault(
                f"{name} needs a burner of {step.burner_w:g} W; the strongest is "
                f"{strongest:g} W",
                key=key,
            )
    first = next((s for s in batch.steps if s.on_mill), None)
    if first is not None and problem.mills < 1:
        name = called(batch, first.id)
        yield Fault(
            f"{name} needs a food mill or a sieve; the kitchen has none", key=key
        )
    yield from _rinses(batch, key)
    in_pot = any(s.in_pot for s in batch.steps)
    sizes = {p.size for p in problem.pots}
    if batch.pots and in_pot and not sizes & set(batch.pots):
        yield Fault(
            f"needs a pot of size {any_of(batch.pots)}; the kitchen has "
            f"{', '.join(sorted(sizes)) or 'none'}",
            key=key,
        )


def _rinses(batch: Batch, key: str) -> Iterator[Fault]:
    """What may be a rinse is the end of one use, and nothing waits for it."""
    for step in batch.steps:
        if step.rinse_min is None:
            continue
        if not 0 < step.rinse_min < step.duration_min:
            yield Fault(
                f"to rinse in place of {step.id} takes {step.rinse_min} min; 1 or "
                f"more, and less than the wash of {step.duration_min}",
                key=key,
            )
        if step.in_pot == step.on_mill:
            yield Fault(
                f"{step.id} may be a rinse: it is of a pot or of a mill, of one alone",
                key=key,
            )
            continue
        others = [
            s.id
            for s in batch.steps
            if s is not step and (s.in_pot if step.in_pot else s.on_mill)
        ]
        after = {link.before: set[str]() for link in batch.links}
        for link in batch.links:
            if link.at_least_min >= 0:
                after[link.before].add(link.after)
        if any(link.before == step.id for link in batch.links) or any(
            step.id not in _reached(after, other) for other in others
        ):
            yield Fault(
                f"{step.id} may be a rinse: it must come after all else in the pot or "
                "on the mill, and nothing of the batch after it",
                key=key,
            )


def _reached(after: dict[str, set[str]], first: str) -> set[str]:
    """Steps that come after one, directly or through others."""
    found: set[str] = set()
    open_ = [first]
    while open_:
        for step in after.get(open_.pop(), set()) - found:
            found.add(step)
            open_.append(step)
    return found


def _jars(problem: Problem, batch: Batch, key: str) -> Iterator[Fault]:
    if batch.process is None:
        return
    if batch.jars < 1:
        yield Fault(f"fills {batch.jars} jars; 1 or more", key=key)
    if not batch.ready_after:
        yield Fault("does not say after which step its jars are closed", key=key)
    if batch.closed_wait_at_most_min < 0:
        yield Fault("lets closed jars wait less than 0 min", key=key)
    process = next((p for p in problem.processes if p.id == batch.process), None)
    if process is None:
        yield Fault(f"has process {batch.process!r}, which is not in the day", key=key)
        return
    if not any(c.places.get(process.jar, 0) for c in problem.canners):
        yield Fault(f"fills {process.jar} jars, which no canner takes", key=key)
    if said := nobody_lifts(problem):
        yield Fault(said, key=key)

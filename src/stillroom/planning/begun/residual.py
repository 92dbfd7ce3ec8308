"""
What is left of a day that has begun, as a problem of its own.

Finished steps are gone; a running one is what is left of it, from now on. Each batch
that has begun has a step ``NOW`` of no length, fixed at the present minute: what its
finished steps ask of later ones is asked from there. Limits that only the past can have
broken are not rules any more but cost points (`Soft`).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field, replace

from stillroom.methods.step import Link, Step
from stillroom.planning.begun.absences import breaks_left, gone_from
from stillroom.planning.begun.burners_left import burners_left
from stillroom.planning.begun.in_hand import in_their_hands, not_free, quarters_left
from stillroom.planning.happened import Happened
from stillroom.planning.problem import (
    Batch,
    Break,
    Limit,
    Person,
    Problem,
    wants_of,
)
from stillroom.planning.rinses import Waiting
from stillroom.planning.timetable import PlacedStep

NOW = "(now)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Soft:
    """``after`` should start by a minute, for the sake of what is past."""

    batch: str
    before: str
    """The step that is waited after; ``""`` where it is an hour of the day."""
    after: str
    by_min: int
    """From the day's start; where `since_before`, from the end of ``before``. [min]"""
    since_before: bool = False

    @property
    def limit(self) -> Limit:
        """The limit that gives way where it does not."""
        return self.batch, self.before, self.after


@dataclass(slots=True)
class Residual:
    """The rest of a day."""

    problem: Problem
    """Minutes still count from the day's start."""
    soft: list[Soft] = field(default_factory=list)
    closed_min: dict[str, int] = field(default_factory=dict)
    """Batch whose jars are closed, or will be by a running step, and when. [min]"""
    closed_wait_min: dict[str, int] = field(default_factory=dict)
    """The longest wait of such jars, which is soft. [min]"""
    closed_softly: dict[str, str] = field(default_factory=dict)
    """Batch whose closed jars may wait longer, and its closing step."""
    closed_soft_min: dict[str, int] = field(default_factory=dict)
    """The longest wait of those jars. [min]"""
    fixed_hands: dict[tuple[str, str], str] = field(default_factory=dict)
    """(batch, step) that a person has begun, or has begun the like of."""
    pot: dict[str, str] = field(default_factory=dict)
    """Batch that stands in a pot now."""
    burner: dict[tuple[str, str], str] = field(default_factory=dict)
    """(batch, running step) to its burner."""
    stays_on: dict[tuple[str, str], str] = field(default_factory=dict)
    """(batch, step) to come to the fire, or one like it, that it goes on on."""
    on_fire: dict[str, str] = field(default_factory=dict)
    """Batch whose pot is on its fire still, as a step on it ended this very minute."""
    mill: dict[str, int] = field(default_factory=dict)
    rinsed: tuple[Waiting, ...] = ()
    """Pots and mills that wait rinsed for a batch to begin in them."""
    running: set[tuple[str, str]] = field(default_factory=set)
    rest_by: dict[str, list[int]] = field(default_factory=dict)
    """Person to the minutes by which the breaks that are left should begin."""
    not_free: dict[str, tuple[tuple[int, int, int], ...]] = field(default_factory=dict)
    """Person to quarters that nothing else is given from a minute to another."""


def residual_of(
    problem: Problem,
    happened: Happened,
    unkept: Collection[tuple[str, str]] = (),
) -> Residual:
    """
    Return what is left of a day.

    ``unkept`` are (batch, step) after which longest waits are not rules but cost points
    although neither end has begun: they hang on something that has.
    """
    rest = Residual(problem)
    people = tuple(_person(p, happened, rest) for p in problem.people)
    quarters = quarters_left(problem, happened)
    for person in problem.people:
        rest.not_free[person.id] = not_free(person, happened, quarters)
    aboard: dict[str, int] = {}
    for load in happened.loads:
        for name, count in load.jars:
            aboard[name] = aboard.get(name, 0) + count
    batches = []
    for whole in problem.batches:
        batch = _windows_eased(whole, happened, rest)
        eased = _eased_by(batch, {s for b, s in unkept if b == batch.id}, rest)
        left = _batch(eased, happened, aboard.get(batch.id, 0), quarters, rest)
        if left is not None and batch.id in rest.closed_softly:
            left = replace(left, closed_wait_at_most_min=2 * problem.horizon_min)
        if left is not None:
            batches.append(left)
    rest.problem = replace(
        problem,
        people=people,
        burners=burners_left(problem, happened),
        batches=tuple(batches),
        wants=wants_of(problem.wants, batches),
    )
    return rest


def _windows_eased(batch: Batch, happened: Happened, rest: Residual) -> Batch:
    """Latest hours as soft limits: a slip may take a step past them."""
    if not batch.windows:
        return batch
    for window in batch.windows:
        if window.latest_min is None or (batch.id, window.step) in happened.begun:
            continue
        rest.soft.append(
            Soft(
                batch=batch.id,
                before="",
                after=window.step,
                by_min=window.latest_min,
            )
        )
    return replace(
        batch, windows=tuple(replace(w, latest_min=None) for w in batch.windows)
    )


def _eased_by(batch: Batch, unkept: set[str], rest: Residual) -> Batch:
    """Longest waits after some steps as soft limits."""
    closing = [s.id for s in batch.steps if batch.ready_after in ("", s.id)]
    if batch.process is not None and len(closing) == 1 and closing[0] in unkept:
        rest.closed_softly[batch.id] = closing[0]
        rest.closed_soft_min[batch.id] = batch.closed_wait_at_most_min
    if not any(k.before in unkept and k.at_most_min is not None for k in batch.links):
        return batch
    links = []
    for link in batch.links:
        if link.before not in unkept or link.at_most_min is None:
            links.append(link)
            continue
        rest.soft.append(
            Soft(
                batch=batch.id,
                before=link.before,
                after=link.after,
                by_min=link.at_most_min,
                since_before=True,
            )
        )
        links.append(replace(link, at_most_min=None))
    return replace(batch, links=tuple(links))


def _person(person: Person, happened: Happened, rest: Residual) -> Person:
    """
    From now on; breaks that are over are gone, one that runs is an absence.

    What she has in hand is ended first: an absence begins after it, or has gone by.
    """
    now = happened.now_min
    goes = gone_from(person.id, happened) or now
    away = [(max(a, goes), b) for a, b in person.away if b > goes]
    for taken in happened.breaks:
        if taken.person == person.id and taken.end_min > now:
            away.append((now, taken.end_min))
    left = breaks_left(person, happened)
    breaks = []
    rest.rest_by[person.id] = []
    for one in left:
        if max(one.earliest_min, now) + one.duration_min > person.leaves_min:
            continue  # gone home before it
        earliest = max(one.earliest_min, now)
        latest = max(
            earliest, one.latest_start_min, person.leaves_min - one.duration_min
        )
        rest.rest_by[person.id].append(one.latest_start_min)
        breaks.append(
            Break(
                duration_min=one.duration_min,
                earliest_min=earliest,
                latest_start_min=latest,
            )
        )
    return replace(
        person,
        arrives_min=max(person.arrives_min, now),
        leaves_min=max(person.leaves_min, now),
        away=tuple(away),
        breaks=tuple(breaks),
    )


def _batch(
    batch: Batch,
    happened: Happened,
    aboard: int,
    quarters: dict[tuple[str, str], int],
    rest: Residual,
) -> Batch | None:
    now, begun = happened.now_min, happened.begun
    mine = {
        s.id: begun[batch.id, s.id] for s in batch.steps if (batch.id, s.id) in begun
    }
    if not mine:
        return batch
    running = {s for s, placed in mine.items() if happened.runs(placed)}
    open_ = {s.id for s in batch.steps} - set(mine)
    jars = batch.jars - aboard if batch.process is not None else batch.jars
    if not open_ and not running and (batch.process is None or jars == 0):
        return None
    unfinished = open_ | running
    in_pot = {s.id for s in batch.steps if s.in_pot}
    on_mill = {s.id for s in batch.steps if s.on_mill}
    stands = bool(in_pot & set(mine)) and bool(in_pot & unfinished)
    mills = bool(on_mill & set(mine)) and bool(on_mill & unfinished)
    now_step = Step(id=NOW, verb="now", duration_min=0, in_pot=stands, on_mill=mills)
    steps = [now_step]
    for step in batch.steps:
        if step.id in running:
            left = mine[step.id].end_min - now
            asked = quarters.get((batch.id, step.id), 0)
            steps.append(
                replace(
                    in_their_hands(step, mine[step.id].person, rest.problem),
                    duration_min=left,
                    attention_quarters=asked,
                    rinse_min=None,  # it is what it was begun as
                )
            )
        elif step.id in open_:
            steps.append(step)
    _remember(batch, mine, running, rest, now=now, stands=stands, mills=mills)
    ready, closed = _closed(batch, mine, open_, running)
    if closed is not None and jars and batch.process is not None:
        rest.closed_min[batch.id] = closed
        rest.closed_wait_min[batch.id] = batch.closed_wait_at_most_min
    return replace(
        batch,
        jars=jars,
        process=batch.process if jars or batch.process is None else None,
        ready_after=ready,
        closed_wait_at_most_min=(
            rest.problem.horizon_min * 2
            if closed is not None
            else batch.closed_wait_at_most_min
        ),
        steps=tuple(steps),
        links=tuple(_links(batch, happened, mine, open_, running, rest)),
        windows=tuple(w for w in batch.windows if w.step in open_),
    )


def _closed(
    batch: Batch, mine: dict[str, PlacedStep], open_: set[str], running: set[str]
) -> tuple[str, int | None]:
    """The step after which the jars are closed now, and when that is if known."""
    closing = [s.id for s in batch.steps if batch.ready_after in ("", s.id)]
    if set(closing) & open_:
        return batch.ready_after, None
    end = max((mine[s].end_min for s in closing), default=0)
    still = [s for s in closing if s in running]
    return (still[0] if len(still) == 1 else NOW), end


def _remember(
    batch: Batch,
    mine: dict[str, PlacedStep],
    running: set[str],
    rest: Residual,
    *,
    now: int,
    stands: bool,
    mills: bool,
) -> None:
    """Who and what the batch has begun with."""
    word = {s.id: s.same_hands for s in batch.steps if s.same_hands}
    kept = {word[s]: p.person for s, p in mine.items() if s in word and p.person}
    for step in batch.steps:
        who = mine[step.id].person if step.id in running else None
        who = who or kept.get(word.get(step.id, " "))
        if who is not None and step.attention_quarters:
            rest.fixed_hands[batch.id, step.id] = who
    pot = next((p.pot for p in mine.values() if p.pot is not None), None)
    if stands and pot is not None:
        rest.pot[batch.id] = pot
    mill = next((p.mill for p in mine.values() if p.mill is not None), None)
    if mills and mill is not None:
        rest.mill[batch.id] = mill
    for step in batch.steps:
        placed = mine.get(step.id)
        if placed is None or placed.burner is None or not step.in_pot:
            continue
        if placed.end_min == now and step.id not in running:
            rest.on_fire[batch.id] = placed.burner
    for s in running:
        rest.running.add((batch.id, s))
        burner = mine[s].burner
        if burner is not None:
            rest.burner[batch.id, s] = burner


def _links(
    batch: Batch,
    happened: Happened,
    mine: dict[str, PlacedStep],
    open_: set[str],
    running: set[str],
    rest: Residual,
) -> list[Link]:
    now = happened.now_min
    found = []
    for step in (s.id for s in batch.steps):
        if step in running:
            found.append(Link(before=NOW, after=step, at_least_min=0, at_most_min=0))
        elif step in open_:
            found.append(Link(before=NOW, after=step))
    for link in batch.links:
        if link.after not in open_:
            continue  # it has begun; whether too soon is past
        if link.before in open_:
            found.append(link)
            continue
        end = mine[link.before].end_min
        if link.before in running:
            found.append(replace(link, at_most_min=None))
        else:
            since = max(0, end + link.at_least_min - now)
            found.append(Link(before=NOW, after=link.after, at_least_min=since))
        if link.at_most_min is not None:
            rest.soft.append(
                Soft(
                    batch=batch.id,
                    before=link.before,
                    after=link.after,
                    by_min=end + link.at_most_min,
                )
            )
    return found

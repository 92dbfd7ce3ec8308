"""
The judge of every plan: each rule again, in plain loops and plain words.

It knows no solver and shares no code with the one that makes plans, so that a mistake
there is not repeated here. An empty answer means that the timetable can be worked.
"""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Iterator
from dataclasses import dataclass

from stillroom.planning.judge.breach import About, Breach, breach
from stillroom.planning.judge.check_loads import load_breaches
from stillroom.planning.judge.check_taken import taken_breaches
from stillroom.planning.judge.check_tools import named, tool_breaches
from stillroom.planning.problem import Break, Person, Problem
from stillroom.planning.spoken_of import (
    Id,
    Minute,
    Sentence,
    StepOf,
    TheLoad,
    says,
)
from stillroom.planning.timetable import Answer, PlacedBreak, Timetable

QUARTERS = 4
LABOUR_QUARTERS = 3
"""Attention that lowering and lifting take, of four. Common practice, no source."""


def violations(problem: Problem, timetable: Timetable) -> tuple[str, ...]:
    """
    Every rule of the day that a timetable breaks, in words.

    Parameters
    ----------
    problem : Problem
        The day.
    timetable : Timetable
        The plan to be judged, whoever made it.

    Returns
    -------
    tuple of str
        One sentence for each breach; empty where the plan holds.
    """
    return tuple(str(one.said) for one in breaches(problem, timetable))


def breaches(problem: Problem, timetable: Timetable) -> tuple[Breach, ...]:
    """Every rule of the day that a timetable breaks, each with what it is about."""
    missing = tuple(what_is_missing(problem, timetable))
    if missing:  # the other rules would only stumble over what is not there
        return missing
    rules = (
        _minutes,
        _hands,
        _same_hands,
        _links,
        _windows,
        _attention,
        _presence,
        _breaks,
    )
    found = [one for rule in rules for one in rule(problem, timetable)]
    return (
        *found,
        *tool_breaches(problem, timetable),
        *load_breaches(problem, timetable),
        *taken_breaches(problem, timetable),
    )


def misstatements(problem: Problem, answer: Answer) -> tuple[str, ...]:
    """Figures of an answer that differ from what its timetable gives."""
    said = []
    ends = [s.end_min for s in answer.timetable.steps]
    finish = max(ends + [load.out_min for load in answer.timetable.loads], default=0)
    if finish != answer.finish_min:
        said.append(f"finish is stated as {answer.finish_min}; the steps give {finish}")
    late = 0
    for want in problem.wants:
        last = 0
        for batch in problem.batches:
            if want.product not in batch.serves:
                continue
            for load in answer.timetable.loads:
                if any(name == batch.id for name, _ in load.jars):
                    last = max(last, load.out_min)
            for placed in answer.timetable.steps:
                closes = batch.ready_after in ("", placed.step)
                if batch.process is None and placed.batch == batch.id and closes:
                    last = max(last, placed.end_min)
        late += max(0, last - want.by_min) * want.weight
    if late != answer.lateness:
        said.append(f"lateness is stated as {answer.lateness}; the plan gives {late}")
    if answer.lower_bound_min > answer.finish_min:
        said.append(
            f"the bound {answer.lower_bound_min} is later than {answer.finish_min}"
        )
    return tuple(said)


def what_is_missing(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    """Say what a timetable lacks of the day, and what it names that is not there."""
    asked = Tally((b.id, s.id) for b in problem.batches for s in b.steps)
    placed = Tally((s.batch, s.step) for s in timetable.steps)
    for (batch, step), times in asked.items():
        if placed[batch, step] != times:
            yield breach(
                StepOf(batch, step),
                f" of {batch} is planned {placed[batch, step]} times, not once",
            )
    for batch, step in placed:
        if (batch, step) not in asked:
            yield breach(
                StepOf(batch, step), f" of {batch} is planned; the day has no such step"
            )
    people = {p.id for p in problem.people}
    pots = {p.id for p in problem.pots}
    burners = {b.id for b in problem.burners}
    for s in timetable.steps:
        if s.person is not None and s.person not in people:
            yield breach(named(s), f" is given to {s.person}, who is not in the day")
        if s.pot is not None and s.pot not in pots:
            yield breach(named(s), f" is in pot {s.pot}, which is not in the kitchen")
        if s.burner is not None and s.burner not in burners:
            yield breach(
                named(s), f" is on burner {s.burner}, which is not in the kitchen"
            )
        if s.mill is not None and not 1 <= s.mill <= problem.mills:
            yield breach(
                named(s), f" is on mill {s.mill}; the kitchen has {problem.mills}"
            )
    canners = {c.id for c in problem.canners}
    processes = {p.id for p in problem.processes}
    batches = {b.id for b in problem.batches}
    for load in timetable.loads:
        if load.canner not in canners:
            yield breach(
                TheLoad(load.id), f" is in canner {load.canner}, which is not there"
            )
        if load.process not in processes:
            yield breach(
                TheLoad(load.id),
                " has process ",
                Id(load.process),
                ", which is not in the day",
            )
        for batch, _ in load.jars:
            if batch not in batches:
                yield breach(
                    TheLoad(load.id), f" has jars of {batch}, which is not made"
                )
        for who in (load.lowered_by, load.lifted_by):
            if who not in people:
                yield breach(
                    TheLoad(load.id), f" is given to {who}, who is not in the day"
                )
    for rest in timetable.breaks:
        if rest.person not in people:
            yield breach(f"a break is given to {rest.person}, who is not in the day")


def _minutes(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    step_of = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    for s in timetable.steps:
        step = step_of[s.batch, s.step]
        takes = step.duration_min
        if s.rinsed and step.rinse_min is not None:
            takes = step.rinse_min
        if s.end_min - s.start_min != takes:
            yield breach(
                named(s), f" lasts {s.end_min - s.start_min} min; it takes {takes}"
            )
        if s.start_min < 0:
            yield breach(named(s), f" starts {-s.start_min} min before the day")
        if s.end_min > problem.horizon_min:
            yield breach(
                named(s), f" ends {s.end_min - problem.horizon_min} min after the day"
            )


def _hands(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    step_of = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    skills = {p.id: p.skills for p in problem.people}
    for s in timetable.steps:
        step = step_of[s.batch, s.step]
        if s.quarters != step.attention_quarters:
            yield breach(
                named(s),
                f" is planned with {s.quarters} quarters of attention; "
                f"it takes {step.attention_quarters}",
            )
        if step.attention_quarters == 0:
            if s.person is not None:
                yield breach(named(s), f" needs nobody but is given to {s.person}")
        elif s.person is None:
            yield breach(named(s), " has nobody to do it")
        elif str(step.skill) not in {str(skill) for skill in skills[s.person]}:
            yield breach(
                named(s), f" needs {step.skill}, which {s.person} does not do alone"
            )


def _same_hands(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    group = {
        (b.id, s.id): (b.id, s.same_hands)
        for b in problem.batches
        for s in b.steps
        if s.same_hands and s.attention_quarters
    }
    seen: dict[tuple[str, str], str | None] = {}
    for s in timetable.steps:
        if (s.batch, s.step) not in group:
            continue
        key = group[s.batch, s.step]
        if seen.setdefault(key, s.person) != s.person:
            kept = seen[key]
            yield breach(
                Id(key[1]), f" of {s.batch} goes from {kept} to {s.person}: one person"
            )


def _links(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    placed = {(s.batch, s.step): s for s in timetable.steps}
    for batch in problem.batches:
        for link in batch.links:
            before, after = placed[batch.id, link.before], placed[batch.id, link.after]
            gap = after.start_min - before.end_min
            came = says(
                named(after),
                f" starts {gap} min after ",
                StepOf(batch.id, link.before),
            )
            why = f" ({link.why})" if link.why else ""
            if gap < link.at_least_min:
                yield breach(came, f"; at least {link.at_least_min}{why}")
            if link.at_most_min is not None and gap > link.at_most_min:
                yield breach(came, f"; at most {link.at_most_min}{why}")


def _windows(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    placed = {(s.batch, s.step): s for s in timetable.steps}
    for batch in problem.batches:
        for window in batch.windows:
            s = placed[batch.id, window.step]
            why = f" ({window.why})" if window.why else ""
            if s.start_min < window.earliest_min:
                yield breach(
                    named(s),
                    " starts at ",
                    Minute(s.start_min),
                    "; not before ",
                    Minute(window.earliest_min),
                    why,
                )
            if window.latest_min is not None and s.start_min > window.latest_min:
                yield breach(
                    named(s),
                    " starts at ",
                    Minute(s.start_min),
                    "; at the latest ",
                    Minute(window.latest_min),
                    why,
                )


@dataclass(frozen=True, slots=True)
class _Work:
    """Something that somebody does; ``lifts`` is the load that is lifted by it."""

    who: str
    start_min: int
    end_min: int
    quarters: int
    name: Sentence
    lifts: str = ""


def _work(timetable: Timetable) -> Iterator[_Work]:
    """Everything people do."""
    for s in timetable.steps:
        if s.person is not None:
            yield _Work(s.person, s.start_min, s.end_min, s.quarters, named(s))
    q = LABOUR_QUARTERS
    for load in timetable.loads:
        of = TheLoad(load.id)
        lowering, lifting = says("lowering ", of), says("lifting ", of)
        yield _Work(load.lowered_by, load.lower_min, load.lowered_min, q, lowering)
        yield _Work(load.lifted_by, load.lift_min, load.out_min, q, lifting, load.id)


def _attention(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    for person in problem.people:
        given: Tally[int] = Tally()
        for work in _work(timetable):
            if work.who == person.id:
                for minute in range(work.start_min, work.end_min):
                    given[minute] += work.quarters
        for rest in timetable.breaks:
            if rest.person == person.id:
                for minute in range(rest.start_min, rest.end_min):
                    given[minute] += person.quarters  # a rest takes all there is
        over = sorted(
            minute for minute, quarters in given.items() if quarters > person.quarters
        )
        if over:
            has = (
                f"a person has {QUARTERS}"
                if person.quarters == QUARTERS
                else f"{person.id} has {person.quarters} to give"
            )
            yield breach(
                f"{person.id} gives {given[over[0]]} quarters at ",
                Minute(over[0]),
                f" ({len(over)} min in all); {has}",
                about=About.ATTENTION,
            )


def _presence(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    person_of = {p.id: p for p in problem.people}
    a_break = says("a break")
    rests = [
        _Work(r.person, r.start_min, r.end_min, person_of[r.person].quarters, a_break)
        for r in timetable.breaks
    ]
    for work in (*_work(timetable), *rests):
        name, who, start, end = work.name, work.who, work.start_min, work.end_min
        person = person_of[who]
        about = About.LIFTING if work.lifts else About.ALL_ELSE
        said = []
        if start < person.arrives_min:
            early = person.arrives_min - start
            said.append(says(name, f" starts {early} min before {who} arrives"))
        if end > person.leaves_min:
            over = end - person.leaves_min
            said.append(says(name, f" ends {over} min after {who} leaves"))
        for gone, back in person.away:
            if start < back and gone < end:
                away = (
                    f" falls while {who} is away, ",
                    Minute(gone),
                    " to ",
                    Minute(back),
                )
                said.append(says(name, *away))
        yield from (Breach(one, about, work.lifts) for one in said)


def _breaks(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    for person in problem.people:
        placed = [r for r in timetable.breaks if r.person == person.id]
        if len(placed) != len(person.breaks):
            yield breach(
                f"{person.id} has {len(placed)} breaks planned and "
                f"{len(person.breaks)} asked for"
            )
        elif not _breaks_match(list(person.breaks), placed):
            yield breach(
                f"a break of {person.id} lies outside its window: ", _said(person)
            )


def _breaks_match(asked: list[Break], placed: list[PlacedBreak]) -> bool:
    if not asked:
        return True
    first, rest = asked[0], asked[1:]
    for i, r in enumerate(placed):
        in_window = first.earliest_min <= r.start_min <= first.latest_start_min
        as_long = r.end_min - r.start_min == first.duration_min
        if in_window and as_long and _breaks_match(rest, placed[:i] + placed[i + 1 :]):
            return True
    return False


def _said(person: Person) -> Sentence:
    parts: list[str | Minute] = []
    for b in person.breaks:
        parts += ["; "] if parts else []
        parts += [f"{b.duration_min} min starting ", Minute(b.earliest_min)]
        parts += [" to ", Minute(b.latest_start_min)]
    return says(*parts)

"""The judge of pots, mills and burners: one holder at a time, and each fit for it."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.methods.step import Step
from stillroom.planning.judge.breach import About, Breach, breach
from stillroom.planning.problem import Problem
from stillroom.planning.spoken_of import Minute, Sentence, StepOf, TheLoad, says
from stillroom.planning.timetable import PlacedStep, Timetable


def tool_breaches(problem: Problem, timetable: Timetable) -> tuple[Breach, ...]:
    """What is broken of pots, mills and burners; all that is named is in the day."""
    rules = (_pots, _mills, _washes, _fit_for_it, _burners)
    return tuple(found for rule in rules for found in rule(problem, timetable))


def named(placed: PlacedStep) -> Sentence:
    """Name a step in what the judge says of it."""
    return says(StepOf(placed.batch, placed.step), f" of {placed.batch}")


def _pots(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    size = {p.id: p.size for p in problem.pots}
    spans: list[tuple[str, str, int, int]] = []
    for batch in problem.batches:
        inside = {s.id for s in batch.steps if s.in_pot}
        placed = [
            s for s in timetable.steps if s.batch == batch.id and s.step in inside
        ]
        for s in timetable.steps:
            if (
                s.batch == batch.id
                and s.pot
                and (s.step not in inside or not batch.pots)
            ):
                yield breach(named(s), f" is put into pot {s.pot}; it needs none")
        if not batch.pots or not placed:
            continue
        pots = {s.pot for s in placed}
        if None in pots:
            yield breach(f"{batch.id} has no pot for all of its steps")
        elif len(pots) > 1:
            yield breach(
                f"{batch.id} changes pots: {', '.join(sorted(str(p) for p in pots))}"
            )
        else:
            pot = str(placed[0].pot)
            if size[pot] not in batch.pots:
                allowed = ", ".join(batch.pots)
                yield breach(
                    f"{batch.id} is in pot {pot} ({size[pot]}); allowed are {allowed}"
                )
            start, end = (
                min(s.start_min for s in placed),
                max(s.end_min for s in placed),
            )
            spans.append((pot, batch.id, start, end))
    yield from _twice("pot", spans)


def _mills(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    spans: list[tuple[str, str, int, int]] = []
    for batch in problem.batches:
        on_it = {s.id for s in batch.steps if s.on_mill}
        own = [s for s in timetable.steps if s.batch == batch.id]
        for s in own:
            if s.mill is not None and s.step not in on_it:
                yield breach(named(s), f" is put on mill {s.mill}; it needs none")
        placed = [s for s in own if s.step in on_it]
        if not placed:
            continue
        mills = {s.mill for s in placed}
        if len(mills) > 1 or None in mills:
            yield breach(
                f"{batch.id} has not one mill for all of its milling and washing"
            )
            continue
        start, end = min(s.start_min for s in placed), max(s.end_min for s in placed)
        spans.append((str(placed[0].mill), batch.id, start, end))
    yield from _twice("mill", spans)


def _washes(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    """A pot or mill goes from one product to another, and to its shelf, only washed."""
    batch_of = {b.id: b for b in problem.batches}
    step_of = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    for rinse in timetable.steps:
        if not rinse.rinsed:
            continue
        wash = step_of[rinse.batch, rinse.step]
        kind = "pot" if wash.in_pot else "mill"
        came = rinse.pot if wash.in_pot else rinse.mill
        if wash.rinse_min is None or came is None:
            yield breach(
                named(rinse), " is planned as a rinse; it is no wash of that kind"
            )
            continue
        later = [
            s
            for s in timetable.steps
            if s.batch != rinse.batch
            and s.start_min >= rinse.start_min
            and (s.pot if wash.in_pot else s.mill) == came
            and _holds(step_of[s.batch, s.step], kind)
        ]
        if not later:
            yield breach(
                f"{kind} {came} is only rinsed after {rinse.batch} and not used again: "
                "it is washed at the end",
                about=About.LAST_WASH,
            )
            continue
        follows = batch_of[min(later, key=lambda s: s.start_min).batch]
        before = batch_of[rinse.batch]
        if (before.contents or before.product) != (follows.contents or follows.product):
            yield breach(
                f"{kind} {came} goes from {before.id} to {follows.id} only rinsed; "
                "between two products it is washed"
            )


def _holds(step: Step, kind: str) -> bool:
    return step.in_pot if kind == "pot" else step.on_mill


def _twice(kind: str, spans: list[tuple[str, str, int, int]]) -> Iterator[Breach]:
    """Two spans (name, holder, start, end) on one name at one time."""
    for i, (name, holder, start, end) in enumerate(spans):
        for other, other_holder, other_start, other_end in spans[:i]:
            if name == other and start < other_end and other_start < end:
                at = max(start, other_start)
                yield breach(
                    f"{kind} {name} holds {other_holder} and {holder} at ", Minute(at)
                )


def _fit_for_it(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    """A fire for each step that needs one, strong enough, that bears the pot."""
    step_of = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    burner_of = {b.id: b for b in problem.burners}
    size = {p.id: p.size for p in problem.pots}
    for s in timetable.steps:
        needed = step_of[s.batch, s.step].burner_w
        if needed <= 0:
            if s.burner is not None:
                yield breach(named(s), f" needs no fire but is on burner {s.burner}")
            continue
        if s.burner is None:
            yield breach(named(s), " needs a burner and has none")
            continue
        burner = burner_of[s.burner]
        if burner.power_w < needed:
            yield breach(
                named(s),
                f" is on burner {s.burner} of {burner.power_w:g} W; "
                f"it needs {needed:g} W",
            )
        if (
            s.pot is not None
            and burner.takes is not None
            and size[s.pot] not in burner.takes
        ):
            yield breach(
                named(s),
                f" is in pot {s.pot} on burner {s.burner}, which does not "
                f"bear a pot of {size[s.pot]}",
            )


def _burners(problem: Problem, timetable: Timetable) -> Iterator[Breach]:
    """One pot or canner on a burner at a time; a pot on the fire stays where it is."""
    step_of = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    fires = [
        s
        for s in timetable.steps
        if s.burner is not None and step_of[s.batch, s.step].burner_w > 0
    ]
    for i, s in enumerate(fires):
        for other in fires[:i]:
            together = (
                s.batch == other.batch
                and step_of[s.batch, s.step].in_pot
                and step_of[other.batch, other.step].in_pot
            )
            if together:
                touch = s.start_min <= other.end_min and other.start_min <= s.end_min
                if touch and s.burner != other.burner:
                    yield breach(
                        named(s),
                        f" is on burner {s.burner}, ",
                        StepOf(other.batch, other.step),
                        f" without gap on {other.burner}: "
                        "a pot on the fire stays on its burner",
                    )
            elif (
                s.burner == other.burner
                and s.start_min < other.end_min
                and other.start_min < s.end_min
            ):
                yield breach(
                    f"burner {s.burner} holds ",
                    named(other),
                    " and ",
                    named(s),
                    " at once",
                )
    for load in timetable.loads:
        covered = next(c.burners for c in problem.canners if c.id == load.canner)
        for s in fires:
            if (
                s.burner in covered
                and s.start_min < load.stands_until_min
                and load.heat_min < s.end_min
            ):
                yield breach(
                    f"burner {s.burner} holds ",
                    named(s),
                    f" while canner {load.canner} is on it for ",
                    TheLoad(load.id),
                )
        for other_load in timetable.loads:
            shared = set(covered) & {
                name
                for c in problem.canners
                if c.id == other_load.canner
                for name in c.burners
            }
            if (
                load.canner < other_load.canner
                and shared
                and load.heat_min < other_load.stands_until_min
                and other_load.heat_min < load.stands_until_min
            ):
                yield breach(
                    f"canners {load.canner} and {other_load.canner} stand on burner "
                    f"{min(shared)} at once"
                )

"""
The rules of the day for the solver, one small function each.

`stillroom.planning.judge.check` says the rules again in plain loops and judges the
plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, zip_longest

from ortools.sat.python import cp_model

from stillroom.planning.bounding.bounds import (
    after_closing_min,
    least_load_min,
    least_loads,
)
from stillroom.planning.cpsat.loads import add_loads
from stillroom.planning.cpsat.people import Guards, add_hands
from stillroom.planning.cpsat.rinses import Span, kept_for_the_next, stand_rinsed
from stillroom.planning.cpsat.variables import Block, DayModel
from stillroom.planning.network import UNTIED, Network
from stillroom.planning.problem import Batch
from stillroom.planning.rinses import Tool
from stillroom.planning.words.hour_words import is_taken


def add_rules(day: DayModel, guards: Guards | None = None) -> Guards:
    """All rules of a day."""
    held = guards or Guards(day.model)
    add_time_lags(day)
    add_windows(day)
    add_hands(day, held)
    add_pots(day)
    add_mills(day)
    add_fires(day, held)
    add_loads(day, held)
    add_finish(day)
    add_list_order(day)
    return held


def add_time_lags(day: DayModel) -> None:
    """Links between chains; within a chain they hold by its making."""
    for batch in day.problem.batches:
        network = day.networks[batch.id]
        position = {s.id: i for i, s in enumerate(batch.steps)}
        for link in batch.links:
            i, j = position[link.before], position[link.after]
            if network.chain_of[i] == network.chain_of[j]:
                continue
            gap = day.start(batch.id, j) - day.end(batch, i)
            if link.at_most_min is None:
                day.model.add(gap >= link.at_least_min)
            else:
                day.model.add_linear_constraint(
                    gap, link.at_least_min, link.at_most_min
                )


def add_windows(day: DayModel) -> None:
    """What is ready by the clock begins no sooner, and what must be seen no later."""
    for batch in day.problem.batches:
        position = {s.id: i for i, s in enumerate(batch.steps)}
        for window in batch.windows:
            start = day.start(batch.id, position[window.step])
            day.model.add(start >= window.earliest_min)
            if window.latest_min is not None:
                day.model.add(start <= window.latest_min)


# --- pots, mills, fires ------------------------------------------------------------


def add_pots(day: DayModel) -> None:
    """Pots of a size: never more held, from first use until clean for the next."""
    model = day.model
    held: dict[str, list[cp_model.IntervalVar]] = {}
    spans: dict[str, Span] = {}
    for batch in day.problem.batches:
        sizes = day.pot_size.get(batch.id)
        if sizes is None:
            continue
        model.add_exactly_one(sizes.values())
        inside = [i for i, s in enumerate(batch.steps) if s.in_pot]
        spans[batch.id] = _span(day, batch, inside, "pot")
    for batch_id, span in kept_for_the_next(day, Tool.POT, spans).items():
        for size, literal in day.pot_size[batch_id].items():
            held.setdefault(size, []).append(
                model.new_optional_interval_var(
                    span.start, span.length, span.end, literal, f"{batch_id} in {size}"
                )
            )
    for kept, stands in stand_rinsed(day, Tool.POT, spans):
        held.setdefault(kept.size, []).append(stands)
    for size, intervals in held.items():
        pots = sum(1 for p in day.problem.pots if p.size == size)
        model.add_cumulative(intervals, [1] * len(intervals), pots)


def add_mills(day: DayModel) -> None:
    """A mill is held from the first milling until it is clean for the next."""
    spans: dict[str, Span] = {}
    for batch in day.problem.batches:
        on_it = [i for i, s in enumerate(batch.steps) if s.on_mill]
        if on_it:
            spans[batch.id] = _span(day, batch, on_it, "mill")
    held = [
        day.model.new_interval_var(span.start, span.length, span.end, f"{name} mill")
        for name, span in kept_for_the_next(day, Tool.MILL, spans).items()
    ]
    held += [stands for _, stands in stand_rinsed(day, Tool.MILL, spans)]
    if len(held) > 1:
        day.model.add_cumulative(held, [1] * len(held), day.problem.mills)


def _span(day: DayModel, batch: Batch, inside: list[int], what: str) -> Span:
    """The time from the first of some steps to the last."""
    model, network = day.model, day.networks[batch.id]
    steps = [_shortest(day, batch, i) for i in range(len(batch.steps))]
    first = [i for i in inside if all(network.lag[i][j] >= 0 for j in inside)]
    last = [
        i
        for i in inside
        if all(network.lag[j][i] + steps[i] >= steps[j] for j in inside)
    ]
    length = max(network.lag[i][j] + steps[j] for i in inside for j in inside)
    size = model.new_int_var(max(0, length), day.horizon, f"{batch.id} {what} held")
    if first:
        start = day.start(batch.id, first[0])
    else:
        begins = model.new_int_var(0, day.horizon, f"{batch.id} {what} from")
        model.add_min_equality(begins, [day.start(batch.id, i) for i in inside])
        start = begins
    if last:
        end = day.end(batch, last[0])
    else:
        ends = model.new_int_var(0, day.horizon, f"{batch.id} {what} until")
        model.add_max_equality(ends, [day.end(batch, i) for i in inside])
        end = ends
    return Span(start, size, end)


def _shortest(day: DayModel, batch: Batch, step: int) -> int:
    rinse = day.rinses.get((batch.id, step))
    if rinse is None:
        return batch.steps[step].duration_min
    return rinse.full_min - rinse.saved_min


def add_fires(day: DayModel, guards: Guards | None = None) -> None:
    """Burners of a class: pots and canners on them never more than there are."""
    model = day.model
    held: dict[int, list[tuple[cp_model.IntervalVar, int]]] = {}
    for n, block in enumerate(day.blocks):
        model.add_exactly_one(block.at.values())
        for c, literal in block.at.items():
            on_it = model.new_optional_fixed_size_interval_var(
                block.start, block.length, literal, f"fire {n} at {c}"
            )
            held.setdefault(c, []).append((on_it, 1))
    for canner, on_it in _canners_on_fire(day):
        for c, alike in enumerate(day.classes):
            if canner in alike.canners:
                held.setdefault(c, []).append((on_it, len(alike.burners)))
    for c, intervals in held.items():
        many = len(day.classes[c].burners)
        intervals += [(taken, many) for taken in _taken(day, c, guards)]
        model.add_cumulative(
            [i for i, _ in intervals],
            [demand for _, demand in intervals],
            len(day.classes[c].burners),
        )
    _add_bears_the_pot(day)
    _add_stays_on_fire(day)


def _taken(
    day: DayModel, c: int, guards: Guards | None
) -> Iterator[cp_model.IntervalVar]:
    """When burners of a class are somebody else's, all of them at once."""
    model, alike = day.model, day.classes[c]
    # a canner with jars in it is not carried: whose the burner is then waits for it
    stands = [day.stands[name] for name in day.stands if name in alike.canners]
    firm = [out for since, out in stands if isinstance(out, int) and out > since]
    loose = [out for _, out in stands if not isinstance(out, int)]
    for start, end in alike.taken:
        name, since = f"{c} taken {start}", max([start, *firm])
        said = is_taken(day.problem, alike.burners, (start, end))
        literal = guards.on(said) if guards else None
        if since >= end:
            continue
        if literal is not None:
            yield model.new_optional_fixed_size_interval_var(
                since, end - since, literal, name
            )
        elif not loose:
            yield model.new_fixed_size_interval_var(since, end - since, name)
        else:
            latest = max(end, 2 * day.horizon)
            begins = model.new_int_var(since, latest, f"{name} begins")
            model.add_max_equality(begins, [since, *loose])
            over = model.new_int_var(end, latest, f"{name} is over")
            model.add_max_equality(over, [begins, end])
            lasts = model.new_int_var(0, end - since, f"{name} lasts")
            yield model.new_interval_var(begins, lasts, over, name)


def _canners_on_fire(day: DayModel) -> Iterator[tuple[str, cp_model.IntervalVar]]:
    """Each load's canner, from heating until its jars are out, or while it stays."""
    model = day.model
    for canner, line in day.slots.items():
        for slot, following in zip_longest(line, line[1:]):
            latest = day.horizon + slot.canner.unload_min
            until = slot.out
            if following is not None:
                until = model.new_int_var(0, latest, f"{slot.heat} stands until")
                model.add(until == following.heat).only_enforce_if(following.stays)
                model.add(until == slot.out).only_enforce_if(~following.stays)
            length = model.new_int_var(0, latest, f"{slot.heat} stands")
            model.add(length == until - slot.heat)
            yield (
                canner,
                model.new_optional_interval_var(
                    slot.heat, length, until, slot.present, f"{slot.heat} on fire"
                ),
            )
    for canner, (since, out) in day.stands.items():
        until = model.new_int_var(since, 2 * day.horizon, f"{canner} stands until")
        length = model.new_int_var(0, 2 * day.horizon, f"{canner} stands")
        model.add(until >= out)
        model.add(length == until - since)
        line = day.slots.get(canner, [])
        there = model.new_bool_var(f"{canner} stands there")
        # with its fire kept on for the next load, that load covers it from then on
        model.add(there == (1 - line[0].hot if line else 1))
        if line:
            model.add(until >= line[0].heat).only_enforce_if(line[0].stays)
        yield (
            canner,
            model.new_optional_interval_var(
                since, length, until, there, f"{canner} on fire"
            ),
        )


def _add_bears_the_pot(day: DayModel) -> None:
    """A burner bears the pots that it is said to bear."""
    for block in day.blocks:
        if not block.in_pot:
            continue
        for size, in_it in day.pot_size.get(block.batch, {}).items():
            for c, at in block.at.items():
                takes = day.classes[c].takes
                if takes is not None and size not in takes:
                    day.model.add_bool_or(~at, ~in_it)


def _add_stays_on_fire(day: DayModel) -> None:
    """Two fires of one pot that touch are one burner's: else a minute lies between."""
    for batch in day.problem.batches:
        mine = [b for b in day.blocks if b.batch == batch.id and b.in_pot]
        for n, block in enumerate(mine):
            for other in mine[:n]:
                _add_apart_or_same(day, batch, other, block)


def may_touch(network: Network, a: Block, b: Block) -> bool:
    """Whether two fires of one batch may follow each other without a gap."""
    a_to_b = network.lag[a.steps[0]][b.steps[0]]
    b_to_a = network.lag[b.steps[0]][a.steps[0]]
    return a_to_b <= a.length and b_to_a <= b.length


def _add_apart_or_same(day: DayModel, batch: Batch, a: Block, b: Block) -> None:
    model, network = day.model, day.networks[batch.id]
    if not may_touch(network, a, b):
        return
    a_to_b = network.lag[a.steps[0]][b.steps[0]]
    b_to_a = network.lag[b.steps[0]][a.steps[0]]
    same = model.new_bool_var(f"{batch.id} {a.steps} {b.steps} on one burner")
    for c in set(a.at) | set(b.at):
        left, right = a.at.get(c), b.at.get(c)
        if left is not None and right is not None:
            model.add(left == right).only_enforce_if(same)
        elif left is not None:
            model.add_implication(same, ~left)
        elif right is not None:
            model.add_implication(same, ~right)
    ways = [same]
    if b_to_a == UNTIED or b_to_a < 0:
        first = model.new_bool_var(f"{batch.id} {a.steps} apart before {b.steps}")
        model.add(b.start >= a.start + a.length + 1).only_enforce_if(first)
        ways.append(first)
    if a_to_b == UNTIED or a_to_b < 0:
        second = model.new_bool_var(f"{batch.id} {b.steps} apart before {a.steps}")
        model.add(a.start >= b.start + b.length + 1).only_enforce_if(second)
        ways.append(second)
    model.add_exactly_one(ways)


# --- the end, and what only helps the search ---------------------------------------


def add_finish(day: DayModel) -> None:
    """The finish is after every step and load; wants are late by what they miss."""
    model = day.model
    problem, finish = day.problem, day.finish
    assert finish is not None
    for batch in day.problem.batches:
        network = day.networks[batch.id]
        for chain, start in zip(network.chains, day.starts[batch.id], strict=True):
            model.add(finish >= start + network.tail[chain.members[0][0]])
        for i, step in enumerate(batch.steps):
            if (batch.id, i) in day.rinses:
                model.add(finish >= day.end(batch, i))
            if batch.process is not None and batch.ready_after in ("", step.id):
                model.add(
                    finish >= day.end(batch, i) + after_closing_min(problem, batch)
                )
    for line in day.slots.values():
        for n, slot in enumerate(line):
            model.add(finish >= slot.out).only_enforce_if(slot.present)
            later = [
                least_load_min(problem, s.canner) * s.present for s in line[n + 1 :]
            ]
            if later:
                total = cp_model.LinearExpr.sum(later)
                model.add(finish >= slot.out + total).only_enforce_if(slot.present)
    for want, (_, late) in zip(day.problem.wants, day.late, strict=True):
        for batch in day.problem.batches:
            if want.product not in batch.serves:
                continue
            if batch.process is None:
                for i, step in enumerate(batch.steps):
                    if batch.ready_after in ("", step.id):
                        model.add(late >= day.end(batch, i) - want.by_min)
            for slot in day.all_slots():
                if batch.id in slot.aboard:
                    model.add(late >= slot.out - want.by_min).only_enforce_if(
                        slot.aboard[batch.id]
                    )
    fewest = least_loads(day.problem)
    if fewest:
        model.add(sum(s.present for s in day.all_slots()) >= fewest)


def twins(batches: tuple[Batch, ...]) -> list[list[Batch]]:
    """Batches that differ in nothing but their name, in the order of the list."""
    alike: dict[tuple[object, ...], list[Batch]] = {}
    for b in batches:
        key = (b.serves, b.jars, b.process, b.pots, b.ready_after)
        alike.setdefault(
            (*key, b.closed_wait_at_most_min, b.steps, b.links, b.windows), []
        ).append(b)
    return [group for group in alike.values() if len(group) > 1]


def add_list_order(day: DayModel) -> None:
    """Twins are closed in the list's order; of like canners the first does no less."""
    for group in twins(day.problem.batches):
        for first, second in pairwise(group):
            i = ordering_step(first)
            day.model.add(day.end(first, i) <= day.end(second, i))
    for alike in like_canners(day):
        for a, b in pairwise(alike):
            for left, right in zip(day.slots[a], day.slots[b], strict=True):
                day.model.add_implication(right.present, left.present)


def ordering_step(batch: Batch) -> int:
    """Position of the step that twins are ordered by."""
    ids = [s.id for s in batch.steps]
    return ids.index(batch.ready_after) if batch.ready_after in ids else len(ids) - 1


def like_canners(day: DayModel) -> list[list[str]]:
    """Canners that differ in nothing but their name and in which burners they cover."""
    alike: dict[tuple[object, ...], list[str]] = {}
    for c in day.problem.canners:
        mine = [k for k in day.classes if c.id in k.canners]
        if any(len(k.canners) > 1 for k in mine):
            continue  # a shared burner makes a difference
        fires = sorted(
            (k.power_w, len(k.burners), sorted(k.takes or ()), k.taken) for k in mine
        )
        times = (c.first_heat_min, c.reheat_min, c.stays_hot_min, c.load_min)
        rest = (
            c.come_up_min,
            tuple(sorted((of, up.minutes) for of, up in c.come_up_of.items())),
            c.rest_min,
            c.unload_min,
            tuple(sorted(c.places.items())),
        )
        alike.setdefault((repr(fires), times, rest), []).append(c.id)
    return [group for group in alike.values() if len(group) > 1]

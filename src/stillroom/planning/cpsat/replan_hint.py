"""Where the search begins: the old order, put off as far as the past asks."""

from __future__ import annotations

from collections.abc import Mapping

from ortools.sat.python import cp_model

from stillroom.planning.begun.put_off import PutOff
from stillroom.planning.begun.residual import NOW, Residual
from stillroom.planning.cpsat.reading import rinse_hints
from stillroom.planning.cpsat.rest import OfOld, RestModel
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.words.canner_moved import loads_after_a_move

NEVER = 100_000
"""Later than any minute of a day: what the old order has no use for."""


def of_the_old_order(
    model: RestModel,
    residual: Residual,
    old: Timetable,
    to_come: dict[str, list[PlacedLoad]],
    later: PutOff,
    now: int,
) -> list[OfOld]:
    """
    Return a value for each decision under the old order.

    Which of them may be left open is noted in ``model.loose``: water that would have
    grown cold, jars that would have stood, or a lift that comes late may ask for other
    minutes.
    """
    of_loads: set[int] = set()
    of_lifts: set[int] = set()
    of_work: set[int] = set()
    model.loose = (of_loads, of_lifts, of_work)
    day = model.day
    placed = {(s.batch, s.step): s for s in old.steps}
    size_of = {p.id: p.size for p in residual.problem.pots}
    class_of = {name: c for c, k in enumerate(day.classes) for name in k.burners}
    found: list[OfOld] = []
    for batch in residual.problem.batches:
        network = day.networks[batch.id]
        for chain, var in zip(network.chains, day.starts[batch.id], strict=True):
            root = batch.steps[chain.members[0][0]].id
            was = at = now
            if root != NOW:
                was, at = placed[batch.id, root].start_min, later.start[batch.id, root]
            found.append(OfOld(var, max(now, at), max(now, was), was, is_time=True))
            of_work.add(var.index)
        in_pots = [s for s in old.steps if s.batch == batch.id and s.pot]
        pot = in_pots[0].pot if in_pots else None
        since = min((s.start_min for s in in_pots), default=NEVER)
        sizes = day.pot_size.get(batch.id, {})
        chosen = size_of[pot] if pot is not None else None
        found += _one_of({v: s == chosen for s, v in sizes.items()}, since)
    found += [OfOld(var, value) for var, value in rinse_hints(day, old)]
    steps = {b.id: b.steps for b in residual.problem.batches}
    for hands in day.hands:
        if hands.steps:
            step = placed[hands.batch, steps[hands.batch][hands.steps[0]].id]
            is_by = {v: p == step.person for p, v in hands.by.items()}
            found += _one_of(is_by, step.start_min)
    for block in day.blocks:
        if block.steps:
            step = placed[block.batch, steps[block.batch][block.steps[0]].id]
            fire = class_of[str(step.burner)]
            is_at = {v: c == fire for c, v in block.at.items()}
            found += _one_of(is_at, step.start_min)
    moved = loads_after_a_move(residual.problem, old)
    for canner, line in day.slots.items():
        loads = to_come.get(canner, [])
        for n, slot in enumerate(line):
            load = loads[n] if n < len(loads) else None
            lower = load.lower_min if load else NEVER
            found += _one_of({slot.present: load is not None}, lower)
            jars = dict(load.jars) if load else {}
            for name, var in slot.jars.items():
                many = jars.get(name, 0)
                found.append(OfOld(var, many, many, lower))
            if load is not None:
                lift = load.lift_min
                put = [later.start[load.id, what] for what in ("lower", "lift")]
                stays = load.id not in moved and (n > 0 or canner in model.before)
                found += [
                    OfOld(slot.lower, put[0], lower, lower, is_time=True),
                    OfOld(slot.lift, put[1], lift, lift, is_time=True),
                    OfOld(slot.hot, int(load.hot), int(load.hot), lower),
                    OfOld(slot.stays, int(stays)),
                ]
                of_loads |= {of.var.index for of in found[-4:]}
                lowers = {v: p == load.lowered_by for p, v in slot.lowered_by.items()}
                lifts = {v: p == load.lifted_by for p, v in slot.lifted_by.items()}
                found += _one_of(lowers, lower) + _one_of(lifts, lift)
                of_lifts |= {v.index for v in slot.lifted_by.values()}
    for running in model.running:
        if running.by:
            assert isinstance(running.lift, cp_model.IntVar)
            lift, put_off = running.load.lift_min, later.start[running.load.id, "lift"]
            found.append(OfOld(running.lift, put_off, lift, lift, is_time=True))
            by = running.load.lifted_by
            found += _one_of({v: p == by for p, v in running.by.items()}, lift)
            of_lifts |= {running.lift.index, *(v.index for v in running.by.values())}
    for person, starts in day.breaks.items():
        rests = [r for r in old.breaks if r.person == person]
        for start, rest in zip(reversed(starts), reversed(rests), strict=False):
            at = max(now, later.breaks.get(rest, rest.start_min))
            if at <= max(start.proto.domain):  # else it goes where it still may
                found.append(OfOld(start, at))
                of_lifts.add(start.index)
    return found


def _one_of(chosen: Mapping[cp_model.IntVar, bool], minute: int) -> list[OfOld]:
    """Choices, as they were for what begins at a minute."""
    return [OfOld(v, int(is_it), int(is_it), minute) for v, is_it in chosen.items()]

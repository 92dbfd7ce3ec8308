"""
Which batches at all, as one question to the solver: every batch may be left out.

The model is that of a day, with a literal for each batch that says that it is left out:
then it takes no hands, no pot, no mill, no fire, no place in a load. What is made small
is what is left out, each batch weighing more than all that would be missed less
together. So the solver may give up two for one that is missed more, which building a
set one after another never does; and where it ends, it is proven that no set is better.
"""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from stillroom.planning.bounding.bounds import after_closing_min
from stillroom.planning.cpsat import constraints
from stillroom.planning.cpsat.loads import add_loads
from stillroom.planning.cpsat.people import Guards, add_hands
from stillroom.planning.cpsat.reading import hints_of, timetable_of
from stillroom.planning.cpsat.solve import Search
from stillroom.planning.cpsat.solving import new_solver, solved
from stillroom.planning.cpsat.variables import DayModel, make_variables, slots_needed
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Timetable

WORK_A_SECOND = 0.1
"""Deterministic time for each second asked for: an idle core takes about two."""
MOST_WEIGHTS = 50
"""So many batches are told apart by weights that a solver still counts exactly."""
LEAST_S = 0.05

Literal = cp_model.IntVar


@dataclass(frozen=True, slots=True, kw_only=True)
class Which:
    """What the solver came to."""

    kept: tuple[str, ...]
    """Ids of the batches that are made, the most missed first."""
    timetable: Timetable | None
    """A plan of those, not made to end early."""
    proven_out: frozenset[str]
    """Batches that no set which is better, or as good, up to them can have."""


def which_batches(
    problem: Problem,
    order: Sequence[str],
    search: Search,
    *,
    kept: Sequence[str] = (),
    start: Timetable | None = None,
    at_least_jars: int = 0,
) -> Which:
    """
    Return the set whose batches would be missed most, as far as it is found.

    Parameters
    ----------
    problem : Problem
        A day that has no plan with all of its batches.
    order : sequence of str
        Ids of its batches, the most missed first.
    search : Search
        Time, workers, seed.
    kept : sequence of str
        A set that is known to fit.
    start : Timetable, optional
        A plan of those.
    at_least_jars : int
        A set with fewer jars is of no use: ``kept`` has as many.
    """
    never = _never(problem)
    order = [name for name in order if name not in never]
    problem = _only(problem, order)
    if not order:
        return Which(kept=(), timetable=None, proven_out=never)
    used = Tally(load.canner for load in start.loads) if start is not None else {}
    most = max(used.values(), default=0)  # for each alike: like canners are compared
    slots = {name: max(n, most) for name, n in slots_needed(problem).items()}
    day = make_variables(
        problem, horizon=problem.horizon_min, slots=slots, earliest_finish=0
    )
    out = {name: day.model.new_bool_var(f"{name} is out") for name in order}
    _add_rules(day, out)
    for follow in day.follows:  # nothing is rinsed for what is not made
        day.model.add_implication(out[follow.before], ~follow.holds)
        day.model.add_implication(out[follow.after], ~follow.holds)
    if start is not None:
        _hint(day, out, _only(problem, kept), start, slots, search)
    if at_least_jars:
        jars = {b.id: b.jars for b in problem.batches}
        given_up = sum(jars[name] * literal for name, literal in out.items())
        day.model.add(given_up <= sum(jars.values()) - at_least_jars)
    last = len(order) - 1
    weight = {
        name: 2 ** max(0, min(last, MOST_WEIGHTS) - n) for n, name in enumerate(order)
    }
    day.model.minimize(sum(weight[name] * literal for name, literal in out.items()))
    solver = _solver(search)
    status = solved(solver, day.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Which(kept=tuple(kept), timetable=start, proven_out=never)
    made = [name for name in order if not solver.value(out[name])]
    return Which(
        kept=tuple(made),
        timetable=_timetable(day, solver, made),
        proven_out=never | _proven(order, made, weight, solver.best_objective_bound),
    )


def _solver(search: Search) -> cp_model.CpSolver:
    solver = new_solver()
    parameters = solver.parameters
    parameters.num_workers = search.workers
    parameters.random_seed = search.seed
    seconds = max(LEAST_S, search.left())
    parameters.max_time_in_seconds = seconds
    if search.deterministic:
        parameters.interleave_search = True
        parameters.max_deterministic_time = seconds * WORK_A_SECOND
        parameters.max_time_in_seconds = search.wall_s()
    return solver


def _proven(
    order: Sequence[str], made: Sequence[str], weight: dict[str, int], bound: float
) -> frozenset[str]:
    """Left-out batches, from the most missed on, that the bound says must be out."""
    least, cost, proven = round(bound), 0, set()
    for name in order[: MOST_WEIGHTS + 1]:
        if name in made:
            continue
        cost += weight[name]
        if least < cost:
            break
        proven.add(name)
    return frozenset(proven)


def _only(problem: Problem, names: Sequence[str]) -> Problem:
    batches = tuple(b for b in problem.batches if b.id in names)
    return replace(problem, batches=batches, wants=())


def _never(problem: Problem) -> frozenset[str]:
    """Batches with nobody, no pot, no fire, no load or no hours for them alone."""
    found = set()
    for batch in problem.batches:
        alone = _only(problem, [batch.id])
        day = make_variables(
            alone,
            horizon=problem.horizon_min,
            slots={c.id: 1 for c in problem.canners},
            earliest_finish=0,
        )
        network = day.networks[batch.id]
        spans = zip(network.earliest, network.tail, strict=True)
        places = [slot for slot in day.all_slots() if batch.id in slot.jars]
        if (
            any(early + tail > problem.horizon_min for early, tail in spans)
            or any(not hands.by for hands in day.hands)
            or any(not block.at for block in day.blocks)
            or day.pot_size.get(batch.id) == {}
            or (batch.process is not None and not places)
        ):
            found.add(batch.id)
    return frozenset(found)


# --- the rules, with batches that may be left out ---------------------------------


def _add_rules(day: DayModel, out: dict[str, Literal]) -> None:
    guards = Guards(day.model)
    constraints.add_time_lags(day)
    add_hands(day, guards)
    constraints.add_pots(day)
    constraints.add_mills(day)
    constraints.add_fires(day)
    add_loads(day, guards)
    _make_optional(day, out)
    for follow in day.follows:  # nothing is rinsed for a batch that is not made
        day.model.add_implication(out[follow.before], ~follow.holds)
        day.model.add_implication(out[follow.after], ~follow.holds)
    for batch in day.problem.batches:
        _add_windows(day, batch, ~out[batch.id])
        _add_end(day, batch, ~out[batch.id])
    assert day.finish is not None
    for slot in day.all_slots():
        day.model.add(day.finish >= slot.out).only_enforce_if(slot.present)
    constraints.add_list_order(day)


def _make_optional(day: DayModel, out: dict[str, Literal]) -> None:
    """
    Rewrite the rules that say "exactly one": of its ways, or it is left out.

    Likewise "in one load at least", the sum of its jars, and what always takes place.
    """
    ways: dict[int, str] = {}
    for hands in day.hands:
        ways.update({v.index: hands.batch for v in hands.by.values()})
    for block in day.blocks:
        ways.update({v.index: block.batch for v in block.at.values()})
    for batch, sizes in day.pot_size.items():
        ways.update({v.index: batch for v in sizes.values()})
    aboard: dict[int, str] = {}
    jars: dict[int, str] = {}
    for slot in day.all_slots():
        aboard.update({v.index: b for b, v in slot.aboard.items()})
        jars.update({v.index: b for b, v in slot.jars.items()})
    held = _always_held(day)
    number = {b.id: b.jars for b in day.problem.batches}
    for rule in day.model.proto.constraints:
        if rule.has_exactly_one():
            owner = ways.get(next(iter(rule.exactly_one.literals)))
            if owner is not None:
                rule.exactly_one.literals.append(out[owner].index)
        elif rule.has_bool_or():
            owner = _owner(rule.bool_or.literals, aboard)
            if owner is not None:
                rule.bool_or.literals.append(out[owner].index)
        elif rule.has_linear() and not list(rule.enforcement_literal):
            owner = _owner(rule.linear.vars, jars)
            if owner and list(rule.linear.domain) == [number[owner]] * 2:
                rule.linear.vars.append(out[owner].index)
                rule.linear.coeffs.append(number[owner])
        elif rule.has_interval() and not list(rule.enforcement_literal):
            owner = held.get(rule.name)
            if owner is not None:
                rule.enforcement_literal.append((~out[owner]).index)


def _always_held(day: DayModel) -> dict[str, str]:
    """Names of the intervals of a batch that are in every plan: hands and mills."""
    pieces = [(f"w{n}", p.hands.batch) for n, p in enumerate(day.pieces)]
    alone = dict(pieces)  # where one person only can do it
    together = {f"{name} all": batch for name, batch in pieces}
    return alone | together | {f"{b.id} mill": b.id for b in day.problem.batches}


def _owner(indices: Sequence[int], of: dict[int, str]) -> str | None:
    """The one batch that all of some variables belong to."""
    whose = {of.get(index) for index in indices}
    return whose.pop() if len(whose) == 1 else None


def _add_windows(day: DayModel, batch: Batch, made: cp_model.LiteralT) -> None:
    position = {s.id: i for i, s in enumerate(batch.steps)}
    for window in batch.windows:
        start = day.start(batch.id, position[window.step])
        day.model.add(start >= window.earliest_min).only_enforce_if(made)
        if window.latest_min is not None:
            day.model.add(start <= window.latest_min).only_enforce_if(made)


def _add_end(day: DayModel, batch: Batch, made: cp_model.LiteralT) -> None:
    """Its jars are out before the day is over, with all that follows its closing."""
    assert day.finish is not None
    network = day.networks[batch.id]
    for chain, start in zip(network.chains, day.starts[batch.id], strict=True):
        tail = network.tail[chain.members[0][0]]
        day.model.add(day.finish >= start + tail).only_enforce_if(made)
    after = after_closing_min(day.problem, batch)
    for i, step in enumerate(batch.steps):
        if batch.process is not None and batch.ready_after in ("", step.id):
            closed = day.end(batch, i)
            day.model.add(day.finish >= closed + after).only_enforce_if(made)


# --- to begin with, and what was found ----------------------------------------------


def _hint(
    day: DayModel,
    out: dict[str, Literal],
    smaller: Problem,
    start: Timetable,
    slots: dict[str, int],
    search: Search,
) -> None:
    """Hand over the plan of a smaller set, by the names of its variables."""
    less = make_variables(smaller, horizon=day.horizon, slots=slots, earliest_finish=0)
    index_of = {v.name: n for n, v in enumerate(day.model.proto.variables)}
    known = {index_of[var.name]: value for var, value in hints_of(less, start)}
    kept = {b.id for b in smaller.batches}
    absent = [v for h in day.hands if h.batch not in kept for v in h.by.values()]
    absent += [v for b in day.blocks if b.batch not in kept for v in b.at.values()]
    for batch, sizes in day.pot_size.items():
        absent += [] if batch in kept else sizes.values()
    for slot in day.all_slots():
        absent += [*slot.jars.values(), *slot.aboard.values(), *slot.kind.values()]
    known = {literal.index: 0 for literal in absent} | known
    known.update({v.index: int(name not in kept) for name, v in out.items()})
    for index, value in known.items():
        day.model.add_hint(day.model.get_int_var_from_proto_index(index), value)
    solver = new_solver()
    solver.parameters.num_workers = 1
    solver.parameters.symmetry_level = 0
    solver.parameters.fix_variables_to_their_hinted_value = True
    left = max(LEAST_S, search.left())
    if search.deterministic:
        left = search.wall_s()
    solver.parameters.max_time_in_seconds = left
    status = solved(solver, day.model)
    day.model.clear_hints()  # type: ignore[no-untyped-call]
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        for index, value in enumerate(solver.response_proto.solution):
            day.model.add_hint(day.model.get_int_var_from_proto_index(index), value)


def _timetable(
    day: DayModel, solver: cp_model.CpSolver, made: Sequence[str]
) -> Timetable:
    """Read the solution as a plan of the batches that are made."""
    less = replace(
        day,
        problem=_only(day.problem, made),
        hands=[h for h in day.hands if h.batch in made],
        blocks=[b for b in day.blocks if b.batch in made],
        pot_size={b: s for b, s in day.pot_size.items() if b in made},
        follows=[f for f in day.follows if f.before in made and f.after in made],
    )
    return timetable_of(less, solver.value)

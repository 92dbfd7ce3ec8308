"""
A day's decisions as solver variables: starts, hands, pots, fires, loads, breaks.

Pots of one size and burners of one class are counted here, not named; `names` gives the
names afterwards. A chain of no-wait steps has one start variable.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import ceil

from ortools.sat.python import cp_model

from stillroom.planning.bounding.bounds import able_people, least_loads, lifters_of
from stillroom.planning.cpsat.rinse_parts import Follow, Kept, Rinse, make_rinses
from stillroom.planning.network import Network, network_of
from stillroom.planning.problem import Batch, Canner, Problem, Process
from stillroom.planning.rinses import at_the_shortest

Expr = cp_model.LinearExpr


@dataclass(frozen=True, slots=True)
class BurnerClass:
    """Burners alike in power, covering canners, what they bear, and when taken."""

    power_w: float
    canners: frozenset[str]
    burners: tuple[str, ...]
    takes: frozenset[str] | None = None
    """Pot sizes; `None` for all."""
    taken: tuple[tuple[int, int], ...] = ()
    """When each of them is somebody else's, in order and apart. [min]"""


@dataclass(slots=True)
class Block:
    """Steps of one batch that stay on one fire: in a pot and without a gap."""

    batch: str
    steps: tuple[int, ...]
    start: Expr
    length: int
    in_pot: bool
    at: dict[int, cp_model.IntVar]
    """Burner class to the literal that puts it there."""


@dataclass(slots=True)
class Hands:
    """Steps that one person does."""

    batch: str
    steps: tuple[int, ...]
    by: dict[str, cp_model.IntVar]


@dataclass(slots=True)
class Piece:
    """Unbroken work of one `Hands` at one strength."""

    hands: Hands
    start: Expr
    length: int
    """At the shortest. [min]"""
    quarters: int
    rinse: Rinse | None = None

    @property
    def end(self) -> Expr:
        """When it is over."""
        return self.start + self.length if self.rinse is None else self.rinse.end


@dataclass(slots=True)
class Slot:
    """Room for one load of a canner; absent ones have all times at the day's end."""

    canner: Canner
    index: int
    present: cp_model.IntVar
    heat: cp_model.IntVar
    lower: cp_model.IntVar
    done: cp_model.IntVar
    lift: cp_model.IntVar
    fire_free: cp_model.IntVar
    hot: cp_model.IntVar
    stays: cp_model.IntVar
    """The canner has stood on its fire since the load before."""
    kind: dict[str, cp_model.IntVar]
    """Process id to the literal that the load has it."""
    jars: dict[str, cp_model.IntVar]
    aboard: dict[str, cp_model.IntVar]
    lowered_by: dict[str, cp_model.IntVar]
    lifted_by: dict[str, cp_model.IntVar]

    @property
    def out(self) -> Expr:
        """Minute at which the last jar is out."""
        return self.lift + self.canner.unload_min


@dataclass(slots=True)
class DayModel:
    """The model of a day and its variables."""

    problem: Problem
    model: cp_model.CpModel
    horizon: int
    classes: tuple[BurnerClass, ...]
    starts: dict[str, list[cp_model.IntVar]] = field(default_factory=dict)
    """Batch id to one start a chain."""
    networks: dict[str, Network] = field(default_factory=dict)
    hands: list[Hands] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)
    pot_size: dict[str, dict[str, cp_model.IntVar]] = field(default_factory=dict)
    rinses: dict[tuple[str, int], Rinse] = field(default_factory=dict)
    """By batch and position of the wash."""
    follows: list[Follow] = field(default_factory=list)
    kept: list[Kept] = field(default_factory=list)
    slots: dict[str, list[Slot]] = field(default_factory=dict)
    breaks: dict[str, list[cp_model.IntVar]] = field(default_factory=dict)
    stands: dict[str, tuple[int, Expr | int]] = field(default_factory=dict)
    """Canners that have had a load: on their fires since when, and until when at least;
    longer where they stay there for their next load."""
    finish: cp_model.IntVar | None = None
    late: list[tuple[int, cp_model.IntVar]] = field(default_factory=list)
    """Weight and minutes of each want."""
    spread_at_will: bool = False
    """Whether a batch may ride in as many loads as there are, as the judge lets it."""

    def start(self, batch: str, step: int) -> Expr:
        """Start of a step, by its position in the batch."""
        network = self.networks[batch]
        return self.starts[batch][network.chain_of[step]] + network.offset[step]

    def end(self, batch: Batch, step: int) -> Expr:
        """End of a step."""
        if (rinse := self.rinses.get((batch.id, step))) is not None:
            return rinse.end
        return self.start(batch.id, step) + batch.steps[step].duration_min

    def all_slots(self) -> list[Slot]:
        """Slots of all canners."""
        return [slot for line in self.slots.values() for slot in line]


def burner_classes(problem: Problem) -> tuple[BurnerClass, ...]:
    """Burners gathered by what makes them different, the weakest first."""
    alike: dict[BurnerClass, list[str]] = {}
    for burner in problem.burners:
        over = frozenset(c.id for c in problem.canners if burner.id in c.burners)
        like = BurnerClass(burner.power_w, over, (), burner.takes, burner.taken_apart)
        alike.setdefault(like, []).append(burner.id)
    ordered = sorted(
        alike.items(),
        key=lambda item: (
            item[0].power_w,
            sorted(item[0].canners),
            sorted(item[0].takes or ()),
            item[0].taken,
        ),
    )
    return tuple(replace(like, burners=tuple(ids)) for like, ids in ordered)


def slots_needed(
    problem: Problem, at_least: Mapping[str, int] | None = None
) -> dict[str, int]:
    """How many loads each canner is given room for."""
    with_jars = [b for b in problem.batches if b.process is not None]
    if not problem.canners or not with_jars:
        return {c.id: 0 for c in problem.canners}
    even = ceil(least_loads(problem) / len(problem.canners)) + 2
    most = sum(loads_of_batch(problem, b) for b in with_jars)
    used = at_least or {}
    return {
        c.id: min(most, max(even, *used.values(), 0) if used else even)
        for c in problem.canners
    }


def loads_of_batch(problem: Problem, batch: Batch) -> int:
    """Over how many loads a batch may be spread: two, or more where it must."""
    process = next(p for p in problem.processes if p.id == batch.process)
    places = max((c.places.get(process.jar, 0) for c in problem.canners), default=0)
    return max(2, ceil(batch.jars / places)) if places else 2


def make_variables(
    problem: Problem, *, horizon: int, slots: dict[str, int], earliest_finish: int
) -> DayModel:
    """All variables of a day, with no rule yet but their ranges."""
    day = DayModel(problem, cp_model.CpModel(), horizon, burner_classes(problem))
    day.rinses, day.follows = make_rinses(day.model, problem, horizon)
    for batch, short in zip(
        problem.batches, at_the_shortest(problem).batches, strict=True
    ):
        # nothing of a batch comes after its wash: only its tail is shorter
        _starts(day, short)
        _rinse_ends(day, batch)
        _hands(day, batch)
        _fires(day, batch)
        if batch.pots and any(s.in_pot for s in batch.steps):
            day.pot_size[batch.id] = {
                size: day.model.new_bool_var(f"{batch.id} in {size}")
                for size in batch.pots
                if any(p.size == size for p in problem.pots)
            }
    for person in problem.people:
        day.breaks[person.id] = [
            day.model.new_int_var(
                max(0, r.earliest_min),
                min(r.latest_start_min, horizon - r.duration_min),
                f"break {n} of {person.id}",
            )
            for n, r in enumerate(person.breaks)
        ]
    for canner in problem.canners:
        day.slots[canner.id] = [
            _slot(day, canner, index) for index in range(slots[canner.id])
        ]
    day.finish = day.model.new_int_var(min(earliest_finish, horizon), horizon, "finish")
    for n, want in enumerate(problem.wants):
        late = day.model.new_int_var(0, max(0, horizon - want.by_min), f"late {n}")
        day.late.append((want.weight, late))
    return day


def _rinse_ends(day: DayModel, batch: Batch) -> None:
    for (name, i), rinse in day.rinses.items():
        if name == batch.id:
            day.model.add(rinse.end == day.start(name, i) + rinse.length)


def _starts(day: DayModel, batch: Batch) -> None:
    network = network_of(batch)
    day.networks[batch.id] = network
    line = []
    for chain in network.chains:
        root = chain.members[0][0]
        low, high = network.earliest[root], day.horizon - network.tail[root]
        name = f"{batch.id}: {batch.steps[root].id}"
        line.append(day.model.new_int_var(low, max(low, high), name))
        if high < low:
            day.model.add_bool_or([])  # the batch alone is longer than the day
    day.starts[batch.id] = line


def _hands(day: DayModel, batch: Batch) -> None:
    network = day.networks[batch.id]
    groups: dict[str, list[int]] = {}
    for i, step in enumerate(batch.steps):
        if step.attention_quarters:
            groups.setdefault(step.same_hands or f" {i}", []).append(i)
    for word, members in groups.items():
        able = sorted(able_people(day.problem, batch, members[0]))
        hands = Hands(
            batch.id,
            tuple(members),
            {
                p: day.model.new_bool_var(f"{batch.id} {word.strip()} by {p}")
                for p in able
            },
        )
        day.hands.append(hands)
        members.sort(key=lambda i: (network.chain_of[i], network.offset[i]))
        last: tuple[Piece, int, int] | None = None
        for i in members:
            step, offset = batch.steps[i], network.offset[i]
            chain = network.chain_of[i]
            if (rinse := day.rinses.get((batch.id, i))) is not None:
                short = rinse.full_min - rinse.saved_min
                begins, asked = day.start(batch.id, i), step.attention_quarters
                day.pieces.append(Piece(hands, begins, short, asked, rinse))
                last = None
                continue
            if (
                last
                and last[1] == chain
                and last[2] == offset
                and last[0].quarters == step.attention_quarters
            ):
                last[0].length += step.duration_min
            else:
                piece = Piece(
                    hands,
                    day.start(batch.id, i),
                    step.duration_min,
                    step.attention_quarters,
                )
                day.pieces.append(piece)
                last = (piece, chain, offset)
            last = (last[0], chain, offset + step.duration_min)


def _fires(day: DayModel, batch: Batch) -> None:
    network = day.networks[batch.id]
    for chain in network.chains:
        last: tuple[list[int], int, int] | None = None  # steps, start, end
        found: list[tuple[list[int], int, int]] = []
        for i, offset in chain.members:
            step = batch.steps[i]
            if step.burner_w <= 0:
                continue
            end = offset + step.duration_min
            if last and step.in_pot and offset <= last[2]:
                found.remove(last)
                last = ([*last[0], i], last[1], max(last[2], end))
                found.append(last)
            else:
                mine = ([i], offset, end)
                found.append(mine)
                if step.in_pot:
                    last = mine
        for members, start, end in found:
            power = max(batch.steps[i].burner_w for i in members)
            day.blocks.append(
                Block(
                    batch.id,
                    tuple(members),
                    day.start(batch.id, members[0]),
                    end - start,
                    batch.steps[members[0]].in_pot,
                    {
                        c: day.model.new_bool_var(
                            f"{batch.id} fire {members[0]} at {c}"
                        )
                        for c, alike in enumerate(day.classes)
                        if alike.power_w >= power
                    },
                )
            )


def _slot(day: DayModel, canner: Canner, index: int) -> Slot:
    model, problem, h = day.model, day.problem, day.horizon
    name = f"{canner.id}/{index}"
    with_jars = [b for b in problem.batches if b.process is not None]
    own = {b.process for b in with_jars}
    process_of: dict[str, Process] = {p.id: p for p in problem.processes}
    kinds = {k for o in own if o for k in process_of[o].may_ride_in if k in process_of}
    kinds = {k for k in kinds if canner.places.get(process_of[k].jar, 0) > 0}
    lifters = [p.id for p in lifters_of(problem)]
    riders = [
        b
        for b in with_jars
        if b.process is not None and kinds & set(process_of[b.process].may_ride_in)
    ]
    jars = {
        b.id: model.new_int_var(
            0,
            min(b.jars, max(canner.places.get(process_of[k].jar, 0) for k in kinds)),
            f"{name} jars {b.id}",
        )
        for b in riders
    }
    return Slot(
        canner=canner,
        index=index,
        present=model.new_bool_var(f"{name} present"),
        heat=model.new_int_var(0, h, f"{name} heat"),
        lower=model.new_int_var(0, h, f"{name} lower"),
        done=model.new_int_var(0, h, f"{name} done"),
        lift=model.new_int_var(0, h, f"{name} lift"),
        fire_free=model.new_int_var(0, h, f"{name} fire free"),
        hot=model.new_bool_var(f"{name} hot"),
        stays=model.new_bool_var(f"{name} stays"),
        kind={k: model.new_bool_var(f"{name} {k}") for k in sorted(kinds)},
        jars=jars,
        aboard={b.id: model.new_bool_var(f"{name} has {b.id}") for b in riders},
        lowered_by={p: model.new_bool_var(f"{name} lowered by {p}") for p in lifters},
        lifted_by={p: model.new_bool_var(f"{name} lifted by {p}") for p in lifters},
    )

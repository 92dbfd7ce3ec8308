"""
What has begun against its plan in a pot, on a mill or on a fire that is not free.

Somebody boils two batches at once, and the plan had them one behind the other in one
pot. Nobody says at the stove which pot it is, but it is another: one that is free is
taken for it, and that is said. A pot that is only unwashed has been washed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from stillroom.planning.happened import Happened
from stillroom.planning.problem import Batch, Burner, Problem
from stillroom.planning.rinses import Tool, uses, wash_of
from stillroom.planning.timetable import PlacedStep, Timetable

TOO_WEAK = ", which is weaker than was planned, so that it may take longer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """What a batch is taken to be in or on, as its own by the plan is not free."""

    batch: str
    taken: str
    """In words: "to be in enamel pot"."""
    because: str
    """What is not free, and why: "tall steel pot holds plum jelly 1"."""

    @property
    def said(self) -> str:
        """The whole sentence."""
        return f"{self.because}, so {self.batch} is taken {self.taken}."


@dataclass(frozen=True, slots=True, kw_only=True)
class AsTaken:
    """The plan so far and what has begun, each thing in a tool of its own."""

    old: Timetable
    happened: Happened
    guesses: tuple[Guess, ...] = ()


def in_other_tools(problem: Problem, old: Timetable, happened: Happened) -> AsTaken:
    """
    Return the plan and the day up to now with no tool in two places now.

    Where nothing else is free that would do, it stays as it was told.

    Parameters
    ----------
    problem : Problem
        The day.
    old : Timetable
        The plan so far. What it had in the other tool later, and has not begun, goes
        where this was to be, if it may.
    happened : Happened
        What has begun.
    """
    found = AsTaken(old=old, happened=happened)
    late = [guess for tool in Tool for guess in _not_begun(problem, found, tool)]
    found = replace(found, guesses=tuple(late))
    for tool in Tool:
        found = _of_their_own(problem, found, tool)
        found = replace(found, happened=_washed(problem, found, tool))
    return _on_fires_of_their_own(problem, found)


# --- pots and mills ---------------------------------------------------------------


def name_in(s: PlacedStep, tool: Tool) -> str | None:
    """Name the pot or mill that a step is in or on."""
    if tool is Tool.POT:
        return s.pot
    return None if s.mill is None else str(s.mill)


def _renamed(s: PlacedStep, tool: Tool, name: str) -> PlacedStep:
    if tool is Tool.POT:
        return replace(s, pot=name)
    return replace(s, mill=int(name))


@dataclass(frozen=True, slots=True)
class Holds:
    """A batch that has begun in a pot or on a mill and is not through with it."""

    batch: Batch
    name: str
    since_min: int
    only_unwashed: bool
    """Nothing but its wash is left."""


def holding(problem: Problem, happened: Happened, tool: Tool) -> list[Holds]:
    """Return what is in pots or on mills now, in the order in which it came there."""
    begun = happened.begun
    found = []
    for batch in problem.batches:
        mine = [s.id for s in batch.steps if uses(s, tool)]
        there = [begun[batch.id, s] for s in mine if (batch.id, s) in begun]
        names = [name for s in there if (name := name_in(s, tool)) is not None]
        if not names:
            continue
        left = {
            s
            for s in mine
            if (batch.id, s) not in begun or happened.runs(begun[batch.id, s])
        }
        wash = wash_of(batch, tool)
        if left:
            since = min(s.start_min for s in there)
            only = wash is not None and left == {wash.id}
            only = only and (batch.id, wash.id if wash else "") not in begun
            found.append(Holds(batch, names[0], since, only))
    return sorted(found, key=lambda h: (h.since_min, h.batch.id))


def _of_their_own(problem: Problem, day: AsTaken, tool: Tool) -> AsTaken:
    """Whatever is in a tool after another goes into one that is free."""
    held = holding(problem, day.happened, tool)
    dirty = {h.name for h in held if h.only_unwashed}
    inside: dict[str, Batch] = {}
    full = {h.name for h in held if not h.only_unwashed}
    for h in held:
        if h.only_unwashed:
            continue
        if h.name not in inside:
            inside[h.name] = h.batch
            continue
        free = [
            name
            for name in may_be_in(problem, h.batch, h.name, tool)
            if name not in full
        ]
        other = inside[h.name]
        if not free:
            day = replace(day, guesses=(*day.guesses, _in_it_as_well(h, other, tool)))
            continue
        name = min(free, key=lambda name: name in dirty)  # the first that is clean
        inside[name] = h.batch
        full.add(name)
        guess = Guess(
            batch=h.batch.id,
            taken=f"to be {'in' if tool is Tool.POT else 'on'} {_called(tool, name)}",
            because=f"{_called(tool, h.name)} holds {other.id}",
        )
        day = AsTaken(
            old=_traded(problem, day, h.batch, (h.name, name), tool),
            happened=_moved(day.happened, h.batch, name, tool),
            guesses=(*day.guesses, guess),
        )
    return day


def _in_it_as_well(h: Holds, other: Batch, tool: Tool) -> Guess:
    """What cannot be, and is told as it was."""
    return Guess(
        batch=h.batch.id,
        taken=f"to be {'in' if tool is Tool.POT else 'on'} it as well",
        because=f"{_called(tool, h.name)} holds {other.id} and no other is free",
    )


def _not_begun(problem: Problem, day: AsTaken, tool: Tool) -> Iterator[Guess]:
    """Say what was to be in a tool by now, before what is in it: it has not begun."""
    now, begun = day.happened.now_min, day.happened.begun
    first: dict[tuple[str, str], int] = {}
    for s in sorted(day.old.steps, key=lambda s: -s.start_min):
        if (name := name_in(s, tool)) is not None:
            first[name, s.batch] = s.start_min
    for h in holding(problem, day.happened, tool):
        mine = first.get((h.name, h.batch.id), 0)
        for (name, batch), start in first.items():
            there = any(
                s.batch == batch and name_in(s, tool) is not None
                for s in begun.values()
            )
            if name == h.name and start < min(mine, now) and not there:
                yield Guess(
                    batch=batch,
                    taken="not to have begun",
                    because=f"{_called(tool, name)} holds {h.batch.id}",
                )


def _called(tool: Tool, name: str) -> str:
    return name if tool is Tool.POT else f"mill {name}"


def may_be_in(problem: Problem, batch: Batch, meant: str, tool: Tool) -> Iterator[str]:
    """Names of what would do for a batch, those of the size that was meant first."""
    if tool is Tool.MILL:
        yield from (str(n + 1) for n in range(problem.mills))
        return
    size = {pot.id: pot.size for pot in problem.pots}
    for alike in (True, False):
        for name, of in size.items():
            if of in batch.pots and (of == size.get(meant)) is alike:
                yield name


def _moved(happened: Happened, batch: Batch, name: str, tool: Tool) -> Happened:
    """What a batch has begun, in or on the other tool."""
    steps = tuple(
        _renamed(s, tool, name)
        if s.batch == batch.id and name_in(s, tool) is not None
        else s
        for s in happened.steps
    )
    return replace(happened, steps=steps)


def _traded(
    problem: Problem, day: AsTaken, batch: Batch, names: tuple[str, str], tool: Tool
) -> Timetable:
    """The plan with a batch in the other tool, and what was to come there in its."""
    was, now = names
    begun = {s.batch for s in day.happened.steps if name_in(s, tool) is not None}
    may = {
        b.id: {*may_be_in(problem, b, was, tool)}
        for b in problem.batches
        if b.id not in begun
    }

    def traded(s: PlacedStep) -> PlacedStep:
        name = name_in(s, tool)
        if name is None:
            return s
        if s.batch == batch.id:
            return _renamed(s, tool, now)
        if name == now and was in may.get(s.batch, ()):
            return _renamed(s, tool, was)
        if name == was and now in may.get(s.batch, ()):
            return _renamed(s, tool, now)
        return s

    return replace(day.old, steps=tuple(traded(s) for s in day.old.steps))


def _washed(problem: Problem, day: AsTaken, tool: Tool) -> Happened:
    """What is full of another batch was washed before, though nobody said so."""
    held = holding(problem, day.happened, tool)
    since = {h.name: h.since_min for h in held if not h.only_unwashed}
    planned = {(s.batch, s.step): s for s in day.old.steps}
    washed = []
    for h in held:
        wash = wash_of(h.batch, tool)
        if wash is None or not h.only_unwashed or h.name not in since:
            continue
        ended = max(s.end_min for s in day.happened.steps if _is_in(s, h, tool))
        one = planned[h.batch.id, wash.id]
        end = max(ended, since[h.name])
        start = max(ended, end - (one.end_min - one.start_min))
        washed.append(
            # as clean as it has to be: a rinse would wait for the next of its kind
            _renamed(
                replace(one, start_min=start, end_min=end, rinsed=False), tool, h.name
            )
        )
    return replace(day.happened, steps=(*day.happened.steps, *washed))


def _is_in(s: PlacedStep, h: Holds, tool: Tool) -> bool:
    return s.batch == h.batch.id and name_in(s, tool) == h.name


# --- fires ------------------------------------------------------------------------


def _on_fires_of_their_own(problem: Problem, day: AsTaken) -> AsTaken:
    """Of two pots that are on one fire now, the later one goes to one that is free."""
    now = day.happened.now_min
    runs = [
        s
        for s in day.happened.steps
        if s.burner is not None and s.start_min <= now < s.end_min
    ]
    canner_of = {c.id: c for c in problem.canners}
    lowered = {load.id for load in day.happened.loads}
    lit = {
        fire
        for load in day.old.loads
        if load.id not in lowered and load.heat_min <= now < load.out_min
        for fire in canner_of[load.canner].burners
    }
    on: dict[str, str] = {}
    for load in day.happened.loads:
        if load.heat_min <= now < load.stands_until_min:
            canner = canner_of[load.canner]
            on.update(dict.fromkeys(canner.burners, canner.id))
    fires = {b.id: b for b in problem.burners}
    kept: dict[str, str] = {}
    for s in sorted(runs, key=lambda s: (_since(day.happened, s), s.batch, s.step)):
        if s.burner is None or kept.get(s.batch) == s.burner:
            continue
        if s.burner not in on:
            on[s.burner], kept[s.batch] = s.batch, s.burner
            continue
        taken = {one.burner for one in runs} | {*on}
        free = [
            fire
            for fire in problem.burners
            if fire.id not in taken and _takes(problem, s, fire)
        ]
        if not free:
            said = f"the burner {s.burner} is taken by {on[s.burner]} and no other is"
            none = Guess(
                batch=s.batch, taken="to be on it as well", because=f"{said} free"
            )
            day = replace(day, guesses=(*day.guesses, none))
            continue
        asked = _watts(problem, s)
        last = [fire for fire in free if fire.id in lit]
        rest = [fire for fire in free if fire.id not in lit] or last
        name = min(rest, key=lambda fire: _least_of_all(problem, fire, asked, now)).id
        is_weak = fires[name].power_w < asked
        guess = Guess(
            batch=s.batch,
            taken=f"to be on the burner {name}{TOO_WEAK if is_weak else ''}",
            because=f"the burner {s.burner} is taken by {on[s.burner]}",
        )
        on[name], kept[s.batch] = s.batch, name
        day = replace(
            day,
            old=replace(day.old, steps=_on(day.old.steps, s, name)),
            happened=replace(day.happened, steps=_on(day.happened.steps, s, name)),
            guesses=(*day.guesses, guess),
        )
    return day


def _least_of_all(
    problem: Problem, fire: Burner, asked_w: float, now: int
) -> tuple[bool, bool, bool, float, str]:
    """
    Order fires by how little is lost with one: of those that do the weakest, first.

    A canner's comes after them; of those too weak the strongest comes first. One that
    is somebody else's now is the last.
    """
    others = any(start <= now < end for start, end in fire.taken)
    weak = fire.power_w < asked_w
    canners = any(fire.id in canner.burners for canner in problem.canners)
    return others, weak, canners, -fire.power_w if weak else fire.power_w, fire.id


def _since(happened: Happened, s: PlacedStep) -> int:
    """When the pot of a step was put on its fire, without a pause since."""
    since = s.start_min
    for other in sorted(happened.steps, key=lambda other: -other.end_min):
        alike = (other.batch, other.burner) == (s.batch, s.burner)
        if alike and other.start_min < since <= other.end_min:
            since = other.start_min
    return since


def _watts(problem: Problem, s: PlacedStep) -> float:
    """What a step asks of its fire. [W]"""
    batch = next(batch for batch in problem.batches if batch.id == s.batch)
    return next(step.burner_w for step in batch.steps if step.id == s.step)


def _takes(problem: Problem, s: PlacedStep, fire: Burner) -> bool:
    """Whether a fire takes the pot of a step."""
    size = next((pot.size for pot in problem.pots if pot.id == s.pot), None)
    return fire.takes is None or size is None or size in fire.takes


def _on(
    steps: tuple[PlacedStep, ...], moved: PlacedStep, name: str
) -> tuple[PlacedStep, ...]:
    """Steps with those of a batch on the other fire, where they were on that one."""
    return tuple(
        replace(s, burner=name)
        if (s.batch, s.burner) == (moved.batch, moved.burner)
        else s
        for s in steps
    )

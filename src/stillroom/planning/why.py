"""
Why then: what holds a step, a load or the whole day at its minute, link by link.

From a step the walk goes back along what it had to wait for: a link of its batch, a
person, a pot, a fire, a canner, a break, a place on the counter. Of several it takes
the one that was over last. What must not stand long is also held from behind: jars are
not heated before whoever fills them can.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches

from stillroom.planning.check_loads import LIFT_WITHIN_MIN
from stillroom.planning.precedence import (
    Node,
    Part,
    Precedence,
    Tie,
    closing_steps,
    precedence_of,
)
from stillroom.planning.problem import Problem
from stillroom.planning.sheet import clock
from stillroom.planning.timetable import Timetable
from stillroom.refusal import Fault, Unreadable

LONGEST_WALK = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Because:
    """One thing, and what it waits for."""

    what: str
    """The thing in words: "fill the jars (plum jelly 2)"."""
    batch: str
    """Batch or load that it is part of; empty for a break."""
    start_min: int
    held_by: str
    """``link``, ``person``, ``pot``, ``mill``, ``burner``, ``canner``, ``jars``,
    ``break``, ``limit``, ``counter``, ``arrival``, ``day``."""
    resource: str
    """Its name; empty for a link."""
    sentence: str
    spare_min: int
    """Minutes that it could have begun earlier all the same."""
    waited_min: int
    """From the start of what it waits for to its own. [min]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """A chain of reasons, from the asked thing back to the morning."""

    asked: str
    start_min: int
    chain: tuple[Because, ...]

    def minutes_by_resource(self) -> dict[tuple[str, str], int]:
        """
        Minutes of the chain by the kind and name of what they are waited for.

        All minutes of a batch that keeps a pot or a person from the next thing belong
        to that pot or person; those that nothing else waits for are the batch's own.
        """
        held: dict[tuple[str, str], int] = {}
        key = ("link", "")
        for link in self.chain:
            if link.held_by == "jars":
                key = ("link", "")
            elif link.held_by not in ("link", "limit", "day"):
                key = (link.held_by, link.resource)
            held[key] = held.get(key, 0) + link.waited_min
        return held

    @property
    def told(self) -> tuple[Because, ...]:
        """The chain without the steps that merely follow their own batch."""
        return self.chain[:1] + tuple(b for b in self.chain[1:] if b.held_by != "link")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cause:
    minute: int
    """Earliest start of the node's group that this allows. [min]"""
    rank: int
    node: int | None
    kind: str
    resource: str
    sentence: str
    after: int | None = None
    """The node that it holds, where that is another of the same group."""


def why(problem: Problem, plan: Timetable, asked: str) -> Why:
    """
    Return why something begins when it does.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that breaks no rule of it.
    asked : str
        "BATCH/STEP", the name of a batch (its first step), or of a load.

    Raises
    ------
    Unreadable
        If the plan has nothing by that name; the nearest one is named.
    """
    walk = _Walk(problem, plan)
    return walk.chain(walk.node_of(asked), asked)


def why_so_long(problem: Problem, plan: Timetable) -> Why:
    """Return what holds the end of the whole day."""
    walk = _Walk(problem, plan)
    nodes = walk.net.nodes
    work = [n for n, node in enumerate(nodes) if node.is_work]
    if not work:
        return Why(asked="the end of the day", start_min=0, chain=())
    last = max(work, key=lambda n: (nodes[n].end_min, nodes[n].start_min))
    return walk.chain(last, "the end of the day")


KINDS = {
    "person": "hands",
    "break": "hands",
    "arrival": "hands",
    "pot": "the pots",
    "mill": "the mill",
    "burner": "the fires",
    "canner": "the canners",
    "counter": "the counter",
}


def limit_of_the_day(problem: Problem, plan: Timetable) -> str:
    """
    Say which resource holds the end of the day longest, in one or two sentences.

    Minutes of a batch that nothing else waits for belong to no resource.
    """
    chain = why_so_long(problem, plan)
    by_kind: dict[str, int] = dict.fromkeys(
        ("hands", "the pots", "the fires", "the canners"), 0
    )
    by_name: dict[str, dict[str, int]] = {}
    own = 0
    for (kind, name), minutes in chain.minutes_by_resource().items():
        if kind not in KINDS:
            own += minutes
            continue
        group = KINDS[kind]
        by_kind[group] = by_kind.get(group, 0) + minutes
        if name:
            names = by_name.setdefault(group, {})
            names[name] = names.get(name, 0) + minutes
    total = own + sum(by_kind.values())
    first = max(by_kind, key=lambda k: by_kind[k])
    if by_kind[first] == 0:
        return (
            f"Nothing is waited for but the batches themselves: the {total} min to the "
            "end are their own steps."
        )
    names = by_name.get(first, {})
    shown = ", ".join(
        f"{name} {minutes}" for name, minutes in sorted(names.items(), key=_by_minutes)
    )
    rest = [
        f"{kind} {minutes}"
        for kind, minutes in sorted(by_kind.items(), key=_by_minutes)
        if kind != first
    ]
    free = [kind for kind in ("the pots", "the canners") if by_kind[kind] == 0]
    but = f", not {' or '.join(k for k in free if k != first)}" if free else ""
    return (
        f"{first[0].upper()}{first[1:]} hold the end of the day{but}: "
        f"{by_kind[first]} of the {total} min on its longest chain"
        + (f" ({shown})" if shown else "")
        + f"; {', '.join(rest)}, and {own} are the last batches' own steps."
    )


def _by_minutes(item: tuple[str, int]) -> tuple[int, str]:
    return -item[1], item[0]


class _Walk:
    """The network of a plan, and its causes at the planned minutes."""

    def __init__(self, problem: Problem, plan: Timetable) -> None:
        self.problem, self.plan = problem, plan
        self.net: Precedence = precedence_of(problem, plan, hold_what_spoils=False)
        self.verb = {(b.id, s.id): s.verb for b in problem.batches for s in b.steps}
        self.into: dict[int, list[_Cause]] = {}
        for arc in (*self.net.arcs, *self.net.dropped):
            self._add_arc(arc.before, arc.after, arc.lag_min, arc.tie, arc.what)
        self._add_limits()
        self._add_counter()
        self.early_min = self._early()
        """Minutes that each group could begin earlier, all before it moved up too."""

    def _early(self) -> list[int]:
        """
        Earliest starts under the plan's order, as what they lie before the plan.

        The plan meets every rule, so that putting off what comes too early ends.
        """
        net = self.net
        starts = [0] * len(net.members)
        for floor in net.floors:
            group = net.group_of[floor.node]
            at = floor.minute - net.offset[floor.node]
            starts[group] = max(starts[group], at)
        planned = [net.group_start_min(g) for g in range(len(net.members))]
        ties = [
            (
                net.group_of[cause.node],
                net.group_of[node],
                cause.minute - planned[net.group_of[cause.node]],
            )
            for node, causes in self.into.items()
            for cause in causes
            if cause.node is not None
        ]
        moved = True
        while moved:
            moved = False
            for before, after, apart in ties:
                if starts[before] + apart > starts[after]:
                    starts[after] = starts[before] + apart
                    moved = True
        return [p - s for p, s in zip(planned, starts, strict=True)]

    def clock(self, minute: int) -> str:
        return clock(self.problem.starts_at, minute)

    def node_of(self, asked: str) -> int:
        """Find what was asked for."""
        number, name = self.net.number, asked.strip()
        batch, _, step = name.rpartition("/")
        for key in ((batch, step), (batch, step.replace(" ", "_")), (name, "lower")):
            if key in number:
                return number[key]
        mine = [n for (of, _), n in number.items() if of == name]
        if mine:
            return min(mine, key=lambda n: self.net.nodes[n].start_min)
        known = [f"{of}/{step}" for of, step in number]
        known += sorted({of for of, _ in number})
        close = get_close_matches(name[:80], known, n=1, cutoff=0.5)
        mean = f'; did you mean "{close[0]}"?' if close else "."
        batches = ", ".join(b.id for b in self.problem.batches)
        loads = ", ".join(load.id for load in self.plan.loads) or "none"
        raise Unreadable(
            Fault(
                f'the plan has nothing called "{name[:80]}"{mean} Name a step as '
                f"BATCH/STEP, a batch ({batches}) or a load ({loads})"
            )
        )

    def chain(self, node: int, asked: str) -> Why:
        """Walk back from a node."""
        start = self.net.nodes[node].start_min
        found: list[Because] = []
        seen: set[int] = set()
        here: int | None = node
        while here is not None and len(found) < LONGEST_WALK:
            because, here = self._one(here, seen)
            found.append(because)
        return Why(asked=asked, start_min=start, chain=tuple(found))

    def _one(self, node: int, seen: set[int]) -> tuple[Because, int | None]:
        """What one node waits for; steps that move together are asked together."""
        net = self.net
        seen.add(node)
        this = net.nodes[node]
        causes = [
            c
            for m in net.members[net.group_of[node]]
            for c in self.into.get(m, [])
            if c.node is None or c.node not in seen
        ]
        before = self._at_once(node, seen)
        if before is not None:
            return self._because(this, before, this.start_min), before.node
        group_start = net.group_start_min(net.group_of[node])
        causes += self._floors(node)
        best = max(causes, key=lambda c: (self._earliest(c), c.rank), default=None)
        if best is None or best.minute < 0:
            day = "the day begins" if group_start == 0 else "nothing holds it"
            return self._because(
                this,
                _Cause(
                    minute=0,
                    rank=0,
                    node=None,
                    kind="day",
                    resource="",
                    sentence=day,
                ),
                group_start,
            ), None
        for m in net.members[net.group_of[node]]:
            seen.add(m)
        return self._because(this, best, group_start), best.node

    def _earliest(self, cause: _Cause) -> int:
        """Minute that a cause allows if what it names had not to wait in vain."""
        if cause.node is None:
            return cause.minute
        return cause.minute - self.early_min[self.net.group_of[cause.node]]

    def _at_once(self, node: int, seen: set[int]) -> _Cause | None:
        """The step of the same group that it follows without a wait."""
        inner = [a for a in self.net.inner if a.after == node and a.before not in seen]
        if not inner:
            return None
        arc = max(inner, key=lambda a: self.net.nodes[a.before].end_min)
        before = self.net.nodes[arc.before]
        gap = f"{arc.lag_min} min after it" if arc.lag_min else "at once"
        why = f": {arc.what}" if arc.what else ""
        return _Cause(
            minute=before.end_min + arc.lag_min,
            rank=9,
            node=arc.before,
            kind="link",
            resource="",
            sentence=f"it follows {self.words(before)} {gap}{why}",
        )

    def _because(self, node: Node, cause: _Cause, start: int) -> Because:
        other = self.net.nodes[cause.node] if cause.node is not None else None
        waited = node.start_min - (other.start_min if other else min(cause.minute, 0))
        if cause.kind == "arrival":
            waited = node.start_min
        spare = 0
        if cause.kind != "link" or cause.after is not None:
            spare = max(0, start - self._earliest(cause))
        said = cause.sentence
        if cause.after is not None and self.net.nodes[cause.after] is not node:
            follows = self.words(self.net.nodes[cause.after])
            said = f"{follows} follows it without a wait, and {said}"
        if spare and cause.kind != "day":
            said += f"; it could begin {spare} min earlier"
        return Because(
            what=self.words(node),
            batch=node.of if node.part not in (Part.BREAK, Part.AWAY) else "",
            start_min=node.start_min,
            held_by=cause.kind,
            resource=cause.resource,
            sentence=said,
            spare_min=spare,
            waited_min=max(0, waited),
        )

    # --- causes ---------------------------------------------------------------

    def _add(self, after: int, cause: _Cause) -> None:
        # of a group the whole is held: minutes are those of its first step
        shifted = cause.minute - self.net.offset[after]
        self.into.setdefault(after, []).append(
            _Cause(
                minute=shifted,
                rank=cause.rank,
                node=cause.node,
                kind=cause.kind,
                resource=cause.resource,
                sentence=cause.sentence,
                after=after,
            )
        )

    def _add_arc(self, before: int, after: int, lag: int, tie: Tie, what: str) -> None:
        node, target = self.net.nodes[before], self.net.nodes[after]
        end, kind, rank = self.clock(node.end_min), str(tie), 5
        resource = what
        match tie:
            case Tie.LINK:
                resource, rank = "", 8
                gap = f", {lag} min before" if lag else ""
                why = f": {what}" if what else ""
                said = f"{self.words(node)} has to be done first{gap}{why}"
            case Tie.JARS:
                rank = 7
                said = f"the jars of {what} are closed at {end}"
            case Tie.PERSON if node.part is Part.BREAK:
                kind, said = "break", f"{what} rests until {end}"
            case Tie.PERSON if node.part is Part.AWAY:
                kind, said = "break", f"{what} is away until {end}"
            case Tie.PERSON:
                rank = 4  # who washes a pot is free with it: the pot is what is short
                said = f"{what} is busy until {end} with: {self.words(node)}"
            case Tie.POT | Tie.MILL:
                said = f"{what} holds {node.of} until {end} ({self.words(node)})"
            case Tie.BURNER:
                said = f"{what} is taken until {end} by: {self.words(node)}"
            case Tie.CANNER if node.part is Part.HEAT:
                rank = 3
                said = f"the water of {what} is hot at {end}"
            case Tie.CANNER:
                said = f"{what} holds {node.of} until {end}"
        if target.part is Part.HEAT and node.part is Part.LIFT:
            said = f"{what} is emptied of {node.of} at {end}"
        self._add(
            after,
            _Cause(
                minute=node.end_min + lag,
                rank=rank,
                node=before,
                kind=kind,
                resource=resource,
                sentence=said,
            ),
        )

    def _add_limits(self) -> None:
        """What must not stand long waits for what comes after it."""
        for before, after, most, said in self._longest_waits():
            a, b = self.net.nodes[before], self.net.nodes[after]
            if self.net.group_of[before] == self.net.group_of[after]:
                continue
            self._add(
                before,
                _Cause(
                    minute=b.start_min - most - a.planned_min,
                    rank=1,
                    node=after,
                    kind="limit",
                    resource="",
                    sentence=f"{said}; {self.words(b)} begins at "
                    f"{self.clock(b.start_min)}",
                ),
            )

    def _longest_waits(self) -> Iterator[tuple[int, int, int, str]]:
        number = self.net.number
        for batch in self.problem.batches:
            for link in batch.links:
                if link.at_most_min is None:
                    continue
                why = f" ({link.why})" if link.why else ""
                said = f"at most {link.at_most_min} min may pass after it{why}"
                yield (
                    number[batch.id, link.before],
                    number[batch.id, link.after],
                    link.at_most_min,
                    said,
                )
        batch_of = {b.id: b for b in self.problem.batches}
        for load in self.plan.loads:
            lower = number[load.id, "lower"]
            if not load.hot:
                said = "the water is hot when the jars go in"
                yield number[load.id, "heat"], lower, 0, said
            said = f"jars are lifted within {LIFT_WITHIN_MIN} min of their rest"
            yield (
                number[load.id, "rest"],
                number[load.id, "lift"],
                LIFT_WITHIN_MIN,
                said,
            )
            for name, _ in load.jars:
                most = batch_of[name].closed_wait_at_most_min
                for step in closing_steps(batch_of[name]):
                    said = f"closed jars wait at most {most} min"
                    yield number[name, step], lower, most, said

    def _add_counter(self) -> None:
        """Where jars grow cold within the day, a load may wait for their places."""
        cooling = self.problem.counter.cooling_min
        for load in self.plan.loads:
            for cold in self.plan.loads:
                if cold.out_min + cooling == load.out_min:
                    lift = self.net.number[load.id, "lift"]
                    free = self.clock(load.out_min)
                    self._add(
                        lift,
                        _Cause(
                            minute=load.lift_min,
                            rank=5,
                            node=self.net.number[cold.id, "lift"],
                            kind="counter",
                            resource="the counter",
                            sentence=f"the jars of {cold.id} leave the counter at "
                            f"{free}",
                        ),
                    )

    def _floors(self, node: int) -> list[_Cause]:
        net = self.net
        return [
            _Cause(
                minute=floor.minute - net.offset[floor.node],
                rank=6,
                node=None,
                kind="arrival",
                resource=str(net.nodes[floor.node].person or ""),
                sentence=f"{floor.what} {self.clock(floor.minute)}",
            )
            for floor in net.floors
            if net.group_of[floor.node] == net.group_of[node]
        ]

    def words(self, node: Node) -> str:
        """Name a node as a person would."""
        match node.part:
            case Part.STEP:
                verb = self.verb[node.of, node.step]
                return f"{verb[:1].lower()}{verb[1:]} ({node.of})"
            case Part.BREAK:
                return f"the break of {node.of}"
            case Part.AWAY:
                return f"{node.of} being away"
            case Part.HEAT:
                return f"warm the water for load {node.of}"
            case Part.LOWER:
                return f"lower load {node.of}"
            case Part.COME_UP:
                return f"the come-up of load {node.of}"
            case Part.PROCESS:
                return f"the process of load {node.of}"
            case Part.REST:
                return f"the rest of load {node.of}"
            case Part.LIFT:
                return f"lift load {node.of}"

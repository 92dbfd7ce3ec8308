"""The walk back from a step, link by link, along what was over last."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.because import Because, Cause, Why
from stillroom.planning.waits.precedence import Node
from stillroom.planning.waits.why_causes import Causes
from stillroom.planning.words.step_words import batch_named, named_in
from stillroom.refusal import Fault, Unreadable

LONGEST_WALK = 200


class Walk:
    """A walk over the causes of a plan."""

    def __init__(self, problem: Problem, plan: Timetable) -> None:
        self.problem, self.plan = problem, plan
        self.causes = Causes(problem, plan)
        self.net = self.causes.net
        self.early_min = self._early()
        """Minutes that each group could begin earlier, all before it moved up too."""

    def _early(self) -> list[int]:
        """
        Earliest starts under the plan's order, as what they lie before the plan.

        Where the plan meets every rule, putting off what comes too early ends. One that
        has something broken behind it may not: then it is given up after some rounds.
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
            for node, causes in self.causes.into.items()
            for cause in causes
            if cause.node is not None
        ]
        for _ in range(len(starts) + 1):
            moved = False
            for before, after, apart in ties:
                if starts[before] + apart > starts[after]:
                    starts[after] = starts[before] + apart
                    moved = True
            if not moved:
                break
        return [p - s for p, s in zip(planned, starts, strict=True)]

    def node_of(self, asked: str) -> int:
        """Find what was asked for."""
        number, name = self.net.number, asked.strip()
        if whole := batch_named(self.problem, name):
            name = whole.id
        batch, _, step = name.rpartition("/")
        if named_so := batch_named(self.problem, batch):
            batch = named_so.id
        load = self.causes.names.id_of(name) or name
        batches = {b.id: b for b in self.problem.batches}
        of = batches.get(batch)
        as_printed = named_in(self.plan, of, step) if of else None
        for key in ((batch, step), (batch, as_printed or step), (load, "lower")):
            if key in number:
                return number[key]
        mine = [n for (of, _), n in number.items() if of == name]
        if mine:
            return min(mine, key=lambda n: self.net.nodes[n].start_min)
        if batch in batches:
            raise Unreadable(Fault(self._no_such_step(batch, step)))
        known = [f"{of}/{step}" for of, step in number]
        known += sorted({of for of, _ in number})
        close = get_close_matches(name[:80], known, n=1, cutoff=0.5)
        mean = f'; did you mean "{close[0]}"?' if close else "."
        loads = ", ".join(map(self.causes.names.short, self.causes.names.number))
        raise Unreadable(
            Fault(
                f'the plan has nothing called "{name[:80]}"{mean} Name a step as '
                f"BATCH/STEP, a batch ({', '.join(batches)}) or a load "
                f"({loads or 'none'})"
            )
        )

    def _no_such_step(self, batch: str, step: str) -> str:
        """A batch that there is, and a step that it has not: its own are named."""
        nodes = self.net.nodes
        mine = [(nodes[n].start_min, s) for (b, s), n in self.net.number.items()
                if b == batch]  # fmt: skip
        steps = [name for _, name in sorted(mine)]
        close = get_close_matches(step[:80], steps, n=1, cutoff=0.5)
        mean = f'; did you mean "{batch}/{close[0]}"?' if close else "."
        return (
            f'{batch} has no step "{step[:80]}"{mean} Say it as the plan prints it, or '
            f"by its name. Its steps, in their order: {', '.join(steps)}"
        )

    def chain(self, node: int, asked: str) -> Why:
        """Walk back from a node."""
        asked_for = self.net.nodes[node]
        return Why(
            asked=asked,
            start_min=asked_for.start_min,
            end_min=asked_for.end_min,
            chain=tuple(self._back_from(node)),
        )

    def _back_from(self, node: int) -> list[Because]:
        """
        Reasons back to an hour that is given: that of the day, of an arrival, a fruit.

        Of causes that hold a thing equally, one may lead round: a jar waits for its
        lid, the lid for a pot that is rinsed, the rinse for the jar. Such a way is
        given up for another, or the last of it would seem to be held by nothing.
        """
        seen: set[int] = set()
        found: list[Because] = []
        longest: list[Because] = []
        ways = [self._reasons(node, seen)]
        while ways:
            reason = next(ways[-1], None)
            if reason is None:
                ways.pop()
                if found:
                    found.pop()
                continue
            because, before = reason
            found.append(because)
            longest = max(longest, list(found), key=len)
            if before is None or len(found) == LONGEST_WALK:
                return found
            ways.append(self._reasons(before, seen))
        return longest  # a plan with something broken behind it may only lead round

    def _reasons(
        self, node: int, seen: set[int]
    ) -> Iterator[tuple[Because, int | None]]:
        """What one node waits for; steps that move together are asked together."""
        net = self.net
        seen.add(node)
        this = net.nodes[node]
        before = self._at_once(node, seen)
        if before is not None:
            yield self._because(this, before, this.start_min), before.node
            return
        group = net.group_of[node]
        group_start = net.group_start_min(group)
        causes = [
            c
            for m in net.members[group]
            for c in self.causes.into.get(m, [])
            if not c.only_order and c.minute >= 0
        ] + [c for c in self.causes.floors(node) if c.minute >= 0]
        if group_start == 0 or not causes:
            said = "the day begins" if group_start == 0 else "nothing holds it"
            yield self._because(this, _day(said), group_start), None
            return
        seen.update(net.members[group])
        alone = self.alone_min(group)
        holds = max(map(self._earliest, causes))
        for best in sorted(causes, key=lambda c: c.rank, reverse=True):
            if self._earliest(best) == holds and best.node not in seen:
                yield self._because(this, best, group_start, alone), best.node

    def _earliest(self, cause: Cause) -> int:
        """Minute that a cause allows if what it names had not to wait in vain."""
        if cause.node is None:
            return cause.minute
        return cause.minute - self.early_min[self.net.group_of[cause.node]]

    def _at_once(self, node: int, seen: set[int]) -> Cause | None:
        """The step of the same group that it follows without a wait."""
        inner = [a for a in self.net.inner if a.after == node and a.before not in seen]
        if not inner:
            return None
        arc = max(inner, key=lambda a: self.net.nodes[a.before].end_min)
        before = self.net.nodes[arc.before]
        gap = f"{arc.lag_min} min after it" if arc.lag_min else "at once"
        why = f": {arc.what}" if arc.what else ""
        return Cause(
            minute=before.end_min + arc.lag_min,
            rank=9,
            node=arc.before,
            kind="link",
            resource="",
            sentence=f"it follows {self.causes.words(before)} {gap}{why}",
        )

    def alone_min(self, group: int) -> int:
        """Minutes that a group could begin earlier with all else as it is planned."""
        members = self.net.members[group]
        causes = (c for m in members for c in self.causes.into.get(m, []))
        minutes = [c.minute for c in causes if not c.only_order]
        minutes += [floor.minute for floor in self.causes.floors(members[0])]
        return max(0, self.net.group_start_min(group) - max([0, *minutes]))

    def _because(self, node: Node, cause: Cause, start: int, alone: int = 0) -> Because:
        spare = 0
        if cause.kind != "link" or cause.after is not None:
            spare = max(0, start - self._earliest(cause))
        said = cause.sentence
        if cause.after is not None and self.net.nodes[cause.after] is not node:
            follows = self.causes.words(self.net.nodes[cause.after])
            said = f"{follows} follows it without a wait, and {said}"
        if spare and cause.kind != "day":
            said += f"; {_earlier(spare, min(alone, spare))}"
        return Because(
            what=self.causes.words(node),
            batch=node.of if node.is_work else "",
            start_min=node.start_min,
            held_by=cause.kind,
            resource=cause.resource,
            sentence=said,
            spare_min=spare,
        )


def _day(said: str) -> Cause:
    return Cause(minute=0, rank=0, node=None, kind="day", resource="", sentence=said)


def _earlier(spare: int, alone: int) -> str:
    """
    Say how much earlier a thing could begin, and whether others would have to move.

    >>> _earlier(5, 5)
    'it could begin 5 min earlier'
    >>> _earlier(5, 2)
    'it could begin 2 min earlier, and 5 with all that it waits for moved up too'
    >>> _earlier(5, 0)
    'with all that it waits for moved up too, it could begin 5 min earlier'
    """
    moved = "with all that it waits for moved up too"
    if alone >= spare:
        return f"it could begin {spare} min earlier"
    if alone:
        return f"it could begin {alone} min earlier, and {spare} {moved}"
    return f"{moved}, it could begin {spare} min earlier"

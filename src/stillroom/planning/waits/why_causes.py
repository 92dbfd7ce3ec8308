"""Everything that a node of a plan may have waited for, with the minute it allows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stillroom.planning.daytime import clock_time
from stillroom.planning.judge.check_loads import LIFT_WITHIN_MIN
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.waits.because import Cause
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.waits.precedence import (
    Floor,
    Node,
    Part,
    Precedence,
    Tie,
    closing_steps,
    precedence_of,
)
from stillroom.planning.words.hour_words import the_burner


class Causes:
    """The network of a plan, and its causes at the planned minutes."""

    def __init__(self, problem: Problem, plan: Timetable) -> None:
        self.problem, self.plan = problem, plan
        self.net: Precedence = precedence_of(
            problem, plan, hold_what_spoils=False, as_it_went=True
        )
        self.names = LoadNames(problem, plan)
        worked = as_worked(problem, plan)
        self.verb = {(b.id, s.id): s.verb for b in worked.batches for s in b.steps}
        self.into: dict[int, list[Cause]] = {}
        for arc in (*self.net.arcs, *self.net.dropped):
            self._add_arc(arc.before, arc.after, arc.lag_min, arc.tie, arc.what)
        self._add_hands()
        self._add_limits()
        self._add_counter()

    def clock(self, minute: int) -> str:
        """Clock time of a minute."""
        return clock_time(self.problem.starts_at, minute)

    def words(self, node: Node) -> str:
        """Name a node as a person would."""
        match node.part:
            case Part.STEP:
                return f"{self.doing(node)} ({node.of})"
            case Part.BREAK:
                return f"the break of {node.of}"
            case Part.AWAY:
                return f"the absence of {node.of}"
            case Part.TAKEN:
                return f"the hours of others on {the_burner(node.of)}"
            case part:
                return self.names.part(node.of, part)

    def doing(self, node: Node) -> str:
        """Say what is done in a step, without of which batch."""
        verb = self.verb[node.of, node.step]
        return f"{verb[:1].lower()}{verb[1:]}"

    def floors(self, node: int) -> list[Cause]:
        """Hours before which a node, or what moves with it, cannot begin."""
        net = self.net
        return [
            Cause(
                minute=floor.minute - net.offset[floor.node],
                rank=6,
                node=None,
                kind=self._kind_of(floor),
                resource=self._who_or_what(floor),
                sentence=f"{floor.what} {self.clock(floor.minute)}",
            )
            for floor in net.floors
            if net.group_of[floor.node] == net.group_of[node]
        ]

    def _kind_of(self, floor: Floor) -> str:
        if self.net.nodes[floor.node].part is Part.TAKEN:
            return str(Tie.BURNER)
        return "ready" if self._is_window(floor) else "arrival"

    def _who_or_what(self, floor: Floor) -> str:
        node = self.net.nodes[floor.node]
        if node.part is Part.TAKEN:
            return node.of
        return "" if self._is_window(floor) else str(node.person or "")

    def _is_window(self, floor: Floor) -> bool:
        """Whether nobody is waited for, but what drips, thaws or soaks until then."""
        of = self.net.nodes[floor.node]
        return any(
            (batch.id, window.step) == (of.of, of.step)
            and window.earliest_min == floor.minute
            and floor.what == f"{window.why or 'it is ready'} at"
            for batch in self.problem.batches
            for window in batch.windows
        )

    def _add(self, after: int, cause: Cause) -> None:
        # of a group the whole is held: minutes are those of its first step
        shifted = cause.minute - self.net.offset[after]
        if shifted > self.net.group_start_min(self.net.group_of[after]):
            return  # it was not waited for: a rule gave way when it was planned again
        self.into.setdefault(after, []).append(
            Cause(
                minute=shifted,
                rank=cause.rank,
                node=cause.node,
                kind=cause.kind,
                resource=cause.resource,
                sentence=cause.sentence,
                after=after,
                only_order=cause.only_order,
            )
        )

    def _add_hands(self) -> None:
        """
        Who is busy, by all that is in her hands and not lane by lane.

        The network ties a step to what was over last in some of her four lanes, though
        others may have been empty. What holds a step is what fills her hands so far
        that the step has no room beside it.
        """
        self.quarters = {p.id: p.quarters for p in self.problem.people}
        for n, node in enumerate(self.net.nodes):
            until, holders = self._held_until(n)
            for cause in self.into.get(n, []):
                if cause.kind != str(Tie.PERSON) or cause.node is None:
                    continue
                if self.net.nodes[cause.node].end_min > until:
                    at = self.into[n].index(cause)
                    self.into[n][at] = replace(cause, only_order=True)
            for other in holders:
                self._add_arc(other, n, 0, Tie.PERSON, str(node.person))

    def _held_until(self, n: int) -> tuple[int, list[int]]:
        """Until when the hands for a node had no room for it, and what was in them."""
        net, node = self.net, self.net.nodes[n]
        if node.person is None:
            return 0, []
        beside = [
            o
            for o, other in enumerate(net.nodes)
            if other.person == node.person and net.group_of[o] != net.group_of[n]
        ]
        ends = {net.nodes[o].end_min for o in beside}
        room = self.quarters[node.person] - node.quarters
        for end in sorted((e for e in ends if e <= node.start_min), reverse=True):
            busy = [
                o
                for o in beside
                if net.nodes[o].start_min < end <= net.nodes[o].end_min
            ]
            if sum(net.nodes[o].quarters for o in busy) > room:
                return end, [o for o in busy if net.nodes[o].end_min == end]
        return 0, []

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
                said = f"{what} holds {node.of} until {end}"
                if node.part is Part.STEP:
                    said += f": {self.doing(node)}"
            case Tie.BURNER if node.part is Part.TAKEN:
                said = f"{the_burner(what)} is taken until {end}"
            case Tie.BURNER:
                fire = the_burner(what)
                said = f"{fire} is taken until {end} by: {self.words(node)}"
                if lag:
                    said = f"the pot is moved to {fire} {lag} min after: "
                    said += self.words(node)
            case Tie.CANNER if node.part is Part.HEAT:
                rank = 3
                said = f"the water of {self.names.canner[node.of]} is hot at {end}"
            case Tie.CANNER:
                canner, load = self.names.canner[node.of], self.names.short(node.of)
                said = f"{canner} holds {load} until {end}"
        if target.part is Part.HEAT and node.part is Part.LIFT:
            canner, load = self.names.canner[node.of], self.names.short(node.of)
            said = f"{canner} is emptied of {load} at {end}"
        self._add(
            after,
            Cause(
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
                Cause(
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
        counter = self.problem.counter
        for load in self.plan.loads:
            for _, until in counter.taken:
                if until == load.out_min:
                    self._add_room(load, "the jars of the day before leave", None)
            for cold in self.plan.loads:
                if cold.out_min + counter.cooling_min == load.out_min:
                    named = f"the jars of {self.names.name(cold.id)} leave"
                    self._add_room(load, named, self.net.number[cold.id, "lift"])

    def _add_room(self, load: PlacedLoad, leave: str, node: int | None) -> None:
        """A load that is lifted when places on the counter are free."""
        self._add(
            self.net.number[load.id, "lift"],
            Cause(
                minute=load.lift_min,
                rank=5,
                node=node,
                kind="counter",
                resource="the counter",
                sentence=f"{leave} the counter at {self.clock(load.out_min)}",
            ),
        )

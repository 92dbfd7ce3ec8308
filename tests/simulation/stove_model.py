"""A plain model of the stove: which load boils since when, by the published rules."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field

from tests.simulation.shelf_words import Does

REST = dt.timedelta(minutes=5)
CROSSING = dt.timedelta(seconds=2)
SECOND = dt.timedelta(seconds=1)


@dataclass(frozen=True, kw_only=True)
class Tap:
    """A key at the stove, as its form was drawn."""

    asks: str
    """
    ``begin``, ``begun``, ``done``, ``take-back``, ``load-back``, ``full-boil``,
    ``boil-lost`` or ``lifted``.
    """
    run: str
    seen: int
    once: str
    load: str = ""
    batch: str = ""
    step: str = ""
    was: str = ""
    """What is taken back: begun or done of a step, full-boil or lifted of a load."""
    said_at: str = ""
    """When that was said, as the page has it."""

    @property
    def key(self) -> tuple[str, ...]:
        """What makes it the same tap as another."""
        asks = f"{self.asks} {self.was}".rstrip()
        return (self.once, asks, self.load, self.batch, self.step)


@dataclass
class Load:
    """One load on its way."""

    canner: str
    minutes: int
    batches: tuple[str, ...] = ()
    since: dt.datetime | None = None
    lost: int = 0
    lifted: dt.datetime | None = None
    changed: int = 1

    @property
    def deadline(self) -> dt.datetime | None:
        """The whole time from the last full boil, up to the whole second."""
        if self.since is None:
            return None
        end = self.since + dt.timedelta(minutes=self.minutes)
        return end if not end.microsecond else end.replace(microsecond=0) + SECOND

    def shown_until(self, at: dt.datetime) -> dt.datetime | None:
        """What its clock runs to on a page, if it runs."""
        if self.deadline is None or self.lifted or at >= self.deadline + REST:
            return None
        return self.deadline if at < self.deadline else self.deadline + REST


@dataclass
class Run:
    """One day at the stove."""

    loads: dict[str, Load] = field(default_factory=dict)
    begun: set[tuple[str, str]] = field(default_factory=set)
    done: set[tuple[str, str]] = field(default_factory=set)
    said: list[tuple[str, str, str, dt.datetime]] = field(default_factory=list)
    """(batch, step, begun or done, when), in order, without what was taken back."""
    sequence: int = 0
    last_at: dt.datetime | None = None

    @property
    def on_the_fire(self) -> bool:
        return any((x.since or x.lost) and not x.lifted for x in self.loads.values())


@dataclass
class StoveModel:
    """What the clocks must show."""

    planned: dict[str, tuple[str, int, tuple[str, ...]]]
    """Loads of the plan: id to canner, published minutes, batches aboard."""
    runs: dict[str, Run] = field(default_factory=dict)
    keys: dict[tuple[str, ...], str] = field(default_factory=dict)
    """Taps that were booked, and for which run."""
    newest: str = ""

    def shown(self, now: dt.datetime) -> str:
        """Return the day with jars on the fire, the last tapped of several."""
        hot = {
            name: run.last_at
            for name, run in self.runs.items()
            if run.on_the_fire and run.last_at and (now - run.last_at).days < 1
        }
        return max(hot, key=lambda name: hot[name], default="")

    def expect(
        self, tap: Tap, now: dt.datetime, booked: frozenset[tuple[str, str]]
    ) -> Does:
        """Return what must come of a tap; ``booked`` are loads with lots, by run."""
        run = self.runs.get(tap.run, Run())
        if tap.key in self.keys:
            return Does.AGAIN if self.keys[tap.key] == tap.run else Does.NO
        if run.last_at and run.last_at - now > CROSSING:
            return Does.NO
        if tap.asks == "begin":
            if not run.sequence:
                return Does.BOOKS
            return Does.AGAIN if tap.seen < run.sequence else Does.NO
        if not run.sequence:
            return Does.NO
        if tap.asks in ("begun", "done"):
            before = run.done if tap.asks == "done" else run.begun | run.done
            there = (tap.batch, tap.step) in before
            return Does.AGAIN if there else Does.BOOKS
        if tap.asks == "take-back":
            return self._take_back(run, tap)
        load = run.loads.get(tap.load)
        if load is not None and tap.asks == "load-back":
            return self._load_back(run, load, tap, (tap.run, tap.load) in booked)
        return Does.NO if load is None else self._load(run, load, tap, now)

    def _take_back(self, run: Run, tap: Tap) -> Does:
        if (tap.batch, tap.step) not in (run.done if tap.was == "done" else run.begun):
            return Does.AGAIN
        mine = [one for one in run.said if one[0] == tap.batch]
        batch, step, was, at = sorted(mine, key=lambda one: (one[3], one[2] == "done"))[
            -1
        ]
        if (step, was) != (tap.step, tap.was):
            return Does.NO
        if tap.said_at and dt.datetime.fromisoformat(tap.said_at) != at:
            return Does.NO
        for load in run.loads.values():
            begun = load.since is not None or load.lost
            if batch in load.batches and begun and (not load.since or load.since >= at):
                return Does.NO
        return Does.BOOKS

    def _load_back(self, run: Run, load: Load, tap: Tap, is_booked: bool) -> Does:
        stands = load.lifted if tap.was == "lifted" else load.since
        if stands is None:
            return Does.AGAIN
        if tap.was == "full-boil" and load.lifted:
            return Does.NO
        if tap.said_at and dt.datetime.fromisoformat(tap.said_at) != stands:
            return Does.NO
        if tap.was == "full-boil":
            return Does.BOOKS
        taken = any(
            other.canner == load.canner
            and (other.since or other.lost)
            and not other.lifted
            for other in run.loads.values()
        )
        return Does.NO if is_booked or taken else Does.BOOKS

    def _load(self, run: Run, load: Load, tap: Tap, now: dt.datetime) -> Does:
        now = max(now, run.last_at or now)
        stale = tap.seen < load.changed
        if tap.asks == "full-boil":
            if load.lifted:
                return Does.NO
            if load.since:
                return Does.AGAIN if stale else Does.NO
            taken = any(
                other.canner == load.canner and other.since and not other.lifted
                for other in run.loads.values()
            )
            return Does.NO if stale or taken else Does.BOOKS
        if tap.asks == "boil-lost":
            if not load.lifted and load.since is None and load.lost and stale:
                return Does.AGAIN
            return Does.NO if load.lifted or not load.since or stale else Does.BOOKS
        if load.lifted:
            return Does.AGAIN if stale else Does.NO
        done = load.deadline is not None and now >= load.deadline + REST
        return Does.BOOKS if done and not stale else Does.NO

    def take_over(self, tap: Tap, kind: str, at: dt.datetime, now: dt.datetime) -> None:
        """Go on with what was written for a tap."""
        never = frozenset[tuple[str, str]]()
        assert self.expect(tap, now, never) is Does.BOOKS, f"{tap} wrote {kind}"
        run = self.runs.setdefault(tap.run, Run())
        assert at == max(now, run.last_at or now)
        run.sequence += 1
        run.last_at, self.newest = at, tap.run
        self.keys[tap.key] = tap.run
        if tap.asks == "begin":
            assert kind == "day-begun"
            run.loads = {i: Load(*said) for i, said in self.planned.items()}
            return
        if tap.asks in ("begun", "done"):
            assert kind == f"step-{tap.asks}"
            (run.done if tap.asks == "done" else run.begun).add((tap.batch, tap.step))
            run.said.append((tap.batch, tap.step, tap.asks, at))
            return
        if tap.asks == "take-back":
            assert kind == "step-taken-back"
            (run.done if tap.was == "done" else run.begun).remove((tap.batch, tap.step))
            taken = (tap.batch, tap.step, tap.was)
            run.said = [one for one in run.said if one[:3] != taken]
            return
        load = run.loads[tap.load]
        load.changed = run.sequence
        if tap.asks == "full-boil":
            assert kind == "full-boil-reached"
            load.since = at
        elif tap.asks == "load-back":
            assert kind == "load-taken-back"
            if tap.was == "lifted":
                load.lifted = None
            else:
                load.since = None
        elif tap.asks == "boil-lost":
            assert kind == "boil-lost"
            load.since, load.lost = None, load.lost + 1
        else:
            assert kind == "load-lifted"
            load.lifted = at

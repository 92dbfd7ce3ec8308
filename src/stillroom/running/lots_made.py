"""
What a run at the stove made: a proposal for each batch of each load. Pure.

A proposal is what the plan and the events of the run say. Nothing is booked by it; the
keeper looks at it, mends a number or a place, and books all of it with one key.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

from stillroom.running.due import is_due
from stillroom.running.events import RunBatch, RunLoad
from stillroom.running.fold import RunState
from stillroom.running.left_in import left_in
from stillroom.running.load_run import LoadRun
from stillroom.running.loads import number_in
from stillroom.running.rules import rules_for
from stillroom.stock.amounts import Measure, Unit
from stillroom.stock.commands import Incoming, Making, Need
from stillroom.stock.drawing import Drawing
from stillroom.stock.events import Batch, Kind, Part
from stillroom.stock.fold import Stock

APART = "kitchen, on hold"
"""Where jars are proposed to stand that had no process: no shelf of the pantry."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LotMade:
    """One batch of one load, as it would be booked."""

    making: Making
    batch: str
    """As the plan calls it: "plum jelly 2"."""
    load: str
    """As the kitchen calls it: "load 3"; empty where nothing was canned."""
    ready: bool
    """Its jars are out after their whole process, or closed where there is none."""
    waits_for: str
    """What is still to come, or what is wrong; empty where it is ready."""
    booked: str
    """Code of its lot where it was booked already, else empty."""
    draws: tuple[Part, ...] = ()
    lacking: tuple[Need, ...] = ()
    """What went in that the stock does not have."""
    planned: int = 0
    """Jars of its batch by the plan, in all loads."""
    left_in: str = ""
    """What is done if its jars stayed in the canner overnight; empty where they came
    out in time."""

    def is_asked_about(self, state: RunState, at: dt.datetime) -> bool:
        """Whether it is ready, or it is time to ask why it is not; see `is_due`."""
        batch = self.making.batch
        return self.ready or is_due(state, batch.run_batch, batch.run_load, at)


def lots_made(
    state: RunState, run: str, stock: Stock, zone: dt.tzinfo | None
) -> tuple[LotMade, ...]:
    """
    Return the lots of a run in the order of its loads; those without a load last.

    ``zone`` is the kitchen's, for the clock times that are written down.
    """
    day = day_of_lots(state, run, stock, zone).isoformat()
    drawing = Drawing(stock)
    found = []
    for run_load, name in _loads_and_none(state):
        number = load_number(state, run_load.load.id) if run_load else 0
        for batch_id, jars, upto, of in _aboard(state, run_load):
            batch = next((b for b in state.batches if b.id == batch_id), None)
            lot = _lot(
                state, _Of(run, day, number, run_load, batch, batch_id, zone), jars
            )
            code = stock.from_run(run, batch_id, run_load.load.id if run_load else "")
            needs = _share(batch, jars, upto, of)
            draws, lacking = ((), ()) if code else drawing.draw(needs)
            lot = replace(
                lot,
                load=name,
                planned=of,
                booked=code or "",
                making=replace(lot.making, needs=needs),
                draws=draws,
                lacking=lacking,
                left_in=_left_in(run_load, zone),
            )
            if lot.making.thing.number > 0:
                found.append(lot)
    return tuple(found)


def worked_on(state: RunState, run: str, zone: dt.tzinfo | None) -> dt.date:
    """
    Return the day on which a run was begun; that of its plan before it is.

    A plan of one date may be worked on another, and jars are of the day on which they
    were filled.
    """
    if state.begun_at is None:
        return dt.date.fromisoformat(run.rsplit("/", 1)[-1])
    return state.begun_at.astimezone(zone).date()


def day_of_lots(
    state: RunState, run: str, stock: Stock, zone: dt.tzinfo | None
) -> dt.date:
    """Return the day that a run's lots bear: that of those booked already, if any."""
    aboard = [(b, each.load.id) for each in state.loads for b, _ in each.load.jars]
    for batch, load in (*aboard, *((b.id, "") for b in state.batches)):
        code = stock.from_run(run, batch, load)
        if code is not None and stock.lots[code].day:
            return dt.date.fromisoformat(stock.lots[code].day)
    return worked_on(state, run, zone)


@dataclass(frozen=True, slots=True)
class _Of:
    """Whose lot it is."""

    run: str
    day: str
    number: int
    load: LoadRun | None
    batch: RunBatch | None
    batch_id: str
    zone: dt.tzinfo | None


def load_number(state: RunState, load_id: str) -> int:
    """
    Return the number of a load on its day, as its name has it: "load 3".

    A plan that is taken over later may put loads in another order, and a lot that is
    booked by then keeps its code; so the name counts, and the order only where names
    do not tell.
    """
    said = [number_in(run.load.name) for run in state.loads]
    at = [run.load.id for run in state.loads].index(load_id)
    number = said[at]
    return number if number and said.count(number) == 1 else at + 1


def _loads_and_none(state: RunState) -> list[tuple[LoadRun | None, str]]:
    """Every load with its name; `None` at the end for what needs no canner."""
    return [*((run, run.load.name) for run in state.loads), (None, "")]


def _aboard(state: RunState, run: LoadRun | None) -> list[tuple[str, int, int, int]]:
    """(batch, jars here, jars in this and the loads before it, jars in all)."""
    if run is None:
        loaded = {batch for each in state.loads for batch, _ in each.load.jars}
        # A batch that is canned and in no load was given up when the day was replanned.
        return [
            (b.id, b.jars, b.jars, b.jars)
            for b in state.batches
            if not b.canned and b.id not in loaded
        ]
    rows = []
    for batch, count in run.load.jars:
        before = 0
        for other in state.loads:
            if other.load.id == run.load.id:
                break
            before += dict(other.load.jars).get(batch, 0)
        of = sum(dict(each.load.jars).get(batch, 0) for each in state.loads)
        rows.append((batch, count, before + count, of))
    return rows


def _left_in(run: LoadRun | None, zone: dt.tzinfo | None) -> str:
    if run is None or run.lifted_at is None:
        return ""
    return left_in(run, run.lifted_at.astimezone(zone))


def _share(batch: RunBatch | None, jars: int, upto: int, of: int) -> tuple[Need, ...]:
    """Part a batch's needs by jars; the parts add up to the whole, to the milligram."""
    if batch is None:
        return ()
    shares = (
        (n, n.number * upto // of - n.number * (upto - jars) // of) for n in batch.needs
    )
    return tuple(
        Need(name=n.name, unit=Unit(n.unit), number=number, lot=n.lot)
        for n, number in shares
        if number > 0
    )


def _lot(state: RunState, of: _Of, jars: int) -> LotMade:
    batch, run = of.batch, of.load
    broken = sum(1 for other, _ in run.broken if other == of.batch_id) if run else 0
    out = run is not None and run.lifted_at is not None
    canned = run is not None
    place = batch.place if batch else "pantry"
    if canned and not out:
        place = APART
    jar = batch.jar if batch else run.load.jar if run else ""
    thing = Incoming(
        what=batch.product if batch else _without_number(of.batch_id),
        kind=Kind.FILLED,
        measure=Measure(unit=Unit.PIECES, part=jar),
        number=jars - broken,
        place=place,
        day=of.day,
    )
    waits = "" if out else _waits_for(state, of)
    return LotMade(
        making=Making(thing=thing, batch=_made_batch(state, of, broken), needs=()),
        batch=of.batch_id,
        load="",
        ready=not waits,
        waits_for=waits,
        booked="",
    )


def _made_batch(state: RunState, of: _Of, broken: int) -> Batch:
    batch, run = of.batch, of.load
    load: RunLoad | None = run.load if run else None
    out = run is not None and run.lifted_at is not None
    boiled = _boil_began(state, batch) if batch else None
    closed = _done(state, of.batch_id, batch.closes) if batch else None
    began = run.boiling_since if run and out else None
    if closed is not None and began is not None:
        # Tapped off late, or filled on for a later load: these were closed by then.
        closed = min(closed, began)
    filled = None if closed is None else state.earliest(closed)
    return Batch(
        food=batch.food if batch else "",
        recipe=batch.recipe if batch else "",
        source=batch.source if batch else "",
        multiple=batch.multiple if batch else 1,
        who=batch.who if batch else "",
        pot=batch.pot if batch else "",
        boil_start=_clock(boiled, of.zone),
        boil_min=batch.boil_min if batch else None,
        boil_s=batch.boil_s if batch else None,
        load=of.number if load else None,
        canner=load.canner if load else "",
        elevation_ft=batch.elevation_ft if batch else None,
        process_min=load.process_min if load and began is not None else None,
        due_min=load.process_min if load else None,
        due_source=load.source if load else "",
        due_psi=load.pressure_psi if load else None,
        out_at=_clock(run.lifted_at if run else closed, of.zone),
        out_on=_out_on(run.lifted_at if run else closed, closed, of),
        utc_offset_min=_offset_min(run.lifted_at if run else closed, of.zone),
        filled_offset_min=_offset_min(filled, of.zone),
        canned=load is not None,
        filled_at=_clock(filled, of.zone),
        process_began=_clock(began, of.zone),
        stood_min=_minutes(filled, began),
        times_lost=run.times_lost if run else 0,
        broken=broken,
        run=of.run,
        run_batch=of.batch_id,
        run_load=load.id if load else "",
        stands=batch.stands if batch else "",
    )


def _minutes(since: dt.datetime | None, until: dt.datetime | None) -> int | None:
    """Minutes between two moments: clock times alone would not tell of a night."""
    if since is None or until is None:
        return None
    return int((until - since).total_seconds() // 60)


def _boil_began(state: RunState, batch: RunBatch) -> dt.datetime | None:
    """When its boil was said begun; else when it was said done, less its minutes."""
    key = (batch.id, batch.boil_step)
    begun = next((at for b, s, at in state.begun_steps if (b, s) == key), None)
    done = _done(state, *key)
    boiled_s = batch.boil_s or 60 * (batch.boil_min or 0)
    if begun is not None or done is None or not boiled_s:
        return begun
    return done - dt.timedelta(seconds=boiled_s)


def _waits_for(state: RunState, of: _Of) -> str:
    """Say what a lot that is not out of the canner waits for."""
    run, batch = of.load, of.batch
    if run is not None:
        if run.boiling_since is not None:
            return "its process clock runs, or its jars are not lifted out yet"
        if run.times_lost:
            lost = rules_for(run.load).lost
            return f"its {lost} was lost, and its {run.load.process_min} min begin anew"
        return "its process was not started"
    if batch is None or not batch.closes:
        return ""
    done = _done(state, batch.id, batch.closes) is not None
    over = bool(state.loads) and all(r.lifted_at is not None for r in state.loads)
    if done or over:
        return ""
    if batch.stands:
        return f"it was not said that it stands {batch.stands}"
    return "it was not said that it is filled and closed"


def _done(state: RunState, batch: str, step: str) -> dt.datetime | None:
    return next((at for b, s, at in state.done_at if (b, s) == (batch, step)), None)


def _out_on(out: dt.datetime | None, closed: dt.datetime | None, of: _Of) -> str:
    """
    Return the day on which jars came out, where their clock times do not say it.

    That is a day after the run's, and its own in the night in which clocks go back.
    """
    day = "" if out is None else f"{out.astimezone(of.zone):%Y-%m-%d}"
    is_set_back = _clock(closed, of.zone) > _clock(out, of.zone)
    return "" if day == of.day and not is_set_back else day


def _offset_min(moment: dt.datetime | None, zone: dt.tzinfo | None) -> int | None:
    """Return how far the kitchen's clock was ahead of UTC. [min]"""
    offset = None if moment is None else moment.astimezone(zone).utcoffset()
    return None if offset is None else round(offset.total_seconds() / 60)


def _clock(moment: dt.datetime | None, zone: dt.tzinfo | None) -> str:
    return "" if moment is None else f"{moment.astimezone(zone):%H:%M}"


def _without_number(batch_id: str) -> str:
    """Name a batch's product where the run does not say: "plum jelly 2"."""
    name, _, number = batch_id.rpartition(" ")
    return name if name and number.isdigit() else batch_id

"""
What the stove shows: what cannot wait first, then the clocks, each with its next tap.

Pure: a state and a moment in, plain values out; page and terminal only draw them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from stillroom.capital import capital
from stillroom.jar_count import jars_said
from stillroom.methods.canner_water import VENT_MIN
from stillroom.planning.words.load_words import HOW_TO_LIFT
from stillroom.running.events import RunLoad
from stillroom.running.fold import RunState
from stillroom.running.left_in import left_in
from stillroom.running.load_run import LoadRun, Phase
from stillroom.running.rules import ClockRules, rules_for
from stillroom.running.stood import (
    Stood,
    stand_by_plan,
    stood_too_long,
    waits_closed,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """Something to tap."""

    says: str
    asks: str
    """``venting``, ``venting-stopped``, ``full-boil``, ``boil-lost`` or ``lifted``."""
    first: bool = False
    """The one that is meant next."""


LIFTED = Key(says="Lifted out", asks="lifted", first=True)
GLASS_OUT = Key(says="The glass is out", asks="lifted")


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One load as the stove shows it."""

    run: LoadRun
    phase: Phase
    big: str
    """The numerals, or one word; empty where no clock has begun."""
    until: datetime | None
    """What the numerals count down to; `None` where they stand still."""
    says: str
    """The words that go with the numerals: what ends it."""
    urgent: str
    """What cannot wait, as one sentence; empty where it can."""
    keys: tuple[Key, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """The whole run at a moment."""

    sentence: str
    at: datetime
    cards: tuple[Card, ...]
    """Clocks, what cannot wait first, and the next load of each free canner."""
    later: tuple[Card, ...]
    """Loads that wait behind these, in the order of the plan."""
    out: tuple[LoadRun, ...]
    """Loads that are out, in that order."""


ALL_BROKE = (
    "every jar of it is booked as broken. If that is so, clear the glass out when it "
    "is cold, and say so: {canner} takes no other load before"
)
_URGENCY = (
    Phase.READY,
    Phase.LOST,
    Phase.VENTED,
    Phase.RESTING,
    Phase.BOILING,
    Phase.VENTING,
    Phase.WAITING,
)


_DAY_MIN = 24 * 60


def board(state: RunState, at: datetime) -> Board:
    """Return what the stove shows at a moment."""
    stand = stand_by_plan(state, at.tzinfo)
    cards = [
        _card(
            run,
            at,
            stood_too_long(state, run, at),
            stand.get(run.load.id, "") or waits_closed(state, run, at),
        )
        for run in state.loads
        if run.lifted_at is None
    ]
    cards.sort(
        key=lambda card: (
            card.run.all_broke,  # nothing of it can wait any more
            _URGENCY.index(card.phase),
            card.until or at,
        )
    )
    shown, later = _next_first(cards)
    out = sorted(
        (run for run in state.loads if run.lifted_at is not None),
        key=lambda run: run.lifted_at or at,
    )
    return Board(
        sentence=_sentence(state, cards, at),
        at=at,
        cards=tuple(shown),
        later=tuple(later),
        out=tuple(out),
    )


def _next_first(cards: list[Card]) -> tuple[list[Card], list[Card]]:
    """Split off what waits for a canner that another load has, or will have sooner."""
    taken: set[str] = set()
    shown: list[Card] = []
    later: list[Card] = []
    for card in cards:
        canner = card.run.load.canner
        waits = card.phase is Phase.WAITING and canner in taken
        (later if waits else shown).append(card)
        taken.add(canner)
    return shown, later


VENTING = Key(says="Steam streams now", asks="venting", first=True)
VENTING_STOPPED = Key(says="The steam stopped", asks="venting-stopped")


def _reached(rules: ClockRules, *, first: bool = True) -> Key:
    return Key(says=rules.reached, asks="full-boil", first=first)


def begin_keys(rules: ClockRules) -> tuple[Key, ...]:
    """Keys of a load that has no clock yet: steam first, where there is a vent."""
    if rules.vents is None:
        return (_reached(rules),)
    return (VENTING, _reached(rules, first=False))


def _lost(rules: ClockRules, *, had: bool = False) -> Key:
    words = "It had lost the" if had else "It lost the"
    return Key(says=f"{words} {rules.lost}", asks="boil-lost")


def venting_says(until: datetime, at: datetime) -> str:
    """The words beside a vent clock."""
    began = _clock(until - timedelta(minutes=VENT_MIN), at)
    return (
        f"of {VENT_MIN} min of steady steam, from {began} until {_clock(until, at)}; "
        "the vent stays open, and somebody in the kitchen"
    )


def how_to_lift(rules: ClockRules) -> str:
    """How jars come out of a canner: what is done with its lid first."""
    if not rules.lid:
        return HOW_TO_LIFT
    return f"{capital(rules.lid)}. Jars {HOW_TO_LIFT}"


def other_keys(card: Card) -> tuple[Key, ...]:
    """Keys of a load's other hours: for a page that is cut off while time goes on."""
    rules = rules_for(card.run.load)
    shown = {key.asks for key in card.keys}
    vent = (VENTING, VENTING_STOPPED) if rules.vents is not None else ()
    every = (*vent, _reached(rules), LIFTED, _lost(rules))
    return tuple(key for key in every if key.asks not in shown)


def left(until: datetime, at: datetime) -> str:
    """
    Minutes and seconds until then, rounded up, so that "0:00" is never shown early.

    >>> noon = datetime(2026, 9, 12, 12, 0)
    >>> left(datetime(2026, 9, 12, 12, 7, 42), noon)
    '7:42'
    >>> left(datetime(2026, 9, 12, 12, 0, 0, 1), noon), left(noon, noon)
    ('0:01', '0:00')
    """
    seconds = max(0, -int((at - until).total_seconds() // 1))
    return f"{seconds // 60}:{seconds % 60:02d}"


def _clock(moment: datetime, at: datetime) -> str:
    """Clock time in the kitchen's zone; seconds only where there are any."""
    local = moment.astimezone(at.tzinfo)
    if local.second:
        return f"{local.hour}:{local.minute:02d}:{local.second:02d}"
    return f"{local.hour}:{local.minute:02d}"


def _card(run: LoadRun, at: datetime, stood: Stood | None, waits: str) -> Card:
    load, phase = run.load, run.phase(at)
    name, minutes = f"{load.name} in {load.canner}", load.process_min
    rules = rules_for(load)
    again = f"{rules.again}: the whole {minutes} min start again"
    big, until, says, urgent = "", None, "", ""
    keys: tuple[Key, ...] = ()
    match phase:
        case Phase.WAITING:
            big, keys = "", begin_keys(rules)
            says = f"{capital(rules.bring)}; then {minutes} min" + (
                f", by the plan from about {load.planned_boil}"
                if load.planned_boil
                else ""
            )
        case Phase.VENTING:
            assert run.vented_at is not None
            assert run.venting_since is not None
            big = left(run.vented_at, max(at, run.venting_since))
            until, keys = run.vented_at, (VENTING_STOPPED, _reached(rules, first=False))
            says = venting_says(run.vented_at, at)
        case Phase.VENTED:
            big, keys = "close", (_reached(rules), VENTING_STOPPED)
            says = f"steam has streamed for {VENT_MIN} min: {rules.close}; then "
            says += f"{minutes} min"
            urgent = f"{capital(name)} has vented for {VENT_MIN} min: {rules.close}."
        case Phase.LOST:
            big, keys = "lost", begin_keys(rules)
            says = again
            urgent = f"{capital(name)} lost its {rules.lost}. {capital(again)}."
        case Phase.BOILING:
            assert run.deadline is not None
            # a tap may bear the time of a phone that is ahead by a second
            since = at if run.boiling_since is None else max(at, run.boiling_since)
            big, until, keys = left(run.deadline, since), run.deadline, (_lost(rules),)
            began = _clock(until - timedelta(minutes=minutes), at)
            says = (
                f"of {minutes} min {rules.at}, from {began} until {_clock(until, at)}"
            )
        case Phase.RESTING:
            assert run.may_lift_at is not None
            big, until = left(run.may_lift_at, at), run.may_lift_at
            keys = (_lost(rules, had=True),)
            says = f"{rules.rest}; jars stay in until {_clock(until, at)}"
            says += f". {capital(rules.lid)}" if rules.lid else ""
            if_so = f", {rules.if_so}" if rules.if_so else ""
            urgent = (
                f"{capital(name)} has had its {minutes} min. "
                f"{capital(rules.rest)}; lift the jars at {_clock(until, at)}{if_so}."
            )
        case Phase.READY | Phase.LIFTED:
            big, keys = "out", (LIFTED, _lost(rules, had=True))
            says = how_to_lift(rules)
            if_so = f" {rules.if_so}" if rules.if_so else ""
            urgent = f"{capital(name)} may come out now{if_so}: {jars_said(run.whole)}."
            if stayed := left_in(run, at):
                says = f"{says}. {capital(stayed)}"
                urgent = f"{capital(name)}: {stayed.partition('. ')[0]}."
    if waits:
        says += f". {capital(waits)}"
    if stood is not None:  # a boil that was lost does not matter to them any more
        says = urgent = f"{capital(load.name)}: {stood.words}."
    if run.all_broke:
        says, urgent, keys = ALL_BROKE.format(canner=load.canner), "", (GLASS_OUT,)
    return Card(
        run=run,
        phase=phase,
        big=big,
        until=until,
        says=says,
        urgent=urgent,
        keys=keys,
    )


def _sentence(state: RunState, cards: list[Card], at: datetime) -> str:
    if state.begun_at is None:
        return "The day has not been begun."
    if not state.loads:
        return "Nothing is canned on this day: there is no clock to keep."
    if not cards:
        return _all_out(state)
    urgent = [card.urgent for card in cards if card.urgent]
    if urgent:
        return urgent[0]
    card = cards[0]
    if card.until is not None:
        rules = rules_for(card.run.load)
        name, until = capital(card.run.load.name), _clock(card.until, at)
        if card.phase is Phase.VENTING:
            return f"{name} vents until {until}. If the steam stops, say so."
        return f"{name} {rules.runs} until {until}. {rules.heed}"
    load = card.run.load
    return f"Next: {load.name} in {load.canner}{_by_the_plan(load, at)}."


def _by_the_plan(load: RunLoad, at: datetime) -> str:
    """When a load is to be on its clock; an hour that has gone by is told as that."""
    if not load.planned_boil:
        return ""
    there, when = rules_for(load).at, load.planned_boil
    hours, _, minutes = when.split()[0].partition(":")  # less "(next day)"
    gone_min = 60 * at.hour + at.minute - (60 * int(hours) + int(minutes))
    if 0 < gone_min % _DAY_MIN < _DAY_MIN // 2:
        return f"; by the plan it was to be {there} at {when}"
    return f", {there} about {when} by the plan"


def _all_out(state: RunState) -> str:
    """The end of the canners' day; a jar that broke is not counted among the others."""
    broke = sum(len(run.broken) for run in state.loads)
    jars = sum(run.load.count for run in state.loads) - broke
    said = {0: "No jar is left", 1: "The jar is out"}.get(
        jars, f"All {jars} jars are out"
    )
    return f"{said}; {jars_said(broke)} broke." if broke else f"{said}."

"""What the forms of the stock pages ask for, as commands; and how they come late."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import TypedDict
from urllib.parse import quote

from stillroom.book.elevation import read_elevation_m
from stillroom.book.process_table import JARS
from stillroom.book.processes import METHODS
from stillroom.measures import FOOT_M
from stillroom.refusal import Fault, Unreadable
from stillroom.stock.carried_at import carried_at
from stillroom.stock.clock_offsets import ended_after
from stillroom.stock.cold_said import COLD_AS
from stillroom.stock.commands import (
    Check,
    Command,
    Complete,
    Count,
    Hold,
    Label,
    Move,
    Note,
    Process,
    Receive,
    SayCold,
    SayGauge,
    SayPutUp,
    Take,
)
from stillroom.stock.due import PACKS, whole_feet
from stillroom.stock.events import About, Doubt, Hand, How, Seen, Way
from stillroom.stock.making import are_all_sealed, read_clock, read_seals
from stillroom.stock.sentence import Proposal
from stillroom.stock.words import LONGEST_NOTE, clean
from stillroom.stock.words import read_day as read_past_day
from stillroom.web.asking import whole

FIELDS = (
    *("deed", "lot", "place", "quantity", "to", "sentence", "seals", "seen"),
    *("why", "doubt", "hand", "who", "on", "clock", "began", "ended", "about", "back"),
    *("elevation", "which", "jar", "canner", "pack", "gauge", "cold"),
    *("how", "minutes"),
)
_TAKEN = (("quantity", "How much"), ("to", "To whom or where (if it goes)"))
TYPED: dict[str, tuple[tuple[str, str], ...]] = {
    "count": (("quantity", "How much is there"),),
    "move": (
        ("quantity", "How much"),
        ("to", "Where to"),
        ("on", "If earlier: which day"),
        ("clock", "If earlier: at what hour"),
    ),
    "check": (("seals", "Seals"),),
    "note": (("why", "Write down"),),
    "process": (
        ("on", "Day"),
        ("who", "Who saw it"),
        ("began", "Full boil at"),
        ("ended", "Ended at"),
        ("gauge", "What its gauge read"),
    ),
    "cold": (("place", "Which place"), ("who", "Who knows it")),
    "gauge": (("gauge", "What its gauge read"), ("who", "Who read it")),
    "put-up": (
        ("who", "Who knows it"),
        ("minutes", "Minutes that it had"),
        ("canner", "Canner"),
        ("gauge", "What its gauge read"),
        ("pack", "Pack"),
        ("elevation", "Height above the sea"),
        ("jar", "Jar"),
        ("which", "Which of them it is"),
    ),
    "complete": (
        ("elevation", "Height above the sea"),
        ("which", "Which of them it is"),
        ("jar", "Jar"),
        ("canner", "Canner"),
        ("pack", "Pack"),
    ),
    **dict.fromkeys(Way, _TAKEN),
    Way.SPOILED: (("quantity", "How much"), ("why", "Cause")),
    Way.BROKEN: (("quantity", "How much"), ("why", "Cause")),
}
"""What is typed for each deed, with its name: shown again where it is refused."""
LONGEST_FIELD = 4 * LONGEST_NOTE
"""
So much of a field is read. It is far above what any field may have, so that what is too
long is refused by its reader, and never booked without its end.
"""
BACK = ("/stock", "/stock/after", "/stock/count", "/stock/lot")
"""Pages to which a booking may lead back."""
OLDEST_LATE = dt.timedelta(days=60)
AHEAD = dt.timedelta(minutes=10)
"""So far a phone's clock may be ahead of the kitchen's."""


def typed_of(given: Mapping[str, str]) -> dict[str, str]:
    """Return the fields of a form, trimmed; what is missing is empty."""
    return {name: given.get(name, "").strip()[:LONGEST_FIELD] for name in FIELDS}


def back_of(typed: Mapping[str, str]) -> str:
    """Return the page to go back to: one of ours, else the stock."""
    back = typed["back"] if typed["back"] in BACK else BACK[0]
    return f"{back}/{quote(typed['lot'])}" if back == "/stock/lot" else back


def said_at(text: str, now: dt.datetime) -> dt.datetime:
    """
    Read the own time of an entry that was typed in while nothing could be sent.

    Raises
    ------
    Unreadable
        If it is no moment with a time zone, lies in the future, or too far back.
    """
    try:
        at = dt.datetime.fromisoformat(text)
    except ValueError:
        at = None
    if at is None or at.tzinfo is None:
        raise Unreadable(
            Fault(f"{text[:40]!r} is no moment with its time zone", key="at")
        )
    if at > now + AHEAD:
        raise Unreadable(
            Fault(
                f"{_clock_of(at, now)} lies in the future; it is "
                f"{_clock_of(now, now)} here: set the clock of the device right on "
                "which it was typed in, and type it in again",
            )
        )
    if at < now - OLDEST_LATE:
        raise Unreadable(
            Fault(
                f"it was typed in {_clock_of(at, now)}, more than {OLDEST_LATE.days} "
                "days ago: count the shelf again and book what is there now",
            )
        )
    return min(at, now).astimezone(now.tzinfo)


def _clock_of(moment: dt.datetime, now: dt.datetime) -> str:
    """Day and clock time of the kitchen: "22 August 2026, 7:05"."""
    return f"{moment.astimezone(now.tzinfo):%-d %B %Y, %-H:%M}"


def command_of(
    typed: Mapping[str, str],
    at: dt.datetime,
    token: str,
    proposal: Proposal | None,
    *,
    late: bool = False,
    counted_at: dt.datetime | None = None,
) -> Command:
    """
    Return what a form asks for.

    ``counted_at`` is when a count was made, or a deed was asked about, where it comes
    in after that.

    Raises
    ------
    Unreadable
        If it is no deed of the page, or a field of it cannot be read.
    """
    lot, quantity, place = typed["lot"], typed["quantity"], typed["place"]
    to = _note(typed, "to")
    why = _note(typed, "why", called=_NOTES.get(typed["deed"], "why"))
    asked = _Asked(at=at, token=token, late=late)
    match typed["deed"]:
        case "add":
            if proposal is None or proposal.thing is None:
                raise Unreadable("nothing was understood: say what came in")
            return Receive(things=(proposal.thing,), **asked)
        case "count":
            return Count(
                lot=lot,
                quantity=quantity,
                place=place,
                why=why,
                counted_at=counted_at,
                **asked,
            )
        case "move":
            if not to:
                raise Unreadable(
                    Fault("it was not said where to: fill in the place", key="to")
                )
            now = counted_at or at  # "yesterday" is that of when it was asked
            then = carried_at(typed["on"], typed["clock"], now, day="on", hour="clock")
            if then is not None:
                asked = _Asked(at=then, token=token, late=True)
            return Move(lot=lot, quantity=quantity, to=to, place=place, **asked)
        case "check":
            return _check(typed, asked)
        case "hold":
            doubt = Doubt(_one_of(typed, "doubt", *Doubt))
            return Hold(lot=lot, doubt=doubt, note=why, **asked)
        case "label":
            return Label(lot=lot, hand=Hand(_one_of(typed, "hand", *Hand)), **asked)
        case "note":
            about = About(_one_of(typed, "about", *About))
            return Note(lot=lot, about=about, words=why, **asked)
        case "process":
            return _process(typed, at, token)
        case "cold":
            return SayCold(
                lot=lot,
                place=place,
                cold=_one_of(typed, "cold", *COLD_AS),
                who=_note(typed, "who"),
                **asked,
            )
        case "complete":
            return _complete(typed, asked)
        case "gauge":
            who = _note(typed, "who")
            return SayGauge(lot=lot, gauge=typed["gauge"], who=who, **asked)
        case "put-up":
            return _put_up(typed, asked)
        case way if way in set(Way):
            return Take(
                lot=lot,
                quantity=quantity,
                way=Way(way),
                place=place,
                to=to,
                why=why,
                **asked,
            )
        case other:
            raise Unreadable(
                f"{other[:30]!r} is nothing that the stock page does: go back to it"
            )


class _Asked(TypedDict):
    """What every deed is asked with."""

    at: dt.datetime
    token: str
    late: bool


def _check(typed: Mapping[str, str], asked: _Asked) -> Check:
    all_good = are_all_sealed(typed["seals"])
    good, failed, doubtful = (
        read_seals(typed["seals"]) if typed["seals"] and not all_good else (None, 0, 0)
    )
    seen = typed["seen"]
    return Check(
        lot=typed["lot"],
        good=good,
        failed=failed,
        doubtful=doubtful,
        all_good=all_good,
        seen=Seen(seen) if seen in set(Seen) else None,
        place=typed["place"],
        **asked,
    )


def _complete(typed: Mapping[str, str], asked: _Asked) -> Complete:
    """Read what was not said of a lot; a field that stands empty adds nothing."""
    height = typed["elevation"]
    return Complete(
        lot=typed["lot"],
        elevation_ft=_feet(height) if height else None,
        which=_note(typed, "which"),
        jar=_one_of(typed, "jar", "", *JARS),
        canner=_one_of(typed, "canner", "", *METHODS),
        pack=_one_of(typed, "pack", "", *PACKS),
        **asked,
    )


def _put_up(typed: Mapping[str, str], asked: _Asked) -> SayPutUp:
    """Read how jars were put up; what belongs to a process is left out of the rest."""
    how = How(_one_of(typed, "how", *How))
    if how is not How.PROCESS:
        return SayPutUp(lot=typed["lot"], how=how, who=_note(typed, "who"), **asked)
    minutes, height = typed["minutes"], typed["elevation"]
    return SayPutUp(
        lot=typed["lot"],
        how=how,
        who=_note(typed, "who"),
        minutes=whole(minutes) if minutes else None,
        canner=_one_of(typed, "canner", "", *METHODS),
        gauge=typed["gauge"],
        pack=_one_of(typed, "pack", "", *PACKS),
        elevation_ft=_feet(height) if height else None,
        which=_note(typed, "which"),
        jar=_one_of(typed, "jar", "", *JARS),
        **asked,
    )


def _feet(height: str) -> int:
    try:
        return whole_feet(read_elevation_m(height) / float(FOOT_M))
    except Unreadable as fault:
        raise Unreadable(
            *(Fault(str(each), key="height above the sea") for each in fault.faults)
        ) from None


def _process(typed: Mapping[str, str], at: dt.datetime, token: str) -> Process:
    """Read a process that took place; its end may lie behind midnight."""
    began, ended = process_times(typed["on"], typed["began"], typed["ended"], at)
    return Process(
        lot=typed["lot"],
        began=began,
        ended=ended,
        who=_note(typed, "who"),
        gauge=typed["gauge"],
        at=at,
        token=token,
    )


def process_times(
    on: str, began: str, ended: str, at: dt.datetime
) -> tuple[dt.datetime, dt.datetime]:
    """
    Return start and end of a process, as they were typed.

    An end before the start is of the next day.

    Raises
    ------
    Unreadable
        If the day or a clock time is missing or cannot be read.
    """
    if not began or not ended:
        raise Unreadable(
            "a process is taken in only with its start and its end: fill in both clock "
            "times, such as 22:05 and 22:16"
        )
    day = read_past_day(on or "today", today=at.date())
    if day is None or len(day) != 10:
        raise Unreadable(
            Fault(f"{on[:30]!r} is no day: write 12 September 2026", key="on")
        )
    date = dt.date.fromisoformat(day)
    start = _moment(date, read_clock(began, "began"), at)
    end = _moment(date, read_clock(ended, "ended"), at)
    return start, ended_after(start, end)


def _moment(day: dt.date, clock: str, at: dt.datetime) -> dt.datetime:
    time = dt.time.fromisoformat(clock)
    return dt.datetime.combine(day, time, tzinfo=at.tzinfo)


_NOTES = {"note": "note", "hold": "note"}
"""Deeds in whose form the field ``why`` is headed otherwise."""


def _note(typed: Mapping[str, str], name: str, *, called: str = "") -> str:
    if not typed[name]:
        return ""
    return clean(typed[name], called or name, longest=LONGEST_NOTE)


def _one_of(typed: Mapping[str, str], name: str, *allowed: str) -> str:
    if typed[name] in allowed:
        return typed[name]
    allowed = tuple(filter(None, allowed))
    raise Unreadable(
        Fault(
            f"{typed[name][:30]!r} is not offered here; choose {', '.join(allowed)}",
            key=name,
        )
    )

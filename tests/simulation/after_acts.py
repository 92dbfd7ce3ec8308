"""
The day after, as its page shows it: what is open, what may be done and how long still.

The page is held against the model to the minute; a key of it gives what is sent.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tests.simulation.devices import Device, Post, code_of
from tests.simulation.forms import Form, forms_of
from tests.simulation.shelf_model import ShelfModel
from tests.simulation.shelf_words import ASIDE, DAY, REDO_WITHIN, TO_OTHERS, Deed

if TYPE_CHECKING:
    from tests.simulation.week import FarmWeek

LOT = '<section class="lot" id="'
CHOICES = re.compile(
    r'<section class="answer choices">\s*<h3>([^<]*)</h3>(.*?)</section>', re.DOTALL
)
DO = re.compile(r"<p><b>(\w+)\.?</b>")
LEFT = re.compile(r"<b>(?:(\d+) h)?(?: ?(\d+) min)? left</b>")
LASTED_MIN = (0, 5, 10, 10, 12, 25, 605)


@dataclass(frozen=True)
class Choice:
    """What is to be done with jars, and how many minutes are left for it."""

    of: str
    do: str
    left_min: int | None = None


def choice(shelf: ShelfModel, code: str, now: dt.datetime) -> Choice | None:
    """Return what must be shown, by the published hours."""
    made_at = shelf.lots[code].made_at
    assert made_at is not None
    since = max(dt.timedelta(), now - made_at)
    aside = shelf.at[code, ASIDE]
    if shelf.counts_as_unprocessed(code):
        none = shelf.unprocessed(code)
        of = "Never processed" if none else "Processed too short: counts as never"
        if shelf.done_again(code, now):
            return _within(REDO_WITHIN, now - shelf.over(code), of, "Reprocess")
        return _within(DAY, since, of, "Freeze")
    if doubts := shelf.doubts(code):
        return _within(REDO_WITHIN, since, doubts[-1].capitalize(), "Reprocess")
    if aside:
        return _within(DAY, since, f"{aside} jar", "Reprocess")
    if shelf.seen(code)[-1:] == ["soft"]:
        return Choice("Soft", "Wait" if since <= 3 * DAY else "Remake")
    return None


def _within(
    limit: dt.timedelta, since: dt.timedelta, of: str, do: str
) -> Choice | None:
    left = (limit - since) // dt.timedelta(minutes=1)
    return Choice(of, do, left) if since <= limit else Choice(of, "Discard")


def is_open(shelf: ShelfModel, code: str) -> bool:
    """Whether something of a lot still wants to be looked at or labelled."""
    lot = shelf.lots[code]
    if not (lot.jars and shelf.made_here(code)):
        return False
    if not shelf.here(code):
        return is_with_others(shelf, code)
    if shelf.held(code) or shelf.at[code, ASIDE] or not shelf.label(code):
        return True
    return shelf.seen(code)[-1:] != ["set"] or (lot.canned and not shelf.looked(code))


def is_with_others(shelf: ShelfModel, code: str) -> bool:
    """Whether all of a lot in doubt is gone, some of it to others: they are told."""
    went = any(
        entry.kind == "taken"
        and not entry.undone
        and entry.deed.kind in TO_OTHERS
        and any(lot == code for lot, _ in entry.change)
        for entry in shelf.booked
    )
    called_back = shelf.recalled(code) or any(
        shelf.recalled(other) and code in shelf.children(other) for other in shelf.lots
    )
    return went and shelf.in_doubt(code) and not called_back


def read_after(week: FarmWeek, device: Device) -> list[Form]:
    """Read the page, hold each lot of it against the model, and return its forms."""
    answer = week.house.windows[device.window].client.get("/stock/after")
    assert answer.status_code == 200
    shelf, now = week.models.shelf, week.clock.now()
    parts = answer.text.split(LOT)[1:]
    shown = {code_of(part[: part.index('"')]): part for part in parts}
    assert set(shown) == {code for code in shelf.lots if is_open(shelf, code)}
    for code, part in shown.items():
        assert ("<b>On hold:</b>" in part) == shelf.held(code), f"{code}: {part}"
        here = bool(shelf.here(code))
        assert ("None of it is here any more." in part) != here
        assert (f"Label: {shelf.label(code) or 'not yet'}.</p>" in part) == here
        offered = any(w in part for w in ("Label printed", "Written by hand"))
        assert offered == (not shelf.held(code) and not shelf.label(code))
        found, must = _shown_choice(part), choice(shelf, code, now) if here else None
        assert found == must, f"{code} at {now}: {found}, not {must}"
    week.tell("day after", f"{device.name}, {len(shown)} lots")
    return [
        f for f in forms_of(answer.text) if "deed" in f.hidden and "lot" in f.hidden
    ]


def _shown_choice(part: str) -> Choice | None:
    found = CHOICES.search(part)
    if found is None:
        return None
    of, words = found.groups()
    do = DO.search(words)
    assert do is not None
    left = LEFT.search(words)
    minutes = int(left[1] or 0) * 60 + int(left[2] or 0) if left else None
    if "No time left" in words:
        minutes = 0
    jars = re.match(r"\d+ jar", of)
    return Choice(jars[0] if jars else of, do[1], minutes)


def press(week: FarmWeek, form: Form) -> Post | None:
    """Return what pressing a key of it sends; `None` for one that only asks."""
    draw, given = week.draw, dict(form.hidden)
    if form.method != "post":
        return None
    code, token = code_of(given["lot"]), given["token"]
    kind = given["deed"]
    if form.keys:
        name, value = draw.choice(form.keys)
        given[name] = value
        deed = Deed(kind=kind, lot=code, said=value, token=token)
    elif kind == "check":
        good = int(given["seals"].split()[0]) if given["seals"] else None
        deed = Deed(kind=kind, lot=code, good=good, seen=given["seen"], token=token)
    else:
        assert kind == "process"
        typed, began, ended = a_process(week)
        given.update(typed)
        deed = Deed(kind=kind, lot=code, began=began, ended=ended, token=token)
    return Post(form.action, given, deed)


def a_process(week: FarmWeek) -> tuple[dict[str, str], dt.datetime, dt.datetime]:
    """Return a process that somebody saw, or thinks to have seen."""
    draw = week.draw
    began = week.clock.now() - dt.timedelta(minutes=draw.randint(0, 300))
    began = began.replace(second=0, microsecond=0)
    ended = began + dt.timedelta(minutes=draw.choice(LASTED_MIN))
    typed = {
        "on": f"{began:%Y-%m-%d}",
        "began": f"{began:%H:%M}",
        "ended": f"{ended:%H:%M}",
        "who": "Cora",
    }
    return typed, began, ended

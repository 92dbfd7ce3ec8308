"""A whole shelf counted at once: every line of it is booked, or none."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import TYPE_CHECKING

from tests.simulation.devices import Device, Post, code_of, printed
from tests.simulation.forms import forms_of
from tests.simulation.made_model import ToBook
from tests.simulation.record_read import Row
from tests.simulation.shelf_model import ShelfModel
from tests.simulation.shelf_words import EACH, Deed, Does, ShelfCount, Verdict

if TYPE_CHECKING:
    from tests.simulation.week import FarmWeek


def expect_count(shelf: ShelfModel, asked: ShelfCount, now: dt.datetime) -> ToBook:
    """Return what must come of a count, line by line."""
    if asked.token in shelf.tokens:
        return ToBook(Does.AGAIN)
    lines = []
    for code, number in asked.lines:
        deed = Deed(
            kind="count",
            lot=code,
            place=asked.place,
            number=number,
            said_at=asked.said_at,
            late=asked.late,
            sure=True,  # whoever counts a shelf says so in the form, here always
        )
        verdict = shelf.expect(deed, now)
        if verdict.does is not Does.BOOKS:
            return ToBook(Does.NO)
        lines.append((deed, verdict))
    return ToBook(Does.BOOKS, tuple(lines))


def take_over_count(
    shelf: ShelfModel,
    asked: ShelfCount,
    wanted: ToBook,
    rows: list[Row],
    now: dt.datetime,
) -> None:
    """Check each line that was written, and go on with it."""
    at = min(asked.said_at, now) if asked.said_at else now
    for n, (row, line) in enumerate(zip(rows, wanted.lines, strict=True)):
        deed, verdict = line
        assert isinstance(verdict, Verdict)
        assert (row.stream, row.kind, row.at) == ("stock", "counted", at)
        deed = replace(deed, token="" if n else asked.token)
        shelf.take_over(
            row.kind, row.body, row.change, row.at, deed=deed, verdict=verdict
        )


def read_shelf(week: FarmWeek, device: Device, place: str) -> Post | None:
    """Read the page of a shelf and write what stands there; `None` where none does."""
    draw, shelf = week.draw, week.models.shelf
    client = week.house.windows[device.window].client
    answer = client.get("/stock/count", params={"place": place})
    assert answer.status_code == 200
    found = [f for f in forms_of(answer.text) if f.action == "/stock/count/book"]
    form = found[0] if found else None
    shown = {code_of(x.removeprefix("n.")) for x in form.fields} if form else set()
    here = {code for (code, at), n in shelf.at.items() if n and at == place}
    must = {code for code in here if not shelf.in_doubt(code)}
    assert shown == must, f"{place}: {shown}, not {must}"
    week.tell("count page", f"{device.name}, {place}, {len(shown)} lots")
    lines = []
    for code in sorted(shown):
        if draw.random() < 0.7:
            book = shelf.at[code, place] // EACH.get(shelf.lots[code].what, 1)
            lines.append((code, max(0, book + draw.choice((0, 0, 0, 1, -1, -2)))))
    if form is None or not lines:
        return None
    given = {**form.hidden, **{f"n.{printed(c)}": f"{n}" for c, n in lines}}
    given["sure"] = "yes"  # one jar too many is a slip that the week must bear
    asked = ShelfCount(place=place, lines=tuple(lines), token=form.hidden["token"])
    return Post(form.action, given, asked)


def cut_off(week: FarmWeek, device: Device, post: Post) -> Post:
    """Return the same count as a phone keeps it while nothing can be sent."""
    asked = post.asked
    assert isinstance(asked, ShelfCount)
    own = device.own_time(week.clock.now())
    token = f"{week.draw.getrandbits(128):032x}"
    given = {**post.data, "token": token, "at": own.isoformat()}
    kept = replace(asked, token=token, said_at=own, late=True)
    return Post("/stock/late", given, kept)

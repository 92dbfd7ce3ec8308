"""The recall sheet: all of a lot is accounted for, and nobody is forgotten."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

from tests.simulation.devices import Device, Post, code_of
from tests.simulation.forms import forms_of
from tests.simulation.shelf_model import ShelfModel
from tests.simulation.shelf_words import EACH, TO_OTHERS, Deed

if TYPE_CHECKING:
    from tests.simulation.week import FarmWeek

LINE = re.compile(r"<li><b>(L[^<]*)</b> [^:]*: (.*?)\.</li>")
TERM = re.compile(r"([a-z ]*?)(\d+)\b[^=+;]*")
ON_SHELF = re.compile(
    r'<li><b>([^<]*):</b> (\d+)[^<]*<span class="code">([^<]*)</span>'
)
MISSING, MORE = "not accounted for", "more than were booked"


def account(shelf: ShelfModel, code: str) -> Counter[str]:
    """Return where all of a lot went, as the model knows it, in bags and jars."""
    each = EACH.get(shelf.lots[code].what, 1)
    went: Counter[str] = Counter()
    for at, entry in enumerate(shelf.booked, start=1):
        number = sum(n for (lot, _), n in entry.change.items() if lot == code)
        if entry.undone or not number or entry.kind == "mended":
            continue
        if entry.kind == "taken":
            went[entry.deed.kind] -= number // each
        elif entry.kind == "counted":
            went["counted"] += number // each
        elif shelf.lots[code].born == at:
            went["begun"] += number // each
        elif entry.kind == "made":
            went["made into other lots"] -= number // each
    went["on hand"] = sum(shelf.here(code).values()) // each
    return Counter({way: n for way, n in went.items() if n})


def read_sheet(week: FarmWeek, device: Device, code: str) -> Post:
    """Read the sheet of a lot, hold it against the model; return its key."""
    shelf = week.models.shelf
    client = week.house.windows[device.window].client
    printed = f"L{code[:5]}-{code[5:]}"
    answer = client.get(f"/stock/recall/{printed}")
    assert answer.status_code == 200
    sheet = answer.text
    mine = {code, *shelf.children(code)}
    lines = {code_of(lot): words for lot, words in LINE.findall(sheet)}
    assert set(lines) == mine, f"the sheet has {set(lines)}, not {mine}"
    for lot, words in lines.items():
        assert "do not add up" not in words, f"{lot}: {words}"
        _adds_up(shelf, lot, words)
    shown = {
        (code_of(lot), place.casefold()): int(number)
        for place, number, lot in ON_SHELF.findall(sheet)
    }
    must = {
        (lot, place): n // EACH.get(shelf.lots[lot].what, 1)
        for (lot, place), n in shelf.at.items()
        if n and lot in mine
    }
    assert shown == must, f"to be taken off the shelf: {shown}, not {must}"
    told = sum(
        entry.kind == "taken" and not entry.undone and entry.deed.kind in TO_OTHERS
        for entry in shelf.booked
        if any(lot in mine for lot, _ in entry.change)
    )
    assert sheet.count(", sold · ") + sheet.count(", given · ") == told
    assert ('class="late">Recalled:' in sheet) == shelf.recalled(code)
    week.tell("recall sheet", f"{device.name}, {printed}, {len(lines)} lots, {told}")
    forms = [f for f in forms_of(sheet) if f.action.startswith("/stock/recall/")]
    token = forms[0].hidden["token"] if forms else ""
    data = {"token": token, "why": "soft lids"}
    asked = Deed(kind="recall", lot=code, token=token)
    return Post(f"/stock/recall/{printed}", data, asked)


def _adds_up(shelf: ShelfModel, code: str, words: str) -> None:
    """What was begun less all that left and is there is nothing, or was counted."""
    begun, sums = words.split(" = ", 1)
    said = Counter(begun=int(begun.split()[0]))
    missing = 0
    for term in re.split(r" \+ |; ", sums):
        found = TERM.match(term)
        if found is None:
            assert term == "all accounted for", words
        elif term.endswith(MISSING):
            missing = int(found[2])
        elif term.endswith(MORE):
            missing = -int(found[2])
        else:
            said[found[1].strip()] += int(found[2])
    must = account(shelf, code)
    counted = must.pop("counted", 0)
    said = Counter({way: n for way, n in said.items() if n})
    assert said == must, f"{code}: {words}; the model has {must}"
    left = said["begun"] - sum(n for way, n in said.items() if way != "begun")
    assert left == missing == -counted, f"{code}: {words}; counted {counted}"

"""Deeds at the command line, while the pages are served beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.cli.running import run
from tests.simulation.acts import BY_SORT, CAME_IN, WAYS
from tests.simulation.devices import Device, printed
from tests.simulation.shelf_model import Deed, Does

if TYPE_CHECKING:
    from tests.simulation.week import FarmWeek

CODES = {Does.BOOKS: 0, Does.AGAIN: 0, Does.NO: 3, Does.UNREADABLE: 2}
MADE = "redcurrant jelly"


def type_it(week: FarmWeek, _device: Device) -> None:
    """One command, run to its end; what came of it is held against the model."""
    words, deed = _drawn(week)
    week.began = week.clock.now()
    verdict = week.models.shelf.expect(deed)
    said = run("stock", *words, "--db", week.where)
    rows = week.read_on()
    week.tell("command", f"{' '.join(words)} -> {said.code}, {len(rows)} written")
    wanted = CODES[verdict.does]
    assert said.code == wanted, f"{words} {verdict}: {said.out} {said.err}"
    assert len(rows) == (verdict.does is Does.BOOKS), f"{words}: {rows}"
    for row in rows:
        week.take_over(row, deed, verdict)
    week.look()
    week.clock.go(milliseconds=1)


def _drawn(week: FarmWeek) -> tuple[list[str], Deed]:
    draw, shelf = week.draw, week.models.shelf
    codes = list(shelf.lots)
    kind = draw.choice(("made", "made", "made", "add", "out", "recall", "mend", "mend"))
    if kind == "mend":
        last = shelf.sequence
        of = max(0, last - draw.randint(0, 6)) + (draw.random() < 0.05)
        return ["mend", f"{of}", "--why", "wrong"], Deed(kind="mend", of=of)
    if kind == "recall" and codes and draw.random() < 0.4:
        code = draw.choice(codes)
        words = ["recall", printed(code), "--why", "soft lids"]
        return words, Deed(kind="recall", lot=code)
    if kind == "made" and codes:
        return _made(week, codes)
    here = [key for key, n in shelf.at.items() if n]
    if kind == "out" and here:
        code, place = draw.choice(here)
        way, number = draw.choice(WAYS[:8]), draw.randint(1, 4)
        words = ["out", printed(code), f"{number}", "--as", way, "--at", place]
        return words, Deed(kind=way, lot=code, place=place, number=number)
    sentence, what, sort = draw.choice(CAME_IN)
    place, number = draw.choice(BY_SORT[sort]), draw.randint(2, 20)
    deed = Deed(kind="add", what=what, place=place, number=number)
    return ["add", sentence.format(number, place), "--yes"], deed


def _made(week: FarmWeek, codes: list[str]) -> tuple[list[str], Deed]:
    draw = week.draw
    place = draw.choice((*BY_SORT["shelf"], "freezer 1"))
    number, minutes = draw.randint(4, 9), draw.choice((10, 10, 10, 5))
    words = ["made", f"{number} half-pints {MADE}, {place}", "--yes"]
    words += ["--elevation", "2150ft", "--process", f"{minutes}"]
    inputs = []
    for code in draw.sample(codes, min(len(codes), draw.randint(0, 3))):
        took = draw.randint(1, 5)
        inputs.append((code, took))
        words += ["--from", f"{printed(code)}={took}"]
    if draw.random() < 0.5:
        words += ["--load", f"{draw.randint(1, 3)}"]
    return words, Deed(
        kind="made",
        what=MADE,
        place=place,
        number=number,
        inputs=tuple(inputs),
        process_min=minutes,
    )

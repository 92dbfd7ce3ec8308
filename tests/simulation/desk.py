"""Deeds at the command line, while the pages are served beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.cli.running import run
from tests.simulation.acts import BY_SORT, CAME_IN, WAYS
from tests.simulation.after_acts import a_process, read_after
from tests.simulation.devices import Device, printed
from tests.simulation.shelf_words import Deed, Does

if TYPE_CHECKING:
    from tests.simulation.week import FarmWeek

CODES = {Does.BOOKS: 0, Does.AGAIN: 0, Does.NO: 3, Does.UNREADABLE: 2}
MADE = "redcurrant jelly"
KINDS = (
    *("made", "made", "made", "add", "out", "recall", "mend", "mend"),
    *("label", "hold", "process"),
)


def type_it(week: FarmWeek, _device: Device) -> None:
    """One command, run to its end; what came of it is held against the model."""
    _type(week, *_drawn(week))


def a_load_in_doubt(week: FarmWeek, device: Device) -> None:
    """Two lots of one canner load are booked; then something was wrong with it."""
    for _ in range(2):
        _type(week, *_made(week, [], load=3))
    last = list(week.models.shelf.lots)[-week.draw.randint(1, 2)]
    _type(week, *_looked(week, "hold", last))
    read_after(week, device)


def _type(week: FarmWeek, words: list[str], deed: Deed) -> None:
    week.began = week.clock.now()
    verdict = week.models.shelf.expect(deed, week.began)
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
    kind = draw.choice(KINDS)
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
    if kind in ("label", "hold", "process") and codes:
        like = shelf.unprocessed if kind == "process" else shelf.made_here
        return _looked(week, kind, draw.choice([*filter(like, codes)] or codes))
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


def _looked(week: FarmWeek, kind: str, code: str) -> tuple[list[str], Deed]:
    if kind == "process":
        typed, began, ended = a_process(week)
        words = ["process", printed(code)]
        words += [word for name in typed for word in (f"--{name}", typed[name])]
        return words, Deed(kind=kind, lot=code, began=began, ended=ended)
    if kind == "label":
        said = week.draw.choice(("printed", "written"))
        words = ["label", printed(code), "--how", said]
    else:
        said = week.draw.choice(("wrong time", "water below the lids"))
        words = ["hold", printed(code), "--as", said.replace(" ", "-")]
    return words, Deed(kind=kind, lot=code, said=said)


def _made(
    week: FarmWeek, codes: list[str], *, load: int | None = None
) -> tuple[list[str], Deed]:
    draw = week.draw
    place = draw.choice((*BY_SORT["shelf"], "freezer 1"))
    number, minutes = draw.randint(4, 9), draw.choice((10, 10, 10, 5, 0, 0))
    words = ["made", f"{number} half-pints {MADE}, {place}", "--yes"]
    words += ["--elevation", "2150ft"]
    words += ["--process", f"{minutes}"] if minutes else []  # else it had none
    inputs = []
    for code in draw.sample(codes, min(len(codes), draw.randint(0, 3))):
        took = draw.randint(1, 5)
        inputs.append((code, took))
        words += ["--from", f"{printed(code)}={took}"]
    load = load or draw.choice((None, 1, 1, 2))
    words += ["--load", f"{load}"] if load else []
    return words, Deed(
        kind="made",
        what=MADE,
        place=place,
        number=number,
        inputs=tuple(inputs),
        process_min=minutes,
        load=load,
    )

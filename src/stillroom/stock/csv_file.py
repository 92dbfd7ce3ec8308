"""
A CSV file to things that came in: all rows or none.

A file is refused whole, with the number of each faulty row: half a file in the record
would have to be found and taken out by hand.
"""

from __future__ import annotations

import csv
import datetime as dt
import io

from stillroom.file_text import LARGEST_FILE, FileKind, too_large
from stillroom.jar_count import counted
from stillroom.refusal import Fault, Unreadable
from stillroom.stock.commands import Incoming
from stillroom.stock.events import Kind
from stillroom.stock.sentence import propose

CSV = FileKind("CSV file", "CSV", "give the CSV file's path", "Nothing was booked")
COLUMNS = ("quantity", "what", "place", "each", "day", "best_before", "supplier")
"""In this order or another; the first three must be there."""
MORE = ("paid", "kind", "note")
NEEDED = ("quantity", "what", "place")
MOST_ROWS = 2_000
MOST_FAULTS = 20
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def read_csv(
    raw: bytes, *, today: dt.date, known_places: tuple[str, ...] = ()
) -> tuple[Incoming, ...]:
    r"""
    Return what a CSV file has, a thing for each row.

    Parameters
    ----------
    raw : bytes
        UTF-8, at most 1 MB and 2,000 rows, with the names of `COLUMNS` and `MORE` in
        its first line.
    today : date
        No row may have a later day.
    known_places : tuple of str
        Places that the record knows.

    Raises
    ------
    Unreadable
        With a fault for each row that cannot be read. Then none is.

    Examples
    --------
    >>> rows = read_csv(b"quantity,what,place\n25 lb,pears,cellar\n",
    ...                 today=dt.date(2026, 11, 25))
    >>> rows[0].what, rows[0].measure.words(rows[0].number)
    ('pears', '25 lb (11.34 kg)')
    """
    rows = _rows(raw)
    header = _header(rows[0])
    faults: list[Fault] = []
    things: list[Incoming] = []
    for line, cells in rows[1:]:
        if len(cells) != len(header):
            faults.append(
                Fault(f"{len(cells)} cells, and {len(header)} columns", line=line)
            )
            continue
        row = dict(zip(header, (cell.strip(" ") for cell in cells), strict=True))
        found = _formulas(row, line)
        faults += found
        if found:
            continue
        try:
            things.append(_thing(row, today, known_places))
        except Unreadable as error:
            faults += [Fault(f.what, key=f.key, line=line) for f in error.faults]
    if not things and not faults:
        faults.append(Fault("the file has a first line, and nothing below it"))
    if faults:
        more = len(faults) - MOST_FAULTS
        shown = faults[:MOST_FAULTS]
        if more > 0:
            shown.append(Fault(f"and {counted(more, 'fault')} more"))
        raise Unreadable(*shown, "nothing of the file was booked")
    return tuple(things)


def _rows(raw: bytes) -> list[tuple[int, list[str]]]:
    if len(raw) > LARGEST_FILE:
        raise too_large("the file", len(raw), CSV)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise Unreadable(
            Fault(
                "the file is not in UTF-8: save it as CSV UTF-8. Nothing was booked",
                line=line,
            )
        ) from None
    if "\x00" in text:
        raise Unreadable("the file has zero bytes in it, so it is no CSV file")
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    rows = []
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                rows.append((reader.line_num, cells))
            if len(rows) > MOST_ROWS + 1:
                raise Unreadable(
                    f"the file has more than {MOST_ROWS:,} rows: give it in parts. "
                    "Nothing was booked"
                )
    except csv.Error as error:
        raise Unreadable(
            Fault(f"no CSV: {error}. Nothing was booked", line=reader.line_num)
        ) from None
    if not rows:
        raise Unreadable("the file is empty: nothing was booked")
    return rows


def _header(row: tuple[int, list[str]]) -> list[str]:
    line, cells = row
    names = [cell.strip().lower().replace(" ", "_") for cell in cells]
    allowed = (*COLUMNS, *MORE)
    wrong = [name for name in names if name not in allowed]
    missing = [name for name in NEEDED if name not in names]
    twice = sorted({name for name in names if names.count(name) > 1})
    said = []
    if wrong:
        said.append(
            "columns that are not known: " + ", ".join(f"{n[:30]!r}" for n in wrong[:8])
        )
    if missing:
        said.append("columns that are missing: " + ", ".join(missing))
    if twice:
        said.append("columns that are there twice: " + ", ".join(n[:30] for n in twice))
    if said:
        raise Unreadable(
            Fault(
                "; ".join(said) + f". Allowed are {', '.join(allowed)}; "
                f"{', '.join(NEEDED)} must be there. Nothing was booked",
                line=line,
            )
        )
    return names


def _formulas(row: dict[str, str], line: int) -> list[Fault]:
    return [
        Fault(
            f"{cell[:30]!r} begins with {cell[0]!r}, as a formula does: write it "
            "without",
            key=name,
            line=line,
        )
        for name, cell in row.items()
        if cell.startswith(_FORMULA)
    ]


def _thing(
    row: dict[str, str], today: dt.date, known_places: tuple[str, ...]
) -> Incoming:
    """Read a row as the sentence that it makes up; each cell is one part of it."""
    kind = None
    if said := row.get("kind", ""):
        kinds = {k.value: k for k in Kind}
        if said.lower() not in kinds:
            raise Unreadable(
                Fault(f"{said[:30]!r} is none of {', '.join(kinds)}", key="kind")
            )
        kind = kinds[said.lower()]
    for name, cell in row.items():
        if "," in cell.replace(", ", ",") and name not in ("quantity",):
            raise Unreadable(Fault("leave commas out of a cell", key=name))
        if ";" in cell or "\n" in cell:
            raise Unreadable(Fault("leave semicolons and new lines out", key=name))
    place = row["place"]
    if not place:
        raise Unreadable(Fault("nothing is written there: name a place", key="place"))
    parts = [f"{row['quantity']} {row['what']}", place]
    words = {"each": "{} each", "day": "{}", "best_before": "best before {}"}
    words |= {"supplier": "supplier {}", "paid": "paid {}", "note": "note {}"}
    parts += [form.format(row[name]) for name, form in words.items() if row.get(name)]
    read = propose(
        ", ".join(parts), today=today, known_places=(*known_places, place), kind=kind
    )
    if read.thing is None:
        raise Unreadable(*read.faults)
    return read.thing

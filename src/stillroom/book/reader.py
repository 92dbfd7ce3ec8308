"""
Reads the book's tables, and stops at the first row that must not be believed.

Every table is a CSV file with one row a figure; its columns carry their unit in their
name or beside it in a column ``unit``. Each row says who published it (``source``) and
whether that text was seen (``how_known``).
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from importlib.resources import files
from importlib.resources.abc import Traversable
from math import isfinite

from stillroom.refusal import Fault, Source, Unreadable

HOW_KNOWN = ("looked_up", "computed", "practice", "memory")
"""Seen in print; worked out from such figures; common practice; remembered."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table. The readers of a cell stop at one that cannot be right."""

    table: str
    line: int
    cells: Mapping[str, str]

    @property
    def source(self) -> Source:
        """Who published the row, and whether that was seen."""
        return Source(self.cells["source"], self.cells["how_known"])

    def text(self, column: str) -> str:
        """Return the cell; it must not be empty."""
        value = self.cells[column]
        if not value:
            raise self.wrong(column, "is empty; every row needs it")
        return value

    def note(self, column: str) -> str:
        """Return the cell; it may be empty."""
        return self.cells[column]

    def one_of(self, column: str, allowed: Sequence[str]) -> str:
        """Return the cell, which must be one of ``allowed``."""
        value = self.text(column)
        if value not in allowed:
            raise self.wrong(column, f"is {value!r}; allowed: {', '.join(allowed)}")
        return value

    def words(self, column: str) -> tuple[str, ...]:
        """Return the parts of a cell that are set apart by semicolons; may be none."""
        parts = (part.strip() for part in self.cells[column].split(";"))
        return tuple(part for part in parts if part)

    def number(self, column: str, low: float, high: float) -> float:
        """Return the cell as a number from ``low`` to ``high``."""
        try:
            value = float(self.text(column))
        except ValueError:
            raise self.wrong(
                column, f"is {self.cells[column]!r}, which is not a number"
            ) from None
        if not (isfinite(value) and low <= value <= high):
            raise self.wrong(
                column, f"is {self.cells[column]}; allowed: {low:g} to {high:g}"
            )
        return value

    def number_or_none(self, column: str, low: float, high: float) -> float | None:
        """Return the cell as a number, or `None` where nothing was printed."""
        return self.number(column, low, high) if self.cells[column] else None

    def whole(self, column: str, low: int, high: int) -> int:
        """Return the cell as a whole number from ``low`` to ``high``."""
        value = self.number(column, low, high)
        if value != int(value):
            raise self.wrong(column, f"is {self.cells[column]}; it must be whole")
        return int(value)

    def whole_or_none(self, column: str, low: int, high: int) -> int | None:
        """Return the cell as a whole number, or `None` where nothing was printed."""
        return self.whole(column, low, high) if self.cells[column] else None

    def fraction(self, column: str, low: int, high: int) -> Fraction:
        """Return a kitchen quantity, exact: ``7/2`` is three and a half."""
        try:
            value = Fraction(self.text(column))
        except (ValueError, ZeroDivisionError):
            raise self.wrong(
                column, f"is {self.cells[column]!r}, which is not a fraction like 7/2"
            ) from None
        if not low < value <= high:
            raise self.wrong(
                column,
                f"is {self.cells[column]}; allowed: above {low}, up to {high}",
            )
        return value

    def wrong(self, column: str, what: str) -> Unreadable:
        """Return the error that names this table, line and column."""
        return Unreadable(Fault(f"{column} {what}", key=self.table, line=self.line))


def table(name: str) -> Traversable:
    """Return the table that ships with the book under this name."""
    return files("stillroom.book") / "data" / f"{name}.csv"


def read_rows(path: Traversable, columns: Sequence[str]) -> tuple[Row, ...]:
    """
    Return all rows of a table.

    Parameters
    ----------
    path : Traversable
        The CSV file, UTF-8, with a header.
    columns : sequence of str
        Its columns, in order. ``source`` and ``how_known`` are always among them.

    Raises
    ------
    Unreadable
        If the header differs, or a row has not as many cells, no source, no word on how
        it is known, or an empty ``unit``. The message names file and line.
    """
    rows: list[Row] = []
    with path.open("r", encoding="utf-8") as stream:
        reader = csv.reader(stream)
        header = next(reader, [])
        if tuple(header) != tuple(columns) or not {"source", "how_known"} <= set(
            header
        ):
            raise Unreadable(
                Fault(
                    f"the columns are {', '.join(header) or 'missing'}; expected: "
                    f"{', '.join(columns)}, with source and how_known among them",
                    key=path.name,
                    line=1,
                )
            )
        for cells in reader:
            row = Row(
                path.name, reader.line_num, dict(zip(header, cells, strict=False))
            )
            if len(cells) != len(header):
                raise row.wrong(
                    "row", f"has {len(cells)} cells; the header has {len(header)}"
                )
            row.text("source")
            row.one_of("how_known", HOW_KNOWN)
            if "unit" in header:
                row.text("unit")
            rows.append(row)
    return tuple(rows)

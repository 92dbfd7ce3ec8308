"""A picture in the terminal: lines of blocks, each its own shade, marks as rules."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stillroom.explaining.explanation import Also, Line, Mark, Picture

SHADES = "█▒+o"
HIGH = 14
"""Rows of the field."""


def curve_text(picture: Picture, width: int) -> list[str]:
    """
    Return a picture as rows of text with its axes and a legend.

    Parameters
    ----------
    picture : Picture
        Lines and marks.
    width : int
        Columns that there are, axes included.

    Returns
    -------
    list of str
        Rows; no colour is needed to read them.
    """
    low_x, high_x = _ends(x for one in picture.lines for x in one.x)
    low_y, high_y = _ends(
        [y for one in picture.lines for y in one.y]
        + [mark.at for mark in picture.marks if not mark.upright]
    )
    room = max(len(_number(low_y)), len(_number(high_y)))
    across = max(20, width - room - 4)
    field = [[" "] * across for _ in range(HIGH)]

    def column(x: float) -> int:
        return round((x - low_x) / (high_x - low_x) * (across - 1))

    def row(y: float) -> int:
        return HIGH - 1 - round((y - low_y) / (high_y - low_y) * (HIGH - 1))

    for mark in picture.marks:
        if mark.upright and low_x <= mark.at <= high_x:
            for cells in field:
                cells[column(mark.at)] = "¦"
        elif not mark.upright:
            for at in range(0, across, 2):
                field[row(mark.at)][at] = "-"
    for shade, one in reversed(list(zip(SHADES, picture.lines, strict=False))):
        for at in range(across):
            x = low_x + at / (across - 1) * (high_x - low_x)
            y = _height(one, x)
            if y is not None:
                field[row(y)][at] = shade
    rows = []
    for index, cells in enumerate(field):
        label = {0: _number(high_y), HIGH - 1: _number(low_y)}.get(index, "")
        rows.append(f"  {label:>{room}} ┤{''.join(cells)}".rstrip())
    rows.append(f"  {'':>{room}} └{'─' * across}")
    ends = f"{_number(low_x)}{_number(high_x):>{across - len(_number(low_x))}}"
    rows.append(f"  {'':>{room}}  {ends}")
    for way, label, low_high, also in (
        ("across", picture.x_label, (low_x, high_x), picture.x_also),
        ("up", picture.y_label, (low_y, high_y), picture.y_also),
    ):
        rows.append(f"  {'':>{room}}  {way}: {label}{_in_other(low_high, also)}")
    rows += [
        f"  {'':>{room}}  {shade} {one.name}"
        for shade, one in zip(SHADES, picture.lines, strict=False)
    ]
    rows += [f"  {'':>{room}}  {_sign(mark)} {_said(mark)}" for mark in picture.marks]
    return rows


def _in_other(ends: tuple[float, float], also: Also | None) -> str:
    """Return the ends of an axis in its other unit: " (88 °C to 104 °C)"."""
    if also is None:
        return ""
    low, high = (also.said(end, (ends[1] - ends[0]) / 5) for end in ends)
    return f" ({low} to {high})"


def _sign(mark: Mark) -> str:
    return "¦" if mark.upright else "-"


def _said(mark: Mark) -> str:
    return f"{mark.text} ({_number(mark.at)}){', published' if mark.published else ''}"


def _height(one: Line, x: float) -> float | None:
    """Height of a line at ``x``; `None` where it does not reach."""
    if not one.x or not one.x[0] <= x <= one.x[-1]:
        # A line may run from right to left.
        if not one.x or not one.x[-1] <= x <= one.x[0]:
            return None
        one = Line(name=one.name, x=one.x[::-1], y=one.y[::-1])
    return _between(one.x, one.y, x)


def _between(xs: Sequence[float], ys: Sequence[float], x: float) -> float:
    for i in range(len(xs) - 1):
        if xs[i] <= x <= xs[i + 1]:
            span = xs[i + 1] - xs[i]
            share = (x - xs[i]) / span if span else 0.0
            return ys[i] + share * (ys[i + 1] - ys[i])
    return ys[-1]


def _ends(values: Iterable[float]) -> tuple[float, float]:
    known = list(values)
    low, high = min(known, default=0.0), max(known, default=1.0)
    return (low, high) if high > low else (low - 1.0, high + 1.0)


def _number(value: float) -> str:
    """
    Short number for an axis.

    >>> _number(10000.0), _number(3.25), _number(0.851)
    ('10,000', '3.2', '0.85')
    """
    if abs(value) >= 20:
        return f"{value:,.0f}"
    return f"{value:.1f}" if abs(value) >= 1 else f"{value:.2g}"

"""Names and days as people write them, and what is not let in."""

from __future__ import annotations

import datetime as dt
import re
import unicodedata

from stillroom.refusal import Fault, Unreadable

LONGEST_NAME = 80
LONGEST_NOTE = 500
_MARKS = frozenset(" '\u2019-–.,;:()/&+%°½¼¾#!?\"")
_FORMULA = ("=", "+", "-", "@")
_MONTHS = {
    name: number
    for number, names in enumerate(
        (
            ("january", "jan"),
            ("february", "feb"),
            ("march", "mar"),
            ("april", "apr"),
            ("may",),
            ("june", "jun"),
            ("july", "jul"),
            ("august", "aug"),
            ("september", "sep", "sept"),
            ("october", "oct"),
            ("november", "nov"),
            ("december", "dec"),
        ),
        start=1,
    )
    for name in names
}
WEEKDAYS = tuple(
    f"{name}day" for name in ("mon", "tues", "wednes", "thurs", "fri", "satur", "sun")
)
NOT_YET = ("next", "this", "until", "till", "by", "for", "before", "after", "every")
"""Before a weekday: it is not the last one that was."""
FIRST_YEAR = 2000


def clean(text: str, what: str, *, longest: int = LONGEST_NAME) -> str:
    """
    Return a name as it may be kept: composed letters, single spaces, a bounded length.

    Raises
    ------
    Unreadable
        If it is empty, too long, begins as a formula does (it would run in a
        spreadsheet one day), or has a sign that cannot be seen or read.

    Examples
    --------
    >>> clean("  Café   shelf ", "place")
    'Café shelf'
    """
    name = " ".join(unicodedata.normalize("NFC", text[: 4 * longest + 1]).split(" "))
    name = re.sub(r" +", " ", name).strip(" ")
    if not name:
        raise Unreadable(Fault("nothing is written there: give a name", key=what))
    if len(name) > longest:
        raise Unreadable(
            Fault(
                f"{name[:30]!r}... has more than {longest} letters: shorten it",
                key=what,
            )
        )
    if name.startswith(_FORMULA):
        raise Unreadable(
            Fault(
                f"{name[:30]!r} begins with {name[0]!r}, as a formula does: "
                "begin with a letter or a number",
                key=what,
            )
        )
    for sign in name:
        if not _readable(sign):
            raise Unreadable(
                Fault(
                    f"{name[:30]!r} has the sign {sign!r} in it, which cannot be "
                    "read on a label: use letters, digits and common marks",
                    key=what,
                )
            )
    return name


def _readable(sign: str) -> bool:
    return sign in _MARKS or unicodedata.category(sign) in {
        *("Lu", "Ll", "Lt", "Lo", "Nd"),
    }


def read_day(text: str, *, today: dt.date) -> str | None:
    """
    Read a day or a month that is past; `None` where it is neither.

    A month without its year is the last one that was, and so is a weekday.

    Returns
    -------
    str or None
        "2026-06-12", or "2026-06" where only the month is known.

    Raises
    ------
    Unreadable
        If it lies in the future, is no day of the calendar, or is today's weekday,
        which may be today or a week ago.

    Examples
    --------
    >>> read_day("Sunday", today=dt.date(2026, 11, 25))
    '2026-11-22'
    >>> read_day("June", today=dt.date(2026, 11, 25))
    '2026-06'
    >>> read_day("12 June", today=dt.date(2026, 11, 25))
    '2026-06-12'
    """
    said = " ".join(text.lower().split()).rstrip(".")
    if said in ("today", "now"):
        return today.isoformat()
    if said == "yesterday":
        return (today - dt.timedelta(days=1)).isoformat()
    if said.rpartition(" ")[2] in WEEKDAYS:
        return _weekday(said, today)
    found = _day_parts(said)
    if found is None:
        return None
    year, month, day = found
    if year is None:
        earlier = (month, 1 if day is None else day) <= (today.month, today.day)
        year = today.year if earlier else today.year - 1
    if day is None:  # the month alone; a day 0 is no day of the calendar
        begun = _date(year, month, 1, text)
        _not_ahead(begun, today, text)
        return f"{year:04}-{month:02}"
    date = _date(year, month, day, text)
    _not_ahead(date, today, text)
    return date.isoformat()


def _weekday(said: str, today: dt.date) -> str | None:
    """Return the last such day before today; it is asked where that is not plain."""
    before, _, weekday = said.rpartition(" ")
    if before in NOT_YET:
        raise Unreadable(
            Fault(
                f"{said!r} is no day that was: give the day on which it was made, came "
                f'in or was carried, such as "last {weekday.capitalize()}"',
                key="date",
            )
        )
    if before not in ("", "last"):
        return None
    days = (today.weekday() - WEEKDAYS.index(weekday)) % 7
    if days == 0 and not before:
        raise Unreadable(
            Fault(
                f"{said!r} may be today or a week ago: write today, or "
                f'"last {weekday.capitalize()}"',
                key="date",
            )
        )
    return (today - dt.timedelta(days=days or 7)).isoformat()


def by_plan(run: str, day: str) -> str:
    """
    Say by which day's plan a run went, where its lots are of another; else nothing.

    Two runs that were worked on one day have a load 1 each: this tells them apart.

    >>> by_plan("run/2026-09-12", "2026-09-13"), by_plan("run/2026-09-12", "2026-09-12")
    ('by the plan of 12 September 2026', '')
    """
    date = run.rpartition("/")[2]
    return f"by the plan of {said_day(date)}" if date and date != day else ""


def read_best_before(text: str) -> dt.date:
    """Read a best-before or use-by date; it may be past or to come."""
    found = _day_parts(text.strip().lower())
    if found is None or found[0] is None:
        raise Unreadable(
            Fault(
                f"{text[:30]!r} is no date with its year: write 2027-03-31 or "
                "31 March 2027",
                key="best before",
            )
        )
    year, month, day = found
    if day is not None:
        return _date(year or 0, month, day, text)
    return month_after(_date(year or 0, month, 1, text)) - dt.timedelta(days=1)


def begun(day: str) -> dt.date:
    """Return the first day that a day or month may mean."""
    return dt.date.fromisoformat(day if len(day) == 10 else f"{day}-01")


def month_after(day: dt.date) -> dt.date:
    """
    Return the first day of the month after a day's own.

    >>> month_after(dt.date(2026, 12, 31))
    datetime.date(2027, 1, 1)
    """
    return (day.replace(day=28) + dt.timedelta(days=4)).replace(day=1)


def said_day(day: str) -> str:
    """
    Say a day or a month.

    >>> said_day("2026-06"), said_day("2026-06-12")
    ('June 2026', '12 June 2026')
    """
    date = begun(day)
    return f"{date:%B %Y}" if len(day) == 7 else f"{date.day} {date:%B %Y}"


def _day_parts(said: str) -> tuple[int | None, int, int | None] | None:
    if iso := re.fullmatch(r"([0-9]{4})-([0-9]{1,2})(?:-([0-9]{1,2}))?", said):
        return int(iso[1]), int(iso[2]), int(iso[3]) if iso[3] else None
    words = re.fullmatch(
        r"(?:([0-9]{1,2})\.? )?([a-z]+)\.?(?: ([0-9]{1,2})(?![0-9]))?"
        r"(?:,? ([0-9]{4}))?",
        said,
    )
    if words is None or words[2] not in _MONTHS or (words[1] and words[3]):
        return None
    day = words[1] or words[3]
    year = int(words[4]) if words[4] else None
    return year, _MONTHS[words[2]], int(day) if day else None


def _date(year: int, month: int, day: int, text: str) -> dt.date:
    try:
        date = dt.date(year, month, day)
    except ValueError:
        raise Unreadable(
            Fault(f"{text[:30]!r} is no day of the calendar", key="date")
        ) from None
    if not FIRST_YEAR <= year <= FIRST_YEAR + 99:
        raise Unreadable(
            Fault(
                f"{text[:30]!r} is outside the years {FIRST_YEAR} to "
                f"{FIRST_YEAR + 99}: look at the year again",
                key="date",
            )
        )
    return date


def _not_ahead(date: dt.date, today: dt.date, text: str) -> None:
    if date > today:
        raise Unreadable(
            Fault(
                f"{text[:30]!r} lies in the future; today is "
                f"{said_day(today.isoformat())}: give the day on which it was made, "
                "came in or was carried",
                key="date",
            )
        )

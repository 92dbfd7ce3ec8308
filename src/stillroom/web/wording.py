"""Figures and sentences as the pages say them; no rule of the trade is decided here."""

from __future__ import annotations

import datetime as dt
import re

from stillroom import jar_count, measures
from stillroom.capital import capital
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import day_said

_MIXED = re.compile(r"(?<=\d) (?=\d+/\d)")
"""The space within a mixed number."""

QUART_M3 = 4 * float(measures.CUP_M3)

KNOWN = {
    "looked_up": "looked up: its text was seen",
    "memory": "from memory: its text was not seen",
    "computed": "computed here",
    "keeper": "the keeper's own",
    "practice": "common practice, no source",
}


def celsius(temperature_k: float) -> str:
    r"""
    Temperature in °C, to a tenth.

    >>> celsius(373.15)
    '100.0\xa0°C'
    """
    return f"{measures.celsius(temperature_k):.1f}\N{NO-BREAK SPACE}°C"


def fahrenheit(temperature_k: float) -> str:
    r"""
    Temperature in °F, to a tenth.

    >>> fahrenheit(373.15)
    '212.0\xa0°F'
    """
    return f"{measures.fahrenheit(temperature_k):.1f}\N{NO-BREAK SPACE}°F"


def litres(volume_m3: float) -> str:
    r"""
    Volume in litres, to a tenth.

    >>> litres(0.00946)
    '9.5\xa0L'
    """
    return f"{volume_m3 * 1000:.1f}\N{NO-BREAK SPACE}L"


def quarts(volume_m3: float) -> str:
    r"""
    Volume in US quarts, to a tenth.

    >>> quarts(0.00946)
    '10.0\xa0qt'
    """
    return f"{volume_m3 / QUART_M3:.1f}\N{NO-BREAK SPACE}qt"


def known(how_known: str) -> str:
    """
    How a figure is known, in words.

    >>> known("memory")
    'from memory: its text was not seen'
    """
    return KNOWN.get(how_known, how_known.replace("_", " "))


def date(day: dt.date) -> str:
    """
    Date as one says it.

    >>> date(dt.date(2026, 8, 14))
    'Friday 14 August 2026'
    """
    return f"{day:%A} {day.day} {day:%B %Y}"


def in_one_piece(text: str) -> str:
    r"""
    Return a text whose mixed numbers break over no line: "4" is not "4 1/2" cups.

    >>> in_one_piece("4 1/2 cups sugar, 1/2 tsp salt")
    '4\xa01/2 cups sugar, 1/2 tsp salt'
    """
    return _MIXED.sub("\N{NO-BREAK SPACE}", text)


def number(value: float) -> str:
    """
    Plain number without needless noughts.

    >>> number(4.0), number(2.25), number(2150.4)
    ('4', '2.25', '2,150.4')
    """
    return f"{round(value, 2):,}".removesuffix(".0")


def plural(unit: str, quantity: float) -> str:
    """
    Unit of a recipe as it is said with a quantity.

    >>> plural("cup", 7.5), plural("tbsp", 2), plural("package", 1), plural("each", 3)
    ('cups', 'tbsp', 'package', '')
    """
    if unit == "each":
        return ""
    if unit in ("tsp", "tbsp", "lb", "oz") or quantity <= 1:
        return unit
    return jar_count.plural(quantity, unit)


def jars(count: float, jar: str = "jar") -> str:
    """
    So many jars of a size.

    >>> jars(8, "half-pint"), jars(1), jars(2)
    ('8 half-pints', '1 jar', '2 jars')
    """
    if jar and jar[0].isdigit() and " " in jar:  # "500 ml jar"
        return f"{number(count)} × {jar}"
    return f"{number(count)} {jar_count.plural(count, jar)}"


def whole_sentence(text: str) -> str:
    """
    Text as a sentence: a large letter first, a stop at its end.

    >>> whole_sentence("begin the day at the stove"), whole_sentence("Is it so?")
    ('Begin the day at the stove.', 'Is it so?')
    """
    return ended(capital(text.strip()))


def ended(text: str) -> str:
    """
    Text with a stop at its end, and never a second one.

    >>> ended("it boils"), ended("Shred the cabbage.")
    ('it boils.', 'Shred the cabbage.')
    """
    return text if not text or text[-1] in ".!?" else f"{text}."


def moment(when: dt.datetime) -> str:
    """
    Day and hour of this machine's clock, for what was saved once.

    >>> moment(dt.datetime(2026, 9, 5, 7, 5).astimezone())
    '5 September 2026, 7:05'
    """
    here = when.astimezone()
    return f"{here.day} {here:%B %Y}, {here:%-H:%M}"


def hours(after_h: float) -> str:
    """
    Hours as one says them: days from two days on.

    >>> hours(1), hours(24), hours(72), hours(12.5)
    ('1 hour', '24 hours', '3 days', '12.5 hours')
    """
    if after_h >= 48 and after_h % 24 == 0:
        return f"{after_h / 24:g} days"
    return f"{after_h:g} hour{'' if after_h == 1 else 's'}"


def at_hour(when: dt.datetime, of: dt.date) -> str:
    """
    A day and its hour, as it is said on the page of a day.

    >>> at_hour(dt.datetime(2026, 9, 6, 7, 5), dt.date(2026, 9, 5))
    'Sunday 6 September, 7:05'
    """
    return f"{day_said(when, of)}, {when:%-H:%M}"


def what_is_made(plan: DayPlan) -> str:
    """
    Name the products of a day: "plum jelly (two batches) and pear butter".

    In the order in which they stand in the plan.
    """
    counts: dict[str, int] = {}
    for batch in plan.batches:
        counts[batch.product] = counts.get(batch.product, 0) + 1
    words = ("", "", "two", "three", "four", "five", "six", "seven", "eight", "nine")
    parts = [
        product
        if count == 1
        else f"{product} ({words[count] if count < len(words) else count} batches)"
        for product, count in counts.items()
    ]
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"

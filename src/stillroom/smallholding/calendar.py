"""
What the demo smallholding takes in and makes in a year. Invented, all of it.

Sentences are read as a keeper's own are; products are those of the book.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum

FIRST = dt.date(2025, 8, 22)
LAST = dt.date(2026, 8, 21)
"""The day before the demo day that is planned."""
STORE = "Brook Lane store"


class Odd(StrEnum):
    """What went otherwise on a day."""

    NOTHING = ""
    LUNCH = "a step stood open over lunch"
    LOST_BOIL = "a canner lost its boil"
    BROKEN_JAR = "a jar broke in the canner"
    NEVER_PROCESSED = "the last load never went into the canner"
    SOFT = "the jelly stayed soft"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cooking:
    """One day at the stove: (product, jars, jar) for each want."""

    day: dt.date
    name: str
    wants: tuple[tuple[str, int, str], ...]
    odd: Odd = Odd.NOTHING


COMES_IN: tuple[tuple[dt.date, str], ...] = (
    (dt.date(2025, 8, 22), f"50 lb sugar, pantry, from {STORE}, paid 41.50"),
    (dt.date(2025, 8, 22), "18 boxes regular powdered pectin, pantry, paid 43.20"),
    (dt.date(2025, 8, 22), f"168 half-pint jars, shed, from {STORE}, paid 159.60"),
    (dt.date(2025, 8, 22), f"36 pint jars, shed, from {STORE}, paid 39.60"),
    (dt.date(2025, 8, 22), f"240 lids, pantry, from {STORE}, paid 60"),
    (dt.date(2025, 8, 22), "16 bags plum juice, 5 cups each, freezer 1, today"),
    (dt.date(2025, 8, 22), "8 bags sour cherry juice, 3 1/2 cups each, freezer 2"),
    (dt.date(2025, 8, 28), f"2 cups orange juice, refrigerator, from {STORE}"),
    (dt.date(2025, 8, 28), "24 lb pears, cellar, from the lane, today"),
    (dt.date(2025, 9, 20), "9 bags grape juice, 5 cups each, freezer 1, today"),
    (dt.date(2025, 10, 10), "5 bags apple juice, 4 cups each, freezer 1, today"),
    (dt.date(2025, 10, 4), f"50 lb sugar, pantry, from {STORE}, paid 42.25"),
    (dt.date(2025, 11, 1), "9 bags blackberry juice, 3 1/2 cups each, freezer 2"),
    (dt.date(2026, 1, 10), "27 boxes regular powdered pectin, pantry, paid 67.50"),
    (dt.date(2026, 1, 10), f"160 half-pint jars, shed, from {STORE}, paid 152"),
    (dt.date(2026, 1, 10), f"150 lids, pantry, from {STORE}, paid 39"),
    (dt.date(2026, 3, 20), f"50 lb sugar, pantry, from {STORE}, paid 43"),
    (dt.date(2026, 6, 5), "13 lb strawberries, refrigerator, from Vesper farm"),
    (dt.date(2026, 6, 19), "13 lb strawberries, refrigerator, from Vesper farm"),
    (dt.date(2026, 7, 10), "7 bags sour cherry juice, 3 1/2 cups each, freezer 2"),
    (dt.date(2026, 8, 7), "11 bags plum juice, 5 cups each, freezer 1, today"),
)

PLUM, CHERRY, BERRY = "plum jelly", "sour cherry jelly", "blackberry jelly"
HALF = "half-pint"

COOKING: tuple[Cooking, ...] = (
    Cooking(
        day=dt.date(2025, 8, 30),
        name="Plums and pears",
        wants=((PLUM, 16, HALF), ("pear butter", 4, "pint")),
    ),
    Cooking(
        day=dt.date(2025, 9, 13),
        name="Pears from the lane",
        wants=(("pear butter", 8, HALF), (PLUM, 8, HALF)),
        odd=Odd.BROKEN_JAR,
    ),
    Cooking(
        day=dt.date(2025, 9, 27),
        name="Grapes and pears",
        wants=(("grape jelly", 17, HALF), ("pear butter", 8, HALF)),
    ),
    Cooking(
        day=dt.date(2025, 10, 11),
        name="Apples and grapes",
        wants=(("apple jelly", 18, HALF), ("grape jelly", 17, HALF)),
        odd=Odd.LOST_BOIL,
    ),
    Cooking(
        day=dt.date(2025, 11, 8),
        name="Plums in the rain",
        wants=((PLUM, 24, HALF),),
        odd=Odd.LUNCH,
    ),
    Cooking(
        day=dt.date(2025, 11, 29),
        name="For the winter market",
        wants=((CHERRY, 18, HALF), (PLUM, 8, HALF)),
    ),
    Cooking(
        day=dt.date(2026, 1, 17),
        name="Blackberries from the freezer",
        wants=((BERRY, 16, HALF),),
        odd=Odd.NEVER_PROCESSED,
    ),
    Cooking(
        day=dt.date(2026, 2, 21),
        name="A cherry day",
        wants=((CHERRY, 18, HALF),),
        odd=Odd.SOFT,
    ),
    Cooking(
        day=dt.date(2026, 3, 28),
        name="The last of the plums",
        wants=((PLUM, 24, HALF),),
    ),
    Cooking(
        day=dt.date(2026, 6, 6),
        name="First strawberries",
        wants=(("strawberry jam", 28, HALF),),
    ),
    Cooking(
        day=dt.date(2026, 6, 20),
        name="Strawberries once more",
        wants=(("strawberry jam", 28, HALF),),
    ),
    Cooking(
        day=dt.date(2026, 7, 11),
        name="Cherries",
        wants=((CHERRY, 24, HALF),),
    ),
    Cooking(
        day=dt.date(2026, 8, 8),
        name="Berries and the first plums",
        wants=((BERRY, 16, HALF), (PLUM, 16, HALF)),
    ),
)

SPOILED_ON, SPOILED = dt.date(2025, 10, 20), "pears"
SPOILED_WHY = "soft in the cellar"

RECALLED_ON = dt.date(2026, 2, 3)
RECALLED = "orange juice"
RECALLED_WHY = "called back by its store: the bottles were filled too warm (invented)"

GIVEN_ON = dt.date(2025, 12, 20)
GIVEN_TO = ("Aunt Rosalind", "the neighbours", "Wendel at the mill", "the school")
BUYERS = ("the Larch bakery", "the stand", "the stand", "the stand")

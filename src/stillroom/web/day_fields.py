"""The day file as fields that a person fills: their words, examples and kinds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from stillroom.planning.day_file.dayschema import (
    BAROMETERS,
    CANNER_KINDS,
    GOALS,
    HEATS,
    JARS,
    PURPOSES,
    SKILLS,
)


class Kind(StrEnum):
    """How a field is filled, and how it is written in the file."""

    TEXT = "text"
    """Words and measures: written as typed, in quotes."""
    CLOCK = "clock"
    """A clock time as people write it; the file has the hour of 24."""
    WHOLE = "whole"
    MONEY = "money"
    DATE = "date"
    CHOICE = "choice"
    FLAG = "flag"
    WORDS = "words"
    """Several of the given words."""
    BURNERS = "burners"
    """Several of the burners that stand in the same form."""
    PER_JAR = "per-jar"
    """A whole number for each jar size."""
    ROWS = "rows"
    """A table of its own in each row: breaks."""
    PAIRS = "pairs"
    """Pairs of clock times: away, or taken, from and to."""


@dataclass(frozen=True, slots=True)
class Field:
    """One field of the form."""

    key: str
    label: str
    kind: Kind = Kind.TEXT
    hint: str = ""
    options: tuple[tuple[str, str], ...] = ()
    """(word in the file, what the form says) pairs."""
    required: bool = False
    wide: bool = False
    in_order: bool = False
    """Whether the order of ticked words means something."""

    def choices(self, ticked: list[str]) -> list[tuple[str, str]]:
        """What can be ticked; where order counts, what is ticked comes first."""
        if not self.in_order:
            return list(self.options)
        said = dict(self.options)
        first = [(word, said[word]) for word in ticked if word in said]
        return first + [pair for pair in self.options if pair not in first]


@dataclass(frozen=True, slots=True)
class Section:
    """One table, or array of tables, of the file."""

    path: str
    """Its path in the file, ``kitchen.burners``."""
    anchor: str
    title: str
    one: str
    """What one row is called; empty for a table that is there once."""
    intro: str
    fields: tuple[Field, ...]

    @property
    def many(self) -> bool:
        """Whether it has rows."""
        return bool(self.one)


def _same(words: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    return tuple((word, word) for word in words)


def _said(
    words: tuple[str, ...], said: Mapping[str, str]
) -> tuple[tuple[str, str], ...]:
    return tuple((word, said.get(word, word)) for word in words)


BREAK_FIELDS = (
    Field("minutes", "minutes", Kind.WHOLE, "30", required=True),
    Field("earliest", "begun from", Kind.CLOCK, "11:30", required=True),
    Field("latest", "begun by", Kind.CLOCK, "13:30", required=True),
)
AWAY_FIELDS = (
    Field("from", "from", Kind.CLOCK, "10:00", required=True),
    Field("to", "to", Kind.CLOCK, "10:20", required=True),
)

_SKILL_WORDS = {
    "cold": "cold and dry work: measuring, washing jars, wiping rims",
    "knife": "the knife and the mill",
    "pan": "the hot pan: stirring, the hard boil, filling",
    "lift": "hot jars and the canner: lowering and lifting",
}
_KIND_WORDS = {
    "boiling-water": "boiling water",
    "dial-gauge": "pressure, dial gauge",
    "weighted-gauge": "pressure, weighted gauge",
}
_BAROMETER_WORDS = {
    "station": "in this kitchen, not set to sea level",
    "sea-level": "at sea level, as weather reports say it",
}

_GOAL_WORDS = {
    "nothing late": "nothing late: what is promised for an hour is there by then",
    "done by the hour": "done by the hour above",
    "one moment at a time": "one moment at a time: no two that cannot wait "
    "in one person's hands",
    "few canner runs": "few canner runs and washes",
    "done early": "done early",
    "free time in one piece": "free time in one piece for whoever helps",
}

SECTIONS = (
    Section(
        "day",
        "day",
        "The day",
        "",
        "Clock times are of 24 hours, such as 7:30 or 18:00.",
        (
            Field("name", "What the day is called", required=True, wide=True),
            Field("date", "Date", Kind.DATE, "2026-08-22", required=True),
            Field("starts", "It starts at", Kind.CLOCK, "7:30", required=True),
            Field("ends", "No step goes past", Kind.CLOCK, "20:00"),
            Field("done_by", "You would like to be done by", Kind.CLOCK, "18:30"),
            Field(
                "first",
                "What comes before all else; nothing ticked is the usual order",
                Kind.WORDS,
                options=_said(GOALS, _GOAL_WORDS),
                wide=True,
                in_order=True,
            ),
            Field(
                "without",
                "Batches that are not made, by their names in the plan",
                hint="plum jelly 4; pear butter 2",
                wide=True,
            ),
            Field(
                "invented",
                "An invented day, to try things on",
                Kind.FLAG,
                wide=True,
            ),
            Field(
                "as_published",
                "Plan with the book's figures alone, not with what past days taught",
                Kind.FLAG,
                wide=True,
            ),
        ),
    ),
    Section(
        "kitchen",
        "kitchen",
        "The kitchen",
        "",
        "Measures come with their unit; cups and litres, lb and kg are equal. With one "
        "litre or metre here your day is told in litres and grams, the printed cups "
        "beside them.",
        (
            Field("name", "Its name", required=True),
            Field("elevation", "Height above the sea", hint="2150 ft or 655 m"),
            Field("barometer", "Barometer today, if you have one", hint="27.6 inHg"),
            Field(
                "barometer_is",
                "The barometer shows the air",
                Kind.CHOICE,
                options=_said(BAROMETERS, _BAROMETER_WORDS),
            ),
            Field(
                "thermometer_boils",
                "Your thermometer reads in boiling water today",
                hint="208.5 F",
            ),
            Field("thermometer_ice", "And in crushed ice", hint="33 F"),
            Field("stove", "Stove", Kind.CHOICE, options=_same(HEATS), required=True),
            Field(
                "counter",
                "Jars that can stand and cool",
                Kind.WHOLE,
                "48",
                required=True,
            ),
            Field("cooling", "A jar keeps its place for", hint="24 h"),
            Field("mills", "Food mills", Kind.WHOLE, "1"),
            Field("sieves", "Sieves, where there is no mill", Kind.WHOLE, "1"),
        ),
    ),
    Section(
        "kitchen.burners",
        "burners",
        "Burners",
        "burner",
        "The power stands on the plate of the stove or in its booklet.",
        (
            Field("name", "Name", hint="front left", required=True),
            Field("power", "Power", hint="3 kW", required=True),
            Field("largest_pot", "Largest pot it bears", hint="16 qt"),
            Field("taken", "time when it is taken", Kind.PAIRS, wide=True),
        ),
    ),
    Section(
        "kitchen.pots",
        "pots",
        "Pots",
        "pot",
        "The volume is to the brim.",
        (
            Field("name", "Name", hint="big pot", required=True),
            Field("volume", "Volume", hint="12 qt", required=True),
            Field("material", "Made of", hint="stainless"),
        ),
    ),
    Section(
        "kitchen.canners",
        "canners",
        "Canners",
        "canner",
        "",
        (
            Field("name", "Name", hint="long canner", required=True),
            Field(
                "kind",
                "Kind",
                Kind.CHOICE,
                options=_said(CANNER_KINDS, _KIND_WORDS),
                required=True,
            ),
            Field("volume", "Volume", hint="21 qt"),
            Field("stands_on", "It covers", Kind.BURNERS, required=True, wide=True),
            Field(
                "holds",
                "Jars in one layer",
                Kind.PER_JAR,
                options=_same(JARS),
                required=True,
                wide=True,
            ),
            Field(
                "layers",
                "Layers, where more than one",
                Kind.PER_JAR,
                options=_same(JARS),
                wide=True,
            ),
        ),
    ),
    Section(
        "people",
        "people",
        "People",
        "person",
        "Only what someone may do alone; a child under ten does cold and dry work.",
        (
            Field("name", "Name", required=True),
            Field("comes", "Comes at", Kind.CLOCK, "7:30", required=True),
            Field("goes", "Goes at", Kind.CLOCK, "18:00", required=True),
            Field(
                "quarters",
                "Quarters of attention to give",
                Kind.WHOLE,
                "4 is all of it",
            ),
            Field(
                "can",
                "May do alone",
                Kind.WORDS,
                options=_said(SKILLS, _SKILL_WORDS),
                required=True,
                wide=True,
            ),
            Field("breaks", "break", Kind.ROWS, wide=True),
            Field("away", "absence", Kind.PAIRS, wide=True),
        ),
    ),
    Section(
        "shelf",
        "shelf",
        "The shelf",
        "thing on the shelf",
        "How much there is: 6 bags of 5 cups, 22 lb, 6.5 kg, 60.",
        (
            Field("is", "What it is", hint="plum juice", required=True),
            Field("quantity", "How much", hint="6 bags of 5 cups", required=True),
            Field("name", "Your name for it, if another"),
            Field("ready", "Drips or thaws until", hint="9:30"),
            Field("use_by", "Use by", Kind.DATE, "2026-09-01"),
            Field("paid", "Paid for all of it", Kind.MONEY, "12.60"),
            Field("frozen", "Frozen", Kind.FLAG),
        ),
    ),
    Section(
        "wants",
        "wants",
        "The wants",
        "want",
        "What is to be made, how many jars, and for whom.",
        (
            Field("product", "Product", hint="plum jelly", required=True),
            Field("jars", "Jars", Kind.WHOLE, "24", required=True),
            Field("jar", "Jar size", Kind.CHOICE, options=_same(JARS), required=True),
            Field("for", "For", Kind.CHOICE, options=_same(PURPOSES)),
            Field("matters", "How much it matters, 1 to 5", Kind.WHOLE, "3"),
            Field("by", "Out of the canner by", hint="15:00"),
            Field("weight", "A minute late counts", Kind.WHOLE, "1"),
            Field(
                "multiple",
                "Your own multiple of the tested batch",
                Kind.WHOLE,
                "leave empty for the tested batch",
            ),
        ),
    ),
)
"""Everything that a day file may hold, in the order in which it is filled."""


def nested_fields(kind: Kind) -> tuple[Field, ...]:
    """Fields of one row of a field that has rows itself."""
    return BREAK_FIELDS if kind is Kind.ROWS else AWAY_FIELDS

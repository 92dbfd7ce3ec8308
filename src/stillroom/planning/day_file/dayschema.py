"""
The form of the day file: its tables, their keys, and what is allowed in them.

``data/day.schema.json`` publishes the same form for editors; a test holds the two
together. Limits are ours, wide enough for any farm kitchen: they catch slips of the pen
("120 kW"), not ambitions.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from stillroom.book.elevation import HIGHEST_ELEVATION_FT, LOWEST_ELEVATION_FT
from stillroom.methods.kitchen import CannerKind, Heat
from stillroom.methods.step import Skill
from stillroom.planning.day import Purpose
from stillroom.planning.goal_order import Goal

LONGEST_NAME = 80
LONGEST_LIST = 1_000
"""Letters of several names on one line, semicolons between them."""

JARS = ("half-pint", "pint", "quart", "half-gallon")
HEATS = tuple(heat.value for heat in Heat)
CANNER_KINDS = tuple(kind.value for kind in CannerKind)
SKILLS = tuple(skill.value for skill in Skill)
GOALS = tuple(goal.value for goal in Goal)
PURPOSES = tuple(purpose.value for purpose in Purpose)
BAROMETERS = ("station", "sea-level")


@dataclass(frozen=True, slots=True)
class Keys:
    """What a table must and may have."""

    required: tuple[str, ...]
    optional: tuple[str, ...] = ()
    at_most: int = 1
    """So many such tables in one file."""

    @property
    def known(self) -> tuple[str, ...]:
        """All of them, in the order in which they are written."""
        return self.required + self.optional


TABLES: Mapping[str, Keys] = {
    "": Keys(("day", "kitchen", "people", "shelf", "wants")),
    "day": Keys(
        ("name", "date", "starts"),
        ("ends", "done_by", "first", "without", "invented", "as_published"),
    ),
    "kitchen": Keys(
        ("name", "stove", "counter", "burners", "pots"),
        (
            "elevation",
            "barometer",
            "barometer_is",
            "thermometer_boils",
            "thermometer_ice",
            "cooling",
            "mills",
            "sieves",
            "canners",
        ),
    ),
    "kitchen.burners": Keys(("name", "power"), ("largest_pot", "taken"), at_most=16),
    "kitchen.pots": Keys(("name", "volume"), ("material",), at_most=40),
    "kitchen.canners": Keys(
        ("name", "kind", "stands_on", "holds"), ("layers", "volume"), at_most=12
    ),
    "people": Keys(
        ("name", "comes", "goes", "can"), ("quarters", "breaks", "away"), at_most=20
    ),
    "people.breaks": Keys(("minutes", "earliest", "latest"), at_most=8),
    "shelf": Keys(
        ("is", "quantity"), ("name", "frozen", "ready", "use_by", "paid"), at_most=500
    ),
    "wants": Keys(
        ("product", "jars", "jar"),
        ("for", "matters", "by", "weight", "multiple"),
        at_most=100,
    ),
}

# Lowest and highest that is read, both allowed.
ELEVATION_FT = (LOWEST_ELEVATION_FT, HIGHEST_ELEVATION_FT)
PRESSURE_HPA = (640.0, 1085.0)
BOILS_READING_F = (150.0, 240.0)
ICE_READING_F = (10.0, 55.0)
BURNER_W = (100.0, 20_000.0)
POT_L = (0.2, 200.0)
PLACES = (0, 100)
LAYERS = (1, 4)
COUNTER = (0, 5_000)
COOLING_H = (12, 72)
MILLS = (0, 20)
QUARTERS = (1, 4)
BREAK_MIN = (5, 240)
WANT_JARS = (1, 1_000)
WEIGHT = (1, 100)
MATTERS = (1, 5)
MULTIPLE = (1, 12)
LOT_L = (0.0, 5_000.0)
LOT_KG = (0.0, 10_000.0)
LOT_COUNT = (1, 100_000)

"""
Read in what something comes: "14 bags redcurrant juice", "3 onion braids". Pure.

Bags, boxes and the like are counted, and hold something; of a flat or a case it is
asked how much. Jars of a size are read by themselves.
"""

from __future__ import annotations

import re

from stillroom.jar_count import counted
from stillroom.stock.events import Kind
from stillroom.stock.household import are_things
from stillroom.stock.left_in_a_name import NO_FOOD
from stillroom.stock.reading import (
    BOXES,
    HOLD_SEVERAL,
    NUMBER,
    Reading,
    each_holds,
    longest_measure,
    whole,
)

_PARTS = (
    *(
        "bag",
        "box",
        "packet",
        "pack",
        "package",
        "pouch",
        "jar",
        "lid",
        "band",
        "piece",
    ),
    *("bottle", "tub", "crate", "bin", "sack", "bucket", "carton", "tin"),
    *("bar", "block", "crock", "jug", "roll", "head", "ear", "bunch", "braid"),
    *("container", "loaf", "wheel", "pan", "pot", "dish", "bowl", "string"),
    *("rope", "wreath", "stalk", "clove", "bulb", "slab", "side", "ring", "ball"),
    *("log", "cake", "bale", "hive"),
    *HOLD_SEVERAL,
)
_WITH_OF = frozenset(
    {"pot", "dish", "bowl", "string", "case", "tray", "basket", "flat", "sleeve"}
    | {"side", "ring", "ball", "cake", "clove"}
)
"""One of these is "a pot of soup": a pot roast and a dish towel are other things."""
_ALSO_THINGS = _WITH_OF | {"container", "loaf", "wheel", "pan", "rope", "log"}
_BAG_KINDS = (
    r"(?:(?:freezer|storage|vacuum|half|quart|gallon|qt|gal|pint|sized?|paper|plastic|"
    r"cloth|mesh|burlap|zip|zipper|lock|top|vac|small|big|large|brown)[\s-]+)*"
)
"""What is said before "bags" of their size says not what is in them."""
_BOX_SIZES = r"(?:(?:half|pint|pt|quart|qt|gallon|gal|small|large)[\s-]+)*"
_BOX_KINDS = rf"(?:{_BOX_SIZES}(?:freezer|storage|plastic)[\s-]+)?"
"""As of bags; berries in plain quart boxes are measured by them."""
JAR_KINDS = (
    r"(?:(?:mason|canning|preserving|glass|wide[ -]mouth(?:ed)?|regular[ -]mouth|"
    r"size|sized|big|large|small|full|sealed)[ -]+)*"
)
"""What is said before "jars" of their make says nothing of what is in them."""
NO_FOOD_IN = rf"(?!\s+{NO_FOOD})"
_BEHIND_PART = {
    "jar": rf"{NO_FOOD_IN}(?:\s+|$)",
    "head": r"\b(?!\s+cheese)\s*",  # which is a meat
}
_KINDS = {
    "bag": _BAG_KINDS,
    "jar": JAR_KINDS,
    **dict.fromkeys(("pack", "package", "packet", "pouch"), _BAG_KINDS),
    "box": _BOX_KINDS,
    "container": rf"{_BOX_SIZES}(?:(?:freezer|storage|plastic)[\s-]+)?",
}
BAGS_BEHIND = re.compile(
    rf"(?i){_BAG_KINDS}bags?\b|{_BOX_KINDS}containers?\b|"
    r"(?:freezer|storage|plastic)[\s-]+box(?:es)?\s+\S"
)
"""Behind a size: it says how large those are, and not how much there is."""
_PART_BEHIND = re.compile(
    r"(?i)^(?P<what>[^\W\d]\S*(?:\s[^\W\d]\S*)?)\s"
    r"(?P<part>braids|bunches|heads|ears|loaves|wheels|strings|bars|blocks)$"
)
"""Behind what they are of: "3 onion braids"."""


def parts(text: str, reading: Reading) -> str | None:
    """Read "14 bags redcurrant juice", and "6 bags of 5 cups plum juice"."""
    found = NUMBER.match(text)
    if found is None:
        return None
    rest = text[found.end() :]
    if not found[1].replace(",", "").isdigit():
        return None
    for part in _PARTS:
        plural = counted(2, part)[2:]
        kind = _KINDS.get(part, "")
        behind = _BEHIND_PART.get(part, r"\b\s*")
        is_one = found[1] == "1" and part in HOLD_SEVERAL
        one = part if is_one or part not in _WITH_OF else rf"{part}(?=\s+of\b)"
        named = re.match(rf"(?i)^{kind}({plural}|{one}){behind}", rest)
        is_part = named is not None and named.end() < len(rest)
        if is_part and part in _ALSO_THINGS and are_things(rest):
            return None  # "2 pan lids" are lids
        if named and part == "jar" and named[0].strip() == rest != named[1]:
            return None  # "24 mason jars" are those jars, and none that are filled
        if named:
            reading.number = whole(found[1], text)
            if named.end() == len(rest) != len(named[1]):
                return rest  # "50 freezer bags" are those bags, and hold nothing
            reading.part = part
            rest = rest[named.end() :]
            of = re.match(r"(?i)^of\s+(?=[0-9½⅓⅔¼¾.])", rest)
            if of:
                size, rest = longest_measure(rest[of.end() :])
                each_holds(size, reading)
            return rest
    if (found := _PART_BEHIND.match(rest)) and not are_things(rest):
        reading.number = whole(text.split()[0], text)
        reading.part = _part_of(found["part"])
        return found["what"]
    return None


def what_one_holds(reading: Reading, sort: Kind) -> str:
    """
    Ask what a flat or a case holds, and how many jars and lids are in a box.

    Three boxes of lids are not three lids. Empty where it is said, or one is one.
    """
    many = counted(reading.number, reading.part)
    of = f"{many} {reading.what[:40]}"
    if sort in (Kind.JARS, Kind.LIDS) and reading.part in (*BOXES, *HOLD_SEVERAL):
        return (
            f"{of!r} does not give what one holds: write how many that are, such as "
            f'"24 {reading.what[:40]}", or behind a comma what one holds: "{of}, '
            '12 each"'
        )
    if reading.part in HOLD_SEVERAL and not reading.each:
        return (
            f"{of!r} does not give what one holds: write it behind a comma, such as "
            f'"{of}, 12 pints each", or how much there is in all'
        )
    return ""


def _part_of(plural: str) -> str:
    """
    Return the part that a plural is of.

    >>> _part_of("Loaves"), _part_of("bunches")
    ('loaf', 'bunch')
    """
    return next(part for part in _PARTS if counted(2, part)[2:] == plural.lower())

"""Read how much of what: "14 bags redcurrant juice", "9 quart jars pears"."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, field

from stillroom.jar_count import counted
from stillroom.measures.number_words import in_digits
from stillroom.measures.words import UNITS, Dimension
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import (
    MOST_PIECES,
    Absurd,
    Unit,
    measured,
)
from stillroom.stock.counted import counted_by_itself, of_what_words, trap_words
from stillroom.stock.household import are_things
from stillroom.stock.left_in_a_name import NO_FOOD, WITH_THINGS, left_in_a_name
from stillroom.stock.sized_things import sized_things
from stillroom.stock.words import clean

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
)
_BAG_KINDS = (
    r"(?:(?:freezer|storage|vacuum|half|quart|gallon|qt|gal|pint|sized?)[\s-]+)*"
)
"""What is said before "bags" of their size says not what is in them."""
_JAR_KINDS = (
    r"(?:(?:mason|canning|preserving|glass|wide[ -]mouth(?:ed)?|regular[ -]mouth|"
    r"size|sized|big|large|small|full|sealed)[ -]+)*"
)
"""What is said before "jars" of their make says nothing of what is in them."""
_FOR_JARS = re.compile(rf"(?i)(?!(?:\S+\s+)*(?:lids?|bands?|rings?)$){NO_FOOD}")
"""What is no food, and is called by the jar: "jar lifter"; jar lids are lids."""
_FOR_A_VESSEL = re.compile(
    rf"(?i)^(?P<many>[0-9][0-9,]*)\s+(?P<what>{WITH_THINGS}\s+{NO_FOOD})"
)
"""Called by what it is for: "50 bag ties"; 50 bags of ties would be bags."""
_NO_FOOD_IN = rf"(?!\s+{NO_FOOD})"
_WITH_LIDS = re.compile(
    r"(?i)^(?P<many>[0-9][0-9,]*)\s+(?P<what>(?:[^\W\d]\S*\s+)*?"
    r"(?:jars?|lids?|bands?)\s+(?:with(?:out)?|and|&)\s+(?:[^\W\d]\S*\s+)*"
    r"(?:lids?|bands?|rings?))$"
)
"""Empty jars, and lids, with what belongs to them: "12 jars with lids and bands"."""
_LIDS_ON = re.compile(
    r"(?i)^(?P<jars>[0-9].*?(?:jar|pint|quart|half[ -]?gallon)s?\s(?P<food>.*\S)"
    r"(?<!\bjar)(?<!\bjars)(?<!\blid)(?<!\blids))\s+(?P<how>with|without)\s+"
    r"(?:[^\W\d]\S*\s+)*(?:lids?|bands?)(?:\s+(?:and|&)\s+(?:lids?|bands?|rings?))?$"
)
"""Behind what is in jars: "9 quart jars pears with lids" are jars of pears."""
_BEHIND_PART = {
    "jar": rf"{_NO_FOOD_IN}(?:\s+|$)",
    "head": r"\b(?!\s+cheese)\s*",  # which is a meat
}
_BY_THE_BOX = re.compile(r"(?i)(?:quart|qt|pint|pt)s?\.?$")
_OUT_OF_ITS_BOX = re.compile(
    r"(?i)^(?:box(?:es)?|baskets?|punnets?)\s+(?:of\s+)?(?=\S)"
)
"""Berries are sold by quart and pint boxes: their measure is the box's."""
_NAME_FIRST = re.compile(
    r"^(?P<what>[^\W\d][^\d½⅓⅔¼¾]*?)[:,]?\s+(?P<size>[\d½⅓⅔¼¾.].*)$"
)
"""What it is before how much: "lye 5 lb"."""
_TWO_SIZES = re.compile(
    r"(?i)^[\d½⅓⅔¼¾.,/ ]+(?!lbs?\s+[\d.]+\s*oz\b)[a-z-]+\.?\s+[\d½⅓⅔¼¾.]"
)
_ABOUT = re.compile(
    r"(?i)^(?:about|around|approx(?:\.|imately)?|ca\.|circa|roughly|nearly|almost|some|"
    r"maybe|over|under|~)\s*(?=[0-9½⅓⅔¼¾])"
)
"""What is guessed is no count: the record would have it as one."""
_PRICE_BEHIND = re.compile(
    r"(?i)\s(?:(?:for|at|@)\s*)?"
    r"(?P<price>[$£€]\s?[0-9]+(?:[.,][0-9]{2})?|[0-9]+[.,][0-9]{2})$"
)
"""What it cost, without a comma: "25 lb sugar for 12.99"."""
_NUMBER = re.compile(r"([0-9][0-9,]*(?:\.[0-9]+)?)\s*")


@dataclass(slots=True)
class Reading:
    """What has been read so far."""

    today: dt.date
    known_places: tuple[str, ...]
    what: str = ""
    unit: Unit = Unit.PIECES
    number: int = 0
    part: str = ""
    each: int = 0
    place: str = ""
    day: str = ""
    supplier: str = ""
    paid: str = ""
    best_before: dt.date | None = None
    note: str = ""
    kept_dry: bool = False
    bought_in_shop: bool = False
    faults: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def head(text: str, reading: Reading, *, as_jars: bool) -> None:
    """Read how much of what."""
    said, text = text, in_digits(text.strip())
    if not text:
        raise Unreadable("nothing is written there: say how much of what")
    if found := _ABOUT.match(text):
        raise Unreadable(
            f"{said[:60]!r}: {found[0].strip()!r} is no quantity: count it, measure it "
            "or weigh it, and write that alone"
        )
    text = re.sub(r"^([0-9./½⅓⅔¼¾]+)-(?=(?:oz|ounce|lb|kg)s?\b)", r"\1 ", text)
    if text.startswith(("-", "\u2212")):
        raise Unreadable(f"{text[:40]!r} is less than nothing: give what came in")
    if found := _NAME_FIRST.match(text):  # "lye 5 lb"
        if _TWO_SIZES.match(found["size"]):
            raise Unreadable(
                f"{text[:60]!r} has two quantities: write one, such as "
                f'"8 half-pints {found["what"][:40]}", and "4 cups each" behind a comma'
            )
        text = f"{found['size']} {found['what']}"
    if (closed := _LIDS_ON.match(text)) and not are_things(closed["food"]):
        if closed["how"].lower() == "without":
            raise Unreadable(
                f"{said[:60]!r}: jars of food have lids: leave that out, or write of "
                f'empty ones "{in_digits(said).split()[0]} jars without lids"'
            )
        text, as_jars = closed["jars"], True
    if sized := sized_things(text):
        reading.number, reading.what = _whole(sized[0], text), clean(sized[1], "what")
        return
    rest = _for_a_vessel(text, reading) or _jars(text, reading, as_jars)
    if not rest:
        rest = _parts(text, reading)
    if rest is None:
        rest = _dozens(said, text, reading) or _bulk(text, reading)
    rest = re.sub(r"(?i)^of\s+", "", rest.strip())
    if fault := left_in_a_name(said, rest, reading.unit):
        reading.remarks.clear()
        raise Unreadable(fault)
    if found := _PRICE_BEHIND.search(rest):
        raise Unreadable(
            f"{said[:60]!r} has what it cost in its name: set that off by a comma: "
            f'", paid {found["price"]}"'
        )
    if re.match(r"(?i)with(?:out)?\s", rest):
        raise Unreadable(
            f"{said[:60]!r} says with what, and not of what: write such as "
            '"12 jars plum jelly", or "12 pint jars with lids"'
        )
    if not rest and reading.part:
        rest = counted(2, reading.part)[2:]
        if reading.part not in ("lid", "band", "jar", "roll") and not are_things(rest):
            raise Unreadable(of_what_words(said, reading.part))
    reading.what = clean(rest, "what")
    if reading.what in (counted(2, reading.part)[2:], f"{reading.part} jars"):
        reading.part = ""  # 60 lids are 60 of lids


def _for_a_vessel(text: str, reading: Reading) -> str:
    """Read "50 bag ties", "1 bottle brush", "12 jars with lids": things, all empty."""
    if (empty := _WITH_LIDS.match(text)) is not None:
        reading.number = _whole(empty["many"], text)
        return empty["what"]
    found = _FOR_A_VESSEL.match(text)
    if found is None or (found["many"] == "1" and text.lower().endswith("s")):
        return ""  # "1 bag clips" is a bag of them
    reading.number = _whole(found["many"], text)
    return found["what"]


def _jars(text: str, reading: Reading, as_jars: bool) -> str | None:
    """Read "8 half-pints plum jelly", and "60 half-pint jars" as empty jars."""
    found = re.match(
        rf"(?i)^([0-9][0-9,]*)(?:\s+|-|(?=[a-z]))({_JAR_KINDS})"
        r"(half[ -]?|1/2[ -]?)?(pint|quart|gallon|pt|qt|gal)(?:s|s?\.)?"
        rf"(?:[ -]+({_JAR_KINDS})(jars?){_NO_FOOD_IN})?(?=\s|$)(?:\s+of\b)?",
        text,
    )
    if found is None or (not found[3] and found[4].lower().startswith("gal")):
        return None
    size = {"p": "pint", "q": "quart", "g": "gallon"}[found[4][0].lower()]
    size = f"half-{size}" if found[3] else size
    if size == "half-quart":
        return None
    rest = text[found.end() :].strip()
    if re.match(rf"(?i){_BAG_KINDS}bags?\b", rest.lstrip("-")):
        return None
    things = not found[0].rstrip(".").endswith("s") and are_things(rest)
    if things or re.match(rf"(?i){NO_FOOD}", rest):  # "6 pint freezer boxes"
        reading.number = _whole(found[1], text)
        return f"{size} {rest}"
    spelled = bool(found[3]) and found[3].lower().startswith("half")
    sure = found[6] or (spelled and size == "half-pint")
    if not (sure or (as_jars and (spelled or not found[3]))):
        if spelled or as_jars:
            raise Unreadable(
                f"{found[0].strip()!r} may be jars, or a measure: write "
                f'"{found[1]} {size} jars", or the measure in quarts'
            )
        if not found[3]:
            reading.remarks.append(
                f"{found[0].strip()!r} is read as a volume; for jars write "
                f'"{found[1]} {size} jars"'
            )
        return None
    reading.number = _whole(found[1], text)
    if not rest:
        make = re.sub(r"(?i)\bsized?[ -]+", "", f"{found[2]}{found[5] or ''}")
        return f"{make}{size} jars"
    reading.part = size
    return rest


def _parts(text: str, reading: Reading) -> str | None:
    """Read "14 bags redcurrant juice", and "6 bags of 5 cups plum juice"."""
    found = _NUMBER.match(text)
    if found is None:
        return None
    rest = text[found.end() :]
    if not found[1].replace(",", "").isdigit():
        return None
    for part in _PARTS:
        plural = counted(2, part)[2:]
        kind = {"bag": _BAG_KINDS, "jar": _JAR_KINDS}.get(part, "")
        behind = _BEHIND_PART.get(part, r"\b\s*")
        named = re.match(rf"(?i)^{kind}({plural}|{part}){behind}", rest)
        if named and part == "jar" and named[0].strip() == rest != named[1]:
            return None  # "24 mason jars" are those jars, and none that are filled
        if named:
            reading.number = _whole(found[1], text)
            if named.end() == len(rest) != len(named[1]):
                return rest  # "50 freezer bags" are those bags, and hold nothing
            reading.part = part
            rest = rest[named.end() :]
            of = re.match(r"(?i)^of\s+(?=[0-9½⅓⅔¼¾.])", rest)
            if of:
                size, rest = _longest_measure(rest[of.end() :])
                each_holds(size, reading)
            return rest
    return None


def _dozens(said: str, text: str, reading: Reading) -> str:
    """Read "2 dozen eggs": what is sold by the dozen is counted, whatever it is."""
    found = _NUMBER.match(text)
    if found is None or not re.search(r"(?i)\bdoz(?:ens?)?\b", said):
        return ""
    rest = text[found.end() :]
    if _is_a_measure(rest):  # a dozen quarts are quarts
        return ""
    reading.number = _whole(found[1], text)
    return rest


def _is_a_measure(text: str) -> bool:
    """Whether a text begins with a unit of volume or of weight."""
    unit = UNITS.get(text.split(" ")[0].lower().rstrip("."))
    return unit is not None and unit[0] is not Dimension.COUNT


def _bulk(text: str, reading: Reading) -> str:
    """Read "3 lb 2 oz sugar", "25 kg pears", "60 lids" and "60 regular lids"."""
    try:
        size, rest = _longest_measure(text)
    except Absurd:
        raise
    except Unreadable:
        if re.match(r"[0-9]+,[0-9]", text):
            raise Unreadable(
                f"{text[:60]!r}: a decimal has a point: 2.5, not 2,5"
            ) from None
        if fault := trap_words(
            text, re.sub(r"^[0-9½⅓⅔¼¾./ ]+", "", text).split(" ")[0]
        ):
            raise Unreadable(fault) from None
        raise Unreadable(
            f"{text[:60]!r} does not begin with how much there is: write such as "
            '"14 bags redcurrant juice", "25 lb pears" or "60 lids"'
        ) from None
    reading.unit, reading.number, reading.each = measured(size)
    if re.search(r"(?i)\sjar$", size) and _FOR_JARS.match(rest):
        return f"jar {rest}"
    if size.replace(",", "").isdigit():
        counted_by_itself(size, rest, text)
    return _OUT_OF_ITS_BOX.sub("", rest) if _BY_THE_BOX.search(size) else rest


def _longest_measure(text: str) -> tuple[str, str]:
    """Split off as many words in front as are a measure."""
    words = text.split(" ")
    fault = Unreadable(f"{text[:60]!r} begins with no measure")
    for last in range(min(len(words), 7), 0, -1):
        size = " ".join(words[:last])
        try:
            measured(size)
        except Absurd:
            raise
        except Unreadable as error:
            fault = error
            continue
        return size, " ".join(words[last:])
    raise fault


def _whole(number: str, text: str) -> int:
    digits = number.replace(",", "")
    if len(digits) > 9 or not 0 < int(digits) <= MOST_PIECES:
        raise Unreadable(
            f"{text[:40]!r}: a count is above 0 and at most {MOST_PIECES:,}"
        )
    return int(digits)


def each_holds(size: str, reading: Reading) -> None:
    """Read what each of the parts holds."""
    if not reading.part and reading.unit is not Unit.PIECES:
        raise Unreadable(
            f"{size[:40]!r} each: of how many? Write such as "
            '"14 bags redcurrant juice, 4 cups each"'
        )
    unit, each, _ = measured(size)
    if unit is Unit.PIECES:
        raise Unreadable(f"{size[:40]!r} each: give what one holds, such as 4 cups")
    reading.unit, reading.each = unit, each
    reading.part = reading.part or "piece"
    reading.number *= each

"""Read how much of what: "14 bags redcurrant juice", "9 quart jars pears"."""

from __future__ import annotations

import re

from stillroom.jar_count import counted
from stillroom.measures import EitherComma
from stillroom.measures.number_words import in_digits
from stillroom.measures.words import UNITS, Dimension
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import Absurd, measured
from stillroom.stock.counted import (
    counted_by_itself,
    is_counted,
    of_what_words,
    trap_words,
)
from stillroom.stock.household import are_things
from stillroom.stock.in_parts import BAGS_BEHIND, JAR_KINDS, NO_FOOD_IN, parts
from stillroom.stock.left_in_a_name import (
    JAR_SIZE,
    NO_FOOD,
    WITH_THINGS,
    left_in_a_name,
)
from stillroom.stock.numbers_in_a_name import number_in_a_name
from stillroom.stock.reading import NUMBER, Reading, longest_measure, whole
from stillroom.stock.said_done import what_came_in
from stillroom.stock.sized_things import sized_things
from stillroom.stock.words import clean

_FOR_JARS = re.compile(rf"(?i)(?!(?:\S+\s+)*(?:lids?|bands?|rings?)$){NO_FOOD}")
"""What is no food, and is called by the jar: "jar lifter"; jar lids are lids."""
_FOR_A_VESSEL = re.compile(
    rf"(?i)^(?P<many>[0-9][0-9,]*)\s+(?P<what>{WITH_THINGS}\s+{NO_FOOD})"
)
"""Called by what it is for: "50 bag ties"; 50 bags of ties would be bags."""
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
_SOME = re.compile(
    r"(?i)^(?:(?:an?\s+)?(?:couple|few|handful|lots?|good many|bit)|several|some|many|"
    r"plenty)\s+(?:of\s+)?(?=\S)"
)
"""Nor is what nobody counted."""
_PART_OF_ONE = re.compile(
    r"(?P<part>1/[0-9]+|3/4|[½⅓⅔¼¾]|[0-9]+(?:\.[0-9]+|\s1/2))\s+"
    rf"(?:(?:{WITH_THINGS}|box|sack|jar|packet|package|pouch)(?:e?s)?\s+(?:of\s+)?)?(?P<what>\S.*)$"
)
"""Of what is counted: half a hog, half a sack of potatoes."""
_SHORT = tuple(
    (re.compile(rf"(?i)^(?P<number>[0-9][0-9,./½⅓⅔¼¾ ]*?){short}"), long)
    for short, long in (
        (r"\s*[x×]\s*(?=[0-9½⅓⅔¼¾])", ""),
        (r"\s*#\s*(?=[^\W\d])", "lb "),
        (r"-(?=(?:oz|ounce|lb|kg)s?\b)", ""),
        (r"\s*(?:pkg|pk)s?\b\.?(?=\s+\S)", "packages"),
        (r"\s*(?:pkt|pckt)s?\b\.?(?=\s+\S)", "packets"),
        (r"\s*(?:bx|bxs)\b\.?(?=\s+\S)", "boxes"),
        (r"\s*(?:btl)s?\b\.?(?=\s+\S)", "bottles"),
        (r"\s*pcs?\b\.?(?=\s+\S)", "pieces"),
        (r"\s+(?:ct|count)\b\.?\s+(?=[^\W\d])", ""),
    )
)
"""Behind a number: how it is written short, and what it is."""
_CASES_OF = re.compile(
    r"(?i)^(?P<cases>[0-9][0-9,]*)\s+(?:case|flat|tray|box|carton|crate|pack|package|"
    r"sleeve)(?:e?s)?\s+of\s+(?P<rest>\S.*)$"
)
_JARS_OR_LIDS = re.compile(
    rf"(?i)^(?P<each>[0-9]{{1,6}})\s+(?P<rest>{JAR_KINDS}(?:{JAR_SIZE}[ -]+)?"
    rf"{JAR_KINDS}jars?\b.*|half[ -]?pints?\b.*|"
    r"(?:[^\W\d]\S*\s+){0,2}(?:lids?|bands?|rings?))$"
)
"""What is in a case by number: "2 cases of 12 pint jars" are 24 of them."""
_PRICE_BEHIND = re.compile(
    r"(?i)\s(?:(?:for|at|@)\s*)?"
    r"(?P<price>[$£€]\s?[0-9]+(?:[.,][0-9]{2})?|[0-9]+[.,][0-9]{2})$"
)
"""What it cost, without a comma: "25 lb sugar for 12.99"."""


def _out_of_cases(text: str) -> str:
    """
    Count jars and lids out of the cases that they come in.

    >>> _out_of_cases("2 cases of 12 pint jars"), _out_of_cases("3 boxes of 12 lids")
    ('24 pint jars', '36 lids')
    >>> _out_of_cases("1 flat of 12 pints strawberries")
    '1 flat of 12 pints strawberries'
    """
    found = _CASES_OF.match(text)
    held = _JARS_OR_LIDS.match(in_digits(found["rest"])) if found else None
    if found is None or held is None:
        return text
    return f"{whole(found['cases'], text) * int(held['each'])} {held['rest']}"


def head(text: str, reading: Reading, *, as_jars: bool) -> None:
    """Read how much of what."""
    said = text.strip()
    came, in_jars = what_came_in(said)
    text, as_jars = _out_of_cases(_written_out(in_digits(came))), as_jars or in_jars
    if not text:
        raise Unreadable("nothing is written there: say how much of what")
    if found := _ABOUT.match(text) or _SOME.match(came):
        raise Unreadable(
            f"{said[:60]!r}: {found[0].strip()!r} is no quantity, and does not say how "
            "much there is: count it, measure it or weigh it, and write that alone, "
            'such as "25 lb pears" or "12 jars plum jelly"'
        )
    if text.startswith(("-", "\u2212")):
        raise Unreadable(f"{text[:40]!r} is less than nothing: give what came in")
    if found := _NAME_FIRST.match(text):  # "lye 5 lb"
        if _TWO_SIZES.match(found["size"]):
            raise Unreadable(
                f"{text[:60]!r} has two quantities: write one, such as "
                f'"8 half-pints {found["what"][:40]}", and "4 cups each" behind a comma'
            )
        text = f"{in_digits(found['size'])} {found['what']}"
    if (closed := _LIDS_ON.match(text)) and not are_things(closed["food"]):
        if closed["how"].lower() == "without":
            raise Unreadable(
                f"{said[:60]!r}: jars of food have lids: leave that out, or write of "
                f'empty ones "{in_digits(said).split()[0]} jars without lids"'
            )
        text, as_jars = closed["jars"], True
    if sized := sized_things(text):
        if fault := number_in_a_name(said, sized[1]):
            raise Unreadable(fault)
        reading.number, reading.what = whole(sized[0], text), clean(sized[1], "what")
        return
    rest = _for_a_vessel(text, reading) or _jars(text, reading, as_jars)
    if not rest:
        rest = parts(text, reading)
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
        if reading.part not in ("lid", "band", "jar", "roll") and not is_counted(rest):
            raise Unreadable(of_what_words(said, reading.part))
    reading.what = clean(rest, "what")
    if reading.what in (counted(2, reading.part)[2:], f"{reading.part} jars"):
        reading.part = ""  # 60 lids are 60 of lids


def _written_out(text: str) -> str:
    """
    Write out what is short behind a number.

    >>> _written_out("10# sugar"), _written_out("3 pkgs yeast")
    ('10 lb sugar', '3 packages yeast')
    >>> _written_out("12 ct eggs"), _written_out("6 x 500ml jars")
    ('12 eggs', '6 500ml jars')
    """
    for short, long in _SHORT:
        text = short.sub(rf"\g<number> {long}", text, count=1)
    return text


def _for_a_vessel(text: str, reading: Reading) -> str:
    """Read "50 bag ties", "1 bottle brush", "12 jars with lids": things, all empty."""
    if (empty := _WITH_LIDS.match(text)) is not None:
        reading.number = whole(empty["many"], text)
        return empty["what"]
    found = _FOR_A_VESSEL.match(text)
    if found is None or (found["many"] == "1" and text.lower().endswith("s")):
        return ""  # "1 bag clips" is a bag of them
    reading.number = whole(found["many"], text)
    return found["what"]


def _jars(text: str, reading: Reading, as_jars: bool) -> str | None:
    """Read "8 half-pints plum jelly", and "60 half-pint jars" as empty jars."""
    found = re.match(
        rf"(?i)^([0-9][0-9,]*)(?:\s+|-|(?=[a-z]))({JAR_KINDS})"
        r"(half[ -]?|1/2[ -]?)?(pint|quart|gallon|pt|qt|gal)(?:s|s?\.)?"
        rf"(?:[ -]+({JAR_KINDS})(jars?){NO_FOOD_IN})?(?=\s|$)(?:\s+of\b)?",
        text,
    )
    if found is None or (not found[3] and found[4].lower().startswith("gal")):
        return None
    size = {"p": "pint", "q": "quart", "g": "gallon"}[found[4][0].lower()]
    size = f"half-{size}" if found[3] else size
    if size == "half-quart":
        return None
    rest = text[found.end() :].strip()
    if BAGS_BEHIND.match(rest.lstrip("-")):
        return None
    things = not found[0].rstrip(".").endswith("s") and are_things(rest)
    if things or re.match(rf"(?i){NO_FOOD}", rest):  # "6 pint freezer boxes"
        reading.number = whole(found[1], text)
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
    reading.number = whole(found[1], text)
    if not rest:
        make = re.sub(r"(?i)\bsized?[ -]+", "", f"{found[2]}{found[5] or ''}")
        return f"{make}{size} jars"
    reading.part = size
    return rest


def _dozens(said: str, text: str, reading: Reading) -> str:
    """Read "2 dozen eggs": what is sold by the dozen is counted, whatever it is."""
    found = NUMBER.match(text)
    if found is None or not re.search(r"(?i)\bdoz(?:ens?)?\b", said):
        return ""
    rest = text[found.end() :]
    if _is_a_measure(rest):  # a dozen quarts are quarts
        return ""
    reading.number = whole(found[1], text)
    return rest


def _is_a_measure(text: str) -> bool:
    """Whether a text begins with a unit of volume or of weight."""
    unit = UNITS.get(text.split(" ")[0].lower().rstrip("."))
    return unit is not None and unit[0] is not Dimension.COUNT


def _bulk(text: str, reading: Reading) -> str:
    """Read "3 lb 2 oz sugar", "25 kg pears", "60 lids" and "60 regular lids"."""
    try:
        size, rest = longest_measure(text)
    except (Absurd, EitherComma):
        raise
    except Unreadable:
        if comma := re.match(r"([0-9]+),([0-9]+)", text):
            raise Unreadable(
                f"{text[:60]!r}: a decimal has a point: {comma[1]}.{comma[2]}, not "
                f"{comma[0]}"
            ) from None
        if fault := trap_words(
            text, re.sub(r"^[0-9½⅓⅔¼¾./ ]+", "", text).split(" ")[0]
        ):
            raise Unreadable(fault) from None
        if part := _PART_OF_ONE.match(text):
            what = part["what"][:40]
            raise Unreadable(
                f"{text[:60]!r}: {part['part']} of one is no count, and has no unit: "
                f'weigh it or measure it, such as "80 lb {what}"'
                + (f', or write "1 piece half {what}"' if is_counted(what) else "")
            ) from None
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

"""What of how much is left in a name, and was not read: asked, never kept. Pure."""

from __future__ import annotations

import re

from stillroom.measures.number_words import in_digits
from stillroom.measures.words import UNITS, Dimension
from stillroom.stock.amounts import Unit
from stillroom.stock.household import are_things
from stillroom.stock.numbers_in_a_name import number_in_a_name
from stillroom.stock.sorts import without_size

_VESSELS = (
    *("bag", "box", "packet", "pack", "package", "pouch", "jar", "bottle", "tub"),
    *("crate", "bin", "sack", "bucket", "carton", "tin", "can", "case", "sleeve"),
    *("flat", "tray", "basket", "punnet", "jug", "keg"),
)
_VESSEL = rf"(?:{'|'.join(_VESSELS)}|boxes|pouches)s?"
_NEVER_A_NAME = r"(?:bag|box|jar|can|bucket|jug)(?:e?s)?"
"""Behind a measure; "flat beans", "pack choi" and "bottle gourd" are names."""
NO_FOOD = (
    r"(?:\S+\s+)*(?:lids?|bands?|(?<!onion )rings?|caps?|corks?|labels?|lifters?|"
    r"racks?|tongs?|funnels?|openers?|ties?|brush|brushes|clips?|liners?|stoppers?|sealers?)$"
)
"""Last words of what belongs to jars and bags, and is in none."""
WITH_THINGS = r"(?:bag|bottle|can|tin|bin|jug|crock|bucket|crate|tub)"
"""Vessels, besides jars, for which there are such things: "bag ties"."""
_VESSEL_OF = re.compile(
    rf"(?i)^(?!(?:jar|{WITH_THINGS})s?\s+{NO_FOOD})"
    rf"(?:[0-9½⅓⅔¼¾./]+\s+)?{_VESSEL}\s+\S"
)
_EACH_OF = re.compile(rf"(?i)^(?:{_VESSEL}\s+of|{_NEVER_A_NAME})\s+\S")
_BAGS_OF = re.compile(
    r"(?i)^(?:[a-z-]+\s+){1,2}(?:bags|boxes|containers|buckets|jugs|packs)\s+\S"
)
"""Behind a measure, with a word before it that says of what kind they are."""
_JARS_OF = re.compile(rf"(?i)(?<!\S)jars?\s+(?!{NO_FOOD})\S")
_JARS = re.compile(r"(?i)(?<!\S)jars?$")
_SOME = re.compile(
    r"(?i)^(?:x(?=[\s\d])|(?:and|or|few|couple|some|several|handful|lot|half[ -]dozen|"
    r"dozen)\b)"
)
_MEASURED = "|".join(
    sorted(
        (
            re.escape(word)
            for word, (dimension, _) in UNITS.items()
            if dimension in (Dimension.VOLUME, Dimension.MASS)
            and len(word) > 1
            and word not in ("cc", "gr", "mg")
        ),
        key=len,
        reverse=True,
    )
)
_UNIT_FIRST = re.compile(
    rf"(?i)^(?!(?:pound|cup)\s+(?!of\b))(?:{_MEASURED})\b\.?\s+(?!jars?\b|{NO_FOOD})"
)
"""But for pound cake and cup mushrooms."""
_BY_THE_PIECE = re.compile(r"(?i)^[0-9][0-9,]*\s+pieces?\b")
_SIZE_IN_A_NAME = re.compile(rf"(?i)^[0-9½⅓⅔¼¾./]+-(?:{_MEASURED})\s+(?!jars?\b)\S")
"""Of what is counted: "8-quart pot"."""
_QUANTITY = re.compile(
    rf"(?i)(?<![\w.])(?P<size>[0-9½⅓⅔¼¾][0-9½⅓⅔¼¾./ ]*-?\s*(?:{_MEASURED}))\b"
)
_JARS_SIZED = re.compile(
    rf"(?i)^(?P<number>[0-9½⅓⅔¼¾][0-9½⅓⅔¼¾./ ]*?)[\s-]*(?P<unit>{_MEASURED})\.?"
    rf"[\s-]+(?:[a-z-]+\s+){{0,2}}?jars?(?:\s+(?!{NO_FOOD})(?:of\s+)?(?P<of>\S.*))?$"
)
"""Behind a count: "8 oz jars", "12-ounce jelly jars", "500 ml jars of pears"."""
JAR_SIZE = r"(?:half[\s-]?(?:pint|gallon)|pint|quart)s?"
_SIZE_BEHIND_JARS = re.compile(
    r"(?i)^(?P<many>[0-9][0-9,]*)\s+jars?\s+"
    rf"(?:(?P<number>[0-9½⅓⅔¼¾][0-9½⅓⅔¼¾./ ]*?)[\s-]*(?P<unit>{_MEASURED})\.?|"
    rf"(?P<size>{JAR_SIZE}))(?:[\s-]+sized?)?(?:\s+(?:of\s+)?(?P<of>\S.*))?$"
)
"""Behind the jars: "12 jars 8 oz", "12 jars half-pint plum jelly"."""
_WORDS = {
    "8 oz": "half-pint", "½ pint": "half-pint", "0.5 pint": "half-pint",
    "1/2 pint": "half-pint", "1/2 gallon": "half-gallon",
    "16 oz": "pint", "1 pint": "pint",
    "32 oz": "quart", "1 quart": "quart", "2 pint": "quart",
    "64 oz": "half-gallon", "2 quart": "half-gallon", "½ gallon": "half-gallon",
}  # fmt: skip
"""Words for the jars that the book knows, by how much and of what unit they hold."""


def left_in_a_name(text: str, what: str, unit: Unit) -> str:
    """
    Ask for what was not read of how much there is; empty where all of it was.

    "9 litre jars beans" taken for litres of "jars beans" would be a measure of what is
    loose: how such jars were put up would never be asked.

    Parameters
    ----------
    text : str
        What was typed of how much of what.
    what : str
        The name that was read out of it.
    unit : Unit
        What was read to be counted in.

    Examples
    --------
    >>> left_in_a_name("25 lb pears", "pears", Unit.MG)
    ''
    >>> "how many jars" in left_in_a_name("9 L jars beans", "jars beans", Unit.UL)
    True
    """
    if fault := number_in_a_name(text, what):
        return fault
    typed, plain = repr(text[:60]), without_size(what)
    if (sized := _JARS_SIZED.match(what)) and unit is Unit.PIECES:
        return _of_sized_jars(text, sized)
    behind = _SIZE_BEHIND_JARS.match(in_digits(text.strip()))
    if behind and (word := _word_of(behind)):
        written = f"{behind['many']} {word} jars {(behind['of'] or '')[:40]}".strip()
        asked = f'{_by_measure(behind)}write "{written}"'
        return f"{typed} has the size behind the jars: {asked}"
    alone = _JARS_SIZED.match(in_digits(text.strip()))
    if unit is not Unit.PIECES and alone and (word := _word_of(alone)):
        written = f"24 {word} jars {(alone['of'] or '')[:40]}".strip()
        return (
            f"{typed} says what one of the jars holds, and not how many there are: "
            f'{_by_measure(alone)}write such as "{written}"'
        )
    in_a_jar = re.search(r"(?i)\bin\s+an?\s+jar$", plain)
    counted = unit is Unit.PIECES or in_a_jar
    if _JARS_OF.search(plain) or (_JARS.search(plain) and not counted):
        return (
            f"{typed} does not say how many jars, or of which size: write such as "
            '"9 quart jars green beans" (half-pint, pint, quart or half-gallon), and '
            '"9 jars green beans" of any other'
        )
    counts = unit is Unit.PIECES  # "24 quart freezer bags"
    measured, pieces = not counts, _BY_THE_PIECE.match(in_digits(text))
    if re.match(rf"(?i)cans?\s+(?!{NO_FOOD})", what) and unit is not Unit.MG:
        return (
            f"{typed} may be jars, or tins from a shop: write such as "
            '"9 pint jars green beans" or "9 tins green beans"'
        )
    found = _QUANTITY.search(what)
    if found and not (pieces and _SIZE_IN_A_NAME.match(what)):
        size = " ".join(found["size"].split())
        return (
            f"{typed} has a second quantity, {size!r}: say one thing at a time, and "
            'what one bag or box holds behind a comma: "6 bags plum juice, 5 cups each"'
        )
    if measured and (
        _BAGS_OF.match(what) or (_VESSEL_OF.match(what) and _EACH_OF.match(what))
    ):
        return (
            f"{typed} gives what one holds, and not how many there are: write such as "
            '"1 bag sugar, 25 lb each" or "25 lb sugar"'
        )
    if not (measured or pieces) and _VESSEL_OF.match(what):
        return (
            f"{typed} does not give what one holds: write such as "
            '"1 bag sugar, 25 lb each", "25 lb sugar", "12 bottles wine" or "12 lids"'
        )
    unit_first = _UNIT_FIRST.match(what) and not (counts and are_things(what))
    if _SOME.match(what) or unit_first:
        return (
            f"{typed} is not read to the end of how much there is: write such as "
            '"14 bags redcurrant juice", "25 lb pears" or "60 lids"'
        )
    return ""


def _of_sized_jars(text: str, found: re.Match[str]) -> str:
    """
    Say how jars are written that were named by what they hold.

    Empty jars of a size without a word of its own keep it in their name. Those of 8 oz
    are half-pints: the plan counts them by that word.
    """
    word = _word_of(found)
    if not word and not found["of"]:
        return ""
    count = re.match(r"[0-9][0-9,]*", in_digits(text))
    many, of = count[0] if count else "24", (found["of"] or "")[:40]
    size = f"{found['number'].strip()} {found['unit']}"
    if not word:
        return (
            f"{text[:60]!r}: jars of {size} have no word of their own here: write "
            f'"{many} jars {of}", and their size behind a comma: ", note {size} jars"'
        )
    weighed = (
        f'; where that is what their food weighs, "{many} jars {of}, {size} each"'
        if of and found["unit"].lower().startswith(("oz", "ounce"))
        else ""
    )
    return (
        f"{text[:60]!r}: jars that hold {size} by measure are {word} jars here: write "
        f'"{f"{many} {word} jars {of}".strip()}"{weighed}'
    )


def _by_measure(found: re.Match[str]) -> str:
    """Ask whether a figure is one of measure: 8 oz of honey in a jar are weighed."""
    if not found["number"]:
        return ""
    return f"if they hold {found['number'].strip()} {found['unit']} by measure, "


def _word_of(found: re.Match[str]) -> str:
    """Return the word for jars of a size; empty where they have none."""
    if size := found.groupdict().get("size"):
        return re.sub(r"(?i)half[\s-]?", "half-", size.lower().removesuffix("s"))
    unit = re.sub(r"^(?:fl.*|fluid.*|ounces?|ozs?)$", "oz", found["unit"].lower())
    unit = {"pt": "pint", "qt": "quart", "gal": "gallon"}.get(unit, unit.rstrip("s"))
    return _WORDS.get(f"{found['number'].strip()} {unit}", "")

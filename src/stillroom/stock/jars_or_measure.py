"""Pints and quarts that may be jars or a measure: asked where it matters. Pure."""

from __future__ import annotations

import re

from stillroom.book.acid_foods import is_known_low_acid, may_mean
from stillroom.book.names import product_named
from stillroom.book.words import plain, tokens
from stillroom.measures.number_words import in_digits
from stillroom.refusal import Refusal
from stillroom.stock.amounts import Unit
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.juice_and_sauce import is_fruit_juice, is_fruit_sauce
from stillroom.stock.reading import BETWEEN, Reading
from stillroom.stock.sorts import other_raw_food, produce_names
from stillroom.stock.unknown_process import may_be_canned

_JAR_SIZE = re.compile(
    r"(?i)(?<![\w.,/½⅓⅔¼¾])(?P<number>[0-9½⅓⅔¼¾.][0-9½⅓⅔¼¾.,/ ]*)[\s-]*"
    r"(?P<unit>(?P<pint>pints?|pts?)|quarts?|qts?|(?P<litre>l|lit(?:er|re)s?))\b"
)
_DRIED = ("dried", "dry", "dehydrated")


def jars_or_measure(sentence: str, reading: Reading) -> str:
    """
    Ask whether "6 pints green beans" are jars; empty where it is plain what is meant.

    Asked only on a shelf, of low-acid food of the book and of what is no produce, such
    as a stew or salsa: as a measure of what is fresh it would be on the list of what to
    eat, and in jars nobody said how it was put up. Juice and sauce that are loose do
    not keep there, and in jars they do.
    """
    first = BETWEEN.split(sentence)[0]
    found = _JAR_SIZE.search(in_digits(first.strip()))
    if found is None or reading.unit is not Unit.UL or reading.part or reading.kept_dry:
        return ""
    what = reading.what
    if not what:
        return ""
    in_book = not isinstance(product_named(what), Refusal) or may_mean(what)
    produce = plain(what) in produce_names() or plain(what) in other_raw_food()
    asked = (in_book and is_known_low_acid(what)) or (
        not produce and may_be_canned(what)
    )
    asked = asked or is_fruit_sauce(what) or is_fruit_juice(what)
    if not asked or tokens(what)[0] in _DRIED or tokens(what)[-1] == "oil":
        return ""
    if cold_of(reading.place) is not Cold.SHELF:
        return ""
    number = found["number"].strip()
    size = "litre" if found["litre"] else "pint" if found["pint"] else "quart"
    said, jars = f"{number} {size}s", f"{number} {size} jars"
    if not number.replace(",", "").isdigit():  # nobody has one jar and a half
        said, jars = f"{number} {found['unit']}", "N jars"
    elif found["litre"]:
        jars = f"{number} jars"
    return (
        f"{said} of {what} may be jars, or a measure of what is loose: write "
        f'"{jars} {what}", or the measure in cups, or in pounds'
    )

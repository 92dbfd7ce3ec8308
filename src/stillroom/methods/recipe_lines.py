"""
Lines of ingredients as recipe pages write them: "2 1/2 cups sugar".

A line is split where its measure ends, and only where there is no doubt: a range, two
measures in a row or a word with a trap in it leave the line unread, to be asked for.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from stillroom.measures import Dimension, read_quantity
from stillroom.measures.words import TRAPS, UNITS
from stillroom.methods.own_recipe import OwnIngredient
from stillroom.refusal import Unreadable

LONGEST_LINE = 120
_MOST_WORDS = 8
"""A measure has no more words: "2 boxes of 1 3/4 oz" has five."""

_INSIDE = re.compile(r"\(([^()]*)\)")
_HYPHENED = re.compile(r"(?<=[0-9])-(?=(?:ounce|oz|pound|lb|gram|g|ml)\b)", re.I)
_BULLET = re.compile(r"^[\s•·*▢□☐‣–—-]+")
_COUNTED = re.compile(r"^(?P<count>[0-9]+)\s*\((?P<each>[^()]*)\)\s*(?P<rest>.+)$")
_CONTAINER = re.compile(
    r"^(?P<box>box(?:es)?|packages?|packets?|packs?|pkgs?|pouch(?:es)?)\b[\s,]*", re.I
)
_STRENGTH = re.compile(r"\b5\s*(?:%|percent)")
_DOUBT = re.compile(
    r"^(?:plus|or|to|and|x|×|-|–|&|\+|/|heaping|heaped|scant|rounded|generous)\b|"
    r"^[-–+&/×]|\b(?:plus|divided|to taste|as needed)\b",
    re.I,
)


@dataclass(frozen=True, slots=True)
class ReadLine:
    """A line that was split, or that has to be asked for."""

    ingredient: OwnIngredient
    typed: str
    """The whole line, on one line and cut short."""
    read: bool


def read_line(text: str) -> ReadLine:
    """
    Split a line of a recipe into quantity, name and preparation.

    Parameters
    ----------
    text : str
        One ingredient, as it is written on the page.

    Returns
    -------
    ReadLine
        With an empty quantity where it cannot be told for certain; the name is then
        the whole line.

    Examples
    --------
    >>> read_line("2 1/2 cups sugar").ingredient.quantity
    '2 1/2 cups'
    >>> box = read_line("1 (1.75 oz) box powdered pectin").ingredient
    >>> box.quantity, box.name
    ('1 box of 1.75 oz', 'powdered pectin')
    >>> read_line("2 to 3 cups sugar").read
    False
    """
    line = on_one_line(text)
    plain = _HYPHENED.sub(" ", _BULLET.sub("", line))
    found = _boxed(plain) or _measured(plain)
    if found is None:
        return ReadLine(OwnIngredient(name=line or "?", quantity=""), line, read=False)
    quantity, rest = found
    name, prep = _name_and_prep(rest)
    if not name or _doubtful(name, prep, quantity):
        return ReadLine(OwnIngredient(name=line, quantity=""), line, read=False)
    return ReadLine(
        OwnIngredient(name=name, quantity=quantity, prep=prep), line, read=True
    )


def on_one_line(text: str, longest: int = LONGEST_LINE) -> str:
    """Return a text on one line, printable, cut at ``longest`` letters."""
    spaced = "".join(c if c.isprintable() else " " for c in text[: longest * 20])
    return " ".join(spaced.split())[:longest].strip()


def _boxed(line: str) -> tuple[str, str] | None:
    """Read "1 (1.75 oz) box ..." and "1 box (1.75 oz) ..." as a box of a weight."""
    found = _COUNTED.match(line)
    if found is not None:
        box = _CONTAINER.match(found["rest"])
        if box is None:
            return None
        rest = found["rest"][box.end() :]
        return _weighed(found["count"], box["box"], found["each"], rest)
    found = re.match(r"^(?P<count>[0-9]+)\s+(?P<rest>[A-Za-z].*)$", line)
    box = _CONTAINER.match(found["rest"]) if found is not None else None
    if found is None or box is None:
        return None
    rest = found["rest"][box.end() :]
    inside = re.match(r"^\(([^()]*)\)\s*(.+)$", rest)
    if inside is None:
        return None
    return _weighed(found["count"], box["box"], inside[1], inside[2])


def _weighed(count: str, box: str, each: str, rest: str) -> tuple[str, str] | None:
    quantity = f"{count} {box} of {each.strip()}"
    try:
        measured = read_quantity(quantity)
    except Unreadable:
        return None
    if measured.dimension is not Dimension.MASS:
        return None
    return quantity, rest


def _measured(line: str) -> tuple[str, str] | None:
    """Take the longest beginning of a line that is a measure."""
    words = line.split(" ")
    for count in range(min(_MOST_WORDS, len(words) - 1), 0, -1):
        beginning = " ".join(words[:count])
        if beginning.endswith((",", "(")):
            continue
        try:
            read_quantity(beginning)
        except Unreadable:
            continue
        return beginning, " ".join(words[count:])
    return None


def _name_and_prep(rest: str) -> tuple[str, str]:
    """Split "sugar, sifted (white)" at its comma; brackets hold preparation too."""
    rest = re.sub(r"^of\s+", "", rest, flags=re.I)
    inside = [part.strip() for part in _INSIDE.findall(rest)]
    outside = " ".join(_INSIDE.sub(" ", rest).split()).replace(" ,", ",")
    name, _, after = outside.partition(",")
    prep = "; ".join(part for part in (after.strip(), *inside) if part)
    return name.strip(), prep


def _doubtful(name: str, prep: str, quantity: str) -> bool:
    """Tell whether more of a measure stands in what is left of the line."""
    bare = _STRENGTH.sub("", name)
    words = re.findall(r"[A-Za-z]+", bare)
    if not words or re.search(r"[0-9½⅓⅔¼¾⅛⅜⅝⅞()]", bare):
        return True
    if _DOUBT.search(name) or re.search(
        r"\bplus\b|\bor more\b|\bdivided\b", prep, re.I
    ):
        return True
    if any(word in TRAPS for word in words[:1]):
        return True
    if read_quantity(quantity).dimension is not Dimension.COUNT:
        return False
    # "2 heaping cups sugar" is no count of two.
    return any(
        (unit := UNITS.get(word.lower())) is not None and unit[0] is not Dimension.COUNT
        for word in words
    )

"""Words as people type them, made comparable: "Crab-Apples" are a crabapple."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

# Two words that are one fruit, or one dish.
_ONE_WORD = {
    ("crab", "apple"): "crabapple",
    ("apple", "sauce"): "applesauce",
    ("black", "berry"): "blackberry",
    ("blue", "berry"): "blueberry",
    ("straw", "berry"): "strawberry",
    ("rasp", "berry"): "raspberry",
    ("goose", "berry"): "gooseberry",
    ("logan", "berry"): "loganberry",
    ("boysen", "berry"): "boysenberry",
    ("elder", "berry"): "elderberry",
    ("mul", "berry"): "mulberry",
    ("cran", "berry"): "cranberry",
    ("choke", "cherry"): "chokecherry",
    ("corn", "starch"): "cornstarch",
}
_JOINT = re.compile(
    "(?i)"
    + "|".join(
        rf"(?<=\b{one})(?={other.removesuffix('y')}\w*)" for one, other in _ONE_WORD
    )
)


SOFT_HYPHEN = "\N{SOFT HYPHEN}"


def may_break(text: str) -> str:
    """
    Return ``text`` with a soft hyphen where a word is two, for a narrow column.

    Browsers hyphenate English only where somebody installed a dictionary for them.

    >>> may_break("crabapples and blackberries").replace(SOFT_HYPHEN, "|")
    'crab|apples and black|berries'
    """
    return _JOINT.sub(SOFT_HYPHEN, text)


def plain(text: str) -> str:
    """
    Return ``text`` in lower case, singular, without accents, marks or doubled spaces.

    Examples
    --------
    >>> plain("Crab-Apple  Jellies")
    'crabapple jelly'
    """
    return " ".join(tokens(text))


def tokens(text: str) -> list[str]:
    """Return the words of ``text`` in lower case, singular and without accents."""
    return list(_tokens(text))


@lru_cache(maxsize=8192)  # the book's own phrases are asked for again at every name
def _tokens(text: str) -> tuple[str, ...]:
    apart = unicodedata.normalize("NFKD", text).replace("\u2044", "/")  # of "½"
    bare = apart.encode("ascii", "ignore").decode()
    single = [singular(word) for word in re.findall(r"[a-z0-9]+", bare.lower())]
    joined: list[str] = []
    for word in single:
        if joined and (joined[-1], word) in _ONE_WORD:
            joined[-1] = _ONE_WORD[joined[-1], word]
        else:
            joined.append(word)
    return tuple(joined)


def short(text: str) -> str:
    """
    Enough of what was typed to know it again, on one line.

    >>> short("plum   and apple")
    'plum and apple'
    """
    line = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return line if len(line) <= 60 else line[:60] + "…"


def holds(words: list[str], phrase: str) -> bool:
    """Tell whether the words of ``phrase`` stand next to each other in ``words``."""
    sought = tokens(phrase)
    last = len(words) - len(sought)
    return bool(sought) and any(
        words[at : at + len(sought)] == sought for at in range(last + 1)
    )


def singular(word: str) -> str:
    """Return one of what a plural word names: "jars" -> "jar"."""
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "oes")):
        return word[:-2]
    if len(word) > 2 and word.endswith("s") and not word.endswith(("ss", "us")):
        return word[:-1]
    return word


def many(fruit: str) -> str:
    """
    Name so much of a fruit as is bought, from the name of one.

    >>> many("plum"), many("sour cherry"), many("peach"), many("rhubarb")
    ('plums', 'sour cherries', 'peaches', 'rhubarb')
    """
    if fruit == "rhubarb":  # it is never counted
        return fruit
    if fruit.endswith(("ch", "o")):
        return f"{fruit}es"
    return f"{fruit[:-1]}ies" if fruit.endswith("y") else f"{fruit}s"

"""
Numbers that stand in a name still: a second thing, or a number written out. Pure.

"5 kg sugar and 3 boxes pectin" are two things, and "a hundred lids" are not one lid.
"""

from __future__ import annotations

import re

from stillroom.measures.number_words import NUMBER_WORDS

_COUNT = r"(?:[0-9½⅓⅔¼¾][0-9½⅓⅔¼¾.,/]*|" + "|".join(sorted(NUMBER_WORDS)) + ")"
_MANY = r"(?:hundred|thousand|million|gross|score|dozens?|doz)"
_HELD = (
    r"(?:bag|box|packet|package|pack|pouch|jar|bottle|tub|crate|sack|bucket|carton|tin|"
    r"can|case|flat|basket|jug|pint|quart|gallon|pound|lb|kilo|bushel|peck|cup)"
)
_SECOND = re.compile(
    rf"(?i)\s(?:and|&|plus|\+)\s+(?P<other>(?:(?:an?\s+)?(?:{_COUNT}|{_MANY}|half\s+an?|"
    rf"half\s+{_MANY}|couple|few)|some|several|another|an?\s+{_HELD})\s+\S.*)$"
)
_NUMBER_WORD = re.compile(rf"(?i)^(?:\S+\s+)?(?P<word>{_MANY})\s+\S")
"""At the front, or behind one word: "hundred lids", "old dozen quart jars"."""


def number_in_a_name(text: str, what: str) -> str:
    """
    Ask for a number that would be kept in a name; empty where there is none.

    Parameters
    ----------
    text : str
        What was typed of how much of what.
    what : str
        The name that was read out of it.

    Examples
    --------
    >>> said = "5 kg sugar and 3 boxes pectin"
    >>> number_in_a_name(said, "sugar and 3 boxes pectin")[32:70]
    "has a second thing, '3 boxes pectin': "
    >>> number_in_a_name("a hundred lids", "hundred lids")[17:47]
    "has a number word, 'hundred', "
    >>> number_in_a_name("2 pints half and half", "half and half")
    ''
    """
    typed = repr(text[:60])
    if found := _SECOND.search(what):
        return (
            f"{typed} has a second thing, {found['other'][:40]!r}: say one thing at a "
            "time, and make an entry of each; if it is all one thing, leave the number "
            "out of its name"
        )
    if found := _NUMBER_WORD.match(what):
        return (
            f"{typed} has a number word, {found['word']!r}, in its name: write the "
            'whole number in digits, such as "144 lids" or "24 quart jars"'
        )
    return ""

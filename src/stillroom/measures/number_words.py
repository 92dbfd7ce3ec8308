"""How many, as it is said aloud: "two bags", "a dozen jars", "half a dozen". Pure."""

from __future__ import annotations

import re

_WORDS = {
    word: number
    for number, words in enumerate(
        (
            *("a an one", "two", "three", "four", "five", "six", "seven", "eight"),
            *("nine", "ten", "eleven", "twelve"),
        ),
        start=1,
    )
    for word in words.split()
}
NUMBER_WORDS = frozenset(_WORDS) - {"a", "an"}
"""Words for a whole number, of which no article is one."""
_MANY = rf"(?P<many>[0-9][0-9,]*|{'|'.join(_WORDS)})"
_DOZEN = r"(?:dozens?\b|doz\b\.?)"
_HALF_DOZEN = re.compile(
    rf"(?i)^(?:(?:an?\s+)?half(?:-|\s+)(?:a\s+)?|(?:1/2|½)\s+){_DOZEN}"
)
_DOZENS = re.compile(rf"(?i)^(?:{_MANY}(?P<half>\s+1/2|\s*½)?\s+)?{_DOZEN}")
_AND_A_HALF = re.compile(rf"(?i)^{_MANY}\s+and\s+a\s+half\s+(?=\S)")
_HALF_MORE = re.compile(r"(?i)^\s+and\s+a\s+half(?=\s|$)")
_HALF = re.compile(
    r"(?i)^(?:half\s+an?\s+(?=\S)|(?:an?\s+)?half[\s-](?=(?:bushel|bu|peck|pound|lb|kilo|"
    r"kg|cup|ounce|oz|lit(?:re|er))s?\b))"
)
_FIRST = re.compile(rf"(?i)^(?:{'|'.join(_WORDS)})\s+(?=\S)")
_ALONE = re.compile(rf"(?i)^(?:{'|'.join(NUMBER_WORDS)})$")
_NOTHING = re.compile(
    r"(?i)^(?:0+(?:\.0+)?(?:\s+(?!and\b)[a-z]\S*){0,2}|(?:none|nothing|nil|zero)(?:\s+left)?|"
    r"all gone|gone)\.?$"
)


def in_digits(text: str) -> str:
    """
    Return a sentence whose number in front is in digits, where it was a word.

    Examples
    --------
    >>> in_digits("two bags of plum juice"), in_digits("a dozen pint jars")
    ('2 bags of plum juice', '12 pint jars')
    >>> in_digits("2 dozen half-pint jars"), in_digits("half a dozen of eggs")
    ('24 half-pint jars', '6 eggs')
    >>> in_digits("half a gallon of cider"), in_digits("half-pint jars")
    ('1/2 gallon of cider', 'half-pint jars')
    >>> in_digits("half bushel of apples"), in_digits("a half pound of yeast")
    ('1/2 bushel of apples', '1/2 pound of yeast')
    >>> in_digits("3 doz. lids"), in_digits("1/2 dozen eggs")
    ('36 lids', '6 eggs')
    >>> in_digits("a dozen and a half eggs"), in_digits("two and a half cups")
    ('18 eggs', '2 1/2 cups')
    >>> in_digits("two"), in_digits("a")
    ('2', 'a')
    """
    if found := _AND_A_HALF.match(text):
        text = f"{_number(found['many'])} 1/2 {text[found.end() :]}"
    if found := _HALF_DOZEN.match(text):
        return f"6 {_of_what(text[found.end() :])}".strip()
    if found := _DOZENS.match(text):
        rest, half = text[found.end() :], bool(found["half"])
        if more := _HALF_MORE.match(rest):
            rest, half = rest[more.end() :], True
        number = 12 * _number(found["many"] or "1") + 6 * half
        return f"{number} {_of_what(rest)}".strip()
    if found := _HALF.match(text):
        return f"1/2 {text[found.end() :]}"
    if _ALONE.match(text):
        return str(_number(text))
    if found := _FIRST.match(text):
        return f"{_number(found[0].strip())} {text[found.end() :]}"
    return text


def is_nothing(text: str) -> bool:
    """
    Whether it is said that there is nothing of it; a bare "no" may mean otherwise.

    >>> is_nothing("none left"), is_nothing("0 jars"), is_nothing("0.5 lb")
    (True, True, False)
    >>> is_nothing("no")
    False
    """
    return _NOTHING.match(" ".join(text.split())) is not None


def _number(said: str) -> int:
    return _WORDS.get(said.lower()) or int(said.replace(",", "")[:9])


def _of_what(rest: str) -> str:
    return re.sub(r"(?i)^\s*(?:of\b)?\s*", "", rest)

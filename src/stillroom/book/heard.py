"""
What somebody says went wrong, read word by word.

A phrase of the book is found in a sentence whatever the ending of its words ("bulges",
"bulging"), with small words between them ("the lid is loose", "lid loose"). In a phrase
"/" parts words of which one is enough, and at a "…" a few others may stand between.
What is denied ("not cloudy", "no mould or bubbles") was not said, and a phrase within a
longer one that was said counts no more: "bubbles" in "the kraut bubbles in its crock".
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from stillroom.book.words import tokens

NOTHING = "nothing"
"""What a phrase is of that is no fault: the black of black pepper, "sick of it"."""
GAP = "…"
_STOP = "|"
"""Stands between the parts of a sentence; a denial does not reach over it."""
_MOST_BETWEEN = 4
"""So many words may stand at a "…", small ones not counted."""
_LEAST_STEM = 3
_NOT = re.compile(
    r"\b(do|does|did|is|are|was|were|has|have|had|would|could|should)n'?t\b"
)
_WILL_NOT, _CAN_NOT = re.compile(r"\bwon'?t\b"), re.compile(r"\bcan(?:no|')?t\b")
"""With and without their apostrophe, as they are typed on a phone."""
_OTHERS = {
    "ate": "eaten eating",
    "child": "children kid toddler baby son daughter",
    "smell": "smelt odour odor",
    "mould": "mold",
    "mouldy": "moldy",
    "swell": "swollen swelled",
    "broke": "break broken",
    "frozen": "freeze froze",
    "burn": "burnt",
    "spoil": "spoilt",
    "forgot": "forget",
    "use": "used using",
    "taste": "tasting",
    "ferment": "fermentation",
    "kraut": "sauerkraut",
    "gel": "jell",
    "gelled": "jelled",
    "ketchup": "catsup",
    "band": "ring",
    "middle": "centre center",
    "power": "electricity",
    "altitude": "elevation",
    "pound": "lb psi",
    "foot": "feet ft",
    "minute": "min",
}
"""Words, and what is read as they are."""
_SAME = {other: word for word, others in _OTHERS.items() for other in others.split()}
_NUMBERS = {
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "fifteen": 15,
    "twenty": 20,
    "thirty": 30,
    "forty": 40,
    "fifty": 50,
    "sixty": 60,
}
_INSTEAD = re.compile(
    r"\b(\d+) (?:(minute|pound|hour) )?(?:instead of|rather than|not) (\d+)\b"
)
_AT_HEIGHT = re.compile(r"\b(\d+) pound at (\d{3,5})(?: foot)?\b")
_YEAR = re.compile(r"\b(?:19[5-9]\d|20[0-4]\d)\b(?! foot)")
_LOW_LBS, _HIGH_FT = 10, 1000
"""Above that height no published table goes with so little pressure for low-acid food:
15 by weighted gauge, 11 and more by dial (Pacific Northwest Extension PNW 421)."""


@dataclass(frozen=True, slots=True)
class Said:
    """A phrase that was said, and where its words stand in it, small ones left out."""

    phrase: str
    at: frozenset[int]


@lru_cache(maxsize=4096)
def words_of(text: str) -> tuple[str, ...]:
    """
    Return the words of a sentence as they are compared, its parts set apart by "|".

    Examples
    --------
    >>> words_of("The lid isn't bulging, it leaked")
    ('the', 'lid', 'is', 'not', 'bulg', '|', 'it', 'leak')
    >>> words_of("15 minutes instead of 25")
    ('too', 'few', 'minut')
    """
    plain = text.lower().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    plain = _WILL_NOT.sub("will not", _CAN_NOT.sub("can not", plain))
    plain = _NOT.sub(r"\1 not", plain)
    plain = re.sub(r"(?<=\d),(?=\d{3}\b)", "", plain)
    parts = re.split(r"(?<!\d)[,.;:!?]|[,.;:!?](?!\d)|[\n()]| - ", plain)
    read = (f" {_STOP} ").join(
        " ".join(_one_word(word) for word in tokens(part)) for part in parts if part
    )
    return tuple(stem(word) for word in _as_meant(read).split())


def _one_word(word: str) -> str:
    word = _SAME.get(word, word)
    return str(_NUMBERS.get(word, word))


def _as_meant(read: str) -> str:
    """Say what two numbers mean beside each other, and that a year is one."""
    read = _INSTEAD.sub(_less_or_more, read)
    return _YEAR.sub("someyear", _AT_HEIGHT.sub(_too_low, read))


def _less_or_more(found: re.Match[str]) -> str:
    less = int(found[1]) < int(found[3])
    if found[2] == "pound":
        return "pressure too low" if less else "pressure too high"
    return "too few minute" if less else "too many minute"


def _too_low(found: re.Match[str]) -> str:
    low = int(found[1]) <= _LOW_LBS and int(found[2]) > _HIGH_FT
    return "pressure too low" if low else found[0]


def stem(word: str) -> str:
    """
    Return a word without the ending of a verb.

    >>> [stem(word) for word in ("canned", "canning", "bulge", "bulging", "runny")]
    ['can', 'can', 'bulg', 'bulg', 'runny']
    """
    for ending in ("ing", "ed", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= _LEAST_STEM:
            word = word.removesuffix(ending)
            break
    twice = len(word) > _LEAST_STEM and word[-1] == word[-2]
    return word[:-1] if twice else word


_SMALL = frozenset(
    words_of(
        "the a an is are was were am be been being has have had it its this that these "
        "those my our your their his her some very really quite so all also i we "
        "they you he she of to do did does got get up"
    )
)
"""May stand between any two words of a phrase."""
_DENIALS = frozenset(words_of("not no never without neither nor none nobody"))
_BEFORE_DENIED = _SMALL | set(words_of("any sign at yet single least"))
"""May stand between a denial and what is denied: "no sign of mould"."""
_ENDS = _DENIALS | {_STOP, *words_of("and but then")}
"""What a "…" does not reach over: a denial, and the next thing that is told."""


def places_of(phrase: str, said: tuple[str, ...]) -> list[Said]:
    """
    Return where a phrase was said, and not denied.

    Examples
    --------
    >>> [sorted(s.at) for s in places_of("lid/cap loose", words_of("the lid is loose"))]
    [[1, 3]]
    >>> places_of("cloudy", words_of("it is not cloudy"))
    []
    """
    pieces = _pieces(phrase)
    found = []
    for start in range(len(said)):
        at = _from(pieces, said, start)
        if at is not None and not _is_denied(said, start):
            large = [place for place in at if said[place] not in _SMALL]
            found.append(Said(phrase, frozenset(large or at)))
    return found


def all_places(
    phrases: Iterable[tuple[str, str]], said: tuple[str, ...]
) -> list[tuple[str, Said]]:
    """Return where phrases were said, each after what it is of."""
    return [(of, at) for of, phrase in phrases for at in places_of(phrase, said)]


def was_said_of(phrase: str, part: tuple[str, ...]) -> bool:
    """Whether a few words are themselves a part of a phrase: "pressure"."""
    pieces = [piece for piece in _pieces(phrase) if piece is not None]
    starts = range(len(pieces) - len(part) + 1)
    return any(
        all(word in pieces[n + k] for k, word in enumerate(part)) for n in starts
    )


def outermost(found: Iterable[tuple[str, Said]]) -> list[tuple[str, Said]]:
    """Return what was said of whom, but for phrases within a longer one."""
    all_said = list(found)
    hiding = {said.at for _, said in all_said}
    harmless = {said.at for of, said in all_said if of == NOTHING}
    return [
        (of, said)
        for of, said in all_said
        if not any(said.at < at for at in hiding)
        and (of == NOTHING or said.at not in harmless)
    ]


@lru_cache(maxsize=8192)
def _pieces(phrase: str) -> tuple[frozenset[str] | None, ...]:
    """Return the words of a phrase, each as what will do for it; `None` at a gap."""
    pieces: list[frozenset[str] | None] = []
    for part in phrase.split():
        if part == GAP:
            pieces.append(None)
            continue
        choices = [words_of(choice) for choice in part.split("/")]
        if len(choices) == 1:  # "home-made" is two words
            pieces.extend(frozenset({word}) for word in choices[0])
        else:
            pieces.append(frozenset(choice[0] for choice in choices if choice))
    return tuple(pieces)


def _from(
    pieces: tuple[frozenset[str] | None, ...], said: tuple[str, ...], start: int
) -> list[int] | None:
    """Return the places of the words of a phrase whose first word stands at a place."""
    first = pieces[0]
    if first is None or said[start] not in first:
        return None
    at, gap = [start], False
    for piece in pieces[1:]:
        if piece is None:
            gap = True
            continue
        place = _next(piece, said, at[-1] + 1, gap=gap)
        if place is None:
            return None
        at.append(place)
        gap = False
    return at


def _next(
    piece: frozenset[str], said: tuple[str, ...], place: int, *, gap: bool
) -> int | None:
    left = _MOST_BETWEEN if gap else 0
    while place < len(said):
        word = said[place]
        if word in piece:
            return place
        if word in _ENDS:
            return None
        if word not in _SMALL:
            if not left:
                return None
            left -= 1
        place += 1
    return None


def _is_denied(said: tuple[str, ...], start: int) -> bool:
    """Whether a "not" reaches what stands at a place, over an "or" too."""
    place = start - 1
    while place >= 0:
        word = said[place]
        if word in _DENIALS:
            return True
        if word == "or":
            place -= 2
        elif word in _BEFORE_DENIED:
            place -= 1
        else:
            return False
    return False

"""
How cold a place is, by its name: freezer, refrigerator, or neither.

A jar without a process may wait in the cold and nowhere else. So a name is read as cold
only where it says so; a cellar or a cold porch is a shelf, and "on top of the fridge"
too. What may mean either is asked about. The words are common practice, no source.
"""

from __future__ import annotations

import re
from difflib import SequenceMatcher
from enum import StrEnum

from stillroom.refusal import Refusal

Words = tuple[str, ...]


class Cold(StrEnum):
    """How cold a place is, by its name."""

    FREEZER = "freezer"
    REFRIGERATOR = "refrigerator"
    SHELF = "shelf"


_FREEZERS: tuple[Words, ...] = (
    *(("freezer",), ("freezers",), ("deepfreeze",), ("deepfreezer",)),
    ("deep", "freeze"),
)
_REFRIGERATORS: tuple[Words, ...] = (
    *(("fridge",), ("fridges",), ("refrigerator",), ("refrigerators",)),
    *(("frig",), ("frige",), ("fridg",), ("refrig",), ("refridgerator",)),
    *(("walk", "in", "cooler"), ("walkin", "cooler"), ("reach", "in", "cooler")),
    *(("crisper",), ("refrigerated",)),
)
_UNSURE: tuple[Words, ...] = (
    *(("icebox",), ("ice", "box"), ("ice", "chest"), ("cooler",), ("coolers",)),
    *(("cold", "room"), ("cool", "room"), ("cold", "store"), ("cold", "storage")),
    *(("walk", "in"), ("walkin",), ("reach", "in"), ("chiller",), ("reefer",)),
    *(("wine", "fridge"), ("wine", "refrigerator"), ("fridge", "top")),
    ("freezer", "top"),
)
"""What may be as cold as a refrigerator, or may not."""
_SHELVES = frozenset({"shelf", "shelves", "pantry", "cellar", "cupboard", "larder"})
_OUTSIDE = frozenset(
    {"over", "above", "by", "beside", "near", "behind", "under", "below", "atop"}
    | {"underneath", "outside", "opposite", "without", "not", "no", "next", "against"}
    | {"from", "out", "across", "past", "between", "around", "adjoining", "beyond"}
    | {"for", "until", "waiting", "before", "was", "doesn", "go"}
    | {"adjacent", "alongside", "along", "facing", "close", "nxt"}
    | {"nearby", "upon", "ontop"}
)
_NO_LONGER = frozenset({"not", "no", "without", "was", "doesn", "out", "from", "until"})
"""Of those words, what leaves no doubt that it is not in it."""
_OUTSIDE_OF = (("top", "of"), ("side", "of"), ("left", "of"), ("right", "of"))
_NOT_COLD = frozenset(
    {"broken", "dead", "unplugged", "disconnected", "off", "not", "broke", "failed"}
    | {"defunct", "former", "ex", "converted", "warm", "thawed", "defrosted", "order"}
)
_ON_IT = ("on", "the", "my", "our", "old")
"""Before a cold word: "on the fridge" is its top, or a shelf in it."""
_EITHER = frozenset({"or", "then", "now", "later", "tomorrow", "full", "as"})
"""Words of a place that is not this one alone, or not yet."""
_ROOMS = frozenset(
    {"room", "shed", "porch", "cupboard", "cabinet", "alcove", "tops", "lid", "hook"}
    | {"corner", "aisle", "nook", "area", "wall", "hall", "hallway"}
    | {"counter", "stand", "table", "pantry", "magnet", "cellar", "closet", "wing"}
    | {"bench", "garage", "larder", "barn", "storeroom", "adjacent"}
)
"""Behind a cold word: where a freezer stands, what is on it, or a part of its own."""
_PARTS_OF = frozenset({"side", "end"})
"""Behind a cold word: its own, and of something else where that is said."""
_BEFORE_IT = frozenset({"front", "sight"})
"""With "of": before it, or its own front."""
_IN = frozenset({"in", "inside", "into", "within"})
_WAYS = _IN | {"at", "to"}
_STANDS = _IN | {"on", "at", "by", "near", "under", "behind", "beside", "of", "next"}
"""Before what says where the freezer itself is: "freezer in the corner"."""
_COLD_WORDS = ("freezer", "freeze", "fridge", "refrigerator", "deepfreeze")
_ALIKE = 0.8
"""Of 1: letters more alike than this may be a cold word misspelt. Our own judgement."""
_THINGS = frozenset({"paper", "bags", "boxes", "jars", "containers", "tape"})
"""What is called after the freezer and lies in a drawer."""


def cold_of(place: str) -> Cold:
    """
    Return how cold a place is, by its name; what is not sure is a shelf.

    Examples
    --------
    >>> cold_of("Freezer 2"), cold_of("deep freeze"), cold_of("walk-in cooler")
    (<Cold.FREEZER: 'freezer'>, <Cold.FREEZER: 'freezer'>, \
<Cold.REFRIGERATOR: 'refrigerator'>)
    >>> cold_of("root cellar"), cold_of("on top of the fridge")
    (<Cold.SHELF: 'shelf'>, <Cold.SHELF: 'shelf'>)
    """
    parts = _parts(place)
    if any(_NOT_COLD & set(words) for words in parts):
        return Cold.SHELF
    if any(_says(words, _FREEZERS) for words in parts):
        return Cold.FREEZER
    if any(_says(words, _REFRIGERATORS) for words in parts):
        return Cold.REFRIGERATOR
    return Cold.SHELF


def not_if_unsure(place: str) -> Refusal | None:
    """
    Return a question where a place may be as cold as a refrigerator, or may not.

    >>> print(not_if_unsure("icebox").reason)
    'icebox' may be a refrigerator, a freezer or neither
    >>> not_if_unsure("icebox (refrigerator)") is None
    True
    """
    parts = _parts(place)
    asks = any(_at(words, phrase) for words in parts for phrase in _UNSURE)
    asks = asks or any(_is_either(words) for words in parts)
    is_settled = _is_shelf(parts) and not any(map(_is_either, parts))
    if not asks or cold_of(place) is not Cold.SHELF or is_settled or _answered(parts):
        return None
    return Refusal(
        f"{place!r} may be a refrigerator, a freezer or neither",
        instead=f'say which with its name, such as "{place} (refrigerator)", "{place} '
        f'(freezer)" or, where it is not always as cold as a refrigerator, "{place} '
        '(shelf)"',
        source="a jar without a process waits in a refrigerator or freezer alone",
    )


def may_be_cold(text: str) -> bool:
    """
    Whether words name a place that is cold, or may be.

    >>> may_be_cold("deep-freeze 2"), may_be_cold("plum jelly")
    (True, False)
    """
    known = (*_FREEZERS, *_REFRIGERATORS, *_UNSURE)
    parts = _parts(text)
    if any(_is_misspelt(word) for words in parts for word in words[-1:]):
        return True
    return any(_at(words, phrase) for words in parts for phrase in known)


def _is_shelf(parts: list[Words]) -> bool:
    return any(_SHELVES & set(words) for words in parts)


def _answered(parts: list[Words]) -> bool:
    """Whether a part of its own says that it is a shelf, as the question asks for."""
    return any(words == ("shelf",) for words in parts[1:])


def _is_either(words: Words) -> bool:
    """Whether a part names something cold that may be meant, or what is beside it."""
    if any(map(_is_misspelt, words)):
        return True
    known = (*_FREEZERS, *_REFRIGERATORS)
    return any(
        _is_unsure_at(words, at, at + len(phrase))
        for phrase in known
        for at in _at(words, phrase)
    )


def _is_unsure_at(words: Words, begin: int, end: int) -> bool:
    own = _until_stands(words[end:])
    if _EITHER & set(words) or _ROOMS & set(own):
        return True
    if _PARTS_OF & set(own[:1]) and own[1:]:  # "freezer-side shelf"
        return True
    behind = words[end : end + 2]
    if _PARTS_OF & set(behind[:1]) and behind[1:] == ("of",):
        rest = words[end + 2 :]
        return not any(_at(rest, cold) for cold in (*_FREEZERS, *_REFRIGERATORS))
    before = words[:begin]
    if _BEFORE_IT & set(before) and "of" in before:
        return True
    way = next((n for n in reversed(range(begin)) if words[n] in _WAYS), None)
    if way is not None and words[way] not in _IN and not _OUTSIDE & set(before):
        return words[way] == "at" or way > 0  # up to it; "to the fridge" is into it
    if way is not None and words[way] in _IN and _OUTSIDE & set(before[:way]):
        return not _NO_LONGER & set(before)  # under the stairs, in the freezer
    on = [n for n in range(begin) if words[n] == "on"]
    return bool(on) and set(words[on[-1] : begin]) <= set(_ON_IT)


def _until_stands(behind: Words) -> Words:
    """Return what belongs to a cold word behind it, without where that stands."""
    stands = next((n for n, word in enumerate(behind) if word in _STANDS), len(behind))
    return behind[:stands]


def _is_misspelt(word: str) -> bool:
    """Whether a word may be a cold one with a slip in it; a bridge is none.

    >>> _is_misspelt("freezr"), _is_misspelt("bridge"), _is_misspelt("freezer")
    (True, False, False)
    """
    known = {part for phrase in (*_FREEZERS, *_REFRIGERATORS) for part in phrase}
    return word not in known | {"refrigerated"} and any(
        word[:1] == cold[:1] and SequenceMatcher(None, word[:40], cold).ratio() > _ALIKE
        for cold in _COLD_WORDS
    )


def _parts(place: str) -> list[Words]:
    """Return the words between commas and brackets: each part is read by itself."""
    parts = re.split(r"[,;:()]", place.casefold().replace("/", " or "))
    return [tuple(map(_one_word, re.findall(r"[a-z]+", part))) for part in parts]


def _one_word(word: str) -> str:
    """Return "freezer" for "garagefreezer", which somebody wrote as one."""
    for name in ("freezer", "fridge", "refrigerator"):
        if word.endswith(name) and not word.startswith(("un", "non")):
            return name
    return word


def _at(words: Words, phrase: Words) -> list[int]:
    size = len(phrase)
    return [n for n in range(len(words)) if words[n : n + size] == phrase]


def _says(words: Words, phrases: tuple[Words, ...]) -> bool:
    """Whether a part is in something cold, and not beside it."""
    return any(
        not _is_outside(words, at, at + len(phrase))
        for phrase in phrases
        for at in _at(words, phrase)
    )


def _is_outside(words: Words, begin: int, end: int) -> bool:
    before, behind = words[:begin], words[end:]
    if _is_unsure_at(words, begin, end):
        return True
    if _OUTSIDE & set(before) or any(_at(before, phrase) for phrase in _OUTSIDE_OF):
        return True
    if behind in (("top",), ("s", "top")):
        return True
    is_thing = bool(_THINGS & set(behind[:1]))
    return is_thing or "wine" in before[-1:]

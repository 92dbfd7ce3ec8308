"""
Animals of the farm that are alive, by their names and by where they are. Pure.

A hen in the coop is no meat out of the cold, and no food as she stands. What may be
either is meat: it is cautioned.
"""

from __future__ import annotations

from stillroom.book.words import tokens

ANIMALS = frozenset(
    {"chicken", "hen", "duck", "goose", "geese", "turkey", "quail", "guinea", "rabbit"}
    | {"pig", "hog", "goat", "sheep", "lamb", "cow", "bull", "pigeon", "pheasant"}
)
"""Last words of those that meat is called after, too; as `tokens` has them."""
_ONLY_ALIVE = frozenset(
    {"pullet", "cockerel", "rooster", "chick", "duckling", "gosling", "poult", "piglet"}
    | {"heifer", "steer", "calf", "calve", "ewe", "nanny", "billy", "sow", "layer"}
    | {"pony", "horse", "donkey", "mule", "bee"}
)
"""Last words of what nobody calls so once it is meat."""
_ALIVE = frozenset(
    {"live", "living", "laying", "breeding", "broody", "feeder", "weaned", "started"}
    | {"milking", "dairy", "nursing", "breeder"}
)
"""Before an animal."""
_DRESSED = frozenset(
    {"dressed", "whole", "half", "butchered", "plucked", "processed", "fresh", "frozen"}
    | {"stewing", "roasting", "ground", "cooked", "hanging"}
)
_WHERE_THEY_LIVE = frozenset(
    {"coop", "henhouse", "hutch", "stable", "barn", "pasture", "paddock", "pigpen"}
    | {"sty", "pen", "stall", "run", "corral", "pond", "brooder"}
)


def is_alive(what: str) -> bool:
    """
    Whether it is an animal that is alive, by its name.

    >>> is_alive("live chickens"), is_alive("laying hens"), is_alive("piglets")
    (True, True, True)
    >>> is_alive("chickens"), is_alive("live oysters"), is_alive("live yogurt")
    (False, False, False)
    """
    *before, last = tokens(what) or [""]
    if last in _ONLY_ALIVE:
        return not _DRESSED & set(before)
    return last in ANIMALS and bool(_ALIVE & set(before))


def is_alive_at(what: str, place: str, part: str) -> bool:
    """
    Whether it is an animal where animals live, and nobody said that it is dressed.

    >>> is_alive_at("chickens", "coop", ""), is_alive_at("chickens", "pantry", "")
    (True, False)
    >>> is_alive_at("whole chickens", "barn", "piece"), is_alive_at("beef", "barn", "")
    (False, False)
    """
    words = tokens(what)
    if part not in ("", "piece") or not _WHERE_THEY_LIVE & set(tokens(place)):
        return False
    return bool(words) and words[-1] in ANIMALS and not _DRESSED & set(words)

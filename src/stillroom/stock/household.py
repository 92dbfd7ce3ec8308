"""
Things of the house, the garden and the barn that stand in a stock: no food. Pure.

A name is of what its last word says: freezer tape is tape, and frozen beans are beans.
Words that end the name of food as well ("onion rings", "veggie tray", "beef stock")
count only behind one that says what for. What is in doubt is food: it is cautioned.
"""

from __future__ import annotations

import re
from functools import lru_cache

from stillroom.book.words import tokens
from stillroom.stock.animals import is_alive

_COUNTED = frozenset(
    {"label", "tag", "sticker", "marker", "pen", "pencil", "clip", "towel", "rag"}
    | {
        "apron",
        "glove",
        "mitt",
        "potholder",
        "holder",
        "napkin",
        "tarp",
        "wipe",
        "diaper",
    }
    | {"lifter", "funnel", "tong", "ladle", "spoon", "strainer", "sieve", "colander"}
    | {"thermometer", "scale", "timer", "knive", "knife", "peeler", "corer", "pitter"}
    | {"grinder", "mill", "press", "opener", "sealer", "cutter", "masher", "grater"}
    | {"whisk", "spatula", "scissor", "saucepan", "stockpot", "canner", "dehydrator"}
    | {"stove", "burner", "gasket", "trivet", "hook", "saw", "hammer", "axe", "hoe"}
    | {"shovel", "rake", "hose", "pump", "filter", "airlock", "brush", "band", "lid"}
    | {"pail", "pan", "canister", "container", "incubator", "set", "wick", "lighter"}
    | {"match", "lamp", "lantern", "battery", "broom", "mop", "post", "stake", "cage"}
    | {"trellis", "seedling", "transplant", "sapling", "rootstock", "bandage", "trap"}
    | {"coop", "hutch", "feather", "hide"}
)
"""Last words of things that are counted, whatever stands before them."""
_STUFF = frozenset(
    {"tape", "paper", "foil", "twine", "rope", "parchment", "cardboard", "newspaper"}
    | {"cellophane", "cheesecloth", "cloth", "muslin", "gauze", "burlap", "tissue"}
    | {"wire", "net", "fence", "netting", "hay", "bedding", "litter", "manure"}
    | {"compost", "mulch", "fertilizer", "soil", "livestock", "feed", "firewood"}
    | {"kindling", "lumber", "sawdust", "charcoal", "propane", "gasoline", "diesel"}
    | {"kerosene", "fuel", "paraffin", "beeswax", "varnish", "paint", "glue"}
    | {"turpentine", "antifreeze", "poison", "pesticide", "herbicide", "insecticide"}
    | {"fungicide", "repellent", "wormer", "dewormer", "ammonia", "borax", "cleaner"}
    | {"replacer", "disinfectant", "sanitizer", "toothpaste"}
)
"""Last words of what is measured or weighed."""
_THINGS = _COUNTED | _STUFF
"""Last words of no food, whatever stands before them; as `tokens` has them."""
_VESSELS = frozenset(
    {"bag", "box", "boxe", "carton", "bucket", "tub", "tin", "can", "crate", "bin"}
    | {"basket", "bottle", "jug", "crock", "keg", "barrel", "tank", "tray", "sack"}
    | {"bowl", "pot", "kettle", "weight", "cap", "ring", "cover", "liner", "stopper"}
    | {"cork", "rack", "tie", "seal", "rubber"}
)
"""Vessels and their parts: they may be full of what is named before them."""
_DURABLE = frozenset(
    {"bucket", "crock", "jug", "crate", "bin", "basket", "bottle", "barrel", "keg"}
    | {"tank", "kettle", "bowl", "pot", "carboy", "demijohn", "churn", "tub", "tray"}
)
"""Of those and their like, what is a thing of its own where its name ends there."""
_OF_ITS_SIZE = frozenset(
    {"gallon", "gal", "quart", "qt", "pint", "pt", "cup", "liter", "litre", "l"}
    | {"big", "large", "small", "medium", "old", "new", "clean", "swing", "flip", "top"}
    | {"stoneware", "ceramic", "enamel", "stainless", "copper", "cast", "iron", "clay"}
)
"""Before it, with digits: how large it is, and of what it is made."""
_WHAT_FOR = frozenset(
    {"freezer", "storage", "canning", "canner", "vacuum", "sealer", "mylar", "zip"}
    | {"zipper", "paper", "plastic", "glass", "metal", "steel", "wooden", "cardboard"}
    | {"burlap", "feed", "trash", "garbage", "rubbish", "compost", "straining"}
    | {"milking", "garden", "flower", "seed", "jar", "mason", "preserving", "mouth"}
    | {"fermenting", "fermentation", "bottle", "bag", "bucket", "crock", "roasting"}
    | {"baking", "cooling", "drying", "dehydrator", "laundry", "gas", "fuel", "twist"}
    | {"propane", "harvest", "rubber", "livestock", "stock"}
)
"""What a vessel is made of, or for."""
_ONLY_BEHIND = {
    "oil": {"motor", "engine", "lamp", "tung", "neem", "linseed", "chain", "hydraulic"},
    "meal": {"bone", "blood", "alfalfa", "kelp", "feather", "cottonseed"},
    "stock": {"seed", "root", "breeding", "planting", "nursery", "card", "gun", "soap"}
    | {"feed", "rolling"},
    "seed": {"grass", "bird", "lawn", "flower", "vegetable", "garden"},
    "pot": {"soup", "bean"},
    "bag": {"jelly"},
    "wax": {"paraffin", "cheese", "canning", "sealing", "candle", "soy", "bee"},
    "string": {"kitchen", "butcher", "cotton", "garden"},
    "straw": {"wheat", "oat", "barley", "bedding", "pine"},
    "cooker": {"pressure", "slow", "rice", "egg"},
    "pole": {"bean", "hop", "fence"},
    "stick": {"pea", "paint"},
    "stalk": {"corn"},
    "chip": {"wood"},
    "shell": {"oyster"},
    "grit": {"chicken", "poultry", "hen", "turkey", "duck"},
    "emulsion": {"fish"},
    "wool": {"steel"},
    "soda": {"washing"},
    "alcohol": {"rubbing"},
    "acid": {"muriatic", "battery", "boric"},
    "vinegar": {"cleaning"},
}
"""Last words of food, but for what they are behind one of these."""
_STORAGE = frozenset({"storage", "plastic", "freezer", "fermenting", "fermentation"})
_OF_A_LID = frozenset({"lid", "band", "ring", "rubber", "seal"})
"""What belongs to the lids of canning jars themselves."""
_BESIDE_A_LID = frozenset({"band", "ring"})
"""What is counted along with it: "24 lids and bands"."""
_ALONE = frozenset({"ring", "cap", "cork", "rack", "liner", "wax", "string", "straw"})
"""A whole name."""
_CROPS = frozenset(
    {"potato", "garlic", "onion", "shallot", "corn", "bean", "pea", "peanut", "tuber"}
    | {"wheat", "rye", "oat", "barley", "grain", "ginger"}
)
"""Behind "seed": kept for the ground, and often treated for it."""
_PURPOSES = frozenset(
    {"cleaning", "washing", "laundry", "planting", "sowing", "seed", "compost", "bait"}
)
"""Behind "for": "vinegar for cleaning"."""
_CUT = frozenset({"for", "with", "without", "in", "from"})
"""What stands behind says more of a thing, and not what it is."""


@lru_cache(maxsize=1024)  # asked of every lot again and again
def is_of_the_house(what: str) -> bool:
    """
    Whether it is a thing and no food, by its name.

    Examples
    --------
    >>> is_of_the_house("freezer tape"), is_of_the_house("freezer jam")
    (True, False)
    >>> is_of_the_house("seed stock"), is_of_the_house("beef stock")
    (True, False)
    >>> is_of_the_house("vinegar for cleaning"), is_of_the_house("vinegar")
    (True, False)
    >>> is_of_the_house("empty milk jugs"), is_of_the_house("milk jugs")
    (True, False)
    >>> is_of_the_house("laying hens"), is_of_the_house("stewing hens")
    (True, False)
    """
    words, head = tokens(what), head_of(what)
    if is_alive(" ".join(head)):
        return True
    if "for" in words[len(head) : len(head) + 1] and words[-1] in _PURPOSES:
        return True
    return bool(head) and _is_a_thing(head)


def are_things(what: str) -> bool:
    """
    Whether it is a thing, or several, and so counted.

    >>> are_things("pint freezer boxes"), are_things("pressure canner")
    (True, True)
    >>> are_things("lamp oil"), are_things("hay")
    (False, False)
    """
    if not is_of_the_house(what):
        return False
    last = head_of(what)[-1]
    return what.lower().endswith("s") or last in _COUNTED or last in _DURABLE


def are_canning_lids(what: str) -> bool:
    """
    Whether they are lids that close jars of food, by their name, and no other vessel.

    >>> are_canning_lids("wide-mouth lids"), are_canning_lids("bucket lids")
    (True, False)
    >>> are_canning_lids("lids for pint jars"), are_canning_lids("pint jars with lids")
    (True, False)
    >>> are_canning_lids("lids and bands"), are_canning_lids("jars and lids")
    (True, False)
    """
    others = (_VESSELS | _THINGS | _STORAGE) - _OF_A_LID
    return last_of(what) == "lid" and others.isdisjoint(tokens(what))


def is_a_bare_vessel(what: str) -> bool:
    """
    Whether a name is of a vessel alone, and of nothing that is in it.

    >>> is_a_bare_vessel("5-gallon buckets"), is_a_bare_vessel("milk jugs")
    (True, False)
    """
    *before, last = tokens(what) or [""]
    known = _OF_ITS_SIZE | _WHAT_FOR
    return last in _DURABLE and all(word in known or word.isdigit() for word in before)


def last_of(what: str) -> str:
    """
    Return the word that says which thing a name counts, where it counts two.

    >>> last_of("lids and bands"), last_of("bands & lids"), last_of("jars and lids")
    ('lid', 'lid', 'jar')
    """
    head = head_of(re.sub(r"\s&\s", " and ", what))
    parts = " ".join(head).split(" and ")
    last = [part.rpartition(" ")[2] for part in parts]
    return next((word for word in last if word not in _BESIDE_A_LID), last[0])


def head_of(what: str) -> list[str]:
    """
    Return the words of a name up to what is only said of it behind.

    >>> head_of("pint jars with lids"), head_of("chicken in a pot")
    (['pint', 'jar'], ['chicken'])
    """
    words = tokens(re.split(r"[(,:;]", what)[0])
    return words[: next((n for n, word in enumerate(words) if word in _CUT), None)]


def _is_a_thing(words: list[str]) -> bool:
    """Whether the words of a name end in a thing: poultry and rabbit feed is feed."""
    *before, last = words
    behind = before[-1] if before else ""
    if not before and last in _ALONE:
        return True
    if before[:1] == ["seed"] and last in _CROPS:
        return True
    if is_a_bare_vessel(" ".join(words)):
        return True
    if last in _VESSELS and (behind in _WHAT_FOR or "empty" in before):
        return True
    if behind in _ONLY_BEHIND.get(last, ()):
        return True
    return last in _THINGS and (behind, last) != ("rice", "paper")

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

_THINGS = frozenset(
    {"tape", "paper", "foil", "twine", "rope", "label", "tag", "sticker", "marker"}
    | {"pen", "pencil", "parchment", "cardboard", "newspaper", "cellophane", "clip"}
    | {"cheesecloth", "cloth", "muslin", "towel", "rag", "apron", "glove", "mitt"}
    | {"potholder", "napkin", "gauze", "burlap", "tarp", "wipe", "tissue", "diaper"}
    | {"lifter", "funnel", "tong", "ladle", "spoon", "strainer", "sieve", "colander"}
    | {"thermometer", "scale", "timer", "knive", "knife", "peeler", "corer", "pitter"}
    | {"grinder", "mill", "press", "opener", "sealer", "cutter", "masher", "grater"}
    | {"whisk", "spatula", "scissor", "saucepan", "stockpot", "canner", "dehydrator"}
    | {"stove", "burner", "gasket", "trivet", "hook", "saw", "hammer", "axe", "hoe"}
    | {"shovel", "rake", "hose", "pump", "filter", "airlock", "brush", "band", "lid"}
    | {"pail", "pan", "canister", "container", "incubator", "set", "wick", "lighter"}
    | {"match", "lamp", "lantern", "battery", "broom", "mop", "wire", "net", "fence"}
    | {"netting", "post", "stake", "cage", "trellis", "hay", "bedding", "litter"}
    | {"manure", "compost", "mulch", "fertilizer", "soil", "seedling", "transplant"}
    | {"sapling", "rootstock", "livestock", "feed", "firewood", "kindling", "lumber"}
    | {"sawdust", "charcoal", "propane", "gasoline", "diesel", "kerosene", "fuel"}
    | {"paraffin", "beeswax", "varnish", "paint", "glue", "turpentine", "antifreeze"}
    | {"poison", "trap", "pesticide", "herbicide", "insecticide", "fungicide"}
    | {"repellent", "wormer", "dewormer", "ammonia", "borax", "cleaner", "replacer"}
    | {"disinfectant", "sanitizer", "bandage", "toothpaste", "coop", "hutch", "hide"}
    | {"feather"}
)
"""Last words of no food, whatever stands before them; as `tokens` has them."""
_VESSELS = frozenset(
    {"bag", "box", "boxe", "carton", "bucket", "tub", "tin", "can", "crate", "bin"}
    | {"basket", "bottle", "jug", "crock", "keg", "barrel", "tank", "tray", "sack"}
    | {"bowl", "pot", "kettle", "weight", "cap", "ring", "cover", "liner", "stopper"}
    | {"cork", "rack", "tie", "seal", "rubber"}
)
"""Vessels and their parts: they may be full of what is named before them."""
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
    """
    words, head = tokens(what), head_of(what)
    if "for" in words[len(head) : len(head) + 1] and words[-1] in _PURPOSES:
        return True
    return bool(head) and _is_a_thing(head)


def are_things(what: str) -> bool:
    """
    Whether they are several things, and so counted.

    >>> are_things("pint freezer boxes"), are_things("lamp oil")
    (True, False)
    """
    return what.lower().endswith("s") and is_of_the_house(what)


def are_canning_lids(what: str) -> bool:
    """
    Whether they are lids that close jars of food, by their name, and no other vessel.

    >>> are_canning_lids("wide-mouth lids"), are_canning_lids("bucket lids")
    (True, False)
    >>> are_canning_lids("lids for pint jars"), are_canning_lids("pint jars with lids")
    (True, False)
    """
    others = (_VESSELS | _THINGS | _STORAGE) - _OF_A_LID
    return head_of(what)[-1:] == ["lid"] and others.isdisjoint(tokens(what))


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
    if last in _VESSELS and (behind in _WHAT_FOR or "empty" in before):
        return True
    if behind in _ONLY_BEHIND.get(last, ()):
        return True
    return last in _THINGS and (behind, last) != ("rice", "paper")

"""What stands on a shelf in jars and was never to have a process: by its name. Pure."""

from __future__ import annotations

from stillroom.book.names import product_named
from stillroom.book.never import is_of_meat
from stillroom.book.words import plain, tokens
from stillroom.refusal import Refusal
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.not_food import is_never_eaten

KEPT_DRY = "dry in its jars, in no liquid: no canning"
_DRIED = (("dried",), ("dehydrated",), ("freeze", "dried"))
_DRIED_SO = (
    *(("sun", "dried"), ("sundried",), ("air", "dried"), ("oven", "dried")),
    *(("home", "dried"), ("freezedried",)),
)
"""How it was dried; much of it is bought in oil under the same name, so it is asked."""
_NOT_DRY = frozenset(
    {"in", "with", "rehydrated", "soaked", "cooked", "canned", "stewed"}
    | {"baked", "refried", "pickled", "jelly", "jam", "marmalade", "preserve"}
    | {"conserve", "butter", "sauce", "pesto", "paste", "puree", "juice", "syrup"}
    | {"soup", "stew", "chili", "broth", "stock", "salsa", "chutney", "relish"}
    | {"pickle", "filling", "spread", "oil", "compote", "gravy", "casserole", "salad"}
    | {"chowder", "curry", "curried", "chilli", "dip", "mash", "mashed", "mushy"}
    | {"boiled", "parboiled", "poached", "simmered", "fried", "creamed", "cream"}
    | {"sprouted", "hydrated", "reconstituted", "processed", "marinated", "brined"}
    | {"brandied", "candied", "glazed", "ready", "wet", "moist", "water"}
    | {"brine", "liquid", "adobo", "overnight", "iced", "sun", "kombucha"}
    | {"dilly", "pudding", "milk", "wine", "cider", "sherry", "yogurt", "spanish"}
)
"""Words of what is wet, whatever it was made from."""
_POWDERS = frozenset({"milk", "soup", "stew", "chili", "curry", "gravy", "cream"})
"""Of those words, what is also sold and put up as a dry powder or mix."""
_WITH_FOOD = frozenset(
    {"and", "ham", "pork", "beef", "chicken", "turkey", "tuna", "fish", "meat"}
    | {"meatball", "sausage", "bacon", "cheese", "tomato", "carrot", "stuffed", "dough"}
    | {"vegetable", "mushroom", "garlic"}
)
"""Words of a dish, where the name does not begin with dry or dried."""
_FRESH = frozenset({"green", "snap", "wax", "string", "fresh", "snow", "shell"})
_SOAKED_FIRST = frozenset(
    {"bean", "pea", "lentil", "chickpea", "garbanzo", "legume", "dal", "daal", "dahl"}
)
"""Dry seeds that are put up soaked and cooked under the same name."""
_DRY_GOODS = _SOAKED_FIRST | {
    *("corn", "popcorn", "cornmeal", "hominy", "rice", "noodle", "pasta", "macaroni"),
    *("spaghetti", "oat", "barley", "wheat", "rye", "quinoa", "millet", "flour"),
    *("grain", "herb", "tea", "seed", "meal", "seaweed"),
}
_ALSO_DRY = frozenset(
    {"milk", "mustard", "mix", "powder", "yeast", "fruit", "chile", "pepper", "onion"}
    | {"mushroom", "tomato", "apple", "pear", "mint", "basil", "sage", "thyme"}
)
_NAMED_DRY = frozenset(
    {"noodle", "egg noodle", "pasta", "macaroni", "spaghetti", "rice", "corn"}
    | {"sweet corn", "popcorn", "oat"}
)
"""What "dry" before it leaves no doubt of."""
_JERKY = frozenset({"jerky", "biltong"})
"""Meat that is dry by its name."""
_KEEPS = frozenset(
    {
        *("honey", "raw honey", "comb honey", "creamed honey", "clover honey"),
        *("vinegar", "cider vinegar", "apple cider vinegar", "wine vinegar"),
        *("salt", "sugar", "flour", "cornmeal", "popcorn", "oats", "rolled oats"),
        *("rice", "white rice", "brown rice", "wild rice", "long grain rice"),
    }
)
"""Common practice, no source: the book prints nothing of how these keep."""


def needs_no_process(what: str, *, kept_dry: bool = False) -> bool:
    """
    Whether it is kept on a shelf without one: dry, no food, or honey and the like.

    Dried beans and peas go by one name soaked and cooked and dry as they are: those
    need none only where somebody said that they are kept dry.

    Examples
    --------
    >>> needs_no_process("dried apples"), needs_no_process("hand cream")
    (True, True)
    >>> needs_no_process("dried beans"), needs_no_process("dried tomatoes in oil")
    (False, False)
    >>> needs_no_process("dried beans", kept_dry=True)
    True
    """
    said = plain(what)
    if is_never_eaten(what) or said in {plain(name) for name in _KEEPS}:
        return True
    words = tokens(what)
    if kept_dry:
        return may_be_kept_dry(what)
    if _is_wet(words) or is_dried_meat(what):
        return False
    if words[:1] == ["dry"] and " ".join(words[1:]) in _NAMED_DRY:
        return True
    if not _is_dried(words) or _is_soaked_first(words):
        return False
    product = product_named(what)
    return isinstance(product, Refusal) or not product.process_table


_NOT_OF_MEAT_ALONE = frozenset(
    {"and", "with", "bean", "pea", "tomato", "noodle", "rice", "pasta"}
    | {"marinade", "seasoning", "pate", "soup", "stew", "vegetable"}
)


def is_dried_meat(what: str) -> bool:
    """
    Whether it is meat or fish that was dried: no shelf life of it is in the book.

    >>> is_dried_meat("dried beef"), is_dried_meat("beef jerky")
    (True, True)
    >>> is_dried_meat("dried apples"), is_dried_meat("dried beef gravy")
    (False, False)
    >>> is_dried_meat("dried beans and ham"), is_dried_meat("jerky marinade")
    (False, False)
    """
    words = _without_how_dried(tokens(what))
    if _is_wet(words) or words[-1:] in (["mix"], ["powder"]):
        return False
    if _NOT_OF_MEAT_ALONE & set(words):
        return False
    return bool(_JERKY & set(words)) or (_is_dried(words) and is_of_meat(what))


def is_canned(what: str, jar: str, place: str, *, kept_dry: bool = False) -> bool:
    """Whether jars are to keep on the shelf by their process and seal."""
    on_shelf = bool(jar) and cold_of(place) is Cold.SHELF
    return on_shelf and not needs_no_process(what, kept_dry=kept_dry)


def may_be_kept_dry(what: str) -> bool:
    """
    Whether something of that name can be a dry good, where somebody says it is.

    >>> may_be_kept_dry("pinto beans"), may_be_kept_dry("green beans")
    (True, False)
    >>> may_be_kept_dry("bean soup"), may_be_kept_dry("sun-dried tomatoes")
    (False, True)
    """
    words = _without_how_dried(tokens(what))
    if not words or _is_wet(words):
        return False
    if _is_dried(words) or is_dried_meat(what):
        return True
    if words[0] == "dry":
        is_packed = {"pack", "packed", "cured", "salted", "aged"} & set(words)
        return not is_packed and words[-1] in _DRY_GOODS | _ALSO_DRY
    is_dish = (_FRESH | _WITH_FOOD) & set(words)
    return not is_dish and words[-1] in _DRY_GOODS


def _without_how_dried(words: list[str]) -> list[str]:
    """Return "dried tomato" for "sun-dried tomatoes"."""
    for said in _DRIED_SO:
        if tuple(words[: len(said)]) == said:
            return ["dried", *words[len(said) :]]
    return words


def _is_wet(words: list[str]) -> bool:
    """Whether a name says that it is wet; a dry soup mix, or dried milk, is not."""
    dry: frozenset[str] = frozenset()
    if words[-1:] in (["mix"], ["powder"], ["leave"]):
        dry = _POWDERS
    elif " ".join(words) in ("dried milk", "dry milk", "powdered milk"):
        dry = frozenset({"milk"})
    return bool((_NOT_DRY - dry) & set(words))


def _is_soaked_first(words: list[str]) -> bool:
    """Whether it may be dry seeds that were soaked; dried green beans are pods."""
    pods = {"green", "snap", "wax", "string"}
    if "bean" in words and pods & set(words):
        return False
    return bool(_SOAKED_FIRST & set(words))


def _is_dried(words: list[str]) -> bool:
    return any(tuple(words[: len(said)]) == said for said in _DRIED)


def was_in_canner(load: int | None, process_min: int | None) -> bool:
    """Whether it was said of jars that they had a process: then they are no dry good.

    >>> was_in_canner(None, 40), was_in_canner(None, None)
    (True, False)
    """
    return load is not None or bool(process_min)

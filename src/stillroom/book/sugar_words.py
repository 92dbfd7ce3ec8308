"""
Words on sugar and on what is poured over fruit: "in light syrup", "with no sugar".

Sugar keeps neither canned fruit nor applesauce, and the time is the same without it
(Michigan State Univ. Extension leaflets 01600502 and 01600353). In a spread or a pickle
it is part of the tested recipe. So these words are left out of the name of the one, and
never of the other.
"""

from __future__ import annotations

from stillroom.book.words import tokens

IN_LIQUID = "in a liquid"
NO_SUGAR = "no sugar"

# Longest first: "with no sugar added" must not leave an "added" behind.
_NO_SUGAR = (
    *("with no sugar added", "with no added sugar", "without added sugar"),
    *("without any sugar", "no sugar added", "no added sugar", "with no sugar"),
    *("without sugar", "no sugar", "sugar free", "sugarless", "unsweetened"),
)
_LIQUIDS = (
    *(f"in {sort} syrup" for sort in ("very light", "extra light", "very lite")),
    *(f"in {sort} syrup" for sort in ("light", "lite", "thin", "medium", "heavy")),
    *("in sugar syrup", "in a syrup", "in syrup", "in boiling water", "in water"),
    *("in white grape juice", "in grape juice", "in apple juice"),
    *("in pineapple juice", "in fruit juice", "in their own juice", "in its own juice"),
    *("in own juice", "in juice"),
)
_PACKED = ("packed", "canned", "put up")
# Printed with a syrup or sugar of their own only.
_AS_PRINTED = frozenset({"figs", "mixed fruit cocktail", "stewed rhubarb"})
_WITHOUT_SUGAR = frozenset({"fruit", "juice", "puree", "tomato"})


def without_sugar_words(text: str) -> tuple[str, str]:
    """
    Split the words on sugar or liquid from those on the food.

    >>> without_sugar_words("Peaches in light syrup")
    ('peach', 'in a liquid')
    >>> without_sugar_words("applesauce with no sugar")
    ('applesauce', 'no sugar')
    >>> without_sugar_words("peaches")
    ('peach', '')
    """
    padded = f" {' '.join(tokens(text))} "
    for phrases, what in ((_NO_SUGAR, NO_SUGAR), (_LIQUIDS, IN_LIQUID)):
        for phrase in phrases:
            said = f" {' '.join(tokens(phrase))} "
            if said not in padded:
                continue
            rest = padded.replace(said, " ").strip()
            for word in _PACKED:
                rest = rest.removesuffix(f" {word}")
            return rest, what
    return padded.strip(), ""


def is_the_same_food(what: str, *, kind: str, name: str, fruit: str) -> bool:
    """
    Whether a product's own table holds, whatever those words were.

    >>> is_the_same_food(NO_SUGAR, kind="sauce", name="applesauce", fruit="apple")
    True
    >>> is_the_same_food(NO_SUGAR, kind="jam", name="plum jam", fruit="plum")
    False
    >>> is_the_same_food(IN_LIQUID, kind="tomato", name="tomato sauce", fruit="")
    False
    """
    if name in _AS_PRINTED:
        return False
    if what == IN_LIQUID:
        return kind == "fruit"
    return kind in _WITHOUT_SUGAR or (kind == "sauce" and bool(fruit))

"""Each word that exempts a name from the cautions of cooked food: it is needed."""

import pytest

from stillroom.stock import cooked, dish
from stillroom.stock.cooked import cooked_caution

NAMES = {
    "_NO_MEAT": (
        *("chicken fat", "beef suet", "deer tallow", "cod oil", "beef bouillon"),
        *("chicken powder", "chicken mix", "beef seasoning", "turkey rub", "fish food"),
        *("fish meal", "beef bones", "fish sauce", "powdered chicken stock"),
        *(
            "duck eggs",
            "evaporated goat milk",
            "goat cheese",
            "goat butter",
            "powdered goat yogurt",
        ),
        *("turkey figs", "oyster mushrooms", "beef tomatoes", "lamb's lettuce"),
        *("fish peppers", "deer berries", "crab shells", "rabbit pellets"),
        *("oyster crackers", "pork rinds", "beef cattle"),
        "powdered beef broth",
    ),
    "_ALL_OF_IT": (
        *("beef and vegetable powder", "beef and onion soup mix", "beef and pork rub"),
        *("chicken and herb seasoning", "fish and rabbit food", "shrimp and fish meal"),
        *("turkey and rabbit pellets", "fish and oyster sauce"),
    ),
    "_CURED": (
        *(
            "ham",
            "bacon",
            "duck prosciutto",
            "pork salami",
            "beef pastrami",
            "cured pork",
        ),
        *("smoked trout", "salted cod", "salt pork", "beef dried", "dry beef sausage"),
        *("canned tuna", "corned beef", "pickled herring", "summer sausage"),
    ),
    "_IN_CUBES": ("beef bouillon cubes", "beef stock cubes", "chicken broth cubes"),
    "_NOT_OF_MEAT": (
        *("chicken of the woods", "turkey tail", "lamb's quarters", "oyster plant"),
    ),
}
EXEMPT = [(words, name) for words, names in NAMES.items() for name in names]


def minded_without(words: str, left_out: set[str], names, monkeypatch) -> list[str]:
    """Names that are cautioned where some of the exempting words are not there."""
    with monkeypatch.context() as without:
        # what is exempt whole is exempt by its last word too
        for of in (words, "_ALL_OF_IT") if words == "_NO_MEAT" else (words,):
            left = [word for word in getattr(cooked, of) if word not in left_out]
            without.setattr(cooked, of, frozenset(left))
        return [name for name in names if cooked_caution(name, "pantry", "")]


@pytest.mark.parametrize(("words", "name"), EXEMPT)
def test_a_name_is_exempt_by_one_of_the_words(words, name, monkeypatch):
    assert cooked_caution(name, "pantry", "") == ""
    all_of_them = set(getattr(cooked, words))
    assert minded_without(words, all_of_them, [name], monkeypatch) == [name]


@pytest.mark.parametrize("words", NAMES)
def test_each_exempt_word_is_needed_by_a_name(words, monkeypatch):
    for word in getattr(cooked, words):
        assert minded_without(words, {word}, NAMES[words], monkeypatch), word


@pytest.mark.parametrize("pepper", sorted(dish._PEPPERS))
def test_each_word_of_a_pepper_makes_one_of_chili(pepper):
    assert cooked_caution(f"{pepper} chili", "pantry", "") == ""
    assert cooked_caution("chili", "pantry", "")

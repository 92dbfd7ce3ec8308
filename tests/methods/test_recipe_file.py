"""The recipe file: every fault by line and key, and the same recipe back."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.file_text import LARGEST_FILE
from stillroom.methods.own_class import Classed, ColdOnly, classed
from stillroom.methods.own_recipe import METHODS, OwnIngredient, OwnRecipe, Question
from stillroom.methods.recipe_file import (
    MOST_INGREDIENTS,
    new_recipe_text,
    read_recipe,
    write_recipe,
)
from stillroom.refusal import Unreadable
from stillroom.toml_text import MOST_FAULTS

HEAD = '[recipe]\ntitle = "t"\nkind = "jam"\nmethod = "with_pectin"\njar = "pint"\n'
SUGAR = '[[ingredients]]\nis = "sugar"\nquantity = "7 cups"\n'


def line_text(least: int = 0, most: int = 60) -> st.SearchStrategy[str]:
    """Text as it is kept: on one line, printable, single blanks."""
    return (
        st.text(max_size=most)
        .map(
            lambda text: " ".join(
                "".join(c if c.isprintable() else " " for c in text).split()
            )
        )
        .filter(lambda text: len(text) >= least)
    )


INGREDIENTS = st.builds(
    OwnIngredient,
    name=line_text(1),
    quantity=line_text(),
    prep=line_text(),
    weighs=line_text(),
)
RECIPES = st.builds(
    OwnRecipe,
    title=line_text(),
    kind=st.sampled_from(["", "jelly", "jam", "butter"]),
    method=st.sampled_from(["", *METHODS]),
    jar=line_text(),
    by=line_text(),
    headspace_in=st.none() | st.sampled_from([0.25, 0.5, 0.125, 1.0]),
    measured_ph=st.none() | st.floats(0, 14),
    measured_brix=st.none() | st.floats(0, 100),
    steps=st.lists(line_text(1), max_size=4).map(tuple),
    ingredients=st.lists(INGREDIENTS, min_size=1, max_size=5).map(tuple),
)


def faults(text: str) -> str:
    with pytest.raises(Unreadable) as caught:
        read_recipe(text)
    return str(caught.value)


def test_the_template_is_a_recipe_that_gets_its_process():
    answer = classed(read_recipe(new_recipe_text()), elevation_ft=2150)
    assert isinstance(answer, Classed)


@given(RECIPES)
def test_what_is_written_is_read_back(own):
    assert read_recipe(write_recipe(own)) == own


def test_all_faults_come_at_once_with_line_and_key():
    text = (
        '[recipe]\ntitle = 3\nkind = "soup"\nfoo = 1\nmeasured_ph = "low"\n'
        'measured_brix = nan\nheadspace = "2 kg"\nsteps = [1]\n'
        '[[ingredients]]\nis = ""\n[[ingredients]]\nquantity = 3\n'
    )
    said = faults(text)
    for line in (
        "line 1, recipe.method: this key is missing",
        "line 2, recipe.title: 3 is no text",
        'line 3, recipe.kind: "soup" is not known. Allowed: jelly, jam, butter',
        "line 4, recipe.foo: this key is not known",
        'line 5, recipe.measured_ph: "low" is not a number from 0 to 14',
        "line 6, recipe.measured_brix: nan",
        "line 7, recipe.headspace: cannot read '2 kg' as a length",
        "line 8, recipe.steps[1]: 1 is no text",
        "line 10, ingredients[1].is: it is empty",
        "line 12, ingredients[2].quantity: 3 is no text",
    ):
        assert line in said


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "the file is empty"),
        ("a = 1\n", "a: this key is not known"),
        ("recipe = 3\ningredients = 4\n", "3 stands here; write a table"),
        (HEAD, "ingredients: this is missing"),
        (HEAD + "ingredients = []\n", "recipe.ingredients: this key is not known"),
        ("ingredients = [1, 'a']\n" + HEAD, "ingredients[1]: 1 stands here"),
        (HEAD + SUGAR * (MOST_INGREDIENTS + 1), "too many; at most 40"),
        (HEAD + SUGAR.replace("sugar", "x" * 121), "longer than 120 letters"),
        (HEAD + SUGAR.replace("sugar", "\\u0007"), "cannot be printed"),
        (HEAD + 'headspace = "40 in"\n' + SUGAR, "not within 0 to 3 in"),
        (HEAD + "measured_ph = true\n" + SUGAR, "true is not a number"),
        (HEAD + "measured_ph = -1\n" + SUGAR, "-1 is not a number"),
        (HEAD + "measured_ph = 0x1" + "0" * 6000 + "\n" + SUGAR, "very many digits"),
        (HEAD + "steps = 'boil'\n" + SUGAR, "at most 40 texts"),
        (HEAD + 'title = "again"\n' + SUGAR, "line 6: this is not TOML"),
        (HEAD + "x = " + "[" * 5000 + "\n", "nested too deeply"),
        ("a" + ".a" * 200_000 + " = 1\n", "so many dots"),
        ("a = 1\n" * 3, "not TOML"),
    ],
)
def test_what_is_no_recipe_file_is_named(text, what):
    assert what in faults(text)


def test_a_file_of_ten_megabytes_is_not_read(tmp_path):
    file = tmp_path / "huge.toml"
    file.write_bytes(b"#" * 10_000_000)
    with pytest.raises(Unreadable, match=r"10\.0 MB; a recipe file has at most 1 MB"):
        read_recipe(file)
    assert file.stat().st_size > LARGEST_FILE


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"\xff\xfe", "is not UTF-8"),
        (b"a\0b", "is no text"),
        (None, "there is no file"),
    ],
)
def test_a_file_that_is_no_text_is_named(tmp_path, content, what):
    file = tmp_path / "r.toml"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(Unreadable, match=what):
        read_recipe(file)


def test_very_many_faults_are_cut_short():
    text = HEAD + "".join(f"k{n} = 1\n" for n in range(300)) + SUGAR
    with pytest.raises(Unreadable) as caught:
        read_recipe(text)
    assert len(caught.value.faults) == MOST_FAULTS + 1


def test_an_empty_quantity_is_asked_for_on_its_line():
    own = read_recipe(HEAD + SUGAR + '[[ingredients]]\nis = "plums"\nquantity = ""\n')
    answer = classed(own)
    assert isinstance(answer, ColdOnly)
    assert str(answer.questions[0]) == "line 9, ingredients[2]: how much plums?"


def test_questions_are_written_as_comments_where_they_belong():
    own = read_recipe(HEAD + SUGAR)
    asked = [
        Question("which jars?\nreally", "jar"),
        Question('how much "sugar"?', "ingredients[1]"),
    ]
    text = write_recipe(own, asked)
    assert re.search(r"# asked: which jars\? really\njar = ", text)
    assert re.search(r'\[\[ingredients]]\n# asked: how much "sugar"\?\nis = ', text)
    assert read_recipe(text) == own


@given(st.text(max_size=300))
def test_any_text_that_is_no_recipe_has_its_faults_named(text):
    with pytest.raises(Unreadable) as caught:
        read_recipe("\n" + text)
    assert caught.value.faults

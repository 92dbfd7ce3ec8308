"""schema.org Recipe in and out: pages of any shape, lines that are not guessed."""

import json
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.book.procedures import procedure_for, procedures
from stillroom.measures import read_quantity
from stillroom.methods.own_class import Classed, ColdOnly, classed
from stillroom.methods.own_recipe import OwnIngredient, OwnRecipe
from stillroom.methods.recipe_file import read_recipe, write_recipe
from stillroom.methods.recipe_jsonld import export_recipe, import_recipe
from stillroom.methods.recipe_lines import read_line
from stillroom.refusal import Unreadable, granted

# Invented, in the shapes that such pages have.
PLUM = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Plum Jam &amp; Co",
    "author": [{"@type": "Person", "name": "Invented Keeper"}],
    "recipeIngredient": [
        "6 cups crushed plums",
        "1 (1.75 oz) box powdered pectin",
        "8 cups sugar",
    ],
    "recipeInstructions": [
        {"@type": "HowToSection", "itemListElement": [{"text": "Crush."}, "Boil."]}
    ],
}


def page(*blocks: str) -> str:
    scripts = "".join(
        f'<script type="application/ld+json">{block}</script>' for block in blocks
    )
    return f"<!doctype html><html><head>{scripts}</head><body><p>x</body></html>"


@pytest.mark.parametrize(
    "text",
    [
        json.dumps(PLUM),
        json.dumps([1, None, PLUM]),
        "\ufeff " + json.dumps({"@graph": [{"@type": "WebPage"}, PLUM]}),
        json.dumps(PLUM | {"@type": ["Thing", "Recipe"]}),
        json.dumps(PLUM | {"@type": "https://schema.org/Recipe"}),
        page(json.dumps(PLUM)),
        page("{ broken", json.dumps({"@type": "WebSite"}), json.dumps(PLUM)),
        page(json.dumps({"@type": "WebPage", "mainEntity": PLUM})),
        page(
            json.dumps({"@type": "Recipe", "name": "no ingredients"}), json.dumps(PLUM)
        ),
        page("<!--" + json.dumps(PLUM) + "-->"),
        page(json.dumps(PLUM)).replace(
            '"application/ld+json"', "'APPLICATION/LD+JSON'"
        ),
        "<script>var a = 1</script>" + page(json.dumps(PLUM)) + "<script",
    ],
)
def test_the_recipe_is_found_wherever_it_stands(text):
    imported = import_recipe(text)
    own = imported.own
    assert (own.title, own.kind, own.method) == ("Plum Jam & Co", "jam", "with_pectin")
    assert own.by == "Invented Keeper"
    assert [i.quantity for i in own.ingredients] == [
        "6 cups",
        "1 box of 1.75 oz",
        "8 cups",
    ]
    assert own.steps == ("Crush.", "Boil.")
    assert [q.key for q in imported.questions] == ["jar"]


def test_no_process_comes_with_a_page_until_the_jar_is_said():
    own = import_recipe(json.dumps(PLUM)).own
    assert isinstance(classed(own, elevation_ft=0), ColdOnly)
    told = read_recipe(write_recipe(own).replace('jar = ""', 'jar = "pint"'))
    assert isinstance(classed(told, elevation_ft=0), Classed)


def test_lines_that_cannot_be_read_are_asked_for_by_line():
    body = PLUM | {"recipeIngredient": ["2 to 3 cups sugar", "8 cups sugar", "salt"]}
    imported = import_recipe(json.dumps(body))
    asked = {q.key: q.text for q in imported.questions}
    assert "2 to 3 cups sugar" in asked["ingredients[1]"]
    assert "ingredients[2]" not in asked
    assert "salt" in asked["ingredients[3]"]
    assert imported.own.ingredients[0].quantity == ""
    assert imported.own.method == ""
    again = read_recipe(write_recipe(imported.own, imported.questions))
    assert again == imported.own


@pytest.mark.parametrize(
    ("line", "quantity", "name", "prep"),
    [
        ("2 1/2 cups sugar", "2 1/2 cups", "sugar", ""),
        ("1 (1.75 oz) box powdered pectin", "1 box of 1.75 oz", "powdered pectin", ""),
        (
            "1 (1.75-ounce) pkg powdered pectin",
            "1 pkg of 1.75 ounce",
            "powdered pectin",
            "",
        ),
        (
            "1 box (1 3/4 oz) powdered pectin",
            "1 box of 1 3/4 oz",
            "powdered pectin",
            "",
        ),
        ("3 lb plums, pitted", "3 lb", "plums", "pitted"),
        ("½ cup (120 ml) lemon juice", "½ cup", "lemon juice", "120 ml"),
        ("• 7 cups of sugar", "7 cups", "sugar", ""),
        ("500g plums", "500g", "plums", ""),
        ("1 lb. 4 oz plums", "1 lb. 4 oz", "plums", ""),
        ("2 tbsp + 1 tsp lemon juice", "2 tbsp + 1 tsp", "lemon juice", ""),
        ("2 cups vinegar (5% acidity)", "2 cups", "vinegar", "5% acidity"),
        ("3 lemons", "3", "lemons", ""),
        ("2,5 kg plums", "2,5 kg", "plums", ""),
    ],
)
def test_a_line_is_split_where_its_measure_ends(line, quantity, name, prep):
    read = read_line(line)
    assert read.read
    assert read.ingredient == OwnIngredient(quantity=quantity, name=name, prep=prep)


@pytest.mark.parametrize(
    "line",
    [
        "2 to 3 cups sugar",
        "2-3 cups sugar",
        "2 cups plus 1 tbsp sugar",
        "2 C sugar",
        "2 1/2 T sugar",
        "2 heaping cups sugar",
        "8 cups sugar, divided",
        "8 cups sugar, plus more to taste",
        "1,500 g plums",
        "1 pinch salt",
        "salt to taste",
        "juice of 2 lemons",
        "sugar",
        "1 cup",
        "",
        "1 metric cup sugar",
        "2 cups 1 tbsp",
        "9" * 400 + " cups sugar",
    ],
)
def test_a_line_in_doubt_is_left_unread(line):
    read = read_line(line)
    assert not read.read
    assert read.ingredient.quantity == ""


LINES = st.builds(
    "{} {} {}".format,
    st.integers(0, 40) | st.sampled_from(["1/2", "1 3/4", "2.5"]),
    st.sampled_from(["cups", "tbsp", "lb", "boxes", "kg", "pinch of"]),
    st.sampled_from(["sugar", "ripe plums, pitted", "powdered pectin"])
    | st.text(max_size=40),
)


@given(st.text(max_size=200) | LINES)
def test_any_line_is_read_for_certain_or_not_at_all(line):
    read = read_line(line)
    if read.read:
        assert read_quantity(read.ingredient.quantity).value >= 0
        assert read.ingredient.name
    else:
        assert read.ingredient.quantity == ""
    assert read.typed.isprintable()


QUANTITIES = st.sampled_from(
    ["2 1/2 cups", "3 lb", "900 g", "1 box of 1.75 oz", "½ tsp"]
)
NAMES = st.sampled_from(["plums", "sugar", "powdered pectin", "bottled lemon juice"])
PREPS = st.sampled_from(["", "pitted", "pitted, crushed", "not too ripe"])
RECIPES = st.builds(
    OwnRecipe,
    title=st.sampled_from(["Plum jam", "Apple jelly", "Pear butter"]),
    kind=st.just(""),
    method=st.just(""),
    jar=st.just(""),
    by=st.sampled_from(["", "Invented Keeper"]),
    steps=st.lists(st.sampled_from(["Boil.", 'Say "now".', "½ cup"]), max_size=3).map(
        tuple
    ),
    ingredients=st.lists(
        st.builds(OwnIngredient, name=NAMES, quantity=QUANTITIES, prep=PREPS),
        min_size=1,
        max_size=6,
    ).map(tuple),
)


@given(RECIPES)
def test_what_is_exported_is_imported_again(own):
    text = json.dumps(export_recipe(own), ensure_ascii=False)
    for form in (text, page(text)):
        again = import_recipe(form).own
        assert again.ingredients == own.ingredients
        assert (again.title, again.by, again.steps) == (own.title, own.by, own.steps)


def test_a_tested_recipe_is_exported_with_its_source():
    procedure = granted(procedure_for("plum jelly"))
    body = export_recipe(procedure)
    assert body["isBasedOn"] == procedure.source
    assert body["recipeYield"] == "7 to 8 half-pint"
    assert body["recipeIngredient"] == [
        "5 cups plum juice, strained",
        "7 cups sugar",
        "1 package regular powdered pectin",
    ]


def test_every_procedure_of_the_book_can_be_exported():
    for procedure in procedures():
        body = export_recipe(procedure)
        assert json.loads(json.dumps(body)) == body
        assert len(body["recipeIngredient"]) == len(procedure.ingredients)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "no recipe here",
        "{}",
        "[]",
        "null",
        '{"@type": "Recipe"}',
        '{"@type": "Recipe", "recipeIngredient": 3}',
        '{"@type": "Recipe", "recipeIngredient": [1, {}, null, "  "]}',
        '{"@type": {"a": 1}, "recipeIngredient": ["1 cup sugar"]}',
        '{"@type": "Recipes", "recipeIngredient": ["1 cup sugar"]}',
        "[" * 100_000,
        '{"@graph":' * 50_000,
        "<script type='application/ld+json'>" * 1000,
        "<" * 100_000,
        "<!--" * 200_000,
        "<script " * 120_000,
        "<script type='application/ld+json'>{" * 25_000,
    ],
)
def test_what_holds_no_recipe_says_so(text):
    """Read once through, each of them: there and back again takes hours of a core."""
    began = time.process_time()
    with pytest.raises(Unreadable, match="no recipe in it"):
        import_recipe(text)
    assert time.process_time() - began < 60


def test_ten_megabytes_are_not_read():
    with pytest.raises(Unreadable, match=r"10\.0 MB; at most 1 MB"):
        import_recipe("x" * 10_000_000)


@pytest.mark.parametrize(
    "odd",
    [
        {"name": 3},
        {"name": ["", "Plum jam"]},
        {"name": "\u202eplum\u0000 jam\n\n" + "x" * 5000},
        {"author": {"name": {"name": 1}}},
        {"author": "\ud800"},
        {"recipeInstructions": {"text": {"text": ["Boil."]}}},
        {"recipeInstructions": "Boil.\nStir.\u2028"},
        {"recipeInstructions": [[[["Boil."]]]] * 200},
        {"recipeIngredient": "8 cups sugar"},
        {"recipeIngredient": ["8 cups sugar"] * 200},
        {
            "recipeIngredient": [
                "\u0661 cups sugar",
                "8 cups \u200bsugar",
                "x" * 100_000,
            ]
        },
        {"recipeCategory": ["jelly", "jam"], "name": "Plum"},
    ],
)
def test_wrong_types_and_strange_letters_are_read_as_far_as_they_go(odd):
    imported = import_recipe(json.dumps(PLUM | odd))
    own = imported.own
    assert own.ingredients
    assert len(own.ingredients) <= 40
    text = write_recipe(own, imported.questions).encode("utf-8", "strict").decode()
    assert read_recipe(text) == own


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(
                [
                    "@type",
                    "@graph",
                    "name",
                    "recipeIngredient",
                    "recipeInstructions",
                    "author",
                ]
            ),
            inner | st.just("Recipe") | st.just(["2 cups sugar"]),
            max_size=5,
        )
    ),
    max_leaves=20,
)


RECIPES = st.fixed_dictionaries(
    {"@type": st.just("Recipe"), "recipeIngredient": st.lists(LINES, min_size=1)},
    optional={"name": JSON, "recipeInstructions": JSON, "author": JSON},
)


@given(JSON | RECIPES)
def test_any_json_is_read_or_said_to_hold_no_recipe(value):
    try:
        imported = import_recipe(json.dumps(value))
    except Unreadable:
        return
    assert read_recipe(write_recipe(imported.own)) == imported.own

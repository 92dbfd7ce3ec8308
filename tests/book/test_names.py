import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.book.acid_foods import is_known_low_acid, may_be_low_acid
from stillroom.book.jars import jar_named, jar_volume_m3, jars, sterilise_jars_min
from stillroom.book.names import (
    ProductName,
    canner_named,
    product_named,
    product_names,
)
from stillroom.book.never import is_of_meat
from stillroom.book.processes import Process, process_for
from stillroom.book.reader import read_rows, table
from stillroom.book.words import plain
from stillroom.refusal import Refusal

COLUMNS = [
    *("name", "kind", "fruit", "process_table", "also_table", "jars", "aliases"),
    *("source", "how_known"),
]
# Fruit that is put through a sieve by a table of its own, whatever the dish is called.
OWN_SAUCE = {
    row.text("fruit"): row.text("name")
    for row in read_rows(table("product_names"), COLUMNS)
    if row.text("kind") == "sauce" and row.note("fruit")
}


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("plum jelly", "plum jelly"),
        ("plum jellies", "plum jelly"),
        ("PLUM  Jelly", "plum jelly"),
        ("Plum Jelly, powdered pectin", "plum jelly"),
        ("plum jelly with regular powdered pectin", "plum jelly"),
        ("homemade plum jelly", "plum jelly"),
        ("crab apple butter", "crabapple butter"),
        ("Crab-apple butter", "crabapple butter"),
        ("Peaches jam", "peach jam"),
        ("crabapple butters", "crabapple butter"),
        ("sour cherry jelly", "sour cherry jelly"),
        ("tart cherry jam", "sour cherry jam"),
        ("pie cherries jam", "sour cherry jam"),
        ("black berry jelly", "blackberry jelly"),
        ("red raspberry jam", "raspberry jam"),
        ("Concord grape jelly", "grape jelly"),
        ("redcurrant jelly", "red currant jelly"),
        ("apple sauce", "applesauce"),
        ("Applesauce", "applesauce"),
        ("apple preserves", "apple preserves"),
        ("blueberry-spice jam", "blueberry-spice jam"),
        ("blueberry spice jam", "blueberry-spice jam"),
        ("cranberry marmalade", "cranberry marmalade"),
        ("apple jelly from bottled juice", "apple jelly"),
        ("plum purée", "plum puree"),
        ("jelly", "jelly"),
        ("jelly (any cooked fruit jelly, tested recipe)", "jelly"),
        ("jam in unsterilised jars", "jelly or jam, jars not sterilised"),
    ],
)
def test_names_as_people_say_them(said, name):
    product = product_named(said)
    assert isinstance(product, ProductName), product
    assert product.name == name


@pytest.mark.parametrize("fruit", OWN_SAUCE)
@pytest.mark.parametrize("word", ["puree", "purée", "pulp", "sauce"])
def test_a_puree_goes_by_the_fruits_own_table_where_one_is_printed(fruit, word):
    product = product_named(f"{fruit} {word}")
    assert isinstance(product, ProductName), product
    assert product.name == OWN_SAUCE[fruit]


@pytest.mark.parametrize("word", ["puree", "pulp"])
@pytest.mark.parametrize(
    ("jar", "feet", "minutes"),
    [
        # Michigan State Univ. Extension leaflet 01600353, Applesauce; the table of any
        # fruit puree (leaflet 01600839) has 15, 20, 20, 25 for quarts.
        *(("quart", 500, 20), ("quart", 2000, 25), ("quart", 5000, 30)),
        *(("quart", 7000, 35), ("pint", 500, 15), ("pint", 7000, 25)),
    ],
)
def test_apple_puree_has_no_less_than_applesauce(word, jar, feet, minutes):
    process = process_for(f"apple {word}", jar=jar, elevation_ft=feet)
    assert isinstance(process, Process)
    assert (process.product, process.minutes) == ("applesauce", minutes)


@pytest.mark.parametrize(
    ("said", "pectin"),
    [
        ("plum jelly", ""),
        ("plum jelly, powdered pectin", "powdered"),
        ("plum jelly (liquid pectin)", "liquid"),
        ("plum jelly, no added pectin", "none"),
        ("plum jelly without added pectin", "none"),
    ],
)
def test_the_word_on_pectin_is_kept_apart(said, pectin):
    product = product_named(said)
    assert isinstance(product, ProductName)
    assert (product.name, product.pectin) == ("plum jelly", pectin)


@pytest.mark.parametrize(
    ("said", "nearest"),
    [
        ("plumb jelly", "plum jelly or "),
        ("cherry jam", "sour cherry jam or sweet cherry jam"),
        ("currant jelly", "red currant jelly or black currant jelly"),
        ("grape-plum jelly", "grape jelly or plum jelly"),
        ("spiced plum jelly", "plum jelly or "),
        ("plum conserve", "plum "),
        ("strawbery jam", "strawberry jam or "),
    ],
)
def test_an_unknown_name_is_refused_with_the_nearest_two(said, nearest):
    refusal = product_named(said)
    assert isinstance(refusal, Refusal)
    assert f"no product called {said!r}" in refusal.reason
    assert nearest in refusal.instead
    assert refusal.instead.count(" or ") == 1


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("pumpkin butter", "low-acid"),
        ("winter squash butter", "low-acid"),
        ("banana pepper jelly", "peppers are low-acid"),
        ("no sugar plum jelly", "less sugar"),
        ("plum jelly with honey", "less sugar, honey"),
        ("low-methoxyl plum jam", "low-methoxyl"),
        ("strawberry freezer jam", "not shelf-stable"),
        ("lemon curd", "dairy and eggs"),
        ("garlic in oil", "botulism"),
        ("tomato puree", "tomatoes are borderline"),
        ("plum jam with cornstarch", "starch"),
        ("Asian pear butter", "Asian pears are not reliably acid"),
        ("white peach jam", "white-fleshed peaches"),
        ("banana jam", "bananas are not acid"),
        ("watermelon jelly", "melons are not acid"),
        ("ripe mango puree", "mangoes are not acid"),
        ("mulberry jelly", "mulberries vary"),
        ("ripe pineapple jam", "ripe pineapple"),
        ("elderberry plum jelly", "pH 4.92"),
        ("elder berries jam", "pH 4.92"),
        ("quince butter", "no published process"),
        ("fruit butter", "no published process"),
        ("", "no product is named"),
        ("jelly beans", "no product called"),
    ],
)
def test_what_has_no_process_is_refused_with_the_reason(said, why):
    refusal = product_named(said)
    assert isinstance(refusal, Refusal)
    assert why in refusal.reason
    assert refusal.instead
    assert refusal.source


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("pears", "pears"),
        ("canned pears", "pears"),
        ("Home-canned pear halves", "pears"),
        ("Asian pears", "Asian pears"),
        ("nashi", "Asian pears"),
        ("peaches", "peaches"),
        ("yellow peaches", "peaches"),
        ("tomato juice", "tomato juice"),
        ("tomatoes in tomato juice", "tomatoes packed in tomato juice"),
        ("whole tomatoes in water", "tomatoes packed in water"),
        ("catsup", "tomato ketchup"),
        ("green beans", "green beans"),
        ("string beans", "green beans"),
        ("dilly beans", "dilled beans"),
        ("pinto beans", "dried beans or peas"),
        ("creamed corn", "cream-style corn"),
        ("corn, cream style", "cream-style corn"),
        ("corn relish", "corn relish"),
        ("peppers", "peppers"),
        ("pickled jalapeños", "pickled hot peppers"),
        ("pepper and onion relish", "pepper-onion relish"),
        ("pumpkin cubes", "cubed pumpkin and winter squash"),
        ("sour kraut", "sauerkraut"),
        ("zucchini pickles", "bread-and-butter zucchini"),
        ("meatless spaghetti sauce", "spaghetti sauce without meat"),
        ("boneless chicken", "chicken or rabbit without bones"),
        ("chicken on the bone", "chicken or rabbit with bones"),
        ("apple pie filling", "apple pie filling"),
        ("cranberry chutney", "cranberry orange chutney"),
        ("figs in syrup", "figs"),
        ("pears, halved", "pears"),
        ("fig jam", "fig jam"),
        ("hot pepper jelly", "hot pepper jelly"),
    ],
)
def test_the_whole_book_by_the_names_people_use(said, name):
    product = product_named(said)
    assert isinstance(product, ProductName), product
    assert product.name == name


# A word more is another food: none of these may slip to the row of its plain name.
@pytest.mark.parametrize(
    "said",
    [
        "white peaches", "white nectarines", "ripe pineapple jam", "spiced pears",
        "brandied peaches", "Asian pear jam", "fig preserves", "pickled pears",
        "sweet pepper relish", "fermented pickles", "tomatoes", "tomato puree",
        "tomato paste", "tomato soup", "cream of tomato soup", "beans", "baked beans",
        "refried beans", "green bean casserole", "corn", "corn chowder", "chicken",
        "chicken noodle soup", "seafood soup", "fish stock", "soup", "stock", "salsa",
        "peach salsa", "salsa verde", "spaghetti sauce", "spaghetti sauce with meat",
        "pumpkin", "pumpkin puree", "pumpkin butter", "mashed potatoes", "potato salad",
        "mushroom soup", "garlic mushrooms", "peppers in oil", "roasted peppers in oil",
        "cherry pie filling", "peach pie filling", "mango chutney", "tomato chutney",
        "elderberries", "elderberry syrup", "mulberries", "strawberries", "bananas",
        "watermelon pickles", "low sugar strawberry jam", "strawberry freezer jam",
        "fruit salad", "apple pie filling with cornstarch", "pickles", "relish",
    ],
)  # fmt: skip
def test_a_name_that_says_more_is_refused_and_says_what_to_ask(said):
    refusal = product_named(said)
    assert isinstance(refusal, Refusal), refusal
    assert refusal.reason
    assert refusal.instead
    assert refusal.source


# Michigan State Univ. Extension leaflet 01600502: "Processing times are the same for
# unsweetened and sweetened fruit"; 01600353: applesauce "may be packed without sugar".
@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("applesauce with no sugar", "applesauce"),
        ("applesauce, no sugar", "applesauce"),
        ("sugar-free applesauce", "applesauce"),
        ("unsweetened applesauce", "applesauce"),
        ("peaches no sugar", "peaches"),
        ("pears no sugar added", "pears"),
        ("peaches in light syrup", "peaches"),
        ("peaches in heavy syrup", "peaches"),
        ("sliced peaches in extra-light syrup", "peaches"),
        ("peaches in water", "peaches"),
        ("peaches packed in water", "peaches"),
        ("peaches in apple juice", "peaches"),
        ("peaches in white grape juice", "peaches"),
        ("blueberries in syrup", "blueberries"),
        ("unsweetened apple juice", "apple juice"),
        ("plum puree without sugar", "plum puree"),
        ("tomato sauce, no sugar", "tomato sauce"),
        ("figs in light syrup", "figs"),
        ("tomatoes in water", "tomatoes packed in water"),
    ],
)
def test_plain_fruit_is_the_same_food_whatever_its_sugar(said, name):
    product = product_named(said)
    assert isinstance(product, ProductName), product
    assert product.name == name


@pytest.mark.parametrize(
    ("said", "why"),
    [
        # sugar is part of the recipe, and so of its process
        *(("no sugar plum jelly", "less sugar"), ("sugar-free plum jam", "less sugar")),
        *(
            ("unsweetened plum jelly", "less sugar"),
            ("ketchup, no sugar", "less sugar"),
        ),
        ("unsweetened apple butter", "less sugar"),
        ("apple pie filling without sugar", "less sugar"),
        ("pickled beets, no sugar", "less sugar"),
        ("preserves, no sugar", "less sugar"),
        ("mixed fruit cocktail, no sugar", "less sugar"),
        ("rhubarb, no sugar", "less sugar"),
        ("rhubarb in syrup", "no product called"),
        # mild honey for half of the sugar is printed, and no more
        ("pears in honey", "half of the sugar of a syrup at most"),
        # the liquid says which product it is, or makes another one
        ("crushed tomatoes in water", "tomatoes are borderline"),
        ("white peaches in light syrup", "white-fleshed"),
        ("figs in water", "not reliably acid"),
        ("strawberries in syrup", "fade and go soft"),
        ("tomatoes, no sugar", "put up crushed, in water"),
    ],
)
def test_sugar_of_a_recipe_is_never_left_out_of_its_name(said, why):
    refusal = product_named(said)
    assert isinstance(refusal, Refusal), refusal
    assert why in refusal.reason


# Michigan State Univ. Extension leaflet 01600235, Beans or peas, shelled, dried: "All
# varieties"; 01600886, Soups: "Vegetable, dried bean or pea, meat, poultry".
@pytest.mark.parametrize(
    ("said", "name", "quart_min"),
    [
        *((said, "dried beans or peas", 90) for said in (
            "chickpeas", "chick peas", "garbanzo", "garbanzo beans",
            "great northern beans", "white beans", "red beans", "cannellini beans",
            "cranberry beans", "black-eyed peas", "blackeyed peas", "dried lima beans",
        )),
        *((said, "vegetable or meat soup", 75) for said in (
            "bean soup", "pea soup", "turkey soup", "beef and vegetable soup",
        )),
        ("lima beans", "lima beans", 50),  # fresh ones, shelled
    ],
)  # fmt: skip
def test_dried_beans_and_soups_by_their_common_names(said, name, quart_min):
    process = process_for(
        said, jar="quart", elevation_ft=500, canner="dial-gauge", pack="hot"
    )
    assert isinstance(process, Process), process
    assert (process.product, process.minutes) == (name, quart_min)


@pytest.mark.parametrize("said", ["split pea soup", "lentils", "lentil soup", "hummus"])
def test_what_the_leaflet_does_not_name_is_not_read_into_it(said):
    assert isinstance(product_named(said), Refusal)


@pytest.mark.parametrize(
    ("said", "name"),
    [
        *((said, "plums") for said in (
            "damsons", "damson plums", "greengages", "green gages", "yellow plums",
        )),
        *(("damson jam", "plum jam"), ("greengage jelly", "plum jelly")),
        *(("clingstone peaches", "peaches"), ("freestone peaches", "peaches")),
        *((said, "green beans") for said in (
            "French beans", "romano beans", "haricots verts", "Italian green beans",
        )),
        ("boneless chicken breast", "chicken or rabbit without bones"),
        *(("hamburger", "ground or chopped meat"), ("pimentos", "peppers")),
        *(("chicken bone broth", "meat stock"), ("sweet cider", "apple juice")),
    ],
)  # fmt: skip
def test_common_names_of_the_very_same_food(said, name):
    product = product_named(said)
    assert isinstance(product, ProductName), product
    assert product.name == name


@pytest.mark.parametrize(
    ("said", "why", "ask_for"),
    [
        ("bush beans", "snap beans and lima beans", "green beans or lima beans"),
        ("pole beans", "snap beans and lima beans", "green beans or lima beans"),
        ("chicken breasts", "with bones and one without", "without bones"),
        ("deer meat", "pieces and one for ground", "ground or chopped meat"),
        ("bone broth", "cooked from their bones", "meat stock"),
        ("pork broth", "beef, chicken and turkey alone", "freeze it"),
        ("passata", "as juice or, boiled down, as sauce", "tomato juice or tomato sau"),
        ("cider", "hard cider has no process", "apple juice"),
        ("prunes", "that were dried have no table", "plums"),
        # decision 0067: a spread of several fruits has no process of its own
        (
            "raspberry plum jam",
            "knows no product",
            "raspberry jam or black raspberry jam",
        ),
    ],
)
def test_a_common_name_that_may_be_two_foods_is_asked_about(said, why, ask_for):
    refusal = product_named(said)
    assert isinstance(refusal, Refusal), refusal
    assert why in refusal.reason
    assert ask_for in refusal.instead


@pytest.mark.parametrize(
    ("said", "never"),
    [
        *(("celery", "cherries"), ("corn on the cob", "bones"), ("pigs feet", "beets")),
        *(("sweet and sour sauce", "sauerkraut"), ("yellow rutabagas", "bean")),
        *(("white radishes", "potatoes"), ("black salsify", "bean")),
    ],
)
def test_nothing_far_fetched_is_offered(said, never):
    refusal = product_named(said)
    assert isinstance(refusal, Refusal)
    assert never not in refusal.instead


@pytest.mark.parametrize(
    ("said", "offered"),
    [
        *(("asparagas", "asparagus"), ("rubarb", "stewed rhubarb")),
        *(("sauercraut", "sauerkraut"), ("chery jam", "cherry jam")),
    ],
)
def test_a_slip_of_the_pen_is_still_led_right(said, offered):
    assert offered in product_named(said).instead


REASONS = [
    # dairy fat: Clemson Univ. Extension and NCHFP recommend no process
    *((said, "butter and ghee are dairy fat", "refrigerator or freezer") for said in (
        "butter", "canned butter", "canning butter", "salted butter", "ghee",
        "clarified butter",
    )),
    *((said, "dairy and eggs in the jar", "freeze") for said in (
        "caramel sauce", "dulce de leche", "hot fudge", "lemon curd",
    )),
    *((said, "chocolate is fat, sugar and often milk", "stir it in when") for said in (
        "chocolate raspberry jam", "chocolate sauce",
    )),
    # baked in the jar: Penn State Extension
    *((said, "the toxin of botulism", "bake and freeze it") for said in (
        "cake in a jar", "cakes in jars", "bread in a jar", "banana bread",
        "pumpkin bread in a jar",
    )),
    # Michigan State Univ. Extension leaflet 01600850: pints, 75 min, under pressure
    *((said, "chile con carne has a tested recipe", "ground or chopped") for said in (
        "chile con carne", "chili con carne", "chili with beans", "chili with meat",
        "beef chili",
    )),
    ("chili", "chili with meat is low-acid", "ground or chopped meat"),
    *((said, "tomatoes with peppers in them", "chile salsa") for said in (
        "tomatoes with green chiles", "tomatoes and green chilies",
        "tomatoes with peppers",
    )),
    ("corn chowder", "thick with milk, flour or potato", "vegetable or meat soup"),
    ("potato chowder", "thick with milk, flour or potato", "without milk"),
    ("clam chowder", "fish and seafood", "freeze it"),
    *((said, "keeps by the vinegar of its own", "piccalilli") for said in (
        "zucchini relish", "pickled cauliflower", "pickled garlic", "pickled cabbage",
    )),
    ("garlic jelly", "garlic is a low-acid vegetable", "in a tested pickle"),
    ("garlic in oil", "in oil a botulism risk", "refrigerate for a few days"),
    ("cauliflower", "fresh vegetables are low-acid", "freeze it"),
]  # fmt: skip


@pytest.mark.parametrize(
    "said", ["cake mix", "brownie mix", "cookies", "fudge", "pudding mix"]
)
def test_a_dry_mix_in_a_jar_is_not_taken_for_a_cake(said):
    assert not is_known_low_acid(said)
    assert not may_be_low_acid(said)


@pytest.mark.parametrize(("said", "why", "instead"), REASONS)
def test_a_refusal_has_the_reason_of_that_very_food(said, why, instead):
    refusal = product_named(said)
    assert isinstance(refusal, Refusal), refusal
    assert why in refusal.reason
    assert instead in refusal.instead


def test_a_name_of_several_products_offers_them():
    refusal = product_named("tomatoes")
    assert isinstance(refusal, Refusal)
    for one in ("crushed tomatoes", "packed in water", "without liquid"):
        assert one in refusal.instead
    refusal = product_named("pear preserves")
    assert isinstance(refusal, Refusal)
    assert "pears" in refusal.instead


def test_every_name_in_the_list_answers_to_itself():
    for name in product_names():
        product = product_named(name)
        assert isinstance(product, ProductName), product
        assert product.name == name


@settings(deadline=None)  # the first call reads the tables
@given(st.text(max_size=40))
def test_any_text_is_answered_without_a_stumble(text):
    answer = product_named(text)
    assert isinstance(answer, ProductName | Refusal)
    assert isinstance(canner_named(text), str | Refusal)
    assert plain(plain(text)) == plain(text)


@pytest.mark.parametrize(
    ("said", "jar"),
    [
        ("half-pint", "half-pint"),
        ("Half Pints", "half-pint"),
        ("½ pint", "half-pint"),
        ("1/2 pint", "half-pint"),
        ("8 oz", "half-pint"),
        ("pints", "pint"),
        ("16 oz", "pint"),
        ("qt", "quart"),
        ("half gallon", "half-gallon"),
    ],
)
def test_jars_as_people_say_them(said, jar):
    found = jar_named(said)
    assert not isinstance(found, Refusal)
    assert found.name == jar


def test_jars_hold_what_their_names_say():
    # 1 US gallon = 231 cubic inches of 25.4 mm, exactly: 3.785411784 L.
    gallon_m3 = 3.785411784e-3
    for jar, share in zip(jars(), (1 / 16, 1 / 8, 1 / 4, 1 / 2), strict=True):
        assert jar.volume_m3 == pytest.approx(gallon_m3 * share, rel=1e-5)
        assert jar_volume_m3(jar.name) == jar.volume_m3
    assert isinstance(jar_volume_m3("500 ml"), Refusal)


# Michigan State Univ. Extension leaflet 01600946: 10 min below 1,000 ft, and 1 min for
# each additional 1,000 ft.
@pytest.mark.parametrize(
    ("feet", "minutes"),
    [(-100, 10), (0, 10), (1000, 10), (1001, 11), (2000, 11), (2150, 12), (8000, 17)],
)
def test_empty_jars_are_boiled_longer_higher_up(feet, minutes):
    assert sterilise_jars_min(feet) == minutes


def test_an_elevation_that_is_none_has_no_sterilising_time():
    with pytest.raises(ValueError, match="elevation_ft = nan is not an elevation"):
        sterilise_jars_min(float("nan"))


@pytest.mark.parametrize(
    ("said", "canner"),
    [
        ("Boiling water", "boiling-water"),
        ("water-bath canner", "boiling-water"),
        ("dial gauge", "dial-gauge"),
        ("weighted gauge canner", "weighted-gauge"),
    ],
)
def test_canners_as_people_say_them(said, canner):
    assert canner_named(said) == canner


def test_what_is_like_nothing_here_is_not_led_astray():
    answer = product_named("xylophone")
    assert isinstance(answer, Refusal)
    assert "is meant" not in answer.instead
    assert "stillroom book" in answer.instead


@pytest.mark.parametrize(
    "said",
    [
        *("ham", "bacon", "pastrami", "beef jerky", "ham and beans", "goose", "trout"),
        *("perch", "deer", "liver pate", "beef and plum jam", "brisket", "duck"),
    ],
)
def test_no_meat_is_sent_to_a_fruit_or_a_vegetable(said):
    answer = product_named(said)
    assert isinstance(answer, Refusal)
    offered = [name for name in product_names() if name in answer.instead]
    assert all(is_of_meat(name) for name in offered), answer.instead


def test_cured_meat_has_no_process_and_sausage_is_asked_about():
    ham, sausage = product_named("smoked ham"), product_named("sausage")
    assert "cured, brined, smoked or dried meat" in ham.reason
    assert "ask for meat in strips, cubes or chunks or ground" in ham.instead
    assert "Clemson Univ. Extension" in ham.source
    assert "ask for ground or chopped meat" in sausage.instead
    assert "smoked, cured or dried sausage has no process" in sausage.reason
    assert product_named("veal") == product_named("venison")


def test_a_name_of_other_first_letter_and_no_word_in_common_is_not_offered():
    assert "jam" not in product_named("yam").instead
    assert "plums" in product_named("plumb").instead


@pytest.mark.parametrize("said", ["redcurrant", "redcurrants", "red currants"])
def test_red_currants_are_the_currants_of_the_book(said):
    assert product_named(said).name == "currants"


@pytest.mark.parametrize("kind", ["jam", "jelly"])
def test_strawberry_rhubarb_is_printed_and_no_other_two_fruits_are(kind):
    printed = product_named(f"strawberry rhubarb {kind}")
    assert printed.name == f"strawberry-rhubarb {kind}"
    assert product_named(f"rhubarb and strawberry {kind}") == printed
    for jar in ("half-pint", "pint"):
        for height, minutes in ((1000, 5), (6000, 10), (8000, 15)):
            process = process_for(printed.name, jar=jar, elevation_ft=height)
            assert process.minutes == minutes  # as both of them are printed
    assert isinstance(process_for(printed.name, jar="quart", elevation_ft=0), Refusal)
    for fruits in ("raspberry rhubarb", "plum pear"):
        no = product_named(f"{fruits} {kind}")
        assert isinstance(no, Refusal)
        assert "any other spread is kept in the freezer" in no.instead


def test_one_name_that_is_offered_is_not_called_one_of_them():
    answer = product_named("aplesauce")
    assert isinstance(answer, Refusal)
    assert answer.instead == "ask for applesauce, if that is meant"

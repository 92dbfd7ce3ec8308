"""Jars that came in, may be low-acid, and of which nobody said how they were put up."""

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.amounts import Unit
from stillroom.stock.codec import from_entry, to_entry
from stillroom.stock.commands import Hold, Label, Need, Process, Receive, SayPutUp
from stillroom.stock.cover import pantry_count
from stillroom.stock.day_shelf import day_shelf
from stillroom.stock.drawing import Drawing
from stillroom.stock.events import Doubt, Hand, How, Kind, PutUpSaid, Way
from stillroom.stock.first import use_first
from stillroom.stock.keeps import keeps
from stillroom.stock.lotcode import printed
from stillroom.stock.making import LOOK_FIRST, holds
from stillroom.stock.sentence import propose
from stillroom.stock.told import told
from stillroom.stock.unknown_process import (
    UNKNOWN_FOR_THE_COLD,
    UNKNOWN_WORDS,
    is_process_unknown,
)
from tests.stock.kitchen import MORNING, Farm, thing
from tests.stock.test_gauge import _Recorded

BEANS = "6 pint jars green beans, pantry, October 2025"
WHOLE = {"minutes": 20, "canner": "dial-gauge", "gauge": "11 psi", "pack": "raw"}
"""Green beans, raw in pints to 2,000 ft: 20 min at 11 psi (USDA Guide 4)."""


def came_in(sentence: str = BEANS) -> Farm:
    farm = Farm()
    farm.add(sentence)
    return farm


def say(farm: Farm, how: How = How.PROCESS, who: str = "Ida", **more: object):
    said = {**WHOLE, "elevation_ft": 1017} if how is How.PROCESS else {}
    return farm.do(
        SayPutUp(lot=farm.last, how=how, who=who, at=farm.at, **{**said, **more})
    )


def first(farm: Farm) -> list[str]:
    return [row.what for row in use_first(farm.stock, farm.at)]


@pytest.mark.parametrize(
    "sentence",
    [
        *(BEANS, "6 pint jars green beans, pantry, from Ida"),
        *("4 jars chicken soup, cellar", "4 jars bean stew, cellar"),
        *("3 quart jars tomatoes, pantry", "2 half-pints fig jam, pantry, from Ida"),
        *("7 jugs chicken broth, pantry", "3 jugs beef stock, pantry"),
        *("6 bottles beef broth, pantry", "2 half-pints lemon curd, pantry"),
        *("2 jars salsa, pantry", "2 jars garlic in oil, pantry"),
        *("3 jars minestrone, pantry", "2 jars lentils, pantry"),
        *("7 quart jars greenbeans, cellar", "3 jars brocoli, pantry"),
        *("6 pint jars tomatoe sauce, pantry", "4 jars spagetti sauce, pantry"),
        *("4 jars lima beens, pantry", "4 jars roast beaf, pantry"),
        *("5 jars carots, pantry", "2 jars asparagas, cellar, from Ida"),
        *("3 jars dal, pantry", "2 jars chana masala, pantry"),
        *("2 jars chicken garam masala, pantry", "2 jars ready meal, pantry"),
        *("2 jars chicken and noodles, pantry", "2 pint jars pork cubes, pantry"),
        *("3 jars beef tea, pantry", "2 jars tuna flakes, pantry"),
        *("3 jars bean mix, pantry", "2 jars vegetable mix, pantry"),
        *("2 jars soybeans, pantry", "2 jars fava beans, pantry"),
        *("2 jars guacamole, pantry", "2 jars grape leaves, pantry"),
        *(
            "2 jars marrow, pantry",
            "2 jars halibut, pantry",
            "1 jar honey butter, loft",
        ),
        *("2 half-pints prickly pear jelly, pantry", "2 jars pawpaw butter, pantry"),
        *("6 bottles bone broth, pantry", "3 bottles vegetable stock, pantry"),
        *("2 jugs beef stew, pantry", "2 jars date jam, pantry"),
        *("2 jars pork and sauerkraut, pantry", "1 jar pickled pigs feet, pantry"),
        *("2 jars pickled sausage, pantry", "2 jars sauerkraut soup, pantry"),
        *("2 jars fruit cake, pantry", "2 jars mincemeat, pantry"),
        *("2 jars menudo, pantry", "2 jars mirepoix, pantry"),
        *("2 bottles beef bouillon, pantry", "3 jugs vegetable bouillon, pantry"),
        *("2 jugs chicken broth with noodles, pantry", "2 jars beef hearts, pantry"),
        *("2 jars artichoke hearts, pantry", "2 jars hearts, pantry"),
    ],
)
def test_they_are_eaten_by_nobody_and_on_no_list_until_somebody_knows(sentence):
    farm = came_in(sentence)
    assert first(farm) == []
    assert pantry_count(farm.stock, farm.last, farm.at) == (0, 0)
    assert UNKNOWN_WORDS in holds(farm.stock, farm.last)
    for way in (Way.EATEN, Way.TASTED, Way.DRAWN, Way.SOLD, Way.GIVEN):
        no = farm.take(farm.last, "1", way)
        assert f"put-up {printed(farm.last)} --process" in no.instead
        assert "discard it untasted" in no.instead
        assert "risk of botulism" in no.source
    assert farm.move(farm.last, "stand") is None  # it is not driven from its shelf
    assert farm.move(farm.last, "refrigerator") is None
    assert first(farm) == []  # and the cold makes it no other food
    assert farm.take(farm.last, "1", Way.SPOILED) is None


@pytest.mark.parametrize(
    "sentence",
    [
        *("31 half-pints plum jelly, pantry", "3 jars sauerkraut, cellar"),
        *("4 half-pints dried apples, pantry", "2 jars pinto beans, pantry, kept dry"),
        *("3 jars honey, pantry", "2 jars maple syrup, pantry, from Ida"),
        *("2 jars garlic powder, pantry", "2 jars bouillon cubes, pantry"),
        *("2 jars beef stock cubes, pantry", "2 jars egg noodles, pantry"),
        *("2 jars onion flakes, pantry", "2 jars mint tea, pantry"),
        *("2 jars bean soup mix, pantry", "2 jars dates, pantry"),
        *("2 jars bread flour, pantry", "2 jars cake mix, pantry"),
        *("2 jars mustard, pantry", "2 jars bean relish, pantry"),
        *("2 bottles elderberry wine, pantry", "2 jars pickled radishes, pantry"),
        *("2 jars garam masala, pantry", "2 quarts almond meal, pantry"),
        *("2 quarts bone meal, pantry", "4 quarts mung dal, pantry, kept dry"),
        *("2 jars pickled onions, pantry", "3 jars lard, pantry"),
        *("4 jars chicken soup, refrigerator", "4 pint jars green beans, freezer"),
        *("6 tins green beans, pantry", "25 lb green beans, pantry"),
        *("4 quart jars no-cook oats, pantry", "4 quart jars uncooked rice, pantry"),
        *("4 quart jars uncooked pasta, pantry", "2 jars uncooked popcorn, pantry"),
        *("2 jars turkey rub, pantry", "2 jars fowl feed, pantry"),
        *("2 jars black heart cherries, pantry", "2 jars beef bouillon, pantry"),
        *("2 bottles bouillon powder, pantry", "2 jars jam from frozen plums, pantry"),
        *("8 half-pints soap, pantry", "2 half-pints hand cream, bathroom"),
    ],
)
def test_what_is_acid_dry_cold_or_no_canning_is_not_asked(sentence):
    farm = came_in(sentence)
    assert not is_process_unknown(farm.stock, farm.last)
    assert not {UNKNOWN_WORDS, UNKNOWN_FOR_THE_COLD} & set(holds(farm.stock, farm.last))
    assert isinstance(say(farm), Refusal)


@pytest.mark.parametrize(
    "what",
    [
        *(
            "rasberry jam",
            "peeches",
            "bluberry jelly",
            "saurkraut",
            "Maine blueberries",
        ),
        *("paprika", "peppercorns", "roasted coffee", "peppermint tea"),
    ],
)
def test_what_is_acid_or_dry_but_for_a_slip_is_not_asked(what):
    farm = came_in(f"3 jars {what}, pantry")
    assert not is_process_unknown(farm.stock, farm.last)
    assert first(farm) == [what]


def test_whoever_adds_them_with_a_slip_is_told_what_is_meant():
    (said,) = propose("7 quart jars greenbeans, cellar", today=MORNING.date()).remarks
    assert "on no list of what to eat" in said
    assert said.endswith(
        "if 'green bean' is meant, write it so: no process is known of 'greenbeans'"
    )


def test_no_sort_that_is_said_of_jars_but_bought_lets_them_go():
    for kind in Kind:
        farm = Farm()
        jars = thing(BEANS, kind=kind)
        assert farm.do(Receive(things=(jars,), at=farm.at)) is None
        held = kind in (Kind.RAW, Kind.HALF_MADE, Kind.FILLED)
        assert is_process_unknown(farm.stock, farm.last) is held, kind
        assert "green beans" not in first(farm), kind


def test_what_is_carried_out_of_the_cold_to_a_shelf_is_asked():
    farm = came_in("4 jars chicken soup, refrigerator")
    assert first(farm) == ["chicken soup"]
    farm.move(farm.last, "pantry")
    farm.move(farm.last, "refrigerator")
    assert first(farm) == []


def test_a_published_process_that_somebody_knows_ends_it():
    farm = came_in()
    assert say(farm) is None
    (row,) = use_first(farm.stock, farm.at)
    assert row.remarks == (f"its process is known by Ida: {LOOK_FIRST}",)
    assert farm.take(farm.last, "1", Way.EATEN) is None
    assert isinstance(farm.take(farm.last, "1", Way.SOLD), Refusal)
    event = farm.stock.event(2)
    assert isinstance(event, PutUpSaid)
    assert (event.due_min, event.due_psi) == (20, 11.0)
    assert "20 min at 11 psi" in told(farm.stock, event)
    assert from_entry(_Recorded(to_entry(event))) == event
    assert farm.mend(2) is None
    assert first(farm) == []


@pytest.mark.parametrize(
    ("said", "reason"),
    [
        ({"minutes": 19}, "too little, which counts as none"),
        ({"gauge": "10 psi"}, "too little, which counts as none"),
        ({"elevation_ft": 2001}, "20 min at 12 psi are published"),
        ({"canner": "boiling-water", "gauge": ""}, "spores live through boiling water"),
        ({"gauge": ""}, "what its gauge read"),
        ({"minutes": None}, "its minutes"),
        ({"canner": "", "gauge": ""}, "its canner"),
        ({"elevation_ft": None}, "its height"),
        ({"who": " "}, "who knows"),
        ({"jar": "quart"}, "its jar is in the record: pint"),
        ({"which": "corn"}, "not a name that may mean corn"),
        ({"how": How.DRY}, "not known as something that is kept dry"),
    ],
)
def test_less_than_a_whole_published_process_ends_nothing(said, reason):
    farm = came_in()
    no = say(farm, **said)
    assert reason in no.reason
    assert no.instead
    assert first(farm) == []
    assert farm.stock.sequence == 1


def test_the_size_and_the_name_are_asked_where_they_are_open():
    farm = came_in("5 jars corn, cellar")
    no = say(farm)
    assert "its jar" in no.reason
    assert "--which NAME" in no.instead
    kernels = {"which": "whole-kernel corn", "jar": "pint", "minutes": 55}
    assert say(farm, **kernels) is None
    assert first(farm) == ["corn"]


@pytest.mark.parametrize(
    ("sentence", "how"), [(BEANS, How.SHOP), ("2 jars pinto beans, pantry", How.DRY)]
)
def test_shop_goods_and_dry_goods_are_let_go_by_who_knows(sentence, how):
    farm = came_in(sentence)
    assert first(farm) == []
    assert say(farm, how) is None
    assert len(first(farm)) == 1
    assert not holds(farm.stock, farm.last)


@pytest.mark.parametrize("words", ["bought in a shop", "shop-bought", "store bought"])
def test_goods_bought_filled_in_a_shop_are_never_held(words):
    farm = came_in(f"6 pint jars green beans, pantry, {words}, best before 2027-03-31")
    assert not holds(farm.stock, farm.last)
    assert first(farm) == ["green beans"]
    assert farm.take(farm.last, "1", Way.EATEN) is None


def test_whoever_adds_them_is_told_before_it_is_booked():
    read = propose("6 pint jars green beans, pantry, from Ida", today=MORNING.date())
    (remark,) = read.remarks
    assert "stillroom stock put-up" in remark
    assert "bought in a shop" in remark
    jam = propose("6 pint jars plum jam, pantry, from Ida", today=MORNING.date())
    assert jam.remarks == ()


@pytest.mark.parametrize(
    ("sentence", "is_asked"),
    [
        ("6 pints green beans, pantry", True),
        ("7 quarts beef broth, cellar", True),
        ("six pints green beans, pantry", True),
        ("green beans 6 pts, pantry", True),
        ("7 qt chicken stock in the cellar", True),
        ("4 bags beef broth, 2 quarts each, pantry", False),
        ("7 quarts beef broth, refrigerator", False),
        ("28 cups beef broth, cellar", False),
        ("4 quarts dried beans, pantry", False),
        ("4 quarts pinto beans, pantry, kept dry", False),
        ("9 quarts blackberries, pantry", False),
    ],
)
def test_pints_of_low_acid_food_on_a_shelf_may_be_jars_and_it_is_asked(
    sentence, is_asked
):
    read = propose(sentence, today=MORNING.date())
    assert (read.thing is None) is is_asked
    assert any("may be jars" in fault for fault in read.faults) is is_asked


def test_broth_in_bottles_is_drawn_into_no_batch_and_offered_to_no_day():
    farm = came_in("6 bottles beef broth, 4 cups each, pantry")
    farm.add("6 bottles beef broth, 4 cups each, freezer 2")
    need = Need(name="beef broth", unit=Unit.UL, number=10_000_000)
    parts, _ = Drawing(farm.stock).draw([need])
    assert {part.place for part in parts} == {"freezer 2"}
    assert all(printed(farm.last) in lot.name for lot in day_shelf(farm.stock, farm.at))


def test_no_refusal_about_them_leads_to_pages_that_have_them_not():
    """Stock after knows what was made here: these are not on it."""
    farm = came_in()
    at = farm.at
    said = [
        farm.take(farm.last, "1", Way.EATEN),
        farm.take(farm.last, "1", Way.SOLD),
        farm.do(Label(lot=farm.last, hand=Hand.WRITTEN, at=at)),
    ]
    assert not any("stillroom stock after" in no.instead for no in said)
    for asked in (
        Hold(lot=farm.last, doubt=Doubt.WRONG_TIME, at=at),
        Process(lot=farm.last, began=at, ended=at, who="Ida", at=at),
    ):
        assert isinstance(farm.do(asked), Refusal)


@pytest.mark.parametrize(
    ("what", "held"),
    [
        *(
            (what, True)
            for what in ("mixed veggies", "meatballs", "gumbo", "pizza sauce")
        ),
        *((what, True) for what in ("boiled peanuts", "hot dogs", "oxtail", "butter")),
        *((what, True) for what in ("canned butter", "home-canned butter", "kielbasa")),
        *((what, True) for what in ("alfredo sauce", "pot pie filling", "paella")),
        *((what, True) for what in ("sloppy joes", "salted butter")),
        *((what, False) for what in ("plum butter", "canned apple butter")),
        *((what, False) for what in ("pickled rutabaga", "taco seasoning")),
        *((what, False) for what in ("rose hip jelly", "peanut butter", "ketchup")),
    ],
)
def test_dishes_that_the_book_has_not_are_on_no_list_either(what, held):
    """ "Veggies" were told by "veggie", which no plural of theirs comes to."""
    farm = Farm()
    farm.add(f"6 quart jars {what}, pantry")
    assert is_process_unknown(farm.stock, farm.last) is held
    assert (use_first(farm.stock, farm.at) == ()) is held


def test_who_says_how_tomatoes_were_put_up_is_asked_for_their_acid():
    farm = Farm()
    farm.add("6 quart jars tomatoes, pantry")
    said = farm.take(farm.last, "1", Way.EATEN).instead
    assert "Who knows its process, and that its acid went in before they were" in said
    assert "1/2 tsp to a quart" in said
    # the last word is no order to open closed jars and put acid into them
    assert said.index("Acid goes into each") < said.index("discard it")
    assert said.endswith("--as spoiled")
    farm.add("6 quart jars green beans, pantry")
    assert "acid" not in farm.take(farm.last, "1", Way.EATEN).instead


@pytest.mark.parametrize(
    "what",
    [
        *("strawberry freezer jam", "refrigerator pickles", "no-cook berry jam"),
        *("frozen strawberry jam", "strawberry jam for the freezer"),
        *("pickles for the refrigerator", "uncooked cranberry relish"),
    ],
)
def test_jars_that_are_for_the_cold_by_their_name_are_on_no_list_from_a_shelf(what):
    """Freezer jam in the pantry had the year of canned goods as its date of best."""
    farm = came_in(f"6 half-pint jars {what}, pantry, 3 November 2026, from Ida")
    assert first(farm) == []
    assert UNKNOWN_FOR_THE_COLD in holds(farm.stock, farm.last)
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)
    lot = farm.stock.lots[farm.last]
    assert keeps(lot, "pantry").until is None
    read = propose(f"6 half-pint jars {what}, pantry", today=farm.at.date())
    assert any("for the refrigerator or the freezer" in r for r in read.remarks)
    cold = came_in(f"6 half-pint jars {what}, freezer, from Ida")
    assert first(cold) == [what]

"""What may be booked, and what not."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.refusal import Refusal, Unreadable
from stillroom.stock.commands import Label, Make, Receive, Take
from stillroom.stock.decide import decide
from stillroom.stock.events import SET_ASIDE, Batch, Hand, Seen, Way
from stillroom.stock.making import check_missed, choices_for_unsealed, holds
from tests.stock.kitchen import MORNING, Farm, thing


@pytest.fixture
def farm() -> Farm:
    return Farm()


def test_more_than_there_is_asks_to_count_again(farm):
    farm.add("2 bags plum juice, 4 cups each, freezer")
    no = farm.take("plum juice", "3 bags")
    assert "2 bags (8 cups)" in no.reason
    assert "count again?" in no.instead
    assert farm.stock.sequence == 1


def test_cups_that_are_whole_bags_leave_no_crumb(farm):
    code = farm.add("14 bags plum juice, 4 cups each, freezer")
    for _ in range(14):
        assert farm.take(code, "4 cups") is None
    assert farm.stock.balance(code) == 0


def test_by_name_what_keeps_least_goes_first(farm):
    late = farm.add("5 lb sugar, pantry, best before 2028-01-31")
    soon = farm.add("5 lb sugar, cellar, best before 2027-01-31")
    assert farm.take("sugar", "7 lb") is None
    assert farm.stock.balance(soon) == 0
    assert 0 < farm.stock.balance(late) < farm.stock.lots[late].measure.read("5 lb")


def test_a_quantity_of_another_measure_is_not_read(farm):
    farm.add("5 lb sugar, pantry")
    with pytest.raises(Unreadable, match="kept in weight"):
        farm.take("sugar", "3")
    farm.add("25 lb plums, cellar")
    with pytest.raises(Unreadable, match=r"a cup of 'plums' weighs .* Weigh it, and"):
        farm.take("plums", "2 cups")
    farm.add("1 bottle lemon juice, pantry")
    with pytest.raises(Unreadable, match=r"kept in bottles\. Write"):
        farm.take("lemon juice", "2 tbsp")


def test_cups_of_what_is_kept_by_weight_are_weighed_by_the_book(farm):
    """A cup of sugar is 200 g, and 5 lb are 11 1/3 cups; it was refused."""
    code = farm.add("5 lb sugar, pantry")
    assert farm.take("sugar", "2 cups") is None
    assert farm.stock.balance(code) == 2_267_962 - 400_000
    event = farm.stock.event(2)
    assert event.why.startswith("2 cups at 200 g a cup: USDA household weight")
    assert event.why.endswith("; from memory")
    assert "(2.0 kg) are asked for" in farm.take("sugar", "10 cups").reason
    assert farm.count("sugar", "9 cups") is None
    assert farm.stock.balance(code) == 1_800_000
    assert "200 g a cup" in farm.stock.event(3).why
    assert farm.take("sugar", "1 lb", why="for the bees") is None
    assert farm.stock.event(4).why == "for the bees"


def test_pounds_of_what_is_kept_by_volume_are_measured_by_the_book(farm):
    """A cup of honey is 339 g; ounces alone may be fluid ones, and are asked about."""
    code = farm.add("5 cups honey, pantry")
    assert farm.take("honey", "1 kg") is None
    cups = (5 * 236_588.2365 - farm.stock.balance(code)) / 236_588.2365
    assert cups == pytest.approx(1000 / 339, abs=1e-5)
    for ounces in ("8 oz", "8oz", "8 ounces"):
        with pytest.raises(Unreadable, match='Write "8 fl oz"'):
            farm.take("honey", ounces)
    assert farm.take("honey", "8 fl oz") is None
    assert farm.take("honey", "4 lb 1 oz").reason.startswith("the record has")


def test_a_cup_is_taken_of_the_lot_that_is_kept_in_cups(farm):
    """Of sugar by weight and sugar by volume the second is meant."""
    by_weight = farm.add("5 lb sugar, pantry")
    in_cups = farm.add("3 cups sugar, pantry")
    assert farm.take("sugar", "1 cup") is None
    assert farm.stock.balance(by_weight) == 2_267_962
    assert farm.stock.balance(in_cups) == 2 * 236_588 + 1


def test_what_went_into_a_batch_may_be_said_in_cups(farm):
    code = farm.add("5 lb sugar, pantry")
    assert farm.made("4 half-pints plum jelly, pantry", ("sugar", "2 cups")) is None
    assert farm.stock.balance(code) == 2_267_962 - 400_000


def test_a_count_books_the_difference_as_its_own_movement(farm):
    code = farm.add("34 half-pints plum jelly, pantry")
    assert farm.count(code, "31") is None
    event = farm.stock.event(2)
    assert (event.number, event.book) == (31, 34)
    assert farm.stock.balance(code) == 31
    assert farm.count(code, "0") is None
    assert farm.stock.balance(code) == 0
    assert farm.count(code, "2") is None  # they were behind the flour
    assert farm.stock.places(code) == {"pantry": 2}


def test_a_count_by_name_of_two_lots_asks_which(farm):
    farm.add("3 half-pints plum jelly, pantry")
    farm.add("4 half-pints plum jelly, pantry")
    assert "as 2 lots" in farm.count("plum jelly", "6").reason


def test_a_move_keeps_the_sum_and_knows_places_by_any_letters(farm):
    code = farm.add("9 quart jars pears, pantry shelf B")
    farm.add("1 quart jar pears, cellar")
    assert farm.move(code, "CELLAR", "4") is None
    assert farm.stock.places(code) == {"pantry shelf B": 5, "cellar": 4}
    assert "already" in farm.move(code, "cellar", "2", place="cellar").reason


@pytest.mark.parametrize("way", [Way.SOLD, Way.GIVEN])
def test_a_lot_on_hold_is_neither_sold_nor_given(farm, way):
    farm.made("8 half-pints plum jelly, pantry")
    no = farm.take(farm.last, "1", way)
    assert "on hold: its seals have not been looked at" in no.reason
    assert no.instead
    assert "Extension" in no.source
    assert farm.take(farm.last, "1", Way.TASTED) is None
    farm.later(24)
    assert farm.check(farm.last, 7) is None
    assert farm.take(farm.last, "1", way) is None


def test_seals_looked_at_too_early_leave_the_hold(farm):
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(2)
    farm.check(farm.last, 8)
    assert holds(farm.stock, farm.last) == (
        "its seals were looked at before 12 h had passed: look again",
        "its set has not been looked at: look from 9:00 on Thu 26 November",
    )


@pytest.mark.parametrize(
    ("batch", "why"),
    [
        ({"process_min": None}, "sealed is not processed"),
        ({"process_min": 6}, "6 min, and 10 min are due"),
        ({"due_min": None, "due_source": "no row"}, "no published process"),
    ],
)
def test_without_a_whole_published_process_good_seals_do_not_help(farm, batch, why):
    # S7: sealed by itself is not processed.
    farm.made("15 half-pints gooseberry jam, pantry", **batch)
    farm.later(24)
    farm.check(farm.last, 15)
    (held,) = holds(farm.stock, farm.last)
    assert why in held
    assert why in farm.take(farm.last, "1", Way.SOLD).reason


def test_failed_jars_go_aside_and_are_not_sold(farm):
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(24)
    assert farm.check(farm.last, 6, 1, 1) is None
    assert farm.stock.places(farm.last) == {"pantry": 6, SET_ASIDE: 2}
    assert "6 half-pints" in farm.take(farm.last, "7", Way.SOLD).reason
    no = farm.take(farm.last, "1", Way.SOLD, place=SET_ASIDE)
    assert "set aside" in no.reason
    no = farm.move(farm.last, "pantry", "1", place=SET_ASIDE)
    assert "do not go back to a shelf" in no.reason
    assert farm.move(farm.last, "freezer 1", "1", place=SET_ASIDE) is None


def test_selling_more_than_the_good_ones_never_takes_those_set_aside(farm):
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(24)
    farm.check(farm.last, 6, 2)
    assert isinstance(farm.take(farm.last, "7", Way.SOLD), Refusal)
    assert farm.take(farm.last, "6", Way.SOLD) is None
    assert isinstance(farm.take(farm.last, "1", Way.SOLD), Refusal)


def test_doubtful_jars_may_come_back_and_failed_ones_not(farm):
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(24)
    farm.check(farm.last, 6, 1, 1)
    assert "come back" in farm.check(farm.last, 8).reason
    assert farm.check(farm.last, 7, 1) is None
    assert farm.stock.places(farm.last) == {"pantry": 7, SET_ASIDE: 1}
    assert "1 jar would come back" in farm.check(farm.last, 8).reason


def test_a_check_of_another_number_of_jars_asks_to_count(farm):
    farm.made("8 half-pints plum jelly, pantry")
    assert "count again" in farm.check(farm.last, 9).instead
    assert "1 jar was looked at" in farm.check(farm.last, 1).reason


def test_choices_for_unsealed_jars_follow_their_hours(farm):
    farm.made("8 half-pints plum jelly, pantry")
    early = choices_for_unsealed(farm.stock, farm.last, farm.at)
    assert {t.do for t in early} == {"reprocess"}
    farm.later(24 * 42)  # S8: six weeks, seal check never entered
    late = choices_for_unsealed(farm.stock, farm.last, farm.at)
    assert {t.do for t in late} == {"discard"}
    assert check_missed(farm.stock, farm.last, farm.at)


@pytest.mark.parametrize(
    ("what", "food", "deed"),
    [
        ("apple pie filling", "pie filling", "freeze"),
        ("winter squash", "", "freeze"),
        ("pumpkin cubes", "vegetable", "freeze"),
        ("green beans", "vegetable", "reprocess"),
        ("squash pickles", "pickle", "reprocess"),
        ("pumpkin relish", "relish", "reprocess"),
    ],
)
def test_what_heats_too_slowly_is_not_processed_a_second_time(farm, what, food, deed):
    """As the book says of squash that has not sealed: it is frozen, or kept cold."""
    farm.made(f"6 pints {what}, pantry", food=food)
    farm.later(13)
    found = choices_for_unsealed(farm.stock, farm.last, farm.at)
    assert {t.do for t in found} == {deed}
    farm.later(12)
    found = choices_for_unsealed(farm.stock, farm.last, farm.at)
    assert {t.do for t in found} == {"discard"}


def test_a_process_is_not_offered_again_a_moment_past_its_day(farm):
    farm.made("8 half-pints plum jelly, pantry")
    out = farm.at
    for seconds, deed in ((24 * 3600, "reprocess"), (24 * 3600 + 17, "discard")):
        at = out + dt.timedelta(seconds=seconds)
        found = choices_for_unsealed(farm.stock, farm.last, at)
        assert {t.do for t in found} == {deed}, f"{seconds} s"


def test_a_soft_set_is_in_but_an_unknown_one_holds(farm):
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(24)
    farm.check(farm.last, 8, seen=None)
    said = "its set has not been looked at: look from 9:00 on Thu 26 November"
    assert holds(farm.stock, farm.last) == (said,)
    farm.check(farm.last, 8, seen=Seen.SOFT)
    assert holds(farm.stock, farm.last) == ()


def test_a_recall_holds_all_that_was_made_of_it_and_mending_frees_it(farm):
    sugar = farm.add("25 lb sugar, pantry, from the mill")
    farm.made("8 half-pints plum jelly, pantry", (sugar, "7 lb"))
    jelly = farm.last
    farm.later(24)
    farm.check(jelly, 8)
    farm.recall(sugar, "glass in the sack")
    for way in (Way.SOLD, Way.GIVEN, Way.EATEN, Way.DRAWN):
        assert "glass in the sack" in farm.take(jelly, "1", way).reason
    assert "glass" in farm.made("1 half-pint jam, pantry", (sugar, "1 lb")).reason
    assert "it was recalled: glass in the sack" in holds(farm.stock, jelly)
    no_label = farm.do(Label(lot=jelly, hand=Hand.WRITTEN, at=farm.at))
    assert "glass in the sack" in no_label.reason
    assert "throw it away" in no_label.instead  # no label comes when checks are in
    assert farm.take(jelly, "1", Way.SPOILED) is None
    assert farm.mend(4, "it was another sack") is None
    assert farm.take(jelly, "1", Way.SOLD) is None


def test_an_entry_is_mended_once_and_only_while_its_goods_are_there(farm):
    code = farm.add("5 bags plum juice, 4 cups each, freezer")
    farm.take(code, "2 bags")
    assert "taken back" in farm.mend(1).reason
    assert farm.mend(2) is None
    assert farm.stock.balance(code) == farm.stock.lots[code].measure.read("5 bags")
    assert "already" in farm.mend(2).reason
    assert "mending itself" in farm.mend(3).reason
    assert "no entry 9" in farm.mend(9).reason
    assert farm.mend(1) is None
    assert farm.stock.balance(code) == 0
    assert "no lot" in farm.take("plum juice", "1 bag").reason


def test_the_same_request_twice_books_once(farm):
    asked = Receive(
        things=(thing("3 lb sugar, pantry"),) * 2, at=MORNING, token="tapped"
    )
    assert farm.do(asked) is None
    assert decide(farm.stock, asked) == ()
    taken = Take(lot="sugar", quantity="1 lb", at=MORNING, token="tapped too")
    assert farm.do(taken) is None
    assert decide(farm.stock, taken) == ()


def test_an_unknown_lot_offers_what_is_near(farm):
    farm.add("3 lb sugar, pantry")
    assert farm.take("suger", "1 lb").instead == "is sugar meant?"
    with pytest.raises(Unreadable, match="wrong character"):
        farm.take("L26M25-1X", "1 lb")


def test_inputs_named_twice_are_drawn_together(farm):
    sugar = farm.add("5 lb sugar, pantry")
    no = farm.made("8 half-pints jam, pantry", (sugar, "3 lb"), (sugar, "3 lb"))
    assert isinstance(no, Refusal)
    assert farm.stock.sequence == 1


def test_own_jars_that_were_only_taken_in_are_not_sold(farm):
    own = farm.add("8 half-pints plum jelly, pantry")
    assert "not in the record" in farm.take(own, "1", Way.SOLD).reason
    assert farm.take(own, "1", Way.EATEN) is None
    bought = farm.add("2 half-pints quince jelly, pantry, from the neighbour")
    assert farm.take(bought, "1", Way.GIVEN) is None


def test_what_had_a_process_is_booked_by_its_jars():
    """As 28 cups of stock it was held by nothing, and its seals were not asked for."""
    farm = Farm()
    stock = thing("28 cups chicken stock, pantry", as_jars=True)
    batch = Batch(process_min=25, canner="weighted-gauge")
    asked = Make(thing=stock, inputs=(), batch=batch, on=farm.at.date(), at=farm.at)
    no = farm.do(asked)
    assert "in how many jars of which size" in no.reason
    assert '"7 quart jars chicken stock"' in no.instead
    assert farm.do(replace(asked, batch=Batch())) is None

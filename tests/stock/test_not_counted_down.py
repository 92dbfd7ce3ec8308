"""Jars made by hand say which empty jars and lids they were not drawn from."""

from stillroom.stock.events import Made
from stillroom.stock.not_counted_down import not_counted_down
from tests.stock.kitchen import Farm


def said(farm: Farm) -> str:
    made = farm.stock.event(farm.stock.sequence)
    assert isinstance(made, Made)
    return not_counted_down(farm.stock, made)


def test_empties_of_that_size_and_lids_that_were_not_named_are_said():
    farm = Farm()
    farm.add("12 half-pint jars, shed")
    farm.add("9 pint jars, shed")
    farm.add("120 lids, shed")
    assert farm.made("20 half-pints plum jelly, pantry") is None
    assert "12 half-pint jars" in said(farm)
    assert "120 lids" in said(farm)
    assert "pint jars L26M25-2" not in said(farm)
    assert "=12" in said(farm)  # no more than there are


def test_what_was_named_is_not_said_again():
    farm = Farm()
    jars, lids = farm.add("12 half-pint jars, shed"), farm.add("120 lids, shed")
    assert farm.made("8 half-pints plum jelly, pantry", (jars, "8")) is None
    assert "jars" not in said(farm).split(". If")[0]
    assert "120 lids" in said(farm)
    farm.made("4 half-pints plum jelly, pantry", (jars, "4"), (lids, "4"))
    assert said(farm) == ""


def test_nothing_is_said_where_there_are_none_or_no_jars_were_filled():
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry")
    assert said(farm) == ""

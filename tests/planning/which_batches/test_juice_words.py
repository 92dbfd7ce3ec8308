"""Fruit to juice as it is said: whose yield it goes by, and how much more fruit."""

from __future__ import annotations

import pytest

from stillroom.book.procedures import procedure_for
from stillroom.methods.getting_juice import juice_asked
from stillroom.planning.which_batches.juice_words import juice_for, more_words
from stillroom.refusal import Refusal, granted
from tests.kitchens import CUP

POUND_KG = 0.45359237


def test_her_own_yield_goes_before_the_printed_one_and_both_are_said():
    """
    Four cups of five pounds are 0.8 a pound; the two that lack take 2 1/2 lb more.

    By the printed 5 cups of 4 1/2 lb they would take 1 lb 13 oz.
    """
    answer = granted(
        juice_asked("plums", need_m3=6 * CUP, fruit_kg=5 * POUND_KG, got_m3=4 * CUP)
    )
    said = more_words(answer)
    assert said.startswith("At your 0.80 cups a pound that is 2 lb 8 oz (1.14 kg) more")
    assert ", 7 lb 8 oz (3.41 kg) in all. " in said
    assert said.endswith("Printed: 4.5 lb + 1 cup water give 5 cups.")


def test_juice_of_fruit_that_nobody_weighed_asks_for_more_and_for_nothing_in_all():
    """One cup lacks: a fifth of 4 1/2 lb, 14.4 oz; what was pressed is not known."""
    answer = granted(juice_asked("plums", need_m3=6 * CUP, got_m3=5 * CUP))
    said = more_words(answer)
    assert "At the printed 1.11 cups a pound that is 14 1/2 oz (409 g) more fruit." in (
        said
    )
    assert "in all" not in said


def test_for_a_recipe_of_the_book_its_own_pounds_are_asked_for():
    """By the yield of another recipe 3 lb 10 oz were said to give its 4 cups."""
    liquid = granted(procedure_for("jelly-plum-liquid"))
    said = more_words(granted(juice_asked("plums", need_m3=4 * CUP, recipe=liquid)))
    assert "0.89 cups a pound that is 4 lb 8 oz (2.05 kg) of fruit." in said
    assert said.endswith("Printed: 4 1/2 lb give 4 cups in this recipe.")
    peach = granted(procedure_for("peach jelly"))
    answer = granted(juice_asked("peaches", need_m3=3.5 * CUP, recipe=peach))
    assert answer.total_kg == pytest.approx(6 * POUND_KG)
    assert isinstance(juice_asked("peaches", need_m3=3.5 * CUP), Refusal)


def test_how_juice_is_drawn_for_a_recipe_is_as_that_recipe_prints_it():
    """A cup of water to 4 1/2 lb was named beside half a cup of it to each pound."""
    plum = granted(procedure_for("plum jelly"))
    how = granted(juice_asked("plums", need_m3=5 * CUP, recipe=plum)).how
    assert "simmer 10 min with 1 cup of water" in how
    assert "cup water a pound" not in how
    grape = granted(procedure_for("grape jelly"))
    how = granted(juice_asked("grapes", need_m3=5 * CUP, recipe=grape)).how
    assert "stand cold overnight" in how
    general = granted(juice_asked("plums", need_m3=5 * CUP)).how
    assert general.startswith("0.5 cup water a pound, simmer 15 to 20 min")


def test_one_cup_of_what_is_no_juice_is_one_cup():
    found = juice_for("mint jelly", fruit="")
    assert isinstance(found, Refusal)
    assert "is not made of juice: it takes 1 cup mint leaves" in found.reason


def test_no_apples_are_pressed_for_a_recipe_of_bottled_juice():
    found = juice_for("apple jelly", fruit="apple")
    assert isinstance(found, Refusal)
    assert "tested with 4 cups of bottled apple juice" in found.reason
    assert "Apple jelly, no added pectin (4 cups)" in found.instead


def test_a_recipe_that_counts_on_more_juice_is_told_from_the_yield_reckoned_with():
    """4 lb 6 oz stood beside the 3 1/2 lb of its recipe: two figures for one thing."""
    grape = granted(procedure_for("grape jelly"))
    said = more_words(granted(juice_asked("grapes", need_m3=5 * CUP, recipe=grape)))
    assert "4 lb 6 oz (1.99 kg)" in said
    assert "3.5 lb give a quart; and 3 1/2 lb give 5 cups in this recipe." in said
    assert "The smaller yield is reckoned with" in said
    pressed = juice_asked(
        "grapes", need_m3=5 * CUP, recipe=grape, fruit_kg=3 * POUND_KG, got_m3=4 * CUP
    )
    own = more_words(granted(pressed))
    assert "3 1/2 lb give 5 cups in this recipe." in own
    assert "reckoned with" not in own  # her own press is
    plum = granted(procedure_for("plum jelly"))
    plums = more_words(granted(juice_asked("plums", need_m3=5 * CUP, recipe=plum)))
    assert "in this recipe" not in plums  # both print 4 1/2 lb for 5 cups

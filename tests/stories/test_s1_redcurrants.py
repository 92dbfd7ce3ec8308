"""
Redcurrants that gave too little (invented figures of one kitchen).

4.0 lb and 1 cup water gave 4 1/2 cups; a pound more with 1/4 cup gave 3/4 cup. The
recipe wants 6 1/2 cups.
"""

import pytest

from stillroom.methods.getting_juice import juice_asked
from stillroom.refusal import Refusal
from tests.cli.running import run
from tests.kitchens import CUP

ASKED = ("juice", "red currants", "--need", "6 1/2 cups", "--fruit", "5 lb", "--got",
         "5 1/4 cups")  # fmt: skip


def test_short_by_a_cup_and_a_quarter():
    body = run(*ASKED, "--json").json
    assert body["short_cups"] == pytest.approx(1.25)
    assert body["own_cups_per_lb"] == pytest.approx(1.05)
    assert body["more_kg"] / 0.45359237 == pytest.approx(1.19, abs=0.01)
    assert body["total_kg"] / 0.45359237 == pytest.approx(6.2, abs=0.02)


def test_the_fruit_to_fetch_gives_all_that_is_short():
    """At 4 1/2 cups from 4 lb, 1 lb 12 oz would give 1.97 of the 2 cups."""
    asked = (*ASKED[:4], "--fruit", "4 lb", "--got", "4 1/2 cups")
    assert "1 lb 13 oz (807 g) more fruit, 5 lb 13 oz" in " ".join(
        run(*asked).out.split()
    )


def test_in_words():
    text = " ".join(run(*ASKED).out.split())
    assert "5 1/4 cups, 1 1/4 cups short of 6 1/2 cups" in text
    assert "your 1.05 cups a pound" in text
    assert "wet the pulp and press it again" in text
    assert "freeze 5 1/4 cups as one lot, measured and dated" in text


def test_nothing_is_trimmed_to_fit():
    text = " ".join(run(*ASKED).out.split())
    assert "never trimmed to fit" in text
    assert "0.81" not in text


def test_no_recipe_is_invented():
    """No named publication prints the powdered recipe; the old one hides its bottle."""
    assert (
        run("batch", "red currant jelly", "--have", "6 1/2 cups", "--pot", "12qt").code
        == 3
    )


def test_her_own_yield_takes_the_place_of_the_printed_one():
    own = juice_asked("plums", need_m3=10 * CUP, fruit_kg=2.0, got_m3=4 * CUP)
    printed = juice_asked("plums", need_m3=10 * CUP)
    assert not isinstance(own, Refusal)
    assert not isinstance(printed, Refusal)
    assert own.more_kg == pytest.approx(3.0)  # 2 cups a kilogram: 6 cups more
    assert own.source.how_known == "keeper"
    assert printed.source.how_known == "looked_up"


def test_an_absurd_press_is_questioned():
    answer = juice_asked("plums", need_m3=5 * CUP, fruit_kg=0.1, got_m3=5 * CUP)
    assert isinstance(answer, Refusal)


def test_a_smaller_recipe_is_offered():
    answer = juice_asked("sour cherry", need_m3=8 * CUP, fruit_kg=3.0, got_m3=4 * CUP)
    assert not isinstance(answer, Refusal)
    assert any("Sour cherry jelly, powdered pectin" in c for c in answer.choices)

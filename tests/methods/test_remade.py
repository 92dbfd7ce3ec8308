"""A soft jelly cooked again: published quantities, never more than six cups."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.book.jars import jars
from stillroom.book.names import JELLY_TABLE
from stillroom.book.procedures import procedure_for
from stillroom.book.processes import process_for
from stillroom.book.remake import remakes
from stillroom.book.trouble import troubles
from stillroom.measures import TEASPOON_M3, read_volume_m3
from stillroom.methods import remade, spread
from stillroom.methods.method import Filling
from stillroom.methods.scaling import at_multiple
from stillroom.methods.soft_jelly import WAITING, Looks, soft_cups, soft_jelly
from stillroom.methods.soft_jelly_words import (
    boil_words,
    jars_words,
    remade_parts,
    remake_words,
)
from stillroom.refusal import Refusal, granted
from tests.methods.test_with_pectin import station

FILLED = dt.datetime(2026, 9, 1, 15, 10, tzinfo=dt.UTC)


def recipe(cups: float = 5.0, pectin: str = "powdered"):
    return granted(remade.scale(granted(remade.remade_procedure(pectin, cups)), 1))


def asked(hours: float, pectin: str = "powdered", cups: float = 20.0, **more):
    return soft_jelly(
        pectin=pectin,
        cups=cups,
        filled_at=FILLED,
        now=FILLED + dt.timedelta(hours=hours),
        looks=more.get("looks", Looks.SOFT),
    )


def test_a_quart_takes_what_is_printed():
    """Guide 7, with powder: 1/4 cup sugar, 1/2 cup water, 2 tbsp lemon, 4 tsp."""
    parts = {p.name: (p.quantity, p.unit) for p in recipe(4.0).parts}
    assert parts == {
        "soft jelly": (4.0, "cup"),
        "sugar": (0.25, "cup"),
        "water": (0.5, "cup"),
        "lemon juice": (2.0, "tbsp"),
        "regular powdered pectin": (4.0, "tsp"),
    }


def test_the_boil_is_half_a_minute_with_powder_and_one_with_liquid():
    assert granted(remade.remade_procedure("powdered")).boil_min == 0.5
    assert granted(remade.remade_procedure("liquid")).boil_min == 1.0


@pytest.mark.parametrize("cups", [0, 6.5, 20])
def test_more_than_six_cups_at_once_is_refused(cups):
    assert isinstance(remade.remade_procedure("powdered", cups), Refusal)


def test_it_is_never_doubled():
    answer = remade.scale(granted(remade.remade_procedure("powdered")), 2)
    assert isinstance(answer, Refusal)
    assert "4 to 6 cups" in answer.instead


@given(st.floats(0.5, 400.0))
def test_batches_are_even_and_hold_it_all(cups):
    number, each = remade.even_batches(cups)
    assert number * each == pytest.approx(cups)
    assert each <= 6.0 + 1e-9


@given(st.floats(0.5, 400.0), st.sampled_from(["powdered", "liquid", "none"]))
def test_trial_and_batches_are_all_the_jelly_there_is(cups, pectin):
    remaking = granted(asked(400, pectin, cups)).remaking
    used = remaking.trial_cups + remaking.batches * remaking.cups
    assert used == pytest.approx(cups, abs=1e-3)
    assert remaking.trial_cups <= 1.0
    assert (remaking.procedure is None) == (remaking.batches == 0)


@pytest.mark.parametrize(
    ("cups", "said"),
    [
        (1.0, "1 cup is all there is: the trial is the whole of it"),
        (6.0, "first 1 cup as a trial; when that has set, the rest in 1 batch of"
         " 5 cups"),
        (8.0, "first 1 cup as a trial; when that has set, the rest in 2 batches of"
         " 3 1/2 cups, never all in one pot"),
    ],
)  # fmt: skip
def test_the_trial_comes_off_first(cups, said):
    assert remake_words(granted(asked(400, cups=cups)).remaking) == said


def test_one_jar_is_said_as_one():
    words = jars_words(granted(asked(400, cups=1.0)).remaking)
    assert (
        words == "Clean hot half-pint jars: 1, with 1/4 in (6 mm) of headspace, and 2 "
        "new lids"
    )


@pytest.mark.parametrize(
    ("hours", "pectin", "do"),
    [
        (18, "powdered", "wait"),
        (71, "powdered", "wait"),
        (73, "powdered", "remake"),
        (18, "none", "wait"),
        (25, "none", "remake"),
        (400, "powdered", "remake"),
    ],
)
def test_when_to_wait(hours, pectin, do):
    assert granted(asked(hours, pectin)).do == do


def test_the_wait_is_marked_by_its_weakest_part():
    """No text of the two weeks was seen, here or in the book's table of troubles."""
    (early,) = [one for one in troubles() if one.id == "soft-early"]
    for source in (WAITING, early.source, granted(asked(18)).source):
        assert source.how_known == "memory"
        assert "two weeks of the last look" in source.text


def test_set_jelly_is_kept():
    assert granted(asked(100, looks=Looks.SET)).do == "keep"


def test_a_slip_of_the_year_is_asked_for():
    """No publication sets an age, so ten years go, and 1826 for 2026 does not."""
    assert granted(asked(24 * 3_650)).do == "remake"
    answer = asked(24 * 3_660)
    assert isinstance(answer, Refusal)
    assert "by the date given" in answer.reason
    assert "check the year" in answer.instead


@pytest.mark.parametrize("jar", [jar.name for jar in jars()])
def test_soft_jars_are_of_a_size_that_jelly_is_put_up_in(jar):
    process = process_for(JELLY_TABLE, jar=jar, elevation_ft=0)
    cups = soft_cups(3, jar)
    assert isinstance(cups, Refusal) == isinstance(process, Refusal)
    assert isinstance(cups, Refusal) or cups == 3 * (1 if jar == "half-pint" else 2)


def test_a_quart_that_was_kept_cold_counts_as_two_pints():
    answer = soft_cups(20, "quart")
    assert "count each as 2 pint jars" in answer.instead
    assert "Guide 7" in answer.source


@given(st.integers(1, 400), st.sampled_from(["powdered", "liquid", "none"]))
def test_what_goes_in_is_scooped_and_weighed(cups, pectin):
    """Of whole jars each in spoons and cups, and in grams or millilitres beside."""
    for procedure in granted(asked(400, pectin, cups)).remaking.procedures:
        for (scooped, metric, _), part in zip(
            remade_parts(procedure),
            granted(at_multiple(procedure, 1)).parts,
            strict=True,
        ):
            quarter = float(TEASPOON_M3) / 4
            assert read_volume_m3(scooped) == pytest.approx(
                part.volume_m3, abs=0.51 * quarter
            )
            assert metric.endswith((" g", " mL"))


def test_filled_after_now_is_questioned():
    assert isinstance(asked(-3), Refusal)


def at_the_pan(pectin: str):
    """The steps of four cups from the first fire to the skimming, and their links."""
    process = granted(process_for(JELLY_TABLE, jar="half-pint", elevation_ft=1017))
    filling = Filling(jar="half-pint", jars=4, process=process)
    work = granted(remade.steps(recipe(4.0, pectin), station(), filling))
    names = [s.id for s in work.steps]
    assert {link.before for link in work.links} <= set(names)
    assert {link.after for link in work.links} <= set(names)
    first, last = names.index("to_boil"), names.index("skim")
    assert names.index("empty_jars") < first
    return work.steps[first:last], work.links


@pytest.mark.parametrize(
    ("pectin", "steps"),
    [
        (
            "powdered",
            [
                ("to_boil", "1/4 cup sugar · 1/2 cup water · 2 tbsp lemon juice,"
                 " bottled · 4 tsp regular powdered pectin"),
                ("jelly_in", "4 cups soft jelly"),
                ("hard_boil", ""),
            ],
        ),
        (
            "liquid",
            [
                ("to_boil", "4 cups soft jelly"),
                ("pectin_in", "3/4 cup sugar · 2 tbsp lemon juice, bottled ·"
                 " 2 tbsp liquid pectin"),
                ("back_to_boil", ""),
                ("hard_boil", ""),
            ],
        ),
        (
            "none",
            [
                ("to_boil", "4 cups soft jelly · 2 tbsp lemon juice, bottled"),
                ("test", ""),
            ],
        ),
    ],
)  # fmt: skip
def test_what_goes_in_when_is_as_printed(pectin, steps):
    """Guide 7: with powder the jelly goes in last, with liquid pectin first and alone,
    and what is added off the heat."""
    made, _ = at_the_pan(pectin)
    assert [(s.id, s.note) for s in made] == steps
    assert [s.id for s in made if not s.burner_w] == ["pectin_in"] * (
        pectin == "liquid"
    )


@pytest.mark.parametrize(
    ("pectin", "takes"),
    [("powdered", "jelly_in"), ("liquid", "to_boil"), ("none", "to_boil")],
)
def test_jars_are_opened_before_their_jelly_goes_in(pectin, takes):
    _, links = at_the_pan(pectin)
    assert [link.after for link in links if link.before == "empty_jars"] == [takes]


def test_without_pectin_a_test_ends_the_boil_and_no_clock():
    made, _ = at_the_pan("none")
    boil = made[-1]
    assert boil.verb == "Boil 3 to 4 min, then test it off the fire"
    assert boil.duration_min == 4
    assert "your thermometer" in boil.end_sign
    assert "boil on" in boil.end_sign
    powder, _ = at_the_pan("powdered")
    assert "1/2 min (30 s) by the clock" in powder[-1].verb


def test_no_minutes_are_made_up_for_a_boil_that_prints_none():
    trial = at_multiple(granted(procedure_for("apple jelly", method="boiled_down")), 1)
    with pytest.raises(ValueError, match="prints no minutes"):
        spread.hard_boil(trial, station())


@pytest.mark.parametrize(
    ("pectin", "said"),
    [
        ("powdered", "Boil hard 1/2 min (30 s) by the clock."),
        ("liquid", "Boil hard 1 min by the clock."),
        ("none", ""),  # a test ends it: the order of adding says so
    ],
)
def test_the_clock_is_named_where_it_ends_the_boil(pectin, said):
    assert boil_words(granted(asked(400, pectin)).remaking) == said


def test_the_printed_order_asks_for_sterile_jars_only_where_the_process_is_short():
    """It said "fill sterilised jars" beside "jars need no sterilising"."""
    for row in remakes():
        if "sterilised" in row.steps:
            assert "sterilised where their process is under 10 min" in row.steps

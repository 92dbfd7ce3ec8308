"""Fruit butter: fruit in, solids kept, done by its look."""

from dataclasses import replace

import pytest

from stillroom.book.procedures import procedure_for
from stillroom.book.processes import process_for
from stillroom.methods import butter
from stillroom.methods.kitchen import Burner, Heat, Pot
from stillroom.methods.method import Filling, Recipe, Station
from stillroom.methods.solids import mix_solids
from stillroom.methods.today import air_today
from stillroom.refusal import Refusal, granted


def station(pot_l: float = 12.0, burner_w: float = 3000.0, efficiency: float = 0.40):
    return Station(
        pot=Pot(name="deep pot", volume_m3=pot_l / 1000),
        burner=Burner(name="front", power_w=burner_w),
        heat=Heat.GAS,
        efficiency=efficiency,
        air=granted(air_today(elevation_m=655.0)),
    )


def recipe(product: str = "pear butter", multiple: int = 1) -> Recipe:
    return granted(butter.scale(granted(procedure_for(product)), multiple))


def test_pulp_lies_on_the_shelf_as_raw_fruit():
    """The printed pear butter: about 7 lb of pears for 2 quarts of pulp."""
    fruit = butter.materials(recipe(), "pint", 4)[0]
    assert "pear" in fruit.name
    assert "pulp" not in fruit.name
    assert fruit.mass_kg == pytest.approx(7 * 0.45359237, rel=0.01)


def test_the_weight_beside_the_knife_is_in_pounds_first():
    """The shelf and the shopping list say "2 lb 12 oz (1.26 kg)"."""
    process = granted(process_for("apple butter", jar="pint", elevation_ft=2150))
    filling = Filling(jar="pint", jars=4, process=process)
    work = granted(butter.steps(recipe("apple butter"), station(), filling))
    notes = [step.note for step in work.steps if step.note.endswith("kg)")]
    assert notes == ["8.0 lb (3.6 kg)"]


def test_apple_butter_takes_its_eight_pounds_of_apples():
    fruit = butter.materials(recipe("apple butter"), "pint", 6)[0]
    assert fruit.mass_kg == pytest.approx(8 * 0.45359237, rel=1e-3)


def test_apple_butter_fills_five_to_six_pints_not_eight():
    """The reference notes: 8 lb apples hold solids for 5 to 6 pints at 43 to 50 %."""
    expected = granted(butter.expected_yield(recipe("apple butter"), "pint"))
    assert expected.printed == "8 to 9"
    assert 4.5 <= expected.low <= expected.likely <= expected.high <= 6.6
    assert "more than the solids can fill" in expected.basis


def test_solids_are_conserved():
    """Jars at the end hold what went into the pot, whatever the end point."""
    made = recipe()
    total, solids = mix_solids(made)
    least, likely, thick = butter.end_solids(solids)
    assert least < likely < thick
    for end in (least, likely, thick):
        assert total * solids / end <= total


def test_cooking_down_takes_what_the_water_needs():
    """
    Worked by hand: pear butter goes from 2.83 kg to the likely 46 %.

    Water off = m (1 - w0/w1); each kg takes 2.26 MJ; 1.2 kW of gas at 0.40 gives
    480 W, less 150 W of loss: 330 W.
    """
    made = recipe()
    total, solids = mix_solids(made)
    likely = butter.end_solids(solids)[1]
    by_hand_min = total * (1 - solids / likely) * 2.262e6 / 330 / 60
    assert butter.cook_down_min(made, station()) == pytest.approx(by_hand_min, rel=0.01)


def test_a_weak_stove_is_refused():
    answer = butter.checks(recipe(), station(efficiency=0.1))
    assert isinstance(answer, Refusal)
    assert "no boil" in answer.reason


def test_a_pot_that_does_not_hold_the_raw_fruit_is_refused():
    answer = butter.checks(recipe("apple butter"), station(pot_l=5.0))
    assert isinstance(answer, Refusal)
    assert "L short" in answer.reason


def test_batch_limits_of_the_leaflets_are_said():
    texts = " ".join(
        c.text for c in granted(butter.checks(recipe(), station())).cautions
    )
    assert "4 cups" in texts
    assert "8 cups" in texts


def test_steps_go_from_the_knife_to_the_clean_pot():
    process = granted(process_for("pear butter", jar="pint", elevation_ft=2150))
    made = granted(
        butter.steps(recipe(), station(), Filling(jar="pint", jars=4, process=process))
    )
    names = [s.id for s in made.steps]
    assert names.index("cut") < names.index("soften") < names.index("mill")
    assert names[-1] == "wash_pot"
    assert made.ready_after == "wipe_and_lid"
    thicken = next(s for s in made.steps if s.id == "thicken")
    assert "mounds" in thicken.end_sign
    ids = {s.id for s in made.steps}
    assert all({link.before, link.after} <= ids for link in made.links)


def test_crabapple_butter_answers_by_the_leaflet():
    """Its own rows are known from memory only; the leaflet points to apple butter."""
    process = granted(
        process_for("crabapple butter", jar="half-pint", elevation_ft=2150)
    )
    assert process.minutes == 10
    assert process.how_known == "looked_up"
    assert "01600550" in process.source


def notes_of(product: str, jar: str = "half-pint") -> dict[str, str]:
    made = recipe(product)
    work = butter.steps(made, station(), Filling(jar=jar, jars=8, process=None))
    return {step.id: step.note for step in granted(work).steps}


def test_a_recipe_by_the_weight_of_its_fruit_names_its_sugars_and_measures_no_pulp():
    """Only the brown sugar was named, and half of the sugar stayed out."""
    note = notes_of("apple butter")["measure_pulp"]
    assert "2 1/4 cups sugar and 2 1/4 cups brown sugar (packed)" in note
    assert "by what there is" not in note


def test_a_recipe_by_cups_of_pulp_says_how_much_sugar_to_how_much():
    note = notes_of("pear butter")["measure_pulp"]
    assert note == "4 cups sugar to 8 cups pear pulp, by what there is"


def test_how_it_is_stirred_is_what_the_plan_gives_for_it():
    """Three quarters of a person leave a glance for another pot, and it says so."""
    work = granted(
        butter.steps(recipe(), station(), Filling(jar="pint", jars=4, process=None))
    )
    for name in ("cook_down", "thicken"):
        step = next(step for step in work.steps if step.id == name)
        assert step.attention_quarters == butter.STIRRED_ALL_THE_TIME < 4
        assert "but for a glance at another pot" in step.note


def test_a_butter_is_stirred_as_its_leaflet_says_from_the_first_minute():
    """Beside "stir all the time" of its print it was stirred every few minutes."""
    checked = granted(butter.checks(recipe(), station()))
    printed = "stir all the time; butter spits and scorches"  # MSU leaflet 01600550
    assert any(printed in caution.text for caution in checked.cautions)
    work = granted(
        butter.steps(recipe(), station(), Filling(jar="pint", jars=4, process=None))
    )
    on_the_fire = [s for s in work.steps if s.id in ("cook_down", "thicken")]
    for step in on_the_fire:
        assert step.note.startswith("stir all the time")
    said = [c.text for c in checked.cautions] + [s.note for s in work.steps]
    assert not [words for words in said if "few minutes" in words or "often" in words]


def test_cider_of_a_butter_that_begins_with_whole_fruit_softens_it():
    """Whatever its recipe says of it, as one of the keeper's own may say nothing."""
    apples = recipe("apple butter")
    silent = replace(apples, procedure=replace(apples.procedure, base_prep=""))
    process = granted(process_for("apple butter", jar="pint", elevation_ft=2150))
    filling = Filling(jar="pint", jars=4, process=process)
    steps = {s.id: s for s in granted(butter.steps(silent, station(), filling)).steps}
    assert steps["soften"].note == "2 cups apple cider · 2 cups vinegar 5%"
    assert "cider" not in steps["cook_down"].note

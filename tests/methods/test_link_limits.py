"""The limits that keep a batch from gelling, burning or cooling: a list a method."""

import pytest

from stillroom.book.names import JELLY_TABLE
from stillroom.book.procedures import procedure_for
from stillroom.book.processes import process_for
from stillroom.methods import butter, liquid_pectin, with_pectin
from stillroom.methods.method import Filling
from stillroom.refusal import granted
from tests.methods.test_with_pectin import station

# From the end of one step to the start of the other, at most so many minutes: hands'
# practice, no source, except that a boil is not left.
JARS = {
    ("heat_jars", "fill"): 45,
    ("fill", "wipe_and_lid"): 2,
}
LIMITS = [
    (
        with_pectin,
        "plum jelly",
        {
            **JARS,
            ("to_boil", "sugar_in"): 0,
            ("sugar_in", "hard_boil"): 0,
            ("hard_boil", "skim"): 0,
            ("skim", "fill"): 2,
        },
    ),
    (
        liquid_pectin,
        "plum jelly with liquid pectin",
        {
            **JARS,
            ("to_boil", "pectin_in"): 0,
            ("pectin_in", "hard_boil"): 0,
            ("hard_boil", "skim"): 0,
            ("skim", "fill"): 2,
        },
    ),
    (
        butter,
        "pear butter",
        {
            **JARS,
            ("cut", "soften"): 60,
            ("soften", "mill"): 30,
            ("mill", "measure_pulp"): 30,
            ("measure_pulp", "cook_down"): 30,
            ("cook_down", "thicken"): 0,
            ("thicken", "fill"): 5,
        },
    ),
]


@pytest.mark.parametrize(("method", "product", "limits"), LIMITS)
def test_limits(method, product, limits):
    recipe = granted(method.scale(granted(procedure_for(product)), 1))
    process = granted(process_for(JELLY_TABLE, jar="half-pint", elevation_ft=2150))
    filling = Filling(jar="half-pint", jars=8, process=process)
    work = granted(method.steps(recipe, station(), filling))
    found = {
        (link.before, link.after): link.at_most_min
        for link in work.links
        if link.at_most_min is not None
    }
    assert found == limits
    assert work.closed_wait_at_most_min == 20


def test_sugar_cools_the_pot_by_its_own_heat():
    """
    Heat of 1.4 kg dry sugar at 1.25 kJ/(kg K), dissolved at 16 kJ/kg, and 3 K of juice.

    With 1.0 kJ/(kg K) it would be back 16 % sooner.
    """
    recipe = granted(with_pectin.scale(granted(procedure_for("plum jelly")), 1))
    back = granted(with_pectin.checks(recipe, station())).back_to_boil_min
    assert back == pytest.approx(2.38, abs=0.05)

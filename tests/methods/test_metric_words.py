"""Who writes metric reads litres and grams, and what is printed stays beside them."""

import re
from dataclasses import replace

import pytest

from stillroom.book.procedures import answered_procedures
from stillroom.measures import CUP_M3, POUND_KG, read_mass_kg, read_volume_m3
from stillroom.methods.by_name import method_named
from stillroom.methods.method import Part
from stillroom.methods.portions import HAIR, quantity_words, sum_words, weighs_beside
from stillroom.refusal import Refusal

JUG = re.compile(r"([\d.]+ (?:mL|L|g|kg)) \((.+)\)")
CUPS = {"cup": 1, "pint": 2, "quart": 4, "gallon": 16}


def recipes() -> list[tuple[str, Part]]:
    found = []
    for procedure in answered_procedures():
        method = method_named(procedure.method)
        recipe = method if isinstance(method, Refusal) else method.scale(procedure, 1)
        if not isinstance(recipe, Refusal):
            found += [(procedure.id, part) for part in recipe.said_metric(True).parts]
    return found


@pytest.mark.parametrize(
    ("name", "part"),
    [
        pytest.param(n, p, id=f"{n}: {p.name}, {i}")
        for i, (n, p) in enumerate(recipes())
    ],
)
def test_what_is_printed_stays_beside_what_a_jug_or_a_scale_shows(name, part):
    said = quantity_words(part)
    printed = quantity_words(replace(part, metric=False))
    found = JUG.fullmatch(said)
    little = part.quantity * CUPS.get(part.unit, 0) < 0.24
    if part.unit in ("lb", "oz"):
        each = float(POUND_KG) / (16 if part.unit == "oz" else 1)
        assert found
        assert read_mass_kg(found[1]) == pytest.approx(part.quantity * each, rel=HAIR)
    elif little:
        assert said == printed
    elif found and "g" in found[1]:
        assert read_mass_kg(found[1]) == pytest.approx(part.mass_kg, HAIR, 6e-4)
        assert part.role not in ("fruit", "liquid", "acid", "soak")
        assert weighs_beside(part) == ""
    else:
        assert found
        there = part.quantity * CUPS[part.unit] * float(CUP_M3)
        assert read_volume_m3(found[1]) == pytest.approx(there, rel=2 * HAIR, abs=1e-6)
        if part.role == "acid":
            assert read_volume_m3(found[1]) >= there * 0.9999
    assert printed in said


def test_all_the_sugar_is_said_as_one():
    white = Part(
        name="sugar",
        quantity=3.5,
        unit="cup",
        mass_kg=0.7,
        volume_m3=3.5 * float(CUP_M3),
        role="sugar",
        metric=True,
    )
    assert sum_words([white, white]) == "1.4 kg (7 cups)"
    unweighed = replace(white, mass_kg=None)
    assert sum_words([white, unweighed]) == "1.66 L (7 cups)"
    brown = replace(white, quantity=500, unit="g", mass_kg=0.5, volume_m3=None)
    assert sum_words([white, brown]) == "700 g (3 1/2 cups) + 500 g"
    assert sum_words([]) == "0 cups"

"""What a batch takes from the stock, where the two were measured otherwise."""

import pytest

from stillroom.book.densities import density_kg_m3
from stillroom.stock.amounts import Unit
from stillroom.stock.commands import Need
from stillroom.stock.drawing import Drawing, per_unit
from tests.stock.kitchen import Farm


@pytest.mark.parametrize(
    ("there", "lacks"),
    [("946 ml vinegar 5%, pantry", []), ("930 ml vinegar 5%, pantry", [16353])],
)
def test_a_bottle_of_946_ml_is_the_quart_of_a_recipe(there: str, lacks: list[int]):
    farm = Farm()
    farm.add(there)
    quart = Need(name="vinegar 5%", unit=Unit.UL, number=946_353)
    _, lacking = Drawing(farm.stock).draw([quart])
    assert [need.number for need in lacking] == lacks


def test_of_pieces_each_one_that_lacks_is_told():
    farm = Farm()
    farm.add("299 lids, shed")
    _, lacking = Drawing(farm.stock).draw(
        [Need(name="lids", unit=Unit.PIECES, number=300)]
    )
    assert [need.number for need in lacking] == [1]


def test_boxes_of_pectin_are_taken_out_of_a_bag_of_it():
    """A box is 1 3/4 oz, 49.6 g: two of them leave 354.4 g of a pound."""
    farm = Farm()
    code = farm.add("1 lb regular powdered pectin, pantry")
    two = Need(name="regular powdered pectin", unit=Unit.PIECES, number=2)
    parts, lacking = Drawing(farm.stock).draw([two])
    assert lacking == ()
    assert [(part.lot, part.number) for part in parts] == [(code, 99_200)]
    ten = Need(name="regular powdered pectin", unit=Unit.PIECES, number=10)
    (short,) = Drawing(farm.stock).draw([ten])[1]
    assert short.number == 1


def test_a_need_by_volume_is_served_by_weight_and_pectin_by_the_box_by_weight_alone():
    per_ul = per_unit("sugar", Unit.MG, Unit.UL)
    assert per_ul == pytest.approx(1000 / density_kg_m3("sugar"))
    assert per_unit("sugar", Unit.UL, Unit.MG) == pytest.approx(1 / per_ul)
    assert per_unit("regular powdered pectin", Unit.UL, Unit.PIECES) is None
    assert per_unit("sugar", Unit.MG, Unit.PIECES) is None

"""How much goes into a jar: held against lines typed from the leaflets."""

import csv
from fractions import Fraction
from importlib.resources import files

import pytest

from stillroom.book.packs import (
    PACK_METHODS,
    Pack,
    pack_for,
    pack_of,
    pack_procedure,
    packs,
    packs_named,
    read_packs,
    rows_of,
)
from stillroom.refusal import Refusal, Unreadable, granted

TABLE = files("stillroom.book") / "data" / "packs.csv"

# product, pack, lb for 7 quarts, lb for 9 pints, minutes in the pot (least, most):
# typed from the Michigan State Univ. Extension leaflets and the Complete Guide, not
# copied from the table.
TYPED = [
    ("sliced apples", "hot", "19", "12.25", (5, 5)),
    ("apricots", "hot", "16", "10", (0, 0)),
    ("apricots", "raw", "16", "10", (0, 0)),
    ("whole berries", "raw", "12", "8", (0, 0)),
    ("blueberries", "hot", "12", "8", (0, 0)),
    ("cherries", "hot", "17.5", "11", (0, 0)),
    ("whole grapes", "raw", "14", "9", (0, 0)),
    ("peaches", "raw", "17.5", "11", (0, 0)),
    ("nectarines", "hot", "17.5", "11", (0, 0)),
    ("pears", "hot", "17.5", "11", (5, 5)),
    ("plums", "hot", "14", "9", (2, 2)),
    ("rhubarb", "hot", "10.5", "7", (0, 0)),
    ("figs", "hot", "16", "11", (5, 5)),
    ("pineapple", "hot", "21", "13", (10, 10)),
    ("applesauce", "hot", "21", "13.5", (5, 20)),
    ("crushed tomatoes", "hot", "22", "14", (5, 5)),
    ("tomatoes packed in water", "raw", "21", "13", (0, 0)),
    ("tomatoes packed in water", "hot", "21", "13", (5, 5)),
    ("tomato juice", "hot", "23", "14", (5, 5)),
    ("green beans", "hot", "14", "9", (5, 5)),
    ("green beans", "raw", "14", "9", (0, 0)),
    ("beets", "hot", "21", "13.5", (15, 25)),
    ("carrots", "hot", "17.5", "11", (5, 5)),
    ("whole-kernel corn", "hot", "31.5", "20", (5, 5)),
    ("white potatoes", "hot", "20", "13", (2, 2)),
    ("cubed pumpkin", "hot", "16", "10", (2, 2)),
    ("asparagus", "hot", "24.5", "16", (2, 3)),
    ("green peas", "hot", "31.5", "20", (2, 2)),
    ("lima beans", "hot", "28", "18", (0, 0)),
]


@pytest.mark.parametrize(("product", "pack", "load", "pints", "minutes"), TYPED)
def test_quantity_lines_and_minutes_are_the_printed_ones(
    product, pack, load, pints, minutes
):
    found = granted(pack_for(product, pack=pack))
    assert found.lb_per_load == Fraction(load)
    assert found.lb_per_nine_pints == Fraction(pints)
    assert (found.cooking.least_min, found.cooking.most_min) == minutes
    assert found.planned_lb >= Fraction(load) / 7


def test_the_table_is_whole():
    """Row count and sums: a deleted row or two swapped columns change them."""
    assert len(packs()) == 44
    assert sum(p.lb_per_load or 0 for p in packs()) == Fraction("781.5")
    assert sum(p.lb_per_nine_pints or 0 for p in packs()) == Fraction("497.25")
    assert sum(p.cooking.most_min for p in packs()) == 141
    assert {p.method for p in packs()} == set(PACK_METHODS)
    assert {p.how_known for p in packs()} == {"looked_up", "practice"}
    assert [p.id for p in packs() if p.how_known == "practice"] == ["fruit-puree"]


def test_light_syrup_is_nine_cups_of_water_and_two_and_a_quarter_of_sugar_a_load():
    """The syrup table of leaflet 01600773, for 7 quarts."""
    liquid = granted(pack_for("pears")).liquid
    assert (liquid.water_cups * 7, liquid.sugar_cups * 7) == (9, Fraction(9, 4))
    assert liquid.source.how_known == "looked_up"


def test_water_without_a_printed_amount_says_so():
    liquid = granted(pack_for("green beans")).liquid
    assert liquid.source.how_known == "practice"
    assert "no source" in liquid.source.text


def test_of_two_printed_weights_the_larger_is_planned():
    """The line on crushed tomatoes prints 22 lb for 7 quarts and 2 3/4 lb a quart."""
    crushed = granted(pack_for("crushed tomatoes"))
    assert crushed.lb_per_quart == Fraction(11, 4)
    assert crushed.planned_lb == Fraction(22, 7)
    assert granted(pack_for("apples")).planned_lb == Fraction(11, 4)  # 19 / 7 is less


@pytest.mark.parametrize("pack", packs(), ids=lambda pack: pack.id)
def test_nine_pints_take_what_is_printed_for_them(pack):
    """Of rhubarb 7 lb, of pears 11: a quart's average gives 6 3/4 and 11 1/4."""
    if pack.lb_per_nine_pints is None or "pint" not in pack.jars:
        return
    of_pint = granted(pack_procedure(pack, jar="pint")).base
    assert 9 * of_pint.quantity == pack.lb_per_nine_pints
    of_quart = granted(pack_procedure(pack, jar="quart")).base
    assert 7 * of_quart.quantity >= pack.lb_per_load


def test_a_pint_of_rhubarb_is_a_ninth_of_seven_pounds():
    rhubarb = granted(pack_for("stewed rhubarb"))
    assert granted(pack_procedure(rhubarb, jar="pint")).base.quantity == Fraction(7, 9)
    assert granted(pack_procedure(rhubarb, jar="quart")).base.quantity == Fraction(3, 2)


@pytest.mark.parametrize("pack", packs(), ids=lambda pack: pack.id)
def test_every_pack_has_its_process_and_nothing_from_memory(pack):
    assert rows_of(pack)
    assert {row.acidify for row in rows_of(pack)} == {pack.acidify}
    assert "memory" not in (pack.how_known, pack.cooking.how_known)
    assert pack.source
    for jar in pack.jars:
        procedure = granted(pack_procedure(pack, jar=jar))
        assert pack_of(procedure) == pack
        assert procedure.headspace_in == pack.headspace_in


@pytest.mark.parametrize("pack", packs(), ids=lambda pack: pack.id)
def test_a_pint_is_half_a_quart_but_for_what_nine_pints_are_printed_to_take(pack):
    nine = pack.lb_per_nine_pints
    quart = granted(pack_procedure(pack)).ingredients
    pint = granted(pack_procedure(pack, jar="pint")).ingredients
    assert [i.name for i in quart] == [i.name for i in pint]
    for whole, half in zip(quart, pint, strict=True):
        if nine and whole.role == "fruit":
            assert half.quantity == nine / 9
            continue
        assert half.quantity * 2 == whole.quantity
        if whole.mass_kg is not None:
            assert half.mass_kg * 2 == pytest.approx(whole.mass_kg)


def test_acid_of_tomatoes_figs_and_asian_pears_is_never_optional():
    acid = [pack for pack in packs() if pack.acidify]
    assert {pack.acidify for pack in acid} == {"tomato", "fig", "asian pear"}
    assert all(p.acidify == "tomato" for p in packs() if "tomatoes" in p.foods)
    for pack in acid:
        (part,) = granted(pack_procedure(pack)).of_role("acid")
        assert (part.name, part.quantity, part.unit, part.optional) == (
            "bottled lemon juice",
            2,
            "tbsp",
            False,
        )


def test_general_rows_are_named_for_what_was_asked():
    assert granted(pack_for("plum purée")).food == "plums"
    assert granted(pack_for("plum purée")).product.name == "plum puree"
    assert granted(pack_for("sour cherries")).food == "sour cherries"
    assert granted(pack_for("blueberries", pack="raw")).food == "blueberries"
    assert granted(pack_for("raspberries")).pack == "raw"
    assert granted(pack_for("squash cubes")).food == "squash"
    assert [p.pack for p in granted(packs_named("peaches"))] == ["hot", "raw"]


def test_how_it_is_packed_may_be_part_of_the_name():
    assert granted(pack_for("peaches, packed raw")).id == "peaches-raw"
    assert granted(pack_for("raw-pack green beans")).id == "beans-raw"
    assert granted(pack_for("hot packed plums")).id == "plums-hot"
    whole = granted(pack_for("tomatoes packed raw without liquid"))
    assert whole.id == "tomatoes-no-liquid-raw"
    assert isinstance(pack_for("pears packed raw"), Refusal)


@pytest.mark.parametrize(
    ("product", "pack", "reason", "instead"),
    [
        ("pears", "raw", "no raw pack of pears", "pack it hot"),
        ("pears", "warm", "no warm pack", "pack it hot"),
        ("okra", None, "how much goes into a jar of okra", "extension leaflet"),
        ("tomatoes", None, "crushed, in water", "crushed tomatoes"),
        ("pumpkin", None, "cubes", "cube"),
        ("white peaches", None, "", "freeze it"),
        ("elderberries", None, "", ""),
    ],
)
def test_what_has_no_pack_is_refused(product, pack, reason, instead):
    answer = pack_for(product, pack=pack)
    assert isinstance(answer, Refusal)
    assert reason in answer.reason
    assert instead in answer.instead
    assert answer.source


def test_a_jar_without_a_published_process_is_refused():
    answer = pack_procedure(granted(pack_for("pears")), jar="half-gallon")
    assert isinstance(answer, Refusal)
    assert "pint and quart" in answer.reason
    assert isinstance(granted(pack_for("apple juice")), Pack)
    assert not isinstance(
        pack_procedure(granted(pack_for("apple juice")), jar="half-gallon"), Refusal
    )


def changed(tmp_path, id_, **cells):
    """The table with some cells of one row changed."""
    with TABLE.open(encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    for row in rows:
        if row["id"] == id_:
            row.update(cells)
    path = tmp_path / "packs.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)
    return path


@pytest.mark.parametrize(
    ("id_", "cells", "message"),
    [
        ("pears-hot", {"headspace_in": "1"}, "headspace_in .*not that of the process"),
        ("pears-hot", {"acidify": "tomato"}, "acidify .*not the acid"),
        ("tomatoes-crushed-hot", {"acidify": ""}, "acidify .*not the acid"),
        ("tomatoes-water-raw", {"acidify": ""}, "acidify .*not the acid"),
        ("pears-hot", {"pack": "raw", "method": "raw_pack"}, "raw"),
        ("pears-hot", {"jars": "pint; half-gallon"}, "half-gallon"),
        ("pears-hot", {"how_known": "memory"}, "memory"),
        ("pears-hot", {"cook_how_known": "memory"}, "memory"),
        ("pears-hot", {"source": ""}, "source is empty"),
        ("pears-hot", {"liquid_source": ""}, "liquid_source"),
        ("pears-hot", {"lb_per_7_quarts": "11"}, "too far apart"),
        ("pears-hot", {"lb_per_quart": "0"}, "allowed: above 0"),
        ("pears-hot", {"product": "elephants"}, "is not in the book"),
        ("pears-hot", {"cook_max_min": "3"}, "allowed: 5 to 60"),
        ("beans-hot", {"method": "hot_pack"}, "canners of the process"),
        ("pears-hot", {"method": "pressure_pack"}, "canners of the process"),
        ("beans-raw", {"cook": "boil", "cook_max_min": "5"}, "raw pack"),
        ("pears-hot", {"cook": "", "cook_min": "0", "cook_max_min": "0"}, "is empty"),
        ("pears-hot", {"id": "apples-hot"}, "stands there twice"),
        ("pears-hot", {"quarts_high": "9"}, "quarts_high"),
        ("beets-hot", {"trim_after": ""}, "trim_after"),
    ],
)
def test_the_loader_stops_at_a_row_that_cannot_be_right(tmp_path, id_, cells, message):
    with pytest.raises(Unreadable, match=message) as caught:
        read_packs(changed(tmp_path, id_, **cells))
    assert "packs.csv" in str(caught.value)
    assert "line " in str(caught.value)

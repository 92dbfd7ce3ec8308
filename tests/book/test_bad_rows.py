"""Every loader stops at the first row that must not be believed, and says where."""

import csv
import io

import pytest

from stillroom.book.acid import read_acid_doses, read_acid_rules
from stillroom.book.canner_rules import read_canner_rules
from stillroom.book.densities import read_cup_weights
from stillroom.book.folk import read_folk_rules
from stillroom.book.food_facts import read_food_facts
from stillroom.book.foods_said import read_words
from stillroom.book.heat import read_heat_efficiencies
from stillroom.book.jars import read_jars, read_sterilise
from stillroom.book.jelly_juice import read_jelly_juices
from stillroom.book.jelly_point import read_boiling_points, read_jelly_points
from stillroom.book.keeping import (
    read_canner_facts,
    read_freezing_headspaces,
    read_keeping,
)
from stillroom.book.names import read_product_names, read_which_one
from stillroom.book.never import read_never
from stillroom.book.procedures import (
    read_ingredients,
    read_procedure_cautions,
    read_procedures,
)
from stillroom.book.process_cautions import read_product_cautions
from stillroom.book.processes import read_processes
from stillroom.book.produce import read_fruits, read_juice_yields, read_soluble_solids
from stillroom.book.reader import table
from stillroom.book.remake import read_remakes
from stillroom.book.trouble import read_troubles
from stillroom.book.yearly import read_yearly_amounts
from stillroom.refusal import Unreadable


def read_our_procedures(path):
    ingredients = read_ingredients(table("procedure_ingredients"))
    return read_procedures(path, ingredients, ())


LOADERS = {
    "processes": read_processes,
    "canner_rules": read_canner_rules,
    "procedures": read_our_procedures,
    "procedure_ingredients": read_ingredients,
    "procedure_cautions": read_procedure_cautions,
    "product_names": read_product_names,
    "refused_products": lambda path: read_never(path, "what"),
    "unsafe_methods": lambda path: read_never(path, "way"),
    "produce": read_fruits,
    "soluble_solids": read_soluble_solids,
    "juice_yields": read_juice_yields,
    "unsafe_jars": lambda path: read_never(path, "jar"),
    "which_one": read_which_one,
    "acid_doses": read_acid_doses,
    "acid_rules": lambda path: read_acid_rules(
        path, read_acid_doses(table("acid_doses"))
    ),
    "product_cautions": read_product_cautions,
    "jelly_point": read_jelly_points,
    "boiling_point": read_boiling_points,
    "food_facts": read_food_facts,
    "keeping": read_keeping,
    "freezing_headspace": read_freezing_headspaces,
    "canner_facts": read_canner_facts,
    "jelly_juice": read_jelly_juices,
    "remake": read_remakes,
    "yearly_amounts": read_yearly_amounts,
    "folk_rules": read_folk_rules,
    "jars": read_jars,
    "sterilise": read_sterilise,
    "densities": read_cup_weights,
    "heat_efficiency": read_heat_efficiencies,
    "trouble": read_troubles,
    "trouble_words": read_words,
}


def rows_of(name):
    return list(csv.reader(io.StringIO(table(name).read_text(encoding="utf-8"))))


def spoiled(tmp_path, name, change):
    """Write the table with one thing changed, and return its path."""
    rows = rows_of(name)
    change(rows)
    path = tmp_path / f"{name}.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)
    return path


def setting(line, column, value):
    def change(rows):
        rows[line - 1][rows[0].index(column)] = value

    return change


@pytest.mark.parametrize("name", LOADERS)
def test_the_shipped_table_loads_and_every_row_has_its_source(name):
    assert LOADERS[name](table(name))
    header, *rows = rows_of(name)
    for row in rows:
        assert row[header.index("source")].strip()
        assert row[header.index("how_known")].strip()


@pytest.mark.parametrize("name", LOADERS)
@pytest.mark.parametrize("column", ["source", "how_known"])
def test_a_row_without_source_or_how_known_stops_the_loader(tmp_path, name, column):
    path = spoiled(tmp_path, name, setting(2, column, ""))
    with pytest.raises(Unreadable, match=rf"line 2, {name}\.csv: {column} is empty"):
        LOADERS[name](path)


@pytest.mark.parametrize("name", LOADERS)
def test_hearsay_is_not_a_way_of_knowing(tmp_path, name):
    path = spoiled(tmp_path, name, setting(2, "how_known", "hearsay"))
    with pytest.raises(Unreadable, match=rf"line 2, {name}\.csv: .*'hearsay'; allowed"):
        LOADERS[name](path)


@pytest.mark.parametrize("name", LOADERS)
def test_other_columns_stop_the_loader(tmp_path, name):
    path = spoiled(tmp_path, name, setting(1, "source", "where_from"))
    with pytest.raises(
        Unreadable, match=rf"line 1, {name}\.csv: the columns are .*where"
    ):
        LOADERS[name](path)


@pytest.mark.parametrize("name", LOADERS)
def test_an_empty_file_and_a_short_row_stop_the_loader(tmp_path, name):
    path = spoiled(tmp_path, name, lambda rows: rows.clear())
    with pytest.raises(Unreadable, match="the columns are missing"):
        LOADERS[name](path)
    path = spoiled(tmp_path, name, lambda rows: rows[1].pop())
    with pytest.raises(Unreadable, match=r"line 2, .*the header has"):
        LOADERS[name](path)


@pytest.mark.parametrize(
    ("name", "line", "column", "value", "words"),
    [
        ("processes", 2, "minutes", "0", "allowed: 5 to 180"),
        ("processes", 2, "minutes", "", "minutes is empty"),
        ("processes", 2, "minutes", "five", "'five', which is not a number"),
        ("processes", 2, "minutes", "nan", "allowed: 5 to 180"),
        ("processes", 2, "minutes", "5.5", "must be whole"),
        ("processes", 2, "how_known", "memory", "must never give a process"),
        ("processes", 2, "method", "oven", "'oven'; allowed: boiling-water"),
        ("processes", 2, "jar", "litre", "'litre'; allowed: half-pint"),
        ("processes", 2, "pack", "warm", "allowed: hot, raw"),
        ("processes", 2, "headspace_in", "9", "allowed: 0.125 to 1.5"),
        ("processes", 2, "pressure_psi", "5", "does not go with boiling-water"),
        ("processes", 2, "elevation_low_ft", "1", "must be 0 in a first band"),
        ("processes", 3, "elevation_low_ft", "1500", "ends at 1000"),
        ("processes", 3, "minutes", "5", None),
        ("processes", 4, "minutes", "5", "falls with elevation"),
        ("processes", 3, "elevation_high_ft", "", "follows a band without upper end"),
        ("processes", 2, "option", "2", "allowed: 1 to 1"),
        ("processes", 2, "acidify", "vinegar", "'vinegar', which is no rule of acid"),
        ("acid_doses", 2, "jar", "bucket", "'bucket'; allowed: pint, quart"),
        ("acid_doses", 2, "quantity", "some", "not a fraction like 7/2"),
        ("acid_doses", 2, "unit", "drop", "allowed: tbsp, tsp"),
        ("acid_doses", 2, "how_known", "memory", "allowed: looked_up"),
        ("acid_rules", 2, "in_jar", "no", "does not agree with the table of doses"),
        ("product_cautions", 2, "process_table", "stones", "published as 'stones'"),
        ("which_one", 2, "ask_for", "stones", "knows no product 'stones'"),
        ("which_one", 2, "said", "pears", "'pears' is already a name"),
        ("unsafe_jars", 2, "reason", "", "reason is empty"),
        ("canner_rules", 2, "canners", "oven", "allowed: boiling-water"),
        ("procedures", 2, "how_known", "memory", "allowed: looked_up"),
        ("procedures", 2, "id", "jelly-of-stones", "has no ingredients"),
        ("procedures", 2, "fruits", "stone", "names of the table of produce"),
        ("procedures", 2, "fruits", "", "names of the table of produce"),
        ("procedures", 2, "jars", "bucket", "allowed: half-pint, pint, quart"),
        ("procedures", 2, "method", "magic", "allowed: with_pectin, liquid_pectin"),
        ("procedures", 2, "keeping", "ever", "'ever'; allowed: shelf, cold"),
        ("procedures", 2, "keeping", "cold", "jars do not go with keeping cold"),
        ("procedures", 2, "process_table", "", "does not go with keeping shelf"),
        ("procedure_ingredients", 2, "per", "spoon", "'spoon'; allowed: pint, quart"),
        ("procedures", 2, "printed_yield_high", "7", "allowed: 8 to 40"),
        ("procedure_ingredients", 2, "quantity", "some", "not a fraction like 7/2"),
        ("procedure_ingredients", 2, "quantity", "1/0", "not a fraction like 7/2"),
        ("procedure_ingredients", 2, "quantity", "-1", "above 0, up to 40"),
        ("procedure_ingredients", 2, "unit", "", "unit is empty"),
        ("procedure_ingredients", 2, "unit", "pinch", "'pinch'; allowed: cup"),
        ("procedure_ingredients", 2, "role", "magic", "'magic'; allowed: fruit"),
        ("procedure_ingredients", 2, "mass_g", "0", "allowed: 1 to 20000"),
        ("procedure_ingredients", 249, "mass_g", "1815", "so much weighs 1814.4"),
        ("procedure_ingredients", 2, "mass_known", "", "mass_known is empty"),
        ("procedure_ingredients", 3, "order", "7", "must be 2 here"),
        ("procedure_ingredients", 36, "as_bought_known", "", "_known is empty"),
        ("procedure_ingredients", 36, "as_bought_known", "computed", "what yield"),
        ("procedure_cautions", 2, "procedure", "butter-pear", "not both"),
        ("product_names", 3, "name", "applesauce", "already the name of another"),
        ("produce", 3, "fruit", "apple", "stands there twice"),
        ("produce", 2, "ph_low", "9", "allowed: 1.5 to 8"),
        ("produce", 2, "acid_class", "sour", "'sour'; allowed: acid, needs acid"),
        ("soluble_solids", 2, "solids_likely_percent", "14.9", "is not 100 / cfr150"),
        ("soluble_solids", 2, "solids_low_percent", "20", "allowed: 2 to 13.3"),
        ("juice_yields", 2, "juice_cups_per_lb", "9", "allowed: 0.3 to 2.5"),
        ("jelly_point", 2, "jellying_point_f", "104", "allowed: 190 to 225"),
        ("boiling_point", 3, "water_boils_f", "", "are both empty"),
        ("boiling_point", 2, "water_boils_f", "100", "allowed: 190 to 215"),
        ("food_facts", 2, "lb_per_unit", "4800", "allowed: 0.5 to 100"),
        ("food_facts", 2, "lb_per_unit", "", "and sold_by go together"),
        ("food_facts", 2, "lb_per_7_quarts", "90", "not about seven times"),
        ("food_facts", 2, "quantity_source", "", "quantity_source is empty"),
        ("food_facts", 2, "ph_source", "", "ph_source is empty"),
        ("food_facts", 2, "group_known", "hearsay", "'hearsay'; allowed: looked_up"),
        ("food_facts", 2, "acid_class", "sour", "'sour'; allowed: acid"),
        ("food_facts", 3, "food", "apple", "'apple' is already another food"),
        ("keeping", 2, "place", "attic", "'attic'; allowed: store, freezer"),
        ("keeping", 2, "unit", "", "unit is empty"),
        ("keeping", 2, "unit", "words", "does not go with low and high"),
        ("keeping", 2, "high", "20", "allowed: 32 to 300"),
        ("freezing_headspace", 2, "headspace", "12", "allowed: 0.25 to 2"),
        ("freezing_headspace", 2, "unit", "mm", "'mm'; allowed: in"),
        ("canner_facts", 2, "low", "", None),
        ("jelly_juice", 2, "simmer_min_high", "5", "allowed: 20 to 60"),
        ("remake", 2, "powdered_pectin_tsp", "40", "allowed: 0 to 12"),
        ("remake", 2, "pectin", "calcium", "allowed: powdered, liquid, none"),
        ("yearly_amounts", 2, "litres_per_person_year", "2", "is not 22 quarts"),
        ("yearly_amounts", 2, "family_year", "11", "is not 5 times 22"),
        ("yearly_amounts", 2, "unit", "bucket", "allowed: quart, pint, half-pint"),
        ("folk_rules", 2, "minutes_high", "60", "allowed: 1 to 5"),
        ("jars", 2, "volume_ml", "250", "are not the same volume"),
        ("sterilise", 2, "unit", "", "unit is empty"),
        ("sterilise", 3, "rule", "another", "'more for elevation' is missing"),
        ("densities", 2, "density_g_per_cup", "2000", "allowed: 20 to 400"),
        ("densities", 3, "ingredient", "sugar", "stands there twice"),
        ("heat_efficiency", 2, "efficiency", "40", "allowed: 0.1 to 1"),
    ],
)
def test_a_figure_that_cannot_be_right_stops_the_loader(
    tmp_path, name, line, column, value, words
):
    path = spoiled(tmp_path, name, setting(line, column, value))
    if words is None:  # equal minutes in two bands, "at most": printed often enough
        assert LOADERS[name](path)
        return
    with pytest.raises(Unreadable) as caught:
        LOADERS[name](path)
    assert words in str(caught.value)
    assert f"{name}.csv" in str(caught.value)
    assert "line " in str(caught.value)


def test_rows_from_memory_are_kept_apart_and_cannot_be_loaded():
    with pytest.raises(Unreadable, match="must never give a process"):
        read_processes(table("from_memory"))
    header, *rows = rows_of("from_memory")
    assert {row[header.index("how_known")] for row in rows} == {"memory"}
    assert len(rows) == 32
    # what was looked up since is no longer kept as from memory
    key = ("product", "pack", "method", "jar", "elevation_low_ft", "minutes")
    remembered = {tuple(row[header.index(k)] for k in key) for row in rows}
    heads, *printed = rows_of("processes")
    shipped = {tuple(row[heads.index(k)] for k in key) for row in printed}
    assert remembered.isdisjoint(shipped)


def test_a_recipe_with_a_remembered_quantity_must_say_why_it_is_not_answered(tmp_path):
    rows = rows_of("procedures")
    line = 1 + next(i for i, row in enumerate(rows) if row[0] == "relish-green-tomato")
    path = spoiled(tmp_path, "procedures", setting(line, "refuse", ""))
    with pytest.raises(Unreadable, match="a quantity is from memory only"):
        read_our_procedures(path)


@pytest.mark.parametrize(
    ("column", "value", "said"),
    [
        ("words", "", "words is empty"),
        ("words", "= no such row", "names a row that is not there"),
        ("if_named", "perhaps", "neither yes nor empty"),
        ("kind", "ghost", "'ghost'; allowed"),
        ("do", "pray", "'pray'; allowed"),
    ],
)
def test_a_trouble_that_cannot_be_asked_for_stops_the_loader(
    tmp_path, column, value, said
):
    path = spoiled(tmp_path, "trouble", setting(2, column, value))
    with pytest.raises(Unreadable, match=rf"line 2, trouble\.csv: .*{said}"):
        read_troubles(path)


def test_two_troubles_of_one_name_stop_the_loader(tmp_path):
    path = spoiled(tmp_path, "trouble", lambda rows: rows.append(rows[1]))
    with pytest.raises(Unreadable, match="stands there twice"):
        read_troubles(path)

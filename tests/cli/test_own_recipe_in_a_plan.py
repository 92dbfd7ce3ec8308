"""A recipe of the keeper's own enters the plan: with its class's process, or cold."""

import pytest

from stillroom.methods.recipe_file import new_recipe_text
from stillroom.planning.day import Lot, Want
from stillroom.planning.day_file.dayfile_write import write_day
from tests.cli.running import run
from tests.kitchens import day, stores


@pytest.fixture
def files(tmp_path):
    recipe = tmp_path / "own.toml"
    recipe.write_text(new_recipe_text(), encoding="utf-8")
    title = run("recipe", "check", str(recipe), "--json").json["title"]
    shelf = (Lot(name="plums", what="plums", mass_kg=12.0), *stores())
    wanting = day(Want(product=title, jars=8, jar="half-pint"), shelf=shelf)
    file = tmp_path / "day.toml"
    file.write_text(write_day(wanting), encoding="utf-8")
    return file, recipe, title


def planned(file, recipe):
    said = run("plan", str(file), "--recipe", str(recipe), "--seconds", "2", "--json")
    assert said.code == 0, said.out + said.err
    return said.json


def test_it_gets_the_process_of_its_class(files):
    file, recipe, title = files
    plan = planned(file, recipe)
    assert plan["batches"][0]["product"] == title
    assert {load["process_min"] for load in plan["loads"]} == {10}
    assert any("keeper's own and untested" in c["text"] for c in plan["cautions"])


def test_without_its_file_it_is_not_known(files):
    file, _, _ = files
    assert run("plan", str(file), "--seconds", "1", "--json").code == 3


def test_what_no_process_covers_is_kept_cold(files, tmp_path):
    file, recipe, _ = files
    sweet = tmp_path / "honey.toml"
    text = recipe.read_text(encoding="utf-8").replace('"sugar"', '"honey"')
    sweet.write_text(text, encoding="utf-8")
    plan = planned(file, sweet)
    assert plan["loads"] == []
    assert plan["batches"][0]["keeping"] == "kept in the refrigerator"
    assert any("honey" in c["text"].lower() for c in plan["cautions"])

"""``stillroom recipe`` at the terminal."""

import json
from pathlib import Path

import pytest

from tests.cli.running import run

PAGE = """<html><script type="application/ld+json">{"@type": "Recipe",
"name": "Invented plum jam", "recipeIngredient": ["6 cups crushed plums",
"1 (1.75 oz) box powdered pectin", "8 cups sugar", "a little salt"]}</script></html>"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "plum.toml"
    assert run("recipe", "new", str(path)).code == 0
    return path


def test_new_writes_a_recipe_that_can_be_checked_and_leaves_it_alone(file):
    before = file.read_text()
    again = run("recipe", "new", str(file))
    assert again.code == 2
    assert "was left as it is" in again.err
    assert file.read_text() == before


def test_check_gives_the_process_of_the_class_with_its_caution(file):
    said = run("recipe", "check", str(file), "--elevation", "2150ft")
    assert said.code == 0
    assert "10 min in a boiling-water canner" in said.out
    assert "untested" in said.out
    assert "an estimate" in said.out


def test_check_without_an_elevation_gives_no_minutes(file):
    said = run("recipe", "check", str(file), "--json").json
    assert said["answer"] == "process"
    assert said["process"] is None
    assert said["product"] == "plum jam"


def test_check_as_json_is_the_contract_of_the_docs(file):
    said = run("recipe", "check", str(file), "--elevation", "655m", "--json").json
    assert list(said) == [
        *("title", "kind", "jar", "answer", "product", "headspace_in", "process"),
        *("expected", "reasons", "questions", "storage", "cautions"),
        *("ingredients", "evidence"),
    ]
    assert said["process"]["minutes"] == 10
    assert said["ingredients"][1]["mass_g"] == 49.6
    docs = (Path(__file__).parents[2] / "docs" / "cli.md").read_text(encoding="utf-8")
    section = docs.split("## `stillroom recipe")[1].split("\n## ")[0]
    assert all(f"`{key}`" in section for key in said)


def test_a_quart_is_stored_cold_and_says_so(file):
    said = run("recipe", "check", str(file), "--jar", "quart")
    assert said.code == 0
    assert "Stored cold" in said.out
    assert "quart jars" in said.out
    body = run("recipe", "check", str(file), "--jar", "quart", "--json").json
    assert body["answer"] == "cold"
    assert body["storage"]["text"].startswith("Refrigerate or freeze")


def test_onion_is_stored_cold_with_its_reason(file):
    more = '\n[[ingredients]]\nis = "red onion"\nquantity = "1 cup"\n'
    file.write_text(file.read_text() + more)
    body = run("recipe", "check", str(file), "--json").json
    assert body["answer"] == "cold"
    assert "low-acid" in body["reasons"][0]["reason"]
    assert body["reasons"][0]["source"]


def test_what_is_asked_has_its_line_and_code_2(file):
    text = file.read_text().replace('"8 cups"', '"a lot"')
    file.write_text(text)
    line = text[: text.index('"a lot"')].count("\n") - 1
    said = run("recipe", "check", str(file))
    assert said.code == 2
    assert f"line {line}, ingredients[3]: how much sugar?" in " ".join(said.out.split())
    body = run("recipe", "check", str(file), "--json")
    assert (body.code, body.json["answer"]) == (2, "asked")
    assert body.json["questions"][0]["line"] == line


def test_faults_of_the_file_come_with_line_and_key(file):
    file.write_text(file.read_text().replace('kind = "jam" ', 'kind = "soup"'))
    said = run("recipe", "check", str(file))
    assert said.code == 2
    assert "line 7, recipe.kind" in said.err


def test_a_page_is_imported_and_what_is_open_is_asked(tmp_path):
    page, out = tmp_path / "page.html", tmp_path / "out.toml"
    page.write_text(PAGE)
    said = run("recipe", "import", str(page), "--out", str(out))
    assert said.code == 0
    assert "certain: a little salt" in " ".join(said.out.split())
    assert "No process comes with a page" in said.out
    assert run("recipe", "check", str(out)).code == 2
    again = run("recipe", "import", str(page), "--out", str(out))
    assert again.code == 2


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"\xff\xfe\x00\x01", "no recipe in it"),
        (b"x" * 10_000_000, "at most 1 MB"),
        (None, "there is no file"),
    ],
)
def test_a_page_that_is_none_is_named(tmp_path, content, what):
    page = tmp_path / "page.html"
    if content is not None:
        page.write_bytes(content)
    said = run("recipe", "import", str(page), "--out", str(tmp_path / "o.toml"))
    assert said.code == 2
    assert what in said.err
    assert not (tmp_path / "o.toml").exists()


def test_own_and_tested_recipes_are_exported(file, tmp_path):
    own, tested = tmp_path / "own.json", tmp_path / "tested.json"
    assert run("recipe", "export", str(file), "--out", str(own)).code == 0
    assert run("recipe", "export", "plum jelly", "--out", str(tested)).code == 0
    assert json.loads(own.read_text())["name"] == "My plum jam"
    assert "isBasedOn" in json.loads(tested.read_text())
    back = tmp_path / "back.toml"
    assert run("recipe", "import", str(own), "--out", str(back)).code == 0
    assert "8 cups" in back.read_text()


def test_a_product_without_a_recipe_is_refused(tmp_path):
    said = run("recipe", "export", "pumpkin butter", "--out", str(tmp_path / "x.json"))
    assert said.code == 3
    assert not (tmp_path / "x.json").exists()


def test_a_place_that_cannot_be_written_is_named(tmp_path):
    said = run("recipe", "new", str(tmp_path / "nowhere" / "r.toml"))
    assert said.code == 2
    assert "cannot be written" in said.err


def test_a_recipe_that_is_written_in_litres_is_weighed_in_grams(file):
    """ "1.5 L of plums" weighed 3 lb 4 oz."""
    in_cups = run("recipe", "check", str(file)).out
    assert "3 lb 8 oz" in in_cups
    text = file.read_text().replace('"6 cups"', '"1,42 l"')
    file.write_text(text.replace('"8 cups"', '"1.6 kg"'))
    out = run("recipe", "check", str(file)).out
    measured = out[out.index("Measured") : out.index("Why")]
    assert " lb" not in measured
    assert "1.6 kg" in measured
    assert "50 g" in measured

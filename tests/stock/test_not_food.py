"""What is never eaten: lye, soap, lotion; and what is fresh comes first."""

import datetime as dt
import json

import pytest
from starlette.testclient import TestClient

from stillroom.records.days import open_records
from stillroom.stock.events import Kind, Way
from stillroom.stock.first import use_first
from stillroom.stock.not_food import is_caustic, is_never_eaten
from stillroom.stock.on_hand import on_hand
from stillroom.stock.sentence import propose
from stillroom.web.app import build_app
from tests.cli.running import run
from tests.stock.kitchen import Farm


@pytest.mark.parametrize(
    "what",
    [
        *("lye", "lye solution", "food-grade lye", "Lye flakes", "sodium hydroxide"),
        *("lye 50% solution", "lye 100%", "lye, 99 percent pure"),
        *("lard soap", "30 bars soap", "hand cream", "lip balm", "lavender oil soap"),
    ],
)
def test_what_is_never_eaten_is_known_by_its_name(what):
    assert is_never_eaten(what)


@pytest.mark.parametrize(
    "what",
    [
        *("apple butter", "lemon balm jelly", "cream", "ice cream", "lye hominy"),
        *("soapwort syrup", "lard", "olive oil", "plum jelly", "bath buns"),
    ],
)
def test_food_is_not_taken_for_it(what):
    assert not is_never_eaten(what)


def test_soap_is_not_caustic_and_lye_is():
    assert is_caustic("lye")
    assert is_caustic("caustic soda")
    assert is_caustic("lye 50 % solution")
    assert not is_caustic("lye hominy 5 lb")
    assert not is_caustic("lard soap")


@pytest.mark.parametrize(
    ("sentence", "some"),
    [
        ("5 kg lye, shed", "1 kg"),
        ("500 ml lye solution, refrigerator", "100 ml"),
        ("30 pieces lard soap, attic", "1"),
        ("3 half-pints hand cream, pantry, 1 November 2026", "1"),
    ],
)
def test_it_is_on_no_list_of_food_has_no_life_and_is_not_eaten(sentence, some):
    farm = Farm()
    code = farm.add(sentence)
    assert use_first(farm.stock, farm.at) == ()
    (row,) = on_hand(farm.stock)
    assert row.keeps.until is None
    assert "is no food" in row.keeps.words
    for way in (Way.EATEN, Way.TASTED):
        assert "is no food" in str(farm.take(code, some, way=way))
    assert farm.take(code, some, way=Way.DRAWN) is None


def test_the_cautions_for_lye_stand_where_it_is_booked_and_whose_they_are():
    said = propose("5 kg lye, shed", today=dt.date(2026, 11, 25))
    assert said.thing is not None
    assert said.thing.kind is Kind.BOUGHT
    (remark,) = said.remarks
    assert "never vinegar" in remark
    assert "New Jersey" in remark
    assert propose("5 kg sugar, shed", today=dt.date(2026, 11, 25)).remarks == ()


def test_fresh_food_without_a_printed_life_is_looked_at_today(tmp_path):
    db = str(tmp_path / "s.db")
    for what in (
        "10 lb strawberries, refrigerator, 19 June 2026",
        "5 kg lye, shed",
        "6 half-pints plum jelly, pantry, September 2025",
    ):
        run("stock", "add", what, "--yes", "--db", db)
    said = run("stock", "soon", "--db", db).out
    assert said.index("Look at it today") < said.index("strawberries")
    assert said.index("strawberries") < said.index("plum jelly")
    assert "lye" not in said
    with open_records(tmp_path / "s.db") as records:
        pages = TestClient(build_app(None, records=records))
        pages.base_url = "http://127.0.0.1"
        shown = pages.get("/stock").text
        assert "Look at today:" in shown
        lye = run("stock", "--db", db, "--json").out
        code = next(
            row["lot"] for row in json.loads(lye)["on_hand"] if row["what"] == "lye"
        )
        assert "never vinegar" in pages.get(f"/stock/lot/{code}").text
        entry = shown.split(f'id="{code}-')[1].split("</details>")[0]
        assert 'value="drawn"' in entry
        assert 'value="eaten"' not in entry
        assert 'value="tasted"' not in entry

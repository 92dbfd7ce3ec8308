"""Sheets of the stock: what they say, and that any typed words become a PDF."""

import datetime as dt
import subprocess
from pathlib import Path

import pytest

from stillroom.paper.stock_sheets import (
    RULES,
    one_step_pdf,
    one_step_rows,
    recall_pdf,
    recall_rows,
    use_first_pdf,
    use_first_rows,
)
from stillroom.stock.accounts import one_step, recall_sheet
from stillroom.stock.events import Way
from stillroom.stock.first import use_first
from tests.programs import pdf_to_text
from tests.stock.kitchen import Farm

TO_TEXT = pdf_to_text()


@pytest.fixture
def farm() -> Farm:
    farm = Farm()
    farm.add("3 bags plum juice, 5 cups each, freezer 2, June, from Orchard Row")
    juice = farm.last
    farm.made("8 half-pints plum jelly, pantry", (juice, "5 cups"), load=1)
    farm.later(25)
    farm.check(farm.last, 8)
    farm.take(farm.last, "2", Way.SOLD, to="Inn at the #bridge [*_$")
    return farm


@pytest.mark.parametrize("page", ["us-letter", "a4"])
@pytest.mark.parametrize("make", [recall_pdf, one_step_pdf])
def test_a_lot_becomes_a_pdf_whatever_was_typed(farm, make, page):
    made = make(farm.stock, farm.last, farm.at, page=page)
    assert made.startswith(b"%PDF")


def test_the_list_becomes_a_pdf_with_and_without_jars(farm):
    assert use_first_pdf(farm.stock, farm.at).startswith(b"%PDF")
    assert use_first_pdf(Farm().stock, farm.at, page="a4").startswith(b"%PDF")


def test_the_list_says_quality_and_no_other_word(farm):
    rows = use_first_rows(use_first(farm.stock, farm.at), farm.at)
    assert "quality" in rows["quality"]
    assert "safe" not in str(rows).lower()
    places = {line["where"] for line in rows["lines"]}
    assert places == {"pantry", "freezer 2"}


def test_the_recall_of_jars_that_are_not_acid_says_how_they_are_discarded(farm):
    farm.made("9 pints green beans, pantry", food="vegetable", process_min=None)
    farm.recall(farm.last, "too low a pressure")
    rows = recall_rows(recall_sheet(farm.stock, farm.last), farm.stock, farm.at)
    assert rows["untasted"].startswith("Taste none of it")
    assert "Discard it untasted, jars and all" in rows["untasted"]
    assert "USDA Complete Guide Guide 1" in rows["untasted"]
    assert recall_pdf(farm.stock, farm.last, farm.at).startswith(b"%PDF")


def test_the_recall_says_what_where_and_who(farm):
    farm.recall(farm.last, "soft lids")
    rows = recall_rows(recall_sheet(farm.stock, farm.last), farm.stock, farm.at)
    assert rows["why"] == "soft lids"
    assert rows["untasted"] == ""  # jelly, whatever its lids
    assert rows["lots"][0]["sum"].endswith("all accounted for")
    assert [line["place"] for line in rows["shelf"]] == ["pantry"]
    assert [line["whom"] for line in rows["told"]] == ["Inn at the #bridge [*_$"]
    assert [line["whom"] for line in rows["suppliers"]] == ["Orchard Row"]
    assert recall_pdf(farm.stock, farm.last, farm.at).startswith(b"%PDF")


def test_the_step_sheet_names_the_rules_and_gives_no_advice(farm):
    rows = one_step_rows(one_step(farm.stock, farm.last, dt.UTC), farm.at)
    assert "178/2002" in rows["rules"][0]["name"]
    assert len(rows["rules"]) == len(RULES) == 3
    assert "ask your food authority" in rows["advice"]
    assert rows["back"][0]["whom"] == "Orchard Row"
    assert rows["forward"][0]["whom"].startswith("Inn")


def words_of(pdf: bytes, tmp_path: Path) -> str:
    file = tmp_path / "sheet.pdf"
    file.write_bytes(pdf)
    done = subprocess.run([TO_TEXT, file, "-"], capture_output=True, check=True)
    return " ".join(done.stdout.decode().split())


@pytest.mark.skipif(TO_TEXT is None, reason="poppler's pdftotext is not here")
@pytest.mark.parametrize("invented", [True, False])
def test_a_sheet_of_a_record_that_is_made_up_says_so(farm, tmp_path, invented):
    said = {"invented": invented}
    sheets = (
        recall_pdf(farm.stock, farm.last, farm.at, **said),
        one_step_pdf(farm.stock, farm.last, farm.at, **said),
        use_first_pdf(farm.stock, farm.at, **said),
    )
    for sheet in sheets:
        words = words_of(sheet, tmp_path)
        # in its head, and at the foot of each page, as on the sheet of a day
        assert words.count("· an invented example") == (2 if invented else 0)

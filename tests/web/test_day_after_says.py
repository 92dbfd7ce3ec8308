"""What the page of the day after says of loads, and of jars that are gone."""

from stillroom.stock.commands import Check, Hold
from stillroom.stock.events import Doubt, Seen, Way
from stillroom.stock.lotcode import printed
from tests.web.forms import words
from tests.web.test_every_lid_sealed import farm
from tests.web.test_every_lid_sealed import open_page as pages

__all__ = ["farm", "pages"]  # fixtures


def after(client) -> str:
    return words(client.get("/stock/after").text)


def test_jars_that_were_canned_without_a_number_of_a_load_have_seals_too(pages, farm):
    farm.made("4 pints pear jam, pantry", food="jam", out_at="08:30")
    client, _ = pages(20)
    assert "3 loads want looking at. Seals 12 to 24 h after the jars" in after(client)


def test_what_saw_no_canner_is_named_beside_the_loads(pages, farm):
    farm.made("4 pints berry spread, shelf", food="jam", canned=False)
    client, _ = pages(20)
    page = after(client)
    assert "2 loads, and what saw no canner, want looking at. Seals 12 to" in page


def sold_before_the_doubt(farm, number):
    """Eight jars were good; so many were sold, and then the water was found low."""
    code = next(iter(farm.stock.lots))
    farm.later(25)
    farm.do(Check(lot=code, good=8, failed=0, seen=Seen.SET, at=farm.at))
    assert farm.take(code, number, Way.SOLD, to="stand") is None
    farm.do(Hold(lot=code, doubt=Doubt.WATER_LOW, at=farm.at))
    return code


def test_jars_that_were_sold_before_the_doubt_lead_to_the_recall_sheet(pages, farm):
    code = sold_before_the_doubt(farm, "2")
    client, _ = pages(2)
    page = client.get("/stock/after").text
    assert "2 half-pints of it went to others already." in words(page)
    assert f'href="/stock/recall/{printed(code)}">the recall sheet' in page


def test_jars_in_doubt_that_are_all_sold_lead_to_the_recall_sheet(pages, farm):
    code = sold_before_the_doubt(farm, "8")
    client, _ = pages(2)
    page = client.get("/stock/after").text
    of_lot = words(page[page.index(f'id="{printed(code)}"') :].split("</section>")[0])
    assert "1 load that is in doubt is with others: call them." in words(page)
    assert "None of it is here any more." in of_lot
    assert "8 half-pints of it went to others already." in of_lot
    assert f'href="/stock/recall/{printed(code)}">the recall sheet' in page
    assert "no place" not in of_lot
    assert "discarded" not in of_lot
    assert "Something was wrong" not in of_lot
    assert client.get(f"/stock/recall/{code}").status_code == 200

"""The day after and a lot on paper: what it is of stands there, and no key does."""

from collections.abc import Callable

from playwright.sync_api import Page, expect

from stillroom.stock.lotcode import printed
from tests.web.conftest import served
from tests.web.test_every_lid_sealed import farm
from tests.web.test_every_lid_sealed import open_page as pages

__all__ = ["farm", "pages"]  # fixtures


def test_each_lot_is_named_where_the_day_after_is_pinned_up(
    pages, farm, open_page: Callable[..., Page]
):
    """The heading is a link too, and paper had no links: nobody knew which lot."""
    client, _ = pages(20)
    with served(client.app) as address:
        page = open_page(760, 1000)
        page.emulate_media(media="print")
        page.goto(f"{address}/stock/after")
        for code in farm.stock.lots:
            expect(page.get_by_text(printed(code), exact=True)).to_be_visible()
        expect(page.get_by_text("Plum jam")).to_be_visible()
        for no_paper in ("Not all of them", "Something was wrong with its process"):
            expect(page.get_by_text(no_paper).first).to_be_hidden()
        expect(page.get_by_role("button").first).to_be_hidden()


def test_the_paper_of_a_lot_names_what_stood_in_the_canner_with_it(
    pages, farm, open_page: Callable[..., Page]
):
    jelly, jam, _ = farm.stock.lots
    client, _ = pages(20)
    with served(client.app) as address:
        page = open_page(760, 1000)
        page.emulate_media(media="print")
        page.goto(f"{address}/stock/lot/{printed(jelly)}")
        expect(page.get_by_text(printed(jam), exact=True)).to_be_visible()


def test_each_look_has_a_box_to_tick_on_paper_and_none_on_the_screen(
    pages, farm, open_page: Callable[..., Page]
):
    client, _ = pages(20)
    with served(client.app) as address:
        page = open_page(760, 1000)
        page.goto(f"{address}/stock/after")
        drawn = "all => all.map(one => getComputedStyle(one, '::before').content)"
        on_screen = page.locator(".box").evaluate_all(drawn)
        expect(page.locator(".on-paper").first).to_be_hidden()
        page.emulate_media(media="print")
        on_paper = page.locator(".box").evaluate_all(drawn)
        assert len(on_paper) >= 2 * len(farm.stock.lots)
        assert set(on_screen) == {"none"}
        assert set(on_paper) == {'""'}
        expect(page.locator(".on-paper").first).to_be_visible()
        expect(page.locator(".on-paper")).to_have_count(len(farm.stock.lots))

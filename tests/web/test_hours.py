"""The list of a day, hour by hour, and how a phone folds it."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from stillroom.planning.words.entries import Entry, Ink
from stillroom.planning.words.sheet import Sheet
from stillroom.web.hours import hours_of

Open = Callable[..., Page]
PHONE = {"width": 390, "height": 844}
SHORT_PX = 8_000
"""Nobody looks for an hour in a page that is taller, by thumb."""


def entry(start: int, end: int, who: str = "Ada") -> Entry:
    return Entry(
        start_min=start, end_min=end, who=who, what="stir", detail="", ink=Ink.HANDS
    )


def a_sheet(*entries: Entry) -> Sheet:
    return Sheet(starts_at="7:30", lanes=(), entries=entries, first_min=0, last_min=300)


SHEET = a_sheet(
    entry(0, 10), entry(20, 200, "Bram"), entry(30, 31, ""), entry(95, 100)
)  # 7:30, 7:50 to 10:50, 8:00, 9:05


def test_every_entry_is_in_the_hour_of_the_clock_in_which_it_begins():
    hours = hours_of(SHEET)
    assert [hour.clock for hour in hours] == ["7:00", "8:00", "9:00"]
    assert sum((hour.entries for hour in hours), ()) == SHEET.entries
    assert [hour.hands for hour in hours] == [
        "Ada 1 step, Bram 1",
        "nobody 1 step",
        "Ada 1 step",
    ]


def test_what_was_begun_before_and_is_not_over_is_said_in_each_hour():
    assert [len(hour.under_way) for hour in hours_of(SHEET)] == [0, 1, 1]
    ends_on_the_hour = a_sheet(entry(0, 30), entry(40, 50))
    assert [len(hour.under_way) for hour in hours_of(ends_on_the_hour)] == [0, 0]


@pytest.mark.parametrize(
    ("now_min", "clock"),
    [
        (None, "7:00"),
        (-120, "7:00"),
        (29, "7:00"),
        (30, "8:00"),
        (100, "9:00"),
        (240, "9:00"),  # nothing begins in that hour: the last one that has begun
    ],
)
def test_the_present_hour_is_open_and_no_other(now_min: int | None, clock: str):
    assert [h.clock for h in hours_of(SHEET, now_min) if h.is_open] == [clock]


def test_a_day_of_nothing_has_no_hours():
    assert hours_of(a_sheet()) == ()


def test_a_phone_folds_the_day_and_reaches_all_of_it_without_script(
    open_page: Open, demo_site: str
):
    page = open_page(**PHONE, java_script_enabled=False)
    page.goto(f"{demo_site}/day")
    height = page.locator("html").bounding_box()
    assert height is not None
    assert height["height"] < SHORT_PX
    hours = page.locator("#list details.hour")
    assert hours.count() > 5
    expect(hours.nth(0).locator("tbody tr").first).to_be_visible()
    for hour in (hours.nth(1), hours.last):
        expect(hour.locator("tbody tr").first).to_be_hidden()
        hour.locator("summary").click()
        expect(hour.locator("tbody tr").first).to_be_visible()
    for name in ("#sheet", "#batches", "#loads"):
        inside = page.locator(f"{name} details > :not(summary)")
        expect(inside).to_be_hidden()
        page.locator(f"{name} details.folds > summary").click()
        expect(inside).to_be_visible()


def test_the_keys_at_the_top_of_a_phone_open_what_they_lead_to(
    open_page: Open, demo_site: str
):
    page = open_page(**PHONE)
    page.goto(f"{demo_site}/day")
    page.get_by_role("link", name="The sheet", exact=True).click()
    expect(page.locator("#drawn")).to_be_visible()
    page.locator(".whose a").last.click()  # another person's column: still open
    expect(page.locator("#drawn")).to_be_visible()


@pytest.mark.parametrize("media", ["screen", "print"])
def test_where_there_is_room_and_on_paper_nothing_is_folded(
    open_page: Open, demo_site: str, media: str
):
    width = 1280 if media == "screen" else 730  # between the margins of a letter
    page = open_page(width=width)
    page.goto(f"{demo_site}/day")
    page.emulate_media(media=media)  # type: ignore[arg-type]
    for row in (page.locator("#list tbody tr").first, page.locator("#list tr").last):
        expect(row).to_be_visible()
    expect(page.locator("#drawn")).to_be_visible()
    expect(page.locator("#loads a").last).to_be_visible()
    expect(page.locator("#list thead")).to_have_count(
        page.locator("details.hour").count()
    )
    assert sum(x.is_visible() for x in page.locator("#list thead").all()) == 1

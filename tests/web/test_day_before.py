"""The day as it was saved before: listed, and no more of it than a page holds."""

import re

from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.web.routes.day_before import MOST_SHOWN
from stillroom.web.wording import moment
from tests.web.test_day_taken_over import farm, plain

__all__ = ["farm"]  # a fixture


def listed(page: str) -> list[int]:
    return [int(n) for n in re.findall(r'name="number" value="(\d+)"', page)]


def test_the_newest_is_first_and_the_day_as_it_is_is_not_one_of_before(farm):
    days, now = farm.records.days, farm.shop.day_text()
    texts = [now + f"# note {n}\n" for n in range(3)]
    for text in (*texts, now, texts[0]):
        days.save(text, "kitchen form")
    revisions = {r.number: r.text for r in days.revisions()}
    page = farm.client.get("/day/before").text
    numbers = listed(page)
    assert numbers == sorted(numbers, reverse=True)
    assert texts[0] not in [revisions[n] for n in numbers]
    assert {now, texts[1], texts[2]} == {revisions[n] for n in numbers}
    assert "older ones are kept too" not in plain(page)


def test_it_says_when_and_why_the_day_that_stands_was_saved(farm):
    farm.records.days.save(farm.shop.day_text() + "# a note\n", "a way out")
    (*_, last) = farm.records.days.revisions()
    page = plain(farm.client.get("/day/before").text)
    said = f"The one that stands was saved {moment(last.saved_at)} (a way out)."
    assert said in page


def test_each_key_says_to_a_listener_which_day_it_goes_back_to(farm):
    days, now = farm.records.days, farm.shop.day_text()
    for n in range(3):
        days.save(now + f"# note {n}\n", f"change {n}")
    page = farm.client.get("/day/before").text
    keys = [plain(key) for key in re.findall(r"<button.*?</button>", page, re.DOTALL)]
    assert len(keys) == 3
    assert len({*keys}) == 3
    assert any("change 1" in key for key in keys)


def test_what_the_page_does_not_hold_is_counted(farm):
    """None is ever thrown away, and nobody is to think so."""
    days = farm.records.days
    for n in range(MOST_SHOWN + 3):
        days.save(new_day_text() + f"# note {n}\n", "kitchen form")
    older = {r.text for r in days.revisions()[:-1]}
    page = farm.client.get("/day/before").text
    numbers = listed(page)
    assert len(numbers) == MOST_SHOWN
    assert numbers[0] == days.revisions()[-2].number
    left = len(older) - MOST_SHOWN
    assert f"{left} older ones are kept too" in plain(page)


def test_the_days_date_is_told_in_words_as_on_every_page(farm):
    now = farm.shop.day_text()
    assert "date = 2026-08-22" in now
    farm.records.days.save(now.replace("2026-08-22", "2026-08-29"), "kitchen form")
    page = plain(farm.client.get("/day/before").text)
    assert "The date of the day 22 August 2026 29 August 2026" in page
    assert not re.search(r"\d{4}-\d\d-\d\d", page)

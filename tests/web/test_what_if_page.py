"""What if, on a page: changes from a list of keys, beside the day as it is."""

import re
from collections.abc import Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from html import unescape

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.change_keys import in_words
from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.web.app import build_app
from stillroom.web.routes import what_if as routes
from stillroom.web.shop import Shop
from tests.web.conftest import MemoryStore, remembered
from tests.web.forms import scripts_in


class Watched(Executor):
    """Runs what it is asked in a thread, and counts."""

    def __init__(self) -> None:
        self.threads = ThreadPoolExecutor(2)
        self.asked: list[str] = []

    def submit(self, fn, /, *args, **kwargs):
        self.asked.append(args[0])
        return self.threads.submit(fn, *args, **kwargs)


@pytest.fixture
def pages(monkeypatch: pytest.MonkeyPatch) -> Iterator[tuple[TestClient, Watched]]:
    monkeypatch.setattr(routes, "SECONDS", 0.5)
    shop = Shop(MemoryStore(new_day_text()), seconds=0.5, planner=remembered)
    beside = Watched()
    app = build_app(shop, beside=beside)
    yield TestClient(app, base_url="http://localhost"), beside
    shop.plan_within(60)
    beside.threads.shutdown()


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def keys_of(html: str) -> list[str]:
    return [unescape(k) for k in re.findall(r'<option value="([^"]+)"', html)]


def test_it_is_linked_from_the_day_and_asks_without_planning(pages):
    client, beside = pages
    client.app.state.shop.plan_within(60)
    assert 'href="/what-if"' in client.get("/day").text
    page = client.get("/what-if")
    assert page.status_code == 200
    assert scripts_in(page.text) == []
    assert " style=" not in page.text
    assert any(key.startswith("people.") for key in keys_of(page.text))
    assert beside.asked == []


def test_two_days_are_planned_beside_the_day_as_it_is(pages):
    client, beside = pages
    client.app.state.shop.plan_within(60)
    keys = keys_of(client.get("/what-if").text)
    goes = next(key for key in keys if key.endswith(".goes"))
    answer = client.get(
        "/what-if",
        params={"key-1": goes, "value-1": "21:30", "other-2": "kitchen.counter=200"},
    )
    assert answer.status_code == 200
    # the day as it is has its plan already
    assert beside.asked == [f"{goes}=21:30", "kitchen.counter=200"]
    text = plain(answer.text)
    assert "the day is done by " in text
    person = goes.split(".")[1]
    assert f"{person} goes at 21:30" in text
    assert "as it is" in text
    assert 'value="21:30"' in answer.text


def test_a_change_that_cannot_be_read_is_said_beside_it(pages):
    client, beside = pages
    keys = keys_of(client.get("/what-if").text)
    answer = client.get(
        "/what-if", params={"key-1": keys[0], "value-1": "whenever", "key-2": keys[1]}
    )
    assert answer.status_code == 400
    assert 'id="fault-2"' in answer.text
    assert beside.asked == []
    comes = next(key for key in keys if key.endswith(".comes"))
    answer = client.get("/what-if", params={"key-1": comes, "value-1": "whenever"})
    said = plain(answer.text)
    assert f'When {comes.split(".")[1]} comes: "whenever" is no clock time' in said
    assert "people[" not in said  # no place of the file, but what the keeper calls it
    answer = client.get("/what-if", params={"key-1": keys[0], "value-1": "whenever"})
    assert answer.status_code == 400
    assert 'id="fault-1"' in answer.text
    assert "whenever" in plain(answer.text)
    assert beside.asked == []


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("people.Keeper.{x}=3", "{x}"),
        ("day.{x}=3", "{x}"),
        ("people.Keeper.a b{=1", "A b{ of Keeper"),
        (f"day.goes={'[' * 1300}", "goes"),
    ],
)
def test_braces_and_brackets_are_a_fault_beside_their_day(pages, typed, said):
    client, beside = pages
    answer = client.get("/what-if", params={"other-1": typed})
    assert answer.status_code == 400
    fault = plain(re.findall(r'id="fault-1">(.*?)</p>', answer.text, re.S)[0])
    assert said in fault
    assert not beside.asked


def test_a_change_that_is_too_long_is_refused_and_loses_no_end(pages):
    client, beside = pages
    long = "; ".join(["kitchen.counter=120"] * 100)
    answer = client.get("/what-if", params={"other-1": long})
    assert answer.status_code == 400
    assert "letters are too many; at most 2000" in plain(answer.text)
    assert not beside.asked


def test_a_name_of_many_brackets_is_a_name():
    day = read_day(new_day_text())
    name = "[" * 1300
    assert in_words(day, f"day.name={name}") == f"the name of the day is {name}"


def test_a_key_with_braces_is_said_as_it_was_typed():
    day = read_day(new_day_text())
    assert in_words(day, "day.{x}=3") == "the {x} of the day is 3"
    assert in_words(day, "day.{x}=nothing") == "nothing is said of the {x} of the day"
    assert in_words(day, "people.Keeper.{x}=3") == "the {x} of Keeper is 3"


def test_a_value_of_nothing_that_changes_is_asked_about_and_stands_there(pages):
    client, beside = pages
    answer = client.get("/what-if", params={"value-2": "<b>19:00</b>"})
    assert answer.status_code == 400
    assert 'id="fault-2"' in answer.text
    assert "Say what changes" in plain(answer.text)
    assert 'name="value-2" value="&lt;b&gt;19:00&lt;/b&gt;"' in answer.text
    assert beside.asked == []


def test_what_is_offered_reads_as_one_says_it():
    from stillroom.planning.day_file.change_keys import change_keys
    from stillroom.planning.day_file.dayfile import demo_day_text, read_day

    said = [key.says for key in change_keys(read_day(demo_day_text()))]
    assert "another pot: like tall steel pot" in said
    assert "another burner: like front left" in said
    assert "another helper: like Tilda" in said
    assert "Pip is not there: nothing to fill in" in said


def test_every_key_that_is_offered_can_be_used(pages):
    from stillroom.planning.day_file.change_keys import change_keys
    from stillroom.planning.day_file.day_changes import changed_day_text
    from stillroom.planning.day_file.dayfile import demo_day_text, read_day

    for key in change_keys(read_day(demo_day_text())):
        assert changed_day_text(demo_day_text(), f"{key.path}={key.example}")


def test_one_more_of_a_kind_is_one_more_however_often_it_is_taken():
    from stillroom.planning.day_file.change_keys import change_keys, in_words
    from stillroom.planning.day_file.day_changes import changed_day_text
    from stillroom.planning.day_file.dayfile import demo_day_text, read_day

    def counts(text: str) -> list[int]:
        day = read_day(text)
        of = day.kitchen
        things = (day.people, of.burners, of.canners, of.pots)
        return [len(each) for each in things]

    text = demo_day_text()
    was = counts(text)
    for again in (1, 2, 3):
        for key in change_keys(read_day(text)):
            if not key.says.startswith("another "):
                continue
            change = f"{key.path}={key.example}"
            said = in_words(read_day(text), change)
            assert said.startswith(("there is another ", "there is one more helper"))
            assert said.endswith(f" {key.example}")
            text = changed_day_text(text, change)
        assert counts(text) == [number + again for number in was]


def test_who_is_not_there_needs_no_word_and_a_copy_only_its_name(pages):
    client, _ = pages
    html = client.get("/what-if").text
    person = next(k for k in keys_of(html) if re.fullmatch(r"people\.[^.]+", k))
    answer = client.get("/what-if", params={"key-1": person, "value-1": ""})
    # the only one there is: it is understood, and refused for what it would come to
    assert "write at least one person" in plain(answer.text)
    pot = re.search(r"another pot: like ([^<(]+)", html)
    assert pot is not None
    answer = client.get(
        "/what-if",
        params={"key-1": "kitchen.pots.another", "value-1": unescape(pot[1]).strip()},
    )
    assert answer.status_code == 200
    assert "there is another pot like" in plain(answer.text)


def test_another_canner_needs_no_word_and_its_hint_can_be_typed(pages):
    client, _ = pages
    html = client.get("/what-if").text
    label = re.search(r"another canner: (like [^<(]+)", html)
    assert label is not None
    like = unescape(label[1]).strip()
    for typed in ("", like, f'"{like}"', f"another canner: {like}"):
        answer = client.get(
            "/what-if",
            params={"key-1": "kitchen.canners.another", "value-1": typed},
        )
        assert answer.status_code == 200, typed
        assert f"there is another canner {like}" in plain(answer.text)
    # beside what was chosen stands an example of it, and no hour
    assert f'placeholder="{like}"' in answer.text


def test_a_change_of_any_place_is_said_without_its_key(pages):
    client, _ = pages
    said = client.get("/what-if", params={"other-1": "day.done_by=17:00"}).text
    assert "the day is to be done by 17:00" in plain(said)
    assert "day.done_by is" not in plain(said)

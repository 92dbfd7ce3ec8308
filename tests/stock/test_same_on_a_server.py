"""Every command and page of the stock says the same on a file and on a server."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.cli.commands.stock import command as stock
from stillroom.records.days import open_records
from stillroom.running.clock import WallClock
from stillroom.web.app import build_app
from tests.cli.running import Said, run
from tests.conftest import empty_database
from tests.web.conftest import ADDRESS
from tests.web.test_stock import Clock, Shop

CODE = re.compile(r"L\d\d[A-N]\d\d-\w+")


def lot(said: Said) -> str:
    """Return the last lot code that a command printed."""
    return CODE.findall(said.out)[-1]


def told(where: str, folder: Path) -> Iterator[tuple[str, Said]]:
    """Do everything that the stock does at the terminal; yield what was said."""

    def do(name: str, *words: str) -> Said:
        found = run(
            *(["stock"] if name == "" else ["stock", name]), *words, "--db", where
        )
        done.append((name, found))
        return found

    done: list[tuple[str, Said]] = []
    do("")
    plums = lot(do("add", "25 lb plums, cellar, from Orchard Row", "--yes"))
    csv = folder / "in.csv"
    csv.write_text("what,quantity,place\nsugar,5 lb,pantry\nlids,40,pantry\n")
    do("add", "--csv", str(csv), "--yes")
    beans = lot(do("add", "6 pint jars green beans, pantry", "--yes"))
    how = ("--canner", "dial-gauge", "--gauge", "11 psi", "--elevation", "300ft")
    jelly = lot(
        do(
            *("made", "8 half-pints plum jelly, pantry", "--from", f"{plums}=4 lb"),
            *("--from", "sugar=2 lb", "--load", "3", "--process", "10", "--yes"),
            *("--elevation", "300ft", "--on", "today", "--out", "00:01"),
        )
    )
    for name, *words in (
        ("check", jelly, "--seals", "7 good 1 failed", "--set", "set"),
        ("check", jelly),
        ("out", jelly, "1", "--as", "eaten"),
        ("out", jelly, "1", "--as", "sold", "--to", "Bram"),
        ("move", jelly, "stand", "--quantity", "2"),
        ("count", "sugar", "2 lb", "--why", "spilt"),
        ("use", "plums", "1 lb"),
        ("use", "plums", "100 lb"),
        ("use", "plumz", "1 lb"),
        ("mend", "7", "--why", "it was not sold"),
        ("soon",),
        ("after",),
        ("first",),
        ("cover",),
        ("jars",),
        ("note", jelly, "tart, sets well", "--about", "tasting"),
        ("jars",),
        ("note", jelly, "clear and firm", "--about", "tasting"),
        ("label", jelly),
        ("process", jelly, "--began", "00:01", "--ended", "00:12", "--who", "Jory"),
        ("complete", jelly, "--elevation", "300ft"),
        ("put-up", beans, "--process", "20", *how, "--pack", "raw", "--who", "Ida"),
        ("first",),
        ("gauge", jelly, "11 psi", "--who", "Jory"),
        ("cold", jelly, "--as", "freezer", "--who", "Jory"),
        ("hold", jelly),
        ("steps", jelly),
        ("trace", jelly),
        ("trace", plums, "--json"),
        ("recall", plums, "--why", "soft lids"),
        ("history",),
        ("history", jelly),
        ("to-day",),
        ("", "--json"),
        ("",),
    ):
        do(name, *words)
    yield from done


@pytest.fixture
def both(address: str, tmp_path: Path) -> tuple[str, str]:
    file = tmp_path / "farm.db"
    open_records(file).close()  # asking for a file that is not there makes none
    return str(file), empty_database(address)


@pytest.mark.parametrize("hour", [0, 12, 23])
def test_every_command_says_the_same(
    both: tuple[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, hour: int
):
    """By one clock, which stands: by two that go on, a minute may pass in between."""
    at = WallClock().now().replace(hour=hour, minute=16, second=59)
    monkeypatch.setattr(WallClock, "now", lambda _: at)
    file, server = (tuple(told(where, tmp_path)) for where in both)
    assert {name for name, _ in file} == {"", *stock.commands}
    for (name, one), (_, other) in zip(file, server, strict=True):
        assert one.code == other.code, (name, other.err)
        assert one.out == other.out, name
        assert one.err == other.err, name
    assert sum(said.code == 0 for _, said in file) > 20
    for where in both:
        assert run("check", "--db", where).code == 0


def test_each_is_copied_and_each_copy_comes_back_into_the_other(
    both: tuple[str, str], tmp_path: Path, address: str
):
    events = set()
    for where in both:
        booked = sum(said.code == 0 for _, said in told(where, tmp_path))
        assert booked > 20
        made = run("backup", "--db", where, "--to", str(tmp_path / "to"), "--json")
        assert (made.code, made.err) == (0, "")
        other = str(tmp_path / "b.db") if where == both[1] else empty_database(address)
        back = run("restore", made.json["file"], "--db", other, "--json")
        assert (back.code, back.err) == (0, "")
        for name in ("events", "streams", "fingerprint"):
            assert made.json[name] == back.json[name]
        for words in (("stock",), ("stock", "history"), ("stock", "first")):
            here, there = (run(*words, "--db", at) for at in (where, other))
            assert here.out == there.out, words
        assert run("check", "--db", other).code == 0
        events.add(made.json["events"])
    assert len(events) == 1


def pages(where: str) -> Iterator[tuple[str, str]]:
    """Book and look on the pages; yield what they show."""
    with open_records(where) as records:
        app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
        app.state.clock = Clock()
        client = TestClient(app, base_url=ADDRESS)

        def deed(**typed: str) -> None:
            asked = client.get("/stock/ask", params=typed).text
            form = asked.split('action="/stock/book"')[1].split("</form>")[0]
            hidden = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
            assert client.post("/stock/book", data=hidden).status_code == 200

        deed(deed="add", sentence="14 bags redcurrant juice, 4 cups each, freezer 2")
        deed(deed="add", sentence="25 lb pears, cellar, from Orchard Row")
        deed(deed="move", lot="pears", to="pantry", quantity="2 lb")
        deed(deed="eaten", lot="pears", quantity="1 lb", place="cellar")
        shelf = client.get("/stock").text
        code = CODE.findall(shelf)[0]
        for page in (
            *("/stock", "/stock?booked=3", f"/stock/lot/{code}", "/stock/after"),
            *("/stock/count", "/stock/first", "/stock/cover", f"/stock/steps/{code}"),
            *(f"/stock/recall/{code}", "/stock/made", "/stock/lot/L26M25-1"),
        ):
            answer = client.get(page)
            yield page, f"{answer.status_code} {answer.text}"


def test_every_page_shows_the_same(both: tuple[str, str]):
    token = re.compile(r"[0-9a-f]{32}")
    for (page, one), (_, other) in zip(*(tuple(pages(w)) for w in both), strict=True):
        assert token.sub("", one) == token.sub("", other), page
        assert not one.startswith("500")

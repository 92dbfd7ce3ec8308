"""Every no is a page in the house's words, and tells nothing of the inside."""

from pathlib import Path

import pytest
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.testclient import TestClient

from stillroom.records.days import open_records
from stillroom.refusal import Fault, Refusal, Refused, Unreadable
from stillroom.web.app import build_app
from stillroom.web.shop import Shop


def raising(error: Exception, shop: Shop) -> TestClient:
    def page(request: Request) -> Response:
        raise error

    app = build_app(shop)
    app.router.routes.insert(0, Route("/raises", page))
    app.router.routes.insert(0, Route("/stock/raises", page))
    return TestClient(app, base_url="http://localhost", raise_server_exceptions=False)


def test_a_refusal_says_why_what_instead_and_who(shop: Shop) -> None:
    refusal = Refusal("eels do not gel", instead="smoke them", source="an old fisher")
    answer = raising(Refused(refusal), shop).get("/raises")
    assert answer.status_code == 422
    for words in ("eels do not gel", "smoke them", "an old fisher"):
        assert words in answer.text


def test_faults_are_listed_each_with_its_place(shop: Shop) -> None:
    error = Unreadable(Fault("too small", key="pots[1].volume", line=7), "and another")
    answer = raising(error, shop).get("/raises")
    assert answer.status_code == 400
    assert "line 7, pots[1].volume: too small" in answer.text
    assert "and another" in answer.text


@pytest.mark.parametrize(
    "error",
    [
        Unreadable("no picture"),
        Refused(Refusal("no such lot", instead="look", source="the record")),
    ],
)
def test_a_no_of_the_stock_leads_back_to_the_stock(
    shop: Shop, error: Exception
) -> None:
    main = raising(error, shop).get("/stock/raises").text.split("<main")[1]
    assert 'href="/stock"' in main
    assert "/kitchen" not in main
    elsewhere = raising(error, shop).get("/raises").text.split("<main")[1]
    assert 'href="/kitchen"' in elsewhere


def test_words_of_a_stranger_are_never_markup(shop: Shop) -> None:
    answer = raising(Unreadable("<script>alert(1)</script>"), shop).get("/raises")
    assert "<script>" not in answer.text
    assert "&lt;script&gt;" in answer.text


def test_a_mistake_of_our_own_tells_nothing_of_the_inside(
    shop: Shop, caplog: pytest.LogCaptureFixture
) -> None:
    answer = raising(RuntimeError("secret path"), shop).get("/raises")
    assert answer.status_code == 500
    assert "Something is wrong in the program itself" in answer.text
    assert "secret path" not in answer.text
    assert "Traceback" not in answer.text


@pytest.mark.parametrize(
    ("method", "path", "status", "words"),
    [
        ("GET", "/nothing", 404, "no such page in this house"),
        ("GET", "/batch/soup 1", 404, "has no batch called &#39;soup 1&#39;"),
        ("GET", "/load/tub/9", 404, "has no load called &#39;tub/9&#39;"),
        ("GET", "/static/none.css", 404, "no such page in this house"),
        ("DELETE", "/day", 405, "That is not done here"),
    ],
)
def test_what_is_not_there(
    client: TestClient, method: str, path: str, status: int, words: str
) -> None:
    answer = client.request(method, path)
    assert answer.status_code == status
    assert words in answer.text


def test_an_address_that_forms_are_sent_to_leads_back_to_the_page_of_the_form(
    shop: Shop, tmp_path: Path
) -> None:
    """A browser that restores its tabs asks for it with GET."""
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(shop, records=records)
        client = TestClient(app, base_url="http://localhost")
        routes = [route for route in app.routes if isinstance(route, Route)]
        read = {route.path for route in routes if "GET" in (route.methods or ())}
        sent = {r.path for r in routes if "POST" in (r.methods or ())} - read
        led = {}
        for path in sent:
            answer = client.get(path.replace("{", "").replace("}", ""))
            led[path] = (answer.history[0].status_code, answer.url.path)
        assert "/stock/made/book" in led
        assert {status for status, _ in led.values()} == {303}
        assert led["/stock/made/book"] == (303, "/stock/made")
        assert led["/stove/broke/whole"] == (303, "/stove/broke")
        assert led["/stove/done"] == (303, "/stove")
        assert led["/stock/lot/{code}/picture"] == (303, "/stock/lot/code")
        assert client.put("/stock/made/book").status_code != 303


@pytest.mark.parametrize(
    ("method", "path", "body", "status"),
    [
        ("POST", "/kitchen", b"\xff\xfe=%ff%00&day:name=%00%ff", 400),
        ("POST", "/kitchen", b"do=add+" + b"x" * 5000, 200),
        ("POST", "/kitchen", b"&".join(b"x%d=a" % i for i in range(21_000)), 400),
        ("POST", "/kitchen/file", b"", 400),
        ("POST", "/kitchen/file", b"text=x+%3D+" + b"[" * 5000, 400),
        ("POST", "/kitchen/file", b"text=%ed%a0%80", 400),
        ("GET", "/book/process?elevation=%00&product=%ff", b"", 400),
        ("GET", "/book/process?product=plum+jelly&elevation=1e400+ft", b"", 400),
        ("GET", "/day?who=%00", b"", 200),
        ("GET", "/static/%2e%2e/app.py", b"", 404),
        ("GET", "/batch/%2e%2e/%2e%2e/etc/passwd", b"", 404),
    ],
)
def test_nonsense_is_answered_in_words_and_saves_nothing(
    client: TestClient,
    shop: Shop,
    store: object,
    method: str,
    path: str,
    body: bytes,
    status: int,
) -> None:
    shop.plan_within(60)
    answer = client.request(
        method,
        path,
        content=body,
        headers={"Content-Type": "application/x-www-form-urlencoded"},
    )
    assert answer.status_code == status
    assert "<h1>" in answer.text
    assert len(store.revisions) == 1  # type: ignore[attr-defined]

"""Who may ask: each row of the gate's rule, and what every answer carries."""

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from stillroom.web.gate import LARGEST_BODY


@pytest.mark.parametrize(
    "host", ["127.0.0.1:8765", "localhost:8765", "localhost", "[::1]:8765"]
)
def test_own_names_pass(client: TestClient, host: str) -> None:
    assert client.get("/book", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    ["evil.example", "127.0.0.1.evil.example", "localhost.evil.example:8765", ""],
)
def test_a_foreign_host_is_turned_away(client: TestClient, host: str) -> None:
    answer = client.get("/day", headers={"Host": host})
    assert answer.status_code == 421
    assert "http://127.0.0.1:8765/" in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "null"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_a_foreign_page_writes_nothing(
    client: TestClient, store: object, headers: dict[str, str]
) -> None:
    answer = client.post("/kitchen/file", data={"text": "x"}, headers=headers)
    assert answer.status_code == 403
    assert "nothing was changed" in answer.text
    assert len(store.revisions) == 1  # type: ignore[attr-defined]


@pytest.mark.parametrize("site", ["cross-site", "same-site"])  # another port
@pytest.mark.parametrize("dest", ["image", "iframe", "script", "empty"])
def test_a_foreign_page_has_nothing_planned_by_loading_it(
    client: TestClient, site: str, dest: str
) -> None:
    headers = {"Sec-Fetch-Site": site, "Sec-Fetch-Dest": dest}
    answer = client.get("/what-if?other-1=kitchen.counter%3D7", headers=headers)
    assert answer.status_code == 403
    assert "page that is not ours" in answer.text


@pytest.mark.parametrize(
    ("site", "dest"),
    [
        ("cross-site", "document"),  # a link in a letter
        ("same-origin", "image"),
        ("same-origin", "empty"),
        ("none", "document"),
    ],
)
def test_links_from_elsewhere_and_our_own_pages_load(
    client: TestClient, site: str, dest: str
) -> None:
    headers = {"Sec-Fetch-Site": site, "Sec-Fetch-Dest": dest}
    assert client.get("/book", headers=headers).status_code == 200


@pytest.mark.parametrize("headers", [{}, {"Origin": "http://127.0.0.1:8765"}])
def test_own_pages_and_command_lines_may_write(
    client: TestClient, headers: dict[str, str]
) -> None:
    answer = client.post(
        "/kitchen", data={"do": "add wants"}, headers=headers, follow_redirects=False
    )
    assert answer.status_code == 200


def test_too_much_is_refused_by_its_stated_length(client: TestClient) -> None:
    answer = client.post("/kitchen/file", content=b"x" * (LARGEST_BODY + 1))
    assert answer.status_code == 413
    assert "2 MB" in answer.text


def test_too_much_is_refused_while_it_comes_in(client: TestClient) -> None:
    def chunks() -> Iterator[bytes]:  # no Content-Length: the stream is counted
        yield b"text="
        for _ in range(30):
            yield b"x" * 100_000

    answer = client.post(
        "/kitchen/file",
        content=chunks(),
        headers={"Content-Type": "application/x-www-form-urlencoded"},
    )
    assert answer.status_code == 413


@pytest.mark.parametrize("path", ["/day", "/book", "/nothing", "/static/house.css"])
def test_every_answer_says_what_a_page_may_load(client: TestClient, path: str) -> None:
    headers = client.get(path).headers
    policy = headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"

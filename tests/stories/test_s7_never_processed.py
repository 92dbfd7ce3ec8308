"""
Fifteen half-pints of gooseberry jam, filled 21:40, found sealed at 07:15 (invented).

The ten-minute load never started. A lid that went down by itself is not a process.
"""

import pytest
from starlette.testclient import TestClient

from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.cli.running import run
from tests.web.conftest import MemoryStore
from tests.web.test_pages import plain

HOURS = 9 + 35 / 60


def asked(food: str):
    return run(
        "trouble",
        "never processed",
        "--hours",
        f"{HOURS:.2f}",
        "--food",
        food,
        "--json",
    ).json["troubles"]


def test_the_published_replies_with_sources_the_strict_one_first():
    first = asked("jam")[0]
    assert first["do"] in ("discard", "freeze")
    assert "after 2 h discard" in first["then"]
    assert first["then"].index("discard") < first["then"].index("refrigerate")
    assert "Nebraska" in first["source"]
    assert "never shelf stock, never for the stand" in first["then"]


def test_sealed_is_not_processed():
    assert "is not a process" in asked("jam")[0]["cause"]


def test_fig_or_unknown_acid_leaves_one_choice():
    for food in ("low_acid",):
        assert {t["do"] for t in asked(food)} == {"discard"}


def test_it_is_never_called_safe_nor_put_through_a_short_process():
    for food in ("jam", "low_acid"):
        for trouble in asked(food):
            assert "safe" not in trouble["then"].lower()
            assert trouble["do"] != "reprocess"


def test_the_book_has_the_jam_and_its_ten_minutes():
    """Berry jam: 9 cups fruit and 6 cups sugar; at 310 m the table prints 10 min."""
    body = run(
        "process",
        "gooseberry jam",
        "--jar",
        "half-pint",
        "--elevation",
        "310m",
        "--json",
    ).json
    assert body["minutes"] == 10


@pytest.mark.parametrize("sign", ["never processed", "canner not run"])
def test_the_page_says_the_same(sign):
    app = build_app(Shop(MemoryStore()))
    client = TestClient(app, base_url="http://localhost")
    answer = client.get("/book/trouble", params={"sign": sign, "hours": "9.6"})
    assert "is not a process" in plain(answer.text)

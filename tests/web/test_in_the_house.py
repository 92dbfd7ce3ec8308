"""A phone in the house opens the pages; the world beyond it does not."""

import os
import re
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.cli.commands.serve import say_where
from stillroom.cli.main import main
from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.refusal import Unreadable
from stillroom.web.app import build_app
from stillroom.web.in_the_house import house_address
from stillroom.web.serve import listen
from stillroom.web.shop import Shop
from tests.web.conftest import MemoryStore

AT = "192.168.7.20"

PROGRAM = """
from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.web.app import build_app
from stillroom.web.serve import serve
from stillroom.web.shop import Shop

class Store:
    def current(self): return new_day_text()
    def save(self, text, why): raise NotImplementedError

app = build_app(Shop(Store(), seconds=0.1), at="127.0.0.2")
serve(app, 0, at="127.0.0.2", ready=lambda at: print(*at, flush=True))
"""
"""127.0.0.2 stands in for an address of the house: every machine of tests has it."""


@pytest.fixture
def in_the_house() -> TestClient:
    shop = Shop(MemoryStore(new_day_text()), seconds=0.1)
    app = build_app(shop, port=8765, at=AT)
    return TestClient(app, base_url=f"http://{AT}:8765")


@pytest.mark.parametrize("said", ["192.168.1.20", "10.0.0.5", "172.20.3.4"])
def test_an_address_of_the_house_is_taken(said: str) -> None:
    assert house_address(said) == said


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("0.0.0.0", "reaches further than the house"),
        ("8.8.8.8", "reaches further than the house"),
        ("224.0.0.1", "reaches further than the house"),
        ("127.0.0.1", "this machine alone"),
        ("kitchen.example", "no address in a house's network"),
        ("192.168.1.20:8765", "no address in a house's network"),
        ("192.168.1", "no address in a house's network"),
        ("<b>", "no address in a house's network"),
    ],
)
def test_what_is_no_address_of_the_house_is_refused(said: str, why: str) -> None:
    with pytest.raises(Unreadable, match=why) as refused:
        house_address(said)
    assert "192.168.1.20" in str(refused.value) or "leave --at out" in str(
        refused.value
    )


def test_an_address_that_this_machine_does_not_have_is_said() -> None:
    with pytest.raises(Unreadable, match=r"--at: 192\.0\.2\.77 is not an address"):
        listen(0, "192.0.2.77")


def test_nothing_is_written_where_the_address_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "farm.db"
    with pytest.raises(SystemExit) as ended:
        main(["serve", "--db", str(kept), "--at", "0.0.0.0"])
    assert ended.value.code == 2
    assert "no password is asked" in capsys.readouterr().err
    assert not kept.exists()


def test_a_phone_reads_and_writes_by_that_address(in_the_house: TestClient) -> None:
    assert in_the_house.get("/book").status_code == 200
    own = {"Origin": f"http://{AT}:8765"}
    form = {"do": "add wants"}
    assert in_the_house.post("/kitchen", data=form, headers=own).status_code == 200


@pytest.mark.parametrize("host", ["evil.example", "192.168.7.21:8765"])
def test_by_any_other_name_it_is_turned_away(
    in_the_house: TestClient, host: str
) -> None:
    answer = in_the_house.get("/day", headers={"Host": host})
    assert answer.status_code == 421
    assert f"http://{AT}:8765/" in answer.text


def test_a_foreign_page_writes_nothing(in_the_house: TestClient) -> None:
    foreign = {"Origin": "http://evil.example"}
    answer = in_the_house.post("/kitchen/file", data={"text": "x"}, headers=foreign)
    assert answer.status_code == 403


def test_the_house_is_not_let_in_unasked(client: TestClient) -> None:
    answer = client.get("/day", headers={"Host": f"{AT}:8765"})
    assert answer.status_code == 421
    assert "--at" in answer.text


@pytest.mark.skipif(sys.platform != "linux", reason="127.0.0.2 is there on Linux")
def test_it_is_served_at_both_addresses_and_ends_in_order() -> None:
    with subprocess.Popen(
        [sys.executable, "-c", PROGRAM],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        try:
            addresses = process.stdout.readline().split()
            ports = [
                re.fullmatch(r"http://127\.0\.0\.[12]:(\d+)/", a) for a in addresses
            ]
            assert len({found[1] for found in ports if found}) == 1
            assert len(addresses) == 2
            for address in addresses:
                with urllib.request.urlopen(address + "book", timeout=20) as page:
                    assert b"Look a process up" in page.read()
            foreign = urllib.request.Request(
                addresses[1] + "book", headers={"Host": "evil.example"}
            )
            with pytest.raises(urllib.error.HTTPError, match="421") as turned_away:
                urllib.request.urlopen(foreign, timeout=20)
            turned_away.value.close()
            os.kill(process.pid, signal.SIGINT)
            _, err = process.communicate(timeout=20)
            assert (process.returncode, err) == (0, "")
        finally:
            process.kill()


def test_what_is_printed_says_who_may_then_write(
    capsys: pytest.CaptureFixture[str],
) -> None:
    say_where(("http://127.0.0.1:8765/", f"http://{AT}:8765/"))
    said = capsys.readouterr().out.splitlines()[-1]
    assert f"http://{AT}:8765/" in said
    assert "no password is asked" in said

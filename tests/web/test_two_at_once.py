"""
Two programs over one record, four phones and the command line, all writing at once.

Real processes, real threads, real HTTP: what was acknowledged is there once, whatever
was sent twice, cut off before its answer came, or decided on what had moved on since.
"""

import datetime as dt
import http.client
import random
import subprocess
import sys
import textwrap
import threading
import time
import uuid
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from pathlib import Path
from urllib.parse import urlencode, urlsplit

import pytest

from stillroom.records.checking import check_records
from stillroom.records.days import open_records
from stillroom.running.commands import BeginDay
from stillroom.running.events import RunLoad
from stillroom.running.handle import handle as handle_run
from stillroom.stock.commands import Receive
from stillroom.stock.handle import handle, stock_of
from tests.stock.kitchen import MORNING, thing

PROGRAM = textwrap.dedent(
    """
    import sys
    from stillroom.records.days import open_records
    from stillroom.web.app import build_app
    from stillroom.web.serve import serve

    class Shop:
        def day_text(self): return ""
        def close(self): pass

    app = build_app(Shop(), records=open_records(sys.argv[1]))
    serve(app, 0, ready=lambda at: print(at[0], flush=True))
    """
)
PHONES = 4
EACH = 60
LIDS = 5000
RUN = "run/2026-11-25"


@contextmanager
def served(file: Path) -> Iterator[str]:
    """A program of its own that serves the pages; gives host and port."""
    with subprocess.Popen(
        [sys.executable, "-c", PROGRAM, str(file)],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as process:
        assert process.stdout is not None
        try:
            yield urlsplit(process.stdout.readline().strip()).netloc
        finally:
            process.kill()


class Phone:
    """One phone with a poor connection; a retry may come to the other program."""

    def __init__(self, seed: int, *hosts: str) -> None:
        self.hosts, self.draw = hosts, random.Random(seed)

    def post(self, path: str, form: dict[str, str]) -> tuple[int, str]:
        line = http.client.HTTPConnection(self.draw.choice(self.hosts), timeout=30)
        try:
            kind = {"Content-Type": "application/x-www-form-urlencoded"}
            line.request("POST", path, urlencode(form), kind)
            if self.draw.random() < 0.1:
                return 0, ""  # gone before the answer came
            answer = line.getresponse()
            return answer.status, answer.read().decode()
        finally:
            line.close()

    def book(self, form: dict[str, str]) -> None:
        """Send until it is acknowledged; sometimes once more after that."""
        path = "/stock/book"
        for _ in range(50):
            status, text = self.post(path, form)
            if status == 303:
                break
            assert status in (0, 422), text
            if status == 422:
                assert "has moved on" in text
        else:
            pytest.fail("it was never acknowledged")
        if self.draw.random() < 0.2:
            assert self.post(path, form)[0] in (0, 303)


def use_at_the_terminal(command: list[str]) -> None:
    """Ask until it is booked; where others were quicker, it says so and books none."""
    for _ in range(20):
        ended = subprocess.run(command, capture_output=True, text=True)
        if ended.returncode == 0:
            return
        assert "has moved on" in ended.stderr, ended.stderr
    pytest.fail("it was never booked")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "stillroom.db"


def test_what_many_write_at_once_is_there_once(file: Path):
    with open_records(file) as records:
        asked = Receive(things=(thing(f"{LIDS} lids, drawer"),), at=MORNING)
        stock, _ = handle(asked, ledger=records.ledger)
        code = next(iter(stock.lots))
    command = [sys.executable, "-c", "from stillroom.cli.main import main; main()"]
    command += ["stock", "use", code, "1", "--db", str(file)]
    tokens: list[str] = []

    def use(phone: Phone) -> None:
        for _ in range(EACH):
            token = uuid.UUID(int=phone.draw.getrandbits(128)).hex
            tokens.append(token)
            form = {"deed": "drawn", "lot": code, "quantity": "1", "token": token}
            phone.book(form)

    with served(file) as one, served(file) as other:
        phones = [Phone(n, one, other) for n in range(PHONES)]
        with ThreadPoolExecutor(PHONES) as hands:
            using = [hands.submit(use, phone) for phone in phones]
            for _ in range(3):
                use_at_the_terminal(command)
            for each in using:
                each.result()
    with open_records(file) as records:
        stock = stock_of(records.ledger)
    booked = [event.token for event in stock.events[1:]]
    assert len(tokens) == PHONES * EACH
    assert len(set(booked)) == len(booked) == PHONES * EACH + 3
    assert set(tokens) <= set(booked)
    assert stock.balance(code) == LIDS - len(booked)
    assert check_records(file).whole


def test_a_key_that_many_press_at_once_is_pressed_once(file: Path):
    rounds = 15
    load = RunLoad(
        id="a", name="load 1", canner="canner", process_min=10, source="invented",
        jar="pint", jars=(("plum jelly 1", 7),),
    )  # fmt: skip
    with open_records(file) as records:
        now = dt.datetime.now(dt.UTC)
        handle_run(BeginDay(loads=(load,), at=now), RUN, ledger=records.ledger)
    together = threading.Barrier(PHONES)

    def press(phone: Phone) -> list[int]:
        answers = []
        for turn in range(rounds):
            asks = ("full-boil", "boil-lost")[turn % 2]
            once = f"{phone.draw.getrandbits(96):024x}"
            form = {"run": RUN, "load": "a", "seen": f"{turn + 1}", "once": once}
            together.wait(30)
            answers.append(phone.post(f"/stove/{asks}", form)[0])
            together.wait(30)
            time.sleep(0.03)  # one that was cut off may still be at work
        return answers

    with ExitStack() as stack:
        hosts = [stack.enter_context(served(file)) for _ in range(2)]
        phones = [Phone(100 + n, hosts[n % 2]) for n in range(PHONES)]
        with ThreadPoolExecutor(PHONES) as hands:
            answers = list(hands.map(press, phones))
    assert {status for each in answers for status in each} <= {0, 303, 422}
    with open_records(file) as records:
        kinds = [entry.kind for entry in records.ledger.read(RUN)]
    taps = ["full-boil-reached", "boil-lost"] * rounds
    assert kinds == ["day-begun", *taps[:rounds]]

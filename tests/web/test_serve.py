"""Serving: it ends at once when asked to, and a taken port is said in words."""

import os
import re
import signal
import socket
import subprocess
import sys
import textwrap
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from stillroom.refusal import Unreadable
from stillroom.web.serve import listen

PROGRAM = textwrap.dedent(
    """
    import sys
    from stillroom.planning.day_file.dayfile import demo_day_text
    from stillroom.web.app import build_app
    from stillroom.web.serve import serve
    from stillroom.web.shop import Shop

    class Store:
        def current(self): return demo_day_text()
        def save(self, text, why): raise NotImplementedError

    shop = Shop(Store(), seconds=float(sys.argv[1]))
    serve(build_app(shop), 0, ready=lambda at: print(at[0], flush=True))
    print("ended in order", flush=True)
    """
)


@contextmanager
def running(seconds: float) -> Iterator[tuple[subprocess.Popen[str], str]]:
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, str(seconds)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stderr is not None
    try:
        address = process.stdout.readline().strip()
        assert re.fullmatch(r"http://127\.0\.0\.1:\d+/", address)
        yield process, address
    finally:
        process.kill()
        process.wait()
        process.stdout.close()
        process.stderr.close()


@pytest.mark.parametrize("asked", [signal.SIGINT, signal.SIGTERM])
def test_it_ends_at_once_and_in_order_even_in_the_midst_of_a_search(
    asked: signal.Signals,
) -> None:
    with running(seconds=60) as (process, address):
        with urllib.request.urlopen(address + "day", timeout=10) as page:
            assert b"Working the day out" in page.read()
        os.kill(process.pid, asked)
        out, err = process.communicate(timeout=30)  # the search has 60 s
        assert process.returncode == 0
        assert "ended in order" in out
        assert err == ""


def test_a_taken_port_says_how_to_choose_another() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(Unreadable) as refused:
            listen(port)
    words = str(refused.value)
    assert f"port {port} is taken" in words
    assert re.search(r"stillroom serve --port \d+ \(or make run PORT=\d+\)", words)


@pytest.mark.parametrize("port", [-1, 65536, 10**9])
def test_a_number_that_is_no_port(port: int) -> None:
    with pytest.raises(Unreadable, match="outside 1 to 65535"):
        listen(port)


def test_it_listens_on_this_machine_alone() -> None:
    with listen(0) as listener:
        assert listener.getsockname()[0] == "127.0.0.1"


def test_ended_while_the_first_plan_is_worked_out(tmp_path: Path) -> None:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = "from stillroom.cli.main import main; main()"
    process = subprocess.Popen(
        [
            sys.executable,
            "-c",
            command,
            "serve",
            "--port",
            str(port),
            "--db",
            str(tmp_path / "farm.db"),
            "--seconds",
            "60",
        ],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONUNBUFFERED": "1"},
    )
    assert process.stdout is not None
    while not process.stdout.readline().startswith("Planning the day"):
        assert process.poll() is None
    os.kill(process.pid, signal.SIGINT)
    out, err = process.communicate(timeout=10)
    assert (process.returncode, err) == (0, "")
    assert out.endswith("Ended; what was written is kept.\n")

"""A shop over a store in memory, the pages in a thread, and a real browser."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
import uvicorn
from starlette.applications import Starlette
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import demo_day_text, new_day_text, read_day
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import ChangedMeanwhile
from stillroom.running.clock import WallClock
from stillroom.web.app import build_app
from stillroom.web.planner import Planned, plan_text
from stillroom.web.serve import listen
from stillroom.web.shop import Shop

ADDRESS = "http://127.0.0.1:8765"


class MemoryStore:
    """Day files in a list; the last one counts."""

    def __init__(self, *texts: str) -> None:
        self.revisions: list[tuple[str, str]] = [(text, "given") for text in texts]

    def current(self) -> str | None:
        return self.revisions[-1][0] if self.revisions else None

    def save(
        self, text: str, why: str, *, over: str | None = None, shown: str = ""
    ) -> None:
        if over is not None and over != (self.current() or ""):
            raise ChangedMeanwhile
        self.revisions.append((text, why))


@pytest.fixture(scope="session")
def demo_plan() -> Planned:
    """The demo day, which is invented, planned once for all pages."""
    return plan_the_day(read_day(demo_day_text()), seconds=2)


@pytest.fixture
def at_noon(monkeypatch: pytest.MonkeyPatch) -> None:
    """
    The kitchen's clock begins at noon, whatever the hour is, and goes on.

    Begun at one in the morning jars are lifted before a step that the plan has at 7:56.
    """
    told = WallClock.now
    at = told(WallClock())
    ahead = at.replace(hour=12, minute=0) - at
    monkeypatch.setattr(WallClock, "now", lambda clock: told(clock) + ahead)


@pytest.fixture
def store() -> MemoryStore:
    """The small day that a new keeper begins with; all of it is invented."""
    return MemoryStore(new_day_text())


PLANNED: dict[str, Planned] = {}


def remembered(text: str, *, seconds: float, **more: object) -> Planned:
    """Plan in this process, each text once for all tests."""
    if more:
        return plan_text(text, seconds=seconds, **more)  # type: ignore[arg-type]
    if text not in PLANNED:
        PLANNED[text] = plan_text(text, seconds=seconds)
    return PLANNED[text]


@pytest.fixture
def shop(store: MemoryStore) -> Iterator[Shop]:
    shop = Shop(store, seconds=0.5, planner=remembered)
    yield shop
    shop.plan_within(60)  # no thread may be in the solver when the tests end


@pytest.fixture
def client(shop: Shop) -> TestClient:
    return TestClient(build_app(shop, port=8765), base_url=ADDRESS)


@pytest.fixture(scope="session")
def demo_shop(demo_plan: Planned) -> Shop:
    """The demo day without planning it again; any other text is really planned."""

    def planner(text: str, *, seconds: float) -> Planned:
        if text == demo_day_text():
            return demo_plan
        return remembered(text, seconds=seconds)

    return Shop(MemoryStore(demo_day_text()), seconds=0.5, planner=planner)


@contextmanager
def served(app: Starlette) -> Iterator[str]:
    """Serve pages on a free port; gives the address."""
    listener = listen(0)
    server = uvicorn.Server(
        uvicorn.Config(app, log_level="warning", lifespan="off", ws="none")
    )
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
    thread.start()
    try:
        yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    finally:
        server.should_exit = True
        thread.join(timeout=10)
        listener.close()


@pytest.fixture(scope="session")
def demo_site(demo_shop: Shop) -> Iterator[str]:
    with served(build_app(demo_shop)) as address:
        yield address


@pytest.fixture
def site(shop: Shop) -> Iterator[str]:
    with served(build_app(shop)) as address:
        yield address

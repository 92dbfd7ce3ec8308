"""One farm week out of one seed: the real program, and beside it a plain model."""

from __future__ import annotations

import copy
import datetime as dt
import hashlib
import json
import logging
import os
import random
import signal
import warnings
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from stillroom.records.checking import check_records
from stillroom.running.handle import state_of
from stillroom.stock.handle import brought_up
from tests.simulation.count_model import expect_count, take_over_count
from tests.simulation.devices import Device, Post
from tests.simulation.faults import Fault, Killed
from tests.simulation.house import House, planned_loads
from tests.simulation.made_model import (
    DaysLots,
    ToBook,
    expect_lots,
    loads_booked,
    take_over_lots,
)
from tests.simulation.record_read import RecordRead, Row
from tests.simulation.seeded import FarmClock
from tests.simulation.shelf_model import ShelfModel
from tests.simulation.shelf_words import Deed, Does, ShelfCount, Verdict
from tests.simulation.stove_model import StoveModel, Tap

DEVICES = (("Ada's phone", 0, 0), ("Bram's phone", 0, 130), ("tablet", 1, -427))
DESK = ("desk", 1, 900)
"""Name, which program it goes to, and how far its own clock is ahead. [s]"""
NO = {Does.NO: 422, Does.ASKS: 422, Does.UNREADABLE: 400}
BOOKED = {"/stock/late": 200}
"""What is answered where not a page is sent to."""
AHEAD = dt.timedelta(minutes=10)


@dataclass
class Models:
    """What must be in the record."""

    shelf: ShelfModel
    stove: StoveModel


class FarmWeek:
    """The farm, its clock, its record and what must be in it."""

    def __init__(
        self,
        draw: random.Random,
        clock: FarmClock,
        folder: Path,
        *,
        url: str | None = None,
        say: Callable[[str], None] | None = None,
    ) -> None:
        logging.getLogger("stillroom").setLevel(logging.CRITICAL)
        self.draw, self.clock, self.folder, self.say = draw, clock, folder, say
        self.on_files = url is None
        self.life = 0
        self.where = url or str(self._home() / "stillroom.db")
        self.models = Models(ShelfModel(), StoveModel(dict(planned_loads())))
        self.devices = [Device(*words) for words in (*DEVICES, DESK)]
        self.wire: list[tuple[Device, Post]] = []
        """Sent and answered, and may be delivered once more."""
        self.copies: dict[Path, Models] = {}
        self.told: dict[str, int] = {}
        self._nested = 0
        self.began = clock.now()
        """When the request came in that is being looked at."""
        self._trace = hashlib.sha256()
        self.house = House(self.where, clock, self._grave())
        self.reader = RecordRead(self._address())

    def _home(self) -> Path:
        home = self.folder / f"life-{self.life}"
        home.mkdir(exist_ok=True)
        return home

    def _grave(self) -> Path:
        """Where the files of this life lie if it ends in the middle of something."""
        return self.folder / f"life-{self.life + 1}" / "stillroom.db"

    def _address(self) -> str:
        return self.where if "://" in self.where else f"sqlite:///{self.where}"

    @property
    def trace_hash(self) -> str:
        """The same for two weeks that went alike to the last entry."""
        return self._trace.hexdigest()

    def tell(self, kind: str, words: str = "") -> None:
        """Write a line of the trace."""
        line = f"{self.clock.now():%a %H:%M:%S} {kind}: {words}"
        self.told[kind] = self.told.get(kind, 0) + 1
        self._trace.update(line.encode())
        if self.say:
            self.say(line)

    # What must come of it, and what did.

    def _today(self, post: Post) -> Post:
        """The key that begins a day names none: it begins the day on which it came."""
        if isinstance(post.asked, Tap) and post.asked.asks == "begin":
            run = f"run/{self.clock.now().date()}"
            return replace(post, asked=replace(post.asked, run=run))
        return post

    def expect(self, post: Post) -> Verdict | ToBook:
        """Return what must come of a post if it is decided on now."""
        deed, models = post.asked, self.models
        if isinstance(deed, DaysLots):
            return expect_lots(models.shelf, models.stove, deed)
        if isinstance(deed, Tap):
            booked = loads_booked(models.shelf)
            return Verdict(models.stove.expect(deed, self.began, booked))
        if isinstance(deed, ShelfCount):
            if deed.said_at and deed.said_at > self.began + AHEAD:
                return ToBook(Does.UNREADABLE)
            return expect_count(models.shelf, deed, self.began)
        if deed.late and deed.said_at and deed.said_at > self.began + AHEAD:
            return Verdict(Does.UNREADABLE)  # a phone whose clock is ahead
        return self.models.shelf.expect(deed, self.began)

    def deliver(
        self, device: Device, post: Post, fault: Fault | None = None
    ) -> bool | None:
        """Hand a post to the program, hold what came of it against the models.

        Returns whether it was booked (now or before); `None` where no answer came.
        """
        window = self.house.windows[device.window]
        post = self._today(post)
        began = self.began = self.clock.now()
        verdict = self.expect(post)
        if fault and fault.what == "between" and fault.do:
            first = fault.do

            def do() -> None:
                nonlocal verdict
                self._nested += 1
                first()
                self._nested -= 1
                self.began = began
                verdict = self.expect(post)

            fault.do = do
        window.faults.arm(fault)
        try:
            answer = window.client.post(post.action, data=post.data)
            status, text = answer.status_code, answer.text
        except Killed:
            status, text = 0, ""
        finally:
            window.faults.arm(None)
        if window.faults.dead:
            self.power_cut()
            status, text = 0, ""
        rows = self.read_on()
        struck = fault.struck if fault else ""
        words = f"{device.name}: {post.said} -> {status}, {len(rows)} written"
        self.tell("post", words + (f" ({fault.what}: {struck})" if struck else ""))
        self._judge(device, post, verdict, fault, status, text, rows)
        self.clock.go(milliseconds=1)
        return None if status in (0, 503) else status < 400

    def _judge(
        self,
        device: Device,
        post: Post,
        verdict: Verdict | ToBook,
        fault: Fault | None,
        status: int,
        text: str,
        rows: list[Row],
    ) -> None:
        struck, asked = fault.struck if fault else "", post.asked
        entries = len(verdict.lines) if isinstance(verdict, ToBook) else 1
        written = entries if verdict.does is Does.BOOKS else 0
        full = fault is not None and fault.what in ("full", "no-pages")
        waits = post.action == "/stock/late"  # such a phone keeps it for later
        if full and struck and status == 503:
            assert verdict.does is Does.BOOKS
            assert "the disk is full" in text, text[-2000:]
            assert struck in ("nothing", "either")
            written = 0
        elif not status:
            assert struck, "no answer came, and nothing had struck"
            written = written if struck == "all" else 0
        else:
            wanted = NO.get(verdict.does) or BOOKED.get(post.action, 303)
            clashed = fault is not None and fault.what == "between" and not fault.times
            moved_on = status == (503 if waits else 422) and "has moved on" in text
            if clashed and moved_on:
                written = 0  # others wrote three times in between: look again
            else:
                assert status == wanted, f"{post} {verdict}: {status} {text[-3000:]}"
                if waits and text:  # a process of its own hands no answer on
                    self._asked_back(device, asked, verdict, json.loads(text))
        assert len(rows) == written, f"{post} {verdict}: {rows}"
        models, began = self.models, self.began
        if isinstance(asked, DaysLots | ShelfCount):
            assert isinstance(verdict, ToBook)
            if rows and isinstance(asked, DaysLots):
                take_over_lots(models.shelf, models.stove, asked, verdict, rows, began)
            elif rows and isinstance(asked, ShelfCount):
                take_over_count(models.shelf, asked, verdict, rows, began)
        else:
            for row in rows:
                assert isinstance(verdict, Verdict)
                self.take_over(row, asked, verdict)
        self.look()

    def _asked_back(
        self, device: Device, asked: object, verdict: Verdict | ToBook, said: Any
    ) -> None:
        """Where a count is asked about, the phone keeps the way to the question."""
        assert ("ask" in said) == (verdict.does is Does.ASKS), said
        if "ask" in said:
            assert isinstance(asked, Deed)
            assert asked.said_at
            at = min(asked.said_at, self.began)
            device.asked.append((said["ask"], replace(asked, said_at=at)))

    def take_over(self, row: Row, asked: Deed | Tap, verdict: Verdict) -> None:
        """Check an entry against what was asked, and let the model go on with it."""
        if isinstance(asked, Tap):
            assert row.stream == asked.run
            self.models.stove.take_over(asked, row.kind, row.at, self.began)
            return
        assert row.stream == "stock"
        if not asked.token:  # the command line names its request by itself
            asked = replace(asked, token=row.body["token"])
        shelf = self.models.shelf
        typed = asked.said_at if asked.late else None
        assert row.at == (min(typed, self.began) if typed else self.began)
        shelf.take_over(
            row.kind, row.body, row.change, row.at, deed=asked, verdict=verdict
        )

    def read_on(self) -> list[Row]:
        """Return what was written, past the program; walks its numbers and chain."""
        return self.reader.new()

    def look(self, *, closely: bool = False) -> None:
        """Hold the record, the programs and the models against each other."""
        shelf, stove = self.models.shelf, self.models.stove
        balances = {k: n for k, n in self.reader.balance.items() if n}
        must = {k: n for k, n in shelf.at.items() if n}
        assert balances == must, f"the record has {balances}, not {must}"
        assert self.reader.ends.get("stock", (0,))[0] == shelf.sequence
        places = dict(self.reader.places())
        # Not each time: what a program has in mind is to grow old as well.
        if not self._nested and (closely or self.draw.random() < 0.1):
            for window in self.house.windows:
                if window.stock_places:
                    has = window.stock_places
                    assert has == places, f"a program has {has}, the record {places}"
        for code, here in places.items():
            flow = self.reader.flows[code]
            gone = -sum(n for way, n in flow.items() if way != "came")
            assert flow["came"] == gone + sum(here.values()), f"{code}: {flow}"
        for name, run in stove.runs.items():
            assert self.reader.ends[name][0] == run.sequence
        if stove.newest:
            self.clocks_agree(stove.newest)

    def clocks_agree(self, name: str) -> None:
        """The clocks of a run as the program folds them, to the second."""
        run = self.models.stove.runs[name]
        state = state_of(name, ledger=self.house.windows[0].records.ledger)
        for each in state.loads:
            load = run.loads[each.load.id]
            since = each.boiling_since
            assert since == load.since, f"{each.load.id} since {since}: {load}"
            assert each.deadline == load.deadline, f"{each.load.id}: {each.deadline}"
            assert each.lifted_at == load.lifted
            assert each.times_lost == load.lost

    # Lives of the computer.

    def deliver_to_a_process(self, device: Device, post: Post, fault: Fault) -> None:
        """Let a process of its own take the post, and end it in the middle of it."""
        post = self._today(post)
        self.began = self.clock.now()
        verdict = self.expect(post)
        self.house.close()
        self.reader.close()
        status = self._forked(device, post, fault)
        self._begin()
        self.whole()
        rows = self.read_on()
        ends = {"after-commit": "all"}
        fault.struck = "" if status else ends.get(fault.when, "nothing")
        words = f"{post.said} -> {status or 'SIGKILL'} {fault.struck}"
        self.tell("process", f"{words}, {len(rows)} written")
        self._judge(device, post, verdict, fault, status, "", rows)

    def _forked(self, device: Device, post: Post, fault: Fault) -> int:
        reads, says = os.pipe()
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)
            child = os.fork()
        if child == 0:
            try:
                house = House(self.where, self.clock, self._grave())
                window = house.windows[device.window]
                fault.kill = lambda: os.kill(os.getpid(), signal.SIGKILL)
                window.faults.arm(fault)
                answer = window.client.post(post.action, data=post.data)
                os.write(says, f"{answer.status_code}".encode())
            finally:
                os._exit(0)
        os.close(says)
        _, ended = os.waitpid(child, 0)
        with os.fdopen(reads) as told:
            status = told.read()
        assert os.WIFSIGNALED(ended) or status, "the process ended without a word"
        return int(status or 0)

    def restart(self) -> None:
        """End the programs in good order, and begin them again."""
        self.house.close()
        self._begin()

    def power_cut(self) -> None:
        """Go on from the files as they lay when the power went."""
        self.house.close()
        if self.on_files:
            self.life += 1
            self.where = str(self._home() / "stillroom.db")
        self._begin()
        self.whole()

    def _begin(self) -> None:
        self.reader.move(self._address())
        self.house = House(self.where, self.clock, self._grave())

    def whole(self) -> None:
        """Let the program check its own record."""
        health = check_records(self.where)
        assert health.whole, health.sentences()

    def remember(self) -> Models:
        """Return what must be in a copy that is made now."""
        return copy.deepcopy(self.models)

    def begin_again_from(self, models: Models) -> None:
        """The record is that of a copy: what came after it is not there any more."""
        self.models = copy.deepcopy(models)
        self.reader.close()
        self.house = House(self.where, self.clock, self._grave())
        # What follows from entries that were read in is there when it is asked for.
        brought_up(self.house.windows[0].records.ledger)
        self.reader = RecordRead(self._address())
        self.reader.new()
        self.look()

    def end(self) -> None:
        """Look at all of it once more."""
        self.look(closely=True)
        self.whole()
        health: Any = check_records(self.where)
        self.tell("end", f"{health.events} entries, {health.fingerprint}")
        self.let_go()

    def let_go(self) -> None:
        """Close everything."""
        self.house.close()
        self.reader.close()

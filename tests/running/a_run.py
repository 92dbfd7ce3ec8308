"""An invented run: two batches of jelly in two loads, and one box for the freezer."""

import datetime as dt

from stillroom.running.commands import (
    BeginDay,
    Command,
    FinishStep,
    LiftLoad,
    MarkFullBoil,
)
from stillroom.running.events import RunBatch, RunLoad, RunNeed
from stillroom.running.handle import handle

RUN = "run/2026-09-12"
DAY = dt.date(2026, 9, 12)
ZONE = dt.timezone(dt.timedelta(hours=-7))
START = dt.datetime(2026, 9, 12, 9, 0, tzinfo=ZONE)
SUGAR_MG = 1_400_001


def batch(number: int, jars: int) -> RunBatch:
    return RunBatch(
        id=f"plum jelly {number}",
        product="plum jelly",
        food="jelly",
        recipe="Plum jelly, powdered pectin",
        source="an invented leaflet",
        multiple=1,
        jar="half-pint",
        jars=jars,
        place="pantry",
        needs=(
            RunNeed(name="plum juice", unit="ul", number=1_182_941),
            RunNeed(name="sugar", unit="mg", number=SUGAR_MG),
            RunNeed(name="regular powdered pectin", unit="pieces", number=1),
            RunNeed(name="half-pint jars", unit="pieces", number=jars),
            RunNeed(name="lids", unit="pieces", number=jars),
        ),
        canned=True,
        elevation_ft=2150,
        who="Tilda",
        pot="tall steel pot",
        boil_step="hard_boil",
        boil_min=1,
        closes="wipe_and_lid",
        purpose="pantry",
    )


FROZEN = RunBatch(
    id="berry spread 1",
    product="berry spread",
    food="jam",
    recipe="Freezer spread",
    source="an invented leaflet",
    multiple=1,
    jar="pint",
    jars=3,
    place="freezer",
    needs=(),
    canned=False,
    closes="label",
)


def load(number: int, *jars: tuple[str, int]) -> RunLoad:
    return RunLoad(
        id=f"canner/{number}",
        name=f"load {number}",
        canner="big canner",
        process_min=10,
        source="an invented table",
        jar="half-pint",
        jars=jars,
    )


LOADS = (
    load(1, ("plum jelly 1", 8), ("plum jelly 2", 1)),
    load(2, ("plum jelly 2", 6)),
)


class Kitchen:
    """The stove of one record, with its own clock."""

    def __init__(self, ledger) -> None:
        self.ledger = ledger
        self.at = START

    def do(self, command: Command) -> None:
        handle(command, RUN, ledger=self.ledger)

    def later(self, minutes: float) -> "Kitchen":
        self.at += dt.timedelta(minutes=minutes)
        return self

    def begin(self, *batches: RunBatch, loads=LOADS) -> "Kitchen":
        made = batches or (batch(1, 8), batch(2, 7), FROZEN)
        self.do(BeginDay(loads=loads, batches=made, at=self.at))
        return self

    def fill(self, name: str) -> "Kitchen":
        for step in ("hard_boil", "wipe_and_lid"):
            self.later(10).do(FinishStep(batch=name, step=step, at=self.at))
        return self

    def can(self, load_id: str, minutes: float = 16) -> "Kitchen":
        self.later(5).do(MarkFullBoil(load=load_id, at=self.at))
        self.later(minutes).do(LiftLoad(load=load_id, at=self.at))
        return self

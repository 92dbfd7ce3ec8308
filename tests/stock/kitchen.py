"""An invented farm for the tests: a clock to turn, and short ways to book."""

import datetime as dt

from stillroom.refusal import Refusal
from stillroom.stock.commands import (
    Check,
    Command,
    Count,
    Incoming,
    Make,
    Mend,
    Move,
    Recall,
    Receive,
    Take,
)
from stillroom.stock.decide import decide
from stillroom.stock.events import Batch, Kind, Seen, Way
from stillroom.stock.fold import Stock
from stillroom.stock.sentence import propose

MORNING = dt.datetime(2026, 11, 25, 9, 0, tzinfo=dt.UTC)


def thing(sentence: str, **options: object) -> Incoming:
    """Read a sentence that must be understood."""
    read = propose(sentence, today=MORNING.date(), **options)
    assert read.thing is not None, read.faults
    return read.thing


class Farm:
    """A stock, and what is booked on it."""

    def __init__(self) -> None:
        self.stock = Stock()
        self.at = MORNING

    def do(self, command: Command) -> Refusal | None:
        answer = decide(self.stock, command)
        if isinstance(answer, Refusal):
            return answer
        for event in answer:
            self.stock.apply(event)
        return None

    def add(self, sentence: str) -> str:
        assert self.do(Receive(things=(thing(sentence),), at=self.at)) is None
        return self.last

    @property
    def last(self) -> str:
        return list(self.stock.lots)[-1]

    def take(self, lot: str, quantity: str, way: Way = Way.DRAWN, **more: str):
        return self.do(Take(lot=lot, quantity=quantity, way=way, at=self.at, **more))

    def move(self, lot: str, to: str, quantity: str = "", place: str = ""):
        return self.do(Move(lot=lot, to=to, quantity=quantity, place=place, at=self.at))

    def count(self, lot: str, quantity: str, place: str = ""):
        return self.do(Count(lot=lot, quantity=quantity, place=place, at=self.at))

    def made(
        self,
        sentence: str,
        *inputs: tuple[str, str],
        on: dt.date | None = None,
        **batch: object,
    ):
        """Book jars with a whole process, unless the batch says otherwise."""
        said = {
            "food": "jelly",
            "canned": True,
            "process_min": 10,
            "due_min": 10,
            "due_source": "invented for a test",
        }
        asked = Make(
            thing=thing(sentence, as_jars=True, kind=Kind.FILLED),
            inputs=inputs,
            batch=Batch(**{**said, **batch}),
            on=on or self.at.date(),
            at=self.at,
        )
        return self.do(asked)

    def check(self, lot: str, good: int, failed: int = 0, doubtful: int = 0, **more):
        made = self.stock.made(lot)
        sets = made is not None and made.batch.food == "jelly"
        seen = more.pop("seen", Seen.SET if sets else None)
        asked = Check(
            lot=lot, good=good, failed=failed, doubtful=doubtful, seen=seen, at=self.at
        )
        return self.do(asked)

    def recall(self, lot: str, why: str = "invented"):
        return self.do(Recall(lot=lot, why=why, at=self.at))

    def mend(self, of: int, why: str = "typed wrongly"):
        return self.do(Mend(of=of, why=why, at=self.at))

    def later(self, hours: float) -> None:
        self.at += dt.timedelta(hours=hours)

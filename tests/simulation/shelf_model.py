"""
A plain model of the stock: dictionaries, and the rules as a person would say them.

It shares no code with the program. Told a deed it says what must come of it; told the
entry that was written it checks it and takes it over.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from tests.simulation.of_held_model import of_held
from tests.simulation.shelf_words import (
    AFTER,
    ASIDE,
    DAY,
    DUE_MIN,
    EACH,
    REDO_WITHIN,
    SHELVES,
    Booked,
    Change,
    Deed,
    Does,
    Lot,
    Verdict,
)
from tests.simulation.verdict_model import verdict_on


@dataclass
class ShelfModel:
    """What must be on the shelf."""

    at: dict[tuple[str, str], int] = field(default_factory=lambda: defaultdict(int))
    lots: dict[str, Lot] = field(default_factory=dict)
    booked: list[Booked] = field(default_factory=list)
    tokens: dict[str, int] = field(default_factory=dict)

    @property
    def sequence(self) -> int:
        return len(self.booked)

    def here(self, code: str) -> dict[str, int]:
        """Return how much of a lot is where."""
        return {p: n for (c, p), n in self.at.items() if c == code and n}

    def undone(self, code: str) -> bool:
        return self.booked[self.lots[code].born - 1].undone

    def entries(self, kind: str, code: str) -> list[Booked]:
        """Return what stands of a kind for a lot: what was mended since does not."""
        return [
            b for b in self.booked if b.kind == kind and code in b.lots and not b.undone
        ]

    def recalled(self, code: str) -> bool:
        return bool(self.entries("recalled", code))

    def made_here(self, code: str) -> bool:
        return self.lots[code].made_at is not None and not self.undone(code)

    def doubts(self, code: str) -> list[str]:
        """What was wrong with its canner load, in the order in which it was said."""
        load = self.lots[code].load if self.made_here(code) else None
        return [
            b.deed.said
            for b in self.booked
            if b.kind == "held"
            and not b.undone
            and (b.load == load if b.load else code in b.lots)
        ]

    def given_min(self, code: str) -> int:
        """Return the process that it had; one that was typed in late counts."""
        late = self.entries("processed", code)
        if not late:
            return self.lots[code].given_min
        began, ended = late[-1].deed.began, late[-1].deed.ended
        assert began is not None
        assert ended is not None
        return int((ended - began).total_seconds()) // 60

    def unprocessed(self, code: str) -> bool:
        """Whether it was to keep by a process, and had none."""
        lot = self.lots[code]
        return (
            lot.jars
            and self.made_here(code)
            and lot.canned
            and (not self.given_min(code))
        )

    def counts_as_unprocessed(self, code: str) -> bool:
        """Whether it had none, or a shorter one than is due."""
        lot = self.lots[code]
        canned = lot.jars and self.made_here(code) and lot.canned
        return canned and self.given_min(code) < DUE_MIN

    def in_doubt(self, code: str) -> bool:
        """Whether its process was wrong, short or missing: no pantry stock."""
        lot = self.lots[code]
        if of_held(self, code):
            return True
        if not (self.made_here(code) and lot.canned):
            return False
        return bool(self.given_min(code) < DUE_MIN or self.doubts(code))

    def held_in_doubt(self, code: str) -> bool:
        """Whether its canner load is on hold, whatever its minutes were."""
        return of_held(self, code) or (self.in_doubt(code) and bool(self.doubts(code)))

    def done_again(self, code: str, now: dt.datetime) -> bool:
        """Whether a wrong or short process may still be done again, as a new lot."""
        if not self.in_doubt(code) or self.unprocessed(code):
            return False
        return now - self.over(code) <= REDO_WITHIN

    def over(self, code: str) -> dt.datetime:
        """Return when its process was over; it was booked as its jars came out."""
        late = self.entries("processed", code)
        over = late[-1].deed.ended if late else self.lots[code].made_at
        assert over is not None
        return over

    def label(self, code: str) -> str:
        """Who labelled it; empty where nobody did."""
        found = self.entries("labelled", code)
        return found[-1].deed.said if found else ""

    def held(self, code: str) -> bool:
        """Whether it must not be sold or given."""
        lot = self.lots[code]
        if self.recalled(code) or self.doubts(code) or of_held(self, code):
            return True
        if not lot.jars:
            return False
        if not self.made_here(code):
            return not lot.supplier
        if not lot.canned:
            return False
        whole = self.given_min(code) >= DUE_MIN
        return not (whole and self.looked(code) and self.seen(code))

    def checks(self, code: str) -> list[Booked]:
        return self.entries("checked", code)

    def seen(self, code: str) -> list[str]:
        """What was seen of its set: that it has set counts after a day."""
        return [
            b.deed.seen
            for b in self.checks(code)
            if b.deed.seen == "soft" or (b.deed.seen and not self.is_early(code, b.at))
        ]

    def is_early(self, code: str, at: dt.datetime) -> bool:
        """Whether its set is not looked at yet."""
        made_at = self.lots[code].made_at
        assert made_at is not None
        return at - made_at < DAY

    def looked(self, code: str) -> bool:
        """Whether its seals were looked at once the jars had stood long enough."""
        made_at = self.lots[code].made_at
        assert made_at is not None
        return any(
            b.deed.good is not None and b.at - made_at >= AFTER
            for b in self.checks(code)
        )

    def children(self, code: str) -> set[str]:
        """By brute force: all that was made of it, and of that."""
        found: set[str] = set()
        while True:
            more = {
                c
                for c, lot in self.lots.items()
                if set(lot.parents) & {code, *found} and self.made_here(c)
            }
            if more <= found:
                return found
            found |= more

    def expect(self, deed: Deed, now: dt.datetime) -> Verdict:
        """Return what must come of a deed as the shelf is now."""
        return verdict_on(self, deed, now)

    def number(self, deed: Deed) -> int:
        """Return what was typed in the unit of the lot."""
        return deed.number * EACH.get(self.lots[deed.lot].what, 1)

    def take_over(
        self,
        kind: str,
        body: Mapping[str, Any],
        change: Change,
        at: dt.datetime,
        *,
        deed: Deed,
        verdict: Verdict,
    ) -> None:
        """Check an entry that was written for a deed, and go on with it."""
        assert verdict.does is Does.BOOKS, f"{deed} {verdict.does.value}, but {body}"
        wanted = verdict.change
        if wanted is not None:
            wanted = {key: n for key, n in wanted.items() if n}
            assert change == wanted, f"{deed}: {change}, not {wanted}"
        assert body["token"] == deed.token
        lots: tuple[str, ...] = (deed.lot,)
        if kind in ("received", "made"):
            lots = (body["lot"]["code"],)
            self._begin(kind, body, change, at, deed)
        elif kind == "recalled":
            everything = {deed.lot, *self.children(deed.lot)}
            fresh = {c for c in everything if not self.recalled(c)}
            assert set(body["lots"]) == fresh
            lots = tuple(body["lots"])
        elif kind == "mended":
            self.booked[deed.of - 1].undone = True
        load = self.lots[deed.lot].load if kind == "held" else None
        for key, number in change.items():
            self.at[key] += number
            assert self.at[key] >= 0, f"{key} would be {self.at[key]}"
        self.booked.append(
            Booked(
                kind, dict(change), at, replace(deed), lots=lots, of=deed.of, load=load
            )
        )
        if deed.token:
            assert deed.token not in self.tokens, f"{deed} was booked twice"
            self.tokens[deed.token] = self.sequence

    def _begin(
        self,
        kind: str,
        body: Mapping[str, Any],
        change: Change,
        at: dt.datetime,
        deed: Deed,
    ) -> None:
        code = body["lot"]["code"]
        assert code not in self.lots, f"the code {code} was given twice"
        assert body["lot"]["what"] == deed.what
        assert change[code, deed.place] == deed.number * EACH.get(deed.what, 1)
        drawn: dict[str, int] = defaultdict(int)
        for (source, place), number in change.items():
            if source != code:
                here = self.here(source)
                assert -number <= here.get(place, 0)
                assert place != ASIDE or set(here) == {ASIDE}
                drawn[source] -= number
        asked: dict[str, int] = defaultdict(int)
        for source, number in deed.inputs:
            asked[source] += number * EACH.get(self.lots[source].what, 1)
        assert drawn == asked, f"{deed}: {dict(drawn)} were drawn"
        self.lots[code] = Lot(
            what=deed.what,
            jars=body["lot"]["kind"] == "jars filled",
            born=self.sequence + 1,
            supplier=body["lot"]["supplier"],
            made_at=at if kind == "made" else None,
            canned=kind == "made"
            and (deed.place in SHELVES or deed.process_min >= DUE_MIN),
            given_min=deed.process_min,
            load=(body["lot"]["day"], deed.load) if deed.load else None,
            parents=tuple(asked),
        )

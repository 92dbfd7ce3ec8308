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

from tests.simulation.looked_model import LOOKED
from tests.simulation.most_ever_model import most_ever
from tests.simulation.of_held_model import of_held
from tests.simulation.shelf_words import (
    AFTER,
    ASIDE,
    COLD,
    DAY,
    DUE_MIN,
    EACH,
    INTO_A_MOUTH,
    REDO_WITHIN,
    SHELVES,
    TO_OTHERS,
    Booked,
    Change,
    Deed,
    Does,
    Lot,
    Verdict,
)
from tests.simulation.unsealed_model import too_late_at


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

    def _entries(self, kind: str, code: str) -> list[Booked]:
        return [
            b for b in self.booked if b.kind == kind and code in b.lots and not b.undone
        ]

    def recalled(self, code: str) -> bool:
        return bool(self._entries("recalled", code))

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
        late = self._entries("processed", code)
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
        late = self._entries("processed", code)
        over = late[-1].deed.ended if late else self.lots[code].made_at
        assert over is not None
        return over

    def label(self, code: str) -> str:
        """Who labelled it; empty where nobody did."""
        found = self._entries("labelled", code)
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
        return self._entries("checked", code)

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
        if deed.token and deed.token in self.tokens:
            return Verdict(Does.AGAIN)
        if deed.kind == "add":
            return Verdict(Does.BOOKS)
        if deed.kind == "mend":
            return self._mend(deed)
        if deed.kind == "made":
            return self._made(deed, now)
        if deed.lot not in self.lots:
            return Verdict(Does.NO)
        if deed.kind == "recall":
            everything = {deed.lot, *self.children(deed.lot)}
            fresh = [c for c in everything if not self.recalled(c)]
            return Verdict(Does.BOOKS, {}) if fresh else Verdict(Does.AGAIN)
        if deed.kind in LOOKED:
            at = min(deed.said_at, now) if deed.said_at else now
            return Verdict(LOOKED[deed.kind](self, deed, at), {})
        if deed.kind == "check":
            return self._check(deed, now)
        there, number = self.at[deed.lot, deed.place], self.number(deed)
        if deed.kind == "count":
            return self._count(deed, there, number)
        if not there or (deed.kind == "move" and deed.to == ASIDE):
            return Verdict(Does.NO)
        if number == 0:
            return Verdict(Does.UNREADABLE)
        if number > there:
            return Verdict(Does.NO)
        if deed.late and self._counted_since(deed):
            return Verdict(Does.NO)
        if deed.kind == "move":
            return self._move(deed, number)
        return self._take(deed, min(deed.said_at, now) if deed.said_at else now)

    def _count(self, deed: Deed, there: int, number: int) -> Verdict:
        """What happened after the count was made is no difference from it."""
        key = (deed.lot, deed.place)
        since = sum(
            entry.change.get(key, 0)
            for entry in self.booked
            if deed.said_at and entry.tells_of > deed.said_at
        )
        found = number - (there - since)
        if there + found < 0:
            return Verdict(Does.NO)
        left = sum(self.here(deed.lot).values()) + found
        if deed.late and not deed.sure and left > most_ever(self, deed.lot):
            return Verdict(Does.ASKS)
        return Verdict(Does.BOOKS, {key: found})

    def _counted_since(self, deed: Deed) -> bool:
        """Whether a count has seen already what is now said to have happened."""
        assert deed.said_at is not None
        return any(
            entry.tells_of > deed.said_at and entry.deed.place in (deed.place, deed.to)
            for entry in self._entries("counted", deed.lot)
        )

    def number(self, deed: Deed) -> int:
        """Return what was typed in the unit of the lot."""
        return deed.number * EACH.get(self.lots[deed.lot].what, 1)

    def _take(self, deed: Deed, now: dt.datetime) -> Verdict:
        code, way = deed.lot, deed.kind
        stays = way in (*TO_OTHERS, *INTO_A_MOUTH) and self.recalled(code)
        # Not processed: a spread of an acid fruit is eaten out of the cold only.
        warm = deed.place not in COLD and self.counts_as_unprocessed(code)
        stays |= way in INTO_A_MOUTH and (warm or self.held_in_doubt(code))
        stays |= way in INTO_A_MOUTH and deed.place in too_late_at(self, code, now)
        stays |= way in TO_OTHERS and (self.held(code) or deed.place == ASIDE)
        if stays:
            return Verdict(Does.NO)
        return Verdict(Does.BOOKS, {(code, deed.place): -self.number(deed)})

    def _move(self, deed: Deed, number: int) -> Verdict:
        if deed.to == deed.place:
            return Verdict(Does.NO)
        if deed.to in SHELVES and (deed.place == ASIDE or self.in_doubt(deed.lot)):
            return Verdict(Does.NO)
        lot = self.lots[deed.lot]
        put_up_cold = lot.jars and self.made_here(deed.lot) and not lot.canned
        if deed.to in SHELVES and put_up_cold:
            return Verdict(Does.NO)
        return Verdict(
            Does.BOOKS,
            {(deed.lot, deed.place): -number, (deed.lot, deed.to): number},
        )

    def _check(self, deed: Deed, now: dt.datetime) -> Verdict:
        code = deed.lot
        if not (self.lots[code].jars and self.made_here(code)):
            return Verdict(Does.NO)
        if deed.good is None:
            early = deed.seen == "set" and self.is_early(code, now)
            books = deed.seen and not early
            return Verdict(Does.BOOKS, {}) if books else Verdict(Does.NO)
        here = self.here(code)
        aside = here.pop(ASIDE, 0)
        bad, shelf = deed.failed + deed.doubtful, sum(here.values())
        if deed.good + bad == shelf:
            going = bad
        elif aside and deed.good + bad == shelf + aside:
            going = bad - aside
        else:
            return Verdict(Does.NO)
        before = self._entries("checked", code)
        doubtful = before[-1].deed.doubtful if before else 0
        if going < 0 and -going > doubtful:
            return Verdict(Does.NO)
        if not going:
            return Verdict(Does.BOOKS, {})
        # Where it was not said at which place they stood, there must be one only.
        place = deed.place or (next(iter(here)) if len(here) == 1 else "")
        if not place or going > here.get(place, 0):
            return Verdict(Does.NO)
        return Verdict(Does.BOOKS, {(code, place): -going, (code, ASIDE): going})

    def _made(self, deed: Deed, now: dt.datetime) -> Verdict:
        for code, number in deed.inputs:
            if code not in self.lots:
                return Verdict(Does.NO)
            here = self.here(code)
            aside = here.pop(ASIDE, 0)
            asked = number * EACH.get(self.lots[code].what, 1)
            if asked > (sum(here.values()) or aside) or self.recalled(code):
                return Verdict(Does.NO)
            if self.done_again(code, now):
                continue
            if self.held_in_doubt(code):
                return Verdict(Does.NO)
            # What keeps least goes first: that on the shelf before that in the cold.
            if self.counts_as_unprocessed(code) and set(here or (ASIDE,)) - set(COLD):
                return Verdict(Does.NO)
            warm = sum(n for place, n in here.items() if place not in COLD)
            places = (here if asked > warm else ()) if here else (ASIDE,)
            if too_late_at(self, code, now) & set(places):
                return Verdict(Does.NO)
        return Verdict(Does.BOOKS)

    def _mend(self, deed: Deed) -> Verdict:
        if not 1 <= deed.of <= self.sequence:
            return Verdict(Does.NO)
        entry = self.booked[deed.of - 1]
        if entry.kind == "mended" or entry.undone:
            return Verdict(Does.NO)
        if any(self.at[key] - n < 0 for key, n in entry.change.items()):
            return Verdict(Does.NO)
        back = {key: -n for key, n in entry.change.items()}
        return Verdict(Does.BOOKS, back)

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

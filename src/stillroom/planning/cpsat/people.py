"""People for the solver: one for each step, four quarters, only while there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from stillroom.planning.bounding.bounds import WHOLE_HANDS
from stillroom.planning.cpsat.variables import DayModel, Piece
from stillroom.planning.daytime import clock_time
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.problem import Person
from stillroom.planning.words.hour_words import comes_at, is_away, leaves_at

QUARTERS = 4
NotFree = tuple[int, int, int]
"""From when, until when, and how many quarters of a person."""


@dataclass(slots=True)
class Guards:
    """
    How the rules that people can change are held.

    Left alone, every rule simply holds. With ``wanted``, each has a literal that can be
    dropped; with ``later``, people may stay on and the counter may grow, at a price;
    with ``sooner``, those who come later than the day begins may come before that.
    """

    model: cp_model.CpModel
    wanted: bool = False
    later: bool = False
    sooner: bool = False
    firm: frozenset[str] = frozenset()
    """People who go when they go, also with ``later``."""
    said: dict[int, str] = field(default_factory=dict)
    """Index of a literal to the rule in words."""
    literals: list[cp_model.IntVar] = field(default_factory=list)
    stays_on: dict[str, cp_model.IntVar] = field(default_factory=dict)
    """Person to the minutes after leaving time."""
    comes_sooner: dict[str, cp_model.IntVar] = field(default_factory=dict)
    """Person to the minutes before the hour of their coming."""
    more_places: cp_model.IntVar | None = None

    @property
    def loose(self) -> bool:
        """Whether the day's end is held by a rule of its own."""
        return self.wanted or self.later

    def on(self, sentence: str) -> cp_model.IntVar | None:
        """A literal for a rule, or `None` where rules are not guarded."""
        if not self.wanted:
            return None
        literal = self.model.new_bool_var(sentence)
        self.said[literal.index] = sentence
        self.literals.append(literal)
        return literal


@dataclass(slots=True)
class _Demand:
    """Intervals and quarters: of one person, and of all people together."""

    intervals: list[cp_model.IntervalVar] = field(default_factory=list)
    quarters: list[int] = field(default_factory=list)

    def add(self, interval: cp_model.IntervalVar, quarters: int) -> None:
        self.intervals.append(interval)
        self.quarters.append(quarters)


def add_hands(
    day: DayModel,
    guards: Guards,
    not_free: Mapping[str, Iterable[NotFree]] | None = None,
) -> None:
    """
    One person a step; four quarters a person; nobody works who is not there.

    ``not_free`` has for each person quarters that are given to nothing for a while.
    """
    model = day.model
    own = {p.id: _Demand() for p in day.problem.people}
    together = _Demand()
    for hands in day.hands:
        model.add_exactly_one(hands.by.values())
    for n, piece in enumerate(day.pieces):
        able = piece.hands.by
        for who, literal in able.items():
            if len(able) == 1:
                held = _interval(model, piece, None, f"w{n}")
            else:
                held = _interval(model, piece, literal, f"w{n} {who}")
            own[who].add(held, piece.quarters)
        whole = _interval(model, piece, None, f"w{n} all")
        together.add(whole, piece.quarters)
    _add_handling(day, own, together)
    for person in day.problem.people:
        _Absences(day, guards, person, own[person.id], together).add()
        for start, end, quarters in (not_free or {}).get(person.id, ()):
            name = f"{person.id} not free {start}"
            held = model.new_fixed_size_interval_var(start, end - start, name)
            own[person.id].add(held, quarters)
        model.add_cumulative(
            own[person.id].intervals, own[person.id].quarters, person.quarters
        )
    many = len(day.problem.people)
    if many > 1 and any(len(h.by) > 1 for h in day.hands):
        whole_hands = [WHOLE_HANDS[q] for q in together.quarters]
        model.add_cumulative(together.intervals, whole_hands, 2 * many)


def _interval(
    model: cp_model.CpModel,
    piece: Piece,
    literal: cp_model.IntVar | None,
    name: str,
) -> cp_model.IntervalVar:
    """The time of a piece of work; a rinse in place of a wash is shorter."""
    start, rinse = piece.start, piece.rinse
    if rinse is None:
        if literal is None:
            return model.new_fixed_size_interval_var(start, piece.length, name)
        return model.new_optional_fixed_size_interval_var(
            start, piece.length, literal, name
        )
    if literal is None:
        return model.new_interval_var(start, rinse.length, rinse.end, name)
    return model.new_optional_interval_var(
        start, rinse.length, rinse.end, literal, name
    )


def _add_handling(day: DayModel, own: dict[str, _Demand], together: _Demand) -> None:
    """Lowering and lifting out: labour of one person who may lift."""
    model = day.model
    for slot in day.all_slots():
        model.add(sum(slot.lowered_by.values()) == slot.present)
        model.add(sum(slot.lifted_by.values()) == slot.present)
        for start, length, who in (
            (slot.lower, slot.canner.load_min, slot.lowered_by),
            (slot.lift, slot.canner.unload_min, slot.lifted_by),
        ):
            if length == 0:
                continue
            for person, literal in who.items():
                held = model.new_optional_fixed_size_interval_var(
                    start, length, literal, f"{start} by {person}"
                )
                own[person].add(held, LABOUR_QUARTERS)
            whole = model.new_optional_fixed_size_interval_var(
                start, length, slot.present, f"{start} all"
            )
            together.add(whole, LABOUR_QUARTERS)


@dataclass(slots=True)
class _Absences:
    """When one person is not there: all four quarters are gone then."""

    day: DayModel
    guards: Guards
    person: Person
    own: _Demand
    together: _Demand
    rules: list[tuple[int, int, str]] = field(default_factory=list)
    """From when, until when, and why in words. [min of the day]"""

    def add(self) -> None:
        """Before coming, while away, after leaving, and the breaks."""
        self._before_coming()
        self._while_away()
        self._after_leaving()
        self._hold_rules()
        self._breaks()

    def _gone(self, held: cp_model.IntervalVar) -> None:
        self.own.add(held, self.person.quarters)
        self.together.add(held, QUARTERS)

    @property
    def _comes(self) -> int:
        return max(0, self.person.arrives_min)

    def _before_coming(self) -> None:
        model, person, comes = self.day.model, self.person, self._comes
        if not (self.guards.sooner and comes):
            self.rules.append((0, comes, comes_at(self.day.problem, person)))
            return
        earlier = model.new_int_var(0, comes, f"{person.id} comes sooner")
        size = model.new_int_var(0, comes, f"{person.id} is not there for")
        not_there = model.new_interval_var(0, size, comes - earlier, f"{person.id} no")
        self.guards.comes_sooner[person.id] = earlier
        self.own.add(not_there, QUARTERS)
        self.together.add(not_there, QUARTERS)
        for gone, back in person.away:
            if gone < comes:  # no sooner than she is back from there
                model.add(earlier <= comes - min(back, comes))

    def _while_away(self) -> None:
        for gone, back in self.person.away:
            start = max(gone, self._comes)
            if start < back:
                why = is_away(self.day.problem, self.person, gone, back)
                self.rules.append((start, back, why))

    def _after_leaving(self) -> None:
        day, guards, person = self.day, self.guards, self.person
        leaves, end = person.leaves_min, day.horizon
        if guards.loose and leaves >= day.problem.horizon_min:
            return  # the end of the day is a rule of its own then
        if not guards.later or leaves >= end or person.id in guards.firm:
            self.rules.append((leaves, end, leaves_at(day.problem, person)))
            return
        longer = day.model.new_int_var(0, end - leaves, f"{person.id} stays on")
        size = day.model.new_int_var(0, end - leaves, f"{person.id} is gone for")
        guards.stays_on[person.id] = longer
        self._gone(
            day.model.new_interval_var(leaves + longer, size, end, f"{person.id} gone")
        )
        for gone, back in person.absences:
            self._stays_on_and_is_away(longer, max(gone, leaves), back)
        self.rules = [(gone, min(to, leaves), why) for gone, to, why in self.rules]

    def _stays_on_and_is_away(
        self, longer: cp_model.IntVar, start: int, back: int
    ) -> None:
        """Who stays on past an absence is away then, too, or goes home before it."""
        model, who, leaves = self.day.model, self.person.id, self.person.leaves_min
        if back <= start:
            return
        comes_back = model.new_bool_var(f"{who} is back at {back}")
        model.add(longer >= back - leaves).only_enforce_if(comes_back)
        model.add(longer <= start - leaves).only_enforce_if(~comes_back)
        self._gone(
            model.new_optional_fixed_size_interval_var(
                start, back - start, comes_back, f"{who} gone {start}"
            )
        )

    def _hold_rules(self) -> None:
        taken = 0  # absences may overlap; one minute is gone only once
        for start, end, why in sorted(self.rules):
            begin, end = max(start, taken, 0), min(end, self.day.horizon)
            if end <= begin:
                continue
            taken = end
            name = f"{self.person.id} gone {begin}"
            self._hold(why, begin, end - begin, name)

    def _breaks(self) -> None:
        person, starts_at = self.person, self.day.problem.starts_at
        rests = zip(person.breaks, self.day.breaks[person.id], strict=True)
        for n, (rest, start) in enumerate(rests):
            why = (
                f"{person.id} rests {rest.duration_min} min, beginning "
                f"{clock_time(starts_at, rest.earliest_min)} to "
                f"{clock_time(starts_at, rest.latest_start_min)}"
            )
            self._hold(why, start, rest.duration_min, f"rest {n} of {person.id}")

    def _hold(
        self, why: str, start: cp_model.LinearExprT, minutes: int, name: str
    ) -> None:
        """Have the person gone then, always or as long as that rule is held."""
        literal, model = self.guards.on(why), self.day.model
        self._gone(
            model.new_fixed_size_interval_var(start, minutes, name)
            if literal is None
            else model.new_optional_fixed_size_interval_var(
                start, minutes, literal, name
            )
        )

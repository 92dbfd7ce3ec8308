"""A day planned again beside the day as it was, and what matters of it in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.planning.begun.changes import may_be_dropped
from stillroom.planning.begun.held import InHand
from stillroom.planning.begun.limits_said import ENDS_IN_TIME
from stillroom.planning.begun.other_tools import Guess
from stillroom.planning.begun.promised_anew import LackingJars
from stillroom.planning.begun.warming import not_lit_said
from stillroom.planning.cpsat.rest import OldOrder
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.due_words import product_of, wanted_by
from stillroom.planning.happened import Happened
from stillroom.planning.how_good.lateness import late_wants, weighted_lateness
from stillroom.planning.judge.check_waits import waits_over_by_now, waits_were_over
from stillroom.planning.problem import Problem, Want
from stillroom.planning.second_thoughts.jars_kept_hot import KEPT_HOT, jars_kept_hot
from stillroom.planning.second_thoughts.late_burners import told_of_late_burners
from stillroom.planning.second_thoughts.limit_words import limit_words
from stillroom.planning.second_thoughts.limits_over import over_said
from stillroom.planning.second_thoughts.moves import Move, under_way
from stillroom.planning.second_thoughts.moves_said import (
    FAR_MIN,
    later_said,
    moves_said,
)
from stillroom.planning.second_thoughts.no_room import NoRoom, left_out_said
from stillroom.planning.second_thoughts.overrun import (
    told_of_overruns,
    told_of_who_ends_first,
)
from stillroom.planning.second_thoughts.put_off_breaks import stays_on
from stillroom.planning.second_thoughts.standing_food import Standing, standing
from stillroom.planning.spoken_of import Sentence
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.load_names import LoadNames

PUT_OFF = "the old order, put off"


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseAnew:
    """Goods that are wanted by an hour, before and now."""

    want: Want
    was_late_min: int
    is_late_min: int

    @property
    def is_later(self) -> bool:
        """Whether it is late, and by more than before."""
        return self.is_late_min > self.was_late_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Replanned:
    """The old day beside the new one."""

    problem: Problem
    happened: Happened
    old: Timetable
    new: Timetable
    moves: tuple[Move, ...]
    open_steps: int
    """Steps and loads that had not begun."""
    broken: tuple[tuple[Sentence, int], ...]
    """
    Limits that have been broken or cannot be kept, and by how much, but for the end of
    the day; see `limits`. [min]
    """
    longer_min: dict[str, int]
    """
    Who is asked to stay on, and for how long. Who stays to the day's end is asked by
    its ending later; see `after_leaving_min`.
    """
    more_places: int
    made_by: str
    proven: bool
    """No plan changes less for what it brings."""
    seconds: float
    workable: bool = True
    """Whether it breaks limits alone, and nobody and nothing is in two places."""
    found_none: bool = False
    """The search found no plan in its time, good or bad; the old order is shown."""
    old_order: OldOrder | None = None
    """What the old order, put off, would come to; `None` where it cannot be worked."""
    guesses: tuple[Guess, ...] = ()
    """Pots, mills and fires that something is taken to be in or on, and nobody said."""
    promised_min: int | None = None
    """The end that was said before something was left out of ``old``. [min]"""
    not_made: tuple[LackingJars, ...] = ()
    """Jars that were promised by an hour and are in no batch of the plan."""
    taken_over: tuple[tuple[str, str], ...] = ()
    """(batch, want) whose jars come from that batch now, and did not before."""
    ends_first: Mapping[str, InHand] = field(default_factory=dict)
    """Who goes later than said, and what is in hand until then."""
    left_out: tuple[NoRoom, ...] = ()
    """Batches that the planner left out, so that the rest fits."""
    missed_before_min: Mapping[str, int] | None = None
    """
    Want to the minutes by which it was missed, where other jars were to go to it before
    something was left out; `None`: as ``old`` has it.
    """

    @property
    def later_min(self) -> int:
        """By how much the day ends later than was said; negative is sooner. [min]"""
        said = self.promised_min
        return self.new.finish_min - (self.old.finish_min if said is None else said)

    @property
    def sentence(self) -> str:
        """What matters, in one sentence or two."""
        starts, end = self.problem.starts_at, self.new.finish_min
        later = self.later_min
        when = "as before" if later == 0 else later_said(later)
        if self.past_the_end_min:
            over = said_minutes(self.past_the_end_min)
            when += f", {over} past the end of the day"
        told = [f"Done at {clock_time(starts, end)}, {when}"]
        told += [*self.promises_said, *self._kept_again()]
        told += [*self._taken_over_said(), self._moves_said]
        first = [one.told(starts) for one in self.standing if one.is_too_long]
        said = "".join(f"{capital(one)} " for one in first)
        said += left_out_said(self.left_out)
        said += f"{'; '.join(told)}."
        said += self._limits_said()
        for person, minutes in self.longer_min.items():
            said += f" {person} stays {said_minutes(minutes)} longer."
        for told_of in told_of_overruns(self.problem, self.old, self.happened):
            said += f" {told_of}"
        for told_of in told_of_late_burners(
            self.problem, self.old, self.happened, self.new
        ):
            said += f" {told_of}"
        for told_of in told_of_who_ends_first(self.problem, self.old, self.ends_first):
            said += f" {told_of}"
        if unlit := not_lit_said(self.old, self.happened):
            said += f" {unlit}"
        for guess in self.guesses:
            said += f" {capital(guess.said)}"
        if self.happened.now_min < 0 and not self._sooner:
            said += (
                f" Nothing is put before {clock_time(starts, 0)}, when the day was to "
                "begin: plan again then, and what was done sooner counts."
            )
        return said

    @property
    def _moves_said(self) -> str:
        of = None
        if self.is_new_plan:
            of = self.open_steps + under_way(self.happened, self.old, self.new)
        return moves_said(self.moves, new_plan_of=of)

    @property
    def _sooner(self) -> bool:
        """Whether something that has not begun is put before the day's hour."""
        begun = self.happened.begun
        return any(
            s.start_min < 0 for s in self.new.steps if (s.batch, s.step) not in begun
        )

    @property
    def promises(self) -> tuple[PromiseAnew, ...]:
        """Every want with an hour, before and now."""
        was = self.missed_before_min
        if was is None:
            was = {w.product: over for w, over in late_wants(self.problem, self.old)}
        return tuple(
            PromiseAnew(
                want=want, was_late_min=was.get(want.product, 0), is_late_min=over
            )
            for want, over in late_wants(self.problem, self.new)
        )

    @property
    def promises_said(self) -> tuple[str, ...]:
        """Which wants come later than they did, or not: who waits is to be told."""
        starts = self.problem.starts_at
        said = []
        for one in self.promises:
            if not one.is_later:
                continue
            was, over = one.was_late_min, one.is_late_min
            more = f", {said_minutes(over - was)} more than before" if was else ""
            wanted = wanted_by(one.want.product, clock_time(starts, one.want.by_min))
            said.append(f"{wanted} comes {said_minutes(over)} late{more}")
        for out in self.not_made:
            jars = f"{jars_said(out.jars)} of " if out.jars else ""
            wanted = wanted_by(out.product, clock_time(starts, out.by_min))
            are = "are" if out.jars > 1 else "is"
            said.append(f"{jars}{wanted} {are} not made")
        return tuple(said)

    def _kept_again(self) -> list[str]:
        """Say which promises come sooner than they did, and were late: good news."""
        starts = self.problem.starts_at
        not_made = {out.product for out in self.not_made}
        said = []
        for one in self.promises:
            over, sooner = one.is_late_min, one.was_late_min - one.is_late_min
            if sooner <= 0 or one.want.product in not_made:
                continue
            hour = clock_time(starts, one.want.by_min)
            if over:
                late = f"{said_minutes(over)} late, {said_minutes(sooner)} less than"
                said.append(f"{wanted_by(one.want.product, hour)} comes {late} before")
            else:
                said.append(f"{product_of(one.want.product)} is there by {hour}")
        return said

    def _taken_over_said(self) -> list[str]:
        """Say which batch a promise comes from now: nobody is to look for the other."""
        starts = self.problem.starts_at
        hours = {
            want.product: clock_time(starts, want.by_min) for want in self.problem.wants
        }
        sources: dict[str, list[str]] = {}
        for batch, product in self.taken_over:
            sources.setdefault(product, []).append(batch)
        return [
            f"{wanted_by(product, hours[product])} comes from {all_of(batches)} now"
            for product, batches in sources.items()
            if product in hours
        ]

    @property
    def after_leaving_min(self) -> dict[str, int]:
        """Everybody who works after the hour at which they leave, and how long."""
        over = stays_on(self.problem, self.new)
        return {name: minutes for name, minutes in over.items() if minutes}

    @property
    def past_the_end_min(self) -> int:
        """By how much it ends after the day does, 0 where it ends in time. [min]"""
        return max(0, self.new.finish_min - self.problem.horizon_min)

    @property
    def limits(self) -> tuple[tuple[Sentence, int], ...]:
        """
        All that gives way, the end of the day first, then the largest first. [min]

        That the day ends too late is read off its plan, whoever made it.
        """
        others = self._each_said_once()
        over = self.past_the_end_min
        return ((ENDS_IN_TIME, over), *others) if over else tuple(others)

    def _each_said_once(self) -> list[tuple[Sentence, int]]:
        """Limits, the largest first; of those that read the same, the largest alone."""
        names = LoadNames(self.problem, self.old)
        found: dict[str, tuple[Sentence, int]] = {}
        for what, over in sorted(self.broken, key=lambda b: -b[1]):
            found.setdefault(limit_words(self.problem, names, what), (what, over))
        return list(found.values())

    @property
    def gives_way(self) -> tuple[tuple[str, int], ...]:
        """The same, with loads and steps as the kitchen calls them. [min]"""
        names = LoadNames(self.problem, self.old)
        return tuple(
            (limit_words(self.problem, names, what), over) for what, over in self.limits
        )

    @property
    def standing(self) -> tuple[Standing, ...]:
        """Food that stands longer than it may: it is told apart from other limits."""
        return standing(self.problem, self.happened, self.new)

    @property
    def others_told(self) -> tuple[str, ...]:
        """`limits_told` without those of `standing`."""
        apart = {one.limit for one in self.standing}
        told = zip(self.limits, self.limits_told, strict=True)
        return tuple(said for (what, _), said in told if what not in apart)

    @property
    def by_now_min(self) -> tuple[int, ...]:
        """Of each of `limits` the minutes that the past alone is over already."""
        over = waits_over_by_now(self.problem, self.happened, self.new)
        already = dict(over_said(self.problem, over))
        return tuple(min(by, already.get(what, 0)) for what, by in self.limits)

    @property
    def limits_told(self) -> tuple[str, ...]:
        """
        Each limit that gives way, by how much, and how much of it is past.

        Where something is done about it, and it is no food, that is said too.
        """
        told = []
        hot = jars_kept_hot(self.problem, self.happened, self.new)
        of = (limit for limit, _ in self.limits)
        for (what, over), past, limit in zip(
            self.gives_way, self.by_now_min, of, strict=True
        ):
            by = f": {said_minutes(over)} over" if over else ""
            if past:
                by += f", {'all' if past == over else said_minutes(past)} of it by now"
            told.append(what + by + (f": {KEPT_HOT}" if limit in hot else ""))
        return tuple(told)

    @property
    def was_over(self) -> tuple[tuple[str, int], ...]:
        """
        Limits between two that had both begun and that the past did not keep. [min]

        No plan can keep or break them any more, so they do not give way.
        """
        over = waits_were_over(self.problem, self.happened, self.new)
        names = LoadNames(self.problem, self.old)
        said = sorted(over_said(self.problem, over), key=lambda b: -b[1])
        return tuple((limit_words(self.problem, names, w), by) for w, by in said)

    @property
    def is_new_plan(self) -> bool:
        """Whether more than half of what has not begun moves far."""
        open_ = [m for m in self.moves if m.under_way is None and not m.rests]
        far = [m for m in open_ if abs(m.by_min) > FAR_MIN]
        return 2 * len(far) > max(1, self.open_steps)

    @property
    def is_put_off(self) -> bool:
        """Whether it is the old order, and some of it is later or gives way."""
        return self.made_by == PUT_OFF and bool(self.moves or self.limits)

    @property
    def is_too_much(self) -> bool:
        """Whether it ends past her hour, or something is late or gives way."""
        named = self.problem.done_by_min
        hour = self.problem.horizon_min if named is None else named
        late = weighted_lateness(self.problem, self.new)
        gives_way = self.limits or self.longer_min or self.more_places
        return self.new.finish_min > hour or late > 0 or bool(gives_way)

    @property
    def may_leave_out(self) -> bool:
        """
        Whether it is too much, worse than it was, and a batch may be left out.

        A batch that has been put on cannot be, and the only one is the day itself.
        """
        later = any(promise.is_later for promise in self.promises)
        gives_way = self.limits or self.longer_min or self.more_places
        is_worse = self.later_min > 0 or later or bool(gives_way)
        batches = [b for b in self.problem.batches if b.jars]
        return (
            self.is_too_much
            and is_worse
            and len(batches) > 1
            and any(may_be_dropped(self.problem, self.happened, b.id) for b in batches)
        )

    def _limits_said(self) -> str:
        """Say the largest limit but the end of the day, which is said beside it."""
        others = self.gives_way[1:] if self.past_the_end_min else self.gives_way
        if not others:
            return ""
        what, minutes = others[0]
        by = f"by {said_minutes(minutes)}" if minutes else ""
        if len(others) == 1:
            return f" This limit gives way{by and ' '}{by}: {what}."
        which = f"this one the most, {by}" if minutes else "this one among them"
        return f" {len(others)} limits give way, {which}: {what}."


def lateness_of(replanned: Replanned) -> tuple[int, int]:
    """Weighted minutes by which wants are missed, before and now."""
    return (
        sum(p.want.weight * p.was_late_min for p in replanned.promises),
        weighted_lateness(replanned.problem, replanned.new),
    )

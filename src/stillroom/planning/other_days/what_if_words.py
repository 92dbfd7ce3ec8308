"""
What a comparison of days comes to, in a sentence, and what each of them leaves out.

The best is the one that keeps what would be missed most, then the most jars; among
those that keep the same the goals decide, in the keeper's order.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.methods.today import air_in
from stillroom.planning.answering import NOTHING_BETTER
from stillroom.planning.day_file.batch_names import it_has
from stillroom.planning.day_file.day_changes import apart
from stillroom.planning.dayplan import DayPlan, jars_by_kind
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.other_days.better_day import (
    Wishes,
    costs,
    counts_before_words,
    figures_words,
    is_better,
    wishes_of,
)
from stillroom.planning.other_days.what_if import AS_IT_IS, Outcome
from stillroom.planning.timetable import Answer
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.missed_most import most_missed_first
from stillroom.planning.which_batches.shelf import full_shelf
from stillroom.refusal import Refusal

NOT_THE_CHANGE = (
    "But that plan breaks no rule of the day as it is, either: the search has found "
    "it, and not the change."
)
Kept = tuple[tuple[bool, ...], int]
"""Which batches of the day as it is are made, the most missed first; and all jars."""


def left_out_words(one: Outcome) -> str:
    """
    Say what has no room: "8 jars: pear butter 1, pear butter 2".

    "nothing" where all has.
    """
    if not one.left_out:
        return "nothing"
    names = ", ".join(name for name, _ in one.left_out)
    return f"{jars_said(one.left_out_jars)}: {names}"


def not_made_words(one: Outcome) -> str:
    """
    Say what is wanted and cannot be made: "plum jelly, 39 of 400 jars"; empty for all.

    What has no room in the day is not among it: see `left_out_words`.
    """
    if one.plan is None:
        return ""
    return "; ".join(
        f"{u.product}, {u.planned} of {jars_said(u.wanted)}" for u in one.plan.unmet
    )


def missing_words(one: Outcome) -> str:
    """Say what has no room, and what cannot be made; "nothing" where all is made."""
    short = not_made_words(one)
    if not short:
        return left_out_words(one)
    parts = [left_out_words(one)] if one.left_out else []
    return "; ".join([*parts, f"cannot be made: {short}"])


def nobody_there(one: Outcome) -> str:
    """
    Say where a day was made longer and nobody stays for it; empty where that is not so.

    The hours of the day and those of its people are told apart: a day that ends later
    brings nothing while everybody goes as before.
    """
    if one.plan is None:
        return ""
    day, said = one.plan.day, []
    typed = {part.partition("=")[0].strip() for part in apart(one.change)}
    if not day.people:
        return ""
    last = max(person.goes for person in day.people)
    first = min(person.comes for person in day.people)
    if "day.ends" in typed and last < day.ends:
        said.append(f"nobody is there after {last:%-H:%M}: say who goes later, too")
    if "day.starts" in typed and first > day.starts:
        said.append(f"nobody is there before {first:%-H:%M}: say who comes sooner, too")
    return "; ".join(said)


def remarks_of(one: Outcome) -> tuple[str, ...]:
    """Return what is to be known of how a day's plan was found, if it has one."""
    answer = None if one.plan is None else one.plan.answer
    said = answer.remarks if isinstance(answer, Answer) else ()
    return tuple(remark for remark in said if remark != NOTHING_BETTER)


def remarks_by_day(found: Sequence[Outcome]) -> tuple[tuple[str, str], ...]:
    """
    Return each remark once, and before it the days that it is of; "" for all.

    The day as it is goes by those words, the others by their number.
    """
    of: dict[str, list[str]] = {}
    for n, one in enumerate(found):
        for remark in remarks_of(one):
            of.setdefault(remark, []).append(f"{n}" if n else AS_IT_IS)
    return tuple(
        ("" if len(days) == len(found) else all_of(days), remark)
        for remark, days in of.items()
    )


def comparison(found: Sequence[Outcome], words: Mapping[str, str]) -> str:
    """
    Say which change does most, in words that can be read aloud; empty for none.

    Parameters
    ----------
    found : sequence of Outcome
        The day as it is, then the others; see `what_if`.
    words : mapping
        Each change as one says it after "if".
    """
    if not found:
        return ""
    return " ".join([_compared(found, words), *_of_no_batch(found)])


def _of_no_batch(found: Sequence[Outcome]) -> list[str]:
    """Name the batches that a change leaves out and the day has not."""
    said: dict[str, None] = {}
    for one in found[1:]:
        plan = one.plan
        typed = [part.partition("=")[0].strip() for part in apart(one.change)]
        if plan is None or "day.without" not in typed:
            continue
        there = [*plan.named_out, *(batch.id for batch in plan.batches)]
        there += [name for left in plan.left_out for name in left.batches]
        for name in plan.day.without:
            if name not in plan.named_out:
                said[f"This day has no batch {name}: {it_has(there)}."] = None
    return list(said)


def _compared(found: Sequence[Outcome], words: Mapping[str, str]) -> str:
    base, others = found[0], [o for o in found[1:] if o.finish_min is not None]
    if not others:
        return (
            "With this change the day has no timetable."
            if len(found) == 2
            else "With none of these changes the day has a timetable."
        )
    compared = _Compared(found)
    best = max(others, key=compared.rank)
    said = _said(best, base, words.get(best.change, best.change))
    said += compared.figures(best)
    said += _left_words(best, base)
    said += _by_the_search(best, others, base, compared)
    if _is_no_better(best, base, compared):
        which = "None of these is" if len(others) > 1 else "This is not"
        return f"{which} better than the day as it is. {said}"
    return said


class _Compared:
    """Days that are compared, the day as it is first."""

    def __init__(self, found: Sequence[Outcome]) -> None:
        self.base = found[0]
        self.by_the_rule = _by_the_rule(self.base)
        self.order = _missed_first(self.base, self.by_the_rule)
        self.found = [o for o in found if o.finish_min is not None]
        # what one change asks for counts; several are judged by the day as it is
        self.judge = found[1] if len(found) == 2 else self.base

    def kept(self, one: Outcome) -> Kept:
        """What of the day as it is it makes, and how many jars."""
        made = _made(one.plan) | self._made_in_other_pots(one.plan)
        return tuple(name in made for name in self.order), one.jars

    def _made_in_other_pots(self, plan: DayPlan | None) -> set[str]:
        """Batches of packs whose jars are all made, divided otherwise into pots."""
        if plan is None or self.by_the_rule is None:
            return set()
        asked, made = jars_by_kind(self.by_the_rule.batches), plan.jars_by_kind
        return {
            batch.id
            for batch in self.by_the_rule.batches
            if made[batch.product, batch.jar] >= asked[batch.product, batch.jar]
        }

    def wishes(self, one: Outcome) -> Wishes:
        """What it and all that keep the same are judged by."""
        alike = [o for o in self.found if self.kept(o) == self.kept(one)]
        return wishes_of(self.judge, alike)

    def rank(self, one: Outcome) -> tuple[Kept, tuple[int, ...]]:
        """The higher the better."""
        return self.kept(one), tuple(-c for c in costs(one, self.wishes(one)))

    def figures(self, one: Outcome) -> str:
        """Say in what else than its end it differs from the day as it is."""
        if self.base.finish_min is None or one.jars != self.base.jars:
            return ""
        wishes = self.wishes(one)
        said = figures_words(one, self.base, wishes)
        if not said:
            return ""
        before = ""
        if self.kept(one) == self.kept(self.base):
            before = counts_before_words(one, self.base, wishes)
        return f" It has {said}.{f' {before}' if before else ''}"


def _by_the_search(
    best: Outcome, others: Sequence[Outcome], base: Outcome, compared: _Compared
) -> str:
    """Say what was gained by searching on, and not by a change; empty for nothing."""
    if base.finish_min is None:
        return ""
    gained = [
        o
        for o in others
        if o.holds_as_it_is
        and is_better(o, base)
        and compared.rank(o) > compared.rank(base)
    ]
    if best in gained:
        return f" {NOT_THE_CHANGE}"
    if not gained:
        return ""
    found = max(gained, key=compared.rank)
    at = clock_time(found.starts_at, found.finish_min or 0)
    figures = figures_words(found, base, compared.wishes(found))
    such = f", with {figures}," if figures else ""
    return (
        f" As it is, the day can be done by {at}{such} as well: a plan that was found "
        "beside it breaks no rule of it."
    )


def _is_no_better(best: Outcome, base: Outcome, compared: _Compared) -> bool:
    """Whether it gives up more, or makes the same worse; fewer wanted is no loss."""
    if base.finish_min is None:
        return False
    if best.left_out_jars > base.left_out_jars:
        return True
    return best.jars == base.jars and compared.rank(best) < compared.rank(base)


def _left_words(best: Outcome, base: Outcome) -> str:
    """Say what has no room, and what cannot be made; empty where all is."""
    out = f" Left out: {left_out_words(best)}." if best.left_out else ""
    short = not_made_words(best)
    if short and short != not_made_words(base):
        out += f" Not all that is wanted can be made: {short}."
    return out


def _said(best: Outcome, base: Outcome, change: str) -> str:
    at = clock_time(best.starts_at, best.finish_min or 0)
    more = best.jars - base.jars
    by = best.later_min(base)
    if by is None:
        return (
            f"If {change}, there is a timetable: {jars_said(best.jars)}, done by {at}. "
            f"As it is, there is none."
        )
    against = (
        "as it is now"
        if by == 0
        else f"{said_minutes(abs(by))} {'later' if by > 0 else 'sooner'} than as it is"
    )
    if more == 0:
        return f"If {change}, the day is done by {at}, {against}."
    than = "more" if more > 0 else "fewer"
    are = "is" if best.jars == 1 else "are"
    when = against.removesuffix(" than as it is")
    return (
        f"If {change}, {jars_said(best.jars)} {are} made, {abs(more)} {than} than as "
        f"it is. The day is then done by {at}, {when}."
    )


def _by_the_rule(base: Outcome) -> Batched | None:
    """The batches of the day as it is, its packs divided by the plain rule."""
    if base.plan is None:
        return None
    day = base.plan.day
    air = air_in(day.kitchen)
    if isinstance(air, Refusal):
        return None
    place = Place(kitchen=day.kitchen, air=air, learned=base.plan.learned)
    return make_batches(day, place, full_shelf(day))


def _missed_first(base: Outcome, made: Batched | None) -> list[str]:
    """Those batches by name, what would be missed most first."""
    if base.plan is None or made is None:
        return []
    return most_missed_first(base.plan.day, made)


def _made(plan: DayPlan | None) -> set[str]:
    return set() if plan is None else {batch.id for batch in plan.batches}


def search_may_differ(found: Sequence[Outcome]) -> bool:
    """Whether a few minutes between the days may be the search and not the change."""
    ends = [one for one in found if one.finish_min is not None]
    return len(ends) > 1 and not all(one.ends_soonest for one in ends)

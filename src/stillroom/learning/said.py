"""Each learned figure in words, beside the book's."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.jar_count import counted
from stillroom.methods.learned import Factor, Learned, Share


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One learned figure."""

    of: str
    """Product or thing."""
    what: str
    own: str
    """The keeper's own, with nineteen in twenty of the days below and above."""
    book: str
    rests_on: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Figures of one kind."""

    title: str
    note: str
    lines: tuple[Line, ...]


MINUTES = "Minutes at the table and at the fire"
JARS = "Jars of a batch"
SEALS = "Jars that do not seal"
SETS = "Batches that stay soft"
COUNTS = "What a count finds"

STEPS = {
    "crush": "crush the fruit",
    "cut": "wash and cut the fruit",
    "fill": "fill the jars",
    "heat_jars": "stand the jars in hot water",
    "measure_pulp": "measure the pulp, weigh out the sugar",
    "measure_sugar": "measure the sugar",
    "mill": "put it through the mill or the sieve",
    "skim": "off the fire, skim",
    "soften": "cook the fruit soft",
    "sugar_in": "sugar in, back to a full boil",
    "thicken": "stir the butter till it mounds",
    "to_boil": "bring to a full boil",
    "wash_jars": "wash the jars",
    "wash_mill": "wash the mill or the sieve",
    "wash_pot": "wash the pot",
    "wipe_and_lid": "wipe the rims, lids on",
}
"""A step of all batches of a product, as it is called at the stove."""


def step_words(step: str) -> str:
    """
    Say a step without its number of jars.

    >>> step_words("wipe_and_lid"), step_words("weigh_down")
    ('wipe the rims, lids on', 'weigh down')
    """
    return STEPS.get(step, step.replace("_", " "))


def groups(learned: Learned) -> tuple[Group, ...]:
    """Return what was learned, by kind; an empty group says that it is not enough."""
    steps = [
        _times(product, step_words(step), factor, "min", "run")
        for (product, step), factor in sorted(learned.steps.items())
    ]
    yields = [
        _times(product, "jars", factor, "jars", "batch")
        for product, factor in sorted(learned.yields.items())
    ]
    seals = [] if learned.seals is None else [_share("all jars", learned.seals)]
    seals += [_share(of, share) for of, share in sorted(learned.seals_of.items())]
    sets = [_share(of, share) for of, share in sorted(learned.sets_of.items())]
    counts = [
        _times(thing, "counted", factor, "", "count")
        for thing, factor in sorted(learned.shrink.items())
    ]
    if (slow := learned.slow_day) is not None:
        steps.append(
            Line(
                of="slow days",
                what="the day's own part of the spread",
                own=f"{100 * slow.share:.0f} of 100",
                book=f"{100 * slow.book:.0f} of 100",
                rests_on=counted(slow.days, "day"),
            )
        )
    return (
        Group(
            title=MINUTES,
            note="From begin to done at the stove, or from done to done where one step "
            "follows another without a pause; for as much as the last of these runs "
            "had. Printed times are never learned.",
            lines=tuple(steps),
        ),
        Group(
            title=JARS,
            note="Booked as made, beside what the book reckons for the same recipe.",
            lines=tuple(yields),
        ),
        Group(
            title=SEALS,
            note="Of the jars that were looked at the day after a whole process.",
            lines=tuple(seals),
        ),
        Group(
            title=SETS,
            note="Of the batches whose set was looked at. Nothing is published of it; "
            "a plan does not use it.",
            lines=tuple(sets),
        ),
        Group(
            title=COUNTS,
            note="Of what the record has of a thing; a plan does not use it.",
            lines=tuple(counts),
        ),
    )


def _times(of: str, what: str, factor: Factor, unit: str, rests: str) -> Line:
    if factor.book is None:
        own = f"{100 * factor.middle:.0f} of 100"
        range_ = f"{100 * factor.low:.0f} to {100 * factor.high:.0f}"
        book = "100 of 100"
    else:
        digits = 0 if unit == "min" else 1
        own = f"{factor.book * factor.middle:.{digits}f} {unit}"
        low, high = factor.book * factor.low, factor.book * factor.high
        range_ = f"{low:.{digits}f} to {high:.{digits}f}"
        if f"{low:.{digits}f}" == f"{high:.{digits}f}":
            range_ = f"{low:.{digits}f}"
        book = f"{factor.book:.{digits}f} {unit}"
    return Line(
        of=of,
        what=what,
        own=f"{own} ({range_} nine times in ten)",
        book=book,
        rests_on=counted(factor.runs, rests)
        + (f" and {factor.others} of other products" if factor.others else ""),
    )


def _share(of: str, share: Share) -> Line:
    lots = counted(share.lots, "lot")
    return Line(
        of=of,
        what="",
        own=f"{100 * share.mean:.1f} of 100 "
        f"({100 * share.low:.1f} to {100 * share.high:.1f})",
        book="none published"
        if share.book is None
        else f"{100 * share.book:.0f} of 100",
        rests_on=f"{share.seen} of {share.jars} in {lots}",
    )

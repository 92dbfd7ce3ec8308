"""A day planned again, for the terminal and for a program."""

from __future__ import annotations

from stillroom.capital import capital
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.jar_count import counted, jars_said
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.due_words import product_of
from stillroom.planning.second_thoughts.leave_out import Offer
from stillroom.planning.second_thoughts.moves import Move, moved_words
from stillroom.planning.second_thoughts.overrun import overruns
from stillroom.planning.second_thoughts.replanned import Replanned, lateness_of


def print_replanned(found: Replanned) -> None:
    """Print one sentence, what moves, and what gives way."""

    def at(minute: int) -> str:
        return clock_time(found.problem.starts_at, minute)

    if found.standing:
        heading("First: food that would stand too long")
        for one in found.standing:
            bullet(capital(one.told(found.problem.starts_at)))
        heading("The rest, planned again")
    say(found.sentence)
    for left in found.left_out:
        if left.becomes:
            say(f"{left.batch}: {left.becomes}.")
    if found.is_put_off:
        instead = "Leave a batch out, or allow" if found.may_leave_out else "Allow"
        none = "No" if found.found_none else "No better"
        say(
            f"{none} plan was found in the time: this is the old order, each thing "
            f"later. {instead} more seconds (--within)."
        )
    elif found.is_new_plan and found.may_leave_out:
        say(
            "More than half of what is left moves far: perhaps leave a batch out, or "
            "allow more seconds (--within)."
        )
    if found.moves:
        heading("Old and new")
        columns(
            [("step or load", "was", "is", "", "by")]
            + [
                (
                    _named(found, m),
                    at(m.was_min),
                    at(m.is_min),
                    _signed(m.by_min) if m.by_min else "",
                    m.is_by or ""
                    if m.was_by == m.is_by
                    else f"{m.is_by}, not {m.was_by}",
                )
                for m in found.moves
            ]
        )
    if found.others_told or found.longer_min or found.more_places:
        heading("What gives way")
        for line in found.others_told:
            bullet(line)
    for person, minutes in found.longer_min.items():
        bullet(f"{person} stays {said_minutes(minutes)} longer: is that possible?")
    if found.more_places:
        places = counted(found.more_places, "more place")
        bullet(f"the counter needs {places} to cool jars")
    if found.was_over:
        heading("What was over before now")
        for what, minutes in found.was_over:
            bullet(f"{what}: {said_minutes(minutes)} over")


def _signed(minutes: int) -> str:
    return f"{'-' if minutes < 0 else '+'}{said_minutes(abs(minutes))}"


def _named(found: Replanned, move: Move) -> str:
    what, batch = moved_words(found.problem, found.old, move)
    return f"{what} ({batch})" if batch else what


def print_offers(offers: tuple[Offer, ...], starts_at: str) -> None:
    """Print which batches may be left out, with what the day then comes to."""
    if not offers:
        return
    heading("Or leave a batch out")
    columns(
        [
            (
                f"without {offer.batch}",
                f"done at {clock_time(starts_at, offer.finish_min)}",
                f"{jars_said(offer.jars)} fewer",
                "; ".join([offer.limits_said, *offer.promises_said]),
            )
            for offer in offers
        ]
    )


def offers_as_json(offers: tuple[Offer, ...]) -> list[dict[str, object]]:
    """The same for a program."""
    return [
        {
            "batch": offer.batch,
            "jars": offer.jars,
            "makespan_min": offer.finish_min,
            "gives_way": len(offer.found.limits),
            "lateness": lateness_of(offer.found)[1],
            "promises": list(offer.promises_said),
        }
        for offer in offers
    ]


def replanned_as_json(found: Replanned) -> dict[str, object]:
    """The same for a program."""
    late, late_now = lateness_of(found)
    return {
        "sentence": found.sentence,
        "starts_at": found.problem.starts_at,
        "now_min": found.happened.now_min,
        "makespan_was_min": found.old.finish_min,
        "makespan_min": found.new.finish_min,
        "lateness_was": late,
        "lateness": late_now,
        "promises": [
            {
                "product": product_of(p.want.product),
                "by_min": p.want.by_min,
                "was_late_min": p.was_late_min,
                "late_min": p.is_late_min,
            }
            for p in found.promises
        ],
        "promised_and_not_made": [
            {
                "product": product_of(out.product),
                "jars": out.jars or None,
                "by_min": out.by_min,
            }
            for out in found.not_made
        ],
        "open": found.open_steps,
        "moves": [
            {
                "what": m.what,
                "was_min": m.was_min,
                "is_min": m.is_min,
                "was_by": m.was_by,
                "is_by": m.is_by,
                "under_way": None if m.under_way is None else m.under_way.value,
                "into": m.into or None,
            }
            for m in found.moves
        ],
        "gives_way": [
            {"limit": str(what), "min": over or None, "by_now_min": by_now}
            for (what, over), by_now in zip(found.limits, found.by_now_min, strict=True)
        ],
        "left_out": [
            {"batch": one.batch, "jars": one.jars, "because": one.because}
            for one in found.left_out
        ],
        "stands_too_long": [
            {
                "batch": one.batch,
                "limit": str(one.limit),
                "since_min": one.since_min,
                "min": one.stands_min,
            }
            for one in found.standing
        ],
        "was_over": [{"limit": what, "min": over} for what, over in found.was_over],
        "overrun": [
            {
                "person": one.person,
                "start_min": one.start_min,
                "end_min": one.end_min,
                "held_until_min": one.held.end_min,
            }
            for one in overruns(found.problem, found.old, found.happened)
        ],
        "guesses": [
            {"batch": one.batch, "taken": one.taken, "because": one.because}
            for one in found.guesses
        ],
        "stays_longer_min": found.after_leaving_min,
        "more_places": found.more_places,
        "made_by": found.made_by,
        "new_plan": found.is_new_plan,
        "proven": found.proven,
        "seconds": round(found.seconds, 2),
        "steps": [
            {
                "id": f"{s.batch}/{s.step}",
                "start_min": s.start_min,
                "end_min": s.end_min,
                "person": s.person,
            }
            for s in found.new.steps
        ],
        "loads": [
            {
                "id": load.id,
                "lower_min": load.lower_min,
                "boil_min": load.boil_min,
                "done_min": load.done_min,
                "out_min": load.out_min,
            }
            for load in found.new.loads
        ],
    }

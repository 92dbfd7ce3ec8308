"""What somebody's hands are on by now, or have been: steps, and loads down and out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stillroom.planning.happened import Happened, Key

LOWER, LIFT = "lower", "lift"


@dataclass(frozen=True, slots=True, kw_only=True)
class InHand:
    """Something that one person has begun."""

    key: Key
    """(batch, step), or a load and what is done with it: `LOWER` or `LIFT`."""
    is_load: bool
    start_min: int
    end_min: int


def held_by(person: str, happened: Happened) -> Iterator[InHand]:
    """Yield all that a person has begun, each with its end, which may lie ahead."""
    for s in happened.steps:
        if s.person == person:
            yield InHand(
                key=(s.batch, s.step),
                is_load=False,
                start_min=s.start_min,
                end_min=s.end_min,
            )
    for load in happened.loads:
        for part, who, start, end in (
            (LOWER, load.lowered_by, load.lower_min, load.lowered_min),
            (LIFT, load.lifted_by, load.lift_min, load.out_min),
        ):
            # a load that is to be lifted this very minute is lifted before she goes
            if who == person and start <= happened.now_min:
                yield InHand(
                    key=(load.id, part), is_load=True, start_min=start, end_min=end
                )

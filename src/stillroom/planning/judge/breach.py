"""One breach of a rule: what it is about, and the sentence that says it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from stillroom.planning.spoken_of import Part, Sentence, says


class About(Enum):
    """What a breach is about, where the judge of a changed plan asks for that."""

    ATTENTION = auto()
    """What somebody gives at one time."""
    COUNTER = auto()
    """Jars that cool at one time."""
    FIRE = auto()
    """The fire under a load until its process ends."""
    LIFTING = auto()
    """When a load is lifted, by whom, and until when."""
    RESTED = auto()
    """How long after the end of its process a load is lifted."""
    LAST_WASH = auto()
    """A wash at the end of the day, which is planned as a rinse."""
    ALL_ELSE = auto()


@dataclass(frozen=True, slots=True)
class Breach:
    """
    What a plan does not keep.

    Attributes
    ----------
    said : Sentence
        The sentence, for people. Nothing is read out of it again: what it speaks of is
        in its parts.
    about : About
        What it is about.
    load : str
        The load whose fire or lifting it is about; else empty.
    """

    said: Sentence
    about: About = About.ALL_ELSE
    load: str = ""


def breach(
    *said: Part | Sentence, about: About = About.ALL_ELSE, load: str = ""
) -> Breach:
    """Say a breach, part after part."""
    return Breach(says(*said), about, load)

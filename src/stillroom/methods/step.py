"""The smallest thing that is planned: a step, and what ties it to other steps."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Skill(StrEnum):
    """What a person must be able to do alone for a step."""

    COLD = "cold"
    """Cold and dry work: measuring sugar, washing jars, wiping rims. A child can."""
    KNIFE = "knife"
    """Cutting, coring, turning the mill; acid and bubbles in jars of hot food."""
    PAN = "pan"
    """The hot pan: stirring, the hard boil, pouring into jars."""
    LIFT = "lift"
    """Hot jars and the canner: lowering a load, lifting it out."""


@dataclass(frozen=True, slots=True)
class Spread:
    """A duration that is not certain. [min]"""

    low: int
    """One day in twenty is quicker."""
    likely: int
    high: int
    """One day in twenty is slower."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """
    One thing that is done: who can, with what, how long, and when it is done.

    Minutes are whole. ``attention_quarters`` is how much of one person it takes, 0 to
    4: 4 cannot be left, 3 is hands-on work beside which a pot can still be stirred, 2
    is close watching, 1 is looking in now and then, 0 needs nobody.
    """

    id: str
    verb: str
    """What is done, as said to a helper: "Bring juice and pectin to a full boil"."""
    end_sign: str = ""
    """What to look for: "a boil that stirring does not stop"."""
    duration_min: int
    spread: Spread | None = None
    basis: str = ""
    """Where the duration is from."""
    book_min: int | None = None
    """What the book says where the duration was learned; else `None`. [min]"""
    rinse_min: int | None = None
    """
    For a wash: how long a rinse takes, which is enough where the same product goes into
    the pot or the mill next. `None`: always as long as it is. [min]
    """
    attention_quarters: int = 0
    skill: Skill = Skill.COLD
    burner_w: float = 0.0
    """Least rated burner power it needs; 0 is no fire. [W]"""
    in_pot: bool = False
    on_mill: bool = False
    put_up: bool = False
    """What it takes is in jars, boxes or a crock, or on trays, from its beginning."""
    same_hands: str = ""
    """Steps with the same word here stay with one person."""
    critical: bool = False
    """A moment that cannot wait."""
    caution: str = ""
    note: str = ""
    """The figures that belong to it: "5 cups juice · 1 box pectin"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """``after`` starts at least, and perhaps at most, so long after ``before`` ends."""

    before: str
    after: str
    at_least_min: int = 0
    at_most_min: int | None = None
    why: str = ""
    """"it gels": said when the limit holds a plan up."""

"""
What went wrong: signs, likely causes, and what is done, each with who says so.

The answer depends on how long ago it happened: a row with hours holds only within them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.book.words import holds, short, tokens
from stillroom.refusal import Refusal, Source

DEEDS = (
    "keep",
    "wait",
    "remake",
    "reprocess",
    "restart",
    "refrigerate",
    "freeze",
    "discard",
)
"""What may come of it, the gentlest first."""
FOODS = (
    *("any", "jelly", "jam", "pickle", "butter", "dense", "low_acid"),
    *("acid", "fat", "dried_meat"),
)
_SPOILED = frozenset({"bulging", "mould"})
"""Said before all else that was seen: a longer phrase takes neither away."""
_SPOILED_SAID = ("bulg", "mould", "mold", "swollen", "spurt", "fuzz")
_LEAST_LETTERS = 5
"""A shorter word alone says nothing: "the" and "it" are in half of the phrases."""
_SPREADS = frozenset({"jelly", "jam", "butter"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """One sign, what it likely means, and what to do."""

    id: str
    sign: str
    words: tuple[str, ...]
    """As people say it; at a "…" anything may stand between."""
    food: str
    within_h: float | None
    """It holds only so long after the event; `None`: for ever. [h]"""
    cause: str
    do: str
    """One of `DEEDS`."""
    then: str
    source: Source

    @property
    def advice(self) -> str:
        """What to do and how, the deed said once: "Discard it untasted."."""
        if self.then.casefold().startswith(self.do):
            return self.then
        return f"{self.do.capitalize()}: {self.then}"


def read_troubles(path: Traversable) -> tuple[Trouble, ...]:
    """Return the rows of a table of troubles."""
    columns = [
        "id",
        "sign",
        "words",
        "food",
        "within_h",
        "cause",
        "do",
        "then",
        "source",
        "how_known",
    ]
    found: list[Trouble] = []
    for row in read_rows(path, columns):
        if any(row.text("id") == earlier.id for earlier in found):
            raise row.wrong("id", "stands there twice")
        if not row.words("words"):
            raise row.wrong("words", "is empty; say how people would ask")
        found.append(
            Trouble(
                id=row.text("id"),
                sign=row.text("sign"),
                words=row.words("words"),
                food=row.one_of("food", FOODS),
                within_h=row.number_or_none("within_h", 1, 72),
                cause=row.text("cause"),
                do=row.one_of("do", DEEDS),
                then=row.text("then"),
                source=row.source,
            )
        )
    return tuple(found)


@cache
def troubles() -> tuple[Trouble, ...]:
    """Return all troubles that the book knows."""
    return read_troubles(table("trouble"))


def troubles_for(
    sign: str, *, hours: float | None = None, food: str | None = None
) -> tuple[Trouble, ...] | Refusal:
    """
    Return what a sign may mean, the best match first and the strict answer before.

    Parameters
    ----------
    sign : str
        As people say it: "the lid clicks", "soft jelly".
    hours : float, optional
        Hours since it was filled or processed. Without them, rows that hold only for
        some hours and those for later are both given, each saying so. [h]
    food : str, optional
        ``jelly``, ``jam``, ``butter``, ``pickle``, ``dense``, ``low_acid``,
        ``acid``, ``fat`` or ``dried_meat``.

    Returns
    -------
    tuple of Trouble, or Refusal
        A refusal where nothing matches, naming signs that the book knows.

    Examples
    --------
    >>> [t.id for t in troubles_for("the lid clicks", hours=30)]
    ['unsealed-late']
    """
    said = tokens(sign)
    likeness = _likeness if _is_known(said) else _word_of_it
    if hours is not None and not 0 <= hours < 1e5:
        return Refusal(
            f"{hours:g} hours is no time since something happened",
            instead="give the hours since it was filled, from 0",
            source="the clock",
        )
    scored = [
        (score, trouble)
        for trouble in troubles()
        if (score := likeness(said, trouble)) > 0
        and _of_food(trouble, food)
        and (hours is None or trouble.within_h is None or hours <= trouble.within_h)
    ]
    if not scored:
        return Refusal(
            f"the book has no trouble like {short(sign)!r}",
            instead="say what you see, such as: "
            + "; ".join(sorted({t.words[0] for t in troubles()})),
            source="the book's table of troubles",
        )
    best = max(score for score, _ in scored)
    spoiled = any(word.startswith(_SPOILED_SAID) for word in said)
    kept = [t for score, t in scored if score == best or (spoiled and t.id in _SPOILED)]
    if hours is not None:
        kept = _overruled_by_hours(kept)
    return tuple(
        sorted(
            kept,
            key=lambda t: (-DEEDS.index(t.do), not spoiled or t.id not in _SPOILED),
        )
    )


def within_words(trouble: Trouble, hours: float | None = None) -> str:
    """
    Say how long a row holds, and what is left of it; empty where it always holds.

    Examples
    --------
    >>> within_words(troubles_for("lid clicks", hours=10)[0], 10)
    'This holds within 24 h of the event: 14 h are left.'
    """
    if trouble.within_h is None:
        return ""
    said = f"This holds within {trouble.within_h:g} h of the event"
    if hours is None or hours > trouble.within_h:
        return f"{said}."
    left = round(trouble.within_h - hours, 1)
    return f"{said}: {left:g} h {'is' if left == 1 else 'are'} left."


def _overruled_by_hours(found: list[Trouble]) -> list[Trouble]:
    """Within its hours a row answers before one on the same sign that always holds."""
    timed = [t for t in found if t.within_h is not None]
    return [
        t
        for t in found
        if t.within_h is not None
        or not any(set(t.words) & set(early.words) for early in timed)
    ]


def _is_known(said: list[str]) -> bool:
    return any(_likeness(said, trouble) for trouble in troubles())


def _likeness(said: list[str], trouble: Trouble) -> int:
    """Count words of the longest phrase of the trouble that was said."""
    return max(
        (len(tokens(words)) for words in trouble.words if _was_said(said, words)),
        default=0,
    )


def _was_said(said: list[str], phrase: str) -> bool:
    """Whether it was said word by word; at a "…" anything may stand between."""
    left = said
    for piece in phrase.split("…"):
        sought = tokens(piece)
        starts = range(len(left) - len(sought) + 1)
        at = next((n for n in starts if left[n : n + len(sought)] == sought), None)
        if at is None:
            return False
        left = left[at + len(sought) :]
    return True


def _word_of_it(said: list[str], trouble: Trouble) -> int:
    """Whether less was said than any phrase has, but a part of one: "pressure"."""
    part = " ".join(said)
    if all(len(word) < _LEAST_LETTERS for word in said):
        return 0
    return any(holds(tokens(words), part) for words in trouble.words)


def _of_food(trouble: Trouble, food: str | None) -> bool:
    if food is None or trouble.food in ("any", food):
        return True
    return trouble.food == "jelly" and food in _SPREADS

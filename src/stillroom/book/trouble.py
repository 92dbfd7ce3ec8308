"""
What went wrong: signs, likely causes, and what is done, each with who says so.

The answer depends on how long ago it happened: a row with hours holds only within them.
Everything that was said is answered, the gravest first; how words are understood is in
`heard.py`, which food they name in `foods_said.py`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.foods_said import (
    DENSE,
    DOUBTFUL,
    FOODS,
    foods_in,
    named_in,
)
from stillroom.book.heard import (
    Said,
    all_places,
    outermost,
    places_of,
    was_said_of,
    words_of,
)
from stillroom.book.reader import read_rows, table
from stillroom.book.said_beside import (
    SALT_FOR_TASTE,
    kept_by_salt,
    power_elsewhere,
)
from stillroom.book.words import short, tokens
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
    "get help",
)
"""What may come of it, the gentlest first."""
KINDS = (
    *("people", "eaten", "spoiled", "process", "seal"),
    *("stove", "quality", "question"),
)
"""What a fault is of, the gravest first; ``eaten`` answers beside a fault alone."""
_FAULTS = frozenset({"people", "spoiled", "process", "seal"})
"""Beside one of these what is said of the looks, or a mere question, is not answered:
"keep and use it" below "discard it" would be read as leave to."""
_MILD = frozenset({"quality", "question"})
_DENSE_UNSEALED = "dense-unsealed"
"""The row of food that heats too slowly to be processed a second time."""
_ANSWERS_FOR = {
    "jelly": {"jelly", "jam", "butter"},
    "jam": {"jam", "jelly"},
    "low_acid": {"low_acid", "dense"},
}
"""Whom a row answers besides its own food."""
_PROCESSED_AS = {
    "acid": {"butter", "pickle"},
    "low_acid": {DOUBTFUL},
}
"""And whom as to their process alone."""
_BY_ITS_ACID = frozenset({"jam", "jelly", "butter", "acid", "pickle"})
"""Foods whose process, or want of one, is judged as that of acid food."""
_LEAST_LETTERS = 5
"""A shorter word alone says nothing: "the" and "it" are in half of the phrases."""
_SAME_AS = "= "
"""In a cell of words: and those of the row that is named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """One sign, what it likely means, and what to do."""

    id: str
    kind: str
    """One of `KINDS`."""
    sign: str
    words: tuple[str, ...]
    """As people say it, in the way of `heard.py`."""
    food: str
    if_named: bool
    """It answers only where its food was named: boiling is a fault for beans alone."""
    within_h: float | None
    """It holds only so long after the event; `None`: for ever. [h]"""
    cause: str
    do: str
    """One of `DEEDS`."""
    then: str
    source: Source

    @property
    def is_found_alone(self) -> bool:
        """Whether its first words alone lead to it: no food, no other fault beside."""
        return not self.if_named and self.kind != "eaten"

    @property
    def advice(self) -> str:
        """What to do and how, the deed said once: "Discard it untasted."."""
        if self.then.casefold().startswith(self.do):
            return self.then
        return f"{self.do.capitalize()}: {self.then}"


def read_troubles(path: Traversable) -> tuple[Trouble, ...]:
    """Return the rows of a table of troubles."""
    columns = [
        *("id", "kind", "sign", "words", "food", "if_named", "within_h"),
        *("cause", "do", "then", "source", "how_known"),
    ]
    found: dict[str, Trouble] = {}
    named: dict[str, tuple[str, ...]] = {}
    rows = read_rows(path, columns)
    for row in rows:
        if row.text("id") in named:
            raise row.wrong("id", "stands there twice")
        named[row.text("id")] = row.words("words")
    for row in rows:
        words = row.words("words")
        for part in words:
            if part.startswith(_SAME_AS) and part.removeprefix(_SAME_AS) not in named:
                raise row.wrong("words", f"names a row that is not there: {part!r}")
        if not words:
            raise row.wrong("words", "is empty; say how people would ask")
        if row.note("if_named") not in ("", "yes"):
            raise row.wrong("if_named", "is neither yes nor empty")
        found[row.text("id")] = Trouble(
            id=row.text("id"),
            kind=row.one_of("kind", KINDS),
            sign=row.text("sign"),
            words=words,
            food=row.one_of("food", FOODS),
            if_named=row.note("if_named") == "yes",
            within_h=row.number_or_none("within_h", 1, 72),
            cause=row.text("cause"),
            do=row.one_of("do", DEEDS),
            then=row.text("then"),
            source=row.source,
        )
    return tuple(
        replace(one, words=tuple(_spelt_out(one.words, named)))
        for one in found.values()
    )


def _spelt_out(
    words: tuple[str, ...], named: dict[str, tuple[str, ...]]
) -> Iterable[str]:
    for part in words:
        if part.startswith(_SAME_AS):
            other = part.removeprefix(_SAME_AS)
            rest = {name: of for name, of in named.items() if name != other}
            yield from (w for w in _spelt_out(named.get(other, ()), rest))
        else:
            yield part


@cache
def troubles() -> tuple[Trouble, ...]:
    """Return all troubles that the book knows."""
    return read_troubles(table("trouble"))


def troubles_for(
    sign: str, *, hours: float | None = None, food: str | None = None
) -> tuple[Trouble, ...] | Refusal:
    """
    Return what a sign may mean, whoever is ill and the strict answer before the rest.

    Parameters
    ----------
    sign : str
        As people say it: "the lid clicks", "soft jelly". A food that it names counts as
        chosen, where none is.
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
    >>> [t.id for t in troubles_for("my apple jelly is cloudy, the lid is not loose")]
    ['cloudy']
    """
    if hours is not None and not 0 <= hours < 1e5:
        return Refusal(
            f"{hours:g} hours is no time since something happened",
            instead="give the hours since it was filled, from 0",
            source="the clock",
        )
    said = words_of(sign)
    named = named_in(said)
    foods = foods_in(said, named, food)
    rows = tuple(t for t in troubles() if _of_food(t, foods))
    found = _found(said, rows, named)
    if hours is not None:
        found = _holding(found, hours)
    found = _where_salt_keeps(found, said)
    if DOUBTFUL in foods:
        found = _not_as_acid(found)
    if DENSE in foods:
        found = _not_a_second_time(found)
    kept = _none_mild_beside_a_fault([trouble for trouble, _ in found], foods)
    if not any(places_of(words, said) for t in troubles() for words in t.words):
        kept = _with_the_word(sign, rows, hours)
    if not kept:
        known = sorted({t.words[0] for t in troubles() if t.is_found_alone})
        return Refusal(
            f"the book has no trouble like {short(sign)!r}",
            instead="if in doubt, taste none of it and discard it; or say what you "
            "see, such as: " + "; ".join(known),
            source="the book's table of troubles",
        )
    return tuple(sorted(kept, key=lambda t: (-DEEDS.index(t.do), KINDS.index(t.kind))))


def _not_a_second_time(
    found: list[tuple[Trouble, set[str]]],
) -> list[tuple[Trouble, set[str]]]:
    """Return the rows with that of dense food for those that can jars once more."""
    dense = next(t for t in troubles() if t.id == _DENSE_UNSEALED)
    rows: dict[str, tuple[Trouble, set[str]]] = {}
    for row, by in found:
        again = row.kind == "seal" and row.do == "reprocess"
        kept = dense if again else row
        rows.setdefault(kept.id, (kept, by))
    return list(rows.values())


def _not_as_acid(
    found: list[tuple[Trouble, set[str]]],
) -> list[tuple[Trouble, set[str]]]:
    """Return the rows without those of acid food on what a low-acid row answers."""
    strict = {
        phrase
        for row, by in found
        if (row.kind, row.food) == ("process", "low_acid")
        for phrase in by
    }
    return [
        (row, by)
        for row, by in found
        if row.kind != "process" or row.food not in _BY_ITS_ACID or by - strict
    ]


def _where_salt_keeps(
    found: list[tuple[Trouble, set[str]]], said: tuple[str, ...]
) -> list[tuple[Trouble, set[str]]]:
    """Return the rows with those where salt keeps the food for those of its taste."""
    if not any(row.id in SALT_FOR_TASTE for row, _ in found):
        return found
    keeps = kept_by_salt(said)
    if not keeps:
        return found
    kept = [(row, by) for row, by in found if row.id not in SALT_FOR_TASTE | keeps]
    return [*kept, *((row, set[str]()) for row in troubles() if row.id in keeps)]


def _found(
    said: tuple[str, ...], rows: tuple[Trouble, ...], named: list[tuple[str, Said]]
) -> list[tuple[Trouble, set[str]]]:
    """Return the rows that answer to what was said, with the phrases that did it."""
    phrases = [(row.id, phrase) for row in rows for phrase in row.words]
    places = all_places(phrases, said)
    by_row: dict[str, set[str]] = {}
    # A food's name takes away the fault within it: the black of black beans.
    for of, place in outermost([*places, *named, *power_elsewhere(places, said)]):
        by_row.setdefault(of, set()).add(place.phrase)
    return [(row, by_row[row.id]) for row in rows if row.id in by_row]


def _with_the_word(
    sign: str, rows: tuple[Trouble, ...], hours: float | None
) -> list[Trouble]:
    """Return all rows with a phrase of which less was said, but a part: "pressure"."""
    if all(len(word) < _LEAST_LETTERS for word in tokens(sign)):
        return []
    part = words_of(sign)
    found = [
        (row, {sign}) for row in rows if any(was_said_of(w, part) for w in row.words)
    ]
    return [row for row, _ in (found if hours is None else _holding(found, hours))]


def _holding(
    found: list[tuple[Trouble, set[str]]], hours: float
) -> list[tuple[Trouble, set[str]]]:
    """
    Return the rows that hold at so many hours.

    Within its hours a row answers before one on the same words and food that always
    holds: not jam, of which something is left to do, for the fig in it.
    """
    held = [
        (row, by) for row, by in found if row.within_h is None or hours <= row.within_h
    ]
    timed = {
        (row.food, phrase)
        for row, by in held
        if row.within_h is not None
        for phrase in by
    }
    return [
        (row, by)
        for row, by in held
        if row.within_h is not None or {(row.food, phrase) for phrase in by} - timed
    ]


def _none_mild_beside_a_fault(found: list[Trouble], foods: set[str]) -> list[Trouble]:
    """
    Return the rows without those that would be read as leave to keep a faulty jar.

    Where nobody named a food, rows of two foods stand beside each other all the same:
    cloudy beans are no cloudy jelly.
    """
    faults = {trouble.food for trouble in found if trouble.kind in _FAULTS}
    if not faults:
        return [trouble for trouble in found if trouble.kind != "eaten"]
    apart = not foods and "any" not in faults
    return [
        trouble
        for trouble in found
        if trouble.kind not in _MILD or (apart and trouble.food not in faults | {"any"})
    ]


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


def _of_food(trouble: Trouble, foods: set[str]) -> bool:
    if trouble.food == "any":
        return True
    if not foods:
        return not trouble.if_named
    answers = _ANSWERS_FOR.get(trouble.food, {trouble.food})
    if trouble.kind == "process":
        answers = answers | _PROCESSED_AS.get(trouble.food, set())
    return bool(answers & foods)

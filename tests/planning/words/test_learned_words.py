"""Her own figures beside the book's: those that differ, and a word on the others."""

from __future__ import annotations

from stillroom.planning.words.learned_words import OwnFigure, apart


def figure(own: float, book: float) -> OwnFigure:
    return OwnFigure(
        product="plum jelly",
        what="Fill 8 jars",
        step="fill",
        own=own,
        book=book,
        unit="min",
        words="learned from 7 runs of yours",
    )


QUICKER, SLOWER, SAME = figure(4, 5), figure(6, 5), figure(5, 5)


def test_what_agrees_with_the_book_is_counted_and_not_listed():
    """Quicker than the book is as much another figure as slower."""
    assert apart([QUICKER, SAME, SLOWER]) == (
        (QUICKER, SLOWER),
        "1 more of your own figures agrees with the book's.",
    )
    assert apart([SAME, SAME]) == (
        (),
        "2 of your own figures agree with the book's.",
    )
    assert apart([SAME])[1] == "1 of your own figures agrees with the book's."
    assert apart([QUICKER]) == ((QUICKER,), "")
    assert apart([]) == ((), "")

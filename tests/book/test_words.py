"""Words as people type them, made comparable."""

from stillroom.book.words import tokens


def test_words_that_were_given_out_may_be_changed():
    # They are remembered, as the book's own phrases are asked for again and again.
    words = tokens("Crab-Apple Jellies")
    words.append("of last year")
    assert tokens("Crab-Apple Jellies") == ["crabapple", "jelly"]

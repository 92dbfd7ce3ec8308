"""
So many of a hundred: jars that did not seal, batches that stayed soft.

The share has the conjugate prior, a beta distribution (Gelman et al., Bayesian Data
Analysis, 3rd ed. 2013, section 2.4; known from memory): with the book's share ``p``
worth ``k`` jars, ``x`` of ``n`` own ones give ``Beta(k p + x, k (1 - p) + n - x)``,
whose mean is the book's at ``n = 0`` and the keeper's own as ``n`` grows.

A wild lot is pulled in first: no lot counts for more lost jars than all the other lots
lead to expect on ninety-nine days in a hundred. One box of bad lids so says no more
than that there was one.
"""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.learning.quantiles import beta_quantile
from stillroom.methods.learned import Share, beta_binomial_quantile

UNSEALED = 1.0 / 25.0
"""Between one in 20 and one in 30, as plans have it: common practice, no source."""
UNSEALED_WORTH = 50.0
"""Jars that the book's share is worth: an assumption."""
SOFT_WORTH = 2.0
"""Nothing is published of sets: a half, worth two batches (Laplace's rule)."""
WILD = 0.99
CERTAIN = 0.95


def shared(
    lots: Sequence[tuple[int, int]], *, book: float | None, worth: float
) -> Share:
    """
    Return a share from (seen, of so many) pairs, one for each lot.

    Parameters
    ----------
    lots : sequence of (int, int)
        How many it was, and of how many, by lot.
    book : float or None
        The book's share, above 0 and below 1; `None`: a half, and said to be unknown.
    worth : float
        Units that the book's share is worth, above 0.

    Examples
    --------
    >>> shared([], book=0.04, worth=50.0).mean
    0.04
    """
    begins = 0.5 if book is None else book
    a0, b0 = worth * begins, worth * (1.0 - begins)
    seen, units = sum(x for x, _ in lots), sum(n for _, n in lots)
    a, b = a0, b0
    for x, n in lots:
        others = seen - x
        most = beta_binomial_quantile(a0 + others, b0 + units - n - others, n, WILD)
        counts = min(x, max(most, 1))
        a, b = a + counts, b + n - counts
    low = beta_quantile(1.0 - CERTAIN, a, b)
    high = beta_quantile(CERTAIN, a, b)
    return Share(
        a=a,
        b=b,
        low=low,
        high=high,
        lots=len(lots),
        jars=units,
        seen=seen,
        book=book,
    )

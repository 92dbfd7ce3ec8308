"""Expected yields of all published recipes, beside the printed figure."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.procedures import Procedure, procedures
from stillroom.methods.by_name import METHODS
from stillroom.methods.method import Yield
from stillroom.refusal import Refusal


@dataclass(frozen=True, slots=True, kw_only=True)
class YieldRow:
    """One published recipe: what is printed, and what its solids can fill."""

    procedure: Procedure
    expected: Yield

    @property
    def verdict(self) -> str:
        """In a few words: within, more, less, or why it cannot be told."""
        if self.expected.basis.startswith("as printed"):
            return self.expected.basis
        low, high = self.expected.printed_low, self.expected.printed_high
        if low is None or high is None:
            return "not printed"
        if low > self.expected.high * 1.02:
            return "printed is more than there can be"
        if high < self.expected.low * 0.98:
            return "printed is less"
        return "within"


def yield_table() -> tuple[YieldRow, ...]:
    """Return a row for each recipe whose yield its way of putting up can reckon."""
    rows: list[YieldRow] = []
    for procedure in procedures():
        method = METHODS.get(procedure.method)
        if method is None or procedure.refuse or method.PER_JAR:
            continue
        recipe = method.scale(procedure, 1)
        if isinstance(recipe, Refusal):
            continue
        jar = "pint" if procedure.yield_unit == "pint" else "half-pint"
        expected = method.expected_yield(recipe, jar)
        if not isinstance(expected, Refusal):
            rows.append(YieldRow(procedure=procedure, expected=expected))
    return tuple(rows)

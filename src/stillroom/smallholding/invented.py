"""The mark of a record of which all is invented; looked at wherever one is shown."""

from __future__ import annotations

from stillroom.records.ledger import Ledger

MARK = "invented"
"""Stream that says of a record that all of it is invented."""
WORDS = "An invented smallholding: people, goods, sales and days are made up."


def is_invented(ledger: Ledger) -> bool:
    """Whether a record is that of the demo smallholding."""
    return ledger.last(MARK) > 0

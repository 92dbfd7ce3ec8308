"""A record that is closed is not opened again behind the back of who closed it."""

from __future__ import annotations

from sqlalchemy import event

from stillroom.records.days import Records

_close = Records.close


def close_for_good(records: Records) -> None:
    """Close a record; whoever reads or writes it after that is found."""
    _close(records)

    def refuse(*_: object) -> None:
        raise AssertionError("the record was read or written after it was closed")

    event.listen(records._engine, "do_connect", refuse)
